"""The pull before the shank lifts beside a general mooring library's, run here on level beds.

The library (moorpy, a development dependency) is the other program; only level beds are set
beside it, since on rising ones it lets lines pass under the bed.
"""

from __future__ import annotations

import numpy as np
import pytest

from shorefast.mooring import LineSegments, lift_off

moorpy_catenary = pytest.importorskip("moorpy.Catenary")

RNG = np.random.default_rng(20260714)
STATES = [
    (float(RNG.uniform(25.0, 100.0)), float(RNG.uniform(0.1, 0.7)), float(RNG.choice([11.94,
     19.18, 27.71, 32.3])))
    for _ in range(60)
]  # fmt: skip


@pytest.mark.parametrize(("length_m", "depth_share", "weight_npm"), STATES)
def test_at_our_distance_the_other_program_has_our_pull_and_nothing_left_on_the_bed(
    length_m: float, depth_share: float, weight_npm: float
) -> None:
    height_m, stiffness_n = depth_share * length_m, 445e3 * weight_npm
    chain = LineSegments(np.array([length_m]), np.array([weight_npm]), np.array([stiffness_n]))
    pull_n, distance_m = lift_off(chain, 0.0, height_m)
    anchor_n, up_n, bow_n, _, more = moorpy_catenary.catenary(
        float(distance_m), height_m, length_m, stiffness_n, weight_npm, CB=0.0, Tol=1e-9,
        MaxIter=200,
    )  # fmt: skip
    # as for the whole rode: the library's own tolerance near the lift-off is 1e-4 of the pull
    assert float(pull_n) == pytest.approx(-bow_n, rel=2e-4)
    assert anchor_n == pytest.approx(float(pull_n), rel=2e-4)
    assert more["LBot"] == pytest.approx(0.0, abs=0.01)
    # the shank is not pulled up: to a thousandth of the pull
    assert abs(up_n) < 1e-3 * float(pull_n)
