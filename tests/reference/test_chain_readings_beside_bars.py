"""Angles of chains that bars found by least energy, given back to the chain's question.

The truth knows nothing of our statics: bars over the bed rule the soundings were cut from, or
over beds drawn at random that the stated bed misses by its deviation; what is out, the water
and the links' weight are a little off what is told, and the angle is read with an error.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from measures.chain_proofs import STRONG, in_turn, proofs
from measures.chain_readings import drawn_readings, readings, share_inside

from shorefast.mooring import BedLine, LineSegments
from shorefast.stay import Hanging, pull_told


# Asked for: the pull inside its stated error in 95 of 100 runs.
def test_of_100_readings_on_the_three_beds_95_tell_the_pull_inside_their_error():
    assert share_inside(readings(100, seed=8)) >= 95.0


@pytest.fixture(scope="module")
def drawn():
    return drawn_readings(150, seed=8)


def test_of_150_readings_over_drawn_beds_95_of_100_tell_the_pull_inside_their_error(drawn):
    assert share_inside(drawn) >= 95.0


def test_a_chain_that_is_lifted_is_told_as_lifted_or_as_one_that_may_be(drawn):
    lifted = [one for one in drawn if one.lifted]
    assert len(lifted) >= 30
    assert sum(one.refused for one in lifted) >= 0.95 * len(lifted)


# Whole arrivals in the hour's gusts, proved on the stern lines; a hundred a bay by the campaign.
@pytest.fixture(scope="module")
def spur():
    return proofs("spur")


def test_of_readings_in_proofs_moved_in_time_95_of_100_tell_the_pull_inside_their_error(spur):
    found = [one for proof in in_turn(spur.read, 10, 42_000_000) for one in proof]
    assert len(found) == 40
    assert share_inside(found) >= 95.0


def test_in_proofs_that_lift_all_chain_it_is_told_as_lifted_or_as_one_that_may_be(spur):
    strong = replace(spur, strength=STRONG)
    found = [one for proof in in_turn(strong.read, 10, 43_000_000) for one in proof]
    lifted = [one for one in found if one.lifted]
    assert len(lifted) >= 8
    assert all(one.refused for one in lifted)


# Bottom chain on a level bed: H = w h / (1 / cos t - 1); w 19.2 N/m, worked out by hand for
# roller heights h and angles t below the horizontal.
@pytest.mark.parametrize(
    ("degrees", "height_m", "pull_n"),
    [
        (70, 8, 80), (60, 8, 154), (50, 12, 415), (45, 12, 556), (40, 20, 1257), (30, 12, 1489),
        (20, 8, 2393), (45, 30, 1391), (60, 20, 384),
    ],
)  # fmt: skip
def test_on_a_level_bed_the_angle_tells_the_closed_form(degrees, height_m, pull_n):
    rode = LineSegments(np.array([200.0]), np.array([19.2]), np.array([1e9]))
    bed = BedLine(np.array([-5.0, 250.0]), np.array([0.0, 0.0]))
    chain = Hanging(rode, -1, bed, np.zeros(2), (), 0.6, float(height_m))
    told = pull_told(chain, math.radians(degrees))
    # the table is printed in whole newtons
    assert told.pull_n == pytest.approx(pull_n, abs=0.6)
    assert told.low_n < pull_n < told.high_n
    assert not told.may_be_lifted
