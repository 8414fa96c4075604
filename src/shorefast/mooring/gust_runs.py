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
    stiffness_at,
)
from shorefast.mooring.natural import inertia
from shorefast.mooring.quick import LINE_COLUMNS
from shorefast.mooring.rest import Load
from shorefast.mooring.shapes import Floats, Ints
from shorefast.mooring.wind_load import AIR_KGPM3, WATER_KGPM3

STEP_S = 0.05
# of critical, our choice: ropes' own loss, chain through water, waves she makes
DAMPED = 0.05
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
    """How long a run is, from when on it counts, and its step [s]; damping of critical."""

    last_s: float
    counted_from_s: float = 0.0
    step_s: float = STEP_S
    damped: float = DAMPED
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


def moving_of(body: Underbody, keel: float = 0.5) -> Moving:
    """How a yacht moves: inertia with added water, drag along and by strips across.

    Parameters
    ----------
    body : Underbody
    keel : float
        As ``inertia``.

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
    return Moving(*moved, along, np.ascontiguousarray(strip))


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
    steps = _steps(timing.last_s, timing) - _steps(timing.counted_from_s, timing)
    run, code = _columns(runs, timing), np.empty(count, np.int64)
    peaks = Peaks(
        np.full((count, moments, 3), np.nan),
        np.full((count, moments, moments - 1, LINE_COLUMNS), np.nan),
        np.full((count, moments), -1.0),
        np.full((count, steps * timing.traced, TRACE_COLUMNS), np.nan),
    )
    which, start = runs.which.astype(np.int64), np.array(runs.start, float, order="C")
    stiff = np.empty((count, 3, 3))
    stiffness_at(ready.boat, ready.all_set, steady, run, start, stiff)
    damp = modal_damping(moving, stiff, timing.damped)

    def part(some: tuple[int, int]) -> None:
        runs_through(
            ready.boat, moving, winds, which, run, damp, start, ready.all_set, steady,
            timing.step_s, some, code, peaks,
        )  # fmt: skip

    size = max(1, -(-count // _PARTS))
    with ThreadPoolExecutor() as pool:
        list(pool.map(part, [(k, min(count, k + size)) for k in range(0, count, size)]))
    return Moved(code, peaks.q, peaks.line, peaks.trace)


def modal_damping(moving: Moving, stiff: Floats, share: float) -> Floats:
    """Linear damping that takes the same share of critical from each of her own swings.

    Parameters
    ----------
    stiff : array, shape (..., 3, 3)
        At the rest about which she moves, in body axes.
    share : float
        Of critical.

    Returns
    -------
    damp : array, in the same shape
        2 share M^1/2 (M^-1/2 K M^-1/2)^1/2 M^1/2; nothing for a swing that does not come back.

    Source
    ------
    clough-penzien, ch. 12 (modal damping).
    """
    root = np.sqrt(np.array([moving.surge_kg, moving.sway_kg, moving.yaw_kgm2]))
    scaled = stiff / np.outer(root, root)
    known = np.nan_to_num(0.5 * (scaled + np.swapaxes(scaled, -1, -2)))
    value, vector = np.linalg.eigh(known)
    fast = 2.0 * share * np.sqrt(np.maximum(value, 0.0))
    damp: Floats = (vector * fast[..., None, :]) @ np.swapaxes(vector, -1, -2)
    return np.ascontiguousarray(damp * np.outer(root, root))


def _steps(for_s: float, timing: Timing) -> int:
    return int(for_s / timing.step_s + 0.5)


def _columns(runs: GustRuns, timing: Timing) -> Floats:
    run = np.zeros((runs.which.size, RUN_COLUMNS))
    run[:, R_LEVEL], run[:, R_FROM] = runs.level_m, runs.from_rad
    run[:, R_MEAN], run[:, R_SPREAD] = runs.mean_mps, runs.spread_mps
    run[:, R_FIRST], run[:, R_COUNTED], run[:, R_LAST] = (
        runs.first_s, timing.counted_from_s, timing.last_s,
    )  # fmt: skip
    return run
