"""The helm's card: the way in, the calls, the locked rule, the proof; leaving on its back."""

from __future__ import annotations

import math
from collections.abc import Iterator

from shorefast.briefing.cards.blocks import STRONG, bullets, figures, heading, numbered, paragraph
from shorefast.briefing.cards.content import (
    CardApproach,
    CardContent,
    CardDoubledBack,
    CardLeaving,
    CardLetGo,
)
from shorefast.briefing.cards.faces import Card
from shorefast.briefing.cards.flow import Piece
from shorefast.briefing.cards.proof import proof
from shorefast.briefing.cards.signalled import Signal, signals
from shorefast.briefing.cards.warned import calls, cautions, key_of, never, steps, stopped, what_was
from shorefast.wording import CardWords

_CONCERNS = (1, 2, 5, 7, 9)
_ON_LINE_M = 1.5
"""Nearer to the line in than this counts as on it: our choice."""
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
        *steps(content, words, "helm"),
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


def _driven(approach: CardApproach, words: CardWords) -> Iterator[str]:
    """How she is driven: where she starts, how she drifts and walks, where she breaks off."""
    if not approach.can_be_held:
        yield words.say("helm.cannot")
    if math.isfinite(approach.pass_off_m):
        yield words.say(
            "helm.pass",
            metres=words.metres(approach.pass_off_m),
            bearing=words.bearing(approach.pass_toward_rad),
            water=words.metres(approach.pass_water_m),
        )
    yield _start(approach, words)
    yield _blown_off(approach.blown_off, words)
    yield words.say("helm.leeway", speed=words.slow_knots(approach.leeway_mps))
    yield _walks(approach.walks, words)
    yield words.say(
        "helm.turning",
        room=words.metres(approach.turning_room_m),
        needs=words.metres(approach.turning_needs_m),
    )
    yield _crosswind(approach, words)
    yield _abort(approach, words)
    if math.isfinite(approach.lie_limit_m):
        yield words.say(
            "helm.within",
            anchor=words.metres(approach.landing_limit_m),
            lie=words.metres(approach.lie_limit_m),
        )


def _start(approach: CardApproach, words: CardWords) -> str:
    """Where the run begins; less than a hand steers to is on the line."""
    if abs(approach.to_windward_m) < _ON_LINE_M:
        return words.say("helm.start_on")
    return words.say(
        "helm.start_lee" if approach.to_windward_m < 0.0 else "helm.start",
        metres=words.metres(abs(approach.to_windward_m)),
        side=_side(approach.windward_side, words),
    )


def _blown_off(side: str, words: CardWords) -> str:
    if not side:
        return words.say("helm.blown_off_not")
    return words.say("helm.blown_off", side=_side(side, words))


def _abort(approach: CardApproach, words: CardWords) -> str:
    if not math.isfinite(approach.abort_rad):
        return words.say("helm.abort_unknown")
    return words.say(
        "helm.abort_rule",
        bearing=words.bearing(approach.abort_rad),
        metres=words.metres(approach.abort_least_m),
    )


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
    when = words.say(
        "leaving.at",
        when=words.say(f"leaving.{one.when}"),
        clock=words.clock(one.at_utc, content.place.zone_name),
        wind=words.knots(one.gust_mps),
        from_bearing=words.bearing(one.wind_from_rad),
    )
    when = when[:1].upper() + when[1:]
    return (*paragraph(when, STRONG, 6.0, keep=True), *bullets(list(_leaving_said(one, words))))


def _leaving_said(one: CardLeaving, words: CardWords) -> Iterator[str]:
    """Whether, what stands against it, the order, the line doubled back, room and time."""
    feasible = {True: "feasible", False: "not_feasible", None: "feasible_unknown"}[one.feasible]
    yield words.say(f"leaving.{feasible}")
    if one.why:
        why = "; ".join(_why(reason, of, words) for reason, of in one.why)
        yield words.say("leaving.against", why=why)
    if one.order:
        order = ", ".join(_let_go(step, words) for step in one.order)
        yield words.say("leaving.order", order=order)
    if one.doubled_back is not None:
        yield _doubled_back(one.doubled_back, words)
    yield _room(one, words)
    yield words.say(
        "leaving.takes", time=words.minutes(one.needs_s), heave=words.minutes(one.heave_s)
    )


def _room(one: CardLeaving, words: CardWords) -> str:
    if one.room_m <= 0.0:
        return words.say("leaving.room_touch", what=words.touched(one.room_of))
    of = words.part(one.room_of) if one.room_of else words.unknown
    return words.say("leaving.room", of=of, metres=words.metres(one.room_m))


def _why(reason: str, of: str, words: CardWords) -> str:
    named = words.part(of) if of else words.say("leave_unknown.something")
    if reason == "unknown" and f"leave_unknown.{of}" in words.texts:
        named = words.say(f"leave_unknown.{of}")
    return words.say(f"leave_why.{key_of(reason)}", of=named)


def _let_go(step: CardLetGo, words: CardWords) -> str:
    return words.say(f"leaving.{key_of(step.how)}", name=words.part(step.name))


def _doubled_back(last: CardDoubledBack, words: CardWords) -> str:
    said = words.say("leaving.doubled_back", name=words.part(last.name))
    if last.enough:
        return said
    other = (
        words.say("leaving.take_other", name=last.instead)
        if last.instead is not None
        else words.say("leaving.no_other")
    )
    return f"{said} {words.say('leaving.too_short', instead=other)}"
