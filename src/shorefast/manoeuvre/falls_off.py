"""How she drifts with the engine stopped, and how her bow falls off."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shorefast.manoeuvre.way_in import WayIn
from shorefast.mooring import Breeze, Orders, forces_driven

_MOST_MPS, _HALVINGS, _SQUARE = 3.0, 50, 0.5 * math.pi
_TURNED = math.radians(45.0)


@dataclass(frozen=True)
class Leeway:
    """Her drift beam-on in the mean wind of the hour, and how the bow falls off.

    beam_on_mps : through the water, held beam-on [m/s]
    falls_off_s : from lying stopped on her way in until her bow is 45 degrees off it, left
        alone; infinite where it is not within two minutes
    falls_to : "port" or "starboard", "" where it does not
    """

    beam_on_mps: float
    falls_off_s: float
    falls_to: str


def leeway(way: WayIn) -> Leeway:
    """Her drift beam-on by balance of wind and water, and her bow left alone, tried in time."""
    arrival = way.arrival
    felt = arrival.felt_mps(arrival.wind.mean_mps)
    low, high = 0.0, _MOST_MPS
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        # the wind from port sets her to starboard
        _, y, _ = forces_driven(way.driven, Breeze(felt, -_SQUARE), (0.0, middle, 0.0), Orders())
        low, high = (middle, high) if y > 0.0 else (low, middle)
    falls_s, side = _falls_off(way, felt)
    return Leeway(0.5 * (low + high), falls_s, side)


def _falls_off(way: WayIn, felt_mps: float) -> tuple[float, str]:
    arrival = way.arrival
    handled = arrival.handled()
    handled.put(*way.pose_at(0.0))
    begun = way.heading_rad
    while handled.t_s < 120.0:
        breeze = Breeze(felt_mps, arrival.wind.from_rad, arrival.level_m)
        handled.on_for(1.0, Orders(), breeze)
        turned = handled.now.heading_rad - begun
        if abs(turned) > _TURNED:
            return handled.t_s, "starboard" if turned > 0.0 else "port"
    return math.inf, ""
