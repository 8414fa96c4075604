"""Soundings that stand above the bed round them: each is kept as a rock of its own."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from shorefast.bay.place import Soundings

Floats = NDArray[np.float64]

ROCK_LEAST_M = 0.3
ROCK_WIDEST_M = 10.0
CLOSE = 4


class Rocks(NamedTuple):
    """Soundings that stand above the bed round them: place, top, lift, how wide. [m]"""

    east_m: Floats
    north_m: Floats
    level_m: Floats
    lift_m: Floats
    width_m: Floats


NO_ROCKS = Rocks(*(np.empty(0),) * 5)


def rocks_of(tops: Soundings, drawn_m: Floats, spacing_m: Floats, uneven_m: float) -> Rocks:
    """The soundings that a drawn bed would bury.

    A sounding stands above the bed if it does so by more than the highest of as many
    would by chance, from the unevenness of the bed or, if that is less, from the doubt
    told with the sounding: a surveyed rock is not buried because the bed is rough.

    Parameters
    ----------
    tops : Soundings
    drawn_m : array
        Level of the bed drawn at each. [m]
    spacing_m : array
        How far apart soundings are round each. [m]
    uneven_m : float
        How far one sounding is out. [m]
    """
    lift = tops.level_m - drawn_m
    chance = np.sqrt(2.0 * np.log(max(tops.level_m.size, 8)))
    told = np.where(tops.deviation_m > 0.0, tops.deviation_m, np.inf)
    kept = lift > np.maximum(ROCK_LEAST_M, chance * np.minimum(uneven_m, told))
    width = np.minimum(spacing_m[kept], ROCK_WIDEST_M)
    return Rocks(tops.east_m[kept], tops.north_m[kept], tops.level_m[kept], lift[kept], width)


def charted(dangers: Soundings, drawn_m: Floats, spacing_m: Floats) -> Rocks:
    """Charted dangers that a drawn bed would bury by anything at all; as ``rocks_of``."""
    lift = dangers.level_m - drawn_m
    kept = lift > 0.0
    width = np.minimum(spacing_m[kept], ROCK_WIDEST_M)
    return Rocks(
        dangers.east_m[kept], dangers.north_m[kept], dangers.level_m[kept], lift[kept], width
    )


def both(one: Rocks, other: Rocks) -> Rocks:
    """Two lots of rocks as one."""
    return Rocks(*(np.concatenate(pair) for pair in zip(one, other, strict=True)))


def lift(rocks: Rocks, places: Floats, drawn_m: Floats, flat_m: float) -> tuple[Floats, Floats]:
    """The bed with its rocks on it, and the doubt about how wide they are. [m]"""
    level, doubt = drawn_m.copy(), np.zeros(drawn_m.size)
    if not rocks.lift_m.size:
        return level, doubt
    tree = cKDTree(np.column_stack((rocks.east_m, rocks.north_m)))
    reach = float(rocks.width_m.max()) + flat_m
    wanted = np.arange(1, min(CLOSE, rocks.lift_m.size) + 1)
    apart, index = tree.query(places, k=wanted, distance_upper_bound=reach)
    for column in range(apart.shape[1]):
        hit = np.flatnonzero(np.isfinite(apart[:, column]))
        one = index[hit, column]
        down = np.maximum(apart[hit, column] - flat_m, 0.0) / rocks.width_m[one]
        inside = down < 1.0
        hit, one, down = hit[inside], one[inside], down[inside]
        level[hit] = np.maximum(level[hit], rocks.level_m[one] - down * rocks.lift_m[one])
        doubt[hit] = np.maximum(doubt[hit], 2.0 * rocks.lift_m[one] * down * (1.0 - down))
    return level, doubt
