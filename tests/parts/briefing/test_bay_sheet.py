"""The sheet of the bay: one page with the way in and out, nothing over another, no grey."""

import importlib.util
import math
import re
import sys
from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest
from pypdfium2 import raw

from shorefast.briefing import BaySheet, bay_pdf
from shorefast.briefing.cards.bay import bay_page
from shorefast.drawing import PALETTES, Box, WayMarks
from shorefast.errors import BadInput
from shorefast.wording import LANGUAGES, card_words

_PATH = Path(__file__).parents[1] / "drawing" / "conftest.py"
_SPEC = importlib.util.spec_from_file_location("drawn_contents", _PATH)
_drawn = importlib.util.module_from_spec(_SPEC)
sys.modules["drawn_contents"] = _drawn
_SPEC.loader.exec_module(_drawn)

# ISO 216: A4 is 210 by 297 mm
PAGE = Box(0.0, 0.0, 595.28, 841.89)
START, HOLD = (92.0, -2.0), (24.0, -1.5)
WAY = WayMarks(
    calls=tuple(((70.0 - 9.0 * n, -2.0), f"{60 - 9 * n}") for n in range(6)),
    start=(START, "start"),
    line_in=(START, HOLD, "line in 270"),
    way_out=(HOLD, math.pi / 2, "way out 090, least water 4.5 m"),
    turning=(START, 15.0, "turn here"),
    transits=(
        ((-4.0, 11.0), (-40.0, 20.0), "transit U"),
        ((-3.0, -14.0), (-30.0, 60.0), "transit V"),
    ),
)


@pytest.fixture(scope="module")
def made_up():
    """The drawing tests' made-up sheet."""
    return _drawn.make_content


def sheet_of(made_up, way=WAY, **wanted):
    content = made_up(**wanted)
    return BaySheet(content.stay, content.judgement, content.shapes, content.let_go, way)


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize(
    "wanted",
    [
        {},
        {"unknown": True, "land": False},
        {"rest": False},
        {"bay_name": "Wolkenkratzer Bay " * 4},
        {"names": ("a birch of thirty centimetres beside", "the rock with the iron ring, sling")},
    ],
)
def test_no_words_leave_the_page_or_lie_on_others(made_up, full, language, wanted):
    page = bay_page(sheet_of(made_up, **wanted), full(names=20), card_words(language))
    labels = page.labels
    assert [text for box, text in labels if not PAGE.holds(box)] == []
    met = [
        (one[1], two[1])
        for at, one in enumerate(labels)
        for two in labels[at + 1 :]
        if one[0].grown(-0.6).meets(two[0].grown(-0.6))
    ]
    # the tenths of a sounding stand close under its figure, as on a chart
    assert [pair for pair in met if not all(re.fullmatch(r"\d+", text) for text in pair)] == []


def test_the_way_in_and_out_and_the_marks_are_named(made_up, full):
    page = bay_page(sheet_of(made_up), full(), card_words("en"))
    said = {text for _, text in page.labels}
    assert {"start", "turn here", "line in 270", "transit U", "transit V"} <= said
    assert "way out 090, least water 4.5 m" in said


@pytest.mark.parametrize(
    ("language", "row"),
    [
        ("en", "Dashed: every place she can lie."),
        ("fr", "Tireté\u00a0: toutes les places possibles."),
        ("es", "A trazos: todos los sitios donde puede quedar."),
    ],
)
def test_the_plan_speaks_the_language_of_the_sheet(made_up, full, language, row):
    page = bay_page(sheet_of(made_up, WayMarks()), full(), card_words(language))
    said = [text for _, text in page.labels]
    assert row in said
    if language != "en":
        assert not [text for text in said if re.search(r"\b(let go|least water|Drawn)\b", text)]


def test_it_is_one_sheet_of_black_on_white(made_up, full):
    printed = pypdfium2.PdfDocument(bay_pdf(sheet_of(made_up), full(), card_words("en")))
    for page in printed:
        assert page.get_size() == pytest.approx((595.28, 841.89), abs=0.02)
        kinds = {item.type for item in page.get_objects(max_depth=8)}
        assert raw.FPDF_PAGEOBJ_IMAGE not in kinds
    short = full(steps=(), outcomes=full().outcomes[:9])
    assert len(pypdfium2.PdfDocument(bay_pdf(sheet_of(made_up), short, card_words("en")))) == 2


def test_the_card_palette_knows_black_and_white_alone_and_no_fine_line():
    palette = PALETTES["card"]
    colours = {value for value in vars(palette).values() if isinstance(value, str)}
    assert colours | set(palette.water) <= {"#000000", "#ffffff", "none"}
    # a line of 0.6 pt is about 0.2 mm: common practice, no source
    assert palette.least_pt == 0.6


def test_nothing_of_the_manoeuvre_is_drawn_where_nobody_worked_it_out(made_up, bare):
    page = bay_page(sheet_of(made_up, WayMarks()), bare(), card_words("en"))
    assert not [text for _, text in page.labels if "way out" in text or "transit" in text]


def test_a_bay_without_a_sounding_in_sight_is_drawn_bare(made_up, bare):
    sheet = sheet_of(made_up)
    bay = sheet.stay.bay
    far = replace(bay.soundings, east_m=bay.soundings.east_m + 20_000.0)
    sheet = replace(sheet, stay=replace(sheet.stay, bay=replace(bay, soundings=far)))
    assert bay_page(sheet, bare(), card_words("en")).svg("card", "bare", "bare")


def test_cautions_stand_under_the_plan(made_up, full):
    words = card_words("en")
    page = bay_page(sheet_of(made_up), full(), words)
    whole = " ".join(text for _, text in page.labels)
    assert all(words.say(f"caution.{number}") in whole for number in (1, 9, 13))


def test_a_lie_still_to_be_chosen_has_no_sheet_of_the_bay(made_up, full):
    sheet = sheet_of(made_up)
    with pytest.raises(BadInput):
        bay_page(replace(sheet, stay=replace(sheet.stay, lie=None)), full(), card_words("en"))
