"""A bay folder: bay.toml and the soundings, grids, shores and zones it names."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, box
from shapely.geometry.base import BaseGeometry

from shorefast.basis import Basis, Finding, Input
from shorefast.bay import (
    BOTTOMS,
    Bay,
    Bounds,
    Frame,
    ShorePoint,
    Soundings,
    joined,
    shore_and_land,
)
from shorefast.errors import BadInput
from shorefast.readers.bay_depths import finest
from shorefast.readers.bay_parts import (
    check_points,
    read_points,
    read_sectors,
    read_zones,
    unjudged,
)
from shorefast.readers.chart_file import ChartRead
from shorefast.readers.chart_in_bay import Charts, read_charts
from shorefast.readers.depth_file import check_there
from shorefast.readers.depths import DepthsRead
from shorefast.readers.drawn_before import surface_of
from shorefast.readers.far_shore import FarFile, read_far_shores
from shorefast.readers.high_ground import GroundFile, read_high_ground
from shorefast.readers.landmarks import read_landmarks
from shorefast.readers.sailed_depths import read_depths_table
from shorefast.readers.shore_geojson import Shapes, read_shapes
from shorefast.readers.text_file import read_text
from shorefast.readers.toml_file import TomlTable, parse_toml

SMALL_M = 700.0
ROUND_POINTS_M = 300.0
ROUND_ORIGIN_M = 1_000.0
FAR_M = 20_000.0
MARGIN_M = 20.0
OFF_CHARTED_M = 150.0
ROUND_LAND_M = 600.0
ON_LAND_MOST = 0.5
_ZONE_TABLES = re.compile(r"^[ \t]*\[\[[ \t]*zone[ \t]*\]\]", re.MULTILINE)


@dataclass(frozen=True)
class BayRead:
    """A bay and the files it was read from."""

    bay: Bay
    depths: tuple[DepthsRead, ...]
    shapes: tuple[Shapes, ...]
    charts: tuple[ChartRead, ...] = ()
    far: tuple[FarFile, ...] = ()
    high: GroundFile | None = None


def read_bay(folder: Path) -> Bay:
    """Read a bay folder.

    Raises
    ------
    BadInput
        If bay.toml or a file it names is missing or cannot be so.
    Unreadable
        If one of them cannot be read.
    """
    return read_bay_files(folder).bay


def read_bay_files(folder: Path) -> BayRead:
    """As ``read_bay``, with what each file gave."""
    table = _table(folder)
    name = table.need_text("name")
    frame = _frame(table)
    zone_name, datum = _zone_name(table), table.need_text("chart_datum")
    bottom = table.choice("bottom", BOTTOMS)
    if bottom is None:
        table.need_text("bottom")
    told = read_points(table, frame, folder)
    points = told.points
    charts = read_charts(table, folder, frame)
    depths = _read_all_depths(table, folder, frame, charts)
    soundings, dropped = _all_soundings(depths, charts, frame)
    _check_near(table, soundings, frame)
    bounds = _bounds(soundings, points, OFF_CHARTED_M if charts.read else MARGIN_M)
    shapes = _read_shores(table, folder, frame)
    drawn = (*shapes, *charts.land())
    shore, land, round_it = _shore_and_land(drawn, bounds, points, frame)
    _check_side(drawn, soundings, land)
    zones, zone_files = read_zones(table, folder, frame, bounds)
    zones = (*zones, *charts.zones(bounds))
    sectors = read_sectors(table)
    far = read_far_shores(table, folder, frame, drawn, bounds)
    high = read_high_ground(table, folder, frame)
    landmarks = (*read_landmarks(table, frame), *charts.landmarks(bounds))
    table.refuse_unknown()
    odd = (*check_points(told, shore, round_it), *unjudged(zones))
    dangers = joined(charts.dangers()) if charts.dangers() else None
    surface = surface_of(soundings, bounds, land, dangers, charts.unsounded())
    basis = surface.basis | _basis(
        name, datum, bottom or "", depths,
        (*charts.findings(datum, bounds), *odd, *_no_shore(shore), *dropped),
    ) | far.basis | high.basis  # fmt: skip
    bay = Bay(
        name, frame, zone_name, datum, bottom or "", surface, soundings,
        shore, land, points, zones, sectors, basis, far.far, high.ground, landmarks,
    )  # fmt: skip
    return BayRead(bay, depths, (*shapes, *zone_files), charts.read, far.files, high.file)


def _table(folder: Path) -> TomlTable:
    """bay.toml, with ``[[zone]]`` read as ``[[zones]]`` since ``zone`` is the time zone."""
    text = read_text(folder / "bay.toml", "a bay folder with a bay.toml")
    return parse_toml(_ZONE_TABLES.sub("[[zones]]", text), "bay.toml")


def _frame(table: TomlTable) -> Frame:
    lat, lon = table.number("lat_deg"), table.number("lon_deg")
    if lat is None or lon is None:
        raise BadInput(
            table.where(),
            "no origin",
            "lat_deg and lon_deg wanted",
            "Add them: a place in the bay, south and west negative.",
        )
    try:
        return Frame(lat, lon)
    except BadInput as trouble:
        key = "lat_deg" if abs(lat) > 90.0 else "lon_deg"
        raise BadInput(table.where(key), trouble.got, trouble.against, trouble.way_out) from None


def _zone_name(table: TomlTable) -> str:
    name = table.need_text("zone")
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise BadInput(
            table.where("zone"),
            f"'{name}'",
            'a zone name like "Europe/Oslo" wanted',
            "Correct it.",
        ) from None
    return name


def _read_all_depths(
    table: TomlTable, folder: Path, frame: Frame, charts: Charts
) -> tuple[DepthsRead, ...]:
    tables = table.tables("depths")
    if not tables and not charts.beds():
        raise BadInput(
            table.where(),
            "no [[depths]]",
            "a bay needs soundings, a grid or a chart",
            "Add [[depths]] or [[chart]].",
        )
    return tuple(read_depths_table(one, folder, frame) for one in tables)


def _all_soundings(
    depths: Sequence[DepthsRead], charts: Charts, frame: Frame
) -> tuple[Soundings, tuple[Finding, ...]]:
    """All soundings; charted dangers stand whatever finer file lies round them."""
    parts = [one.in_frame(frame) for one in depths]
    kept, dropped = finest([*parts, *charts.beds()])
    return joined([kept, *charts.dangers()]), dropped


def _read_shores(table: TomlTable, folder: Path, frame: Frame) -> tuple[Shapes, ...]:
    shapes = []
    for one in table.tables("shore"):
        path = folder / one.need_text("file")
        check_there(path, f"the shore of {one.where('file')}")
        shapes.append(read_shapes(path, frame))
        if not shapes[-1].of("Polygon", "LineString"):
            raise BadInput(
                path.name,
                "neither a line nor a polygon in it",
                "a shore is a line or an area of land",
                "Draw it so, or take [[shore]] out.",
            )
    return tuple(shapes)


def _shore_and_land(
    shapes: Sequence[Shapes], bounds: Bounds, points: Sequence[ShorePoint], frame: Frame
) -> tuple[BaseGeometry | None, BaseGeometry | None, BaseGeometry | None]:
    """Shore and land in the box the bed is drawn in, and land in a wider one round it."""
    wider = Bounds(
        min([bounds.west_m, *(point.east_m for point in points)]) - ROUND_LAND_M,
        min([bounds.south_m, *(point.north_m for point in points)]) - ROUND_LAND_M,
        max([bounds.east_m, *(point.east_m for point in points)]) + ROUND_LAND_M,
        max([bounds.north_m, *(point.north_m for point in points)]) + ROUND_LAND_M,
    )
    areas = [MultiPolygon(part.of("Polygon")) for part in shapes]
    lines = [one for part in shapes for one in part.of("LineString")]
    shore, land = shore_and_land(areas, lines, wider, frame)
    return _inside(shore, bounds), _inside(land, bounds), land


def _inside(shape: BaseGeometry | None, bounds: Bounds) -> BaseGeometry | None:
    cut = None if shape is None else shape.intersection(box(*bounds))
    return None if cut is None or cut.is_empty else cut


def _check_side(shapes: Sequence[Shapes], soundings: Soundings, land: BaseGeometry | None) -> None:
    """Raise where the water is on the wrong side of the shore."""
    if land is None:
        return
    wet = soundings.level_m < 0.0
    on_land = shapely.contains_xy(land, soundings.east_m[wet], soundings.north_m[wet])
    share = float(on_land.mean()) if on_land.size else 0.0
    if share > ON_LAND_MOST:
        raise BadInput(
            " and ".join(one.name for one in shapes),
            f"{100 * share:.0f} % of the depths would lie on land",
            "a shore line is walked with the water on the left hand, and an area is land",
            "Turn the line round, or draw the land instead of the water.",
        )


def _check_near(table: TomlTable, soundings: Soundings, frame: Frame) -> None:
    """Raise where the origin and the soundings lie in different waters."""
    apart = np.hypot(soundings.east_m, soundings.north_m)
    nearest = int(np.argmin(apart))
    if apart[nearest] <= FAR_M:
        return
    hint = "Correct lat_deg and lon_deg (south and west negative)."
    if abs(frame.lon_deg) <= 90.0:
        lat, lon = frame.to_earth(soundings.east_m[nearest], soundings.north_m[nearest])
        east, north = Frame(frame.lon_deg, frame.lat_deg).to_plane(lat, lon)
        if math.hypot(float(east), float(north)) <= FAR_M:
            hint = "Latitude and longitude have changed places, here or in the depths: swap them."
    raise BadInput(
        table.where("lat_deg"),
        f"the nearest sounding lies {apart[nearest] / 1000:.0f} km from the bay's origin",
        "within 20 km wanted",
        hint,
    )


def _bounds(soundings: Soundings, points: Sequence[ShorePoint], margin: float) -> Bounds:
    """The box the bed is drawn in: round the points ashore, else round the origin.

    A chart's last sounding lies well off its shore, so with one the margin is wide. [m]
    """
    data = Bounds(
        float(soundings.east_m.min()) - margin,
        float(soundings.north_m.min()) - margin,
        float(soundings.east_m.max()) + margin,
        float(soundings.north_m.max()) + margin,
    )
    if max(data.east_m - data.west_m, data.north_m - data.south_m) <= SMALL_M:
        return data
    half = ROUND_POINTS_M if points else ROUND_ORIGIN_M
    east = [point.east_m for point in points] or [0.0]
    north = [point.north_m for point in points] or [0.0]
    near = Bounds(min(east) - half, min(north) - half, max(east) + half, max(north) + half)
    return Bounds(
        max(near.west_m, min(data.west_m, near.east_m - 1.0)),
        max(near.south_m, min(data.south_m, near.north_m - 1.0)),
        min(near.east_m, max(data.east_m, near.west_m + 1.0)),
        min(near.north_m, max(data.north_m, near.south_m + 1.0)),
    )


def _no_shore(shore: object | None) -> tuple[Finding, ...]:
    if shore is not None:
        return ()
    return (Finding("bay.toml", "no shore within the bay: land is only where depths say so"),)


def _basis(
    name: str,
    datum: str,
    bottom: str,
    depths: Sequence[DepthsRead],
    findings: Sequence[Finding],
) -> Basis:
    inputs = (
        Input("bay", name, "bay.toml"),
        Input("chart datum", datum, "bay.toml"),
        Input("bottom", bottom, "bay.toml"),
        *(Input("depths", f"{one.level_m.size} from {one.name}", one.name) for one in depths),
    )
    left_out = [
        Finding(one.name, f"{count} left out: {why}")
        for one in depths
        for why, count in one.left_out
    ]
    noticed = [Finding(one.name, note) for one in depths for note in one.notes]
    return Basis(inputs=inputs, findings=(*left_out, *noticed, *findings))
