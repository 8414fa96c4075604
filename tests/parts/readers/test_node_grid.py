"""A grid asked between its nodes keeps the doubt its own file brings."""

from __future__ import annotations

import numpy as np
import pytest

from shorefast.readers.node_grid import NodeGrid

FLAT = np.full((4, 4), -52.0)
MIDDLE = (np.array([1.0, 1.5]), np.array([1.0, 1.5]))


def test_a_survey_that_says_it_may_be_a_foot_out_is_not_known_to_the_inch():
    grid = NodeGrid(FLAT, lambda lat, lon: (lat, lon), 2.0, np.full((4, 4), 0.31))
    level, deviation = grid.at(*MIDDLE)
    assert level == pytest.approx(-52.0)
    # the least of any depth, 0.05, beside what the file says, 0.31
    assert deviation == pytest.approx(np.hypot(0.31, 0.05), abs=1e-6)


def test_a_grid_that_says_nothing_of_its_doubt_is_doubted_by_its_roughness():
    unsaid = NodeGrid(FLAT, lambda lat, lon: (lat, lon), 2.0)
    blank = NodeGrid(FLAT, lambda lat, lon: (lat, lon), 2.0, np.full((4, 4), np.nan))
    assert unsaid.at(*MIDDLE)[1] == pytest.approx(0.05)
    assert blank.at(*MIDDLE)[1] == pytest.approx(0.05)
