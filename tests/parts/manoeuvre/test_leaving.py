"""Leaving the demonstration's berths, and the pieces it is put together from."""

from __future__ import annotations

import json
import math
import runpy
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from shorefast.app.answer import Answer, to_json
from shorefast.app.answers.leave import leave_keys
from shorefast.boat import LongLine
from shorefast.errors import OutsideModel
from shorefast.manoeuvre import Leaving, leaving
from shorefast.manoeuvre.clear_way import leads_out
from shorefast.manoeuvre.leaving_hands import hands_of, let_go_by
from shorefast.manoeuvre.leaving_heave import heaving
from shorefast.manoeuvre.leaving_slip import doubled_back
from shorefast.stay import judge, question_of, slack_m, untied
from shorefast.wording import beside_judge_words, doubled_back_words, feasible_words, order_rows

LAWS = runpy.run_path(str(Path(__file__).parents[2] / "laws" / "test_leaving_laws.py"))
# so few members that a test is quick, and enough for a share
FEW = 9


def at(judged, clock: str) -> int:
    """The judged time at a clock of UTC."""
    return int(np.searchsorted(judged.judgement.time_utc, np.datetime64(clock)))


@pytest.fixture(scope="module")
def notch(cut) -> tuple:
    stay = cut("grey_notch/stay", FEW)
    return stay, judge(stay)


@pytest.fixture(scope="module")
def evening(notch) -> Leaving:
    return leaving(*notch, at(notch[1], "2026-06-24T23:00"))


@pytest.fixture(scope="module")
def spur(cut) -> tuple:
    stay = cut("stone_spur/stay", FEW)
    return stay, judge(stay)


def feasible_at(found: Leaving, clock: str) -> str:
    return next(one.feasible for one in found.hours if f"{one.at_utc:%dT%H:%M}" == clock)


# The places of the demonstration are two hours behind UTC, the last one eight.
def test_the_notch_can_be_left_at_nine_in_the_evening_and_not_after_eleven(evening):
    assert evening.this_hour.feasible == "yes"
    assert feasible_at(evening, "24T23:00") == "yes"
    for clock in ("25T01:00", "25T02:00", "25T05:00"):
        assert feasible_at(evening, clock) == "no"
    assert evening.possible_until_utc == evening.this_hour.at_utc


def test_in_the_notch_the_weather_line_goes_last_and_nothing_that_pulls_before_it(evening):
    order = [step.name for step in evening.this_hour.order]
    # the wind is from the south: the starboard stern line is the weather one
    assert order[-1] == "starboard stern line to notch rock"
    pulls = [step.pull_n for step in evening.this_hour.order]
    assert max(pulls[:-1]) < 300.0 < pulls[-1]
    assert evening.this_hour.order[-1].how == "slip"


def test_the_spur_is_left_before_the_fall_wind_and_not_at_night(spur):
    found = leaving(*spur, at(spur[1], "2026-07-22T20:30"))
    assert found.this_hour.feasible == "yes"
    assert feasible_at(found, "22T20:30") == "yes"
    assert feasible_at(found, "22T22:30") == "no"
    assert feasible_at(found, "22T23:00") == "no"
    assert found.first_light is not None
    assert found.first_light.feasible == "yes"


def test_the_neighbour_is_among_what_she_has_to_keep_off(spur):
    found = leaving(*spur, at(spur[1], "2026-07-22T20:30"))
    assert found.this_hour.room_of == "hull to Teal Wake"
    assert found.this_hour.room_m > 3.0


def test_the_caleta_is_left_in_a_lull_alone_with_the_slack_hove_in_and_the_north_side_last(cut):
    # five gusts a member
    stay = cut("tres_sombras/stay", 25)
    judged = judge(stay)
    found = leaving(stay, judged, at(judged, "2026-04-26T20:00"))
    assert found.this_hour.feasible == "no"
    assert found.this_hour.in_a_lull == "yes"
    assert 4.5 <= found.this_hour.hove_m <= 6.0
    sides = [step.name.split(" to ")[0].split("-")[1] for step in found.this_hour.order]
    assert sides == ["south"] * 3 + ["north"] * 4
    night = [one for one in found.hours if one.at_utc.hour in range(2, 13)]
    assert {one.feasible for one in night} == {"no"}
    assert found.in_an_hour is None
    assert found.swing.needs_engine


def test_slack_is_what_is_out_beyond_the_straight_way(cut):
    stay = cut("tres_sombras/stay", 5)
    asked = question_of(stay, judge(stay))
    # SCENARIOS tells a straight reach of 79.5 to 79.9 m of the 85 m veered
    assert slack_m(asked, 60) == pytest.approx(85.0 - 79.7, abs=0.3)


def test_what_stands_against_it_is_told_with_share_and_part(notch):
    found = leaving(*notch, at(notch[1], "2026-06-25T07:00"))
    assert [why.reason for why in found.this_hour.why][:1] == ["not held"]
    said = feasible_words(notch[0], found.this_hour)
    assert said.startswith("Do not leave at 05:00, in gusts of ")
    assert "more than the engine holds her against in" in said


def test_more_than_eight_lines_is_a_question_too_long(notch):
    stay, judged = notch
    legs = judged.rigged.legs * 3
    many = replace(judged, rigged=replace(judged.rigged, legs=legs))
    with pytest.raises(OutsideModel) as told:
        untied(question_of(stay, many), np.array([0]))
    assert told.value.sentence == (
        "Letting go: 12 lines ashore, every set of up to 8 is tried."
        " Take lines to one point as one, doubled."
    )


def test_a_line_doubled_back_needs_twice_its_way_and_three_metres_for_either_end(notch):
    stay, judged = notch
    hands = hands_of(stay, judged)
    found = doubled_back(stay, judged, 0, hands, 0.0)
    assert (found.needs_m, found.aboard_m) == (2 * 23.0 + 6.0, 60.0)
    assert found.enough
    assert found.ease_m == pytest.approx(30.0 - 3.0 - 23.0)
    breast = doubled_back(stay, judged, 2, hands, 0.2)
    assert breast.needs_m == 84.0
    assert not breast.enough
    assert breast.instead is None
    assert breast.beside
    assert doubled_back_words(breast) == (
        "The breast line goes last: double it back before the first line goes; out and back takes"
        " 84 m, it has 60 m: no rope aboard is long enough. Do not take it off for that: lead"
        " another rope round the point first."
    )


def test_a_longer_rope_aboard_is_named_where_the_line_is_too_short(notch):
    stay, judged = notch
    spare = LongLine("long warp", "polypropylene", 0.016, 100.0)
    more = replace(stay, boat=replace(stay.boat, lines=(*stay.boat.lines, spare)))
    assert doubled_back(more, judged, 2, hands_of(more, judged), 0.0).instead == "long warp"


def test_by_tender_each_line_takes_the_row_there_and_back_and_two_minutes(notch):
    stay, judged = notch
    hands = hands_of(stay, judged)
    assert (hands.by, hands.mps) == ("row", 1.0)
    gone = let_go_by(hands, judged.rigged.legs, (2, 3, 0, 1))
    # 39 m: 78 s and 120; before that the last is doubled back, 23 m: 46 s and 120
    assert gone[0].takes_s == pytest.approx(78.0 + 120.0 + 46.0 + 120.0)
    assert [one.how for one in gone] == ["from ashore"] * 3 + ["slip"]
    # 46 m of line hauled at half a metre a second
    assert gone[-1].takes_s == pytest.approx(92.0)


def test_where_nobody_can_go_ashore_the_lines_are_cast_off_and_stay_behind(notch):
    stay, judged = notch
    bare = replace(stay, boat=replace(stay.boat, tender=None), water_k=280.0)
    hands = hands_of(bare, judged)
    assert (hands.by, hands.why) == ("nobody", "cold and no tender")
    gone = let_go_by(hands, judged.rigged.legs, (0, 1, 2, 3))
    assert {one.how for one in gone} == {"cast off"}
    assert sum(one.takes_s for one in gone) == 240.0


def test_a_windlass_nobody_timed_is_told_at_three_speeds_and_reckoned_with_the_slowest(notch):
    stay, _ = notch
    untimed = replace(stay.boat.windlass, heave_mps=None)
    found = heaving(replace(stay, boat=replace(stay.boat, windlass=untimed)), 64.0, 34.0)
    assert not found.known
    minutes = [lasts / 60.0 for _, lasts in found.by_speed_s]
    assert minutes == pytest.approx([3.0, 2.0, 1.5])
    assert found.up_s == pytest.approx(180.0 + 60.0)
    assert found.home_s == pytest.approx(34.0 * 6.0)


def test_the_way_out_leads_where_no_land_is_ahead(notch, spur):
    # the notch opens to the east and south-east, the cove behind the spur to the west
    east = leads_out(notch[0], 2.0)
    assert math.sin(east.bearing_rad) > 0.5
    assert east.clear_m > 100.0
    west = leads_out(spur[0], 0.2)
    assert math.sin(west.bearing_rad) < 0.0 < math.cos(west.bearing_rad)
    assert float(west.depth_m.min()) > 2.4


def test_the_drill_names_each_step_who_and_what_it_weighs(evening):
    drill = evening.crossed_drill
    assert [step.number for step in drill] == list(range(1, 10))
    assert drill[0].does == "stop heaving"
    assert {step.who for step in drill} == {"bow", "helm", "line"}
    heavy = next(step for step in drill if step.does == "heave till it hangs at the bow")
    assert heavy.load_n == max(one.heave_n for one in evening.crossed.chains)
    assert "hands on a chain under load" in evening.crossed.never


def test_cast_off_at_once_every_line_is_told_and_what_stays_behind(evening):
    assert len(evening.cut.lines) == 4
    assert all(line.stays for line in evening.cut.lines)
    assert evening.cut.takes_s == 60.0
    # 80 m aboard, 64 m out; the bed 27 m down, high water 4.7 m, 5 m to spare
    assert evening.cut.slip_chain_m == pytest.approx(16.0)
    assert evening.cut.buoy_line_m == pytest.approx(36.2, abs=0.7)


def test_judgement_and_leaving_are_told_side_by_side(notch, spur, evening):
    stay, judged = notch
    holds = replace(judged.judgement, verdict="holds", leave_by_utc=None)
    assert beside_judge_words(stay, evening, holds) == (
        "Lying on: she can lie here to the stay's end."
    )
    found = leaving(*spur, 0)
    said = beside_judge_words(spur[0], found, spur[1].judgement)
    assert said.startswith("Lying on: she has to leave by ")
    late = replace(found, at_leave_by="no")
    assert beside_judge_words(spur[0], late, spur[1].judgement).endswith(
        "By this reckoning that hour is already too late: go sooner."
    )


def test_a_line_that_pulls_is_eased_before_it_is_let_go(evening):
    rows = order_rows(evening.this_hour.order)
    assert "eased round its cleat till it is slack, then slipped from aboard" in rows[-1]
    assert "slack" in rows[2]


def test_the_keys_are_json_and_repeat_nothing_of_the_basis(notch, evening):
    stay, judged = notch
    keys = leave_keys(stay, evening, judged.judgement)
    told = json.loads(to_json(Answer("leave", keys, evening.basis, "")))
    assert list(told)[4:] == [
        "now", "in_an_hour", "first_light", "hours", "order", "doubled_back", "room", "drill",
        "cut", "possible_until_utc", "next_possible_utc", "judge",
    ]  # fmt: skip
    assert "basis" not in json.dumps({key: told[key] for key in list(told)[4:]})
    assert told["now"]["order"] == told["order"]
    assert told["room"]["out"]["bearing_rad"] == pytest.approx(evening.out.bearing_rad)


def test_the_same_question_has_the_same_answer_to_the_bit(notch, evening):
    again = leaving(*notch, at(notch[1], "2026-06-24T23:00"))
    for one, other in zip(evening.hours, again.hours, strict=True):
        assert repr(one) == repr(other)
    assert repr(again.swing) == repr(evening.swing)
    assert repr(again.cut) == repr(evening.cut)
