"""Sea bed and land under the plan: tints, contours, shore, soundings thinned."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from contourpy import ContourGenerator, FillType, LineType, contour_generator
from numpy.typing import NDArray

from shorefast.drawing.coast import draw_coast, draw_land_beyond
from shorefast.drawing.labels import Board, Wish
from shorefast.drawing.page import Box, Page, Points, Style, path_of
from shorefast.drawing.view import View

if TYPE_CHECKING:
    from shorefast.bay import Bay, DepthSurface

Floats = NDArray[np.float64]

CONTOURS_M = (0.0, 2.0, 5.0, 10.0, 15.0, 20.0, 30.0, 40.0)
"""Charted depths that get a contour. [m]"""
_GRID_PT = 4.0
_SOUNDING = Style("sans", "soft", 9.2)
_TENTH = Style("sans", "soft", 8.0)
_WATER = Style("italic", "soft", 8.5)


@dataclass(frozen=True)
class Bed:
    """The bed under the plan, read once: levels on an even grid of the page.

    Attributes
    ----------
    known : bool array, shape (row, column)
        False where nobody has sounded.
    contours : ContourGenerator or None
        Of charted depth over the page; None where nothing is known at all.
    lines : mapping
        Charted depth to its contour's rows of points on the page. [m, pt]
    high_water_m : float
        Highest level of the stay. [m]
    """

    known: NDArray[np.bool_]
    contours: ContourGenerator | None
    lines: Mapping[float, list[Points]]
    high_water_m: float


def read_bed(
    view: View,
    surface: DepthSurface,
    high_water_m: float,
    contours_m: tuple[float, ...] = CONTOURS_M,
) -> Bed:
    """Read the bed's level all over the frame, every four points.

    Parameters
    ----------
    high_water_m : float
        Highest level of the stay; NaN: unknown, then 6 m above datum is taken as dry.
    contours_m : tuple of float
        Charted depths that get a contour, from 0 down. [m]
    """
    frame = view.frame
    x = np.linspace(frame.left, frame.right, round(frame.width / _GRID_PT) + 1)
    y = np.linspace(frame.top, frame.bottom, round(frame.height / _GRID_PT) + 1)
    east, north = view.from_page(np.stack(np.meshgrid(x, y), axis=-1))
    level = np.asarray(surface.level_at(east, north), float)
    known = np.isfinite(level)
    contours = None
    lines: dict[float, list[Points]] = {}
    if known.any():
        depth = -level if known.all() else np.ma.masked_invalid(-level)
        contours = contour_generator(
            x, y, depth, name="serial", line_type=LineType.Separate, fill_type=FillType.OuterOffset
        )
        lines = {depth_m: _long_rows(contours.lines(depth_m)) for depth_m in contours_m}
    high_m = high_water_m if math.isfinite(high_water_m) else 6.0
    return Bed(known, contours, lines, max(high_m, 0.0))


def _long_rows(rows: Any) -> list[Points]:
    return [row for row in rows if len(row) > 2]


def draw_ground(page: Page, board: Board, view: View, bay: Bay, bed: Bed) -> None:
    """Paint bed and land over the whole frame; note their lines on the board.

    Bed above high water is painted as land only where the bay has no land of its own.
    """
    page.box(view.frame, "panel")
    if not bed.known.all():
        draw_land_beyond(page, view, bay)
        page.box(view.frame, "bare")
    if bed.contours is not None:
        _tints(page, bed.contours, bay.land is None, bed.high_water_m)
        _contours(page, board, bed)
    draw_coast(page, board, view, bay)


def draw_soundings(page: Page, board: Board, view: View, bay: Bay, bed: Bed) -> None:
    """Soundings thinned so that none touches anything, the shallow ones kept."""
    soundings = bay.soundings
    wet = np.asarray(soundings.level_m) < bed.high_water_m
    if not wet.any():
        return
    places = view.to_page(soundings.east_m[wet], soundings.north_m[wet])
    depth = -soundings.level_m[wet]
    seen = _inside(places, view.frame.grown(-8.0))
    places, depth = places[seen], depth[seen]
    if bay.land is not None:
        shapely.prepare(bay.land)
        dry = shapely.contains_xy(bay.land, *view.from_page(places))
        places, depth = places[~dry], depth[~dry]
    if not depth.size:
        return
    order = _thinned(places, depth, view.frame)
    for index in board.spread_out(places[order], (7.0, 5.0)):
        at = order[index]
        _sounding(page, float(places[at, 0]), float(places[at, 1]), float(depth[at]))


def draw_depth_names(page: Page, board: Board, bed: Bed) -> None:
    """The depth written once on the longest stretch of each contour."""
    for depth_m, rows in bed.lines.items():
        if not rows or depth_m <= 0.0:
            continue
        longest = max(rows, key=len)
        for share in (0.5, 0.25, 0.75, 0.1, 0.9):
            x, y = longest[int(share * (len(longest) - 1))].tolist()
            wish = Wish((f"{depth_m:.0f} m",), (x, y), _WATER, clear_pt=1.5, near=True)
            if board.set(page, wish) is not None:
                break


def _tints(page: Page, contours: ContourGenerator, no_land: bool, high_m: float) -> None:
    bands = [(-1e4, 1e4, "panel"), (0.0, 2.0, "water0"), (2.0, 5.0, "water1")]
    bands += [(5.0, 10.0, "water2"), (10.0, 15.0, "water3"), (-1e4, 0.0, "dries")]
    bands += [(-1e4, -high_m, "land")] if no_land else []
    for shallow, deep, kind in bands:
        page.path(_filled(*contours.filled(shallow, deep)), kind)


def _filled(polygons: list[Points], offsets: list[NDArray[np.uint32]]) -> str:
    rings = [
        path_of(polygon[first:last], closed=True)
        for polygon, offset in zip(polygons, offsets, strict=True)
        for first, last in zip(offset[:-1].tolist(), offset[1:].tolist(), strict=True)
    ]
    return "".join(rings)


def _contours(page: Page, board: Board, bed: Bed) -> None:
    for depth_m, rows in bed.lines.items():
        if rows:
            between = [(row[1:] + row[:-1]) / 2 for row in rows]
            board.ink_spots(np.concatenate((*rows, *between)), 0.6)
        page.path("".join(map(path_of, rows)), "datum" if depth_m == 0.0 else "contour")


def _inside(places: Points, frame: Box) -> NDArray[np.bool_]:
    inside: NDArray[np.bool_] = (
        (places[:, 0] > frame.left)
        & (places[:, 0] < frame.right)
        & (places[:, 1] > frame.top)
        & (places[:, 1] < frame.bottom)
    )
    return inside


def _thinned(places: Points, depth: Floats, frame: Box) -> NDArray[np.int64]:
    """The shallowest sounding of every small square of the page, the shallow ones first."""
    cell = 22.0
    column = ((places[:, 0] - frame.left) // cell).astype(np.int64)
    row = ((places[:, 1] - frame.top) // cell).astype(np.int64)
    order = np.lexsort((depth, row, column))
    square = column[order] * 10_000 + row[order]
    first = np.concatenate(([True], square[1:] != square[:-1]))
    kept = order[first]
    return kept[np.argsort(depth[kept], kind="stable")]


def _sounding(page: Page, x: float, y: float, depth_m: float) -> None:
    """Whole metres with tenths lowered; a drying height is underlined, as on the chart."""
    whole, tenth = divmod(math.floor(abs(depth_m) * 10 + 1e-6), 10)
    shown, lowered = str(whole), "" if whole >= 15 else str(tenth)
    wide = _SOUNDING.width_pt(shown)
    left = x - (wide + _TENTH.width_pt(lowered)) / 2
    base = y + 2.2
    page.text(left, base, shown, _SOUNDING)
    if lowered:
        page.text(left + wide, base + 2.4, lowered, _TENTH)
    if depth_m < 0.0:
        page.line((left, base + 1.5), (left + wide - 0.4, base + 1.5), "hair")
