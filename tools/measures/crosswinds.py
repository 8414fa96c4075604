"""The wind she cannot be held in, held against usual crews in gusts and against statics."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import numpy as np
from measures.arrivals import BAYS, Came, came_to, gusty
from measures.figure import Figure, measured, told
from numpy.typing import NDArray
from scipy.optimize import least_squares

from shorefast.manoeuvre import USUAL_CREW, started
from shorefast.manoeuvre.coming_in import keeps_her_way
from shorefast.manoeuvre.crosswind import crosswind, in_wind
from shorefast.manoeuvre.way_in import WayIn
from shorefast.mooring import Breeze, Orders, forces_driven

Floats = NDArray[np.float64]
ABOVE, BELOW, HALF = 1.25, 0.75, 0.5
RUNS, FIRST_SEED = 100, 60_000_000
# of the mean wind, where the hour's gust is not told
_GUST = 1.6
_SIDES = (("right", 0.5 * math.pi), ("left", -0.5 * math.pi))
# her bow, helm and thruster within what the limit takes for their ends; newtons are tenths
_MOST_OFF_RAD, _MOST_REVS, _LEFT_N, _LEVER_M = math.radians(35.0), 1.0, 10.0, 10.0


def keeps(came: Came, way: WayIn, seed: int) -> bool:
    """Whether a usual crew in gusts about the mean wind of ``way`` keeps her on it; one go."""
    wind = gusty(replace(came, found=replace(came.found, way=way)), seed)
    return keeps_her_way(way, wind, USUAL_CREW, np.random.default_rng(seed))


def kept_share(came: Came, wind_mps: float, from_rad: float) -> float:
    """Of ``RUNS`` seeded arrivals of a usual crew in gusts about a mean wind, those kept.

    The others are set more than five metres off her way, touch, or never come to the hold.
    """
    told_wind = came.found.way.arrival.wind
    gust = told_wind.gust_mps / told_wind.mean_mps if told_wind.mean_mps > 0.0 else _GUST
    gust = gust if math.isfinite(gust) else _GUST
    way = in_wind(came.found.way, wind_mps, from_rad)
    wind = replace(way.arrival.wind, gust_mps=gust * wind_mps)
    way = started(replace(way, arrival=replace(way.arrival, wind=wind)))
    with ThreadPoolExecutor(2) as pool:
        went = pool.map(lambda k: keeps(came, way, FIRST_SEED + k), range(RUNS))
        return sum(went) / RUNS


def balanced_mps(way: WayIn, from_rad: float, thruster: float = 0.0) -> float:
    """The most of a wind in which forces across, along and turning can be brought to nothing.

    By least squares on bow, helm and revs inside their ends from a set of beginnings, the
    wind put up by a tenth of a metre a second; chain slack. Without the product's own search
    for a balance and without its time-domain model. [m/s at 10 m]
    """
    arrival = way.arrival
    blow = from_rad - arrival.way_in_rad - math.pi
    best = 0.0
    for wind_mps in np.arange(0.5, 20.0, 0.1):
        felt = arrival.felt_mps(float(wind_mps))
        if not _balances(way, Breeze(felt, blow), thruster):
            break
        best = float(wind_mps)
    return best


def _balances(way: WayIn, breeze: Breeze, thruster: float) -> bool:
    speed, driven = way.speed_mps, way.driven
    ends = np.array([_MOST_OFF_RAD, driven.most_rad, _MOST_REVS, max(thruster, 1e-9)])

    def left(at: Floats) -> Floats:
        off, helm, revs, push = (float(one) for one in at * ends)
        motion = (-speed * math.cos(off), speed * math.sin(off), 0.0)
        x, y, n = forces_driven(
            driven, Breeze(breeze.wind_mps, breeze.from_rad - off), motion, Orders(helm, revs, push)
        )
        return np.array([x, y, n / _LEVER_M]) / _LEFT_N

    for off in (-0.9, -0.5, 0.0, 0.5, 0.9):
        for helm in (-0.8, -0.3, 0.3, 0.8):
            found = least_squares(left, [off, helm, -0.3, 0.0], bounds=(-1.0, 1.0))
            if np.abs(found.fun).max() < 1.0:
                return True
    return False


def crosswinds(
    bays: Sequence[str] = tuple(BAYS), say: Callable[[str], None] = print
) -> list[Figure]:
    """Figures of all bays: lost above the limit, kept below it, and the limit beside statics."""
    figures: list[Figure] = []
    for bay in bays:
        came = came_to(bay)
        figures += [*_lost(bay, came, say), *_statics(bay, came)]
    return figures


def winds_asked(came: Came) -> list[tuple[str, float, float]]:
    """Name, where from and stated limit: both beams, and where it blows from."""
    cross, arrival = came.found.crosswind, came.found.way.arrival
    asked = [("there", arrival.wind.from_rad, cross.most_there_mps)]
    for name, turn in _SIDES:
        from_rad = arrival.way_in_rad + turn
        # the limit told is that of the side it blows from: the other is asked for the same way
        one = crosswind(in_wind(came.found.way, arrival.wind.mean_mps, from_rad))
        asked.append((name, from_rad, one.holds))
    return asked


def _lost(bay: str, came: Came, say: Callable[[str], None]) -> list[Figure]:
    above, below = [], []
    for name, from_rad, most_mps in winds_asked(came):
        above.append(kept_share(came, ABOVE * most_mps, from_rad))
        below.append(kept_share(came, BELOW * most_mps, from_rad))
        half = kept_share(came, HALF * most_mps, from_rad)
        say(
            f"{bay}, from {name}, {most_mps:.1f} m/s: kept at {ABOVE:g} of it {above[-1]:.0%},"
            f" at {BELOW:g} of it {below[-1]:.0%}, at {HALF:g} of it {half:.0%}"
        )
    return [
        measured(f"crosswind-{bay}-lost-above", 100.0 * (1.0 - max(above)), "of 100", ">= 95"),
        told(f"crosswind-{bay}-kept-below", 100.0 * min(below), "of 100"),
    ]


def _statics(bay: str, came: Came) -> list[Figure]:
    way, cross = came.found.way, came.found.crosswind
    alone = replace(way, driven=way.driven._replace(thruster_n=0.0))
    side = way.arrival.way_in_rad + (0.5 if cross.from_right else -0.5) * math.pi
    ratio = cross.most_mps / balanced_mps(alone, side)
    figures = [told(f"crosswind-{bay}-over-statics", ratio, "times, by helm alone")]
    if math.isfinite(cross.most_thruster_mps):
        ratio = cross.most_thruster_mps / balanced_mps(way, side, 1.0)
        figures.append(told(f"crosswind-{bay}-thruster-over-statics", ratio, "times"))
    return figures
