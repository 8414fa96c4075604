"""Room: least water under what can touch, least distance to the shore."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from shorefast.stay.answer import Room
from shorefast.stay.plan import Stay

Floats = NDArray[np.float64]
# our choices, shown beside the verdict: waves and wash are inside them
LEAST_WATER_M = 0.5
LEAST_SHORE_M = 2.0


def hull_outline(length_m: float, beam_m: float) -> Floats:
    """Plan of a hull, corners (corner, 2): x forward, y to starboard. [m]"""
    x = length_m * np.array([0.5, 0.34, 0.12, -0.2, -0.5])
    y = 0.5 * beam_m * np.array([0.0, 0.62, 0.97, 1.0, 0.72])
    return np.concatenate([np.stack([x, y], -1), np.stack([x, -y], -1)[:0:-1]])


def placed(points_xy: Floats, q: Floats) -> Floats:
    """Points on board brought to the bay's plane.

    points_xy (point, 2); q (..., 3) east, north, heading; returns (..., point, 2).
    """
    sine, cosine = np.sin(q[..., 2])[..., None], np.cos(q[..., 2])[..., None]
    x, y = points_xy[:, 0], points_xy[:, 1]
    east = q[..., 0, None] + x * sine + y * cosine
    north = q[..., 1, None] + x * cosine - y * sine
    return np.stack([east, north], -1)


def _water_under(stay: Stay, q: Floats, level_m: Floats) -> list[Room]:
    rooms = []
    for part in stay.boat.underwater:
        at = placed(np.array([[part.x_m, part.y_m]]), q)[..., 0, :]
        bed_m = stay.bay.surface.level_at(at[..., 0], at[..., 1])
        room_m = level_m - bed_m - part.draught_m
        rooms.append(Room(f"water under the {part.name}", room_m, LEAST_WATER_M))
    return rooms


def _to_shore(stay: Stay, q: Floats) -> list[Room]:
    if stay.bay.shore is None and stay.bay.land is None:
        return []
    hull = placed(hull_outline(stay.boat.hull.length_m, stay.boat.hull.beam_m), q)
    good = np.isfinite(hull).all(axis=(-1, -2))
    outlines = shapely.polygons(hull[good])
    hard = stay.bay.land if stay.bay.land is not None else stay.bay.shore
    shapely.prepare(hard)
    room_m = np.full(good.shape, np.nan)
    room_m[good] = shapely.distance(outlines, hard)
    return [Room("hull to the shore", room_m, LEAST_SHORE_M)]


def room_of(stay: Stay, q: Floats, level_m: Floats) -> tuple[Room, ...]:
    """Room of every part over all rests.

    Parameters
    ----------
    q : array (..., 3)
        Rests, NaN where none.
    level_m : array (...)
        Water level. [m]

    Returns
    -------
    rooms : tuple of Room, arrays (...); NaN where the bed or the rest is unknown.
    """
    return (*_water_under(stay, q, level_m), *_to_shore(stay, q))


def room_use(room: Room) -> Floats:
    """Room as a use: 1 where just what is wanted is left, 9.9 where nothing is."""
    with np.errstate(divide="ignore", invalid="ignore"):
        use = np.where(room.room_m > 0.0, room.least_wanted_m / room.room_m, 9.9)
    return np.where(np.isnan(room.room_m), np.nan, np.minimum(use, 9.9))
