"""Odd stays: a forecast that ends, shore nobody knows, one member, a neighbour's chain."""

from __future__ import annotations

import importlib
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from shorefast.stay import Stay, choose
from shorefast.stay.choose_answer import Choice, Finalist
from shorefast.stay.choose_final import finalist, ranked
from shorefast.stay.choose_rules import Rules
from shorefast.stay.choose_search import LOST, Hunt
from shorefast.wording import choice_words


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
