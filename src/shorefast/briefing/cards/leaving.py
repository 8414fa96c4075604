"""The leaving card: the order of letting go, hour by hour, and the crossed chain."""

from __future__ import annotations

import math
from collections.abc import Iterator

from shorefast.briefing.cards.blocks import STRONG, bullets, heading, numbered, paragraph
from shorefast.briefing.cards.content import (
    CardContent,
    CardDoubledBack,
    CardLeaving,
    CardLetGo,
)
from shorefast.briefing.cards.faces import Card
from shorefast.briefing.cards.flow import Piece
from shorefast.briefing.cards.hours import hour_told
from shorefast.briefing.cards.warned import cautioned, key_of, stopped, what_was
from shorefast.wording import CardWords


def leaving_card(content: CardContent, people: tuple[str, ...], words: CardWords) -> Card:
    """For the one who steers her out; a leaf of its own, read at another hour."""
    told: list[Piece] = []
    before: CardLeaving | None = None
    for one in content.leaving:
        told += _at(one, before, content, words)
        before = one if one.order else before
    drill = tuple(enumerate(words.rows("leaving.drill"), start=1))
    pieces = (
        *(told or paragraph(words.say("leaving.unknown"))),
        *bullets((_way_out(content, words),)),
        *bullets((words.say("leaving.rule"),), "!"),
        *cautioned(words, 4, 7),
        *(stopped(words) if _from_ashore(content) else ()),
        *heading(words.say("leaving.drill_title")),
        *numbered(drill),
    )
    title = words.say("leaving.title")
    return Card("leaving", title, people, pieces, was=what_was(words, "leaving.was"))


def _from_ashore(content: CardContent) -> bool:
    """Whether anybody leaves the boat to let a line go."""
    return any(step.how == "from ashore" for one in content.leaving for step in one.order)


def _way_out(content: CardContent, words: CardWords) -> str:
    if not math.isfinite(content.leaves_rad) or content.leaves_clear_m <= 0.0:
        return words.say("leaving.way_out_unknown")
    return words.say(
        "leaving.way_out",
        bearing=words.bearing(content.leaves_rad),
        metres=words.metres(content.leaves_clear_m),
    )


def _at(
    one: CardLeaving, before: CardLeaving | None, content: CardContent, words: CardWords
) -> tuple[Piece, ...]:
    when = words.say(
        "leaving.at",
        when=words.say(f"leaving.{one.when}"),
        clock=hour_told(one.at_utc, content, words),
        wind=words.knots(one.gust_mps),
        from_bearing=words.bearing(one.wind_from_rad),
    )
    when = when[:1].upper() + when[1:]
    said = list(_leaving_said(one, before, words))
    return (*paragraph(when, STRONG, 6.0, keep=True), *bullets(said))


def _leaving_said(one: CardLeaving, before: CardLeaving | None, words: CardWords) -> Iterator[str]:
    """Whether, what stands against it, the order, the line doubled back, room and time.

    ``before``: the hour told above it; an order that is the same is not told twice.
    """
    feasible = {True: "feasible", False: "not_feasible", None: "feasible_unknown"}[one.feasible]
    said = [words.say(f"leaving.{feasible}")]
    if one.why:
        why = words.say("card.apart").join(_why(reason, of, words) for reason, of in one.why)
        said.append(words.say("leaving.against", why=why))
    yield " ".join(said)
    if one.hove_m > 0.0:
        yield words.say("leaving.heave_first", metres=words.metres(one.hove_m))
    if before is not None and _same_order(one, before):
        yield words.say("leaving.same_order")
    else:
        if one.order:
            order = ", ".join(_let_go(step, words) for step in one.order)
            yield words.say("leaving.order", order=order)
        if one.doubled_back is not None:
            yield _doubled_back(one.doubled_back, words)
    takes = words.say(
        "leaving.takes", time=words.minutes(one.needs_s), heave=words.minutes(one.heave_s)
    )
    yield f"{_room(one, words)} {takes}"


def _same_order(one: CardLeaving, before: CardLeaving) -> bool:
    return bool(one.order) and (one.order, one.doubled_back) == (before.order, before.doubled_back)


def _room(one: CardLeaving, words: CardWords) -> str:
    if one.room_m <= 0.0:
        return words.say("leaving.room_touch", what=words.touched(one.room_of))
    if not math.isfinite(one.room_m):
        return words.say("leaving.room_unknown")
    of = words.part(one.room_of) if one.room_of else words.unknown
    return words.say("leaving.room", of=of, metres=words.metres(one.room_m))


def _why(reason: str, of: str, words: CardWords) -> str:
    named = words.part(of) if of else words.say("leave_unknown.something")
    if reason == "unknown" and f"leave_unknown.{of}" in words.texts:
        named = words.say(f"leave_unknown.{of}")
    return words.say(f"leave_why.{key_of(reason)}", of=named)


def _let_go(step: CardLetGo, words: CardWords) -> str:
    return words.say(f"leaving.{key_of(step.how)}", name=words.part(step.name))


def _doubled_back(last: CardDoubledBack, words: CardWords) -> str:
    said = words.say("leaving.doubled_back", name=words.part(last.name))
    if last.enough:
        return said
    other = (
        words.say("leaving.take_other", name=last.instead)
        if last.instead is not None
        else words.say("leaving.no_other")
    )
    return f"{said} {words.say('leaving.too_short', instead=other)}"
