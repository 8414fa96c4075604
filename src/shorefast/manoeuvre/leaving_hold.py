"""What wind the engine can hold her against on her way out, and how soon she has way on."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shorefast.basis import Assumption, Basis
from shorefast.boat import ahead_pull, astern_pull
from shorefast.manoeuvre.leaving_away import LASTS_S, LATE_S, THROTTLE
from shorefast.mooring import AIR_KGPM3, HANDLED_BASIS, inertia, underbody, wind_force
from shorefast.stay import Judged, Stay

STEERAGE_MPS = 1.0
"""Two knots: with less a small yacht does not answer her helm in a wind (common practice)."""


@dataclass(frozen=True)
class Held:
    """What the engine can hold her against; pulls by their low end. NaN: nobody knows.

    Attributes
    ----------
    ahead_n, astern_n : float
        Pull standing still. [N]
    ahead_mps, abeam_mps : float
        Steady winds at 10 m whose force on the free boat, bow-on and beam-on, is the pull
        ahead. [m/s]
    steerage_s : float
        From the last thing that holds her to steerage way. [s]
    """

    ahead_n: float
    astern_n: float
    ahead_mps: float
    abeam_mps: float
    steerage_s: float
    basis: Basis


def held_of(stay: Stay, judged: Judged) -> Held:
    """What the stay's boat can pull under engine, and how soon she has way on."""
    engine = stay.boat.engine
    if engine is None:
        return Held(*(math.nan,) * 5, _basis(math.nan))
    ahead, astern = ahead_pull(engine), astern_pull(engine)
    moved_kg = inertia(underbody(stay.boat.hull)).surge_kg
    steerage_s = LATE_S + moved_kg * STEERAGE_MPS / (THROTTLE * ahead.low_n)
    bow, beam = (_equal_mps(judged, ahead.low_n, off) for off in (0.0, 0.5 * math.pi))
    basis = ahead.basis | _basis(steerage_s) | HANDLED_BASIS
    return Held(ahead.low_n, astern.low_n, bow, beam, steerage_s, basis)


def _equal_mps(judged: Judged, pull_n: float, off_bow_rad: float) -> float:
    """The steady wind at 10 m whose force on the free boat is a pull. [m/s]"""
    fx, fy, _ = wind_force(judged.rigged.form, 1.0, off_bow_rad, AIR_KGPM3)
    return math.sqrt(pull_n / math.hypot(fx, fy)) / judged.rigged.height_share


def _basis(steerage_s: float) -> Basis:
    known = math.isfinite(steerage_s)
    said = f"{steerage_s:.0f} s" if known else "unknown: no engine is told"
    return Basis(
        assumptions=(
            Assumption(
                "She is held when, from beam on and still, the engine brings her on her way out"
                f" within {LASTS_S:.0f} s, half a metre a second made good, by the low end of"
                " its pull, the gust standing (our choice)",
                "A gust that passes lets her do it in more; a helm at the wrong moment in less",
            ),
            Assumption(
                f"From the last thing that holds her to steerage way ({STEERAGE_MPS:g} m/s, common"
                f" practice) it takes {said}: {LATE_S:g} s to call and gear, then"
                f" {THROTTLE:.0%} of her pull ahead (our choice)",
                "A slower hand, or a gear that sticks, leaves her to the wind for longer",
            ),
        ),
    )
