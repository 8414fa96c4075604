"""Her motion in a gusty wind: surge, sway and yaw in time, on the lines' own tables.

Body axes: x forward, y to starboard, turning clockwise from above. Lines pull as they
would at rest where she is (their own mass and drag are left out); the wind pushes by her
wind form as it meets her moving; the water drags by strips along her hull; a stated
linear damping takes a share of critical from each of her own swings. Waves, and how a
current's push changes as she moves, are left out.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from shorefast.compiled import hot_kernel, kernel, lean_kernel
from shorefast.mooring.cells import (
    Q_EAST,
    Q_NORTH,
    Q_X,
    Q_Y,
    W_PULL,
    W_X,
    Cells,
    Water,
    level_cell,
    look_up,
)
from shorefast.mooring.quick import (
    Air,
    Near,
    balance,
    fresh_near,
    put_at,
    shift,
    tell_lines,
    wind_near,
)
from shorefast.mooring.rest import FOUND, LEFT, UNKNOWN, Boat, Load
from shorefast.mooring.shapes import Floats, Ints

# columns of a run's plain numbers
R_LEVEL, R_FROM, R_MEAN, R_SPREAD, R_FIRST, R_COUNTED, R_LAST = range(7)
RUN_COLUMNS = 7
# columns of a trace: place and heading, speeds along, across, turning, wind it met
TRACE_COLUMNS = 8


class Moving(NamedTuple):
    """How she moves through water.

    surge_kg, sway_kg, yaw_kgm2 : what must be moved, added water included
    along_kgpm : drag along her, N for (m/s)2
    strip : array (strip, 2), place forward of midships [m] and drag across, N for (m/s)2
    """

    surge_kg: float
    sway_kg: float
    yaw_kgm2: float
    along_kgpm: float
    strip: Floats


class Winds(NamedTuple):
    """Shapes of gusty winds: array (shape, time, 2), along and across, every so many seconds.

    A shape goes round: after its last moment comes its first.
    """

    shape: Floats
    every_s: float


class Motion(NamedTuple):
    """What a run keeps at hand: speeds and accelerations (3,) each, along, across, turning."""

    speed: Floats
    gain: Floats


class Peaks(NamedTuple):
    """What a run leaves: at each line's greatest pull, and at the greatest sum of all.

    q (moment, 3); line (moment, line, column) as at a rest; most (moment,) chord pulls [N];
    trace (step, TRACE_COLUMNS), as many steps as it has rows for.
    """

    q: Floats
    line: Floats
    most: Floats
    trace: Floats


@hot_kernel
def wind_from(winds: Winds, which: int, run: Floats, t_s: float) -> tuple[float, float]:
    """East and north of where the wind comes from, its speed long. [m/s]"""
    count = winds.shape.shape[1]
    at = t_s / winds.every_s
    k = int(at)
    share = at - k
    k %= count
    n = k + 1 if k + 1 < count else 0
    s = winds.shape
    along = s[which, k, 0] + share * (s[which, n, 0] - s[which, k, 0])
    across = s[which, k, 1] + share * (s[which, n, 1] - s[which, k, 1])
    along, across = run[R_MEAN] + run[R_SPREAD] * along, run[R_SPREAD] * across
    sine, cosine = math.sin(run[R_FROM]), math.cos(run[R_FROM])
    return along * sine + across * cosine, along * cosine - across * sine


@hot_kernel
def line_forces(
    cells: Cells, active: Floats, water: Water, near: Near
) -> tuple[float, float, float]:
    """East, north and turning force of all lines at ``near.q``."""
    spec, q = cells.spec, near.q
    sine, cosine = q[3], q[4]
    f0 = f1 = f2 = 0.0
    for i in range(spec.shape[0]):
        if active[i] == 0.0:
            continue
        off_e = spec[i, Q_X] * sine + spec[i, Q_Y] * cosine
        off_n = spec[i, Q_X] * cosine - spec[i, Q_Y] * sine
        de, dn = spec[i, Q_EAST] - q[0] - off_e, spec[i, Q_NORTH] - q[1] - off_n
        h_n, _, _ = look_up(cells, water, near.hint, i, de, dn, near.work)
        if h_n == 0.0:
            continue
        one = h_n / near.work[i, W_X]
        fe, fn = de * one, dn * one
        f0 += fe
        f1 += fn
        f2 += fe * off_n - fn * off_e
    return f0, f1, f2


@hot_kernel
def water_drag(
    moving: Moving, damp: Floats, u: float, v: float, r: float
) -> tuple[float, float, float]:
    """Drag of the water along, across and turning, at her own speeds, and damping by ``damp``."""
    across = turning = 0.0
    strip = moving.strip
    for i in range(strip.shape[0]):
        there = v + strip[i, 0] * r
        part = strip[i, 1] * there * abs(there)
        across += part
        turning += strip[i, 0] * part
    return (
        -moving.along_kgpm * u * abs(u) - damp[0, 0] * u - damp[0, 1] * v - damp[0, 2] * r,
        -across - damp[1, 0] * u - damp[1, 1] * v - damp[1, 2] * r,
        -turning - damp[2, 0] * u - damp[2, 1] * v - damp[2, 2] * r,
    )


@hot_kernel
def gains(
    boat: Boat,
    moving: Moving,
    damp: Floats,
    active: Floats,
    water: Water,
    extra: Load,
    blow: tuple[float, float],
    speed: tuple[float, float, float],
    near: Near,
    gain: Floats,
) -> None:
    """Fill what each speed gains a second, at ``near.q`` and the speeds given.

    Source
    ------
    fossen-2021, ch. 6: rigid body and added mass in body axes, with the turning of the axes.
    """
    u, v, r = speed
    f0, f1, f2 = line_forces(boat.cells, active, water, near)
    f0, f1, f2 = f0 + extra.east_n, f1 + extra.north_n, f2 + extra.moment_npm
    sine, cosine = near.q[3], near.q[4]
    ahead = blow[0] * sine + blow[1] * cosine + u
    aside = blow[0] * cosine - blow[1] * sine + v
    wx, wy, wn, _, _, _ = wind_near(boat.wind, math.atan2(aside, ahead))
    pa = extra.density_kgpm3 * (ahead * ahead + aside * aside)
    dx, dy, dn = water_drag(moving, damp, u, v, r)
    x = f0 * sine + f1 * cosine + pa * wx + dx
    y = f0 * cosine - f1 * sine + pa * wy + dy
    n = f2 + pa * wn + dn
    gain[0] = (x + moving.sway_kg * v * r) / moving.surge_kg
    gain[1] = (y - moving.surge_kg * u * r) / moving.sway_kg
    gain[2] = (n - (moving.sway_kg - moving.surge_kg) * u * v) / moving.yaw_kgm2


@hot_kernel
def move(near: Near, speed: tuple[float, float, float], step_s: float) -> None:
    """Move and turn ``near.q`` at a speed for one step, along the middle heading."""
    u, v, r = speed
    q, turn = near.q, step_s * r
    half = 0.5 * turn
    more, less = half * (1.0 - half * half / 6.0), 1.0 - 0.5 * half * half
    sine, cosine = q[3] * less + q[4] * more, q[4] * less - q[3] * more
    shift(q, step_s * (u * sine + v * cosine), step_s * (u * cosine - v * sine), turn)


@lean_kernel
def note(boat: Boat, active: Floats, water: Water, near: Near, peaks: Peaks) -> None:
    """Keep the state of all lines where one pulls more than before, or all together do."""
    together, count = 0.0, active.shape[0]
    for i in range(count + 1):
        pull = together if i == count else active[i] * near.work[i, W_PULL]
        together += pull
        if pull > peaks.most[i]:
            peaks.most[i] = pull
            for k in range(3):
                peaks.q[i, k] = near.q[k]
            tell_lines(boat.cells, active, water, near, peaks.line[i])


@lean_kernel
def trace_at(peaks: Peaks, n: int, near: Near, motion: Motion, blow: tuple[float, float]) -> None:
    """Write one row of the trace, where there is one."""
    if n < peaks.trace.shape[0]:
        for k in range(3):
            peaks.trace[n, k], peaks.trace[n, 3 + k] = near.q[k], motion.speed[k]
        peaks.trace[n, 6], peaks.trace[n, 7] = blow[0], blow[1]


@lean_kernel
def is_inside(boat: Boat, near: Near) -> bool:
    """Whether she is where the tables reach; False for a place that is not known."""
    s, q = boat.space, near.q
    return bool(s.west_m <= q[0] <= s.east_m and s.south_m <= q[1] <= s.north_m)


@lean_kernel
def run_through(
    boat: Boat,
    moving: Moving,
    winds: Winds,
    which: int,
    run: Floats,
    damp: Floats,
    active: Floats,
    extra: Load,
    step_s: float,
    near: Near,
    motion: Motion,
    peaks: Peaks,
) -> int:
    """Move from ``near.q`` through one record; how it ended (FOUND, LEFT, UNKNOWN).

    Half a step's gain of speed, a step of the place, the other half: second order, and
    without damping it neither feeds nor eats energy (Störmer and Verlet). Forces that
    depend on speed are taken at the speed the last gain leads to.

    Source
    ------
    hairer-2006, ch. I.1.
    """
    water = level_cell(boat.cells.level_m, run[R_LEVEL])
    u = v = r = 0.0
    t_s, half = run[R_FIRST], 0.5 * step_s
    first, last = int(run[R_COUNTED] / step_s + 0.5), int(run[R_LAST] / step_s + 0.5)
    blow = wind_from(winds, which, run, t_s)
    g = motion.gain
    gains(boat, moving, damp, active, water, extra, blow, (u, v, r), near, g)
    if math.isnan(g[0] + g[1] + g[2]):
        return UNKNOWN
    for n in range(last):
        motion.speed[0], motion.speed[1], motion.speed[2] = u, v, r
        if n >= first:
            note(boat, active, water, near, peaks)
            trace_at(peaks, n - first, near, motion, blow)
        uh, vh, rh = u + half * g[0], v + half * g[1], r + half * g[2]
        move(near, (uh, vh, rh), step_s)
        if not is_inside(boat, near):
            return LEFT
        ahead = (uh + half * g[0], vh + half * g[1], rh + half * g[2])
        blow = wind_from(winds, which, run, t_s + (n + 1) * step_s)
        gains(boat, moving, damp, active, water, extra, blow, ahead, near, g)
        u, v, r = uh + half * g[0], vh + half * g[1], rh + half * g[2]
        if math.isnan(u + v + r):
            return UNKNOWN
    return FOUND


@lean_kernel
def is_set(run: Floats, start: Floats) -> bool:
    """Whether all is known that a run begins with."""
    total = start[0] + start[1] + start[2]
    for i in range(run.shape[0]):
        total += run[i]
    return not math.isnan(total)


@kernel
def runs_through(
    boat: Boat,
    moving: Moving,
    winds: Winds,
    which: Ints,
    run: Floats,
    damp: Floats,
    start: Floats,
    active: Floats,
    extra: Load,
    step_s: float,
    part: tuple[int, int],
    code: Ints,
    peaks: Peaks,
) -> None:
    """``run_through`` for runs from the first up to, not with, the second."""
    near, motion = fresh_near(active.shape[0]), Motion(np.zeros(3), np.zeros(3))
    for k in range(part[0], part[1]):
        code[k] = UNKNOWN
        if not is_set(run[k], start[k]):
            continue
        put_at(near.q, start[k, 0], start[k, 1], start[k, 2])
        near.hint[:] = 0
        near.work[:] = 0.0
        told = Peaks(peaks.q[k], peaks.line[k], peaks.most[k], peaks.trace[k])
        code[k] = run_through(
            boat,
            moving,
            winds,
            which[k],
            run[k],
            damp[k],
            active,
            extra,
            step_s,
            near,
            motion,
            told,
        )
        if code[k] != FOUND:
            peaks.q[k], peaks.line[k] = np.nan, np.nan


@kernel
def stiffness_at(
    boat: Boat, active: Floats, extra: Load, run: Floats, start: Floats, stiff: Floats
) -> None:
    """Fill stiff (run, 3, 3), -dF/dq in body axes, where each run begins, in its mean wind."""
    near = fresh_near(active.shape[0])
    steady = (extra.east_n, extra.north_n, extra.moment_npm)
    stiff[:] = np.nan
    for k in range(run.shape[0]):
        if not is_set(run[k], start[k]):
            continue
        put_at(near.q, start[k, 0], start[k, 1], start[k, 2])
        near.hint[:] = 0
        near.work[:] = 0.0
        water = level_cell(boat.cells.level_m, run[k, R_LEVEL])
        air = Air(run[k, R_FROM], extra.density_kgpm3 * run[k, R_MEAN] * run[k, R_MEAN], steady)
        balance(boat.cells, active, boat.wind, water, air, near)
        sine, cosine = near.q[3], near.q[4]
        turned = np.array([[sine, cosine, 0.0], [cosine, -sine, 0.0], [0.0, 0.0, 1.0]])
        stiff[k] = turned.T @ near.k @ turned
