"""On the plan: the way in with its called metres, the way out, and marks in line."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from shorefast.drawing.labels import Board, Wish
from shorefast.drawing.marks import turned
from shorefast.drawing.page import Box, Page, Points, Style
from shorefast.drawing.view import View

Place = tuple[float, float]
_SAID = Style("sans", "ink", 9.0)
_NAMED = Style("medium", "ink", 9.0)
_ARROW_PT, _BESIDE_PT = 80.0, 26.0


@dataclass(frozen=True)
class WayMarks:
    """What the sheet of the bay shows besides the lie. Places are metres east and north.

    Attributes
    ----------
    calls : tuple of (place, words)
        Where her bow is at each call, and what is written there.
    start : (place, words) or None
        Where the run astern begins.
    line_in : (place, place, words) or None
        The axis she comes in on, from its outer end.
    way_out : (place, bearing_rad, words) or None
        Where breaking off leads.
    turning : (place, radius_m, words) or None
        Room to turn in.
    transits : tuple of (place, place, words)
        The nearer and the farther mark of each.
    """

    calls: tuple[tuple[Place, str], ...] = ()
    start: tuple[Place, str] | None = None
    line_in: tuple[Place, Place, str] | None = None
    way_out: tuple[Place, float, str] | None = None
    turning: tuple[Place, float, str] | None = None
    transits: tuple[tuple[Place, Place, str], ...] = ()

    @property
    def places(self) -> tuple[Place, ...]:
        """What has to be in the picture."""
        kept = [place for place, _ in self.calls]
        kept += [self.start[0]] if self.start is not None else []
        return tuple(kept)


def draw_way(page: Page, board: Board, view: View, way: WayMarks) -> None:
    """Paint lines and marks; their words come later, once the lie is named."""
    for near, far, _ in way.transits:
        _transit(page, board, view, near, far)
    if way.line_in is not None:
        row = np.array([view.one(*way.line_in[0]), view.one(*way.line_in[1])])
        page.rows(row, "dashed")
        board.ink(row, 2.0)
    if way.turning is not None:
        (place, radius_m, _) = way.turning
        page.ring(view.one(*place), radius_m * view.scale, "dotted")
    for place in _dots(way):
        at = view.one(*place)
        page.ring(at, 2.0, "panel")
        page.ring(at, 2.0, "frame")
        board.take(Box(at[0] - 2.5, at[1] - 2.5, at[0] + 2.5, at[1] + 2.5))
    if way.way_out is not None:
        shaft, head = _arrow(view, way.way_out[0], way.way_out[1])
        page.rows(shaft, "heavy")
        page.rows(head, "solid", closed=True)
        board.take_along(shaft, 3.0)


def name_way(page: Page, board: Board, view: View, way: WayMarks) -> None:
    """Write what each is."""
    if way.way_out is not None:
        shaft, _ = _arrow(view, way.way_out[0], way.way_out[1])
        at = (float(shaft[1, 0]), float(shaft[1, 1]))
        board.set(page, Wish((way.way_out[2],), at, _NAMED, clear_pt=7.0, must=True))
    for place, words in (*way.calls, *([way.start] if way.start is not None else [])):
        board.set(page, Wish((words,), view.one(*place), _SAID, clear_pt=4.0, near=True))
    if way.line_in is not None:
        at = view.one(*way.line_in[0])
        board.set(page, Wish((way.line_in[2],), at, _NAMED, clear_pt=5.0, must=True))
    if way.turning is not None:
        board.set(page, Wish((way.turning[2],), view.one(*way.turning[0]), _SAID, must=True))
    for near, _, words in way.transits:
        board.set(page, Wish((words,), _inside(view, near), _NAMED, clear_pt=5.0, must=True))


def _dots(way: WayMarks) -> Iterator[Place]:
    for place, _ in way.calls:
        yield place
    if way.start is not None:
        yield way.start[0]


def _transit(page: Page, board: Board, view: View, near: Place, far: Place) -> None:
    """A fine line through both marks and on over the water, and a ring at each."""
    row = np.array([view.one(*far), view.one(*near)])
    step = row[1] - row[0]
    away = math.hypot(*step.tolist())
    reach = math.hypot(view.frame.width, view.frame.height)
    on = np.vstack((row, row[1] + step / max(away, 1e-6) * reach))
    page.rows(on, "zone-edge")
    board.ink(on, 1.0)
    for at in row.tolist():
        page.ring((at[0], at[1]), 3.2, "outline")
        board.take(Box(at[0] - 4.0, at[1] - 4.0, at[0] + 4.0, at[1] + 4.0))


def _inside(view: View, place: Place) -> Place:
    """The place, or the nearest in the frame."""
    x, y = view.one(*place)
    frame = view.frame.grown(-8.0)
    return min(max(x, frame.left), frame.right), min(max(y, frame.top), frame.bottom)


def _arrow(view: View, place: Place, bearing_rad: float) -> tuple[Points, Points]:
    """A broad arrow along a bearing: its shaft and its head.

    It stands to the right of the place, so that it lies on no chain leading the same way.
    """
    step = view.bearing_on_page(bearing_rad)
    x, y = view.one(*place)
    start = (x - _BESIDE_PT * step[1] + 20.0 * step[0], y + _BESIDE_PT * step[0] + 20.0 * step[1])
    end = (start[0] + _ARROW_PT * step[0], start[1] + _ARROW_PT * step[1])
    frame = view.frame.grown(-14.0)
    end = min(max(end[0], frame.left), frame.right), min(max(end[1], frame.top), frame.bottom)
    head = np.array([(0.0, 6.0), (4.6, -5.0), (-4.6, -5.0)])
    return np.array([start, end]), turned(head, step, end)
