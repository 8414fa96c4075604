"""Getting her in: the way in, where it begins, the calls, what it cannot be done in."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from shorefast.basis import Assumption, Basis
from shorefast.manoeuvre.arrival import arrival
from shorefast.manoeuvre.calls import Call, the_calls
from shorefast.manoeuvre.clear_way import ClearWay, broken_off
from shorefast.manoeuvre.crosswind import Crosswind, crosswind
from shorefast.manoeuvre.falls_off import FallsOff, falls_off
from shorefast.manoeuvre.leeway import leeway
from shorefast.manoeuvre.look_round import (
    LookRound,
    look_round,
    turning_needs_m,
    turning_room_m,
)
from shorefast.manoeuvre.start import started
from shorefast.manoeuvre.stated_limits import Limits, stated_limits
from shorefast.manoeuvre.way_in import WayIn, way_in
from shorefast.mooring import HANDLED_BASIS
from shorefast.stay import Stay


@dataclass(frozen=True)
class Approach:
    """How she is brought in.

    Attributes
    ----------
    way : WayIn
        The run astern; ``heading_rad`` her bow on it, ``line_in_rad`` where it leads.
    start_east_m, start_north_m : float
        Where her middle is as the run begins. [m]
    to_windward_m : float
        How far to windward of her way that is, below 0 to leeward; ``stopped_drift_m`` how
        far she drifts while the anchor goes down if she lies stopped. [m]
    windward_side : str
        "port" or "starboard", as she lies.
    let_go_off_m, hold_off_m : float
        Her stern to the high-water line at letting go and at the hold. [m]
    astern_most_mps : float
        As fast as chain can follow. [m/s]
    leeway_mps : float
        Beam-on in the mean wind of that hour. [m/s]
    falls_off : FallsOff
    walks : str or None
        The way her stern goes when the propeller turns astern; None unknown.
    crosswind : Crosswind
    look_round : LookRound or None
    turning_room_m, turning_needs_m : float
    out : ClearWay
    calls : tuple of Call
    limits : Limits
        Within what the anchor and she herself end at least 95 times in 100.
    """

    way: WayIn
    start_east_m: float
    start_north_m: float
    to_windward_m: float
    stopped_drift_m: float
    windward_side: str
    let_go_off_m: float
    hold_off_m: float
    astern_most_mps: float
    leeway_mps: float
    falls_off: FallsOff
    walks: str | None
    crosswind: Crosswind
    look_round: LookRound | None
    turning_room_m: float
    turning_needs_m: float
    out: ClearWay
    calls: tuple[Call, ...]
    limits: Limits
    basis: Basis

    @property
    def heading_rad(self) -> float:
        """Her bow on the way in."""
        return self.way.heading_rad % (2.0 * math.pi)

    @property
    def line_in_rad(self) -> float:
        """Where she goes, astern."""
        return self.way.arrival.way_in_rad % (2.0 * math.pi)

    @property
    def can_be_held(self) -> bool:
        """Whether she is kept on her way in the mean wind of that hour, tried in time."""
        return self.crosswind.most_there_mps >= self.way.arrival.wind.mean_mps


def approach(stay: Stay, at_utc: datetime | None = None) -> Approach:
    """How to bring her into the stay's lie at a time; its first moment where left out.

    Raises
    ------
    BadInput
        As ``arrival`` and ``way_in``.
    """
    came = arrival(stay, at_utc)
    way = started(way_in(came))
    calls = the_calls(way)
    start = way.pose_at(way.begins_at_m, way.start_across_m)
    drift_mps = float(leeway(stay.boat, np.array([came.wind.mean_mps])).speed_mps[0])
    side = crosswind(way)
    windward = way.start_across_m if side.from_right else -way.start_across_m
    engine = stay.boat.engine
    return Approach(
        way=way,
        start_east_m=start[0],
        start_north_m=start[1],
        to_windward_m=windward,
        stopped_drift_m=drift_mps * way.fall_s,
        windward_side="port" if side.from_right else "starboard",
        let_go_off_m=calls[0].off_m,
        hold_off_m=came.off_astern_m(way.pose_at(way.hold_m)),
        astern_most_mps=way.speed_mps,
        leeway_mps=drift_mps,
        falls_off=falls_off(way),
        walks=None if engine is None else engine.walks_astern,
        crosswind=side,
        look_round=look_round(way),
        turning_room_m=turning_room_m(way),
        turning_needs_m=turning_needs_m(way),
        out=broken_off(way),
        calls=calls,
        limits=stated_limits(way),
        basis=came.basis | HANDLED_BASIS | _basis(way),
    )


def _basis(way: WayIn) -> Basis:
    said = [
        Assumption(
            "Chain is veered by the windlass at its own speed, and she goes astern nine tenths"
            " as fast as it can follow",
            "Let run it goes faster and heaps: then it lies in a pile on the anchor",
        )
    ]
    if way.arrival.stay.boat.windlass.veer_mps is None:
        said.append(
            Assumption(
                "Nobody says how fast the windlass veers; 15 m a minute is taken",
                "A slower one is overrun: time it once, against marks on the chain",
            )
        )
    engine = way.arrival.stay.boat.engine
    if engine is not None and engine.walks_astern is None:
        said.append(
            Assumption(
                "Nobody says which way her stern walks; none is reckoned",
                "She is set to one side as she gathers way: begin that much to the other",
            )
        )
    return Basis(assumptions=tuple(said))
