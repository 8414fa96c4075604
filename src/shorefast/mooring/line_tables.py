"""Tables of a scene's lines over the room she has.

A table holds, by water level, bearing (one for a shore line) and node, the straight
distance between the line's ends (the chord), the pull along it, its slope against the
chord, and for a rode the vertical pull, tension and uplift at the shank and the length
on the bed. Along the chord a taut line hardly knows the water level, so that straight
lines between levels do. Nodes run from slack to straight by the
march's own number, so that nothing between two nodes has a kink. What lies on the bed
for one tension at the anchor does not know how high the roller is: one march serves
all water levels.
"""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from shorefast.compiled import kernel, lean_kernel
from shorefast.mooring.contact import COLUMNS as ROW_COLUMNS
from shorefast.mooring.march import (
    ANCHOR_T,
    DISTANCE,
    DOWN,
    ON_BOTTOM,
    PULL,
    RESULTS,
    TOUCHDOWN,
    UPLIFT,
    bed_level,
    lay_out,
    measure,
    rode_for,
    search_back,
)
from shorefast.mooring.response import bed_along, pieces
from shorefast.mooring.rode import along_bed, idle_when_slack
from shorefast.mooring.scene import Packed, RodeLine, Scene
from shorefast.mooring.shapes import Bed, Floats, Ints, Pieces
from shorefast.mooring.shore_line import reach

IDLE_NODES, PULL_NODES = 28, 64
NODES = IDLE_NODES + PULL_NODES
# columns of a node
T_X, T_H, T_SLOPE, T_DOWN, T_ANCHOR, T_UPLIFT, T_BOTTOM = range(7)
COLUMNS = 7
_LEAST_N, _MOST_N = 15.0, 150_000.0
_LEAST_SHARE = 0.002
_LIFT_FROM_N, _LIFT_TO_N = 300.0, 9_000.0
# what cannot be measured in one go is put together from two beds' worth of stretches
_ROWS_A_CORNER = 4
_ROWS_A_PART = 4
_MOST_BRIDGED = 4


class LineTables(NamedTuple):
    """Tables of all lines of a scene.

    level_m : array (level,), rising, evenly spaced
    row_from, bearings : arrays (line,), first row of each line and how many it has
    bearing_from_rad, bearing_step_rad : arrays (line,), from the far end to the boat
    node : array (level, row, node, column)
    """

    level_m: Floats
    row_from: Ints
    bearings: Ints
    bearing_from_rad: Floats
    bearing_step_rad: Floats
    node: Floats


@lean_kernel
def put_node(node: Floats, k: int, rise_m: float, out: Floats) -> None:
    """Write what a march gave into node ``k``."""
    chord_m = math.sqrt(out[DISTANCE] ** 2 + rise_m * rise_m)
    node[k, T_X], node[k, T_DOWN] = chord_m, out[DOWN]
    node[k, T_H] = out[PULL] * chord_m / out[DISTANCE]
    node[k, T_ANCHOR], node[k, T_UPLIFT] = out[ANCHOR_T], out[UPLIFT]
    node[k, T_BOTTOM] = out[ON_BOTTOM]


@kernel
def idle_nodes(line: Pieces, bed: Bed, known_m: float, bow_m: float, node: Floats) -> bool:
    """The nodes from slack up to where no chain lies idle; False where there are none."""
    idle_m = idle_when_slack(line, bed, bow_m)
    if math.isnan(idle_m):
        return False
    out = np.empty(RESULTS)
    slack_m, _ = along_bed(bed, idle_m)
    rise_m = bow_m - bed_level(bed, 0.0)
    node[0, :] = 0.0
    node[0, T_X], node[0, T_BOTTOM] = math.sqrt(slack_m**2 + rise_m**2), idle_m
    for k in range(1, IDLE_NODES):
        # the pull grows about with what is no longer idle
        p = -idle_m * (1.0 - _LEAST_SHARE ** (1.0 - (k - 1) / (IDLE_NODES - 2)))
        if not rode_for(line, bed, bow_m, p, out):
            node[k, T_X] = math.inf
            continue
        if out[TOUCHDOWN] > known_m:
            return False
        put_node(node, k, rise_m, out)
    return True


@lean_kernel
def bridged(node: Floats) -> None:
    """Nodes without a balance (an infinite chord) put between their neighbours, or unknown.

    On a bed steeper than its friction single pulls have no balance, a little more or
    less has: a few in a row are passed over straight; more, or at an end, are unknown.
    """
    k = 1
    while k < NODES:
        last = k
        while last < NODES and math.isinf(node[last, T_X]):
            last += 1
        few = 0 < last - k <= _MOST_BRIDGED and last < NODES
        for j in range(k, last):
            share = (j - k + 1) / (last - k + 1)
            for c in range(COLUMNS):
                low, high = node[k - 1, c], node[min(last, NODES - 1), c]
                node[j, c] = low + share * (high - low) if few else math.nan
        k = last + 1


@lean_kernel
def slopes(node: Floats) -> None:
    """Slope of pull against distance at every node, by the parabola through three."""
    for k in range(NODES):
        a = min(max(k - 1, 0), NODES - 3)
        x0, x1, x2 = node[a, T_X], node[a + 1, T_X], node[a + 2, T_X]
        h0, h1, h2 = node[a, T_H], node[a + 1, T_H], node[a + 2, T_H]
        # a node at the join of two kinds of nodes belongs to both: rises stay rises
        c01 = (h1 - h0) / max(x1 - x0, 1e-12)
        c12 = (h2 - h1) / max(x2 - x1, 1e-12)
        bend = (c12 - c01) / max(x2 - x0, 1e-12)
        x = node[k, T_X]
        node[k, T_SLOPE] = max(0.0, c01 + bend * (2.0 * x - x0 - x1))


@lean_kernel
def shank_pull_n(m: int) -> float:
    """Tension at the shank of node ``m``: closest together where chains lift. [N]"""
    light, heavy = PULL_NODES // 6, PULL_NODES - PULL_NODES // 8 - 1
    if m < light:
        return float(_LEAST_N * (_LIFT_FROM_N / _LEAST_N) ** (m / light))
    if m < heavy:
        return float(_LIFT_FROM_N * (_LIFT_TO_N / _LIFT_FROM_N) ** ((m - light) / (heavy - light)))
    return float(_LIFT_TO_N * (_MOST_N / _LIFT_TO_N) ** ((m - heavy) / (PULL_NODES - 1 - heavy)))


@kernel
def pulling_nodes(
    line: Pieces, bed: Bed, known_m: float, bow_m: Floats, m: int, row: Floats, node: Floats
) -> None:
    """Node ``m`` with a pull at the shank, for every height of the roller (level,)."""
    out = np.empty(RESULTS)
    p = shank_pull_n(m)
    n = lay_out(line, bed, bow_m[0], p, row)
    for k in range(bow_m.shape[0]):
        e, u = -1, 0.0
        if n > 0:
            e, u, _ = search_back(line, bed, row, n, bow_m[k])
        if e < 0:
            node[k, IDLE_NODES + m, T_X] = math.inf
            continue
        measure(line, bed, bow_m[k], row, e, u, out)
        if out[TOUCHDOWN] > known_m:
            out[:] = np.nan
        put_node(node[k], IDLE_NODES + m, bow_m[k] - bed_level(bed, 0.0), out)


@kernel
def fill_rode(packed: Packed, i: int, bearing_rad: float, level_m: Floats, node: Floats) -> None:
    """Nodes (level, node, column) of rode ``i`` on one bearing; NaN where unknown."""
    node[:] = np.nan
    line = pieces(packed, i)
    bed, known_m = bed_along(packed, i, bearing_rad, line.cum[-1])
    if math.isnan(known_m):
        return
    bow_m = level_m + packed.z_m[i]
    corners = bed.slope.shape[0] + line.cum.shape[0]
    row = np.empty((_ROWS_A_CORNER * corners + 16, ROW_COLUMNS))
    for m in range(PULL_NODES):
        pulling_nodes(line, bed, known_m, bow_m, m, row, node)
    for k in range(bow_m.shape[0]):
        if idle_nodes(line, bed, known_m, bow_m[k], node[k]):
            bridged(node[k])
            slopes(node[k])
        else:
            node[k] = np.nan


@kernel
def fill_shore(packed: Packed, i: int, level_m: float, node: Floats) -> None:
    """Nodes of shore line ``i`` at one level."""
    line = pieces(packed, i)
    cleat_m, point_m = packed.z_m[i], max(0.0, packed.level_m[i] - level_m)
    rise_m = point_m - cleat_m
    for k in range(NODES):
        h_n = 1e-9 if k == 0 else 0.5 * (2.0 * _MOST_N) ** ((k - 1) / (NODES - 2))
        x_m, v0_n, v1_n, floats_m = reach(h_n, line, cleat_m, point_m)
        chord_m = math.sqrt(x_m * x_m + rise_m * rise_m)
        node[k, T_X], node[k, T_H], node[k, T_DOWN] = chord_m, h_n * chord_m / x_m, -v0_n
        node[k, T_ANCHOR] = math.sqrt(h_n * h_n + v1_n * v1_n)
        node[k, T_UPLIFT], node[k, T_BOTTOM] = 0.0, floats_m
        more_n = h_n * (1.0 + 1e-5)
        more_m = reach(more_n, line, cleat_m, point_m)[0]
        wide_m = math.sqrt(more_m * more_m + rise_m * rise_m) - chord_m
        gain_n = more_n * (chord_m + wide_m) / more_m - node[k, T_H]
        node[k, T_SLOPE] = 0.0 if k == 0 else gain_n / max(1e-15, wide_m)


@kernel
def fill_row(packed: Packed, tables: LineTables, i: int, j: int) -> None:
    """Fill row ``j`` of line ``i``, every level."""
    row = tables.row_from[i] + j
    if packed.rode[i] == 0:
        for k in range(tables.level_m.shape[0]):
            fill_shore(packed, i, tables.level_m[k], tables.node[k, row])
        return
    bearing_rad = tables.bearing_from_rad[i] + j * tables.bearing_step_rad[i]
    fill_rode(packed, i, bearing_rad, tables.level_m, tables.node[:, row])


@kernel
def fill_rows(packed: Packed, tables: LineTables, i: int, rows: tuple[int, int]) -> None:
    """Fill rows of line ``i`` from the first up to, not with, the second."""
    for j in range(rows[0], rows[1]):
        fill_row(packed, tables, i, j)


@dataclass(frozen=True)
class Spread:
    """What tables must cover: water levels [m], bearings of each rode, how finely."""

    least_level_m: float
    greatest_level_m: float
    levels: int
    bearings: int


def tables_of(scene: Scene, lines: Packed, spread: Spread) -> LineTables:
    """Tables of a scene's lines for the levels, over the domain.

    A rode's bearings are those from its anchor to anywhere in the domain; all round
    where the anchor lies in it.
    """
    count = len(scene.lines)
    start, step = np.zeros(count), np.ones(count)
    number = np.ones(count, np.int64)
    for i, line in enumerate(scene.lines):
        if isinstance(line, RodeLine):
            start[i], width = _bearings(scene, line)
            number[i] = spread.bearings
            step[i] = width / max(1, spread.bearings - 1)
    levels = np.linspace(spread.least_level_m, spread.greatest_level_m, spread.levels)
    first = np.concatenate([[0], np.cumsum(number)[:-1]]).astype(np.int64)
    node = np.empty((levels.size, int(number.sum()), NODES, COLUMNS))
    tables = LineTables(levels, first, number, start, step, node)
    rows = [
        (i, (j, min(j + _ROWS_A_PART, int(number[i]))))
        for i in range(count)
        for j in range(0, int(number[i]), _ROWS_A_PART)
    ]
    with ThreadPoolExecutor() as pool:
        list(pool.map(lambda at: fill_rows(lines, tables, *at), rows))
    return tables


def _bearings(scene: Scene, line: RodeLine) -> tuple[float, float]:
    """First bearing and width of the fan from an anchor over the domain."""
    d = scene.domain
    if d.west_m <= line.east_m <= d.east_m and d.south_m <= line.north_m <= d.north_m:
        return 0.0, 2.0 * math.pi
    corners = [(e, n) for e in (d.west_m, d.east_m) for n in (d.south_m, d.north_m)]
    east = np.array([c[0] for c in corners]) - line.east_m
    north = np.array([c[1] for c in corners]) - line.north_m
    middle = math.atan2(float(east.mean()), float(north.mean()))
    turn = np.arctan2(east, north) - middle
    turn = (turn + math.pi) % (2.0 * math.pi) - math.pi
    return middle + float(turn.min()) - 0.05, float(np.ptp(turn)) + 0.1
