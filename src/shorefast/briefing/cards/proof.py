"""The proof on a card: revs, pull, angle, how long; what counts as moving; what to do then."""

from __future__ import annotations

import math

from shorefast.briefing.cards.blocks import Cell, Column, bullets, heading, paragraph, table
from shorefast.briefing.cards.content import CardContent, CardProof, CardTransit
from shorefast.briefing.cards.flow import Piece
from shorefast.wording import CardWords


def proof(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """Everything of the proof, for helm and bow alike."""
    title = heading(words.say("proof.title"))
    direction = bullets((words.say("proof.direction"),))
    if not content.proof:
        return (*title, *paragraph(words.say("card.not_known")), *direction)
    return (
        *title,
        *_steps(content, words),
        *_moving(content, words),
        *_outcomes(content, words),
        *direction,
    )


def _steps(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    columns = [
        Column(words.say("proof.revs"), 1.15),
        Column(words.say("proof.pull"), 1.2),
        Column(words.say("proof.angle"), 1.2),
        Column(words.say("proof.hold_for"), 0.8),
    ]
    last = content.proof[-1]
    as_wind = words.say(
        "proof.as_wind",
        ahead=words.knots(last.wind_ahead_mps),
        abeam=words.knots(last.wind_abeam_mps),
    )
    rows = [_step(step, words) for step in content.proof]
    lifted = any(step.all_lifted for step in content.proof)
    said = (as_wind, f"* {words.say('proof.all_lifted')}") if lifted else (as_wind,)
    return (*table(columns, rows), *bullets(said))


def _step(step: CardProof, words: CardWords) -> list[Cell]:
    share = words.say("proof.share", percent=words.number(100.0 * step.revs_share))
    known = math.isfinite(step.revs_rpm)
    star = " *" if step.all_lifted else ""
    return [
        Cell(words.number(step.revs_rpm) if known else share, number=True),
        Cell(_pull(step, words), number=True),
        Cell(f"{words.from_vertical(step.angle_rad)}{star}", number=True),
        Cell(words.number(step.hold_s / 60.0, 1 if step.hold_s % 60.0 else 0), number=True),
    ]


def _pull(step: CardProof, words: CardWords) -> str:
    return words.kilograms(step.pull_n).removesuffix(" kg")


def _moving(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    moving = words.say("proof.moving", metres=words.metres(content.moving_m))
    if not content.transits:
        return bullets((moving,))
    said = [
        _transit(letter, one, words) for letter, one in zip("XYZ", content.transits, strict=False)
    ]
    return (*bullets((moving,)), *heading(words.say("proof.transits")), *bullets(said))


def _transit(letter: str, one: CardTransit, words: CardWords) -> str:
    marks = words.say(
        "proof.transit", near=one.near, far=one.far, bearing=words.bearing(one.bearing_rad)
    )
    moved = words.say("proof.transit_moved", metres=words.metres(one.moved_per_degree_m))
    night = f"; {words.say('proof.by_night')}" if one.by_night else ""
    return f"{letter}: {marks}; {moved}{night}"


def _outcomes(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    if not content.outcomes:
        return ()
    columns = [
        Column(words.say("proof.sign"), 1.0),
        Column(words.say("proof.means"), 1.0),
        Column(words.say("proof.act"), 1.2),
    ]
    rows = [
        [
            Cell(words.say(f"outcome.{one.sign}")),
            Cell(words.say(f"outcome_means.{one.means}")),
            Cell(words.say(f"outcome_do.{one.do}")),
        ]
        for one in content.outcomes
    ]
    return (*heading(words.say("proof.outcomes")), *table(columns, rows))
