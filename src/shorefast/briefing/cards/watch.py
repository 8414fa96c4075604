"""The watch bill as a card: who, from when, until when; what to look at; the log."""

from __future__ import annotations

from shorefast.briefing.cards.blocks import (
    STRONG,
    Cell,
    Column,
    blank_table,
    bullets,
    paragraph,
    table,
)
from shorefast.briefing.cards.content import CardContent
from shorefast.briefing.cards.faces import Card
from shorefast.briefing.cards.flow import Piece
from shorefast.briefing.cards.hours import hour_told
from shorefast.briefing.cards.night import log
from shorefast.briefing.cards.warned import cautioned
from shorefast.drawing import Style
from shorefast.wording import CardWords

_NAME = Style("bold", "ink", 12.0)
_EMPTY_ROWS = 6


def watch_card(content: CardContent, words: CardWords) -> Card:
    """The bill with its hours, and what a watch does."""
    pieces = (
        *_bill(content, words),
        *bullets(words.rows("watch.rules")),
        *paragraph(words.say("watch.wake"), STRONG),
        *cautioned(words, 5, 11),
        *log(content, words),
    )
    return Card("watch", words.say("watch.title"), (), pieces, asks_name=False)


def _bill(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    names = [
        (words.say("watch.from_hour"), 1.35),
        (words.say("watch.until_hour"), 1.0),
        (words.say("watch.name"), 2.25),
    ]
    if not content.turns:
        empty = blank_table(names, [""] * _EMPTY_ROWS)
        return (*paragraph(words.say("watch.unknown")), *empty)
    zone = content.place.zone_name
    rows = [
        [
            Cell(hour_told(turn.from_utc, content, words), number=True),
            Cell(words.clock(turn.until_utc, zone), number=True),
            Cell(turn.person, style=_NAME),
        ]
        for turn in content.turns
    ]
    return table([Column(name, share) for name, share in names], rows)
