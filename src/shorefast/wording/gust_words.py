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
    """Peak use of every part, its ratio with scatter, and the verdict with it, a line each.

    Room is not raised: she ranges farther in time, and nobody reckons how far.
    """
    if told is None:
        return ("Her response to gusts is unknown: no moment of the stay is known.",)
    shown = [one for one in told.parts if _worth(one)]
    wide = max((len(one.name) for one in shown), default=0)
    gusts = _between(*(knots(one) for one in told.gust_mps))
    if not shown:
        return (f"In gusty wind no part's peak use reaches {_LEAST_TOLD:g}.", *_judged(stay, told))
    return (
        f"In gusty wind, {told.records} drawn hours with the mean and the gust of each part's"
        f" worst hour (gusts {gusts});",
        "the last column is for a squall that rises to the gust in 3 s and stays:",
        _row(wide, ("", "as if steady", "peak use (least to most)", "times", "squall", "at")),
        *(_row(wide, (one.name, *_part(stay, judgement, one))) for one in shown),
        *_judged(stay, told),
    )


def _row(wide: int, cells: tuple[str, ...]) -> str:
    name, steady, peak, times, squall, at = cells
    return f"  {name:<{wide}}  {steady:>12}  {peak:>24}  {times:>7}  {squall:>7}  {at:>12}".rstrip()


def _worth(one: PartResponse) -> bool:
    return not float(np.max(one.peak_use)) < _LEAST_TOLD


def _between(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"


def _times(one: PartResponse, ratio: float) -> str:
    """A ratio; a dash where none is made, and unknown where she left what is known."""
    if one.hardly_used:
        return "-"
    if math.isnan(ratio):
        return UNKNOWN
    return f"{ratio:.2f}" if ratio < 100.0 else "over 99"


def _part(stay: Stay, judgement: Judgement, one: PartResponse) -> tuple[str, ...]:
    """Steady use, peak with scatter, both ratios, when; a dash for a part hardly used."""
    peak = float(np.mean(one.peak_use))
    scatter = f"{use_words(float(one.peak_use.min()))} to {use_words(float(one.peak_use.max()))}"
    return (
        use_words(one.steady_use),
        UNKNOWN if math.isnan(peak) else f"{use_words(peak)} ({scatter})",
        _times(one, one.ratio),
        _times(one, one.squall_ratio),
        _say(stay, judgement.time_utc[one.at[1]]),
    )


def _say(stay: Stay, moment: np.datetime64) -> str:
    long = stay.until_utc - stay.from_utc > _DAY
    return (day_clock if long else clock)(moment, stay.bay.zone_name)


def _judged(stay: Stay, told: GustResponse) -> tuple[str, ...]:
    verdict = {
        "holds": "no hour has too many members past a limit",
        "no": "do not lie here",
        "unknown": UNKNOWN,
        "leave by": "leave",
    }[told.verdict]
    if told.leave_by_utc is not None:
        moment = np.datetime64(told.leave_by_utc.replace(tzinfo=None), "s")
        verdict = f"leave by {_say(stay, moment)}"
    known = told.share_past_limit[np.isfinite(told.share_past_limit)]
    most = f" ({known.max():.0%} of members past one at the worst)" if known.size else ""
    return (
        f"With every part's use taken times that, and room as in the steady gust: {verdict}{most}.",
        "The verdict at the top takes the gust as steady. Half of a line's strength and a"
        " chain's working load leave room for such peaks; the proof of an anchor does not.",
    )
