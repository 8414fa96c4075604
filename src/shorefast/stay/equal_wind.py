"""The steady wind that pulls on the free boat as hard as something else does."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shorefast.mooring import AIR_KGPM3, WindForm, wind_force


def equal_winds_mps(
    form: WindForm, height_share: float, pull_n: ArrayLike, off_bow_rad: float
) -> NDArray[np.float64]:
    """Steady wind at 10 m whose force on the free boat is ``pull_n``. [m/s]

    Parameters
    ----------
    form : WindForm
    height_share : float
        The wind at the height of her windage as a share of that at 10 m.
    pull_n : array
        0 or more; NaN unknown. [N]
    off_bow_rad : float
        Where the wind comes from, off the bow. [rad]
    """
    fx, fy, _ = wind_force(form, 1.0, off_bow_rad, AIR_KGPM3)
    return np.asarray(np.sqrt(np.asarray(pull_n, float) / math.hypot(fx, fy)) / height_share)
