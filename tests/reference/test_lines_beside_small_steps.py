"""Our lines beside the same lines followed in small steps by a general integrator.

Nothing is shared with the statics under test but the printed stretch of a rope: the
integrator is given the slope of place and pull along the line, asks at every step whether
it is in water or above it, and knows no closed form. Where the line leaves the bed or the
cleat is then sought until its end comes where it must.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from shorefast.boat import rope, stretch
from shorefast.mooring import (
    BedLine,
    LineSegments,
    ShoreRope,
    rode_at_pull,
    shore_line_at_distance,
)

LEVEL = BedLine(np.array([-300.0, 300.0]), np.array([0.0, 0.0]))
WET_NPM, DRY_NPM, CHAIN_N = 19.2, 22.1, 8.5e6


def steps(pull_n, launch, pieces, from_m):
    """Place and vertical pull at the end of a line let go at ``from_m``.

    launch : level above the water, vertical pull; pieces : length, wet, dry, extension by tension.
    """
    x_m, (z_m, v_n), begun_m = 0.0, launch, 0.0
    for length_m, wet_npm, dry_npm, law in pieces:
        part_m = min(length_m, max(0.0, begun_m + length_m - from_m))
        begun_m += length_m
        if part_m == 0.0:
            continue

        def slopes(_, at, wet=wet_npm, dry=dry_npm, law=law):
            t_n = math.hypot(pull_n, at[2])
            more = 1.0 + law(t_n)
            weight = wet if at[1] < 0.0 else dry
            return [more * pull_n / t_n, more * at[2] / t_n, weight]

        there = solve_ivp(
            slopes, (0.0, part_m), (x_m, z_m, v_n), rtol=1e-10, atol=1e-10, max_step=0.1
        )
        x_m, z_m, v_n = there.y[:, -1]
    return x_m, z_m, v_n


def rode_in_steps(pull_n, depth_m, roller_m, pieces):
    """Distance and downward pull of a rode on a level bed without friction; pull at the shank."""
    whole_m = sum(piece[0] for piece in pieces)

    def end_over(from_m, v_n=0.0):
        return steps(pull_n, (-depth_m, v_n), pieces, from_m)[1] - roller_m

    if end_over(0.0) > 0.0:
        lies_m, v_n = brentq(end_over, 0.0, whole_m - 0.1, xtol=1e-11), 0.0
    else:
        lies_m, v_n = 0.0, brentq(lambda v: end_over(0.0, v), 0.0, pull_n, xtol=1e-9)
    x_m, _, down_n = steps(pull_n, (-depth_m, v_n), pieces, lies_m)
    left_m = lies_m
    for length_m, _, _, law in pieces:
        part_m = min(length_m, left_m)
        x_m += part_m * (1.0 + law(pull_n))
        left_m -= part_m
    return x_m, down_n, math.hypot(pull_n, v_n)


def links(t_n):
    return t_n / CHAIN_N


@pytest.mark.parametrize("pull_n", [60.0, 400.0, 1500.0, 4000.0, 12e3])
@pytest.mark.parametrize(("depth_m", "roller_m"), [(12.0, 1.4), (5.0, 2.5), (0.8, 3.0)])
def test_chain_weighs_more_once_it_is_out_of_the_water(pull_n, depth_m, roller_m):
    length_m = 40.0
    far_m, down_n, shank_n = rode_in_steps(
        pull_n, depth_m, roller_m, [(length_m, WET_NPM, DRY_NPM, links)]
    )
    chain = LineSegments(
        *(np.array([value]) for value in (length_m, WET_NPM, CHAIN_N, DRY_NPM)), roller_m
    )
    form = rode_at_pull(chain, LEVEL, 0.0, depth_m + roller_m, pull_n)
    # the step that crosses the surface is not cut there: some micrometres
    assert form.distance_m == pytest.approx(far_m, abs=2e-5)
    assert form.down_n == pytest.approx(down_n, rel=1e-5)
    assert form.anchor_tension_n == pytest.approx(shank_n, rel=1e-5)


def rope_piece(fibre, diameter_m, length_m):
    """A rope by its printed curve: for the integrator, and for the statics under test."""
    laid, curve = rope(fibre, diameter_m), stretch(fibre, diameter_m).nominal
    wet_npm = max(0.05, laid.wet_weight_npm)

    def law(t_n):
        return float(curve.extension_at(t_n))

    return (length_m, wet_npm, laid.air_weight_npm, law), curve.knots_n()


@pytest.mark.parametrize("pull_n", [60.0, 900.0, 4000.0, 15e3])
@pytest.mark.parametrize(("fibre", "diameter_m"), [("nylon", 0.016), ("polyester", 0.014)])
def test_a_rope_above_the_chain_stretches_as_its_curve_tells(fibre, diameter_m, pull_n):
    tail, knots = rope_piece(fibre, diameter_m, 9.0)
    chain = (34.0, WET_NPM, DRY_NPM, links)
    far_m, down_n, shank_n = rode_in_steps(pull_n, 9.0, 1.5, [chain, tail])
    line = LineSegments(
        np.array([34.0, 9.0]),
        np.array([WET_NPM, tail[1]]),
        np.array([CHAIN_N, knots[2, 0]]),
        np.array([DRY_NPM, tail[2]]),
        1.5,
        (None, knots),
    )
    form = rode_at_pull(line, LEVEL, 0.0, 10.5, pull_n)
    assert form.distance_m == pytest.approx(far_m, abs=2e-5)
    assert form.down_n == pytest.approx(down_n, rel=1e-5)
    assert form.anchor_tension_n == pytest.approx(shank_n, rel=1e-5)


@pytest.mark.parametrize("pull_n", [0.5, 30.0, 700.0, 9000.0])
@pytest.mark.parametrize(("fibre", "diameter_m"), [("nylon", 0.02), ("polypropylene", 0.016)])
def test_a_rope_ashore_high_above_the_water_hangs_as_its_curve_tells(fibre, diameter_m, pull_n):
    laid, (cleat_m, shore_m) = rope(fibre, diameter_m), (41.0, 44.0)
    (length_m, _, dry_npm, law), knots = rope_piece(fibre, diameter_m, 32.0)
    pieces = [(length_m, dry_npm, dry_npm, law)]
    v_n = brentq(
        lambda v: steps(pull_n, (cleat_m, v), pieces, 0.0)[1] - shore_m,
        -pull_n - 60.0, pull_n + 60.0, xtol=1e-10,
    )  # fmt: skip
    far_m, _, v1_n = steps(pull_n, (cleat_m, v_n), pieces, 0.0)
    line = ShoreRope(32.0, laid.air_weight_npm, knots[2, 0], laid.wet_weight_npm, knots)
    form = shore_line_at_distance(line, cleat_m, shore_m, far_m)
    assert form.pull_n == pytest.approx(pull_n, rel=1e-5)
    assert form.cleat_down_n == pytest.approx(-v_n, abs=1e-4 * (1.0 + abs(v_n)))
    assert form.shore_tension_n == pytest.approx(math.hypot(pull_n, v1_n), rel=1e-5)


# the cleat 1.2 m over the water; the point at it, and 3 m over it
@pytest.mark.parametrize("shore_m", [0.0, 3.0])
@pytest.mark.parametrize("pull_n", [2.0, 12.0, 40.0, 150.0])
@pytest.mark.parametrize(("fibre", "diameter_m"), [("nylon", 0.02), ("polyester", 0.016)])
def test_a_rope_that_sinks_hangs_through_the_water(fibre, diameter_m, pull_n, shore_m):
    length_m, cleat_m = 30.0, 1.2
    piece, knots = rope_piece(fibre, diameter_m, length_m)
    wet_npm, dry_npm = rope(fibre, diameter_m).wet_weight_npm, piece[2]
    pieces = [(length_m, wet_npm, dry_npm, piece[3])]
    v_n = brentq(
        lambda v: steps(pull_n, (cleat_m, v), pieces, 0.0)[1] - shore_m,
        -pull_n - 60.0, pull_n, xtol=1e-10,
    )  # fmt: skip
    far_m, _, v1_n = steps(pull_n, (cleat_m, v_n), pieces, 0.0)
    form = shore_line_at_distance(
        ShoreRope(length_m, dry_npm, knots[2, 0], wet_npm, knots), cleat_m, shore_m, far_m
    )
    assert form.pull_n == pytest.approx(pull_n, rel=1e-4)
    assert form.cleat_down_n == pytest.approx(-v_n, rel=1e-4)
    assert form.shore_tension_n == pytest.approx(math.hypot(pull_n, v1_n), rel=1e-4)
