"""Soundings made ready for the bed: doubles dropped, those in one cell taken together."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.bay.place import Soundings
from shorefast.errors import BadInput

Floats = NDArray[np.float64]

ALIKE_MOST = 4.0


def check_soundings(soundings: Soundings) -> None:
    """Raise BadInput for fewer than three soundings, or some that are no numbers."""
    count = soundings.east_m.size
    if count < 3:
        raise BadInput(
            "Soundings",
            f"{count} given",
            "a bed needs at least 3",
            "Add soundings round the berth.",
        )
    parts = (soundings.east_m, soundings.north_m, soundings.level_m)
    bad = sum(int(np.sum(~np.isfinite(part))) for part in parts)
    if bad:
        raise BadInput(
            "Soundings", f"{bad} are not numbers", "finite ones wanted", "Leave those out."
        )


class Together(NamedTuple):
    """One sounding a cell (the mean), the shoalest of every cell, scatter in a cell. [m]"""

    means: Soundings
    shoalest: Soundings
    within_m: float


def _column(soundings: Soundings) -> tuple[Floats, Floats, Floats, Floats]:
    deviation = np.nan_to_num(soundings.deviation_m)
    return soundings.east_m, soundings.north_m, soundings.level_m, deviation


def taken_together(soundings: Soundings, cell_m: float) -> Together:
    """Sort soundings into cells that do not move with the data; each counts by its doubt.

    The same sounding twice is one sounding. Where a doubt was told, a cell's mean
    leans to the better soundings, and its doubt falls with their number to half the
    best one's at most: what is wrong with one survey is wrong with all of it.

    Raises
    ------
    BadInput
        If all lie in one cell.
    """
    east, north, level, deviation = _column(soundings)
    row, column = np.floor(north / cell_m), np.floor(east / cell_m)
    order = np.lexsort((soundings.track, deviation, north, east, -level, column, row))
    cell = np.column_stack((row, column, east, north, level, deviation))[order]
    step = np.diff(cell, axis=0, prepend=np.nan) != 0.0
    order, cell_new = order[step.any(axis=1)], step[:, :2].any(axis=1)[step.any(axis=1)]
    first = np.flatnonzero(cell_new)
    if first.size < 2:
        raise BadInput(
            "Soundings",
            f"{east.size} given, all in one place",
            "a bed needs several",
            "Add soundings round the berth.",
        )
    count = np.diff(first, append=order.size)
    typical = float(np.median(deviation[deviation > 0.0])) if (deviation > 0.0).any() else 1.0
    told = np.where(deviation > 0.0, deviation, typical)[order]
    least = np.minimum.reduceat(told, first)
    # over the best of the cell, so that equal doubts weigh 1 to the bit
    weight = (np.repeat(least, count) / told) ** 2
    whole = np.add.reduceat(weight, first)

    def mean(part: Floats) -> Floats:
        return np.asarray(np.add.reduceat(part[order] * weight, first) / whole)

    best = np.minimum.reduceat(np.where(deviation > 0.0, deviation, np.inf)[order], first)
    doubt = np.maximum(best / math.sqrt(ALIKE_MOST), least / np.sqrt(whole))
    middle = mean(level)
    top = order[first]
    told_m = np.where(np.isfinite(best), doubt, 0.0)
    means = Soundings(mean(east), mean(north), middle, told_m, soundings.track[top])
    spread = mean(level**2) - middle**2
    several = count >= 4
    within = math.sqrt(max(float(np.median(spread[several])), 0.0)) if several.any() else 0.0
    shoalest = Soundings(east[top], north[top], level[top], deviation[top], soundings.track[top])
    return Together(means, shoalest, within)
