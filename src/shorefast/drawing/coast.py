"""Land and its shore: filled, inked and hachured on the land side."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from shorefast.drawing.labels import Board
from shorefast.drawing.page import Box, Page, Points, path_of
from shorefast.drawing.view import View

if TYPE_CHECKING:
    from shorefast.bay import Bay

Floats = NDArray[np.float64]
_FAR_M = 2000.0
_LEFT, _RIGHT = -1.0, 1.0


def draw_land_beyond(page: Page, view: View, bay: Bay) -> None:
    """Land carried on straight where it was cut off with the data, under the signs for unknown."""
    if bay.land is None or bay.shore is None:
        return
    edge = bay.land.boundary.difference(bay.shore.buffer(1.0, quad_segs=1))
    beyond = _carried_on(bay.land, edge)
    if beyond:
        _fill(page, view.shape(shapely.union_all(beyond)))


def draw_coast(page: Page, board: Board, view: View, bay: Bay) -> None:
    """Fill the land and ink the shore; note the shore on the board.

    A shore line without land of its own has its land to the right as it is walked.
    """
    if bay.land is not None:
        _fill(page, view.shape(bay.land))
    line = bay.shore if bay.shore is not None else bay.land
    if line is None:
        return
    line = line.boundary if isinstance(line, shapely.Polygon | shapely.MultiPolygon) else line
    for part in shapely.get_parts(line):
        row = shapely.get_coordinates(part)
        if len(row) > 1:
            _ink(page, board, view, row, _land_side(row, bay.land))


def _carried_on(land: BaseGeometry, edge: BaseGeometry) -> list[BaseGeometry]:
    """Strips outward from every straight cut, and the corners between two of them."""
    strips: list[BaseGeometry] = []
    shapely.prepare(land)
    for part in shapely.get_parts(shapely.line_merge(edge)):
        row = shapely.get_coordinates(part)
        outward = [_outward(land, row[n], row[n + 1]) for n in range(len(row) - 1)]
        for n, away in enumerate(outward):
            strips.append(shapely.Polygon([row[n], row[n + 1], row[n + 1] + away, row[n] + away]))
            if n and not np.allclose(away, outward[n - 1]):
                before = outward[n - 1]
                corner = [row[n], row[n] + before, row[n] + before + away, row[n] + away]
                strips.append(shapely.Polygon(corner))
    return strips


def _outward(land: BaseGeometry, start: Floats, end: Floats) -> Floats:
    step = (end - start) / max(math.dist(start, end), 1e-9)
    side = np.array((step[1], -step[0]))
    middle = (start + end) / 2
    inside = shapely.contains_xy(land, *(middle + 0.5 * side))
    away: Floats = (-side if inside else side) * _FAR_M
    return away


def _land_side(row: Floats, land: BaseGeometry | None) -> float:
    """On which side of a row (east, north), as it is walked, the land lies."""
    if land is None:
        return _RIGHT
    steps = np.diff(row, axis=0)
    middle = (row[1:] + row[:-1]) / 2
    long = np.hypot(steps[:, 0], steps[:, 1])
    right = np.column_stack((steps[:, 1], -steps[:, 0])) / np.maximum(long, 1e-9)[:, None]
    inside = shapely.contains_xy(land, *(middle + 0.3 * right).T)
    return _RIGHT if long[inside].sum() >= 0.5 * long.sum() else _LEFT


def _fill(page: Page, seen: BaseGeometry) -> None:
    rings = [
        ring
        for part in shapely.get_parts(seen)
        if isinstance(part, shapely.Polygon)
        for ring in (part.exterior, *part.interiors)
    ]
    page.path("".join(path_of(shapely.get_coordinates(r)[:-1], closed=True) for r in rings), "land")


def _ink(page: Page, board: Board, view: View, row_m: Floats, side: float) -> None:
    """The shore line and its hachures, cut to the frame."""
    frame = view.frame
    points = view.to_page(row_m[:, 0], row_m[:, 1])
    cut = shapely.clip_by_rect(
        shapely.LineString(points), frame.left, frame.top, frame.right, frame.bottom
    )
    for piece in shapely.get_parts(cut):
        row = shapely.get_coordinates(piece)
        if len(row) < 2:
            continue
        board.ink(row, 1.5)
        page.rows(row, "coast")
        ends = _hachures(row, side, frame)
        page.path("M%.1f %.1fL%.1f %.1f" * len(ends) % tuple(ends.ravel().tolist()), "hachure")


def _hachures(row: Points, side: float, frame: Box) -> Floats:
    """Feet and tips of short strokes on the land side, shape (stroke, 4)."""
    steps = np.diff(row, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    walked = np.concatenate(([0.0], np.cumsum(lengths)))
    at = np.arange(1.5, walked[-1], 3.4)
    piece = np.clip(np.searchsorted(walked, at, side="right") - 1, 0, len(steps) - 1)
    step = steps[piece] / np.maximum(lengths[piece], 1e-9)[:, None]
    foot = row[piece] + step * (at - walked[piece])[:, None]
    # uneven as by hand, the same every time
    uneven = np.sin(np.arange(len(at)) * 2.399 + 0.7)
    # seen from above with y down, (-dy, dx) is to the right of the walk
    out = np.column_stack((-step[:, 1], step[:, 0])) * side + step * (0.16 * uneven)[:, None]
    tip = foot + out * (4.6 + 1.9 * uneven)[:, None]
    kept = (
        (tip[:, 0] > frame.left)
        & (tip[:, 0] < frame.right)
        & (tip[:, 1] > frame.top)
        & (tip[:, 1] < frame.bottom)
    )
    return np.hstack((foot[kept], tip[kept]))
