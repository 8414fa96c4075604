"""Who lets the lines go, how, and how long it takes."""

from __future__ import annotations

from dataclasses import dataclass

from shorefast.basis import Assumption, Basis, Finding
from shorefast.manoeuvre.carried import ROWER, SWIMMER
from shorefast.manoeuvre.who_carries import Trip, who_carries
from shorefast.stay import Judged, ShoreLeg, Stay

AT_POINT_S, HAUL_MPS, CAST_OFF_S = 120.0, 0.5, 60.0
"""Untying at a point; hauling a floating line home; casting one off and buoying it: our choices."""
FROM_ASHORE, SLIP, CAST_OFF = "from ashore", "slip", "cast off"


@dataclass(frozen=True)
class Hands:
    """Who goes ashore: "row", "swim" or "nobody", and why; how fast he goes. [m/s]"""

    by: str
    why: str
    mps: float

    @property
    def who(self) -> str:
        """The duty."""
        return {"row": "rower", "swim": "swimmer"}.get(self.by, "nobody")

    def trip_s(self, leg: ShoreLeg) -> float:
        """There, untied, and back. [s]"""
        return 2.0 * leg.plan.length_m / self.mps + AT_POINT_S


def hands_of(stay: Stay, judged: Judged) -> Hands:
    """Who carries hands to the points, by the rules for bringing the lines ashore."""
    trips = tuple(Trip(leg, leg.plan.length_m, 0.0) for leg in judged.rigged.legs)
    carried = who_carries(stay, trips)
    mps = SWIMMER.calm_mps if carried.by == "swim" else ROWER.calm_mps
    return Hands(carried.by, carried.why, mps)


@dataclass(frozen=True)
class Gone:
    """How one line is let go, by whom, and how long it takes. [s]"""

    how: str
    who: str
    takes_s: float


def let_go_by(hands: Hands, legs: tuple[ShoreLeg, ...], order: tuple[int, ...]) -> list[Gone]:
    """How each line goes in an order; the last is doubled back first if somebody can go ashore.

    A line with both ends aboard is slipped and hauled home. Where nobody can go ashore the
    others are cast off from aboard and stay behind, buoyed. The time in which the last is
    doubled back is in the first.
    """
    told = []
    for place, number in enumerate(order):
        leg, last = legs[number], place == len(order) - 1
        if leg.plan.doubled or (last and hands.by != "nobody"):
            told.append(Gone(SLIP, "line", 2.0 * leg.plan.length_m / HAUL_MPS))
        elif hands.by == "nobody":
            told.append(Gone(CAST_OFF, "line", CAST_OFF_S))
        else:
            told.append(Gone(FROM_ASHORE, hands.who, hands.trip_s(leg)))
    if order and hands.by != "nobody" and not legs[order[-1]].plan.doubled:
        first, trip_s = told[0], hands.trip_s(legs[order[-1]])
        told[0] = Gone(first.how, first.who, first.takes_s + trip_s)
    return told


def hands_basis(hands: Hands) -> Basis:
    """What letting go rests on."""
    said = Assumption(
        f"Hands ashore take {AT_POINT_S / 60.0:.0f} minutes at a point, the way there and back at"
        f" {hands.mps:g} m/s beside that; a line is hauled home at {HAUL_MPS:g} m/s, one cast off"
        f" from aboard and buoyed in {CAST_OFF_S:.0f} s (our choices)",
        "A bad landing, a jammed knot or two people fewer can double it",
    )
    if hands.by != "nobody":
        return Basis(assumptions=(said,))
    why = Finding("Letting go", f"nobody can go ashore ({hands.why}): lines stay behind, buoyed")
    return Basis(assumptions=(said,), findings=(why,))
