"""The proof: its steps, the marks, what moving is, and what nobody can know."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from shorefast.boat import Engine, PullAtRevs, revs_curve
from shorefast.manoeuvre import proving
from shorefast.manoeuvre.proof_steps import pulling
from shorefast.manoeuvre.proving import fix_moved_m
from shorefast.stay import Judged, judge
from shorefast.wording import proving_words
from shorefast.wording.proving import _need_words

SPUR = "stone_spur/stay_k_day"


@pytest.fixture(scope="module")
def stay(cut):
    return cut(SPUR, 3)


@pytest.fixture(scope="module")
def judged(stay) -> Judged:
    return judge(stay)


@pytest.fixture(scope="module")
def proved(stay, judged):
    return proving(stay, judged)


def with_engine(stay, engine):
    return replace(stay, boat=replace(stay.boat, engine=engine))


def test_from_step_to_step_she_pulls_harder_leads_flatter_and_comes_nearer(proved):
    steps = proved.steps
    for rising in ("revs_rpm", "pull_n", "chain_n", "wind_ahead_mps", "reach_m"):
        assert np.all(np.diff([getattr(step, rising) for step in steps]) > 0.0), rising
    for falling in ("angle_rad", "off_m", "water_m"):
        assert np.all(np.diff([getattr(step, falling) for step in steps]) < 0.0), falling
    for step in steps:
        assert step.low_n < step.pull_n < step.high_n
        assert step.angle_low_rad < step.angle_rad < step.angle_high_rad
        assert step.wind_abeam_mps < step.wind_ahead_mps
        assert 0.0 < step.astern_m < step.astern_most_m


def test_what_she_goes_astern_is_how_far_the_chain_draws_straight(proved):
    steps = proved.steps
    gone_m = sum(step.astern_m for step in steps[1:])
    assert gone_m == pytest.approx(steps[-1].reach_m - steps[0].reach_m)
    # she lies straight astern of the anchor, square to a straight shore: off falls as much
    assert steps[0].off_m - steps[-1].off_m == pytest.approx(gone_m, rel=0.02)


def test_the_last_step_is_the_pull_asked_and_held_as_long_as_the_file_says(stay, proved):
    assert proved.steps[-1].pull_n == pytest.approx(stay.proof.pull_n)
    assert proved.steps[-1].hold_s == 60.0 * stay.proof.minutes
    assert {step.hold_s for step in proved.steps[:-1]} == {30.0}


def test_a_smaller_pull_asked_ends_the_steps_there(stay, judged):
    asked = replace(stay, proof=replace(stay.proof, pull_n=1100.0))
    steps = proving(asked, judged).steps
    # half of 2200 N: by the square 0.707 of 3200 rpm
    assert steps[-1].revs_rpm == pytest.approx(2262.7, abs=0.1)
    assert steps[-1].pull_n == pytest.approx(1100.0)


def test_more_than_the_engine_has_is_said_and_the_steps_end_at_full(stay, judged):
    asked = replace(stay, proof=replace(stay.proof, pull_n=4000.0))
    found = proving(asked, judged)
    assert found.asked.reach == "beyond"
    assert found.steps[-1].revs_share == 1.0


def test_without_full_revs_the_steps_are_shares(stay, judged):
    engine = replace(stay.boat.engine, full_revs_rpm=None)
    found = proving(with_engine(stay, engine), judged)
    assert all(math.isnan(step.revs_rpm) for step in found.steps)
    assert [round(step.revs_share, 2) for step in found.steps] == [0.3, 0.5, 0.7, 0.85, 1.0]
    assert any("50% of full" in line for line in proving_words(found))


def test_readings_without_full_revs_go_up_to_the_highest_of_them(stay, judged):
    readings = (PullAtRevs(1500.0, 500.0), PullAtRevs(2400.0, 1280.0))
    engine = Engine(33e3, 0.44, "fixed 2-blade", pulls=readings)
    found = proving(with_engine(stay, engine), judged)
    assert found.steps[-1].revs_rpm == 2400.0
    assert all(math.isnan(step.revs_share) for step in found.steps)


def test_without_an_engine_nothing_is_proved_and_that_is_said(stay, judged):
    found = proving(with_engine(stay, None), judged)
    assert found.steps == ()
    assert proving_words(found) == ["How to prove her is unknown: the boat file tells no engine."]


def test_without_shore_or_points_no_distance_and_no_mark_is_told(stay, judged):
    bare = replace(stay, bay=replace(stay.bay, shore=None, land=None, points=(), zones=()))
    # the lines lead to points that are gone; the proof asks nothing of them
    found = proving(bare, judged)
    assert all(math.isnan(step.off_m) for step in found.steps)
    assert found.transits == ()
    assert found.moving_m == pytest.approx(fix_moved_m(30.0))
    said = " ".join(proving_words(found))
    assert "Marks that tell of going astern: none known here." in said
    assert "By night: no lights in line and no place for a lamp known" in said


def test_an_unknown_bed_leaves_the_lead_unknown(stay, judged):
    grid = stay.bay.surface.grid
    nowhere = grid._replace(level_m=np.full_like(grid.level_m, math.nan))
    surface = replace(stay.bay.surface, grid=nowhere)
    found = proving(replace(stay, bay=replace(stay.bay, surface=surface)), judged)
    assert all(math.isnan(step.angle_rad) for step in found.steps)
    assert not any(step.all_lifted for step in found.steps)
    assert "unknown" in " ".join(proving_words(found))


def test_wind_from_ahead_adds_and_wind_from_astern_takes_away(stay):
    def adds_n(from_rad):
        wind = stay.wind
        turned = replace(
            wind,
            wind_from_rad=np.full_like(wind.wind_from_rad, from_rad),
            wind_mps=np.full_like(wind.wind_mps, 8.0),
        )
        windy = replace(stay, wind=turned)
        return proving(windy, judge(windy)).wind_adds_n

    ahead = stay.proof.toward_rad + math.pi
    assert adds_n(ahead) > 100.0
    assert adds_n(stay.proof.toward_rad) < -100.0


# 2200 N at 3200 rpm, by the square: what is felt at the revs told, wind and all, is the need.
@pytest.mark.parametrize(("toward_it", "sign"), [(math.pi, 1.0), (0.0, -1.0)])
def test_the_revs_for_the_need_make_up_for_the_wind_along_the_chain(stay, judged, toward_it, sign):
    wind = stay.wind
    blow = stay.proof.toward_rad + toward_it
    turned = replace(
        wind,
        wind_from_rad=np.full_like(wind.wind_from_rad, blow),
        wind_mps=np.full_like(wind.wind_mps, 8.0),
    )
    windy = replace(stay, wind=turned)
    found = proving(windy, judged)
    needed = found.needed
    assert sign * found.wind_adds_n > 100.0
    by_engine_n = 2200.0 * (needed.revs_rpm / 3200.0) ** 2
    assert by_engine_n + found.wind_adds_n == pytest.approx(needed.pull_n, rel=1e-6)
    assert needed.revs_low_rpm < needed.revs_rpm < needed.revs_high_rpm


def test_wind_that_alone_pulls_the_need_asks_no_revs(stay, judged):
    her = pulling(stay, judged.rigged, 0.0, 500.0)
    needed = her.revs_for(revs_curve(stay.boat.engine), 400.0)
    assert (needed.pull_n, needed.revs_rpm, needed.reach) == (400.0, 0.0, "reached")
    assert "the mean wind of that hour alone pulls as much" in _need_words(needed)


def test_two_marks_of_a_time_are_never_the_same(proved):
    for night in (False, True):
        near = [one.near.name for one in proved.transits if one.by_night is night]
        assert len(near) == len(set(near)) == 2
    # no light in the bay: lamps
    assert all(one.lamps for one in proved.transits if one.by_night)


# Two slow parts and noise, each axis: 2 (1.2^2 (1 - e^-0.05) + 0.6^2 (1 - e^-0.5) + 0.2^2)
# is 0.504 m2; 1.96 times its root 1.39 m.
def test_a_fix_at_rest_wanders_as_the_sum_by_hand():
    assert fix_moved_m(30.0) == pytest.approx(1.391, abs=2e-3)
    assert fix_moved_m(180.0) > fix_moved_m(30.0)


def test_what_the_engine_cannot_reach_is_an_outcome(stay, judged, proved):
    assert proved.needed.reach in ("reached", "perhaps", "beyond")
    weak = replace(stay.boat.engine, astern_pull_n=300.0)
    asked = replace(with_engine(stay, weak), proof=None)
    signs = [one.sign for one in proving(asked, judged).outcomes]
    assert "revs_are_full" in signs


def test_too_little_water_under_her_is_the_first_thing_said(cut):
    # the notch at low water, pulled straight at the shore on all its chain: she would touch
    stay = cut("grey_notch/stay", 1)
    turned = replace(stay, proof=replace(stay.proof, toward_rad=math.radians(204.0)))
    found = proving(turned, judge(turned))
    assert found.shoal_from is not None
    assert found.steps[found.shoal_from - 1].water_m < 0.5
    assert all(step.water_m >= 0.5 for step in found.steps[: found.shoal_from - 1])
    assert "water_short" in [one.sign for one in found.outcomes]
    said = proving_words(found)
    assert said[len(found.steps) + 3].startswith("  NOT from ")
    # pulled as the scenario has it there is water enough
    assert proving(stay, judge(stay)).shoal_from is None
