"""What wind the engine can hold her against on her way out, and how soon she has way on."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis
from shorefast.boat import ahead_pull, astern_pull
from shorefast.mooring import AIR_KGPM3, inertia, underbody, wind_force
from shorefast.stay import Judged, Stay

Floats = NDArray[np.float64]
STEERAGE_MPS = 1.0
"""Two knots: with less a small yacht does not answer her helm in a wind (common practice)."""
CALL_S, GEAR_S, THROTTLE = 5.0, 5.0, 0.5
"""From the anchor's breaking out to the call, from the call to the gear; share of full pull."""


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
    """What the stay's boat can hold her bow against under engine."""
    engine = stay.boat.engine
    if engine is None:
        return Held(*(math.nan,) * 5, _basis(math.nan))
    ahead, astern = ahead_pull(engine), astern_pull(engine)
    moved_kg = inertia(underbody(stay.boat.hull)).surge_kg
    steerage_s = CALL_S + GEAR_S + moved_kg * STEERAGE_MPS / (THROTTLE * ahead.low_n)
    found = Held(ahead.low_n, astern.low_n, 0.0, 0.0, steerage_s, ahead.basis | _basis(steerage_s))
    bow, beam = (float(held_mps(found, judged, np.array(off))) for off in (0.0, 0.5 * math.pi))
    return Held(ahead.low_n, astern.low_n, bow, beam, steerage_s, found.basis)


def held_mps(held: Held, judged: Judged, off_bow_rad: Floats) -> Floats:
    """The gust at 10 m up to which she is held on a heading, by where it is off her bow. [m/s]

    Along her the engine must pull what the wind pushes, ahead or astern; across her the
    wind must push no more than the engine pulls ahead: no helm turns more than that.
    """
    off = np.asarray(off_bow_rad, float)
    form, asked = judged.rigged.form, np.nan_to_num(off).ravel()
    forces = [wind_force(form, 1.0, float(one), AIR_KGPM3) for one in asked]
    along = np.array([one[0] for one in forces]).reshape(off.shape)
    across = np.abs([one[1] for one in forces]).reshape(off.shape)
    with np.errstate(divide="ignore"):
        pull_n = np.where(along <= 0.0, held.ahead_n, held.astern_n)
        by_pull = np.sqrt(pull_n / np.abs(along))
        by_helm = np.sqrt(held.ahead_n / across)
    return np.asarray(np.minimum(by_pull, by_helm) / judged.rigged.height_share)


def _basis(steerage_s: float) -> Basis:
    known = math.isfinite(steerage_s)
    said = f"{steerage_s:.0f} s" if known else "unknown: no engine is told"
    return Basis(
        assumptions=(
            Assumption(
                "She is held on her way out as long as the wind pushes her no harder along her"
                " than the engine pulls, nor across her than it pulls ahead (our choice)",
                "With way on a good helm holds her in more, in a gust at the wrong moment in less",
            ),
            Assumption(
                f"From letting go to steerage way ({STEERAGE_MPS:g} m/s, common practice) it takes"
                f" {said}: {CALL_S:g} s to the call, {GEAR_S:g} s to the gear, then {THROTTLE:.0%}"
                " of her pull ahead (our choice)",
                "A slower hand, or a gear that sticks, leaves her to the wind for longer",
            ),
        ),
    )
