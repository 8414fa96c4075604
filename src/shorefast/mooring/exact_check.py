"""Rests from tables held against the exact path, and put right where they are too far off.

At a rest from tables every line is solved anew. What is then left of all force, by the
stiffness there, says how far off the exact rest is, at the cost of two looks at the lines
where a solve takes dozens. Near a break of the bed, where a table's straight step between
two nodes or bearings cuts a corner, the exact path takes over from there.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from shorefast.compiled import kernel
from shorefast.mooring.batch import Moored, Rests
from shorefast.mooring.march import ANCHOR_T, PULL, RESULTS
from shorefast.mooring.quick import (
    L_BEARING,
    L_DISTANCE,
    L_DOWN,
    L_FAR,
    L_LYING,
    L_PULL,
    L_TENSION,
    L_UPLIFT,
)
from shorefast.mooring.response import rode_exactly, shore_exactly
from shorefast.mooring.rest import (
    FOUND,
    Boat,
    Load,
    State,
    come_to_rest,
    forces,
    is_stable,
    move,
    solve3,
    state_of,
)
from shorefast.mooring.shapes import Floats, RodeForm
from shorefast.mooring.solve import WITHIN_N, line_form
from shorefast.mooring.wind_load import AIR_KGPM3

_NEAR_M = 2.0


class Off(NamedTuple):
    """How far a rest from tables is from the exact one: [m], [rad], and of any pull [N]."""

    shift_m: float
    turn_rad: float
    pull_n: float


# half of what the tables promise: 5 mm, 0.05 degrees, 5 N
BEYOND = Off(2.5e-3, math.radians(0.025), 2.5)


@dataclass(frozen=True)
class Checked:
    """Rests held against the exact path.

    rests : with those too far off put right
    states : how many were held against it; polished : how many were put right
    worst : the farthest off of those left as they were; farthest : of all
    """

    rests: Rests
    states: int
    polished: int
    worst: Off
    farthest: Off


@kernel
def pull_off_n(boat: Boat, state: State, i: int, q: Floats, told: Floats) -> float:
    """How far pull and far tension of line ``i`` are from the exact ones at ``q``. [N]"""
    lines = boat.lines
    sine, cosine = math.sin(q[2]), math.cos(q[2])
    de = q[0] + lines.x_m[i] * sine + lines.y_m[i] * cosine - lines.east_m[i]
    dn = q[1] + lines.x_m[i] * cosine - lines.y_m[i] * sine - lines.north_m[i]
    x_m = math.hypot(de, dn)
    if lines.rode[i] == 0:
        h_n, _ = shore_exactly(lines, i, x_m, state.level_m)
        return float(abs(h_n - told[L_PULL]))
    out = np.empty(RESULTS)
    rode_exactly(lines, i, x_m, math.atan2(de, dn), state.level_m, out)
    return float(max(abs(out[PULL] - told[L_PULL]), abs(out[ANCHOR_T] - told[L_FAR])))


@kernel
def off_by(exact: Boat, state: State, q: Floats, told: Floats) -> tuple[float, float, float]:
    """How far the exact rest is from ``q`` [m, rad] and its pulls from ``told`` [N].

    Infinite where there is no exact rest beside it.
    """
    force, stiff, step = np.empty(3), np.empty((3, 3)), np.empty(3)
    at, most_n = q.copy(), 0.0
    forces(exact, state, at, force, stiff)
    if not (is_stable(stiff, exact.space.arm_m) and solve3(stiff, force, step)):
        return math.inf, math.inf, math.inf
    move(at, (step[0], step[1], step[2]), 1.0)
    for i in range(state.active.shape[0]):
        if state.active[i] != 0.0:
            most_n = max(most_n, pull_off_n(exact, state, i, at, told[i]))
    return math.hypot(step[0], step[1]), abs(step[2]), most_n


def _told_exactly(ready: Moored, state: State, q: Floats, line: Floats) -> None:
    """Write the lines (line, L_*) of an exact rest."""
    scene = ready.scene
    for i, one in enumerate(scene.lines):
        if state.active[i] == 0.0:
            continue
        form = line_form(scene, ready.boat.lines, i, q, state.level_m)
        into = line[i]
        sine, cosine = math.sin(q[2]), math.cos(q[2])
        de = one.east_m - q[0] - one.x_m * sine - one.y_m * cosine
        dn = one.north_m - q[1] - one.x_m * cosine + one.y_m * sine
        into[L_DISTANCE], into[L_BEARING] = math.hypot(de, dn), math.atan2(de, dn)
        into[L_PULL] = form.pull_n
        if isinstance(form, RodeForm):
            into[L_DOWN], into[L_TENSION] = form.down_n, form.tension_n
            into[L_FAR], into[L_UPLIFT] = form.anchor_tension_n, form.uplift_rad
            into[L_LYING] = form.on_bottom_m
        else:
            into[L_DOWN], into[L_TENSION] = form.cleat_down_n, form.cleat_tension_n
            into[L_FAR], into[L_UPLIFT], into[L_LYING] = form.shore_tension_n, 0.0, form.on_water_m


def held_exactly(
    ready: Moored,
    states: tuple[Floats, Floats, Floats],
    found: Rests,
    active: Floats,
    extra: Load | None = None,
) -> Checked:
    """Hold every rest found against the exact path; put right what is too far off.

    Parameters
    ----------
    ready : Moored
    states : arrays (state,)
        Water level [m], wind at the height of the windage [m/s], where from. [rad]
    found : Rests
        Of those states, by ``rests``; it is not changed.
    active : array (line,)
    extra : Load, optional
        A steady load beside the wind.

    Returns
    -------
    Checked
        About two milliseconds a state. A rest that has no exact one beside it stays as
        it is and counts as infinitely far off.
    """
    exact = ready.boat._replace(exact=True)
    q, line, polished = found.q.copy(), found.line.copy(), 0
    worst, farthest = np.zeros(3), np.zeros(3)
    for k in np.flatnonzero(found.code == FOUND):
        state = _state(ready, (states[0][k], states[1][k], states[2][k]), active, extra)
        off = np.array(off_by(exact, state, q[k], line[k]))
        farthest = np.maximum(farthest, off)
        if (off > BEYOND).any():
            at = q[k].copy()
            code = come_to_rest(exact, state, WITHIN_N, at)
            if code == FOUND and math.hypot(*(at - q[k])[:2]) < _NEAR_M:
                q[k] = at
                _told_exactly(ready, state, at, line[k])
                polished += 1
                continue
        worst = np.maximum(worst, off)
    count = int((found.code == FOUND).sum())
    rests = Rests(q, found.code, line)
    return Checked(rests, count, polished, Off(*map(float, worst)), Off(*map(float, farthest)))


def _state(
    ready: Moored, asked: tuple[float, float, float], active: Floats, extra: Load | None
) -> State:
    level_m, wind_mps, from_rad = (float(value) for value in asked)
    beside = extra or Load(0.0, 0.0, 0.0, 0.0, 0.0, AIR_KGPM3)
    load = beside._replace(wind_mps=wind_mps, wind_from_rad=from_rad)
    return state_of(ready.boat, level_m, load, active)
