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

from shorefast.mooring import BedLine, LineSegments, rode_at_pull

LEVEL = BedLine(np.array([-300.0, 300.0]), np.array([0.0, 0.0]))
WET_NPM, DRY_NPM, CHAIN_N = 19.2, 22.1, 8.5e6


def steps(pull_n, launch, pieces, from_m):
    """Place and vertical pull at the end of a line let go at ``from_m``.

    launch : level above the water, vertical pull; pieces : length, wet, dry, stretch of T.
    """
    x_m, (z_m, v_n), begun_m = 0.0, launch, 0.0
    for length_m, wet_npm, dry_npm, stretch in pieces:
        part_m = min(length_m, max(0.0, begun_m + length_m - from_m))
        begun_m += length_m
        if part_m == 0.0:
            continue

        def slopes(_, at, wet=wet_npm, dry=dry_npm, law=stretch):
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
        lies_m, v_n = 0.0, brentq(lambda v: end_over(0.0, v), 0.0, 20.0 * pull_n, xtol=1e-9)
    x_m, _, down_n = steps(pull_n, (-depth_m, v_n), pieces, lies_m)
    left_m = lies_m
    for length_m, _, _, stretch in pieces:
        part_m = min(length_m, left_m)
        x_m += part_m * (1.0 + stretch(pull_n))
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
