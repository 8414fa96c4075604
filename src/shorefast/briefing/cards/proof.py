"""The proof on a card: revs, pull, angle, how long; what counts as moving; what to do then."""

from __future__ import annotations

import math
from collections.abc import Collection

from shorefast.briefing.cards.blocks import (
    BODY,
    STRONG,
    Cell,
    Column,
    bullets,
    heading,
    paragraph,
    table,
)
from shorefast.briefing.cards.content import CardContent, CardMark, CardProof, CardTransit
from shorefast.briefing.cards.flow import Piece
from shorefast.wording import CardWords

TRANSIT_LETTERS = "UVWXYZ"


def proof(
    content: CardContent, words: CardWords, only: Collection[str] | None = None
) -> tuple[Piece, ...]:
    """Everything of the proof, for helm and bow alike; ``only`` these signs of the outcomes."""
    title = heading(words.say("proof.title"))
    direction = bullets((words.say("proof.direction"),))
    if not content.proof:
        return (*title, *paragraph(words.say("card.not_known")), *direction)
    return (
        *title,
        *_steps(content, words),
        *_moving(content, words),
        *_outcomes(content, words, only),
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
    low, high = words.kilograms(last.low_n), words.kilograms(last.high_n)
    said = [as_wind, words.say("proof.range", low=low, high=high)]
    if math.isfinite(last.off_m):
        said.append(words.say("proof.off", metres=words.metres(last.off_m)))
    said += [f"* {words.say('proof.all_lifted')}"] if lifted else []
    if math.isfinite(content.need_rpm):
        said.append(words.say("proof.need", revs=words.number(content.need_rpm)))
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
    title = heading(words.say("proof.transits"))
    if not content.transits:
        return (*bullets((moving,)), *title, *paragraph(words.say("proof.no_transit")))
    said = [
        f"{letter}  {transit_words(one, words)}"
        for letter, one in zip(TRANSIT_LETTERS, content.transits, strict=False)
    ]
    return (*bullets((moving,)), *title, *bullets(said))


def transit_words(one: CardTransit, words: CardWords) -> str:
    """Two marks in line, what they tell of, and when an eye sees them open."""
    marks = words.say(
        "proof.transit",
        near=_mark(one.near, words),
        far=_mark(one.far, words),
        bearing=words.bearing(one.bearing_rad),
    )
    tells = words.say("proof.along" if one.along else "proof.aside")
    moved = words.say("proof.transit_moved", metres=words.metres(one.moved_m))
    told = [marks, f"{tells}: {moved}"]
    if one.by_night:
        told.append(words.say("proof.lamps" if one.lamps else "proof.by_night"))
    return "; ".join(told)


def _mark(mark: CardMark, words: CardWords) -> str:
    if mark.name:
        return mark.name
    return words.say(
        f"mark.{mark.kind}",
        bearing=words.bearing(mark.bearing_rad),
        metres=words.metres(mark.distance_m),
    )


def _outcomes(
    content: CardContent, words: CardWords, only: Collection[str] | None
) -> tuple[Piece, ...]:
    """What may be seen, what it means, what to do, and what tempts though it is wrong."""
    some = [one for one in content.outcomes if only is None or one.sign in only]
    if not some:
        return ()
    pieces = [*heading(words.say("proof.outcomes"))]
    for one in some:
        pieces += paragraph(words.say(f"outcome_sign.{one.sign}"), STRONG, 5.0, keep=True)
        means, do = words.say(f"outcome_means.{one.means}"), words.say(f"outcome_do.{one.do}")
        tempts = one.tempts
        pieces += paragraph(f"= {means}. {do}", BODY, 0.0, keep=tempts is not None)
        if tempts is not None:
            what = words.say(f"outcome_tempts.{tempts}")
            pieces += bullets((words.say("proof.tempts", what=what),), "×")
    return tuple(pieces)
