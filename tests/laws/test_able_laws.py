"""What a boat can do: what must grow, what must shrink, what must scale."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import shorefast
from shorefast.boat import Anchor
from shorefast.manoeuvre import (
    RESERVE_M,
    AbleAsked,
    able,
    falls,
    free_fall_s,
    hanging_n,
    leeway,
    wind_pulls_n,
)
from shorefast.mooring import BedLine, LineSegments, lift_off, rode_at_pull
from shorefast.readers import read_boat
from shorefast.stay import LEAST_WATER_M, rode_segments

DEMO = Path(shorefast.__file__).parent / "demo"
NAMES = ("grey_notch", "stone_spur", "tres_sombras")
BOATS = {name: read_boat(DEMO / name / "boat.toml") for name in NAMES}
NOTCH = BOATS["grey_notch"]
SLOPES = np.radians([-25.0, -15.0, -5.0, 0.0, 5.0, 10.0, 15.0])
DEPTHS = np.arange(4.0, 41.0, 3.0)
WINDS_MPS = (7.0, 10.0, 13.0, 16.0)
ASKED = AbleAsked(WINDS_MPS, WINDS_MPS, (40.0,))
ABLE = {name: able(boat, ASKED) for name, boat in BOATS.items()}


def plane(slope_rad):
    rise = math.tan(slope_rad)
    return BedLine(np.array([-400.0, 400.0]), np.array([-400.0 * rise, 400.0 * rise]))


def pulls(length_m, *, weight_npm=19.2, stiffness_n=1e9):
    chain = LineSegments(np.array([length_m]), np.array([weight_npm]), np.array([stiffness_n]))
    return lift_off(chain, SLOPES, DEPTHS[:, None])[0]


def test_in_deeper_water_less_pull_lifts_the_shank():
    found = pulls(70.0)
    # where no pull lifts it in deeper water, none does in shallower
    assert ((found[1:] < found[:-1]) | np.isinf(found[:-1])).all()
    assert np.isfinite(found).sum() > 70


def test_the_steeper_the_bed_comes_up_toward_her_the_more_pull_it_takes():
    found = pulls(60.0)
    known = np.isfinite(found)
    # once infinite it stays so up to the steepest
    assert (known[:, 1:] <= known[:, :-1]).all()
    both = known[:, 1:] & known[:, :-1]
    assert (found[:, 1:] > found[:, :-1])[both].all()


def test_more_chain_takes_more_pull():
    shorter, longer = pulls(55.0), pulls(60.0)
    both = np.isfinite(shorter) & np.isfinite(longer)
    assert both.sum() > 60
    assert (longer > shorter)[both].all()


def test_chain_twice_as_heavy_and_as_stiff_takes_twice_the_pull():
    heavy = pulls(60.0, weight_npm=38.4, stiffness_n=2e9)
    assert heavy == pytest.approx(2.0 * pulls(60.0), rel=1e-9)


def test_all_lengths_doubled_double_the_pull_where_nothing_stretches():
    large = lift_off(
        LineSegments(np.array([120.0]), np.array([19.2]), np.array([1e13])),
        SLOPES,
        2.0 * DEPTHS[:, None],
    )
    small = lift_off(
        LineSegments(np.array([60.0]), np.array([19.2]), np.array([1e13])), SLOPES, DEPTHS[:, None]
    )
    known = np.isfinite(small[1])
    for one, other in zip(large, small, strict=True):
        # stretch goes with the pull: parts in a hundred million of it are left
        assert one[known] == pytest.approx(2.0 * other[known], rel=1e-6)


def test_a_chain_too_short_to_lie_holds_nothing_down():
    chain = LineSegments(np.array([20.0]), np.array([19.2]), np.array([1e9]))
    pull_n, distance_m = lift_off(chain, 0.0, np.array([20.5, 25.0]))
    assert (pull_n == 0.0).all() and np.isnan(distance_m).all()


def test_a_bed_as_steep_as_the_chain_runs_straight_is_lifted_off_by_no_pull():
    chain = LineSegments(np.array([60.0]), np.array([19.2]), np.array([1e9]))
    pull_n, distance_m = lift_off(chain, math.radians(30.0), 25.0)
    assert math.isinf(float(pull_n)) and math.isnan(float(distance_m))


def cells(name):
    for row in ABLE[name].chain:
        for d, depth_m in enumerate(row.depth_m.tolist()):
            for k, slope_rad in enumerate(row.slope_rad.tolist()):
                if math.isfinite(row.pull_n[d, k]):
                    yield depth_m, slope_rad, float(row.pull_n[d, k]), float(row.out_m[d, k])


@pytest.mark.parametrize("name", NAMES)
def test_a_little_less_pull_leaves_the_shank_down_and_a_little_more_lifts_it(name):
    """By the march along the bed that the rests are solved by, snubber and all."""
    boat, asked = BOATS[name], 0
    for depth_m, slope_rad, pull_n, out_m in cells(name):
        segments, bow_m = rode_segments(boat, out_m), depth_m + boat.roller.z_m
        down, up = (
            rode_at_pull(segments, plane(slope_rad), 0.6, bow_m, share * pull_n)
            for share in (0.998, 1.002)
        )
        assert down.uplift_rad == pytest.approx(0.0, abs=1e-9)
        assert up.uplift_rad > 1e-6
        asked += 1
    assert asked > 70


@pytest.mark.parametrize("name", NAMES)
def test_where_the_shore_decides_she_keeps_just_her_least_water(name):
    boat, asked = BOATS[name], 0
    row = ABLE[name].chain[0]
    for d, k in zip(*np.nonzero(np.array(row.why) == "less out"), strict=True):
        depth_m, slope_rad = float(row.depth_m[d]), float(row.slope_rad[k])
        segments = rode_segments(boat, float(row.out_m[d, k]))
        _, far_m = lift_off(segments, slope_rad, depth_m + boat.roller.z_m)
        left = min(
            depth_m - math.tan(slope_rad) * (float(far_m) + boat.roller.x_m - x) - part.draught_m
            for part in boat.underwater
            for x in (part.x_m - 0.5 * part.length_m, part.x_m + 0.5 * part.length_m)
        )
        # a length between two whole metres is taken straight
        assert left == pytest.approx(LEAST_WATER_M, abs=0.03)
        asked += 1
    assert asked > 10


@pytest.mark.parametrize("name", NAMES)
def test_the_winds_told_pull_as_hard_as_was_told(name):
    boat, row = BOATS[name], ABLE[name].chain[0]
    known = np.isfinite(row.pull_n)
    for winds, off_rad in ((row.ahead, 0.0), (row.abeam, 0.5 * math.pi)):
        back = wind_pulls_n(boat, winds.nominal_mps, off_rad)
        assert back[known] == pytest.approx(row.pull_n[known], rel=1e-9)
        assert (winds.low_mps < winds.nominal_mps)[known].all()
        assert (winds.high_mps > winds.nominal_mps)[known].all()
    assert (row.abeam.nominal_mps < row.ahead.nominal_mps)[known].all()


@pytest.mark.parametrize("name", NAMES)
def test_the_chain_a_wind_asks_for_is_enough_and_a_metre_less_is_not(name):
    boat, needed = BOATS[name], ABLE[name].needed
    level, asked = int(np.abs(needed.slope_rad).argmin()), 0
    for d, depth_m in enumerate(needed.depth_m.tolist()):
        for w, pull_n in enumerate(needed.pull_n.tolist()):
            out_m = float(needed.out_m[d, level, w])
            if not math.isfinite(out_m) or out_m != round(out_m):
                continue
            rise_m = depth_m + boat.roller.z_m
            enough, short = (
                float(lift_off(rode_segments(boat, length_m), 0.0, rise_m)[0])
                for length_m in (out_m, out_m - 1.0)
            )
            assert short < pull_n <= enough
            asked += 1
    assert asked > 10


@pytest.mark.parametrize("name", NAMES)
def test_more_wind_and_more_depth_ask_for_more_chain_and_less_depth_bears_more_wind(name):
    needed = ABLE[name].needed
    level = int(np.abs(needed.slope_rad).argmin())
    out = needed.out_m[:, level]
    assert (out[1:] >= out[:-1]).all() and (out[:, 1:] >= out[:, :-1]).all()
    assert (np.diff(needed.too_deep_m[level]) < 0.0).all()


@pytest.mark.parametrize("name", NAMES)
def test_where_the_engine_just_lifts_the_shank_its_pull_is_the_pull_that_lifts(name):
    boat, found = BOATS[name], ABLE[name]
    most_m = boat.rode_aboard_m - RESERVE_M
    for k in np.flatnonzero(np.abs(found.curve.slope_rad) < 0.2).tolist():
        depth_m, slope = found.engine.keeps_down_m[k], float(found.curve.slope_rad[k])
        for i in np.flatnonzero(depth_m > 4.0).tolist():
            rise_m = float(depth_m[i]) + boat.roller.z_m
            pull = float(lift_off(rode_segments(boat, most_m), slope, rise_m)[0])
            # between whole metres of depth straight
            assert pull == pytest.approx(float(found.engine.astern_n[i]), rel=0.02)


def test_a_harder_pull_keeps_the_shank_down_in_less_depth():
    deep = ABLE["grey_notch"].engine.keeps_down_m
    known = np.isfinite(deep).all(axis=1)
    assert (deep[known, 1] > deep[known, 0]).all() and (deep[known, 0] > deep[known, 2]).all()


def test_lines_reach_half_as_far_doubled_and_less_led_to_the_sides():
    for found in ABLE.values():
        single = [one.single_m for one in found.lines]
        assert single == sorted(single, reverse=True)
        for one in found.lines:
            assert 0.4 * one.single_m < one.doubled_m < 0.62 * one.single_m


def test_it_takes_longer_to_a_deeper_bottom_and_a_heavier_anchor_is_there_sooner():
    depths = np.array([3.0, 5.0, 10.0, 20.0, 40.0])
    found = falls(NOTCH, depths)
    for t_s in (found.motor_s, found.free_low_s, found.free_high_s):
        assert (np.diff(t_s) > 0.0).all()
    assert (found.free_low_s < found.free_high_s).all()
    assert (found.free_high_s < found.motor_s).all()
    heavy = replace(NOTCH, anchor=Anchor("scoop", 50.0))
    assert (free_fall_s(heavy, depths, 0.0, 1.5) < found.free_low_s).all()


def test_what_falls_in_steps_half_as_long_is_there_at_the_same_time(monkeypatch):
    from shorefast.manoeuvre import falling

    depths = np.array([5.0, 20.0, 40.0])
    coarse = free_fall_s(NOTCH, depths, 0.25, 3.0)
    monkeypatch.setattr(falling, "_STEP_M", 0.025)
    assert free_fall_s(NOTCH, depths, 0.25, 3.0) == pytest.approx(coarse, abs=0.02)


def test_every_metre_of_depth_hangs_a_metre_more_of_chain():
    hangs = hanging_n(NOTCH, np.array([10.0, 11.0, 30.0, 31.0, 90.0]))
    assert hangs[1] - hangs[0] == pytest.approx(hangs[3] - hangs[2], rel=1e-9)
    assert math.isnan(hangs[4])


def test_leeway_goes_with_the_wind_and_a_larger_side_above_water():
    winds = np.array([5.0, 10.0, 20.0])
    found = leeway(NOTCH, winds)
    assert found.speed_mps / winds == pytest.approx([float(found.speed_mps[0]) / 5.0] * 3)
    assert (found.low_mps < found.speed_mps).all() and (found.speed_mps < found.high_mps).all()
    windage = replace(NOTCH.windage, lateral_m2=1.3 * NOTCH.windage.lateral_m2)
    assert (leeway(replace(NOTCH, windage=windage), winds).speed_mps > found.speed_mps).all()


def test_the_same_boat_asked_again_gives_the_same_to_the_bit():
    again = able(NOTCH, ASKED)
    for one, other in zip(again.chain, ABLE["grey_notch"].chain, strict=True):
        assert np.array_equal(one.pull_n, other.pull_n, equal_nan=True)
        assert one.why == other.why
    assert np.array_equal(again.needed.out_m, ABLE["grey_notch"].needed.out_m, equal_nan=True)
    assert np.array_equal(again.falls.free_low_s, ABLE["grey_notch"].falls.free_low_s)
