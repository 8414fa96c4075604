"""Words on a sheet: none on another, none off the paper, none too small to read."""

import itertools
from dataclasses import replace

import numpy as np
import pypdfium2
import pytest
from shapely.geometry import Polygon

from shorefast.bay import Zone
from shorefast.briefing.back import back_pages
from shorefast.briefing.printed import sheet_pdf
from shorefast.briefing.sheet import front_page
from shorefast.drawing import LEAST_PT, Box, Page, Style, first_rows, rows_of, width_pt
from shorefast.drawing.labels import Board, Wish

LONG = (
    "the great leaning larch with a rusty chain round it, north of the stream",
    "a boulder as big as a house, needs the ten metre chain sling and two people",
)
SHEETS = {
    "an ordinary night": {},
    "one member, one hour, nothing worked out": {
        "members": 1, "hours": 1.0, "first": None, "without": 0,
    },
    "two and a half days, long names": {
        "members": 51, "hours": 60.0, "names": LONG, "without": 5, "other_points": 6,
        "bay_name": "Caleta de las Tres Sombras Interior, Isla Hondura Gris, Costa Norte",
    },
    "no shore, short names, parts unknown": {
        "land": False, "unknown": True, "names": ("A", "B"), "bay_name": "X",
    },
    "no rest, no tide": {"rest": False, "unknown": True, "tide_m": 0.0},
}  # fmt: skip


@pytest.fixture(params=SHEETS, name="page")
def _page(request, made_up):
    return front_page(made_up(**SHEETS[request.param]))


def test_no_label_lies_on_another(page):
    # a tenth lowered beside its metre touches it on purpose: hence the hair of room
    pairs = itertools.combinations(page.labels, 2)
    clashes = [(a[1], b[1]) for a, b in pairs if a[0].grown(-0.05).meets(b[0].grown(-0.05))]
    assert clashes == []


def test_no_label_leaves_the_paper(page):
    paper = Box(0.0, 0.0, page.width_pt, page.height_pt).grown(-8.0)
    assert [text for box, text in page.labels if not paper.holds(box)] == []


def test_no_word_is_smaller_than_can_be_read(page):
    sizes = [float(part.split('"')[0]) for part in page.body().split('font-size="')[1:]]
    assert min(sizes) >= LEAST_PT


def test_the_back_keeps_its_words_apart_too(made_up):
    for page in back_pages(made_up(**SHEETS["two and a half days, long names"])):
        paper = Box(0.0, 0.0, page.width_pt, page.height_pt).grown(-8.0)
        assert all(paper.holds(box) for box, _ in page.labels)
        pairs = itertools.combinations(page.labels, 2)
        assert not [1 for a, b in pairs if a[0].grown(-0.05).meets(b[0].grown(-0.05))]


def test_a_label_goes_where_the_paper_is_empty():
    board = Board(Box(0.0, 0.0, 200.0, 100.0))
    board.take(Box(100.0, 0.0, 200.0, 100.0))
    page = Page(200.0, 100.0)
    box = board.set(page, Wish(("rock",), (99.0, 50.0), Style(), must=True))
    assert box is not None
    assert box.right <= 100.0


def test_a_label_without_room_is_left_out_unless_it_must_stand():
    board = Board(Box(0.0, 0.0, 60.0, 20.0))
    board.take(Box(0.0, 0.0, 60.0, 20.0))
    assert board.set(Page(60.0, 20.0), Wish(("rock",), (30.0, 10.0), Style())) is None


def test_soundings_are_set_first_come_first_served_and_apart():
    board = Board(Box(0.0, 0.0, 100.0, 100.0))
    middles = np.array([(50.0, 50.0), (52.0, 51.0), (80.0, 80.0), (99.0, 99.0)])
    assert board.spread_out(middles, (7.0, 5.0)) == [0, 2]


def test_words_are_as_wide_as_they_are_printed(made_up):
    content = made_up()
    page = pypdfium2.PdfDocument(sheet_pdf(content))[0].get_textpage()
    for words, style in (
        ("Torvane", Style("title", "ink", 20.0)),
        ("stand", Style("title", "ink", 13.0)),
        ("dotted:", Style("italic", "soft", 8.5)),
        ("soundings,", Style("sans", "soft", 8.0)),
    ):
        found = page.search(words).get_next()
        boxes = [page.get_charbox(n) for n in range(found[0], found[0] + found[1])]
        printed = max(box[2] for box in boxes) - min(box[0] for box in boxes)
        # side bearings and kerning make print a little narrower than the sum of advances
        assert style.width_pt(words) - 4.0 < printed < style.width_pt(words) + 0.2


def test_rows_keep_a_number_with_its_unit():
    narrow = width_pt("Holds to 22", "sans", 8.5) + 1.0
    assert rows_of("Holds to 22 kn.", "sans", 8.5, narrow) == ["Holds to", "22 kn."]


def test_a_word_longer_than_the_row_is_broken_and_none_is_lost():
    rows = rows_of("Llanfairpwllgwyngyll bay", "sans", 9.0, 30.0)
    assert "".join(rows).replace(" ", "") == "Llanfairpwllgwyngyllbay"
    assert all(width_pt(row, "sans", 9.0) <= 30.0 for row in rows)


def test_what_does_not_fit_ends_in_an_ellipsis():
    rows = first_rows("one two three four five six", "sans", 9.0, 40.0, 2)
    assert len(rows) == 2
    assert rows[1].endswith("…")


def test_a_zone_across_the_whole_frame_still_has_its_words(made_up):
    content = made_up()
    wide = Zone("seagrass", "meadow", Polygon([(-500, -500), (500, -500), (0, 900)]), "skipper")
    bay = replace(content.stay.bay, zones=(wide,))
    page = front_page(replace(content, stay=replace(content.stay, bay=bay)))
    assert "seagrass: meadow" in [text for _, text in page.labels]
