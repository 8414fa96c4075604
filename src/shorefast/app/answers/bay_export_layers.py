"""What a bay holds as layers on earth: soundings, contours, shore, land, zones, points."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from shorefast.bay import Bay, DepthSurface, Frame
from shorefast.drawing import CONTOURS_M

Columns = dict[str, list[Any]]


@dataclass(frozen=True)
class Layer:
    """Shapes of one kind in longitude and latitude, and a column for each thing said of them.

    A text that nobody knows is None, a number NaN.
    """

    name: str
    kind: str
    shapes: NDArray[Any]
    columns: Columns


def layers_of(bay: Bay) -> tuple[Layer, ...]:
    """The layers of a bay that hold anything, always in the same order."""
    layers = (_soundings(bay), _contours(bay), *_shore(bay), _zones(bay), _points(bay))
    return tuple(layer for layer in layers if len(layer.shapes))


def _unbroken(
    frame: Frame, east_m: NDArray[np.float64], north_m: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Latitude and longitude, on over 180 where the bay lies across the date line.

    A shape that leapt to the other side would span the earth. [deg]
    """
    lat, lon = frame.to_earth(east_m, north_m)
    here = (frame.lon_deg + 180.0) % 360.0 - 180.0
    return lat, here + (lon - here + 180.0) % 360.0 - 180.0


def _on_earth(frame: Frame, shapes: Sequence[BaseGeometry]) -> NDArray[Any]:
    import shapely

    def turned(at: NDArray[np.float64]) -> NDArray[np.float64]:
        lat, lon = _unbroken(frame, at[:, 0], at[:, 1])
        return np.column_stack((lon, lat))

    moved: NDArray[Any] = np.empty(len(shapes), object)
    for place, one in enumerate(shapes):
        moved[place] = shapely.transform(one, turned)
    return moved


def _soundings(bay: Bay) -> Layer:
    import shapely

    lat, lon = _unbroken(bay.frame, bay.soundings.east_m, bay.soundings.north_m)
    depth, deviation = 0.0 - bay.soundings.level_m, bay.soundings.deviation_m
    columns: Columns = {"depth_m": depth.tolist(), "deviation_m": deviation.tolist()}
    return Layer("soundings", "Point", shapely.points(lon, lat), columns)


def _contours(bay: Bay) -> Layer:
    lines, depths = contour_lines(bay.surface)
    said: Columns = {"depth_m": depths, "chart_datum": [bay.chart_datum or None] * len(depths)}
    return Layer("contours", "LineString", _on_earth(bay.frame, lines), said)


def contour_lines(surface: DepthSurface) -> tuple[list[BaseGeometry], list[float]]:
    """Contours of the surface in the bay's plane, and the charted depth of each. [m]"""
    import shapely
    from contourpy import contour_generator

    grid = surface.grid
    if not np.isfinite(grid.level_m).any():
        return [], []
    rows, columns = grid.level_m.shape
    east = grid.west_m + grid.step_m * np.arange(columns)
    north = grid.south_m + grid.step_m * np.arange(rows)
    drawn = contour_generator(east, north, np.ma.masked_invalid(-grid.level_m), name="serial")
    lines, depths = [], []
    for depth_m in CONTOURS_M:
        for row in drawn.lines(depth_m):
            if len(row) > 1:
                lines.append(shapely.LineString(row))
                depths.append(depth_m)
    return lines, depths


def _shore(bay: Bay) -> tuple[Layer, Layer]:
    import shapely

    drawn = [] if bay.shore is None else [bay.shore]
    filled = [] if bay.land is None else [bay.land]
    lines = [
        part if part.geom_type == "LineString" else shapely.LineString(part.coords)
        for one in drawn
        for part in shapely.get_parts(one if one.area == 0.0 else one.boundary)
        if part.length > 0.0
    ]
    areas = [part for one in filled for part in shapely.get_parts(one) if part.area > 0.0]
    return (
        Layer("shore", "LineString", _on_earth(bay.frame, lines), {"kind": ["shore"] * len(lines)}),
        Layer("land", "Polygon", _on_earth(bay.frame, areas), {"kind": ["land"] * len(areas)}),
    )


def _zones(bay: Bay) -> Layer:
    import shapely

    parts = [
        (zone, part)
        for zone in bay.zones
        for part in shapely.get_parts(zone.shape)
        if part.geom_type == "Polygon"
    ]
    columns: Columns = {
        "kind": [zone.kind for zone, _ in parts],
        "name": [zone.name for zone, _ in parts],
        "source": [zone.source for zone, _ in parts],
        "from_utc": [_moment(zone.from_utc) for zone, _ in parts],
        "until_utc": [_moment(zone.until_utc) for zone, _ in parts],
    }
    return Layer("zones", "Polygon", _on_earth(bay.frame, [part for _, part in parts]), columns)


def _moment(at_utc: datetime | None) -> str | None:
    return None if at_utc is None else f"{at_utc.astimezone(UTC):%Y-%m-%dT%H:%M:%SZ}"


def _points(bay: Bay) -> Layer:
    import shapely

    east = np.array([point.east_m for point in bay.points], float)
    north = np.array([point.north_m for point in bay.points], float)
    lat, lon = _unbroken(bay.frame, east, north)
    strengths = [math.nan if one.strength_n is None else one.strength_n for one in bay.points]
    columns: Columns = {
        "name": [one.name for one in bay.points],
        "kind": [one.kind for one in bay.points],
        "height_m": [one.height_m for one in bay.points],
        "strength_n": strengths,
        "strength_source": [one.strength_source for one in bay.points],
        "photo": [one.photo for one in bay.points],
        "remark": [one.remark for one in bay.points],
    }
    return Layer("points", "Point", shapely.points(lon, lat), columns)
