"""Lies tried in turn agree with the full judgement, and sharing tables changes nothing."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from shorefast.readers import read_stay
from shorefast.stay import judge
from shorefast.stay.tried import COARSE, FULL, WHOLE, Trier, unlike

DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"


@pytest.fixture(scope="module")
def grey_notch():
    return read_stay(DEMO / "grey_notch" / "stay.toml")


@pytest.fixture(scope="module")
def judged(grey_notch):
    return judge(grey_notch).judgement


# Tables of nine bearings for 31: centimetres of place, which the least room feels most.
def test_a_lie_fully_tried_is_as_it_is_judged(grey_notch, judged):
    tried = Trier(grey_notch, FULL).tried(grey_notch.lie)
    assert tried.worst_use == pytest.approx(np.nanmax(judged.greatest_use), rel=0.02)
    assert tried.found.verdict == judged.verdict
    assert tried.found.leave_by == judged.leave_by_utc
    assert tried.first_to_give == judged.first_to_give


# Every half hour of every member; the bed read every three metres.
def test_a_lie_coarsely_tried_is_within_three_in_a_hundred(grey_notch, judged):
    tried = Trier(grey_notch, WHOLE).tried(grey_notch.lie)
    assert tried.worst_use == pytest.approx(np.nanmax(judged.greatest_use), rel=0.03)


def test_what_was_tried_before_changes_no_answer(grey_notch):
    fresh, used = Trier(grey_notch, COARSE), Trier(grey_notch, COARSE)
    for out_m in (1.0, -1.0):
        used.tried(replace(grey_notch.lie, let_go_east_m=grey_notch.lie.let_go_east_m + out_m))
    one, other = (trier.tried(grey_notch.lie) for trier in (fresh, used))
    assert np.array_equal(one.use, other.use, equal_nan=True)


def test_the_most_unlike_winds_are_those_at_the_ends():
    rows = np.array([[0.0, 0.0], [0.1, 0.0], [5.0, 0.0], [-4.0, 0.0], [0.2, 0.0]])
    assert unlike(rows, 2).tolist() == [2, 3]
