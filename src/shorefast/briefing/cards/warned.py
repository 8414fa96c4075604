"""What stands on several cards alike: cautions, the locked rule, what is never done."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from shorefast.briefing.cards.blocks import (
    SMALL,
    STRONG,
    Cell,
    Column,
    bullets,
    heading,
    lockable,
    locked,
    numbered,
    paragraph,
    ruled,
    table,
)
from shorefast.briefing.cards.content import CardCall, CardContent, CardStep
from shorefast.briefing.cards.flow import Piece, together
from shorefast.wording import CardWords


def cautions(words: CardWords, numbers: Sequence[int]) -> tuple[Piece, ...]:
    """The whole text of each, in the card's language."""
    said = [(number, words.say(f"caution.{number}")) for number in numbers]
    return (*heading(words.say("card.cautions")), *numbered(said))


def stopped(words: CardWords) -> tuple[Piece, ...]:
    """The engine-stopped rule, which is caution 3, locked: nothing on the card goes round it."""
    rule, again = words.say("caution.3"), words.say("stopped.again")
    return locked(words.say("stopped.title"), f"{rule} {again}")


def never(words: CardWords, key: str) -> tuple[Piece, ...]:
    """What the reader never does."""
    return (*heading(words.say("card.never")), *bullets(words.rows(key), "×"))


def what_was(words: CardWords, key: str) -> tuple[Piece, ...]:
    """Lines to write on."""
    return together((*heading(words.say("card.what_was")), *ruled(words.rows(key))))


def calls(content: CardContent, words: CardWords, *, angles: bool = False) -> tuple[Piece, ...]:
    """The metre table: the same numbers on every card, so that all hear the same.

    ``angles``: with how the chain should stand slack, holding and dragging, instead of
    the water.
    """
    title = heading(words.say("calls.title"))
    if content.approach is None or not content.approach.calls:
        return (*title, *paragraph(words.say("card.not_known")))
    last = Column(words.say("calls.angles" if angles else "calls.water"), 1.25 if angles else 0.7)
    columns = [
        Column(words.say("calls.off"), 0.8),
        Column(words.say("calls.chain"), 0.8),
        last,
        Column(words.say("calls.do"), 1.7),
        Column(words.say("calls.by"), 0.9),
    ]
    rows = [_call(call, words, angles) for call in content.approach.calls]
    said = words.say("calls.said")
    said = f"{said} {words.say('calls.angles_said')}" if angles else said
    return (*title, *paragraph(said, SMALL, 1.0, keep=True), *table(columns, rows, 2.0))


def _call(call: CardCall, words: CardWords, angles: bool) -> list[Cell]:
    third = Cell(words.number(call.water_m))
    if angles:
        stands = (call.slack_rad, call.holding_rad, call.dragging_rad)
        known = [words.from_vertical(angle).removesuffix("°") for angle in stands]
        third = Cell(" · ".join(known) if any(map(math.isfinite, stands)) else "", style=STRONG)
    return [
        Cell(words.number(call.off_m), number=True),
        Cell(words.number(call.chain_m), number=True),
        third,
        Cell(words.say(f"call.{key_of(call.kind)}")),
        Cell(words.say(f"who.{call.who}"), style=SMALL),
    ]


def steps(content: CardContent, words: CardWords, who: str | None = None) -> tuple[Piece, ...]:
    """The lines ashore step by step; a locked one says what it waits for, and has a lock.

    ``who``: only what that duty does, and what is locked.
    """
    some = [step for step in content.steps if who is None or step.locked or step.who == who]
    if not some:
        return ()
    told = [_step(step, content, words) for step in some]
    ahead = paragraph(words.say("ashore.ahead"), STRONG) if content.ahead else ()
    ready = bullets(list(_ready(content, words)))
    return (*heading(words.say("ashore.steps_title")), *ahead, *lockable(told), *ready)


def _ready(content: CardContent, words: CardWords) -> Iterator[str]:
    """Fenders, tender, and who takes the helm when all is fast."""
    if content.fenders:
        sides = ", ".join(words.say(f"side.{side}") for side in content.fenders)
        yield words.say("ashore.fenders", sides=sides)
    if content.tender_side is not None:
        side = words.say(f"side.{content.tender_side}")
        yield words.say("ashore.tender", side=side, metres=words.metres(content.painter_m))
    if content.handover_to is not None:
        yield words.say("ashore.handover", name=content.handover_to)


def _step(step: CardStep, content: CardContent, words: CardWords) -> tuple[str, str, bool]:
    does = words.say(f"step.{key_of(step.does)}")
    said = words.say("ashore.step", who=words.say(f"who.{step.who}"), does=does)
    before = [one.number for one in content.steps if one.does == step.waits_for]
    earlier = [number for number in before if number < step.number]
    if step.locked and earlier:
        waits = words.say("ashore.waits", number=earlier[-1]).replace(" ", "\u00a0")
        said = f"{said} [{waits}]"
    return str(step.number), said, step.locked


def key_of(kind: str) -> str:
    """A kind in words as a key of the catalogue."""
    return kind.replace(" ", "_")
