"""How long a line takes ashore and how much of it to flake, by hand."""

from __future__ import annotations

import math

import pytest

from shorefast.manoeuvre.carried import MAKE_FAST_S, ROWER, SWIMMER, Carrier, carry_s
from shorefast.manoeuvre.flaked import flake, loop_m

# By hand, 16 mm: a metre of line holds back with 0.5 x 1025 x 0.02 x 3.1416 x 0.016 = 0.5152 N
# at 1 m/s, so a swimmer of 30 N loses c = 0.5152 / 30 = 0.017174 a metre. Over 23 m:
# 1 + 0.39500 = 1.39500; to the power 1.5 1.64765; 2 x 0.64765 / (3 x 0.017174 x 0.6) = 41.90 s.
# Without a line it would be 23 / 0.6 = 38.33 s.
BY_HAND = [
    (SWIMMER, 23.0, 0.016, 41.9),
    # 60 m: 1 + 1.03044 = 2.03044, ^1.5 = 2.89324; 2 x 1.89324 / 0.0309132 = 122.49
    (SWIMMER, 60.0, 0.016, 122.5),
    # rower of 50 N, 24 mm: 0.7728 / 50 = 0.015456; 33 m: 1.51005^1.5 = 1.85562;
    # 2 x 0.85562 / (3 x 0.015456 x 1.0) = 36.91
    (ROWER, 33.0, 0.024, 36.9),
]


@pytest.mark.parametrize(("carrier", "distance_m", "diameter_m", "time_s"), BY_HAND)
def test_a_carry_takes_as_long_as_by_hand(carrier, distance_m, diameter_m, time_s):
    # the hand's figures are rounded to five digits
    assert carry_s(carrier, distance_m, diameter_m) == pytest.approx(time_s, rel=2e-3)


def test_a_thread_takes_no_longer_than_the_bare_distance():
    assert carry_s(SWIMMER, 30.0, 1e-6) == pytest.approx(30.0 / 0.6, rel=1e-4)


# Against small steps: 0.1 mm of way after another, each at the speed its drag leaves.
def test_the_sum_over_the_way_is_what_small_steps_add_up_to():
    per_m = 0.5 * 1025.0 * 0.02 * math.pi * 0.020 / 30.0
    steps, far_m = 40_000, 40.0
    by_steps = sum(
        far_m / steps / (0.6 / math.sqrt(1.0 + per_m * (k + 0.5) * far_m / steps))
        for k in range(steps)
    )
    assert carry_s(SWIMMER, far_m, 0.020) == pytest.approx(by_steps, rel=1e-6)


# By hand: 10 m/s at 10 m are 10 x 0.1^(1/7) = 7.197 at a rower's height; 0.5 x 1.225 x 1.0 x
# 51.79 = 31.72 N of the 50 are gone: the speed is sqrt(1 - 0.6344) = 0.6046 of that in a calm.
def test_a_wind_from_ahead_takes_of_the_rowers_way():
    calm, breeze = (carry_s(ROWER, 20.0, 1e-6, wind) for wind in (0.0, 10.0))
    assert calm / breeze == pytest.approx(0.6046, rel=2e-3)


def test_a_wind_that_lets_no_headway_takes_for_ever_and_a_swimmer_does_not_mind():
    assert carry_s(ROWER, 20.0, 0.016, 13.0) == math.inf
    assert carry_s(SWIMMER, 20.0, 0.016, 13.0) == carry_s(SWIMMER, 20.0, 0.016)


def test_a_wind_nobody_knows_leaves_the_time_unknown():
    assert math.isnan(carry_s(ROWER, 20.0, 0.016, math.nan))


@pytest.mark.parametrize("carrier", [SWIMMER, ROWER])
def test_farther_and_thicker_take_longer(carrier):
    times = [carry_s(carrier, far_m, 0.016) for far_m in (5.0, 10.0, 20.0, 40.0, 80.0)]
    assert times == sorted(times)
    thick = [carry_s(carrier, 40.0, diameter_m) for diameter_m in (0.012, 0.016, 0.024)]
    assert thick == sorted(thick)


def test_twice_as_strong_a_carrier_is_never_slower():
    weak, strong = Carrier(0.6, 30.0, 0.0), Carrier(0.8, 30.0, 0.0)
    assert carry_s(strong, 40.0, 0.016) < carry_s(weak, 40.0, 0.016)


def test_three_minutes_are_left_to_land_and_make_fast():
    assert MAKE_FAST_S == 180.0


# By hand, 23.0 m to a tree 6.5 m above datum, water at 1.5 m falling to 0.4, cleat 1.3 m up:
# 23.0 + (1.3 + 5.0) + 1.1 + 0.05 x 23.0 = 1.15 + 3.0 for knot and turns + 3.0 round the tree
# = 37.55; a tenth in reserve, 3.755; in all 41.305.
def test_a_line_to_a_tree_by_hand():
    line = flake(23.0, 1.3 + 6.5 - 1.5, 1.5 - 0.4, loop_m("tree", False))
    assert line.need_m == pytest.approx(37.55)
    assert line.whole_m == pytest.approx(41.305)


# By hand, 10.0 m to a ring 1.6 m up, water at 0.2 and not falling, cleat 1.2: 10 + 2.6 + 0.5 +
# 3.0 + 1.0 = 17.1; a tenth would be 1.71: three metres it is. 20.1.
def test_a_short_line_to_a_ring_keeps_three_metres_in_reserve():
    line = flake(10.0, 1.2 + 1.6 - 0.2, 0.0, loop_m("ring", False))
    assert line.reserve_m == 3.0
    assert line.whole_m == pytest.approx(20.1)


# By hand, led out and back through a sling: 2 x (20 + 5 + 1 + 1 + 3) + 1 = 61; 6.1 more.
def test_a_line_led_out_and_back_counts_twice():
    line = flake(20.0, 5.0, 1.0, loop_m("rock", True), 2)
    assert line.need_m == pytest.approx(61.0)
    assert line.whole_m == pytest.approx(67.1)


def test_every_piece_of_it_makes_it_longer():
    plain = flake(20.0, 4.0, 1.0, 1.0).whole_m
    assert flake(21.0, 4.0, 1.0, 1.0).whole_m > plain
    assert flake(20.0, 5.0, 1.0, 1.0).whole_m > plain
    assert flake(20.0, 4.0, 2.0, 1.0).whole_m > plain
    assert flake(20.0, 4.0, 1.0, 6.0).whole_m > plain


@pytest.mark.parametrize(
    ("kind", "slung", "round_m"),
    [
        ("tree", False, 3.0),
        ("Birch tree", False, 3.0),
        ("rock", False, 6.0),
        ("big boulder", False, 6.0),
        ("ring", False, 1.0),
        ("own ground anchor", False, 1.0),
        ("rock", True, 1.0),
    ],
)
def test_what_goes_round_a_point_is_by_its_kind_and_sling(kind, slung, round_m):
    assert loop_m(kind, slung) == round_m
