"""Every card in every language, however long its words: nothing out of its frame or on another."""

import itertools

import pytest

from shorefast.briefing import CardContent
from shorefast.briefing.cards.faces import card_faces
from shorefast.briefing.cards.flow import EDGE_PT, FACE_HIGH_PT, FACE_WIDE_PT
from shorefast.briefing.cards.night import night_card
from shorefast.briefing.cards.overleaf import overleaf_columns
from shorefast.briefing.cards.pack import pack
from shorefast.drawing import Box, Page, Style
from shorefast.wording import LANGUAGES, card_words

# ISO 216: A6 is 105 by 148 mm, in points of 1/72 inch; the edge left free is the code's own
A6_PT = (297.64, 419.53)
A4_HIGH_PT = 841.89


def frame_of(name) -> Box:
    """Paper that is printed on; a column of the sheet of the bay is as high as A4."""
    high = A4_HIGH_PT if name == "bay" else A6_PT[1]
    return Box(EDGE_PT - 0.5, EDGE_PT - 0.5, A6_PT[0] - EDGE_PT + 0.5, high - EDGE_PT + 0.5)


KINDS = ("full", "bare", "row", "long names", "fourteen people", "seven lines", "one word")


def content_of(kind, full, bare) -> CardContent:
    return {
        "full": lambda: full(),
        "bare": lambda: bare(),
        "row": lambda: full(by="row", water_k=279.0),
        "long names": lambda: full(names=28),
        "fourteen people": lambda: full(count=14, names=20),
        "seven lines": lambda: full(lines=7, names=30),
        "one word": lambda: full(tends="Wolkenkratzerbaumeisterlehrlingsausbildung" * 2),
    }[kind]()


def all_faces(content, words):
    cards = [
        (card.name, number, page)
        for card in (*pack(content, words), night_card(content, words))
        for number, page in enumerate(card_faces(card, content, words), start=1)
    ]
    columns = enumerate(overleaf_columns(content, words), start=1)
    return [*cards, *(("bay", number, page) for number, page in columns)]


@pytest.fixture(params=list(itertools.product(KINDS, LANGUAGES)), ids="-".join)
def faces(request, full, bare):
    kind, language = request.param
    return all_faces(content_of(kind, full, bare), card_words(language))


def test_no_words_leave_their_face(faces):
    assert (FACE_WIDE_PT, FACE_HIGH_PT) == A6_PT
    out = [
        (name, number, text, box)
        for name, number, page in faces
        for box, text in page.labels
        if not frame_of(name).holds(box)
    ]
    assert out == []


def on_each_other(page):
    """Pairs of words that share paper."""
    # a row's box reaches from the tallest letter to the lowest tail; a hair is the rounding
    return [
        (one[1], two[1])
        for one, two in itertools.combinations(page.labels, 2)
        if one[0].grown(-0.3).meets(two[0].grown(-0.3))
    ]


def test_no_words_lie_on_others(faces):
    met = [(name, number, pair) for name, number, page in faces for pair in on_each_other(page)]
    assert met == []


def test_the_measure_finds_words_a_point_too_near():
    page = Page(*A6_PT)
    page.text(30.0, 50.0, "Hold", Style("sans", "ink", 10.0))
    page.text(30.0, 58.6, "Veer", Style("sans", "ink", 10.0))
    assert on_each_other(page) == [("Hold", "Veer")]


def test_nothing_is_set_smaller_than_nine_points_or_in_grey(faces):
    sizes, colours = set(), set()
    for _, _, page in faces:
        for row in page.body().split("<text ")[1:]:
            sizes.add(float(row.split('font-size="')[1].split('"')[0]))
            colours.add(row.split('class="')[1].split('"')[0].split()[1])
    assert min(sizes) >= 9.0
    assert colours == {"ink"}


def test_no_words_end_in_dots_for_want_of_room(faces):
    assert [text for _, _, page in faces for _, text in page.labels if "…" in text] == []


def test_a_card_has_a_front_and_a_back_for_every_leaf(faces):
    counted = {}
    for name, number, _ in faces:
        counted.setdefault((name, number), 0)
    for name in {name for name, _ in counted}:
        assert max(number for other, number in counted if other == name) % 2 == 0


# what hangs at the wheel is small: two leaves, one side of A4 (our own rule)
@pytest.mark.parametrize("language", LANGUAGES)
def test_a_card_of_an_ordinary_stay_is_two_leaves_at_most(full, language):
    words = card_words(language)
    content = full(steps=full().steps[:16], outcomes=full().outcomes[:9])
    faces = {card.name: len(card_faces(card, content, words)) for card in pack(content, words)}
    assert faces["helm"] <= 4 and faces["bow"] <= 4 and faces["line"] <= 4
    assert faces["swimmer"] <= 4 and faces["rower"] <= 4 and faces["guests"] <= 2
