"""If one goes: what is unknown is told so, and the soonest touch is the soonest."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from shorefast.mooring import FOUND
from shorefast.stay import Judged, Stay, if_one_goes, judge, losses
from shorefast.stay.without import question_of
from shorefast.stay.without_double import which_to_double
from shorefast.stay.without_drift import Pace, ways
from shorefast.stay.without_next import next_rests
from shorefast.stay.without_things import things_of
from shorefast.wording import double_words, loss_words, night_words


@pytest.fixture(scope="module")
def notch(cut) -> tuple[Stay, Judged]:
    """The notch without its breast lines: what goes there brings her onto the stones."""
    stay = cut("grey_notch/stay_d", 4)
    return stay, judge(stay)


def with_answer(judged: Judged, **changed: object) -> Judged:
    return replace(judged, judgement=replace(judged.judgement, **changed))


def test_no_hour_of_any_member_brings_her_ashore_sooner_than_is_told(notch):
    """Every state followed by itself: a second is what steps and telling leave open."""
    stay, judged = notch
    asked = question_of(stay, judged)
    rows = if_one_goes(stay, judged)
    for thing, row in zip(things_of(judged.rigged), rows, strict=True):
        found = next_rests(asked.waters, asked.states, thing.lines, asked.partings)
        pace = Pace(0.1, 0.5, 60.0)
        every = ways(stay, asked.waters, asked.states, found.active, pace).seconds
        assert np.isfinite(every).any()
        assert row.seconds_to_contact <= np.nanmin(every) + 1.0
        # a state of them is what is told
        assert row.seconds_to_contact >= np.nanmin(every) - 0.5


def test_the_sea_of_the_hour_is_taken_off_on_the_way_too(notch):
    stay, judged = notch
    asked = question_of(stay, judged)
    some = asked.states.some(np.arange(3))
    active = np.ones((3, 3))
    # every line set and hardly a metre of swell: nothing touches; ten metres and she does at once
    assert np.isnan(ways(stay, asked.waters, some, active, Pace(lasts_s=5.0)).seconds).all()
    deep = some._replace(down_m=np.full(3, 10.0))
    assert (ways(stay, asked.waters, deep, active, Pace(lasts_s=5.0)).seconds == 0.0).all()


def test_where_the_near_tables_end_she_is_followed_on(k_day, k_judged):
    """To her chain alone, the wind turned about: she goes by her anchor and lies beyond it."""
    asked = question_of(k_day, k_judged)
    path = asked.states.path
    turned = path._replace(
        from_rad=np.full_like(path.from_rad, math.radians(135.0)),
        wind_mps=np.full_like(path.wind_mps, 12.0),
    )
    states = asked.states._replace(path=turned).some(np.arange(2))
    active = np.zeros((2, 3))
    active[:, 0] = 1.0
    far = asked.waters.rests(states, states.q, active)
    assert (far.code == FOUND).all()
    near = asked.waters.ready.boat.space
    assert (far.q[:, 1] > near.north_m).all() or (far.q[:, 0] < near.west_m).all()
    way = ways(k_day, asked.waters, states, active)
    # swung right round she pulls on her chain as hard as at that rest, and harder
    assert (way.peak_n[:, 0] >= far.line[:, 0, 2]).all()


def test_a_member_unknown_at_an_hour_is_a_share_of_which_it_is_unknown(notch):
    stay, judged = notch
    gust = judged.judgement.gust_mps.copy()
    gust[1, 5] = math.nan
    rows = if_one_goes(stay, with_answer(judged, gust_mps=gust))
    assert [row.share_unknown for row in rows] == [1 / 4] * len(rows)
    assert all("in some hours unknown" in loss_words(stay, row) for row in rows)


def test_a_state_in_which_it_is_not_known_how_she_lies_holds_nothing(notch):
    """The mildest hour without a rest: no gust is told to hold that is not known to."""
    stay, judged = notch
    answer = judged.judgement
    least = np.unravel_index(np.argmin(answer.gust_mps), answer.gust_mps.shape)
    east = answer.rest.east_m.copy()
    east[least] = math.nan
    lost = with_answer(judged, rest=replace(answer.rest, east_m=east))
    for row in if_one_goes(stay, lost):
        assert row.share_unknown == 1 / 4
        assert row.holds_to_mps is None
        # the worst of the hours that are known is told all the same
        assert row.found


def test_wind_and_water_never_known_together_leave_all_of_it_unknown(notch):
    stay, judged = notch
    gust, level = judged.judgement.gust_mps.copy(), judged.judgement.water_level_m.copy()
    gust[:, ::2], level[:, 1::2] = math.nan, math.nan
    never = with_answer(judged, gust_mps=gust, water_level_m=level)
    rows = if_one_goes(stay, never)
    assert not any(row.found for row in rows)
    assert all(row.share_unknown == 1.0 and row.holds_to_mps is None for row in rows)
    assert all(math.isnan(row.seconds_to_contact) for row in rows)
    assert night_words(stay, rows).endswith("where she ends up is unknown.")


def test_an_anchor_nobody_can_rate_is_unknown_while_it_is_there_and_nothing_once_it_is_gone(
    k_day, k_judged
):
    unrated = replace(k_judged.ground.prior, rated=False, median_n=math.nan)
    ground = replace(k_judged.ground, prior=unrated, proven=None)
    rows = {row.name: row for row in if_one_goes(k_day, replace(k_judged, ground=ground))}
    kept = rows.pop("anchor")
    assert kept.share_unknown == 0.0
    for row in rows.values():
        assert row.share_unknown == 1.0
        assert row.holds_to_mps is None
    double = losses(k_day, replace(k_judged, ground=ground)).double
    assert double.plain.unknown


def test_a_stay_to_the_anchor_alone_has_one_loss_and_no_line_to_double(k_day):
    stay = replace(k_day, lie=replace(k_day.lie, lines=()))
    judged = judge(stay)
    found = losses(stay, judged)
    assert [row.name for row in found.without] == ["anchor"]
    assert found.without[0].also == ("chain",)
    assert found.without[0].adrift
    assert found.double is None
    assert double_words(None) == ""


def test_which_line_to_double_and_how_bad_its_loss_stays_hold_in_every_hour(notch):
    """The same question put to every state at once, not to the worst of them alone."""
    stay, judged = notch
    some = losses(stay, judged).double
    asked = question_of(stay, judged)
    every = which_to_double(stay, judged, asked.states, np.arange(asked.states.q.shape[0]))
    assert some.best == every.best
    assert some.plain == every.plain


def test_a_line_doubled_in_the_lie_itself_bears_out_what_doubling_it_was_told_to_do(notch):
    """The advice followed: a second line to a point beside the first, judged as any lie is."""
    stay, judged = notch
    told = losses(stay, judged).double.best
    leg = next(leg for leg in judged.rigged.legs if leg.name == told.name)
    line = replace(leg.line, name="second of it")
    point = replace(leg.point, name="rock beside it")
    lie = replace(
        stay.lie,
        lines=(*stay.lie.lines, replace(leg.plan, line=line.name, point=point.name)),
    )
    bay = replace(stay.bay, points=(*stay.bay.points, point))
    boat = replace(stay.boat, lines=(*stay.boat.lines, line))
    done = replace(stay, lie=lie, bay=bay, boat=boat)
    rows = {row.name: row for row in if_one_goes(done, judge(done))}
    row = rows[leg.name]
    assert not row.follows
    assert row.least_room_m > 0.0
    worst = dict(zip(told.gone, told.worst, strict=True))
    # tables made anew: a hundredth of a use is ten times what they differ by
    assert row.next_use == pytest.approx(worst[leg.name], abs=0.01)
    # the cleat takes both with it, as before
    assert rows[f"{leg.cleat.name} cleat"].least_room_m <= 0.0


def test_a_second_line_comes_of_a_rope_like_it_before_its_own_other_end(notch):
    stay, judged = notch
    told = {one.name: one for one in losses(stay, judged).double.tried}
    boat = {line.name: line for line in stay.boat.lines}
    for leg in judged.rigged.legs:
        spare = told[leg.name].from_line
        assert spare != leg.line.name
        assert boat[spare].fibre == leg.line.fibre
        assert told[leg.name].alike
