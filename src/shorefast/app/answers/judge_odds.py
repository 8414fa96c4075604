"""``shorefast judge --odds``: how sure the answer is."""

from __future__ import annotations

from typing import Any

from shorefast.app.answers.told import Told
from shorefast.app.progress import Progress
from shorefast.errors import BadInput
from shorefast.stay import SAMPLES, Chance, Judged, Odds, Question, Stay, odds
from shorefast.wording import odds_told

LEAST, MOST = 64, 65_536


def odds_answered(
    stay: Stay, judged: Judged, asked: bool | int, progress: Progress | None = None
) -> Told:
    """Keys and text of the odds.

    asked : how many samples; True: as many as we take.

    Raises
    ------
    BadInput
        For fewer or more samples than can be.
    """
    samples = SAMPLES if asked is True else int(asked)
    if not LEAST <= samples <= MOST:
        raise BadInput(
            "--samples", f"{samples}", f"{LEAST} to {MOST} wanted", "Leave it out for our choice."
        )
    found = odds(stay, judged, Question(samples), progress)
    return Told({"odds": odds_keys(found)}, "\n".join(odds_told(stay, found)), found.basis)


def _chance(one: Chance | None) -> Any:
    return None if one is None else {"share": one.share, "error": one.error}


def odds_keys(found: Odds) -> dict[str, Any]:
    """The odds as JSON; arrays (time) and (part, time)."""
    return {
        "samples": found.samples,
        "until_utc": found.until_utc,
        "any": _chance(found.whole),
        "any_unknown_share": found.whole_unknown,
        "any_without_proof": _chance(found.without_proof),
        "time_utc": found.time_utc,
        "share": found.share,
        "error": found.error,
        "unknown_share": found.unknown_share,
        "parts": [
            {"name": name, **_chance(whole), "by_time": {"share": share, "error": error}}
            for name, whole, share, error in zip(
                found.parts, found.part_whole, found.part_share, found.part_error, strict=True
            )
        ],
        "doubts": [
            {"name": one.name, "variance_share": one.share, "error": one.error}
            for one in found.doubts
        ],
        "advice": None
        if found.advice is None
        else {"what": found.advice.what, "any": _chance(found.advice.after)},
    }
