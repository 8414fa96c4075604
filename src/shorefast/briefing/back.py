"""The back of the sheet: every part against its limit, all cautions, all it rests on."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from shorefast.briefing.content import SheetContent
from shorefast.briefing.said import hours_words, sentence
from shorefast.drawing import Box, Page, Style, most, of_members, rows_of, without_words
from shorefast.wording import UNKNOWN, kilograms, metres, use_words

if TYPE_CHECKING:
    from shorefast.stay import PartUse

_WIDE_PT, _HIGH_PT = 841.89, 595.28
_EDGE = 22.0
_GAP = 20.0
_COLUMNS = 3
_TOP, _BOTTOM = 66.0, 575.0
_TITLE = Style("title", "ink", 12.0)
_NAME = Style("bold", "ink", 8.5)
_SAID = Style("sans", "ink", 8.5)
_SOFT = Style("italic", "soft", 8.5)
_KEPT_PT = {_TITLE: 38.0, _NAME: 20.0}
"""A title and a name stay with the first rows of what they are the title of. [pt]"""


@dataclass(frozen=True)
class Paragraph:
    """Words in one style, and how much paper is left free above them. [pt]"""

    words: str
    style: Style
    above_pt: float = 0.0


def back_pages(content: SheetContent) -> list[Page]:
    """As many pages as it takes, three columns each."""
    wide = (_WIDE_PT - 2 * _EDGE - (_COLUMNS - 1) * _GAP) / _COLUMNS
    pages: list[Page] = []
    column, y = _COLUMNS, _TOP
    for paragraph in _paragraphs(content):
        rows = rows_of(paragraph.words, paragraph.style.face, paragraph.style.size_pt, wide)
        high = 1.16 * paragraph.style.size_pt * len(rows)
        keep = high + _KEPT_PT.get(paragraph.style, 0.0)
        y += paragraph.above_pt
        if column == _COLUMNS or y + keep > _BOTTOM:
            column, y = column + 1, _TOP
            if column >= _COLUMNS:
                pages.append(_new_page(content, len(pages) + 1))
                column = 0
        x = _EDGE + column * (wide + _GAP)
        y = pages[-1].text_rows(x, y, rows, paragraph.style)
    return pages


def _new_page(content: SheetContent, number: int) -> Page:
    page = Page(_WIDE_PT, _HIGH_PT)
    page.box(Box(0.0, 0.0, _WIDE_PT, _HIGH_PT), "paper")
    name = f"Behind the sheet{f', {number}' if number > 1 else ''}"
    page.text(_EDGE, 36.0, name, Style("title", "ink", 16.0))
    place = rows_of(content.stay.bay.name, "sans", 9.0, 380.0)[:1]
    words = f"{place[0] if place else ''} · {hours_words(content.stay)}"
    page.text(_WIDE_PT - _EDGE, 36.0, words, Style("sans", "soft", 9.0, "end"))
    page.line((_EDGE, 46.0), (_WIDE_PT - _EDGE, 46.0), "faint-line")
    return page


def _paragraphs(content: SheetContent) -> Iterator[Paragraph]:
    yield Paragraph("The verdict", _TITLE)
    yield Paragraph(content.headline, _NAME, 2.0)
    yield Paragraph(content.reason, _SAID)
    yield Paragraph("What every part carries", _TITLE, 9.0)
    yield Paragraph(_share_words(content), _SOFT, 1.0)
    for part in content.judgement.parts:
        yield from _part(part, 1.0 - content.stay.accepted_share)
    yield from _rooms(content)
    yield from _losses(content)
    yield Paragraph("Cautions", _TITLE, 9.0)
    for number, words in enumerate(content.cautions, start=1):
        yield Paragraph(f"{number}.  {words}", _SAID, 2.0)
    yield from _basis(content)


def _share_words(content: SheetContent) -> str:
    if len(content.judgement.member) == 1:
        return "The most of the stay, against the limit."
    share = 100.0 * (1.0 - content.stay.accepted_share)
    return f"The most of the stay that {share:g} in 100 members stay under, against the limit."


def _limit_beside(part: PartUse, use: float) -> float:
    """The limit in the state whose use comes nearest to the one told; NaN if none is known."""
    apart = np.abs(part.use - use)
    if not np.isfinite(apart).any():
        return math.nan
    return float(np.ravel(part.limit_n)[int(np.nanargmin(apart))])


def _part(part: PartUse, share: float) -> Iterator[Paragraph]:
    use = most(of_members(part.use, share))
    limit = _limit_beside(part, use)
    load = use * limit if math.isfinite(limit) else most(of_members(part.load_n, share))
    yield Paragraph(part.name, _NAME, 3.0)
    if not math.isfinite(limit):
        words = f"{kilograms(load)} in the worst hour; its strength is {UNKNOWN}."
    else:
        words = f"{kilograms(load)} of {kilograms(limit)}: {use_words(use)}."
    known = math.isfinite(limit) and part.limit_source
    source = f" Limit: {part.limit_source}." if known else ""
    parts_at = ""
    if math.isfinite(part.breaking_n):
        parts_at = f" Parts at about {kilograms(part.breaking_n)}."
    yield Paragraph(f"{words}{source}{parts_at}", _SAID)


def _rooms(content: SheetContent) -> Iterator[Paragraph]:
    if not content.judgement.room:
        return
    yield Paragraph("Room", _TITLE, 9.0)
    share = 1.0 - content.stay.accepted_share
    for room in content.judgement.room:
        least_m = -most(of_members(-room.room_m, share))
        expected = ""
        if room.expected_m is not None:
            middle_m = -most(of_members(-room.expected_m, share))
            expected = f" By the expected bed {metres(middle_m)}."
        wanted = metres(room.least_wanted_m)
        words = f"{room.of}: {metres(least_m)} at least, {wanted} wanted.{expected}"
        yield Paragraph(words, _SAID, 2.0)


def _losses(content: SheetContent) -> Iterator[Paragraph]:
    if not content.without:
        return
    yield Paragraph("If one goes", _TITLE, 9.0)
    for entry in content.without:
        yield Paragraph(entry.name, _NAME, 3.0)
        yield Paragraph(" ".join(without_words(entry)), _SAID)


def _basis(content: SheetContent) -> Iterator[Paragraph]:
    basis = content.basis
    if basis.assumptions:
        yield Paragraph("Taken as true", _TITLE, 9.0)
    for assumption in basis.assumptions:
        yield Paragraph(
            f"{sentence(assumption.said)} If not: {sentence(assumption.if_wrong)}", _SAID, 2.0
        )
    if basis.findings:
        yield Paragraph("Noticed on the way", _TITLE, 9.0)
    for finding in basis.findings:
        yield Paragraph(f"{finding.where}: {finding.said}", _SAID, 2.0)
    if basis.inputs:
        yield Paragraph("What went in", _TITLE, 9.0)
    for entry in basis.inputs:
        yield Paragraph(f"{entry.name}: {entry.value} ({entry.said_by})", _SAID, 1.0)
    if basis.sources:
        yield Paragraph("Sources", _TITLE, 9.0)
        yield Paragraph(", ".join(basis.sources), _SAID, 1.0)
    yield Paragraph(f"Shorefast {basis.version}", _SOFT, 6.0)
