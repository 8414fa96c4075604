"""How long a line takes to the shore, rowed or swum: it drags more with every metre out."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shorefast.basis import Assumption, Basis
from shorefast.mooring import AIR_KGPM3, WATER_KGPM3

# a rope drawn along itself: between a smooth skin (0.004) and a rough one; our choice
SKIN = 0.02
MAKE_FAST_S = 180.0
"""To land, climb, lead the line round and make it fast: our choice, no source. [s]"""
# the wind at a rower's height as a share of that at 10 m, by the seventh power
_LOW_SHARE: float = 0.1 ** (1.0 / 7.0)


@dataclass(frozen=True)
class Carrier:
    """Who carries a line: speed in a calm without one [m/s], drag at 1 m/s [N], windage.

    windage_m2 : drag coefficient times area. [m2]
    """

    calm_mps: float
    drag_n: float
    windage_m2: float


SWIMMER = Carrier(0.6, 30.0, 0.0)
"""In shirt and float, head up: speed common practice, no source; drag of a man's crawl."""
ROWER = Carrier(1.0, 50.0, 1.0)
"""One pair of oars in a yacht's tender, 50 watts of use: common practice, no source."""


def carry_s(
    carrier: Carrier, distance_m: float, diameter_m: float, head_wind_mps: float = 0.0
) -> float:
    """Time to carry the end of a floating line over a distance, the line paid out behind.

    The carrier pushes always alike; the water holds back the carrier and all of the line
    that is out, along itself, and a wind from ahead the tender. Waves, current, a wind
    across and a line that sinks or is not tended are left out: they make it longer.

    t = 2 / (3 c v) ((1 + c s)^(3/2) - 1), c = rho C pi d / (2 K), K the drag at 1 m/s,
    v² = calm² - rho_air A w |w| / (2 K).

    Parameters
    ----------
    carrier : Carrier
    distance_m : float
        [m]
    diameter_m : float
        Of the line. [m]
    head_wind_mps : float
        At 10 m, above 0 from ahead. [m/s]

    Returns
    -------
    time_s : float
        Without landing and making fast; infinite where the wind lets no headway. [s]

    Source
    ------
    toussaint-1988 (from memory: 30 N at 1 m/s); hoerner-1965 (from memory: skin friction).
    """
    low_mps = _LOW_SHARE * head_wind_mps
    air_n = 0.5 * AIR_KGPM3 * carrier.windage_m2 * low_mps * abs(low_mps)
    square = carrier.calm_mps**2 - air_n / carrier.drag_n
    if square <= 0.0:
        return math.inf
    per_m = 0.5 * WATER_KGPM3 * SKIN * math.pi * diameter_m / carrier.drag_n
    grown: float = (1.0 + per_m * distance_m) ** 1.5 - 1.0
    return 2.0 * grown / (3.0 * per_m * math.sqrt(square))


def carried_basis() -> Basis:
    """What the times rest on."""
    said = (
        Assumption(
            f"A swimmer makes {SWIMMER.calm_mps:g} m/s without a line, one at the oars"
            f" {ROWER.calm_mps:g} m/s in a calm: common practice, no source",
            "A tired or frightened one makes half of it",
        ),
        Assumption(
            f"The line drags along itself with a coefficient of {SKIN:g} (our choice); the hand"
            " aboard pays it out as fast as it is drawn",
            "A line that is held, snags or sinks stops whoever carries it",
        ),
        Assumption(
            f"Landing and making fast take {MAKE_FAST_S / 60.0:g} minutes (our choice)",
            "On steep wet rock it can take three times as long",
        ),
    )
    return Basis(assumptions=said, sources=("toussaint-1988", "hoerner-1965"))
