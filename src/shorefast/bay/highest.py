"""The highest bed under an outline: exact on the surface's own cells, not sampled.

Between four nodes the bed is straight both ways, so over a piece of a cell it is
highest on that piece's border: at a node inside, at a corner of the outline, where the
outline crosses from cell to cell, or at a crest on the way between two crossings.
"""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor

import numpy as np
from numpy.typing import NDArray

from shorefast.bay.surface import SurfaceGrid
from shorefast.compiled import kernel

Floats = NDArray[np.float64]
_AT_ONCE = 2000
"""Poses a thread takes at once; the cut changes no answer."""


@kernel
def in_cell(field_m: Floats, i: int, j: int, x: float, y: float) -> float:
    """The straight-both-ways field of cell (row i, column j) at column x, row y."""
    u, v = x - j, y - i
    south = field_m[i, j] * (1.0 - u) + field_m[i, j + 1] * u
    north = field_m[i + 1, j] * (1.0 - u) + field_m[i + 1, j + 1] * u
    return float(south * (1.0 - v) + north * v)


@kernel
def keep(found: Floats, high_m: float, x: float, y: float) -> None:
    """Keep what is higher, and that something is unknown. found: height, x, y, unknown."""
    if math.isnan(high_m):
        found[3] = 1.0
    elif high_m > found[0]:
        found[0], found[1], found[2] = high_m, x, y


@kernel
def along_piece(field_m: Floats, a: tuple[float, float], b: tuple[float, float],
                found: Floats) -> None:  # fmt: skip
    """The highest place of a straight piece that stays within one cell."""
    rows, columns = field_m.shape
    x, y = 0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])
    i, j = min(int(y), rows - 2), min(int(x), columns - 2)
    most = max(max(field_m[i, j], field_m[i, j + 1]), max(field_m[i + 1, j], field_m[i + 1, j + 1]))
    whole = field_m[i, j] + field_m[i, j + 1] + field_m[i + 1, j] + field_m[i + 1, j + 1]
    if math.isnan(whole):
        found[3] = 1.0
        return
    if most <= found[0]:
        return
    first, last = in_cell(field_m, i, j, a[0], a[1]), in_cell(field_m, i, j, b[0], b[1])
    middle = in_cell(field_m, i, j, x, y)
    keep(found, first, a[0], a[1])
    keep(found, last, b[0], b[1])
    bend, rise = first + last - 2.0 * middle, 0.5 * (last - first)
    if bend < 0.0 and abs(rise) < -bend:
        s = -rise / bend
        keep(found, middle - 0.5 * rise * rise / bend, x + 0.5 * s * (b[0] - a[0]),
             y + 0.5 * s * (b[1] - a[1]))  # fmt: skip


@kernel
def may_be_higher(field_m: Floats, a: tuple[float, float], b: tuple[float, float],
                  high_m: float) -> bool:  # fmt: skip
    """Whether any node round an edge is higher or unknown: if not, nothing along it is."""
    rows, columns = field_m.shape
    for i in range(int(min(a[1], b[1])), min(int(max(a[1], b[1])) + 2, rows)):
        for j in range(int(min(a[0], b[0])), min(int(max(a[0], b[0])) + 2, columns)):
            if not field_m[i, j] <= high_m:
                return True
    return False


@kernel
def along_edge(field_m: Floats, a: tuple[float, float], b: tuple[float, float],
               found: Floats) -> None:  # fmt: skip
    """The highest place along a straight edge, walked from cell to cell."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    pieces = abs(math.floor(b[0]) - math.floor(a[0])) + abs(math.floor(b[1]) - math.floor(a[1]))
    column = math.floor(a[0]) + 1.0 if dx > 0.0 else math.ceil(a[0]) - 1.0
    row = math.floor(a[1]) + 1.0 if dy > 0.0 else math.ceil(a[1]) - 1.0
    here = 0.0
    for _ in range(int(pieces) + 3):
        to_column = (column - a[0]) / dx if dx != 0.0 else 2.0
        to_row = (row - a[1]) / dy if dy != 0.0 else 2.0
        then = min(min(to_column, to_row), 1.0)
        along_piece(field_m, (a[0] + here * dx, a[1] + here * dy),
                    (a[0] + then * dx, a[1] + then * dy), found)  # fmt: skip
        if then >= 1.0:
            return
        if to_column <= then:
            column += math.copysign(1.0, dx)
        if to_row <= then:
            row += math.copysign(1.0, dy)
        here = then


@kernel
def reach(x: Floats, y: Floats, row: int) -> tuple[float, float]:
    """From which column to which a convex outline reaches in a row; inf, -inf if nowhere."""
    left, right = math.inf, -math.inf
    for k in range(x.size):
        n = k + 1 if k + 1 < x.size else 0
        if min(y[k], y[n]) <= row <= max(y[k], y[n]):
            rise = y[n] - y[k]
            at = x[k] if rise == 0.0 else x[k] + (row - y[k]) / rise * (x[n] - x[k])
            left, right = min(left, at), max(right, at)
    return left, right


@kernel
def nodes_within(field_m: Floats, x: Floats, y: Floats, found: Floats) -> None:
    """The highest node inside a convex outline of corners (column x, row y)."""
    for i in range(math.ceil(y.min()), math.floor(y.max()) + 1):
        left, right = reach(x, y, i)
        if left <= right:
            for j in range(math.ceil(left), math.floor(right) + 1):
                if not field_m[i, j] <= found[0]:
                    keep(found, field_m[i, j], float(j), float(i))


@kernel
def highest_in(field_m: Floats, x: Floats, y: Floats, found: Floats) -> None:
    """Height, column, row of the highest bed in a convex outline; 1 if any is unknown, else 0."""
    rows, columns = field_m.shape
    found[:] = math.nan
    found[0], found[3] = -math.inf, 0.0
    for k in range(x.size):
        if not (0.0 <= x[k] <= columns - 1.0 and 0.0 <= y[k] <= rows - 1.0):
            found[3] = 1.0
            return
    for k in range(x.size):
        i, j = min(int(y[k]), rows - 2), min(int(x[k]), columns - 2)
        keep(found, in_cell(field_m, i, j, x[k], y[k]), x[k], y[k])
    nodes_within(field_m, x, y, found)
    for k in range(x.size if x.size > 2 else x.size - 1):
        n = k + 1 if k + 1 < x.size else 0
        a, b = (x[k], y[k]), (x[n], y[n])
        if may_be_higher(field_m, a, b, found[0]):
            along_edge(field_m, a, b, found)


@kernel
def highest_of_poses(grid: tuple[float, float, float], field_m: Floats, points_m: Floats,
                     q: Floats, out: Floats) -> None:  # fmt: skip
    """``highest_in`` for one outline on board, shape (point, 2), put to every pose."""
    west_m, south_m, step_m = grid
    x, y = np.empty(points_m.shape[0]), np.empty(points_m.shape[0])
    for p in range(q.shape[0]):
        sine, cosine = math.sin(q[p, 2]), math.cos(q[p, 2])
        for k in range(x.size):
            ahead, right = points_m[k, 0], points_m[k, 1]
            x[k] = (q[p, 0] + ahead * sine + right * cosine - west_m) / step_m
            y[k] = (q[p, 1] + ahead * cosine - right * sine - south_m) / step_m
        highest_in(field_m, x, y, out[p])


def highest_under(grid: SurfaceGrid, field_m: Floats, points_m: Floats, q: Floats) -> Floats:
    """The highest bed under an outline at every pose.

    Parameters
    ----------
    grid : SurfaceGrid
        Where the nodes are.
    field_m : array, shape of the grid's levels
        What is asked: the grid's levels, or those with something added. [m]
    points_m : array, shape (corner, 2)
        Of a convex outline, x forward, y to starboard; one corner is a point, two a line. [m]
    q : array, shape (pose, 3)
        East, north, heading; NaN unknown.

    Returns
    -------
    array, shape (pose, 4)
        Its height [m], east and north of it [m], and 1 where some of the bed under the
        outline is unknown, else 0. The height is -inf where all of it is.
    """
    out = np.empty((q.shape[0], 4))
    place = (grid.west_m, grid.south_m, grid.step_m)
    field, points = np.ascontiguousarray(field_m, float), np.ascontiguousarray(points_m, float)
    poses = np.ascontiguousarray(q, float)

    def part(first: int) -> None:
        some = slice(first, first + _AT_ONCE)
        highest_of_poses(place, field, points, poses[some], out[some])

    firsts = range(0, len(poses), _AT_ONCE)
    if len(firsts) > 1:
        with ThreadPoolExecutor() as pool:
            list(pool.map(part, firsts))
    elif firsts:
        part(0)
    out[:, 1] = grid.west_m + grid.step_m * out[:, 1]
    out[:, 2] = grid.south_m + grid.step_m * out[:, 2]
    return out
