"""The tables of the lines as millions of look-ups read them: one cubic to a cell.

A cell lies between two nodes of a table, at one water level and one row (bearing).
Within it the pull along the chord is a cubic in the share ``t`` of the way from one
node to the next. Cells of neighbouring levels and rows are blended number by number,
place and width included, so that a kink of the bed stays between the same two nodes.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from shorefast.compiled import hot_kernel
from shorefast.mooring.line_tables import LineTables
from shorefast.mooring.response import grid_level
from shorefast.mooring.scene import Packed
from shorefast.mooring.shapes import Floats, Ints
from shorefast.mooring.table_nodes import (
    NODES,
    T_ANCHOR,
    T_BOTTOM,
    T_DOWN,
    T_H,
    T_SLOPE,
    T_UPLIFT,
    T_X,
)

CELLS = NODES - 1
# columns of a cell: chord at its first node, its width, and the cubic a + t(b + t(d + t c))
C_X, C_WIDE, C_A, C_B, C_C, C_D = range(6)
CELL_COLUMNS = 8
# columns of what else is told at a node
TOLD = (T_DOWN, T_ANCHOR, T_UPLIFT, T_BOTTOM)
# columns of a line's plain numbers
Q_X, Q_Y, Q_EAST, Q_NORTH, Q_ROW, Q_COUNT, Q_Z, Q_FAR, Q_RODE, Q_ROUND = range(10)
SPEC_COLUMNS = 10
_TURN = 2.0 * math.pi
_NEAR_COSINE = 0.98
# what a look-up leaves behind for one line
W_PULL, W_GAIN, W_WIDE, W_SHARE, W_X = range(5)
WORK_COLUMNS = 5
# of the hint: node and row of the last look-up
HINT_COLUMNS = 2


class Cells(NamedTuple):
    """Tables for the quick path.

    spec : array (line, column), the lines' plain numbers (Q_*)
    cell : array (level, row, cell, C_*); told : array (level, row, node, 4), as TOLD
    toward : array (row, 3), sine and cosine of the row's bearing, from the far end, and the
    turn to the next row [rad]
    level_m : array (level,), rising, evenly spaced
    """

    spec: Floats
    cell: Floats
    told: Floats
    toward: Floats
    level_m: Floats


class Water(NamedTuple):
    """A water level [m] among those of the tables: below, above, share of the upper one."""

    level_m: float
    below: int
    above: int
    share: float


def _far_level_m(lines: Packed, i: int) -> float:
    """Level of a line's far end: the bed at the anchor, or the point ashore. [m]"""
    if lines.rode[i] == 0:
        return float(lines.level_m[i])
    if math.isnan(lines.plane[i, 0]):
        return float(grid_level(lines, lines.east_m[i], lines.north_m[i]))
    return float(lines.plane[i, 0])


def _plain_lines(lines: Packed, tables: LineTables) -> Floats:
    columns = (
        lines.x_m,
        lines.y_m,
        lines.east_m,
        lines.north_m,
        tables.row_from,
        tables.bearings,
        lines.z_m,
        [_far_level_m(lines, i) for i in range(lines.rode.shape[0])],
        lines.rode,
        tables.bearing_rad[tables.row_from + tables.bearings - 1]
        - tables.bearing_rad[tables.row_from]
        > _TURN - 1e-6,
    )
    return np.ascontiguousarray(np.stack([np.asarray(c, float) for c in columns], axis=1))


def _cubics(node: Floats) -> Floats:
    """The cells between nodes (level, row, node, column): monotone cubics (Fritsch, Carlson)."""
    wide = np.diff(node[..., T_X], axis=-1)
    rise = np.diff(node[..., T_H], axis=-1)
    # slopes below nothing or beyond three times the chord would let a cubic overshoot
    s0 = np.clip(node[..., :-1, T_SLOPE] * wide, 0.0, np.maximum(3.0 * rise, 0.0))
    s1 = np.clip(node[..., 1:, T_SLOPE] * wide, 0.0, np.maximum(3.0 * rise, 0.0))
    cell = np.zeros((*wide.shape, CELL_COLUMNS))
    cell[..., C_X], cell[..., C_WIDE] = node[..., :-1, T_X], wide
    cell[..., C_A], cell[..., C_B] = node[..., :-1, T_H], s0
    cell[..., C_C], cell[..., C_D] = s0 + s1 - 2.0 * rise, 3.0 * rise - 2.0 * s0 - s1
    return cell


def cells_of(lines: Packed, tables: LineTables) -> Cells:
    """The quick path's form of a scene's tables."""
    spec = _plain_lines(lines, tables)
    bearing = tables.bearing_rad
    step = np.diff(bearing, append=bearing[-1])
    # from a line's last row there is no next
    step[tables.row_from + tables.bearings - 1] = 1.0
    toward = np.stack([np.sin(bearing), np.cos(bearing), step], axis=-1)
    told = np.ascontiguousarray(tables.node[..., list(TOLD)])
    return Cells(spec, _cubics(tables.node), told, toward, tables.level_m)


def no_cells(lines: int) -> Cells:
    """A place holder for a solve that looks nothing up."""
    none = np.zeros((1, 1, 1, 1))
    return Cells(np.zeros((lines, SPEC_COLUMNS)), none, none, np.zeros((1, 3)), np.zeros(1))


@hot_kernel
def level_cell(levels: Floats, level_m: float) -> Water:
    """Levels below and above a water level, and the share of the upper one; held at the ends."""
    count = levels.shape[0]
    if count < 2:
        return Water(level_m, 0, 0, 0.0)
    at = (level_m - levels[0]) / (levels[1] - levels[0])
    at = min(max(at, 0.0), count - 1.0)
    k = min(int(at), count - 2)
    return Water(level_m, k, k + 1, at - k)


@hot_kernel
def rise_of(spec: Floats, i: int, level_m: float) -> float:
    """How far the line's upper end is above its lower one, or below. [m]"""
    if spec[i, Q_RODE] == 1.0:
        return float(level_m + spec[i, Q_Z] - spec[i, Q_FAR])
    return float(max(0.0, spec[i, Q_FAR] - level_m) - spec[i, Q_Z])


@hot_kernel
def steps_past(toward: Floats, row: int, ue: float, un: float) -> float:
    """How far a direction (ue, un) turns past the bearing of ``row``. [rad]

    By the arc of the sine of the angle between, good to 1e-11 where that is small.
    """
    sine = toward[row, 1] * ue - toward[row, 0] * un
    if toward[row, 0] * ue + toward[row, 1] * un < _NEAR_COSINE:
        turn = math.atan2(ue, un) - math.atan2(toward[row, 0], toward[row, 1])
        return float(turn - _TURN * math.floor(turn / _TURN + 0.5))
    s2 = sine * sine
    more = s2 * (15.0 / 336.0 + s2 * (105.0 / 3456.0 + s2 * (945.0 / 42240.0)))
    return float(sine * (1.0 + s2 * (1.0 / 6.0 + s2 * (3.0 / 40.0 + more))))


@hot_kernel
def row_for(cells: Cells, i: int, row: int, ue: float, un: float) -> tuple[int, float]:
    """Row below a direction and the share of the one above, walked to from ``row``.

    Held at the ends of a fan that does not go all round.
    """
    spec = cells.spec
    first, last = int(spec[i, Q_ROW]), int(spec[i, Q_ROW] + spec[i, Q_COUNT]) - 2
    row = min(max(row, first), last)
    at = steps_past(cells.toward, row, ue, un) / cells.toward[row, 2]
    if 0.0 <= at < 1.0:
        return row, at
    to = row + math.floor(at)
    for _ in range(last + 1 - first):
        if spec[i, Q_ROUND] == 1.0:
            to = first + (to - first) % (last + 1 - first)
        row = min(max(to, first), last)
        at = steps_past(cells.toward, row, ue, un) / cells.toward[row, 2]
        to = row + (1 if at >= 1.0 else (-1 if at < 0.0 else 0))
        if to == row or (spec[i, Q_ROUND] != 1.0 and not first <= to <= last):
            break
    return row, min(max(at, 0.0), 1.0)


@hot_kernel
def at_level(cell: Floats, water: Water, row: int, n: int, column: int) -> float:
    """One number of a cell between two water levels."""
    low = cell[water.below, row, n, column]
    return float(low + water.share * (cell[water.above, row, n, column] - low))


@hot_kernel
def cell_under(
    cell: Floats, water: Water, at: tuple[int, float, bool], n: int, d_m: float
) -> tuple[int, float, float, float]:
    """The cell a chord lies in, walked to from cell ``n``, and the share of the way through it.

    at : row, share of the row above, and whether there is one. The share of the way is
    below 0 where slack, over 1 past the last node, NaN where unknown. Then the cell's width,
    and how the chord of that share of the way changes from the row to the next.
    """
    row, share, two = at
    t, wide, more = math.nan, 1.0, 0.0
    for _ in range(2 * CELLS):
        x0, wide = at_level(cell, water, row, n, C_X), at_level(cell, water, row, n, C_WIDE)
        if two:
            dx = at_level(cell, water, row + 1, n, C_X) - x0
            dw = at_level(cell, water, row + 1, n, C_WIDE) - wide
            x0 += share * dx
            wide += share * dw
            t = (d_m - x0) / wide
            more = dx + t * dw
        else:
            t = (d_m - x0) / wide
        # two kinds of nodes may meet in a cell of no width, or of less: it is passed over
        step = -1 if d_m < x0 else (1 if d_m >= x0 + wide else 0)
        if step == 0 or not 0 <= n + step < CELLS:
            return n, t, wide, more
        n += step
    return n, math.nan, wide, more


@hot_kernel
def look_up(
    cells: Cells, water: Water, hint: Ints, i: int, de_m: float, dn_m: float, work: Floats
) -> tuple[float, float, float]:
    """Level pull [N] of line ``i``, its stiffness [N/m], and what it gains a radian of bearing.

    de_m, dn_m : from the body point to the far end. 0 where slack, NaN where unknown.
    ``hint`` keeps node and row from one look-up to the next; ``work`` (line, W_*) what
    is told of the line afterwards.
    """
    spec, cell = cells.spec, cells.cell
    x2_m2 = de_m * de_m + dn_m * dn_m
    rise_m = rise_of(spec, i, water.level_m)
    x_m, d_m = math.sqrt(x2_m2), math.sqrt(x2_m2 + rise_m * rise_m)
    row, share, two = int(spec[i, Q_ROW]), 0.0, spec[i, Q_COUNT] > 1.0
    if two:
        row, share = row_for(cells, i, hint[i, 1], -de_m / x_m, -dn_m / x_m)
        hint[i, 1] = row
    n, t, wide, shift = cell_under(cell, water, (row, share, two), hint[i, 0], d_m)
    work[i, W_SHARE], work[i, W_X] = share, x_m
    if math.isnan(t):
        return t, t, t
    hint[i, 0] = n
    # past the last node, far past what parts any line, the pull goes on straight
    beyond, t = max(0.0, t - 1.0), min(t, 1.0)
    if t < 0.0:
        work[i, W_PULL] = 0.0
        return 0.0, 0.0, 0.0
    a, b = at_level(cell, water, row, n, C_A), at_level(cell, water, row, n, C_B)
    c, d = at_level(cell, water, row, n, C_C), at_level(cell, water, row, n, C_D)
    turns = 0.0
    if two:
        da, db = (
            at_level(cell, water, row + 1, n, C_A) - a,
            at_level(cell, water, row + 1, n, C_B) - b,
        )
        dc, dd = (
            at_level(cell, water, row + 1, n, C_C) - c,
            at_level(cell, water, row + 1, n, C_D) - d,
        )
        turns = ((dc * t + dd) * t + db) * t + da
        a, b, c, d = a + share * da, b + share * db, c + share * dc, d + share * dd
    gain_n = ((c * t + d) * t + b) * t + beyond * (3.0 * c + 2.0 * d + b)
    slope = ((3.0 * c * t + 2.0 * d) * t + b) / wide
    level = x_m / d_m
    along_n = a + gain_n
    work[i, W_PULL], work[i, W_GAIN], work[i, W_WIDE] = along_n * level, gain_n, b + c + d
    # the pull along the chord turned to the level, and so its change; and at one chord,
    # as the bearing turns, the cubic's own change less its shift
    stiff = slope * level * level + along_n * rise_m * rise_m / (d_m * d_m * d_m)
    return along_n * level, stiff, (turns - slope * shift) * level / cells.toward[row, 2]
