"""How far the wind blows over water, bearing by bearing."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from shorefast.weather import fetches

POND = shapely.Point(0.0, 0.0).buffer(1000.0, quad_segs=360)
AROUND_POND = shapely.box(-3000.0, -3000.0, 3000.0, 3000.0).difference(POND)


def pond(east_m=0.0, north_m=0.0):
    return fetches(POND.exterior, AROUND_POND, east_m, north_m)


def test_in_the_middle_of_a_round_pond_every_fetch_is_its_radius():
    found = pond()
    np.testing.assert_allclose(found.straight_m, 1000.0, rtol=1e-4)
    # Shore Protection Manual, the form for the effective fetch (from memory): the cosines of its
    # 15 radials add up to 13.512; of one length, their squares to 12.284 by hand.
    np.testing.assert_allclose(found.effective_m, 1000.0 * 12.284 / 13.512, rtol=2e-4)


def test_from_the_shore_of_a_pond_the_fetch_is_its_chord():
    found = pond(east_m=-999.0)
    # a chord of a circle: twice the radius times the cosine off the middle
    for bearing_deg, chord_m in ((90, 1999.0), (60, 2000.0 * math.cos(math.radians(30)))):
        assert found.straight_m[bearing_deg // 5] == pytest.approx(chord_m, rel=2e-3)


def test_a_narrow_water_raises_less_than_its_length_says():
    channel = shapely.box(-50.0, -5000.0, 50.0, 5000.0)
    land = shapely.box(-9000.0, -9000.0, 9000.0, 9000.0).difference(channel)
    found = fetches(channel.exterior, land, 0.0, 0.0)
    assert found.straight_m[0] == pytest.approx(5000.0)
    assert 400.0 < found.effective_m[0] < 1000.0
    # and across it the sides count for more than the nearest shore
    assert found.straight_m[18] == pytest.approx(50.0)
    assert 50.0 < found.effective_m[18] < 60.0


def test_an_island_shortens_the_fetch_behind_it():
    island = shapely.box(-400.0, 500.0, 400.0, 600.0)
    shore = shapely.union_all([POND.exterior, island.exterior])
    found = fetches(shore, shapely.union_all([AROUND_POND, island]), 0.0, 0.0)
    assert found.straight_m[0] == pytest.approx(500.0)
    assert found.straight_m[36] == pytest.approx(1000.0, rel=1e-4)
    assert found.effective_m[0] < 0.7 * found.effective_m[36]


def test_where_no_shore_is_known_the_fetch_is_unknown_and_so_is_the_fan_about_it():
    found = fetches(shapely.LineString([(-2000.0, 100.0), (2000.0, 100.0)]), None, 0.0, 0.0)
    assert found.straight_m[0] == pytest.approx(100.0)
    assert np.isfinite(found.effective_m[0])
    assert np.isnan(found.straight_m[36]) and np.isnan(found.effective_m[36])
    # west-north-west: the ray itself meets the shore, radials of its fan do not
    assert np.isfinite(found.straight_m[58]) and np.isnan(found.effective_m[58])


def test_land_cut_by_its_data_is_no_shore():
    cut = shapely.box(-500.0, 300.0, 500.0, 900.0)
    shore = shapely.LineString([(-500.0, 900.0), (500.0, 900.0)])
    assert np.isnan(fetches(shore, cut, 0.0, 0.0).straight_m[0])


def test_without_any_shore_all_is_unknown():
    assert np.isnan(fetches(None, None, 0.0, 0.0).effective_m).all()


def test_directions_take_the_nearest_bearing_round_north():
    island = shapely.box(-400.0, 500.0, 400.0, 600.0)
    shore = shapely.union_all([POND.exterior, island.exterior])
    found = fetches(shore, None, 0.0, 0.0)
    asked = np.radians([[359.0, 2.4, 361.0], [182.0, 177.6, np.nan]])
    expected = [[found.effective_m[0]] * 3, [found.effective_m[36]] * 2 + [np.nan]]
    np.testing.assert_array_equal(found.toward_m(asked), expected)


@pytest.mark.parametrize("seed", range(10))
def test_turning_the_whole_shore_turns_the_fetches(seed):
    rng = np.random.default_rng(seed)
    turn = np.sort(rng.uniform(0.0, 2.0 * math.pi, 24))
    far_m = rng.uniform(300.0, 3000.0, 24)
    ring = shapely.Polygon(np.column_stack((far_m * np.sin(turn), far_m * np.cos(turn))))
    if not ring.contains(shapely.Point(0.0, 0.0)):
        ring = shapely.union(ring, shapely.Point(0.0, 0.0).buffer(250.0))
    # a quarter turn clockwise
    turned = shapely.transform(ring, lambda at: np.column_stack((at[:, 1], -at[:, 0])))
    one, two = (fetches(shape.boundary, None, 0.0, 0.0) for shape in (ring, turned))
    np.testing.assert_allclose(two.effective_m, np.roll(one.effective_m, 18), rtol=1e-9)
