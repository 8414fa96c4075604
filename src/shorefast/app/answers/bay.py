"""What files, or a bay folder, know of a bay: depths with their doubt, zones, points."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shorefast.app.answer import Answer
from shorefast.app.answers.bay_charts import chart_file, chart_zones
from shorefast.app.answers.bay_places import BareFile, Depths, WholeBay, depths_at, too_far
from shorefast.app.answers.bay_words import bay_text
from shorefast.basis import Basis, Finding, Input
from shorefast.bay import ZONE_KINDS, Bay, Frame, Zone, along_line, distances_m
from shorefast.errors import BadInput
from shorefast.quantities import to_si
from shorefast.readers import (
    BayRead,
    ChartRead,
    DepthsRead,
    Shapes,
    Told,
    check_there,
    is_chart,
    read_bay_files,
    read_chart,
    read_depths,
    read_places,
    read_shapes,
    zones_of,
)

Floats = NDArray[np.float64]
Along = tuple[float, float, float, float]

ALONG_MOST = 2000
SHAPES = (".geojson", ".json", ".gpkg", ".shp")


def answer_bay(
    paths: Sequence[Path],
    at: Sequence[tuple[float, float]] = (),
    points_csv: Path | None = None,
    along: Along | None = None,
    told: Mapping[str, Any] | None = None,
) -> Answer:
    """What these files know of the bay.

    Parameters
    ----------
    paths : sequence of Path
        Depth and shore files, or one bay folder.
    at : sequence of (latitude, longitude)
        Places to give the depth at. [deg]
    points_csv : Path, optional
        More of them, in rows.
    along : (latitude, longitude, true bearing, length), optional
        A line to give depths along. [deg, deg, deg, m]
    told : mapping, optional
        What bare files do not say of themselves: depth, crs, datum, no_data.

    Raises
    ------
    BadInput, Unreadable
        As the readers do.
    """
    told = {key: value for key, value in (told or {}).items() if value is not None}
    if any(path.is_dir() for path in paths):
        return _of_folder(paths, at, points_csv, along, told)
    said = Told(**told)
    depths: list[DepthsRead] = []
    shapes: list[Shapes] = []
    charts: list[ChartRead] = []
    for path in paths:
        check_there(path)
        if is_chart(path):
            charts.append(read_chart(path, said))
        elif path.suffix.lower() in SHAPES:
            shapes.append(read_shapes(path))
        else:
            depths.append(read_depths(path, said))
    all_depths = [*depths, *(one.depths for one in charts)]
    sources = [BareFile(one) for one in all_depths if one.level_m.size]
    lat, lon = _asked(at, points_csv, None)
    files = _files(depths, shapes) + [_chart_file(one) for one in charts]
    keys, findings = _keys(files, sources, (lat, lon), along)
    basis = Basis(
        inputs=tuple(Input(key, str(value), "skipper") for key, value in told.items()),
        findings=(*_noticed(all_depths), *findings),
    )
    zones = [zone for one in shapes for zone in _bare_zones(one)]
    zones += [zone for one in charts for zone in chart_zones(one)]
    return _answer({**keys, "zones": _zones(zones), "points": []}, basis)


def _of_folder(
    paths: Sequence[Path],
    at: Sequence[tuple[float, float]],
    points_csv: Path | None,
    along: Along | None,
    told: Mapping[str, Any],
) -> Answer:
    if len(paths) > 1:
        raise BadInput(
            "Files",
            f"a bay folder and {len(paths) - 1} more",
            "one bay folder, or files, wanted",
            "Ask for them one after the other.",
        )
    read = read_bay_files(paths[0])
    bay = read.bay
    lat, lon = _asked(at, points_csv, bay.frame)
    keys, findings = _keys(_folder_files(read), [WholeBay(bay)], (lat, lon), along)
    unheard = tuple(
        Finding(f"--{key.replace('_', '-')}", "not used: bay.toml says it for a bay folder")
        for key in told
    )
    basis = bay.basis | Basis(findings=(*unheard, *findings))
    return _answer({**keys, "zones": _zones(bay.zones), "points": _points(bay)}, basis)


def _answer(keys: Mapping[str, Any], basis: Basis) -> Answer:
    return Answer("bay", keys, basis, bay_text(keys, basis.findings))


def _asked(
    at: Sequence[tuple[float, float]], points_csv: Path | None, frame: Frame | None
) -> tuple[Floats, Floats]:
    lat, lon = np.array(at, dtype=float).reshape(-1, 2).T
    if points_csv is None:
        return lat, lon
    check_there(points_csv, "rows of places")
    more_lat, more_lon = read_places(points_csv, frame)
    return np.concatenate((lat, more_lat)), np.concatenate((lon, more_lon))


def _keys(
    files: list[dict[str, Any]],
    sources: Sequence[Depths],
    asked: tuple[Floats, Floats],
    along: Along | None,
) -> tuple[dict[str, Any], tuple[Finding, ...]]:
    lat, lon = asked
    level, deviation = depths_at(sources, lat, lon)
    findings = too_far(sources, lat, lon, level)
    places = [
        {
            "lat_deg": float(lat[k]),
            "lon_deg": float(lon[k]),
            "charted_depth_m": _depth(level[k]),
            "deviation_m": float(deviation[k]),
        }
        for k in range(lat.size)
    ]
    line, more = _along(sources, along) if along is not None else ([], ())
    return {"files": files, "at": places, "along": line}, (*findings, *more)


def _depth(level_m: float) -> float:
    return 0.0 - float(level_m)


def _along(
    sources: Sequence[Depths], along: Along
) -> tuple[list[dict[str, Any]], tuple[Finding, ...]]:
    lat_deg, lon_deg, bearing_deg, length_m = along
    frame = Frame(lat_deg, lon_deg)
    distance = distances_m(length_m, max(1.0, length_m / ALONG_MOST))
    east, north = along_line(0.0, 0.0, to_si(bearing_deg, "angle", "deg"), distance)
    lat, lon = frame.to_earth(east, north)
    level, deviation = depths_at(sources, lat, lon)
    rows = [
        {"distance_m": float(d), "charted_depth_m": _depth(z), "deviation_m": float(s)}
        for d, z, s in zip(distance, level, deviation, strict=True)
    ]
    return rows, too_far(sources, lat, lon, level)


def _files(depths: Sequence[DepthsRead], shapes: Sequence[Shapes]) -> list[dict[str, Any]]:
    return [_depth_file(one) for one in depths] + [_shape_file(one) for one in shapes]


def _depth_file(read: DepthsRead) -> dict[str, Any]:
    return {
        "file": read.name,
        "kind": read.kind,
        "taken": {"soundings": read.level_m.size, "areas": 0, "lines": 0, "points": 0},
        "left_out": _left_out(read.left_out),
        "least_depth_m": _depth(read.level_m.max()),
        "greatest_depth_m": _depth(read.level_m.min()),
        **_box(read.lat_deg, read.lon_deg),
        "crs": read.crs,
        "chart_datum": read.datum,
        "spacing_m": read.spacing_m,
    }


def _left_out(rows: Sequence[tuple[str, int]]) -> list[dict[str, Any]]:
    return [{"why": why, "count": count} for why, count in rows]


def _box(lat_deg: Floats, lon_deg: Floats) -> dict[str, float]:
    """The box round places; across the date line east may be less than west."""
    west, east = float(lon_deg.min()), float(lon_deg.max())
    if east - west > 180.0:
        turned = lon_deg % 360.0
        west = (float(turned.min()) + 180.0) % 360.0 - 180.0
        east = (float(turned.max()) + 180.0) % 360.0 - 180.0
    return {
        "west_deg": west,
        "south_deg": float(lat_deg.min()),
        "east_deg": east,
        "north_deg": float(lat_deg.max()),
    }


def _shape_file(read: Shapes, frame: Frame | None = None) -> dict[str, Any]:
    import shapely

    at = np.concatenate([shapely.get_coordinates(one.shape) for one in read.features])
    lat, lon = frame.to_earth(at[:, 0], at[:, 1]) if frame else (at[:, 1], at[:, 0])
    counts = Counter(
        part.geom_type for one in read.features for part in shapely.get_parts(one.shape)
    )
    return {
        "file": read.name,
        "kind": "shapes",
        "taken": {
            "soundings": 0,
            "areas": counts["Polygon"],
            "lines": counts["LineString"] + counts["LinearRing"],
            "points": counts["Point"],
        },
        "left_out": _left_out(read.left_out),
        "least_depth_m": None,
        "greatest_depth_m": None,
        **_box(lat, lon),
        "crs": read.crs,
        "chart_datum": None,
        "spacing_m": None,
    }


def _folder_files(read: BayRead) -> list[dict[str, Any]]:
    depths = [{**_depth_file(one), "chart_datum": read.bay.chart_datum} for one in read.depths]
    shapes = [_shape_file(one, read.bay.frame) for one in read.shapes]
    return depths + shapes + [_chart_file(one) for one in read.charts]


def _chart_file(read: ChartRead) -> dict[str, Any]:
    """The row of a chart; one without any depth spans its land and zones."""
    if read.depths.level_m.size:
        return chart_file(read, _depth_file(read.depths))
    drawn = replace(read.land, features=(*read.land.features, *read.zones.features))
    shapes = {**_shape_file(drawn), "kind": read.depths.kind}
    return chart_file(read, {**shapes, "left_out": _left_out(read.depths.left_out)})


def _bare_zones(shapes: Shapes) -> list[Zone]:
    """Zones of a bare file: its shapes that call themselves one of the kinds."""
    known = [one for one in shapes.features if str(one.says.get("kind")).lower() in ZONE_KINDS]
    return zones_of(replace(shapes, features=tuple(known)), {})


def _zones(zones: Sequence[Zone]) -> list[dict[str, Any]]:
    return [
        {
            "kind": zone.kind,
            "name": zone.name,
            "source": zone.source,
            "from_utc": zone.from_utc,
            "until_utc": zone.until_utc,
        }
        for zone in zones
    ]


def _points(bay: Bay) -> list[dict[str, Any]]:
    rows = []
    for point in bay.points:
        lat, lon = bay.frame.to_earth(point.east_m, point.north_m)
        rows.append(
            {
                "name": point.name,
                "kind": point.kind,
                "lat_deg": float(lat),
                "lon_deg": float(lon),
                "east_m": point.east_m,
                "north_m": point.north_m,
                "height_m": point.height_m,
                "strength_n": math.nan if point.strength_n is None else point.strength_n,
            }
        )
    return rows


def _noticed(depths: Sequence[DepthsRead]) -> tuple[Finding, ...]:
    left_out = [
        Finding(one.name, f"{count} left out: {why}")
        for one in depths
        for why, count in one.left_out
    ]
    return (*left_out, *(Finding(one.name, note) for one in depths for note in one.notes))
