"""The bow's card: let go, veer, snub, hold; what the chain says; the signals given from there."""

from __future__ import annotations

from shorefast.briefing.cards.blocks import bullets, figures, heading
from shorefast.briefing.cards.content import CardContent
from shorefast.briefing.cards.faces import Card
from shorefast.briefing.cards.proof import proof
from shorefast.briefing.cards.signalled import Signal, signals
from shorefast.briefing.cards.warned import calls, cautions, never, stopped, what_was
from shorefast.wording import CardWords

_CONCERNS = (2, 4, 5, 6)
_SIGNS = ("marks_run", "chain_trembles", "leads_steeper", "leads_flatter", "angle_stands")
"""What the bow sees or feels of the proof before anybody else."""
_GIVEN: tuple[Signal, ...] = tuple(
    (name, "behind")
    for name in (
        "let_go", "veer", "hold", "heave_in", "leads_ahead", "leads_astern", "leads_port",
        "leads_starboard", "leads_down", "metres",
    )
)  # fmt: skip
_TAKEN: tuple[Signal, ...] = tuple(
    (name, "front")
    for name in ("let_go", "veer", "hold", "heave_in", "engine_stopped", "swimmer", "abort")
)


def bow_card(content: CardContent, people: tuple[str, ...], words: CardWords) -> Card:
    """Everything for the hand at the windlass."""
    planned = (
        (words.say("bow.let_go_in"), words.metres(content.water_m)),
        (words.say("bow.chain"), words.metres(content.chain_m)),
        (words.say("bow.heading"), words.bearing(content.heading_rad)),
    )
    pieces = (
        *figures(planned),
        *calls(content, words, angles=True),
        *heading(words.say("bow.rules_title")),
        *bullets(words.rows("bow.rules")),
        *never(words, "bow.never"),
        *stopped(words),
        *proof(content, words, _SIGNS),
        *signals(words, _GIVEN, _TAKEN),
        *cautions(words, _CONCERNS),
        *what_was(words, "bow.was"),
    )
    return Card("bow", words.say("bow.title"), people, pieces)
