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
EDGE = 0.5
SNAP = 1e-5


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

    A node with no neighbours to guess it from is taken to be as bad as the worst.

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
    rough = np.sqrt(_box_mean(squares, WINDOW))
    told = rough[np.isfinite(rough)]
    wide = float(np.quantile(told, 0.95)) if told.size else float(np.ptp(_finite(level_m)))
    return np.where(np.isfinite(rough), rough, wide)


def _finite(level_m: Floats) -> Floats:
    known = level_m[np.isfinite(level_m)]
    return known if known.size else np.zeros(1)


def _at_nodes(count: Floats) -> Floats:
    """A place next to nothing off a node is at the node."""
    whole = np.rint(count)
    return np.where(np.abs(count - whole) < SNAP, whole, count)


def between_nodes(
    level_m: Floats, rough_m: Floats, row: Floats, column: Floats
) -> tuple[Floats, Floats]:
    """Level and its standard deviation at fractional places in a grid. [m]

    Parameters
    ----------
    level_m, rough_m : arrays, shape (row, column)
        Levels of the nodes and ``roughness_m`` of them.
    row, column : arrays, shape (place,)
        Where, counted in nodes; NaN outside. Half a step past the outermost node its
        depth still holds, since a node stands for its cell.

    Returns
    -------
    level_m, deviation_m : arrays, shape (place,)
        NaN where any node that has a say is unknown.
    """
    rows, columns = level_m.shape
    inside = (row >= -EDGE) & (row <= rows - 1.0 + EDGE)
    inside &= (column >= -EDGE) & (column <= columns - 1.0 + EDGE)
    y = _at_nodes(np.where(inside, np.clip(row, 0.0, rows - 1.0), 0.0))
    x = _at_nodes(np.where(inside, np.clip(column, 0.0, columns - 1.0), 0.0))
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
