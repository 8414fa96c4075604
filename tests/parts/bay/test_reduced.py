"""Which soundings under way are believed, and the sums that reduce them."""

import numpy as np
import pytest

from shorefast.bay import (
    Doubts,
    at_moments,
    carried,
    frozen,
    reachable,
    reduced,
    rising,
    slope_along,
    steady,
)


def test_a_clock_that_leaps_ahead_once_loses_that_stamp_only():
    assert rising(np.array([1.0, 2.0, 90.0, 3.0, 3.0, 4.0])).tolist() == [
        True, True, False, True, False, True,
    ]  # fmt: skip
    assert rising(np.array([])).size == 0


def test_no_yacht_sails_five_hundred_kilometres_in_a_minute():
    t = np.arange(10.0)
    east = np.where(t < 3, 500e3, 2.0 * t)
    assert reachable(t, east, np.zeros(10)).tolist() == [False] * 3 + [True] * 7


def test_a_place_that_stands_while_she_runs_is_frozen():
    place = np.array([[60.0, 5.0]] * 40 + [[60.1, 5.0]])
    none = np.zeros(41, dtype=bool)
    assert frozen(place, none, np.full(41, 2.0))[:40].all()
    assert not frozen(place, none, np.zeros(41)).any()


def test_nothing_is_drawn_over_a_hole_between_fixes():
    found = at_moments(np.array([0.5, 5.0, 61.0, 62.0]), np.array([0.0, 1.0, 60.0, 62.0]),
                       np.array([[0.0, 1.0, 60.0, 62.0]]))  # fmt: skip
    assert found[0][[0, 2, 3]] == pytest.approx([0.5, 61.0, 62.0])
    assert np.isnan(found[0][1])


@pytest.mark.parametrize(("heading", "east", "north"), [(0, 2.0, 7.0), (90, 7.0, -2.0)])
def test_seven_ahead_and_two_to_starboard(heading, east, north):
    found = carried(np.zeros(1), np.zeros(1), np.radians([float(heading)]), 7.0, 2.0)
    assert [float(one[0]) for one in found] == pytest.approx([east, north, 0.0])


def test_an_arm_with_no_heading_is_doubt():
    east, north, doubt = carried(np.zeros(1), np.zeros(1), np.array([np.nan]), 3.0, 4.0)
    assert (east[0], north[0], doubt[0]) == pytest.approx((0.0, 0.0, 5.0 / np.sqrt(2.0)))


def test_high_water_makes_the_bed_higher_than_the_depth_alone_says():
    doubts = Doubts(0.3, 0.0, 0.0, 0.0, 0.0, 0.0, 0.4)
    level, deviation = reduced(*np.array([[5.0], [1.5], [0.0], [9.0]]), doubts)
    assert (level[0], deviation[0]) == pytest.approx((-3.5, 0.5))


def test_a_fix_in_doubt_on_a_slope_is_depth_in_doubt():
    doubts = Doubts(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    # 3 m each way on 0.1 along and 0.1 across
    _, deviation = reduced(*np.array([[5.0], [0.0], [0.1], [3.0]]), doubts)
    assert deviation[0] == pytest.approx(0.3 * np.sqrt(2.0))


def test_a_slope_of_one_in_four_is_seen_along_the_track():
    run = np.arange(30.0) * 3.0
    assert slope_along(run, np.zeros(30), 4.0 + run / 4.0)[10] == pytest.approx(0.25)


def test_a_long_false_echo_between_equal_depths_goes():
    t = np.arange(120.0)
    depth = np.where((t > 50) & (t < 75), 45.0, 6.0)
    bad = steady(t, np.zeros(120), np.zeros(120), depth)
    assert ((bad.false_echo | bad.unsteady) == (depth > 40.0)).all()


def test_a_step_in_the_bed_stays():
    t = np.arange(200.0)
    bad = steady(t, np.zeros(200), np.zeros(200), np.where(t < 100, 6.0, 9.0))
    assert not (bad.false_echo | bad.unsteady).any()
