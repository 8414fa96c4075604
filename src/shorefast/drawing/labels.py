"""Placing labels: none on another, none out of its frame, and off the ink where there is room.

A board is a fine raster over one panel. Paper that must stay clear (labels, the hull,
marks) and paper with lines on it are both noted there, the one as forbidden, the other
as so much ink; a label goes where it is free and the least ink lies underneath.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from shorefast.drawing.lettering import ASCENT, DESCENT
from shorefast.drawing.page import Box, Page, Points, Style

_CELL_PT = 2.0
_FORBIDDEN = 1e6
_TURNS = tuple(
    (math.cos(math.radians(turn)), math.sin(math.radians(turn)))
    for turn in (0, 180, 25, 155, -25, -155, 60, 120, -60, -120, 90, -90)
)
_REACHES_PT = (0.0, 6.0, 13.0, 22.0, 34.0, 50.0, 70.0, 95.0, 125.0)
_DEAR = 0.15 * len(_TURNS)

Place = tuple[float, float, float, float, float]
"""Left, top, right, bottom and what it costs beside the ink under it."""


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
    backed : bool
        Whether it gets plain paper under it where there is ink.
    near : bool
        Whether it is better left out than set far off.
    said : Style or None
        How the last row is set, where not as the others.
    """

    rows: tuple[str, ...]
    at: tuple[float, float]
    style: Style
    clear_pt: float = 4.0
    must: bool = False
    backed: bool = False
    near: bool = False
    said: Style | None = None


class Board:
    """The labels of one panel."""

    def __init__(self, frame: Box) -> None:
        self.frame = frame
        high = math.ceil(frame.height / _CELL_PT) + 1
        wide = math.ceil(frame.width / _CELL_PT) + 1
        self._ink = np.zeros((high, wide))

    def take(self, box: Box, margin_pt: float = 0.4) -> None:
        """Keep a box clear of labels from now on."""
        grown = box.grown(margin_pt)
        self._cells(grown.left, grown.top, grown.right, grown.bottom)[...] = _FORBIDDEN

    def take_along(self, points: Points, half_pt: float) -> None:
        """Keep clear a band along a row of points, shape (point, 2)."""
        for x, y in _walked(points, max(half_pt, 1.0)).tolist():
            self.take(Box(x - half_pt, y - half_pt, x + half_pt, y + half_pt), 0.0)

    def take_inside(self, ring: Points, margin_pt: float = 0.0) -> None:
        """Keep clear what a ring of points encloses, shape (point, 2), and a margin round it."""
        # a cell's corner is 0.71 of its side from the middle that is asked
        area = shapely.Polygon(ring).buffer(max(margin_pt, 0.75 * _CELL_PT), quad_segs=2)
        shapely.prepare(area)
        left, top, right, bottom = area.bounds
        under = self._cells(left, top, right, bottom)
        x = _middles(left, self.frame.left, under.shape[1])
        y = _middles(top, self.frame.top, under.shape[0])
        under[shapely.contains_xy(area, *np.meshgrid(x, y))] = _FORBIDDEN

    def ink(self, points: Points, weight: float = 1.0) -> None:
        """Note a line that labels had better not cover, shape (point, 2)."""
        self.ink_spots(_walked(points, _CELL_PT), weight)

    def ink_spots(self, points: Points, weight: float = 1.0) -> None:
        """Note single spots that labels had better not cover, shape (point, 2)."""
        steps = points - (self.frame.left, self.frame.top)
        cells = np.floor(steps / _CELL_PT).astype(np.int64)
        high, wide = self._ink.shape
        inside = (cells >= 0).all(axis=1) & (cells < (wide, high)).all(axis=1)
        columns, rows = cells[inside].T
        self._ink[rows, columns] = np.maximum(self._ink[rows, columns], weight)

    def free(self, box: Box) -> bool:
        """Whether a box lies in the frame and touches nothing kept clear."""
        return self.frame.holds(box) and self.under(box) < _FORBIDDEN

    def under(self, box: Box) -> float:
        """How much ink a box would cover."""
        return self._sum(box.left, box.top, box.right, box.bottom)

    def best(self, places: Iterable[Place]) -> Box | None:
        """The free place with the least cost, its own and the ink under it."""
        frame = self.frame
        least = _FORBIDDEN
        found: Place | None = None
        for place in places:
            left, top, right, bottom, cost = place
            if cost >= least:
                if cost >= least + _DEAR:
                    break
                continue
            if (
                left >= frame.left
                and top >= frame.top
                and right <= frame.right
                and bottom <= frame.bottom
            ):
                total = cost + self._sum(left, top, right, bottom)
                if total < least:
                    least, found = total, place
        return None if found is None else Box(*found[:4])

    def set(self, page: Page, wish: Wish) -> Box | None:
        """Set a label near its mark if a place is found, and keep its paper clear."""
        last = wish.said or wish.style
        wide = max(last.width_pt(wish.rows[-1]), *map(wish.style.width_pt, wish.rows))
        high = (1.16 * (len(wish.rows) - 1) + ASCENT + DESCENT) * wish.style.size_pt
        reaches = _REACHES_PT if wish.must else _REACHES_PT[: 2 if wish.near else 5]
        box = self.best(_around(wish, wide, high, reaches))
        if box is None and wish.must:
            box = self.best(_everywhere(self.frame, wish, wide, high))
        if box is not None:
            self._letter(page, wish, box)
        return box

    def set_one(self, page: Page, words: str, style: Style, baselines: Iterable[Points]) -> None:
        """Set words starting at the best of some baselines (x, y), the dear ones last."""
        wide = style.width_pt(words)
        up, down = ASCENT * style.size_pt, DESCENT * style.size_pt
        places = (
            (float(x), float(y) - up, float(x) + wide, float(y) + down, 0.4 * order)
            for order, (x, y) in enumerate(baselines)
        )
        box = self.best(places)
        if box is not None:
            start = Style(style.face, style.colour, style.size_pt)
            self.take(page.text(box.left, box.top + up, words, start))

    def set_in_corner(self, wide_pt: float, high_pt: float) -> Box | None:
        """A place for something of a size, in the corner with least under it."""
        frame = self.frame.grown(-5.0)
        lefts = (frame.left, frame.right - wide_pt, (frame.left + frame.right - wide_pt) / 2)
        tops = (frame.bottom - high_pt, frame.top)
        box = self.best(
            (x, y, x + wide_pt, y + high_pt, 1.7 * (3 * row + column))
            for row, y in enumerate(tops)
            for column, x in enumerate(lefts)
        )
        if box is not None:
            self.take(box)
        return box

    def spread_out(self, middles: Points, half: tuple[float, float]) -> list[int]:
        """Which of many equal boxes can be set, taken in their order, none touching anything.

        Parameters
        ----------
        middles : array, shape (box, 2)
            First come, first set. [pt]
        half : (width, height)
            Half the size of each. [pt]
        """
        kept = []
        for index, (x, y) in enumerate(middles.tolist()):
            box = (x - half[0], y - half[1], x + half[0], y + half[1])
            cells = self._cells(*box)
            if not cells.any() and self.frame.holds(Box(*box)):
                self.take(Box(*box), 2.0)
                kept.append(index)
        return kept

    def _letter(self, page: Page, wish: Wish, box: Box) -> None:
        if wish.backed and self.under(box) > 0.0:
            page.box(box.grown(1.0), "back")
        self.take(box)
        near = (
            min(max(wish.at[0], box.left), box.right),
            min(max(wish.at[1], box.top), box.bottom),
        )
        if math.dist(near, wish.at) > wish.clear_pt + 9.0:
            page.line(_toward(wish.at, near, wish.clear_pt), near, "lead")
        lean = "end" if box.right <= wish.at[0] else "start"
        lean = "middle" if box.left < wish.at[0] < box.right else lean
        x = {"start": box.left, "middle": (box.left + box.right) / 2, "end": box.right}[lean]
        style = Style(wish.style.face, wish.style.colour, wish.style.size_pt, lean)
        plain = wish.rows if wish.said is None else wish.rows[:-1]
        base = page.text_rows(x, box.top + ASCENT * style.size_pt, plain, style)
        if wish.said is not None:
            said = Style(wish.said.face, wish.said.colour, wish.said.size_pt, lean)
            page.text(x, base, wish.rows[-1], said)

    def _sum(self, left: float, top: float, right: float, bottom: float) -> float:
        return float(np.add.reduce(self._cells(left, top, right, bottom), axis=None))

    def _cells(self, left: float, top: float, right: float, bottom: float) -> NDArray[np.float64]:
        """The raster under a box, every cell it touches."""
        x, y = self.frame.left, self.frame.top
        first_row, first_column = int((top - y) / _CELL_PT), int((left - x) / _CELL_PT)
        rows, columns = int((bottom - y) / _CELL_PT) + 1, int((right - x) / _CELL_PT) + 1
        return self._ink[
            first_row if first_row > 0 else 0 : rows if rows > 0 else 0,
            first_column if first_column > 0 else 0 : columns if columns > 0 else 0,
        ]


def _middles(first: float, edge: float, count: int) -> NDArray[np.float64]:
    """Middles of so many cells from the one a place is in, a frame's edge being given. [pt]"""
    cells = max(int((first - edge) / _CELL_PT), 0) + np.arange(count)
    return np.asarray(edge + _CELL_PT * (cells + 0.5))


def _around(wish: Wish, wide: float, high: float, reaches: Sequence[float]) -> Iterable[Place]:
    """Places round a mark, the near ones first."""
    x, y = wish.at
    for reach in reaches:
        far = wish.clear_pt + reach
        for order, (across, down) in enumerate(_TURNS):
            left = x + far * across + 0.5 * (across - 1.0) * wide
            top = y + far * down + 0.5 * (down - 1.0) * high
            yield left, top, left + wide, top + high, 0.5 * reach + 0.15 * order


def _everywhere(frame: Box, wish: Wish, wide: float, high: float) -> list[Place]:
    """Places all over the frame, dearer the farther they are from the mark."""
    inner = frame.grown(-2.0)
    tops = np.arange(inner.top, max(inner.bottom - high, inner.top) + 0.1, 4.0).tolist()
    lefts = np.arange(inner.left, max(inner.right - wide, inner.left) + 0.1, 8.0).tolist()
    places = [
        (left, top, left + wide, top + high,
         30.0 + 0.5 * math.dist((left + wide / 2, top + high / 2), wish.at))
        for top in tops
        for left in lefts
    ]  # fmt: skip
    return sorted(places, key=lambda place: place[4])


def _toward(start: tuple[float, float], end: tuple[float, float], by: float) -> tuple[float, float]:
    away = math.dist(start, end)
    share = by / away if away > by else 0.0
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def _walked(points: Points, step_pt: float) -> Points:
    """A row of points filled up so that no two neighbours are more than a step apart."""
    if len(points) < 2:
        return points
    steps = np.diff(points, axis=0)
    walked = np.concatenate(([0.0], np.cumsum(np.hypot(steps[:, 0], steps[:, 1]))))
    count = max(2, min(4000, int(walked[-1] / step_pt) + 2))
    at = np.linspace(0.0, walked[-1], count)
    return np.column_stack([np.interp(at, walked, points[:, axis]) for axis in (0, 1)])
