"""Moves from one way of lying to another, told between two hours."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from shorefast.mooring import (
    AIR_KGPM3,
    FOUND,
    Load,
    all_rests,
    branch_moves,
    move_findings,
    other_findings,
    other_rests,
    rests,
    same_place_m,
)
from shorefast.mooring.branch_moves import BranchMove, BranchMoves
from shorefast.mooring.following import VANISHED, Way, led_on
from shorefast.readers import read_stay
from shorefast.stay.rigging import rig

DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"
LEVEL_M = 0.5


@pytest.fixture(scope="module")
def spur():
    """Behind the spur on one stern line: places with two ways of lying."""
    stay = read_stay(DEMO / "stone_spur" / "stay_k_night.toml")
    return rig(stay, LEVEL_M).ready_wide(0.0, 1.0)


def one_line(ready):
    return ready.without(ready.scene.lines[1].name)


def grown(ready, around):
    """Winds of 0 to 40 m/s from each direction, as one path each."""
    speed = np.broadcast_to(np.arange(41.0), (around.size, 41))
    return np.full(speed.shape, LEVEL_M), speed, np.broadcast_to(around[:, None], speed.shape)


def test_a_rest_that_gives_out_is_told_and_the_lines_themselves_say_the_same(spur):
    winds = grown(spur, np.radians(np.arange(0.0, 360.0, 5.0)))
    active = one_line(spur)
    solved = rests(spur, *winds, active)
    told = branch_moves(spur, solved, winds, active)
    assert told.states == 72 * 40 and told.broken == 0
    assert told.moves
    for move in told.moves[:3]:
        at = move.member, move.time
        loads = [
            Load(0.0, 0.0, 0.0, winds[1][at[0], t], winds[2][at[0], t], AIR_KGPM3)
            for t in (at[1] - 1, at[1])
        ]
        way = Way(LEVEL_M, LEVEL_M, *loads, active, spur.tables.level_m)
        q, seen = move.q_from.copy(), np.empty(7)
        exact = spur.boat._replace(exact=True)
        assert led_on(exact, way, 1e-4, q, seen) == VANISHED
        assert move.vanished and move.share == pytest.approx(seen[0], abs=0.05)
        assert same_place_m(q, move.q_to, 6.5) < 0.05
    assert told.members == len({move.member for move in told.moves})
    assert told.worst.shift_m == max(move.shift_m for move in told.moves)
    assert told.first.time == min(move.time for move in told.moves)


def test_no_large_move_goes_untold_where_smaller_steps_do_not_explain_it(spur):
    around = np.radians(np.arange(0.0, 360.0, 5.0))
    active = one_line(spur)
    winds = grown(spur, around)
    told = branch_moves(spur, rests(spur, *winds, active), winds, active)
    fine = np.linspace(0.0, 40.0, 40 * 64 + 1)
    small = rests(
        spur,
        np.full((72, fine.size), LEVEL_M),
        np.broadcast_to(fine, (72, fine.size)),
        np.broadcast_to(around[:, None], (72, fine.size)),
        active,
    )
    step_m = np.hypot(*np.diff(small.q[..., :2], axis=1).transpose(2, 0, 1))
    leaps = {(int(m), int(t) // 64 + 1) for m, t in np.argwhere(step_m > 1.0) if t >= 64}
    assert leaps
    assert leaps <= {(move.member, move.time) for move in told.moves}


def test_a_wind_that_wanders_slowly_moves_her_to_no_other_place(spur):
    hours = np.linspace(0.0, 6.0, 91)
    phase = np.arange(51.0)[:, None]
    speed = 9.0 + 4.0 * np.sin(hours + phase)
    blow = 0.9 + 0.3 * np.sin(0.7 * hours + phase)
    winds = (np.full(speed.shape, LEVEL_M), speed, blow)
    told = branch_moves(spur, rests(spur, *winds, spur.all_set), winds, spur.all_set)
    assert told.moves == () and told.states == 51 * 90
    assert told.first is None and told.worst is None
    assert move_findings(told, "22:00") == ()


def test_a_place_put_elsewhere_while_the_old_one_goes_on_is_told_as_another(spur):
    active = one_line(spur)
    blow = math.radians(300.0)
    every = all_rests(spur, Load(0.0, 0.0, 0.0, 8.0, blow, AIR_KGPM3), LEVEL_M, active)
    assert len(every.stable) > 1
    winds = tuple(np.full((1, 2), x) for x in (LEVEL_M, 8.0, blow))
    solved = rests(spur, *winds, active)
    others = other_rests(every, solved.q[0, 0], 6.5)
    assert others
    elsewhere = replace(solved, q=np.stack([solved.q[0, 0], others[0].q])[None])
    told = branch_moves(spur, elsewhere, winds, active)
    assert [move.vanished for move in told.moves] == [False]
    assert same_place_m(told.first.q_last, solved.q[0, 0], 6.5) < 0.01


def test_an_hour_without_a_rest_is_counted_not_followed(spur):
    winds = tuple(np.full((1, 3), x) for x in (LEVEL_M, 8.0, 0.9))
    solved = rests(spur, *winds, spur.all_set)
    assert np.all(solved.code == FOUND)
    code = solved.code.copy()
    code[0, 1] = 3
    told = branch_moves(spur, replace(solved, code=code), winds, spur.all_set)
    assert (told.states, told.broken, told.moves) == (0, 2, ())


def test_what_is_said_of_a_move():
    q = np.array([1.0, 2.0, 0.1])
    move = BranchMove(3, 7, True, 0.4, q, q + 3.0, q, 4.24, math.radians(-31.0))
    told = BranchMoves(4590, 0, (move,))
    assert [(f.where, f.said) for f in move_findings(told, "02:10")] == [
        (
            "Rest",
            "in 1 of 4590 states she leaves one way of lying for another, first at 02:10:"
            " she runs 4.2 m and turns 31 degrees to the left: the place she lay in gives out",
        )
    ]
    goes_on = BranchMoves(10, 0, (replace(move, vanished=False, turn_rad=0.2),))
    assert move_findings(goes_on, "02:10")[0].said.endswith(
        "turns 11 degrees to the right: the place she lay in goes on, and the one told is another"
    )


def test_what_is_said_of_other_rests(spur):
    load = Load(0.0, 0.0, 0.0, 8.0, 1.0, AIR_KGPM3)
    one = replace(
        all_rests(spur, load, LEVEL_M).stable[0], east_m=-3.4, north_m=12.2, heading_rad=0.7854
    )
    assert other_findings((), "02:10") == ()
    assert [f.said for f in other_findings((one,), "02:10")] == [
        "at 02:10 she could also lie elsewhere: -3 m east 12 m north heading 045"
    ]
