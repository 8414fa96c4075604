"""Bare files taken together as a bay, to be written out and drawn."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from shorefast.app.answers.bay_places import Depths, depths_at
from shorefast.basis import Basis, Finding
from shorefast.bay import (
    Bay,
    Bounds,
    DepthSurface,
    Frame,
    Soundings,
    SurfaceGrid,
    Zone,
    joined,
    shore_and_land,
)
from shorefast.readers import DepthsRead, Shapes
from shorefast.wording import UNKNOWN

Floats = NDArray[np.float64]

_SIDE_NODES = 345
_STEP_OF_SPACING = 0.4


def bare_bay(
    depths: Sequence[DepthsRead],
    shapes: Sequence[Shapes],
    zones: Sequence[Zone],
    sources: Sequence[Depths],
) -> Bay:
    """All files as one bay about their middle.

    The bed is what ``--at`` would tell at every node. Polygons that are no zone are land
    and lines are its shore, as in a ``[[shore]]`` file.
    """
    frame = _frame(depths, shapes)
    soundings = _soundings(depths, frame)
    grid = _grid(depths, shapes, sources, frame)
    shore, land = _shore(shapes, zones, frame, _bounds(grid))
    placed = tuple(_placed(zone, frame) for zone in zones)
    surface = DepthSurface(grid, Basis())
    levels = {one.datum or "" for one in depths}
    datum = levels.pop() if len(levels) == 1 else ""
    names = [*(one.name for one in depths), *(one.name for one in shapes)]
    name = ", ".join(dict.fromkeys(names))
    return Bay(
        name, frame, "UTC", datum, "", surface, soundings, shore, land, (), placed, (), Basis()
    )


def other_levels(depths: Sequence[DepthsRead]) -> tuple[Finding, ...]:
    """Says so where files that are shown together count their depths from different levels."""
    files: dict[str, list[str]] = {}
    for one in depths:
        files.setdefault(one.datum or f"a level {UNKNOWN}", []).append(one.name)
    if len(files) < 2:
        return ()
    told = "; ".join(f"{', '.join(names)} from {level}" for level, names in files.items())
    said = f"depths counted from different levels are shown together as they are: {told}"
    return (Finding("Files", said),)


def _corners(depths: Sequence[DepthsRead], shapes: Sequence[Shapes]) -> tuple[Floats, Floats]:
    """Latitudes and longitudes of all depths; of all shapes where there is no depth. [deg]"""
    import shapely

    if depths:
        lat = np.concatenate([one.lat_deg for one in depths])
        return lat, np.concatenate([one.lon_deg for one in depths])
    features = [one.shape for shape in shapes for one in shape.features]
    at = np.concatenate([shapely.get_coordinates(one) for one in features])
    return at[:, 1], at[:, 0]


def _frame(depths: Sequence[DepthsRead], shapes: Sequence[Shapes]) -> Frame:
    lat, lon = _corners(depths, shapes)
    first = float(lon[0])
    about = (lon - first + 180.0) % 360.0 - 180.0
    middle = first + 0.5 * float(about.min() + about.max())
    return Frame(0.5 * float(lat.min() + lat.max()), (middle + 180.0) % 360.0 - 180.0)


def _soundings(depths: Sequence[DepthsRead], frame: Frame) -> Soundings:
    return joined([one.in_frame(frame) for one in depths])


def _grid(
    depths: Sequence[DepthsRead], shapes: Sequence[Shapes], sources: Sequence[Depths], frame: Frame
) -> SurfaceGrid:
    east, north = frame.to_plane(*_corners(depths, shapes))
    west_m, south_m = float(east.min()), float(north.min())
    wide_m, high_m = float(np.ptp(east)), float(np.ptp(north))
    spacings = [one.spacing_m for one in depths if math.isfinite(one.spacing_m)]
    close_m = _STEP_OF_SPACING * min(spacings, default=0.0)
    step_m = max(1.0, close_m, wide_m / _SIDE_NODES, high_m / _SIDE_NODES)
    columns, rows = max(2, math.ceil(wide_m / step_m) + 1), max(2, math.ceil(high_m / step_m) + 1)
    across, up = np.meshgrid(
        west_m + step_m * np.arange(columns), south_m + step_m * np.arange(rows)
    )
    lat, lon = frame.to_earth(across.ravel(), up.ravel())
    level, deviation = depths_at(sources, lat, lon)
    shape = across.shape
    return SurfaceGrid(west_m, south_m, step_m, level.reshape(shape), deviation.reshape(shape))


def _bounds(grid: SurfaceGrid) -> Bounds:
    rows, columns = grid.level_m.shape
    east_m = grid.west_m + grid.step_m * (columns - 1)
    return Bounds(grid.west_m, grid.south_m, east_m, grid.south_m + grid.step_m * (rows - 1))


def _placed(zone: Zone, frame: Frame) -> Zone:
    import shapely

    return replace(zone, shape=shapely.transform(zone.shape, lambda at: _plane(at, frame)))


def _plane(at: Floats, frame: Frame) -> Floats:
    return np.column_stack(frame.to_plane(at[:, 1], at[:, 0]))


def _shore(
    shapes: Sequence[Shapes], zones: Sequence[Zone], frame: Frame, bounds: Bounds
) -> tuple[BaseGeometry | None, BaseGeometry | None]:
    import shapely

    ruled = {shapely.to_wkb(part) for zone in zones for part in shapely.get_parts(zone.shape)}
    land = [
        shapely.MultiPolygon(
            [part for part in one.of("Polygon") if shapely.to_wkb(part) not in ruled]
        )
        for one in shapes
    ]
    areas = [shapely.transform(one, lambda at: _plane(at, frame)) for one in land]
    lines = [
        shapely.transform(part, lambda at: _plane(at, frame))
        for one in shapes
        for part in one.of("LineString")
    ]
    return shore_and_land(areas, lines, bounds, frame)
