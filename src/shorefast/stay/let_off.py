"""Let off her last line: wind and chain have her, then the engine too, moved in time."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import LIES_STILL, Laid, Load, Moored, Seconds, drift
from shorefast.stay.rigging import lie_of
from shorefast.stay.without import Asked
from shorefast.stay.without_drift import afloat_in, steady_in
from shorefast.stay.without_next import States

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
_STEP_S = 0.5
MOMENTS = 5
"""There, twice while the engine is not in yet, twice with it."""


class Pushed(NamedTuple):
    """The engine: how late it is in [s], how hard it then pushes [N], for how long. [s]"""

    late_s: float
    push_n: float
    lasts_s: float


def let_off(asked: Asked, at: Ints, q: Floats, engine: Pushed) -> Floats:
    """Where she is from moment to moment once her last line is gone.

    In the gust she lay in, from lying still, her chain as it is. Once the engine is in it
    pushes her toward her anchor, whatever her heading: the helm's doing is left out, and so
    is what is hove in.

    Parameters
    ----------
    at : int array (hour,)
        Which of the judged times.
    q : array (entry, hour, 3)
        Where she lay.
    engine : Pushed

    Returns
    -------
    array (5, entry, hour, 3): there; half way to the engine, and when it comes in; half way
    through its time, and at its end. NaN where it is not known.

    Source
    ------
    fossen-2021, ch. 6.
    """
    found = np.full((MOMENTS, *q.shape), math.nan)
    found[0] = q
    for k, hour in enumerate(np.asarray(at, np.int64)):
        states = asked.states.some(asked.numbers(np.array([hour])))
        left = np.flatnonzero(np.isfinite(q[:, k]).all(axis=-1))
        push = _toward_anchor(asked, q[left, k], engine.push_n)
        for near in (True, False):
            if left.size:
                ready = asked.waters.ready if near else asked.waters.wide
                some = states.some(left)._replace(q=q[left, k])
                found[1:, left, k] = _moved(asked, ready, some, (engine, push))
                left = left[np.isnan(found[:, left, k]).any(axis=(0, 2))]
    return found


def _toward_anchor(asked: Asked, q: Floats, push_n: float) -> tuple[float, float]:
    """The push east and north, from the middle of where she lay. [N]"""
    if not q.size:
        return 0.0, 0.0
    lie, middle = lie_of(asked.stay), np.median(q, axis=0)
    toward = math.atan2(lie.let_go_east_m - middle[0], lie.let_go_north_m - middle[1])
    return push_n * math.sin(toward), push_n * math.cos(toward)


def _moved(
    asked: Asked, ready: Moored, states: States, engine: tuple[Pushed, tuple[float, float]]
) -> Floats:
    """Where she is at the four moments after the first, (4, state, 3), by some tables."""
    pushed, (east_n, north_n) = engine
    active = np.zeros((states.q.shape[0], len(ready.scene.lines)))
    active[:, 0] = 1.0
    steady = steady_in(asked.stay, asked.judged.extra)
    driven = steady._replace(east_n=steady.east_n + east_n, north_n=steady.north_n + north_n)
    now, found = states.q, []
    for load, lasts_s in ((steady, pushed.late_s), (driven, pushed.lasts_s)):
        track = _for_a_while(asked, ready, states, (Laid(now, active), load, lasts_s))
        found += [track[:, 1, :3], track[:, 2, :3]]
        now = track[:, 2]
    return np.array(found)


def _for_a_while(
    asked: Asked, ready: Moored, states: States, on: tuple[Laid, Load, float]
) -> Floats:
    """Her state at the beginning, half way and at the end, (state, 3, column)."""
    laid, load, lasts_s = on
    clock = Seconds(lasts_s, _STEP_S, 0.5 * lasts_s)
    went = drift(ready, afloat_in(asked.stay), states.path, laid, clock, load)
    track = went.track
    # where she has come to lie still she stays
    for k in (1, 2):
        still = (went.ended == LIES_STILL) & np.isnan(track[:, k]).any(axis=-1)
        track[still, k] = track[still, k - 1]
    return track
