"""Laws of lines that stretch by a curve: springs without weight, cut in two the same."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shorefast.boat import FIBRES, rope, stretch
from shorefast.mooring import (
    BedLine,
    LineSegments,
    ShoreLine,
    ShoreRope,
    rode_at_distance,
    rode_at_pull,
    shore_line_at_distance,
)
from shorefast.readers import read_stay
from shorefast.stay.rigging import rig

QUIET = settings(derandomize=True, max_examples=25, deadline=None, database=None)
LEVEL = BedLine(np.array([-300.0, 300.0]), np.array([0.0, 0.0]))
STEEP = BedLine(np.array([-300.0, 300.0]), np.array([1500.0, -1500.0]))
DEMO = Path(__file__).parents[2] / "src" / "shorefast" / "demo"
SIZE_M = 16e-3
some_fibre = st.sampled_from(FIBRES)


def rode(lengths_m, weights_npm, curves):
    first = [8.5e6 if curve is None else curve[2, 0] for curve in curves]
    return LineSegments(
        np.array(lengths_m), np.array(weights_npm), np.array(first), curves=tuple(curves)
    )


@QUIET
@given(some_fibre, st.floats(5.0, 60.0), st.floats(0.005, 0.95), st.floats(-0.6, 0.6))
def test_a_rope_without_weight_is_the_spring_its_curve_tells(fibre, length_m, share, rise_share):
    curve = stretch(fibre, SIZE_M).nominal
    tension_n = share * curve.breaking_n
    far_m = length_m * (1.0 + float(curve.extension_at(tension_n)))
    rise_m = rise_share * far_m
    level_m = math.sqrt(far_m**2 - rise_m**2)
    line = rode([length_m], [1e-7], [curve.knots_n()])
    form = rode_at_distance(line, STEEP, 0.0, rise_m, level_m)
    ashore = shore_line_at_distance(
        ShoreRope(length_m, 1e-7, curve.knots_n()[2, 0], curve=curve.knots_n()),
        40.0, 40.0 + rise_m, level_m,
    )  # fmt: skip
    # what is left of the weight sags by a part in a million
    assert form.tension_n == pytest.approx(tension_n, rel=1e-6)
    assert ashore.cleat_tension_n == pytest.approx(tension_n, rel=1e-6)


@QUIET
@given(some_fibre, st.floats(1.01, 3.0))
def test_past_what_parts_it_the_curve_goes_on_straight(fibre, times):
    curve = stretch(fibre, SIZE_M).nominal
    line = ShoreRope(20.0, 1e-7, curve.knots_n()[2, 0], curve=curve.knots_n())
    tension_n = times * curve.breaking_n
    more = (times - 1.0) * curve.breaking_n / float(curve.tangent_stiffness_n(curve.breaking_n))
    far_m = 20.0 * (1.0 + curve.extension[-1] + more)
    form = shore_line_at_distance(line, 40.0, 40.0, far_m)
    assert form.cleat_tension_n == pytest.approx(tension_n, rel=1e-6)


@QUIET
@given(some_fibre, st.floats(1.0, 14.0), st.floats(50.0, 9e3), st.floats(0.0, 0.8))
def test_a_rope_cut_in_two_hangs_and_lies_as_the_whole(fibre, cut_m, pull_n, friction):
    knots = stretch(fibre, SIZE_M).nominal.knots_n()
    whole = rode_at_pull(
        rode([20.0, 15.0, 10.0], [19.2, 0.4, 19.2], [None, knots, None]),
        LEVEL, friction, 9.0, pull_n,
    )  # fmt: skip
    two = rode_at_pull(
        rode([20.0, cut_m, 15.0 - cut_m, 10.0], [19.2, 0.4, 0.4, 19.2], [None, knots, knots, None]),
        LEVEL, friction, 9.0, pull_n,
    )  # fmt: skip
    # three places on a piece, and a chord on the bed: a millionth of the rope, 15 m
    assert two.distance_m == pytest.approx(whole.distance_m, abs=1.5e-5)
    assert two.down_n == pytest.approx(whole.down_n, rel=1e-5)


def lying_rope(pull_n, parts):
    """Distance of a heavy rope that lies on a rough bed for 60 m, cut into so many parts."""
    knots = stretch("nylon", SIZE_M).nominal.knots_n()
    lengths = [60.0 / parts] * parts + [20.0]
    line = rode(lengths, [1.2] * parts + [19.2], [knots] * parts + [None])
    return rode_at_pull(line, LEVEL, 1.0, 6.0, pull_n).distance_m


@pytest.mark.parametrize("pull_n", [200.0, 900.0, 3000.0, 9000.0])
def test_a_rope_on_the_bed_is_off_by_less_than_a_millionth_of_its_length(pull_n):
    # nylon four times as heavy as it is, friction 1: its pull changes by 72 N along the bed
    assert lying_rope(pull_n, 1) == pytest.approx(lying_rope(pull_n, 240), abs=60e-6)


@QUIET
@given(some_fibre, st.integers(0, 200), st.floats(4.0, 12.0))
def test_pull_grows_with_distance_and_nowhere_jumps_along_a_curve(fibre, seed, depth_m):
    along_m = np.arange(-5.0, 80.0)
    level_m = 0.05 * along_m + np.random.default_rng(seed).normal(0.0, 0.05, along_m.size)
    bed = BedLine(along_m, level_m)
    knots = stretch(fibre, SIZE_M).nominal.knots_n()
    line = rode([30.0, 15.0], [19.2, 0.4], [None, knots])
    bow_m = float(level_m.max()) + depth_m
    slack_m = rode_at_pull(line, bed, 0.6, bow_m, 1.0).slack_distance_m
    far_m = rode_at_pull(line, bed, 0.6, bow_m, 20e3).distance_m
    forms = [
        rode_at_distance(line, bed, 0.6, bow_m, x) for x in np.linspace(slack_m - 1.0, far_m, 12)
    ]
    pulls = np.array([form.pull_n for form in forms])
    assert np.isfinite(pulls).all()
    assert np.all(np.diff(pulls) >= 0.0)
    for form in forms[4::3]:
        near = rode_at_distance(line, bed, 0.6, bow_m, form.distance_m + 1e-5)
        assert near.pull_n - form.pull_n == pytest.approx(
            1e-5 * form.stiffness_npm, rel=0.02, abs=1e-5
        )


@QUIET
@given(some_fibre, st.floats(100.0, 9e3))
def test_the_softer_the_rope_the_farther_off_she_lies(fibre, pull_n):
    ropes = stretch(fibre, SIZE_M)
    far_m = [
        rode_at_pull(
            rode([25.0, 15.0], [19.2, 0.4], [None, curve.knots_n()]), LEVEL, 0.5, 9.0, pull_n
        ).distance_m
        for curve in (ropes.soft, ropes.nominal, ropes.stiff)
    ]
    assert far_m[0] > far_m[1] > far_m[2]


def test_two_parts_of_a_doubled_line_share_the_pull():
    curve = stretch("polypropylene", SIZE_M).nominal
    weight_npm = rope("polypropylene", SIZE_M).air_weight_npm
    one, two = (
        shore_line_at_distance(
            ShoreRope(
                25.0, parts * weight_npm, curve.knots_n(parts)[2, 0], curve=curve.knots_n(parts)
            ),
            1.1, 3.0, 26.0,
        )
        for parts in (1, 2)
    )  # fmt: skip
    assert two.pull_n == pytest.approx(2.0 * one.pull_n, rel=1e-9)
    assert two.angle_rad == pytest.approx(one.angle_rad, rel=1e-9)


def test_a_rig_follows_the_curve_asked_for():
    stay = read_stay(DEMO / "grey_notch" / "stay_d.toml")
    asked = {
        "nominal": rig(stay, 2.0),
        "soft": rig(stay, 2.0, "soft"),
        "stiff": rig(stay, 2.0, "stiff"),
        "new": rig(stay, 2.0, new_ropes=True),
    }
    leg = asked["nominal"].legs[0]
    used = stretch(leg.line.fibre, leg.line.diameter_m)
    new = stretch(leg.line.fibre, leg.line.diameter_m, new=True)
    told = {"nominal": used.nominal, "soft": used.soft, "stiff": used.stiff, "new": new.nominal}
    for name, rigged in asked.items():
        line = rigged.scene.lines[1]
        assert np.array_equal(line.curve, told[name].knots_n(leg.parts))
    said = {name: rigged.basis.assumptions[3].said for name, rigged in asked.items()}
    assert said["nominal"] == (
        "Ropes stretch by the printed curve of their fibre, used, three-strand where it is made so"
    )
    assert "softest" in said["soft"] and "stiffest" in said["stiff"] and "new" in said["new"]


@QUIET
@given(some_fibre, st.floats(0.01, 1.5), st.floats(0.1, 3.0))
def test_a_line_ashore_tells_how_stiff_it_is_about_a_pull(fibre, share, gain):
    curve = stretch(fibre, SIZE_M).nominal
    knots = curve.knots_n()
    line = ShoreLine("", 0, 0, 1.1, 0, 0, 2.0, 20.0, 1e-7, knots[2, 0], curve=knots)
    pull_n = share * curve.breaking_n
    last_n = float(curve.tangent_stiffness_n(curve.breaking_n))
    wanted_n = float(curve.tangent_stiffness_n(pull_n)) if share <= 1.0 else last_n
    assert line.tangent_n(pull_n) == pytest.approx(wanted_n, rel=1e-9)
    plain = ShoreLine("", 0, 0, 1.1, 0, 0, 2.0, 20.0, 1e-7, gain * 1e5)
    assert plain.tangent_n(pull_n) == gain * 1e5
