"""What the land round a bay makes of the forecast's wind."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.basis import Basis
from shorefast.bay import WindSector
from shorefast.weather import DEFAULT_SPREAD_RAD, Wind, in_the_bay, to_both_sides


def wind(speed, from_deg, gust):
    return Wind(
        member=np.zeros(1, dtype=np.int64),
        time_utc=np.array(["2026-06-24T17:00:00"], dtype="datetime64[s]"),
        wind_mps=np.array([[speed]], float),
        wind_from_rad=np.radians(np.array([[from_deg]], float)),
        gust_mps=np.array([[gust]], float),
        gust_over_s=0.0,
        height_m=10.0,
        basis=Basis(),
    )


def sector(from_deg=270.0, until_deg=350.0, **more):
    return WindSector(math.radians(from_deg), math.radians(until_deg), **more)


def gust_of(bay_wind):
    return float(bay_wind.gust_mps[0, 0])


def test_a_factor_multiplies_the_mean_and_not_the_gust():
    assert gust_of(in_the_bay(wind(10, 300, 14), [sector(factor=1.8)])) == pytest.approx(18)


def test_a_forecast_gust_above_the_factors_stays():
    assert gust_of(in_the_bay(wind(10, 300, 22), [sector(factor=1.8)])) == pytest.approx(22)


def test_shelter_never_takes_a_gust_down():
    assert gust_of(in_the_bay(wind(10, 300, 14), [sector(factor=0.5)])) == pytest.approx(14)


def test_a_factor_stands_in_for_a_gust_the_forecast_does_not_give():
    assert gust_of(in_the_bay(wind(10, 300, math.nan), [sector(factor=1.8)])) == pytest.approx(18)


def test_shelter_does_not_stand_in_for_an_unknown_gust():
    assert math.isnan(gust_of(in_the_bay(wind(10, 300, math.nan), [sector(factor=0.5)])))


def test_a_fall_wind_comes_as_hard_as_the_skipper_knows_it():
    assert gust_of(in_the_bay(wind(10, 300, 14), [sector(gust_mps=30.0)])) == pytest.approx(30)


def test_a_fall_wind_weaker_than_the_forecast_changes_nothing():
    assert gust_of(in_the_bay(wind(10, 300, 14), [sector(gust_mps=12.0)])) == pytest.approx(14)


def test_wind_from_another_sector_is_left_alone():
    inside = in_the_bay(wind(10, 90, 14), [sector(factor=1.8, turn_rad=0.5, spread_rad=0.1)])
    assert gust_of(inside) == pytest.approx(14)
    assert np.degrees(inside.wind_from_rad[0, 0]) == pytest.approx(90)
    assert inside.spread_rad[0, 0] == pytest.approx(DEFAULT_SPREAD_RAD)


@pytest.mark.parametrize(("from_deg", "hit"), [(350, True), (10, True), (340, True), (20, False)])
def test_a_sector_may_lie_across_north(from_deg, hit):
    inside = in_the_bay(wind(10, from_deg, 11), [sector(340, 20, factor=2.0)])
    assert gust_of(inside) == pytest.approx(20 if hit else 11)


def test_a_sector_from_a_bearing_round_to_itself_is_the_whole_round():
    assert gust_of(in_the_bay(wind(10, 123, 11), [sector(0, 360, factor=2.0)])) == pytest.approx(20)


def test_the_land_turns_the_wind_clockwise():
    inside = in_the_bay(wind(10, 340, 14), [sector(turn_rad=math.radians(30))])
    assert np.degrees(inside.wind_from_rad[0, 0]) == pytest.approx(10)


def test_the_skippers_spread_is_carried():
    inside = in_the_bay(wind(10, 300, 14), [sector(spread_rad=math.radians(40))])
    assert np.degrees(inside.spread_rad[0, 0]) == pytest.approx(40)
    assert not any("our default" in held.said for held in inside.basis.assumptions)


def test_without_sectors_the_wide_default_is_said_to_be_ours():
    inside = in_the_bay(wind(10, 300, 14), [])
    assert np.degrees(inside.spread_rad[0, 0]) == pytest.approx(20)
    assert [held.said for held in inside.basis.assumptions] == [
        "Where the bay file gives no spread, the wind's direction in the bay is known to 20 "
        "degrees (one standard deviation, our default)."
    ]


def test_where_sectors_overlap_the_first_counts():
    both = [sector(factor=1.5), sector(factor=2.5)]
    assert gust_of(in_the_bay(wind(10, 300, 11), both)) == pytest.approx(15)


def test_a_raised_gust_is_told():
    inside = in_the_bay(wind(10, 300, 14), [sector(factor=1.8)])
    assert [found.said for found in inside.basis.findings] == [
        "the bay's sectors set the gust in 1 of 1 member hours"
    ]


def test_a_wind_of_unknown_direction_knows_no_sector():
    inside = in_the_bay(wind(10, math.nan, 14), [sector(0, 360, factor=2.0)])
    assert gust_of(inside) == pytest.approx(14)
    assert math.isnan(inside.wind_from_rad[0, 0])


def test_the_skippers_spread_gives_each_member_its_wind_and_one_to_either_side():
    inside = in_the_bay(wind(10, 350, 14), [sector(340, 20, spread_rad=math.radians(25))])
    around = to_both_sides(inside)
    assert around.member.tolist() == [0, 0, 0]
    assert np.degrees(around.wind_from_rad[:, 0]) == pytest.approx([350.0, 325.0, 15.0])
    assert around.gust_mps[:, 0].tolist() == [14.0, 14.0, 14.0]
    assert [held.said for held in around.basis.assumptions][-1] == (
        "Within the spread the bay file gives, the wind's direction is taken at its worst"
    )


def test_our_own_default_adds_no_winds():
    inside = in_the_bay(wind(10, 300, 14), [sector()])
    assert to_both_sides(inside) is inside
    assert inside.told_rad[0, 0] == 0.0
