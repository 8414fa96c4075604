"""Who carries the lines and how: rowed or swum, by the water's temperature and by who is there."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shorefast.basis import Assumption, Basis, Input
from shorefast.manoeuvre.carried import MAKE_FAST_S, ROWER, SWIMMER, carry_s
from shorefast.manoeuvre.crew import Crew, crew_for
from shorefast.stay import ShoreLeg, Stay

COLD_K = 288.15
"""Below this nobody swims with a line: about 15 degrees Celsius, as the cautions have it. [K]"""
_POSTS = ("bow", "line")


@dataclass(frozen=True)
class Trip:
    """A leg as it is carried: distance [m], and the mean wind from ahead on the way. [m/s]"""

    leg: ShoreLeg
    distance_m: float
    head_wind_mps: float

    @property
    def swim_s(self) -> float:
        """From the ladder until it is fast, swimming. [s]"""
        return MAKE_FAST_S + carry_s(SWIMMER, self._way_m, self.leg.line.diameter_m)

    @property
    def row_s(self) -> float:
        """From the boat until it is fast, rowing; infinite where the wind lets no headway. [s]"""
        diameter_m = self.leg.line.diameter_m
        return MAKE_FAST_S + carry_s(ROWER, self._way_m, diameter_m, self.head_wind_mps)

    @property
    def swim_back_s(self) -> float:
        """The way back without a line, swimming. [s]"""
        return self.distance_m / SWIMMER.calm_mps

    @property
    def row_back_s(self) -> float:
        """The way back without a line, rowing in a calm. [s]"""
        return self.distance_m / ROWER.calm_mps

    @property
    def _way_m(self) -> float:
        # out and back with a line led double: the second part drags behind the first
        return self.leg.parts * self.distance_m


@dataclass(frozen=True)
class Carried:
    """Who carries the lines.

    Attributes
    ----------
    by : str
        "row", "swim" or "nobody".
    why : str
        See ``Ashore.why``.
    rule : str
        "cold", "warm" or "unknown".
    can_row, can_swim : bool
        Whether it may be done so at all.
    takes_s : float
        All trips with the ways back; NaN where nobody carries. [s]
    """

    by: str
    why: str
    rule: str
    can_row: bool
    can_swim: bool
    crew: Crew
    takes_s: float = math.nan

    @property
    def carrier(self) -> str | None:
        """The duty that carries; None where nobody may."""
        return {"row": "rower", "swim": "swimmer"}.get(self.by)


def temperature_rule(water_k: float | None) -> str:
    """Cold below 15 degrees Celsius, else warm; unknown, which is taken as cold.

    Source
    ------
    golden-tipton-2002 (from memory): a minute of gasping, ten of useful hands.
    """
    if water_k is None or not math.isfinite(water_k):
        return "unknown"
    return "cold" if water_k < COLD_K else "warm"


def who_carries(stay: Stay, trips: tuple[Trip, ...]) -> Carried:
    """Rowed or swum, and the people for it.

    In cold water, or where nobody knows, by the tender or not at all. In warm water by
    whichever takes less time over all lines, of what there are people for.
    """
    rule = temperature_rule(stay.water_k)
    ways = [way for way in ("rower", "swimmer") if _may(stay, rule, way)]
    crews = {way: crew_for(stay.people, ("helm", way, *_POSTS)) for way in ways}
    manned = [way for way in ways if way not in crews[way].missing]
    can_row, can_swim = "rower" in manned, "swimmer" in manned
    if not trips:
        return Carried("nobody", "no line", rule, can_row, can_swim, _without(stay))
    if not manned:
        return Carried("nobody", _why_nobody(stay, rule), rule, False, False, _without(stay))
    took_s = {
        "rower": sum(trip.row_s + trip.row_back_s for trip in trips),
        "swimmer": sum(trip.swim_s + trip.swim_back_s for trip in trips),
    }
    best = min(manned, key=lambda way: took_s[way] if math.isfinite(took_s[way]) else math.inf)
    why = "quicker" if len(manned) == 2 else {"rower": "tender", "swimmer": "warm water"}[best]
    by = {"rower": "row", "swimmer": "swim"}[best]
    return Carried(by, why, rule, can_row, can_swim, crews[best], took_s[best])


def _may(stay: Stay, rule: str, way: str) -> bool:
    return stay.boat.tender is not None if way == "rower" else rule == "warm"


def _without(stay: Stay) -> Crew:
    return crew_for(stay.people, ("helm", *_POSTS))


def _why_nobody(stay: Stay, rule: str) -> str:
    if rule == "warm":
        return "nobody to row or swim" if stay.boat.tender is not None else "nobody to swim"
    return "nobody to row" if stay.boat.tender is not None else f"{rule} and no tender"


def carries_basis(stay: Stay) -> Basis:
    """What the choice rests on."""
    said = Assumption(
        "Below about 15 degrees Celsius nobody swims with a line; water that nobody has"
        " measured counts as cold",
        "A minute of gasping and ten of useful hands: a swimmer may not come back",
    )
    known = stay.water_k is not None
    inputs = (Input("water temperature", f"{stay.water_k:.1f} K", "stay file"),) if known else ()
    return Basis(inputs=inputs, assumptions=(said,), sources=("golden-tipton-2002",))
