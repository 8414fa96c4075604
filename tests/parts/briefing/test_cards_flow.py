"""Pieces set face after face: nothing lost, headings with what they head, heads again overleaf."""

import pytest

from shorefast.briefing.cards.blocks import (
    LEAST_PT,
    NUMBER_PT,
    Cell,
    Column,
    blank_table,
    bullets,
    heading,
    number_style,
    paragraph,
    ruled,
    table,
    text_rows,
)
from shorefast.briefing.cards.flow import Piece, flow, together
from shorefast.drawing import Page


def piece(high=30.0, **also):
    return Piece(high, lambda page, top: None, **also)


def rooms(face):
    return 0.0, 100.0


def drawn(faces):
    """The words of every face in the order they are set."""
    told = []
    for face in faces:
        page = Page(300.0, 420.0)
        for one in face:
            one.piece.draw(page, one.top_pt)
        told.append([text for _, text in page.labels])
    return told


def test_pieces_go_on_overleaf_and_none_is_lost():
    faces = flow([piece() for _ in range(10)], rooms)
    assert [len(face) for face in faces] == [3, 3, 3, 1]
    assert all(one.top_pt + one.piece.high_pt <= 100.0 for face in faces for one in face)


def test_the_gap_above_is_left_out_at_the_top_of_a_face():
    faces = flow([piece(50.0, above_pt=9.0) for _ in range(2)], rooms)
    assert [one.top_pt for face in faces for one in face] == [0.0, 0.0]


def test_a_heading_stays_with_what_it_heads():
    first, head, below = piece(60.0), piece(20.0, keep=True), piece(30.0)
    assert [len(face) for face in flow([first, head, below], rooms)] == [1, 2]


def test_what_is_kept_together_and_too_high_for_a_face_is_parted_not_lost():
    faces = flow(together([piece(40.0) for _ in range(5)]), rooms)
    assert [len(face) for face in faces] == [2, 2, 1]


def test_a_table_goes_on_under_its_own_names():
    rows = [[Cell(f"row {n}"), Cell(str(n), number=True)] for n in range(12)]
    told = drawn(flow(table([Column("what", 2.0), Column("number", 1.0)], rows), rooms))
    assert len(told) > 2
    assert all(face[:2] == ["what", "number"] for face in told)
    assert [text for face in told for text in face if text.startswith("row")] == [
        f"row {n}" for n in range(12)
    ]


def test_a_heading_is_not_left_alone_before_a_table():
    pieces = (piece(60.0), *heading("Calls"), *table([Column("x", 1.0)], [[Cell("1")]]))
    faces = drawn(flow(pieces, rooms))
    assert "Calls" not in faces[0] and faces[1][0] == "Calls"


@pytest.mark.parametrize("text", ["12", "1,7 nœuds", "1 234 567 890 123 metres and more"])
def test_a_key_number_is_never_set_under_sixteen_points(text):
    (_, row) = table([Column("a", 1.0), Column("b", 3.0)], [[Cell(text, number=True), Cell("x")]])
    page = Page(300.0, 420.0)
    row.draw(page, 10.0)
    sizes = [float(part.split('"')[0]) for part in page.body().split('font-size="')[1:]]
    assert sizes[0] >= NUMBER_PT[1]


def test_words_too_long_for_a_row_go_to_the_next_and_a_long_word_is_broken():
    word = "Donaudampfschifffahrtsgesellschaftskapitänsmützenabzeichen" * 2
    (page,) = drawn(flow((*paragraph(word), *bullets([word])), lambda _: (0.0, 400.0)))
    assert "".join(page).replace("–", "") == word * 2


def test_lines_to_write_on_keep_their_order():
    labels = ["Time", "A long thing that is asked for here and needs the whole", "Off", "Chain"]
    (page,) = drawn(flow(ruled(labels), lambda _: (0.0, 400.0)))
    assert " ".join(page) == " ".join(labels)


def test_a_log_has_the_hours_it_was_given():
    (page,) = drawn(flow(blank_table([("time", 1.0), ("wind", 1.0)], ["18:00", "19:00"]), rooms))
    assert page == ["time", "wind", "18:00", "19:00"]


def test_unknown_in_place_of_a_key_number_is_one_word_in_one_row():
    narrow = 44.0
    style = number_style("unknown", narrow)
    assert style.size_pt >= LEAST_PT
    assert text_rows("unknown", style, narrow) == ["unknown"]
    assert number_style("55°", narrow).size_pt >= 16.0
