"""Laws of lines that hang partly above the water: more weight never lets her lie farther off."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shorefast.errors import BadInput
from shorefast.mooring import (
    BedLine,
    LineSegments,
    rode_at_distance,
    rode_at_pull,
    rode_trace,
)

QUIET = settings(derandomize=True, max_examples=25, deadline=None, database=None)
LEVEL = BedLine(np.array([-300.0, 300.0]), np.array([0.0, 0.0]))


def chain(length_m, dry_npm, roller_m=1.5, wet_npm=19.2):
    return LineSegments(
        *(np.array([value]) for value in (length_m, wet_npm, 8.5e6, dry_npm)), roller_m
    )


def one_weight(length_m, weight_npm=19.2):
    return LineSegments(np.array([length_m]), np.array([weight_npm]), np.array([8.5e6]))


@QUIET
@given(st.floats(4.0, 25.0), st.floats(0.5, 4.0), st.floats(50.0, 9000.0), st.floats(0.0, 0.8))
def test_heavier_above_the_water_never_lets_her_lie_farther_off(
    depth_m, roller_m, pull_n, friction
):
    far_m = [
        rode_at_pull(
            chain(40.0, dry_npm, roller_m), LEVEL, friction, depth_m + roller_m, pull_n
        ).distance_m
        for dry_npm in (19.2, 22.1, 30.0)
    ]
    assert far_m[0] >= far_m[1] >= far_m[2]


@QUIET
@given(st.floats(4.0, 25.0), st.floats(50.0, 9000.0), st.floats(0.0, 0.8), st.floats(-0.2, 0.3))
def test_told_twice_the_same_weight_the_chain_lies_as_with_one(depth_m, pull_n, friction, rise):
    bed = BedLine(np.array([-300.0, 300.0]), rise * np.array([-300.0, 300.0]))
    bow_m = depth_m + max(0.0, 45.0 * rise)
    two = rode_at_pull(chain(45.0, 19.2), bed, friction, bow_m + 1.5, pull_n)
    one = rode_at_pull(one_weight(45.0), bed, friction, bow_m + 1.5, pull_n)
    assert two.distance_m == pytest.approx(one.distance_m, abs=1e-8)
    assert two.down_n == pytest.approx(one.down_n, rel=1e-8)


def test_a_roller_at_the_water_has_no_dry_chain_and_a_high_one_nothing_but():
    low = rode_at_pull(chain(40.0, 22.1, 0.0), LEVEL, 0.5, 9.0, 900.0)
    assert low.distance_m == pytest.approx(
        rode_at_pull(one_weight(40.0), LEVEL, 0.5, 9.0, 900.0).distance_m, abs=1e-9
    )
    # all that hangs is above water that has fallen to the bed
    high = rode_at_pull(chain(40.0, 22.1, 9.0), LEVEL, 0.0, 9.0, 900.0)
    dry = rode_at_pull(one_weight(40.0, 22.1), LEVEL, 0.0, 9.0, 900.0)
    assert high.distance_m == pytest.approx(dry.distance_m, abs=1e-9)


@QUIET
@given(st.integers(0, 500), st.floats(4.0, 20.0), st.floats(0.3, 4.0))
def test_with_distance_the_pull_grows_and_nowhere_jumps(seed, depth_m, roller_m):
    along_m = np.arange(-5.0, 60.0)
    level_m = 0.05 * along_m + np.random.default_rng(seed).normal(0.0, 0.05, along_m.size)
    bed, line = BedLine(along_m, level_m), chain(45.0, 22.1, roller_m)
    bow_m = max(float(level_m.max()), depth_m) + 0.5 + roller_m
    slack_m = rode_at_pull(line, bed, 0.6, bow_m, 1.0).slack_distance_m
    far_m = rode_at_pull(line, bed, 0.6, bow_m, 20e3).distance_m
    forms = [
        rode_at_distance(line, bed, 0.6, bow_m, x) for x in np.linspace(slack_m - 1.0, far_m, 12)
    ]
    pulls = np.array([form.pull_n for form in forms])
    assert np.isfinite(pulls).all()
    assert np.all(np.diff(pulls) >= 0.0)
    near = rode_at_distance(line, bed, 0.6, bow_m, forms[8].distance_m + 1e-5)
    gained_n = near.pull_n - forms[8].pull_n
    assert gained_n == pytest.approx(1e-5 * forms[8].stiffness_npm, rel=0.02)


@QUIET
@given(st.floats(0.0, 6.0), st.floats(200.0, 5000.0))
def test_as_the_water_rises_past_the_roller_of_a_moored_chain_nothing_jumps(up_m, pull_n):
    here, there = (
        rode_at_pull(chain(40.0, 22.1, 6.0 - up), LEVEL, 0.5, 12.0, pull_n)
        for up in (up_m, max(0.0, up_m - 1e-7))
    )
    assert here.distance_m == pytest.approx(there.distance_m, abs=1e-7)


def test_the_drawn_chain_ends_at_the_roller_and_is_as_long_as_it_is():
    line = chain(42.0, 22.1, 3.0)
    form = rode_at_pull(line, LEVEL, 0.6, 11.0, 1500.0)
    along_m, level_m, _ = rode_trace(line, LEVEL, 0.6, 11.0, form.distance_m)
    assert (along_m[-1], level_m[-1]) == pytest.approx((form.distance_m, 11.0), abs=1e-6)
    run_m = np.hypot(np.diff(along_m), np.diff(level_m)).sum()
    # chords of a curve are shorter than it
    assert 42.0 - 0.01 < run_m < 42.0 + 42.0 * form.tension_n / 8.5e6


def test_a_weight_that_cannot_be_is_refused():
    with pytest.raises(BadInput) as told:
        rode_at_pull(chain(40.0, 0.0), LEVEL, 0.6, 9.0, 100.0)
    assert str(told.value) == (
        "Rode: a piece with weight in air 0, more than 0 wanted. Correct it."
    )
