"""The bow's card: let go, veer, snub, hold; what the chain says; the signals given from there."""

from __future__ import annotations

from shorefast.briefing.cards.blocks import (
    Cell,
    Column,
    bullets,
    figures,
    heading,
    paragraph,
    ruled,
    table,
)
from shorefast.briefing.cards.content import CardContent
from shorefast.briefing.cards.faces import Card
from shorefast.briefing.cards.flow import Piece
from shorefast.briefing.cards.warned import cautions
from shorefast.wording import CardWords

_CONCERNS = (1, 4, 5, 6)


def bow_card(content: CardContent, people: tuple[str, ...], words: CardWords) -> Card:
    """Everything for the hand at the windlass."""
    pieces = (
        *_planned(content, words),
        *_calls(content, words),
        *heading(words.say("bow.never_title")),
        *bullets(words.rows("bow.never"), "—"),
        *cautions(words, _CONCERNS),
        *heading(words.say("card.what_was")),
        *ruled(words.rows("bow.was")),
    )
    return Card("bow", words.say("bow.title"), people, pieces)


def _planned(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    return figures(
        (
            (words.say("bow.let_go_in"), words.metres(content.water_m)),
            (words.say("bow.chain"), words.metres(content.chain_m)),
            (words.say("card.heading"), words.bearing(content.heading_rad)),
        )
    )


def _calls(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    if content.approach is None:
        return (
            *heading(words.say("calls.title")),
            *paragraph(words.say("calls.unknown")),
        )
    columns = [
        Column(words.say("calls.off"), 1.0),
        Column(words.say("calls.chain"), 1.0),
        Column(words.say("calls.do"), 1.7),
        Column(words.say("calls.angles"), 1.5),
    ]
    rows = [
        [
            Cell(words.number(call.off_m), True),
            Cell(words.number(call.chain_m), True),
            Cell(words.say(f"call.{call.kind.replace(' ', '_')}")),
            Cell(
                " · ".join(
                    words.from_vertical(angle)
                    for angle in (call.slack_rad, call.holding_rad, call.dragging_rad)
                )
            ),
        ]
        for call in content.approach.calls
    ]
    return (*heading(words.say("calls.title")), *table(columns, rows))
