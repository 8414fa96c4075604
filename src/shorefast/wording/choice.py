"""Which lie, in sentences: what to do, why, and why the other ones are worse."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

import numpy as np

from shorefast.wording.numbers import UNKNOWN, bearing, metres, use_words
from shorefast.wording.times import clock, day_clock

if TYPE_CHECKING:
    from collections.abc import Sequence

    from shorefast.bay import ShorePoint
    from shorefast.stay import Choice, Finalist, Lie, Score, Stay, WithoutOne

_DAY = timedelta(hours=24)
_TOUCHES = 9.9
_OTHERS = 6


def _when(moment: datetime, stay: Stay) -> str:
    say = day_clock if stay.until_utc - stay.from_utc > _DAY else clock
    return say(moment, stay.bay.zone_name)


def _joined(names: list[str], by: str = "and") -> str:
    return f" {by} ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def lie_named(lie: Lie) -> str:
    """A lie in a few words: its points and how she heads."""
    points = list(dict.fromkeys(line.point for line in lie.lines))
    to = f"lines to {_joined(points)}" if points else "no lines"
    return f"{to}, bow {bearing(lie.heading_rad)}"


def lie_rows(lie: Lie, unproven: Sequence[ShorePoint] = ()) -> list[str]:
    """How a lie is laid: the anchor, then a row a line.

    unproven : places on shore where nothing is known; told with where they are, since
        only this answer has named them.
    """
    where = {
        point.name: f", at {point.east_m:.1f} m east, {point.north_m:.1f} m north"
        for point in unproven
    }
    rows = [
        f"let go {lie.let_go_east_m:.1f} m east, {lie.let_go_north_m:.1f} m north;"
        f" {lie.chain_out_m:g} m of chain"
    ]
    rows += [
        f"{line.line}: {line.cleat} to {line.point}{where.get(line.point, '')},"
        f" {line.length_m:.1f} m" + (", out and back" if line.doubled else "")
        for line in lie.lines
    ]
    return rows


def choice_words(choice: Choice) -> str:
    """The sentence to act on, and whether the lie stands a loss."""
    if not choice.finalists:
        return "No lie was found that fits here."
    best = choice.finalists[0]
    if best.against is not None:
        return f"No lie was found that fits here; against the stay file's own: {best.against}."
    return " ".join([_till_words(choice, best), *_shore_told(best), *_loss_told(choice, best)])


def _shore_told(best: Finalist) -> list[str]:
    """That nobody knows of anything ashore there; nothing where every point is known."""
    if not best.unproven:
        return []
    return ["Nobody knows of anything to make fast to there: look before counting on it."]


def _till_words(choice: Choice, best: Finalist) -> str:
    stay, named = choice.stay, lie_named(best.lie)
    if best.whole:
        return f"Lie with {named}: she can lie there until {_when(stay.until_utc, stay)}."
    if best.unknown_from is not None:
        why = best.judged.judgement.reason
        if best.until <= stay.from_utc:
            return f"Whether she can lie here is {UNKNOWN}: {why}. Looked at first: {named}."
        return (
            f"Lie with {named} till {_when(best.until, stay)}; whether she can lie on is"
            f" {UNKNOWN} from {_when(best.unknown_from, stay)}: {why}."
        )
    if best.until <= stay.from_utc:
        return f"No lie tried here holds. The least bad: {named}."
    then = "another lie tried here holds" if choice.then_held else "no lie tried here holds"
    return f"Lie with {named} till {_when(best.until, stay)}, then {then}."


def _loss_told(choice: Choice, best: Finalist) -> list[str]:
    """That one loss is too many, and which lie stands it; nothing where the best does."""
    if best.until <= choice.stay.from_utc or best.stands_a_loss:
        return []
    lost = [one for one in best.losses if one.kind != "anchor"]
    names = [one.name for one in lost if best.follows(one)]
    said = f"It does not stand the loss of {_joined(names, 'or')}"
    if not names:
        names = [one.name for one in lost if best.unsure(one)]
        said = f"What follows the loss of {_joined(names, 'or')} is {UNKNOWN}"
    for number, one in enumerate(choice.finalists, start=1):
        if one.losses and one.stands_a_loss:
            at = f"at {use_words(one.told_use)} for {use_words(best.told_use)}"
            return [f"{said}; lie {number}, {at}, stands every single loss but the anchor's."]
    return [f"{said}; no lie judged here that holds as long stands every single loss."]


def finalist_words(stay: Stay, one: Finalist) -> list[str]:
    """Why a lie stands where it does: what is used most and when, the next part, one loss."""
    said = [f"{_verdict_words(stay, one)}; {_worst_words(stay, one)}"]
    if one.against is not None:
        said.append(f"a rule speaks against it: {one.against}")
    said += _next_part(stay, one)
    if one.unproven:
        said.append("nobody knows that there is anything to make fast to on that shore")
    said += _loss(one)
    return said


def _verdict_words(stay: Stay, one: Finalist) -> str:
    if one.whole:
        return "holds the whole stay"
    till = "at no hour" if one.until <= stay.from_utc else f"till {_when(one.until, stay)}"
    if one.unknown_from is None:
        return till
    unknown = f"{UNKNOWN} from {_when(one.unknown_from, stay)}"
    return unknown if one.until <= stay.from_utc else f"{till}, {unknown}"


def _worst_words(stay: Stay, one: Finalist) -> str:
    when = _when(one.worst_utc, stay)
    if math.isnan(one.told_use):
        first = UNKNOWN if one.first_to_give is None else f"{one.first_to_give}, past its limit"
        return f"what gives first at {when} is {first}"
    return (
        f"the worst hour is {when}: {one.first_to_give} at {use_words(one.told_use)} of its limit"
    )


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
    which = ", in a bad member" if np.unique(answer.member).size > 1 else ""
    return [f"beside that {name}{which} at {use_words(most)}, {moment}"]


def _loss(one: Finalist) -> list[str]:
    """What one loss does: those after which more follows, each with what, and the others."""
    if not one.losses:
        return []
    bad = {*one.not_survived, *one.not_known}
    told: dict[str, list[str]] = {}
    for loss in one.losses:
        if loss.name in bad:
            told.setdefault(_after_words(one, loss), []).append(loss.name)
    others = _others_words(one, any_bad=bool(bad))
    said = [f"once she loses {_joined(names)}: {after}" for after, names in told.items()]
    return [*said, *([others] if others else [])]


def _after_words(one: Finalist, loss: WithoutOne) -> str:
    """What follows one loss, the worst of it."""
    if one.unsure(loss):
        return f"what follows is {UNKNOWN}"
    if loss.touches is not None or loss.share_touches > 0.0:
        return "nothing holds her" if loss.adrift else "she may touch"
    if loss.adrift:
        return "nothing holds her"
    if loss.follows:
        return f"{_joined(list(loss.follows))} part" + ("s" if len(loss.follows) == 1 else "")
    drags = loss.drags or loss.share_drags > one.stay.accepted_share
    return "the anchor may drag" if drags else "more parts"


def _others_words(one: Finalist, *, any_bad: bool) -> str:
    """The most that is carried after the losses that lead to nothing more."""
    greatest = one.after_loss
    if math.isnan(greatest):
        return "" if any_bad else f"what follows one loss is {UNKNOWN}"
    most = f"{use_words(greatest)} of a limit at most"
    if greatest >= _TOUCHES:
        # of a room this is no measure: there is hardly any left
        most = "hardly any room left"
    elif greatest > 1.0:
        most += ", past it, but nothing parts"
    which = "after any other loss" if any_bad else "after any one loss"
    return f"{which} nothing follows: {most}"


def other_words(choice: Choice) -> list[str]:
    """Why the lies off other points are worse, a sentence each: as tried, coarsely."""
    stay, said = choice.stay, []
    chosen = [{line.point for line in one.lie.lines} for one in choice.finalists]
    for other in choice.others:
        one = other.score
        if one.unproven or any(points.issuperset(_ends(one)) for points in chosen):
            continue
        alone = len(one.candidate.lie.lines) == len(_ends(one))
        with_what = " with stern lines alone" if alone else ""
        why = other.against or _tried_words(stay, one)
        said.append(f"off {_joined(list(_ends(one)))}{with_what}: {why}")
    return said[:_OTHERS]


def _tried_words(stay: Stay, one: Score) -> str:
    """How long a lie holds as tried, and what is used most."""
    till = "the whole stay" if one.whole else f"till {_when(one.until, stay)}"
    if not one.whole and one.until <= stay.from_utc:
        till = UNKNOWN if one.unknown else "at no hour"
    if one.first is None or math.isnan(one.told_use):
        return till
    return f"{till}; {one.first} at {use_words(one.told_use)} at {_when(one.at, stay)}"


def _ends(one: Score) -> tuple[str, ...]:
    return tuple(point.name for point in one.candidate.berth.ends.points)


def help_words(choice: Choice) -> list[str]:
    """What one change to the best lie does; that none helps where none does."""
    if not choice.finalists:
        return []
    now = choice.finalists[0]
    if not choice.helps:
        return [
            "no change that zones, room and proof allow (a line more, one doubled or led elsewhere,"
            " chain, farther off or nearer in) lessens the use of its worst hour or lets her lie"
            " longer"
        ]
    said = []
    for one in choice.helps:
        use = f"{use_words(one.use)} instead of {use_words(now.told_use)}"
        if one.until != now.until:
            # its hours are others, and so is its worst one: the uses are not to be compared
            till = "the whole stay" if one.whole else f"till {_when(one.until, choice.stay)}"
            instead = f"{till} instead of till {_when(now.until, choice.stay)}"
            use = f"{instead}, then at {use_words(one.use)}"
        said.append(f"{one.said}: {use}, {one.first_to_give or UNKNOWN} first")
    return said


def dropped_words(choice: Choice) -> list[str]:
    """What was left out and why, the most frequent first."""
    return [f"{count} x {why}" for why, count in choice.dropped]


def room_words(one: Finalist) -> str:
    """The least room of all, in the worst member; up to when she has to leave."""
    answer = one.judged.judgement
    stays = np.array([t <= np.datetime64(one.until.replace(tzinfo=None)) for t in answer.time_utc])
    if one.until <= one.stay.from_utc:
        stays[:] = True
    least: list[tuple[float, str]] = []
    touches: set[int] = set()
    for room in answer.room:
        room_m = room.room_m[:, stays]
        if np.isfinite(room_m).any():
            least.append((float(np.nanmin(room_m)), room.of))
            hit = room.touches[:, stays].any(axis=1)
            touches.update(int(number) for number in answer.member[hit])
    if not least:
        return UNKNOWN
    room_least, of = min(least)
    said = f"{metres(room_least)} {of}"
    if room_least < 0.0:
        said = f"{of}: {metres(-room_least)} missing"
    if touches:
        said += f"; she may touch in {len(touches)} of {np.unique(answer.member).size} members"
    return said
