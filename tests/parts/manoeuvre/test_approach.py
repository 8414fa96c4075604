"""The way in: never ahead of the fall, never faster than the windlass, never heaping; tried."""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from shorefast.errors import BadInput
from shorefast.manoeuvre import approach, come_in
from shorefast.manoeuvre.clear_way import draught_m, water_m
from shorefast.manoeuvre.coming_in import keeps_her_way
from shorefast.manoeuvre.crosswind import in_wind, steady
from shorefast.manoeuvre.held_astern import held_astern
from shorefast.manoeuvre.start import started
from shorefast.mooring import Breeze, Orders, forces_driven

BAYS = ("grey_notch", "stone_spur", "tres_sombras")


@pytest.fixture(scope="module", params=BAYS)
def found(cut, request):
    return approach(cut(f"{request.param}/stay", 5))


def felt(found):
    arrival = found.way.arrival
    return arrival.felt_mps(arrival.wind.mean_mps), arrival.wind.from_rad


# 29.5 m at 0.45 m/s, 16.8 m at 0.40 m/s, 20.4 m at 0.50 m/s: by hand.
@pytest.mark.parametrize(("bay", "by_hand_s"), [(0, 65.5), (1, 42.0), (2, 40.8)])
def test_the_anchor_falls_as_long_as_hand_arithmetic_has_it(cut, bay, by_hand_s):
    way = approach(cut(f"{BAYS[bay]}/stay", 1)).way
    assert way.fall_s == pytest.approx(by_hand_s, abs=0.5)


def test_chain_is_never_called_ahead_of_its_fall_nor_faster_than_the_windlass(found):
    way = found.way
    windlass = found.way.arrival.stay.boat.windlass.veer_mps
    for one, two in pairwise(found.calls):
        gained_s = two.t_s - one.t_s
        assert two.chain_m - one.chain_m <= windlass * gained_s + 0.2
    assert found.calls[1].kind == "bottom"
    assert found.calls[1].chain_m <= windlass * way.fall_s + 0.1


def test_chain_lies_out_without_a_heap(found):
    """What is called is never more than the straight way to the roller and 2 m, slack and sag."""
    way, arrival = found.way, found.way.arrival
    for made_good_m, chain_m in zip(way.made_good_m, way.chain_m, strict=True):
        east, north = zip(
            *(way.roller_at(x) for x in np.linspace(0.0, made_good_m, 60)), strict=True
        )
        level = arrival.stay.bay.surface.level_at(np.array(east), np.array(north))
        along = float(np.hypot(np.diff(level), made_good_m / 59.0).sum())
        hangs = arrival.level_m + arrival.stay.boat.roller.z_m - float(level[-1])
        assert chain_m <= along + hangs + 2.0


def test_the_calls_come_in_order_and_end_with_the_planned_chain(found):
    run = [call for call in found.calls if call.kind not in ("line", "engine stopped", "prove")]
    assert [call.number for call in found.calls] == list(range(1, len(found.calls) + 1))
    assert all(a.off_m >= b.off_m and a.chain_m <= b.chain_m for a, b in pairwise(run))
    assert run[0].kind == "let go" and run[-1].kind == "hold"
    assert run[-1].chain_m == found.way.arrival.stay.lie.chain_out_m
    kinds = [call.kind for call in found.calls]
    assert kinds.index("engine stopped") > kinds.index("hold")


def test_held_the_chain_leads_flatter_than_dragging_and_that_flatter_than_slack(found):
    told = [call for call in found.calls if math.isfinite(call.angle_slack_rad)]
    assert len(told) >= 5
    for call in told:
        assert call.angle_holding_rad < call.angle_dragging_rad < call.angle_slack_rad


def test_astern_in_balance_no_force_is_left(found):
    way = found.way
    speed, blow = way.speed_mps, 0.4 * math.pi
    held = held_astern(way.driven, speed, 2.0, blow, thruster=True)
    off = held.off_rad
    motion = (-speed * math.cos(off), speed * math.sin(off), 0.0)
    orders = Orders(held.helm_rad, held.revs, held.push)
    left = forces_driven(way.driven, Breeze(2.0, blow - off), motion, orders)
    assert np.abs(left).max() < 5.0


def test_more_wind_across_turns_her_more_until_she_cannot_be_held(found):
    way = found.way
    offs = []
    for wind_mps in (0.5, 1.5, 2.5, 3.5):
        held = held_astern(way.driven, way.speed_mps, wind_mps, 0.5 * math.pi)
        offs.append(math.inf if held is None else abs(held.off_rad))
    assert offs == sorted(offs)
    assert held_astern(way.driven, way.speed_mps, 25.0, 0.5 * math.pi) is None


def test_a_perfect_crew_lets_go_in_the_place_and_comes_to_the_planned_lie(found):
    lines = tuple(
        (k + 1, 15.0 if k == 0 else 60.0) for k in range(len(found.way.arrival.rigged.legs))
    )
    came = come_in(found.way, steady(*felt(found)), lines)
    assert came.ended == "lies"
    assert came.off_place_m < 0.5
    assert came.off_plan_m < 3.0
    assert came.off_place_m < found.limits.landing_m and came.off_plan_m < found.limits.lie_m


def test_above_the_limit_she_is_not_kept_on_her_way_and_below_it_she_is(found):
    way, most = found.way, found.crosswind.holds
    side = 0.5 if found.crosswind.from_right else -0.5
    blow = way.arrival.way_in_rad + side * math.pi
    kept = []
    for share in (0.9, 1.3):
        felt_mps = way.arrival.felt_mps(share * most)
        kept.append(
            keeps_her_way(started(in_wind(way, share * most, blow)), steady(felt_mps, blow))
        )
    assert kept == [True, False]


def test_the_way_out_and_the_pass_have_the_water_they_say(found):
    arrival = found.way.arrival
    east_m, north_m = found.way.roller_at(found.way.hold_m)
    assert len(found.out.depths) == 6
    # her beam and 5 m to either side of it, a place every quarter of a metre
    aside_m = np.linspace(-1.0, 1.0, 60) * (0.5 * arrival.stay.boat.hull.beam_m + 5.0)
    sine, cosine = math.sin(found.out.bearing_rad), math.cos(found.out.bearing_rad)
    for far_m, deep_m in found.out.depths:
        least_m = water_m(
            arrival.stay,
            arrival.level_m,
            east_m + far_m * sine + aside_m * cosine,
            north_m + far_m * cosine - aside_m * sine,
        ).min()
        assert deep_m == pytest.approx(least_m, abs=0.3)
        assert deep_m >= draught_m(arrival.stay) + 1.0
    assert found.look_round.least_water_m >= 1.0
    assert found.turning_needs_m > arrival.stay.boat.hull.length_m


def test_the_weather_side_is_the_side_the_wind_comes_from_as_she_lies(found):
    arrival = found.way.arrival
    off_bow = math.remainder(arrival.wind.from_rad - found.way.heading_rad, 2.0 * math.pi)
    if abs(math.sin(off_bow)) > 0.3:
        assert found.windward_side == ("starboard" if off_bow > 0.0 else "port")


def test_a_boat_without_an_engine_is_answered_in_words(cut):
    stay = cut("grey_notch/stay", 1)
    bare = replace(stay, boat=replace(stay.boat, engine=None))
    with pytest.raises(BadInput) as said:
        approach(bare)
    assert said.value.sentence == (
        "Salt Thistle: no [engine], this question is about her under engine. Add [engine] with"
        " power and propeller to the boat file."
    )
