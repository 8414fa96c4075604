"""What must hold of waves and gusts whatever the numbers."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.mooring import wave_push
from shorefast.weather import answered_over_s, gust_over_mps

HALF = np.array([[6.0, 0.0], [2.0, 1.7], [-2.4, 2.0], [-6.0, 1.4]])
OUTLINE = np.concatenate([HALF, (HALF * [1.0, -1.0])[:0:-1]])
RANDOM = np.random.default_rng(7)


def test_higher_waves_never_push_less_and_none_push_nothing():
    for period_s, from_rad in RANDOM.uniform([0.8, -math.pi], [8.0, math.pi], (40, 2)):
        pushes = [
            wave_push((height_m, period_s), from_rad, OUTLINE, 4.0, 0.6)
            for height_m in (0.0, 0.1, 0.3, 0.8)
        ]
        forces = [math.hypot(float(p.forward_n), float(p.starboard_n)) for p in pushes]
        turns = [abs(float(p.turning_nm)) for p in pushes]
        assert forces[0] == turns[0] == 0.0
        assert np.all(np.diff(forces) > 0.0)
        assert np.all(np.diff(turns) >= 0.0)


def test_longer_waves_of_a_height_never_push_more():
    periods = np.linspace(0.5, 12.0, 60)
    push = wave_push((0.4, periods), 0.8, OUTLINE, 4.0, 0.6)
    assert np.all(np.diff(np.hypot(push.forward_n, push.starboard_n)) <= 1e-9)


def test_a_longer_average_never_makes_a_greater_gust_nor_one_below_the_mean():
    spans = np.geomspace(1.0, 600.0, 40)
    for mean, over in RANDOM.uniform([0.0, 0.0], [20.0, 20.0], (30, 2)):
        gusts = np.array([gust_over_mps(mean + over, mean, (3.0, s)) for s in spans])
        assert np.all(np.diff(gusts) <= 1e-12)
        assert np.all(gusts >= mean - 1e-12)
        assert gust_over_mps(mean + over, mean, (3.0, 3.0)) == pytest.approx(mean + over)


def test_a_gust_said_to_be_below_its_mean_stays_as_it_is():
    assert gust_over_mps(8.0, 10.0, (3.0, 30.0)) == pytest.approx(8.0)


# by stepping the motion of one mass on one spring, not by its closed form
@pytest.mark.parametrize("period_s", [4.0, 15.0])
def test_a_push_of_the_answered_length_moves_her_as_far_as_one_that_stands(period_s):
    w2, dt = (2.0 * math.pi / period_s) ** 2, period_s / 60_000
    x = v = most = 0.0
    for step in range(60_000):
        push = 1.0 if step * dt < answered_over_s(period_s) else 0.0
        v += dt * w2 * (push - x)
        x += dt * v
        most = max(most, x)
    assert most == pytest.approx(1.0, abs=2e-3)
