"""What stands on several cards alike: cautions, the locked rule, what is never done."""

from __future__ import annotations

from collections.abc import Iterator

from shorefast.briefing.cards.blocks import (
    STRONG,
    bullets,
    heading,
    lockable,
    locked,
    numbered,
    paragraph,
    ruled,
)
from shorefast.briefing.cards.content import CardContent, CardStep
from shorefast.briefing.cards.flow import Piece, together
from shorefast.briefing.cards.way_in import goes_ahead
from shorefast.wording import CardWords


def cautioned(words: CardWords, *numbers: int) -> tuple[Piece, ...]:
    """The whole text of each, in the card's language, where the decision is taken."""
    return numbered([(number, words.say(f"caution.{number}")) for number in numbers])


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


def steps(content: CardContent, words: CardWords, *who: str) -> tuple[Piece, ...]:
    """The lines ashore step by step; a locked one says what it waits for, and has a lock.

    ``who``: only what these duties do, what is locked, and what a lock waits for.
    """
    waited = {step.waits_for for step in content.steps if step.locked}
    some = [
        step
        for step in content.steps
        if not who or step.locked or step.who in who or step.does in waited
    ]
    if not some:
        return ()
    told = [_step(step, content, words) for step in some]
    ahead = paragraph(words.say(goes_ahead(content)), STRONG) if content.ahead else ()
    return (*heading(words.say("ashore.steps_title")), *ahead, *lockable(told))


def ready(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """Fenders, tender, and who takes the helm when all is fast."""
    return bullets(list(_ready(content, words)))


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
    who = words.say(f"who.{step.who}")
    if step.does == "take the helm" and content.handover_to is not None:
        who = content.handover_to
    said = words.say("ashore.step", who=who, does=does)
    before = [one.number for one in content.steps if one.does == step.waits_for]
    earlier = [number for number in before if number < step.number]
    if step.locked and earlier:
        waits = words.say("ashore.waits", number=earlier[-1]).replace(" ", "\u00a0")
        said = f"{said} [{waits}]"
    return str(step.number), said, step.locked


def key_of(kind: str) -> str:
    """A kind in words as a key of the catalogue."""
    return kind.replace(" ", "_")
