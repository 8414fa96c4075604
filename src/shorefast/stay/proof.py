"""Need and proof: what the stay asks of the anchor, what the engine proves."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from shorefast.basis import Assumption, Basis
from shorefast.boat import AsternPull, astern_pull, revs_curve
from shorefast.mooring import RodeForm
from shorefast.stay.answer import NeedAndProof
from shorefast.stay.chain_lead import hanging
from shorefast.stay.equal_wind import equal_winds_mps
from shorefast.stay.parts import Proven
from shorefast.stay.plan import Stay
from shorefast.stay.rigging import Rigged, lie_of

if TYPE_CHECKING:
    from shorefast.stay.judge import Judged

_GIVEN_DOUBT = 0.15
# sources of a pull that somebody measured
_TOLD = ("stay file", "boat file")


def proof_pull(stay: Stay) -> AsternPull | None:
    """The pull at the roller that was or will be proved, with its range.

    None where nothing is known of it: no [proof], or one without a pull by revs of which
    nobody knows what they pull.
    """
    told = stay.proof
    if told is None:
        return None
    if told.pull_n is not None:
        low_n, high_n = told.pull_n * (1.0 - _GIVEN_DOUBT), told.pull_n * (1.0 + _GIVEN_DOUBT)
        return AsternPull(told.pull_n, low_n, high_n, "stay file", Basis())
    if told.revs_rpm is None or stay.boat.engine is None:
        return None
    found = revs_curve(stay.boat.engine).at_revs(told.revs_rpm)
    return found if math.isfinite(found.nominal_n) else None


def counted_n(pull: AsternPull) -> float:
    """What of a proof's pull is counted on: all of one that was told, the least of one by formula.

    [N]
    """
    return pull.nominal_n if pull.source in _TOLD else pull.low_n


def proof_toward_rad(stay: Stay) -> float:
    """Where she pulled to: as said, else astern of the heading she is meant to lie at."""
    if stay.proof is not None and stay.proof.toward_rad is not None:
        return stay.proof.toward_rad
    return lie_of(stay).heading_rad + math.pi


def rode_in_proof(
    stay: Stay, rigged: Rigged, level_m: float, pull_n: float, out_m: float | None = None
) -> RodeForm | None:
    """The rode under a level pull at the roller, over the bed toward where she pulls.

    None where that bed or the water level is unknown.

    Parameters
    ----------
    out_m : float, optional
        How much is out; as much as in the lie where left out. [m]

    Raises
    ------
    BadInput
        For more than is aboard.
    """
    hung = hanging(stay, rigged, level_m, proof_toward_rad(stay), out_m)
    return None if hung is None else hung.form(pull_n)


def out_in_proof_m(stay: Stay) -> float | None:
    """What was out in the proof, where the stay says so. [m]"""
    return None if stay.proof is None else stay.proof.chain_out_m


def proven_of(stay: Stay, rigged: Rigged, level_m: float) -> Proven | None:
    """The stay's proof as the shank felt it; None where there is none."""
    pull = proof_pull(stay)
    if pull is None or counted_n(pull) <= 0.0:
        return None
    form = rode_in_proof(stay, rigged, level_m, counted_n(pull), out_in_proof_m(stay))
    if form is None or not math.isfinite(form.anchor_tension_n):
        return None
    return Proven(form.anchor_tension_n, proof_toward_rad(stay), max(0.0, form.uplift_rad))


def equal_wind_mps(rigged: Rigged, pull_n: float, off_bow_rad: float) -> float:
    """Steady wind at 10 m whose force on the free boat is ``pull_n``. [m/s]"""
    return float(equal_winds_mps(rigged.form, rigged.height_share, pull_n, off_bow_rad))


def need_and_proof(stay: Stay, judged: Judged) -> NeedAndProof:
    """What the stay asks of the anchor at its worst, and what is or can be proved.

    Where the stay file gives no proof it is what the engine can pull full astern.

    Returns
    -------
    NeedAndProof
        Pulls at the shank; the proof is NaN where nothing is known of the engine.
    """
    answer = judged.judgement
    rode = answer.rest.lines[0]
    need_n, uplift, hour = math.nan, math.nan, None
    if np.isfinite(rode.far_tension_n).any():
        m, t = divmod(int(np.nanargmax(rode.far_tension_n)), rode.far_tension_n.shape[1])
        need_n, uplift = float(rode.far_tension_n[m, t]), float(rode.uplift_rad[m, t])
        hour = judged.moment(t)
    pull = proof_pull(stay)
    if pull is None and stay.boat.engine is not None:
        pull = astern_pull(stay.boat.engine)
    nan = math.nan
    if pull is None:
        return NeedAndProof(need_n, uplift, hour, nan, nan, nan, nan, nan, nan, nan, answer.basis)
    level_m = float(answer.water_level_m[0, 0])
    felt = [
        (form.anchor_tension_n, form.uplift_rad) if form is not None else (nan, nan)
        for p in (pull.nominal_n, pull.low_n, pull.high_n)
        for form in (rode_in_proof(stay, judged.rigged, level_m, p, out_in_proof_m(stay)),)
    ]
    basis = Basis(
        assumptions=(
            Assumption(
                "The proof is pulled at the water level of the stay's beginning",
                "At lower water the chain lies flatter and the shank feels a little less",
            ),
        )
    )
    return NeedAndProof(
        need_n, uplift, hour,
        felt[0][0], felt[1][0], felt[2][0], felt[0][1], pull.nominal_n,
        equal_wind_mps(judged.rigged, pull.nominal_n, 0.0),
        equal_wind_mps(judged.rigged, pull.nominal_n, 0.5 * math.pi),
        answer.basis | pull.basis | basis,
    )  # fmt: skip
