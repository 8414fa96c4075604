"""Her response to gusts in words: peaks beside the gust taken as steady."""

from __future__ import annotations

import math
from datetime import timedelta
from typing import TYPE_CHECKING

import numpy as np

from shorefast.wording.numbers import UNKNOWN, knots, use_words
from shorefast.wording.times import clock, day_clock

if TYPE_CHECKING:
    from shorefast.stay import GustResponse, Judgement, PartResponse, Stay

# a part whose peak stays below this is not worth a line
_LEAST_TOLD = 0.05
_DAY = timedelta(hours=24)


def gust_response_words(
    stay: Stay, judgement: Judgement, told: GustResponse | None
) -> tuple[str, ...]:
    """Peak use of every part, its ratio with scatter, and the verdict with it, a line each."""
    if told is None:
        return ("Her response to gusts is unknown: no moment of the stay is known.",)
    head = (
        f"In gusty wind, {told.records} drawn hours at each part's worst moment"
        f" (gusts {_between(*(knots(one) for one in told.gust_mps))}):"
    )
    rows = [_part(stay, judgement, one) for one in told.parts if _worth(one)]
    return (head, *rows, _judged(stay, told))


def _worth(one: PartResponse) -> bool:
    return not float(np.max(one.peak_use)) < _LEAST_TOLD


def _between(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"


def _part(stay: Stay, judgement: Judgement, one: PartResponse) -> str:
    peak = float(np.mean(one.peak_use))
    if math.isnan(peak):
        return f"  {one.name}: peak use {UNKNOWN}: she leaves what is known of bed and lines"
    scatter = f"{use_words(float(one.peak_use.min()))} to {use_words(float(one.peak_use.max()))}"
    said = f"  {one.name}: peak use {use_words(peak)} ({scatter})"
    if math.isnan(one.ratio):
        return f"{said}, {use_words(one.steady_use)} in the gust as if steady"
    when = _say(stay, judgement.time_utc[one.at[1]])
    return f"{said}, {one.ratio:.2f} times that in the gust as if steady, at {when}"


def _say(stay: Stay, moment: np.datetime64) -> str:
    long = stay.until_utc - stay.from_utc > _DAY
    return (day_clock if long else clock)(moment, stay.bay.zone_name)


def _judged(stay: Stay, told: GustResponse) -> str:
    verdict = {
        "holds": "no hour with too many past a limit",
        "no": "do not lie here",
        "unknown": UNKNOWN,
        "leave by": "leave",
    }[told.verdict]
    if told.leave_by_utc is not None:
        moment = np.datetime64(told.leave_by_utc.replace(tzinfo=None), "s")
        verdict = f"leave by {_say(stay, moment)}"
    known = told.share_past_limit[np.isfinite(told.share_past_limit)]
    most = f" (at most {known.max():.0%} of members past a limit)" if known.size else ""
    return (
        f"With every part's use times its ratio: {verdict}{most}. The verdict at the top takes"
        " the gust as steady: half of a line's strength and a chain's working load leave room"
        " for such peaks, the proof of the anchor does not."
    )
