"""Leaving, said: whether she can go, why not, in which order, what room there is."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from shorefast.wording.numbers import (
    UNKNOWN,
    bearing,
    compass,
    duration,
    kilograms,
    knots,
    metres,
)
from shorefast.wording.times import Moment, clock, day_clock
from shorefast.wording.without import short

if TYPE_CHECKING:
    from shorefast.manoeuvre import DoubledBack, Leaving, LeavingAt, LetGo, Why
    from shorefast.stay import Stay

_DAY_S = 86_400.0
_WHO = {
    "rower": "a hand by tender",
    "swimmer": "a swimmer",
    "line": "a hand at the line",
    "nobody": "nobody can go ashore",
}
_MEANS = {
    "past limit": "lines or anchor past their limit",
    "not held": "the engine cannot hold her",
    "no room": "too little room",
}


def leaving_when(stay: Stay, moment: Moment) -> str:
    """A time of leaving on the place's clocks, with its day in a long stay."""
    long = (stay.until_utc - stay.from_utc).total_seconds() > _DAY_S
    return (day_clock if long else clock)(moment, stay.bay.zone_name)


def feasible_words(stay: Stay, one: LeavingAt) -> str:
    """Whether leaving at a moment can be done, as a sentence, with what stands against it."""
    when = leaving_when(stay, one.at_utc)
    wind = f"gusts of {knots(one.gust_mps)} from the {compass(one.wind_from_rad)}"
    if one.feasible == "yes":
        return f"Leaving at {when} is possible, in {wind}; it takes {duration(one.needs_s)}."
    against = "; ".join(why_words(why) for why in one.why)
    if one.feasible == "unknown":
        return f"Whether leaving at {when} is possible is {UNKNOWN}: {against}."
    return f"Do not leave at {when}, in {wind}: {against}."


def why_words(why: Why) -> str:
    """One reason against leaving."""
    share = f" in {why.share:.0%} of the members" if math.isfinite(why.share) else ""
    if why.reason == "dark":
        return "it is dark before she is clear"
    if why.reason == "unknown":
        return _unknown_words(why.of)
    if why.reason == "building":
        return f"before she is clear it builds so that there is{share}: {_MEANS[why.of]}"
    if why.reason == "past limit":
        what = f"the {why.of} is" if why.of else "something is"
        return f"in every order {what} past its limit{share} while lines are let go"
    if why.reason == "no room":
        return f"too little {_room_named(why.of)}{share} on her way out"
    return f"the gusts are more than the engine holds her against{share}"


def _unknown_words(of: str) -> str:
    told = {
        "lines": "where she lies to the lines that are left is not known",
        "engine": "no engine is told",
        "wind": "the wind then is not known",
        "room": "the water on her way out is not known",
    }
    return told.get(of, f"{of} is not known")


def _room_named(of: str) -> str:
    return of.replace("hull to", "room from hull to") if of else "room"


def order_rows(order: tuple[LetGo, ...]) -> list[str]:
    """The order of letting go, a row a line."""
    rows = []
    for step in order:
        pull = f"pulls {kilograms(step.pull_n)}" if step.pull_n >= 1.0 else "slack"
        who = _WHO.get(step.who, step.who)
        how = "slipped from aboard" if step.how == "slip" else f"let go ashore by {who}"
        rows.append(f"{step.number}. {step.name}: {how} ({pull}; about {duration(step.takes_s)})")
    return rows


def doubled_back_words(found: DoubledBack | None) -> str:
    """Which line goes last and must be doubled back, and whether it is long enough."""
    if found is None:
        return ""
    name = short(found.name)
    if found.already:
        return f"The {name} goes last; it is doubled back already: both its ends are aboard."
    said = f"The {name} goes last: double it back before the first line goes, while the others hold"
    need, has = metres(found.needs_m), metres(found.aboard_m)
    if found.enough:
        return f"{said}; out and back takes {need} of the {has} there are."
    other = f"take the {found.instead} for it" if found.instead else "no rope aboard is long enough"
    return f"{said}; out and back takes {need}, it has {has}: {other}."


def leaving_room_words(one: LeavingAt) -> str:
    """The shortest room on her way out."""
    if not math.isfinite(one.room_m):
        return f"Room on her way out under engine is {UNKNOWN}."
    return (
        f"Shortest on her way out under engine: {one.room_of} {metres(one.room_m)}, {one.room_at}."
    )


def way_out_words(found: Leaving) -> str:
    """The way out and off, and how far it is known to be clear."""
    if not math.isfinite(found.out.bearing_rad) or found.out.clear_m <= 0.0:
        return f"The way out is {UNKNOWN}."
    return (
        f"Way out, and off if it goes wrong: {bearing(found.out.bearing_rad)}, clear for"
        f" {metres(found.out.clear_m)}, least depth {metres(float(found.out.depth_m.min()))}."
    )
