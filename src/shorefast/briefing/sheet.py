"""The front of the briefing sheet: A4 across, verdict first, pictures second."""

from __future__ import annotations

from typing import TYPE_CHECKING

from shorefast.briefing.content import SheetContent
from shorefast.briefing.said import lie_words, rests_on
from shorefast.drawing import (
    Beside,
    Box,
    Page,
    PaletteName,
    Style,
    draw_plan,
    draw_profile,
    draw_stands,
    draw_strip,
    draw_without,
    first_rows,
    fitted,
    make_scene,
    rows_of,
    shortened,
    strip_words,
    whole_sentences,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

WIDE_PT, HIGH_PT = 841.89, 595.28
_LEFT, _RIGHT = 22.0, WIDE_PT - 22.0
_REMARK = Style("italic", "soft", 8.5)
_FOOT = Style("sans", "soft", 8.0)
_PLAN = Box(_LEFT, 78.0, 462.0, 424.0)
_PROFILE = Box(482.0, 78.0, _RIGHT, 228.0)
_STANDS = Box(482.0, 236.0, 680.0, 424.0)
_WITHOUT = Box(696.0, 236.0, _RIGHT, 424.0)
_STRIP = Box(_LEFT, 444.0, _RIGHT, 541.0)
_FOOT_TOP = 556.0
_VERDICT_WIDE = 436.0


def front_page(content: SheetContent) -> Page:
    """The whole front, drawn but not yet coloured."""
    scene = make_scene(content.stay, content.judgement)
    page = Page(WIDE_PT, HIGH_PT)
    page.box(Box(0.0, 0.0, WIDE_PT, HIGH_PT), "paper")
    _head(page, content)
    draw_plan(page, _PLAN, scene, content.shapes, content.let_go)
    draw_profile(page, _PROFILE, scene, content.shapes)
    draw_stands(page, _STANDS, scene, content.stands)
    draw_without(page, _WITHOUT, scene, content.without, content.proof)
    said = strip_words(content.judgement, content.odds is not None)
    page.text(_LEFT, _STRIP.top - 4.5, said, _REMARK)
    draw_strip(page, _STRIP, scene, content.night, Beside(content.moonlight, content.odds))
    _foot(page, content)
    return page


def sheet_svg(
    content: SheetContent, palette: PaletteName = "day", *, fonts_inside: bool = True
) -> str:
    """The front of the sheet as one SVG file.

    Parameters
    ----------
    palette : "day", "night" or "print"
        Colours only; the geometry is the same in all three.
    fonts_inside : bool
        Carry the lettering along (about 220 kB), so that it looks right anywhere.

    Raises
    ------
    BadInput
        If the lie is still to be chosen, or names a point or cleat nobody knows.
    """
    title = f"{content.stay.bay.name}: {content.headline}"
    return front_page(content).svg(palette, title, content.reason, fonts_inside=fonts_inside)


def _head(page: Page, content: SheetContent) -> None:
    """Place and lie on the left; verdict and its reason on the right, which comes first."""
    gives = content.judgement.verdict in {"leave by", "no"}
    page.begin("head", "Place, hours and verdict")
    size = fitted(content.headline, "title", (20.0, 15.0), _VERDICT_WIDE)
    rows = first_rows(content.headline, "title", size, _VERDICT_WIDE, 2)
    verdict = Style("title", "give" if gives else "ink", size, "end")
    base = 36.0 if len(rows) == 1 else 27.0
    for number, row in enumerate(rows):
        page.text(_RIGHT, base + 16.5 * number, row, verdict)
    said = whole_sentences(content.reason, "sans", 9.5, _VERDICT_WIDE, 2)
    page.text_rows(_RIGHT, base + 16.5 * len(rows) - 3.0, said, Style("sans", "ink", 9.5, "end"))
    _place(page, content, _RIGHT - _LEFT - _VERDICT_WIDE - 18.0)
    page.end()


def _place(page: Page, content: SheetContent, room: float) -> None:
    name = content.stay.bay.name
    size = fitted(name, "title", (20.0, 12.0), room)
    page.text(_LEFT, 36.0, shortened(name, "title", size, room), Style("title", "ink", size))
    style = Style("sans", "soft", 9.5)
    rows = [shortened(row, "sans", 9.5, room) for row in lie_words(content.stay)]
    page.text_rows(_LEFT, 52.0, rows, style)


def _foot(page: Page, content: SheetContent) -> None:
    """What it rests on at the left, the cautions that matter most at the right."""
    page.begin("foot", "What it rests on, and cautions")
    middle = 405.0
    rests = whole_sentences(rests_on(content), "sans", 8.0, middle - _LEFT, 4)
    page.text_rows(_LEFT, _FOOT_TOP, rests, _FOOT)
    rows = _whole(content.cautions, _RIGHT - middle - 18.0, 4)
    page.text_rows(middle + 18.0, _FOOT_TOP, rows, Style("italic", "ink", 8.0))
    page.end()


def _whole(cautions: Sequence[str], room_pt: float, most: int) -> list[str]:
    """Rows of as many whole cautions as there is room for, in their order."""
    kept: list[str] = []
    for number, said in enumerate(cautions):
        more = "" if number == len(cautions) - 1 else " More on the back."
        tried = rows_of(" ".join([*kept, said]) + more, "italic", 8.0, room_pt)
        if len(tried) > most:
            break
        kept.append(said)
    more = "" if len(kept) == len(cautions) else " More on the back."
    return rows_of(" ".join(kept) + more, "italic", 8.0, room_pt)
