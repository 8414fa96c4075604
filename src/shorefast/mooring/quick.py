"""The quick path of a batch: Newton's method beside a rest, on flat arrays.

What is asked millions of times stands here by itself: numbers in and out, a few plain
arrays, nothing made on the way. Anything but a short, sure way to a stable rest is left
to ``rest.come_to_rest``.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from shorefast.compiled import kernel
from shorefast.mooring.line_tables import (
    NODES,
    T_ANCHOR,
    T_BOTTOM,
    T_DOWN,
    T_H,
    T_SLOPE,
    T_UPLIFT,
    T_X,
    LineTables,
)
from shorefast.mooring.response import grid_level
from shorefast.mooring.scene import Packed
from shorefast.mooring.shapes import Floats, Ints

# columns of a line's plain numbers
Q_RODE, Q_X, Q_Y, Q_EAST, Q_NORTH, Q_ROW, Q_COUNT, Q_MIDDLE, Q_HALF, Q_STEP = range(10)
Q_Z, Q_FAR = 10, 11
SPEC_COLUMNS = 12
# columns of a line's state at a rest
L_PULL, L_DOWN, L_TENSION, L_FAR, L_UPLIFT, L_LYING, L_DISTANCE, L_BEARING = range(8)
LINE_COLUMNS = 8
WIND_ANGLES = 2881
# which column of a node goes to which of a line's state
_TOLD = ((T_DOWN, L_DOWN), (T_ANCHOR, L_FAR), (T_UPLIFT, L_UPLIFT), (T_BOTTOM, L_LYING))
_TURN = 2.0 * math.pi
_PER_RAD = (WIND_ANGLES - 1) / _TURN
_MOST_NEAR = 8
_NEAR_M, _NEAR_RAD = 0.8, 0.08


def plain_lines(lines: Packed, tables: LineTables) -> Floats:
    """The lines' plain numbers, array (line, column)."""
    half = 0.5 * tables.bearing_step_rad * (tables.bearings - 1)
    columns = (
        lines.rode,
        lines.x_m,
        lines.y_m,
        lines.east_m,
        lines.north_m,
        tables.row_from,
        tables.bearings,
        tables.bearing_from_rad + half,
        half,
        tables.bearing_step_rad,
        lines.z_m,
        [far_level_m(lines, i) for i in range(lines.rode.shape[0])],
    )
    return np.ascontiguousarray(np.stack([np.asarray(c, float) for c in columns], axis=1))


class Cell(NamedTuple):
    """Where a look-up lands: levels and rows below and above, with the upper one's share."""

    level: int
    level_above: int
    level_share: float
    row: int
    row_above: int
    row_share: float


class Water(NamedTuple):
    """A water level [m] among those of the tables: below, above, share of the upper one."""

    level_m: float
    below: int
    above: int
    share: float


@kernel
def level_cell(levels: Floats, level_m: float) -> Water:
    """Levels below and above a water level, and the share of the upper one; held at the ends."""
    count = levels.shape[0]
    if count < 2:
        return Water(level_m, 0, 0, 0.0)
    at = (level_m - levels[0]) / (levels[1] - levels[0])
    at = min(max(at, 0.0), count - 1.0)
    k = min(int(at), count - 2)
    return Water(level_m, k, k + 1, at - k)


@kernel
def far_level_m(lines: Packed, i: int) -> float:
    """Level of a line's far end: the bed at the anchor, or the point ashore. [m]"""
    if lines.rode[i] == 0:
        return float(lines.level_m[i])
    if math.isnan(lines.plane[i, 0]):
        return grid_level(lines, lines.east_m[i], lines.north_m[i])
    return float(lines.plane[i, 0])


@kernel
def rise_of(spec: Floats, i: int, level_m: float) -> float:
    """How far the line's upper end is above its lower one, or below. [m]"""
    if spec[i, Q_RODE] == 1.0:
        return float(level_m + spec[i, Q_Z] - spec[i, Q_FAR])
    return float(max(0.0, spec[i, Q_FAR] - level_m) - spec[i, Q_Z])


@kernel
def at_node(node: Floats, cell: Cell, n: int, column: int) -> float:
    """One column of one node between two levels and two rows."""
    k, k1, a, b = cell.level, cell.level_above, cell.row, cell.row_above
    low, high = node[k, a, n, column], node[k1, a, n, column]
    value = low + cell.level_share * (high - low)
    if a != b:
        low, high = node[k, b, n, column], node[k1, b, n, column]
        value += cell.row_share * (low + cell.level_share * (high - low) - value)
    return float(value)


@kernel
def across_rows(node: Floats, cell: Cell, n: int, column: int) -> float:
    """How much one column of one node gains from the lower row to the upper."""
    k, k1, a, b = cell.level, cell.level_above, cell.row, cell.row_above
    low, high = (
        node[k, b, n, column] - node[k, a, n, column],
        node[k1, b, n, column] - node[k1, a, n, column],
    )
    return float(low + cell.level_share * (high - low))


@kernel
def cell_for(spec: Floats, water: Water, i: int, bearing_rad: float) -> Cell:
    """The cell of line ``i`` on a bearing, held at the fan's ends."""
    row = int(spec[i, Q_ROW])
    count = int(spec[i, Q_COUNT])
    if count < 2:
        return Cell(water.below, water.above, water.share, row, row, 0.0)
    turn = bearing_rad - spec[i, Q_MIDDLE]
    turn -= _TURN * math.floor(turn / _TURN + 0.5)
    at = min(max((turn + spec[i, Q_HALF]) / spec[i, Q_STEP], 0.0), count - 1.0)
    j = min(int(at), count - 2)
    return Cell(water.below, water.above, water.share, row + j, row + j + 1, at - j)


@kernel
def walk_to(node: Floats, cell: Cell, x_m: float, n: int) -> tuple[int, float, float]:
    """Node below ``x_m``, walked to from node ``n``, and the chords there and above.

    The node is -1 where slack, -2 where unknown or beyond.
    """
    low = at_node(node, cell, n, T_X)
    high = at_node(node, cell, n + 1, T_X)
    while x_m < low:
        if n == 0:
            return -1, low, high
        n -= 1
        low, high = at_node(node, cell, n, T_X), low
    while x_m >= high:
        if n == NODES - 2:
            return -2, low, high
        n += 1
        low, high = high, at_node(node, cell, n + 1, T_X)
    # an unknown chord is neither below nor above
    return (n if low <= x_m < high else -2), low, high


@kernel
def pull_in(
    spec: Floats, node: Floats, water: Water, hint: Ints, i: int, x_m: float, bearing_rad: float
) -> tuple[float, float, float]:
    """Level pull, stiffness, and pull gained a radian of bearing; NaN where unknown.

    node : tables (level, row, node, column); hint (line,) keeps each line's
    node from one look-up to the next. A cubic through pull and slope at two nodes.
    """
    cell = cell_for(spec, water, i, bearing_rad)
    rise_m = rise_of(spec, i, water.level_m)
    d_m = math.sqrt(x_m * x_m + rise_m * rise_m)
    n, x0_m, x1_m = walk_to(node, cell, d_m, hint[i])
    if n < 0:
        told = 0.0 if n == -1 else math.nan
        return told, told, told
    hint[i] = n
    h0_n, h1_n = at_node(node, cell, n, T_H), at_node(node, cell, n + 1, T_H)
    wide_m = x1_m - x0_m
    most = 3.0 * (h1_n - h0_n)
    t = (d_m - x0_m) / wide_m
    # slopes below nothing or beyond three times the chord would let the cubic overshoot
    s0 = max(0.0, min(at_node(node, cell, n, T_SLOPE) * wide_m, most))
    s1 = max(0.0, min(at_node(node, cell, n + 1, T_SLOPE) * wide_m, most))
    c = 2.0 * (h0_n - h1_n) + s0 + s1
    d = 3.0 * (h1_n - h0_n) - 2.0 * s0 - s1
    slope = ((3.0 * c * t + 2.0 * d) * t + s0) / wide_m
    turns = 0.0
    if cell.row != cell.row_above:
        dx = across_rows(node, cell, n, T_X)
        dx += t * (across_rows(node, cell, n + 1, T_X) - dx)
        dh = across_rows(node, cell, n, T_H)
        dh += t * (across_rows(node, cell, n + 1, T_H) - dh)
        turns = (dh - slope * dx) / spec[i, Q_STEP]
    along_n = ((c * t + d) * t + s0) * t + h0_n
    level = x_m / d_m
    # the pull along the chord turned to the level, and so its change
    stiff = slope * level * level + along_n * rise_m * rise_m / (d_m * d_m * d_m)
    return along_n * level, stiff, turns * level


@kernel
def wind_near(wind: Floats, off_rad: float) -> tuple[float, float, float, float, float, float]:
    """Forces of 1 m/s at an angle off the bow, density 1, and their slopes a radian."""
    turn = off_rad / _TURN + 0.5
    at = (turn - math.floor(turn)) * (WIND_ANGLES - 1)
    i = min(int(at), WIND_ANGLES - 2)
    share = at - i
    dx, dy = wind[i + 1, 0] - wind[i, 0], wind[i + 1, 1] - wind[i, 1]
    dn = wind[i + 1, 2] - wind[i, 2]
    fx, fy, n = wind[i, 0] + share * dx, wind[i, 1] + share * dy, wind[i, 2] + share * dn
    return fx, fy, n, dx * _PER_RAD, dy * _PER_RAD, dn * _PER_RAD


@kernel
def balance(
    spec: Floats,
    active: Floats,
    node: Floats,
    water: Water,
    wind: Floats,
    hint: Ints,
    steady: Floats,
    wind_pa: float,
    from_rad: float,
    q: tuple[float, float, float],
    k: Floats,
) -> tuple[float, float, float]:
    """East, north and turning force at ``q``; fills the stiffness -dF/dq in ``k``.

    ``steady`` is (east, north, moment); ``wind_pa`` density times speed squared.
    """
    e_m, n_m, psi = q
    sine, cosine = math.sin(psi), math.cos(psi)
    fx, fy, n, gx, gy, gn = wind_near(wind, from_rad - psi)
    fe, fn = wind_pa * (fx * sine + fy * cosine), wind_pa * (fx * cosine - fy * sine)
    k02, k12 = wind_pa * (gx * sine + gy * cosine) - fn, wind_pa * (gx * cosine - gy * sine) + fe
    k22 = wind_pa * gn
    f0, f1, f2 = steady[0] + fe, steady[1] + fn, steady[2] + wind_pa * n
    k00 = k01 = k10 = k11 = k20 = k21 = 0.0
    for i in range(spec.shape[0]):
        if active[i] == 0.0:
            continue
        off_e = spec[i, Q_X] * sine + spec[i, Q_Y] * cosine
        off_n = spec[i, Q_X] * cosine - spec[i, Q_Y] * sine
        de, dn = spec[i, Q_EAST] - e_m - off_e, spec[i, Q_NORTH] - n_m - off_n
        x_m = math.sqrt(de * de + dn * dn)
        bearing_rad = math.atan2(-de, -dn) if spec[i, Q_COUNT] > 1.0 else 0.0
        h_n, s_npm, turns = pull_in(spec, node, water, hint, i, x_m, bearing_rad)
        if h_n == 0.0:
            continue
        ue, un = de / x_m, dn / x_m
        fe, fn = h_n * ue, h_n * un
        side, across = h_n / x_m, turns / x_m
        aee = s_npm * ue * ue + side * un * un + across * ue * un
        aen = (s_npm - side) * ue * un - across * ue * ue
        ane = (s_npm - side) * ue * un + across * un * un
        ann = s_npm * un * un + side * ue * ue - across * un * ue
        # the body point moves by its offset turned a quarter as she turns
        ate, atn = aee * off_n - aen * off_e, ane * off_n - ann * off_e
        f0 += fe
        f1 += fn
        f2 += fe * off_n - fn * off_e
        k00 += aee
        k01 += aen
        k10 += ane
        k11 += ann
        k02 += ate
        k12 += atn
        k20 += off_n * aee - off_e * ane
        k21 += off_n * aen - off_e * ann
        k22 += off_n * ate - off_e * atn + fe * off_e + fn * off_n
    k[0, 0], k[0, 1], k[0, 2] = k00, k01, k02
    k[1, 0], k[1, 1], k[1, 2] = k10, k11, k12
    k[2, 0], k[2, 1], k[2, 2] = k20, k21, k22
    return f0, f1, f2


@kernel
def newton_step(
    k: Floats, f: tuple[float, float, float], arm2_m2: float
) -> tuple[bool, float, float, float]:
    """Whether the stiffness is stable (Routh and Hurwitz), and the step that ends all force."""
    c00 = k[1, 1] * k[2, 2] - k[1, 2] * k[2, 1]
    c01 = k[1, 2] * k[2, 0] - k[1, 0] * k[2, 2]
    c02 = k[1, 0] * k[2, 1] - k[1, 1] * k[2, 0]
    c11 = k[0, 0] * k[2, 2] - k[0, 2] * k[2, 0]
    c22 = k[0, 0] * k[1, 1] - k[0, 1] * k[1, 0]
    det = k[0, 0] * c00 + k[0, 1] * c01 + k[0, 2] * c02
    trace = k[0, 0] + k[1, 1] + k[2, 2] / arm2_m2
    minors = c22 + (c11 + c00) / arm2_m2
    stable = trace > 0.0 and det > 0.0 and trace * minors * arm2_m2 > det
    c10 = k[0, 2] * k[2, 1] - k[0, 1] * k[2, 2]
    c20 = k[0, 1] * k[1, 2] - k[0, 2] * k[1, 1]
    c12 = k[0, 1] * k[2, 0] - k[0, 0] * k[2, 1]
    c21 = k[0, 2] * k[1, 0] - k[0, 0] * k[1, 2]
    de = (f[0] * c00 + f[1] * c10 + f[2] * c20) / det
    dn = (f[0] * c01 + f[1] * c11 + f[2] * c21) / det
    turn = (f[0] * c02 + f[1] * c12 + f[2] * c22) / det
    return stable, de, dn, turn


@kernel
def come_near(
    spec: Floats,
    active: Floats,
    node: Floats,
    water: Water,
    wind: Floats,
    hint: Ints,
    steady: Floats,
    wind_pa: float,
    from_rad: float,
    arm_m: float,
    within_n: float,
    q: Floats,
    k: Floats,
) -> bool:
    """Newton's method from beside a rest; False, and ``q`` as it was, if it is not beside one.

    Only short steps with fast falling forces are trusted, and only a stable rest counts.
    """
    at = (q[0], q[1], q[2])
    arm2_m2 = arm_m * arm_m
    size_n = math.inf
    for _ in range(_MOST_NEAR):
        f = balance(spec, active, node, water, wind, hint, steady, wind_pa, from_rad, at, k)
        now_n = math.sqrt(f[0] * f[0] + f[1] * f[1] + f[2] * f[2] / arm2_m2)
        stable, de, dn, turn = newton_step(k, f, arm2_m2)
        if now_n < within_n:
            if stable:
                q[0], q[1], q[2] = at
            return stable
        near = de * de + dn * dn < _NEAR_M * _NEAR_M and abs(turn) < _NEAR_RAD
        if not (near and now_n < 0.5 * size_n):
            return False
        size_n = now_n
        at = (at[0] + de, at[1] + dn, at[2] + turn)
    return False


@kernel
def lines_at(
    spec: Floats, active: Floats, node: Floats, water: Water, hint: Ints, q: Floats, out: Floats
) -> None:
    """Fill out (line, column) with every line's pulls at a rest.

    Beside distance and pull they follow the share of pull within the cell.
    """
    sine, cosine = math.sin(q[2]), math.cos(q[2])
    for i in range(spec.shape[0]):
        de = spec[i, Q_EAST] - q[0] - spec[i, Q_X] * sine - spec[i, Q_Y] * cosine
        dn = spec[i, Q_NORTH] - q[1] - spec[i, Q_X] * cosine + spec[i, Q_Y] * sine
        x_m = math.sqrt(de * de + dn * dn)
        bearing_rad = math.atan2(-de, -dn)
        out[i, :] = 0.0
        out[i, L_DISTANCE] = x_m
        out[i, L_BEARING] = bearing_rad + math.pi if bearing_rad <= 0.0 else bearing_rad - math.pi
        if active[i] == 0.0:
            continue
        h_n, _, _ = pull_in(spec, node, water, hint, i, x_m, bearing_rad)
        cell = cell_for(spec, water, i, bearing_rad)
        if not h_n > 0.0:
            out[i, :L_DISTANCE] = h_n
            if h_n == 0.0:
                out[i, L_LYING] = at_node(node, cell, 0, T_BOTTOM)
            continue
        n = hint[i]
        h0_n, h1_n = at_node(node, cell, n, T_H), at_node(node, cell, n + 1, T_H)
        rise_m = rise_of(spec, i, water.level_m)
        along_n = h_n * math.sqrt(1.0 + (rise_m / x_m) ** 2)
        part = (along_n - h0_n) / (h1_n - h0_n)
        for column, to in _TOLD:
            one = at_node(node, cell, n, column)
            out[i, to] = one + part * (at_node(node, cell, n + 1, column) - one)
        out[i, L_PULL] = h_n
        out[i, L_TENSION] = math.sqrt(h_n * h_n + out[i, L_DOWN] * out[i, L_DOWN])
