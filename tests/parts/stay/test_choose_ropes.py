"""Which rope goes where, of those aboard, when a lie is put together."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from shorefast.boat import Cleat, Spot
from shorefast.readers import read_stay
from shorefast.stay.choose_lies import line_for
from shorefast.stay.plan import LieLine

DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"


@pytest.fixture(scope="module")
def boat():
    return read_stay(DEMO / "grey_notch" / "stay.toml").boat


def cleat(forward: bool, starboard: bool) -> Cleat:
    return Cleat("here", Spot(5.0 if forward else -6.0, 1.0 if starboard else -1.0, 1.4))


@pytest.mark.parametrize(
    ("forward", "starboard", "name"),
    [
        (False, False, "port stern line"),
        (False, True, "starboard stern line"),
        (True, False, "breast line"),
        (True, True, "breast line"),
    ],
)
def test_of_ropes_that_are_alike_the_one_named_for_the_place_goes_there(
    boat, forward, starboard, name
):
    assert line_for(boat, (), cleat(forward, starboard), 40.0).name == name


def test_a_breast_line_is_left_for_the_bow(boat):
    first = LieLine("port stern line", "port quarter", "notch birch", 23.0)
    assert line_for(boat, (first,), cleat(True, False), 40.0).name == "breast line"


def test_a_rope_of_another_kind_never_goes_before_its_turn_for_its_name(boat):
    first, second, *others = boat.lines
    thinner = replace(second, diameter_m=0.5 * second.diameter_m)
    other = replace(boat, lines=(first, thinner, *others))
    # the first rope long enough is taken as ever: names choose among what is alike
    assert line_for(other, (), cleat(False, True), 40.0).name != thinner.name


def test_too_short_a_rope_is_passed_over_whatever_its_name(boat):
    short = replace(boat.lines[0], length_m=10.0)
    other = replace(boat, lines=(short, *boat.lines[1:]))
    assert line_for(other, (), cleat(False, False), 40.0).name != "port stern line"
