"""Odds in words, no finer than they are known."""

from __future__ import annotations

import math
from datetime import UTC
from typing import TYPE_CHECKING

import numpy as np

from shorefast.wording.numbers import UNKNOWN
from shorefast.wording.times import clock

if TYPE_CHECKING:
    from shorefast.stay import Chance, Odds, Stay

_FEW = 5
_LEAST_PART = 0.005


def odds_words(share: float, error: float) -> str:
    """A probability as people say it: "about 1 in 40", "about 6 in 10".

    Parameters
    ----------
    share, error : float
        Probability and its sampling error; never more digits are told than that bears.
    """
    if not math.isfinite(share):
        return UNKNOWN
    if share <= error:
        return f"less than 1 in {_rounded_down(1.0 / (share + 2.0 * error))}"
    if share >= 0.945:
        return "nearly certain" if share - error > 0.985 else "more than 9 in 10"
    if share >= 0.3:
        return f"about {round(10.0 * share)} in 10"
    return f"about 1 in {_rounded(1.0 / share)}"


def odds_short(share: float, error: float) -> str:
    """As ``odds_words`` for a narrow row; nothing where it is under 1 in 200."""
    if math.isnan(share):
        return "unknown"
    if share < max(_LEAST_PART, error):
        return ""
    return odds_words(share, error).removeprefix("about ").replace("more than ", "over ")


def _rounded(number: float) -> int:
    """One digit, or two under twenty: no odds of ours are known better."""
    if number < 20.0:
        return max(round(number), 2)
    step = 10 ** math.floor(math.log10(number))
    return int(round(number / step) * step)


def _rounded_down(number: float) -> int:
    """As ``_rounded``, never more than the number: for what odds are less than."""
    if number < 20.0:
        return max(math.floor(number), 1)
    step = 10 ** math.floor(math.log10(number))
    return int(number // step * step)


def percent(chance: Chance) -> str:
    """A probability in hundredths with its sampling error."""
    if not math.isfinite(chance.share):
        return UNKNOWN
    if chance.share <= chance.error:
        most = 100.0 * (chance.share + 2.0 * chance.error)
        return f"under {math.ceil(most):.0f} %"
    digits = 0 if chance.error >= 0.005 else 1
    return f"{100.0 * chance.share:.{digits}f} % (+/- {max(100.0 * chance.error, 0.1):.{digits}f})"


def odds_told(stay: Stay, odds: Odds) -> tuple[str, ...]:
    """How sure the answer is: the whole stay, before and after the proof, parts, doubts."""
    zone = stay.bay.zone_name
    until = clock(odds.until_utc, zone)
    told = [
        f"How sure: that something passes its limit by {until} is"
        f" {odds_words(odds.whole.share, odds.whole.error)}, {percent(odds.whole)},"
        f" {odds.samples} samples of every doubt at once."
    ]
    if odds.whole_unknown > 0.0:
        told.append(f"  Unknown in {math.ceil(100.0 * odds.whole_unknown)} of 100 samples.")
    if odds.without_proof is not None:
        before = odds.without_proof
        told.append(
            f"  Before the proof: {odds_words(before.share, before.error)}, {percent(before)}."
        )
    told.extend(_hour(zone, odds))
    told.extend(_parts(odds))
    if odds.doubts:
        shares = ", ".join(
            f"{one.name} {one.share:.0%}" for one in odds.doubts[:_FEW] if one.share >= 0.01
        )
        told.append(f"  What it hangs on (shares of the variance of the worst use): {shares}.")
    if odds.advice is not None:
        after = odds.advice.after
        told.append(
            f"  {odds.advice.what[0].upper()}{odds.advice.what[1:]}: the odds go from"
            f" {odds_words(odds.whole.share, odds.whole.error)} to"
            f" {odds_words(after.share, after.error)}, {percent(after)}."
        )
    return tuple(told)


def _hour(zone: str, odds: Odds) -> list[str]:
    """The hour with the worst odds, of those that are known."""
    last = np.datetime64(odds.until_utc.astimezone(UTC).replace(tzinfo=None), "s")
    some = odds.time_utc <= last
    share = odds.share[some]
    if not np.isfinite(share).any():
        return ["  By the hour it is unknown."]
    worst = int(np.nanargmax(share))
    if share[worst] <= odds.error[worst]:
        return []
    words = odds_words(float(share[worst]), float(odds.error[worst]))
    known = " of those known" if np.isnan(share).any() else ""
    return [f"  The worst moment{known} is {clock(odds.time_utc[worst], zone)}: {words}."]


def _parts(odds: Odds) -> list[str]:
    """The parts and rooms that fail most often, the likeliest first."""
    pairs = sorted(
        zip(odds.parts, odds.part_whole, strict=True),
        key=lambda pair: -np.nan_to_num(pair[1].share, nan=1.0),
    )
    return [
        f"    {name}: {odds_words(chance.share, chance.error)}"
        for name, chance in pairs[:_FEW]
        if not chance.share < _LEAST_PART
    ]
