"""A whole lie by another path: forces summed anew, rests by root and by least energy.

Wind, geometry and lines are written here from the printed formulas, with nothing of the
package's solver; only the drawn lie itself is shared.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from measures.lies import Drawn, Floats
from measures.own_lines import (
    Ashore,
    Rode,
    ashore_energy_j,
    ashore_pull_n,
    rode_energy_j,
    rode_pull_n,
)
from scipy.integrate import solve_ivp
from scipy.optimize import minimize, root

from shorefast.mooring import Load, PlaneBed, RodeLine, ShoreLine, WindForm


def wind_on(form: WindForm, load: Load, heading_rad: float) -> Floats:
    """East, north [N] and clockwise [N m] of a wind on a hull, by Blendermann's formula.

    Blendermann 1994 as in Fossen, Handbook of Marine Craft (2011), section 8.1.2.
    """
    off = math.remainder(load.wind_from_rad - heading_rad, 2.0 * math.pi)
    gamma, side = abs(off), math.copysign(1.0, off)
    along = form.ahead if gamma <= 0.5 * math.pi else form.astern
    cdl = along * form.frontal_m2 / form.lateral_m2
    below = 1.0 - 0.5 * form.delta * (1.0 - cdl / form.across) * math.sin(2.0 * gamma) ** 2
    q_n = 0.5 * load.density_kgpm3 * load.wind_mps**2 * form.lateral_m2 / below
    ahead_n, starboard_n = -q_n * cdl * math.cos(gamma), -q_n * side * form.across * math.sin(gamma)
    lever_m = form.lever_m - form.turn * form.length_m * (gamma - 0.5 * math.pi)
    sine, cosine = math.sin(heading_rad), math.cos(heading_rad)
    east_n = ahead_n * sine + starboard_n * cosine
    return np.array([east_n, ahead_n * cosine - starboard_n * sine, lever_m * starboard_n])


@dataclass(frozen=True)
class Lead:
    """How a line leads from a place of the boat: distance [m], unit vector, arm [m]."""

    far_m: float
    east: float
    north: float
    arm_m: float


def lead(line: RodeLine | ShoreLine, q: Floats) -> Lead:
    """From where the line leaves the boat to its far end; arm of a pull, clockwise."""
    ahead = np.array([math.sin(q[2]), math.cos(q[2])])
    starboard = np.array([ahead[1], -ahead[0]])
    off = line.x_m * ahead + line.y_m * starboard
    gap = np.array([line.east_m, line.north_m]) - q[:2] - off
    far_m = float(np.hypot(*gap))
    way = gap / far_m
    return Lead(far_m, float(way[0]), float(way[1]), float(off[1] * way[0] - off[0] * way[1]))


def own_rode(line: RodeLine, toward: Lead) -> Rode:
    """The rode over its plane, cut along the way from the anchor to the boat."""
    assert isinstance(line.bed, PlaneBed)
    rise = -(line.bed.rise_east * toward.east + line.bed.rise_north * toward.north)
    pieces = [(float(a), float(b), float(c)) for a, b, c in zip(*line.segments[:3], strict=True)]
    return Rode(pieces, math.atan(rise), line.friction)


def own_ashore(line: ShoreLine, level_m: float) -> Ashore:
    """A line ashore above the water; a drowned end lies at the water."""
    piece = (line.length_m, line.weight_npm, line.axial_stiffness_n)
    return Ashore(piece, line.z_m, max(0.0, line.level_m - level_m))


def rise_m(line: RodeLine, level_m: float) -> float:
    """Roller above the bed at the anchor. [m]"""
    assert isinstance(line.bed, PlaneBed)
    return level_m + line.z_m - line.bed.level_at_anchor_m


def pull_n(line: RodeLine | ShoreLine, toward: Lead, level_m: float) -> float:
    """Level pull of one line."""
    if isinstance(line, ShoreLine):
        return ashore_pull_n(own_ashore(line, level_m), toward.far_m)
    return rode_pull_n(own_rode(line, toward), toward.far_m, rise_m(line, level_m))


def sum_of(lie: Drawn, load: Load, q: Floats, pulls_n: list[float]) -> Floats:
    """All forces and the moment at a place, the lines' pulls given."""
    total = np.array([load.east_n, load.north_n, load.moment_npm])
    total += wind_on(lie.form, load, float(q[2]))
    for line, h_n in zip(lie.scene.lines, pulls_n, strict=True):
        way = lead(line, q)
        total += h_n * np.array([way.east, way.north, way.arm_m])
    return total


def forces(lie: Drawn, load: Load, q: Floats) -> Floats:
    """All forces and the moment at a place, every line by its own statics."""
    return sum_of(
        lie, load, q, [pull_n(line, lead(line, q), lie.level_m) for line in lie.scene.lines]
    )


def rest_by_root(lie: Drawn, load: Load, near: Floats) -> Floats | None:
    """A place without force, sought by a general root finder from ``near``."""
    weigh = np.array([1.0, 1.0, 1.0 / lie.arm_m])
    found = root(lambda q: forces(lie, load, q) * weigh, near, tol=1e-11)
    sure = bool(np.abs(found.fun).max() < 1e-3)
    return np.asarray(found.x, float) if sure else None


def energy_j(lie: Drawn, load: Load, q: Floats) -> float:
    """Energy of weight and stretch in all lines, less the work of a dead load."""
    total = -(load.east_n * q[0] + load.north_n * q[1] + load.moment_npm * q[2])
    for line in lie.scene.lines:
        way = lead(line, q)
        if isinstance(line, ShoreLine):
            total += ashore_energy_j(own_ashore(line, lie.level_m), way.far_m)
        else:
            total += rode_energy_j(own_rode(line, way), way.far_m, rise_m(line, lie.level_m))
    return float(total)


def downhill(lie: Drawn, load: Load, q: Floats, step_m: float = 2e-4) -> Floats:
    """Minus the slope of the energy: the force, by virtual work."""
    slope = np.empty(3)
    for i, wide in enumerate((step_m, step_m, step_m / lie.arm_m)):
        aside = np.zeros(3)
        aside[i] = wide
        gain_j = energy_j(lie, load, q + aside) - energy_j(lie, load, q - aside)
        slope[i] = gain_j / (2.0 * wide)
    return -slope


def rest_by_energy(lie: Drawn, load: Load, near: Floats) -> Floats:
    """The place of least energy near ``near``."""
    weigh = np.array([1.0, 1.0, lie.arm_m])
    found = minimize(
        lambda u: energy_j(lie, load, u / weigh),
        near * weigh,
        jac=lambda u: -downhill(lie, load, u / weigh) / weigh,
        method="BFGS",
        options={"gtol": 1e-4, "maxiter": 200},
    )
    return np.asarray(found.x / weigh, float)


def drift(lie: Drawn, load: Load, seconds: float) -> tuple[Floats, Floats]:
    """Strongly damped motion in time from where she is laid: the last places, force left [N].

    Integrated by a general stiff integrator, a metre a second for a newton, a turn weighed by
    half her length. Places (last tenth of the time, 3).
    """
    weigh = np.array([1.0, 1.0, lie.arm_m**-2])
    told = np.linspace(0.9 * seconds, seconds, 60)
    run = solve_ivp(
        lambda _, q: forces(lie, load, q) * weigh,
        (0.0, seconds), np.array(lie.start), "BDF", told, rtol=1e-4, atol=1e-4,
    )  # fmt: skip
    last = np.asarray(run.y.T, float)
    return last, forces(lie, load, last[-1])
