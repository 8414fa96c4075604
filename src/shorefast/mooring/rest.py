"""Where she comes to rest: place and heading in balance under all her lines.

The solver follows strongly damped motion from where she lay (implicit steps that
lengthen as the forces fall), so it ends at the stable rest that motion leads to,
and turns into Newton's method beside it.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from shorefast.compiled import kernel, lean_kernel
from shorefast.mooring.cells import Cells, Water, level_cell
from shorefast.mooring.quick import WIND_ANGLES, Air, Near, balance, fresh_near, newton_step, put_at
from shorefast.mooring.response import exact_pull
from shorefast.mooring.scene import Packed
from shorefast.mooring.shapes import Floats
from shorefast.mooring.wind_load import WindForm, wind_force

# how a solve ended
FOUND, LEFT, UNKNOWN, UNSETTLED = 0, 1, 2, 3
_MOST_STEPS = 400
_MOST_DRAG = 1e9
_STEP_M, _STEP_RAD = 1.5, 0.15
_TURN_STEP_RAD = 1e-5
_BEARING_STEP_RAD = 1e-5
_NUDGE_RAD = 1e-3
# what ends a solve: a step that no longer matters, or hardly any force
_SETTLED_M, _NO_FORCE_N = 5e-4, 1e-6


class Load(NamedTuple):
    """A steady load: forces east and north [N], moment clockwise [N m], and a wind.

    wind_mps at the windage's height and wind_from_rad; density of the air [kg/m3].
    """

    east_n: float
    north_n: float
    moment_npm: float
    wind_mps: float
    wind_from_rad: float
    density_kgpm3: float


class Space(NamedTuple):
    """Where her reference point may be [m]; half her length, to weigh turns [m]."""

    west_m: float
    east_m: float
    south_m: float
    north_m: float
    arm_m: float


class Boat(NamedTuple):
    """All that a solve asks of one scene.

    lines : the lines; cells : their tables
    form : her wind form; wind : array (angle, 3), its forces for 1 m/s by angle off
    the bow from -pi to pi, for the quick path
    space : where she may be; exact : whether every line is solved anew
    """

    lines: Packed
    cells: Cells
    form: WindForm
    wind: Floats
    space: Space
    exact: bool


class State(NamedTuple):
    """One state to solve: water level [m], load, which lines are set.

    water : where the level lies among those of the tables; near : what a solve keeps
    at hand
    """

    level_m: float
    load: Load
    active: Floats
    water: Water
    near: Near


def wind_table(form: WindForm) -> Floats:
    """Forces of 1 m/s on a form by angle off the bow: (angle, 3), density 1. [N, N m]"""
    angle = np.linspace(-math.pi, math.pi, WIND_ANGLES)
    return np.array([wind_force(form, 1.0, float(a), 1.0) for a in angle])


@kernel
def wind_exactly(boat: Boat, off_rad: float) -> tuple[float, float, float, float, float, float]:
    """As ``quick.wind_near``, by the formula itself."""
    fx, fy, n = wind_force(boat.form, 1.0, off_rad, 1.0)
    fx1, fy1, n1 = wind_force(boat.form, 1.0, off_rad + _TURN_STEP_RAD, 1.0)
    fx0, fy0, n0 = wind_force(boat.form, 1.0, off_rad - _TURN_STEP_RAD, 1.0)
    wide = 2.0 * _TURN_STEP_RAD
    return fx, fy, n, (fx1 - fx0) / wide, (fy1 - fy0) / wide, (n1 - n0) / wide


def state_of(boat: Boat, level_m: float, load: Load, active: Floats) -> State:
    """A state with everything a solve keeps at hand, made anew."""
    levels = boat.cells.level_m
    return State(level_m, load, active, level_cell(levels, level_m), fresh_near(active.shape[0]))


@kernel
def add_wind(boat: Boat, load: Load, psi: float, force: Floats, stiff: Floats) -> None:
    """Add the wind's force and its change with the heading."""
    fx, fy, n, gx, gy, gn = wind_exactly(boat, load.wind_from_rad - psi)
    q_pa = load.density_kgpm3 * load.wind_mps * load.wind_mps
    sine, cosine = math.sin(psi), math.cos(psi)
    east_n, north_n = q_pa * (fx * sine + fy * cosine), q_pa * (fx * cosine - fy * sine)
    force[0] += east_n
    force[1] += north_n
    force[2] += q_pa * n
    # as she turns the force turns with her, and the wind's angle falls
    stiff[0, 2] -= north_n - q_pa * (gx * sine + gy * cosine)
    stiff[1, 2] -= -east_n - q_pa * (gx * cosine - gy * sine)
    stiff[2, 2] += q_pa * gn


@kernel
def pull_of(
    boat: Boat, state: State, i: int, de_m: float, dn_m: float
) -> tuple[float, float, float]:
    """Level pull of line ``i``, its stiffness, and what it gains a radian of bearing.

    de_m, dn_m : from the body point to the far end.
    """
    x_m = math.sqrt(de_m * de_m + dn_m * dn_m)
    bearing_rad = math.atan2(-de_m, -dn_m) if boat.lines.rode[i] == 1 else 0.0
    h_n, s_npm = exact_pull(boat.lines, i, x_m, bearing_rad, state.level_m)
    if boat.lines.rode[i] == 0 or h_n == 0.0:
        return h_n, s_npm, 0.0
    more_n, _ = exact_pull(boat.lines, i, x_m, bearing_rad + _BEARING_STEP_RAD, state.level_m)
    return h_n, s_npm, (more_n - h_n) / _BEARING_STEP_RAD


@kernel
def add_line(boat: Boat, state: State, i: int, q: Floats, force: Floats, stiff: Floats) -> None:
    """Add the pull of line ``i`` to ``force`` and its stiffness to ``stiff``."""
    lines = boat.lines
    sine, cosine = math.sin(q[2]), math.cos(q[2])
    off_e = lines.x_m[i] * sine + lines.y_m[i] * cosine
    off_n = lines.x_m[i] * cosine - lines.y_m[i] * sine
    de, dn = lines.east_m[i] - q[0] - off_e, lines.north_m[i] - q[1] - off_n
    x_m = math.sqrt(de * de + dn * dn)
    h_n, s_npm, turns = pull_of(boat, state, i, de, dn)
    if h_n == 0.0:
        return
    ue, un = de / x_m, dn / x_m
    fe, fn = h_n * ue, h_n * un
    # the body point moves by its offset turned a quarter as she turns
    te, tn = off_n, -off_e
    force[0] += fe
    force[1] += fn
    force[2] += fe * te + fn * tn
    side, across = h_n / x_m, turns / x_m
    aee = s_npm * ue * ue + side * un * un + across * ue * un
    aen = (s_npm - side) * ue * un - across * ue * ue
    ane = (s_npm - side) * ue * un + across * un * un
    ann = s_npm * un * un + side * ue * ue - across * un * ue
    ate, atn = aee * te + aen * tn, ane * te + ann * tn
    stiff[0, 0] += aee
    stiff[0, 1] += aen
    stiff[1, 0] += ane
    stiff[1, 1] += ann
    stiff[0, 2] += ate
    stiff[1, 2] += atn
    stiff[2, 0] += te * aee + tn * ane
    stiff[2, 1] += te * aen + tn * ann
    stiff[2, 2] += te * ate + tn * atn + fe * off_e + fn * off_n


@kernel
def forces_exactly(boat: Boat, state: State, q: Floats, force: Floats, stiff: Floats) -> None:
    """Fill ``force`` and ``stiff`` with every line solved anew."""
    stiff[:] = 0.0
    load = state.load
    force[0], force[1], force[2] = load.east_n, load.north_n, load.moment_npm
    if load.wind_mps != 0.0:
        add_wind(boat, load, q[2], force, stiff)
    for i in range(boat.lines.rode.shape[0]):
        if state.active[i] != 0.0:
            add_line(boat, state, i, q, force, stiff)


@lean_kernel
def forces_by_tables(boat: Boat, state: State, q: Floats, force: Floats, stiff: Floats) -> None:
    """Fill ``force`` and ``stiff`` by the tables; balances ``state.near`` there."""
    load, near = state.load, state.near
    steady = (load.east_n, load.north_n, load.moment_npm)
    wind_pa = load.density_kgpm3 * load.wind_mps * load.wind_mps
    put_at(near.q, q[0], q[1], q[2])
    air = Air(load.wind_from_rad, wind_pa, steady)
    force[0], force[1], force[2] = balance(
        boat.cells, state.active, boat.wind, state.water, air, near
    )
    for i in range(3):
        for j in range(3):
            stiff[i, j] = near.k[i, j]


@kernel
def forces(boat: Boat, state: State, q: Floats, force: Floats, stiff: Floats) -> float:
    """Fill the sum of all forces at ``q`` and the stiffness -dF/dq there; its size. [N]"""
    if boat.exact:
        forces_exactly(boat, state, q, force, stiff)
    else:
        forces_by_tables(boat, state, q, force, stiff)
    turn_n = force[2] / boat.space.arm_m
    return math.sqrt(force[0] * force[0] + force[1] * force[1] + turn_n * turn_n)


@lean_kernel
def solve3(stiff: Floats, force: Floats, step: Floats) -> bool:
    """The step that ends all force at a stiffness; False where it is singular."""
    _, step[0], step[1], step[2] = newton_step(stiff, (force[0], force[1], force[2]), 1.0)
    return math.isfinite(step[0] + step[1] + step[2])


@lean_kernel
def is_stable(stiff: Floats, arm_m: float) -> bool:
    """Whether damped motion dies out at this stiffness (Routh and Hurwitz)."""
    return newton_step(stiff, (0.0, 0.0, 0.0), arm_m * arm_m)[0]


@lean_kernel
def drag_after(drag: float, ratio: float, cut: float, now_n: float) -> float:
    """The drag of the next step: less as the forces fall, more when they leapt."""
    if ratio < 1.0 + 1e-9:
        drag *= max(0.1, 0.5 * ratio * ratio)
    elif ratio > 2.0:
        # running off a ridge forces grow for a while: only a leap asks for more drag
        drag *= 2.0
    return max(drag, 1e-2 * now_n) if cut < 1.0 else drag


@lean_kernel
def step_from(
    boat: Boat, force: Floats, stiff: Floats, drag: float
) -> tuple[bool, float, float, float]:
    """The implicit step under a drag, and whether it goes with the forces."""
    arm2_m2 = boat.space.arm_m * boat.space.arm_m
    stiff[0, 0] += drag
    stiff[1, 1] += drag
    stiff[2, 2] += drag * arm2_m2
    _, de, dn, turn = newton_step(stiff, (force[0], force[1], force[2]), arm2_m2)
    return force[0] * de + force[1] * dn + force[2] * turn >= 0.0, de, dn, turn


@lean_kernel
def is_within(space: Space, q: Floats) -> bool:
    """Whether her reference point is in the space."""
    return bool(space.west_m <= q[0] <= space.east_m and space.south_m <= q[1] <= space.north_m)


@lean_kernel
def move(q: Floats, step: tuple[float, float, float], times: float) -> None:
    """Move ``q`` so many times a step."""
    for i in range(3):
        q[i] += times * step[i]


@lean_kernel
def is_there(boat: Boat, force: Floats, stiff: Floats, size_n: float) -> bool:
    """Whether what is left of all force would move her by no more than matters."""
    if size_n < _NO_FORCE_N:
        return True
    arm2_m2 = boat.space.arm_m * boat.space.arm_m
    _, de, dn, _ = newton_step(stiff, (force[0], force[1], force[2]), arm2_m2)
    return de * de + dn * dn < _SETTLED_M * _SETTLED_M


@kernel
def come_to_rest(boat: Boat, state: State, within_n: float, q: Floats) -> int:
    """Move ``q`` (east, north, heading) to the rest damped motion leads to.

    Returns FOUND, LEFT (she leaves ``space``), UNKNOWN (a line's pull is not known
    where she goes) or UNSETTLED.
    """
    force, stiff = state.near.force, state.near.stiff
    size_n = forces(boat, state, q, force, stiff)
    drag = max(10.0, size_n)
    for _ in range(_MOST_STEPS):
        if math.isnan(size_n):
            return UNKNOWN
        stable = is_stable(stiff, boat.space.arm_m)
        if size_n < within_n:
            if size_n == 0.0 or (stable and is_there(boat, force, stiff, size_n)):
                return FOUND
            if not stable:
                # on a ridge: a nudge, and she runs down one side of it
                q[2] += _NUDGE_RAD
                drag = max(drag, 10.0)
                size_n = forces(boat, state, q, force, stiff)
        with_it, de, dn, turn = step_from(boat, force, stiff, drag)
        if not with_it and not stable:
            # against the forces: the drag is too small for this curvature
            drag = 4.0 * drag + 10.0
            forces(boat, state, q, force, stiff)
            continue
        far_m = math.sqrt(de * de + dn * dn)
        cut = min(1.0, _STEP_M / max(far_m, 1e-12), _STEP_RAD / max(abs(turn), 1e-12))
        move(q, (de, dn, turn), cut)
        if not is_within(boat.space, q):
            return LEFT
        now_n = forces(boat, state, q, force, stiff)
        if math.isnan(now_n):
            # beyond what is known: go back and try a shorter step
            move(q, (de, dn, turn), -cut)
            drag = 8.0 * drag + 10.0
            now_n = forces(boat, state, q, force, stiff) if drag < _MOST_DRAG else math.nan
        else:
            drag = drag_after(drag, now_n / max(size_n, 1e-300), cut, now_n)
        size_n = now_n
    return UNSETTLED
