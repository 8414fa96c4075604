"""Reach of points ashore, by hand arithmetic, and the room of a neighbour on one anchor."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from shorefast.bay import ShorePoint
from shorefast.errors import BadInput
from shorefast.stay import MADE_FAST_M, Neighbour, Stay, neighbour_reach, reach
from shorefast.stay.reach import hung_length_m


def test_a_line_between_level_ends_is_longer_by_the_textbook_sag():
    # Sag 8 s² / 3 d of a parabola (closed form): 40 m across, 1 N/m at 100 N sags
    # w d² / 8 H = 2.0 m, so 0.267 m more; the catenary's next term is 1e-3 of that.
    assert hung_length_m(40.0, 0.0, 1.0, 100.0) == pytest.approx(40.267, abs=0.002)


def test_a_light_line_hauled_hard_is_the_straight_way():
    assert hung_length_m(30.0, 40.0, 1e-6, 100.0) == pytest.approx(50.0, abs=1e-6)


def test_the_longest_line_is_measured_from_the_nearest_cleat(k_day: Stay):
    boat = k_day.boat
    cleat = max(boat.cleats, key=lambda one: one.spot.y_m)
    longest = max(line.length_m for line in boat.lines)
    # she heads north: starboard is east; the point stands 30 m off that cleat, level with it
    point = ShorePoint("ring", "ring", cleat.spot.y_m + 30.0, cleat.spot.x_m, cleat.spot.z_m)
    (found,) = reach(boat, [point], np.zeros((1, 3)), np.zeros(1), {"ring": cleat.name})
    assert found.cleat == cleat.name
    # 30 m across: the sag of any line aboard at 100 N takes less than half a metre
    assert 30.0 + MADE_FAST_M < found.needed_m[0] < 30.5 + MADE_FAST_M
    assert found.left_m[0] == pytest.approx(longest - found.needed_m[0])
    assert found.left_doubled_m[0] == pytest.approx(found.left_m[0] - 30.0, abs=0.5)


def test_a_point_drowns_when_the_water_comes_to_it(k_day: Stay):
    point = ShorePoint("ring", "ring", 0.0, -20.0, 1.6)
    q = np.zeros((3, 3))
    (found,) = reach(k_day.boat, [point], q, np.array([0.5, 1.6, np.nan]))
    assert found.dry_m[:2] == pytest.approx([1.1, 0.0])
    assert math.isnan(found.dry_m[2])
    assert math.isnan(found.left_m[2])


def test_where_she_lies_unknown_nothing_is_left_that_anyone_knows(k_day: Stay):
    point = ShorePoint("ring", "ring", 0.0, -20.0, 1.6)
    (found,) = reach(k_day.boat, [point], np.full((1, 3), np.nan), np.zeros(1))
    assert math.isnan(found.left_m[0])


def test_without_a_line_aboard_reach_is_unknown(k_day: Stay):
    point = ShorePoint("ring", "ring", 0.0, -20.0, 1.6)
    bare = replace(k_day.boat, lines=())
    (found,) = reach(bare, [point], np.zeros((1, 3)), np.zeros(1))
    assert found.line is None
    assert math.isnan(found.left_m[0])


def test_a_cleat_that_is_not_aboard_is_refused(k_day: Stay):
    point = ShorePoint("ring", "ring", 0.0, -20.0, 1.6)
    boat = replace(k_day.boat, cleats=k_day.boat.cleats[:1])
    with pytest.raises(BadInput) as refused:
        reach(boat, [point], np.zeros((1, 3)), np.zeros(1), {"ring": "mast"})
    assert refused.value.sentence == (
        f"Reach of ring: cleat 'mast', cleats aboard: {boat.cleats[0].name}. "
        "Correct the name, or add the cleat to the boat file."
    )


def test_a_neighbour_with_her_chain_told_has_the_ring_about_her_anchor():
    # 12 m long, heads north, chain 40 m level toward north: the anchor is 6 + 40 m north
    boat = Neighbour("ketch", 0.0, 0.0, 12.0, 4.0, 0.0, 0.0, 40.0, 0.0)
    thing, reach_m = neighbour_reach(boat)
    assert (thing.x, thing.y) == pytest.approx((0.0, 46.0))
    assert reach_m == 52.0


def test_a_neighbour_whose_chain_leads_nobody_knows_where_may_be_anywhere_about():
    boat = Neighbour("ketch", 5.0, 7.0, 12.0, 4.0, 0.0, 1.0, 40.0)
    thing, reach_m = neighbour_reach(boat)
    assert (thing.x, thing.y) == (5.0, 7.0)
    assert reach_m == 2 * 40.0 + 18.0 + 1.0


def test_a_neighbour_lying_fast_keeps_to_her_hull():
    thing, reach_m = neighbour_reach(Neighbour("ketch", 0.0, 0.0, 12.0, 4.0, 0.0, 2.5))
    assert thing.bounds == pytest.approx((-2.0, -6.0, 2.0, 6.0))
    assert reach_m == 2.5
