"""The back of the sheet of the bay: what is read before the way in, in two columns."""

from __future__ import annotations

from shorefast.briefing.cards.ashore import off_table
from shorefast.briefing.cards.blocks import SMALL, STRONG, bullets, heading, paragraph
from shorefast.briefing.cards.content import CardContent
from shorefast.briefing.cards.flow import EDGE_PT, FACE_WIDE_PT, Piece, flow
from shorefast.briefing.cards.proof import whole_proof
from shorefast.briefing.cards.warned import cautioned, ready, steps, what_was
from shorefast.briefing.cards.way_in import before_it
from shorefast.drawing import Box, Page
from shorefast.wording import CardWords

COLUMN_HIGH_PT = 841.89
"""A column is half an A4 page wide, as wide as a card. [pt]"""


def overleaf_columns(content: CardContent, words: CardWords) -> tuple[Page, ...]:
    """As many columns as it takes, two a page: an even number."""
    free = EDGE_PT, COLUMN_HIGH_PT - EDGE_PT
    columns = flow(_pieces(content, words), lambda _: free)
    columns += [[]] if len(columns) % 2 else []
    pages = []
    for some in columns:
        page = Page(FACE_WIDE_PT, COLUMN_HIGH_PT)
        page.box(Box(0.0, 0.0, FACE_WIDE_PT, COLUMN_HIGH_PT), "paper")
        for one in some:
            one.piece.draw(page, one.top_pt)
        pages.append(page)
    return tuple(pages)


def _pieces(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    approach = content.approach
    before = [words.say("helm.look_round"), words.say("helm.handover")]
    if approach is not None:
        before = list(before_it(approach, words))
    off = off_table(content.off, content, words) if content.off else ()
    said = paragraph(words.say("line.off_all"), above_pt=5.0, keep=True) if off else ()
    whose = f"{content.place.bay_name} · {content.vessel.name}"
    unread = " ".join(row for row in words.rows("card.foot") if row)
    return (
        *paragraph(whose, STRONG),
        *paragraph(unread, SMALL),
        *heading(words.say("bay.overleaf")),
        *bullets(before),
        *cautioned(words, 3),
        *steps(content, words),
        *ready(content, words),
        *said,
        *off,
        *whole_proof(content, words),
        *cautioned(words, 2, 5),
        *what_was(words, "bay.was"),
    )
