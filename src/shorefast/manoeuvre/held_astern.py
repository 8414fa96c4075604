"""Whether she can be held on her way in, going astern across the wind, and how she then heads."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shorefast.mooring import Breeze, Driven, astern_balance

# beyond this off her course her stern no longer leads her in: our choice
MOST_OFF_RAD = math.radians(35.0)
# of the helm, the rest is left for gusts: our choice
HELM_SHARE = 0.9
_MOST_MPS, _HALVINGS = 30.0, 10
# in short bursts, so much on the whole
_PUSHES = (0.0, 0.1, -0.1, 0.2, -0.2, 0.35, -0.35, 0.5, -0.5, 0.75, -0.75, 1.0, -1.0)


@dataclass(frozen=True)
class HeldAstern:
    """How she is held going astern along a line.

    off_rad : her bow right (above 0) or left of the line she goes astern along, seen from her
        stern toward the bow: heading less the way she comes from
    helm_rad, revs, push : as ``Orders``
    """

    off_rad: float
    helm_rad: float
    revs: float
    push: float


def held_astern(
    driven: Driven, speed_mps: float, wind_mps: float, off_way_rad: float, thruster: bool = False
) -> HeldAstern | None:
    """How she goes straight astern at a steady speed in a steady wind; None where she cannot.

    Balance along, across and turning, the chain slack: the helm kept within nine tenths,
    her bow within 35 degrees of her way. The least angle off is taken.

    Parameters
    ----------
    driven : Driven
    speed_mps : float
        Astern. [m/s]
    wind_mps : float
        At the height of her windage. [m/s]
    off_way_rad : float
        Where it comes from, clockwise off the way she comes from (0: dead ahead).
    thruster : bool
        Whether the thruster may help.
    """
    breeze = Breeze(wind_mps, off_way_rad)
    for push in _PUSHES if thruster and driven.thruster_n > 0.0 else (0.0,):
        found = astern_balance(driven, speed_mps, breeze, (MOST_OFF_RAD, HELM_SHARE), push)
        if found is not None:
            return HeldAstern(*found, push)
    return None


def most_wind_mps(
    driven: Driven, speed_mps: float, off_way_rad: float, thruster: bool = False
) -> float:
    """Steady wind from one side up to which she can be held on her way in. [m/s]

    At the height of her windage; infinite where 30 m/s still can be.
    """
    low, high = 0.0, 1.0
    while held_astern(driven, speed_mps, high, off_way_rad, thruster) is not None:
        low, high = high, high * 1.25
        if high > _MOST_MPS:
            return math.inf
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if held_astern(driven, speed_mps, middle, off_way_rad, thruster) is None:
            high = middle
        else:
            low = middle
    return low
