"""A verdict as a sentence before it is a number."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from shorefast.wording.numbers import compass, kilograms, knots, metres, use_words
from shorefast.wording.times import Moment, clock, day_clock

if TYPE_CHECKING:
    from shorefast.stay import Judgement, Stay

_DAY = timedelta(hours=24)


def verdict_words(stay: Stay, judgement: Judgement) -> tuple[str, str]:
    """The sentence to act on, and the reason for it.

    Parameters
    ----------
    stay : Stay
        What was asked; her place's clock is used.
    judgement : Judgement
        What was found.

    Returns
    -------
    headline, reason : str
        "Lie here until 04:30, then leave." and the worst hour in words. Unknown
        stays unknown.
    """
    return _headline(stay, judgement), _reason(stay, judgement)


def worst_words(stay: Stay, judgement: Judgement) -> str:
    """The worst hour: when, which part, how hard, in which wind; empty if nobody knows."""
    if judgement.worst is None or judgement.first_to_give is None:
        return ""
    at = judgement.worst
    when = _when(judgement.time_utc[at[1]], stay)
    members = _members(judgement)
    among = f", worst of {members} members" if members > 1 else ""
    return f"Worst hour {when}{among}: {_carries(judgement, at)}, in {_wind(judgement, at)}."


def half_strength_words(line_use: float) -> str:
    """What the limit on lines rests on, and how the same pull reads by a stricter one.

    Parameters
    ----------
    line_use : float
        Largest use of any line, limit at half of its strength.
    """
    if not math.isfinite(line_use):
        return "Lines: limit half of their strength (common practice); largest use unknown."
    third, fifth = (use_words(line_use * factor) for factor in (1.5, 2.5))
    return (
        f"Lines: limit half of their strength (common practice), largest use "
        f"{use_words(line_use)}. By a third it would be {third}, by a fifth {fifth}."
    )


def _headline(stay: Stay, judgement: Judgement) -> str:
    if judgement.verdict == "holds":
        return f"She can lie here until {_when(stay.until_utc, stay)}."
    if judgement.verdict == "leave by" and judgement.leave_by_utc is not None:
        return f"Lie here until {_when(judgement.leave_by_utc, stay)}, then leave."
    if judgement.verdict == "unknown":
        return "Unknown: nobody can say from this whether she can lie here."
    since = judgement.past_from_utc
    why = "" if since is None else f"; from {_when(since, stay)} {_past_words(judgement, since)[0]}"
    return f"No: do not lie here{why}."


def _reason(stay: Stay, judgement: Judgement) -> str:
    if judgement.verdict == "unknown":
        return " ".join(part for part in _unknown_words(stay, judgement) if part)
    said = [_leaving_words(stay, judgement), worst_words(stay, judgement)]
    if judgement.verdict != "leave by":
        said.append(_share_words(stay, judgement))
    if not any(said) and judgement.reason:
        said.append(f"{judgement.reason[:1].upper()}{judgement.reason[1:]}.")
    return " ".join(part for part in said if part)


def _unknown_words(stay: Stay, judgement: Judgement) -> tuple[str, ...]:
    """From when it is unknown and why; what is known of the rest."""
    since, past = judgement.unknown_from_utc, judgement.past_from_utc
    when = "" if since is None else f"From {_when(since, stay)}: "
    why = judgement.reason if when else judgement.reason[:1].upper() + judgement.reason[1:]
    known = "" if past is None else f"From {_when(past, stay)} {_past_words(judgement, past)[0]}."
    return (f"{when}{why}." if why else "", known, worst_words(stay, judgement))


def _leaving_words(stay: Stay, judgement: Judgement) -> str:
    since = judgement.past_from_utc
    if judgement.verdict != "leave by" or since is None:
        return ""
    what, past = _past_words(judgement, since)
    members = _members(judgement)
    among = f" in {past} of {members} members" if members > 1 else ""
    return f"From {_when(since, stay)} {what}{among}."


def _past_words(judgement: Judgement, at_utc: datetime) -> tuple[str, int]:
    """What most members are past at a time, and how many of them."""
    moment = np.datetime64(at_utc.astimezone(UTC).replace(tzinfo=None), "s")
    at = min(int(np.searchsorted(judgement.time_utc, moment)), len(judgement.time_utc) - 1)
    counted = [
        (_count(judgement, part.use[:, at] > 1.0), f"{_the(part.name)} is past its limit")
        for part in judgement.parts
    ] + [
        (
            _count(judgement, room.room_m[:, at] < room.least_wanted_m),
            f"{room.of} is less than {metres(room.least_wanted_m)}",
        )
        for room in judgement.room
    ]
    past, what = max(counted, key=lambda one: one[0], default=(0, ""))
    return (what, past) if past else ("a limit is passed", past)


def _count(judgement: Judgement, past: NDArray[np.bool_]) -> int:
    return len(np.unique(judgement.member[past]))


def _share_words(stay: Stay, judgement: Judgement) -> str:
    share = judgement.share_past_limit
    if not np.any(share > 0.0):
        return ""
    at = int(np.nanargmax(share))
    when, members = _when(judgement.time_utc[at], stay), _members(judgement)
    if members == 1:
        return f"Past a limit at {when}."
    past = round(float(share[at]) * members)
    enough = math.floor(stay.accepted_share * members + 1e-9) + 1
    return (
        f"Past a limit at {when}: {past} of {members} members; "
        f"from {enough} on the hour counts as past it."
    )


def _members(judgement: Judgement) -> int:
    return len(np.unique(judgement.member))


def _carries(judgement: Judgement, at: tuple[int, int]) -> str:
    name = judgement.first_to_give or ""
    for part in judgement.parts:
        if part.name == name:
            use = use_words(float(part.use[at]))
            return f"{_the(name)} carries {kilograms(float(part.load_n[at]))}, {use} of its limit"
    for room in judgement.room:
        if room.of == name:
            left_m, wanted = float(room.room_m[at]), metres(room.least_wanted_m)
            touches = ": she may touch" if room.touches[at] else ""
            return f"{name} {metres(left_m)}, {wanted} wanted{touches}"
    return f"{_the(name)}, use {use_words(float(judgement.greatest_use[at]))}"


def _wind(judgement: Judgement, at: tuple[int, int]) -> str:
    gust, mean = float(judgement.gust_mps[at]), float(judgement.wind_mps[at])
    said = f"gusts of {knots(gust)}" if math.isfinite(gust) else f"a wind of {knots(mean)}"
    return f"{said} from the {compass(float(judgement.wind_from_rad[at]))}"


def _the(part: str) -> str:
    return part if part[:1].isupper() else f"the {part}"


def _when(at_utc: Moment, stay: Stay) -> str:
    say = clock if stay.until_utc - stay.from_utc < _DAY else day_clock
    return say(at_utc, stay.bay.zone_name)
