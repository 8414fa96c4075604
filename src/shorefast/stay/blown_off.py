"""How far the wind takes her, beam on and held by nothing, in some seconds."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import Laid, Path, Seconds, drift
from shorefast.stay.judge import Judged
from shorefast.stay.plan import Stay
from shorefast.stay.without_drift import afloat_in
from shorefast.stay.without_next import roomy

Floats = NDArray[np.float64]
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
