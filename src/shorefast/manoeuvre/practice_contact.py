"""What she touches while practising, and how much room she has."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from shorefast.mooring import Lying
from shorefast.stay import Stay, room_of

# over which the bed's slope at the anchor is taken [m]
_SLOPE_M = 2.0


@dataclass(frozen=True)
class Space:
    """Room of one part at one moment.

    of : as ``stay.Room``
    room_m : by the bed as drawn, or the distance; NaN unknown [m]
    careful_m : less the bed's doubt [m]
    east_m, north_m : where it is least; NaN where that is no place
    surely : whether what it is to is there for certain; a boat at anchor may lie elsewhere
    """

    of: str
    room_m: float
    careful_m: float
    east_m: float
    north_m: float
    surely: bool = True


def spaces(stay: Stay, q: tuple[float, float, float], level_m: float) -> tuple[Space, ...]:
    """Room of every part with her at one place. [m]"""
    rooms = room_of(stay, np.array([q]), np.array([level_m]), expected=True, between=False)
    found = []
    for one in rooms:
        careful = float(one.room_m[0])
        plain = careful if one.expected_m is None else float(one.expected_m[0])
        east, north = (
            math.nan if row is None else float(row[0]) for row in (one.east_m, one.north_m)
        )
        found.append(Space(one.of, plain, careful, east, north, one.beside_m <= 0.0))
    return tuple(found)


def touching_of(found: tuple[Space, ...]) -> tuple[Space, ...]:
    """Those without room left."""
    return tuple(one for one in found if one.surely and one.room_m <= 0.0)


def least_of(found: tuple[Space, ...]) -> Space | None:
    """The one with the least room; None where none is known."""
    known = [one for one in found if math.isfinite(one.room_m)]
    return min(known, key=lambda one: one.room_m) if known else None


def goes_on(before: tuple[Space, ...], after: tuple[Space, ...]) -> bool:
    """Whether she may go from one place to the next: nothing touches there, or less than did."""
    room_m = {one.of: one.room_m for one in before}
    return all(one.room_m > room_m[one.of] for one in touching_of(after))


def uplift_rad(stay: Stay, lying: Lying, roller: tuple[float, float]) -> float:
    """How far above the bed the pull at the shank points, where all chain is lifted; else 0.

    By the level pull, which is the same all along a chain in the air, over that at the shank.
    """
    if lying.anchor != "lies" or lying.lying_m > 0.0 or lying.shank_n <= lying.pull_n:
        return 0.0
    (east_m, north_m), surface = lying.anchor_m, stay.bay.surface
    far_m = max(math.dist((east_m, north_m), roller), 1e-6)
    step = min(_SLOPE_M / far_m, 1.0)
    there = (east_m + step * (roller[0] - east_m), north_m + step * (roller[1] - north_m))
    level = surface.level_at(np.array([east_m, there[0]]), np.array([north_m, there[1]]))
    rise_m = float(level[1] - level[0])
    slope = math.atan2(rise_m, step * far_m) if math.isfinite(rise_m) else 0.0
    return max(0.0, math.acos(lying.pull_n / lying.shank_n) - slope)
