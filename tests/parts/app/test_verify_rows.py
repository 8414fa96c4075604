"""When a row passes, fails, or has nothing to be held against."""

from __future__ import annotations

import math

import pytest

from shorefast.app.verification.listing import count_line, listing
from shorefast.app.verification.rows import Place, Row, Value, Wanted, rows_of

PLACE = Place("x.json", "A1", "by hand")


def row(field: str, got: Value, expected: Value, tolerance: float | None) -> Row:
    tolerances = {} if tolerance is None else {field: tolerance}
    (made,) = rows_of(PLACE, {field: got}, Wanted({field: expected}, tolerances))
    return made


@pytest.mark.parametrize(
    ("got", "expected", "tolerance", "passed"),
    [
        (799.9, 800.0, 0.2, True),
        (799.9, 800.0, 0.05, False),
        (800.0, 800.0, 0.0, True),
        (799.9, 800.0, None, None),
        (799.9, None, 0.2, None),
        (None, 800.0, 0.2, False),
        (None, 800.0, None, False),
        (None, None, None, None),
        ("found", "found", None, True),
        ("none", "found", None, False),
        (True, True, None, True),
        (None, False, None, False),
    ],
)
def test_a_value_passes_inside_its_tolerance_and_an_unknown_one_never(
    got: Value, expected: Value, tolerance: float | None, passed: bool | None
) -> None:
    assert row("H_N", got, expected, tolerance).passed is passed


@pytest.mark.parametrize(("got", "expected"), [(359.9, 0.05), (0.05, 359.9), (-0.1, 360.0)])
def test_headings_compare_round_the_circle(got: float, expected: float) -> None:
    assert row("heading_deg", got, expected, 0.2).passed is True
    assert row("E_m", got, expected, 0.2).passed is False


def test_what_is_not_a_number_is_unknown() -> None:
    assert row("H_N", math.nan, 800.0, 1e9).got is None
    assert row("H_N", math.inf, 800.0, 1e9).passed is False


def test_a_row_has_the_keys_of_the_answer_in_their_order() -> None:
    assert row("H_N", 1.0, 2.0, 3.0).keys == {
        "file": "x.json",
        "case": "A1",
        "field": "H_N",
        "got": 1.0,
        "expected": 2.0,
        "tolerance": 3.0,
        "pass": True,
        "source": "by hand",
    }


def test_the_table_shows_what_is_out_and_counts_it() -> None:
    rows = [
        row("H_N", 1.0, 2.0, 0.5),
        row("heading_deg", 359.5, 0.0, 1.0),
        row("slack", False, None, None),
    ]
    assert listing(rows) == (
        "x.json\n"
        "     case  field        expected    got     error  tolerance  source\n"
        "OUT  A1    H_N                 2      1  -1.0e+00        0.5  by hand\n"
        "in   A1    heading_deg         0  359.5  -5.0e-01          1  by hand\n"
        "     A1    slack               -     no                       by hand\n"
        "x.json: 2 checked, 1 out of tolerance, "
        "1 more computed with no tolerance to hold them against.\n\n"
        "All together: 2 checked, 1 out of tolerance, "
        "1 more computed with no tolerance to hold them against."
    )


def test_a_clean_count_says_no_more_than_that() -> None:
    assert count_line("x.json", [row("H_N", 1.0, 1.0, 0.5)]) == (
        "x.json: 1 checked, 0 out of tolerance."
    )
