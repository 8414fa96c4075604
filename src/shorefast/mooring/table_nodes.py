"""The nodes of a line's table on one bearing at one water level.

Nodes run from slack to straight by a number of their own, and the places where a line
turns from one way of hanging into another have nodes of their own: the pull at which no
chain lies idle any more, at which the shank lifts, at which a rope leaves the water. So
nothing between two nodes has a kink, and the same node of two bearings is the same thing.
"""

from __future__ import annotations

import math

import numpy as np

from shorefast.compiled import kernel, lean_kernel
from shorefast.mooring.contact import COLUMNS as ROW_COLUMNS
from shorefast.mooring.contact import ends_below
from shorefast.mooring.march import (
    ANCHOR_T,
    DISTANCE,
    DOWN,
    ON_BOTTOM,
    PULL,
    RESULTS,
    TOUCHDOWN,
    UPLIFT,
    along_bed,
    bed_level,
    begin,
    march,
    measure,
    search_back,
)
from shorefast.mooring.rode import idle_when_slack
from shorefast.mooring.shapes import Bed, Floats, Pieces
from shorefast.mooring.shore_line import lies_at, reach

# of a rode: slack to nothing idle, to the shank lifting, to its last touch of the bed, and
# far past what parts any line
IDLE_NODES, LYING_NODES, TOUCHING_NODES, FREE_NODES = 58, 24, 18, 22
NODES = IDLE_NODES + LYING_NODES + TOUCHING_NODES + FREE_NODES
_LIGHT_NODES, _LEAST_SHARE, _LIGHT_SHARE = 24, 0.002, 0.2
# places tried before the nodes of idle chain are set; how much their evenness in share, in
# chord and in pull counts, the rest being that in the pull's logarithm above a light one
_FINE, _LIGHT_N = 200, 2.0
_OF_SHARE, _OF_CHORD, _OF_PULL = 0.3, 0.25, 0.25
_LIFT_NODE = IDLE_NODES + LYING_NODES - 1
_FREE_NODE = _LIFT_NODE + TOUCHING_NODES
_EVEN_N, _MOST_N = 300.0, 150_000.0
_LEAST_LIFT_N, _MOST_LIFT_N = 30.0, 60_000.0
_NEAR_LIFT, _TURN_SHARE, _LIFT_SHARE = 0.4, 1e-3, 3e-3
# of a shore line: from nothing to leaving the water, and on
_WET_NODES, _LEAST_WET_N = 40, 0.5
_SIDE = 1e-9
# columns of a node
T_X, T_H, T_SLOPE, T_DOWN, T_ANCHOR, T_UPLIFT, T_BOTTOM = range(7)
NODE_COLUMNS = 7
# what cannot be measured in one go is put together from two beds' worth of stretches
_ROWS_A_CORNER = 4
_MOST_BRIDGED = 4


@lean_kernel
def plain_share(k: float) -> float:
    """Share of the idle chain that no longer lies idle at node ``k`` of 1 and more.

    First by a constant ratio, then by even steps, as the end of what is idle goes over
    the corners of the bed.
    """
    if k < _LIGHT_NODES:
        part = (k - 1) / (_LIGHT_NODES - 1)
        return float(_LEAST_SHARE * (_LIGHT_SHARE / _LEAST_SHARE) ** part)
    even = (k - _LIGHT_NODES) / (IDLE_NODES - 1 - _LIGHT_NODES)
    return _LIGHT_SHARE + (1.0 - _LIGHT_SHARE) * even


@lean_kernel
def shank_pull_n(k: int, lift_n: float, free_n: float) -> float:
    """Tension at the shank of node ``k`` past the idle ones. [N]

    lift_n, free_n : where it lifts, and where nothing but the shank touches any more.
    """
    if k <= _LIFT_NODE:
        part = (k + 1 - IDLE_NODES) / LYING_NODES
        return float(_EVEN_N * math.expm1(part * math.log1p(lift_n / _EVEN_N)))
    if k <= _FREE_NODE:
        return float(lift_n * (free_n / lift_n) ** ((k - _LIFT_NODE) / TOUCHING_NODES))
    part = (k - _FREE_NODE) / FREE_NODES
    part *= _NEAR_LIFT + (1.0 - _NEAR_LIFT) * part
    return float(free_n * (_MOST_N / free_n) ** part)


@kernel
def marching_room(line: Pieces, bed: Bed) -> tuple[Floats, Floats]:
    """What a march writes into: rows of stretches, and its results."""
    corners = bed.slope.shape[0] + line.cum.shape[0]
    return np.empty((_ROWS_A_CORNER * corners + 16, ROW_COLUMNS)), np.empty(RESULTS)


@lean_kernel
def put_node(
    line: Pieces, bed: Bed, bow_m: float, p: float, row: Floats, out: Floats, node: Floats
) -> None:
    """Write the node (column,) of one ``p``; an infinite chord where it has no balance."""
    e, u = march(line, bed, bow_m, p, row)
    if e < 0:
        node[T_X], out[TOUCHDOWN] = math.inf, 0.0
        return
    measure(line, bed, bow_m, row, e, u, out)
    rise_m = bow_m - bed_level(bed, 0.0)
    chord_m = math.sqrt(out[DISTANCE] ** 2 + rise_m * rise_m)
    node[T_X], node[T_DOWN] = chord_m, out[DOWN]
    node[T_H] = out[PULL] * chord_m / out[DISTANCE]
    node[T_ANCHOR], node[T_UPLIFT] = out[ANCHOR_T], out[UPLIFT]
    node[T_BOTTOM] = out[ON_BOTTOM]


@lean_kernel
def is_free(line: Pieces, bed: Bed, bow_m: float, p: float, row: Floats) -> bool:
    """Whether at this tension nothing but the shank touches the bed."""
    n = begin(bed, p, row)
    if not ends_below(line, row, 0, bow_m):
        return False
    e, _, clears = search_back(line, bed, row, n, bow_m)
    return clears and e == 0


@lean_kernel
def is_lifted(line: Pieces, bed: Bed, bow_m: float, p: float, row: Floats, out: Floats) -> bool:
    """Whether at this tension the shank has lifted."""
    e, u = march(line, bed, bow_m, p, row)
    if e < 0:
        return False
    measure(line, bed, bow_m, row, e, u, out)
    return bool(out[UPLIFT] > _SIDE)


@lean_kernel
def lift_and_free_n(
    line: Pieces, bed: Bed, bow_m: float, row: Floats, out: Floats
) -> tuple[float, float]:
    """Tensions at the shank at which it lifts, and at which nothing else touches. [N]

    Mostly they are one; on a bed with humps the shank may lift first.
    """
    low, high = _LEAST_LIFT_N, _MOST_LIFT_N
    while high > low * (1.0 + _TURN_SHARE):
        mid = math.sqrt(low * high)
        if is_free(line, bed, bow_m, mid, row):
            high = mid
        else:
            low = mid
    free_n, high = high, high / (1.0 + 2.0 * _TURN_SHARE)
    low = 0.8 * high
    if is_lifted(line, bed, bow_m, high, row, out):
        while low > _LEAST_LIFT_N and is_lifted(line, bed, bow_m, low, row, out):
            high, low = low, 0.7 * low
        while high > low * (1.0 + _LIFT_SHARE):
            mid = math.sqrt(low * high)
            if is_lifted(line, bed, bow_m, mid, row, out):
                high = mid
            else:
                low = mid
    return high, free_n


@lean_kernel
def spread_out(fine: Floats, share: Floats) -> None:
    """Fill the shares (IDLE_NODES,) so that steps of share, chord and pull are all small.

    fine : array (3, place), plain shares, chord [m] and pull [N] there.
    """
    last, wide_m = fine.shape[1] - 1, fine[1, -1] - fine[1, 0]
    least_n, range_n = fine[2, 0], fine[2, last] - fine[2, 0]
    range_ln = math.log((fine[2, last] + _LIGHT_N) / (fine[2, 0] + _LIGHT_N))
    # how far a place is along all three together, from 0 to 1, kept where the pull was
    for j in range(last + 1):
        along = _OF_SHARE * j / last
        along += _OF_CHORD * (fine[1, j] - fine[1, 0]) / wide_m
        along += _OF_PULL * (fine[2, j] - least_n) / range_n
        ln = math.log((fine[2, j] + _LIGHT_N) / (least_n + _LIGHT_N))
        fine[2, j] = along + (1.0 - _OF_SHARE - _OF_CHORD - _OF_PULL) * ln / range_ln
    j = 0
    for k in range(1, IDLE_NODES):
        wanted = (k - 1) / (IDLE_NODES - 2)
        while j < last - 1 and fine[2, j + 1] < wanted:
            j += 1
        part = (wanted - fine[2, j]) / (fine[2, j + 1] - fine[2, j])
        share[k] = fine[0, j] + part * (fine[0, j + 1] - fine[0, j])


@kernel
def idle_shares(line: Pieces, bed: Bed, known_m: float, bow_m: float, share: Floats) -> None:
    """Fill the shares (IDLE_NODES,) of idle chain at which a rode's nodes stand.

    By how she hangs over one bed; the plain ones where that is not known.
    """
    for k in range(1, IDLE_NODES):
        share[k] = plain_share(k)
    idle_m = math.nan if math.isnan(known_m) else idle_when_slack(line, bed, bow_m)
    if not idle_m > 0.0:
        return
    row, out = marching_room(line, bed)
    node, fine = np.empty(NODE_COLUMNS), np.empty((3, _FINE))
    for j in range(_FINE):
        fine[0, j] = plain_share(1.0 + j * (IDLE_NODES - 2) / (_FINE - 1))
        put_node(line, bed, bow_m, -idle_m * (1.0 - fine[0, j]), row, out, node)
        fine[1, j], fine[2, j] = node[T_X], node[T_H]
        if not (out[TOUCHDOWN] <= known_m and math.isfinite(node[T_X])):
            return
        if j > 0 and not (fine[1, j] > fine[1, j - 1] and fine[2, j] > fine[2, j - 1]):
            return
    spread_out(fine, share)


@lean_kernel
def idle_nodes(
    line: Pieces,
    bed: Bed,
    known_m: float,
    bow_m: float,
    share: Floats,
    row: Floats,
    out: Floats,
    node: Floats,
) -> bool:
    """The nodes from slack up to where no chain lies idle; False where there are none."""
    idle_m = idle_when_slack(line, bed, bow_m)
    if math.isnan(idle_m):
        return False
    slack_m, _ = along_bed(bed, idle_m)
    rise_m = bow_m - bed_level(bed, 0.0)
    node[0, :] = 0.0
    node[0, T_X], node[0, T_BOTTOM] = math.sqrt(slack_m**2 + rise_m**2), idle_m
    for k in range(1, IDLE_NODES):
        put_node(line, bed, bow_m, -idle_m * (1.0 - share[k]), row, out, node[k])
        if out[TOUCHDOWN] > known_m:
            return False
    return True


@lean_kernel
def pulling_nodes(
    line: Pieces, bed: Bed, known_m: float, bow_m: float, row: Floats, out: Floats, node: Floats
) -> None:
    """The nodes with a pull at the shank; NaN where the bed is unknown."""
    lift_n, free_n = lift_and_free_n(line, bed, bow_m, row, out)
    for k in range(IDLE_NODES, NODES):
        put_node(line, bed, bow_m, shank_pull_n(k, lift_n, free_n), row, out, node[k])
        if out[TOUCHDOWN] > known_m:
            node[k] = math.nan


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
            for c in range(NODE_COLUMNS):
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


@kernel
def rode_nodes(
    line: Pieces, bed: Bed, known_m: float, bow_m: float, share: Floats, node: Floats
) -> None:
    """Fill nodes (node, column) of a rode for a height of its roller; NaN where unknown.

    share : array (IDLE_NODES,), of idle chain taken up at each of the first nodes.
    """
    row, out = marching_room(line, bed)
    if idle_nodes(line, bed, known_m, bow_m, share, row, out, node):
        pulling_nodes(line, bed, known_m, bow_m, row, out, node)
        bridged(node)
        slopes(node)
    else:
        node[:] = math.nan


@lean_kernel
def leaving_pull_n(line: Pieces, cleat_m: float, point_m: float) -> float:
    """Level pull at which the whole line has left the water, within the table. [N]"""
    low, high = math.log(2.0 * _LEAST_WET_N), math.log(0.5 * _MOST_N)
    for _ in range(34):
        mid = 0.5 * (low + high)
        h_n = math.exp(mid)
        wet = reach(h_n, line, cleat_m, point_m)[3] > 0.0
        if wet or lies_at(h_n, line, cleat_m, point_m)[1] < 0.0:
            low = mid
        else:
            high = mid
    return math.exp(0.5 * (low + high))


@lean_kernel
def level_pull_n(k: int, leaves_n: float) -> float:
    """Level pull of node ``k`` of a line that leaves the water at ``leaves_n``. [N]

    Just below and just above that pull are two nodes: the slope may leap there.
    """
    if k == 0:
        return _SIDE
    if k < _WET_NODES:
        part = (k - 1) / (_WET_NODES - 2)
        return float(_LEAST_WET_N * (leaves_n * (1.0 - _SIDE) / _LEAST_WET_N) ** part)
    part = (k - _WET_NODES) / (NODES - 1 - _WET_NODES)
    dry_n = leaves_n * (1.0 + _SIDE)
    return float(dry_n * (_MOST_N / dry_n) ** part)


@lean_kernel
def shore_nodes(line: Pieces, cleat_m: float, point_m: float, node: Floats) -> None:
    """Fill nodes (node, column) of a shore line between two heights above the water."""
    rise_m = point_m - cleat_m
    leaves_n = leaving_pull_n(line, cleat_m, point_m)
    for k in range(NODES):
        h_n = level_pull_n(k, leaves_n)
        x_m, v0_n, v1_n, floats_m = reach(h_n, line, cleat_m, point_m)
        chord_m = math.sqrt(x_m * x_m + rise_m * rise_m)
        node[k, T_X], node[k, T_H], node[k, T_DOWN] = chord_m, h_n * chord_m / x_m, -v0_n
        node[k, T_ANCHOR] = math.sqrt(h_n * h_n + v1_n * v1_n)
        node[k, T_UPLIFT], node[k, T_BOTTOM] = 0.0, floats_m
        # a slope of its own side of where it leaves the water
        other_n = h_n * (1.0 + (1e-5 if k >= _WET_NODES else -1e-5))
        other_m = reach(other_n, line, cleat_m, point_m)[0]
        wide_m = math.sqrt(other_m * other_m + rise_m * rise_m) - chord_m
        gain_n = other_n * (chord_m + wide_m) / other_m - node[k, T_H]
        node[k, T_SLOPE] = 0.0 if k == 0 else max(0.0, gain_n / wide_m)
