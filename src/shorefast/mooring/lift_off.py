"""The pull at which the last of a rode leaves a plane bed, so that the shank begins to lift."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from shorefast.compiled import kernel
from shorefast.mooring.rode import pieces_of
from shorefast.mooring.shapes import Floats, LineSegments, Pieces
from shorefast.mooring.span import follow

_LEAST_N, _MOST_N, _HALVINGS = 1e-3, 1e6, 200


@kernel
def over_roller(line: Pieces, slope_rad: float, rise_m: float, shank_n: float) -> float:
    """By how much the end of a rode just lifted comes above the roller. [m]"""
    h_n, v_n = shank_n * math.cos(slope_rad), shank_n * math.sin(slope_rad)
    at, water_m = (0.0, 0.0, h_n, v_n), rise_m - line.roller_m
    _, up_m, _ = follow(line, at, line.cum[-1], water_m, False)
    return float(up_m - rise_m)


@kernel
def lifted(line: Pieces, slope_rad: float, rise_m: float) -> tuple[float, float]:
    """Level pull and distance at the roller when the shank begins to lift.

    0 and NaN where the rode cannot come to lie; infinite and NaN where no pull lifts it.
    """
    low_n, high_n = _LEAST_N, 1.0
    if over_roller(line, slope_rad, rise_m, low_n) <= 0.0:
        return 0.0, math.nan
    while over_roller(line, slope_rad, rise_m, high_n) > 0.0:
        low_n, high_n = high_n, 2.0 * high_n
        if high_n > _MOST_N:
            return math.inf, math.nan
    for _ in range(_HALVINGS):
        middle_n = 0.5 * (low_n + high_n)
        if not low_n < middle_n < high_n:
            break
        if over_roller(line, slope_rad, rise_m, middle_n) > 0.0:
            low_n = middle_n
        else:
            high_n = middle_n
    h_n, v_n = low_n * math.cos(slope_rad), low_n * math.sin(slope_rad)
    at, water_m = (0.0, 0.0, h_n, v_n), rise_m - line.roller_m
    across_m, _, _ = follow(line, at, line.cum[-1], water_m, True)
    return h_n, across_m


@kernel
def lifted_all(line: Pieces, slope_rad: Floats, rise_m: Floats, out: Floats) -> None:
    """``lifted`` for rows of slopes and rises; fills ``out`` (state, 2)."""
    for k in range(slope_rad.shape[0]):
        out[k, 0], out[k, 1] = lifted(line, slope_rad[k], rise_m[k])


def lift_off(
    segments: LineSegments, slope_rad: ArrayLike, rise_m: ArrayLike
) -> tuple[Floats, Floats]:
    """Greatest level pull with the shank still on the bed, and how far off she then lies.

    All the rode hangs in one span that leaves the anchor along the bed: any harder pull
    lifts the shank with it. Elastic, piece by piece, weighed as in air above the water.
    Current on the rode, its bending and the anchor's own size are left out; friction of
    the bed has no say, since nothing lies on it then.

    Parameters
    ----------
    segments : LineSegments
        From the anchor to the bow.
    slope_rad : array
        Of the bed from the anchor toward the roller: above 0 it comes up. [rad]
    rise_m : array, broadcast with it
        The roller above the bed at the anchor. [m]

    Returns
    -------
    pull_n, distance_m : arrays
        Level pull at the roller [N], level distance from anchor to roller [m]. 0 and NaN
        where the rode is too short to lie; infinite and NaN where no pull lifts the shank.

    Raises
    ------
    BadInput
        For a piece that cannot be.

    Source
    ------
    irvine-1981, ch. 1.
    """
    slope, rise = np.broadcast_arrays(np.asarray(slope_rad, float), np.asarray(rise_m, float))
    out = np.empty((slope.size, 2))
    flat = (np.ascontiguousarray(slope.ravel()), np.ascontiguousarray(rise.ravel()))
    lifted_all(pieces_of(segments), *flat, out)
    return out[:, 0].reshape(slope.shape), out[:, 1].reshape(slope.shape)
