"""What files, or a bay folder, know of a bay: depths with their doubt, zones, points."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shorefast.app.answer import Answer
from shorefast.app.answers.bay_bare import bare_bay, other_levels
from shorefast.app.answers.bay_charts import chart_zones
from shorefast.app.answers.bay_export import write_bay
from shorefast.app.answers.bay_export_plan import palette_of
from shorefast.app.answers.bay_files import bare_files, charted_m, folder_files
from shorefast.app.answers.bay_places import BareFile, Depths, WholeBay, depths_at, too_far
from shorefast.app.answers.bay_reach import reach_of
from shorefast.app.answers.bay_rows import point_rows, zone_rows
from shorefast.app.answers.bay_run import check_run_asked, run_into_bay
from shorefast.app.answers.bay_words import bay_text
from shorefast.app.answers.run_words import taken_rows
from shorefast.app.out_folder import ready
from shorefast.basis import Basis, Finding, Input
from shorefast.bay import ZONE_KINDS, Bay, Frame, Zone, along_line, distances_m
from shorefast.errors import BadInput
from shorefast.quantities import to_si
from shorefast.readers import (
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
    read_stay,
    zones_of,
)

Floats = NDArray[np.float64]
Along = tuple[float, float, float, float]

ALONG_MOST = 2000
SHAPES = (".geojson", ".json", ".gpkg", ".shp")


@dataclass(frozen=True)
class Wanted:
    """What is asked of a bay beside what it is.

    Attributes
    ----------
    at : sequence of (latitude, longitude)
        Places to give the depth at. [deg]
    points_csv : Path or None
        More of them, in rows.
    along : (latitude, longitude, true bearing, length) or None
        A line to give depths along. [deg, deg, deg, m]
    stay : Path or None
        The stay for which every point's reach is told.
    out : Path or None
        Folder to write the bay to.
    palette : str
        Of the plan.
    soundings : sequence of Path
        Runs to take into the bed of a bay folder first.
    day : str or None
        UTC day of a run that has none.
    """

    at: Sequence[tuple[float, float]] = ()
    points_csv: Path | None = None
    along: Along | None = None
    stay: Path | None = None
    out: Path | None = None
    palette: str = "day"
    soundings: Sequence[Path] = ()
    day: str | None = None


def answer_bay(
    paths: Sequence[Path],
    at: Sequence[tuple[float, float]] = (),
    points_csv: Path | None = None,
    along: Along | None = None,
    told: Mapping[str, Any] | None = None,
    out: Path | None = None,
    palette: str = "day",
    stay: Path | None = None,
    soundings: Sequence[Path] = (),
    day: str | None = None,
) -> Answer:
    """What these files know of the bay.

    Parameters
    ----------
    paths : sequence of Path
        Depth and shore files, or one bay folder.
    at, points_csv, along, out, palette, stay, soundings, day :
        As ``Wanted`` has them.
    told : mapping, optional
        What bare files do not say of themselves: depth, crs, datum, no_data.

    Raises
    ------
    BadInput, Unreadable
        As the readers do; for a palette that is not there, and where ``out`` is a file.
    """
    told = {key: value for key, value in (told or {}).items() if value is not None}
    wanted = Wanted(at, points_csv, along, stay, out, palette_of(palette), soundings, day)
    folder = any(path.is_dir() for path in paths)
    if soundings:
        check_run_asked(stay, folder=folder)
    if out is not None:
        ready(out)
    if folder:
        return _of_folder(paths, wanted, told)
    return _of_files(paths, wanted, told)


def _of_files(paths: Sequence[Path], wanted: Wanted, told: Mapping[str, Any]) -> Answer:
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
    files = bare_files(depths, shapes, charts)
    depths += [one.depths for one in charts if one.depths.level_m.size]
    sources = [BareFile(one) for one in depths]
    asked = _asked(wanted.at, wanted.points_csv, None)
    keys, findings = _keys(files, sources, asked, wanted.along)
    unheard = () if wanted.stay is None else (Finding("--stay", "not used: files hold no points"),)
    basis = Basis(
        inputs=tuple(Input(key, str(value), "skipper") for key, value in told.items()),
        findings=(*_noticed(depths, shapes), *other_levels(depths), *unheard, *findings),
    )
    zones = [zone for one in shapes for zone in _bare_zones(one)]
    zones += [zone for one in charts for zone in chart_zones(one)]
    keys = {**keys, "zones": zone_rows(zones), "points": []}
    if wanted.out is None:
        return _answer(keys, basis)
    drawn = [*shapes, *(one.land for one in charts if one.land.features)]
    return _exported(keys, basis, bare_bay(depths, drawn, zones, sources), wanted)


def _of_folder(paths: Sequence[Path], wanted: Wanted, told: Mapping[str, Any]) -> Answer:
    if len(paths) > 1:
        raise BadInput(
            "Files",
            f"a bay folder and {len(paths) - 1} more",
            "one bay folder, or files, wanted",
            "Ask for them one after the other.",
        )
    read = read_bay_files(paths[0])
    stay = None if wanted.stay is None else read_stay(wanted.stay)
    bay, basis, more = read.bay, read.bay.basis, {}
    if stay is not None and wanted.soundings:
        run = run_into_bay(bay, stay, wanted.soundings, wanted.day)
        stay, bay, basis, more = run.stay, run.stay.bay, run.basis, {"soundings": run.keys}
    asked = _asked(wanted.at, wanted.points_csv, bay.frame)
    keys, findings = _keys(folder_files(read), [WholeBay(bay)], asked, wanted.along)
    noticed = (*_shapes_left_out(read.shapes), *_not_used(told), *findings)
    reached, taken = ({}, Basis()) if stay is None else reach_of(stay, bay.points)
    basis = basis | Basis(findings=noticed) | taken
    keys = {**keys, "zones": zone_rows(bay.zones), "points": point_rows(bay, reached), **more}
    return _answer(keys, basis) if wanted.out is None else _exported(keys, basis, bay, wanted)


def _not_used(told: Mapping[str, Any]) -> tuple[Finding, ...]:
    return tuple(
        Finding(f"--{key.replace('_', '-')}", "not used: bay.toml says it for a bay folder")
        for key in told
    )


def _exported(keys: Mapping[str, Any], basis: Basis, bay: Bay, wanted: Wanted) -> Answer:
    """The answer with what was written to the folder asked for."""
    assert wanted.out is not None
    files = write_bay(wanted.out, bay, palette_of(wanted.palette))
    written = tuple(one.path for one in files)
    keys = {**keys, "exported": [one.keys() for one in files], "written": written}
    return replace(_answer(keys, basis), written=written)


def _answer(keys: Mapping[str, Any], basis: Basis) -> Answer:
    run = taken_rows(keys["soundings"]) if "soundings" in keys else ()
    return Answer("bay", keys, basis, bay_text(keys, basis.findings, run))


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
            "charted_depth_m": charted_m(level[k]),
            "deviation_m": float(deviation[k]),
        }
        for k in range(lat.size)
    ]
    line, more = _along(sources, along) if along is not None else ([], ())
    return {"files": files, "at": places, "along": line}, (*findings, *more)


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
        {"distance_m": float(d), "charted_depth_m": charted_m(z), "deviation_m": float(s)}
        for d, z, s in zip(distance, level, deviation, strict=True)
    ]
    return rows, too_far(sources, lat, lon, level)


def _bare_zones(shapes: Shapes) -> list[Zone]:
    """Zones of a bare file: its shapes that call themselves one of the kinds."""
    known = [one for one in shapes.features if str(one.says.get("kind")).lower() in ZONE_KINDS]
    return zones_of(replace(shapes, features=tuple(known)), {})


def _noticed(depths: Sequence[DepthsRead], shapes: Sequence[Shapes]) -> tuple[Finding, ...]:
    left_out = [
        Finding(one.name, f"{count} left out: {why}")
        for one in depths
        for why, count in one.left_out
    ]
    notes = (Finding(one.name, note) for one in depths for note in one.notes)
    return (*left_out, *_shapes_left_out(shapes), *notes)


def _shapes_left_out(shapes: Sequence[Shapes]) -> tuple[Finding, ...]:
    return tuple(
        Finding(one.name, f"{count} left out: {why}")
        for one in shapes
        for why, count in one.left_out
    )
