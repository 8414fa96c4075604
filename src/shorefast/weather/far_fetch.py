"""How far rays from a place run before they meet the far shores round a bay."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from shorefast.weather.series import Floats

if TYPE_CHECKING:
    from shorefast.bay import Bounds, Coast, FarShore

# land where a finer file ends is passed over if it is no wider than the coarser one draws
_DISAGREE_LEGS = 2.0


class Crossings(NamedTuple):
    """Where rays cross legs: number of the ray, how far off [m], which leg, which way.

    ``inward`` is true where a leg with water on its left is met from the water.
    """

    ray: NDArray[np.int64]
    off_m: Floats
    leg: NDArray[np.int64]
    inward: NDArray[np.bool_]


def crossings(legs_m: Floats, east_m: float, north_m: float, rays: int) -> Crossings:
    """All crossings of evenly spaced rays (the first north, clockwise) with legs.

    A leg seen over less than the gap between two rays may meet none; one that passes
    through the place itself is left out.
    """
    at = legs_m - np.array([east_m, north_m])
    bearing = np.arctan2(at[..., 0], at[..., 1]) * (rays / (2.0 * np.pi))
    turn = np.mod(bearing[:, 1] - bearing[:, 0] + 0.5 * rays, rays) - 0.5 * rays
    low = np.minimum(bearing[:, 0], bearing[:, 0] + turn)
    first = np.ceil(low - 1e-9).astype(np.int64)
    last = np.floor(np.maximum(bearing[:, 0], bearing[:, 0] + turn) + 1e-9).astype(np.int64)
    count = np.maximum(last - first + 1, 0)
    leg = np.repeat(np.arange(len(at)), count)
    step = np.arange(leg.size) - np.repeat(np.cumsum(count) - count, count)
    ray = first[leg] + step
    angle = ray * (2.0 * np.pi / rays)
    sine, cosine = np.sin(angle), np.cos(angle)
    begin, along = at[leg, 0], at[leg, 1] - at[leg, 0]
    across = sine * along[:, 1] - cosine * along[:, 0]
    # a leg that lies along the ray is met at its nearer end
    level = np.abs(across) < 1e-9
    off_m = begin[:, 0] * along[:, 1] - begin[:, 1] * along[:, 0]
    ends_m = np.hypot(at[leg, :, 0], at[leg, :, 1]).min(axis=1)
    off_m = np.where(level, ends_m, off_m / np.where(level, 1.0, across))
    kept = off_m > 0.0
    return Crossings(np.mod(ray, rays)[kept], off_m[kept], leg[kept], (turn[leg] < 0.0)[kept])


def far_m(far: FarShore, east_m: float, north_m: float, rays: int) -> Floats:
    """How far each ray runs beyond the bay's own box to a shore; infinite where to none.

    Of several files the finest counts as far as it spans, then the next. Where the
    finer ends on land of the coarser, one of them is wrong there and the ray is unknown
    (NaN), unless that land is only as wide as the coarser file is coarse.

    Parameters
    ----------
    far : FarShore
    east_m, north_m : float
        The place, on the water. [m]
    rays : int
        How many, evenly round, the first to the north.

    Returns
    -------
    array, shape (rays,) [m]
    """
    begin_m = _out_of_box(far.near, east_m, north_m, rays)
    found_m = np.full(rays, np.inf)
    for coast in far.coasts:
        this_m = _first_m(coast, begin_m, (east_m, north_m))
        found_m = np.where(found_m <= begin_m, found_m, np.minimum(found_m, this_m))
        begin_m = np.maximum(begin_m, _out_of_hull(coast, east_m, north_m, rays))
    return found_m


def _first_m(coast: Coast, begin_m: Floats, here: tuple[float, float]) -> Floats:
    met = crossings(coast.legs_m, *here, begin_m.size)
    beyond = met.off_m >= begin_m[met.ray]
    sided = coast.sided[met.leg]
    to_land = _least(met, beyond & (met.inward | ~sided), begin_m.size)
    to_water = _least(met, beyond & ~met.inward & sided, begin_m.size)
    wide = to_water - begin_m > _DISAGREE_LEGS * coast.spacing_m
    return np.where((to_water < to_land) & wide, np.nan, to_land)


def _least(met: Crossings, which: NDArray[np.bool_], rays: int) -> Floats:
    least_m = np.full(rays, np.inf)
    np.minimum.at(least_m, met.ray[which], met.off_m[which])
    return least_m


def _out_of_box(box: Bounds | None, east_m: float, north_m: float, rays: int) -> Floats:
    """How far each ray runs inside a box; 0 from outside it. [m]"""
    if box is None:
        return np.zeros(rays)
    corners = shapely.get_coordinates(shapely.box(*box))
    return _out_of(corners, east_m, north_m, rays)


def _out_of_hull(coast: Coast, east_m: float, north_m: float, rays: int) -> Floats:
    if len(coast.hull_m) < 4:
        return np.zeros(rays)
    return _out_of(coast.hull_m, east_m, north_m, rays)


def _out_of(corners_m: Floats, east_m: float, north_m: float, rays: int) -> Floats:
    if not shapely.contains_xy(shapely.Polygon(corners_m), east_m, north_m):
        return np.zeros(rays)
    met = crossings(np.stack((corners_m[:-1], corners_m[1:]), axis=1), east_m, north_m, rays)
    most_m = np.zeros(rays)
    np.maximum.at(most_m, met.ray, met.off_m)
    return most_m
