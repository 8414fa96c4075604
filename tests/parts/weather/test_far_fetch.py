"""Rays that leave the bay's box run on over the shores round about."""

from __future__ import annotations

import math
import sys
from functools import partial

import numpy as np
import pytest
import shapely

from shorefast.bay import Bounds, Coast, FarShore
from shorefast.weather import OPEN_M, fetches
from shorefast.weather.far_fetch import far_m

BOX = Bounds(-500.0, -500.0, 500.0, 500.0)


def coast(*shapes, sided=True, spacing_m=100.0):
    """Areas of land, or lines as they are walked, as a coast."""
    legs = []
    for shape in shapes:
        land = shape.geom_type == "Polygon"
        edge = shapely.boundary(shapely.orient_polygons(shape, exterior_cw=True)) if land else shape
        for part in shapely.get_parts(edge):
            places = shapely.get_coordinates(part)
            legs.append(np.stack((places[:-1], places[1:]), axis=1))
    legs = np.concatenate(legs)
    hull = shapely.convex_hull(shapely.multipoints(legs.reshape(-1, 2)))
    corners = shapely.get_coordinates(hull) if hull.geom_type == "Polygon" else np.zeros((0, 2))
    return Coast(legs, np.full(len(legs), sided), corners, spacing_m)


def rays(far, east_m=0.0, north_m=0.0):
    return far_m(far, east_m, north_m, 360)


def ring(radius_m, corners=720, east_m=0.0, north_m=0.0):
    turn = 2.0 * math.pi * np.arange(corners) / corners
    at = np.column_stack((east_m + radius_m * np.sin(turn), north_m + radius_m * np.cos(turn)))
    return shapely.Polygon(at)


AROUND = shapely.box(-9e4, -9e4, 9e4, 9e4)


def test_in_a_round_lake_far_out_every_ray_is_its_chord():
    lake = FarShore(BOX, (coast(AROUND.difference(ring(30_000.0))),))
    np.testing.assert_allclose(rays(lake), 30_000.0, rtol=2e-5)
    # a chord from a place off the middle, by the triangle: a cos + sqrt(r2 - a2 sin2)
    turn = np.radians(np.arange(360))
    chord_m = -400.0 * np.sin(turn) + np.sqrt(30_000.0**2 - (400.0 * np.cos(turn)) ** 2)
    np.testing.assert_allclose(rays(lake, east_m=400.0), chord_m, rtol=2e-5)


def test_to_a_straight_coast_a_ray_is_as_long_as_it_is_slanted():
    line = shapely.LineString([(80_000.0, 20_000.0), (-80_000.0, 20_000.0)])
    found = rays(FarShore(BOX, (coast(line),)))
    assert found[0] == pytest.approx(20_000.0)
    assert found[60] == pytest.approx(40_000.0)
    assert found[300] == pytest.approx(40_000.0)
    assert np.isinf(found[80:281]).all()


def test_an_island_in_the_way_ends_the_ray_and_only_behind_itself():
    island = shapely.box(-1000.0, 5000.0, 1000.0, 7000.0)
    land = AROUND.difference(ring(30_000.0))
    found = rays(FarShore(BOX, (coast(land, island),)))
    assert found[0] == pytest.approx(5000.0)
    # its near corner is seen at atan(1000 / 5000) = 11.3 degrees
    assert found[11] == pytest.approx(5000.0 / math.cos(math.radians(11.0)))
    assert found[12] == pytest.approx(30_000.0, rel=2e-5)


def test_a_lake_on_an_island_is_water_and_the_island_is_land():
    island = ring(3000.0, east_m=0.0, north_m=9000.0)
    lake = ring(1000.0, east_m=0.0, north_m=9000.0)
    far = FarShore(None, (coast(island.difference(lake)),))
    assert rays(far)[0] == pytest.approx(6000.0)
    np.testing.assert_allclose(rays(far, north_m=9000.0), 1000.0, rtol=2e-5)


def test_within_its_own_box_the_bays_own_shore_counts():
    near = shapely.box(-200.0, 300.0, 200.0, 400.0)
    land = AROUND.difference(ring(30_000.0))
    found = rays(FarShore(BOX, (coast(land, near),)))
    assert found[0] == pytest.approx(30_000.0)
    own = fetches(near.exterior, near, 0.0, 0.0, FarShore(BOX, (coast(land),)))
    assert own.straight_m[0] == pytest.approx(300.0)
    assert own.straight_m[36] == pytest.approx(30_000.0)
    assert np.isfinite(own.effective_m).all()


def test_where_the_box_ends_on_land_of_the_coarser_file_the_ray_is_unknown():
    land = AROUND.difference(ring(30_000.0))
    wide = shapely.box(-100.0, 450.0, 100.0, 5000.0)
    found = rays(FarShore(BOX, (coast(land, wide),)))
    assert np.isnan(found[0])
    assert found[180] == pytest.approx(30_000.0)
    told = fetches(None, None, 0.0, 0.0, FarShore(BOX, (coast(land, wide),), open_sea=True))
    assert np.isnan(told.straight_m[0])
    # a strip no wider than the file is coarse is passed over: the finer one knows better
    strip = shapely.box(-100.0, 450.0, 100.0, 600.0)
    assert rays(FarShore(BOX, (coast(land, strip),)))[0] == pytest.approx(30_000.0)


def test_of_a_line_nobody_knows_the_sides_of_every_crossing_is_a_shore():
    line = shapely.LineString([(9000.0, 4000.0), (-9000.0, 4000.0)])
    assert rays(FarShore(None, (coast(line),)))[0] == pytest.approx(4000.0)
    # walked the wrong way the place would stand on land, far from its shore
    assert np.isnan(rays(FarShore(None, (coast(shapely.reverse(line)),)))[0])
    nobody = coast(shapely.reverse(line), sided=False)
    assert rays(FarShore(None, (nobody,)))[0] == pytest.approx(4000.0)


def test_the_finer_file_counts_as_far_as_it_spans():
    fine = coast(shapely.box(-9e3, -9e3, 9e3, 9e3).difference(ring(5000.0)))
    coarse = coast(AROUND.difference(ring(30_000.0)), shapely.box(-900.0, 2000.0, 900.0, 9900.0))
    assert rays(FarShore(BOX, (fine, coarse)))[0] == pytest.approx(5000.0)


def test_beyond_the_last_shore_the_fetch_is_unknown_unless_it_is_told_to_be_open_sea():
    half = shapely.box(-9e4, 20_000.0, 9e4, 9e4)
    unknown = fetches(None, None, 0.0, 0.0, FarShore(None, (coast(half),)))
    assert np.isnan(unknown.straight_m[36]) and np.isnan(unknown.effective_m[36])
    told = fetches(None, None, 0.0, 0.0, FarShore(None, (coast(half),), open_sea=True))
    assert told.straight_m[36] == OPEN_M == 200_000.0
    assert told.straight_m[0] == pytest.approx(20_000.0)
    open_sea = told.open_toward(np.radians([[180.0, 0.0, np.nan]]))
    np.testing.assert_array_equal(open_sea, [[True, False, False]])


def test_no_shore_counts_beyond_what_a_fetch_may_be():
    land = shapely.box(-9e5, -9e5, 9e5, 9e5).difference(ring(3e5))
    found = fetches(None, None, 0.0, 0.0, FarShore(None, (coast(land),)))
    np.testing.assert_array_equal(found.straight_m, OPEN_M)


@pytest.mark.parametrize("seed", range(12))
def test_rays_meet_ragged_islands_where_a_geometry_library_has_them(seed):
    rng = np.random.default_rng(seed)
    islands = []
    for _ in range(rng.integers(1, 25)):
        off_m, toward = rng.uniform(4000.0, 60_000.0), rng.uniform(0.0, 2.0 * math.pi)
        turn = np.sort(rng.uniform(0.0, 2.0 * math.pi, rng.integers(3, 40)))
        size_m = rng.uniform(200.0, 3000.0, turn.size)
        east, north = off_m * math.sin(toward), off_m * math.cos(toward)
        at = np.column_stack((east + size_m * np.sin(turn), north + size_m * np.cos(turn)))
        islands += shapely.get_parts(shapely.make_valid(shapely.Polygon(at))).tolist()
    islands = [
        one for one in islands if one.geom_type == "Polygon" and not one.covers(shapely.Point(0, 0))
    ]
    here = rng.uniform(-400.0, 400.0, 2)
    found = rays(FarShore(None, (coast(*islands),)), *here)
    # the same rays cut by the library (shapely over GEOS)
    turn = np.radians(np.arange(360))
    ends = here + 2e5 * np.column_stack((np.sin(turn), np.cos(turn)))
    lines = shapely.linestrings(np.stack((np.broadcast_to(here, ends.shape), ends), axis=1))
    met = shapely.intersection(lines, shapely.union_all(islands))
    off_m = shapely.distance(shapely.points(*here), met)
    np.testing.assert_allclose(found, np.where(np.isnan(off_m), np.inf, off_m), rtol=1e-7)


def _calls(work):
    """How many functions a piece of work calls, Python's own and compiled ones."""
    events = []
    sys.setprofile(lambda frame, event, given: events.append(event))
    try:
        work()
    finally:
        sys.setprofile(None)
    return sum(event in ("call", "c_call") for event in events)


def test_a_hundred_thousand_places_of_coast_are_met_at_once():
    # Work, not time (which is in the benchmark): no function is called leg by leg.
    calls = []
    for count in (1_000, 100_000):
        rng = np.random.default_rng(0)
        turn = 2.0 * math.pi * np.arange(count) / count
        far_m_ = 20_000.0 + np.cumsum(rng.normal(0.0, 5.0, turn.size))
        at = np.column_stack((far_m_ * np.sin(turn), far_m_ * np.cos(turn)))
        legs = np.stack((at, np.roll(at, -1, axis=0)), axis=1)
        hull = shapely.get_coordinates(shapely.convex_hull(shapely.multipoints(at)))
        far = FarShore(BOX, (Coast(legs, np.zeros(len(legs), dtype=bool), hull, 1.0),))
        assert np.isfinite(fetches(None, None, 0.0, 0.0, far).effective_m).all()
        calls.append(_calls(partial(fetches, None, None, 0.0, 0.0, far)))
    assert calls[0] == calls[1] < 1_000
