"""The cautions of a card: those that concern its reader, with their numbers."""

from __future__ import annotations

from collections.abc import Sequence

from shorefast.briefing.cards.blocks import heading, numbered
from shorefast.briefing.cards.flow import Piece
from shorefast.wording import CardWords


def cautions(words: CardWords, numbers: Sequence[int]) -> tuple[Piece, ...]:
    """The whole text of each, in the card's language."""
    said = [(number, words.say(f"caution.{number}")) for number in numbers]
    return (*heading(words.say("card.cautions")), *numbered(said))
