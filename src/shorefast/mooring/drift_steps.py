"""The sums of a drift in time: what moves her, and one step after another (Runge, Kutta)."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from shorefast.compiled import kernel, lean_kernel
from shorefast.mooring.batch import Path, is_told
from shorefast.mooring.cells import Water, level_cell
from shorefast.mooring.quick import (
    L_FAR,
    L_TENSION,
    LINE_COLUMNS,
    Air,
    Near,
    balance,
    fresh_near,
    put_at,
    tell_lines,
)
from shorefast.mooring.released import Laid
from shorefast.mooring.rest import Boat, Load, is_within
from shorefast.mooring.shapes import Floats, Ints

# columns of her state: place, heading, speeds through the water, work done on her, lost to it
D_EAST, D_NORTH, D_HEADING, D_AHEAD, D_ASIDE, D_TURN, D_WORK, D_LOST = range(8)
DRIFT_COLUMNS = 8
# how a drift ended
GOES_ON, LIES_STILL, GONE_OUT, NOT_KNOWN = range(4)
_STRIPS = 8
_STILL_MPS, _STILL_RADPS, _STILL_MPS2 = 0.01, 0.002, 0.002


class Afloat(NamedTuple):
    """How she moves through water.

    surge_kg, sway_kg, yaw_kgm2 : what must be moved, added water included
    along, hull, keel : drag over the square of the speed: along her, across all her
    hull, across her keel. [N s2/m2]
    waterline_m, keel_x_m : length at the water; the keel forward of midships. [m]
    current_east_mps, current_north_mps : the water over the ground. [m/s]
    """

    surge_kg: float
    sway_kg: float
    yaw_kgm2: float
    along: float
    hull: float
    keel: float
    waterline_m: float
    keel_x_m: float
    current_east_mps: float = 0.0
    current_north_mps: float = 0.0


class Seconds(NamedTuple):
    """How long, the length of a step, and how often it is told. [s]"""

    lasts_s: float
    step_s: float
    told_s: float


class Loose(NamedTuple):
    """One state of her drift: what holds and what pushes her.

    wind_east_mps, wind_north_mps : the air over the ground; steady : as ``quick.Air``.
    """

    boat: Boat
    afloat: Afloat
    active: Floats
    water: Water
    wind_east_mps: float
    wind_north_mps: float
    density_kgpm3: float
    steady: tuple[float, float, float]


@lean_kernel
def water_drag(afloat: Afloat, u: float, v: float, r: float) -> tuple[float, float, float]:
    """Forward, starboard and turning force of the water she moves through.

    Across, each strip of hull and the keel by its own speed: so a turn is damped too.
    """
    aside, turning = 0.0, 0.0
    per_strip = afloat.hull / _STRIPS
    for k in range(_STRIPS):
        x_m = ((k + 0.5) / _STRIPS - 0.5) * afloat.waterline_m
        w = v + r * x_m
        push = -per_strip * w * abs(w)
        aside += push
        turning += push * x_m
    w = v + r * afloat.keel_x_m
    push = -afloat.keel * w * abs(w)
    return -afloat.along * u * abs(u), aside + push, turning + push * afloat.keel_x_m


@lean_kernel
def rates(at: Loose, near: Near, y: Floats, dy: Floats) -> None:
    """How fast her state changes: Kirchhoff's equations in water that is pushed aside."""
    afloat, u, v, r = at.afloat, y[D_AHEAD], y[D_ASIDE], y[D_TURN]
    put_at(near.q, y[D_EAST], y[D_NORTH], y[D_HEADING])
    sine, cosine = near.q[3], near.q[4]
    dy[D_EAST] = u * sine + v * cosine + afloat.current_east_mps
    dy[D_NORTH] = u * cosine - v * sine + afloat.current_north_mps
    dy[D_HEADING] = r
    air_e, air_n = at.wind_east_mps - dy[D_EAST], at.wind_north_mps - dy[D_NORTH]
    wind_pa = at.density_kgpm3 * (air_e * air_e + air_n * air_n)
    air = Air(math.atan2(-air_e, -air_n), wind_pa, at.steady)
    fe, fn, turning = balance(at.boat.cells, at.active, at.boat.wind, at.water, air, near)
    ahead, aside = fe * sine + fn * cosine, fe * cosine - fn * sine
    drag_x, drag_y, drag_n = water_drag(afloat, u, v, r)
    m1, m2 = afloat.surge_kg, afloat.sway_kg
    dy[D_AHEAD] = (ahead + drag_x + m2 * v * r) / m1
    dy[D_ASIDE] = (aside + drag_y - m1 * u * r) / m2
    dy[D_TURN] = (turning + drag_n + (m1 - m2) * u * v) / afloat.yaw_kgm2
    dy[D_WORK] = ahead * u + aside * v + turning * r
    dy[D_LOST] = -(drag_x * u + drag_y * v + drag_n * r)


@lean_kernel
def one_step(at: Loose, near: Near, y: Floats, work: Floats, step_s: float) -> None:
    """One step of the fourth order; ``work`` (6, column) is kept at hand."""
    for k in range(4):
        share = 0.0 if k == 0 else (1.0 if k == 3 else 0.5)
        for c in range(y.shape[0]):
            work[4, c] = y[c] + (share * step_s * work[k - 1, c] if k > 0 else 0.0)
        rates(at, near, work[4], work[k])
    for c in range(y.shape[0]):
        y[c] += step_s / 6.0 * (work[0, c] + 2.0 * work[1, c] + 2.0 * work[2, c] + work[3, c])


@lean_kernel
def lies_still(y: Floats, dy: Floats) -> bool:
    """Whether she has come to rest over the ground."""
    slow = dy[D_EAST] * dy[D_EAST] + dy[D_NORTH] * dy[D_NORTH] < _STILL_MPS * _STILL_MPS
    eased = abs(dy[D_AHEAD]) + abs(dy[D_ASIDE]) < _STILL_MPS2
    return bool(slow and eased and abs(y[D_TURN]) < _STILL_RADPS)


@lean_kernel
def keep_peaks(at: Loose, near: Near, line: Floats, peak: Floats) -> None:
    """Raise the greatest tension of each line by that of now; at either end of it."""
    tell_lines(at.boat.cells, at.active, at.water, near, line)
    for i in range(peak.shape[0]):
        peak[i] = max(peak[i], line[i, L_TENSION], line[i, L_FAR])


@kernel
def drift_on(at: Loose, clock: Seconds, y: Floats, track: Floats, peak: Floats) -> int:
    """Let her go from ``y``; fills ``track`` (told, column), NaN after an end. How it ended."""
    near, work = fresh_near(at.active.shape[0]), np.empty((6, y.shape[0]))
    line = np.zeros((at.active.shape[0], LINE_COLUMNS))
    each = max(1, round(clock.told_s / clock.step_s))
    step_s = clock.told_s / each
    track[:] = np.nan
    for k in range(track.shape[0]):
        rates(at, near, y, work[5])
        track[k] = y
        if not np.isfinite(work[5]).all():
            return NOT_KNOWN
        keep_peaks(at, near, line, peak)
        if not is_within(at.boat.space, y):
            return GONE_OUT
        if k > 0 and lies_still(y, work[5]):
            return LIES_STILL
        if k < track.shape[0] - 1:
            for _ in range(each):
                one_step(at, near, y, work, step_s)
    return GOES_ON


@kernel
def drifts(
    boat: Boat,
    afloat: Afloat,
    states: Path,
    laid: Laid,
    load: Load,
    clock: Seconds,
    told: tuple[Floats, Floats, Ints],
    span: tuple[int, int],
) -> None:
    """``drift_on`` for the states from the first up to, not with, the second of ``span``.

    Where wind or water is unknown so is her way.
    """
    track, peak, ended = told
    for k in range(span[0], span[1]):
        if not is_told(states, k):
            track[k], ended[k] = np.nan, NOT_KNOWN
            continue
        wind, blow = states.wind_mps[k], states.from_rad[k]
        at = Loose(
            boat, afloat, laid.active[k], level_cell(boat.cells.level_m, states.level_m[k]),
            -wind * math.sin(blow), -wind * math.cos(blow), load.density_kgpm3,
            (load.east_n, load.north_n, load.moment_npm),
        )  # fmt: skip
        y = track[k, 0].copy()
        ended[k] = drift_on(at, clock, y, track[k], peak[k])
