"""What a card is made of: words, big numbers, tables, locked rules, lines to write on.

Every block is a tuple of pieces as wide as a face. Words too long for their room go to
the next row, a single word too long is broken; numbers shrink to 16 pt and then break.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace

from shorefast.briefing.cards.flow import LEFT, RIGHT, WIDE, Piece, in_rows
from shorefast.drawing import ASCENT, DESCENT, Box, Page, Style, fitted, rows_of

LEAST_PT = 9.0
"""Nothing on a card is set smaller. [pt]"""
NUMBER_PT = (17.5, 16.0)
"""A key number, large and small. [pt]"""
BODY = Style("sans", "ink", 9.6)
STRONG = Style("bold", "ink", 10.0)
SMALL = Style("sans", "ink", LEAST_PT)
HEADING = Style("title", "ink", 13.0)
_LEAD = 1.16
_PAD_PT = (2.0, 3.4)
BLANK_PT = 20.0
"""How high a row to write in is. [pt]"""


def high_of(rows: int, style: Style) -> float:
    """Paper that so many rows take. [pt]"""
    return (_LEAD * (rows - 1) + ASCENT + DESCENT) * style.size_pt if rows else 0.0


def text_rows(text: str, style: Style, wide_pt: float) -> list[str]:
    """A text broken to a width."""
    return rows_of(text, style.face, style.size_pt, wide_pt)


def _set(page: Page, x: float, top: float, rows: Sequence[str], style: Style) -> None:
    page.text_rows(x, top + ASCENT * style.size_pt, rows, style)


def paragraph(
    text: str, style: Style = BODY, above_pt: float = 3.0, *, keep: bool = False
) -> tuple[Piece, ...]:
    """Words across the face, kept together; ``keep`` also holds them to what comes next."""
    rows = text_rows(text, style, WIDE)
    high = _LEAD * style.size_pt

    def one(row: str, last: bool, first: bool) -> Piece:
        def draw(page: Page, top: float) -> None:
            _set(page, LEFT, top, [row], style)

        return Piece(high, draw, above_pt if first else 0.0, keep=keep or not last)

    return tuple(one(row, at == len(rows) - 1, at == 0) for at, row in enumerate(rows))


def heading(text: str) -> tuple[Piece, ...]:
    """A heading over a fine rule; it stays with what follows."""
    rows = text_rows(text, HEADING, WIDE)
    high = high_of(len(rows), HEADING) + 3.0

    def draw(page: Page, top: float) -> None:
        _set(page, LEFT, top, rows, HEADING)
        page.line((LEFT, top + high - 1.0), (RIGHT, top + high - 1.0), "frame")

    return (Piece(high, draw, above_pt=9.0, keep=True),)


def bullets(texts: Sequence[str], sign: str = "–") -> tuple[Piece, ...]:
    """Short rules one under another, each behind a sign."""
    return tuple(_beside(sign, text, BODY) for text in texts)


def _beside(sign: str, text: str, style: Style) -> Piece:
    """Words behind a sign or number, hanging."""
    hang = max(11.0, style.width_pt(sign) + 5.0)
    rows = text_rows(text, style, WIDE - hang)

    def draw(page: Page, top: float) -> None:
        _set(page, LEFT, top, [sign], style)
        _set(page, LEFT + hang, top, rows, style)

    return Piece(high_of(len(rows), style) + 1.0, draw, above_pt=2.0)


def ticks(texts: Sequence[str], style: Style) -> tuple[Piece, ...]:
    """Things one of which is marked, each behind a box to tick; two abreast where they fit."""
    hang, side, half = 15.0, 9.0, WIDE / 2

    def one(texts: Sequence[str]) -> Piece:
        room = (WIDE if len(texts) == 1 else half) - hang - 4.0
        told = [text_rows(text, style, room) for text in texts]

        def draw(page: Page, top: float) -> None:
            for at, rows in enumerate(told):
                x = LEFT + at * half
                page.box(Box(x + 0.5, top + 0.5, x + side, top + side), "tick")
                _set(page, x + hang, top, rows, style)

        return Piece(max(high_of(len(rows), style) for rows in told), draw, 2.0, keep=True)

    return tuple(one(two) for two in in_rows(texts, 2))


def numbered(texts: Sequence[tuple[int, str]]) -> tuple[Piece, ...]:
    """Cautions and steps with their numbers."""
    return tuple(_beside(f"{number}", text, SMALL) for number, text in texts)


def lockable(rows: Sequence[tuple[str, str, bool]]) -> tuple[Piece, ...]:
    """Numbered steps, a lock beside those that nothing may pass."""
    return tuple(_lockable(*row) for row in rows)


def _lockable(number: str, text: str, locked: bool) -> Piece:
    hang, side = 17.0, 13.0
    style = BODY
    rows = text_rows(text, style, WIDE - hang - side)
    high = max(high_of(len(rows), style), 11.0 if locked else 0.0) + 1.0

    def draw(page: Page, top: float) -> None:
        _set(page, LEFT, top, [number], style)
        _set(page, LEFT + hang, top, rows, style)
        if locked:
            _padlock(page, RIGHT - 4.0, top - 0.5, 0.62)

    return Piece(high, draw, above_pt=2.0)


@dataclass(frozen=True)
class Cell:
    """Words in a column, and how they are set; ``number`` for a key number."""

    text: str
    number: bool = False
    style: Style = BODY


def number_style(text: str, wide_pt: float) -> Style:
    """How a key number is set in a column; a word in its place ("unknown") shrinks to text."""
    sizes = NUMBER_PT if any(map(str.isdigit, text)) else (NUMBER_PT[0], STRONG.size_pt)
    return Style("bold", "ink", fitted(text, "bold", sizes, wide_pt))


@dataclass(frozen=True)
class Column:
    """A column of a table: its name and its share of the width."""

    name: str
    share: float


def figures(cells: Sequence[tuple[str, str]]) -> tuple[Piece, ...]:
    """Key numbers side by side, each under its name."""
    return table(
        [Column(name, 1.0) for name, _ in cells], [[Cell(text, True) for _, text in cells]]
    )


def table(
    columns: Sequence[Column], rows: Sequence[Sequence[Cell]], above_pt: float = 5.0
) -> tuple[Piece, ...]:
    """Rows of cells under their names; the names come again where it goes on overleaf."""
    places = _places(columns)
    names = [
        (text_rows(column.name, SMALL, wide), SMALL, x)
        for column, (x, wide) in zip(columns, places, strict=True)
    ]
    head = _row(names, ruled=False, bottom=True)
    head = replace(head, above_pt=above_pt, keep=True)
    again = replace(head, above_pt=0.0)
    body = [_table_row(row, places) for row in rows]
    return (head, *(replace(piece, head=again if at else None) for at, piece in enumerate(body)))


def _places(columns: Sequence[Column]) -> list[tuple[float, float]]:
    """Left edge and width of every column. [pt]"""
    gap = 6.0
    whole = sum(column.share for column in columns)
    free = WIDE - gap * (len(columns) - 1)
    wides = [free * column.share / whole for column in columns]
    starts = itertools.accumulate([LEFT, *(wide + gap for wide in wides[:-1])])
    return list(zip(starts, wides, strict=True))


def _table_row(cells: Sequence[Cell], places: Sequence[tuple[float, float]]) -> Piece:
    set_out = []
    for cell, (x, wide) in zip(cells, places, strict=True):
        style = cell.style
        if cell.number:
            style = number_style(cell.text, wide)
        set_out.append((text_rows(cell.text, style, wide), style, x))
    return _row(set_out, ruled=True, bottom=False)


def _row(cells: Sequence[tuple[list[str], Style, float]], *, ruled: bool, bottom: bool) -> Piece:
    """One row of a table: a rule above or below it."""
    pad = _PAD_PT[max(len(rows) for rows, _, _ in cells) > 1]
    high = max(high_of(len(rows), style) for rows, style, _ in cells) + pad

    def draw(page: Page, top: float) -> None:
        if ruled:
            page.line((LEFT, top), (RIGHT, top), "frame")
        for rows, style, x in cells:
            tall = high_of(len(rows), style)
            lowered = high - 1.0 - tall if bottom else 0.5 * (high + 0.4 - tall)
            _set(page, x, top + lowered, rows, style)

    return Piece(high, draw)


def locked(title: str, text: str, *, lock: bool = True) -> tuple[Piece, ...]:
    """A rule that nothing passes: in a heavy frame, with a lock on its corner.

    ``lock``: left out where the frame only stands out, for a drill.
    """
    inset = 7.0
    first = Style("title", "ink", 13.0)
    titles = text_rows(title, first, WIDE - 2 * inset - 20.0)
    rows = text_rows(text, BODY, WIDE - 2 * inset)
    above = max(high_of(len(titles), first), 17.0 if lock else 0.0) + 2.0
    high = above + high_of(len(rows), BODY) + 2 * inset

    def draw(page: Page, top: float) -> None:
        box = Box(LEFT + 1.0, top + 1.0, RIGHT - 1.0, top + high - 1.0)
        page.box(box, "heavy")
        _set(page, LEFT + inset, top + inset, titles, first)
        _set(page, LEFT + inset, top + inset + above, rows, BODY)
        if lock:
            _padlock(page, RIGHT - 17.0, top + inset)

    return (Piece(high, draw, above_pt=8.0),)


def _padlock(page: Page, x: float, top: float, size: float = 1.0) -> None:
    """A closed lock, eleven points wide at size one."""
    page.box(Box(x - 5.5 * size, top + 7.0 * size, x + 5.5 * size, top + 16.0 * size), "solid")
    bow, low, high = 3.5 * size, top + 7.5 * size, top + 4.5 * size
    page.path(
        f"M{x - bow:.1f} {low:.1f}V{high:.1f}"
        f"A{bow:.1f} {bow:.1f} 0 0 1 {x + bow:.1f} {high:.1f}V{low:.1f}",
        "heavy" if size == 1.0 else "outline",
    )


def beside_a_blank(rows: Sequence[tuple[str, str, bool]]) -> tuple[Piece, ...]:
    """What is asked, what is told of it, and a line for the reader's own number.

    The last of a row: whether what is told is a key number. Nothing told leaves more line.
    """
    return tuple(_beside_a_blank(*row) for row in rows)


def _beside_a_blank(asked: str, told: str, number: bool) -> Piece:
    first, second, gap = 0.37 * WIDE, 0.40 * WIDE, 5.0
    style = number_style(told, second) if number else STRONG
    names = text_rows(asked, BODY, first - gap)
    said = text_rows(told, style, second - gap) if told else []
    high = max(high_of(len(names), BODY), high_of(len(said), style), 15.0) + 5.0

    def draw(page: Page, top: float) -> None:
        for x, rows, how in ((LEFT, names, BODY), (LEFT + first, said, style)):
            _set(page, x, top + high - 1.0 - high_of(len(rows), how), rows, how)
        start = LEFT + first + (second if said else 0.0)
        page.line((start, top + high - 2.0), (RIGHT, top + high - 2.0), "frame")

    return Piece(high + 1.0, draw)


def ruled(labels: Sequence[str]) -> tuple[Piece, ...]:
    """Lines to write on, each behind what is asked; two on a row where they are short."""
    half = (WIDE - 14.0) / 2
    pieces: list[Piece] = []
    waiting: list[str] = []
    for label in labels:
        if SMALL.width_pt(label) > half - 50.0:
            pieces += [_blank(waiting)] if waiting else []
            pieces.append(_blank([label]))
            waiting = []
            continue
        waiting.append(label)
        if len(waiting) == 2:
            pieces.append(_blank(waiting))
            waiting = []
    return tuple(pieces if not waiting else [*pieces, _blank(waiting)])


def _blank(labels: Sequence[str]) -> Piece:
    room = WIDE if len(labels) == 1 else (WIDE - 14.0) / 2
    asked = [text_rows(label, SMALL, 0.6 * room) for label in labels]
    high = max(22.0, 11.0 + max(high_of(len(rows), SMALL) for rows in asked))

    def draw(page: Page, top: float) -> None:
        for at, rows in enumerate(asked):
            x = LEFT + at * (room + 14.0)
            _set(page, x, top + high - 2.0 - high_of(len(rows), SMALL), rows, SMALL)
            start = x + 4.0 + max(map(SMALL.width_pt, rows), default=0.0)
            page.line((start, top + high - 2.0), (x + room, top + high - 2.0), "frame")

    return Piece(high, draw)


def blank_table(
    names: Sequence[tuple[str, float]], firsts: Sequence[str], row_pt: float = BLANK_PT
) -> tuple[Piece, ...]:
    """A ruled table to be filled in by hand; what the first column says already, row by row."""
    columns = [Column(name, share) for name, share in names]
    head = table(columns, [])
    edges = [x - 3.0 for x, _ in _places(columns)][1:]

    def row(first: str, again: Piece | None) -> Piece:
        def draw(page: Page, top: float) -> None:
            for y in (top, top + row_pt):
                page.line((LEFT, y), (RIGHT, y), "frame")
            for x in edges:
                page.line((x, top), (x, top + row_pt), "frame")
            page.text(LEFT, top + 0.5 * row_pt + 4.5, first, STRONG)

        return Piece(row_pt, draw, head=again)

    repeated = replace(head[0], above_pt=0.0)
    return (*head, *(row(first, repeated if at else None) for at, first in enumerate(firsts)))
