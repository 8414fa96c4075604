"""The doubt held against soundings left out, and a bed that changes faster one way."""

import numpy as np
import pytest

from shorefast.bay import Soundings, understand
from shorefast.bay.honest import NOT_HELD_AGAINST_ANY, honest_over

GAPS_M = np.array([1.0, 10.0])


def _errors(seed: int, share: float) -> tuple[np.ndarray, np.ndarray]:
    """Normal errors that many times the deviation foretold."""
    return share * np.random.default_rng(seed).normal(0.0, 0.2, 4000), np.full(4000, 0.2)


def test_a_doubt_told_half_too_small_is_doubled_where_it_was():
    held = honest_over(GAPS_M, [_errors(1, 1.0), _errors(2, 2.0)])
    assert held.at(np.array([0.5, 1.0])) == pytest.approx(1.0, abs=0.05)
    assert held.at(np.array([10.0, 500.0])) == pytest.approx(2.0, abs=0.05)
    assert held.at(np.sqrt(10.0)) == pytest.approx(1.5, abs=0.05)


def test_farther_off_the_doubt_is_never_less():
    held = honest_over(GAPS_M, [_errors(1, 2.0), _errors(2, 1.0)])
    assert np.all(np.diff(held.at(np.geomspace(0.1, 100.0, 50))) >= 0.0)


def test_a_few_guesses_are_no_evidence():
    few = (np.zeros(10), np.ones(10))
    assert honest_over(GAPS_M, [few, few]) is NOT_HELD_AGAINST_ANY


def test_a_coast_that_falls_away_one_way_is_seen_to_be_alike_along_the_other():
    lot = np.random.default_rng(4)
    east, north = lot.uniform(0.0, 150.0, (2, 900))
    level = -10.0 + 2.0 * np.sin(north / 6.0) + 0.02 * east + lot.normal(0.0, 0.05, 900)
    texture = understand(Soundings(east, north, level, np.full(900, np.nan))).texture
    assert texture.warp_yy > 1.3
    assert texture.warp_xx < 0.8
    assert abs(texture.warp_xy) < 0.4
    assert texture.warp_xx * texture.warp_yy - texture.warp_xy**2 == pytest.approx(1.0)


def test_a_bed_alike_all_round_is_left_so():
    lot = np.random.default_rng(4)
    east, north = lot.uniform(0.0, 150.0, (2, 900))
    off = np.hypot(east - 75.0, north - 75.0)
    level = -10.0 + 2.0 * np.sin(off / 8.0) + lot.normal(0.0, 0.05, 900)
    texture = understand(Soundings(east, north, level, np.full(900, np.nan))).texture
    assert texture.warp_yy < 2.0
    assert texture.warp_xx < 2.0
