"""Where she comes to rest: place and heading in balance under all her lines.

The solver follows strongly damped motion from where she lay (implicit steps that
lengthen as the forces fall), so it ends at the stable rest that motion leads to,
and turns into Newton's method beside it.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from shorefast.compiled import kernel
from shorefast.mooring.line_tables import LineTables, table_pull
from shorefast.mooring.response import exact_pull
from shorefast.mooring.scene import Packed
from shorefast.mooring.shapes import Floats
from shorefast.mooring.wind_load import WindForm, wind_force

# how a solve ended
FOUND, LEFT, UNKNOWN, UNSETTLED = 0, 1, 2, 3
_MOST_STEPS = 400
_STEP_M, _STEP_RAD = 1.5, 0.15
_TURN_STEP_RAD = 1e-5
_BEARING_STEP_RAD = 1e-5
_NUDGE_RAD = 1e-3


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


@kernel
def load_at(load: Load, form: WindForm, psi: float) -> tuple[float, float, float]:
    """East, north and turning load at a heading."""
    if load.wind_mps == 0.0:
        return load.east_n, load.north_n, load.moment_npm
    fx, fy, n = wind_force(form, load.wind_mps, load.wind_from_rad - psi, load.density_kgpm3)
    sine, cosine = math.sin(psi), math.cos(psi)
    east_n = load.east_n + fx * sine + fy * cosine
    north_n = load.north_n + fx * cosine - fy * sine
    return east_n, north_n, load.moment_npm + n


@kernel
def pull_of(
    lines: Packed, tables: LineTables, exact: bool, i: int, at: tuple[float, float, float]
) -> tuple[float, float]:
    """Level pull and stiffness by the exact path or from the table; at: x, bearing, level."""
    if exact:
        return exact_pull(lines, i, at[0], at[1], at[2])
    return table_pull(tables, i, at[0], at[1], at[2])


@kernel
def add_lines(
    lines: Packed,
    tables: LineTables,
    active: Floats,
    exact: bool,
    q: Floats,
    level_m: float,
    force: Floats,
    stiff: Floats,
) -> None:
    """Add every line's pull to ``force`` and its stiffness to ``stiff``."""
    sine, cosine = math.sin(q[2]), math.cos(q[2])
    for i in range(lines.rode.shape[0]):
        if active[i] == 0.0:
            continue
        off_e = lines.x_m[i] * sine + lines.y_m[i] * cosine
        off_n = lines.x_m[i] * cosine - lines.y_m[i] * sine
        de, dn = lines.east_m[i] - q[0] - off_e, lines.north_m[i] - q[1] - off_n
        x_m = math.sqrt(de * de + dn * dn)
        bearing_rad = math.atan2(-de, -dn)
        h_n, s_npm = pull_of(lines, tables, exact, i, (x_m, bearing_rad, level_m))
        if h_n == 0.0:
            continue
        turns_n = 0.0
        if lines.rode[i] == 1:
            # the bed is another one on another bearing
            more_n, _ = pull_of(
                lines, tables, exact, i, (x_m, bearing_rad + _BEARING_STEP_RAD, level_m)
            )
            turns_n = (more_n - h_n) / _BEARING_STEP_RAD / x_m
        ue, un = de / x_m, dn / x_m
        # how the body point moves as she turns
        te = lines.x_m[i] * cosine - lines.y_m[i] * sine
        tn = -lines.x_m[i] * sine - lines.y_m[i] * cosine
        fe, fn = h_n * ue, h_n * un
        force[0] += fe
        force[1] += fn
        force[2] += fe * te + fn * tn
        side = h_n / x_m
        aee = s_npm * ue * ue + side * un * un + turns_n * ue * un
        aen = (s_npm - side) * ue * un - turns_n * ue * ue
        ane = (s_npm - side) * ue * un + turns_n * un * un
        ann = s_npm * un * un + side * ue * ue - turns_n * un * ue
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
def forces(
    lines: Packed,
    tables: LineTables,
    active: Floats,
    exact: bool,
    q: Floats,
    level_m: float,
    load: Load,
    form: WindForm,
    force: Floats,
    stiff: Floats,
) -> None:
    """Fill the sum of all forces at ``q`` and the stiffness -dF/dq there."""
    stiff[:] = 0.0
    force[0], force[1], force[2] = load_at(load, form, q[2])
    if load.wind_mps != 0.0:
        more = load_at(load, form, q[2] + _TURN_STEP_RAD)
        less = load_at(load, form, q[2] - _TURN_STEP_RAD)
        for a in range(3):
            stiff[a, 2] -= (more[a] - less[a]) / (2.0 * _TURN_STEP_RAD)
    add_lines(lines, tables, active, exact, q, level_m, force, stiff)


@kernel
def solve3(a: Floats, b: Floats, x: Floats) -> bool:
    """Solve a 3 by 3 system by its adjugate; False where it is singular."""
    c00 = a[1, 1] * a[2, 2] - a[1, 2] * a[2, 1]
    c01 = a[1, 2] * a[2, 0] - a[1, 0] * a[2, 2]
    c02 = a[1, 0] * a[2, 1] - a[1, 1] * a[2, 0]
    det = a[0, 0] * c00 + a[0, 1] * c01 + a[0, 2] * c02
    if det == 0.0 or math.isnan(det):
        return False
    x[0] = (
        b[0] * c00
        + b[1] * (a[0, 2] * a[2, 1] - a[0, 1] * a[2, 2])
        + b[2] * (a[0, 1] * a[1, 2] - a[0, 2] * a[1, 1])
    ) / det
    x[1] = (
        b[0] * c01
        + b[1] * (a[0, 0] * a[2, 2] - a[0, 2] * a[2, 0])
        + b[2] * (a[0, 2] * a[1, 0] - a[0, 0] * a[1, 2])
    ) / det
    x[2] = (
        b[0] * c02
        + b[1] * (a[0, 1] * a[2, 0] - a[0, 0] * a[2, 1])
        + b[2] * (a[0, 0] * a[1, 1] - a[0, 1] * a[1, 0])
    ) / det
    return True


@kernel
def is_stable(stiff: Floats, arm_m: float) -> bool:
    """Whether damped motion dies out at this stiffness (Routh and Hurwitz)."""
    a = stiff.copy()
    for i in range(3):
        a[2, i] /= arm_m * arm_m
    trace = a[0, 0] + a[1, 1] + a[2, 2]
    minors = (
        a[0, 0] * a[1, 1]
        - a[0, 1] * a[1, 0]
        + a[0, 0] * a[2, 2]
        - a[0, 2] * a[2, 0]
        + a[1, 1] * a[2, 2]
        - a[1, 2] * a[2, 1]
    )
    det = (
        a[0, 0] * (a[1, 1] * a[2, 2] - a[1, 2] * a[2, 1])
        - a[0, 1] * (a[1, 0] * a[2, 2] - a[1, 2] * a[2, 0])
        + a[0, 2] * (a[1, 0] * a[2, 1] - a[1, 1] * a[2, 0])
    )
    return bool(trace > 0.0 and det > 0.0 and trace * minors > det)


@kernel
def drag_after(drag: float, ratio: float, cut: float, now_n: float) -> float:
    """The drag of the next step: less as the forces fall, more when they grew."""
    if ratio < 1.0 + 1e-9:
        drag *= max(0.1, 0.5 * ratio * ratio)
    elif ratio > 2.0:
        # running off a ridge forces grow for a while: only a leap asks for more drag
        drag *= 2.0
    return max(drag, 1e-2 * now_n) if cut < 1.0 else drag


@kernel
def come_to_rest(
    lines: Packed,
    tables: LineTables,
    active: Floats,
    exact: bool,
    level_m: float,
    load: Load,
    form: WindForm,
    space: Space,
    within_n: float,
    q: Floats,
) -> int:
    """Move ``q`` (east, north, heading) to the rest damped motion leads to.

    Returns FOUND, LEFT (she leaves ``space``), UNKNOWN (a line's pull is not known
    where she goes) or UNSETTLED.
    """
    force, stiff, step = np.empty(3), np.empty((3, 3)), np.empty(3)
    arm2 = space.arm_m * space.arm_m
    forces(lines, tables, active, exact, q, level_m, load, form, force, stiff)
    size_n = math.sqrt(force[0] ** 2 + force[1] ** 2 + force[2] ** 2 / arm2)
    drag = max(10.0, size_n)
    for _ in range(_MOST_STEPS):
        if math.isnan(size_n):
            return UNKNOWN
        stable = is_stable(stiff, space.arm_m)
        if size_n < within_n:
            if stable or size_n == 0.0:
                return FOUND
            # on a ridge: a nudge, and she runs down one side of it
            q[2] += _NUDGE_RAD
            drag = max(drag, 10.0)
            forces(lines, tables, active, exact, q, level_m, load, form, force, stiff)
        stiff[0, 0] += drag
        stiff[1, 1] += drag
        stiff[2, 2] += drag * arm2
        if not solve3(stiff, force, step):
            drag = 2.0 * drag + 1.0
            step[:] = 0.0
        along = force[0] * step[0] + force[1] * step[1] + force[2] * step[2]
        if along < 0.0 and not stable:
            # against the forces: the drag is too small for this curvature
            drag = 4.0 * drag + 10.0
            forces(lines, tables, active, exact, q, level_m, load, form, force, stiff)
            continue
        far = math.sqrt(step[0] ** 2 + step[1] ** 2)
        cut = min(1.0, _STEP_M / max(far, 1e-12), _STEP_RAD / max(abs(step[2]), 1e-12))
        for a in range(3):
            q[a] += cut * step[a]
        if not (space.west_m <= q[0] <= space.east_m and space.south_m <= q[1] <= space.north_m):
            return LEFT
        forces(lines, tables, active, exact, q, level_m, load, form, force, stiff)
        now_n = math.sqrt(force[0] ** 2 + force[1] ** 2 + force[2] ** 2 / arm2)
        drag = drag_after(drag, now_n / max(size_n, 1e-300), cut, now_n)
        size_n = now_n
    return UNSETTLED
