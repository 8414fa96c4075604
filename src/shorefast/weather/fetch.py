"""How far the wind blows over water before it reaches her, bearing by bearing."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely
from numpy.typing import NDArray

from shorefast.weather.far_fetch import far_m
from shorefast.weather.series import Floats

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from shorefast.bay import FarShore

Bools = NDArray[np.bool_]
BEARINGS = 72
# a ray every degree, so that every fan of radials 6 degrees apart is among them
_RAYS = 360
_FAN = 6 * np.arange(-7, 8)
# over more open water than this the wind must blow some eleven hours and more at 15 m/s
# before the fetch counts (spm-1984), and the bay's plane stays true to metres so far
OPEN_M = 2e5
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
        return nearest_bearing(self.effective_m, from_rad)

    def open_toward(self, from_rad: Floats) -> Bools:
        """Whether in any directions the straight fetch is held to what counts at most."""
        return np.asarray(nearest_bearing(self.straight_m, from_rad) >= OPEN_M)


def nearest_bearing(values: Floats, from_rad: Floats) -> Floats:
    """Of values on even bearings (the first north) those nearest to directions; NaN of NaN."""
    known = np.isfinite(from_rad)
    turn = np.where(known, from_rad, 0.0) / (2.0 * math.pi) * values.size
    number = np.mod(np.rint(turn).astype(np.int64), values.size)
    return np.where(known, values[number], np.nan)


def fetches(
    shore: BaseGeometry | None,
    land: BaseGeometry | None,
    east_m: float,
    north_m: float,
    far: FarShore | None = None,
) -> Fetches:
    """Fetches of a place over the shore as it is known, islands included.

    Rays that leave the bay's own box go on over the far shores. Where a ray meets no
    shore, or land where its data were cut, the fetch is unknown; so is the effective
    one of every fan with such a ray. What comes round a corner, and swell from outside,
    are no part of a fetch. No fetch counts for more than ``OPEN_M``.

    Parameters
    ----------
    shore, land : shapely geometries or None
        In the bay's plane; ``shore`` without the cuts of the data.
    east_m, north_m : float
        The place. [m]
    far : FarShore, optional
        What lies round about.

    Source
    ------
    spm-1977, effective fetch: sum of F cos2 over sum of cos, 15 radials 6 degrees apart
    (from memory).
    """
    near_m = _near_m(shore, land, east_m, north_m)
    straight_m = near_m if far is None else _going_on(near_m, far, east_m, north_m)
    straight_m = np.where(np.isinf(straight_m), np.nan, np.minimum(straight_m, OPEN_M))
    cosine = np.cos(np.radians(_FAN))
    every = _RAYS // BEARINGS
    fans = (every * np.arange(BEARINGS)[:, np.newaxis] + _FAN) % _RAYS
    effective_m = (straight_m[fans] * cosine**2).sum(axis=1) / cosine.sum()
    bearing_rad = 2.0 * math.pi * np.arange(BEARINGS) / BEARINGS
    return Fetches(bearing_rad, straight_m[::every], effective_m)


def _near_m(
    shore: BaseGeometry | None, land: BaseGeometry | None, east_m: float, north_m: float
) -> Floats:
    """To the bay's own shore; infinite where a ray meets none, NaN at cut data. [m]"""
    if shore is None or shore.is_empty:
        return np.full(_RAYS, np.inf)
    turn = np.radians(np.arange(_RAYS))
    here = np.array([east_m, north_m])
    ends = here + OPEN_M * np.column_stack((np.sin(turn), np.cos(turn)))
    rays = shapely.linestrings(np.stack((np.broadcast_to(here, ends.shape), ends), axis=1))
    to_shore_m = _first_m(rays, shore, here)
    if land is None:
        return to_shore_m
    cut = _first_m(rays, land, here) < to_shore_m - _CUT_M
    return np.where(cut, np.nan, to_shore_m)


def _going_on(near_m: Floats, far: FarShore, east_m: float, north_m: float) -> Floats:
    """Rays that met nothing in the bay's own box run on to the far shores. [m]"""
    beyond_m = far_m(far, east_m, north_m, near_m.size)
    if far.open_sea:
        beyond_m = np.minimum(beyond_m, OPEN_M)
    return np.where(np.isinf(near_m), beyond_m, near_m)


def _first_m(rays: Floats, thing: BaseGeometry, here: Floats) -> Floats:
    """How far along each ray it first meets a thing; infinite where it does not. [m]"""
    met = shapely.intersection(rays, thing)
    return np.where(
        shapely.is_empty(met), np.inf, shapely.distance(shapely.points(here[0], here[1]), met)
    )
