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
    from shorefast.stay import Judgement, Stay

_DAY_S = 86_400.0
_A_KILOGRAM_N = 9.80665
_ROOMS = ("water under", "hull to", "tender to")
_SHORT = {"past limit": "limits", "not held": "engine too weak", "no room": "room"}
_UNTOLD = {"lines": "the lines", "engine": "no engine told", "wind": "wind", "room": "the water"}
_WHO = {
    "rower": "a hand by tender",
    "swimmer": "a swimmer",
    "line": "a hand at the line",
}
_MEANS = {
    "past limit": "something is past its limit as lines are let go",
    "not held": "the engine cannot hold her",
    "no room": "there is too little room",
}


def leaving_when(stay: Stay, moment: Moment) -> str:
    """A time of leaving on the place's clocks, with its day in a long stay."""
    long = (stay.until_utc - stay.from_utc).total_seconds() > _DAY_S
    return (day_clock if long else clock)(moment, stay.bay.zone_name)


def feasible_words(stay: Stay, one: LeavingAt) -> str:
    """Whether leaving at a moment can be done, as a sentence, with what stands against it."""
    when = leaving_when(stay, one.at_utc)
    wind = f"in gusts of {knots(one.gust_mps)} from the {compass(one.wind_from_rad)}"
    if one.feasible == "yes":
        first = f" Heave in {_half(one.hove_m)} of slack first." if one.hove_m > 0.0 else ""
        return f"Leaving at {when} is possible, {wind}; it takes {duration(one.needs_s)}.{first}"
    against = "; ".join(why_words(why) for why in one.why)
    if one.feasible == "unknown":
        said = f"Whether leaving at {when} is possible is {UNKNOWN}: {against}."
    else:
        said = f"Do not leave at {when}, {wind}: {against}."
    return " ".join([said, *_lull_words(one)])


def _lull_words(one: LeavingAt) -> list[str]:
    """Whether it is possible in a lull, and how long that would have to last."""
    if one.in_a_lull != "yes" or any(why.reason == "dark" for why in one.why):
        return []
    mean, lasts = knots(one.wind_mps), duration(one.needs_s)
    return [
        f"In a lull of {mean} that outlasts all of it, {lasts}, it is possible; none is forecast."
    ]


def _half(length_m: float) -> str:
    """A length in half metres, as a hand heaves it in."""
    return f"{length_m:g} m"


def why_words(why: Why) -> str:
    """One reason against leaving."""
    share = f" in {why.share:.0%} of the members" if math.isfinite(why.share) else ""
    if why.reason == "dark":
        return "it is dark before she is clear"
    if why.reason == "unknown":
        return _unknown_words(why.of)
    if why.reason == "building":
        return f"the wind is building: before she is clear {_MEANS[why.of]}{share}"
    if why.reason == "past limit":
        return f"{_past_words(why.of)}{share} as lines are let go, in whatever order"
    if why.reason == "no room":
        return f"there is too little {_room_named(why.of)}{share} on her way out"
    return f"the gusts are more than the engine holds her against{share}"


def why_short(why: Why) -> str:
    """One reason against leaving, for a row of a table."""
    share = f" {why.share:.0%}" if math.isfinite(why.share) else ""
    short_of = {
        "dark": "dark",
        "unknown": f"{UNKNOWN}: {_UNTOLD.get(why.of, why.of)}",
        "building": f"building: {_SHORT.get(why.of, why.of)}",
        "not held": _SHORT["not held"],
        "no room": _room_named(why.of),
        "past limit": _room_named(why.of) if why.of.startswith(_ROOMS) else f"{why.of} past limit",
    }
    return f"{short_of[why.reason]}{share}"


def _unknown_words(of: str) -> str:
    told = {
        "lines": "where she lies to the lines that are left is not known",
        "engine": "no engine is told",
        "wind": "the wind then is not known",
        "room": "the water on her way out is not known",
    }
    return told.get(of, f"{of} is not known")


def _past_words(of: str) -> str:
    if not of:
        return "something is past its limit"
    if of.startswith(_ROOMS):
        return f"there is too little {_room_named(of)}"
    return f"the {of} is past its limit"


def _room_named(of: str) -> str:
    return of.replace("hull to", "room from hull to") if of else "room"


def order_rows(order: tuple[LetGo, ...]) -> list[str]:
    """The order of letting go, a row a line."""
    return [f"{step.number}. {step.name}: {_how_words(step)}" for step in order]


def _how_words(step: LetGo) -> str:
    pull = f"pulls {kilograms(step.pull_n)}" if step.pull_n >= _A_KILOGRAM_N else "slack"
    eased = "eased round its cleat till it is slack, then " if step.loaded else ""
    how = {
        "slip": "slipped from aboard and hauled home",
        "cast off": "cast off from aboard; it stays behind, buoyed",
    }.get(step.how, f"let go ashore by {_WHO.get(step.who, step.who)}")
    return f"{eased}{how} ({pull}; about {duration(step.takes_s)})"


def doubled_back_words(found: DoubledBack | None) -> str:
    """Which line goes last and must be doubled back, and whether it is long enough."""
    if found is None:
        return ""
    name = short(found.name)
    if found.already:
        return f"The {name} goes last; it is doubled back already: both its ends are aboard."
    if found.by == "nobody":
        return f"The {name} goes last; nobody can go ashore to double it back."
    said = f"The {name} goes last: double it back before the first line goes"
    need, has = metres(found.needs_m), metres(found.aboard_m)
    said += f"; out and back takes {need}, it has {has}" + (
        "." if found.enough else f": {_other_words(found)}."
    )
    if found.beside:
        said += " Do not take it off for that: lead another rope round the point first."
    return said


def _other_words(found: DoubledBack) -> str:
    return f"take the {found.instead} for it" if found.instead else "no rope aboard is long enough"


def leaving_room_words(one: LeavingAt) -> str:
    """The shortest room on her way out."""
    if not math.isfinite(one.room_m):
        return f"Room on her way out under engine is {UNKNOWN}."
    left = metres(one.room_m) if one.room_m > 0.0 else "none, she may touch"
    return f"Shortest on her way out under engine: {one.room_of} {left}, {one.room_at}."


def way_out_words(found: Leaving) -> str:
    """The way out and off, and how far it is known to be clear."""
    if not math.isfinite(found.out.bearing_rad) or found.out.clear_m <= 0.0:
        return f"The way out from over the anchor is {UNKNOWN}."
    least = metres(float(found.out.depth_m.min()))
    return (
        "Way out from over the anchor, and off if it goes wrong:"
        f" {bearing(found.out.bearing_rad)}, clear for {metres(found.out.clear_m)}, least"
        f" depth {least}, the bed's doubt taken off."
    )


def spell_words(stay: Stay, found: Leaving) -> str:
    """Until when leaving stays possible, or when it is next, by the table's hours."""
    if found.possible_until_utc is not None:
        until = leaving_when(stay, found.possible_until_utc)
        return f"From now on it stays possible to begin until {until}."
    if found.next_possible_utc is not None:
        return f"It is possible next at {leaving_when(stay, found.next_possible_utc)}."
    return "In none of the stay's later hours is it known to be possible."


def beside_judge_words(stay: Stay, found: Leaving, judgement: Judgement) -> str:
    """What the judgement says beside it, and where the two do not agree."""
    if judgement.verdict == "holds":
        return "Lying on: she can lie here to the stay's end."
    if judgement.leave_by_utc is None:
        lie = "cannot lie here" if judgement.verdict == "no" else f"may or may not lie: {UNKNOWN}"
        return f"Lying on: she {lie}."
    by = leaving_when(stay, judgement.leave_by_utc)
    said = f"Lying on: she has to leave by {by}, which keeps an hour in hand."
    if found.at_leave_by == "no":
        return f"{said} By this reckoning that hour is already too late: go sooner."
    if found.at_leave_by == "unknown":
        return f"{said} Whether leaving is possible then is {UNKNOWN}: go sooner."
    return said
