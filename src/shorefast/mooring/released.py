"""Next rests: from where she lay, with some of her lines gone, every state by itself."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import NamedTuple

import numpy as np

from shorefast.compiled import kernel
from shorefast.mooring.batch import WITHIN_N, Moored, Path, Rests, Told, air_at, is_told, tell
from shorefast.mooring.cells import level_cell
from shorefast.mooring.quick import LINE_COLUMNS, come_near, fresh_near, put_at
from shorefast.mooring.rest import FOUND, UNKNOWN, Boat, Load, State, come_to_rest
from shorefast.mooring.settling import settle_there
from shorefast.mooring.shapes import Floats
from shorefast.mooring.wind_load import AIR_KGPM3

_STATES_AT_ONCE = 512


class Laid(NamedTuple):
    """Where she lay and which lines are left, state by state.

    q : array (state, 3), east, north [m], heading [rad]; NaN unknown
    active : array (state, line), 1 for a line that is set, 0 for one that is gone
    """

    q: Floats
    active: Floats


@kernel
def settle_at_once(boat: Boat, state: State, start: Floats, q: Floats) -> int:
    """As ``settle_there``, given up where damped motion does not lead to a rest."""
    code = come_to_rest(boat, state, WITHIN_N, q)
    if code != FOUND:
        return code
    return settle_there(boat, state, start, WITHIN_N, q)


@kernel
def released_states(
    boat: Boat,
    path: Path,
    laid: Laid,
    extra: Load,
    span: tuple[int, int],
    told: Told,
    patient: bool,
) -> None:
    """Next rests of the states from the first up to, not with, the second of ``span``.

    Beside a rest Newton's method; else the damped motion from where she lay. ``told`` is
    NaN where there is none, but for where she got to, if ``patient`` is not asked.
    """
    near, q = fresh_near(laid.active.shape[1]), np.empty(3)
    for k in range(span[0], span[1]):
        told.code[k] = UNKNOWN
        q[:] = np.nan
        active = laid.active[k]
        if is_told(path, k) and np.isfinite(laid.q[k]).all():
            q[:] = laid.q[k]
            water, air = level_cell(boat.cells.level_m, path.level_m[k]), air_at(path, k, extra)
            put_at(near.q, q[0], q[1], q[2])
            arm_m = boat.space.arm_m
            if come_near(boat.cells, active, boat.wind, water, air, near, arm_m, WITHIN_N):
                told.code[k] = FOUND
            else:
                load = Load(
                    extra.east_n, extra.north_n, extra.moment_npm,
                    path.wind_mps[k], path.from_rad[k], extra.density_kgpm3,
                )  # fmt: skip
                state = State(path.level_m[k], load, active, water, near)
                if patient:
                    told.code[k] = settle_there(boat, state, laid.q[k], WITHIN_N, q)
                else:
                    told.code[k] = settle_at_once(boat, state, laid.q[k], q)
        if told.code[k] == FOUND:
            tell(boat, water, active, near, k, told)
        else:
            told.line[k] = np.nan
            told.q[k] = q
            if patient:
                told.q[k] = np.nan


def released_rests(
    ready: Moored, states: Path, laid: Laid, extra: Load | None = None, *, patient: bool = True
) -> Rests:
    """Where she comes to rest once some of her lines are gone, from where she lay.

    Damped motion under the same wind and water, each state by itself: what happened an
    hour before does not count. What the swing there does to the lines that are left
    is ``drift``'s to tell.

    Parameters
    ----------
    ready : Moored
    states : Path, arrays (state,)
        Water level, wind at the height of the windage, where it blows from.
    laid : Laid
    extra : Load, optional
        A steady load beside the wind.
    patient : bool
        Whether other ways to a rest are tried where damped motion from there leads to none.
        Without it she is told to come to none at once, and ``q`` is where she got to.

    Returns
    -------
    Rests
        Arrays (state, ...). A state whose lines pull no more than they did keeps its
        place to the bit. The same to the bit whatever the number of threads.
    """
    count = laid.q.shape[0]
    lines = len(ready.scene.lines)
    steady = extra or Load(0.0, 0.0, 0.0, 0.0, 0.0, AIR_KGPM3)
    told = Told(
        np.empty((count, 3)), np.empty(count, np.int64), np.empty((count, lines, LINE_COLUMNS))
    )
    flat = Path(*(np.ascontiguousarray(a, float) for a in states))
    from_there = Laid(*(np.ascontiguousarray(a, float) for a in laid))

    def part(first: int) -> None:
        span = (first, min(count, first + _STATES_AT_ONCE))
        released_states(ready.boat, flat, from_there, steady, span, told, patient)

    firsts = range(0, count, _STATES_AT_ONCE)
    if len(firsts) > 1:
        with ThreadPoolExecutor() as pool:
            list(pool.map(part, firsts))
    else:
        for first in firsts:
            part(first)
    return Rests(*told)
