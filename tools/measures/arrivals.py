"""Arrivals by the calls alone: a perfect crew, a usual one in gusts, and winds above the limit."""

from __future__ import annotations

import math
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
import shapely
from measures.commands import NOTCH
from measures.figure import Figure, measured, told
from shapely.geometry.base import BaseGeometry

from shorefast.manoeuvre import (
    USUAL_CREW,
    Approach,
    CameIn,
    approach,
    ashore,
    come_in,
    started,
    waiting,
)
from shorefast.manoeuvre.coming_in import WindAt, keeps_her_way
from shorefast.manoeuvre.crosswind import in_wind, steady, swinging
from shorefast.manoeuvre.practice_wind import air_of
from shorefast.manoeuvre.way_in import LinesS
from shorefast.readers import read_stay
from shorefast.stay import Judged, Stay, judge, where_to_let_go

BAYS = {
    "notch": "grey_notch/stay.toml",
    "spur": "stone_spur/stay.toml",
    "sombras": "tres_sombras/stay.toml",
}
# what a perfect crew comes within of the planned lie: the goal [m]
PERFECT_M = 3.0
ABOVE, BELOW = 1.25, 0.9
# the first seed of the arrivals, far from those the limits are drawn with; of second goes
FIRST_SEED, _GO = 40_000_000, 1_000_000
_SIDES = (("right", 0.5 * math.pi), ("left", -0.5 * math.pi))


@dataclass(frozen=True)
class Came:
    """One bay: the stay, its approach, and how the lines are taken."""

    stay: Stay
    judged: Judged
    found: Approach
    lines_s: LinesS

    @property
    def felt(self) -> tuple[float, float]:
        """The mean wind at the height of her windage, and where from."""
        arrival = self.found.way.arrival
        return arrival.felt_mps(arrival.wind.mean_mps), arrival.wind.from_rad


def came_to(bay: str) -> Came:
    """A demonstration bay with its approach worked out."""
    stay = read_stay(NOTCH.parent / BAYS[bay])
    judged = judge(stay)
    found = approach(stay)
    lines = ashore(stay, judged, found.hold_off_m)
    return Came(stay, judged, found, waiting(found.way, lines).lines_s)


def perfect(came: Came) -> CameIn:
    """A perfect crew in the mean wind."""
    return come_in(came.found.way, steady(*came.felt), came.lines_s)


def gusty(came: Came, seed: int) -> WindAt:
    """One drawn wind with the hour's mean and gust, as her hull feels it."""
    return air_of(came.found.way.arrival, gusts=True, seed=seed).at


def usual(came: Came, seed: int) -> tuple[CameIn, int]:
    """A usual crew in a gusty wind, and at which go; the same seed, the same arrival.

    Set too far off her way it breaks off and comes again, once.
    """
    for go in (1, 2):
        drawn = seed + _GO * (go - 1)
        draw = np.random.default_rng(drawn)
        one = come_in(came.found.way, gusty(came, drawn), came.lines_s, USUAL_CREW, draw)
        if one.ended != "off her way":
            return one, go
    return one, 2


def is_within(came: Came, one: CameIn) -> bool:
    """Whether an arrival ended lying, inside what the approach states."""
    limits = came.found.limits
    near = one.off_place_m <= limits.landing_m and one.off_plan_m <= limits.lie_m
    return one.ended == "lies" and near


def keeps(came: Came, share: float, from_rad: float, most_mps: float) -> bool:
    """Whether a perfect crew keeps her way in so much of a limit wind that swings about there."""
    way = in_wind(came.found.way, share * most_mps, from_rad)
    felt = way.arrival.felt_mps(share * most_mps)
    return keeps_her_way(started(way), swinging(way, felt, from_rad))


def arrivals(runs: int, bays: Sequence[str] = tuple(BAYS), seed: int = FIRST_SEED) -> list[Figure]:
    """Figures of all bays; ``runs`` seeded arrivals each."""
    figures: list[Figure] = []
    for bay in bays:
        came = came_to(bay)
        patch = where_to_let_go(came.stay, came.judged).patch
        went = usually(came, runs, seed)
        figures += [*_perfectly(bay, came, patch), *_usually(bay, came, patch, went)]
        figures += _limits(bay, came)
    return figures


def usually(came: Came, runs: int, seed: int) -> list[tuple[CameIn, int]]:
    """So many arrivals of usual crews from a first seed on."""
    with ThreadPoolExecutor(2) as pool:
        return list(pool.map(lambda k: usual(came, seed + k), range(runs)))


def lands_inside(patch: BaseGeometry, one: CameIn) -> bool:
    """Whether its anchor lies in the let-go patch."""
    return bool(shapely.covers(patch, shapely.Point(*one.anchor_m)))


def _perfectly(bay: str, came: Came, patch: BaseGeometry) -> list[Figure]:
    one = perfect(came)
    return [
        measured(f"arrival-{bay}-in-patch", float(lands_inside(patch, one)), "of 1", ">= 1"),
        told(f"arrival-{bay}-anchor-off-m", one.off_place_m, "m"),
        measured(f"arrival-{bay}-off-plan-m", one.off_plan_m, "m", f"< {PERFECT_M:g}"),
    ]


def _usually(
    bay: str, came: Came, patch: BaseGeometry, went: list[tuple[CameIn, int]]
) -> list[Figure]:
    share, limits = 100.0 / len(went), came.found.limits
    lay = [one for one, _ in went if one.ended == "lies"]
    within = share * sum(is_within(came, one) for one in lay)
    off = float(np.quantile([one.off_place_m for one in lay], 0.95))
    away = float(np.quantile([one.off_plan_m for one in lay], 0.95))
    inside = share * sum(lands_inside(patch, one) for one in lay)
    return [
        measured(f"arrivals-{bay}-within", within, f"% of {len(went)}", ">= 95"),
        told(f"arrivals-{bay}-lying", share * len(lay), f"% of {len(went)}"),
        told(f"arrivals-{bay}-second-go", share * sum(go > 1 for _, go in went), "%"),
        told(f"arrivals-{bay}-in-patch", inside, "%"),
        told(f"arrivals-{bay}-anchor-m", off, f"m, 95 in 100 ({limits.landing_m:.1f} told)"),
        told(f"arrivals-{bay}-lie-m", away, f"m, 95 in 100 ({limits.lie_m:.1f} told)"),
    ]


def _limits(bay: str, came: Came) -> list[Figure]:
    """Winds from where it blows and from both sides: kept below the limit, lost above it."""
    cross, arrival = came.found.crosswind, came.found.way.arrival
    asked = [("there", arrival.wind.from_rad, cross.most_there_mps)]
    square = cross.holds
    name, turn = _SIDES[0] if cross.from_right else _SIDES[1]
    asked.append((name, arrival.way_in_rad + turn, square))
    wrong = 0
    for said, from_rad, most_mps in asked:
        below, above = (keeps(came, share, from_rad, most_mps) for share in (BELOW, ABOVE))
        print(f"{bay}, wind from {said}, {most_mps:.1f} m/s: below {below}, above {above}")
        wrong += (not below) + above
    return [measured(f"arrival-{bay}-limits-wrong", wrong, "of 4", "< 1")]
