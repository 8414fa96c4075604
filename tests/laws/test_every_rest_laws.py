"""Laws of all rests together: the one she comes to is among them, and they add up."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.mooring import (
    AIR_KGPM3,
    Domain,
    LineSegments,
    Load,
    PlaneBed,
    RodeLine,
    Scene,
    ShoreLine,
    Spread,
    WindForm,
    all_rests,
    moored,
    same_place_m,
    solve_rest,
)

FORM = WindForm(14.0, 31.0, 13.0, 0.4, 0.95, 0.8, 0.82, 0.45)
ARM_M = 6.5
SCENES, PARTS = 320, 4
SOUTHWARD = np.array([0.0, 0.0, math.pi])


def shore_line(draw, name):
    """A line from quarter, bow or midships; from well slack to hauled in hard."""
    x_m, y_m = draw.choice([-5.6, -5.6, 5.0, 0.0]), draw.choice([1.7, -1.7])
    east_m, north_m = draw.uniform(-16.0, 16.0), draw.uniform(20.0, 34.0)
    length_m = max(8.0, math.hypot(east_m, north_m - 6.0) * draw.uniform(0.85, 1.25))
    height_m, weight_npm = draw.uniform(1.0, 5.0), draw.uniform(1.0, 4.0)
    return ShoreLine(
        name, x_m, y_m, 1.1, east_m, north_m, height_m, length_m, weight_npm, draw.uniform(6e4, 4e5)
    )


def any_scene(draw):
    """A rode on a sloping bed and one to four lines, some of them crossed or on one cleat."""
    chain = LineSegments(np.array([draw.uniform(45.0, 70.0)]), np.array([19.2]), np.array([8.5e6]))
    bed = PlaneBed(draw.uniform(-20.0, -12.0), draw.uniform(-0.08, 0.08), draw.uniform(-0.1, 0.15))
    at = draw.uniform(-8.0, 8.0), draw.uniform(-60.0, -48.0)
    rode = RodeLine("rode", 6.3, 0.0, 1.5, *at, chain, bed, draw.uniform(0.4, 0.8))
    lines = [shore_line(draw, f"line {k}") for k in range(draw.integers(1, 5))]
    return Scene((rode, *lines), Domain(-60.0, 60.0, -90.0, 60.0), FORM)


def any_load(draw):
    wind = draw.uniform(0.0, 22.0), draw.uniform(0.0, 2.0 * math.pi)
    return Load(0.0, 0.0, 0.0, *wind, AIR_KGPM3)


@pytest.mark.parametrize("part", range(PARTS))
def test_where_she_comes_to_rest_is_among_all_her_rests(part):
    draw = np.random.default_rng(20260700 + part)
    whole = found = 0
    for _ in range(SCENES // PARTS):
        scene, load, level_m = any_scene(draw), any_load(draw), draw.uniform(0.0, 3.0)
        start = draw.uniform(-5.0, 5.0), draw.uniform(-5.0, 5.0), draw.uniform(0.0, 6.28)
        ready = moored(scene, FORM, ARM_M, SOUTHWARD, Spread(-0.05, 3.05, 3, 31))
        every = all_rests(ready, load, level_m)
        for one in every.stable:
            assert one.residual_n < 1.0 and one.residual_npm < 10.0
            assert np.all(one.eigenvalue_npm.real > 0.0)
        whole += every.complete is True
        reached = solve_rest(scene, load, level_m, start, arm_m=ARM_M)
        if reached.why != "found":
            continue
        q = np.array([reached.east_m, reached.north_m, reached.heading_rad])
        if every.unknown > 0.0 and max(form.pull_n for form in reached.lines) > 1.2e5:
            # hauled in past what any gear bears: tables end there, and it says unknown
            assert every.complete is None and not every.none
            continue
        found += 1
        assert min(same_place_m(q, one.q, ARM_M) for one in every.stable) < 0.02
    assert found > 0.9 * SCENES / PARTS
    # the count by the signs of stiffness comes out right but where a bow only just fits
    assert whole > 0.9 * SCENES / PARTS


def test_she_comes_back_to_every_rest_from_a_small_push_and_leaves_every_ridge():
    draw = np.random.default_rng(20260721)
    several = 0
    for _ in range(40):
        scene, load = any_scene(draw), any_load(draw)
        ready = moored(scene, FORM, ARM_M, SOUTHWARD, Spread(-0.05, 3.05, 2, 31))
        every = all_rests(ready, load, 1.0)
        several += len(every.stable) > 1
        for one in every.stable:
            start = one.east_m + 0.01, one.north_m - 0.01, one.heading_rad + 0.001
            back = solve_rest(scene, load, 1.0, start, arm_m=ARM_M)
            q = np.array([back.east_m, back.north_m, back.heading_rad])
            assert same_place_m(q, one.q, ARM_M) < 1e-3
        for ridge in every.unstable:
            if ridge.kind == "ridge":
                gone = solve_rest(scene, load, 1.0, tuple(ridge.q + 1e-3), arm_m=ARM_M)
                q = np.array([gone.east_m, gone.north_m, gone.heading_rad])
                assert gone.why != "found" or same_place_m(q, ridge.q, ARM_M) > 0.02
    assert several >= 1
