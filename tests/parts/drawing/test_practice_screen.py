"""The screen of practice fits its terminal, and shows the same in the same places."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

import shorefast
from shorefast.drawing import LEAST_COLUMNS, LEAST_ROWS, Screen, screen_rows, shown_of
from shorefast.drawing.dots import Dots
from shorefast.manoeuvre import Order, Rehearsal, Setting, practice, seen_at, sounded_m, wind_at
from shorefast.readers import read_stay

DEMO = Path(shorefast.__file__).parent / "demo"
SAID = ("Anchor on the bottom, 30 m of chain out.", "x" * 200)


@pytest.fixture(scope="module", params=["grey_notch", "stone_spur", "tres_sombras"])
def way(request):
    made = Rehearsal(practice(read_stay(DEMO / request.param / "stay.toml"), Setting()))
    made.on([Order("helm by crew"), Order("chain by crew")])
    while made.t_s < 150.0:
        made.on()
    return made


def _screen(way, **more):
    one, moment = way.practice, way.moments[-1]
    sounded = sounded_m(one, moment.deck, seen_at(one, moment))
    return Screen(
        one, shown_of(one), moment, way.rows[-1], wind_at(one, moment), sounded, SAID, 1,
        "time x2", **more,
    )  # fmt: skip


@pytest.mark.parametrize("size", [(LEAST_COLUMNS, LEAST_ROWS), (120, 40), (200, 60)])
@pytest.mark.parametrize("look", [{}, {"near": True}, {"keys": True}])
def test_every_row_is_as_wide_as_the_terminal(way, size, look):
    rows = screen_rows(_screen(way, **look), *size)
    assert len(rows) == size[1]
    assert {len(row) for row in rows} == {size[0]}
    assert all(row.isprintable() for row in rows)


def test_on_the_least_terminal_nothing_read_off_and_no_key_is_cut(way):
    rows = screen_rows(_screen(way), LEAST_COLUMNS, LEAST_ROWS)
    assert [row for row in rows[:-3] if "…" in row] == []
    assert "…" not in rows[-1]
    keys = screen_rows(_screen(way, keys=True), LEAST_COLUMNS, LEAST_ROWS)
    assert [row for row in keys[:-3] if "…" in row] == []


def test_what_a_helm_needs_is_there(way):
    text = "\n".join(screen_rows(_screen(way), LEAST_COLUMNS, LEAST_ROWS))
    for name in ("Helm", "Engine", "Way", "Heading", "Off way", "Stern", "Sounder", "Wind",
                 "Chain", "Lead", "Pull", "Line 1"):  # fmt: skip
        assert name in text
    assert "2:30" in text and "time x2" in text


def _places(rows):
    """Row and column of the bow and the anchor on the plan."""
    plan = [row[:49] for row in rows[1:-3]]
    return {
        sign: (y, row.index(sign)) for sign in "BA" for y, row in enumerate(plan) if sign in row
    }


def test_the_bow_points_down_the_screen_and_the_anchor_lies_below_it(way):
    found = _places(screen_rows(_screen(way), LEAST_COLUMNS, LEAST_ROWS))
    assert found["A"][0] >= found["B"][0]


def test_the_plan_is_drawn_the_same_twice(way):
    first = screen_rows(_screen(way), 100, 30)
    assert first == screen_rows(_screen(way), 100, 30)


def test_a_dot_has_its_bit_and_a_letter_stands_over_dots():
    dots = Dots(2, 1)
    dots.spots(np.array([(0.5, 0.5), (3.5, 3.5), (9.0, 0.0), (-1.0, 0.0)]))
    # braille: dot 1 is the upper left one, dot 8 the lower right one (Unicode, block 2800)
    assert dots.said() == ["⠁⢀"]
    dots.letter((0.0, 0.0), "A")
    dots.letter((1.0, 3.0), "B")
    assert dots.said() == ["A⢀"]


def test_a_line_of_dots_is_whole():
    dots = Dots(4, 1)
    dots.line(np.array([(0.0, 0.0), (7.0, 0.0)]))
    assert dots.said() == ["⠉⠉⠉⠉"]
