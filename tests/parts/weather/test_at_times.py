"""A forecast and a tide table read at the hours of a stay."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.basis import Basis
from shorefast.weather import WaterLevel, Wind, level_at, wind_at


def hours(*numbers):
    return np.array(
        [
            np.datetime64("2026-06-24T17:00:00", "s") + np.timedelta64(round(3600 * n), "s")
            for n in numbers
        ]
    )


def wind(times, speed, from_deg, gust, over_s=0.0):
    return Wind(
        member=np.arange(len(speed)),
        time_utc=hours(*times),
        wind_mps=np.array(speed, float),
        wind_from_rad=np.radians(np.array(from_deg, float)),
        gust_mps=np.array(gust, float),
        gust_over_s=over_s,
        height_m=10.0,
        basis=Basis(),
    )


def water(times, heights, turning):
    return WaterLevel(hours(*times), np.array(heights, float), turning, Basis())


def test_wind_between_two_hours_lies_on_a_straight_line():
    at = wind_at(wind([0, 2], [[10, 14]], [[90, 130]], [[20, 24]]), hours(0.5))
    assert at.wind_mps[0, 0] == pytest.approx(11)
    assert np.degrees(at.wind_from_rad[0, 0]) == pytest.approx(100)
    assert at.gust_mps[0, 0] == pytest.approx(21)


@pytest.mark.parametrize(
    ("before", "after", "between"), [(350, 10, 0), (10, 350, 0), (200, 170, 185), (0, 180, 90)]
)
def test_direction_goes_round_the_short_way(before, after, between):
    at = wind_at(wind([0, 1], [[5, 5]], [[before, after]], [[5, 5]]), hours(0.5))
    away = (np.degrees(at.wind_from_rad[0, 0]) - between + 180) % 360 - 180
    assert away == pytest.approx(0, abs=1e-9)


def test_at_the_files_own_hours_its_own_values_come_back():
    given = wind([0, 1, 3], [[5, 6, 7]], [[350, 10, 355]], [[8, 9, 10]])
    at = wind_at(given, given.time_utc)
    np.testing.assert_allclose(at.wind_mps, given.wind_mps)
    np.testing.assert_allclose(at.wind_from_rad, given.wind_from_rad)
    np.testing.assert_allclose(at.gust_mps, given.gust_mps)


def test_before_and_after_the_file_the_wind_is_unknown():
    at = wind_at(wind([0, 1], [[5, 6]], [[0, 0]], [[7, 8]]), hours(-0.1, 0, 1, 1.1))
    assert np.isnan(at.wind_mps[0]).tolist() == [True, False, False, True]
    assert np.isnan(at.wind_from_rad[0]).tolist() == [True, False, False, True]
    assert np.isnan(at.gust_mps[0]).tolist() == [True, False, False, True]


def test_an_unknown_hour_leaves_its_neighbours_known():
    at = wind_at(
        wind([0, 1, 2], [[5, math.nan, 7]], [[0, 0, 0]], [[7, 8, 9]]), hours(0, 0.5, 1, 1.5, 2)
    )
    assert np.isnan(at.wind_mps[0]).tolist() == [False, True, True, True, False]


def test_the_most_of_six_hours_holds_for_all_six():
    given = wind([6, 12], [[5, 5]], [[0, 0]], [[10, 16]], over_s=21600.0)
    at = wind_at(given, hours(-0.1, 0, 3, 5.9, 6, 6.1, 12))
    expected = [math.nan, 10, 10, 10, 16, 16, 16]
    np.testing.assert_allclose(at.gust_mps[0], expected)
    assert at.gust_over_s == 0.0


def test_a_gust_span_that_leaves_a_hole_says_nothing_of_the_hole():
    given = wind([3, 9], [[5, 5]], [[0, 0]], [[10, 16]], over_s=3 * 3600.0)
    at = wind_at(given, hours(2, 4, 7))
    np.testing.assert_allclose(at.gust_mps[0], [10, math.nan, 16])


def test_a_forecast_of_one_hour_speaks_of_that_hour_only():
    at = wind_at(wind([2], [[5]], [[40]], [[7]]), hours(1, 2, 3))
    assert np.isnan(at.wind_mps[0]).tolist() == [True, False, True]


def test_members_keep_their_rows():
    at = wind_at(wind([0, 1], [[4, 6], [8, 12]], [[0, 0], [90, 90]], [[5, 7], [9, 13]]), hours(0.5))
    np.testing.assert_allclose(at.wind_mps[:, 0], [5, 10])


def test_the_tide_stands_half_way_at_half_time():
    given = water([0, 6.25], [0.4, 4.7], turning=True)
    assert level_at(given, hours(3.125))[0] == pytest.approx(2.55)


# Rule of twelfths worked in print: low water 2 m at noon, high water 14 m at 18:00, 15:00 -> 8 m.
def test_half_way_up_the_rule_of_twelfths_agrees():
    given = water([0, 6], [2.0, 14.0], turning=True)
    assert level_at(given, hours(3))[0] == pytest.approx(8.0)


# The rule's fractions at whole hours are 1, 3, 6, 9, 11, 12 of 12; it is a rule for the head and
# is said to lie within 0.017 of the range of the half cosine.
@pytest.mark.parametrize(
    ("hour", "twelfths"), [(0, 0), (1, 1), (2, 3), (3, 6), (4, 9), (5, 11), (6, 12)]
)
def test_the_half_cosine_lies_near_the_rule_of_twelfths(hour, twelfths):
    given = water([0, 6], [0.0, 1.0], turning=True)
    assert level_at(given, hours(hour))[0] == pytest.approx(twelfths / 12, abs=0.0171)


def test_heights_in_a_row_are_joined_by_straight_lines():
    given = water([0, 1, 2], [1.0, 3.0, 2.0], turning=False)
    np.testing.assert_allclose(level_at(given, hours(0.25, 1.5)), [1.5, 2.5])


def test_before_and_after_the_table_the_water_is_unknown():
    given = water([0, 6], [0.4, 4.7], turning=True)
    assert np.isnan(level_at(given, hours(-0.01, 0, 6, 6.01))).tolist() == [
        True,
        False,
        False,
        True,
    ]
