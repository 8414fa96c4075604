"""``shorefast judge --gust-response``: what a gust taken as steady understates."""

from __future__ import annotations

from typing import Any

from shorefast.app.answers.told import Told
from shorefast.app.progress import Progress
from shorefast.stay import GustResponse, Judged, Judgement, Stay, gust_response
from shorefast.wording import gust_response_words


def gusts_told(stay: Stay, judged: Judged, asked: bool, progress: Progress | None = None) -> Told:
    """Her response to gusts, told beside her judgement."""
    told = gust_response(stay, judged, progress=progress)
    text = "\n".join(gust_response_words(stay, judged.judgement, told))
    if told is None:
        return Told({"gust_response": None}, text)
    return Told({"gust_response": _keys(judged.judgement, told)}, text, told.basis)


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
