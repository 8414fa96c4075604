"""The proof in words: the steps of revs, what to see at each, what it means."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from shorefast.quantities import from_si
from shorefast.wording.numbers import UNKNOWN, duration, kilograms, knots, metres

if TYPE_CHECKING:
    from shorefast.manoeuvre import ProofStep, Proving


def revs_words(step: ProofStep) -> str:
    """The revs of a step: revolutions where they are known, else a share of full revs."""
    if math.isfinite(step.revs_rpm):
        return f"{step.revs_rpm:.0f} rpm"
    if step.revs_share >= 0.995:
        return "full revs"
    return f"{step.revs_share:.0%} of full revs"


def lead_words(step: ProofStep) -> str:
    """How the chain should lead at a step, from the vertical: "42 degrees (40 to 44)"."""
    if not math.isfinite(step.angle_rad):
        return UNKNOWN
    # flat below the horizontal is far from the vertical
    low, middle, high = (
        _from_vertical_deg(angle)
        for angle in (step.angle_high_rad, step.angle_rad, step.angle_low_rad)
    )
    return f"{middle:.0f} ({low:.0f}-{high:.0f})"


def _from_vertical_deg(angle_rad: float) -> float:
    return from_si(0.5 * math.pi - angle_rad, "angle", "deg")


def step_rows(told: Proving) -> list[list[str]]:
    """The steps as a table, its head first."""
    head = [
        "", "revs astern", "pull", "least", "most", "wind on the bow", "abeam",
        "chain from vertical", "she goes astern", "stern off", "hold",
    ]  # fmt: skip
    return [head, *(_row(step) for step in told.steps)]


def _row(step: ProofStep) -> list[str]:
    lifted = " lifted" if step.all_lifted else ""
    return [
        str(step.number), revs_words(step),
        kilograms(step.pull_n), kilograms(step.low_n), kilograms(step.high_n),
        knots(step.wind_ahead_mps), knots(step.wind_abeam_mps),
        f"{lead_words(step)}{lifted}", metres(step.astern_m), metres(step.off_m),
        duration(step.hold_s),
    ]  # fmt: skip


def proving_words(told: Proving) -> list[str]:
    """How to prove her: a sentence, then the steps."""
    if not told.steps:
        return [f"How to prove her is {UNKNOWN}: the boat file tells no engine."]
    rows = step_rows(told)
    wide = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    said = ["Step by step astern, each held until nothing moves any more:"]
    for row in rows:
        cells = [f"{cell:>{room}}" for cell, room in zip(row, wide, strict=True)]
        said.append("  " + "  ".join(cells).rstrip())
    return said
