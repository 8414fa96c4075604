"""Her motion in gusts beside two others: a general integrator, and a library of moving lines.

The integrator solves Lagrange's equations in the bay's axes on lines and wind of its own
(measures.gust_lies, own_motion). The library is MoorDyn 2.7.2 (lumped masses with drag and
added mass of every line); its output and the script that made it are kept in ``moordyn``.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import numpy as np
import pytest
from measures.gust_lies import energy_left, off_integrator, run_of
from measures.lies import drawn

from shorefast.mooring import (
    L_FAR,
    L_TENSION,
    Domain,
    GustRuns,
    LineSegments,
    Moving,
    PlaneBed,
    RodeLine,
    Scene,
    ShoreLine,
    Spread,
    Timing,
    WindForm,
    Winds,
    moored,
    moved_by_gusts,
    rests,
)

KEPT = Path(__file__).parent / "moordyn"


def a_run(shape, level_m, blow, start):
    """One run at a level through one shape: blow is mean, spread, from."""
    one = np.ones(1)
    return GustRuns(
        np.zeros(1, int), level_m * one, blow[2] * one, blow[0] * one, blow[1] * one, 0 * one,
        np.asarray(start, float)[None],
    )  # fmt: skip


# lies on level beds with a rode and two to four lines ashore, of those measures.lies draws
@pytest.fixture(scope="module", params=[10, 20])
def run(request):
    return run_of(drawn(request.param))


def test_lagranges_equations_by_a_general_integrator_take_her_the_same_way(run):
    ranged_m, off_m, turned_rad = off_integrator(run)
    assert ranged_m > 0.5
    # tables are good to 5 mm and 0.05 degrees at rest; in motion that is carried along
    assert off_m < 5e-3
    assert turned_rad < 1e-3


def test_what_wind_and_water_put_in_is_in_her_motion_and_her_lines(run):
    # the lines' energy by catenaries of their own
    assert energy_left(run) < 1e-3


def kept(name):
    with (KEPT / name).open(encoding="utf-8") as file:
        rows = list(csv.reader(file))
    return rows[0], np.array(rows[1:], float)


@pytest.fixture(scope="module")
def both():
    """The library's run and ours, the same boat and wind; (time, column) and Moved."""
    _, told = kept("told.csv")
    _, shape = kept("wind.csv")
    form = WindForm(14.0, 31.0, 13.0, 0.4, 0.95, 0.8, 0.82, 0.45)
    chain = LineSegments(np.array([60.0]), np.array([19.2]), np.array([1e6]))
    rode = RodeLine("rode", 6.3, 0.0, 1.5, 0.0, -58.0, chain, PlaneBed(-17.0, 0.0, 0.0), 0.0)
    lines = tuple(
        ShoreLine(f"stern {side:g}", -5.6, side, 1.1, -7.0 * side, 28.0, 4.8, 25.2, 1.1, 9e4)
        for side in (1.7, -1.7)
    )
    domain = Domain(-20.0, 20.0, -20.0, 20.0)
    ready = moored(
        Scene((rode, *lines), domain, form), form, 6.5, np.array([0.0, 0.0, math.pi]),
        Spread(0.0, 0.0, 1, 61),
    )  # fmt: skip
    strip = np.array([(x, 950.0) for x in (-5.0, -3.0, -1.0, 1.0, 3.0, 5.0)])
    moving = Moving(12_400.0, 21_000.0, 180_000.0, 150.0, strip)
    still = np.zeros((1, 1))
    rest = rests(ready, still, still + 12.0, still + 2.4, ready.all_set)
    runs = a_run(shape, 0.0, (12.0, 2.2, 2.4), rest.q[0, 0])
    ours = moved_by_gusts(
        ready, moving, Winds(shape[None].copy(), 0.5), runs,
        Timing(299.0, damped=0.0, traced=True),
    )  # fmt: skip
    return told[told[:, 0] < 298.99], ours


def test_she_lies_and_moves_where_the_library_has_her(both):
    told, ours = both
    trace = ours.trace[0][::4][: len(told)]
    # the same rest, after a minute's settling there and by statics here
    assert trace[0, :2] == pytest.approx(told[0, 1:3], abs=5e-3)
    assert trace[0, 2] == pytest.approx(told[0, 3], abs=1e-3)
    off_m = np.hypot(*(trace[:, :2] - told[:, 1:3]).T)
    assert np.ptp(told[:, 1]) > 2.5
    # she ranges 2.8 m; drag of chain and ropes through water and air, and their own mass,
    # are the library's alone
    assert off_m.max() < 0.25
    assert off_m.mean() < 0.08
    assert np.abs(trace[:, 2] - told[:, 3]).max() < 0.05


def test_peaks_of_the_lines_are_those_of_the_library(both):
    told, ours = both
    line = ours.line[0]
    # quasi-static lines against moving ones: within 2 % at the roller, cleat and shank
    assert line[0, 0, L_TENSION] == pytest.approx(told[:, 4].max(), rel=0.02)
    assert line[2, 2, L_TENSION] == pytest.approx(told[:, 6].max(), rel=0.02)
    assert line[0, 0, L_FAR] == pytest.approx(told[:, 7].max(), rel=0.02)
    # the third hangs slack throughout; the library has a few grams of it
    assert line[1, 1, L_TENSION] == 0.0
    assert told[:, 5].max() < 1.0


def test_the_peak_over_the_mean_wind_is_what_makes_the_response(both):
    told, _ = both
    # or agreement at rest would be all that is shown: peaks are twice what the mean asks
    assert told[:, 4].max() > 2.0 * told[0, 4]
    assert told[:, 6].max() > 2.0 * told[0, 6]
