"""Her own periods, from what she weighs and how stiffly she lies."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.boat import Hull
from shorefast.mooring import Inertia, inertia, natural, underbody

BODY = underbody(Hull(13.2, 4.1, 2.1, 11_500.0, 12.0))
MOVED = Inertia(12e3, 24e3, 150e3)


def in_bay(along: float, across: float, turning: float, heading_rad: float):
    sine, cosine = math.sin(heading_rad), math.cos(heading_rad)
    turned = np.array([[sine, cosine, 0.0], [cosine, -sine, 0.0], [0.0, 0.0, 1.0]])
    return turned @ np.diag([along, across, turning]) @ turned.T


@pytest.mark.parametrize("heading_deg", [0.0, 35.0, 200.0])
def test_on_springs_of_her_own_each_way_swings_by_itself(heading_deg):
    heading = math.radians(heading_deg)
    swings = natural(in_bay(12e3, 600.0, 15e4, heading), heading, MOVED)
    # 2 pi sqrt(m / k): 24 t on 600 N/m 39.7 s; one second in a radian is 6.28 s for both others
    assert swings.period_s == pytest.approx([39.74, 6.283, 6.283], abs=0.01)
    assert swings.way[0] == "sway" and set(swings.way[1:]) == {"surge", "yaw"}


def test_where_nothing_brings_her_back_there_is_no_period():
    swings = natural(in_bay(12e3, -50.0, 15e4, 0.3), 0.3, MOVED)
    assert np.isnan(swings.period_s).tolist() == [True, False, False]


def test_an_unknown_stiffness_gives_unknown_periods():
    assert np.isnan(natural(np.full((3, 3), math.nan), 0.0, MOVED).period_s).all()


def test_four_times_as_stiff_swings_twice_as_fast():
    stiff = in_bay(900.0, 700.0, 9e4, 1.0)
    stiff[0, 2] = stiff[2, 0] = 1500.0
    one, other = natural(stiff, 1.0, MOVED), natural(4.0 * stiff, 1.0, MOVED)
    assert other.period_s == pytest.approx(0.5 * one.period_s)


def test_water_moves_with_her_most_across_and_more_with_the_keel():
    bare, whole = inertia(BODY, 0.0), inertia(BODY, 1.0)
    assert bare.surge_kg == whole.surge_kg == pytest.approx(1.08 * 11_500.0)
    assert 11_500.0 < bare.surge_kg < bare.sway_kg < whole.sway_kg < 4.0 * 11_500.0
    assert bare.yaw_kgm2 < whole.yaw_kgm2


def test_a_round_bilge_without_a_keel_carries_half_a_circles_water():
    # Newman: a circle's added mass is that of the water it displaces. Half of it, radius
    # 0.63 m, with depth squared falling off as a parabola: two thirds of 12 m of it.
    half_kgpm = 0.5 * 1025.0 * math.pi * 0.63**2
    assert inertia(BODY, 0.0).sway_kg - 11_500.0 == pytest.approx(8.0 * half_kgpm, rel=1e-6)
