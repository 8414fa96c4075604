"""Which side of a shore is land, and which zones a place lies in."""

from datetime import UTC, datetime

import numpy as np
import pytest
from shapely.geometry import LineString, MultiPolygon, Point, Polygon, box

from shorefast.bay import (
    BOTTOMS,
    ZONE_KINDS,
    Bounds,
    Frame,
    Zone,
    in_force,
    shore_and_land,
    zones_at,
)

BOX = Bounds(-200.0, -200.0, 200.0, 200.0)


def _land(*lines: LineString, bounds: Bounds = BOX):
    return shore_and_land([], lines, bounds)[1]


def test_walked_with_the_water_on_the_left_hand_land_is_on_the_right():
    land = _land(LineString([(-50, 0), (50, 0)]))
    assert land.covers(Point(0, -100))
    assert not land.covers(Point(0, 100))


def test_walked_the_other_way_land_is_on_the_other_side():
    assert _land(LineString([(50, 0), (-50, 0)])).covers(Point(0, 100))


def test_a_cove_walked_round_its_head_is_water_inside():
    cove = LineString([(130, 30), (6, 30), (0, 20), (0, -20), (6, -30), (130, -30)])
    land = _land(cove)
    assert not land.covers(Point(60, 0))
    for place in (Point(60, 60), Point(60, -60), Point(-40, 0)):
        assert land.covers(place)


def test_a_headland_narrower_than_the_box_is_land_right_through():
    headland = LineString([(-200, -50), (0, -50), (60, 0), (0, 50), (-200, 50)])
    land = _land(LineString(list(headland.coords)[::-1]))
    assert land.covers(Point(-50, 0))
    assert not land.covers(Point(100, 0))
    assert not land.covers(Point(-50, 120))


def test_an_islet_walked_clockwise_is_land_inside():
    ring = [(-10, -10), (-10, 10), (10, 10), (10, -10), (-10, -10)]
    land = _land(LineString(ring))
    assert land.covers(Point(0, 0))
    assert not land.covers(Point(50, 50))


def test_lines_cut_in_pieces_are_joined():
    pieces = [LineString([(-50, 0), (0, 0)]), LineString([(0, 0), (50, 0)])]
    shore, land = shore_and_land([], pieces, BOX)
    assert land.covers(Point(0, -100))
    assert shore.length == pytest.approx(100.0)


def test_a_straight_edge_where_the_data_was_cut_is_no_shore():
    land = Polygon([(-100, -100), (100, -100), (100, 0), (20, 30), (-30, -10), (-100, 0)])
    shore, _ = shore_and_land([land], [], BOX)
    assert shore.distance(Point(0, -100)) > 50.0
    assert shore.distance(Point(20, 30)) == pytest.approx(0.0, abs=1e-9)


# The file ends at 60 N and begins half a degree of longitude west of the bay, 27.9 km. A
# circle of latitude has the radius R / tan(lat) in the plane, so there the parallel lies
# 27.9^2 tan(60) / (2 * 6371) km = 106 m farther north than at the bay, and the box round the
# land in the plane ends there.
FRAME = Frame(60.0002, 5.5)
CUT_M = -0.0002 * 111_412.0
COAST = ((5.5, 60.0), (5.5004, 59.9992), (5.4998, 59.998), (5.503, 59.99), (5.45, 59.5))


def _cut_land(step_deg):
    """Land west of a coast through the bay, so many degrees from place to place along 60 N."""
    along = [(lon, 60.0) for lon in np.arange(5.0, 5.5 - 1e-9, step_deg)]
    lon, lat = np.array([*COAST, (5.0, 59.5), *along]).T
    return Polygon(np.column_stack(FRAME.to_plane(lat, lon)))


@pytest.mark.parametrize("step_deg", [0.001, 0.05, 0.5])
def test_a_cut_along_a_parallel_far_from_the_origin_is_no_shore(step_deg):
    land = _cut_land(step_deg)
    assert land.bounds[3] == pytest.approx(106.0 + CUT_M, abs=1.0)
    assert land.exterior.distance(Point(-150.0, CUT_M)) < 1.0
    shore, dry = shore_and_land([land], [], BOX, FRAME)
    assert shore.distance(Point(-150.0, CUT_M)) == pytest.approx(150.0, abs=1.0)
    assert shore.distance(Point(0.0, CUT_M)) < 0.1
    assert dry.covers(Point(-150.0, CUT_M - 2.0))


def test_each_file_has_cuts_of_its_own():
    cut, islet = box(-100.0, -100.0, 0.0, 100.0), Point(150.0, 150.0).buffer(20.0, quad_segs=3)
    coast = Polygon([(0.0, 100.0), (0.0, -100.0), (-100.0, -70.0), (-110.0, 0.0), (-90.0, 60.0)])
    shore, _ = shore_and_land([coast, islet], [], BOX)
    assert shore.distance(Point(0.0, 0.0)) > 50.0
    assert shore.distance(Point(-110.0, 0.0)) == pytest.approx(0.0, abs=1e-9)
    assert shore.distance(islet.exterior) == pytest.approx(0.0, abs=1e-9)
    # in one file with the islet the same edge is no edge of its box, and counts as shore
    together, _ = shore_and_land([MultiPolygon([cut, islet])], [], BOX)
    assert together.distance(Point(0.0, 0.0)) == pytest.approx(0.0, abs=1e-9)


def test_an_island_that_ends_almost_flat_is_not_cut_there():
    island = Polygon([(-60, -50), (60, -50.4), (90, 0), (6, 50.3), (-6, 50), (-80, 10)])
    shore, _ = shore_and_land([island], [], BOX)
    assert shore.length == pytest.approx(island.length)


def test_without_a_shore_nothing_is_made_up():
    assert shore_and_land([], [], BOX) == (None, None)


def test_a_zone_in_force_by_season_holds_only_then():
    summer = Zone(
        "bathing", "beach", box(0, 0, 10, 10), "notice",
        datetime(2026, 6, 1, tzinfo=UTC), datetime(2026, 9, 1, tzinfo=UTC),
    )  # fmt: skip
    assert in_force(summer, datetime(2026, 7, 1, tzinfo=UTC))
    assert not in_force(summer, datetime(2026, 9, 1, tzinfo=UTC))
    assert zones_at([summer], 5.0, 5.0, datetime(2026, 1, 1, tzinfo=UTC)) == ()
    assert zones_at([summer], 5.0, 5.0) == (summer,)
    assert zones_at([summer], 15.0, 5.0) == ()


def test_every_bottom_may_be_drawn_as_a_zone():
    assert set(BOTTOMS) <= set(ZONE_KINDS)
