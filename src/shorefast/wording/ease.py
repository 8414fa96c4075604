"""How much do I ease: the least change in a sentence, what it costs, and a metre of each."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from shorefast.wording.numbers import metres, use_words
from shorefast.wording.times import Moment, clock, day_clock

if TYPE_CHECKING:
    from shorefast.stay import Ease, Judgement, Length, RoomCost, Stay

_DAY_S = 86_400
_SEEN_M = 0.05


def ease_words(stay: Stay, found: Ease, before: Judgement) -> str:
    """The sentence to act on, what it reaches and what it costs.

    Parameters
    ----------
    stay : Stay
        Her place's clock is used.
    before : Judgement
        Of the stay as she lies.
    """
    least = found.least
    if least.kind == "unknown" and least.after is None:
        return "Unknown: whether she lies inside her limits cannot be told, so no change can be."
    calls = _calls(found.lengths, least.change)
    if least.kind == "inside":
        return _inside(stay, found, before, calls)
    assert least.after is not None
    after = least.after.judgement
    then, cost = _then(stay, found, before, after), _cost(stay, found)
    if least.kind == "found":
        said = f"{_upper(calls)}: she then stays inside her limits."
        return " ".join((said, *then, *cost))
    unknown = _unknown(stay, before)
    if least.kind == "unknown":
        said = f"{_upper(calls)}: at all other times she then stays inside her limits."
        return " ".join((*unknown, said, *then, *cost))
    said = "No change of lengths that we found brings her inside her limits."
    if not calls:
        return " ".join((said, "None does better than as she lies.", *unknown))
    return " ".join((said, f"The best: {calls}.", *then, *_still(found), *cost, *unknown))


def _unknown(stay: Stay, before: Judgement) -> tuple[str, ...]:
    """That it is unknown at some times whether she lies inside, where it is."""
    share = before.share_past_limit
    if np.isfinite(share).all():
        return ()
    first = _when(stay, before.time_utc[int(np.argmax(np.isnan(share)))])
    some = "all times" if np.isnan(share).all() else f"some times, first at {first},"
    return (f"At {some} whether she lies inside her limits is unknown.",)


def length_words(length_m: float) -> str:
    """A length a crew works to: tenths where there are some: ``23 m``, ``43.2 m``."""
    tenths = round(length_m, 1)
    return f"{tenths:.0f} m" if tenths == int(tenths) else f"{tenths:.1f} m"


def _inside(stay: Stay, found: Ease, before: Judgement, calls: str) -> str:
    said = "She lies inside her limits: nothing has to be changed."
    if found.least.after is None:
        return f"{said} No single metre gains anything worth the work."
    after = found.least.after.judgement
    most = f"Most is gained if you {calls}."
    return " ".join((said, most, *_then(stay, found, before, after), *_cost(stay, found)))


def _calls(lengths: tuple[Length, ...], change: tuple[float, ...]) -> str:
    """The change as it is called: "veer 2 m of chain, to 66 m, and ease ..."."""
    said = []
    for length, by_m in zip(lengths, change, strict=True):
        if by_m == 0.0:
            continue
        to = length_words(length.now_m + by_m)
        both = ", both parts together" if length.parts > 1 else ""
        what = f"{length_words(abs(by_m))} of chain" if length.of == "chain" else (
            f"{length.of} by {length_words(abs(by_m))}"
        )  # fmt: skip
        said.append(f"{length.word(by_m)} {what}, to {to}{both}")
    return "; ".join(said)


def _then(stay: Stay, found: Ease, before: Judgement, after: Judgement) -> tuple[str, ...]:
    """What decides before and after, and the worst of all members with its hour."""
    was, then = (use_words(use) for use in found.deciding)
    within = "instead of over 9" if was == "over 9" else f"instead of {was}"
    spare, members = found.spare
    who = f"All but {spare} of {members} members" if spare else "Every member"
    who = who if members > 1 else "Everything"
    worst = _worst(stay, after)
    said = f"{who} then stay{'s' if members == 1 or not spare else ''} within {then} of every limit"
    return (f"{said}, {within}{f'; the worst of all is {worst}' if members > 1 else ''}.",)


def _worst(stay: Stay, judgement: Judgement) -> str:
    if judgement.worst is None:
        return "unknown"
    use = float(judgement.greatest_use[judgement.worst])
    use = math.inf if judgement.touches[judgement.worst] else use
    when = _when(stay, judgement.time_utc[judgement.worst[1]])
    return f"{judgement.first_to_give} at {use_words(use)} at {when}"


def _cost(stay: Stay, found: Ease) -> tuple[str, ...]:
    cost = found.cost
    if cost is None or cost.less_m < _SEEN_M:
        return ("It costs no room.",)
    return (cost_words(stay, cost),)


def cost_words(stay: Stay, cost: RoomCost) -> str:
    """What a change costs in room, where and when: "It costs 0.4 m of ..."."""
    left = f"{metres(cost.left_m)} are left, {metres(cost.wanted_m)} wanted"
    when = _when(stay, cost.at_utc)
    of = cost.of if cost.of.startswith("water") else f"room, {cost.of},"
    return f"It costs {metres(cost.less_m)} of {of} at {when}: {left}."


def _still(found: Ease) -> tuple[str, ...]:
    past = found.still_past
    return (f"Past its limit still: {', '.join(past)}.",) if past else ()


def _upper(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"


def _when(stay: Stay, at_utc: Moment) -> str:
    long = (stay.until_utc - stay.from_utc).total_seconds() > _DAY_S
    return (day_clock if long else clock)(at_utc, stay.bay.zone_name)
