"""The wind above which she cannot be held on her way in."""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

from shorefast.manoeuvre.arrival import Arrival, Wind
from shorefast.manoeuvre.coming_in import WindAt, keeps_her_way, most_lean
from shorefast.manoeuvre.held_astern import MOST_OFF_RAD, held_astern, most_wind_mps
from shorefast.manoeuvre.way_in import WayIn

# not tried in more wind, nor in less [m/s]
MOST_TRIED_MPS, _LEAST_MPS = 20.0, 0.5
# from one tried wind to the next, how near the two are brought, and what is tried below
_STEP, _CLOSE, _BELOW = 1.2, 1.06, 0.9
# how far a wind swings, and over how long: our choice, no source
_SWING_RAD, _SWING_S = math.radians(15.0), 60.0
# of that, what a usual crew in gusts has: common practice, no source
_USUAL_SHARE = 0.75
# her bow as good as at the end of what it may be off
_AT_END = 0.9


@dataclass(frozen=True)
class Crosswind:
    """Winds at 10 m up to which she is held going astern; none tried above 20. [m/s]

    Attributes
    ----------
    now_mps : float
        What blows across her way in that hour; ``from_right`` as seen going in.
    most_mps, most_thruster_mps : float
        Square across from that side, without and with the thruster; the latter NaN where
        none is fitted.
    most_there_mps : float
        From where it blows in that hour, with all she has; no less than the mean wind of
        that hour where, and only where, she is kept on her way in it.
    gives : str
        What gives first without a thruster: "helm" or "angle" (her bow too far off).
    hardest_mps : float
        Across in the hardest wind told for that hour.
    """

    now_mps: float
    from_right: bool
    most_mps: float
    most_thruster_mps: float
    most_there_mps: float
    gives: str
    hardest_mps: float

    @property
    def holds(self) -> float:
        """The most square across with all she has. [m/s]"""
        with_it = self.most_thruster_mps
        return self.most_mps if math.isnan(with_it) else max(self.most_mps, with_it)

    @property
    def turns_back_mps(self) -> float:
        """Square across, where a usual crew in gusts turns back. [m/s]"""
        return _USUAL_SHARE * self.holds


def crosswind(way: WayIn) -> Crosswind:
    """What she can be held in, tried by a perfect crew in a swinging wind in the time model.

    From what the balance gives, upward or downward until she is kept in one wind and not in
    the next, then halved between; in a tenth less she is kept too. A thruster may lie idle:
    with it she is held in no less than without.
    """
    arrival = way.arrival
    off = math.remainder(arrival.wind.from_rad - way.arrival.way_in_rad, 2.0 * math.pi)
    from_right = off > 0.0
    square = arrival.way_in_rad + (0.5 if from_right else -0.5) * math.pi
    alone = replace(way, driven=way.driven._replace(thruster_n=0.0))
    with ThreadPoolExecutor(2) as pool:
        there = pool.submit(_held_there, way)
        more = pool.submit(_held_to, way, square) if way.driven.thruster_n > 0.0 else None
        most, lost = _held_to(alone, square)
        with_it = math.nan if more is None else max(most, more.result()[0])
    return Crosswind(
        abs(arrival.across_mps(arrival.wind)),
        from_right,
        most,
        with_it,
        there.result(),
        _gives(alone, square, lost),
        abs(arrival.across_mps(arrival.hardest)),
    )


def _held_to(way: WayIn, from_rad: float) -> tuple[float, float]:
    """The most of a wind from there in which she is kept, and the least in which she is not.

    The first is 0 where she is kept in none, the second infinite where in all tried. [m/s]
    """
    return _between(way, from_rad, _balanced_mps(way, from_rad), (0.0, math.inf))


def _held_there(way: WayIn) -> float:
    """The most from where it blows; the wind of the hour is tried as she comes in in it."""
    wind = way.arrival.wind
    begin, known = _balanced_mps(way, wind.from_rad), (0.0, math.inf)
    if wind.mean_mps > 0.0:
        felt = way.arrival.felt_mps(wind.mean_mps)
        if keeps_her_way(way, swinging(way, felt, wind.from_rad)):
            known, begin = (wind.mean_mps, math.inf), max(begin, _STEP * wind.mean_mps)
        else:
            known, begin = (0.0, wind.mean_mps), min(begin, wind.mean_mps / _STEP)
    return _between(way, wind.from_rad, begin, known)[0]


def _balanced_mps(way: WayIn, from_rad: float) -> float:
    """The most of a wind from there in which she is in balance. [m/s]"""
    off = from_rad - way.arrival.way_in_rad - math.pi
    most = most_wind_mps(way.driven, way.speed_mps, off, way.driven.thruster_n > 0.0)
    return most / way.arrival.rigged.height_share


def _between(
    way: WayIn, from_rad: float, begin_mps: float, known: tuple[float, float]
) -> tuple[float, float]:
    """As ``_held_to``, from a wind on; ``known``: in which she is kept, and in which not."""
    (kept, lost), at = known, min(max(begin_mps, _LEAST_MPS), MOST_TRIED_MPS)
    under = 0.0
    while kept < MOST_TRIED_MPS and not (kept > 0.0 and math.isfinite(lost)):
        if _keeps(way, from_rad, at):
            under, kept, at = kept, at, min(at * _STEP, MOST_TRIED_MPS)
        else:
            lost, at = at, at / _STEP
            if lost <= _LEAST_MPS:
                return 0.0, lost
    while lost > _CLOSE * kept and math.isfinite(lost):
        at = 0.5 * (kept + lost)
        if _keeps(way, from_rad, at):
            under, kept = kept, at
        else:
            lost = at
    # in a wind a little below she is to be kept too
    below = _BELOW * kept
    told_so = under >= 0.8 * kept or below <= max(known[0], _LEAST_MPS)
    if not (told_so or _keeps(way, from_rad, below)):
        return _between(way, from_rad, below / _STEP, (known[0], below))
    return kept, lost


def _keeps(way: WayIn, from_rad: float, wind_mps: float) -> bool:
    """Whether a perfect crew keeps her on her way in a steady wind."""
    felt = way.arrival.felt_mps(wind_mps)
    return keeps_her_way(in_wind(way, wind_mps, from_rad), swinging(way, felt, from_rad))


def steady(felt_mps: float, from_rad: float) -> WindAt:
    """A wind that stays as it is, at the height of her windage. [m/s, rad]"""
    return lambda _t_s: (felt_mps, from_rad)


def swinging(way: WayIn, felt_mps: float, from_rad: float) -> WindAt:
    """A wind that swings to either side, as one does in a bay; as hard all the time.

    First aft, seen as she goes in: so a mirrored wind swings mirrored.
    """
    first = math.copysign(_SWING_RAD, math.sin(way.arrival.way_in_rad - from_rad))
    return lambda t_s: (felt_mps, from_rad + first * math.sin(2.0 * math.pi * t_s / _SWING_S))


def in_wind(way: WayIn, wind_mps: float, from_rad: float) -> WayIn:
    """The same way in another wind, held as she would be in it."""
    arrival: Arrival = replace(way.arrival, wind=Wind(wind_mps, wind_mps, from_rad))
    off = from_rad - arrival.way_in_rad - math.pi
    held = held_astern(
        way.driven, way.speed_mps, arrival.felt_mps(wind_mps), off, way.driven.thruster_n > 0.0
    )
    return replace(way, arrival=arrival, held=held, start_across_m=0.0, early_m=0.0)


def _gives(way: WayIn, from_rad: float, lost_mps: float) -> str:
    """What is at its end in the least wind she is not kept in: her helm, or her bow's angle."""
    if not math.isfinite(lost_mps):
        return "helm"
    lost = in_wind(way, lost_mps, from_rad)
    most = most_lean(lost, swinging(way, way.arrival.felt_mps(lost_mps), from_rad))
    return "angle" if most > math.sin(_AT_END * MOST_OFF_RAD) else "helm"
