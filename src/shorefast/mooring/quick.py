"""The quick path of a batch: Newton's method beside a rest, on flat arrays.

What is asked millions of times stands here by itself: numbers in and out, a few plain
arrays, nothing made on the way. Anything but a short, sure way to a stable rest is left
to ``rest.come_to_rest``.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from shorefast.compiled import hot_kernel, kernel
from shorefast.mooring.cells import (
    HINT_COLUMNS,
    Q_COUNT,
    Q_EAST,
    Q_NORTH,
    Q_ROW,
    Q_X,
    Q_Y,
    W_GAIN,
    W_PULL,
    W_SHARE,
    W_WIDE,
    W_X,
    WORK_COLUMNS,
    Cells,
    Water,
    look_up,
)
from shorefast.mooring.shapes import Floats, Ints

# columns of a line's state at a rest
L_PULL, L_DOWN, L_TENSION, L_FAR, L_UPLIFT, L_LYING, L_DISTANCE, L_BEARING = range(8)
LINE_COLUMNS = 8
WIND_ANGLES = 2881
_TURN = 2.0 * math.pi
_PER_RAD = (WIND_ANGLES - 1) / _TURN
_MOST_NEAR = 8
_NEAR_M, _NEAR_RAD = 0.8, 0.08
# a step shorter than this no longer matters
_SETTLED_M = 5e-4
# a stable rest has a ratio over 1 of what damps a sheer to what feeds it, mostly over 9;
# below this the tables' own error could turn it
_FIRM = 1.03
# which of what is told at a node goes to which of a line's state
_DOWN, _FAR, _UPLIFT, _LYING = range(4)


class Air(NamedTuple):
    """A wind [rad, and density times speed squared in Pa] beside a steady load.

    steady : east and north [N], moment clockwise [N m].
    """

    from_rad: float
    wind_pa: float
    steady: tuple[float, float, float]


class Near(NamedTuple):
    """What Newton's method keeps at hand: arrays of its own, one set to a thread.

    k (3, 3) stiffness; q (5,) east, north, heading, its sine and cosine;
    work (line, W_*) and hint (line, 2) of the look-ups; force (3,) and stiff (3, 3)
    of damped motion.
    """

    k: Floats
    q: Floats
    work: Floats
    hint: Ints
    force: Floats
    stiff: Floats


@kernel
def fresh_near(lines: int) -> Near:
    """What a solve keeps at hand, for so many lines."""
    hint = np.zeros((lines, HINT_COLUMNS), np.int64)
    work = np.zeros((lines, WORK_COLUMNS))
    return Near(np.zeros((3, 3)), np.zeros(5), work, hint, np.zeros(3), np.zeros((3, 3)))


@hot_kernel
def put_at(q: Floats, east_m: float, north_m: float, heading_rad: float) -> None:
    """Set place, heading, and the heading's sine and cosine."""
    q[0], q[1], q[2] = east_m, north_m, heading_rad
    q[3], q[4] = math.sin(heading_rad), math.cos(heading_rad)


@hot_kernel
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


@hot_kernel
def balance(
    cells: Cells, active: Floats, wind: Floats, water: Water, air: Air, near: Near
) -> tuple[float, float, float]:
    """East, north and turning force at ``near.q``; fills the stiffness -dF/dq."""
    spec, q, k = cells.spec, near.q, near.k
    sine, cosine = q[3], q[4]
    wind_pa = air.wind_pa
    fx, fy, n, gx, gy, gn = wind_near(wind, air.from_rad - q[2])
    fe, fn = wind_pa * (fx * sine + fy * cosine), wind_pa * (fx * cosine - fy * sine)
    k02, k12 = wind_pa * (gx * sine + gy * cosine) - fn, wind_pa * (gx * cosine - gy * sine) + fe
    k22 = wind_pa * gn
    f0, f1, f2 = air.steady[0] + fe, air.steady[1] + fn, air.steady[2] + wind_pa * n
    k00 = k01 = k10 = k11 = k20 = k21 = 0.0
    for i in range(spec.shape[0]):
        if active[i] == 0.0:
            continue
        off_e = spec[i, Q_X] * sine + spec[i, Q_Y] * cosine
        off_n = spec[i, Q_X] * cosine - spec[i, Q_Y] * sine
        de, dn = spec[i, Q_EAST] - q[0] - off_e, spec[i, Q_NORTH] - q[1] - off_n
        h_n, s_npm, turns = look_up(cells, water, near.hint, i, de, dn, near.work)
        if h_n == 0.0:
            continue
        one = 1.0 / near.work[i, W_X]
        ue, un = de * one, dn * one
        fe, fn = h_n * ue, h_n * un
        side, across = h_n * one, turns * one
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


@hot_kernel
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


@hot_kernel
def is_firm(k: Floats, arm2_m2: float) -> bool:
    """Whether a rest is stable by more than the error of a table (Routh and Hurwitz)."""
    c00 = k[1, 1] * k[2, 2] - k[1, 2] * k[2, 1]
    c11 = k[0, 0] * k[2, 2] - k[0, 2] * k[2, 0]
    c22 = k[0, 0] * k[1, 1] - k[0, 1] * k[1, 0]
    c01 = k[1, 2] * k[2, 0] - k[1, 0] * k[2, 2]
    c02 = k[1, 0] * k[2, 1] - k[1, 1] * k[2, 0]
    det = k[0, 0] * c00 + k[0, 1] * c01 + k[0, 2] * c02
    trace = k[0, 0] + k[1, 1] + k[2, 2] / arm2_m2
    minors = c22 + (c11 + c00) / arm2_m2
    return bool(trace > 0.0 and det > 0.0 and trace * minors * arm2_m2 > _FIRM * det)


@hot_kernel
def shift(q: Floats, de_m: float, dn_m: float, turn_rad: float) -> None:
    """Move ``q`` by a small step; sine and cosine turn with the heading."""
    q[0] += de_m
    q[1] += dn_m
    q[2] += turn_rad
    t2 = turn_rad * turn_rad
    sine = turn_rad * (1.0 - t2 * (1.0 / 6.0 - t2 * (1.0 / 120.0 - t2 / 5040.0)))
    cosine = 1.0 - t2 * (0.5 - t2 * (1.0 / 24.0 - t2 * (1.0 / 720.0 - t2 / 40320.0)))
    q[3], q[4] = q[3] * cosine + q[4] * sine, q[4] * cosine - q[3] * sine


@hot_kernel
def is_short(de_m: float, dn_m: float, turn_rad: float) -> bool:
    """Whether a step is short enough to be trusted; a NaN is not."""
    return de_m * de_m + dn_m * dn_m < _NEAR_M * _NEAR_M and abs(turn_rad) < _NEAR_RAD


@hot_kernel
def go_with_the_wind(wind: Floats, before: Air, air: Air, near: Near, arm2_m2: float) -> None:
    """Move ``near.q`` as the stiffness it had says the change of wind will move her."""
    q = near.q
    fx0, fy0, n0, _, _, _ = wind_near(wind, before.from_rad - q[2])
    fx, fy, n, _, _, _ = wind_near(wind, air.from_rad - q[2])
    ahead = air.wind_pa * fx - before.wind_pa * fx0
    aside = air.wind_pa * fy - before.wind_pa * fy0
    f = (
        ahead * q[3] + aside * q[4],
        ahead * q[4] - aside * q[3],
        air.wind_pa * n - before.wind_pa * n0,
    )
    stable, de, dn, turn = newton_step(near.k, f, arm2_m2)
    if stable and is_short(de, dn, turn):
        shift(q, de, dn, turn)


@hot_kernel
def come_near(
    cells: Cells,
    active: Floats,
    wind: Floats,
    water: Water,
    air: Air,
    near: Near,
    arm_m: float,
    within_n: float,
) -> bool:
    """Newton's method from beside a rest; False if ``near.q`` is not beside one.

    Only short steps with fast falling forces are trusted, and only a stable rest counts.
    """
    arm2_m2 = arm_m * arm_m
    size_n = math.inf
    for _ in range(_MOST_NEAR):
        f = balance(cells, active, wind, water, air, near)
        now_n = math.sqrt(f[0] * f[0] + f[1] * f[1] + f[2] * f[2] / arm2_m2)
        stable, de, dn, turn = newton_step(near.k, f, arm2_m2)
        if now_n < within_n and de * de + dn * dn < _SETTLED_M * _SETTLED_M:
            return stable and is_firm(near.k, arm2_m2)
        if not (is_short(de, dn, turn) and now_n < 0.5 * size_n):
            return False
        size_n = now_n
        shift(near.q, de, dn, turn)
    return False


@hot_kernel
def told_between(told: Floats, water: Water, row: int, n: int, part: float, column: int) -> float:
    """What one row tells between node ``n`` and the next, at a water level."""
    low, high, up = water.below, water.above, water.share
    a = told[low, row, n, column] + up * (told[high, row, n, column] - told[low, row, n, column])
    m = n + 1
    b = told[low, row, m, column] + up * (told[high, row, m, column] - told[low, row, m, column])
    return float(a + part * (b - a))


@hot_kernel
def tell_line(cells: Cells, water: Water, near: Near, i: int, out: Floats) -> None:
    """Fill ``out`` (L_*) of a line that pulls, from its last look-up.

    Beside distance and pull all follows the share of pull within the cell.
    """
    told, work, n = cells.told, near.work, near.hint[i, 0]
    two = cells.spec[i, Q_COUNT] > 1.0
    row = near.hint[i, 1] if two else int(cells.spec[i, Q_ROW])
    part = work[i, W_GAIN] / work[i, W_WIDE]
    down = told_between(told, water, row, n, part, _DOWN)
    far = told_between(told, water, row, n, part, _FAR)
    uplift = told_between(told, water, row, n, part, _UPLIFT)
    lying = told_between(told, water, row, n, part, _LYING)
    if two:
        share = work[i, W_SHARE]
        down += share * (told_between(told, water, row + 1, n, part, _DOWN) - down)
        far += share * (told_between(told, water, row + 1, n, part, _FAR) - far)
        uplift += share * (told_between(told, water, row + 1, n, part, _UPLIFT) - uplift)
        lying += share * (told_between(told, water, row + 1, n, part, _LYING) - lying)
    h_n = work[i, W_PULL]
    out[L_PULL], out[L_DOWN], out[L_TENSION] = h_n, down, math.sqrt(h_n * h_n + down * down)
    out[L_FAR], out[L_UPLIFT], out[L_LYING] = far, uplift, lying


@hot_kernel
def tell_lines(cells: Cells, active: Floats, water: Water, near: Near, out: Floats) -> None:
    """Fill out (line, column) with every line's state at a rest just balanced."""
    spec, q = cells.spec, near.q
    for i in range(spec.shape[0]):
        de = spec[i, Q_EAST] - q[0] - spec[i, Q_X] * q[3] - spec[i, Q_Y] * q[4]
        dn = spec[i, Q_NORTH] - q[1] - spec[i, Q_X] * q[4] + spec[i, Q_Y] * q[3]
        out[i, L_DISTANCE] = math.sqrt(de * de + dn * dn)
        out[i, L_BEARING] = math.atan2(de, dn)
        if active[i] != 0.0 and near.work[i, W_PULL] > 0.0:
            tell_line(cells, water, near, i, out[i])
            continue
        out[i, :L_DISTANCE] = 0.0
        if active[i] != 0.0:
            row = near.hint[i, 1] if spec[i, Q_COUNT] > 1.0 else int(spec[i, Q_ROW])
            out[i, L_LYING] = told_between(cells.told, water, row, 0, 0.0, _LYING)
