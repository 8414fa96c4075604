"""A card's faces: its head, what flows in between, and its foot, on A6."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shorefast.briefing.cards.blocks import (
    BLANK_PT,
    LEAST_PT,
    SMALL,
    blank_table,
    heading,
    high_of,
    text_rows,
)
from shorefast.briefing.cards.content import CardContent
from shorefast.briefing.cards.flow import (
    EDGE_PT,
    FACE_HIGH_PT,
    FACE_WIDE_PT,
    LEFT,
    RIGHT,
    WIDE,
    Piece,
    Set,
    flow,
)
from shorefast.drawing import ASCENT, Box, Page, Style, fitted, rows_of
from shorefast.wording import CardWords

_TITLE_PT, _LESS_PT, _COUNT_PT = 21.0, 12.0, 38.0
_NAME = Style("bold", "ink", 12.0)


@dataclass(frozen=True)
class Card:
    """One card before it is set.

    Attributes
    ----------
    name : str
        Which card it is, for readers who listen and for the file ("bow").
    title : str
        What stands large at its top.
    people : tuple of str
        Who it is for; a line to write on where nobody is named and ``asks_name``.
    pieces : tuple of Piece
    asks_name : bool
    was : tuple of Piece
        Lines to write on: at its end, or on the last face where that is left to write on.
    """

    name: str
    title: str
    people: tuple[str, ...]
    pieces: tuple[Piece, ...]
    asks_name: bool = True
    was: tuple[Piece, ...] = ()


@dataclass(frozen=True)
class _Head:
    """The head of a face: rows with their style, and where what follows may begin. [pt]"""

    rows: tuple[tuple[str, Style], ...]
    bottom: float
    name_line: bool = False


def card_faces(card: Card, content: CardContent, words: CardWords) -> tuple[Page, ...]:
    """All faces of a card, an even number: the last is left to write on where it must be."""
    first, later = _first_head(card, content, words), _later_head(card, content)
    foot = _foot_rows(words)
    bottom = FACE_HIGH_PT - EDGE_PT - high_of(len(foot), SMALL) - 5.0

    def rooms(face: int) -> tuple[float, float]:
        return (first if face == 0 else later).bottom, bottom

    faces = flow((*card.pieces, *card.was), rooms)
    if len(faces) % 2:
        without = flow(card.pieces, rooms)
        moved = bool(card.was) and len(without) % 2 == 1
        last = _left_to_write(words, later.bottom, bottom, card.was if moved else ())
        faces = [*(without if moved else faces), last]
    pages = []
    for number, pieces in enumerate(faces, start=1):
        page = Page(FACE_WIDE_PT, FACE_HIGH_PT)
        page.box(Box(0.0, 0.0, FACE_WIDE_PT, FACE_HIGH_PT), "paper")
        _draw_head(page, first if number == 1 else later, words)
        for piece in pieces:
            piece.piece.draw(page, piece.top_pt)
        count = words.say("card.of", number=number, count=len(faces))
        _draw_foot(page, foot, count)
        pages.append(page)
    return tuple(pages)


def _left_to_write(
    words: CardWords, top: float, bottom: float, was: Sequence[Piece] = ()
) -> list[Set]:
    """A face to write on: what was, and under it empty lines."""
    title = heading(words.say("card.notes"))
    taken = sum(piece.above_pt + piece.high_pt for piece in (*was, *title))
    rows = int((bottom - top - taken) / BLANK_PT) - 2
    names = [(words.say("card.time"), 1.0), (words.say("card.noted"), 5.0)]
    return flow((*was, *title, *blank_table(names, [""] * rows)), lambda _: (top, bottom))[0]


def _first_head(card: Card, content: CardContent, words: CardWords) -> _Head:
    size = fitted(card.title, "title", (_TITLE_PT, 15.0), WIDE)
    title = Style("title", "ink", size)
    rows = [(row, title) for row in rows_of(card.title, "title", size, WIDE)]
    asked = not card.people and card.asks_name
    if asked:
        rows.append((words.say("card.name"), _NAME))
    rows += [(row, _NAME) for row in text_rows(", ".join(card.people), _NAME, WIDE)]
    where = f"{content.vessel.name} · {content.place.bay_name}"
    hours = words.hours(content.from_utc, content.until_utc, content.place.zone_name)
    for text in (where, hours):
        rows += [(row, SMALL) for row in text_rows(text, SMALL, WIDE)]
    return _Head(tuple(rows), _bottom(rows), asked)


def _later_head(card: Card, content: CardContent) -> _Head:
    whole = " · ".join((card.title, *card.people, content.vessel.name))
    style = Style("title", "ink", _LESS_PT)
    rows = [(row, style) for row in rows_of(whole, style.face, style.size_pt, WIDE)]
    return _Head(tuple(rows), _bottom(rows))


def _bottom(rows: Sequence[tuple[str, Style]]) -> float:
    return EDGE_PT + sum(1.2 * style.size_pt for _, style in rows) + 5.0


def _draw_head(page: Page, head: _Head, words: CardWords) -> None:
    y = EDGE_PT
    for row, style in head.rows:
        box = page.text(LEFT, y + ASCENT * style.size_pt, row, style)
        if head.name_line and row == words.say("card.name"):
            page.line((box.right + 5.0, box.bottom), (RIGHT, box.bottom), "frame")
        y += 1.2 * style.size_pt
    page.line((LEFT, head.bottom - 4.0), (RIGHT, head.bottom - 4.0), "outline")


def _foot_rows(words: CardWords) -> list[str]:
    """Not for navigation, and who has not read the language yet; room for the count is kept."""
    said = " ".join(row for row in words.rows("card.foot") if row)
    rows = text_rows(said, SMALL, WIDE)
    fits = SMALL.width_pt(rows[-1]) <= WIDE - _COUNT_PT
    return rows if fits else text_rows(said, SMALL, WIDE - _COUNT_PT)


def _draw_foot(page: Page, rows: Sequence[str], count: str) -> None:
    base = FACE_HIGH_PT - EDGE_PT - 0.22 * LEAST_PT
    top = base - 1.16 * LEAST_PT * (len(rows) - 1)
    page.text_rows(LEFT, top, rows, SMALL)
    page.text(RIGHT, base, count, Style("bold", "ink", LEAST_PT, "end"))
