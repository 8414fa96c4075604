"""High ground to windward: told beside the verdict, and raising nothing."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest

from shorefast.bay import HighGround, WindSector
from shorefast.stay import judge, skyline_of
from shorefast.stay.over_land import over_land_basis

ALONG_M = 20.0 * np.arange(-500, 501)
EAST, NORTH = np.meshgrid(ALONG_M, ALONG_M)


def under(stay, height_m, sectors=()):
    ground = HighGround(float(ALONG_M[0]), float(ALONG_M[0]), 20.0, height_m, "hills.tif")
    return replace(stay, bay=replace(stay.bay, high_ground=ground, sectors=sectors))


def blown(stay, from_deg, wind_mps=10.0, gust_mps=13.0):
    shape = stay.wind.wind_mps.shape
    wind = replace(
        stay.wind,
        wind_mps=np.full(shape, wind_mps),
        gust_mps=np.full(shape, gust_mps),
        wind_from_rad=np.full(shape, math.radians(from_deg)),
    )
    return replace(stay, wind=wind)


def wall(stay, off_m=400.0, height_m=320.0):
    """Steep ground to the north-west of the anchor, plains and sea elsewhere."""
    east, north = EAST - stay.lie.let_go_east_m, NORTH - stay.lie.let_go_north_m
    return np.where(north - east >= math.sqrt(2.0) * off_m, height_m, 0.0)


def said(stay, judged):
    told = [one.said for one in over_land_basis(stay, judged.judgement).findings]
    return [one for one in told if not one.startswith("the sun")]


def test_without_elevations_or_a_lie_nothing_is_told(k_day, k_judged):
    assert skyline_of(k_day) is None
    assert over_land_basis(k_day, k_judged.judgement).findings == ()
    assert skyline_of(replace(under(k_day, wall(k_day)), lie=None)) is None


def test_steep_ground_to_windward_is_told_and_nothing_is_added(k_day, k_judged):
    stay = blown(under(k_day, wall(k_day)), 315.0)
    count = stay.wind.member.size * k_judged.judgement.time_utc.size
    first, second = said(stay, k_judged)
    # the wall is whole one node of 20 m behind its foot at 400 m; atan(320 / 420) by hand
    assert first == (
        f"ground 37 degrees high, 320 m up and 420 m off toward 315, the steepest to windward in"
        f" {count} of {count} times and members: gusts may come down from it harder than forecast;"
        " no published factor is known for them; no [[sector]] tells of that wind, and nothing is"
        " added for it"
    )
    # WMO/TD-No. 1555, table 1.1: 1.60 off the land, 1.75 inland, 3 s on the mean of an hour
    assert second == (
        "in the hardest wind over it the forecast's gust is 1.30 times its mean; printed for wind"
        " off the land are 1.60, inland 1.75, in the lee of steep ground none"
    )


def test_the_skippers_own_sector_decides_and_the_ground_is_told_beside_it(k_day, k_judged):
    told = WindSector(math.radians(290.0), math.radians(340.0), factor=1.3)
    turned = WindSector(math.radians(290.0), math.radians(340.0), turn_rad=0.2)
    stay = blown(under(k_day, wall(k_day), (told,)), 315.0)
    assert said(stay, k_judged)[0].endswith("your [[sector]] for that wind decides")
    # a sector that only turns the wind tells nothing of its gusts
    stay = blown(under(k_day, wall(k_day), (turned,)), 315.0)
    assert said(stay, k_judged)[0].endswith("tells of that wind, and nothing is added for it")


@pytest.mark.parametrize(
    ("off_m", "height_m", "counts"), [(3000.0, 310.0, True), (3000.0, 270.0, False)]
)
def test_ground_counts_within_ten_times_its_height(k_day, k_judged, off_m, height_m, counts):
    # EN 1991-1-4, 4.3.3 (from memory): upwind ground up to ten times its height away
    stay = blown(under(k_day, wall(k_day, off_m, height_m)), 315.0)
    assert bool(said(stay, k_judged)) == counts


def test_with_the_wind_off_the_sea_nothing_is_told(k_day, k_judged):
    assert said(blown(under(k_day, wall(k_day)), 135.0), k_judged) == []


def test_unknown_ground_to_windward_is_told_as_unknown(k_day, k_judged):
    height_m = np.where(k_day.lie.let_go_east_m < EAST, 0.0, np.nan)
    stay = blown(under(k_day, height_m), 270.0)
    count = stay.wind.member.size * k_judged.judgement.time_utc.size
    assert said(stay, k_judged) == [
        f"the elevations tell nothing of the ground to windward in {count} of {count} times and"
        " members"
    ]


def test_a_judged_stay_tells_its_high_ground_and_is_judged_as_before(k_day, k_judged):
    found = judge(under(k_day, wall(k_day))).judgement
    before = k_judged.judgement
    np.testing.assert_array_equal(found.greatest_use, before.greatest_use)
    np.testing.assert_array_equal(found.gust_mps, before.gust_mps)
    assert any(one.where == "High ground" for one in found.basis.findings)
    assert {"en-1991-1-4", "wmo-td1555"} <= set(found.basis.sources)


def test_the_sun_behind_steep_ground_is_told(k_day):
    # sunset about 20:28 on the bay's clock, two hours behind; the wall stands to the north-west
    stay = replace(under(k_day, wall(k_day)), until_utc=k_day.until_utc.replace(hour=23))
    told = over_land_basis(stay, judge(stay).judgement).findings
    sun = [one.said for one in told if one.said.startswith("the sun")]
    assert len(sun) == 1
    assert re.fullmatch(
        r"the sun is behind ground toward 2[67]\d from 22 Jul 19:\d\d to 22 Jul 22:2\d UTC; dusk"
        r" and dark are told by the sun alone",
        sun[0],
    )
