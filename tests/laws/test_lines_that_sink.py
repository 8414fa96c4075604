"""Laws of lines ashore heavier than water: they hang on under it, and nothing jumps there."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shorefast.bay import ShorePoint
from shorefast.boat import FIBRES, Cleat, LongLine, Spot, rope, stretch
from shorefast.mooring import ShoreRope, shore_line_at_distance
from shorefast.stay import LieLine
from shorefast.stay.lines_out import Ropes, ShoreLeg, shore_line

QUIET = settings(derandomize=True, max_examples=25, deadline=None, database=None)
CURVE = stretch("nylon", 0.02).nominal.knots_n()
DRY_NPM, WET_NPM = rope("nylon", 0.02).air_weight_npm, rope("nylon", 0.02).wet_weight_npm


def line(length_m, wet_npm=WET_NPM, dry_npm=DRY_NPM, curve=CURVE):
    return ShoreRope(length_m, dry_npm, CURVE[2, 0], wet_npm, curve)


@pytest.fixture
def a_leg():
    def leg(fibre, doubled=False):
        plan = LieLine("warp", "stern", "rock", 24.0, doubled)
        return ShoreLeg(
            "warp to rock", plan, LongLine("warp", fibre, 0.016, 100.0),
            Cleat("stern", Spot(-5.0, 1.5, 1.1)), ShorePoint("rock", "rock", 0.0, 0.0, 2.0, None),
        )  # fmt: skip

    return leg


@QUIET
@given(st.floats(10.0, 60.0), st.floats(0.5, 3.0), st.floats(0.0, 6.0))
def test_with_distance_its_pull_grows_and_nowhere_jumps(length_m, cleat_m, point_m):
    shares = np.linspace(0.75, 1.05, 60)
    forms = [
        shore_line_at_distance(line(length_m), cleat_m, point_m, share * length_m)
        for share in shares
    ]
    pulls = np.array([form.pull_n for form in forms])
    assert np.all(np.diff(pulls) > 0.0)
    for form in forms[5::9]:
        near = shore_line_at_distance(
            line(length_m), cleat_m, point_m, form.distance_m + 1e-6 * length_m
        )
        gained_n = near.pull_n - form.pull_n
        assert gained_n == pytest.approx(1e-6 * length_m * form.stiffness_npm, rel=0.02)


@QUIET
@given(st.floats(15.0, 60.0), st.floats(0.5, 2.0), st.floats(0.0, 3.0))
def test_as_it_touches_the_water_nothing_jumps(length_m, cleat_m, point_m):
    # the pull at which its lowest place is at the water, found by halving
    low_m, high_m = 0.8 * length_m, 1.2 * length_m
    for _ in range(60):
        mid_m = 0.5 * (low_m + high_m)
        lowest_m = shore_line_at_distance(
            line(length_m), cleat_m, point_m, mid_m
        ).lowest_above_water_m
        low_m, high_m = (low_m, mid_m) if lowest_m >= 0.0 else (mid_m, high_m)
    just = shore_line_at_distance(line(length_m), cleat_m, point_m, high_m)
    under = shore_line_at_distance(line(length_m), cleat_m, point_m, high_m - 1e-6)
    assert under.pull_n == pytest.approx(just.pull_n, rel=1e-4)
    assert under.cleat_down_n == pytest.approx(just.cleat_down_n, rel=1e-3, abs=1e-3)
    assert 0.0 <= under.in_water_m < 0.2 and under.lowest_above_water_m <= 1e-9


@QUIET
@given(st.floats(10.0, 60.0), st.floats(0.5, 3.0), st.floats(0.0, 4.0), st.floats(0.85, 1.02))
def test_the_lighter_under_water_the_less_it_pulls_down_to_one_that_floats(
    length_m, cleat_m, point_m, share
):
    pulls = [
        shore_line_at_distance(line(length_m, wet_npm), cleat_m, point_m, share * length_m).pull_n
        for wet_npm in (DRY_NPM, WET_NPM, 0.1 * WET_NPM, 5e-3, 0.0)
    ]
    assert all(a >= b - 1e-6 * (1.0 + b) for a, b in itertools.pairwise(pulls))
    # half a gram a metre under water, as the thinnest rope there is: it lies as one that floats
    assert pulls[3] == pytest.approx(pulls[4], rel=0.02, abs=1.0)


@QUIET
@given(st.floats(10.0, 60.0), st.floats(0.5, 3.0), st.floats(0.0, 4.0), st.floats(0.85, 1.02))
def test_as_heavy_in_water_as_in_air_it_hangs_as_if_there_were_none(
    length_m, cleat_m, point_m, share
):
    here = shore_line_at_distance(line(length_m, DRY_NPM), cleat_m, point_m, share * length_m)
    high = shore_line_at_distance(
        line(length_m, DRY_NPM), cleat_m + 90.0, point_m + 90.0, share * length_m
    )
    assert here.pull_n == pytest.approx(high.pull_n, rel=1e-7)
    assert here.cleat_down_n == pytest.approx(high.cleat_down_n, rel=1e-6, abs=1e-6)
    assert here.lowest_above_water_m == pytest.approx(high.lowest_above_water_m - 90.0, abs=1e-6)


@QUIET
@given(st.floats(12.0, 60.0), st.floats(0.5, 3.0), st.floats(0.0, 4.0), st.floats(0.8, 0.99))
def test_what_hangs_weighs_what_its_ends_carry(length_m, cleat_m, point_m, share):
    form = shore_line_at_distance(line(length_m), cleat_m, point_m, share * length_m)
    other = shore_line_at_distance(line(length_m), point_m, cleat_m, share * length_m)
    carried_n = form.cleat_down_n + other.cleat_down_n
    weighs_n = DRY_NPM * (length_m - form.in_water_m) + WET_NPM * form.in_water_m
    assert other.pull_n == pytest.approx(form.pull_n, rel=1e-7)
    assert carried_n == pytest.approx(weighs_n, rel=1e-6)


@QUIET
@given(st.floats(0.5, 3.0), st.floats(-1e-6, 1e-6))
def test_as_the_point_ashore_drowns_nothing_jumps(cleat_m, up_m):
    here, at = (
        shore_line_at_distance(line(25.0), cleat_m, point_m, 24.0)
        for point_m in (max(0.0, up_m), 0.0)
    )
    assert here.pull_n == pytest.approx(at.pull_n, rel=1e-4)


def test_only_ropes_heavier_than_water_sink(a_leg):
    sinks = {fibre: shore_line(a_leg(fibre), Ropes()).wet_npm > 0.0 for fibre in FIBRES}
    assert sinks == {"polypropylene": False, "nylon": True, "polyester": True, "hmpe": False}


def test_both_parts_of_a_doubled_one_sink(a_leg):
    one, two = (shore_line(a_leg("nylon", doubled), Ropes()) for doubled in (False, True))
    assert two.wet_npm == pytest.approx(2.0 * one.wet_npm)
    assert two.weight_npm == pytest.approx(2.0 * one.weight_npm)
    near = [shore_line_at_distance(leg.rope, 1.1, 2.0, 23.5) for leg in (one, two)]
    assert near[1].pull_n == pytest.approx(2.0 * near[0].pull_n, rel=1e-9)
    assert near[1].lowest_above_water_m == pytest.approx(near[0].lowest_above_water_m, abs=1e-9)
