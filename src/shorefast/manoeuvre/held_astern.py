"""Whether she can be held on her way in, going astern across the wind, and how she then heads."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shorefast.mooring import Breeze, Driven, Orders, astern_balance, forces_driven

# beyond this off her course her stern no longer leads her in: our choice
MOST_OFF_RAD = math.radians(35.0)
# of the helm, the rest is left for gusts: our choice
HELM_SHARE = 0.9
_MOST_MPS, _HALVINGS = 30.0, 10
# in short bursts, so much of the time: an electric one grows hot. Common practice, no source
_PUSHES = (0.0, 0.1, -0.1, 0.2, -0.2, 0.3, -0.3)
# a gust or a wave turns her so far, and the helm must bring her back: our choice
UPSET_RAD = math.radians(2.0)


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
            held = HeldAstern(*found, push)
            if comes_back(driven, speed_mps, breeze, held, thruster):
                return held
    return None


def comes_back(
    driven: Driven, speed_mps: float, breeze: Breeze, held: HeldAstern, thruster: bool
) -> bool:
    """Whether full helm, and the thruster if it may, brings her back from a small turn.

    Wind and water turn her on once she is off her balance; what is left of the helm has to
    be more than that, either way.
    """
    helped = driven.thruster_n * driven.thruster_x_m if thruster else 0.0
    for side in (-1.0, 1.0):
        off = held.off_rad + side * UPSET_RAD
        motion = (-speed_mps * math.cos(off), speed_mps * math.sin(off), 0.0)
        # astern, helm to one side turns her to the other
        orders = Orders(side * driven.most_rad, held.revs, held.push)
        turning = forces_driven(driven, _on_her(breeze, off), motion, orders)[2]
        if side * turning - helped * (1.0 + side * held.push) >= 0.0:
            return False
    return True


def _on_her(breeze: Breeze, off_rad: float) -> Breeze:
    """The wind as it comes on her, her bow turned off her way."""
    return Breeze(breeze.wind_mps, breeze.from_rad - off_rad, breeze.level_m)


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
