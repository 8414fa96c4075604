"""What must hold of any wind and any tide."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.basis import Basis
from shorefast.bay import WindSector
from shorefast.readers.forecast_at_place import speed_and_from
from shorefast.readers.grid_point import (
    column_bearing_rad,
    distance_m,
    nearest_point,
    true_components,
)
from shorefast.weather import WaterLevel, Wind, in_the_bay, level_at, wind_at

SEEDS = range(20)
START = np.datetime64("2026-06-24T00:00:00", "s")


def some_wind(seed):
    rng = np.random.default_rng(seed)
    members, hours = int(rng.integers(1, 6)), int(rng.integers(2, 12))
    times = START + np.cumsum(rng.integers(600, 30_000, hours)).astype("timedelta64[s]")
    speed = rng.uniform(0, 30, (members, hours))
    return Wind(
        member=np.arange(members),
        time_utc=times,
        wind_mps=speed,
        wind_from_rad=rng.uniform(0, 2 * math.pi, (members, hours)),
        gust_mps=speed * rng.uniform(1, 2, (members, hours)),
        gust_over_s=0.0,
        height_m=10.0,
        basis=Basis(),
    )


def times_within(wind, count=200):
    whole = (wind.time_utc[-1] - wind.time_utc[0]).astype(int)
    return wind.time_utc[0] + np.linspace(0, whole, count).astype("timedelta64[s]")


@pytest.mark.parametrize("seed", SEEDS)
def test_between_its_hours_the_wind_stays_between_its_values(seed):
    wind = some_wind(seed)
    at = wind_at(wind, times_within(wind))
    for name in ("wind_mps", "gust_mps"):
        given, found = getattr(wind, name), getattr(at, name)
        assert np.all(found <= given.max(axis=1, keepdims=True) + 1e-9)
        assert np.all(found >= given.min(axis=1, keepdims=True) - 1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_turning_the_whole_world_turns_the_wind_and_nothing_else(seed):
    wind, turn = some_wind(seed), 1.234
    turned = Wind(**{**vars(wind), "wind_from_rad": np.mod(wind.wind_from_rad + turn, 2 * math.pi)})
    at = times_within(wind)
    before, after = wind_at(wind, at), wind_at(turned, at)
    away = np.mod(after.wind_from_rad - before.wind_from_rad - turn + math.pi, 2 * math.pi)
    np.testing.assert_allclose(away - math.pi, 0.0, atol=1e-9)
    np.testing.assert_array_equal(before.wind_mps, after.wind_mps)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_span_gust_is_never_less_than_any_gust_inside_it(seed):
    wind = some_wind(seed)
    spans = Wind(**{**vars(wind), "gust_over_s": 1e9})
    at = wind_at(spans, times_within(wind))
    for column in range(len(wind.time_utc)):
        earlier = at.time_utc <= wind.time_utc[column]
        assert np.all(at.gust_mps[:, earlier] >= wind.gust_mps[:, [column]])


@pytest.mark.parametrize("seed", SEEDS)
def test_no_sector_ever_takes_a_gust_down(seed):
    wind, rng = some_wind(seed), np.random.default_rng(seed)
    sectors = [
        WindSector(
            float(rng.uniform(0, 2 * math.pi)),
            float(rng.uniform(0, 2 * math.pi)),
            factor=float(rng.uniform(0, 3)),
            gust_mps=float(rng.uniform(0, 40)),
            turn_rad=float(rng.uniform(-1, 1)),
        )
        for _ in range(3)
    ]
    inside = in_the_bay(wind, sectors)
    assert np.all(inside.gust_mps >= wind.gust_mps)
    np.testing.assert_array_equal(inside.wind_mps, wind.wind_mps)
    assert np.all((inside.wind_from_rad >= 0) & (inside.wind_from_rad < 2 * math.pi))


@pytest.mark.parametrize("seed", SEEDS)
def test_the_tide_between_turning_points_neither_over_nor_undershoots(seed):
    rng = np.random.default_rng(seed)
    times = START + np.cumsum(rng.integers(10_000, 25_000, 6)).astype("timedelta64[s]")
    heights = rng.uniform(3, 5, 6) * np.array([1, 0, 1, 0, 1, 0]) + rng.uniform(0, 1, 6)
    asked = times[0] + np.linspace(0, (times[-1] - times[0]).astype(int), 500).astype(
        "timedelta64[s]"
    )
    level = level_at(WaterLevel(times, heights, True, Basis()), asked)
    after = np.clip(np.searchsorted(times, asked, side="right"), 1, 5)
    pairs = np.stack([heights[after - 1], heights[after]])
    assert np.all(level <= pairs.max(axis=0) + 1e-9)
    assert np.all(level >= pairs.min(axis=0) - 1e-9)


@pytest.mark.parametrize("from_deg", range(0, 360, 15))
def test_a_wind_taken_apart_and_put_together_is_the_same(from_deg):
    toward = math.radians(from_deg) + math.pi
    east, north = np.array([7 * math.sin(toward)]), np.array([7 * math.cos(toward)])
    speed, back = speed_and_from(east, north)
    assert speed[0] == pytest.approx(7)
    assert (math.degrees(back[0]) - from_deg + 180) % 360 - 180 == pytest.approx(0, abs=1e-9)


def test_turning_components_keeps_the_speed_and_east_stays_east():
    u, v = np.array([3.0]), np.array([-4.0])
    for bearing in np.linspace(0, 2 * math.pi, 13):
        east, north = true_components(u, v, float(bearing))
        assert math.hypot(east[0], north[0]) == pytest.approx(5)
    east, north = true_components(u, v, math.pi / 2)
    assert (east[0], north[0]) == pytest.approx((3, -4))


@pytest.mark.parametrize("column", [0, 1, 5, 9, 10])
@pytest.mark.parametrize("lat_deg", [-60.0, 0.0, 47.5, 79.0])
def test_rows_of_a_plain_grid_run_due_east(column, lat_deg):
    lat, lon = np.meshgrid(lat_deg + np.arange(5.0), np.arange(11.0), indexing="ij")
    bearing = math.degrees(column_bearing_rad(lat, lon, (2, column)))
    # At the rim the bearing is carried on from two chords of a degree and two.
    assert bearing == pytest.approx(90.0, abs=0.01)


@pytest.mark.parametrize("seed", SEEDS)
def test_no_point_of_a_grid_is_nearer_than_the_one_taken(seed):
    rng = np.random.default_rng(seed)
    lat, lon = np.meshgrid(np.linspace(55, 65, 21), np.linspace(-10, 10, 41), indexing="ij")
    at = (float(rng.uniform(55, 65)), float(rng.uniform(-10, 10)))
    usable = rng.uniform(size=lat.shape) < 0.7
    for mask in (None, usable):
        point = nearest_point(lat, lon, at, mask, "made")
        far = [
            distance_m(*at, float(a), float(b))
            for a, b, use in zip(lat.flat, lon.flat, usable.flat, strict=True)
            if mask is None or use
        ]
        # The search is on a sphere, the distance on the ellipsoid: half a per cent between them.
        assert point.distance_m <= min(far) * 1.005


@pytest.mark.parametrize("step_deg", [0.05, 1.0])
@pytest.mark.parametrize("lat_deg", [0.0, 60.0, 84.0])
def test_every_place_inside_a_grid_has_its_point(step_deg, lat_deg):
    rows = lat_deg + step_deg * np.arange(5.0)
    lat, lon = np.meshgrid(rows, step_deg * np.arange(5.0), indexing="ij")
    rng = np.random.default_rng(3)
    for a, b in rng.uniform(0, 4 * step_deg, (100, 2)):
        nearest_point(lat, lon, (lat_deg + a, b), None, "made")
