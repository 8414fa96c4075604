"""Tables of a scene's lines over the room she has, and the look-up in them.

A table holds, by water level, bearing (one bearing for a shore line) and node, the
distance, level pull, its slope against distance, and for a rode the vertical pull,
tension and uplift at the shank and the length on the bed. Nodes run from slack to
straight by the march's own number, so that nothing between two nodes has a kink.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from shorefast.compiled import kernel
from shorefast.mooring.march import (
    ANCHOR_T,
    DISTANCE,
    DOWN,
    ON_BOTTOM,
    PULL,
    RESULTS,
    TOUCHDOWN,
    UPLIFT,
    rode_for,
)
from shorefast.mooring.response import bed_along, pieces
from shorefast.mooring.rode import along_bed, idle_when_slack
from shorefast.mooring.scene import Packed, RodeLine, Scene, packed
from shorefast.mooring.shapes import Floats, Ints
from shorefast.mooring.shore_line import reach

IDLE_NODES, PULL_NODES = 8, 48
NODES = IDLE_NODES + PULL_NODES
# columns of a node
T_X, T_H, T_SLOPE, T_DOWN, T_ANCHOR, T_UPLIFT, T_BOTTOM = range(7)
COLUMNS = 7
_LEAST_N, _MOST_N = 2.0, 150_000.0


class LineTables(NamedTuple):
    """Tables of all lines of a scene.

    level_m : array (level,), rising; bearing_rad : array (rode bearing,) from the
    anchor, rising, unwrapped, one row of bearings a line; node : array (line, level,
    bearing, node, column). Shore lines use bearing 0 only.
    """

    level_m: Floats
    bearing_from_rad: Floats
    bearing_step_rad: Floats
    bearings: Ints
    node: Floats


@kernel
def fill_rode(packed: Packed, i: int, bearing_rad: float, level_m: float, node: Floats) -> None:
    """Nodes of rode ``i`` on one bearing at one level; NaN where the bed is unknown."""
    node[:] = np.nan
    line = pieces(packed, i)
    bed, known_m = bed_along(packed, i, bearing_rad, line.cum[-1])
    bow_m = level_m + packed.z_m[i]
    if math.isnan(known_m):
        return
    idle_m = idle_when_slack(line, bed, bow_m)
    if math.isnan(idle_m):
        return
    out = np.empty(RESULTS)
    slack_m, _ = along_bed(bed, idle_m)
    node[0, :] = 0.0
    node[0, T_X], node[0, T_BOTTOM] = slack_m, idle_m
    for k in range(1, NODES):
        if k < IDLE_NODES:
            p = -idle_m * (1.0 - k / IDLE_NODES) ** 2
        else:
            share = (k - IDLE_NODES) / (PULL_NODES - 1)
            p = _LEAST_N * (_MOST_N / _LEAST_N) ** share
        if not rode_for(line, bed, bow_m, p, out) or out[TOUCHDOWN] > known_m:
            return
        node[k, T_X], node[k, T_H], node[k, T_DOWN] = out[DISTANCE], out[PULL], out[DOWN]
        node[k, T_ANCHOR], node[k, T_UPLIFT] = out[ANCHOR_T], out[UPLIFT]
        node[k, T_BOTTOM] = out[ON_BOTTOM]
        step = 1e-3 * max(1.0, abs(p))
        h_n, x_m = out[PULL], out[DISTANCE]
        rode_for(line, bed, bow_m, p + step, out)
        node[k, T_SLOPE] = max(0.0, out[PULL] - h_n) / max(1e-9, out[DISTANCE] - x_m)


@kernel
def fill_shore(packed: Packed, i: int, level_m: float, node: Floats) -> None:
    """Nodes of shore line ``i`` at one level."""
    length_m, w_npm, ea_n = packed.length_m[i], packed.weight_npm[i], packed.stiffness_n[i]
    cleat_m, point_m = packed.z_m[i], max(0.0, packed.level_m[i] - level_m)
    for k in range(NODES):
        h_n = 1e-9 if k == 0 else 0.5 * (2.0 * _MOST_N) ** ((k - 1) / (NODES - 2))
        x_m, v0_n, v1_n, floats_m, _ = reach(h_n, length_m, w_npm, ea_n, cleat_m, point_m)
        node[k, T_X], node[k, T_H], node[k, T_DOWN] = x_m, h_n, -v0_n
        node[k, T_ANCHOR] = math.sqrt(h_n * h_n + v1_n * v1_n)
        node[k, T_UPLIFT], node[k, T_BOTTOM] = 0.0, floats_m
        step_n = 1e-5 * h_n
        more_m = reach(h_n + step_n, length_m, w_npm, ea_n, cleat_m, point_m)[0]
        node[k, T_SLOPE] = 0.0 if k == 0 else step_n / max(1e-15, more_m - x_m)


@kernel
def fill(packed: Packed, tables: LineTables) -> None:
    """Fill every table of the scene."""
    for i in range(packed.rode.shape[0]):
        for k in range(tables.level_m.shape[0]):
            if packed.rode[i] == 0:
                fill_shore(packed, i, tables.level_m[k], tables.node[i, k, 0])
                continue
            for j in range(tables.bearings[i]):
                bearing_rad = tables.bearing_from_rad[i] + j * tables.bearing_step_rad[i]
                fill_rode(packed, i, bearing_rad, tables.level_m[k], tables.node[i, k, j])


@kernel
def weights(value: float, first: float, step: float, count: int) -> tuple[int, float]:
    """Lower node and the share of the upper one, held at the ends."""
    if count < 2:
        return 0, 0.0
    at = min(max((value - first) / step, 0.0), count - 1.0)
    low = min(int(at), count - 2)
    return low, at - low


@kernel
def mixed(node: Floats, k: int, fk: float, j: int, fj: float, n: int, column: int) -> float:
    """One column of one node between two levels and two bearings."""
    j1 = j + 1 if fj > 0.0 else j
    k1 = k + 1 if fk > 0.0 else k
    low = node[k, j, n, column] * (1.0 - fj) + node[k, j1, n, column] * fj
    high = node[k1, j, n, column] * (1.0 - fj) + node[k1, j1, n, column] * fj
    return float(low * (1.0 - fk) + high * fk)


class Cell(NamedTuple):
    """Where a look-up landed: level, bearing and node below, with their shares."""

    level: int
    level_share: float
    bearing: int
    bearing_share: float
    node: int
    node_share: float


@kernel
def cell_for(tables: LineTables, i: int, x_m: float, bearing_rad: float, level_m: float) -> Cell:
    """The cell of line ``i``; node -1 where slack, -2 where unknown or beyond."""
    levels = tables.level_m.shape[0]
    step_m = tables.level_m[1] - tables.level_m[0] if levels > 1 else 1.0
    k, fk = weights(level_m, tables.level_m[0], step_m, levels)
    j, fj = 0, 0.0
    if tables.bearings[i] > 1:
        middle = tables.bearing_from_rad[i] + 0.5 * tables.bearing_step_rad[i] * (
            tables.bearings[i] - 1
        )
        turn = bearing_rad - middle
        turn -= 2.0 * math.pi * math.floor(turn / (2.0 * math.pi) + 0.5)
        j, fj = weights(
            middle + turn,
            tables.bearing_from_rad[i],
            tables.bearing_step_rad[i],
            tables.bearings[i],
        )
    node = tables.node[i]
    low, high = 0, NODES - 1
    if x_m <= mixed(node, k, fk, j, fj, 0, T_X):
        return Cell(k, fk, j, fj, -1, 0.0)
    if not x_m <= mixed(node, k, fk, j, fj, high, T_X):
        return Cell(k, fk, j, fj, -2, 0.0)
    while high - low > 1:
        mid = (low + high) // 2
        if mixed(node, k, fk, j, fj, mid, T_X) <= x_m:
            low = mid
        else:
            high = mid
    x0_m = mixed(node, k, fk, j, fj, low, T_X)
    x1_m = mixed(node, k, fk, j, fj, low + 1, T_X)
    return Cell(k, fk, j, fj, low, (x_m - x0_m) / (x1_m - x0_m))


@kernel
def table_pull(
    tables: LineTables, i: int, x_m: float, bearing_rad: float, level_m: float
) -> tuple[float, float]:
    """Level pull and stiffness of line ``i`` from its table; NaN beyond it."""
    cell = cell_for(tables, i, x_m, bearing_rad, level_m)
    if cell.node == -1:
        return 0.0, 0.0
    if cell.node == -2:
        return math.nan, math.nan
    node = tables.node[i]
    k, fk, j, fj, n, t = cell
    x0_m, x1_m = mixed(node, k, fk, j, fj, n, T_X), mixed(node, k, fk, j, fj, n + 1, T_X)
    h0_n, h1_n = mixed(node, k, fk, j, fj, n, T_H), mixed(node, k, fk, j, fj, n + 1, T_H)
    wide_m = x1_m - x0_m
    chord = (h1_n - h0_n) / wide_m
    # slopes below nothing or beyond three times the chord would let the cubic overshoot
    s0 = max(0.0, min(mixed(node, k, fk, j, fj, n, T_SLOPE), 3.0 * chord)) * wide_m
    s1 = max(0.0, min(mixed(node, k, fk, j, fj, n + 1, T_SLOPE), 3.0 * chord)) * wide_m
    a = 2.0 * (h0_n - h1_n) + s0 + s1
    b = 3.0 * (h1_n - h0_n) - 2.0 * s0 - s1
    pull_n = ((a * t + b) * t + s0) * t + h0_n
    return pull_n, ((3.0 * a * t + 2.0 * b) * t + s0) / wide_m


@kernel
def table_column(
    tables: LineTables, i: int, x_m: float, bearing_rad: float, level_m: float, column: int
) -> float:
    """Another column at the same place: by the share of pull within the cell."""
    cell = cell_for(tables, i, x_m, bearing_rad, level_m)
    k, fk, j, fj = cell.level, cell.level_share, cell.bearing, cell.bearing_share
    node = tables.node[i]
    if cell.node == -2:
        return math.nan
    if cell.node == -1:
        return mixed(node, k, fk, j, fj, 0, column) if column == T_BOTTOM else 0.0
    h_n, _ = table_pull(tables, i, x_m, bearing_rad, level_m)
    h0_n = mixed(node, k, fk, j, fj, cell.node, T_H)
    h1_n = mixed(node, k, fk, j, fj, cell.node + 1, T_H)
    share = (h_n - h0_n) / (h1_n - h0_n)
    low = mixed(node, k, fk, j, fj, cell.node, column)
    return low + share * (mixed(node, k, fk, j, fj, cell.node + 1, column) - low)


@dataclass(frozen=True)
class Spread:
    """What tables must cover: water levels [m], bearings of each rode, how finely."""

    least_level_m: float
    greatest_level_m: float
    levels: int
    bearings: int


def tables_of(scene: Scene, spread: Spread) -> LineTables:
    """Tables of a scene's lines for the levels, all round or over the domain.

    A rode's bearings are those from its anchor to anywhere in the domain that its
    length can reach; all round where the anchor lies in it.
    """
    lines = packed(scene)
    count = len(scene.lines)
    start = np.zeros(count)
    step = np.ones(count)
    number = np.ones(count, np.int64)
    for i, line in enumerate(scene.lines):
        if isinstance(line, RodeLine):
            start[i], width = _bearings(scene, line)
            number[i] = spread.bearings
            step[i] = width / max(1, spread.bearings - 1)
    levels = np.linspace(spread.least_level_m, spread.greatest_level_m, spread.levels)
    most = int(number.max()) if count else 1
    node = np.full((count, levels.size, most, NODES, COLUMNS), np.nan)
    tables = LineTables(levels, start, step, number, node)
    fill(lines, tables)
    return tables


def _bearings(scene: Scene, line: RodeLine) -> tuple[float, float]:
    """First bearing and width of the fan from an anchor over the domain."""
    d = scene.domain
    if d.west_m <= line.east_m <= d.east_m and d.south_m <= line.north_m <= d.north_m:
        return 0.0, 2.0 * math.pi
    corners = [(e, n) for e in (d.west_m, d.east_m) for n in (d.south_m, d.north_m)]
    east = np.array([c[0] for c in corners]) - line.east_m
    north = np.array([c[1] for c in corners]) - line.north_m
    middle = math.atan2(
        0.5 * (d.west_m + d.east_m) - line.east_m, 0.5 * (d.south_m + d.north_m) - line.north_m
    )
    turn = np.arctan2(east, north) - middle
    turn = (turn + math.pi) % (2.0 * math.pi) - math.pi
    return middle + float(turn.min()) - 0.05, float(np.ptp(turn)) + 0.1
