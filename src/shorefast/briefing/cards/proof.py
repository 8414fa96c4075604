"""The proof on a card: revs, pull, angle, how long; what counts as moving; what to do then."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator

from shorefast.briefing.cards.blocks import (
    BODY,
    LEAST_PT,
    SMALL,
    STRONG,
    Cell,
    Column,
    bullets,
    figures,
    heading,
    paragraph,
    table,
)
from shorefast.briefing.cards.content import CardContent, CardMark, CardProof, CardTransit
from shorefast.briefing.cards.flow import Piece, in_rows, together
from shorefast.briefing.cards.warned import cautioned
from shorefast.drawing import Style
from shorefast.wording import CardWords

TRANSIT_LETTERS = "UVWXYZ"
_SIGN = Style("bold", "ink", LEAST_PT)


_HELM_SIGNS = (
    "marks_stand", "marks_open_then_stand", "marks_open_slowly", "chain_trembles",
    "stern_swings", "water_short",
)  # fmt: skip
_BOW_SIGNS = ("chain_trembles", "leads_steeper", "leads_flatter", "angle_stands")
"""What the bow sees or feels of the proof before anybody else."""
_MOST_ABREAST = 5


def short_proof(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """The proof for the helm: revs, pull, angle, how long; the marks; what to do then."""
    title = heading(words.say("proof.title"))
    harder = words.rows("helm.never")[-1]
    rules = bullets((words.say("proof.in_steps"), words.say("proof.slack_line"), harder), "!")
    if not content.proof:
        return (*title, *paragraph(words.say("card.not_known")), *rules, *cautioned(words, 2, 9))
    return (
        *together((*title, *rules, *_steps(content, words))),
        *bullets([*_noted(content, words), *_moving(content, words)]),
        *cautioned(words, 2, 9),
        *_seen(content, words, _HELM_SIGNS),
    )


def bow_proof(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """The proof for the bow: how the chain should stand at each step, and what to call out."""
    title = heading(words.say("proof.title"))
    rules = bullets((words.say("proof.in_steps"),), "!")
    if not content.proof:
        return (*title, *paragraph(words.say("card.not_known")), *rules, *cautioned(words, 2))
    return (
        *title,
        *rules,
        *_angles(content, words),
        *_seen(content, words, _BOW_SIGNS),
        *cautioned(words, 2),
    )


def whole_proof(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """What is read before it: how well the pull is known, transits, every outcome."""
    if not content.proof:
        return ()
    last = content.proof[-1]
    low, high = words.kilograms(last.low_n), words.kilograms(last.high_n)
    as_wind = words.say(
        "proof.as_wind",
        ahead=words.knots(last.wind_ahead_mps),
        abeam=words.knots(last.wind_abeam_mps),
    )
    return (
        *heading(words.say("proof.title")),
        *bullets((as_wind, words.say("proof.range", low=low, high=high))),
        *_transits(content, words),
        *_outcomes(content, words),
    )


def _steps(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    columns = [
        Column(words.say("proof.revs"), 1.15),
        Column(words.say("proof.pull"), 1.2),
        Column(words.say("proof.angle"), 1.2),
        Column(words.say("proof.hold_for"), 0.8),
    ]
    return table(columns, [_step(step, words) for step in content.proof])


def _noted(content: CardContent, words: CardWords) -> Iterator[str]:
    """How near she is at the hardest step, what the angle no longer tells, what is enough."""
    last = content.proof[-1]
    if math.isfinite(last.off_m):
        yield words.say("proof.off", metres=words.metres(last.off_m))
    if any(step.all_lifted for step in content.proof):
        yield f"* {words.say('proof.all_lifted')}"
    if math.isfinite(content.need_rpm):
        yield words.say("proof.need", revs=words.number(content.need_rpm))
    if math.isfinite(content.need_short_n):
        yield words.say("proof.need_short", pull=words.kilograms(content.need_short_n))


def _angles(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """Revs, and under them the chain's degrees from up and down, step beside step."""
    lifted = any(step.all_lifted for step in content.proof)
    star = f"* {words.say('proof.all_lifted')}"
    said = paragraph(words.say("proof.angle_under"), SMALL, 1.0, keep=True)
    tables: list[Piece] = []
    for some in in_rows(content.proof, _MOST_ABREAST):
        told = [(_revs(step, words), f"{_angle(step, words)}") for step in some]
        tables += figures([*told, *[("", "")] * (_MOST_ABREAST - len(told))])
    return (*said, *tables, *(bullets((star,)) if lifted else ()))


def _revs(step: CardProof, words: CardWords) -> str:
    if math.isfinite(step.revs_rpm):
        return words.number(step.revs_rpm)
    return words.say("proof.share", percent=words.number(100.0 * step.revs_share))


def _angle(step: CardProof, words: CardWords) -> str:
    return f"{words.from_vertical(step.angle_rad)}{' *' if step.all_lifted else ''}"


def _step(step: CardProof, words: CardWords) -> list[Cell]:
    return [
        Cell(_revs(step, words), number=True),
        Cell(_pull(step, words), number=True),
        Cell(_angle(step, words), number=True),
        Cell(words.number(step.hold_s / 60.0, 1 if step.hold_s % 60.0 else 0), number=True),
    ]


def _pull(step: CardProof, words: CardWords) -> str:
    return words.kilograms(step.pull_n).removesuffix(" kg")


def _moving(content: CardContent, words: CardWords) -> Iterator[str]:
    """What counts as moving, and each transit in a few words."""
    yield words.say("proof.moving", metres=words.metres(content.moving_m))
    if not content.transits:
        yield words.say("proof.no_transit")
    for letter, one in zip(TRANSIT_LETTERS, content.transits, strict=False):
        said = words.say(
            "proof.transit_short",
            near=_mark(one.near, words),
            bearing=words.bearing(one.bearing_rad),
            metres=words.metres(one.moved_m),
        )
        yield f"{letter}  {said}"


def _transits(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    title = heading(words.say("proof.transits"))
    if not content.transits:
        return (*title, *paragraph(words.say("proof.no_transit")))
    said = [
        f"{letter}  {transit_words(one, words)}"
        for letter, one in zip(TRANSIT_LETTERS, content.transits, strict=False)
    ]
    return (*title, *bullets(said))


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
    told = [marks, words.say("line.settle", name=tells, how=moved)]
    if one.by_night:
        told.append(words.say("proof.lamps" if one.lamps else "proof.by_night"))
    return words.say("card.apart").join(told)


def _mark(mark: CardMark, words: CardWords) -> str:
    if mark.name:
        return mark.name
    return words.say(
        f"mark.{mark.kind}",
        bearing=words.bearing(mark.bearing_rad),
        metres=words.metres(mark.distance_m),
    )


def _seen(content: CardContent, words: CardWords, signs: Collection[str]) -> tuple[Piece, ...]:
    """What may be seen, and what is done then, a row each."""
    rows = [
        [
            Cell(words.say(f"outcome_sign.{one.sign}"), style=_SIGN),
            Cell(words.say(f"outcome_do.{one.do}"), style=SMALL),
        ]
        for one in content.outcomes
        if one.sign in signs
    ]
    columns = [Column(words.say("proof.seen"), 1.0), Column(words.say("proof.then"), 1.75)]
    return together(table(columns, rows)) if rows else ()


def _outcomes(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """What may be seen, what it means, what to do, and what tempts though it is wrong."""
    pieces = [*heading(words.say("proof.outcomes"))] if content.outcomes else []
    for one in content.outcomes:
        pieces += paragraph(words.say(f"outcome_sign.{one.sign}"), STRONG, 5.0, keep=True)
        means, do = words.say(f"outcome_means.{one.means}"), words.say(f"outcome_do.{one.do}")
        tempts = one.tempts
        pieces += paragraph(f"= {means}. {do}", BODY, 0.0, keep=tempts is not None)
        if tempts is not None:
            what = words.say(f"outcome_tempts.{tempts}")
            pieces += bullets((words.say("proof.tempts", what=what),), "×")
    return tuple(pieces)
