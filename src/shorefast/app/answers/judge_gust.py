"""``shorefast judge --gust-response``: what a gust taken as steady understates."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from shorefast.stay import GustResponse, Judged, Judgement, Stay, gust_response
from shorefast.wording import gust_response_words


def with_gusts(
    stay: Stay, judged: Judged, judgement: Judgement, keys: Mapping[str, Any], words: str
) -> tuple[dict[str, Any], str, Judgement]:
    """Keys, words and basis of a judgement, her response to gusts added."""
    told = gust_response(stay, judged)
    said = "\n\n" + "\n".join(gust_response_words(stay, judgement, told))
    if told is None:
        return {**keys, "gust_response": None}, words + said, judgement
    judgement = replace(judgement, basis=judgement.basis | told.basis)
    return {**keys, "gust_response": _keys(judgement, told)}, words + said, judgement


def _keys(judgement: Judgement, told: GustResponse) -> dict[str, Any]:
    """Parts, range of validity and the verdict with the factors; ``null`` for unknown."""
    return {
        "records": told.records,
        "valid": {
            "gust_low_mps": told.gust_mps[0],
            "gust_high_mps": told.gust_mps[1],
            "intensity_low": told.intensity[0],
            "intensity_high": told.intensity[1],
        },
        "parts": [
            {
                "name": one.name,
                "kind": one.kind,
                "member": judgement.member[one.at[0]],
                "at_utc": judgement.time_utc[one.at[1]],
                "steady_use": one.steady_use,
                "peak_use": one.peak_use,
                "ratio": one.ratio,
                "low": one.low,
                "high": one.high,
                "squall_use": one.squall_use,
                "squall_ratio": one.squall_ratio,
            }
            for one in told.parts
        ],
        "verdict": told.verdict,
        "leave_by_utc": told.leave_by_utc,
        "share_past_limit": told.share_past_limit,
        "greatest_use": told.greatest_use,
    }
