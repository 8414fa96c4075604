"""A bay as a chart-like plan: north up, depths and their doubt, zones, points ashore."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from shorefast.drawing import marks
from shorefast.drawing.chart_edge import EDGE_PT, draw_edge
from shorefast.drawing.chart_words import datum_words, doubt_words, unknown_share, zone_words
from shorefast.drawing.ground import draw_depth_names, draw_ground, draw_soundings, read_bed
from shorefast.drawing.labels import Board, Wish
from shorefast.drawing.lettering import fitted, rows_of, shortened
from shorefast.drawing.page import Box, Page, Style
from shorefast.drawing.view import View, fitted_view
from shorefast.drawing.zones import draw_zones, name_zones
from shorefast.wording import kilograms, metres

if TYPE_CHECKING:
    from shorefast.bay import Bay, ShorePoint

CONTOURS_M = (0.0, 2.0, 5.0, 10.0, 15.0, 20.0, 30.0, 40.0, 50.0, 75.0, 100.0, 150.0, 200.0, 300.0)
"""Charted depths that get a contour. [m]"""
_SIDES_PT = (841.89, 595.28)
_MARGIN_PT = 26.0
_HEAD_PT = 62.0
_FOOT_ROWS = 6
_FOOT_PT = 84.0
_NORTH_UP_RAD = math.pi
_NAME = Style("medium", "ink", 9.0)
_SAID = Style("sans", "soft", 8.5)
_REMARK = Style("italic", "soft", 8.5)
_FOOT = Style("sans", "ink", 8.0)
_CAUTION = Style("italic", "ink", 8.0)


def chart_page(bay: Bay, cautions: Sequence[str]) -> Page:
    """One A4 page, upright or across as the bay is: the whole box the bed is drawn in.

    Depths are charted depths in metres and lowered tenths, drying heights underlined;
    what nobody has sounded is in short dashes.

    Parameters
    ----------
    bay : Bay
    cautions : sequence of str
        Sentences for the foot, the most needed first.
    """
    corners = _corners(bay)
    wide, high = np.ptp(corners, axis=0)
    page = Page(*(_SIDES_PT if wide >= high else _SIDES_PT[::-1]))
    page.box(Box(0.0, 0.0, page.width_pt, page.height_pt), "paper")
    _head(page, bay)
    frame = Box(
        _MARGIN_PT + EDGE_PT,
        _HEAD_PT + EDGE_PT,
        page.width_pt - _MARGIN_PT - EDGE_PT,
        page.height_pt - _FOOT_PT - EDGE_PT,
    )
    view = fitted_view(corners, _NORTH_UP_RAD, frame, Box(0.0, 0.0, 0.0, 0.0))
    _sea(page, view, bay)
    draw_edge(page, view, bay.frame)
    _foot(page, view, bay, cautions)
    return page


def _corners(bay: Bay) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    """South-west and north-east of all there is to show, shape (2, 2). [m]"""
    grid = bay.surface.grid
    rows, columns = grid.level_m.shape
    places = [(grid.west_m, grid.south_m)]
    places += [(grid.west_m + grid.step_m * (columns - 1), grid.south_m + grid.step_m * (rows - 1))]
    places += [(point.east_m, point.north_m) for point in bay.points]
    seen = np.array(places)
    return np.array([seen.min(axis=0), seen.max(axis=0)])


def _sea(page: Page, view: View, bay: Bay) -> None:
    frame = view.frame
    board = Board(frame.grown(-1.0))
    page.begin("chart", f"Plan of {bay.name}, north at the top", frame)
    bed = read_bed(view, bay.surface, math.nan, CONTOURS_M)
    draw_ground(page, board, view, bay, bed)
    zones = draw_zones(page, board, view, bay)
    for point in bay.points:
        at = view.one(point.east_m, point.north_m)
        marks.point_ashore(page, at, gives=False)
        board.take(Box(at[0] - 3.0, at[1] - 3.0, at[0] + 3.0, at[1] + 3.0))
    _instruments(page, board, view, bare=not bed.known.all())
    for point in bay.points:
        at = view.one(point.east_m, point.north_m)
        board.set(page, Wish(_point_rows(point), at, _NAME, must=True, said=_SAID))
    name_zones(page, board, zones)
    draw_depth_names(page, board, bed)
    draw_soundings(page, board, view, bay, bed)
    page.end()
    page.box(frame, "frame")


def _point_rows(point: ShorePoint) -> tuple[str, str]:
    strong = "" if point.strength_n is None else f", {kilograms(point.strength_n)}"
    return point.name, f"{point.kind}, {metres(point.height_m)} up{strong}"


def _instruments(page: Page, board: Board, view: View, *, bare: bool) -> None:
    box = board.set_in_corner(36.0, 36.0)
    if box is not None:
        middle = ((box.left + box.right) / 2, (box.top + box.bottom) / 2)
        marks.north_arrow(page, middle, view.bearing_on_page(0.0))
    length_m = marks.round_length_m(view.scale, 90.0)
    box = board.set_in_corner(length_m * view.scale + 26.0, 16.0)
    if box is not None:
        marks.scale_bar(page, box, length_m, view.scale)
    said = "Short dashes: not sounded."
    box = board.set_in_corner(_REMARK.width_pt(said), 10.5) if bare else None
    if box is not None:
        page.text(box.left, box.top + 7.0, said, _REMARK)


def _head(page: Page, bay: Bay) -> None:
    page.begin("head", "Which bay, and what its depths count from")
    room = page.width_pt - 2 * _MARGIN_PT
    size = fitted(bay.name, "title", (20.0, 12.0), room)
    name = shortened(bay.name, "title", size, room)
    page.text(_MARGIN_PT, 36.0, name, Style("title", "ink", size))
    said = shortened(datum_words(bay), "sans", 9.5, room)
    page.text(_MARGIN_PT, 52.0, said, Style("sans", "soft", 9.5))
    page.end()


def _foot(page: Page, view: View, bay: Bay, cautions: Sequence[str]) -> None:
    """What the bed is worth at the left, zones and cautions at the right."""
    page.begin("foot", "How well the bed is known, zones and cautions")
    top, gap = page.height_pt - _FOOT_PT + 16.0, 18.0
    half = (page.width_pt - 2 * _MARGIN_PT - gap) / 2
    doubt = rows_of(doubt_words(bay, unknown_share(bay, view)), "sans", 8.0, half)
    page.text_rows(_MARGIN_PT, top, doubt[:_FOOT_ROWS], _FOOT)
    right = _MARGIN_PT + half + gap
    zones = _whole([zone_words(zone) for zone in bay.zones], "sans", half, _FOOT_ROWS - 2)
    base = page.text_rows(right, top, zones, _FOOT)
    said = _whole(list(cautions), "italic", half, _FOOT_ROWS - len(zones))
    page.text_rows(right, base, said, _CAUTION)
    page.end()


def _whole(sentences: Sequence[str], face: str, room_pt: float, most: int) -> list[str]:
    """Rows of as many whole sentences as there is room for; how many more there are.

    Where not even the first one has room it is shortened, so that it is not lost unsaid.
    """
    rows: list[str] = []
    for kept in range(len(sentences), 0, -1):
        left = len(sentences) - kept
        more = [f"And {left} more."] if left else []
        rows = rows_of(" ".join([*sentences[:kept], *more]), face, 8.0, room_pt)
        if len(rows) <= most:
            return rows
    more = [f"And {len(sentences) - 1} more."] if len(sentences) > 1 else []
    room = most - len(more)
    if not sentences or room < 1:
        return more
    first = shortened(sentences[0], face, 8.0, 0.9 * room * room_pt)
    return rows_of(first, face, 8.0, room_pt)[:room] + more
