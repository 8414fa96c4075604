"""Her response to gusts: never below the steady gust, none in a steady wind, unknown is unknown."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from shorefast.readers import read_stay
from shorefast.stay import PartResponse, gust_response, judge

DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"


@pytest.fixture(scope="module")
def response(k_day, k_judged):
    return gust_response(k_day, k_judged, records=4)


def by_name(response):
    return {one.name: one for one in response.parts}


def test_every_use_is_at_least_that_in_the_gust_as_if_steady(k_judged, response):
    before = k_judged.judgement.greatest_use
    assert (response.greatest_use >= before - 1e-12).all()
    shares = k_judged.judgement.share_past_limit, response.share_past_limit
    assert (shares[1] >= shares[0]).all()


def test_a_parts_steady_use_is_its_worst_of_the_judgement(k_judged, response):
    for part in k_judged.judgement.parts:
        if np.isfinite(part.use).any():
            one = by_name(response)[part.name]
            assert one.at == np.unravel_index(np.nanargmax(part.use), part.use.shape)
            # tables followed from another hour: the last millimetre may differ
            assert one.steady_use == pytest.approx(float(np.nanmax(part.use)), rel=2e-3, abs=1e-3)


def test_her_anchor_behind_the_spur_is_asked_more_in_time_than_by_the_steady_gust(response):
    anchor = by_name(response)["anchor"]
    assert anchor.low <= anchor.ratio <= anchor.high
    # an undamped spring under a load that comes at once is stretched twice; turning winds
    # take the anchor's share up with it
    assert 1.0 < anchor.ratio < 2.5
    assert 1.0 < anchor.squall_ratio < 2.5


def test_in_a_wind_that_does_not_gust_there_is_no_response(k_day):
    steady = replace(k_day, wind=replace(k_day.wind, gust_mps=k_day.wind.wind_mps))
    judged = judge(steady)
    told = gust_response(steady, judged, records=2)
    for one in told.parts:
        # she lies still in it: the peak is the use itself
        assert one.peak_use == pytest.approx(one.steady_use, rel=2e-3, abs=1e-3)
    assert told.greatest_use == pytest.approx(judged.judgement.greatest_use, rel=2e-3)
    assert told.verdict == judged.judgement.verdict


def test_the_same_seed_gives_the_same_to_the_bit_and_progress_is_told(k_day, k_judged, response):
    seen = []
    again = gust_response(
        k_day, k_judged, records=4, progress=lambda done, of: seen.append((done, of))
    )
    for one, other in zip(response.parts, again.parts, strict=True):
        assert np.array_equal(one.peak_use, other.peak_use)
        assert one.squall_use == other.squall_use or math.isnan(one.squall_use)
    assert [done for done, _ in seen] == list(range(1, seen[0][1] + 1))


def test_other_drawn_winds_give_a_ratio_within_their_scatter(k_day, k_judged, response):
    other = gust_response(k_day, k_judged, records=4, seed=99)
    for name, one in by_name(response).items():
        if math.isfinite(one.ratio):
            scatter = np.concatenate([one.peak_use, by_name(other)[name].peak_use]).std()
            apart = abs(one.ratio - by_name(other)[name].ratio) * one.steady_use
            # two means of four: 0.7 of the scatter of one, taken four times
            assert apart < 3.0 * scatter + 1e-6


def test_gusts_beyond_any_printed_wind_are_said_to_be(k_day, response):
    # a sea breeze: within the printed 0.10 to 0.25 of the mean, and nothing is said
    assert response.intensity[1] < 0.25
    assert not response.basis.findings
    for times, calm in ((2.2, False), (4.0, True)):
        wild = replace(k_day, wind=replace(k_day.wind, gust_mps=times * k_day.wind.wind_mps))
        told = gust_response(wild, judge(wild), records=1)
        assert told.intensity[1] > 0.25
        said = [one.said for one in told.basis.findings if one.where == "Gusts"]
        assert len(said) == 1
        assert "her response to them is reckoned outside the range it is known in" in said[0]
        end = "the mean while it gusts is taken as the gust over 2.5"
        assert said[0].endswith(end) == calm


def part(steady, peak):
    return PartResponse("anchor", "anchor", (0, 0), steady, np.array(peak), math.nan)


def test_uses_are_taken_times_the_ratio():
    use = np.array([[0.2, 0.5]])
    assert part(0.5, [0.6, 0.8]).raised(use) == pytest.approx(np.array([[0.28, 0.7]]))


def test_a_ratio_below_one_takes_nothing_off():
    use = np.array([[0.2, 0.5]])
    assert part(0.5, [0.4, 0.4]).raised(use) == pytest.approx(use)


def test_of_a_part_hardly_used_the_peaks_surplus_is_added():
    one = part(0.05, [0.25, 0.35])
    assert math.isnan(one.ratio)
    assert one.raised(np.array([[0.01, 0.05]])) == pytest.approx(np.array([[0.26, 0.3]]))


def test_a_boat_that_left_what_is_known_leaves_the_use_unknown_unless_past_the_limit():
    raised = part(0.5, [0.6, math.nan]).raised(np.array([[0.5, 1.2]]))
    assert math.isnan(raised[0, 0])
    assert raised[0, 1] == 1.2


def test_so_it_is_of_a_part_hardly_used_and_of_one_whose_steady_use_is_unknown():
    use = np.array([[0.1, 1.2]])
    for one in (part(0.1, [0.15, math.nan]), part(math.nan, [0.6, 0.8])):
        raised = one.raised(use)
        assert math.isnan(raised[0, 0])
        assert raised[0, 1] == 1.2


def test_where_the_mean_wind_is_unknown_her_response_is_unknown(k_day):
    wind = replace(k_day.wind, wind_mps=np.full_like(k_day.wind.wind_mps, np.nan))
    stay = replace(k_day, wind=wind)
    judged = judge(stay)
    assert judged.judgement.verdict == "holds"
    told = gust_response(stay, judged, records=1)
    assert told.verdict == "unknown"
    for one in told.parts:
        assert math.isfinite(one.steady_use)
        assert np.isnan(one.peak_use).all() and math.isnan(one.ratio)


def test_her_room_is_said_to_be_that_of_the_steady_gust(response):
    assert any("Room is as she lies" in one.said for one in response.basis.assumptions)


def test_a_part_that_nothing_ever_pulls_has_no_ratio_and_gives_no_warning(recwarn):
    idle = part(0.0, [0.0, 0.0])
    assert all(math.isnan(value) for value in (idle.ratio, idle.low, idle.high))
    assert not recwarn.list


def test_least_and_most_are_those_of_the_records():
    one = part(0.5, [0.6, 0.9])
    assert (one.low, one.ratio, one.high) == pytest.approx((1.2, 1.5, 1.8))


def test_in_a_squall_a_lone_anchor_is_asked_more_than_twice_and_the_basis_says_so():
    # chain that lay in a heap is run out first: energy has no bound of two then
    whole = read_stay(DEMO / "stone_spur" / "stay_k_day.toml")
    alone = replace(whole, lie=replace(whole.lie, lines=()))
    told = gust_response(alone, judge(alone), records=1)
    assert by_name(told)["anchor"].squall_ratio > 2.0
    said = [one.if_wrong for one in told.basis.assumptions]
    assert any("where chain or lines lay slack many times it" in one for one in said)
    assert not any("up to twice the steady use" in one for one in said)
