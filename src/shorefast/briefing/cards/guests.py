"""The guests' card: what they hear, what they do, what they never do."""

from __future__ import annotations

from shorefast.briefing.cards.blocks import bullets, heading, paragraph
from shorefast.briefing.cards.content import CardContent
from shorefast.briefing.cards.faces import Card
from shorefast.briefing.cards.signalled import Signal, signals
from shorefast.briefing.cards.warned import cautioned, never, stopped, what_was
from shorefast.wording import CardWords

_CONCERNS = (4, 10)
_TAKEN: tuple[Signal, ...] = tuple(
    (name, "front") for name in ("engine_stopped", "swimmer", "come_away", "abort")
)


def guests_card(content: CardContent, people: tuple[str, ...], words: CardWords) -> Card:
    """Everything for those who lend no hand."""
    pieces = (
        *stopped(words),
        *heading(words.say("guests.hear_title")),
        *bullets(words.rows("guests.hear")),
        *heading(words.say("guests.do_title")),
        *bullets((*words.rows("guests.do"), _swims(content, words))),
        *never(words, "guests.never"),
        *paragraph(words.say("guests.at_night"), above_pt=6.0),
        *signals(words, (), _TAKEN),
        *cautioned(words, *_CONCERNS),
    )
    was = what_was(words, "guests.was")
    return Card("guests", words.say("guests.title"), people, pieces, asks_name=False, was=was)


def _swims(content: CardContent, words: CardWords) -> str:
    """When to swim; that nobody does where the water is cold or nobody has told it."""
    return words.say("ashore.cold" if content.is_cold else "guests.swim")
