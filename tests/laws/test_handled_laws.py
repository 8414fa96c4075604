"""She is moved as a hull under engine must be: mirrored, rested, stopped, held by her chain."""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from shorefast.mooring import (
    BedLine,
    Breeze,
    Domain,
    Handled,
    LineSegments,
    Load,
    Orders,
    PlaneBed,
    RodeLine,
    Scene,
    ShoreLine,
    driven_of,
    forces_driven,
    rode_at_pull,
    solve_rest,
)
from shorefast.stay import wind_form

ROOM = Domain(-500.0, 500.0, -500.0, 500.0)
AIR = 1.225


@pytest.fixture(scope="module")
def boat(cut):
    return replace(cut("grey_notch/stay", 1).boat, snubber=None)


def rode(east_m=60.0, north_m=0.0, level_m=-18.0, rise_east=0.0, length_m=80.0):
    pieces = LineSegments(
        np.array([length_m]), np.array([19.2]), np.array([8e6]), np.array([22.1]), 1.5
    )
    bed = PlaneBed(level_m, rise_east, 0.0)
    return RodeLine("rode", 6.6, 0.0, 1.5, east_m, north_m, pieces, bed, 0.6)


def ashore(name, x_m, y_m, east_m, north_m, length_m=25.0):
    return ShoreLine(name, x_m, y_m, 1.3, east_m, north_m, 3.0, length_m, 1.1, 9e4)


def handled(boat, *lines, driven=None, **more):
    form = wind_form(boat.windage, boat.hull.length_m)
    scene = Scene((rode(), *lines), ROOM, form)
    return Handled(scene, driven or driven_of(boat, form), (0.45, 0.25), 7000.0, **more)


def speed(she):
    return math.hypot(she.lying.ahead_mps, she.lying.aside_mps)


CALM = Breeze(0.0, 0.0)


def test_a_mirrored_order_in_a_mirrored_wind_gives_a_mirrored_track(boat):
    form = wind_form(boat.windage, boat.hull.length_m)
    driven = driven_of(boat, form)
    other = driven._replace(walk=-driven.walk)
    ends = []
    for side, hers in ((1.0, driven), (-1.0, other)):
        she = handled(boat, driven=hers)
        she.put(0.0, 0.0, 0.0, 0.5)
        she.on_for(40.0, Orders(helm_rad=0.3 * side, revs=-0.4), Breeze(6.0, side * 1.2))
        ends.append(she.lying)
    one, two = ends
    assert two.east_m == pytest.approx(-one.east_m, abs=1e-9)
    assert two.north_m == pytest.approx(one.north_m, abs=1e-9)
    assert two.heading_rad == pytest.approx(-one.heading_rad, abs=1e-12)


@pytest.mark.parametrize("turned", [0.7, 2.1, 4.0])
def test_the_compass_has_no_favourite(boat, turned):
    ends = []
    for by in (0.0, turned):
        she = handled(boat)
        she.put(0.0, 0.0, by)
        she.on_for(30.0, Orders(helm_rad=0.2, revs=0.4), Breeze(7.0, 1.0 + by))
        ends.append(she.lying)
    one, two = ends
    assert two.heading_rad - turned == pytest.approx(one.heading_rad, abs=1e-9)
    back_e = two.east_m * math.cos(turned) - two.north_m * math.sin(turned)
    assert back_e == pytest.approx(one.east_m, abs=1e-9)


# The rest solver follows no motion in time: it balances forces.
@pytest.mark.parametrize(("wind_mps", "from_rad"), [(8.0, 1.2), (11.0, 2.4), (6.0, 0.3)])
def test_left_alone_on_her_lines_she_comes_to_the_rest_of_the_statics(boat, wind_mps, from_rad):
    lines = (
        ashore("port", -6.4, -1.6, -22.0, 9.0),
        ashore("starboard", -6.4, 1.6, -22.0, -9.0),
    )
    she = handled(boat, *lines)
    she.put(-1.0, 0.5, 0.5 * math.pi)
    she.anchored(60.0, 0.0, 62.0)
    for number in (1, 2):
        she.make_fast(number, 25.0)
    she.on_for(1500.0, Orders(), Breeze(wind_mps, from_rad))
    short = replace(rode(length_m=62.0))
    scene = Scene((short, *lines), ROOM, she.scene.wind)
    load = Load(0.0, 0.0, 0.0, wind_mps, from_rad, AIR)
    found = solve_rest(scene, load, 0.0, (-1.0, 0.5, 0.5 * math.pi))
    assert found.why == "found"
    assert math.hypot(she.lying.east_m - found.east_m, she.lying.north_m - found.north_m) < 0.1
    assert abs(math.remainder(she.lying.heading_rad - found.heading_rad, 2 * math.pi)) < 0.018


def test_with_no_wind_and_no_engine_her_way_only_falls(boat):
    she = handled(boat)
    she.put(0.0, 0.0, 0.3, 1.5)
    she.state[4], she.state[5] = 0.4, 0.03
    driven = she.driven
    energy = []
    for _ in range(80):
        she.on_for(1.0, Orders(), CALM)
        now = she.lying
        energy.append(
            driven.surge_kg * now.ahead_mps**2
            + driven.sway_kg * now.aside_mps**2
            + driven.yaw_kgm2 * now.turn_radps**2
        )
    assert all(after <= before * (1.0 + 1e-4) for before, after in pairwise(energy))
    assert energy[-1] < 0.2 * energy[0]


def test_ahead_the_helm_turns_her_its_way_and_astern_the_other(boat):
    for revs, way_mps, side in ((0.3, 1.0, 1.0), (-0.3, -1.0, -1.0)):
        she = handled(
            boat, driven=driven_of(boat, wind_form(boat.windage, 13.2))._replace(walk=0.0)
        )
        she.put(0.0, 0.0, 0.0, way_mps)
        she.on_for(8.0, Orders(helm_rad=0.4, revs=revs), CALM)
        assert side * she.lying.heading_rad > 0.05


def test_a_burst_ahead_turns_her_where_she_lies(boat):
    she = handled(boat)
    she.put(0.0, 0.0, 0.0)
    she.on_for(6.0, Orders(helm_rad=0.6, revs=0.5), CALM)
    turned = she.lying.heading_rad
    idle = handled(boat)
    idle.put(0.0, 0.0, 0.0)
    idle.on_for(6.0, Orders(helm_rad=0.6), CALM)
    assert turned > 0.05 and idle.lying.heading_rad == 0.0


@pytest.mark.parametrize(("walks", "side"), [("port", -1.0), ("starboard", 1.0), ("no", 0.0)])
def test_her_stern_walks_as_her_file_says(boat, walks, side):
    hers = replace(boat, engine=replace(boat.engine, walks_astern=walks))
    she = handled(hers)
    she.put(0.0, 0.0, 0.0)
    she.on_for(15.0, Orders(revs=-0.6), CALM)
    # her stern to port turns her bow to starboard
    assert np.sign(round(she.lying.heading_rad, 9)) == -side


def test_half_the_step_hardly_changes_where_she_goes(boat):
    ends = []
    for step_s in (0.05, 0.025):
        she = handled(boat, step_s=step_s)
        she.put(0.0, 0.0, 0.0)
        she.on_for(60.0, Orders(helm_rad=-0.2, revs=-0.3), Breeze(7.0, 1.5))
        ends.append(she.lying.q)
    assert np.abs(ends[0][:2] - ends[1][:2]).max() < 0.06
    assert abs(ends[0][2] - ends[1][2]) < 0.005


# Hand arithmetic: 18 m of water and 1.5 m to the roller are 19.5 m, at 0.45 m/s 43.3 s.
def test_the_anchor_is_on_the_bottom_when_hand_arithmetic_has_it(boat):
    she = handled(boat)
    she.put(0.0, 0.0, 0.0)
    while she.lying.anchor != "lies":
        she.on_for(0.25, Orders(veer_mps=0.45), CALM)
    assert she.t_s == pytest.approx(43.3, abs=0.3)
    assert she.lying.chain_m == pytest.approx(19.5, abs=0.1)
    east_m, north_m = she.lying.anchor_m
    assert (east_m, north_m) == pytest.approx((0.0, 6.6), abs=0.01)


def test_the_windlass_keeps_its_speeds_and_its_length(boat):
    she = handled(boat)
    she.put(0.0, 0.0, 0.0)
    she.on_for(10.0, Orders(veer_mps=5.0), CALM)
    assert she.lying.chain_m == pytest.approx(4.5, abs=1e-6)
    she.on_for(4.0, Orders(veer_mps=-5.0), CALM)
    assert she.lying.chain_m == pytest.approx(3.5, abs=1e-6)
    she.on_for(400.0, Orders(veer_mps=1.0), CALM)
    assert she.lying.chain_m == pytest.approx(she.aboard_m) and she.aboard_m == pytest.approx(80.0)


def test_a_windlass_that_is_pulled_harder_than_it_can_stalls(boat):
    she = handled(boat)
    she.windlass_n = 400.0
    she.put(8.0, 0.0, 0.5 * math.pi)
    she.anchored(60.0, 0.0, 50.0)
    she.on_for(120.0, Orders(revs=-0.8), CALM)
    before_m = she.lying.chain_m
    she.on_for(20.0, Orders(revs=-0.8, veer_mps=-0.25), CALM)
    assert she.lying.tension_n[0] > 400.0
    assert she.lying.chain_m == pytest.approx(before_m, abs=0.3)


def test_full_astern_her_chain_carries_what_the_engine_pulls(boat):
    she = handled(boat)
    she.put(0.0, 0.0, 0.5 * math.pi)
    she.anchored(60.0, 0.0, 62.0)
    she.on_for(400.0, Orders(revs=-1.0), CALM)
    assert she.lying.pull_n == pytest.approx(boat.engine.astern_pull_n, rel=0.01)
    flat = BedLine(np.array([-1.0, 1.0]), np.array([-18.0, -18.0]))
    form = rode_at_pull(rode(length_m=62.0).segments, flat, 0.6, 1.5, she.lying.pull_n)
    assert she.lying.angle_rad == pytest.approx(form.angle_rad, abs=0.01)


def test_an_anchor_gives_way_at_what_it_holds_and_not_before(boat):
    moved = []
    for holding_n in (300.0, 3000.0):
        she = handled(boat, holding_n=holding_n)
        she.put(0.0, 0.0, 0.5 * math.pi)
        she.anchored(60.0, 0.0, 62.0)
        she.on_for(400.0, Orders(revs=-0.5), CALM)
        moved.append(she.lying.moved_m)
        assert she.lying.shank_n < 1.3 * holding_n
    assert moved[0] > 5.0 and moved[1] == 0.0


def test_hove_short_the_anchor_breaks_out_and_comes_home(boat):
    she = handled(boat)
    she.put(53.4, 0.0, 0.5 * math.pi)
    she.anchored(60.0, 0.0, 25.0)
    she.on_for(300.0, Orders(veer_mps=-0.25), CALM)
    assert she.lying.anchor == "stowed" and she.lying.chain_m == 0.0


def test_a_line_pulls_once_she_is_farther_off_than_it_is_long(boat):
    she = handled(boat, ashore("stern", -6.4, 0.0, -31.4, 0.0))
    she.put(0.0, 0.0, 0.5 * math.pi)
    assert she.span_m(1) == pytest.approx(25.0, abs=1e-9)
    she.make_fast(1, 27.0)
    she.on_for(0.1, Orders(), CALM)
    assert she.lying.tension_n[1] < 10.0
    she.make_fast(1, 24.8)
    she.on_for(0.1, Orders(), CALM)
    assert she.lying.tension_n[1] > 300.0
    she.let_go(1)
    she.on_for(0.1, Orders(), CALM)
    assert she.lying.tension_n[1] == 0.0 and not she.is_fast(1)


def test_a_hand_takes_in_until_the_line_pulls_harder_than_a_hand(boat):
    she = handled(boat, ashore("stern", -6.4, 0.0, -31.4, 0.0), hand_n=np.array([0.0, 250.0]))
    she.put(0.0, 0.0, 0.5 * math.pi)
    she.anchored(60.0, 0.0, 70.0)
    she.make_fast(1, 27.0)
    she.on_for(120.0, Orders(take_in_mps=(0.3,)), CALM)
    assert she.length_m(1) < 24.5
    tight_m = she.length_m(1)
    she.on_for(60.0, Orders(revs=0.4, take_in_mps=(0.3,)), CALM)
    assert she.lying.tension_n[1] > 250.0 and she.length_m(1) > tight_m - 0.5


def test_the_force_across_grows_with_the_square_of_the_wind(boat):
    driven = driven_of(boat, wind_form(boat.windage, 13.2))
    still = (0.0, 0.0, 0.0)
    one, two = (
        forces_driven(driven, Breeze(w, 0.5 * math.pi), still, Orders())[1] for w in (5.0, 10.0)
    )
    assert two == pytest.approx(4.0 * one)


# Common practice, no source: a displacement yacht's hull speed is 1.34 times the root of her
# waterline in feet, in knots; full ahead she makes about that.
@pytest.mark.parametrize("bay", ["grey_notch", "stone_spur", "tres_sombras"])
def test_full_ahead_she_makes_about_her_hull_speed(cut, bay):
    boat = cut(f"{bay}/stay", 1).boat
    she = handled(boat, driven=driven_of(boat, wind_form(boat.windage, boat.hull.length_m)))
    she.put(0.0, 0.0, 0.0)
    she.on_for(240.0, Orders(revs=1.0), CALM)
    hull_mps = 1.34 * math.sqrt(boat.hull.waterline_m / 0.3048) * 0.514444
    assert 0.80 * hull_mps < she.lying.ahead_mps < 1.15 * hull_mps
