"""All cards of a stay in their order, and all of them on paper."""

from __future__ import annotations

from shorefast.briefing.cards.bow import bow_card
from shorefast.briefing.cards.content import CardContent
from shorefast.briefing.cards.faces import Card, card_faces
from shorefast.briefing.cards.printed import Paper, faces_pdf
from shorefast.wording import CardWords


def pack(content: CardContent, words: CardWords) -> tuple[Card, ...]:
    """Every card, helm first."""
    return (bow_card(content, _named(content, "bow"), words),)


def cards_pdf(content: CardContent, words: CardWords, paper: Paper) -> bytes:
    """Every card as one file."""
    faces = [page for card in pack(content, words) for page in card_faces(card, content, words)]
    return faces_pdf(faces, paper, f"{content.place.bay_name}: {content.vessel.name}")


def _named(content: CardContent, duty: str) -> tuple[str, ...]:
    return tuple(person.name for person in content.people if duty in person.duties)
