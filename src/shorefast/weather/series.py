"""Wind by member and hour, and the water's level by the minute."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Basis

Times = NDArray[np.datetime64]
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Wind:
    """Wind at one place as a forecast tells it. NaN means unknown.

    Attributes
    ----------
    member : int array, shape (member,)
        Numbers of the ensemble's members; ``[0]`` for a single run.
    time_utc : datetime64[s] array, shape (time,)
        Rising.
    wind_mps, wind_from_rad, gust_mps : arrays, shape (member, time)
        Mean wind, where it blows from (true), gust. [m/s, rad]
    gust_over_s : float
        0: the gust at the instant; else the most of the span that ends there. [s]
    height_m : float
        Height above the ground that it holds for. [m]
    """

    member: NDArray[np.int64]
    time_utc: Times
    wind_mps: Floats
    wind_from_rad: Floats
    gust_mps: Floats
    gust_over_s: float
    height_m: float
    basis: Basis


@dataclass(frozen=True)
class WaterLevel:
    """Height of the water above chart datum. [m]

    Attributes
    ----------
    time_utc : datetime64[s] array, shape (time,)
    height_m : array, shape (time,)
    turning : bool
        True where the times are high and low waters (half cosine between);
        False where they are heights in a row (straight lines between).
    """

    time_utc: Times
    height_m: Floats
    turning: bool
    basis: Basis
