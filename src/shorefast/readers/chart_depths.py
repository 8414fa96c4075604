"""The depths of a chart: soundings, contours walked along, dangers whose top is known."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from shorefast.bay import Frame
from shorefast.readers.chart_cell import Cell, Charted
from shorefast.readers.chart_codes import code_of, number_of
from shorefast.readers.chart_quality import OF_95, confidence_at, deviations_m
from shorefast.readers.depths import DEEPEST_M, Tally

Floats = NDArray[np.float64]

CONTOUR_DOUBT = 2.0
DOUBTFUL = 2.0
DANGER_DEVIATION_M = 0.1
PRINTED_M = 0.002
DANGERS = ("UWTROC", "WRECKS", "OBSTRN")
_AWASH = 5
_NO_BOTTOM = 5
_NOT_SURE = (3, 4, 8, 9)
_SAME_LINE_M = 1.0
_COVERED = 1
_EDGE_DEG = 1e-5


class ChartDepths(NamedTuple):
    """Levels up from the cell's datum with their deviation. [deg, m]"""

    lat_deg: Floats
    lon_deg: Floats
    level_m: Floats
    deviation_m: Floats

    @staticmethod
    def none() -> ChartDepths:
        """No depth at all."""
        return ChartDepths(*(np.empty(0),) * 4)


def spaced_m(cell: Cell) -> float:
    """How far apart a contour is taken: two millimetres of the paper. [m]"""
    return PRINTED_M * cell.scale


def soundings_of(cell: Cell, tally: Tally) -> ChartDepths:
    """Every sounding; those said to be doubtful count with twice the doubt (our choice)."""
    kept, factor, own = [], [], []
    outside = _outside_of(cell)
    for _, one in cell.of("SOUNDG"):
        depth_m, sure = number_of(one.says, "DEPTH"), code_of(one.says, "QUASOU")
        if one.shape is None or depth_m is None or abs(depth_m) > DEEPEST_M:
            tally.add("SOUNDG: a sounding without place or depth", cell.name)
        elif outside is not None and shapely.contains_xy(outside, one.shape.x, one.shape.y):
            tally.add("SOUNDG: outside the waters the chart says it covers", cell.name)
        elif sure == _NO_BOTTOM:
            tally.add("SOUNDG: no bottom found at that depth", cell.name)
        else:
            kept.append((one.shape.y, one.shape.x, -depth_m))
            factor.append(DOUBTFUL if sure in _NOT_SURE else 1.0)
            own.append(number_of(one.says, "SOUACC") or np.nan)
    return _doubted(cell, kept, np.array(factor), np.array(own) / OF_95)


def contours_of(cell: Cell, plane: Frame) -> ChartDepths:
    """Places along the contours, each with twice a sounding's doubt (our own choice).

    Contours are those drawn, and edges where one depth area ends at the depth the next
    begins with and none is drawn.
    """
    rows = []
    for depth_m, line in _contour_lines(cell, plane):
        at = _along(line, spaced_m(cell))
        lat, lon = plane.to_earth(at[:, 0], at[:, 1])
        rows += [(y, x, -depth_m) for y, x in zip(lat, lon, strict=True)]
    return _doubted(cell, rows, np.full(len(rows), CONTOUR_DOUBT), np.full(len(rows), np.nan))


def dangers_of(cell: Cell, plane: Frame) -> ChartDepths:
    """Rocks, wrecks and obstructions with the level of their top, where it is known.

    A point awash reaches up to datum. One that dries or is under water by nobody knows how
    much gives no level: it stays a zone, and round it the bed is unknown. The deviation is
    small, so that no bed drawn between other soundings buries it.
    """
    rows = []
    for one in (found for _, found in cell.of(*DANGERS)):
        level_m = top_m(one)
        if one.shape is None or level_m is None:
            continue
        at = _along(in_plane(one.shape, plane), spaced_m(cell))
        lat, lon = plane.to_earth(at[:, 0], at[:, 1])
        rows += [(y, x, level_m) for y, x in zip(lat, lon, strict=True)]
    lat, lon, level = _columns(rows)
    return ChartDepths(lat, lon, level, np.full(level.size, DANGER_DEVIATION_M))


def top_m(danger: Charted) -> float | None:
    """Level of a danger's top up from datum [m]; None: unknown."""
    depth_m = number_of(danger.says, "VALSOU")
    if depth_m is not None and abs(depth_m) <= DEEPEST_M:
        return 0.0 - depth_m
    point = danger.shape is not None and danger.shape.geom_type == "Point"
    return 0.0 if point and code_of(danger.says, "WATLEV") == _AWASH else None


def in_plane(shape: BaseGeometry, plane: Frame) -> BaseGeometry:
    """A shape in longitude and latitude, in metres of a plane."""
    return shapely.transform(
        shapely.force_2d(shape), lambda at: np.column_stack(plane.to_plane(at[:, 1], at[:, 0]))
    )


def on_earth(shape: BaseGeometry, plane: Frame) -> BaseGeometry:
    """A shape in metres of a plane, in longitude and latitude."""

    def back(at: Floats) -> Floats:
        lat, lon = plane.to_earth(at[:, 0], at[:, 1])
        return np.column_stack((lon, lat))

    return shapely.transform(shape, back)


def _outside_of(cell: Cell) -> BaseGeometry | None:
    """All the earth but what the chart says it covers; None where it does not say. [deg]"""
    covered = [
        one.shape
        for _, one in cell.of("M_COVR")
        if one.shape is not None and code_of(one.says, "CATCOV") == _COVERED
    ]
    if not covered:
        return None
    outside = shapely.box(-360.0, -90.0, 360.0, 90.0).difference(
        shapely.buffer(unary_union([shapely.make_valid(one) for one in covered]), _EDGE_DEG)
    )
    shapely.prepare(outside)
    return outside


def _columns(rows: Sequence[tuple[float, float, float]]) -> tuple[Floats, Floats, Floats]:
    lat, lon, level = np.array(rows, dtype=float).reshape(-1, 3).T
    return lat, lon, level


def _doubted(
    cell: Cell, rows: Sequence[tuple[float, float, float]], factor: Floats, own_m: Floats
) -> ChartDepths:
    """Levels with the deviation of their zone of confidence, or their own where told."""
    lat, lon, level = _columns(rows)
    zone = confidence_at(cell, lat, lon)
    deviation = np.where(np.isnan(own_m), deviations_m(zone, -level), own_m) * factor
    return ChartDepths(lat, lon, level, deviation)


def _contour_lines(cell: Cell, plane: Frame) -> Iterator[tuple[float, BaseGeometry]]:
    """Depth and course of every contour, in the plane. [m]"""
    drawn: dict[float, list[BaseGeometry]] = {}
    for _, one in cell.of("DEPCNT"):
        depth_m = number_of(one.says, "VALDCO")
        if depth_m is not None and one.shape is not None:
            drawn.setdefault(depth_m, []).append(in_plane(one.shape, plane))
    for depth_m, edge in _edges(cell, plane):
        there = drawn.get(depth_m, [])
        left = edge.difference(unary_union(there).buffer(_SAME_LINE_M)) if there else edge
        drawn.setdefault(depth_m, []).append(left)
    for depth_m, lines in drawn.items():
        for line in shapely.get_parts(shapely.line_merge(unary_union(lines))):
            if line.length > 0.0:
                yield depth_m, line


def _edges(cell: Cell, plane: Frame) -> Iterator[tuple[float, BaseGeometry]]:
    """Where a depth area ends at the depth at which its neighbour begins."""
    begins: dict[float, list[BaseGeometry]] = {}
    ends: dict[float, list[BaseGeometry]] = {}
    for _, one in cell.of("DEPARE"):
        if one.shape is None or "Polygon" not in one.shape.geom_type:
            continue
        outline = in_plane(one.shape, plane).boundary
        for key, where in (("DRVAL1", begins), ("DRVAL2", ends)):
            depth_m = number_of(one.says, key)
            if depth_m is not None:
                where.setdefault(depth_m, []).append(outline)
    for depth_m in begins.keys() & ends.keys():
        shared = unary_union(begins[depth_m]).intersection(unary_union(ends[depth_m]))
        lines = [one for one in shapely.get_parts(shared) if one.geom_type == "LineString"]
        if lines:
            yield depth_m, unary_union(lines)


def _along(shape: BaseGeometry, step_m: float) -> Floats:
    """Places along the lines of a shape, both ends of each among them; of an area one inside.

    Returns an array, shape (place, 2). [m]
    """
    found = []
    for part in shapely.get_parts(shape):
        if part.geom_type == "Point":
            found.append([(part.x, part.y)])
            continue
        if part.geom_type == "Polygon":
            found.append(shapely.get_coordinates(part.representative_point()))
            part = part.boundary
        for line in shapely.get_parts(part):
            steps = max(int(np.ceil(line.length / step_m)), 1)
            at = np.linspace(0.0, line.length, steps + 1)[: -1 if line.is_ring else None]
            found.append(shapely.get_coordinates(shapely.line_interpolate_point(line, at)))
    return np.concatenate(found) if found else np.empty((0, 2))
