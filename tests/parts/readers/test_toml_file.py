"""Every mistake in a TOML file is answered with file, line and key."""

import math
from datetime import UTC, datetime

import pytest

from shorefast.errors import BadInput, Unreadable
from shorefast.readers.toml_file import parse_toml

TEXT = """\
name = "Salt Thistle"

[hull]
length_ft = 40
beam_m = 4.1

[[cleat]]
name = "port quarter"
x_m = -6.4

[[cleat]]
name = "port bow"
x_m = "forward"
"""


def _table(text=TEXT):
    return parse_toml(text, "boat.toml")


def _said(call, *given, **named):
    with pytest.raises((BadInput, Unreadable)) as told:
        call(*given, **named)
    return told.value.sentence


def test_any_unit_of_the_kind_is_taken_and_ends_in_si():
    hull = _table().need_table("hull")
    # The international foot is 0.3048 m exactly (agreement of 1959).
    assert hull.need("length", "length") == pytest.approx(12.192, abs=1e-12)
    assert hull.need("beam", "length") == 4.1
    assert hull.quantity("draught", "length") is None


def test_a_degree_ends_as_a_radian():
    table = parse_toml("heading_deg = 90", "stay.toml")
    assert table.need("heading", "angle") == pytest.approx(math.pi / 2, abs=1e-15)


def test_a_time_without_a_zone_is_utc_and_one_with_a_zone_is_turned():
    text = 'a_utc = 2026-07-01T21:40:00\nb_utc = "2026-07-01T23:40:00+02:00"'
    table = parse_toml(text, "stay.toml")
    assert table.need_moment("a_utc") == datetime(2026, 7, 1, 21, 40, tzinfo=UTC)
    assert table.need_moment("b_utc") == datetime(2026, 7, 1, 21, 40, tzinfo=UTC)


def test_an_empty_file_is_answered():
    assert _said(parse_toml, " \n", "boat.toml") == (
        "boat.toml: it is empty, TOML wanted. See docs/files.md for an example."
    )


def test_a_file_that_is_no_toml_is_answered_with_its_line():
    assert _said(parse_toml, "name = Salt", "boat.toml") == (
        "boat.toml: not TOML (Invalid value (at line 1, column 8)). "
        "Correct that line; docs/files.md has an example."
    )


def test_a_missing_key_is_answered():
    hull = _table().need_table("hull")
    assert _said(hull.need, "draught", "length") == (
        "boat.toml, line 3, [hull]: draught_m is missing, a number wanted. Add draught_m = ..."
    )


def test_a_missing_text_is_answered():
    assert _said(_table("[anchor]\nmass_kg = 20").need_table("anchor").need_text, "class") == (
        "boat.toml, line 1, [anchor]: class is missing, a text wanted. Add class = ..."
    )


def test_a_missing_table_is_answered():
    assert _said(_table().need_table, "anchor") == (
        "boat.toml: [anchor] is missing, it is needed. Add [anchor]."
    )


def test_a_missing_time_is_answered():
    assert _said(_table().need_moment, "from_utc") == (
        "boat.toml: from_utc is missing, a time in UTC wanted. Add from_utc = ..."
    )


def test_a_number_without_a_unit_is_answered():
    table = _table("[hull]\nlength = 12").need_table("hull")
    assert _said(table.need, "length", "length") == (
        "boat.toml, line 2, [hull] length: length = 12 has no unit, a key ends in its unit "
        "(length_m, length_ft, length_fathoms, length_km, length_nm, length_cm, length_mm, "
        "length_in). Write length_m = ..."
    )


def test_a_number_given_twice_is_answered():
    table = _table("[hull]\nlength_m = 12\nlength_ft = 40").need_table("hull")
    assert _said(table.need, "length", "length") == (
        "boat.toml, line 3, [hull] length_ft: length_m and length_ft, one is enough. Take one out."
    )


def test_a_word_for_a_number_is_answered():
    bow = _table().tables("cleat")[1]
    assert _said(bow.need, "x", "length") == (
        "boat.toml, line 13, [[cleat]] port bow x_m: 'forward', a number wanted. Correct it."
    )


@pytest.mark.parametrize("word", ["true", "[1]"])
def test_true_is_no_number(word):
    table = _table(f"[hull]\nlength_m = {word}").need_table("hull")
    assert _said(table.need, "length", "length") == (
        f"boat.toml, line 2, [hull] length_m: {word}, a number wanted. Correct it."
    )


def test_infinity_is_no_length():
    table = _table("[hull]\nlength_m = inf").need_table("hull")
    assert _said(table.need, "length", "length") == (
        "boat.toml, line 2, [hull] length_m: inf, a finite number wanted. "
        "Correct it, or leave the key out if nobody knows."
    )


def test_a_range_is_told_in_the_unit_given():
    hull = _table().need_table("hull")
    assert _said(hull.need, "length", "length", most=6.096) == (
        "boat.toml, line 4, [hull] length_ft: 40, at most 20 wanted. Correct it."
    )
    assert _said(hull.need, "length", "length", least=15.24) == (
        "boat.toml, line 4, [hull] length_ft: 40, at least 50 wanted. Correct it."
    )


def test_nothing_is_not_more_than_nothing():
    table = _table("[hull]\nlength_m = 0").need_table("hull")
    assert _said(table.need, "length", "length", above=0.0) == (
        "boat.toml, line 2, [hull] length_m: 0, more than 0 wanted. Correct it."
    )


def test_a_text_that_is_none_is_answered():
    assert _said(_table("name = 3").need_text, "name") == (
        "boat.toml, line 1, name: 3, a text in quotes wanted. Correct it."
    )
    assert _said(_table('name = " "').need_text, "name") == (
        "boat.toml, line 1, name: ' ', a text in quotes wanted. Correct it."
    )


def test_a_word_outside_the_few_is_answered():
    table = _table('depth = "below"')
    assert _said(table.choice, "depth", ("down", "up")) == (
        "boat.toml, line 1, depth: 'below', one of down, up wanted. Correct it."
    )


def test_yes_is_neither_true_nor_false():
    assert _said(_table('doubled = "yes"').flag, "doubled", False) == (
        "boat.toml, line 1, doubled: 'yes', true or false wanted. Correct it."
    )


@pytest.mark.parametrize(("given", "shown"), [('"tonight"', "'tonight'"), ("17", "17")])
def test_what_is_no_time_is_answered(given, shown):
    assert _said(_table(f"from_utc = {given}").need_moment, "from_utc") == (
        f"boat.toml, line 1, from_utc: {shown}, "
        'a time wanted, like "2026-07-01T21:40:00Z". Correct it.'
    )


def test_a_value_for_a_table_is_answered():
    assert _said(_table("hull = 3").table, "hull") == (
        "boat.toml, line 1, hull: hull, a table [hull] wanted. Correct it."
    )
    assert _said(_table("cleat = 1").tables, "cleat") == (
        "boat.toml, line 1, cleat: cleat, tables [[cleat]] wanted. Correct it."
    )


def test_an_unknown_key_is_answered_with_the_nearest():
    table = _table("[hull]\nbeam_m = 4\ndraft_m = 2")
    hull = table.need_table("hull")
    hull.need("beam", "length")
    hull.quantity("draught", "length")
    assert _said(table.refuse_unknown) == (
        "boat.toml, line 3, [hull] draft_m: draft_m is not known here. Take it out."
    )


def test_an_unknown_key_close_to_one_taken_names_it():
    table = _table("[hull]\nbeem_m = 4\nbeam_m = 4")
    table.need_table("hull").need("beam", "length")
    assert _said(table.refuse_unknown) == (
        "boat.toml, line 2, [hull] beem_m: beem_m is not known here. Did you mean beam_m?"
    )


def test_a_table_of_an_arrays_table_knows_its_line():
    table = _table('[[run]]\n[run.tide]\nfile = "a"\n[[run]]\n[run.tide]\nfile = 3\n')
    first, second = (one.need_table("tide") for one in table.tables("run"))
    assert first.where("file") == "boat.toml, line 3, [run.tide] file"
    assert _said(second.text, "file") == (
        "boat.toml, line 6, [run.tide] file: 3, a text in quotes wanted. Correct it."
    )


def test_a_files_name_alone_stands_for_a_table_with_that_file():
    for text in ('tide = "a.csv"', 'tide = {file = "a.csv"}', '[tide]\nfile = "a.csv"'):
        table = _table(text)
        assert table.table_or_file("tide").need_text("file") == "a.csv"
        table.refuse_unknown()
    assert _table("a = 1").table_or_file("tide") is None
    assert _said(_table("tide = 3").table_or_file, "tide") == (
        "boat.toml, line 1, tide: tide, a table [tide] wanted. Correct it."
    )
    assert _said(_table('tide = " "').table_or_file, "tide") == (
        "boat.toml, line 1, tide: ' ', a text in quotes wanted. Correct it."
    )
