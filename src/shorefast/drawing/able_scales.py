"""Scales of a drawn table: depth across, something up, ticks and curves with their names."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.drawing.labels import Board, Wish
from shorefast.drawing.page import Box, Page, Points, Style

Floats = NDArray[np.float64]
_TICK = Style("sans", "ink", 8.0, "middle")
_TICK_LEFT = Style("sans", "ink", 8.0, "end")
_TICK_RIGHT = Style("sans", "ink", 8.0, "start")
_NAME = Style("medium", "ink", 9.0)
_LEAST_APART_PT = 11.0


@dataclass(frozen=True)
class Scales:
    """What stands across and up a frame: from nought to the most."""

    frame: Box
    most_across: float
    most_up: float

    def x(self, across: float) -> float:
        """Where a value across stands. [pt]"""
        return self.frame.left + across / self.most_across * self.frame.width

    def y(self, up: float) -> float:
        """Where a value up stands. [pt]"""
        return self.frame.bottom - up / self.most_up * self.frame.height

    def to_page(self, across: Floats, up: Floats) -> Points:
        """Places of a row of values, shape (point, 2). [pt]"""
        share = np.column_stack((across / self.most_across, up / self.most_up))
        corner = np.array((self.frame.left, self.frame.bottom))
        return np.asarray(corner + share * (self.frame.width, -self.frame.height))


def ticks_across(page: Page, scales: Scales, values: Iterable[float]) -> None:
    """Fine rules up the frame with their values under it."""
    frame = scales.frame
    for value in values:
        x = scales.x(value)
        if frame.left < x < frame.right:
            page.line((x, frame.top), (x, frame.bottom), "faint-line")
        page.text(x, frame.bottom + 9.0, f"{value:g}", _TICK)


def ticks_up(page: Page, scales: Scales, values: Iterable[float], ruled: bool = True) -> None:
    """Fine rules across the frame with their values at its left."""
    frame = scales.frame
    for value in values:
        y = scales.y(value)
        if ruled and frame.top < y < frame.bottom:
            page.line((frame.left, y), (frame.right, y), "faint-line")
        page.text(frame.left - 4.0, y + 2.6, f"{value:g}", _TICK_LEFT)


def ticks_beside(
    page: Page, x: float, places: Sequence[tuple[float, float]], *, left: bool = False
) -> None:
    """A second scale at ``x``: (value, y on the page); what comes too near is left out."""
    set_at: list[float] = []
    side = -1.0 if left else 1.0
    for value, y in places:
        if all(abs(y - other) >= _LEAST_APART_PT for other in set_at):
            page.line((x, y), (x + side * 3.0, y), "frame")
            style = _TICK_LEFT if left else _TICK_RIGHT
            page.text(x + side * 5.0, y + 2.6, f"{value:g}", style)
            set_at.append(y)


@dataclass(frozen=True)
class Curve:
    """A curve on the page with its name.

    pieces : (points, class), the ones that name it best first
    """

    name: str
    pieces: tuple[tuple[Points, str], ...]

    @property
    def points(self) -> Points:
        """All its points, shape (point, 2)."""
        return np.vstack([piece for piece, _ in self.pieces])


def draw_curves(page: Page, board: Board, frame: Box, curves: Sequence[Curve]) -> None:
    """Paint curves, then name each where it is farthest from the others."""
    for curve in curves:
        for points, kind in curve.pieces:
            page.rows(points, kind)
            board.ink(points, 3.0)
    for number, curve in enumerate(curves):
        others = [one.points for k, one in enumerate(curves) if k != number]
        lonely = (_loneliest(points, others, frame) for points, _ in curve.pieces)
        at = next((place for place in lonely if place is not None), None)
        if at is not None:
            board.set(page, Wish((curve.name,), at, _NAME, clear_pt=2.5, must=True, backed=True))


def _loneliest(points: Points, others: Sequence[Points], frame: Box) -> tuple[float, float] | None:
    """The point of a curve inside a frame that is farthest from all others."""
    inner = frame.grown(-9.0)
    inside = (points >= (inner.left, inner.top)).all(axis=1)
    inside &= (points <= (inner.right, inner.bottom)).all(axis=1)
    spots = points[inside]
    if not len(spots):
        return None
    if not others:
        return float(spots[-1, 0]), float(spots[-1, 1])
    crowd = np.vstack(others)
    apart = np.hypot(*(spots[:, None, :] - crowd[None]).transpose(2, 0, 1)).min(axis=1)
    x, y = spots[int(apart.argmax())].tolist()
    return x, y
