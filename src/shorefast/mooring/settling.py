"""The long way to a rest: from where she lay, from a start, or as the load grows from nothing."""

from __future__ import annotations

import math

import numpy as np

from shorefast.compiled import kernel
from shorefast.mooring.quick import is_firm
from shorefast.mooring.rest import (
    FOUND,
    UNSETTLED,
    Boat,
    Load,
    State,
    come_to_rest,
    forces,
    is_stable,
    move,
    solve3,
)
from shorefast.mooring.shapes import Floats

_RAMP = 12
_MOST_EXACT, _ASTRAY_M = 8, 0.5


@kernel
def grown(state: State, share: float) -> State:
    """The state under a share of its load."""
    load = state.load
    part = Load(
        load.east_n * share,
        load.north_n * share,
        load.moment_npm * share,
        load.wind_mps * math.sqrt(share),
        load.wind_from_rad,
        load.density_kgpm3,
    )
    return State(state.level_m, part, state.active, state.water, state.near)


@kernel
def grow_to_rest(boat: Boat, state: State, within_n: float, q: Floats) -> int:
    """Move ``q`` to the rest she comes to as the load grows from nothing."""
    code = UNSETTLED
    for k in range(1, _RAMP + 1):
        code = come_to_rest(boat, grown(state, k / _RAMP), within_n, q)
    return code


@kernel
def settle(boat: Boat, state: State, start: Floats, within_n: float, q: Floats) -> int:
    """Rest from ``q``; failing that from ``start``, at once or as the load grows from nothing."""
    code = come_to_rest(boat, state, within_n, q)
    if code == FOUND:
        return code
    q[:] = start
    code = come_to_rest(boat, state, within_n, q)
    if code == FOUND:
        return code
    q[:] = start
    return grow_to_rest(boat, state, within_n, q)


@kernel
def holds_exactly(boat: Boat, state: State, within_n: float, q: Floats) -> bool:
    """Whether the exact path has a stable rest at ``q``, by Newton's method from there."""
    exact = Boat(boat.lines, boat.cells, boat.form, boat.wind, boat.space, True)
    force, stiff, step = np.empty(3), np.empty((3, 3)), np.empty(3)
    at = q.copy()
    for _ in range(_MOST_EXACT):
        size_n = forces(exact, state, at, force, stiff)
        if size_n < within_n:
            return is_stable(stiff, boat.space.arm_m)
        if not solve3(stiff, force, step):
            return False
        move(at, (step[0], step[1], step[2]), 1.0)
        if not math.hypot(at[0] - q[0], at[1] - q[1]) < _ASTRAY_M:
            return False
    return False


@kernel
def settle_there(boat: Boat, state: State, start: Floats, within_n: float, from_q: Floats) -> int:
    """The long way to a rest from where she lay; ends with all of it balanced there.

    ``from_q`` (3,) is moved. Where stability hangs by less than the tables' own error, the
    exact path decides.
    """
    code = settle(boat, state, start, within_n, from_q)
    if code != FOUND:
        return code
    force, stiff = state.near.force, state.near.stiff
    if forces(boat, state, from_q, force, stiff) == 0.0:
        # nothing holds her and nothing moves her
        return FOUND
    arm2_m2 = boat.space.arm_m * boat.space.arm_m
    if not is_firm(stiff, arm2_m2) and not holds_exactly(boat, state, within_n, from_q):
        return UNSETTLED
    return FOUND
