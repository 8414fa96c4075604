"""Arrivals of usual crews in gusts, on seeds the stated limits were not drawn with."""

import math
from dataclasses import replace

import numpy as np
import pytest
from measures.arrivals import FIRST_SEED, came_to, is_within, lands_inside, perfect, usually
from measures.crosswinds import ABOVE, keeps
from scipy.stats import binom

from shorefast.manoeuvre import started
from shorefast.manoeuvre.coming_in import keeps_her_way
from shorefast.manoeuvre.crosswind import in_wind, swinging
from shorefast.manoeuvre.stated_limits import HELD_SHARE, TRIED, _radius_m, stated_limits
from shorefast.stay import where_to_let_go

RUNS, SEED = 20, 41_000_000


@pytest.fixture(scope="module")
def spur():
    return came_to("spur")


@pytest.fixture(scope="module")
def went(spur):
    return usually(spur, RUNS, SEED)


def test_of_a_hundred_ninety_five_come_within_what_is_stated(spur, went):
    assert sum(is_within(spur, one) for one, _ in went) >= 0.95 * RUNS


def test_the_limits_are_no_wider_than_half_as_much_again_as_what_comes(spur, went):
    landed = np.array([one.off_place_m for one, _ in went])
    # of a normal spread the mean of the squares says where 95 of 100 lie
    nineteen_of_twenty = 2.448 * math.sqrt(float(np.mean(landed**2)) / 2.0)
    assert spur.found.limits.landing_m < 1.5 * nineteen_of_twenty


def test_a_perfect_crew_lets_go_in_the_patch_and_lies_within_three_metres(spur):
    one = perfect(spur)
    assert one.ended == "lies" and one.off_plan_m < 3.0
    patch = where_to_let_go(spur.stay, spur.judged).patch
    assert lands_inside(patch, one)
    assert 0.5 <= spur.found.limits.inside(patch) <= 1.0


def test_above_the_stated_crosswind_perfect_and_usual_crews_are_set_off_their_way(spur):
    cross, way = spur.found.crosswind, spur.found.way
    from_rad = way.arrival.way_in_rad + (0.5 if cross.from_right else -0.5) * math.pi
    beyond = in_wind(way, ABOVE * cross.holds, from_rad)
    gusty = replace(beyond.arrival.wind, gust_mps=1.4 * ABOVE * cross.holds)
    beyond = started(replace(beyond, arrival=replace(beyond.arrival, wind=gusty)))
    felt = way.arrival.felt_mps(ABOVE * cross.holds)
    assert not keeps_her_way(beyond, swinging(way, felt, from_rad))
    assert sum(keeps(spur, beyond, SEED + k) for k in range(RUNS)) <= 0.05 * RUNS


def test_she_proves_on_her_stern_lines_and_the_others_come_after(spur):
    marks = [name for name, _ in perfect(spur).marks]
    lines = spur.found.way.arrival.rigged.scene.lines
    for number, _ in spur.lines_s:
        before = marks.index(f"line {number}") < marks.index("prove")
        assert before == (lines[number].x_m <= 0.0)


def test_limits_and_arrivals_are_never_drawn_alike(spur):
    again = stated_limits(spur.found.way)
    assert again.landing_m == spur.found.limits.landing_m
    assert again.lie_m == spur.found.limits.lie_m
    first = 7_000_000
    assert first + TRIED < min(FIRST_SEED, SEED)


# Binomial law: where each of a hundred comes within with 0.974, 95 do in nineteen of twenty.
def test_the_share_held_lets_ninety_five_of_any_hundred_come_within():
    both = 1.0 - 2.0 * (1.0 - HELD_SHARE)
    assert binom.sf(94, 100, both) == pytest.approx(0.95, abs=0.01)


# Drawn from spreads whose shares are known by drawing two million.
@pytest.mark.parametrize(
    ("mean", "spread"), [((0, 0), (1, 1)), ((0, 0), (1, 0.01)), ((2, 0), (1, 3.5))]
)
def test_the_radius_of_a_few_is_seldom_too_small(mean, spread):
    draw = np.random.default_rng(3)
    many = draw.standard_normal((2_000_000, 2)) * spread + mean
    true_m = np.quantile(np.hypot(*many.T), HELD_SHARE)
    few = [_radius_m(draw.standard_normal((TRIED, 2)) * spread + mean) for _ in range(300)]
    assert np.mean(np.array(few) < true_m) < 0.08
    assert np.median(few) < 1.2 * true_m
