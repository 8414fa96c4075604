"""The metre table: whole for bow and stern, short for the helm; the numbers are the same."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import replace

from shorefast.briefing.cards.blocks import SMALL, STRONG, Cell, Column, heading, paragraph, table
from shorefast.briefing.cards.content import CardCall, CardContent
from shorefast.briefing.cards.flow import Piece
from shorefast.briefing.cards.warned import key_of
from shorefast.wording import CardWords

_MOST_SHORT = 10
"""So many marks are read at a glance at the wheel: our choice."""
_LONG_LAST = (0.8, 0.8, 1.25, 2.533)
_SHORT_LAST = (0.95, 0.85, 5.674)
"""Shares that set the last row's numbers under those above it."""


def calls(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """Every call with how the chain should stand slack, holding and dragging."""
    title = heading(words.say("calls.title"))
    if content.approach is None or not content.approach.calls:
        return (*title, *paragraph(words.say("card.not_known")))
    columns = [
        Column(words.say("calls.off"), 0.8),
        Column(words.say("calls.chain"), 0.8),
        Column(words.say("calls.angles"), 1.25),
        Column(words.say("calls.do"), 1.7),
        Column(words.say("calls.by"), 0.7),
    ]
    *single, last = _together(content.approach.calls)
    rows = [_row(some[0], words) for some in single]
    said = f"{words.say('calls.said')} {words.say('calls.angles_said')}"
    listed = table(columns, [*rows, *([_row(last[0], words)] if len(last) == 1 else [])], 2.0)
    ends = _at_the_same(last, words, _LONG_LAST, angles=True) if len(last) > 1 else ()
    # overleaf the last row too stands under the names of the columns
    again = replace(listed[0], above_pt=0.0)
    return (
        *title,
        *paragraph(said, SMALL, 1.0, keep=True),
        *listed,
        *(replace(one, head=again) for one in ends),
    )


def short_calls(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """Metres off, chain and call alone, read down the left side first."""
    title = heading(words.say("calls.title"))
    if content.approach is None or not content.approach.calls:
        return (*title, *paragraph(words.say("card.not_known")))
    groups = _together(content.approach.calls)
    last = groups.pop() if len(groups[-1]) > 1 else []
    told = _thinned([some[0] for some in groups])
    said = words.say("calls.said")
    if len(told) < len(groups):
        said = f"{said} {words.say('calls.thinned')}"
    cells = [_short(one, words) for one in told]
    half = (len(cells) + 1) // 2
    empty = [Cell(""), Cell(""), Cell("")]
    rows = [
        [*one, Cell(""), *two]
        for one, two in itertools.zip_longest(cells[:half], cells[half:], fillvalue=empty)
    ]
    side = [
        Column(words.say("calls.off"), 0.95),
        Column(words.say("calls.chain"), 0.85),
        Column(words.say("calls.do"), 1.55),
    ]
    return (
        *title,
        *paragraph(said, SMALL, 1.0, keep=True),
        *table([*side, Column("", 0.05), *side], rows, 2.0),
        *(_at_the_same(last, words, _SHORT_LAST, angles=False) if last else ()),
    )


def _thinned(some: Sequence[CardCall]) -> list[CardCall]:
    """Every second plain veering left out, the first ones first, where there are too many."""
    veers = [one.number for one in some if one.kind == "veer"]
    left_out = set(veers[::2][: max(0, len(some) - _MOST_SHORT)])
    return [one for one in some if one.number not in left_out]


def _together(some: Sequence[CardCall]) -> list[list[CardCall]]:
    """Calls one after another; those at the end that come at the same metre are one."""
    last = some[-1]
    at_the_same = [
        one
        for one in some
        if round(one.off_m) == round(last.off_m) and round(one.chain_m) == round(last.chain_m)
    ]
    if len(at_the_same) < 2 or list(some[-len(at_the_same) :]) != at_the_same:
        return [[one] for one in some]
    return [*([one] for one in some[: -len(at_the_same)]), at_the_same]


def _at_the_same(
    some: Sequence[CardCall], words: CardWords, columns: Sequence[float], *, angles: bool
) -> tuple[Piece, ...]:
    """The last calls in a row across the face: at one metre, one after another."""
    told = [
        f"{words.say(f'call.{key_of(one.kind)}')} ({words.say(f'who.{one.who}')})" for one in some
    ]
    cells = [
        Cell(words.number(some[0].off_m), number=True),
        Cell(words.number(some[0].chain_m), number=True),
        *([Cell(_angles(some[0], words), style=STRONG)] if angles else []),
        Cell(" → ".join(told)),
    ]
    return table([Column("", share) for share in columns], [cells], 0.0)[1:]


def _row(call: CardCall, words: CardWords) -> list[Cell]:
    return [
        Cell(words.number(call.off_m), number=True),
        Cell(words.number(call.chain_m), number=True),
        Cell(_angles(call, words), style=STRONG),
        Cell(words.say(f"call.{key_of(call.kind)}")),
        Cell(words.say(f"who.{call.who}"), style=SMALL),
    ]


def _short(call: CardCall, words: CardWords) -> list[Cell]:
    return [
        Cell(words.number(call.off_m), number=True),
        Cell(words.number(call.chain_m), number=True),
        Cell(words.say(f"call.{key_of(call.kind)}"), style=SMALL),
    ]


def _angles(call: CardCall, words: CardWords) -> str:
    """Slack, holding, dragging, from up and down; nothing where the chain does not lead yet."""
    stands = (call.slack_rad, call.holding_rad, call.dragging_rad)
    if not any(map(math.isfinite, stands)):
        return ""
    return " · ".join(words.from_vertical(angle).removesuffix("°") for angle in stands)
