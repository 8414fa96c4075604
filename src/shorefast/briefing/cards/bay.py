"""The sheet of the bay: one A4 page with the plan, the way in and out, and marks in line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from shorefast.briefing.cards.ashore import letter_of
from shorefast.briefing.cards.content import CardContent
from shorefast.briefing.cards.overleaf import overleaf_columns
from shorefast.briefing.cards.printed import sheet_pdf
from shorefast.briefing.cards.proof import TRANSIT_LETTERS, transit_words
from shorefast.briefing.cards.way_in import anchor_waters
from shorefast.drawing import (
    Box,
    Page,
    Style,
    WayMarks,
    draw_plan,
    fitted,
    make_scene,
    rows_of,
)
from shorefast.wording import CardWords

if TYPE_CHECKING:
    from shorefast.stay import ChainShape, Judgement, Stay, WhereToLetGo

WIDE_PT, HIGH_PT = 595.28, 841.89
_EDGE = 28.0
_RIGHT = WIDE_PT - _EDGE
_ROOM = _RIGHT - _EDGE
_SMALL = Style("sans", "ink", 9.0)
_BODY = Style("sans", "ink", 10.0)
_NUMBER = Style("bold", "ink", 17.0)
_HEADING = Style("title", "ink", 12.0)
_CONCERNS = (1, 9, 13)
_BELOW_PT = 4.0


@dataclass(frozen=True)
class BaySheet:
    """What the sheet of the bay is drawn from, beside what the cards know."""

    stay: Stay
    judgement: Judgement
    shapes: tuple[ChainShape, ...]
    let_go: WhereToLetGo | None
    way: WayMarks


def bay_page(sheet: BaySheet, content: CardContent, words: CardWords) -> Page:
    """The whole page, drawn but not yet coloured.

    Raises
    ------
    BadInput
        If the lie is still to be chosen, or a line leads to nowhere.
    """
    page = Page(WIDE_PT, HIGH_PT, backed=True)
    page.box(Box(0.0, 0.0, WIDE_PT, HIGH_PT), "paper")
    top = _head(page, content, words)
    foot = _foot_rows(content, words)
    below = sum(_high(rows, style) for rows, style in foot)
    bottom = HIGH_PT - _EDGE - below - _BELOW_PT
    scene = make_scene(sheet.stay, sheet.judgement, words)
    frame = Box(_EDGE, top, _RIGHT, bottom)
    draw_plan(page, frame, scene, sheet.shapes, sheet.let_go, sheet.way)
    y = bottom + _BELOW_PT
    for rows, style in foot:
        page.text_rows(_EDGE, y + 0.9 * style.size_pt, rows, style)
        y += _high(rows, style)
    return page


def bay_pdf(sheet: BaySheet, content: CardContent, words: CardWords) -> bytes:
    """The sheet of the bay as a file of its own: the plan, and overleaf what is read before."""
    title = f"{content.place.bay_name}: {words.say('bay.title')}"
    return sheet_pdf(bay_page(sheet, content, words), overleaf_columns(content, words), title)


def _high(rows: list[str], style: Style) -> float:
    return 1.16 * style.size_pt * len(rows) + (3.0 if rows else 0.0)


def _head(page: Page, content: CardContent, words: CardWords) -> float:
    """Place, vessel, hours, and the key numbers; gives where the plan may begin."""
    y = _EDGE
    name = content.place.bay_name
    size = fitted(name, "title", (24.0, 15.0), _ROOM)
    title = Style("title", "ink", size)
    for row in rows_of(name, "title", size, _ROOM):
        page.text(_EDGE, y + 0.8 * size, row, title)
        y += 1.2 * size
    hours = words.hours(content.from_utc, content.until_utc, content.place.zone_name)
    said = f"{content.vessel.name} · {hours} · {words.say('bay.north_true')}"
    rows = rows_of(said, _BODY.face, _BODY.size_pt, _ROOM)
    page.text_rows(_EDGE, y + 0.9 * _BODY.size_pt, rows, _BODY)
    y += _high(rows, _BODY) + 2.0
    return _numbers(page, y, content, words)


def _numbers(page: Page, top: float, content: CardContent, words: CardWords) -> float:
    approach = content.approach
    told = [
        *anchor_waters(content, words),
        (words.say("bow.chain"), words.metres(content.chain_m)),
        (words.say("bow.heading"), words.bearing(content.heading_rad)),
    ]
    if approach is not None:
        told.append((words.say("helm.line_in"), words.bearing(approach.line_in_rad)))
        told.append((words.say("helm.abort"), words.bearing(approach.abort_rad)))
    page.line((_EDGE, top), (_RIGHT, top), "outline")
    wide = _ROOM / len(told)
    for at, (name, value) in enumerate(told):
        x = _EDGE + at * wide
        page.text(x, top + 11.0, name, _SMALL)
        size = fitted(value, "bold", (_NUMBER.size_pt, 11.0), wide - 6.0)
        page.text(x, top + 27.0, value, Style("bold", "ink", size))
    return top + 35.0


def _foot_rows(content: CardContent, words: CardWords) -> list[tuple[list[str], Style]]:
    """Lines, transits and cautions under the plan, broken to the page."""
    said: list[tuple[str, Style]] = []
    for at, line in enumerate(content.lines):
        told = words.say("line.from_to", cleat=line.cleat, point=line.point)
        named = f"{letter_of(at)}  {line.name}"
        said.append((words.say("line.settle", name=named, how=told), _BODY))
    for letter, transit in zip(TRANSIT_LETTERS, content.transits, strict=False):
        said.append((f"{letter}  {transit_words(transit, words)}", _BODY))
    said += [(f"{number}  {words.say(f'caution.{number}')}", _SMALL) for number in _CONCERNS]
    unread = words.rows("card.foot")[1]
    said += [(unread, _SMALL)] if unread else []
    return [(rows_of(text, style.face, style.size_pt, _ROOM), style) for text, style in said]
