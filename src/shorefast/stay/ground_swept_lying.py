"""How far from her anchor her chain touches the bed, lying to her lines."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import RodeLine, rode_at_pull
from shorefast.stay.ground_swept_free import bed_toward
from shorefast.stay.plan import Stay

Floats = NDArray[np.float64]
_APART_DEG, _PULLS, _LEAST_N = 2.0, 25, 10.0


def touches_m(
    stay: Stay, rode: RodeLine, level_m: Floats, toward_rad: Floats, pull_n: Floats
) -> Floats:
    """How far off the anchor the last touch of the bed is, level. NaN where unknown. [m]

    On a real bed chain hangs over hollows between one touch and the next: what lies is
    less than how far it reaches. Of exact shapes at every other degree in use, read
    straight between two water levels and between pulls.

    Parameters
    ----------
    level_m, toward_rad, pull_n : arrays of the states
        Water [m]; bearing from the anchor [rad]; level pull at the roller [N].
    """
    found = np.full(level_m.shape, math.nan)
    known = np.isfinite(level_m + toward_rad + pull_n)
    if not known.any():
        return found
    ends_m = np.array([level_m[known].min(), level_m[known].max()])
    pulls = np.geomspace(_LEAST_N, max(2.0 * _LEAST_N, float(pull_n[known].max())), _PULLS)
    log = np.log(np.clip(pull_n, pulls[0], pulls[-1]))
    high = (level_m - ends_m[0]) / max(float(np.ptp(ends_m)), 1e-9)
    step = np.rint(np.degrees(np.nan_to_num(toward_rad)) / _APART_DEG).astype(np.int64)
    for one in np.unique(step[known]).tolist():
        here = known & (step == one)
        rows = _rows(stay, rode, math.radians(one * _APART_DEG), ends_m, pulls)
        low, top = (np.interp(log[here], np.log(pulls), row) for row in rows)
        found[here] = low + high[here] * (top - low)
    return found


def _rows(stay: Stay, rode: RodeLine, toward: float, ends_m: Floats, pulls: Floats) -> Floats:
    """The last touch at both water levels by pull, (2, pull). [m]"""
    bed = bed_toward(stay, toward, float(np.sum(rode.segments.length_m)), math.inf)
    rows = np.full((2, pulls.size), math.nan)
    if bed is None:
        return rows
    for k, level_m in enumerate(ends_m.tolist()):
        for p, pull in enumerate(pulls.tolist()):
            form = rode_at_pull(rode.segments, bed, rode.friction, level_m + rode.z_m, pull)
            rows[k, p] = form.touchdown_m if form.on_bottom_m > 0.0 else 0.0
    return rows
