"""How far the wind takes her in some seconds: held by nothing, or by her chain alone."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import LIES_STILL, Laid, Moored, Path, Seconds, drift
from shorefast.stay.judge import Judged
from shorefast.stay.plan import Stay
from shorefast.stay.without import Asked
from shorefast.stay.without_drift import Pace, afloat_in, steady_in, ways
from shorefast.stay.without_next import States, roomy

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
_TWO_MINUTES = Pace(0.25, 1.0, 120.0)
_STEP_S, _LONG_STEP_S, _MOST_MPS, _WINDS = 0.1, 0.25, 45.0, 13


def blown_m(stay: Stay, judged: Judged, gust_mps: Floats, lasts_s: float) -> Floats:
    """How far downwind she is after some seconds in a gust, from lying still beam on to it.

    As she moves: with added mass, drag by strips, and the wind by her speed through it. The
    current is left out. Between winds half a dozen knots apart, straight lines.

    Parameters
    ----------
    gust_mps : array
        At 10 m. Beyond 45 m/s as there. NaN unknown. [m/s]
    lasts_s : float

    Returns
    -------
    array, in the shape of ``gust_mps``. [m]

    Source
    ------
    fossen-2021, ch. 6.
    """
    winds = np.linspace(0.0, _MOST_MPS, _WINDS)
    ready = roomy(judged.ready)
    lines = len(ready.scene.lines)
    level_m = float(np.nanmean(judged.judgement.water_level_m))
    path = Path(
        np.full(_WINDS, level_m if math.isfinite(level_m) else 0.0),
        winds * judged.rigged.height_share,
        np.zeros(_WINDS),
    )
    q = np.tile([*ready.start[:2], 0.5 * math.pi], (_WINDS, 1))
    afloat = afloat_in(replace(stay, current=None))
    laid = Laid(q, np.zeros((_WINDS, lines)))
    found = drift(ready, afloat, path, laid, Seconds(max(lasts_s, _STEP_S), _STEP_S, _STEP_S))
    last = np.array([row[np.isfinite(row)][-1] for row in found.q[..., 1]])
    return np.asarray(np.interp(gust_mps, winds, q[:, 1] - last))


def let_off(asked: Asked, at: Ints, q: Floats, lasts_s: float) -> Floats:
    """Where she is, half way through some seconds and at their end, once her last line is gone.

    Held by her chain alone, in the gust she lay in, moved in time from lying still.

    Parameters
    ----------
    at : int array (hour,)
        Which of the judged times.
    q : array (entry, hour, 3)
        Where she lay.
    lasts_s : float

    Returns
    -------
    array (2, entry, hour, 3); NaN where it is not known

    Source
    ------
    fossen-2021, ch. 6.
    """
    states, flat = asked.states.some(asked.numbers(at)), np.asarray(q, float).reshape(-1, 3)
    found = np.full((2, flat.shape[0], 3), math.nan)
    left = np.flatnonzero(np.isfinite(flat).all(axis=-1))
    for near in (True, False):
        if left.size:
            ready = asked.waters.ready if near else asked.waters.wide
            found[:, left] = _let_off(asked, ready, states.some(left), flat[left], lasts_s)
            left = left[np.isnan(found[:, left]).any(axis=(0, 2))]
    return found.reshape(2, *q.shape)


def _let_off(asked: Asked, ready: Moored, states: States, q: Floats, lasts_s: float) -> Floats:
    """Where she is half way and at the end, (2, state, 3), by some tables."""
    active = np.zeros((q.shape[0], len(ready.scene.lines)))
    active[:, 0] = 1.0
    clock = Seconds(lasts_s, _LONG_STEP_S, 0.5 * lasts_s)
    steady = steady_in(asked.stay, asked.judged.extra)
    went = drift(ready, afloat_in(asked.stay), states.path, Laid(q, active), clock, steady)
    found = np.moveaxis(went.q, 1, 0)
    # where she has come to lie still she stays
    still = (went.ended == LIES_STILL)[:, None]
    half = np.where(still & np.isnan(found[1]), found[0], found[1])
    return np.stack([half, np.where(still & np.isnan(found[2]), half, found[2])])


def touching_alone(asked: Asked, at: int, q: Floats) -> tuple[Floats, list[str | None]]:
    """How soon she touches, and what, once she has her chain alone and no engine.

    Followed in time for two minutes from where she lay, all chain out, member by member.

    Parameters
    ----------
    at : int
        Which of the judged times.
    q : array (entry, 3)
        Where she lay to her last line.

    Returns
    -------
    seconds : array (entry,), NaN where she does not or it is not known
    of : what she touches, None where nothing
    """
    states = asked.states.some(asked.numbers(np.array([at])))._replace(q=np.asarray(q, float))
    active = np.zeros((q.shape[0], len(asked.waters.ready.scene.lines)))
    active[:, 0] = 1.0
    way = ways(asked.stay, asked.waters, states, active, _TWO_MINUTES)
    return way.seconds, way.of
