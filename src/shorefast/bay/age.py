"""What a sounding's age adds to its doubt."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from shorefast.bay.place import Soundings

Floats = NDArray[np.float64]

SHIFT_M_PER_ROOT_YEAR = 0.05


def grown_old(
    soundings: Soundings, age_years: Floats, shift_m: float = SHIFT_M_PER_ROOT_YEAR
) -> Soundings:
    """Soundings whose doubt has grown since they were taken, so that newer ones weigh more.

    The bed is taken to have wandered up and down by chance, 5 cm in a year and 16 cm in
    ten: our own default, no source. Rock does not wander: give 0 there. A sounding with
    no doubt told (NaN) keeps none; an age unknown (NaN) adds nothing.

    Parameters
    ----------
    age_years : array, shape (sounding,)
    shift_m : float
        Standard deviation of the wandering in the first year. [m]
    """
    age = np.maximum(np.nan_to_num(age_years), 0.0)
    return replace(soundings, deviation_m=np.hypot(soundings.deviation_m, shift_m * np.sqrt(age)))
