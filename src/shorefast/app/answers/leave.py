"""``shorefast leave``: can she leave now, in an hour, at first light, and how?"""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Any

from shorefast.app.answer import Answer
from shorefast.app.answers.ease import hour_asked
from shorefast.app.answers.noticed import with_noticed
from shorefast.manoeuvre import Leaving, LeavingAt, leaving
from shorefast.readers import read_stay
from shorefast.stay import Judgement, Stay, judge
from shorefast.wording import (
    beside_judge_words,
    compass,
    crossed_words,
    cut_words,
    doubled_back_words,
    feasible_words,
    heaving_words,
    knots,
    leaving_room_words,
    leaving_when,
    offset,
    order_rows,
    spell_words,
    swing_words,
    way_out_words,
    why_short,
)


def _told(thing: Any) -> dict[str, Any]:
    """A part of the answer without what it rests on: that stands once for all of it."""
    keys = asdict(thing)
    keys.pop("basis", None)
    return keys


def _at_keys(stay: Stay, one: LeavingAt | None) -> dict[str, Any] | None:
    if one is None:
        return None
    return {**asdict(one), "sentence": feasible_words(stay, one)}


def _hour_keys(one: LeavingAt) -> dict[str, Any]:
    return {
        "at_utc": one.at_utc,
        "feasible": one.feasible,
        "why": [asdict(why) for why in one.why],
        "share": one.share,
        "hove_m": one.hove_m,
        "gust_mps": one.gust_mps,
        "wind_from_rad": one.wind_from_rad,
        "room_m": one.room_m,
        "room_of": one.room_of,
        "room_at": one.room_at,
    }


def leave_keys(stay: Stay, found: Leaving, judgement: Judgement) -> dict[str, Any]:
    """The JSON keys of leaving."""
    this_hour = found.this_hour
    return {
        "now": _at_keys(stay, this_hour),
        "in_an_hour": _at_keys(stay, found.in_an_hour),
        "first_light": _at_keys(stay, found.first_light),
        "hours": [_hour_keys(one) for one in found.hours],
        "order": [asdict(step) for step in this_hour.order],
        "doubled_back": None if this_hour.doubled_back is None else asdict(this_hour.doubled_back),
        "room": {
            "heaving": _told(found.heaving),
            "held": _told(found.held),
            "out": _told(found.out),
            "swing": _told(found.swing),
        },
        "drill": _told(found.crossed),
        "cut": _told(found.cut),
        "possible_until_utc": found.possible_until_utc,
        "next_possible_utc": found.next_possible_utc,
        "judge": {
            "verdict": judgement.verdict,
            "leave_by_utc": judgement.leave_by_utc,
            "feasible_then": found.at_leave_by,
            "sentence": beside_judge_words(stay, found, judgement),
        },
    }


def _hours(stay: Stay, found: Leaving) -> list[str]:
    """A row an hour: whether it is possible, the gusts, and what has most against it."""
    zone = offset(stay.from_utc, stay.bay.zone_name)
    rows = ["", f"{zone:>26}  possible  gusts             against it, of the members"]
    for one in found.hours:
        when = leaving_when(stay, one.at_utc)
        wind = f"{knots(one.gust_mps)} {compass(one.wind_from_rad)}"
        against = [why_short(why) for why in one.why]
        if one.hove_m and not against:
            against = [f"heave in {one.hove_m:g} m first"]
        rows.append(f"{when:>26}  {one.feasible:8}  {wind:16}  {_first_two(against)}".rstrip())
    return rows


def _first_two(against: list[str]) -> str:
    more = f" and {len(against) - 2} more" if len(against) > 2 else ""
    return "; ".join(against[:2]) + more


def _moments(stay: Stay, found: Leaving) -> list[str]:
    rows = [feasible_words(stay, found.this_hour)]
    for name, one in (("In an hour", found.in_an_hour), ("At first light", found.first_light)):
        told = "the stay does not reach to then." if one is None else feasible_words(stay, one)
        rows.append(f"{name}: {told}")
    return rows


def _order(stay: Stay, found: Leaving) -> list[str]:
    this_hour = found.this_hour
    if not this_hour.order:
        return ["", "She lies to no line ashore: nothing to let go but the anchor."]
    head = "Let go in this order, in the wind of this hour:"
    if this_hour.any_order:
        head = "Nothing pulls: any order will do; this is one."
    rows = [f"  {row}" for row in order_rows(this_hour.order)]
    first = [f"Heave in {this_hour.hove_m:g} m of slack first."] if this_hour.hove_m > 0.0 else []
    return ["", head, *first, *rows, doubled_back_words(this_hour.doubled_back)]


def _text(stay: Stay, found: Leaving, judgement: Judgement) -> str:
    lines = [
        *_moments(stay, found),
        spell_words(stay, found),
        beside_judge_words(stay, found, judgement),
        *_order(stay, found),
        "",
        leaving_room_words(found.this_hour),
        way_out_words(found),
        heaving_words(found.heaving, found.held),
        *swing_words(found.swing),
        *_hours(stay, found),
        "",
        *cut_words(found.cut),
        "",
        *crossed_words(found.crossed),
    ]
    return with_noticed("\n".join(lines), found.basis)


def answer_leave(stay_path: Path, at: str | None = None) -> Answer:
    """Leaving at an hour, an hour later, at first light and over the stay's hours.

    Parameters
    ----------
    at : str, optional
        Now: a time of day on the place's clock, or a full time; the stay's first where
        left out.

    Raises
    ------
    BadInput, Unreadable
        As ``judge``, and for a time that is none or lies outside the stay.
    """
    stay = read_stay(stay_path)
    judged = judge(stay)
    index = hour_asked(stay, judged.judgement.time_utc, at)
    found = leaving(stay, judged, index)
    keys = leave_keys(stay, found, judged.judgement)
    return Answer("leave", keys, found.basis, _text(stay, found, judged.judgement))
