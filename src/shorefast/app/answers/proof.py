"""``shorefast proof``: did I prove enough?"""

from __future__ import annotations

import math
from dataclasses import asdict
from pathlib import Path
from typing import Any

from shorefast.app.answer import Answer
from shorefast.app.answers.noticed import with_noticed
from shorefast.manoeuvre import Mark, Proving, Settling, Transit, proving, settling
from shorefast.readers import read_stay
from shorefast.stay import NeedAndProof, Stay, judge, need_and_proof
from shorefast.wording import (
    UNKNOWN,
    clock,
    degrees,
    kilograms,
    knots,
    outcome_words,
    proving_words,
    settling_words,
)

# less is no degree when it is said
_LIFTED_RAD = math.radians(0.5)


def _text(stay: Stay, told: NeedAndProof, how: Proving) -> str:
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
        f"Astern her engine alone proves {kilograms(told.proof_n)} at the shank"
        f" ({kilograms(told.proof_low_n)} to {kilograms(told.proof_high_n)})."
    )
    felt_n = how.steps[-1].shank_n if how.steps else math.nan
    if math.isfinite(felt_n) and kilograms(felt_n) != kilograms(told.proof_n):
        lines[-1] += f" In the mean wind of the first hour the last step is {kilograms(felt_n)}."
    if told.proof_uplift_rad > _LIFTED_RAD:
        lifted = bool(how.steps) and how.steps[-1].all_lifted
        lead = "All chain is lifted then, and the shank" if lifted else "The shank"
        lines.append(f"{lead} is pulled {degrees(told.proof_uplift_rad)} above the bed.")
    enough = _enough(told, felt_n)
    lines.append(f"That is {enough} the need in the direction it was pulled in, and counts less")
    lines[-1] += " the farther from it the pull comes."
    lines.append(
        f"On the free boat the engine's {kilograms(told.pull_n)} at the roller are"
        f" {knots(told.wind_ahead_mps)} of steady wind on the bow, or"
        f" {knots(told.wind_abeam_mps)} abeam."
    )
    return "\n".join(lines)


def _enough(told: NeedAndProof, felt_n: float) -> str:
    """How the proof stands to the need; what the wind takes away is not counted. [N]"""
    taken_n = max(0.0, told.proof_n - felt_n) if math.isfinite(felt_n) else 0.0
    if told.proof_low_n - taken_n >= told.need_n:
        return "more than"
    return "about" if told.need_n <= told.proof_n - taken_n else "less than"


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
    settled = settling(stay, judged, how)
    keys = {
        "need_n": told.need_n,
        "need_uplift_rad": told.need_uplift_rad,
        "proof_n": told.proof_n,
        "proof_low_n": told.proof_low_n,
        "proof_high_n": told.proof_high_n,
        "wind_ahead_mps": told.wind_ahead_mps,
        "wind_abeam_mps": told.wind_abeam_mps,
        **_how_keys(how),
        "settling": _settling_keys(settled),
    }
    basis = told.basis | how.basis | settled.basis
    said = [_text(stay, told, how), "", *proving_words(how), ""]
    said += settling_words(settled, stay.bay.zone_name)
    return Answer("proof", keys, basis, with_noticed("\n".join(said).rstrip(), basis))


def _how_keys(how: Proving) -> dict[str, Any]:
    """The keys of the steps, marks, what moving is, and outcomes."""
    return {
        "toward_rad": how.toward_rad % (2.0 * math.pi),
        "water_level_m": how.water_level_m,
        "steps": [asdict(step) for step in how.steps],
        "asked": None if how.asked is None else asdict(how.asked),
        "needed": None if how.needed is None else asdict(how.needed),
        "shoal_from": how.shoal_from,
        "need_turned_rad": how.need_turned_rad,
        "wind_adds_n": how.wind_adds_n,
        "wind_across_n": how.wind_across_n,
        "transits": [_transit_keys(one) for one in how.transits],
        "moving": {
            "marks_m": how.moving_m,
            "fix_m": how.moving_fix_m,
            "fix_last_m": how.moving_fix_last_m,
        },
        "outcomes": [
            {
                "sign": one.sign,
                "means": one.means,
                "do": one.do,
                "tempts": one.tempts,
                "sentence": outcome_words(one),
            }
            for one in how.outcomes
        ],
    }


def _transit_keys(one: Transit) -> dict[str, Any]:
    return {
        "near": _mark_keys(one.near),
        "far": _mark_keys(one.far),
        "bearing_rad": one.bearing_rad,
        "gap_rad": one.gap_rad,
        "moved_per_rad_m": one.moved_per_rad_m,
        "moved_m": one.moved_m,
        "by_night": one.by_night,
        "lamps": one.lamps,
        "along": one.along,
    }


def _mark_keys(mark: Mark) -> dict[str, Any]:
    return asdict(mark) | {"name": mark.name or None}


def _settling_keys(settled: Settling) -> dict[str, Any]:
    return {
        "lines": [asdict(one) for one in settled.lines],
        "at": [asdict(one) | {"tide": one.tide or None} for one in settled.at],
    }
