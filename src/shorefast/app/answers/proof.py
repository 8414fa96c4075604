"""``shorefast proof``: did I prove enough?"""

from __future__ import annotations

import math
from dataclasses import asdict
from pathlib import Path
from typing import Any

from shorefast.app.answer import Answer
from shorefast.app.answers.noticed import with_noticed
from shorefast.manoeuvre import Proving, proving
from shorefast.readers import read_stay
from shorefast.stay import NeedAndProof, Stay, judge, need_and_proof
from shorefast.wording import UNKNOWN, clock, degrees, kilograms, knots, proving_words

_LIFTED_RAD = 0.005


def _text(stay: Stay, told: NeedAndProof) -> str:
    if math.isnan(told.need_n):
        return "Unknown: what the stay asks of the anchor cannot be told."
    hour = (
        "" if told.need_hour_utc is None else f" at {clock(told.need_hour_utc, stay.bay.zone_name)}"
    )
    lines = [
        f"The stay asks up to {kilograms(told.need_n)} of the anchor{hour},"
        f" {degrees(told.need_uplift_rad)} above the bed.",
    ]
    if math.isnan(told.proof_n):
        lines.append(f"What the engine can prove is {UNKNOWN}: give [engine] or [proof] pull.")
        return "\n".join(lines)
    lines.append(
        f"Astern she proves {kilograms(told.proof_n)} at the shank"
        f" ({kilograms(told.proof_low_n)} to {kilograms(told.proof_high_n)})."
    )
    enough = "more than" if told.proof_low_n >= told.need_n else "less than"
    if told.proof_low_n < told.need_n <= told.proof_n:
        enough = "about"
    if told.proof_uplift_rad > _LIFTED_RAD:
        lines.append(
            f"All chain is lifted then, {degrees(told.proof_uplift_rad)} above the bed at the"
            " shank, which feels more than the level pull."
        )
    lines.append(f"That is {enough} the need in the direction it was pulled in, and counts less")
    lines[-1] += " the farther from it the pull comes."
    lines.append(
        f"On the free boat the same pull is {knots(told.wind_ahead_mps)} of steady wind on the"
        f" bow, or {knots(told.wind_abeam_mps)} abeam."
    )
    return "\n".join(lines)


def answer_proof(stay_path: Path) -> Answer:
    """Need and proof of a stay.

    Raises
    ------
    BadInput, Unreadable
        As ``judge``.
    """
    stay = read_stay(stay_path)
    judged = judge(stay)
    told, how = need_and_proof(stay, judged), proving(stay, judged)
    keys = {
        "need_n": told.need_n,
        "need_uplift_rad": told.need_uplift_rad,
        "proof_n": told.proof_n,
        "proof_low_n": told.proof_low_n,
        "proof_high_n": told.proof_high_n,
        "wind_ahead_mps": told.wind_ahead_mps,
        "wind_abeam_mps": told.wind_abeam_mps,
        **_how_keys(how),
    }
    basis = told.basis | how.basis
    text = "\n".join([_text(stay, told), "", *proving_words(how)])
    return Answer("proof", keys, basis, with_noticed(text, basis))


def _how_keys(how: Proving) -> dict[str, Any]:
    """The keys of the steps."""
    return {"steps": [asdict(step) for step in how.steps]}
