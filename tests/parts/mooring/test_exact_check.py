"""Rests from tables held against lines solved anew: coarse tables are put right, fine ones kept."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.mooring import (
    AIR_KGPM3,
    FOUND,
    L_FAR,
    L_LYING,
    L_PULL,
    UNSETTLED,
    Domain,
    GridBed,
    LineSegments,
    Load,
    Off,
    Rests,
    RodeLine,
    Scene,
    ShoreLine,
    Spread,
    WindForm,
    held_exactly,
    moored,
    rests,
    solve_rest,
)

CHAIN = LineSegments(np.array([60.0]), np.array([19.2]), np.array([8.5e6]))
FORM = WindForm(14.0, 31.0, 13.0, 0.4, 0.95, 0.8, 0.82, 0.45)
START = np.array([0.0, 0.0, math.pi])
ARM_M = 6.5


def humps():
    """A bed 17 m under the datum, ridges of 0.5 m across the way to the shore and along it."""
    axis = np.arange(-90.0, 90.5, 1.0)
    east, north = np.meshgrid(axis, axis)
    level = 0.5 * np.sin(north * 2 * math.pi / 9) + 0.4 * np.sin(east * 2 * math.pi / 7)
    return GridBed(-90.0, -90.0, 1.0, -17.0 + 0.05 * north + level)


@pytest.fixture(scope="module")
def scene():
    rode = RodeLine("rode", 6.3, 0.0, 1.5, 0.0, -52.0, CHAIN, humps(), 0.6)
    # her bow is to the anchor in the south: her port side is to the east
    ashore = tuple(
        ShoreLine(f"line {side:g}", -5.6, side, 1.1, -4.0 * side, 28.0, 2.8, 24.3, 3.6, 4e5)
        for side in (1.7, -1.7)
    )
    return Scene((rode, *ashore), Domain(-30.0, 30.0, -30.0, 30.0), FORM)


STATES = (
    np.array([0.1, 0.5, 0.9, 0.3, 0.7]),
    np.array([4.0, 9.0, 14.0, 18.0, 22.0]),
    np.radians([200.0, 130.0, 90.0, 60.0, 190.0]),
)


def found_by(scene, bearings, levels):
    ready = moored(scene, FORM, ARM_M, START, Spread(0.0, 1.0, levels, bearings))
    table = rests(ready, *(state[:, None] for state in STATES), ready.all_set)
    return ready, Rests(table.q[:, 0], table.code[:, 0], table.line[:, 0])


def exactly(scene, k, q):
    load = Load(0.0, 0.0, 0.0, STATES[1][k], STATES[2][k], AIR_KGPM3)
    return solve_rest(scene, load, STATES[0][k], tuple(q), arm_m=ARM_M)


def test_coarse_tables_are_put_right_and_what_is_left_is_told(scene):
    ready, coarse = found_by(scene, 4, 2)
    held = held_exactly(ready, STATES, coarse, ready.all_set)
    assert held.states == 5 and held.polished >= 3
    assert held.farthest.shift_m > 2.5e-3
    for k in range(5):
        exact = exactly(scene, k, coarse.q[k])
        shift_m = math.hypot(*(held.rests.q[k] - [exact.east_m, exact.north_m, 0.0])[:2])
        assert shift_m < 2.6e-3
        rode, line = exact.lines[0], held.rests.line[k, 0]
        assert line[L_PULL] == pytest.approx(rode.pull_n, abs=2.6)
        assert line[L_FAR] == pytest.approx(rode.anchor_tension_n, abs=2.6)
        assert line[L_LYING] == pytest.approx(rode.on_bottom_m, abs=0.6)


def test_what_is_told_of_how_far_off_is_what_a_solve_finds(scene):
    ready, coarse = found_by(scene, 7, 3)
    for k in range(5):
        one = Rests(coarse.q[k : k + 1], coarse.code[k : k + 1], coarse.line[k : k + 1])
        held = held_exactly(ready, tuple(state[k : k + 1] for state in STATES), one, ready.all_set)
        exact = exactly(scene, k, coarse.q[k])
        shift_m = math.hypot(coarse.q[k, 0] - exact.east_m, coarse.q[k, 1] - exact.north_m)
        assert held.farthest.shift_m == pytest.approx(shift_m, rel=0.15, abs=2e-4)


def test_rests_that_are_near_enough_stay_to_the_bit(scene):
    ready, fine = found_by(scene, 61, 9)
    held = held_exactly(ready, STATES, fine, ready.all_set)
    kept = held.states - held.polished
    assert kept >= 3
    same = (held.rests.q == fine.q).all(axis=1) & (held.rests.line == fine.line).all(axis=(1, 2))
    assert same.sum() == kept
    assert held.worst.shift_m <= 2.5e-3 and held.worst.pull_n <= 2.5


def test_states_without_a_rest_are_left_alone(scene):
    ready, fine = found_by(scene, 31, 5)
    none = Rests(np.full((1, 3), np.nan), np.array([UNSETTLED]), np.full((1, 3, 8), np.nan))
    held = held_exactly(ready, tuple(state[:1] for state in STATES), none, ready.all_set)
    assert (held.states, held.polished, held.worst) == (0, 0, Off(0.0, 0.0, 0.0))
    assert np.isnan(held.rests.q).all() and fine.code[0] == FOUND
