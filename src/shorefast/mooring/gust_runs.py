"""Many boats through many gusty winds: runs of ``gust_motion`` in threads."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from shorefast.mooring.batch import Moored
from shorefast.mooring.current_force import SIDE_DRAG, Underbody, along_force
from shorefast.mooring.gust_motion import (
    R_COUNTED,
    R_FIRST,
    R_FROM,
    R_LAST,
    R_LEVEL,
    R_MEAN,
    R_SPREAD,
    RUN_COLUMNS,
    TRACE_COLUMNS,
    Moving,
    Peaks,
    Winds,
    runs_through,
)
from shorefast.mooring.natural import inertia
from shorefast.mooring.quick import LINE_COLUMNS
from shorefast.mooring.rest import Load
from shorefast.mooring.shapes import Floats, Ints
from shorefast.mooring.wind_load import AIR_KGPM3, WATER_KGPM3

STEP_S = 0.05
# our choice: of ships fossen-2021 tells 100 to 250 s (from memory); ropes' own loss,
# chain through water and the waves she makes take more from a yacht on short lines
DAMPED_S = 20.0
_STRIPS = 6
_PARTS = 32


@dataclass(frozen=True)
class GustRuns:
    """What each run is: arrays (run,), ``start`` (run, 3).

    which : the shape of its wind
    level_m : water level [m]; from_rad : where the mean wind comes from
    mean_mps, spread_mps : at the windage's height; the wind is mean + spread x shape
    first_s : the shape's moment at which it begins
    start : east, north, heading from which she is let go, at rest
    """

    which: Ints
    level_m: Floats
    from_rad: Floats
    mean_mps: Floats
    spread_mps: Floats
    first_s: Floats
    start: Floats


@dataclass(frozen=True)
class Timing:
    """How long a run is, from when on it counts, and its step. [s]"""

    last_s: float
    counted_from_s: float = 0.0
    step_s: float = STEP_S
    traced: bool = False


@dataclass(frozen=True)
class Moved:
    """What the runs came to.

    code : (run,) FOUND, LEFT where she left the tables' room, UNKNOWN where a line's bed is
    q : (run, moment, 3) and line : (run, moment, line, column), as of a rest: at the
        greatest pull of each line and, last, at the greatest sum of all. NaN where not FOUND
    trace : (run, step, TRACE_COLUMNS), no steps unless asked for
    """

    code: Ints
    q: Floats
    line: Floats
    trace: Floats


def moving_of(body: Underbody, keel: float = 0.5, damped_s: float = DAMPED_S) -> Moving:
    """How a yacht moves: inertia with added water, drag along and by strips across.

    Parameters
    ----------
    body : Underbody
    keel : float
        As ``inertia``.
    damped_s : float
        Linear damping: every speed alone falls to 1/e in this time. [s]

    Source
    ------
    ufc-4-159-03 (drag along, at 1 m/s; across 1 on hull and keel, from memory).
    """
    moved = inertia(body, keel)
    per_m2 = 0.5 * WATER_KGPM3 * SIDE_DRAG
    place_m = body.waterline_m * ((np.arange(_STRIPS) + 0.5) / _STRIPS - 0.5)
    hull = np.full(_STRIPS, per_m2 * body.waterline_m * body.body_m / _STRIPS)
    strip = np.stack(
        [np.append(place_m, body.keel_x_m), np.append(hull, per_m2 * body.keel_m2)], axis=-1
    )
    along = float(along_force(body, 1.0, 0.0).whole_n)
    return Moving(*moved, damped_s, along, np.ascontiguousarray(strip))


def moved_by_gusts(
    ready: Moored,
    moving: Moving,
    winds: Winds,
    runs: GustRuns,
    timing: Timing,
    extra: Load | None = None,
) -> Moved:
    """Every run through its wind.

    Parameters
    ----------
    ready : Moored
    extra : Load, optional
        A steady load beside the wind.

    Returns
    -------
    Moved
        The same to the bit whatever the number of threads: runs do not meet.
    """
    count, moments = runs.which.size, len(ready.scene.lines) + 1
    steady = extra or Load(0.0, 0.0, 0.0, 0.0, 0.0, AIR_KGPM3)
    steps = round((timing.last_s - timing.counted_from_s) / timing.step_s) if timing.traced else 0
    run, code = _columns(runs, timing), np.empty(count, np.int64)
    peaks = Peaks(
        np.full((count, moments, 3), np.nan),
        np.full((count, moments, moments - 1, LINE_COLUMNS), np.nan),
        np.full((count, moments), -1.0),
        np.full((count, steps, TRACE_COLUMNS), np.nan),
    )
    which, start = runs.which.astype(np.int64), np.array(runs.start, float, order="C")

    def part(some: tuple[int, int]) -> None:
        runs_through(
            ready.boat, moving, winds, which, run, start, ready.all_set, steady,
            timing.step_s, some, code, peaks,
        )  # fmt: skip

    size = max(1, -(-count // _PARTS))
    with ThreadPoolExecutor() as pool:
        list(pool.map(part, [(k, min(count, k + size)) for k in range(0, count, size)]))
    return Moved(code, peaks.q, peaks.line, peaks.trace)


def _columns(runs: GustRuns, timing: Timing) -> Floats:
    run = np.zeros((runs.which.size, RUN_COLUMNS))
    run[:, R_LEVEL], run[:, R_FROM] = runs.level_m, runs.from_rad
    run[:, R_MEAN], run[:, R_SPREAD] = runs.mean_mps, runs.spread_mps
    run[:, R_FIRST], run[:, R_COUNTED], run[:, R_LAST] = (
        runs.first_s, timing.counted_from_s, timing.last_s,
    )  # fmt: skip
    return run
