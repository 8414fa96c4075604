"""How her bow falls off the way in, left alone with the engine stopped."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shorefast.manoeuvre.way_in import WayIn
from shorefast.mooring import Breeze, Orders

_TURNED, _MOST_S = math.radians(30.0), 120.0


@dataclass(frozen=True)
class FallsOff:
    """How long until her bow is 30 degrees off, and to which side.

    after_s : infinite where it is not within two minutes; to : "port", "starboard" or ""
    """

    after_s: float
    to: str


def falls_off(way: WayIn) -> FallsOff:
    """Her bow from lying stopped on her way in, tried in the time-domain model."""
    arrival = way.arrival
    felt = arrival.felt_mps(arrival.wind.mean_mps)
    handled = arrival.handled()
    handled.put(*way.pose_at(0.0))
    while handled.t_s < _MOST_S:
        handled.on_for(1.0, Orders(), Breeze(felt, arrival.wind.from_rad, arrival.level_m))
        turned = handled.lying.heading_rad - way.heading_rad
        if abs(turned) > _TURNED:
            return FallsOff(handled.t_s, "starboard" if turned > 0.0 else "port")
    return FallsOff(math.inf, "")
