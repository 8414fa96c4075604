"""What the ground will hold, as odds; what a proof says about them.

Everything here is against a pull along the bed: a pull with uplift is first
turned into the flat pull that asks as much.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import log_ndtr

from shorefast.basis import Assumption, Basis, Finding
from shorefast.boat import ANCHOR_CLASSES, Anchor, shipped_table
from shorefast.errors import OutsideModel
from shorefast.quantities import STANDARD_GRAVITY_MPS2

Floats = NDArray[np.float64]

PACKAGE = "shorefast.mooring"
SPAN_QUANTILE = 0.95
STEEP_RAD = math.radians(10.0)
STEEP_WIDENING = 1.5
NO_HOLD_RAD = math.radians(30.0)
PROOF_FULL_RAD = math.radians(15.0)
LEAST_RATIO = 0.1
UNRATED = ("weed", "seagrass", "rock", "boulders")
# a bottom the table does not have, by the soils it may be: the first gives the low end
_SOILS = {
    "sand": ("sand", "sand"),
    "mud": ("soft mud", "soft mud"),
    "soft mud": ("soft mud", "soft mud"),
    "firm clay": ("firm clay", "firm clay"),
    "mud over clay": ("soft mud", "firm clay"),
    "gravel": ("gravel", "gravel"),
}


@dataclass(frozen=True)
class Holding:
    """What an anchor holds in a bottom, along the bed: log-normal odds. [N]

    Attributes
    ----------
    low_n, high_n, median_n : float
        Passed in 95 and in 5 of 100 lets-go, and the middle; NaN where not rated.
    log_deviation : float
        Standard deviation of the logarithm.
    rated : bool
        False where nobody can say (rock, weed): everything is NaN then.
    status : str
        How far the numbers can be trusted ("from memory").
    """

    low_n: float
    high_n: float
    median_n: float
    log_deviation: float
    rated: bool
    status: str
    basis: Basis


def holding(anchor: Anchor, bottom: str) -> Holding:
    """The odds of what this anchor holds in this bottom, before anyone proved it.

    A multiple of its weight by kind and bottom; the printed range is taken as 5 to
    95 of 100. Wide on purpose: how it was set is not in it.

    Parameters
    ----------
    anchor : Anchor
    bottom : str
        "sand", "mud", "soft mud", "firm clay", "mud over clay", "gravel", "weed",
        "seagrass", "rock" or "boulders".

    Raises
    ------
    OutsideModel
        For a kind or bottom not in the table.

    Source
    ------
    anchor-tests (from memory); salvage-handbook, Table G-1 (read) for the bottoms
    where an anchor is not rated.
    """
    if bottom in UNRATED:
        return _unrated(bottom)
    low, high = _efficiency(anchor.kind, bottom)
    weight_n = anchor.mass_kg * STANDARD_GRAVITY_MPS2
    low_n, high_n = low * weight_n, high * weight_n
    spread = 2.0 * NormalDist().inv_cdf(SPAN_QUANTILE)
    return Holding(
        low_n=low_n,
        high_n=high_n,
        median_n=math.sqrt(low_n * high_n),
        log_deviation=math.log(high_n / low_n) / spread,
        rated=True,
        status="from memory",
        basis=_rated_basis(anchor.kind, bottom),
    )


def uplift_share(uplift_rad: ArrayLike) -> Floats:
    """Share of the holding left when the shank is pulled up from the bed.

    Parameters
    ----------
    uplift_rad : array
        Angle of the pull above the bed at the shank; below it counts as flat. [rad]

    Source
    ------
    uplift-rule (from memory); beyond 20 degrees straight to nothing at 30, our
    assumption.
    """
    rows = shipped_table(PACKAGE, "uplift")
    at_rad = [math.radians(float(row["angle_deg"])) for row in rows]
    share = [float(row["share"]) for row in rows]
    at = np.asarray(uplift_rad, float)
    return np.asarray(np.interp(at, [*at_rad, NO_HOLD_RAD], [*share, 0.0]), float)


def slope_widening(slope_rad: ArrayLike) -> Floats:
    """How much wider the odds are on a steep bed, on the logarithm's deviation.

    Source
    ------
    salvage-handbook, Table G-1 (read: drag anchors poor over 10 degrees); the
    factor is our assumption.
    """
    steep = np.abs(np.asarray(slope_rad, float)) > STEEP_RAD
    return np.where(steep, STEEP_WIDENING, 1.0)


def slope_note(slope_rad: float) -> Finding | None:
    """What is to be said of the slope the anchor lies on; None where it is gentle."""
    slope_deg = math.degrees(abs(slope_rad))
    if not abs(slope_rad) > STEEP_RAD:
        return None
    return Finding(
        "Anchor",
        f"the bed slopes {slope_deg:.0f} degrees; over 10 the tables rate anchors poor,"
        " so the odds of its holding are taken wider",
    )


def chosen_fractile(
    ground: Holding, fractile: float, uplift_rad: ArrayLike = 0.0, slope_rad: ArrayLike = 0.0
) -> Floats:
    """The pull that this share of anchors so let go would not hold. [N]

    Parameters
    ----------
    ground : Holding
    fractile : float
        Between 0 and 1; 0.05 is the low end of the range on a gentle bed.
    uplift_rad, slope_rad : array
        Pull above the bed, and slope of the bed. [rad]

    Returns
    -------
    pull_n : array, the inputs broadcast together; NaN where not rated.
    """
    deviation = ground.log_deviation * slope_widening(slope_rad)
    flat_n = ground.median_n * np.exp(NormalDist().inv_cdf(fractile) * deviation)
    return np.asarray(flat_n * uplift_share(uplift_rad), float)


def proof_here_n(
    proof_n: ArrayLike, proof_toward_rad: ArrayLike, pull_toward_rad: ArrayLike
) -> Floats:
    """What a proof is worth for a pull in another direction. [N]

    In full within 15 degrees of where it was pulled, from there as a cosine to
    nothing square to it: our assumption, since nobody has printed one.

    Parameters
    ----------
    proof_n : array
        Pull of the proof, flat, at the shank. [N]
    proof_toward_rad, pull_toward_rad : array
        Where the boat lay from the anchor, then and now. [rad]
    """
    apart_rad = np.abs(np.asarray(pull_toward_rad, float) - proof_toward_rad) % (2.0 * math.pi)
    apart_rad = np.minimum(apart_rad, 2.0 * math.pi - apart_rad)
    past = np.clip((apart_rad - PROOF_FULL_RAD) / (math.pi / 2.0 - PROOF_FULL_RAD), 0.0, 1.0)
    faded = np.maximum(np.cos(past * math.pi / 2.0), 0.0)
    # a cosine of a quarter turn is not quite nothing in floating point
    return np.asarray(proof_n, float) * np.where(past >= 1.0, 0.0, faded)


def proof_lifted_share(proof_uplift_rad: ArrayLike, pull_uplift_rad: ArrayLike) -> Floats:
    """Share of a proof that counts for a pull lifting the shank more than the proof did.

    In full for a pull as flat or flatter, from there by the holding left at both
    angles; nothing where the proof's own angle leaves nothing to go by.

    Parameters
    ----------
    proof_uplift_rad, pull_uplift_rad : array
        Pulls above the bed, then and now. [rad]

    Source
    ------
    uplift-rule (from memory), the ratio of its two shares.
    """
    then, now = np.asarray(proof_uplift_rad, float), np.asarray(pull_uplift_rad, float)
    left_then, left_now = uplift_share(then), uplift_share(now)
    some = left_then > 0.0
    share = np.where(some, left_now / np.where(some, left_then, 1.0), 0.0)
    return np.where(now <= then, 1.0, np.where(np.isnan(now), np.nan, np.minimum(share, 1.0)))


def proven_share(
    ground: Holding,
    need_n: ArrayLike,
    proof_n: ArrayLike,
    need_uplift_rad: ArrayLike = 0.0,
    proof_uplift_rad: ArrayLike = 0.0,
    slope_rad: ArrayLike = 0.0,
) -> Floats:
    """Odds that the anchor holds what is needed, given that it held the proof.

    The proof cuts the odds off from below: what is left above it is all there is.

    Parameters
    ----------
    ground : Holding
    need_n, proof_n : array
        Pulls at the shank; the proof as ``proof_here_n`` leaves it, 0 for none. [N]
    need_uplift_rad, proof_uplift_rad, slope_rad : array
        Pulls above the bed, and slope of the bed. [rad]

    Returns
    -------
    share : array, 0 to 1; NaN where the bottom is not rated and the need passes
        the proof.

    Source
    ------
    proof-load-updating (truncated prior).
    """
    need_flat_n = _flat_n(need_n, need_uplift_rad)
    proof_flat_n = _flat_n(proof_n, proof_uplift_rad)
    deviation = ground.log_deviation * slope_widening(slope_rad)
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        need_z = np.log(need_flat_n / ground.median_n) / deviation
        proof_z = np.log(proof_flat_n / ground.median_n) / deviation
        # the ratio of two tails keeps its digits as a difference of logarithms
        left = np.exp(log_ndtr(-need_z) - log_ndtr(-proof_z))
    proven = need_flat_n <= proof_flat_n
    return np.where(proven, 1.0, np.where(need_flat_n == np.inf, 0.0, left))


def power_law_holding_n(kind: str, soil: str, mass_kg: float) -> float:
    """Holding of large anchors by the published power law, for checking only. [N]

    Source
    ------
    ufc-4-159-03, eq. 26 (read) with ncel-tds-83-08r (from memory);
    mooring-line-properties for the large high-holding curve (read).
    """
    rows = shipped_table(PACKAGE, "power_law")
    for row in rows:
        if row["kind"] == kind and row["soil"] == soil:
            ratio = mass_kg / float(row["reference_kg"])
            return float(row["a_kn"]) * 1e3 * float(ratio ** float(row["b"]))
    known = "; ".join(f"{row['kind']} in {row['soil']}" for row in rows)
    raise OutsideModel("Anchor", f"{kind} in {soil}", f"known are {known}", "Take one of these.")


def _flat_n(pull_n: ArrayLike, uplift_rad: ArrayLike) -> Floats:
    """The flat pull that asks as much of the ground; infinite where nothing is left."""
    share = uplift_share(uplift_rad)
    pull = np.asarray(pull_n, float)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where((pull > 0.0) | np.isnan(pull), pull / share, 0.0)


def _efficiency(kind: str, bottom: str) -> tuple[float, float]:
    """Least and most multiple of its weight; a range from zero starts at a tenth of its end."""
    rows = {(row["kind"], row["bottom"]): row for row in shipped_table(PACKAGE, "holding")}
    soils = _SOILS.get(bottom, ("", ""))
    if (kind, soils[0]) not in rows:
        known = kind in ANCHOR_CLASSES
        what, names = ("bottom", (*_SOILS, *UNRATED)) if known else ("anchor", ANCHOR_CLASSES)
        raise OutsideModel(
            where="Anchor",
            got=f"{kind} in {bottom}",
            against="no holding is known for it",
            way_out=f"Name the {what} as one of {', '.join(names)}.",
        )
    low, high = float(rows[kind, soils[0]]["low"]), float(rows[kind, soils[1]]["high"])
    return max(low, LEAST_RATIO * high), high


def _unrated(bottom: str) -> Holding:
    nan = math.nan
    said = f"in {bottom} nobody can say what an anchor holds; it may let go without warning"
    basis = Basis(sources=("salvage-handbook",), findings=(Finding("Anchor", said),))
    return Holding(nan, nan, nan, nan, False, "unknown", basis)


def _rated_basis(kind: str, bottom: str) -> Basis:
    return Basis(
        assumptions=(
            Assumption(
                f"What a {kind} anchor holds in {bottom} is a wide range from memory of"
                " published tests",
                "Only the proof tells what this anchor holds here",
            ),
        ),
        sources=("anchor-tests",),
    )
