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
    compass,
    doubled_back_words,
    feasible_words,
    knots,
    leaving_room_words,
    leaving_when,
    order_rows,
    verdict_words,
    way_out_words,
    why_words,
)


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
        "gust_mps": one.gust_mps,
        "wind_from_rad": one.wind_from_rad,
        "room_m": one.room_m,
        "room_of": one.room_of,
        "room_at": one.room_at,
    }


def leave_keys(stay: Stay, found: Leaving, judgement: Judgement) -> dict[str, Any]:
    """The JSON keys of leaving."""
    now = found.this_hour
    return {
        "now": _at_keys(stay, now),
        "in_an_hour": _at_keys(stay, found.in_an_hour),
        "first_light": _at_keys(stay, found.first_light),
        "hours": [_hour_keys(one) for one in found.hours],
        "order": [asdict(step) for step in now.order],
        "doubled_back": None if now.doubled_back is None else asdict(now.doubled_back),
        "room": {
            "out": asdict(found.out),
            "heaving": asdict(found.heaving),
            "held": {
                "ahead_n": found.held.ahead_n,
                "astern_n": found.held.astern_n,
                "ahead_mps": found.held.ahead_mps,
                "abeam_mps": found.held.abeam_mps,
                "steerage_s": found.held.steerage_s,
            },
        },
        "drill": [],
        "judge": {"verdict": judgement.verdict, "leave_by_utc": judgement.leave_by_utc},
    }


def _hours(stay: Stay, found: Leaving) -> list[str]:
    rows = ["", "Leaving at:"]
    for one in found.hours:
        when = leaving_when(stay, one.at_utc)
        wind = f"{knots(one.gust_mps)} {compass(one.wind_from_rad)}"
        against = "; ".join(why_words(why) for why in one.why)
        rows.append(f"{when:>26}  {one.feasible:7}  {wind:18}  {against}")
    return rows


def _text(stay: Stay, found: Leaving, judgement: Judgement) -> str:
    lines = [feasible_words(stay, found.this_hour)]
    for name, one in (("In an hour", found.in_an_hour), ("At first light", found.first_light)):
        lines.append(
            f"{name}: the stay does not reach to then."
            if one is None
            else f"{name}: {feasible_words(stay, one)}"
        )
    lines.append(f"To lie on: {verdict_words(stay, judgement)[0]}")
    if found.this_hour.order:
        lines += [
            "",
            "Let go in this order now:",
            *(f"  {r}" for r in order_rows(found.this_hour.order)),
        ]
        lines.append(doubled_back_words(found.this_hour.doubled_back))
    lines += ["", leaving_room_words(found.this_hour), way_out_words(found)]
    lines += _hours(stay, found)
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
