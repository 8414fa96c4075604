"""Her motion in time by another path: Lagrange's equations in the bay's axes, a general integrator.

Lines and wind are those of ``own_rest``; drag and inertia are written anew. Nothing of
the package's motion is used.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from measures.lies import Drawn, Floats
from measures.own_rest import forces
from scipy.integrate import solve_ivp

from shorefast.mooring import AIR_KGPM3, Load, Moving

Wind = Callable[[float], tuple[float, float]]


def weight_of(moving: Moving, heading_rad: float) -> tuple[Floats, Floats]:
    """Her inertia in the bay's axes, east, north, turning, and how it changes as she turns."""
    s, c = math.sin(heading_rad), math.cos(heading_rad)
    a, b = moving.surge_kg, moving.sway_kg
    whole = np.diag([a * s * s + b * c * c, a * c * c + b * s * s, moving.yaw_kgm2])
    whole[0, 1] = whole[1, 0] = (a - b) * s * c
    turned = (a - b) * np.array(
        [[2.0 * s * c, c * c - s * s, 0.0], [c * c - s * s, -2.0 * s * c, 0.0], [0.0, 0.0, 0.0]]
    )
    return whole, turned


def drag(moving: Moving, heading_rad: float, rate: Floats) -> Floats:
    """Drag of the water in the bay's axes, from east, north and turning rates."""
    s, c = math.sin(heading_rad), math.cos(heading_rad)
    u, v = rate[0] * s + rate[1] * c, rate[0] * c - rate[1] * s
    there = v + moving.strip[:, 0] * rate[2]
    part = moving.strip[:, 1] * there * np.abs(there)
    x, y, n = -moving.along_kgpm * u * abs(u), -part.sum(), -(moving.strip[:, 0] * part).sum()
    return np.array([x * s + y * c, x * c - y * s, n])


def moved(lie: Drawn, moving: Moving, wind: Wind, start: Floats, at_s: Floats) -> Floats:
    """Places (time, 3) at some times, begun at rest; linear damping left out.

    wind : east and north of where it comes from, its speed long, at a time [m/s].
    """

    def gains(t_s: float, state: Floats) -> Floats:
        q, rate = state[:3], state[3:]
        blow = np.array(wind(t_s)) + rate[:2]
        load = Load(0.0, 0.0, 0.0, float(np.hypot(*blow)), math.atan2(blow[0], blow[1]), AIR_KGPM3)
        whole, turned = weight_of(moving, q[2])
        # d/dt (M rate) = force + 1/2 rate' dM/dheading rate, for the heading alone
        push = forces(lie, load, q) + drag(moving, float(q[2]), rate)
        push[2] += 0.5 * float(rate @ turned @ rate)
        return np.concatenate([rate, np.linalg.solve(whole, push - rate[2] * turned @ rate)])

    run = solve_ivp(
        gains, (0.0, float(at_s[-1])), np.concatenate([start, np.zeros(3)]), "RK45", at_s,
        rtol=1e-6, atol=1e-6, max_step=0.25,
    )  # fmt: skip
    return np.asarray(run.y[:3].T, float)
