"""A bed that falls away steeper than the chain's friction holds: light pulls have no balance."""

import numpy as np
import pytest

from shorefast.mooring import BedLine, LineSegments, rode_at_distance, rode_at_pull

FALLING = BedLine(
    np.array([-100.0, 52.6, 75.6, 77.9, 200.0]), np.array([-2.0, -43.4, -50.1, -50.8, -86.3])
)
CHAIN_AND_ROPE = LineSegments(
    np.array([34.4, 40.3, 13.3]), np.array([19.6, 28.1, 0.6]), np.array([8.5e6, 1.2e7, 2.2e5])
)


@pytest.mark.parametrize("pull_n", [30.0, 300.0, 1500.0, 6000.0])
def test_a_chain_that_would_slide_under_less_still_has_its_balance_under_more(pull_n):
    form = rode_at_pull(CHAIN_AND_ROPE, FALLING, 0.0, 1.5, pull_n)
    back = rode_at_distance(CHAIN_AND_ROPE, FALLING, 0.0, 1.5, form.distance_m)
    assert back.pull_n == pytest.approx(pull_n, rel=1e-6)
    # without friction the tension falls down the bed by weight times height, as in air
    assert form.anchor_tension_n > pull_n
