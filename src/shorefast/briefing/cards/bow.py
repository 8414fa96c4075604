"""The bow's card: let go, veer, snub, hold; what the chain says; the signals given from there."""

from __future__ import annotations

from shorefast.briefing.cards.blocks import bullets, figures, heading
from shorefast.briefing.cards.called import calls
from shorefast.briefing.cards.content import CardContent
from shorefast.briefing.cards.faces import Card
from shorefast.briefing.cards.proof import bow_proof
from shorefast.briefing.cards.signalled import Signal, signals
from shorefast.briefing.cards.warned import cautioned, never, stopped, what_was
from shorefast.briefing.cards.way_in import anchor_waters
from shorefast.wording import CardWords

_CONCERNS = (4, 5)
_GIVEN: tuple[Signal, ...] = tuple(
    (name, "behind")
    for name in (
        "leads_ahead", "leads_astern", "leads_port", "leads_starboard", "leads_down",
        "metres", "ahead_slow", "astern_slow", "swimmer",
    )
)  # fmt: skip
_TAKEN: tuple[Signal, ...] = tuple(
    (name, "front") for name in ("let_go", "veer", "hold", "heave_in", "abort")
)


def bow_card(content: CardContent, people: tuple[str, ...], words: CardWords) -> Card:
    """Everything for the hand at the windlass."""
    planned = (
        *anchor_waters(content, words),
        (words.say("bow.chain"), words.metres(content.chain_m)),
        (words.say("bow.heading"), words.bearing(content.heading_rad)),
    )
    pieces = (
        *figures(planned),
        *calls(content, words),
        *heading(words.say("bow.rules_title")),
        *bullets(words.rows("bow.rules")),
        *never(words, "bow.never"),
        *cautioned(words, *_CONCERNS),
        *stopped(words),
        *bow_proof(content, words),
        *signals(words, _GIVEN, _TAKEN),
    )
    return Card("bow", words.say("bow.title"), people, pieces, was=what_was(words, "bow.was"))
