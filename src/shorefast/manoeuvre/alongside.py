"""Fenders and tender while she goes astern: on which side, and how short the painter."""

from __future__ import annotations

import math
from dataclasses import dataclass

import shapely

from shorefast.boat import Yacht
from shorefast.stay import Stay, neighbour_reach

SIDES = ("port", "starboard")
# a neighbour nearer than so many of her lengths has fenders put out: our choice
NEAR_LENGTHS = 2.0
# a wind within this of ahead or astern has no lee side: our choice
_NO_LEE = math.sin(math.radians(10.0))
# the painter of a tender that comes adrift alongside stays this share short of the propeller
_PAINTER_SHARE = 0.5
_PROPELLER_AFT = 0.42


@dataclass(frozen=True)
class Fenders:
    """The sides they hang on, and why: "neighbour", "lee", or "either" where nothing tells."""

    sides: tuple[str, ...]
    why: str


@dataclass(frozen=True)
class TenderPlace:
    """Where the tender lies as she goes astern: side, cleat, longest painter. [m]

    lift : she is on deck and has to be put in the water first.
    """

    side: str
    cleat: str
    painter_m: float
    lift: bool


def side_of(bearing_rad: float, heading_rad: float) -> str:
    """The side of her on which a bearing lies."""
    return SIDES[int(math.sin(bearing_rad - heading_rad) >= 0.0)]


def lee_side(wind_from_rad: float, heading_rad: float) -> str | None:
    """The side away from the wind; None where it is ahead, astern or unknown."""
    across = math.sin(wind_from_rad - heading_rad)
    if not abs(across) > _NO_LEE:
        return None
    return SIDES[int(across < 0.0)]


def fenders(stay: Stay, place: tuple[float, float, float], wind_from_rad: float) -> Fenders:
    """Fenders toward neighbours that are near, else on the lee side: there she is set.

    Parameters
    ----------
    place : (east_m, north_m, heading_rad)
    wind_from_rad : float
        NaN unknown.
    """
    east_m, north_m, heading_rad = place
    hull = shapely.Point(east_m, north_m).buffer(0.5 * stay.boat.hull.length_m)
    found = set()
    for neighbour in stay.neighbours:
        shape, reach_m = neighbour_reach(neighbour)
        if hull.distance(shape) - reach_m < NEAR_LENGTHS * stay.boat.hull.length_m:
            toward = math.atan2(neighbour.east_m - east_m, neighbour.north_m - north_m)
            found.add(side_of(toward, heading_rad))
    if found:
        return Fenders(tuple(side for side in SIDES if side in found), "neighbour")
    lee = lee_side(wind_from_rad, heading_rad)
    return Fenders(SIDES, "either") if lee is None else Fenders((lee,), "lee")


def propeller_x_m(boat: Yacht) -> float:
    """About where the propeller is: beside the rudder, forward of midships. [m]"""
    if boat.rudder is not None:
        return boat.rudder.x_m
    rudders = [part.x_m for part in boat.underwater if "rudder" in part.name.lower()]
    return min(rudders, default=-_PROPELLER_AFT * boat.hull.length_m)


def tender_place(
    boat: Yacht, fendered: Fenders, wind_from_rad: float, heading_rad: float
) -> TenderPlace | None:
    """Alongside forward in the lee, clear of a neighbour; None where she has no tender.

    From the foremost cleat of that side, on a painter that cannot come to the propeller.
    """
    if boat.tender is None:
        return None
    side = lee_side(wind_from_rad, heading_rad) or SIDES[0]
    if fendered.why == "neighbour" and fendered.sides == (side,):
        side = SIDES[1 - SIDES.index(side)]
    sign = 1.0 if side == SIDES[1] else -1.0
    there = [cleat for cleat in boat.cleats if sign * cleat.spot.y_m > 0.0] or list(boat.cleats)
    cleat = max(there, key=lambda one: one.spot.x_m)
    reach_m = max(0.0, cleat.spot.x_m - propeller_x_m(boat))
    return TenderPlace(side, cleat.name, _PAINTER_SHARE * reach_m, boat.tender.on_deck)
