"""Settling: what a hand does to each line, its sag, how far off she lies at each tide."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from shorefast.manoeuvre import proving, settling
from shorefast.manoeuvre.settling import HAND_N, sag_m
from shorefast.stay import SMALL_PULL_N, judge
from shorefast.wording import settling_words, take_in_words


@pytest.fixture(scope="module")
def notch(cut):
    stay = cut("grey_notch/stay", 3)
    judged = judge(stay)
    proved = proving(stay, judged)
    return stay, judged, proved, settling(stay, judged, proved)


# Closed form, small sag: T = w L^2 / (8 sag); 25 m of line of 1.13 N/m.
@pytest.mark.parametrize(("sag", "pull_n"), [(0.10, 883.0), (0.20, 441.0), (0.30, 294.0)])
def test_a_line_sags_as_the_closed_form_has_it(sag, pull_n):
    assert sag_m(pull_n, 1.13, 25.0, 0.0) == pytest.approx(sag, rel=3e-3)


def test_half_the_pull_is_twice_the_sag_and_a_rise_changes_little():
    assert sag_m(200.0, 1.13, 25.0, 0.0) == pytest.approx(2.0 * sag_m(400.0, 1.13, 25.0, 0.0), 1e-3)
    # upright it is measured to the chord: as the length of the chord by the square, by its slope
    assert sag_m(400.0, 1.13, 25.0, 3.0) == pytest.approx(
        sag_m(400.0, 1.13, 25.0, 0.0) * math.hypot(25.0, 3.0) / 25.0, rel=1e-3
    )


def test_hauled_by_hand_and_then_as_told_the_line_is_as_planned(notch):
    stay, judged, _, settled = notch
    scene = judged.rigged.scene
    for number, line in enumerate(settled.lines, start=1):
        longer = replace(
            scene.lines[number], length_m=scene.lines[number].length_m + line.take_in_m
        )
        lines = (*scene.lines[:number], longer, *scene.lines[number + 1 :])
        hauled = replace(judged.rigged, scene=replace(scene, lines=lines))
        again = settling(stay, replace(judged, rigged=hauled), notch[2])
        # found to a few hundredths of a metre
        assert again.lines[number - 1].pull_n == pytest.approx(SMALL_PULL_N, rel=0.1)


def test_a_line_as_planned_in_a_calm_is_one_hand_s_work_and_tighter_pulls_more(notch):
    for line in notch[3].lines:
        assert 0.0 <= line.pull_n < line.pull_off_n
        assert line.by_hand is (line.pull_n <= HAND_N)


def test_lines_cut_tight_are_a_winch_s_work(cut):
    stay = cut("tres_sombras/stay", 1)
    judged = judge(stay)
    lines = settling(stay, judged, proving(stay, judged)).lines
    # the scenario cuts them to 0.995 of the distance, all four corners
    assert not any(line.by_hand for line in lines)
    assert all(line.take_in_m > 0.0 for line in lines)


def test_the_higher_the_water_the_farther_off_she_is_on_the_same_chain(notch):
    at = sorted(notch[3].at, key=lambda one: one.water_level_m)
    assert np.all(np.diff([one.off_engine_m for one in at]) >= -1e-6)
    # a straight reach of the chain: the engine brings her nearer than any calm
    assert all(one.off_engine_m < one.off_calm_m for one in at)
    assert all(one.off_least_m <= one.off_rest_m for one in at)


# The scenario's table of the stay: high water 21:40, low water 03:55, by local clocks.
def test_every_high_and_low_water_of_the_stay_is_told(notch):
    tides = [(one.tide, f"{one.at_utc:%H:%M}") for one in notch[3].at if one.tide]
    assert tides == [("high", "23:40"), ("low", "05:55")]
    hours = [one for one in notch[3].at if not one.tide]
    assert all(one.at_utc.minute == 0 for one in hours)


def test_by_night_lines_ashore_are_warned_of_the_propeller(notch):
    said = "\n".join(settling_words(notch[3], notch[0].bay.zone_name))
    assert "hang slack about the stern: keep them out of the propeller." in said
    assert "fast only after the proof" in said
    assert "high water Wednesday 24 June, 21:40" in said


@pytest.mark.parametrize(
    ("take_in_m", "said"),
    [(0.42, "take in 0.4 m"), (-2.0, "ease 2.0 m"), (0.01, "leave it so"), (math.nan, "unknown")],
)
def test_what_is_done_with_a_line_is_said(take_in_m, said):
    assert take_in_words(take_in_m) == said


def test_of_unknown_water_nothing_is_told(notch):
    stay, judged, proved, _ = notch
    found = settling(stay, judged, replace(proved, water_level_m=math.nan))
    assert found.lines == ()
    assert settling_words(found, stay.bay.zone_name) == []
