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

from shorefast.manoeuvre import USUAL_CREW, CameIn, come_in, started
from shorefast.manoeuvre.crosswind import crosswind, in_wind
from shorefast.manoeuvre.way_in import WayIn
from shorefast.mooring import Breeze, Orders, forces_driven

Floats = NDArray[np.float64]
ABOVE, BELOW = 1.25, 0.75
RUNS = 20
# set farther than that off her way she is lost: as the limit itself has it
OFF_M = 5.0
# of the mean wind, where the hour's gust is not told
_GUST = 1.6
_SIDES = (("right", 0.5 * math.pi), ("left", -0.5 * math.pi))
# her bow, helm and thruster within what the limit takes for their ends; newtons are tenths
_MOST_OFF_RAD, _MOST_REVS, _LEFT_N, _LEVER_M = math.radians(35.0), 1.0, 10.0, 10.0


def tried(came: Came, way: WayIn, seed: int) -> CameIn:
    """A usual crew in a gusty wind about the mean wind of ``way``; one go."""
    wind = gusty(replace(came, found=replace(came.found, way=way)), seed)
    return come_in(way, wind, came.lines_s, USUAL_CREW, np.random.default_rng(seed))


def is_lost(one: CameIn) -> bool:
    """Whether she was set off her way, touched, or never came to the hold."""
    at_hold = any(name == "hold" for name, _ in one.marks)
    return one.most_across_m > OFF_M or not at_hold or one.ended in ("off her way", "touched")


def lost_share(came: Came, wind_mps: float, from_rad: float) -> float:
    """Of ``RUNS`` seeded arrivals of a usual crew in gusts about a mean wind, those lost."""
    told_wind = came.found.way.arrival.wind
    gust = told_wind.gust_mps / told_wind.mean_mps if told_wind.mean_mps > 0.0 else _GUST
    gust = gust if math.isfinite(gust) else _GUST
    way = in_wind(came.found.way, wind_mps, from_rad)
    wind = replace(way.arrival.wind, gust_mps=gust * wind_mps)
    way = started(replace(way, arrival=replace(way.arrival, wind=wind)))
    with ThreadPoolExecutor(2) as pool:
        went = list(pool.map(lambda seed: tried(came, way, seed), range(1, RUNS + 1)))
    return sum(is_lost(one) for one in went) / RUNS


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
        above.append(lost_share(came, ABOVE * most_mps, from_rad))
        below.append(lost_share(came, BELOW * most_mps, from_rad))
        say(
            f"{bay}, from {name}, {most_mps:.1f} m/s: lost at {ABOVE:g} of it {above[-1]:.0%},"
            f" kept at {BELOW:g} of it {1.0 - below[-1]:.0%}"
        )
    return [
        measured(f"crosswind-{bay}-lost-above", 100.0 * min(above), "of 100", ">= 95"),
        told(f"crosswind-{bay}-kept-below", 100.0 * (1.0 - max(below)), "of 100"),
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
