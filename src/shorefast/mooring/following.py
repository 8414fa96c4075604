"""Many starts, any balance, and a rest followed while load and water change by small steps."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from shorefast.compiled import kernel
from shorefast.mooring.cells import level_cell
from shorefast.mooring.quick import Near, fresh_near
from shorefast.mooring.rest import (
    FOUND,
    Boat,
    Load,
    State,
    come_to_rest,
    forces,
    is_stable,
    solve3,
)
from shorefast.mooring.shapes import Floats, Ints

# how a rest was followed: to the end, or over places where it vanished
FOLLOWED, VANISHED, LOST = 0, 1, 2
_MOST_NEWTON = 80
_MOST_CUTS = 8
_STEP_M, _STEP_RAD = 2.0, 0.2
_NEAR_M, _NEAR_RAD = 0.25, 0.03
_MOST_NEAR = 8
_LEAST_SHARE = 1.0 / 4096.0
_MOST_PARTS = 20000
_MOST_VANISHED = 8
# below this a move is nothing to a skipper; beyond the second it is always followed
SMALL_M, LARGE_M = 0.05, 0.25
# a residual allowed at a rest: pulls below it are none
FREE_N = 1.0
_UNEXPLAINED = 0.3


class Way(NamedTuple):
    """A change of load and water to follow a rest along, in a straight line.

    level_m and load at its beginning and its end; active and levels as for a solve.
    """

    from_level_m: float
    to_level_m: float
    from_load: Load
    to_load: Load
    active: Floats
    levels: Floats


@kernel
def turn_between(from_rad: float, to_rad: float) -> float:
    """The shorter turn from one bearing to another, -pi to pi."""
    turn = to_rad - from_rad
    return float(turn - 2.0 * math.pi * math.floor(turn / (2.0 * math.pi) + 0.5))


@kernel
def on_the_way(way: Way, share: float, near: Near) -> State:
    """The state a share of the way along; the wind turns the shorter way round."""
    a, b = way.from_load, way.to_load
    load = Load(
        a.east_n + share * (b.east_n - a.east_n),
        a.north_n + share * (b.north_n - a.north_n),
        a.moment_npm + share * (b.moment_npm - a.moment_npm),
        a.wind_mps + share * (b.wind_mps - a.wind_mps),
        a.wind_from_rad + share * turn_between(a.wind_from_rad, b.wind_from_rad),
        a.density_kgpm3 + share * (b.density_kgpm3 - a.density_kgpm3),
    )
    level_m = way.from_level_m + share * (way.to_level_m - way.from_level_m)
    return State(level_m, load, way.active, level_cell(way.levels, level_m), near)


@kernel
def apart_m(one: Floats, other: Floats, arm_m: float) -> float:
    """How far two places are apart, a turn weighed by half her length. [m]"""
    de, dn = one[0] - other[0], one[1] - other[1]
    turn_m = arm_m * turn_between(one[2], other[2])
    return math.sqrt(de * de + dn * dn + turn_m * turn_m)


@kernel
def rests_from(
    boat: Boat, state: State, within_n: float, starts: Floats, q_out: Floats, code_out: Ints
) -> None:
    """The rest damped motion leads to from each start (start, 3)."""
    for k in range(starts.shape[0]):
        q = starts[k].copy()
        code_out[k] = come_to_rest(boat, state, within_n, q)
        q_out[k] = q


@kernel
def to_balance(boat: Boat, state: State, within_n: float, q: Floats) -> bool:
    """Newton's method with ever less force, to any balance, stable or not; False if none."""
    force, stiff, step, tried = np.empty(3), np.empty((3, 3)), np.empty(3), np.empty(3)
    size_n = forces(boat, state, q, force, stiff)
    for _ in range(_MOST_NEWTON):
        if size_n < within_n:
            return True
        if math.isnan(size_n) or not solve3(stiff, force, step):
            return False
        far_m, turn_rad = math.sqrt(step[0] ** 2 + step[1] ** 2), abs(step[2])
        cut = min(1.0, _STEP_M / max(far_m, 1e-12), _STEP_RAD / max(turn_rad, 1e-12))
        less = False
        for _ in range(_MOST_CUTS):
            tried[:] = q + cut * step
            now_n = forces(boat, state, tried, force, stiff)
            if now_n < (1.0 - 0.1 * cut) * size_n:
                less = True
                break
            cut *= 0.5
        if not less:
            return False
        q[:] = tried
        size_n = now_n
    return False


@kernel
def balances_from(
    boat: Boat, state: State, within_n: float, starts: Floats, q_out: Floats, code_out: Ints
) -> None:
    """The balance Newton's method leads to from each start (start, 3); code FOUND where any."""
    space = boat.space
    for k in range(starts.shape[0]):
        q = starts[k].copy()
        found = to_balance(boat, state, within_n, q)
        inside = space.west_m <= q[0] <= space.east_m and space.south_m <= q[1] <= space.north_m
        code_out[k] = FOUND if found and inside else FOUND + 1
        q_out[k] = q


@kernel
def beside(boat: Boat, state: State, within_n: float, q: Floats) -> bool:
    """The stable rest close beside ``q`` by Newton's method; False, ``q`` kept, if none."""
    force, stiff, step = np.empty(3), np.empty((3, 3)), np.empty(3)
    at = q.copy()
    for _ in range(_MOST_NEAR):
        size_n = forces(boat, state, at, force, stiff)
        if size_n < within_n:
            if is_stable(stiff, boat.space.arm_m) or size_n == 0.0:
                q[:] = at
                return True
            return False
        if math.isnan(size_n) or not solve3(stiff, force, step):
            return False
        at += step
        de, dn = at[0] - q[0], at[1] - q[1]
        if not (de * de + dn * dn < _NEAR_M * _NEAR_M and abs(at[2] - q[2]) < _NEAR_RAD):
            return False
    return False


@kernel
def still_here(boat: Boat, state: State, within_n: float, q: Floats) -> bool:
    """Whether damped motion from ``q`` ends close beside it; then ``q`` is that rest."""
    at = q.copy()
    if come_to_rest(boat, state, within_n, at) != FOUND:
        return False
    if not (math.hypot(at[0] - q[0], at[1] - q[1]) < _NEAR_M and abs(at[2] - q[2]) < _NEAR_RAD):
        return False
    q[:] = at
    return True


@kernel
def follow(boat: Boat, way: Way, from_share: float, within_n: float, q: Floats) -> float:
    """Follow the rest ``q`` along a way as far as it goes on; the share of the way reached."""
    share, part = from_share, 1.0 - from_share
    near = fresh_near(way.active.shape[0])
    for _ in range(_MOST_PARTS):
        if share >= 1.0:
            break
        to = min(1.0, share + part)
        state = on_the_way(way, to, near)
        if beside(boat, state, within_n, q):
            share, part = to, 2.0 * part
        elif part > _LEAST_SHARE:
            part *= 0.5
        elif still_here(boat, state, within_n, q):
            # between two kinks Newton's method may go to and fro about a rest that is there
            share = to
        else:
            break
    return share


@kernel
def led_on(boat: Boat, way: Way, within_n: float, q: Floats, told: Floats) -> int:
    """Follow ``q`` to the end of a way, on to the next rest wherever one vanishes.

    told (7,): share of the way at which it first vanished, the rest just before, the
    rest she ran to. Returns FOLLOWED, VANISHED (at least once), or LOST (none to run to).
    """
    told[:] = math.nan
    near = fresh_near(way.active.shape[0])
    share, code = 0.0, FOLLOWED
    for _ in range(_MOST_VANISHED):
        share = follow(boat, way, share, within_n, q)
        if share >= 1.0:
            return code
        before = q.copy()
        first = code == FOLLOWED
        code = VANISHED
        past = min(1.0, share + _LEAST_SHARE)
        found = come_to_rest(boat, on_the_way(way, past, near), within_n, q) == FOUND
        if first:
            told[0], told[1:4] = share, before
            if found:
                told[4:7] = q
        if not found:
            return LOST
        share = past
    return code


@kernel
def explained(boat: Boat, state: State, before: Floats, after: Floats) -> bool:
    """Whether the change of load over the stiffness explains the move to ``after``."""
    arm_m = boat.space.arm_m
    moved_m = apart_m(before, after, arm_m)
    if moved_m < SMALL_M:
        return True
    if moved_m > LARGE_M:
        return False
    force, stiff, step = np.empty(3), np.empty((3, 3)), np.empty(3)
    forces(boat, state, before, force, stiff)
    if not solve3(stiff, force, step):
        return False
    return apart_m(before + step, after, arm_m) < _UNEXPLAINED * moved_m


@kernel
def lies_free(boat: Boat, state: State, q: Floats) -> bool:
    """Whether no line pulls a newton where she lies: any breath of wind then moves her off."""
    force, stiff, alone = np.empty(3), np.empty((3, 3)), np.zeros_like(state.active)
    calm = Load(0.0, 0.0, 0.0, 0.0, 0.0, 1.0)
    for i in range(alone.shape[0]):
        alone[:] = 0.0
        alone[i] = state.active[i]
        by_itself = State(state.level_m, calm, alone, state.water, state.near)
        forces(boat, by_itself, q, force, stiff)
        if not math.hypot(force[0], force[1]) < FREE_N:
            return False
    return True


@kernel
def branch_of(
    boat: Boat,
    way: Way,
    within_n: float,
    before: Floats,
    after: Floats,
    told: Floats,
) -> int:
    """Whether ``after`` is the rest ``before`` followed along a way.

    Returns 0 if so, or if she lay free; 1 if it vanished on the way; 2 if it goes on and
    ``after`` is another. told (7,) as for ``led_on``; where it goes on, the place it goes
    on to comes last.
    """
    near = fresh_near(way.active.shape[0])
    if explained(boat, on_the_way(way, 1.0, near), before, after):
        return 0
    if lies_free(boat, on_the_way(way, 0.0, near), before):
        return 0
    q = before.copy()
    code = led_on(boat, way, within_n, q, told)
    if code != FOLLOWED:
        return 1
    if apart_m(q, after, boat.space.arm_m) < LARGE_M:
        return 0
    told[0], told[1:4], told[4:7] = 1.0, before, q
    return 2


@kernel
def branches_of_members(
    boat: Boat,
    paths: tuple[Floats, Floats, Floats],
    levels: Floats,
    active: Floats,
    extra: Load,
    within_n: float,
    members: tuple[int, int],
    q: Floats,
    code: Ints,
    kind_out: Ints,
    told_out: Floats,
) -> None:
    """``branch_of`` from each hour to the next, for members from the first to the second.

    paths: level, wind, where from, arrays (member, time); kind_out and told_out have one
    entry for each later hour; -1 where one of the two has no rest.
    """
    level_m, wind_mps, from_rad = paths
    for m in range(members[0], members[1]):
        for t in range(1, q.shape[1]):
            kind_out[m, t] = -1
            if code[m, t - 1] != FOUND or code[m, t] != FOUND:
                continue
            a = Load(
                extra.east_n,
                extra.north_n,
                extra.moment_npm,
                wind_mps[m, t - 1],
                from_rad[m, t - 1],
                extra.density_kgpm3,
            )
            b = Load(
                extra.east_n,
                extra.north_n,
                extra.moment_npm,
                wind_mps[m, t],
                from_rad[m, t],
                extra.density_kgpm3,
            )
            way = Way(level_m[m, t - 1], level_m[m, t], a, b, active, levels)
            kind_out[m, t] = branch_of(boat, way, within_n, q[m, t - 1], q[m, t], told_out[m, t])
