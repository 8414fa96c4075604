"""A sample of the odds beside the whole judgement of a stay with its draws put in."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import shorefast
from shorefast.readers import read_stay
from shorefast.stay import doubts_of, judge
from shorefast.stay.odds_doubts import (
    DEPTH,
    DIRECTION,
    EAST,
    GUST,
    NORTH,
    STRENGTH,
    WINDAGE,
    draws,
    normal,
)
from shorefast.stay.odds_solved import Solver, Variant

STAY = Path(shorefast.__file__).parent / "demo" / "stone_spur" / "stay_k_day.toml"
SPREAD_RAD = math.radians(20.0)


@pytest.fixture(scope="module")
def solver():
    stay = read_stay(STAY)
    return Solver(stay, doubts_of(stay))


def as_drawn(solver, drawn):
    """The stay with one sample's draws in its forecast, boat, bed and lie."""
    stay, doubts, z = solver.stay, solver.doubts, normal(drawn)
    member = int(solver.member(drawn[np.newaxis])[0])
    some, wind, grid = slice(member, member + 1), stay.wind, stay.bay.surface.grid
    blown = replace(
        wind,
        member=wind.member[some],
        wind_mps=wind.wind_mps[some],
        gust_mps=wind.gust_mps[some] * math.exp(doubts.gust_log * z[GUST]),
        wind_from_rad=np.mod(wind.wind_from_rad[some] + SPREAD_RAD * z[DIRECTION], 2.0 * np.pi),
    )
    force, seen = math.exp(doubts.windage_log * z[WINDAGE]), stay.boat.windage
    windage = replace(seen, frontal_m2=force * seen.frontal_m2, lateral_m2=force * seen.lateral_m2)
    lower = grid._replace(level_m=grid.level_m - z[DEPTH] * solver.deviation_m)
    lie = replace(
        stay.lie,
        let_go_east_m=stay.lie.let_go_east_m + doubts.let_go_m * z[EAST],
        let_go_north_m=stay.lie.let_go_north_m + doubts.let_go_m * z[NORTH],
    )
    bay = replace(stay.bay, surface=replace(stay.bay.surface, grid=lower))
    return replace(stay, boat=replace(stay.boat, windage=windage), wind=blown, lie=lie, bay=bay)


@pytest.mark.parametrize("number", [0, 12, 48, 87])
def test_a_sample_carries_what_the_judgement_of_its_draws_says(solver, number):
    lot = draws(1024, 3).reshape(-1, 4, 10)[number]
    found = solver.solved(lot, (Variant(1.0),))
    told = judge(as_drawn(solver, lot[0])).judgement
    # ropes' strength is drawn when samples are weighed
    kept = math.exp(solver.doubts.strength_log * normal(lot[0])[STRENGTH])
    for part in told.parts:
        if part.kind not in ("line", "chain"):
            continue
        ours = found.use[solver.names.index(part.name), 0] * (kept if part.kind == "line" else 1.0)
        # tables of three bearings beside the judgement's thirty-one: a hundredth of the limit
        assert ours == pytest.approx(part.use[0], abs=0.01), part.name
