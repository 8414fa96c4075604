"""All cards of a stay in their order, and all of them on paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shorefast.briefing.cards.ashore import ashore_card, line_card
from shorefast.briefing.cards.bow import bow_card
from shorefast.briefing.cards.content import CardContent
from shorefast.briefing.cards.faces import Card, card_faces
from shorefast.briefing.cards.guests import guests_card
from shorefast.briefing.cards.helm import helm_card
from shorefast.briefing.cards.leaving import leaving_card
from shorefast.briefing.cards.night import night_card
from shorefast.briefing.cards.printed import Paper, faces_pdf
from shorefast.briefing.cards.signalled import signals_card
from shorefast.briefing.cards.watch import watch_card
from shorefast.wording import CardWords

_MAKERS = {"helm": helm_card, "bow": bow_card, "line": line_card}


def pack(content: CardContent, words: CardWords) -> tuple[Card, ...]:
    """Every card but the night card, helm first: one a duty and a person who has it."""
    cards = [
        make(content, people, words)
        for duty, make in _MAKERS.items()
        for people in _each(content, duty)
    ]
    for duty in _ashore(content):
        cards += [ashore_card(content, duty, people, words) for people in _each(content, duty)]
    cards.append(guests_card(content, _named(content, "guest"), words))
    cards.append(signals_card(content, words))
    cards.append(leaving_card(content, _named(content, "helm"), words))
    cards.append(watch_card(content, words))
    return tuple(cards)


def _ashore(content: CardContent) -> tuple[str, ...]:
    """Whether a rower's or a swimmer's card is wanted; both where nobody knows."""
    return {"row": ("rower",), "swim": ("swimmer",)}.get(content.by or "", ("rower", "swimmer"))


@dataclass(frozen=True)
class CardTold:
    """One card as it is listed: its name and title, whose it is, how many faces it has."""

    name: str
    title: str
    people: tuple[str, ...]
    faces: int


def cards_told(content: CardContent, words: CardWords) -> tuple[CardTold, ...]:
    """All cards with how many faces each has, the night card last."""
    cards = (*pack(content, words), night_card(content, words))
    return tuple(
        CardTold(one.name, one.title, one.people, len(card_faces(one, content, words)))
        for one in cards
    )


def cards_pdf(content: CardContent, words: CardWords, paper: Paper) -> bytes:
    """Every card but the night card as one file."""
    return _printed(pack(content, words), content, words, paper)


def night_card_pdf(content: CardContent, words: CardWords, paper: Paper) -> bytes:
    """The night card as a file of its own."""
    return _printed((night_card(content, words),), content, words, paper)


def _printed(cards: Sequence[Card], content: CardContent, words: CardWords, paper: Paper) -> bytes:
    faces = [page for card in cards for page in card_faces(card, content, words)]
    return faces_pdf(faces, paper, f"{content.vessel.name}: {', '.join(c.title for c in cards)}")


def _named(content: CardContent, duty: str) -> tuple[str, ...]:
    return tuple(person.name for person in content.people if duty in person.duties)


def _each(content: CardContent, duty: str) -> list[tuple[str, ...]]:
    """One name a card; a card without a name where nobody has the duty."""
    return [(name,) for name in _named(content, duty)] or [()]
