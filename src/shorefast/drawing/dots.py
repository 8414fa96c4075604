"""Lines and letters on a terminal: eight dots a character, letters over them."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from shorefast.drawing.page import Points

_EMPTY = 0x2800
# the bit of each dot of a character by its row and column in it
_BITS = np.array([[0x01, 0x08], [0x02, 0x10], [0x04, 0x20], [0x40, 0x80]])
DOTS_WIDE, DOTS_HIGH = 2, 4


class Dots:
    """A field of dots, ``columns`` by ``rows`` characters; x to the right, y down, in dots."""

    def __init__(self, columns: int, rows: int) -> None:
        self.columns, self.rows = columns, rows
        self._dot = np.zeros((rows * DOTS_HIGH, columns * DOTS_WIDE), bool)
        self._letters: dict[tuple[int, int], str] = {}

    def spots(self, points: Points) -> None:
        """Set single dots, shape (point, 2); those outside are left out."""
        cells = np.floor(np.asarray(points, float) + 1e-9).astype(np.int64).reshape(-1, 2)
        high, wide = self._dot.shape
        inside = (cells >= 0).all(axis=1) & (cells < (wide, high)).all(axis=1)
        self._dot[cells[inside, 1], cells[inside, 0]] = True

    def line(self, points: Points, every: int = 1, *, closed: bool = False) -> None:
        """Set the dots along a row of points, shape (point, 2); each ``every``-th of them."""
        row = np.asarray(points, float).reshape(-1, 2)
        if closed:
            row = np.vstack((row, row[:1]))
        if len(row) < 2:
            return
        self.spots(_walked(row)[::every])

    def letter(self, at: tuple[float, float], sign: str) -> None:
        """Set a letter over the dots; the first one set at a place stays."""
        cell = int(at[1] // DOTS_HIGH), int(at[0] // DOTS_WIDE)
        if 0 <= cell[0] < self.rows and 0 <= cell[1] < self.columns:
            self._letters.setdefault(cell, sign)

    def said(self) -> list[str]:
        """The field as rows of text."""
        cells = self._dot.reshape(self.rows, DOTS_HIGH, self.columns, DOTS_WIDE)
        code = _EMPTY + np.einsum("rhcw,hw->rc", cells.astype(np.int64), _BITS)
        text = [[chr(sign) if sign != _EMPTY else " " for sign in row] for row in code.tolist()]
        for (row, column), sign in self._letters.items():
            text[row][column] = sign
        return ["".join(row) for row in text]


def _walked(row: Points) -> NDArray[np.float64]:
    """Places along a row of points, about a dot apart."""
    parts = []
    for a, b in pairwise(row):
        steps = max(1, int(np.ceil(np.abs(b - a).max())))
        if steps > 4000:
            continue
        share = np.linspace(0.0, 1.0, steps, endpoint=False)[:, None]
        parts.append(a + share * (b - a))
    parts.append(row[-1:])
    return np.vstack(parts)
