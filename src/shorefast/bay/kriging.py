"""The bed at a place from the soundings round it: mean and doubt, one place at a time.

A Gaussian process with a vague plane under it, on the nearest soundings only. Each
sounding's say fades to nothing at the edge of the neighbourhood, so the bed has no
steps where one sounding leaves the neighbourhood and the next comes in.

Source
------
rasmussen-williams-2006, ch. 2 eqs 2.25-2.26 (mean and variance), ch. 4 eq. 4.17
(covariance with smoothness 3/2); rivoirard-romary-2011 (the fading edge). From memory.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.compiled import kernel

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

PLANE_LEVEL_SHARE = 100.0
PLANE_SLOPE_SHARE = 10.0
FADE_FROM = 0.6
TINY = 1e-9


class Texture(NamedTuple):
    """How the bed undulates about its local plane.

    length_m: distance over which undulations are alike; noise_share: scatter of one
    sounding's square over the undulations'; rough: 1.0 for a bed with breaks
    (smoothness 1/2), 0.0 for a rounded one (3/2); sill_m2: variance of the undulations.
    """

    length_m: float
    noise_share: float
    rough: float
    sill_m2: float


@kernel
def likeness(distance_m: float, length_m: float, rough: float) -> float:
    """Correlation of the bed at two places that far apart."""
    if rough > 0.5:
        return math.exp(-distance_m / length_m)
    x = 1.7320508075688772 * distance_m / length_m
    return (1.0 + x) * math.exp(-x)


@kernel
def fading(share: float) -> float:
    """Noise added to a sounding at that share of the neighbourhood's radius."""
    if share <= FADE_FROM:
        return 0.0
    if share >= 1.0 - 1e-6:
        return 1e12
    reached = (share - FADE_FROM) / (1.0 - share)
    return reached * reached


@kernel
def fill_matrix(x: Floats, y: Floats, noise: Floats, texture: Texture, matrix: Floats) -> None:
    """Covariance of the soundings among themselves, lower half, in units of the sill."""
    level2 = PLANE_LEVEL_SHARE * PLANE_LEVEL_SHARE
    slope = PLANE_SLOPE_SHARE / texture.length_m
    slope2 = slope * slope
    for i in range(x.size):
        for j in range(i):
            apart = math.hypot(x[i] - x[j], y[i] - y[j])
            plane = level2 + slope2 * (x[i] * x[j] + y[i] * y[j])
            matrix[i, j] = plane + likeness(apart, texture.length_m, texture.rough)
        matrix[i, i] = 1.0 + level2 + slope2 * (x[i] * x[i] + y[i] * y[i]) + noise[i] + TINY


@kernel
def factor(matrix: Floats) -> None:
    """Cholesky factor in place, lower half."""
    for j in range(matrix.shape[0]):
        for k in range(j):
            held = matrix[j, k]
            for i in range(j, matrix.shape[0]):
                matrix[i, j] -= matrix[i, k] * held
        root = math.sqrt(max(matrix[j, j], 1e-12))
        for i in range(j, matrix.shape[0]):
            matrix[i, j] /= root


@kernel
def forward(matrix: Floats, right: Floats) -> None:
    """Solve the lower triangle against a right-hand side, in place."""
    for i in range(right.size):
        total = right[i]
        for k in range(i):
            total -= matrix[i, k] * right[k]
        right[i] = total / matrix[i, i]


@kernel
def settle(
    soundings: tuple[Floats, Floats, Floats, Floats],
    edge: float,
    texture: Texture,
    matrix: Floats,
) -> tuple[float, float]:
    """Mean and variance (in units of the sill) at the middle of a few soundings."""
    x, y, level, noise = soundings
    near = 0.0
    weight = 0.0
    wanted = np.empty(x.size)
    for i in range(x.size):
        apart = math.hypot(x[i], y[i])
        share = apart / edge
        noise[i] += fading(share)
        near += (1.0 - share + 1e-6) * level[i]
        weight += 1.0 - share + 1e-6
        wanted[i] = PLANE_LEVEL_SHARE**2 + likeness(apart, texture.length_m, texture.rough)
    near /= weight
    fill_matrix(x, y, noise, texture, matrix)
    factor(matrix)
    residue = level - near
    forward(matrix, residue)
    forward(matrix, wanted)
    mean = near
    variance = 1.0 + PLANE_LEVEL_SHARE**2
    for i in range(x.size):
        mean += wanted[i] * residue[i]
        variance -= wanted[i] * wanted[i]
    return mean, max(variance, 0.0)


@kernel
def krige(
    place: tuple[Floats, Floats, Floats, Floats],
    east_m: Floats,
    north_m: Floats,
    index: Ints,
    texture: Texture,
) -> tuple[Floats, Floats]:
    """Mean level and variance of the bed at many places from each one's neighbours.

    ``place``: east, north, level, noise of the soundings (noise in units of the
    sill); ``index``: the neighbours of each place, nearest first, shape (place, k).
    The variance is in units of the sill and without the scatter of one sounding.
    """
    east, north, level, noise = place
    count = index.shape[1]
    all_there_are = count >= east.size - 1
    mean = np.empty(east_m.size)
    variance = np.empty(east_m.size)
    matrix = np.empty((count, count))
    x, y, z, n = np.empty(count), np.empty(count), np.empty(count), np.empty(count)
    for at in range(east_m.size):
        for i in range(count):
            one = index[at, i]
            x[i] = east[one] - east_m[at]
            y[i] = north[one] - north_m[at]
            z[i] = level[one]
            n[i] = noise[one]
        edge = 1e30 if all_there_are else max(math.hypot(x[-1], y[-1]), TINY)
        mean[at], variance[at] = settle((x, y, z, n), edge, texture, matrix)
    return mean, variance
