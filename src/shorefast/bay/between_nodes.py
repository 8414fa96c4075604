"""Depth between the nodes of somebody's grid, and how far it may be out.

Straight lines between four nodes; the doubt grows with how wrongly the grid would
guess its own nodes were each left out, so with spacing and roughness together.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

AT_NODE_SHARE = 0.35
BETWEEN_SHARE = 0.45
LEAST_M = 0.05
WINDOW = 5


def _shifted(level_m: Floats, rows: int, columns: int) -> Floats:
    out = np.full(level_m.shape, np.nan)
    height, width = level_m.shape
    into = slice(max(rows, 0), height + min(rows, 0))
    out_of = slice(max(-rows, 0), height + min(-rows, 0))
    into_columns = slice(max(columns, 0), width + min(columns, 0))
    out_of_columns = slice(max(-columns, 0), width + min(-columns, 0))
    out[into, into_columns] = level_m[out_of, out_of_columns]
    return out


def _mean_known(parts: list[Floats]) -> Floats:
    stack = np.stack(parts)
    known = np.isfinite(stack)
    count = known.sum(axis=0)
    total = np.where(known, stack, 0.0).sum(axis=0)
    return np.where(count > 0, total / np.maximum(count, 1), np.nan)


def _box_mean(values: Floats, window: int) -> Floats:
    """Mean over a window of those that are known."""
    from_node = range(-(window // 2), window // 2 + 1)
    down = _mean_known([_shifted(values, step, 0) for step in from_node])
    return _mean_known([_shifted(down, 0, step) for step in from_node])


def roughness_m(level_m: Floats) -> Floats:
    """How wrongly a node is guessed from the nodes on either side, as a local mean. [m]

    Parameters
    ----------
    level_m : array, shape (row, column)
        NaN unknown.
    """
    guesses = [
        0.5 * (_shifted(level_m, 1, 0) + _shifted(level_m, -1, 0)),
        0.5 * (_shifted(level_m, 0, 1) + _shifted(level_m, 0, -1)),
    ]
    squares = _mean_known([(level_m - guess) ** 2 for guess in guesses])
    return np.asarray(np.sqrt(_box_mean(squares, WINDOW)))


def between_nodes(
    level_m: Floats, rough_m: Floats, row: Floats, column: Floats
) -> tuple[Floats, Floats]:
    """Level and its standard deviation at fractional places in a grid. [m]

    Parameters
    ----------
    level_m, rough_m : arrays, shape (row, column)
        Levels of the nodes and ``roughness_m`` of them.
    row, column : arrays, shape (place,)
        Where, counted in nodes; NaN outside.

    Returns
    -------
    level_m, deviation_m : arrays, shape (place,)
        NaN where any node that has a say is unknown.
    """
    rows, columns = level_m.shape
    inside = (row >= 0.0) & (row <= rows - 1.0) & (column >= 0.0) & (column <= columns - 1.0)
    y, x = np.where(inside, row, 0.0), np.where(inside, column, 0.0)
    i, j = np.minimum(y.astype(int), rows - 2), np.minimum(x.astype(int), columns - 2)
    v, u = y - i, x - j
    level, rough = np.zeros(row.shape), np.zeros(row.shape)
    for step_row, step_column in ((0, 0), (0, 1), (1, 0), (1, 1)):
        weight = (v if step_row else 1.0 - v) * (u if step_column else 1.0 - u)
        counted = weight > 1e-9
        at = (i + step_row, j + step_column)
        level = np.where(counted, level + weight * level_m[at], level)
        rough = np.where(counted, rough + weight * rough_m[at], rough)
    between = np.sqrt(16.0 * (u * (1.0 - u)) ** 2 + 16.0 * (v * (1.0 - v)) ** 2) / np.sqrt(2.0)
    deviation = np.hypot(LEAST_M, rough * (AT_NODE_SHARE + BETWEEN_SHARE * between))
    outside = ~inside
    level[outside], deviation[outside] = np.nan, np.nan
    return level, np.where(np.isfinite(level), deviation, np.nan)
