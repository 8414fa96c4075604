"""Reach: is a point dry, is the longest line long enough from its cleat, how much is left."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shorefast.bay import ShorePoint
from shorefast.boat import Cleat, Yacht, rope
from shorefast.errors import BadInput
from shorefast.stay.outlines import placed

Floats = NDArray[np.float64]

SMALL_PULL_N = 100.0
"""What one hand hauls a slack line in with: our choice, common practice, no source."""
MADE_FAST_M = 3.0
"""Line that goes into knot and turns on the cleat: our choice, common practice, no source."""


@dataclass(frozen=True)
class PointReach:
    """One point ashore as the lines aboard reach it; arrays of the states asked for.

    Attributes
    ----------
    point, cleat : str
        The cleat told for it, else the one that needs least line in most states.
    line : str or None
        The longest aboard, which the point is measured with; None: no line aboard.
    length_m : float
        Of that line. [m]
    dry_m : array
        The point above the water; not above 0: drowned. NaN unknown. [m]
    needed_m : array
        Line from cleat to point at a small pull, knot and turns included. [m]
    left_m, left_doubled_m : array
        What is left of the line led singly, and out and back; below 0: too short. [m]
    """

    point: str
    cleat: str
    line: str | None
    length_m: float
    dry_m: Floats
    needed_m: Floats
    left_m: Floats
    left_doubled_m: Floats


def hung_length_m(
    across_m: ArrayLike, rise_m: ArrayLike, weight_npm: float, pull_n: float
) -> Floats:
    """Length of a line that hangs in a catenary between two ends at a horizontal pull.

    s² = h² + (2 a sinh(d / 2 a))², a = H / w. Stretch is left out (it makes a line
    longer), and so is what the water carries where the bight hangs into it.

    Parameters
    ----------
    across_m, rise_m : float or array
        From end to end, level and upright (d, h). [m]
    weight_npm, pull_n : float
        Weight in air (w) and horizontal pull (H), above 0. [N/m, N]

    Returns
    -------
    length_m : array, the inputs broadcast together. [m]

    Source
    ------
    irvine-1981, ch. 1 (from memory).
    """
    a_m = pull_n / weight_npm
    bowed_m = 2.0 * a_m * np.sinh(np.asarray(across_m, float) / (2.0 * a_m))
    return np.asarray(np.hypot(rise_m, bowed_m))


def reach(
    boat: Yacht,
    points: Sequence[ShorePoint],
    q: Floats,
    level_m: Floats,
    cleats: Mapping[str, str] | None = None,
) -> tuple[PointReach, ...]:
    """How every point is reached by the longest line aboard.

    Parameters
    ----------
    q : array (..., 3)
        Where she lies: east, north [m], heading [rad]; NaN where nobody knows.
    level_m : array (...,)
        Water level above chart datum; NaN unknown. [m]
    cleats : mapping, optional
        Which cleat serves a point, where that is settled.

    Raises
    ------
    BadInput
        If a cleat is asked that is not aboard, or she has none.
    """
    told = cleats or {}
    return tuple(_reach(boat, one, q, level_m, told.get(one.name)) for one in points)


def _reach(
    boat: Yacht, point: ShorePoint, q: Floats, level_m: Floats, cleat: str | None
) -> PointReach:
    longest = max(boat.lines, key=lambda line: line.length_m, default=None)
    weight_npm = 1.0
    if longest is not None:
        weight_npm = rope(longest.fibre, longest.diameter_m).air_weight_npm
    served = [
        (one, _needed_m(one, point, q, level_m, weight_npm)) for one in _asked(boat, cleat, point)
    ]
    best, needed_m = min(served, key=lambda pair: _middle(pair[1]))
    length_m = np.nan if longest is None else longest.length_m
    twice_m = 2.0 * needed_m - MADE_FAST_M
    return PointReach(
        point.name,
        best.name,
        None if longest is None else longest.name,
        float(length_m),
        point.height_m - np.asarray(level_m, float),
        needed_m,
        length_m - needed_m,
        length_m - twice_m,
    )


def _asked(boat: Yacht, cleat: str | None, point: ShorePoint) -> list[Cleat]:
    aboard = [one for one in boat.cleats if cleat is None or one.name == cleat]
    if not aboard:
        known = ", ".join(one.name for one in boat.cleats) or "none"
        raise BadInput(
            f"Reach of {point.name}",
            "no cleat" if cleat is None else f"cleat '{cleat}'",
            f"cleats aboard: {known}",
            "Correct the name, or add the cleat to the boat file.",
        )
    return aboard


def _needed_m(
    cleat: Cleat, point: ShorePoint, q: Floats, level_m: Floats, weight_npm: float
) -> Floats:
    spot = cleat.spot
    at = placed(np.array([(spot.x_m, spot.y_m)]), np.asarray(q, float))[..., 0, :]
    across_m = np.hypot(at[..., 0] - point.east_m, at[..., 1] - point.north_m)
    rise_m = point.height_m - (np.asarray(level_m, float) + spot.z_m)
    return hung_length_m(across_m, rise_m, weight_npm, SMALL_PULL_N) + MADE_FAST_M


def _middle(needed_m: Floats) -> float:
    known = needed_m[np.isfinite(needed_m)]
    return float(np.median(known)) if known.size else float("inf")
