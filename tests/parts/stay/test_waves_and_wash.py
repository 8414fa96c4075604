"""Stays judged in waves and wash: what is added, what is told, what stays as it was."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from shorefast.basis import Basis
from shorefast.bay import WindSector
from shorefast.boat import Underwater
from shorefast.stay import Wash, Waves, heave, heave_m, judge
from shorefast.stay.comfort import comfort_of, fit_for
from shorefast.stay.to_side import side_basis


def ahead(stay, height_m=0.3, period_s=2.0):
    return replace(stay, waves=Waves(height_m, period_s, stay.lie.heading_rad))


def anchor_n(judged):
    return np.nanmax(judged.judgement.parts[0].load_n)


@pytest.fixture(scope="module")
def in_waves(k_day):
    stay = replace(ahead(k_day), wash=Wash(0.4, 2.5))
    return judge(stay)


def test_waves_from_ahead_load_the_anchor_by_about_their_push(k_judged, in_waves):
    push = in_waves.judgement.waves
    # 57 N/m of crest (reference) over a beam of 3.9 m
    assert push.forward_n == pytest.approx(-57.0 * 3.9, rel=0.02)
    assert push.starboard_n == pytest.approx(0.0, abs=1e-6)
    assert 0.0 < push.least_n < abs(push.forward_n)
    more_n = anchor_n(in_waves) - anchor_n(k_judged)
    assert 0.3 * 222.0 < more_n < 1.5 * 222.0


def test_higher_waves_load_the_anchor_more(k_day):
    loads = [anchor_n(judge(ahead(k_day, height_m))) for height_m in (0.1, 0.4, 0.7)]
    assert np.all(np.diff(loads) > 0.0)


@pytest.fixture(scope="module")
def shoreless(k_day):
    """Without a shore no waves are reckoned from the wind either."""
    return judge(replace(k_day, bay=replace(k_day.bay, shore=None)))


def test_waves_of_no_height_are_as_none(k_day, shoreless):
    flat = judge(replace(ahead(k_day, 0.0), wash=Wash(0.0, 2.0))).judgement
    assert np.array_equal(flat.greatest_use, shoreless.judgement.greatest_use)
    assert flat.waves is None and flat.comfort == () and flat.snatch == ()
    assert heave_m(ahead(k_day, 0.0)) == 0.0


def test_without_waves_the_basis_says_they_are_left_out(shoreless):
    said = [held.said for held in shoreless.judgement.basis.assumptions]
    assert "Waves are left out: the stay names none" in said


def test_in_waves_the_basis_says_what_they_do(in_waves):
    said = [held.said for held in in_waves.judgement.basis.assumptions]
    assert not any("left out: the stay" in one for one in said)
    push_n = abs(in_waves.judgement.waves.forward_n)
    assert sum(one.startswith(f"The waves push steadily with {push_n:.0f} N") for one in said) == 1


@pytest.mark.parametrize("period_s", [1.2, 2.0, 3.0, 6.0])
@pytest.mark.parametrize("off_deg", [0.0, 60.0, 90.0])
def test_she_goes_down_by_no_more_than_half_the_highest_wave(k_day, period_s, off_deg):
    toward = k_day.lie.heading_rad + math.radians(off_deg)
    found = heave(replace(k_day, waves=Waves(0.4, period_s, toward)))
    # 1.86 x 0.4 m / 2
    assert 0.0 < found.down_m <= 0.372
    assert found.wash_m == 0.0


def test_long_waves_take_her_down_in_full_and_short_ones_from_ahead_by_less_than_half(k_day):
    assert heave_m(ahead(k_day, 0.4, 6.0)) == pytest.approx(0.372, abs=1e-3)
    assert heave_m(ahead(k_day, 0.4, 1.5)) < 0.5 * 0.372


def test_a_rudder_far_aft_goes_down_further_than_a_keel(k_day):
    keel = (Underwater("keel", 0.0, 0.0, 1.9),)
    bare = replace(k_day, boat=replace(k_day.boat, underwater=keel))
    assert heave_m(ahead(bare, 0.4, 1.8)) < heave_m(ahead(k_day, 0.4, 1.8))


def test_wash_comes_on_top_from_wherever_it_is_worst(k_day):
    both = heave(replace(ahead(k_day), wash=Wash(0.5, 3.0)))
    assert both.wash_m == pytest.approx(0.25, abs=5e-3)
    assert both.down_m == both.waves_m + both.wash_m


def test_where_no_lie_is_given_waves_may_come_from_anywhere(k_day):
    free = replace(ahead(k_day, 0.4, 1.8), lie=None)
    assert heave_m(free) > heave_m(ahead(k_day, 0.4, 1.8))


def test_each_shore_line_is_told_what_waves_and_wash_may_add(in_waves):
    found = in_waves.judgement.snatch
    lines = {part.name for part in in_waves.judgement.parts if part.kind == "line"}
    assert {one.name for one in found} == lines
    assert {one.of for one in found} == {"waves", "wash"}
    for one in found:
        # no further than the water goes: half of the highest wave, or of the wash
        assert 0.0 < one.excursion_m <= (0.279 if one.of == "waves" else 0.2)
        assert 0.0 < one.adds_low_n <= one.adds_high_n <= one.jerk_n <= 2.0 * one.adds_high_n
        assert 0.0 <= one.slack_share <= 1.0
        assert math.isfinite(one.limit_n)


def test_a_shorter_line_is_snatched_at_harder(k_day):
    first, second = k_day.lie.lines
    eased = replace(k_day.lie, lines=(replace(first, length_m=first.length_m + 4.0), second))
    long = judge(replace(ahead(k_day), lie=eased)).judgement.snatch[0]
    short = judge(ahead(k_day)).judgement.snatch[0]
    assert long.adds_high_n < short.adds_high_n


def test_comfort_is_told_and_beam_waves_are_worse(k_day):
    abeam = replace(
        k_day, waves=Waves(0.3, 2.0, k_day.lie.heading_rad + 0.5 * math.pi), wash=Wash(0.3, 2.0)
    )
    (bow,), _ = comfort_of(ahead(k_day))
    (beam, wash), basis = comfort_of(abeam)
    assert bow.heave_mps2 < beam.heave_mps2 < wash.heave_mps2
    assert bow.lean_rad < 1e-9 < beam.lean_rad
    assert basis.sources == ("nordforsk-1987",)


# NORDFORSK 1987 (from memory): 0.02 g and 2.0 degrees, ... 0.20 g and 6.0 degrees.
@pytest.mark.parametrize(
    ("share", "roll_deg", "who"),
    [
        (0.01, 1.0, "a cruise ship's passengers"),
        (0.01, 2.4, "passengers on a short crossing"),
        (0.09, 2.0, "work of the head"),
        (0.14, 1.0, "heavy work by hand"),
        (0.01, 5.9, "light work by hand"),
        (0.25, 1.0, None),
    ],
)
def test_who_bears_how_much(share, roll_deg, who):
    assert fit_for(share * 9.81, math.radians(roll_deg)) == who


def test_her_own_periods_are_told_with_the_gust_she_answers(k_judged):
    found = k_judged.judgement.gust_answer
    assert sorted(found.way) == ["surge", "sway", "yaw"]
    assert list(found.period_s) == sorted(found.period_s, reverse=True)
    assert all(2.0 < seconds < 60.0 for seconds in found.period_s)
    assert all(a <= b <= c for a, b, c in zip(found.low_s, found.period_s, found.high_s,
                                              strict=True))  # fmt: skip
    # her length of 11.8 m is enveloped by 4.5 L / V: in a mean wind of 7.3 m/s 7.3 s
    assert 3.0 < found.averaging_s < 15.0
    assert 0.8 < found.share < 1.0


def test_the_judged_gust_is_the_forecasts_whatever_she_answers(k_day, k_judged):
    found = k_judged.judgement
    both, at, told = np.intersect1d(found.time_utc, k_day.wind.time_utc, return_indices=True)
    assert both.size > 5
    assert found.gust_mps[:, at] == pytest.approx(k_day.wind.gust_mps[:, told])


def test_wind_to_either_side_is_told(k_judged):
    left, right = k_judged.judgement.sides
    assert left.turned_rad == -right.turned_rad == pytest.approx(-math.radians(20.0))
    assert all(0.0 <= one.share_past_limit <= 1.0 for one in (left, right))
    assert left.greatest_use != right.greatest_use


def test_a_side_on_which_she_would_not_lie_is_said(k_day, k_judged):
    found = k_judged.judgement
    worse = replace(found.sides[0], share_past_limit=1 / 3)
    said = side_basis(k_day, replace(found, sides=(worse, found.sides[1])))
    assert [one.said for one in said.findings] == [
        "backed 20 degrees it puts 33% of the members past a limit; the direction in a bay is"
        " known no better (our default)"
    ]
    assert side_basis(k_day, replace(found, sides=())) == Basis()


def test_a_spread_the_skipper_gives_is_judged_at_its_worst(k_day, k_judged):
    told = (WindSector(0.0, 2.0 * math.pi, spread_rad=math.radians(30.0)),)
    found = judge(replace(k_day, bay=replace(k_day.bay, sectors=told))).judgement
    assert found.sides == ()
    assert found.greatest_use.shape[0] == 3 * k_judged.judgement.greatest_use.shape[0]
    assert np.nanmax(found.greatest_use) > np.nanmax(k_judged.judgement.greatest_use)
    assert np.all(found.share_past_limit >= k_judged.judgement.share_past_limit)
