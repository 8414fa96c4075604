"""Several forecast files for one place made into one."""

from __future__ import annotations

import math

import numpy as np

from shorefast.basis import Basis
from shorefast.weather import Wind, gathered, joined

U = math.nan


def wind(members, times, speed, gust, over_s=0.0):
    start = np.datetime64("2026-06-24T00:00:00", "s")
    shape = np.asarray(speed, float)
    return Wind(
        member=np.array(members),
        time_utc=np.array([start + np.timedelta64(3600 * t, "s") for t in times]),
        wind_mps=shape,
        wind_from_rad=np.where(np.isnan(shape), U, 1.0),
        gust_mps=np.asarray(gust, float),
        gust_over_s=over_s,
        height_m=10.0,
        basis=Basis(),
    )


def test_a_file_of_winds_and_a_file_of_gusts_make_one_forecast():
    winds = wind([1, 2], [0, 1], [[5, 6], [7, 8]], [[U, U], [U, U]])
    gusts = wind([1, 2], [0, 1], [[U, U], [U, U]], [[9, 10], [11, 12]])
    both = joined([winds, gusts])
    assert both.member.tolist() == [1, 2]
    np.testing.assert_allclose(both.wind_mps, winds.wind_mps)
    np.testing.assert_allclose(both.gust_mps, gusts.gust_mps)


def test_files_of_one_hour_each_make_one_row_of_hours():
    files = [wind([0], [t], [[5.0 + t]], [[8.0 + t]]) for t in (2, 0, 1)]
    one = joined(files)
    np.testing.assert_allclose(one.wind_mps, [[5, 6, 7]])
    assert np.all(np.diff(one.time_utc) > np.timedelta64(0, "s"))


def test_two_different_forecasts_bring_their_members_side_by_side():
    one = wind([0, 1], [0, 1], [[5, 6], [7, 8]], [[8, 9], [10, 11]])
    other = wind([0], [0, 1], [[15, 16]], [[18, 19]])
    both = joined([one, other])
    assert both.member.tolist() == [0, 1, 2]
    np.testing.assert_allclose(both.wind_mps[2], [15, 16])


def test_a_coarser_forecast_is_read_between_its_hours_where_it_stands_beside_another():
    one = wind([0], [0, 1, 2], [[5, 6, 7]], [[8, 9, 10]])
    other = wind([0], [0, 2], [[15, 17]], [[18, 20]])
    np.testing.assert_allclose(joined([one, other]).wind_mps, [[5, 6, 7], [15, 16, 17]])
    np.testing.assert_allclose(
        joined([one, other], own_times_only=True).wind_mps, [[5, 6, 7], [15, U, 17]]
    )


def test_gusts_over_six_hours_join_hourly_winds():
    winds = wind([0], range(7), [[5] * 7], [[U] * 7])
    gusts = wind([0], [6], [[U]], [[14]], over_s=21600.0)
    both = joined([winds, gusts])
    np.testing.assert_allclose(both.gust_mps, [[14] * 7])
    np.testing.assert_allclose(both.wind_mps, [[5] * 7])


def test_gusts_of_one_member_in_one_hour_stay_apart():
    cove = wind([0, 0, 1, 1], [0, 1], [[1, 1], [2, 2], [3, 3], [4, 4]], [[5, 5]] * 4)
    later = wind([0, 0, 1, 1], [2], [[1], [2], [3], [4]], [[5]] * 4)
    assert joined([cove, later]).member.tolist() == [0, 0, 1, 1]


def test_the_same_file_twice_is_one_forecast():
    one = wind([0, 1], [0, 1], [[5, 6], [7, 8]], [[8, 9], [10, 11]])
    assert len(gathered([one, one])) == 1


def test_gust_spans_of_different_length_are_said():
    six = wind([0], [6], [[5]], [[14]], over_s=21600.0)
    three = wind([1], [6], [[5]], [[15]], over_s=10800.0)
    both = joined([six, three])
    assert both.gust_over_s == 21600.0
    assert [found.said for found in both.basis.findings] == [
        "gusts of the files hold for spans of different length; all are taken for the longest"
    ]
