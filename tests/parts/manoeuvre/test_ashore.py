"""The lines of the demonstration's lies on their way ashore, and what stands against it."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest

import shorefast
from shorefast.boat import Tender
from shorefast.manoeuvre import EVENTS, Sequence, ashore, step
from shorefast.readers import read_stay
from shorefast.stay import Person, judge

DEMO = Path(shorefast.__file__).parent / "demo"
ON_DECK = Tender(2.9, 1.5, 0.3, 0.0, 0.0, on_deck=True)
FOUR = (
    Person("A", ("helm",)),
    Person("B", ("bow",)),
    Person("C", ("line",)),
    Person("D", ("rower", "swimmer")),
)


def _judged(name):
    """A stay of the demonstration, its first hour judged: the lines go ashore then."""
    stay = read_stay(DEMO / f"{name}.toml")
    stay = replace(stay, until_utc=stay.from_utc + timedelta(hours=1))
    return stay, judge(stay)


@pytest.fixture(scope="module")
def notch():
    return _judged("grey_notch/stay")


@pytest.fixture(scope="module")
def spur():
    return _judged("stone_spur/stay_k_day")


@pytest.fixture(scope="module")
def sombras():
    return _judged("tres_sombras/stay")


def with_tender(stay, people=FOUR):
    return replace(stay, boat=replace(stay.boat, tender=ON_DECK), people=people)


# SCENARIOS, F.3: "then stern-north, stern-south, bow-north, bow-south, then the second legs
# north before south". The gusts come from the gully north-west, over the ridge and the valley.
def test_the_four_corners_go_in_the_order_the_scenario_has(sombras):
    found = ashore(*sombras)
    assert [(line.line, line.second_leg) for line in found.lines] == [
        ("stern-north", False), ("stern-south", False), ("bow-north", False),
        ("bow-south", False), ("stern-north", True), ("bow-north", True), ("bow-south", True),
    ]  # fmt: skip
    assert [line.weather for line in found.lines] == [True, *[False] * 6]
    assert (found.by, found.temperature_rule) == ("row", "cold")
    assert (found.crew.who("rower"), found.tends) == ("Runa", "Isandro")
    assert found.tender is not None
    assert found.tender.lift


# At half past five the wind is from 157, on her starboard side with the bow to 024.
def test_in_the_notch_the_starboard_stern_line_goes_first(notch):
    found = ashore(*notch)
    assert found.lines[0].line == "starboard stern line"
    assert found.lines[0].weather
    # with the other alone she would go onto the west shore: its bed is 2 m nearer than wanted
    port = next(one for one in found.alone if one.line == 0)
    assert (port.share_short, port.of) == (1.0, "water under the rudder")
    assert port.to_spare_m < -1.0
    assert [line.line for line in found.lines[2:]] == ["breast line", "second breast line"]
    assert found.lines[3].second_leg


def test_distances_are_what_the_lines_of_the_lie_are_long(spur):
    # held where she lies the lines of 20.2 m are taut or a little slack
    for line in ashore(*spur).lines:
        assert line.distance_m == pytest.approx(20.2, abs=2.5)


def test_cold_water_and_no_tender_carry_no_line(notch):
    stay, judged = notch
    found = ashore(replace(stay, boat=replace(stay.boat, tender=None)), judged)
    assert (found.by, found.why) == ("nobody", "cold and no tender")
    assert all(math.isnan(line.swim_s) and math.isnan(line.row_s) for line in found.lines)
    assert found.steps[-1].does == "keep the lines aboard"
    assert found.steps[-1].locked
    assert "go to the ladder" not in [one.does for one in found.steps]


@pytest.mark.parametrize(
    ("water_k", "rule"),
    [(None, "unknown"), (288.1, "cold"), (288.15, "warm"), (math.nan, "unknown")],
)
def test_fifteen_degrees_part_cold_from_warm_and_unknown_is_taken_as_cold(spur, water_k, rule):
    stay, judged = spur
    found = ashore(replace(stay, water_k=water_k), judged)
    assert found.temperature_rule == rule
    assert found.by == ("swim" if rule == "warm" else "nobody")
    assert found.why == {"warm": "warm water"}.get(rule, f"{rule} and no tender")


def test_in_cold_water_the_tender_goes_with_a_lifejacket(notch):
    stay, judged = notch
    found = ashore(with_tender(stay), judged)
    assert (found.by, found.why) == ("row", "tender")
    assert "put on a lifejacket" in [one.does for one in found.steps]
    assert all(line.row_s > 180.0 and math.isnan(line.swim_s) for line in found.lines)


def test_in_warm_water_whichever_is_quicker_goes(spur):
    stay, judged = spur
    found = ashore(with_tender(stay), judged)
    rowed, swum = (sum(getattr(one, key) for one in found.lines) for key in ("row_s", "swim_s"))
    assert found.why == "quicker"
    assert found.by == ("row" if rowed < swum else "swim")


def test_all_lines_take_their_times_and_the_ways_back(spur):
    found = ashore(*spur)
    # by hand: the ways back at 0.6 m/s
    back_s = sum(line.distance_m for line in found.lines) / 0.6
    assert found.takes_s == pytest.approx(sum(line.swim_s for line in found.lines) + back_s)


@pytest.mark.parametrize(
    ("water_k", "tender", "why"),
    [
        (279.15, True, "nobody to row"),
        (297.15, False, "nobody to swim"),
        (297.15, True, "nobody to row or swim"),
        (None, True, "nobody to row"),
    ],
)
def test_where_nobody_can_carry_it_that_is_the_answer(spur, water_k, tender, why):
    stay, judged = spur
    stay = with_tender(stay, FOUR[:3])
    boat = stay.boat if tender else replace(stay.boat, tender=None)
    found = ashore(replace(stay, boat=boat, water_k=water_k), judged)
    assert (found.by, found.why) == ("nobody", why)


def test_a_line_that_is_too_short_is_a_result_with_another_to_take(spur):
    stay, judged = spur
    short, long = stay.boat.lines
    # what the port line needs is some 26 m: 24 is too short, and a spare line would do
    lines = (replace(short, length_m=24.0), long, replace(long, name="spare", length_m=40.0))
    legs = tuple(
        replace(leg, line=lines[0]) if leg.line.name == short.name else leg
        for leg in judged.rigged.legs
    )
    judged = replace(judged, rigged=replace(judged.rigged, legs=legs))
    found = ashore(replace(stay, boat=replace(stay.boat, lines=lines)), judged)
    port = next(line for line in found.lines if line.line == short.name)
    assert port.spare_m == pytest.approx(24.0 - port.flaked.need_m)
    assert port.spare_m < 0.0
    assert port.instead == "spare"
    assert port.flake_m == port.flaked.need_m


def test_a_reserve_there_is_no_line_for_is_left_out_of_the_number(notch):
    lines = ashore(*notch).lines
    breast = lines[3]
    # 60 m aboard: no more can be flaked
    assert breast.flake_m == pytest.approx(60.0)
    assert 0.0 < breast.spare_m < breast.flaked.reserve_m
    assert breast.left_m == pytest.approx(0.0, abs=1e-9)


def test_both_legs_of_one_line_share_what_is_aboard(sombras):
    lines = ashore(*sombras).lines
    north = [line for line in lines if line.line == "bow-north"]
    assert north[0].spare_m == north[1].spare_m
    assert sum(one.flaked.need_m for one in north) + north[0].spare_m == pytest.approx(110.0)
    assert sum(one.flake_m for one in north) <= 110.0
    # once both are flaked, what stays aboard is told alike and makes up the line
    assert north[0].left_m == north[1].left_m >= 0.0
    assert sum(one.flake_m for one in north) + north[0].left_m == pytest.approx(110.0)


def test_unknown_water_leaves_the_number_to_flake_unknown(spur):
    stay, judged = spur
    answer = judged.judgement
    dark = replace(answer, water_level_m=np.full_like(answer.water_level_m, np.nan))
    found = ashore(stay, replace(judged, judgement=dark))
    assert all(math.isnan(line.flake_m) for line in found.lines)
    assert "unknown: the water level is unknown then" in [one.said for one in found.basis.findings]


def test_a_lie_without_lines_has_none_to_carry(spur):
    stay, _ = spur
    stay = replace(stay, lie=replace(stay.lie, lines=()))
    found = ashore(stay, judge(stay))
    assert (found.lines, found.by, found.why) == ((), "nobody", "no line")


# The steps of every kind of crew are gone through on the machine that locks the engine.
CREWS = {
    "four": FOUR,
    "three": (FOUR[0], FOUR[1], FOUR[3]),
    "two": (FOUR[0], Person("D", ("rower", "swimmer", "bow"))),
    "untold": (),
}


@pytest.mark.parametrize("crew", CREWS)
@pytest.mark.parametrize("tender", [True, False])
def test_the_steps_in_their_order_pass_the_lock_and_none_waits_for_a_later_one(spur, crew, tender):
    stay, judged = spur
    stay = with_tender(stay, CREWS[crew])
    if not tender:
        stay = replace(stay, boat=replace(stay.boat, tender=None))
    found = ashore(stay, judged)
    assert found.by in ("row", "swim")
    state, done = Sequence(), []
    for one in found.steps:
        assert one.waits_for is None or one.waits_for in done
        if one.does in EVENTS:
            state, waits_for = step(state, one.does)
            assert waits_for == (), one
        done.append(one.does)
    assert (state.hand, state.line) == ("aboard", "fast")
    assert [one.number for one in found.steps] == list(range(1, len(found.steps) + 1))


def test_every_locked_step_taken_first_is_kept_back(spur):
    for one in ashore(*spur).steps:
        if one.locked and one.does in EVENTS:
            assert step(Sequence(), one.does).waits_for, one


def test_where_the_helm_tends_the_line_the_engine_stays_stopped(spur):
    stay, judged = spur
    found = ashore(replace(stay, people=CREWS["two"]), judged)
    does = [one.does for one in found.steps]
    assert "start the engine" not in does
    assert does.count("stop the engine") == 1
    assert found.tends == "A"


def test_the_helm_goes_to_one_who_is_told_for_it_else_to_the_bow(spur):
    stay, judged = spur
    assert ashore(replace(stay, people=FOUR), judged).handover.to_person == "B"
    spare = (*FOUR, Person("E", ("helm", "guest")))
    assert ashore(replace(stay, people=spare), judged).handover.to_person == "E"
    assert ashore(replace(stay, people=FOUR[:1]), judged).handover is None
