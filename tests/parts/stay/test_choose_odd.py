"""Odd stays: a forecast that ends, shore nobody knows, one member, a neighbour's chain."""

from __future__ import annotations

import importlib
import math
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from shapely.geometry import LineString, Point

from shorefast.stay import UNPROVEN, Stay, choose
from shorefast.stay.choose_answer import Choice, Finalist
from shorefast.stay.choose_final import finalist, ranked
from shorefast.stay.choose_rules import Rules
from shorefast.stay.choose_search import LOST, Hunt
from shorefast.stay.plan import Neighbour
from shorefast.wording import choice_words, finalist_words, help_words, lie_rows


@pytest.fixture(scope="module")
def given(k_day: Stay) -> Finalist:
    """Behind the spur by day till five, holding."""
    return finalist(replace(k_day, until_utc=k_day.from_utc + timedelta(hours=3)))


def chosen(first: Finalist) -> Choice:
    """A choice of one."""
    return Choice(first.stay, (first,), (), (), 0, 0, False, (), first.judged.judgement.basis)


def blown_out(stay: Stay, share: float) -> Stay:
    """From the afternoon, the wind so many times as hard, and nothing told after two hours."""
    begin = stay.from_utc + timedelta(hours=3)
    end = np.datetime64((begin + timedelta(hours=2)).replace(tzinfo=None))
    wind = stay.wind
    dark = wind.time_utc > end
    mps, gust = share * wind.wind_mps, share * wind.gust_mps
    mps[:, dark], gust[:, dark] = np.nan, np.nan
    until = begin + timedelta(hours=4)
    return replace(
        stay, from_utc=begin, until_utc=until, wind=replace(wind, wind_mps=mps, gust_mps=gust)
    )


def test_the_least_bad_lie_is_told_by_what_is_known_where_the_forecast_ends(k_day):
    hard, harder = (finalist(blown_out(k_day, share)) for share in (3.0, 3.6))
    for one in (hard, harder):
        assert one.judged.judgement.verdict == "no"
        assert 1.0 < one.use < LOST
        assert one.first_to_give is not None
        assert one.worst_utc <= one.stay.from_utc + timedelta(hours=2)
    # the same gear in more wind is asked for more
    assert hard.use < harder.use
    assert ranked([harder, hard])[0].use == hard.use


def test_the_search_too_ranks_by_what_is_known_where_the_forecast_ends(k_day):
    stay = blown_out(k_day, 3.0)
    one = finalist(stay).candidate
    hunt = Hunt(stay, Rules(stay))
    (score,) = hunt.scored([one], hunt.whole)
    assert score.until == stay.from_utc
    assert 1.0 < score.use < LOST


def test_where_the_rules_are_against_every_improved_lie_an_earlier_one_is_told(k_day, monkeypatch):
    # small changes lead her to the edge of a zone by the hours tried; judged by all hours
    # some chain lies in it
    stay = replace(k_day, lie=None, until_utc=k_day.from_utc + timedelta(hours=1))
    (meadow,) = (zone for zone in stay.bay.zones if zone.name == "grass meadow")
    within = meadow.shape.representative_point()
    module = importlib.import_module("shorefast.stay.choose")

    def led_too_far(hunt, found, tell):
        best = min(found, key=lambda score: score.order)
        far = replace(best.candidate.lie, let_go_east_m=within.x, let_go_north_m=within.y)
        return [replace(best, candidate=replace(best.candidate, lie=far))]

    monkeypatch.setattr(module, "_improved", led_too_far)
    choice = choose(stay)
    assert len(choice.finalists) == 1
    assert choice.finalists[0].against is None
    assert "No lie was found" not in choice_words(choice)
    why = "the anchor would be let go in the zone 'grass meadow'"
    assert dict(choice.dropped)[why] == 1


def beside(given: Finalist, over_m: float) -> Stay:
    """The stay with a neighbour's anchor chain led so far over hers, near her bow roller."""
    rest, lie = given.judged.judgement.rest, given.lie
    bow = math.radians(315.0)
    at = [float(np.nanmedian(one)) for one in (rest.east_m, rest.north_m)]
    roller = Point(at[0] + 5.9 * math.sin(bow), at[1] + 5.9 * math.cos(bow))
    hers = LineString([roller, (lie.let_go_east_m, lie.let_go_north_m)])
    cross = hers.interpolate(8.0)
    # her boat to the north-east of the crossing, heading north-east, her chain back over ours
    toward = math.radians(225.0)
    far_m = 30.0
    bow_m = (cross.x - far_m * math.sin(toward), cross.y - far_m * math.cos(toward))
    other = Neighbour(
        "Grey Teal", bow_m[0] + 4.5 * math.sin(bow + 1.57), bow_m[1] + 4.5 * math.cos(bow + 1.57),
        9.0, 3.0, toward, 0.0, far_m + over_m, toward,
    )  # fmt: skip
    return replace(given.stay, neighbours=(other,))


def test_a_lie_whose_chain_crosses_anothers_as_she_lies_is_left_out(given):
    # small changes have led her off the berth she was meant for, where nothing crosses
    meant = given.candidate.berth
    stale = replace(
        given.candidate,
        berth=replace(meant, east_m=meant.east_m - 40.0, north_m=meant.north_m - 40.0),
    )
    crossing, clear = beside(given, 4.0), beside(given, -15.0)
    assert Rules(crossing).of_chain(stale) is None
    found = finalist(crossing, stale)
    assert found.against == "as she lies the chain would cross Grey Teal's"
    hunt = Hunt(crossing, Rules(crossing))
    (score,) = hunt.scored([stale], hunt.coarse)
    assert hunt.speaks_against(score) == found.against
    assert finalist(clear, stale).against is None


def test_a_best_lie_on_unproven_shore_is_told_so_in_the_sentence_and_where_it_is(given):
    (ring,) = (point for point in given.stay.bay.points if point.name == "spur ring south")
    place = replace(ring, kind=UNPROVEN)
    one = replace(given, unproven=True)
    assert "Nobody knows of anything to make fast to there" in choice_words(chosen(one))
    assert "Nobody knows" not in choice_words(chosen(given))
    (row,) = (row for row in lie_rows(one.lie, [place]) if "spur ring south" in row)
    assert "at -6.4 m east, -7.8 m north" in row
    assert "m north" not in lie_rows(one.lie)[1]


def test_the_words_that_nothing_helps_say_at_what(given):
    assert help_words(chosen(given)) == [
        "no change that zones, room and proof allow (a line more, one doubled or led elsewhere,"
        " chain, farther off or nearer in) lessens the use of its worst hour or lets her lie"
        " longer"
    ]


def test_a_forecast_of_one_member_has_no_bad_member(given):
    wind = given.stay.wind
    alone = replace(
        wind, member=wind.member[:1], wind_mps=wind.wind_mps[:1],
        wind_from_rad=wind.wind_from_rad[:1], gust_mps=wind.gust_mps[:1],
    )  # fmt: skip
    one = finalist(replace(given.stay, wind=alone))
    assert not any("bad member" in said for said in finalist_words(one.stay, one))
    assert any("bad member" in said for said in finalist_words(given.stay, given))


def test_with_no_line_aboard_no_line_is_called_too_short(k_day):
    choice = choose(replace(k_day, lie=None, boat=replace(k_day.boat, lines=())))
    said = [why for why, _ in choice.dropped]
    assert "there is no line aboard for the stern" in said
    assert not any("too short" in why for why in said)
