"""Laws of one line: scale, limits, continuity, monotony and virtual work."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from measures.own_lines import Ashore, Rode, ashore_energy_j, rode_energy_j

from shorefast.mooring import (
    BedLine,
    LineSegments,
    ShoreRope,
    rode_at_distance,
    rode_at_pull,
    shore_line_at_distance,
)

QUIET = settings(derandomize=True, max_examples=25, deadline=None, database=None)
LEVEL = BedLine(np.array([-300.0, 300.0]), np.array([0.0, 0.0]))
FEW_SLOPES = st.lists(st.floats(-0.5, 0.5), min_size=3, max_size=8)
PULLS = st.floats(150.0, 6000.0)


def chain(length_m, weight_npm=19.2, stiffness_n=8.5e6):
    return LineSegments(np.array([length_m]), np.array([weight_npm]), np.array([stiffness_n]))


def sloped(rise):
    return BedLine(np.array([-300.0, 300.0]), rise * np.array([-300.0, 300.0]))


def broken(slopes, piece_m):
    along = piece_m * np.arange(len(slopes) + 1)
    level = np.concatenate([[0.0], np.cumsum(np.asarray(slopes) * piece_m)])
    return BedLine(np.array([-20.0, *along, 500.0]), np.array([0.0, *level, level[-1]]))


def over(bed, height_m):
    return float(np.max(bed.level_m)) + height_m


@QUIET
@given(FEW_SLOPES, PULLS, st.floats(0.2, 5.0), st.floats(0.0, 1.0))
def test_a_sea_twice_as_deep_with_twice_the_chain_pulls_twice(slopes, pull_n, k, friction):
    small = broken(slopes, 8.0)
    large = BedLine(k * small.along_m, k * small.level_m)
    bow_m = over(small, 9.0)
    one = rode_at_pull(chain(bow_m + 40.0), small, friction, bow_m, pull_n)
    other = rode_at_pull(
        chain(k * (bow_m + 40.0), stiffness_n=8.5e6 * k), large, friction, k * bow_m, k * pull_n
    )
    assert other.distance_m == pytest.approx(k * one.distance_m, rel=1e-7)
    assert other.on_bottom_m == pytest.approx(k * one.on_bottom_m, rel=1e-5, abs=1e-5)
    assert other.anchor_tension_n == pytest.approx(k * one.anchor_tension_n, rel=1e-6, abs=1e-3)
    assert other.uplift_rad == pytest.approx(one.uplift_rad, abs=1e-6)


@QUIET
@given(FEW_SLOPES, PULLS, st.floats(0.2, 5.0))
def test_a_chain_twice_as_heavy_lies_alike_under_twice_the_pull(slopes, pull_n, k):
    bed = broken(slopes, 8.0)
    bow_m = over(bed, 9.0)
    light = rode_at_pull(chain(bow_m + 40.0), bed, 0.6, bow_m, pull_n)
    heavy = rode_at_pull(chain(bow_m + 40.0, 19.2 * k, 8.5e6 * k), bed, 0.6, bow_m, k * pull_n)
    assert heavy.distance_m == pytest.approx(light.distance_m, rel=1e-8)
    assert heavy.down_n == pytest.approx(k * light.down_n, rel=1e-6)
    assert heavy.bridged_spans == light.bridged_spans


@QUIET
@given(st.floats(8.0, 30.0), st.floats(1.3, 5.0), st.floats(-0.25, 0.4), st.floats(0.0, 1.0))
def test_nothing_jumps_where_the_last_link_leaves_the_bed(height_m, scope, rise, friction):
    bow_m = height_m + max(0.0, rise) * scope * height_m
    line = chain(scope * bow_m + 3.0)
    bed = sloped(rise)
    low_n, high_n = 1.0, 1e6
    for _ in range(80):
        mid_n = math.sqrt(low_n * high_n)
        lies = rode_at_pull(line, bed, friction, bow_m, mid_n).on_bottom_m > 0.0
        low_n, high_n = (mid_n, high_n) if lies else (low_n, mid_n)
    under = rode_at_pull(line, bed, friction, bow_m, low_n * (1.0 - 1e-6))
    above = rode_at_pull(line, bed, friction, bow_m, low_n * (1.0 + 1e-6))
    assert under.on_bottom_m > 0.0 and above.on_bottom_m == 0.0
    assert under.on_bottom_m < 1e-2 * scope * bow_m
    assert above.distance_m == pytest.approx(under.distance_m, abs=1e-3)
    assert above.anchor_tension_n == pytest.approx(under.anchor_tension_n, rel=1e-3)
    assert 0.0 <= above.uplift_rad < 1e-3
    # and the pull goes on growing
    assert above.distance_m > under.distance_m


@QUIET
@given(st.floats(5.0, 30.0), PULLS, st.floats(-1.0, 1.0), st.floats(0.0, 1.0))
def test_a_level_bed_is_the_slope_of_nothing(height_m, pull_n, sign, friction):
    line = chain(3.0 * height_m + 20.0)
    flat = rode_at_pull(line, LEVEL, friction, height_m, pull_n)
    corners = rode_at_pull(line, broken([0.0] * 5, 6.0), friction, height_m, pull_n)
    nearly = rode_at_pull(line, sloped(sign * 1e-7), friction, height_m, pull_n)
    for other in (corners, nearly):
        assert other.distance_m == pytest.approx(flat.distance_m, abs=2e-4)
        assert other.anchor_tension_n == pytest.approx(flat.anchor_tension_n, rel=1e-4, abs=1e-2)
        assert other.on_bottom_m == pytest.approx(flat.on_bottom_m, abs=1e-3)


@QUIET
@given(st.floats(4.0, 30.0), st.floats(50.0, 8000.0), st.floats(0.0, 1.0))
def test_a_chain_that_does_not_stretch_lifts_what_the_closed_form_lifts(height_m, pull_n, friction):
    lifted_m = math.sqrt(height_m * (height_m + 2.0 * pull_n / 19.2))
    line = chain(lifted_m + 25.0, stiffness_n=1e13)
    form = rode_at_pull(line, LEVEL, friction, height_m, pull_n)
    # irvine-1981, ch. 1: s2 = h (h + 2 H / w), and half a cosh between
    across_m = pull_n / 19.2 * math.asinh(19.2 * lifted_m / pull_n)
    assert form.on_bottom_m == pytest.approx(25.0, abs=1e-5)
    assert form.distance_m == pytest.approx(25.0 + across_m, abs=1e-5)
    assert form.down_n == pytest.approx(19.2 * lifted_m, rel=1e-7)


@QUIET
@given(FEW_SLOPES, PULLS, st.floats(-80.0, 80.0))
def test_a_bay_lifted_with_its_boat_is_the_same_bay(slopes, pull_n, up_m):
    bed = broken(slopes, 7.0)
    bow_m = over(bed, 8.0)
    here = rode_at_pull(chain(bow_m + 40.0), bed, 0.6, bow_m, pull_n)
    up = BedLine(bed.along_m, bed.level_m + up_m)
    there = rode_at_pull(chain(bow_m + 40.0), up, 0.6, bow_m + up_m, pull_n)
    assert there.distance_m == pytest.approx(here.distance_m, abs=1e-6)
    assert there.down_n == pytest.approx(here.down_n, rel=1e-6)


@QUIET
@given(st.floats(0.0, 0.35), st.floats(0.2, 0.5), st.floats(0.8, 4.0))
def test_a_step_outward_costs_what_the_pull_says(rise, steep, weigh):
    """Virtual work: weight and stretch of the chain gain pull times way, no less and no more."""
    length_m = 70.0
    bow_m = length_m * (rise / math.hypot(1.0, rise) + steep)
    pull_n = 19.2 * length_m * weigh
    there = rode_at_pull(chain(length_m), sloped(rise), 0.0, bow_m, pull_n)
    assume(there.anchor_tension_n > 1.0)
    rode = Rode([(length_m, 19.2, 8.5e6)], math.atan(rise), 0.0)
    gained_j = [rode_energy_j(rode, there.distance_m + s, bow_m) for s in (1e-4, -1e-4)]
    assert (gained_j[0] - gained_j[1]) / 2e-4 == pytest.approx(there.pull_n, rel=1e-4)
    lifted_j = [rode_energy_j(rode, there.distance_m, bow_m + s) for s in (1e-4, -1e-4)]
    assert (lifted_j[0] - lifted_j[1]) / 2e-4 == pytest.approx(there.down_n, rel=1e-4)


@QUIET
@given(st.floats(15.0, 45.0), st.floats(0.4, 3.0), st.floats(1.0, 8.0), st.floats(-0.02, 0.05))
def test_hauling_a_line_ashore_costs_what_its_pull_says(length_m, weight_npm, point_m, share):
    rope = ShoreRope(length_m, weight_npm, 9e4)
    level_m = math.sqrt((length_m * (1.0 + share)) ** 2 - (point_m - 1.1) ** 2)
    form = shore_line_at_distance(rope, 1.1, point_m, level_m)
    assume(form.pull_n > 1.0)
    line = Ashore(tuple(rope[:3]), 1.1, point_m)
    gained_j = [ashore_energy_j(line, level_m + s) for s in (1e-4, -1e-4)]
    assert (gained_j[0] - gained_j[1]) / 2e-4 == pytest.approx(form.pull_n, rel=1e-3)


@QUIET
@given(FEW_SLOPES, PULLS, st.floats(0.0, 1.0))
def test_the_stiffness_told_is_the_pull_gained_by_a_millimetre(slopes, pull_n, friction):
    bed = broken(slopes, 9.0)
    bow_m = over(bed, 9.0)
    line = chain(bow_m + 35.0)
    there = rode_at_pull(line, bed, friction, bow_m, pull_n)
    step_m = 1e-4 * pull_n / there.stiffness_npm
    out, back = (
        rode_at_distance(line, bed, friction, bow_m, there.distance_m + s)
        for s in (step_m, -step_m)
    )
    gained_npm = (out.pull_n - back.pull_n) / (2.0 * step_m)
    # a corner of the bed just at the touch-down bends the curve
    assert there.stiffness_npm == pytest.approx(gained_npm, rel=0.05)


@QUIET
@given(st.floats(5.0, 25.0), st.floats(0.5, 15.0), PULLS)
def test_deeper_water_leaves_less_chain_lying_and_never_lowers_the_shank(height_m, more_m, pull_n):
    line = chain(70.0)
    shoal = rode_at_pull(line, LEVEL, 0.6, height_m, pull_n)
    deep = rode_at_pull(line, LEVEL, 0.6, height_m + more_m, pull_n)
    assert deep.on_bottom_m <= shoal.on_bottom_m
    assert deep.uplift_rad >= shoal.uplift_rad - 1e-9
    assert deep.anchor_tension_n >= shoal.anchor_tension_n - 1e-6
    assert deep.down_n > shoal.down_n


@QUIET
@given(st.floats(5.0, 25.0), st.floats(1.02, 2.0), PULLS)
def test_a_heavier_chain_never_lifts_the_shank_higher(height_m, heavier, pull_n):
    light = rode_at_pull(chain(60.0), LEVEL, 0.6, height_m, pull_n)
    heavy = rode_at_pull(chain(60.0, 19.2 * heavier), LEVEL, 0.6, height_m, pull_n)
    assert heavy.uplift_rad <= light.uplift_rad + 1e-9
    assert heavy.on_bottom_m >= light.on_bottom_m


@QUIET
@given(FEW_SLOPES, PULLS)
def test_no_chain_reaches_farther_than_straight(slopes, pull_n):
    bed = broken(slopes, 7.0)
    bow_m = over(bed, 7.0)
    length_m = bow_m + 30.0
    form = rode_at_pull(chain(length_m), bed, 0.6, bow_m, pull_n)
    # no part of it pulls harder than at the ends, nor is stretched more
    most_n = max(form.tension_n, form.anchor_tension_n) + 19.2 * 40.0
    straight_m = length_m * (1.0 + most_n / 8.5e6)
    assert math.hypot(form.distance_m, bow_m) < straight_m


@QUIET
@given(st.floats(12.0, 40.0), st.floats(0.01, 3.0), st.floats(0.5, 8.0), st.floats(-0.03, 0.04))
def test_a_longer_line_ashore_never_pulls_harder(length_m, more_m, point_m, share):
    far_m = length_m * (1.0 + share)
    short, long = (
        shore_line_at_distance(ShoreRope(out_m, 1.1, 9e4), 1.1, point_m, far_m)
        for out_m in (length_m, length_m + more_m)
    )
    assert long.pull_n <= short.pull_n
    assert short.slack <= long.slack


@QUIET
@given(st.floats(12.0, 40.0), st.floats(0.5, 8.0), st.floats(-0.02, 0.04), st.floats(1.0, 40.0))
def test_two_lines_side_by_side_are_one_of_twice_the_rope(length_m, point_m, share, times):
    far_m = length_m * (1.0 + share)
    one = shore_line_at_distance(ShoreRope(length_m, 1.1, 9e4), 1.1, point_m, far_m)
    many = ShoreRope(length_m, 1.1 * times, 9e4 * times)
    all_told = shore_line_at_distance(many, 1.1, point_m, far_m)
    assert all_told.pull_n == pytest.approx(times * one.pull_n, rel=1e-6, abs=1e-9)
