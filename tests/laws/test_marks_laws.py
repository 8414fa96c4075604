"""Two marks in line: how far she goes until an eye sees them open."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely

from shorefast.bay import Landmark, ShorePoint
from shorefast.manoeuvre.marks import (
    EYE_RAD,
    GAP_SHARE,
    STAND_M,
    Eye,
    by_lights,
    marks_seen,
    transits,
)

HERE = Eye(0.0, 0.0, 0.0)


@pytest.fixture(scope="module")
def bay(cut):
    """A bay with no land, points or zones: marks are put into it."""
    return replace(cut("stone_spur/stay_k_day", 1).bay, land=None, shore=None, points=(), zones=())


def with_points(bay, *places, **also):
    points = tuple(
        ShorePoint(f"mark {number}", "rock", east, north, 2.0)
        for number, (east, north) in enumerate(places, start=1)
    )
    return replace(bay, points=points, **also)


# Marks at 40 and 100 m in line abeam: moved one metre square to them the bearings differ by
# 1/40 - 1/100 = 0.015 rad, so that a radian is 66.7 m; ten minutes of arc are 0.19 m.
def test_two_marks_in_line_abeam_open_as_plane_geometry_has_it(bay):
    marks = marks_seen(with_points(bay, (40.0, 0.0), (100.0, 0.0)), HERE)
    found = transits(marks, None, 0.0, along=True)
    assert len(found) == 1
    assert found[0].moved_per_rad_m == pytest.approx(200.0 / 3.0)
    assert found[0].moved_m == pytest.approx(math.hypot(0.1939, STAND_M), abs=1e-3)
    assert found[0].bearing_rad == pytest.approx(0.5 * math.pi)


@pytest.mark.parametrize("way_rad", [0.0, 0.7, 2.5, 4.0])
@pytest.mark.parametrize("along", [True, False])
def test_gone_as_far_as_told_the_gap_has_opened_as_told(bay, way_rad, along):
    # marks about square to the way, in line to a few degrees
    turn = way_rad + (0.5 * math.pi if along else 0.0)
    places = [
        (far * math.sin(turn + off), far * math.cos(turn + off))
        for far, off in ((50.0, 0.0), (120.0, 0.05))
    ]
    one = transits(marks_seen(with_points(bay, *places), HERE), None, way_rad, along=along)[0]
    seen_rad = max(EYE_RAD, GAP_SHARE * abs(one.gap_rad))
    gone_m = seen_rad * one.moved_per_rad_m
    way = way_rad if along else way_rad + 0.5 * math.pi
    gaps = []
    for side in (-1.0, 1.0):
        east, north = side * gone_m * math.sin(way), side * gone_m * math.cos(way)
        near, far = (math.atan2(e - east, n - north) for e, n in places)
        gaps.append((far - near + math.pi) % (2.0 * math.pi) - math.pi)
    # to first order: a few hundredths of what is seen
    assert abs(gaps[1] - gaps[0]) == pytest.approx(2.0 * seen_rad, rel=0.03)


def test_mirrored_marks_tell_the_same(bay):
    places = [(40.0, 8.0), (95.0, 21.0), (70.0, -60.0)]
    mirrored = [(-east, north) for east, north in places]
    one, other = (
        transits(marks_seen(with_points(bay, *each), HERE), None, 0.0, along=True)
        for each in (places, mirrored)
    )
    assert [t.moved_m for t in one] == pytest.approx([t.moved_m for t in other])
    assert [t.gap_rad for t in one] == pytest.approx([-t.gap_rad for t in other])


def test_marks_farther_apart_open_sooner(bay):
    moved = [
        transits(marks_seen(with_points(bay, (40.0, 0.0), (far, 0.0)), HERE), None, 0.0, along=True)
        for far in (60.0, 100.0, 400.0, 1500.0)
    ]
    assert np.all(np.diff([one[0].moved_m for one in moved]) < 0.0)


def test_marks_ahead_say_nothing_of_going_ahead_and_are_not_told_for_it(bay):
    marks = marks_seen(with_points(bay, (0.0, 40.0), (0.0, 100.0)), HERE)
    assert transits(marks, None, 0.0, along=True) == ()
    assert len(transits(marks, None, 0.0, along=False)) == 1


def test_where_nothing_is_known_no_mark_is_told(bay):
    assert marks_seen(bay, HERE) == ()
    assert transits((), None, 0.0, along=True) == ()


def test_a_mark_behind_land_of_unknown_height_is_not_counted_on(bay):
    spur = shapely.box(20.0, -5.0, 24.0, 5.0)
    behind = with_points(bay, (100.0, 0.0), (0.0, 80.0), land=spur)
    assert [mark.name for mark in marks_seen(behind, HERE)] == ["mark 2"]
    # the spur is the mark's own ground
    there = with_points(bay, (22.0, 0.0), land=spur)
    assert [mark.name for mark in marks_seen(there, HERE)] == ["mark 1"]


def test_a_drowned_mark_is_none(bay):
    drowned = with_points(bay, (40.0, 0.0))
    assert marks_seen(drowned, Eye(0.0, 0.0, 2.5)) == ()


def test_land_behind_one_mark_makes_a_pair_of_it(bay):
    shore = shapely.box(38.0, -200.0, 300.0, 200.0)
    marks = marks_seen(with_points(bay, (40.0, 0.0), land=shore), HERE)
    found = transits(marks, shore, 0.0, along=True)
    assert [one.far.kind for one in found] == ["behind"]
    # at the nearest land one and a half times as far: 60 m
    assert found[0].far.distance_m == pytest.approx(60.0)
    assert found[0].moved_per_rad_m == pytest.approx(1.0 / (1.0 / 40.0 - 1.0 / 60.0))


def test_a_headland_is_where_land_has_the_inside_of_the_turn(bay):
    land = shapely.box(30.0, 10.0, 90.0, 70.0)
    marks = marks_seen(replace(bay, land=land, shore=land.boundary), HERE)
    corners = {(round(mark.east_m), round(mark.north_m)) for mark in marks}
    assert {mark.kind for mark in marks} == {"headland"}
    # the far corner lies behind the land itself
    assert corners == {(30, 10), (90, 10), (30, 70)}


def test_by_night_lit_marks_alone_are_seen_else_lamps_are_to_be_set(bay):
    lit = with_points(bay, (40.0, 0.0), (100.0, 0.0))
    assert all(one.lamps for one in by_lights(marks_seen(lit, HERE), None, 0.0, along=True))
    marks = tuple(Landmark(f"light {far}", far, 0.0, lit=True) for far in (40.0, 100.0))
    found = by_lights(marks_seen(replace(bay, landmarks=marks), HERE), None, 0.0, along=True)
    assert len(found) == 1
    assert found[0].by_night
    assert not found[0].lamps
