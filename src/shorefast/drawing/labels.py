"""Placing labels: none on another, none out of its frame, and off the ink where there is room.

A board covers one panel. What must stay clear (labels, the hull, marks) is kept as
boxes; lines and contours are kept as ink on a fine raster, and a label goes where the
least of it lies underneath.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.drawing.lettering import ASCENT, DESCENT
from shorefast.drawing.page import Box, Page, Points, Style

_CELL_PT = 2.0
_GAP_PT = 1.2
_TURNS = tuple(math.radians(a) for a in (0, 180, 25, 155, -25, -155, 60, 120, -60, -120, 90, -90))
_REACHES_PT = (0.0, 6.0, 13.0, 22.0, 34.0, 50.0, 70.0, 95.0, 125.0)


@dataclass(frozen=True)
class Wish:
    """A label that wants a place near a mark.

    Attributes
    ----------
    rows : tuple of str
        One text, broken as it is to stand.
    at : (x, y)
        The mark it belongs to. [pt]
    clear_pt : float
        How far it stays from the mark at least.
    must : bool
        Whether it has to be set somewhere; with a fine lead to its mark if far off.
    """

    rows: tuple[str, ...]
    at: tuple[float, float]
    style: Style
    clear_pt: float = 4.0
    must: bool = False


class Board:
    """The labels of one panel."""

    def __init__(self, frame: Box) -> None:
        self.frame = frame
        self._taken = np.empty((0, 4))
        high = math.ceil(frame.height / _CELL_PT) + 1
        wide = math.ceil(frame.width / _CELL_PT) + 1
        self._ink = np.zeros((high, wide))

    def take(self, box: Box, margin_pt: float = _GAP_PT) -> None:
        """Keep a box clear of labels from now on."""
        grown = box.grown(margin_pt)
        row = np.array([[grown.left, grown.top, grown.right, grown.bottom]])
        self._taken = np.concatenate((self._taken, row))

    def take_along(self, points: Points, half_pt: float) -> None:
        """Keep clear a band along a row of points, shape (point, 2)."""
        walked = _walked(points, max(half_pt, 1.0))
        self._taken = np.concatenate(
            (self._taken, np.hstack((walked - half_pt, walked + half_pt)))
        )

    def ink(self, points: Points, weight: float = 1.0) -> None:
        """Note a line that labels had better not cover, shape (point, 2)."""
        walked = _walked(points, _CELL_PT)
        rows, columns = self._cells(walked)
        inside = (
            (rows >= 0)
            & (rows < self._ink.shape[0])
            & (columns >= 0)
            & (columns < self._ink.shape[1])
        )
        np.maximum.at(self._ink, (rows[inside], columns[inside]), weight)

    def free(self, box: Box) -> bool:
        """Whether a box lies in the frame and touches nothing kept clear."""
        if not self.frame.holds(box):
            return False
        taken = self._taken
        return not bool(
            np.any(
                (taken[:, 0] < box.right)
                & (taken[:, 2] > box.left)
                & (taken[:, 1] < box.bottom)
                & (taken[:, 3] > box.top)
            )
        )

    def under(self, box: Box) -> float:
        """How much ink a box would cover."""
        top, left = self._cell(box.left, box.top)
        bottom, right = self._cell(box.right, box.bottom)
        return float(self._ink[max(top, 0) : bottom + 1, max(left, 0) : right + 1].sum())

    def best(self, boxes: Iterable[tuple[Box, float]]) -> Box | None:
        """The free box with the least cost: its own and the ink under it."""
        found: tuple[float, Box] | None = None
        for box, cost in boxes:
            if found is not None and cost >= found[0]:
                continue
            if self.free(box):
                total = cost + self.under(box)
                if found is None or total < found[0]:
                    found = (total, box)
        return None if found is None else found[1]

    def set(self, page: Page, wish: Wish) -> Box | None:
        """Set a label near its mark if a place is found, and keep its paper clear."""
        wide = max(wish.style.width_pt(row) for row in wish.rows)
        high = _high(len(wish.rows), wish.style)
        reaches = _REACHES_PT if wish.must else _REACHES_PT[:4]
        box = self.best(_around(wish, wide, high, reaches))
        if box is None and wish.must:
            box = self.best(_everywhere(self.frame, wish, wide, high))
        if box is None:
            return None
        self._letter(page, wish, box)
        return box

    def set_in_corner(self, wide_pt: float, high_pt: float) -> Box | None:
        """A place for something of a size, in the corner with least under it."""
        frame = self.frame.grown(-5.0)
        lefts = (frame.left, frame.right - wide_pt, (frame.left + frame.right - wide_pt) / 2)
        tops = (frame.bottom - high_pt, frame.top)
        corners = (
            (Box(x, y, x + wide_pt, y + high_pt), 2.0 * n)
            for n, (y, x) in enumerate((y, x) for y in tops for x in lefts)
        )
        box = self.best(corners)
        if box is not None:
            self.take(box)
        return box

    def _letter(self, page: Page, wish: Wish, box: Box) -> None:
        self.take(box)
        near = (
            min(max(wish.at[0], box.left), box.right),
            min(max(wish.at[1], box.top), box.bottom),
        )
        away = math.dist(near, wish.at)
        if away > wish.clear_pt + 9.0:
            page.line(_toward(wish.at, near, wish.clear_pt), near, "lead")
        lean = "end" if box.right <= wish.at[0] else "start"
        lean = "middle" if box.left < wish.at[0] < box.right else lean
        x = {"start": box.left, "middle": (box.left + box.right) / 2, "end": box.right}[lean]
        style = Style(wish.style.face, wish.style.colour, wish.style.size_pt, lean)
        page.text_rows(x, box.top + ASCENT * style.size_pt, wish.rows, style)

    def _cells(self, points: Points) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        columns = np.floor((points[:, 0] - self.frame.left) / _CELL_PT).astype(np.int64)
        rows = np.floor((points[:, 1] - self.frame.top) / _CELL_PT).astype(np.int64)
        return rows, columns

    def _cell(self, x: float, y: float) -> tuple[int, int]:
        return int((y - self.frame.top) // _CELL_PT), int((x - self.frame.left) // _CELL_PT)


def spread_out(board: Board, centres: Points, half: tuple[float, float]) -> list[int]:
    """Which of many equal boxes can be set, taken in their order, none touching anything.

    Parameters
    ----------
    board : Board
        Boxes that are set are kept clear from then on.
    centres : array, shape (box, 2)
        First come, first set. [pt]
    half : (width, height)
        Half the size of each. [pt]
    """
    kept = []
    for index, (x, y) in enumerate(centres.tolist()):
        box = Box(x - half[0], y - half[1], x + half[0], y + half[1])
        if board.free(box) and board.under(box.grown(0.5)) <= 0.0:
            board.take(box, 3.0)
            kept.append(index)
    return kept


def _high(rows: int, style: Style) -> float:
    return (1.16 * (rows - 1) + ASCENT + DESCENT) * style.size_pt


def _around(
    wish: Wish, wide: float, high: float, reaches: Sequence[float]
) -> Iterable[tuple[Box, float]]:
    """Boxes round a mark, the near ones first."""
    x, y = wish.at
    for reach in reaches:
        for order, turn in enumerate(_TURNS):
            away_x = (wish.clear_pt + reach) * math.cos(turn)
            away_y = (wish.clear_pt + reach) * math.sin(turn)
            left = x + away_x + (0.5 * (math.cos(turn) - 1.0)) * wide
            top = y + away_y + (0.5 * (math.sin(turn) - 1.0)) * high
            yield Box(left, top, left + wide, top + high), 0.5 * reach + 0.15 * order


def _everywhere(
    frame: Box, wish: Wish, wide: float, high: float
) -> Iterable[tuple[Box, float]]:
    """Boxes all over the frame, dearer the farther they are from the mark."""
    inner = frame.grown(-2.0)
    for top in np.arange(inner.top, max(inner.bottom - high, inner.top) + 0.1, 4.0).tolist():
        for left in np.arange(inner.left, max(inner.right - wide, inner.left) + 0.1, 8.0).tolist():
            middle = (left + wide / 2, top + high / 2)
            box = Box(left, top, left + wide, top + high)
            yield box, 30.0 + 0.5 * math.dist(middle, wish.at)


def _toward(start: tuple[float, float], end: tuple[float, float], by: float) -> tuple[float, float]:
    away = math.dist(start, end)
    share = by / away if away > by else 0.0
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def _walked(points: Points, step_pt: float) -> Points:
    """A row of points filled up so that no two neighbours are more than a step apart."""
    if len(points) < 2:
        return points
    lengths = np.hypot(*np.diff(points, axis=0).T)
    walked = np.concatenate(([0.0], np.cumsum(lengths)))
    count = max(2, min(4000, int(walked[-1] / step_pt) + 2))
    at = np.linspace(0.0, walked[-1], count)
    return np.column_stack([np.interp(at, walked, points[:, axis]) for axis in (0, 1)])
