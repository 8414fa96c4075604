"""The sea the hour's wind raises over the water to windward, where no waves are told."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely

from shorefast.bay import Coast, FarShore
from shorefast.mooring.wave_drift import build_up_s
from shorefast.stay import Waves, heave, judge
from shorefast.stay.by_fetch import as_ridden, sea_by_fetch
from shorefast.stay.sea import sea_down_m
from shorefast.weather import OPEN_M

SHAPE = (2, 3)


def in_a_pond(stay, radius_m=1000.0):
    """The stay with a round shore about its anchor."""
    pond = shapely.Point(stay.lie.let_go_east_m, stay.lie.let_go_north_m).buffer(radius_m, 180)
    return replace(stay, bay=replace(stay.bay, shore=pond.exterior, land=None, far=None))


def sea(stay, wind_mps, from_deg=0.0, level_m=0.0):
    full = [np.full(SHAPE, value) for value in (wind_mps, math.radians(from_deg), level_m)]
    return sea_by_fetch(stay, *full)


def test_waves_over_a_thousand_metres_are_those_of_the_curve(k_day):
    found = sea(in_a_pond(k_day, 1000.0 * 13.511 / 12.283), 10.0)
    # Shore Protection Manual 1984 worked by hand for 10 m/s over 1 km: 0.195 m, 1.43 s
    np.testing.assert_allclose(found.height_m, 0.195, rtol=0.005)
    np.testing.assert_allclose(found.period_s, 1.430, rtol=0.005)
    np.testing.assert_allclose(found.fetch_m, 1000.0, rtol=0.005)


def test_a_harder_wind_and_a_longer_fetch_raise_higher_waves(k_day):
    by_wind = [sea(in_a_pond(k_day), wind).height_m[0, 0] for wind in (0.0, 3.0, 10.0, 25.0)]
    by_fetch = [sea(in_a_pond(k_day, far), 10.0).height_m[0, 0] for far in (200, 1000, 9000)]
    assert by_wind[0] == 0.0
    assert np.all(np.diff(by_wind) > 0.0) and np.all(np.diff(by_fetch) > 0.0)


def test_in_shallow_water_the_waves_break(k_day):
    bed_m = float(k_day.bay.surface.level_at(k_day.lie.let_go_east_m, k_day.lie.let_go_north_m))
    found = sea(in_a_pond(k_day, 50_000.0), 25.0, level_m=bed_m + 1.0)
    np.testing.assert_allclose(found.height_m, 0.6)


def test_told_waves_win_and_without_lie_or_shore_there_is_no_sea(k_day):
    told = replace(k_day, waves=Waves(0.3, 2.0, 0.0))
    shoreless = replace(k_day, bay=replace(k_day.bay, shore=None, far=None))
    for stay in (told, shoreless, replace(k_day, lie=None)):
        assert sea(stay, 10.0) is None
        assert as_ridden(stay, None) is stay
        assert sea_down_m(stay, None) == 0.0


def test_unknown_fetch_or_wind_is_unknown_waves_left_out_and_told(k_day):
    bay = replace(k_day.bay, shore=_north_shore(k_day), land=None, far=None)
    found = sea(replace(k_day, bay=bay), 10.0)
    assert np.isfinite(found.height_m).all()
    lost = sea(replace(k_day, bay=bay), 10.0, 180.0)
    assert np.isnan(lost.height_m).all() and lost.highest() is None
    assert np.all(sea_down_m(k_day, lost) == 0.0)
    assert [one.said for one in lost.basis.findings] == [
        "no shore is known to windward in 6 of 6 hours and members: the waves then, perhaps the"
        " highest, are unknown and left out"
    ]
    assert np.isnan(sea(in_a_pond(k_day), np.nan).height_m).all()


def _north_shore(stay):
    north_m = stay.lie.let_go_north_m + 300.0
    return shapely.LineString([(-5000.0, north_m), (5000.0, north_m)])


def test_the_highest_waves_are_ridden_as_told_ones_would_be(k_day):
    stay = in_a_pond(k_day)
    found = sea(stay, 15.0)
    ridden = as_ridden(stay, found)
    assert ridden.waves == found.highest()
    np.testing.assert_allclose(sea_down_m(stay, found), heave(ridden).waves_m)


def test_a_judged_stay_tells_its_sea_and_takes_it_off_the_water(k_day):
    calm = judge(replace(k_day, waves=Waves(0.0, 2.0, 0.0))).judgement
    far = in_a_pond(k_day, 20_000.0).bay.shore
    shore = shapely.union_all([k_day.bay.shore, far])
    rough = judge(replace(k_day, bay=replace(k_day.bay, shore=shore))).judgement
    highest = rough.sea.highest()
    assert highest.height_m > 0.3
    said = [one.said for one in rough.basis.assumptions]
    assert sum(one.startswith("Waves are those the hour's wind raises over") for one in said) == 1
    assert any(one.startswith("The waves the wind raises push with at most") for one in said)
    assert "Waves are left out: the stay names none" not in said
    assert {one.of for one in rough.comfort} == {"waves"}
    for flat, sunk in zip(calm.room, rough.room, strict=True):
        if flat.of.startswith("water under"):
            assert np.nanmax(flat.room_m - sunk.room_m) > 0.0
            assert np.nanmin(flat.room_m - sunk.room_m) > -1e-9


@pytest.mark.parametrize("seed", range(5))
def test_down_in_the_sea_she_goes_no_deeper_than_its_highest_trough(k_day, seed):
    rng = np.random.default_rng(seed)
    stay = in_a_pond(k_day, rng.uniform(100.0, 20_000.0))
    found = sea(stay, rng.uniform(1.0, 30.0), rng.uniform(0.0, 360.0))
    down_m = sea_down_m(stay, found)
    assert np.all(down_m > 0.0)
    assert np.all(down_m <= 0.5 * 1.859 * found.height_m)


def across_a_sound(stay, far_m, open_sea=False):
    """No shore in the bay's box, and one coast so far to the north of the anchor."""
    north_m = stay.lie.let_go_north_m + far_m
    places = np.array([[[9e5, north_m], [-9e5, north_m]]])
    coast = Coast(places, np.array([True]), np.zeros((0, 2)), 100.0)
    bay = replace(stay.bay, shore=None, land=None, far=FarShore(None, (coast,), open_sea))
    return replace(stay, bay=bay)


def test_over_the_far_shore_waves_grow_and_past_the_last_one_they_are_unknown(k_day):
    by_far = [sea(across_a_sound(k_day, far), 10.0).height_m[0, 0] for far in (2e3, 2e4, 1e5)]
    assert np.all(np.diff(by_far) > 0.0)
    # Shore Protection Manual by hand: 10 m/s over 20 km 0.87 m; the fan before a straight coast
    # has F cos2 / cos of 15 radials, each F / cos: F (sum of cos) / (sum of cos) = F
    assert by_far[1] == pytest.approx(0.87, rel=0.01)
    assert np.isnan(sea(across_a_sound(k_day, 2e4), 10.0, 180.0).height_m).all()


def test_an_open_sea_counts_for_two_hundred_kilometres_and_that_is_said(k_day):
    found = sea(across_a_sound(k_day, 2e4, open_sea=True), 10.0, 180.0)
    assert np.isfinite(found.height_m).all()
    said = [one.said for one in found.basis.assumptions]
    assert said[-1] == (
        "In 6 of 6 hours and members the sea is open to windward: it counts as 200 km of water,"
        " over which a wind of 15 m/s must blow some eleven hours before it has raised all of"
        " these waves"
    )


def test_two_hundred_kilometres_take_a_wind_of_fifteen_metres_some_eleven_hours():
    # Shore Protection Manual 1984 by hand: UA 19.85 m/s, g F / UA2 4979, g t / UA 20,062
    assert build_up_s("spm-1984", 15.0, OPEN_M) / 3600.0 == pytest.approx(11.3, abs=0.05)


def test_a_fetch_outside_the_curves_data_is_told_as_too_short_or_too_long(k_day):
    # by hand, g F / U2: 100 m and 25 m/s 1.6; 200 km and 8 m/s 31,000; 20 km and 10 m/s 1962
    for stay, wind_mps, from_deg, end in (
        (in_a_pond(k_day, 100.0), 25.0, 0.0, ", though so short a fetch lies below all their data"),
        (
            across_a_sound(k_day, 2e4, open_sea=True), 8.0, 180.0,
            ", though so long a fetch for such a wind lies beyond all their data",
        ),
        (across_a_sound(k_day, 2e4), 10.0, 0.0, " m"),
    ):  # fmt: skip
        assert sea(stay, wind_mps, from_deg).basis.assumptions[0].said.endswith(end)
