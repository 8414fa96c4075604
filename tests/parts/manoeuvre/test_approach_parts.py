"""The approach taken apart: balance astern, chain laid out, look-round, way out, the unknown."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from shorefast.errors import BadInput
from shorefast.manoeuvre import approach
from shorefast.manoeuvre.arrival import arrival
from shorefast.manoeuvre.calls import bed_on_way
from shorefast.manoeuvre.clear_way import draught_m
from shorefast.manoeuvre.held_astern import held_astern, most_wind_mps
from shorefast.manoeuvre.look_round import turning_room_m
from shorefast.manoeuvre.way_in import way_in
from shorefast.mooring import Breeze, Orders, rode_at_distance
from shorefast.stay import rode_segments

BAYS = ("grey_notch", "stone_spur", "tres_sombras")


@pytest.fixture(scope="module", params=BAYS)
def way(cut, request):
    return way_in(arrival(cut(f"{request.param}/stay", 3)))


@pytest.fixture(scope="module")
def notch(cut):
    return cut("grey_notch/stay", 3)


@pytest.fixture(scope="module")
def found(notch):
    return approach(notch)


def depths(way, east_m, north_m):
    """Water over the bed as surveyed, no doubt taken off."""
    return way.arrival.level_m - way.arrival.stay.bay.surface.level_at(east_m, north_m)


# The time-domain model adds up and moves; the balance only looks for forces that cancel.
@pytest.mark.parametrize("blow", [0.0, 0.7, -1.4, 2.6])
def test_in_her_balance_astern_she_goes_straight_on(way, blow):
    speed, wind_mps = way.speed_mps, 2.0
    held = held_astern(way.driven, speed, wind_mps, blow, thruster=True)
    assert held is not None
    she = way.arrival.handled()
    she.put(0.0, 0.0, held.off_rad, -speed * math.cos(held.off_rad))
    state = she.state
    state[4] = speed * math.sin(held.off_rad)
    state[6], state[7], state[8] = held.helm_rad, held.revs, held.push
    she.on_for(4.0, Orders(held.helm_rad, held.revs, held.push), Breeze(wind_mps, blow))
    lying = she.lying
    assert lying.north_m == pytest.approx(-4.0 * speed, abs=0.01)
    assert lying.east_m == pytest.approx(0.0, abs=0.01)
    assert lying.heading_rad == pytest.approx(held.off_rad, abs=math.radians(0.2))


def test_a_mirrored_wind_is_met_with_a_mirrored_helm(way):
    hers = way.driven._replace(walk=0.0)
    one = held_astern(hers, way.speed_mps, 1.5, 1.2)
    two = held_astern(hers, way.speed_mps, 1.5, -1.2)
    assert (two.off_rad, two.helm_rad) == pytest.approx((-one.off_rad, -one.helm_rad), abs=1e-6)
    assert two.revs == pytest.approx(one.revs, abs=1e-6)


def test_a_wind_she_cannot_stem_astern_holds_her_nowhere(way):
    """Blown on from astern by 4 m/s, some hundred newtons: her engine stems it, 20 N do not."""
    weak = way.driven._replace(astern_n=20.0)
    assert held_astern(way.driven, way.speed_mps, 4.0, math.pi) is not None
    assert held_astern(weak, way.speed_mps, 4.0, math.pi) is None


def test_a_thruster_holds_her_in_no_less_wind(cut):
    way = way_in(arrival(cut("tres_sombras/stay", 3)))
    for blow in (0.5 * math.pi, -0.5 * math.pi):
        alone = most_wind_mps(way.driven, way.speed_mps, blow)
        assert most_wind_mps(way.driven, way.speed_mps, blow, thruster=True) >= alone > 1.0


def test_at_the_planned_speed_the_windlass_follows_with_a_tenth_in_hand(way):
    veer_mps = way.arrival.stay.boat.windlass.veer_mps
    for k in range(len(way.made_good_m) - 1):
        gained_m = way.chain_m[k + 1] - way.chain_m[k]
        takes_s = (way.made_good_m[k + 1] - way.made_good_m[k]) / way.speed_mps
        assert 0.0 <= gained_m <= 0.9 * veer_mps * takes_s + 1e-9


def test_wherever_the_roller_is_the_chain_called_lies_with_no_heap(way):
    """The rode's statics of that length at that distance: it is stretched out, not in a heap."""
    bare = replace(way.arrival.stay.boat, snubber=None)
    bow_m = way.arrival.level_m + bare.roller.z_m
    bed = bed_on_way(way)
    for made_good_m in np.arange(2.0, way.hold_m, 4.0):
        chain_m = way.chain_at(made_good_m)
        form = rode_at_distance(
            rode_segments(bare, chain_m), bed, way.arrival.rigged.rode.friction, bow_m, made_good_m
        )
        # what lies and hangs is all of it: 1 m at most is slack
        along_m = np.linspace(0.0, made_good_m, 200)
        level_m = np.interp(along_m, bed.along_m, bed.level_m)
        bed_m = float(np.hypot(np.diff(along_m), np.diff(level_m)).sum())
        hangs_m = bow_m - float(level_m[-1])
        assert chain_m - bed_m - hangs_m < 1.0
        if chain_m > way.bottom_m + 1.0:
            assert form.pull_n > 1.0


def test_the_anchor_is_let_go_as_long_before_its_place_as_it_falls(way):
    assert way.let_go_at_m == pytest.approx(-way.speed_mps * way.fall_s - way.early_m)
    half = way.chain_at(0.5 * way.let_go_at_m)
    assert half == pytest.approx(0.5 * way.bottom_m)
    assert way.chain_at(2.0 * way.let_go_at_m) == 0.0


def test_the_calls_follow_fall_and_planned_speed_in_time(found):
    calls = {call.kind: call for call in found.calls}
    assert calls["let go"].t_s == 0.0
    assert calls["bottom"].t_s == pytest.approx(found.way.fall_s)
    for one, two in pairwise([call for call in found.calls if call.kind == "veer"]):
        gone_m, took_s = two.made_good_m - one.made_good_m, two.t_s - one.t_s
        assert gone_m / took_s == pytest.approx(found.way.speed_mps)


def test_the_pass_to_look_round_has_the_water_it_says_all_along(found):
    turn, way = found.look_round, found.way
    east = np.linspace(turn.from_m[0], turn.to_m[0], 300)
    north = np.linspace(turn.from_m[1], turn.to_m[1], 300)
    spare = depths(way, east, north) - draught_m(way.arrival.stay)
    # the doubt of the survey is taken off what is said
    assert spare.min() >= turn.least_water_m
    toward = math.atan2(east[-1] - east[0], north[-1] - north[0])
    assert math.cos(toward - turn.toward_rad) > 0.9999
    # square to her way in, against the wind
    assert math.cos(turn.toward_rad - found.line_in_rad) == pytest.approx(0.0, abs=1e-9)
    assert math.cos(turn.toward_rad - way.arrival.wind.from_rad) >= 0.0


def test_the_way_out_tells_the_surveyed_water_less_its_doubt(found):
    way, surface = found.way, found.way.arrival.stay.bay.surface
    east_m, north_m = way.roller_at(way.hold_m)
    assert [far for far, _ in found.out.depths] == [10.0, 20.0, 40.0, 60.0, 80.0, 100.0]
    aside_m = np.linspace(-1.0, 1.0, 60) * (0.5 * way.arrival.stay.boat.hull.beam_m + 5.0)
    sine, cosine = math.sin(found.out.bearing_rad), math.cos(found.out.bearing_rad)
    for far_m, told_m in found.out.depths:
        east = east_m + far_m * sine + aside_m * cosine
        north = north_m + far_m * cosine - aside_m * sine
        # 95 of 100 on one side: 1.645 deviations of a normal law
        left_m = depths(way, east, north) - 1.645 * surface.deviation_at(east, north)
        assert told_m == pytest.approx(float(left_m.min()), abs=0.3)
        assert told_m >= draught_m(way.arrival.stay) + 1.0


def test_to_windward_means_toward_where_the_wind_comes_from(found):
    """The start's place told from the line by coordinates alone."""
    way = found.way
    roller = way.arrival.roller((found.start_east_m, found.start_north_m, way.heading_rad))
    de, dn = (a - b for a, b in zip(roller, way.arrival.anchor, strict=True))
    sine, cosine = math.sin(found.line_in_rad), math.cos(found.line_in_rad)
    right_m = de * cosine - dn * sine
    upwind = math.sin(way.arrival.wind.from_rad - found.line_in_rad)
    assert found.to_windward_m == pytest.approx(math.copysign(1.0, upwind) * right_m)
    # facing astern, right is her port side
    port_m = -right_m if found.windward_side == "starboard" else right_m
    assert port_m == pytest.approx(found.to_windward_m)


# By hand: 29.5 m to the bed take 118 s at 15 m a minute.
def test_a_windlass_nobody_timed_is_taken_at_fifteen_metres_a_minute_and_said(notch, found):
    boat = replace(notch.boat, windlass=replace(notch.boat.windlass, veer_mps=None))
    slow = approach(replace(notch, boat=boat))
    said = "Nobody says how fast the windlass veers; 15 m a minute is taken"
    assert slow.way.fall_s == pytest.approx(118.0, abs=1.0)
    assert slow.astern_most_mps < found.astern_most_mps
    assert said in [one.said for one in slow.basis.assumptions]
    assert said not in [one.said for one in found.basis.assumptions]


def unknown_about(stay, place, within_m):
    """The stay with the bed unknown about a place."""
    surface = stay.bay.surface
    grid = surface.grid
    rows, columns = np.indices(grid.level_m.shape)
    east, north = grid.west_m + columns * grid.step_m, grid.south_m + rows * grid.step_m
    near = np.hypot(east - place[0], north - place[1]) < within_m
    level = np.where(near, np.nan, grid.level_m)
    holed = replace(surface, grid=grid._replace(level_m=level))
    return replace(stay, bay=replace(stay.bay, surface=holed))


def test_a_bed_unknown_under_the_way_in_is_answered_in_words(notch, found):
    stay = unknown_about(notch, found.way.roller_at(found.way.hold_m - 4.0), 3.0)
    with pytest.raises(BadInput) as said:
        approach(stay)
    assert said.value.sentence == (
        "Way in: the bed under it is unknown in places, soundings wanted there. Sound it."
    )


def test_room_to_turn_in_water_nobody_knows_is_unknown(notch, found):
    way = found.way
    begins = way.pose_at(way.begins_at_m, way.start_across_m)[:2]
    stay = unknown_about(notch, begins, 6.0)
    assert found.turning_room_m > 20.0
    holed = replace(way, arrival=replace(way.arrival, stay=stay))
    assert math.isnan(turning_room_m(holed))


def test_she_turns_in_more_room_than_her_own_length_and_less_than_six(found, way):
    length_m = found.way.arrival.stay.boat.hull.length_m
    assert length_m < found.turning_needs_m < 6.0 * length_m
    assert math.isfinite(turning_room_m(way))
