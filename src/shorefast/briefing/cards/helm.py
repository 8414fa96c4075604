"""The helm's card: the way in, the calls, the locked rule, the proof; leaving on its back."""

from __future__ import annotations

import math

from shorefast.briefing.cards.blocks import STRONG, bullets, figures, heading, numbered, paragraph
from shorefast.briefing.cards.content import CardApproach, CardContent, CardLeaving
from shorefast.briefing.cards.faces import Card
from shorefast.briefing.cards.flow import Piece
from shorefast.briefing.cards.proof import proof
from shorefast.briefing.cards.signalled import Signal, signals
from shorefast.briefing.cards.warned import calls, cautions, never, stopped, what_was
from shorefast.wording import CardWords

_CONCERNS = (1, 2, 5, 7, 9)
_GIVEN: tuple[Signal, ...] = tuple(
    (name, "front")
    for name in ("let_go", "veer", "hold", "heave_in", "engine_stopped", "come_away", "abort")
)
_TAKEN: tuple[Signal, ...] = (
    *((name, "behind") for name in (
        "hold", "leads_ahead", "leads_astern", "leads_port", "leads_starboard", "leads_down",
        "metres", "ahead_slow", "astern_slow", "engine_stopped",
    )),
    *((name, "front") for name in ("swimmer", "line_fast")),
)  # fmt: skip


def helm_card(content: CardContent, people: tuple[str, ...], words: CardWords) -> Card:
    """Everything for the one who steers."""
    pieces = (
        *_way_in(content, words),
        *stopped(words),
        *never(words, "helm.never"),
        *proof(content, words),
        *signals(words, _GIVEN, _TAKEN),
        *cautions(words, _CONCERNS),
        *what_was(words, "helm.was"),
    )
    return Card("helm", words.say("helm.title"), people, pieces, back=_leaving(content, words))


def _way_in(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    approach = content.approach
    rules = (words.say("helm.look_round"), words.say("helm.handover"))
    if approach is None:
        return (
            *calls(content, words),
            *heading(words.say("helm.way_in_title")),
            *bullets(rules),
        )
    key = (
        (words.say("helm.line_in"), words.bearing(approach.line_in_rad)),
        (words.say("helm.abort"), words.bearing(approach.abort_rad)),
        (words.say("helm.astern_most"), words.slow_knots(approach.astern_most_mps)),
    )
    return (
        *figures(key),
        *calls(content, words),
        *heading(words.say("helm.way_in_title")),
        *bullets((rules[0], *_driven(approach, words), rules[1])),
    )


def _driven(approach: CardApproach, words: CardWords) -> tuple[str, ...]:
    """How she is driven: where she starts, how she drifts and walks, where she breaks off."""
    said = [
        words.say(
            "helm.start",
            metres=words.metres(approach.to_windward_m),
            side=_side(approach.windward_side, words),
        ),
        words.say("helm.blown_off", side=_side(approach.blown_off, words)),
        words.say("helm.leeway", speed=words.slow_knots(approach.leeway_mps)),
        _walks(approach.walks, words),
        words.say(
            "helm.turning",
            room=words.metres(approach.turning_room_m),
            needs=words.metres(approach.turning_needs_m),
        ),
        _crosswind(approach, words),
        words.say(
            "helm.abort_rule",
            bearing=words.bearing(approach.abort_rad),
            metres=words.metres(approach.abort_least_m),
        ),
    ]
    return tuple(said)


def _side(side: str, words: CardWords) -> str:
    return words.say(f"side.{side}") if side in {"port", "starboard", "no"} else words.unknown


def _walks(side: str | None, words: CardWords) -> str:
    if side in {"port", "starboard"}:
        return words.say("helm.walks", side=_side(side, words))
    return words.say("helm.walks_not" if side == "no" else "helm.walks_unknown")


def _crosswind(approach: CardApproach, words: CardWords) -> str:
    said = words.say("helm.crosswind", wind=words.knots(approach.crosswind_most_mps))
    if math.isfinite(approach.crosswind_most_thruster_mps):
        wind = words.knots(approach.crosswind_most_thruster_mps)
        said += f" {words.say('helm.crosswind_thruster', wind=wind)}"
    return said


def _leaving(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """The back of the card: the order of letting go, hour by hour, and the crossed chain."""
    title = heading(words.say("leaving.title"))
    if content.leaving:
        told = [piece for one in content.leaving for piece in _at(one, content, words)]
    else:
        told = list(paragraph(words.say("leaving.unknown")))
    drill = tuple(enumerate(words.rows("leaving.drill"), start=1))
    return (
        *title,
        *told,
        *bullets((words.say("leaving.rule"),)),
        *heading(words.say("leaving.drill_title")),
        *numbered(drill),
    )


def _at(one: CardLeaving, content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    feasible = {True: "feasible", False: "not_feasible", None: "feasible_unknown"}[one.feasible]
    when = words.say(
        "leaving.at",
        when=words.say(f"leaving.{one.when}"),
        clock=words.clock(one.at_utc, content.place.zone_name),
        wind=words.knots(one.wind_mps),
        from_bearing=words.bearing(one.wind_from_rad),
    )
    said = [words.say(f"leaving.{feasible}")]
    if one.order:
        said.append(words.say("leaving.order", order=", ".join(name for name, _ in one.order)))
    if one.doubled_back is not None:
        said.append(words.say("leaving.doubled_back", name=one.doubled_back))
    said.append(
        words.say("leaving.room", metres=words.metres(one.room_m), time=words.minutes(one.heave_s))
    )
    return (*paragraph(when, STRONG, 6.0, keep=True), *bullets(said))
