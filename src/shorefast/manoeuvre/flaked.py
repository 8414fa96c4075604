"""How much of a line to flake for a point, and whether it is aboard."""

from __future__ import annotations

from dataclasses import dataclass, replace

from shorefast.basis import Assumption, Basis
from shorefast.stay import MADE_FAST_M

# all of these are our choice: common practice, no source
BOW_SHARE = 0.05
RESERVE_SHARE, RESERVE_M = 0.10, 3.0
INTO_A_SLING_M = 1.0
ROUND_M = {"tree": 3.0, "rock": 6.0, "boulder": 6.0}
ROUND_ELSE_M = 1.0


@dataclass(frozen=True)
class Flake:
    """Line for one point, piece by piece. [m]

    Attributes
    ----------
    distance_m : float
        Level, from the cleat to the point.
    height_m : float
        Down from the cleat to the water and up from it to the point.
    tide_m : float
        What the water falls over the stay.
    sag_m : float
        How much longer the line is that lies bowed out by wind and stream.
    loop_m : float
        Round the point, or into the sling that lies there.
    turns_m : float
        Turns on the cleat, and the knot.
    reserve_m : float
    parts : int
        2 for a line led out and back: all but loop and reserve count twice.
    """

    distance_m: float
    height_m: float
    tide_m: float
    sag_m: float
    loop_m: float
    turns_m: float
    reserve_m: float
    parts: int = 1

    @property
    def need_m(self) -> float:
        """What it cannot do without. [m]"""
        one_m = self.distance_m + self.height_m + self.tide_m + self.sag_m + self.turns_m
        return self.parts * one_m + self.loop_m

    @property
    def whole_m(self) -> float:
        """With its reserve. [m]"""
        return self.need_m + self.reserve_m


def loop_m(kind: str, slung: bool) -> float:
    """Line that goes round a point of a kind, or into the sling there. [m]"""
    if slung:
        return INTO_A_SLING_M
    words = kind.lower().split()
    return max((ROUND_M[word] for word in words if word in ROUND_M), default=ROUND_ELSE_M)


def flake(
    distance_m: float, height_m: float, tide_m: float, loop_m: float, parts: int = 1
) -> Flake:
    """Line to flake for a point: as it lies on the water and climbs, not as it is taut.

    Parameters
    ----------
    distance_m : float
        Level, from the cleat to the point. [m]
    height_m : float
        Down from the cleat to the water and up to the point. [m]
    tide_m : float
        What the water falls over the stay, 0 where it rises. [m]
    loop_m : float
        As ``loop_m``. [m]
    parts : int
        2 for a line led out and back.
    """
    sag_m = BOW_SHARE * distance_m
    bare = Flake(distance_m, height_m, tide_m, sag_m, loop_m, MADE_FAST_M, 0.0, parts)
    return replace(bare, reserve_m=max(RESERVE_M, RESERVE_SHARE * bare.need_m))


def flaked_basis() -> Basis:
    """What the lengths rest on."""
    said = Assumption(
        f"A line is flaked as it lies slack: {BOW_SHARE:.0%} more for its bow on the water,"
        f" {MADE_FAST_M:g} m for knot and turns, {RESERVE_SHARE:.0%} and {RESERVE_M:g} m at least"
        " in reserve: common practice, no source",
        "Held farther off than planned she needs that much more on every line",
    )
    return Basis(assumptions=(said,))
