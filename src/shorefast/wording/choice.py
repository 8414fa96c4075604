"""Which lie, in sentences: what to do, why, and why the other ones are worse."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

import numpy as np

from shorefast.wording.numbers import UNKNOWN, bearing, metres, use_words
from shorefast.wording.times import clock, day_clock

if TYPE_CHECKING:
    from shorefast.stay import Choice, Finalist, Lie, Score, Stay

_DAY = timedelta(hours=24)
_TOUCHES = 9.9
_OTHERS = 6


def _when(moment: datetime, stay: Stay) -> str:
    say = day_clock if stay.until_utc - stay.from_utc > _DAY else clock
    return say(moment, stay.bay.zone_name)


def _joined(names: list[str]) -> str:
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def lie_named(lie: Lie) -> str:
    """A lie in a few words: its points and how she heads."""
    points = list(dict.fromkeys(line.point for line in lie.lines))
    to = f"lines to {_joined(points)}" if points else "no lines"
    return f"{to}, bow {bearing(lie.heading_rad)}"


def lie_rows(lie: Lie) -> list[str]:
    """How a lie is laid: the anchor, then a row a line."""
    rows = [
        f"let go {lie.let_go_east_m:.1f} m east, {lie.let_go_north_m:.1f} m north;"
        f" {lie.chain_out_m:g} m of chain"
    ]
    rows += [
        f"{line.line}: {line.cleat} to {line.point}, {line.length_m:.1f} m"
        + (", out and back" if line.doubled else "")
        for line in lie.lines
    ]
    return rows


def choice_words(choice: Choice) -> str:
    """The sentence to act on."""
    stay = choice.stay
    if not choice.finalists:
        return "No lie was found that fits here."
    best = choice.finalists[0]
    named = lie_named(best.lie)
    if best.whole:
        return f"Lie with {named}: she can lie there until {_when(stay.until_utc, stay)}."
    if best.until <= stay.from_utc:
        return f"No lie tried here holds. The least bad: {named}."
    then = "then another lie tried here holds" if choice.then_held else "then no lie here holds"
    return f"Lie with {named} till {_when(best.until, stay)}, {then}."


def finalist_words(stay: Stay, one: Finalist) -> list[str]:
    """Why a lie stands where it does: what is used most and when, the next part, one loss."""
    verdict = f"till {_when(one.until, stay)}"
    if one.whole:
        verdict = "holds the whole stay"
    elif one.until <= stay.from_utc:
        verdict = "at no hour"
    said = [
        f"{verdict}; the worst hour is {_when(one.worst_utc, stay)}: {one.first_to_give} at"
        f" {use_words(one.use)} of its limit"
    ]
    said += _next_part(stay, one)
    if one.unproven:
        said.append("nobody knows that there is anything to make fast to on that shore")
    said += _loss(one)
    return said


def _next_part(stay: Stay, one: Finalist) -> list[str]:
    """The part used most beside the first, and its own hour."""
    answer = one.judged.judgement
    found: list[tuple[float, str, int]] = []
    within = np.array([t <= np.datetime64(one.until.replace(tzinfo=None)) for t in answer.time_utc])
    some = within if one.until > stay.from_utc else np.ones(within.size, bool)
    for part in answer.parts:
        use = np.where(some, part.use, np.nan)
        if part.name != one.first_to_give and np.isfinite(use).any():
            m, t = np.unravel_index(int(np.nanargmax(use)), use.shape)
            found.append((float(use[m, t]), part.name, int(t)))
    if not found:
        return []
    most, name, at = max(found)
    moment = _when(answer.time_utc[at].astype("datetime64[s]").item().replace(tzinfo=UTC), stay)
    return [f"beside that {name}, in a bad member at {use_words(most)}, {moment}"]


def _loss(one: Finalist) -> list[str]:
    if not one.losses:
        return []
    gone, greatest = one.not_survived, one.after_loss
    most = "" if math.isnan(greatest) else f"{use_words(greatest)} of a limit at most"
    # of a room this is no measure: there is none left
    most = "she may touch" if greatest >= _TOUCHES else most
    if not gone:
        return [f"after any one loss nothing follows: {most}"]
    other = f"; after any other loss {most}" if most else ""
    return [f"more follows once she loses {_joined(list(gone))}{other}"]


def other_words(choice: Choice) -> list[str]:
    """Why the lies off other points are worse, a sentence each."""
    stay, said = choice.stay, []
    chosen = [{line.point for line in one.lie.lines} for one in choice.finalists]
    for one in choice.others:
        if one.unproven or any(points.issuperset(_ends(one)) for points in chosen):
            continue
        till = "the whole stay" if one.whole else f"till {_when(one.until, stay)}"
        till = till if one.whole or one.until > stay.from_utc else "at no hour"
        why = f"{one.first} at {use_words(one.use)} at {_when(one.at, stay)}"
        said.append(f"off {_joined(list(_ends(one)))}: {till}; {why}")
    return said[:_OTHERS]


def _ends(one: Score) -> tuple[str, ...]:
    return tuple(point.name for point in one.candidate.berth.ends.points)


def help_words(choice: Choice) -> list[str]:
    """What one change to the best lie does; that none helps where none does."""
    now = choice.tried_again
    if now is None:
        return []
    if not choice.helps:
        return ["no single line more, no metre of chain, no step farther off helps the best lie"]
    said = []
    for one in choice.helps:
        till = ""
        if one.until != now.until:
            till = "the whole stay, " if one.whole else f"till {_when(one.until, choice.stay)}, "
        use = UNKNOWN if not math.isfinite(one.use) else use_words(one.use)
        said.append(
            f"{one.said}: {till}{use} instead of {use_words(now.use)}, {one.first_to_give} first"
        )
    return said


def dropped_words(choice: Choice) -> list[str]:
    """What was left out and why, the most frequent first."""
    return [f"{count} x {why}" for why, count in choice.dropped]


def room_words(one: Finalist) -> str:
    """The least room of all over the whole stay, in whichever member has least."""
    rooms = [room for room in one.judged.judgement.room if np.isfinite(room.room_m).any()]
    if not rooms:
        return UNKNOWN
    least = min(rooms, key=lambda room: float(np.nanmin(room.room_m)))
    most_short_m = float(np.nanmin(least.room_m))
    if most_short_m < 0.0:
        return f"{least.of}: in the worst member she may touch, {metres(-most_short_m)} are missing"
    wanted = metres(least.least_wanted_m)
    return f"{metres(most_short_m)} {least.of} in the worst member, {wanted} wanted"
