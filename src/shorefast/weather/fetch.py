"""How far the wind blows over water before it reaches her, bearing by bearing."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely

from shorefast.weather.series import Floats

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

BEARINGS = 72
# a ray every degree, so that every fan of radials 6 degrees apart is among them
_RAYS = 360
_FAN = 6 * np.arange(-7, 8)
_REACH_M = 2e5
# land met before the shore stands where somebody cut the data
_CUT_M = 1.0


@dataclass(frozen=True)
class Fetches:
    """Water to windward of one place. NaN where no shore is known.

    Attributes
    ----------
    bearing_rad : array, shape (72,)
        Where the wind would come from.
    straight_m, effective_m : array, shape (72,)
        In a straight line, and over the handbook's fan of radials. [m]
    """

    bearing_rad: Floats
    straight_m: Floats
    effective_m: Floats

    def toward_m(self, from_rad: Floats) -> Floats:
        """The effective fetch of any directions, that of the nearest bearing. [m]"""
        known = np.isfinite(from_rad)
        turn = np.where(known, from_rad, 0.0) / (2.0 * math.pi) * BEARINGS
        number = np.mod(np.rint(turn).astype(np.int64), BEARINGS)
        return np.where(known, self.effective_m[number], np.nan)


def fetches(
    shore: BaseGeometry | None, land: BaseGeometry | None, east_m: float, north_m: float
) -> Fetches:
    """Fetches of a place over the shore as it is known, islands included.

    Where a ray meets no shore, or land where its data were cut, the fetch is unknown;
    so is the effective one of every fan with such a ray. What comes round a corner,
    and swell from outside, are no part of a fetch.

    Parameters
    ----------
    shore, land : shapely geometries or None
        In the bay's plane; ``shore`` without the cuts of the data.
    east_m, north_m : float
        The place. [m]

    Source
    ------
    spm-1977, effective fetch: sum of F cos2 over sum of cos, 15 radials 6 degrees apart
    (from memory).
    """
    straight_m = _straight_m(shore, land, east_m, north_m)
    cosine = np.cos(np.radians(_FAN))
    every = _RAYS // BEARINGS
    fans = (every * np.arange(BEARINGS)[:, np.newaxis] + _FAN) % _RAYS
    effective_m = (straight_m[fans] * cosine**2).sum(axis=1) / cosine.sum()
    bearing_rad = 2.0 * math.pi * np.arange(BEARINGS) / BEARINGS
    return Fetches(bearing_rad, straight_m[::every], effective_m)


def _straight_m(
    shore: BaseGeometry | None, land: BaseGeometry | None, east_m: float, north_m: float
) -> Floats:
    if shore is None or shore.is_empty:
        return np.full(_RAYS, np.nan)
    turn = np.radians(np.arange(_RAYS))
    here = np.array([east_m, north_m])
    ends = here + _REACH_M * np.column_stack((np.sin(turn), np.cos(turn)))
    rays = shapely.linestrings(np.stack((np.broadcast_to(here, ends.shape), ends), axis=1))
    to_shore_m = _first_m(rays, shore, here)
    if land is None:
        return np.where(np.isfinite(to_shore_m), to_shore_m, np.nan)
    known = np.isfinite(to_shore_m) & (_first_m(rays, land, here) >= to_shore_m - _CUT_M)
    return np.where(known, to_shore_m, np.nan)


def _first_m(rays: Floats, thing: BaseGeometry, here: Floats) -> Floats:
    """How far along each ray it first meets a thing; infinite where it does not. [m]"""
    met = shapely.intersection(rays, thing)
    return np.where(
        shapely.is_empty(met), np.inf, shapely.distance(shapely.points(here[0], here[1]), met)
    )
