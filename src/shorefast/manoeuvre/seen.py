"""What the crew sees of where she is, and by how much it is off."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.manoeuvre.way_in import WayIn
from shorefast.mooring import Lying

Floats = NDArray[np.float64]
# how often the crew looks and orders [s]
LOOK_S = 0.5
# a distance called from the stern is off by its share, and by as much at least [m]
_NEAREST_M = 8.0


@dataclass(frozen=True)
class CrewErrors:
    """What the crew's eyes and hands are off by, as standard deviations; all 0: a perfect crew.

    delay_s : from seeing to doing [s]
    off : share of a distance called; let_go_m : of the place where the anchor is let go
    across_m : of the transit [m]; heading_rad : of the compass
    depth_m : of the sounding under the bow [m]
    chain_m : of what is out by the marks; line_m : of each line's length [m]
    wander_s : over which errors of eye come and go [s]
    """

    delay_s: float = 0.0
    off: float = 0.0
    let_go_m: float = 0.0
    across_m: float = 0.0
    heading_rad: float = 0.0
    depth_m: float = 0.0
    chain_m: float = 0.0
    line_m: float = 0.0
    wander_s: float = 30.0


class Eyes:
    """The truth with errors that come and go; those of one moment drawn once."""

    def __init__(self, crew: CrewErrors, draw: np.random.Generator | None) -> None:
        self.crew, self.draw = crew, draw
        self.size = np.array([crew.off, crew.across_m, crew.heading_rad])
        once = np.zeros(5) if draw is None else draw.standard_normal(5)
        self.error: Floats = self.size * once[:3]
        self.let_go_m, self.depth_m = float(crew.let_go_m * once[3]), float(crew.depth_m * once[4])

    def measured(self, lengths_m: Sequence[float], by_m: float) -> list[float]:
        """Lengths as they are measured out, each off by so much at random. [m]"""
        count = len(lengths_m)
        drawn = np.zeros(count) if self.draw is None else self.draw.standard_normal(count)
        return [float(one) for one in np.asarray(lengths_m) + by_m * drawn]

    def look(self) -> Floats:
        """Errors of distance (as a share), transit [m] and compass [rad] now."""
        if self.draw is not None:
            keep = math.exp(-LOOK_S / self.crew.wander_s)
            fresh = self.size * self.draw.standard_normal(3)
            self.error = keep * self.error + math.sqrt(1.0 - keep * keep) * fresh
        return self.error

    def near(self, left_m: float) -> float:
        """What the share of a distance is of, so far from the hold. [m]"""
        return max(_NEAREST_M, left_m)


def along_and_across(way: WayIn, now: Lying) -> tuple[float, float]:
    """Roller's way made good from the anchor's place, and how far right of the way in. [m]"""
    arrival = way.arrival
    e, n = arrival.roller((now.east_m, now.north_m, now.heading_rad))
    de, dn = e - arrival.anchor[0], n - arrival.anchor[1]
    sine, cosine = math.sin(arrival.way_in_rad), math.cos(arrival.way_in_rad)
    return de * sine + dn * cosine, de * cosine - dn * sine


def speed_along(way: WayIn, now: Lying) -> float:
    """Her speed along the way in. [m/s]"""
    turned = now.heading_rad - way.arrival.way_in_rad
    return now.ahead_mps * math.cos(turned) - now.aside_mps * math.sin(turned)


def speed_across(way: WayIn, now: Lying) -> float:
    """Her speed across the way in, above 0 to the right going in. [m/s]"""
    turned = now.heading_rad - way.arrival.way_in_rad
    return now.ahead_mps * math.sin(turned) + now.aside_mps * math.cos(turned)
