"""The bed at a place from the soundings round it: mean and doubt, one place at a time.

A Gaussian process with a vague plane under it, on the nearest soundings and a few far
ones (see bay.neighbours). Each sounding's say fades to nothing at the edge of its set,
so the bed has no steps where one sounding leaves it and the next comes in.

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
FADE_FROM, FADE_NOISE = 0.6, 0.1
TINY = 1e-9
NO_SAY_LEFT = 1e11
FACES = 0.06
TURNED = 0.02
OVERSHOOT = 0.1
ALWAYS = 1


class Texture(NamedTuple):
    """How the bed undulates about its local plane.

    length_m: distance over which undulations are alike; noise_share: scatter of one
    sounding's square over the undulations'; rough: 1.0 for a bed with breaks
    (like smoothness 1/2, but without its cusps at the soundings), 0.0 for a rounded one
    (3/2); sill_m2: variance of the undulations; warp: what places are multiplied with, a
    symmetric matrix, where the bed changes faster one way than the other.
    """

    length_m: float
    noise_share: float
    rough: float
    sill_m2: float
    warp_xx: float = 1.0
    warp_xy: float = 0.0
    warp_yy: float = 1.0


@kernel
def likeness(distance_m: float, length_m: float, rough: float) -> float:
    """Correlation of the bed at two places that far apart."""
    x = 1.7320508075688772 * distance_m / length_m
    if rough == 0.0:
        return (1.0 + x) * math.exp(-x)
    # 0.8, 2.4 and 7.2 times as near: together within 0.03 of exp(-distance/length)
    wide = 0.8 * x
    once = math.exp(-wide)
    thrice = once * once * once
    sharp = 0.58 * (1.0 + wide) * once + 0.31 * (1.0 + 3.0 * wide) * thrice
    return sharp + 0.11 * (1.0 + 9.0 * wide) * thrice * thrice * thrice


@kernel
def fading(share: float) -> float:
    """Noise added to a sounding at that share of the neighbourhood's radius."""
    if share <= FADE_FROM:
        return 0.0
    if share >= 1.0 - 1e-6:
        return 1e12
    reached = (share - FADE_FROM) / (1.0 - share)
    return FADE_NOISE * reached * reached


@kernel
def fill_matrix(x: Floats, y: Floats, noise: Floats, texture: Texture, matrix: Floats) -> None:
    """Covariance of the soundings among themselves, upper half, in units of the sill."""
    level2 = PLANE_LEVEL_SHARE * PLANE_LEVEL_SHARE
    slope = PLANE_SLOPE_SHARE / texture.length_m
    slope2 = slope * slope
    for i in range(x.size):
        for j in range(i):
            apart = math.sqrt((x[i] - x[j]) ** 2 + (y[i] - y[j]) ** 2)
            plane = level2 + slope2 * (x[i] * x[j] + y[i] * y[j])
            matrix[j, i] = plane + likeness(apart, texture.length_m, texture.rough)
        matrix[i, i] = 1.0 + level2 + slope2 * (x[i] * x[i] + y[i] * y[i]) + noise[i] + TINY


@kernel
def factor(matrix: Floats, count: int) -> None:
    """Cholesky factor in place, upper half, row by row as it lies in memory."""
    for j in range(count):
        for k in range(j):
            held = matrix[k, j]
            for i in range(j, count):
                matrix[j, i] -= matrix[k, i] * held
        root = math.sqrt(max(matrix[j, j], 1e-12))
        for i in range(j, count):
            matrix[j, i] /= root


@kernel
def forward(matrix: Floats, right: Floats) -> None:
    """Solve the upper triangle's transpose against a right-hand side, in place."""
    for k in range(right.size):
        right[k] /= matrix[k, k]
        held = right[k]
        for i in range(k + 1, right.size):
            right[i] -= matrix[k, i] * held


@kernel
def settle(
    soundings: tuple[Floats, Floats, Floats, Floats, Floats], texture: Texture, matrix: Floats
) -> tuple[float, float]:
    """Mean and variance (in units of the sill) at the middle of a few soundings.

    The mean lies no farther outside the levels that have a say than a tenth of their
    range (our own choice): a slope met at one side does not shoot on past them.
    """
    x, y, level, noise, doubt = soundings
    near = 0.0
    known = 0.0
    weight = 0.0
    wanted = np.empty(x.size)
    for i in range(x.size):
        apart = math.hypot(x[i], y[i])
        say = 1.0 / ((1.0 + noise[i]) * (apart + 0.1 * texture.length_m))
        near += say * level[i]
        known += say * doubt[i]
        weight += say
        wanted[i] = PLANE_LEVEL_SHARE**2 + likeness(apart, texture.length_m, texture.rough)
    near /= weight
    known /= weight
    fill_matrix(x, y, noise, texture, matrix)
    factor(matrix, x.size)
    residue = level - near
    forward(matrix, residue)
    forward(matrix, wanted)
    mean = near
    variance = 1.0 + PLANE_LEVEL_SHARE**2
    for i in range(x.size):
        mean += wanted[i] * residue[i]
        variance -= wanted[i] * wanted[i]
    least, most = 0.0, 0.0
    # as much of what a level is off as it has say beside the one heard best
    best = 1.0 + noise.min()
    for i in range(x.size):
        off = (level[i] - near) * best / (1.0 + noise[i])
        least, most = min(least, off), max(most, off)
    over = OVERSHOOT * (most - least)
    mean = near + min(max(mean - near, least - over), most + over)
    return mean, max(variance, 0.0) + known


@kernel
def edge_of(place: tuple[Floats, Floats], here: tuple[float, float, float], some: Ints) -> float:
    """How far off the farthest of a set is. [m]"""
    edge = TINY
    for one in some:
        if one >= 0:
            edge = max(edge, math.hypot(place[0][one] - here[0], place[1][one] - here[1]))
    return edge


@kernel
def slot_of(which: Ints, count: int, one: int) -> int:
    """Where a sounding already stands among those found; ``count``: nowhere yet."""
    for k in range(count):
        if which[k] == one:
            return k
    return count


@kernel
def gather(
    place: tuple[Floats, Floats, Floats, Floats, Floats],
    here: tuple[float, float, float],
    asked: tuple[Ints, Ints, Texture],
    found: tuple[Ints, Floats, Floats, Floats, Floats, Floats],
) -> int:
    """The soundings that have a say here, each once, with its noise and its fading.

    ``here``: east, north, noise that every set but the first has besides. A sounding
    in several sets counts with the one in which it has faded least.
    """
    east, north, level, noise, doubt = place
    row, ends, texture = asked
    which, x, y, z, n, d = found
    all_there_are = ends.size == 1 and ends[0] >= east.size - 1
    count = 0
    for part in range(ends.size):
        some = row[(ends[part - 1] if part > 0 else 0) : ends[part]]
        edge = edge_of((east, north), here, some)
        besides = here[2] if part > ALWAYS else 0.0
        for one in some:
            if one < 0:
                continue
            apart = math.hypot(east[one] - here[0], north[one] - here[1])
            said = noise[one] + besides + (0.0 if all_there_are else fading(apart / edge))
            if said >= NO_SAY_LEFT:
                continue
            slot = slot_of(which, count, one)
            n[slot] = said if slot == count else min(n[slot], said)
            which[slot], z[slot], d[slot] = one, level[one], doubt[one]
            off_x, off_y = east[one] - here[0], north[one] - here[1]
            x[slot] = texture.warp_xx * off_x + texture.warp_xy * off_y
            y[slot] = texture.warp_xy * off_x + texture.warp_yy * off_y
            count = max(count, slot + 1)
    return count


@kernel
def turned_away(
    place: tuple[Floats, Floats, Floats, Floats, Floats], at: tuple[Floats, Floats], index: Ints
) -> Floats:
    """How much noise far soundings have at each place: none where the near ones leave a side open.

    The near ones surround a place if their spread in the direction of least spread is
    more than their middle lies off it, both squared and over the radius squared.
    """
    east, north = place[0], place[1]
    out = np.empty(index.shape[0])
    for k in range(index.shape[0]):
        edge = TINY
        for one in index[k]:
            edge = max(edge, math.hypot(east[one] - at[0][k], north[one] - at[1][k]))
        total, mx, my, xx, xy, yy = 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
        for one in index[k]:
            x = (east[one] - at[0][k]) / edge
            y = (north[one] - at[1][k]) / edge
            say = 1.0 - math.hypot(x, y) + 1e-6
            total += say
            mx += say * x
            my += say * y
            xx += say * x * x
            xy += say * x * y
            yy += say * y * y
        mx, my = mx / total, my / total
        off = mx * mx + my * my
        xx, xy, yy = xx / total - mx * mx, xy / total - mx * my, yy / total - my * my
        least = 0.5 * (xx + yy) - math.sqrt(0.25 * (xx - yy) ** 2 + xy * xy)
        share = (least - off - TURNED) / (FACES - TURNED)
        out[k] = (
            0.0 if share <= 0.0 else (1e12 if share >= 1.0 - 1e-6 else (share / (1.0 - share)) ** 2)
        )
    return out


@kernel
def krige(
    place: tuple[Floats, Floats, Floats, Floats, Floats],
    at: tuple[Floats, Floats, Floats],
    index: Ints,
    ends: Ints,
    texture: Texture,
) -> tuple[Floats, Floats]:
    """Mean level and variance of the bed at many places from each one's neighbours.

    ``place``: east, north, level, noise of the soundings (noise in units of the
    sill); ``at``: east and north asked, and what noise far soundings have there;
    ``index``: the neighbours of each place, shape (place, k), set after set, -1 for
    none; ``ends``: the column after each set's last. The variance is in units of the
    sill and without the scatter of one sounding.
    """
    most = index.shape[1]
    mean = np.empty(index.shape[0])
    variance = np.empty(index.shape[0])
    matrix = np.empty((most, most))
    which = np.empty(most, np.int64)
    x, y, z = np.empty(most), np.empty(most), np.empty(most)
    n, d = np.empty(most), np.empty(most)
    for k in range(index.shape[0]):
        here = (at[0][k], at[1][k], at[2][k])
        count = gather(place, here, (index[k], ends, texture), (which, x, y, z, n, d))
        if count == 0:
            mean[k], variance[k] = math.nan, math.nan
            continue
        few = (x[:count], y[:count], z[:count], n[:count], d[:count])
        mean[k], variance[k] = settle(few, texture, matrix)
    return mean, variance
