"""What ground stands against the sky round a place."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.bay import HighGround
from shorefast.weather import skyline

STEP_M = 20.0
ALONG_M = STEP_M * np.arange(-500, 501)
EAST, NORTH = np.meshgrid(ALONG_M, ALONG_M)


def ground(height_m):
    return HighGround(float(ALONG_M[0]), float(ALONG_M[0]), STEP_M, height_m, "hills.tif")


def test_a_wall_stands_as_high_as_its_slope_says():
    # a ridge 320 m high along a line 400 m to the west, the sea before it
    found = skyline(ground(np.where(EAST <= -400.0, 320.0, 0.0)), 0.0, 0.0)
    west = 270 // 5
    # by hand: atan(320 / 400) = 38.66 degrees
    assert math.degrees(found.angle_rad[west]) == pytest.approx(38.66, abs=0.05)
    assert found.distance_m[west] == pytest.approx(400.0, abs=1e-6)
    assert found.height_m[west] == pytest.approx(320.0, abs=1e-6)
    # slanted to it the same wall is farther off: 400 / cos 45
    assert found.distance_m[225 // 5] == pytest.approx(400.0 / math.cos(math.radians(43)), abs=20.0)
    np.testing.assert_array_equal(found.angle_rad[:36], 0.0)
    assert np.isnan(found.distance_m[18]) and np.isnan(found.height_m[18])


def test_a_high_ridge_behind_a_low_one_counts_where_it_stands_higher():
    low = np.where((NORTH >= 300.0) & (NORTH < 500.0), 50.0, 0.0)
    both = np.where(NORTH >= 4000.0, 900.0, low)
    found = skyline(ground(both), 0.0, 0.0)
    # 50 m at 300 m is 9.5 degrees, 900 m at 4 km 12.7 less what the earth bends away
    assert found.distance_m[0] == pytest.approx(4000.0)
    assert math.degrees(found.angle_rad[0]) == pytest.approx(12.68, abs=0.03)
    near = skyline(ground(low), 0.0, 0.0)
    assert near.distance_m[0] == pytest.approx(300.0)


def test_a_peak_between_two_bearings_is_not_missed():
    peak = 800.0 * np.exp(-(((EAST - 6000.0) ** 2 + (NORTH - 260.0) ** 2) / 150.0**2))
    found = skyline(ground(peak), 0.0, 0.0)
    assert found.height_m[18] > 600.0


def test_unknown_ground_is_unknown_and_no_plain():
    height_m = np.where(NORTH > 0.0, 100.0, np.nan)
    found = skyline(ground(height_m), 0.0, 0.0)
    assert np.isnan(found.angle_rad[36]) and found.known_share[36] == 0.0
    assert np.isfinite(found.angle_rad[0]) and found.known_share[0] > 0.99
    # sea marked as no data before a wall hides nothing of it
    wall = np.where(EAST <= -400.0, 320.0, np.nan)
    seen = skyline(ground(wall), 0.0, 0.0)
    assert math.degrees(seen.angle_rad[54]) == pytest.approx(37.3, abs=0.1)


@pytest.mark.parametrize("seed", range(5))
def test_turning_the_ground_turns_its_skyline(seed):
    rng = np.random.default_rng(seed)
    hills = np.zeros(EAST.shape)
    for _ in range(12):
        east, north = rng.uniform(-7000.0, 7000.0, 2)
        wide_m = rng.uniform(200.0, 900.0)
        bump = np.exp(-((EAST - east) ** 2 + (NORTH - north) ** 2) / wide_m**2)
        hills = np.maximum(hills, rng.uniform(50.0, 900.0) * bump)
    one = skyline(ground(hills), 0.0, 0.0).angle_rad
    # a quarter turn clockwise
    two = skyline(ground(np.rot90(hills, 1)), 0.0, 0.0).angle_rad
    np.testing.assert_allclose(two, np.roll(one, 18), rtol=1e-9, atol=1e-12)
    # higher ground stands higher, and never lower
    higher = skyline(ground(hills + 10.0), 0.0, 0.0).angle_rad
    assert np.all(higher > one)
