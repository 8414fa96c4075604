"""Laws of rode and shore line: what must be so on any bed and at any distance."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shorefast.mooring import (
    BedLine,
    LineSegments,
    ShoreRope,
    rode_at_distance,
    rode_at_pull,
    rode_trace,
    shore_line_at_distance,
)

# searches for pull and for distance end within this of one another
ALIKE = 1e-6
QUIET = settings(derandomize=True, max_examples=25, deadline=None, database=None)
LEVEL = BedLine(np.array([-300.0, 300.0]), np.array([0.0, 0.0]))
FEW_SLOPES = st.lists(st.floats(-0.5, 0.5), min_size=3, max_size=8)


def chain(length_m, weight_npm=19.2, stiffness_n=8.5e6):
    return LineSegments(np.array([length_m]), np.array([weight_npm]), np.array([stiffness_n]))


def sloped(rise):
    return BedLine(np.array([-300.0, 300.0]), rise * np.array([-300.0, 300.0]))


def broken(slopes, piece_m):
    """Straight pieces of equal length ahead of the anchor, level behind it and beyond them."""
    along = piece_m * np.arange(len(slopes) + 1)
    level = np.concatenate([[0.0], np.cumsum(np.asarray(slopes) * piece_m)])
    return BedLine(np.array([-20.0, *along, 500.0]), np.array([0.0, *level, level[-1]]))


def noisy(seed, rise, rough_m):
    """Pieces of 1 m, each corner off a slope by a seeded error."""
    along = np.arange(-5.0, 90.0)
    error = np.random.default_rng(seed).normal(0.0, rough_m, along.size)
    return BedLine(along, rise * along + error)


def bow_over(bed, height_m):
    """A level of the roller clear of all the bed within the chain's reach."""
    return float(np.max(bed.level_m)) + height_m


# closed_forms C.7: exact arithmetic for an inextensible chain of 19.2 N/m, printed to 1 N.
@pytest.mark.parametrize(
    ("angle_deg", "height_m", "pull_n"),
    [
        (70, 8, 80), (70, 30, 299), (60, 12, 230), (50, 20, 691), (45, 8, 371), (45, 30, 1391),
        (40, 12, 754), (30, 20, 2482), (30, 30, 3723), (20, 12, 3590), (15, 8, 4354),
    ],
)  # fmt: skip
def test_a_stiff_chain_leads_at_the_angle_of_the_closed_form(angle_deg, height_m, pull_n):
    form = rode_at_pull(chain(600.0, stiffness_n=1e12), LEVEL, 0.6, height_m, float(pull_n))
    # 0.5 N of rounding in the printed pull moves the angle most at the steepest: 0.12 degrees
    assert math.degrees(form.angle_rad) == pytest.approx(angle_deg, abs=0.13)
    exact_n = 19.2 * height_m / (1.0 / math.cos(form.angle_rad) - 1.0)
    assert exact_n == pytest.approx(pull_n, rel=1e-6)


# closed_forms C.7, lifted length of 10 mm chain, printed to 0.1 m.
@pytest.mark.parametrize(
    ("height_m", "pull_n", "lifted_m"),
    [(12, 500, 27.7), (12, 1000, 37.3), (12, 2000, 51.4), (12, 3000, 62.4), (12, 5000, 80.0),
     (20, 500, 38.0), (20, 1000, 49.8), (20, 2000, 67.6), (20, 3000, 81.5), (20, 5000, 104.0)],
)  # fmt: skip
def test_so_much_chain_is_lifted(height_m, pull_n, lifted_m):
    form = rode_at_pull(chain(200.0, stiffness_n=1e12), LEVEL, 0.0, height_m, float(pull_n))
    assert 200.0 - form.on_bottom_m == pytest.approx(lifted_m, abs=0.06)
    # without friction the shank feels what the roller pulls level
    assert form.anchor_tension_n == pytest.approx(pull_n, rel=1e-9)
    assert form.tension_n == pytest.approx(pull_n + 19.2 * height_m, rel=1e-9)


# closed_forms C.7, uplift of the shank against the bed, 60 m of 10 mm, 29 m, printed to 0.1.
@pytest.mark.parametrize(
    ("pull_n", "slope_deg", "uplift_deg", "bottom_m"),
    [(500, 0, 0.0, 11.5), (500, 20, 0.0, 31.7), (1000, 0, 2.4, 0.0), (1000, 10, 0.0, 7.7),
     (2000, 0, 15.7, 0.0), (2000, 20, 0.0, 9.6), (3000, 10, 10.2, 0.0), (3000, 20, 0.2, 0.0),
     (5000, 25, 0.0, 7.4), (8000, 20, 5.7, 0.0), (8000, 25, 0.7, 0.0)],
)  # fmt: skip
def test_a_rising_bed_spares_the_shank_as_the_table_has_it(pull_n, slope_deg, uplift_deg, bottom_m):
    bed = sloped(math.tan(math.radians(slope_deg)))
    form = rode_at_pull(chain(60.0, stiffness_n=1e12), bed, 0.0, 29.0, float(pull_n))
    # last digit printed; beside it the weight, printed as 19.2, is good to a third of a percent
    assert math.degrees(form.uplift_rad) == pytest.approx(uplift_deg, abs=0.11)
    assert form.on_bottom_m == pytest.approx(bottom_m, abs=0.11)


@QUIET
@given(st.floats(5.0, 60.0), st.floats(0.001, 0.1), st.floats(-0.6, 0.6))
def test_a_line_without_weight_is_a_spring(length_m, strain, rise_share):
    stiffness_n, weight_npm = 2e5, 1e-7
    far_m = length_m * (1.0 + strain)
    rise_m = rise_share * far_m
    level_m = math.sqrt(far_m**2 - rise_m**2)
    spring_n = stiffness_n * strain * level_m / far_m
    form = rode_at_distance(
        chain(length_m, weight_npm, stiffness_n), sloped(-5.0), 0.0, rise_m, level_m
    )
    ashore = shore_line_at_distance(
        ShoreRope(length_m, weight_npm, stiffness_n), 40.0, 40.0 + rise_m, level_m
    )
    # what is left of the weight sags by a part in a million
    assert form.pull_n == pytest.approx(spring_n, rel=1e-6)
    assert ashore.pull_n == pytest.approx(spring_n, rel=1e-6)
    assert ashore.stiffness_npm > 0.0


# closed_forms C.8: T = w L2 / (8 sag), 25 m of floating line of 1.13 N/m.
@pytest.mark.parametrize(("sag_m", "pull_n"), [(0.10, 883), (0.20, 441), (0.30, 294), (0.50, 177)])
def test_a_line_ashore_sags_as_its_pull_tells(sag_m, pull_n):
    rope = ShoreRope(25.0, 1.13, 1e12)
    # the parabola's length for this sag: distance 25 less 8 sag2 / 3 L
    form = shore_line_at_distance(rope, 5.0, 5.0, 25.0 - 8.0 * sag_m**2 / (3.0 * 25.0))
    assert 5.0 - form.lowest_above_water_m == pytest.approx(sag_m, rel=5e-3)
    # the parabola differs from the catenary by (sag / L)2, the pull is printed to 1 N
    assert form.pull_n == pytest.approx(pull_n, rel=6e-3)


@QUIET
@given(FEW_SLOPES, st.floats(3.0, 15.0), st.floats(0.0, 1.0), st.floats(5.0, 20.0))
def test_distance_to_pull_and_back_on_a_broken_bed(slopes, piece_m, friction, height_m):
    bed = broken(slopes, piece_m)
    bow_m = bow_over(bed, height_m)
    line = chain(bow_m + 40.0)
    for pull_n in (150.0, 900.0, 6000.0):
        there = rode_at_pull(line, bed, friction, bow_m, pull_n)
        back = rode_at_distance(line, bed, friction, bow_m, there.distance_m)
        assert back.pull_n == pytest.approx(pull_n, rel=ALIKE)
        at_shank_n = pytest.approx(there.anchor_tension_n, rel=10 * ALIKE, abs=0.01)
        assert back.anchor_tension_n == at_shank_n
        assert back.uplift_rad == pytest.approx(there.uplift_rad, abs=ALIKE)


@QUIET
@given(st.integers(0, 10_000), st.floats(-0.3, 0.5), st.floats(0.02, 0.2))
def test_distance_to_pull_and_back_on_a_rough_bed(seed, rise, rough_m):
    bed = noisy(seed, rise, rough_m)
    bow_m = bow_over(bed, 8.0)
    line = chain(bow_m + 30.0)
    for pull_n in (200.0, 1000.0, 5000.0):
        there = rode_at_pull(line, bed, 0.6, bow_m, pull_n)
        back = rode_at_distance(line, bed, 0.6, bow_m, there.distance_m)
        assert back.pull_n == pytest.approx(pull_n, rel=ALIKE)


@QUIET
@given(st.integers(0, 10_000), st.floats(-0.3, 0.5), st.floats(0.0, 0.2))
def test_the_farther_she_lies_the_harder_it_pulls(seed, rise, rough_m):
    bed = noisy(seed, rise, rough_m)
    bow_m = bow_over(bed, 8.0)
    line = chain(bow_m + 30.0)
    slack_m = rode_at_pull(line, bed, 0.6, bow_m, 1.0).slack_distance_m
    far_m = rode_at_pull(line, bed, 0.6, bow_m, 20e3).distance_m
    forms = [
        rode_at_distance(line, bed, 0.6, bow_m, x) for x in np.linspace(slack_m - 1.0, far_m, 12)
    ]
    pulls = np.array([form.pull_n for form in forms])
    lying = np.array([form.on_bottom_m for form in forms])
    assert pulls[0] == 0.0
    assert np.all(np.diff(pulls[1:]) > 0.0)
    # no bound on tension at the shank: a snubbed chain only ever lifts off the bed
    assert np.all(np.diff(lying) <= 1e-9)


@QUIET
@given(st.floats(-0.4, 0.4), st.lists(st.floats(0.5, 9.0), min_size=3, max_size=9))
def test_corners_on_one_straight_line_are_no_corners(rise, steps_m):
    along = np.concatenate([[-30.0], np.cumsum(steps_m)])
    cut = BedLine(along, rise * along)
    bow_m = 14.0 + max(0.0, 60.0 * rise)
    line = chain(bow_m + 35.0)
    for pull_n in (120.0, 1100.0, 7000.0):
        one = rode_at_pull(line, sloped(rise), 0.6, bow_m, pull_n)
        other = rode_at_pull(line, cut, 0.6, bow_m, pull_n)
        assert other.distance_m == pytest.approx(one.distance_m, abs=1e-6)
        assert other.anchor_tension_n == pytest.approx(one.anchor_tension_n, rel=1e-6, abs=1e-6)
        assert other.on_bottom_m == pytest.approx(one.on_bottom_m, abs=1e-6)


@QUIET
@given(st.floats(6.0, 30.0), st.floats(200.0, 9000.0), st.floats(0.0, 1.0))
def test_more_chain_on_a_level_bed_never_lifts_the_shank_higher(height_m, pull_n, friction):
    forms = [
        rode_at_pull(chain(height_m + more_m), LEVEL, friction, height_m, pull_n)
        for more_m in (2.0, 6.0, 15.0, 30.0, 60.0, 120.0)
    ]
    uplift = np.array([form.uplift_rad for form in forms])
    at_shank = np.array([form.anchor_tension_n for form in forms])
    assert np.all(np.diff(uplift) <= 1e-9)
    assert np.all(np.diff(at_shank) <= 1e-6 * at_shank[0])


@QUIET
@given(st.floats(0.0, 1.2), st.floats(100.0, 5000.0))
def test_friction_only_ever_spares_the_anchor(friction, pull_n):
    smooth = rode_at_pull(chain(70.0), LEVEL, 0.0, 15.0, pull_n)
    rough = rode_at_pull(chain(70.0), LEVEL, friction, 15.0, pull_n)
    assert rough.anchor_tension_n <= smooth.anchor_tension_n + 1e-9
    # what it spares is the friction of what lies
    spared_n = min(smooth.anchor_tension_n, friction * 19.2 * rough.on_bottom_m)
    assert smooth.anchor_tension_n - rough.anchor_tension_n == pytest.approx(spared_n, abs=0.01)


@QUIET
@given(st.floats(10.0, 40.0), st.floats(150.0, 6000.0))
def test_a_chain_in_two_pieces_is_the_chain_in_one(cut_m, pull_n):
    bed = broken([0.1, 0.4, -0.1, 0.3], 9.0)
    bow_m = bow_over(bed, 10.0)
    whole = rode_at_pull(chain(60.0), bed, 0.5, bow_m, pull_n)
    two = LineSegments(np.array([cut_m, 60.0 - cut_m]), np.full(2, 19.2), np.full(2, 8.5e6))
    cut = rode_at_pull(two, bed, 0.5, bow_m, pull_n)
    assert cut.distance_m == pytest.approx(whole.distance_m, abs=1e-7)
    assert cut.anchor_tension_n == pytest.approx(whole.anchor_tension_n, rel=ALIKE, abs=0.01)


@QUIET
@given(FEW_SLOPES, st.floats(150.0, 6000.0), st.floats(5.0, 15.0))
def test_the_drawn_rode_clears_the_bed_and_ends_at_the_roller(slopes, pull_n, height_m):
    bed = broken(slopes, 8.0)
    bow_m = bow_over(bed, height_m)
    line = chain(bow_m + 40.0)
    form = rode_at_pull(line, bed, 0.6, bow_m, pull_n)
    along_m, level_m, lying = rode_trace(line, bed, 0.6, bow_m, form.distance_m)
    assert lying.size == along_m.size - 1
    assert (along_m[0], level_m[0]) == (0.0, 0.0)
    assert (along_m[-1], level_m[-1]) == (
        pytest.approx(form.distance_m, abs=1e-6),
        pytest.approx(bow_m, abs=1e-6),
    )
    under = np.interp(along_m, bed.along_m, bed.level_m)
    assert np.all(level_m >= under - 1e-6)
    run_m = np.hypot(np.diff(along_m), np.diff(level_m))
    # drawn in straight strokes and stretched a little: as long as what is out, to a few cm
    assert run_m.sum() == pytest.approx(bow_m + 40.0, rel=2e-3)
    assert run_m[lying].sum() == pytest.approx(form.on_bottom_m, rel=2e-3, abs=0.01)


@QUIET
@given(
    st.floats(10.0, 60.0), st.floats(0.3, 3.0), st.floats(0.5, 4.0), st.floats(0.0, 8.0),
    st.floats(-0.05, 0.06),
)  # fmt: skip
def test_a_line_ashore_is_slack_or_pulls_harder_farther_out(
    length_m, weight_npm, cleat_m, point_m, share
):
    rope = ShoreRope(length_m, weight_npm, 9e4)
    near = shore_line_at_distance(rope, cleat_m, point_m, length_m * (1.0 + share))
    far = shore_line_at_distance(rope, cleat_m, point_m, length_m * (1.01 + share))
    assert near.slack == (near.pull_n == 0.0)
    assert near.slack == (near.distance_m <= near.slack_distance_m)
    if not far.slack:
        assert far.pull_n > near.pull_n
        # the stiffness said is the pull gained by a millimetre
        more = shore_line_at_distance(rope, cleat_m, point_m, far.distance_m + 1e-3)
        gained_npm = (more.pull_n - far.pull_n) / 1e-3
        assert far.stiffness_npm == pytest.approx(gained_npm, rel=0.02)
        assert min(far.cleat_tension_n, far.shore_tension_n) >= far.pull_n


@QUIET
@given(st.floats(15.0, 40.0), st.floats(1.0, 4.0), st.floats(1.0, 8.0))
def test_a_line_ashore_pulls_alike_whichever_end_is_the_tree(length_m, one_m, other_m):
    rope = ShoreRope(length_m, 1.1, 9e4)
    distance_m = 1.002 * length_m
    out = shore_line_at_distance(rope, one_m, other_m, distance_m)
    home = shore_line_at_distance(rope, other_m, one_m, distance_m)
    assert home.pull_n == pytest.approx(out.pull_n, rel=1e-9)
    assert home.cleat_tension_n == pytest.approx(out.shore_tension_n, rel=1e-9)
    assert home.lowest_above_water_m == pytest.approx(out.lowest_above_water_m, abs=1e-6)


@QUIET
@given(FEW_SLOPES, st.floats(3.0, 12.0), st.floats(0.3, 1.0), st.floats(5.0, 20.0))
def test_without_friction_the_tension_grows_with_the_height_alone(slopes, piece_m, share, height_m):
    """However the chain bridges, lies and turns: T at the roller less T at the shank is w h."""
    bed = broken(slopes, piece_m)
    bow_m = bow_over(bed, height_m)
    line = chain(bow_m + 40.0, stiffness_n=1e12)
    form = rode_at_pull(line, bed, 0.0, bow_m, 8000.0 * share)
    gained_n = form.tension_n - form.anchor_tension_n
    assert gained_n == pytest.approx(19.2 * bow_m, rel=1e-6, abs=0.05)
