"""Our rode beside a general mooring library's, run here on level beds.

The library (moorpy, a development dependency) is the other program; it was found
to return lines that pass under a rising bed, so only level beds are set beside it.
"""

from __future__ import annotations

import numpy as np
import pytest

from shorefast.mooring import BedLine, LineSegments, rode_at_distance

moorpy_catenary = pytest.importorskip("moorpy.Catenary")

RNG = np.random.default_rng(20260701)
STATES = [
    (
        float(RNG.uniform(30.0, 100.0)),
        float(RNG.uniform(0.15, 0.6)),
        float(RNG.choice([11.94, 19.18, 27.71])),
        float(RNG.choice([0.0, 0.5, 0.7, 1.0])),
        float(RNG.uniform(0.55, 0.998)),
    )
    for _ in range(60)
]


@pytest.mark.parametrize(("length_m", "depth_share", "weight_npm", "friction", "reach"), STATES)
def test_a_chain_on_a_level_bed_pulls_as_another_program_has_it(
    length_m: float, depth_share: float, weight_npm: float, friction: float, reach: float
) -> None:
    height_m = depth_share * length_m
    stiffness_n = 445e3 * weight_npm
    # between hanging straight down and stretched straight
    slack_m = length_m - height_m
    taut_m = float(np.sqrt(length_m**2 - height_m**2))
    distance_m = slack_m + reach * (taut_m - slack_m)
    ours = rode_at_distance(
        LineSegments(np.array([length_m]), np.array([weight_npm]), np.array([stiffness_n])),
        BedLine(np.array([-500.0, 500.0]), np.array([0.0, 0.0])),
        friction,
        height_m,
        distance_m,
    )
    anchor_n, _, bow_n, down_n, more = moorpy_catenary.catenary(
        distance_m, height_m, length_m, stiffness_n, weight_npm, CB=friction, Tol=1e-9, MaxIter=200
    )
    # the library stops at its own tolerance on the distance; near the lift-off that is 1e-4 of
    # the pull, and friction is smoothed there
    assert ours.pull_n == pytest.approx(-bow_n, rel=2e-4)
    assert ours.down_n == pytest.approx(-down_n, rel=2e-4)
    assert ours.on_bottom_m == pytest.approx(more["LBot"], abs=0.01)
    if more["LBot"] > 0.0:
        assert ours.anchor_tension_n == pytest.approx(anchor_n, rel=2e-4, abs=0.1)
