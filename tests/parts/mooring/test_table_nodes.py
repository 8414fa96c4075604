"""The nodes of the lines' tables: a place of their own where a line turns to another shape."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.mooring import (
    BedLine,
    Domain,
    GridBed,
    LineSegments,
    PlaneBed,
    RodeLine,
    Scene,
    ShoreLine,
    ShoreRope,
    WindForm,
    rode_at_distance,
    shore_line_at_distance,
)
from shorefast.mooring.line_tables import Spread, tables_of
from shorefast.mooring.scene import packed
from shorefast.mooring.table_nodes import (
    IDLE_NODES,
    LYING_NODES,
    T_ANCHOR,
    T_BOTTOM,
    T_DOWN,
    T_H,
    T_SLOPE,
    T_UPLIFT,
    T_X,
    TOUCHING_NODES,
)

CHAIN = LineSegments(np.array([60.0]), np.array([19.2]), np.array([8.5e6]))
LIFTS, FREE = IDLE_NODES + LYING_NODES - 1, IDLE_NODES + LYING_NODES + TOUCHING_NODES - 1
# the shank has been sought to a thousandth of its pull
SOUGHT = 4e-3
START = np.array([0.0, 0.0, math.pi])
FLOATS = ShoreRope(26.0, 1.5, 2e5, 0.0)
FORM = WindForm(14.0, 31.0, 13.0, 0.4, 0.95, 0.8, 0.82, 0.45)


def humps():
    """A bed 17 m under the datum with humps of 0.6 m every 9 m, toward the north."""
    axis = np.arange(-70.0, 70.5, 1.0)
    _, north = np.meshgrid(axis, axis)
    return GridBed(-70.0, -70.0, 1.0, -17.0 + 0.05 * north + 0.6 * np.sin(north * 2 * math.pi / 9))


def tables(bed, levels=5, bearings=3):
    rode = RodeLine("rode", 6.3, 0.0, 1.5, 0.0, -50.0, CHAIN, bed, 0.6)
    ashore = ShoreLine("line", -5.0, 2.0, 1.1, -8.0, 25.0, 2.0, *FLOATS[:3], 0.0)
    scene = Scene((rode, ashore), Domain(-40.0, 40.0, -40.0, 40.0), FORM)
    spread = Spread(0.0, 1.2, levels, bearings)
    return tables_of(scene, packed(scene), spread, START)


def toward_start(made):
    """The row that leads from the anchor to where she lies."""
    return int(np.argmin(np.abs(made.bearing_rad[: made.bearings[0]])))


@pytest.mark.parametrize("bed", [PlaneBed(-17.0, 0.0, 0.05), humps()], ids=["plane", "humps"])
def test_the_shank_lifts_at_a_node_and_nothing_else_touches_from_another(bed):
    made = tables(bed)
    for node in made.node[::2, toward_start(made)]:
        assert np.all(node[:LIFTS, T_UPLIFT] < 1e-9)
        assert np.all(node[FREE + 1 :, T_UPLIFT] > 0.0)
        lifted = node[LIFTS + 1 : FREE, T_UPLIFT] > 1e-3
        # on a plane both come at once
        assert not lifted.any() if isinstance(bed, PlaneBed) else lifted.all()
        assert np.all(node[FREE + 1 :, T_BOTTOM] == 0.0)
        assert node[IDLE_NODES - 1, T_ANCHOR] == 0.0
        assert np.all(np.diff(node[IDLE_NODES:, T_ANCHOR]) > 0.0)
        assert np.all(np.diff(node[:, T_X]) > 0.0)
    if isinstance(bed, PlaneBed):
        # lifted, with all the weight hung up: vertical pull at the bow is all of it
        hung_n = made.node[0, toward_start(made), LIFTS, T_DOWN]
        slope = math.atan(0.05)
        shank_n = made.node[0, toward_start(made), LIFTS, T_ANCHOR]
        assert hung_n == pytest.approx(60.0 * 19.2 + shank_n * math.sin(slope), rel=SOUGHT)


def test_a_node_is_what_the_rode_itself_pulls_at_that_distance():
    made = tables(humps())
    row, bearing = toward_start(made), made.bearing_rad[toward_start(made)]
    along = np.arange(-3.0, 60.0, 1.0)
    east, north = along * math.sin(bearing), -50.0 + along * math.cos(bearing)
    assert np.abs(east).max() < 1e-9
    bed = BedLine(along, -17.0 + 0.05 * north + 0.6 * np.sin(north * 2 * math.pi / 9))
    bow_m = float(made.level_m[2]) + 1.5
    rise_m = bow_m - float(np.interp(0.0, along, bed.level_m))
    for node in made.node[2, row, 2:-20:7]:
        distance_m = math.sqrt(node[T_X] ** 2 - rise_m**2)
        form = rode_at_distance(CHAIN, bed, 0.6, bow_m, distance_m)
        assert node[T_H] * distance_m / node[T_X] == pytest.approx(form.pull_n, rel=1e-4, abs=0.02)
        assert node[T_ANCHOR] == pytest.approx(form.anchor_tension_n, rel=1e-4, abs=0.02)


def test_waters_between_those_laid_out_are_as_good_as_laid_out():
    few, many = tables(humps(), 5), tables(humps(), 9)
    row = toward_start(few)
    # level 1 of five is cubic, level 2 of nine, the same water, is laid out
    assert few.level_m[1] == many.level_m[2]
    cubic, laid = few.node[1, row], many.node[2, row]
    pull_n = np.interp(cubic[:FREE, T_X], laid[:, T_X], laid[:, T_H])
    apart_n = np.abs(cubic[:FREE, T_H] - pull_n)
    assert np.all(apart_n < 0.5 + 0.01 * pull_n)


def test_a_floating_line_leaves_the_water_between_two_nodes_of_one_pull():
    made = tables(PlaneBed(-17.0, 0.0, 0.05))
    node = made.node[2, int(made.row_from[1])]
    afloat = node[:, T_BOTTOM] > 0.0
    last = int(np.flatnonzero(afloat)[-1])
    assert np.all(afloat[: last + 1])
    assert node[last + 1, T_H] == pytest.approx(node[last, T_H], rel=1e-6)
    # the kink: wet it gives far less than just dry
    assert node[last, T_SLOPE] > 1.5 * node[last + 1, T_SLOPE]
    point_m = 2.0 - float(made.level_m[2])
    rise_m = point_m - 1.1
    for k in (last - 3, last + 4):
        distance_m = math.sqrt(node[k, T_X] ** 2 - rise_m**2)
        form = shore_line_at_distance(FLOATS, 1.1, point_m, distance_m)
        assert node[k, T_H] * distance_m / node[k, T_X] == pytest.approx(form.pull_n, rel=1e-7)


def test_bearings_stand_closest_where_she_lies_and_reach_over_all_her_room():
    made = tables(PlaneBed(-17.0, 0.0, 0.05), bearings=21)
    bearing = made.bearing_rad[: made.bearings[0]]
    step = np.diff(bearing)
    assert np.all(step > 0.0)
    assert abs(bearing[int(np.argmin(step))]) < 2.0 * step.min()
    corners = [math.atan2(e, n + 50.0) for e in (-40.0, 40.0) for n in (-40.0, 40.0)]
    assert bearing[0] < min(corners) and max(corners) < bearing[-1]
