"""Every kernel called once, so that its machine code lies ready in the cache."""

from __future__ import annotations

import math

import numpy as np

from shorefast.bay import SurfaceGrid, highest_under
from shorefast.mooring.batch import Moored, Path, Rests, moored, rests
from shorefast.mooring.branch_moves import branch_moves
from shorefast.mooring.coarse_tables import (
    blown,
    coarse_rode,
    put_together,
    rests_alone,
    shore_table,
)
from shorefast.mooring.drift import drift
from shorefast.mooring.drift_steps import Afloat, Seconds
from shorefast.mooring.every_rest import all_rests
from shorefast.mooring.exact_check import held_exactly
from shorefast.mooring.gust_motion import Moving, Winds
from shorefast.mooring.gust_runs import GustRuns, Timing, moved_by_gusts
from shorefast.mooring.line_tables import Spread
from shorefast.mooring.released import Laid, released_rests
from shorefast.mooring.rest import Load
from shorefast.mooring.rode import rode_at_pull
from shorefast.mooring.scene import Domain, GridBed, PlaneBed, RodeLine, Scene, ShoreLine
from shorefast.mooring.shapes import BedLine, LineSegments
from shorefast.mooring.solve import solve_rest
from shorefast.mooring.wind_load import AIR_KGPM3, WindForm


def warm() -> None:
    """Compile and keep every kernel, on a small lie of three lines."""
    chain = LineSegments(np.array([50.0]), np.array([19.6]), np.array([8.5e6]))
    rode_at_pull(
        chain, BedLine(np.array([-10.0, 100.0]), np.array([-18.0, -18.0])), 0.6, 1.5, 900.0
    )
    level = np.full((5, 5), -18.0)
    box = np.array([(1.0, 1.0), (1.0, -1.0), (-1.0, 0.0)])
    highest_under(SurfaceGrid(-80.0, -80.0, 40.0, level, level), level, box, np.zeros((1, 3)))
    beds = (PlaneBed(-18.0, 0.0, 0.0), GridBed(-80.0, -80.0, 40.0, np.full((5, 5), -18.0)))
    form = WindForm(14.0, 31.0, 13.0, 0.4, 0.95, 0.8, 0.82, 0.45)
    for bed in beds:
        rode = RodeLine("rode", 6.3, 0.0, 1.5, 0.0, -50.0, chain, bed, 0.6)
        lines = tuple(
            ShoreLine(f"stern {side:g}", -5.6, side, 1.1, -7.0 * side, 28.0, 2.8, 24.3, 3.6, 4e5)
            for side in (1.7, -1.7)
        )
        scene = Scene((rode, *lines), Domain(-30.0, 30.0, -40.0, 22.0), form)
        load = Load(0.0, 0.0, 0.0, 8.0, 1.0, AIR_KGPM3)
        solve_rest(scene, load, 0.0, (0.0, 0.0, math.pi))
        ready = moored(scene, form, 6.0, np.array([0.0, 0.0, math.pi]), Spread(0.0, 1.0, 2, 3))
        flat = np.zeros((1, 2))
        winds = (flat, flat + 8.0, flat + 1.0)
        solved = rests(ready, *winds, ready.all_set)
        flown = Rests(solved.q[0], solved.code[0], solved.line[0])
        held_exactly(ready, (winds[0][0], winds[1][0], winds[2][0]), flown, ready.all_set)
        branch_moves(ready, solved, winds, ready.all_set)
    _in_time(ready)
    _tried_coarsely(ready)
    # the last is on a grid: one bed is enough for what asks the same of every scene
    all_rests(ready, load, 0.0)


def _in_time(ready: Moored) -> None:
    """Her motion in gusts, and adrift once a line has gone."""
    one, start = np.ones(1), np.array([[0.0, 0.0, math.pi]])
    runs = GustRuns(np.zeros(1, np.int64), one, one, 8.0 * one, one, 0.0 * one, start)
    moving = Moving(12e3, 24e3, 150e3, 60.0, np.array([[0.0, 4e3]]))
    moved_by_gusts(ready, moving, Winds(np.zeros((1, 4, 2)), 0.5), runs, Timing(1.0))
    laid = Laid(start, np.array([[1.0, 0.0, 1.0]]))
    states = Path(one, 8.0 * one, one)
    released_rests(ready, states, laid)
    afloat = Afloat(12e3, 24e3, 150e3, 60.0, 9e3, 4e3, 11.0, 0.3, 0.0, 0.0)
    drift(ready, afloat, states, laid, Seconds(1.0, 0.1, 0.5))


def _tried_coarsely(ready: Moored) -> None:
    """The coarse tables lies are tried on, and rests on them."""
    level_m, toward = np.array([0.0, 1.0]), np.array([3.0, 3.3])
    rode, *shore = ready.scene.lines
    assert isinstance(rode, RodeLine)
    assert ready.scene.wind is not None
    tables = [coarse_rode(rode, level_m, toward, 3.0)]
    tables += [shore_table(line, level_m) for line in shore if isinstance(line, ShoreLine)]
    alike = blown(ready.scene.wind, 6.0)
    coarse = put_together(ready.scene, tables, level_m, alike, ready.start)
    flat = np.zeros((1, 2))
    load = Load(0.0, 0.0, 0.0, 0.0, 0.0, AIR_KGPM3)
    rests_alone(coarse, (flat, flat + 8.0, flat + 1.0), coarse.all_set, load)
