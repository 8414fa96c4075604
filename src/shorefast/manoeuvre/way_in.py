"""The way in, worked out: how fast astern, where to let go, how much chain at each metre."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shorefast.boat import Yacht
from shorefast.errors import BadInput
from shorefast.manoeuvre.arrival import Arrival
from shorefast.manoeuvre.held_astern import HeldAstern, held_astern
from shorefast.mooring import BedLine, Driven, LineSegments, rode_at_pull
from shorefast.stay import lie_of, rode_segments

Floats = NDArray[np.float64]
# number of a line, and seconds it takes after the one before
LinesS = tuple[tuple[int, float], ...]
# the strain under which the chain is laid out straight: no heap, and no drag. Our choice
LAID_N = 60.0
# of the windlass's speed, what the calls use, so that a late hand can catch up. Our choice
SPEED_SHARE = 0.9
# of her lengths, to gather way before the anchor goes: our choice
RUN_UP_LENGTHS = 1.5
_STEP_M = 0.5


@dataclass(frozen=True)
class WayIn:
    """The run astern as planned.

    Attributes
    ----------
    speed_mps : float
        Astern over the ground, from letting go to the hold. [m/s]
    held : HeldAstern or None
        How she is held on it in the mean wind; None where she cannot be.
    fall_s : float
        From letting go until the anchor is on the bottom. [s]
    made_good_m, chain_m : arrays (step,)
        Roller's way from over the anchor toward the shore; chain that ought to be out. [m]
    hold_m : float
        Where along it she is held. [m]
    start_across_m : float
        Right of her way (below 0: left), going in, where the run begins. [m]
    early_m : float
        By how much before the place its fall alone asks for the anchor goes. [m]
    """

    arrival: Arrival
    driven: Driven
    speed_mps: float
    held: HeldAstern | None
    fall_s: float
    made_good_m: Floats
    chain_m: Floats
    hold_m: float
    start_across_m: float = 0.0
    early_m: float = 0.0

    @property
    def let_go_at_m(self) -> float:
        """Roller's place along the way when the anchor goes, below 0: before its place. [m]"""
        return -self.speed_mps * self.fall_s - self.early_m

    @property
    def begins_at_m(self) -> float:
        """Roller's place along the way where the run begins. [m]"""
        return self.let_go_at_m - RUN_UP_LENGTHS * self.arrival.stay.boat.hull.length_m

    @property
    def heading_rad(self) -> float:
        """Her bow on the way in, the wind in balance."""
        return self.arrival.way_in_rad + math.pi + (self.held.off_rad if self.held else 0.0)

    def roller_at(self, made_good_m: float, across_m: float = 0.0) -> tuple[float, float]:
        """East and north of a place along the way. [m]"""
        sine, cosine = math.sin(self.arrival.way_in_rad), math.cos(self.arrival.way_in_rad)
        east_m, north_m = self.arrival.anchor
        return (
            east_m + made_good_m * sine + across_m * cosine,
            north_m + made_good_m * cosine - across_m * sine,
        )

    def pose_at(self, made_good_m: float, across_m: float = 0.0) -> tuple[float, float, float]:
        """Her place and heading with the roller there, on the way in."""
        ahead_m, heading = self.arrival.stay.boat.roller.x_m, self.heading_rad
        east_m, north_m = self.roller_at(made_good_m, across_m)
        return (
            east_m - ahead_m * math.sin(heading), north_m - ahead_m * math.cos(heading), heading
        )  # fmt: skip

    @property
    def bottom_m(self) -> float:
        """Chain out when the anchor is on the bottom. [m]"""
        return self.arrival.depth_m + self.arrival.stay.boat.roller.z_m

    def chain_at(self, made_good_m: float) -> float:
        """Chain that ought to be out there. [m]"""
        if made_good_m < 0.0:
            return max(0.0, self.bottom_m * (1.0 - made_good_m / self.let_go_at_m))
        return float(np.interp(made_good_m, self.made_good_m, self.chain_m))


def way_in(arrival: Arrival) -> WayIn:
    """The run astern over the bed as it is, as fast as the windlass can follow.

    Chain is veered as it lies out straight under a slight strain; so it is neither dragged
    nor heaped. Never ahead of the anchor's fall: until it is on the bottom the windlass
    runs at its own speed and the anchor hangs under the roller.

    Raises
    ------
    BadInput
        Where the bed under the way in is unknown, or too little chain is planned to reach it.
    """
    driven = arrival.handled().driven
    made_good_m, chain_m = laid_out(arrival)
    gain = float(np.max(np.diff(chain_m) / np.diff(made_good_m)))
    speed_mps = SPEED_SHARE * arrival.veer_mps / max(1.0, gain)
    fall_s = (arrival.depth_m + arrival.stay.boat.roller.z_m) / arrival.veer_mps
    off_way = arrival.wind.from_rad - arrival.way_in_rad - math.pi
    felt_mps = arrival.felt_mps(arrival.wind.mean_mps)
    held = held_astern(driven, speed_mps, felt_mps, off_way) or held_astern(
        driven, speed_mps, felt_mps, off_way, thruster=True
    )
    return WayIn(
        arrival, driven, speed_mps, held, fall_s, made_good_m, chain_m, float(made_good_m[-1])
    )


def laid_out(arrival: Arrival) -> tuple[Floats, Floats]:
    """Way made good from over the anchor, and the chain that lies and hangs out over it. [m]"""
    lie = lie_of(arrival.stay)
    far_m = arrival.reach_m
    count = max(2, math.ceil(far_m / _STEP_M) + 1)
    way_m = np.linspace(0.0, far_m, count)
    bed = _bed(arrival, far_m)
    bow_m = arrival.level_m + arrival.stay.boat.roller.z_m
    least_m = bow_m - float(np.interp(0.0, *bed))
    outs = np.linspace(least_m + 0.1, lie.chain_out_m, 60)
    reach = np.array([_reach(arrival, bed, bow_m, out) for out in outs])
    known = np.isfinite(reach)
    if known.sum() < 2:
        raise BadInput(
            "Lie",
            f"{lie.chain_out_m:g} m of chain planned",
            f"the bed is {least_m:.0f} m below the roller where the anchor goes",
            "Plan more chain, or let go in shallower water.",
        )
    chain_m = np.interp(way_m, reach[known], outs[known])
    return way_m, np.minimum(np.maximum.accumulate(chain_m), lie.chain_out_m)


def _reach(arrival: Arrival, bed: BedLine, bow_m: float, out_m: float) -> float:
    rode = arrival.rigged.rode
    segments: LineSegments = rode_segments(_bare(arrival), out_m)
    return rode_at_pull(segments, bed, rode.friction, bow_m, LAID_N).distance_m


def _bare(arrival: Arrival) -> Yacht:
    return replace(arrival.stay.boat, snubber=None)


def _bed(arrival: Arrival, far_m: float) -> BedLine:
    east_m, north_m = arrival.anchor
    along = np.arange(-3.0, far_m + 1.0, 1.0)
    level = arrival.stay.bay.surface.level_at(
        east_m + along * math.sin(arrival.way_in_rad),
        north_m + along * math.cos(arrival.way_in_rad),
    )
    known = np.isfinite(level)
    if not known[3:].all():
        raise BadInput(
            "Way in", "the bed under it is unknown in places", "soundings wanted there", "Sound it."
        )
    return BedLine(along[known], level[known])


def in_turn(way: WayIn, lines_s: LinesS) -> tuple[LinesS, LinesS]:
    """Lines fast before the proof, and after it: from the bow, and second ones of a cleat.

    The first of all is fast before it, whichever it is: it holds her.
    """
    legs, before = way.arrival.rigged.scene.lines, []
    taken: set[tuple[float, float]] = set()
    for one in lines_s:
        leg = legs[one[0]]
        if not taken or (leg.x_m <= 0.0 and (leg.x_m, leg.y_m) not in taken):
            before.append(one)
        taken.add((leg.x_m, leg.y_m))
    return tuple(before), tuple(one for one in lines_s if one not in before)
