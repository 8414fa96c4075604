"""Compiled sums are the sums as written: every kernel, against Python reading the same lines.

The compiler once lost an assignment in a loop that had no condition.
"""

from __future__ import annotations

import json
import math
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from shorefast.mooring import (
    BedLine,
    GridBed,
    LineSegments,
    Load,
    PlaneBed,
    RodeLine,
    Scene,
    ShoreLine,
    ShoreRope,
    Spread,
    WindForm,
    moored,
    rests,
    rode_at_distance,
    rode_at_pull,
    shore_line_at_distance,
    solve_rest,
    wind_force,
)
from shorefast.mooring.scene import Domain

FORM = WindForm(14.0, 31.0, 13.0, 0.4, 0.95, 0.8, 0.82, 0.45)
CHAIN = LineSegments(np.array([12.0, 43.0]), np.array([15.0, 19.2]), np.array([4e5, 8.5e6]))
BED = BedLine(
    np.array([-50.0, 6.0, 10.0, 15.0, 22.0, 24.0, 300.0]),
    np.array([0.0, 0.0, 1.0, 0.2, 3.0, 3.2, 6.0]),
)


def scene(bed):
    rode = RodeLine("rode", 6.3, 0.0, 1.5, 0.0, -48.0, CHAIN, bed, 0.6)
    lines = tuple(
        ShoreLine(f"stern {y}", -5.6, y, 1.1, -7.0 * y, 28.0, 4.8, 23.5, 1.1, 9e4)
        for y in (1.7, -1.7)
    )
    return Scene((rode, *lines), Domain(-9.0, 9.0, -9.0, 9.0), FORM)


def rodes():
    found = [rode_at_pull(CHAIN, BED, 0.6, 16.0, pull) for pull in (90.0, 700.0, 6000.0)]
    found.append(rode_at_distance(CHAIN, BED, 0.6, 16.0, 47.0))
    return [list(vars(form).values()) for form in found]


def shores():
    rope = ShoreRope(24.0, 1.1, 9e4)
    found = [shore_line_at_distance(rope, 1.1, up, x) for up in (0.0, 3.0) for x in (23.0, 24.5)]
    return [[float(value) for value in vars(form).values()] for form in found]


def winds():
    return [wind_force(FORM, 12.0, angle, 1.225) for angle in (-2.9, -1.2, 0.0, 0.6, 3.0)]


def exact():
    place = solve_rest(
        scene(PlaneBed(-16.0, 0.02, 0.1)), Load(0.0, 0.0, 0.0, 9.0, 1.1, 1.225), 0.5,
        (0.0, 0.0, math.pi),
    )  # fmt: skip
    return [place.east_m, place.north_m, place.heading_rad, *place.stiffness.ravel().tolist()]


def batch():
    level = np.add.outer(-16.0 + 0.4 * np.arange(8), 0.2 * np.cos(np.arange(8)))
    grid = GridBed(-70.0, -70.0, 20.0, level)
    start = np.array([0.0, 0.0, math.pi])
    ready = moored(scene(grid), FORM, 6.5, start, Spread(0.0, 1.0, 2, 2))
    here = np.array([[0.2, 0.8]])
    found = rests(ready, here, np.array([[6.0, 11.0]]), np.array([[0.7, 1.9]]), ready.all_set)
    return [found.code.tolist(), found.q.tolist(), found.line.tolist()]


WHAT = {"rodes": rodes, "shores": shores, "winds": winds, "exact": exact, "batch": batch}


@pytest.fixture(scope="module")
def as_written(tmp_path_factory):
    """The same sums by a Python that compiles nothing."""
    here = Path(__file__)
    ask = (
        "import importlib.util, json, sys\n"
        "spec = importlib.util.spec_from_file_location('sums', sys.argv[1])\n"
        "sums = importlib.util.module_from_spec(spec)\n"
        "spec.loader.exec_module(sums)\n"
        "print(json.dumps({name: sums.WHAT[name]() for name in sums.WHAT}))\n"
    )
    cache = str(tmp_path_factory.mktemp("cache"))
    done = subprocess.run(
        [sys.executable, "-c", ask, str(here)],
        env={**os.environ, "NUMBA_DISABLE_JIT": "1", "SHOREFAST_CACHE": cache},
        capture_output=True, text=True, check=True, timeout=250,
    )  # fmt: skip
    return json.loads(done.stdout)


def flat(values):
    if isinstance(values, list | tuple):
        return [one for part in values for one in flat(part)]
    return [float(values)]


@pytest.mark.parametrize("name", WHAT)
def test_compiled_sums_are_the_sums_as_written(as_written, name):
    # a library's sine may differ from the compiler's in its last digit, a search then ends a
    # step apart; a batch stops at a hundredth of a newton
    rel, least = (1e-4, 1e-3) if name == "batch" else (1e-6, 1e-7)
    ours, written = flat(WHAT[name]()), flat(as_written[name])
    assert ours == pytest.approx(written, rel=rel, abs=least, nan_ok=True)
