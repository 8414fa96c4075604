"""How far the wind takes her: held by nothing, or by her chain alone and no engine."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import Laid, Path, Seconds, drift
from shorefast.stay.judge import Judged
from shorefast.stay.plan import Stay
from shorefast.stay.without import Asked
from shorefast.stay.without_drift import Pace, afloat_in, ways
from shorefast.stay.without_next import roomy

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
_TWO_MINUTES = Pace(0.25, 1.0, 120.0)
_STEP_S, _MOST_MPS, _WINDS = 0.1, 45.0, 13


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
