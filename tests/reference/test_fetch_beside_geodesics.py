"""Rays over the bay's plane beside the shortest ways over the ellipsoid (GeographicLib)."""

from __future__ import annotations

import json

import numpy as np
import pytest
from pyproj import Geod

from shorefast.bay import FarShore, Frame
from shorefast.readers.far_shore import read_coast
from shorefast.weather import fetches

EARTH = Geod(ellps="WGS84")


# the north, the far south where meridians run together, and on the date line
@pytest.mark.parametrize(
    ("lat", "lon"), [(61.0, 5.5), (-45.3, 167.0), (-77.8, 166.6), (16.5, 180.0), (0.0, -179.99)]
)
def test_a_coast_fifty_kilometres_off_is_met_where_the_geodesic_meets_it(tmp_path, lat, lon):
    frame = Frame(lat, lon)
    # the anchor lies a kilometre and a half from the bay's origin
    here = np.array([900.0, -1200.0])
    here_lat, here_lon = (float(one) for one in frame.to_earth(*here))
    bearing = np.arange(360.0)
    off_m = 50_000.0 + 20_000.0 * np.sin(np.radians(3.0 * bearing))
    coast_lon, coast_lat, _ = EARTH.fwd(
        np.full(360, here_lon), np.full(360, here_lat), bearing, off_m
    )
    ring = [[x, y] for x, y in zip(coast_lon, coast_lat, strict=True)]
    line = {"type": "LineString", "coordinates": [*ring, ring[0]]}
    path = tmp_path / "far.geojson"
    path.write_text(json.dumps(line), encoding="utf-8")
    found = fetches(None, None, *here, FarShore(None, (read_coast(path, frame),)))
    # north of the place is not quite north of the plane: meridians run together
    north_lat, north_lon = (float(one) for one in frame.to_earth(here[0], here[1] + 1.0))
    turn, _, _ = EARTH.inv(here_lon, here_lat, north_lon, north_lat)
    expected_m = np.interp(np.degrees(found.bearing_rad) + turn, bearing, off_m, period=360.0)
    # between two places a degree apart the coast is straight, not round: under 20 m
    np.testing.assert_allclose(found.straight_m, expected_m, atol=20.0 + 70.0 * abs(turn))


def test_at_the_coasts_own_places_the_plane_is_true_to_metres():
    frame = Frame(61.0, 5.5)
    here_lat, here_lon = (float(one) for one in frame.to_earth(900.0, -1200.0))
    toward = np.arange(0.0, 360.0, 7.0)
    for off_m in (5_000.0, 50_000.0, 200_000.0):
        lon, lat, _ = EARTH.fwd(
            np.full(toward.size, here_lon), np.full(toward.size, here_lat), toward,
            np.full(toward.size, off_m),
        )  # fmt: skip
        east, north = frame.to_plane(lat, lon)
        # the plane stretches what does not point at its origin by a sixth of (R / 6371 km)2
        stretch_m = 1500.0 * (off_m / 6.371e6) ** 2
        np.testing.assert_allclose(
            np.hypot(east - 900.0, north + 1200.0), off_m, atol=stretch_m + 0.01
        )
        assert stretch_m < 1.5


def test_a_long_straight_leg_in_degrees_bends_in_the_plane(tmp_path):
    # a parallel of latitude over 4 degrees at 60 north bows 1.9 km poleward off the chord
    coast = {"type": "LineString", "coordinates": [[-2.0, 60.3], [2.0, 60.3]]}
    path = tmp_path / "far.geojson"
    path.write_text(json.dumps(coast), encoding="utf-8")
    found = fetches(None, None, 0.0, 0.0, FarShore(None, (read_coast(path, Frame(60.15, 0.0)),)))
    _, _, off_m = EARTH.inv(0.0, 60.15, 0.0, 60.3)
    assert found.straight_m[0] == pytest.approx(off_m, abs=1.0)
