"""One balance of all forces: where, what pulls, and whether and how firmly she stays."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring.following import FREE_N
from shorefast.mooring.rest import Boat, Load, State, forces
from shorefast.mooring.shapes import Floats


@dataclass(frozen=True)
class OneRest:
    """One balance of all forces.

    kind : "rest" where she comes back from any small push; "ridge" where she leaves
        it to one side or the other; "sheer" where she swings away from it wider and
        wider; "free" where nothing holds her and nothing moves her
    east_m, north_m, heading_rad : where, and where her bow points
    pull_n : array (line,), level pull of each line, NaN for one that is gone. [N]
    residual_n, residual_npm : what is left of force [N] and moment [N m]
    eigenvalue_npm : array (3,), complex, of the stiffness with turns weighed by half
        her length; all real parts above 0 at a rest. [N/m]
    softest_npm, stiffest_npm : push over shift along her softest and stiffest
        direction, the heading left free; NaN where not a rest. [N/m]
    softest_rad : the bearing of the softest. [rad]
    turn_npm : moment over turn, the place left free. [N m/rad]
    share : share of all starts from which she comes to lie here
    """

    kind: str
    east_m: float
    north_m: float
    heading_rad: float
    pull_n: Floats
    residual_n: float
    residual_npm: float
    eigenvalue_npm: NDArray[np.complex128]
    softest_npm: float
    stiffest_npm: float
    softest_rad: float
    turn_npm: float
    share: float

    @property
    def q(self) -> Floats:
        """East, north, heading."""
        return np.array([self.east_m, self.north_m, self.heading_rad])


def is_free(pull_n: Floats) -> bool:
    """Whether no line pulls as much as is counted at all."""
    return bool(np.nan_to_num(pull_n, nan=0.0).max(initial=0.0) < FREE_N)


def weighed(stiff: Floats, arm_m: float) -> Floats:
    """A stiffness with turns weighed by half her length. [N/m]"""
    weighed = stiff.copy()
    weighed[2] /= arm_m * arm_m
    return weighed


def _kind(eigenvalue: NDArray[np.complex128], pull_n: Floats) -> str:
    if is_free(pull_n):
        return "free"
    falls = eigenvalue.real <= 0.0
    if not falls.any():
        return "rest"
    return "sheer" if falls.sum() == 2 and abs(eigenvalue[falls][0].imag) > 0.0 else "ridge"


def _softness(stiff: Floats) -> tuple[float, float, float, float]:
    """Push over shift at the softest and stiffest, bearing of the softest, moment over turn."""
    give = np.linalg.inv(stiff)
    _, size, along = np.linalg.svd(give[:2, :2])
    bearing = math.atan2(along[0, 0], along[0, 1]) % math.pi
    turn = 1.0 / give[2, 2] if give[2, 2] != 0.0 else math.nan
    return 1.0 / float(size[0]), 1.0 / float(size[1]), bearing, float(turn)


def pulls_at(boat: Boat, state: State, q: Floats) -> Floats:
    """Level pull of every line at a place (line,); NaN for one that is gone. [N]"""
    force, stiff = np.empty(3), np.empty((3, 3))
    calm = Load(0.0, 0.0, 0.0, 0.0, 0.0, state.load.density_kgpm3)
    pull = np.full(state.active.size, np.nan)
    for i in np.flatnonzero(state.active):
        alone = np.zeros_like(state.active)
        alone[i] = 1.0
        forces(boat, state._replace(load=calm, active=alone), q, force, stiff)
        pull[i] = math.hypot(force[0], force[1])
    return pull


def described(boat: Boat, state: State, q: Floats, share: float) -> OneRest:
    """One balance with all that is told of it."""
    force, stiff = np.empty(3), np.empty((3, 3))
    forces(boat, state, q, force, stiff)
    eigenvalue = np.linalg.eigvals(weighed(stiff, boat.space.arm_m)).astype(np.complex128)
    pull = pulls_at(boat, state, q)
    kind = _kind(eigenvalue, pull)
    nan = math.nan
    soft = _softness(stiff) if kind == "rest" else (nan, nan, nan, nan)
    heading = float(q[2]) % (2.0 * math.pi)
    left_n = math.hypot(force[0], force[1])
    return OneRest(
        kind, float(q[0]), float(q[1]), heading, pull, left_n, abs(float(force[2])),
        eigenvalue[np.argsort(eigenvalue.real)], *soft, share,
    )  # fmt: skip
