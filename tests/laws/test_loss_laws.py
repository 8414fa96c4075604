"""If one goes: what follows by hand to its end, and the rest of a lie that never had it."""

from __future__ import annotations

import importlib
import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from functools import partial

import numpy as np
import pytest

from shorefast.mooring import (
    AIR_KGPM3,
    Domain,
    Load,
    Path,
    Scene,
    ShoreLine,
    Spread,
    WindForm,
    batch,
    moored,
    released,
    rests,
    solve_rest,
    wind_force,
)
from shorefast.stay import judge, losses
from shorefast.stay.rigging import rig
from shorefast.stay.without import question_of
from shorefast.stay.without_next import States, Waters, next_rests
from shorefast.stay.without_things import Parting

# the package shows the function of that name
DRIFT = importlib.import_module("shorefast.mooring.drift")
# no turning of its own: held by the bow she lies head to wind
FORM = WindForm(14.0, 31.0, 13.0, 0.0, 0.955, 0.82, 0.83, 0.40, 0.0)
WIND_MPS = 15.0
# wind from dead ahead: what so many lines from one bow cleat to one rock share evenly
PUSH_N = abs(wind_force(FORM, WIND_MPS, 0.0, AIR_KGPM3)[0])
NO_LOAD = Load(0.0, 0.0, 0.0, 0.0, 0.0, AIR_KGPM3)
# lines of a newton a metre sag under 7 kN by less than this share of it
EVENLY = 2e-3


def bow_lines(count):
    return tuple(
        ShoreLine(f"bow line {k + 1}", 6.0, 0.0, 1.4, 0.0, 60.0, 1.4, 54.0, 0.5, 4e5)
        for k in range(count)
    )


def lying(lines, wind_mps=WIND_MPS, from_rad=0.0):
    """Tables of some lines, and the one state in which she lies to all of them."""
    scene = Scene(lines, Domain(-60.0, 60.0, -60.0, 60.0), FORM)
    ready = moored(scene, FORM, 6.0, np.array([0.0, -0.5, 0.0]), Spread(0.0, 1.0, 2, 3))
    path = Path(np.full(1, 0.5), np.full(1, wind_mps), np.full(1, from_rad))
    lain = rests(ready, *(column[None] for column in path), ready.all_set)
    waters = Waters(None, ready, NO_LOAD, path.level_m)
    return waters, States(path, lain.q[0], np.zeros(1))


def part_at(*shares, push_n=PUSH_N):
    """What parts each line, as shares of the wind's whole push."""
    return tuple(
        Parting(f"bow line {k + 1}", (k,), share * push_n) for k, share in enumerate(shares)
    )


def order(found, partings):
    return [partings[k].name for k in found.order[0] if k >= 0]


def test_of_four_lines_that_share_a_pull_the_third_and_second_follow_the_first_and_one_holds():
    """By hand: 1/3 parts what stands 0.30 and then 1/2 what stands 0.45; 1 does not part 1.2."""
    waters, states = lying(bow_lines(4))
    partings = part_at(0.26, 0.45, 0.30, 1.2)
    found = next_rests(waters, states, (0,), partings)
    assert order(found, partings) == ["bow line 3", "bow line 2"]
    assert found.active[0].tolist() == [0.0, 0.0, 0.0, 1.0]
    assert found.last.code[0] == 0
    # all of the push is on the one that is left
    assert found.last.line[0, 3, 0] == pytest.approx(PUSH_N, rel=EVENLY)
    # the first next rest is told as it is: a third of the push on what parts at 0.30 of it
    assert found.of_breaking[0] == pytest.approx((1 / 3) / 0.30, rel=EVENLY)
    assert partings[found.breaking[0]].name == "bow line 3"


def test_where_none_can_hold_the_whole_push_all_follow_to_the_last_and_she_is_adrift():
    waters, states = lying(bow_lines(4))
    partings = part_at(0.3, 0.4, 0.6, 0.9)
    found = next_rests(waters, states, (1,), partings)
    # a third each parts the one at 0.30, a half the one at 0.6 not, nor the one at 0.9
    assert order(found, partings) == ["bow line 1"]
    found = next_rests(waters, states, (0, 1, 2), partings)
    assert order(found, partings) == ["bow line 4"]
    assert not found.active.any()
    assert found.last.code[0] != 0
    assert np.isnan(found.last.q).all()
    partings = part_at(0.3, 0.32, 0.45, 0.9)
    found = next_rests(waters, states, (3,), partings)
    assert order(found, partings) == ["bow line 1", "bow line 2", "bow line 3"]
    assert not found.active.any()


def test_what_bears_just_more_than_it_gets_holds_and_just_less_parts():
    waters, states = lying(bow_lines(4))
    for share, follows in ((1 / 3 * 1.01, []), (1 / 3 * 0.99, ["bow line 2"])):
        partings = part_at(9.0, share, 9.0, 9.0)
        assert order(next_rests(waters, states, (0,), partings), partings) == follows


def test_a_rock_that_carries_two_lines_goes_by_the_sum_and_takes_both():
    waters, states = lying(bow_lines(4))
    rock = Parting("rock ashore", (1, 2), 0.6 * PUSH_N)
    partings = (*part_at(9.0, 9.0, 9.0, 9.0), rock)
    found = next_rests(waters, states, (0,), partings)
    # two thirds on the rock that stands 0.6; each line alone is far from parting
    assert order(found, partings) == ["rock ashore"]
    assert found.active[0].tolist() == [0.0, 0.0, 0.0, 1.0]


def test_of_a_line_led_out_and_back_each_part_carries_half():
    waters, states = lying(bow_lines(2))
    for parts, follows in ((2, []), (1, ["bow line 2"])):
        partings = (Parting("bow line 1", (0,), 9e9), Parting("bow line 2", (1,), 0.8 * PUSH_N,
                                                              parts))  # fmt: skip
        assert order(next_rests(waters, states, (0,), partings), partings) == follows


def test_what_nobody_knows_the_strength_of_follows_nothing_and_hides_nothing():
    waters, states = lying(bow_lines(4))
    partings = (*part_at(9.0, math.nan, 0.30, 9.0), Parting("rock ashore", (1, 2, 3), math.nan))
    found = next_rests(waters, states, (0,), partings)
    assert order(found, partings) == ["bow line 3"]
    unknown = part_at(*[math.nan] * 4)
    found = next_rests(waters, states, (0,), unknown)
    assert order(found, unknown) == []
    # not nought of what parts it: nobody knows
    assert math.isnan(found.of_breaking[0])


def test_without_wind_and_with_slack_lines_a_loss_leaves_her_where_she_lay():
    slack = tuple(replace(line, length_m=70.0) for line in bow_lines(2))
    waters, states = lying(slack, wind_mps=0.0)
    found = next_rests(waters, states, (0,), part_at(9.0, 9.0))
    assert found.last.code[0] == 0
    assert found.last.q[0] == pytest.approx(states.q[0], abs=1e-9)


def test_to_one_line_alone_its_loss_leaves_her_adrift():
    waters, states = lying(bow_lines(1))
    found = next_rests(waters, states, (0,), part_at(9.0))
    assert found.last.code[0] != 0


@pytest.fixture(scope="module")
def notch(cut):
    """In the notch: two members."""
    stay = cut("grey_notch/stay", 2)
    return stay, judge(stay)


@pytest.mark.parametrize("gone", range(5))
def test_with_a_part_gone_she_comes_to_the_exact_rest_of_a_lie_that_never_had_it(notch, gone):
    """The exact path on a scene rigged without it: no table, no mask, another solver's steps."""
    stay, judged = notch
    asked = question_of(stay, judged)
    found = next_rests(asked.waters, asked.states, (gone,), asked.partings)
    never = rig(stay, 0.0).scene
    wide = Domain(-400.0, 400.0, -400.0, 400.0)
    if gone:
        lines = tuple(line for k, line in enumerate(stay.lie.lines, start=1) if k != gone)
        never = rig(replace(stay, lie=replace(stay.lie, lines=lines)), 0.0).scene
    lines = never.lines if gone else never.lines[1:]
    scene = Scene(lines, wide, never.wind)
    for k in range(0, asked.states.q.shape[0], 9):
        path = asked.states.path
        load = judged.extra._replace(wind_mps=path.wind_mps[k], wind_from_rad=path.from_rad[k])
        start = tuple(asked.states.q[k])
        exact = solve_rest(scene, load, path.level_m[k], start, arm_m=judged.rigged.arm_m)
        assert exact.why == "found"
        # what the project asks of tables against the exact path: 5 mm and 0.05 degrees
        q = found.first.q[k]
        assert math.hypot(q[0] - exact.east_m, q[1] - exact.north_m) < 0.005
        turn = math.remainder(q[2] - exact.heading_rad, 2.0 * math.pi)
        assert abs(turn) < math.radians(0.05)


def test_a_part_that_pulls_nothing_changes_nothing_to_the_bit(notch):
    stay, judged = notch
    asked = question_of(stay, judged)
    pulls = np.stack([line.tension_n.ravel() for line in judged.judgement.rest.lines], axis=-1)
    for gone in range(5):
        idle = pulls[:, gone] == 0.0
        found = next_rests(asked.waters, asked.states, (gone,), asked.partings)
        # she is told by her rest again: a bearing a turn further on is the same one
        assert np.array_equal(found.last.q[idle, :2], asked.states.q[idle, :2])
    assert (pulls == 0.0).any()


def test_one_thread_or_two_tell_every_loss_the_same_to_the_bit(notch, monkeypatch):
    stay, judged = notch
    found = []
    for threads in (1, 2):
        for module in (batch, released, DRIFT):
            monkeypatch.setattr(module, "ThreadPoolExecutor", partial(ThreadPoolExecutor, threads))
        found.append(losses(stay, judged))
    # text of every number, in full: NaN too
    assert repr(found[0]) == repr(found[1])
