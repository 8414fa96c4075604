"""The wind above which she cannot be held on her way in."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from shorefast.manoeuvre.arrival import Arrival, Wind
from shorefast.manoeuvre.coming_in import WindAt, keeps_her_way
from shorefast.manoeuvre.held_astern import held_astern, most_wind_mps
from shorefast.manoeuvre.start import started
from shorefast.manoeuvre.way_in import WayIn

# of the balance's wind, tried from above
_PARTS = (1.7, 1.4, 1.2, 1.1, 1.0, 0.9, 0.8, 0.65, 0.5, 0.35)
_CLOSE_M = 1.5


@dataclass(frozen=True)
class Crosswind:
    """Winds at 10 m up to which she is held going astern. [m/s]

    Attributes
    ----------
    now_mps : float
        What blows across her way in that hour; ``from_right`` as seen going in.
    most_mps, most_thruster_mps : float
        Square across from that side, without and with the thruster; the latter NaN where
        none is fitted.
    most_there_mps : float
        From where it blows in that hour, with all she has.
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


def crosswind(way: WayIn) -> Crosswind:
    """What she can be held in: by balance, and tried by a perfect crew in the time model.

    About what the balance gives is tried from above: the most in which a perfect crew keeps
    her within five metres of her way, and in the next less too.
    """
    arrival = way.arrival
    off = math.remainder(arrival.wind.from_rad - way.arrival.way_in_rad, 2.0 * math.pi)
    from_right = off > 0.0
    square = arrival.way_in_rad + (0.5 if from_right else -0.5) * math.pi
    fitted = way.driven.thruster_n > 0.0
    alone = replace(way, driven=way.driven._replace(thruster_n=0.0))
    most = _held_to(alone, square)
    return Crosswind(
        abs(arrival.across_mps(arrival.wind)),
        from_right,
        most,
        _held_to(way, square) if fitted else math.nan,
        _held_there(way),
        _gives(alone, square, most),
        abs(arrival.across_mps(arrival.hardest)),
    )


def _held_to(way: WayIn, from_rad: float) -> float:
    """The most of a wind from there in which she is kept, and in a tenth less too. [m/s]"""
    off = from_rad - way.arrival.way_in_rad - math.pi
    share = way.arrival.rigged.height_share
    most = most_wind_mps(way.driven, way.speed_mps, off, way.driven.thruster_n > 0.0) / share
    if not math.isfinite(most):
        return most
    kept_before = math.nan
    for part in _PARTS:
        wind_mps = part * most
        begun = started(in_wind(way, wind_mps, from_rad), _CLOSE_M)
        keeps = keeps_her_way(begun, steady(wind_mps * share, from_rad))
        if keeps and not math.isnan(kept_before):
            return kept_before
        kept_before = wind_mps if keeps else math.nan
    return _PARTS[-1] * most


def _held_there(way: WayIn) -> float:
    """The most from where it blows; at least the wind of the hour where she is kept in it."""
    wind = way.arrival.wind
    most = _held_to(way, wind.from_rad)
    if most >= wind.mean_mps:
        return most
    felt = way.arrival.felt_mps(wind.mean_mps)
    return wind.mean_mps if keeps_her_way(way, steady(felt, wind.from_rad)) else most


def steady(felt_mps: float, from_rad: float) -> WindAt:
    """A wind that stays as it is, at the height of her windage. [m/s, rad]"""
    return lambda _t_s: (felt_mps, from_rad)


def in_wind(way: WayIn, wind_mps: float, from_rad: float) -> WayIn:
    """The same way in another wind, held as she would be in it."""
    arrival: Arrival = replace(way.arrival, wind=Wind(wind_mps, wind_mps, from_rad))
    off = from_rad - arrival.way_in_rad - math.pi
    held = held_astern(
        way.driven, way.speed_mps, arrival.felt_mps(wind_mps), off, way.driven.thruster_n > 0.0
    )
    return replace(way, arrival=arrival, held=held, start_across_m=0.0, early_m=0.0)


def _gives(way: WayIn, from_rad: float, most_mps: float) -> str:
    """Whether helm or angle is at its end in the most she is held in."""
    arrival = way.arrival
    off = from_rad - arrival.way_in_rad - math.pi
    held = held_astern(way.driven, way.speed_mps, arrival.felt_mps(0.98 * most_mps), off)
    if held is None:
        return "helm"
    return "angle" if abs(held.off_rad) > 0.9 * math.radians(35.0) else "helm"
