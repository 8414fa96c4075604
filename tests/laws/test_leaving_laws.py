"""Laws of leaving: the best of all orders, mirrored it is mirrored, in a calm any order will do."""

from __future__ import annotations

import itertools
import math
import runpy
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from shorefast.manoeuvre import CrossedChain, Leaving, crossed_chain, heave_s, leaving
from shorefast.manoeuvre.crossed_chain import hung_n
from shorefast.manoeuvre.leaving_away import getting_away, is_on_her_way
from shorefast.manoeuvre.leaving_hold import held_of
from shorefast.manoeuvre.leaving_light import Light
from shorefast.manoeuvre.leaving_order import ENOUGH_ROOM, Stages, best_order
from shorefast.stay import blown_m, judge, question_of, shortened, untied

SLOPE = runpy.run_path(str(Path(__file__).parent / "test_stay_laws.py"))
AT = np.array([0])


def in_wind(gust_mps: float, from_rad: float, one=None):
    """The made-up stay off a straight shore in one steady wind; one member."""
    one = SLOPE["stay"]() if one is None else one
    shape = (1, one.wind.time_utc.size)
    wind = replace(
        one.wind, member=np.zeros(1, np.int64), wind_mps=np.full(shape, 0.7 * gust_mps),
        gust_mps=np.full(shape, gust_mps), wind_from_rad=np.full(shape, from_rad),
    )  # fmt: skip
    return replace(one, wind=wind)


def left(stay) -> Leaving:
    return leaving(stay, judge(stay), 0)


def names(found: Leaving) -> list[str]:
    return [step.name.split(" line")[0] for step in found.this_hour.order]


def drawn(draw: np.random.Generator, lines: int) -> Stages:
    """Stages as nothing at sea makes them: any set may be anything."""
    sets = 1 << lines
    share = draw.choice([0.0, 0.02, 0.1, 0.6, math.inf], sets, p=[0.5, 0.2, 0.1, 0.1, 0.1])
    pull_n = draw.uniform(0.0, 5e3, (sets, lines)).round(-1)
    least = np.where(np.isfinite(share), share, 0.0)
    return Stages(share, least, draw.uniform(0.1, 2.0, sets).round(1), pull_n)


def worth(stages: Stages, way: tuple[int, ...]) -> tuple[float, float, float]:
    """What an order is chosen by, line by line as a hand would add it up."""
    left_on = (1 << len(way)) - 1
    share, room, pull = 0.0, max(ENOUGH_ROOM, float(stages.room_use[left_on])), 0.0
    for place, line in enumerate(way):
        pull += float(stages.pull_n[left_on, line])
        left_on &= ~(1 << line)
        if place < len(way) - 1:
            share = max(share, min(float(stages.share[left_on]), 1.0))
            room = max(room, float(stages.room_use[left_on]))
    return share, room, pull


@pytest.mark.parametrize("lines", [2, 3, 4, 5, 6, 7])
def test_the_order_found_over_sets_is_the_best_of_all_orders_tried_one_by_one(lines):
    draw = np.random.default_rng(lines)
    for _ in range(20 if lines < 6 else 2):
        stages = drawn(draw, lines)
        tried = [worth(stages, way) for way in itertools.permutations(range(lines))]
        found = best_order(stages)
        assert sorted(found.lines) == list(range(lines))
        assert worth(stages, found.lines) == pytest.approx(min(tried), abs=1e-6)


@pytest.mark.parametrize("lines", [3, 5])
def test_named_otherwise_the_lines_go_in_the_same_order(lines):
    draw = np.random.default_rng(40 + lines)
    stages = drawn(draw, lines)
    other = draw.permutation(lines)

    def renamed(one: int) -> int:
        return sum(1 << int(other[k]) for k in range(lines) if one >> k & 1)

    there = [np.empty_like(values) for values in (stages.share, stages.least_share)]
    room, pull_n = np.empty_like(stages.room_use), np.zeros_like(stages.pull_n)
    for one in range(1 << lines):
        for values, old in zip(there, (stages.share, stages.least_share), strict=True):
            values[renamed(one)] = old[one]
        room[renamed(one)] = stages.room_use[one]
        for k in range(lines):
            pull_n[renamed(one), other[k]] = stages.pull_n[one, k]
    found, again = best_order(stages), best_order(Stages(*there, room, pull_n))
    assert again.lines == tuple(int(other[k]) for k in found.lines)


def test_a_line_that_must_not_be_the_last_is_not():
    stages = drawn(np.random.default_rng(7), 4)
    last = best_order(stages).lines[-1]
    assert best_order(stages, (last,)).lines[-1] != last


@pytest.mark.parametrize(("from_deg", "lee"), [(60.0, "sb"), (100.0, "sb"), (300.0, "port")])
def test_the_lee_line_goes_first_and_the_weather_line_last(from_deg, lee):
    # her stern is to the shore in the north, so that port is to the east
    found = left(in_wind(9.0, math.radians(from_deg)))
    assert names(found)[0] == lee
    assert not found.this_hour.any_order


@pytest.mark.parametrize("from_deg", [60.0, 120.0, 200.0])
def test_in_the_mirror_the_order_the_doubled_line_and_the_room_are_mirrored(from_deg):
    here = in_wind(8.0, math.radians(from_deg))
    there = SLOPE["mirrored"](here)
    one, other = left(here), left(there)
    swapped = {"port": "sb", "sb": "port"}
    assert [swapped[name] for name in names(one)] == names(other)
    assert one.this_hour.feasible == other.this_hour.feasible
    assert one.this_hour.room_m == pytest.approx(other.this_hour.room_m, abs=0.05)
    assert one.out.clear_m == other.out.clear_m


def test_with_no_wind_any_order_will_do_and_that_is_said():
    found = left(in_wind(0.2, 1.0))
    assert found.this_hour.any_order
    assert found.this_hour.feasible == "yes"
    assert all(step.pull_n < 100.0 and not step.loaded for step in found.this_hour.order)


def test_the_set_of_all_lines_is_the_stay_as_it_was_judged():
    stay = in_wind(9.0, 1.2)
    judged = judge(stay)
    found = untied(question_of(stay, judged), AT)
    rest = judged.judgement.rest
    lain = [rest.east_m[0, 0], rest.north_m[0, 0]]
    # a fiftieth of a millimetre: both come to the same balance from where they begin
    assert found.q[found.every, 0, 0, :2] == pytest.approx(lain, abs=2e-5)
    loads = {part.name: part.load_n[0, 0] for part in judged.judgement.parts}
    for k, name in enumerate(found.names):
        assert found.pull_n[found.every, 0, 0, k] == pytest.approx(loads[name], rel=0.01, abs=1.0)


def test_a_slack_line_let_go_moves_nothing():
    stay = in_wind(9.0, math.radians(100.0))
    found = untied(question_of(stay, judge(stay)), AT)
    slack = int(np.argmin(found.pull_n[3, 0, 0]))
    assert found.pull_n[3, 0, 0, slack] == 0.0
    np.testing.assert_array_equal(found.q[3 & ~(1 << slack)], found.q[3])


def test_orders_sought_within_the_limits_alone_are_those_of_the_whole_search():
    stay = in_wind(9.0, math.radians(60.0))
    asked = question_of(stay, judge(stay))
    whole, within = untied(asked, AT), untied(asked, AT, within=True)
    done = within.done[:, 0]
    np.testing.assert_array_equal(within.share[done], whole.share[done])
    np.testing.assert_array_equal(within.pull_n[done], whole.pull_n[done])


def test_a_shorter_chain_keeps_her_nearer_to_her_anchor():
    stay = in_wind(12.0, math.radians(350.0))
    found = shortened(question_of(stay, judge(stay)), AT, (60.0, 45.0, 30.0))
    roller = found.q[:, 0, 0, :2] + 6.0 * np.stack(
        [np.sin(found.q[:, 0, 0, 2]), np.cos(found.q[:, 0, 0, 2])], axis=-1
    )
    off_m = np.hypot(roller[:, 0], roller[:, 1] + 72.0)
    assert (np.diff(off_m) < -5.0).all()
    # never farther than the chain is long, and head to the wind
    assert (off_m <= found.reach_m[:, 0, 0] + 0.01).all()
    assert np.cos(found.q[:, 0, 0, 2] - math.radians(350.0)) == pytest.approx(1.0, abs=0.01)


def test_blown_off_by_nothing_in_a_calm_and_farther_the_harder_and_the_longer():
    stay = in_wind(5.0, 0.0)
    judged = judge(stay)
    gusts = np.array([0.0, 5.0, 10.0, 20.0])
    soon, late = (blown_m(stay, judged, gusts, lasts_s) for lasts_s in (8.0, 16.0))
    assert soon[0] == late[0] == 0.0
    assert (np.diff(soon) > 0.0).all()
    assert (late[1:] > 2.0 * soon[1:]).all()


def test_out_of_the_wind_she_gets_away_the_same_to_either_side():
    stay = in_wind(5.0, 0.0)
    away = getting_away(stay, judge(stay))
    wind = np.array([9.0])
    right, left_ = (away.places(wind, np.array([side * 0.8])) for side in (1.0, -1.0))
    np.testing.assert_array_equal(right * [1.0, -1.0, -1.0], left_)
    assert away.held_mps(np.array([0.8])) == away.held_mps(np.array([-0.8]))
    # blown out over her stern she is never kept in
    assert away.held_mps(np.array([math.pi]))[0] > 50.0


def test_a_way_that_goes_sideways_is_no_way_out():
    seconds = np.arange(61.0)
    out = np.stack([0.8 * seconds, 0.1 * seconds, 0.0 * seconds], axis=-1)
    assert is_on_her_way(out)
    assert not is_on_her_way(out[:, [1, 0, 2]])
    assert not is_on_her_way(0.5 * out)


def test_without_an_engine_whether_she_can_leave_is_unknown():
    stay = in_wind(5.0, 1.0)
    found = left(replace(stay, boat=replace(stay.boat, engine=None)))
    assert found.this_hour.feasible == "unknown"
    assert "engine" in {why.of for why in found.this_hour.why}
    assert math.isnan(
        held_of(replace(stay, boat=replace(stay.boat, engine=None)), judge(stay)).ahead_n
    )


def test_where_wind_or_water_is_unknown_so_is_leaving():
    stay = in_wind(math.nan, 1.0)
    assert left(stay).this_hour.feasible == "unknown"
    stay = in_wind(5.0, 1.0)
    short = replace(stay.water, time_utc=stay.water.time_utc[:3], height_m=stay.water.height_m[:3])
    stay = replace(stay, water=short)
    found = leaving(stay, judge(stay), 24)
    assert found.this_hour.feasible == "unknown"
    assert found.possible_until_utc is None


def test_what_begins_in_light_and_ends_in_the_dark_begins_too_late():
    dusk = datetime(2026, 6, 24, 21, 0, tzinfo=UTC)
    night = ((dusk, dusk + timedelta(hours=7)),)
    later = ((dusk + timedelta(minutes=40), dusk + timedelta(hours=6)),)
    light = Light(night, later)
    minutes = [timedelta(minutes=each) for each in range(60)]

    def dark(begun, untied_after, clear_after):
        return light.too_dark(begun, begun + minutes[untied_after], begun + minutes[clear_after])

    assert not dark(dusk - minutes[20], 20, 50)  # lines off at dusk, clear before it is night
    assert dark(dusk - minutes[20], 21, 50)  # the last line in the dark
    assert dark(dusk - minutes[5], 5, 46)  # the way out in the night
    assert not dark(dusk + timedelta(hours=7), 10, 30)


def test_lifted_slack_another_chain_weighs_twice_its_plumb_length():
    # 10 mm chain by the table used here 19.6 N/m under water; both sides hang 12 m
    slack = hung_n(0.010, 12.0, 0.0)
    assert slack == pytest.approx(2.0 * 19.6 * 12.0, rel=0.03)
    assert hung_n(0.010, 24.0, 0.0) == pytest.approx(2.0 * slack, rel=0.02)


def test_a_thinner_chain_and_a_calm_hang_less():
    stay = in_wind(10.0, 1.0)
    found: CrossedChain = crossed_chain(stay, judge(stay), 0)
    thin, thick = found.chains
    assert thin.slack_n < thick.slack_n < thick.riding_n
    assert thick.each_n == pytest.approx(0.5 * thick.riding_n)
    calm = crossed_chain(in_wind(0.1, 1.0), judge(in_wind(0.1, 1.0)), 0)
    assert calm.chains[1].riding_n == pytest.approx(calm.chains[1].slack_n, rel=0.02)


def test_twice_the_chain_takes_twice_as_long():
    assert heave_s(60.0, 0.25) == 2.0 * heave_s(30.0, 0.25)
    assert heave_s(-3.0, 0.25) == 0.0
