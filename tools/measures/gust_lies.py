"""Drawn lies moved in drawn gusts, and what another path says of the motion."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from measures.lies import Drawn, Floats
from measures.own_motion import drag, moved, weight_of
from measures.own_rest import energy_j, wind_on

from shorefast.mooring import (
    AIR_KGPM3,
    FOUND,
    GustRuns,
    Load,
    Moving,
    Timing,
    Winds,
    moved_by_gusts,
    solve_rest,
)

STEP_S, EVERY_S = 0.05, 0.5


@dataclass(frozen=True)
class Run:
    """A lie's motion by the package, begun at rest: trace (step, column) as it tells it.

    blow : mean, spread [m/s] and where from [rad]; shape (time, 2), every half second.
    """

    lie: Drawn
    moving: Moving
    blow: tuple[float, float, float]
    shape: Floats
    trace: Floats

    def wind(self, t_s: float) -> tuple[float, float]:
        """East and north of where the wind comes from, its speed long. [m/s]"""
        at = EVERY_S * np.arange(len(self.shape))
        along = self.blow[0] + self.blow[1] * float(np.interp(t_s, at, self.shape[:, 0]))
        across = self.blow[1] * float(np.interp(t_s, at, self.shape[:, 1]))
        sine, cosine = math.sin(self.blow[2]), math.cos(self.blow[2])
        return along * sine + across * cosine, along * cosine - across * sine


def run_of(lie: Drawn, for_s: float = 30.0) -> Run | None:
    """A drawn lie in 10 m/s of gusty wind; None where she has no rest to begin from."""
    load = lie.load._replace(wind_mps=10.0)
    rest = solve_rest(lie.scene, load, lie.level_m, lie.start, arm_m=lie.arm_m)
    if rest.why != "found":
        return None
    long_m, own_kg = 2.0 * lie.arm_m, 11e3 * (2.0 * lie.arm_m / 13.0) ** 3
    strip = np.stack([np.linspace(-0.4, 0.4, 6) * long_m, np.full(6, 1000.0)], axis=-1)
    moving = Moving(1.08 * own_kg, 2.1 * own_kg, 2.0 * own_kg * (0.25 * long_m) ** 2, 60.0, strip)
    dice = np.random.default_rng([7, lie.seed])
    shape = 0.1 * dice.standard_normal((400, 2)).cumsum(axis=0)
    blow, one = (10.0, 3.0, lie.load.wind_from_rad), np.ones(1)
    runs = GustRuns(
        np.zeros(1, int), lie.level_m * one, blow[2] * one, blow[0] * one, blow[1] * one,
        0 * one, np.array([[rest.east_m, rest.north_m, rest.heading_rad]]),
    )  # fmt: skip
    timing = Timing(for_s, 0.0, STEP_S, damped=0.0, traced=True)
    ours = moved_by_gusts(lie.ready(), moving, Winds(shape[None].copy(), EVERY_S), runs, timing)
    return Run(lie, moving, blow, shape, ours.trace[0]) if ours.code[0] == FOUND else None


def off_integrator(run: Run) -> tuple[float, float, float]:
    """How far she ranges [m], and how far [m] and how turned [rad] an integrator has her."""
    every = round(EVERY_S / STEP_S)
    told = run.trace[::every, :3]
    at_s: Floats = EVERY_S * np.arange(len(told), dtype=np.float64)
    own = moved(run.lie, run.moving, run.wind, told[0], at_s)
    off = told - own
    ranged_m = float(np.ptp(own[:, :2], axis=0).max())
    return ranged_m, float(np.hypot(off[:, 0], off[:, 1]).max()), float(np.abs(off[:, 2]).max())


def energy_left(run: Run) -> float:
    """What wind and water put in that is neither motion nor in the lines, of all that went through.

    Work of wind and drag by their own formulas along the way told; energy of the lines by
    their own catenaries. The lies' chain lies on the bed without moving along it, so the
    friction there takes nothing as long as the same piece lies: a level bed is wanted.
    """
    rate = np.stack([_rates(row) for row in run.trace])
    push = np.stack([_push(run, row, v) for row, v in zip(run.trace, rate, strict=True)])
    power_w = (push * rate).sum(axis=1)
    work_j = float(np.trapezoid(power_w, dx=STEP_S))
    through_j = float(np.trapezoid(np.abs(power_w), dx=STEP_S))
    calm = Load(0.0, 0.0, 0.0, 0.0, 0.0, AIR_KGPM3)
    stored = []
    for row, v in ((run.trace[0], rate[0]), (run.trace[-1], rate[-1])):
        whole, _ = weight_of(run.moving, float(row[2]))
        stored.append(0.5 * float(v @ whole @ v) + energy_j(run.lie, calm, row[:3]))
    return abs(work_j - (stored[1] - stored[0])) / through_j


def _rates(row: Floats) -> Floats:
    """East, north and turning rates from a trace's speeds along and across her."""
    s, c = math.sin(row[2]), math.cos(row[2])
    return np.array([row[3] * s + row[4] * c, row[3] * c - row[4] * s, row[5]])


def _push(run: Run, row: Floats, rate: Floats) -> Floats:
    """Wind as it meets her moving, and drag, in the bay's axes."""
    blow = row[6:8] + rate[:2]
    load = Load(0.0, 0.0, 0.0, float(np.hypot(*blow)), math.atan2(blow[0], blow[1]), AIR_KGPM3)
    return wind_on(run.lie.form, load, float(row[2])) + drag(run.moving, float(row[2]), rate)
