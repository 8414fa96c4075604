"""The bed along a bearing, as a line lying out along it will meet it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.bay.surface import DepthSurface
from shorefast.errors import BadInput

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class BedProfile:
    """Level of the bed along a straight line. NaN unknown.

    Attributes
    ----------
    distance_m : array, shape (place,)
        From the start, the end included. [m]
    level_m, deviation_m : arrays, shape (place,)
        Up from chart datum, and its standard deviation. [m]
    """

    distance_m: Floats
    level_m: Floats
    deviation_m: Floats


def along_line(
    east_m: float, north_m: float, bearing_rad: float, distance_m: Floats
) -> tuple[Floats, Floats]:
    """Places at distances from a start along a true bearing. [m]"""
    return (
        east_m + distance_m * math.sin(bearing_rad),
        north_m + distance_m * math.cos(bearing_rad),
    )


def distances_m(length_m: float, spacing_m: float) -> Floats:
    """Even steps from 0 to the length, both ends included, none longer than asked. [m]

    Raises
    ------
    BadInput
        A length or a spacing that is not above 0.
    """
    for name, value in (("length", length_m), ("spacing", spacing_m)):
        if not (math.isfinite(value) and value > 0.0):
            raise BadInput(
                "Bed along a bearing",
                f"a {name} of {value:g} m asked",
                "more than 0 wanted",
                "Correct it.",
            )
    steps = max(1, math.ceil(length_m / spacing_m - 1e-9))
    return np.linspace(0.0, length_m, steps + 1)


def bed_profile(
    surface: DepthSurface,
    east_m: float,
    north_m: float,
    bearing_rad: float,
    length_m: float,
    spacing_m: float = 1.0,
) -> BedProfile:
    """Cut the depth surface along a true bearing.

    Parameters
    ----------
    east_m, north_m : float
        Where it starts. [m]
    bearing_rad : float
        True, clockwise from north.
    length_m, spacing_m : float
        How far, and how far between places at most. [m]

    Raises
    ------
    BadInput
        A length or a spacing that is not above 0.
    """
    distance = distances_m(length_m, spacing_m)
    east, north = along_line(east_m, north_m, bearing_rad, distance)
    return BedProfile(distance, surface.level_at(east, north), surface.deviation_at(east, north))
