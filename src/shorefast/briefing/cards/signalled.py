"""Signals on a card: the figure and what is called with it; on their own card how it is made."""

from __future__ import annotations

from collections.abc import Sequence

from shorefast.briefing.cards.blocks import (
    LEAST_PT,
    SMALL,
    STRONG,
    heading,
    high_of,
    paragraph,
    text_rows,
)
from shorefast.briefing.cards.content import CardContent
from shorefast.briefing.cards.faces import Card
from shorefast.briefing.cards.flow import LEFT, WIDE, Piece, in_rows
from shorefast.drawing import ASCENT, SIGNALS, Page, Seen, Style, draw_signal, signal_width_pt
from shorefast.wording import CardWords

FIGURE_PT = 34.02
"""How high a figure is at least: 12 mm. [pt]"""
_LARGE_PT = 42.0
_ABREAST, _GAP, _BESIDE = 5, 4.0, 4.0
_CALL = Style("bold", "ink", LEAST_PT)
_LOUD = Style("bold", "ink", 10.0)
_TITLE = Style("medium", "ink", 10.5)
_FROM_ASHORE = ("line_fast", "come_away", "swimmer", "engine_stopped")

Signal = tuple[str, Seen]
"""A signal's name, and from where the reader sees the one who gives it."""


def signals(
    words: CardWords, given: Sequence[Signal], taken: Sequence[Signal]
) -> tuple[Piece, ...]:
    """Those the reader gives and those the reader is given, five abreast."""
    pieces = [*heading(words.say("signals.title"))]
    if any(seen == "behind" for _, seen in (*given, *taken)):
        pieces += paragraph(words.say("signals.seen_behind"), SMALL, 1.0, keep=True)
    for title, some in (("signals.given", given), ("signals.taken", taken)):
        if some and given:
            pieces += paragraph(words.say(title), _TITLE, 4.0, keep=True)
        pieces += [_abreast(words, row) for row in in_rows(some, _ABREAST)]
    return tuple(pieces)


def signals_card(content: CardContent, words: CardWords) -> Card:
    """All signals, how each is made, and the rule behind them: to be tried on deck."""
    pieces = [*paragraph(words.say("signals.rule")), *paragraph(words.say("signals.seen_behind"))]
    seen: list[Signal] = [(name, "front" if name in _FROM_ASHORE else "behind") for name in SIGNALS]
    pieces += [_told(words, two) for two in in_rows(seen, 2)]
    pieces += paragraph(words.say("signals.practice"), above_pt=8.0)
    pieces += paragraph(words.say("signals.hang"), STRONG, 6.0)
    return Card("signals", words.say("signals.title"), (), tuple(pieces), asks_name=False)


def _abreast(words: CardWords, row: Sequence[Signal]) -> Piece:
    wide = (WIDE - _GAP * (_ABREAST - 1)) / _ABREAST
    called = [text_rows(words.say(f"signal.{name}.call"), _CALL, wide) for name, _ in row]
    under = FIGURE_PT + 3.0
    high = under + max(high_of(len(rows), _CALL) for rows in called)

    def draw(page: Page, top: float) -> None:
        for at, ((name, seen), rows) in enumerate(zip(row, called, strict=True)):
            left = LEFT + at * (wide + _GAP)
            inset = 0.5 * (wide - signal_width_pt(FIGURE_PT))
            draw_signal(page, name, (left + inset, top), FIGURE_PT, seen)
            middle = Style(_CALL.face, _CALL.colour, _CALL.size_pt, "middle")
            base = top + under + ASCENT * _CALL.size_pt
            page.text_rows(left + 0.5 * wide, base, rows, middle)

    return Piece(high, draw, above_pt=5.0)


def _told(words: CardWords, two: Sequence[Signal]) -> Piece:
    wide = (WIDE - _GAP) / 2
    figure = signal_width_pt(_LARGE_PT)
    room = wide - figure - _BESIDE
    told = [
        (
            text_rows(words.say(f"signal.{name}.call"), _LOUD, room),
            text_rows(words.say(f"signal.{name}.does"), SMALL, room),
        )
        for name, _ in two
    ]
    rows_pt = (high_of(len(call), _LOUD) + high_of(len(does), SMALL) + 2.0 for call, does in told)
    high = max(_LARGE_PT, *rows_pt)

    def draw(page: Page, top: float) -> None:
        for at, ((name, seen), (call, does)) in enumerate(zip(two, told, strict=True)):
            left = LEFT + at * (wide + _GAP)
            draw_signal(page, name, (left, top), _LARGE_PT, seen)
            x = left + figure + _BESIDE
            y = page.text_rows(x, top + ASCENT * _LOUD.size_pt, call, _LOUD)
            page.text_rows(x, y - 0.5, does, SMALL)

    return Piece(high, draw, above_pt=6.0)
