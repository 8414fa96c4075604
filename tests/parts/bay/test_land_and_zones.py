"""Which side of a shore is land, and which zones a place lies in."""

from datetime import UTC, datetime

import pytest
from shapely.geometry import LineString, Point, Polygon, box

from shorefast.bay import BOTTOMS, ZONE_KINDS, Bounds, Zone, in_force, shore_and_land, zones_at

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
