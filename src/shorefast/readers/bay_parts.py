"""The smaller tables of bay.toml: points ashore, zones, wind sectors."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, NamedTuple

import shapely
from shapely.geometry import MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry

from shorefast.basis import Finding
from shorefast.bay import ZONE_KINDS, Bounds, Frame, ShorePoint, WindSector, Zone
from shorefast.errors import BadInput
from shorefast.quantities import wrap_rad
from shorefast.readers.depth_file import check_there
from shorefast.readers.points_file import read_points_file
from shorefast.readers.shore_geojson import Feature, Shapes, read_shapes
from shorefast.readers.toml_file import TomlTable

OFF_SHORE_M = 250.0
IN_WATER_M = 15.0
FAR_M = 5_000.0


def place_of(table: TomlTable, frame: Frame) -> tuple[float, float]:
    """A place given as lat_deg, lon_deg or as east_m, north_m, in the bay's plane. [m]

    Raises
    ------
    BadInput
        If neither pair is whole, both are given, a latitude is none, or it is far from
        the bay.
    """
    lat, lon = table.number("lat_deg"), table.number("lon_deg")
    east, north = table.quantity("east", "length"), table.quantity("north", "length")
    if lat is not None and lon is not None and east is None and north is None:
        return _near(table, _in_plane(table, lat, lon, frame), (lat, lon), frame)
    if east is not None and north is not None and lat is None and lon is None:
        return _near(table, (east, north), None, frame)
    raise BadInput(
        table.where(),
        "no whole place",
        "lat_deg and lon_deg, or east_m and north_m wanted",
        "Give one pair.",
    )


def _in_plane(table: TomlTable, lat: float, lon: float, frame: Frame) -> tuple[float, float]:
    if abs(lat) > 90.0:
        raise BadInput(
            table.where("lat_deg"),
            f"{lat:g}",
            "a latitude lies between -90 and 90",
            "Swap latitude and longitude if they changed places, or correct it.",
        )
    east, north = frame.to_plane(lat, lon)
    return float(east), float(north)


def _near(
    table: TomlTable,
    at: tuple[float, float],
    on_earth: tuple[float, float] | None,
    frame: Frame,
) -> tuple[float, float]:
    """The place again, refused where it lies in other waters."""
    off_m = math.hypot(*at)
    if off_m <= FAR_M:
        return at
    hint = "Correct its place (south and west are negative)."
    if on_earth is not None and abs(on_earth[1]) <= 90.0:
        swapped = frame.to_plane(on_earth[1], on_earth[0])
        if math.hypot(float(swapped[0]), float(swapped[1])) <= FAR_M:
            hint = "Swap lat_deg and lon_deg: they have changed places."
    raise BadInput(
        table.where(),
        f"{off_m / 1000:.0f} km from the bay's origin",
        "points within 5 km wanted",
        hint,
    )


class PointsTold(NamedTuple):
    """Points ashore, where in bay.toml each is told, and what was noticed in their files."""

    points: tuple[ShorePoint, ...]
    where: tuple[str, ...]
    findings: tuple[Finding, ...]


def read_points(table: TomlTable, frame: Frame, folder: Path) -> PointsTold:
    """The ``[[point]]`` tables, by hand or from a file each; names must differ."""
    points: dict[str, ShorePoint] = {}
    where: list[str] = []
    findings: list[Finding] = []
    for one in table.tables("point"):
        file = one.text("file")
        if file is None:
            more: tuple[ShorePoint, ...] = (_point(one, frame),)
        else:
            check_there(folder / file, f"the points of {one.where('file')}")
            read = read_points_file(folder / file, frame)
            more = read.points
            findings += [Finding(file, f"{count} left out: {why}") for why, count in read.left_out]
        for point in more:
            if point.name in points:
                raise BadInput(
                    one.where("name" if file is None else "file"),
                    f"a second point '{point.name}'",
                    "names must differ",
                    "Give it another.",
                )
            points[point.name] = point
            where.append(one.where())
    return PointsTold(tuple(points.values()), tuple(where), tuple(findings))


def _point(one: TomlTable, frame: Frame) -> ShorePoint:
    name = one.need_text("name")
    east, north = place_of(one, frame)
    return ShorePoint(
        name,
        one.text("kind") or "point",
        east,
        north,
        one.need("height", "length", least=-20.0, most=200.0),
        one.quantity("strength", "force", above=0.0),
        one.text("strength_source"),
        one.text("photo"),
        one.text("remark"),
    )


def check_points(
    told: PointsTold, shore: BaseGeometry | None, land: BaseGeometry | None
) -> tuple[Finding, ...]:
    """What is odd about where points stand.

    Raises
    ------
    BadInput
        If one stands so far inland, in the water or from the bay that no line gets there.
    """
    findings = list(told.findings)
    for point, where in zip(told.points, told.where, strict=True):
        at = shapely.Point(point.east_m, point.north_m)
        if shore is None:
            continue
        off_m = float(shore.distance(at))
        side = "inland" if land is not None and land.covers(at) else "out in the water"
        if off_m > OFF_SHORE_M:
            raise BadInput(
                where,
                f"{off_m:.0f} m {side}",
                f"within {OFF_SHORE_M:.0f} m of the shore wanted",
                "Correct its place.",
            )
        if side != "inland" and off_m > IN_WATER_M and point.kind not in ("buoy", "mooring"):
            findings.append(Finding(where, f"{point.name} stands {off_m:.0f} m out in the water"))
    return tuple(findings)


def read_zones(
    table: TomlTable, folder: Path, frame: Frame, bounds: Bounds
) -> tuple[tuple[Zone, ...], tuple[Shapes, ...]]:
    """The ``[[zones]]`` tables, and the files they name.

    Shapes come from a file; a kind alone holds in the whole bay.
    """
    zones: list[Zone] = []
    files: list[Shapes] = []
    for one in table.tables("zones"):
        said: dict[str, Any] = {
            "kind": one.text("kind"),
            "name": one.text("name"),
            "source": one.text("source"),
            "from_utc": one.moment("from_utc"),
            "until_utc": one.moment("until_utc"),
        }
        file = one.text("file")
        if file is not None:
            files.append(_zone_file(one, folder / file, frame))
            zones += zones_of(files[-1], said)
        elif said["kind"] is None:
            raise BadInput(
                one.where(),
                "neither file nor kind",
                "one of them wanted",
                "Name a GeoJSON file of zones, or the kind that holds in the whole bay.",
            )
        else:
            feature = Feature(box(*bounds), {})
            zones.append(_zone(one.where("kind"), feature, said, "bay.toml"))
    return tuple(zones), tuple(files)


def _zone_file(table: TomlTable, path: Path, frame: Frame) -> Shapes:
    check_there(path, f"the zones of {table.where('file')}")
    return read_shapes(path, frame)


def zones_of(shapes: Shapes, said: Mapping[str, Any]) -> list[Zone]:
    """Every shape of a file as a zone; what a feature does not say itself was said for all.

    Raises
    ------
    BadInput
        If one is no polygon, of no known kind, or in force at no time that can be read.
    """
    return [
        _zone(f"{shapes.name}, feature {number}", feature, said, shapes.name)
        for number, feature in enumerate(shapes.features, start=1)
    ]


def _zone(where: str, feature: Feature, said: Mapping[str, Any], file: str) -> Zone:
    def says(key: str) -> Any:
        own = feature.says.get(key)
        return said.get(key) if own in (None, "") else own

    return Zone(
        _kind(where, says("kind")),
        str(says("name") or says("kind")),
        _area(where, feature.shape),
        str(says("source") or file),
        _moment(where, says("from_utc")),
        _moment(where, says("until_utc")),
    )


def _kind(where: str, told: Any) -> str:
    kind = " ".join(str(told).lower().replace("_", " ").replace("-", " ").split())
    if told is None or not kind:
        raise BadInput(
            where, "no kind", f"one of {', '.join(ZONE_KINDS)} wanted", "Add a property kind."
        )
    return kind


def unjudged(zones: Sequence[Zone]) -> tuple[Finding, ...]:
    """Says which zones are of a kind that no rule here speaks of."""
    return tuple(
        Finding(f"Zone {zone.name}", f"kind '{zone.kind}' is not known: it is shown, not judged")
        for zone in zones
        if zone.kind not in ZONE_KINDS
    )


def _area(where: str, drawn: BaseGeometry) -> BaseGeometry:
    if drawn.geom_type not in ("Polygon", "MultiPolygon"):
        raise BadInput(
            where,
            f"a zone drawn as {drawn.geom_type}",
            "a polygon wanted",
            "Draw it as a closed area.",
        )
    mended = shapely.make_valid(drawn)
    areas = [one for one in shapely.get_parts(mended) if isinstance(one, Polygon)]
    return areas[0] if len(areas) == 1 else MultiPolygon(areas)


def _moment(where: str, told: Any) -> datetime | None:
    if told is None or isinstance(told, datetime):
        return told
    try:
        value = datetime.fromisoformat(str(told))
    except ValueError:
        raise BadInput(
            where, f"{told!r}", 'a time like "2026-07-01T21:40:00Z" wanted', "Correct it."
        ) from None
    return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


def read_sectors(table: TomlTable) -> tuple[WindSector, ...]:
    """The ``[[sector]]`` tables: what the skipper knows of the wind from there."""
    sectors = []
    turn = 2.0 * math.pi
    for one in table.tables("sector"):
        factor = one.number("factor")
        if factor is not None and not 0.0 <= factor <= 4.0:
            raise BadInput(one.where("factor"), f"{factor:g}", "0 to 4 wanted", "Correct it.")
        sectors.append(
            WindSector(
                wrap_rad(one.need("from", "angle", least=-turn, most=turn)),
                wrap_rad(one.need("until", "angle", least=-turn, most=turn)),
                factor,
                one.quantity("gust", "speed", least=0.0, most=100.0),
                one.quantity("turn", "angle", least=-turn, most=turn) or 0.0,
                one.quantity("spread", "angle", least=0.0, most=turn),
            )
        )
    return tuple(sectors)
