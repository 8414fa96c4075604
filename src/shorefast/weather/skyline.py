"""The high ground round a place, bearing by bearing: what stands against the sky."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from shorefast.weather.fetch import BEARINGS
from shorefast.weather.series import Floats

if TYPE_CHECKING:
    from shorefast.bay import HighGround

REACH_OF_GROUND_M = 10_000.0
_RAYS = 360
# the five rays about each bearing
_EACH = _RAYS // BEARINGS
_BESIDE = (_EACH * np.arange(BEARINGS)[:, np.newaxis] + np.arange(_EACH) - _EACH // 2) % _RAYS
_EARTH_M = 6_371_000.0
# light bends with the earth by 0.13 of its curve (common practice, no source)
_STRAIGHT = 1.0 - 0.13


@dataclass(frozen=True)
class Skyline:
    """What ground stands highest against the sky, seen from the water at chart datum.

    Each bearing speaks for five degrees, of which the highest counts; NaN where the grid
    tells nothing on any of its rays.

    Attributes
    ----------
    bearing_rad, angle_rad : arrays, shape (72,)
        Toward the ground, and how high it stands; 0 where none rises above the water.
    distance_m, height_m : arrays, shape (72,)
        How far off what stands highest lies, and its height above chart datum; NaN
        where none rises. [m]
    known_share : array, shape (72,)
        Share of the ground out to ``REACH_OF_GROUND_M`` that the grid tells of.
    """

    bearing_rad: Floats
    angle_rad: Floats
    distance_m: Floats
    height_m: Floats
    known_share: Floats


def skyline(ground: HighGround, east_m: float, north_m: float) -> Skyline:
    """The skyline of a place in the bay's plane.

    Ground between the nodes is straight; what is sharper than their spacing, and woods
    on it, are left out.

    Parameters
    ----------
    ground : HighGround
    east_m, north_m : float
        The place. [m]
    """
    off_m: Floats = ground.step_m * np.arange(1.0, int(REACH_OF_GROUND_M / ground.step_m) + 1)
    turn: Floats = 2.0 * math.pi * np.arange(_RAYS)[:, np.newaxis] / _RAYS
    height_m = _height_m(ground, east_m + off_m * np.sin(turn), north_m + off_m * np.cos(turn))
    seen_m = height_m - _STRAIGHT * off_m**2 / (2.0 * _EARTH_M)
    slope = np.where(np.isfinite(seen_m), seen_m / off_m, -np.inf)
    best = slope.argmax(axis=1)
    # of the rays a bearing speaks for, the one with the steepest ground
    which = _BESIDE[np.arange(BEARINGS), slope.max(axis=1)[_BESIDE].argmax(axis=1)]
    rises = slope[which, best[which]] > 0.0
    known_share = np.isfinite(height_m).mean(axis=1)[_BESIDE].mean(axis=1)
    angle = np.arctan(np.maximum(slope[which, best[which]], 0.0))
    return Skyline(
        bearing_rad=2.0 * math.pi * np.arange(BEARINGS) / BEARINGS,
        angle_rad=np.where(known_share > 0.0, angle, np.nan),
        distance_m=np.where(rises, off_m[best[which]], np.nan),
        height_m=np.where(rises, height_m[which, best[which]], np.nan),
        known_share=known_share,
    )


def _height_m(ground: HighGround, east_m: Floats, north_m: Floats) -> Floats:
    """Straight between the four nodes about places; unknown where one of them is."""
    rows, columns = ground.height_m.shape
    row = (north_m - ground.south_m) / ground.step_m
    column = (east_m - ground.west_m) / ground.step_m
    inside = (row >= 0.0) & (row < rows - 1) & (column >= 0.0) & (column < columns - 1)
    row, column = np.where(inside, row, 0.0), np.where(inside, column, 0.0)
    i, j = row.astype(np.int64), column.astype(np.int64)
    v, u = row - i, column - j
    h = ground.height_m
    south = h[i, j] * (1.0 - u) + h[i, j + 1] * u
    north = h[i + 1, j] * (1.0 - u) + h[i + 1, j + 1] * u
    return np.where(inside, south * (1.0 - v) + north * v, np.nan)
