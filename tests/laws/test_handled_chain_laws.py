"""Chain and anchor of a yacht handled in time: on slopes, past straight, over what nobody knows."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from shorefast.mooring import (
    AIR_KGPM3,
    Breeze,
    Domain,
    GridBed,
    Handled,
    LineSegments,
    Load,
    Orders,
    PlaneBed,
    RodeLine,
    Scene,
    ShoreLine,
    driven_of,
    solve_rest,
)
from shorefast.stay import wind_form

ROOM = Domain(-500.0, 500.0, -500.0, 500.0)
CALM = Breeze(0.0, 0.0)
ABOARD_M, EA_N = 80.0, 8e6
EASTWARD = 0.5 * math.pi
WINDS = [(8.0, 1.2), (11.0, 2.4), (6.0, 0.3)]


@pytest.fixture(scope="module")
def boat(cut):
    return replace(cut("grey_notch/stay", 1).boat, snubber=None)


def rode(bed=None, length_m=ABOARD_M, at=(60.0, 0.0)):
    pieces = LineSegments(np.array([length_m]), np.array([19.2]), np.array([EA_N]))
    return RodeLine("rode", 6.6, 0.0, 1.5, *at, pieces, bed or PlaneBed(-18.0, 0.0, 0.0), 0.6)


def sterns(turned=0.0):
    """Two stern lines to a shore in the west, the whole turned."""
    found = []
    for name, side, north_m in (("port", -1.6, 9.0), ("starboard", 1.6, -9.0)):
        east_m, north_m = whirled((-22.0, north_m), turned)
        found.append(ShoreLine(name, -6.4, side, 1.3, east_m, north_m, 3.0, 25.0, 1.1, 9e4))
    return tuple(found)


def whirled(place, turned):
    """A place turned clockwise about the origin."""
    sine, cosine = math.sin(turned), math.cos(turned)
    return place[0] * cosine + place[1] * sine, place[1] * cosine - place[0] * sine


def handled(boat, first, *lines, **more):
    form = wind_form(boat.windage, boat.hull.length_m)
    scene = Scene((first, *lines), ROOM, form)
    return Handled(scene, driven_of(boat, form), (0.45, 0.25), 7000.0, **more)


def moored_astern(boat, turned=0.0, bed=None, **more):
    """Bow to the east and to her anchor on 62 m, two stern lines; the whole turned."""
    she = handled(boat, rode(bed, at=whirled((60.0, 0.0), turned)), *sterns(turned), **more)
    she.put(*whirled((-1.0, 0.5), turned), EASTWARD + turned)
    she.anchored(*whirled((60.0, 0.0), turned), 62.0)
    for number in (1, 2):
        she.make_fast(number, 25.0)
    return she


def statics(boat, wind_mps, from_rad, bed=None):
    """The rest by forces in balance, no motion in time."""
    form = wind_form(boat.windage, boat.hull.length_m)
    scene = Scene((rode(bed, 62.0), *sterns()), ROOM, form)
    load = Load(0.0, 0.0, 0.0, wind_mps, from_rad, AIR_KGPM3)
    found = solve_rest(scene, load, 0.0, (-1.0, 0.5, EASTWARD))
    assert found.why == "found"
    return found


def off(q, rest):
    """Metres and radians off a rest."""
    turned = abs(math.remainder(q[2] - rest.heading_rad, 2.0 * math.pi))
    return math.hypot(q[0] - rest.east_m, q[1] - rest.north_m), turned


@pytest.mark.parametrize(("wind_mps", "from_rad"), WINDS)
def test_put_where_the_statics_have_her_at_rest_she_stays_there(boat, wind_mps, from_rad):
    rest = statics(boat, wind_mps, from_rad)
    she = moored_astern(boat)
    she.put(rest.east_m, rest.north_m, rest.heading_rad)
    for _ in range(30):
        she.on_for(10.0, Orders(), Breeze(wind_mps, from_rad))
        far_m, turned = off(she.lying.q, rest)
        assert far_m < 1e-4 and turned < 1e-5


@pytest.mark.parametrize(("wind_mps", "from_rad"), WINDS)
def test_from_elsewhere_she_swings_about_the_rest_of_the_statics(boat, wind_mps, from_rad):
    """Only the square of her speed damps her: decimetres are left, about one place."""
    rest, she = statics(boat, wind_mps, from_rad), moored_astern(boat)
    she.on_for(1500.0, Orders(), Breeze(wind_mps, from_rad))
    places = []
    for _ in range(1200):
        she.on_for(0.5, Orders(), Breeze(wind_mps, from_rad))
        places.append(she.lying.q)
    far_m, turned = off(np.mean(places, axis=0), rest)
    assert far_m < 0.01 and turned < math.radians(0.1)


@pytest.mark.parametrize("turned", [0.7, 2.1, 4.4])
def test_all_turned_together_with_a_sloping_bed_she_goes_the_turned_way(boat, turned):
    ends = []
    for by in (0.0, turned):
        # the bed falls off toward her bow
        rise_east, rise_north = whirled((-0.15, 0.04), by)
        she = moored_astern(boat, by, PlaneBed(-18.0, rise_east, rise_north))
        she.on_for(90.0, Orders(revs=-0.3, helm_rad=0.1), Breeze(7.0, 1.2 + by))
        ends.append((she.lying, whirled((she.lying.east_m, she.lying.north_m), -by)))
    (one, one_at), (two, two_at) = ends
    assert two_at == pytest.approx(one_at, abs=1e-6)
    assert two.heading_rad - turned == pytest.approx(one.heading_rad, abs=1e-7)
    assert two.pull_n == pytest.approx(one.pull_n, rel=1e-4)


def test_chain_and_lines_mirrored_give_the_mirrored_way(boat):
    ends = []
    for side in (1.0, -1.0):
        first = rode(PlaneBed(-18.0, 0.05, 0.1 * side), at=(60.0, 8.0 * side))
        lines = tuple(
            replace(line, y_m=side * line.y_m, north_m=side * line.north_m) for line in sterns()
        )
        she = handled(boat, first, *lines)
        she.driven = she.driven._replace(walk=side * she.driven.walk)
        she.put(-1.0, 0.0, EASTWARD)
        she.anchored(60.0, 8.0 * side, 62.0)
        she.make_fast(1, 25.0)
        breeze = Breeze(7.0, EASTWARD - 0.9 * side)
        she.on_for(90.0, Orders(revs=-0.4, helm_rad=0.2 * side), breeze)
        ends.append(she.lying)
    one, two = ends
    assert two.east_m == pytest.approx(one.east_m, abs=1e-6)
    assert two.north_m == pytest.approx(-one.north_m, abs=1e-6)
    assert two.heading_rad - EASTWARD == pytest.approx(EASTWARD - one.heading_rad, abs=1e-7)


# By the equation of what coasts under the square of its speed: u = u0 / (1 + k u0 t / m); the
# air ahead adds half its density times frontal area times its coefficient to k.
def test_straight_ahead_with_the_engine_stopped_she_coasts_as_the_closed_form_has_it(boat):
    she = handled(boat, rode())
    she.put(0.0, 0.0, 0.0, 2.0)
    driven, form = she.driven, she.driven.wind
    k = driven.along_kgpm + 0.5 * AIR_KGPM3 * form.frontal_m2 * form.ahead
    for t_s in (20.0, 60.0, 180.0, 600.0):
        she.on_for(t_s - she.t_s, Orders(), CALM)
        by_hand = 2.0 / (1.0 + k * 2.0 * t_s / driven.surge_kg)
        assert she.lying.ahead_mps == pytest.approx(by_hand, rel=2e-3)
    assert she.lying.heading_rad == 0.0


def test_brought_up_all_standing_the_chain_stops_her_and_throws_her_back_no_faster(boat):
    """Full ahead from over the anchor until the chain is straight: stiff, and still finite."""
    she = handled(boat, rode())
    she.put(60.0, 0.0, EASTWARD, 2.0)
    she.anchored(60.0, 0.0, 30.0)
    hardest_n, farthest_m, back_mps = 0.0, 0.0, 0.0
    for _ in range(800):
        she.on_for(0.05, Orders(), CALM)
        now = she.lying
        assert math.isfinite(now.east_m + now.pull_n + now.heading_rad)
        hardest_n = max(hardest_n, now.pull_n)
        farthest_m = max(farthest_m, now.east_m + 6.6 - 60.0)
        back_mps = min(back_mps, now.ahead_mps)
    # 30 m from 19.5 m above the bed span sqrt(30^2 - 19.5^2) = 22.8 m
    assert 22.0 < farthest_m < 23.3
    # all her way taken up by the chain alone: v sqrt(m EA / L) = 2 sqrt(12420 x 8e6 / 30) = 115 kN
    assert 3e3 < hardest_n < 115e3
    assert -2.0 < back_mps < 0.0


@pytest.mark.parametrize("holding_n", [400.0, 900.0])
def test_an_anchor_that_drags_pulls_what_it_holds(boat, holding_n):
    she = handled(boat, rode(), holding_n=holding_n)
    she.put(0.0, 0.0, EASTWARD)
    she.anchored(60.0, 0.0, 62.0)
    she.on_for(120.0, Orders(revs=-1.0), CALM)
    shank, began = [], she.lying
    for _ in range(600):
        she.on_for(0.1, Orders(revs=-1.0), CALM)
        shank.append(she.lying.shank_n)
    now = she.lying
    assert now.moved_m > began.moved_m + 5.0
    assert np.mean(shank) == pytest.approx(holding_n, rel=0.1)
    # it goes where she goes, and by as much as is told
    went_m = math.dist(now.anchor_m, began.anchor_m)
    assert went_m == pytest.approx(now.moved_m - began.moved_m, rel=0.02)
    assert now.anchor_m[0] < began.anchor_m[0]


# The roller is 11.5 m over the bed where the anchor lies and 26.5 m over that under the bow: 18 m
# of chain reach the anchor at sqrt(18^2 - 11.5^2) = 13.8 m.
def test_an_anchor_up_the_slope_comes_home_only_once_the_chain_is_up_and_down_over_it(boat):
    first = rode(PlaneBed(-10.0, 1.15, 0.0), at=(0.0, 0.0))
    she = handled(boat, first)
    she.put(-13.0 - 6.6, 0.0, EASTWARD)
    she.anchored(0.0, 0.0, 20.0)
    while she.lying.chain_m > 12.0:
        she.on_for(0.5, Orders(veer_mps=-0.25), CALM)
        now = she.lying
        assert now.anchor == "lies" and now.anchor_m == (0.0, 0.0)
    she.on_for(60.0, Orders(veer_mps=-0.25), CALM)
    assert she.lying.anchor == "stowed"
    assert she.lying.tension_n[0] == 0.0


def test_as_the_water_rises_over_a_chain_up_and_down_the_anchor_lifts(boat):
    she = handled(boat, rode())
    she.put(53.4, 0.0, EASTWARD)
    she.anchored(60.0, 0.0, 20.0)
    she.on_for(5.0, Orders(), Breeze(0.0, 0.0, 0.4))
    assert she.lying.anchor == "lies"
    she.on_for(5.0, Orders(), Breeze(0.0, 0.0, 0.6))
    assert she.lying.anchor == "hangs"


def half_known(west_m=0.0):
    """18 m of water east of a meridian, nothing known to the west of it."""
    east = np.arange(-100.0, 201.0, 2.0)
    level = np.full((151, east.size), -18.0)
    level[:, east < west_m] = np.nan
    return GridBed(-100.0, -150.0, 2.0, level)


def test_where_nobody_knows_the_bed_the_anchor_never_comes_down(boat):
    she = handled(boat, rode(half_known()))
    she.put(-40.0, 0.0, EASTWARD)
    she.on_for(150.0, Orders(veer_mps=0.45), CALM)
    assert she.lying.anchor == "hangs" and she.lying.chain_m > 60.0
    assert math.isfinite(she.lying.east_m)


def test_dragged_onto_a_bed_nobody_knows_where_she_goes_is_unknown(boat):
    bed = half_known(58.0)
    she = handled(boat, rode(bed), holding_n=300.0)
    she.put(20.0, 0.0, EASTWARD)
    she.anchored(60.0, 0.0, 62.0)
    she.on_for(200.0, Orders(revs=-1.0), CALM)
    assert math.isnan(she.lying.pull_n) and math.isnan(she.lying.east_m)
    assert math.isnan(she.lying.angle_rad)


def test_the_same_orders_again_bring_her_to_the_same_bits(boat):
    ends = []
    for _ in range(2):
        she = moored_astern(boat, holding_n=400.0)
        she.on_for(120.0, Orders(revs=-0.8, helm_rad=0.2), Breeze(9.0, 2.0))
        ends.append(she.lying)
    assert ends[0] == ends[1]
