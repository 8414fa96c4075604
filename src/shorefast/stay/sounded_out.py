"""A value found place by place, outward from one place, as far as it stays below nothing."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Asked = Callable[[float, float], float]
_AROUND = tuple((i, j) for i in (-1, 0, 1) for j in (-1, 0, 1) if (i, j) != (0, 0))
# the first look goes out by doubling this [m]
_FIRST_M = 0.5
_STEPS_M = (0.25, 0.5, 1.0, 1.5, 2.0, 3.0)
_LEAST_STEPS = 3.0


@dataclass(frozen=True)
class Lattice:
    """What was found: lines (column,), (row,) [m]; value (row, column), NaN not asked.

    cut : whether it still was below nothing where the looking ended.
    """

    east_m: Floats
    north_m: Floats
    value: Floats
    cut: bool
    asked: int


def found_around(ask: Asked, east_m: float, north_m: float, far_m: float) -> Lattice:
    """Ask round a place on a lattice until every place below nothing has its neighbours.

    The lattice's step follows from a first look in eight directions: at least three steps
    to the nearest side.

    Parameters
    ----------
    ask : of a place's east and north [m], the value there; NaN where nobody knows
    far_m : float
        How far out is looked. [m]
    """
    asked: dict[tuple[float, float], float] = {}

    def at(east: float, north: float) -> float:
        key = (round(east, 3), round(north, 3))
        if key not in asked:
            asked[key] = ask(east_m + east, north_m + north)
        return asked[key]

    step_m = _step(at, far_m)
    found = dict(_spread(at, step_m, far_m))
    reach = max((max(abs(i), abs(j)) for i, j in found), default=0)
    line_m: Floats = step_m * np.arange(-reach, reach + 1, dtype=np.float64)
    value = np.full((2 * reach + 1, 2 * reach + 1), math.nan)
    for (i, j), here in found.items():
        value[j + reach, i + reach] = here
    most = int(far_m / step_m)
    cut = any(here <= 0.0 and max(abs(i), abs(j)) >= most for (i, j), here in found.items())
    return Lattice(east_m + line_m, north_m + line_m, value, cut, len(asked))


def _step(at: Asked, far_m: float) -> float:
    """The step that puts three between the middle and the nearest side."""
    sides = []
    for i, j in _AROUND:
        out_m = _FIRST_M
        while out_m < far_m and at(i * out_m, j * out_m) <= 0.0:
            out_m *= 2.0
        sides.append(0.75 * out_m * math.hypot(i, j))
    wanted = float(np.mean(sides)) / _LEAST_STEPS
    return max((step for step in _STEPS_M if step <= wanted), default=_STEPS_M[0])


def _spread(at: Asked, step_m: float, far_m: float) -> Iterator[tuple[tuple[int, int], float]]:
    """Every place reached from the middle through places below nothing, and their edge."""
    most = int(far_m / step_m)
    seen, ahead = {(0, 0)}, [(0, 0)]
    while ahead:
        i, j = ahead.pop(0)
        here = at(i * step_m, j * step_m)
        yield (i, j), here
        if not here <= 0.0:
            continue
        for k, m in _AROUND:
            near = (i + k, j + m)
            if near not in seen and max(abs(near[0]), abs(near[1])) <= most:
                seen.add(near)
                ahead.append(near)
