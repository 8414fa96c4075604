"""Her balance going straight astern at a steady speed in a steady wind, the chain slack."""

from __future__ import annotations

import math

import numpy as np

from shorefast.compiled import kernel, lean_kernel
from shorefast.mooring.handled_forces import (
    S_AHEAD,
    S_ASIDE,
    S_HEADING,
    S_PUSH,
    S_REVS,
    S_RUDDER,
    STATE_COLUMNS,
    Air,
    Driven,
    driven_forces,
)
from shorefast.mooring.shapes import Floats

_HALVINGS, _ROUNDS, _OFF_STEPS = 40, 12, 36
_CLOSE_RAD, _BALANCED_N, _ALONG_N = 1e-4, 2.0, 10.0


@lean_kernel
def revs_in_balance(driven: Driven, state: Floats, air: Air) -> None:
    """Set the revs at which nothing is left along her."""
    low, high = -1.0, 1.0
    for _ in range(_HALVINGS):
        state[S_REVS] = 0.5 * (low + high)
        if driven_forces(driven, state, air)[0] > 0.0:
            high = state[S_REVS]
        else:
            low = state[S_REVS]


@lean_kernel
def helm_in_balance(driven: Driven, state: Floats, air: Air, most_rad: float) -> bool:
    """Set the helm at which nothing turns her; whether there is one."""
    low, high = -most_rad, most_rad
    state[S_RUDDER] = high
    at_high = driven_forces(driven, state, air)[2]
    state[S_RUDDER] = low
    at_low = driven_forces(driven, state, air)[2]
    if at_low * at_high > 0.0:
        return False
    for _ in range(_HALVINGS):
        state[S_RUDDER] = 0.5 * (low + high)
        if driven_forces(driven, state, air)[2] * at_low > 0.0:
            low = state[S_RUDDER]
        else:
            high = state[S_RUDDER]
    return True


@lean_kernel
def left_across(
    driven: Driven, speed_mps: float, air: Air, off_rad: float, most_rad: float, state: Floats
) -> float:
    """Force across her way that is left, helm and revs in balance [N]; NaN where none holds her.

    ``air`` and her way are told with the bow end of her way as north.
    """
    state[S_HEADING] = off_rad
    state[S_AHEAD], state[S_ASIDE] = -speed_mps * math.cos(off_rad), speed_mps * math.sin(off_rad)
    state[S_RUDDER] = 0.0
    for _ in range(_ROUNDS):
        before = state[S_RUDDER]
        revs_in_balance(driven, state, air)
        if not helm_in_balance(driven, state, air, most_rad):
            return math.nan
        if abs(state[S_RUDDER] - before) < _CLOSE_RAD:
            break
    x, y, _ = driven_forces(driven, state, air)
    return y * math.cos(off_rad) + x * math.sin(off_rad)


@kernel
def astern_in_balance(
    driven: Driven, speed_mps: float, air: Air, most_off_rad: float, most_rad: float, push: float
) -> Floats:
    """Her state going straight astern, with the least angle off; NaN where she cannot be held."""
    state, best = np.zeros(STATE_COLUMNS), np.full(STATE_COLUMNS, np.nan)
    state[S_PUSH] = push
    before_off, before_n = math.nan, math.nan
    for k in range(2 * _OFF_STEPS + 1):
        off = most_off_rad * (k / _OFF_STEPS - 1.0)
        left_n = left_across(driven, speed_mps, air, off, most_rad, state)
        if before_n * left_n <= 0.0:
            low, high, at_middle = before_off, off, math.nan
            for _ in range(_HALVINGS):
                middle = 0.5 * (low + high)
                at_middle = left_across(driven, speed_mps, air, middle, most_rad, state)
                if at_middle * before_n > 0.0:
                    low = middle
                else:
                    high = middle
            # a leap, where the helm goes from one side to the other, is no balance
            # and full revs that do not stem the wind along her are none either
            along_n = driven_forces(driven, state, air)[0]
            fits = abs(at_middle) < _BALANCED_N and abs(along_n) < _ALONG_N
            if fits and not abs(state[S_HEADING]) >= abs(best[S_HEADING]):
                best[:] = state
        before_off, before_n = off, left_n
    return best
