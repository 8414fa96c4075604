"""Room wherever she may be put in the stay's hours, not where she lies."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from shorefast.bay import DANGERS, in_force
from shorefast.stay.answer import Room
from shorefast.stay.outlines import hull_outline, placed
from shorefast.stay.plan import Stay
from shorefast.stay.room import LEAST_GAP_M
from shorefast.stay.without import Asked
from shorefast.stay.without_weighed import rooms_at

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
KEEP_OFF = ("no entry", "bathing", "marine farm", "neighbour", *DANGERS)
"""Zones in which her hull has nothing to do while she leaves."""


def rooms_there(asked: Asked, at: Ints, q: Floats) -> tuple[Room, ...]:
    """Room of every part where she is put, at the waters and in the seas of some hours.

    As in a judgement, and to the zones she has to keep off while they are in force.

    Parameters
    ----------
    at : int array (hour,)
        Which of the judged times.
    q : array (place, entry, hour, 3)
        East, north [m], heading [rad]; NaN unknown.

    Returns
    -------
    tuple of Room, arrays (place, entry, hour); NaN where the bed or the place is unknown.
    """
    number = np.tile(asked.numbers(at), q.shape[0])
    return rooms_and_gaps(asked, number, q.reshape(-1, 3), q.shape[:-1])


def rooms_and_gaps(
    asked: Asked, number: Ints, q: Floats, shape: tuple[int, ...]
) -> tuple[Room, ...]:
    """Rooms and gaps to zones at places (state, 3) in states of some numbers, in a shape."""
    stay, hour = asked.stay, number % asked.shape[1]
    found = list(rooms_at(stay, asked.states.some(number), q))
    moments = [asked.judged.moment(one) for one in range(asked.shape[1])]
    for zone in stay.bay.zones:
        held = np.array([in_force(zone, moment) for moment in moments])[hour]
        if zone.kind in KEEP_OFF and held.any():
            gap = gap_there(stay, q, zone.shape, f"hull to {zone.name}")
            found.append(replace(gap, room_m=np.where(held, gap.room_m, np.inf)))
    return tuple(replace(room, room_m=room.room_m.reshape(shape)) for room in found)


def gap_there(stay: Stay, q: Floats, thing: BaseGeometry, of: str) -> Room:
    """The gap between her hull, where she is put, and a thing in the bay's plane.

    As much is wanted as to a neighbour.

    Parameters
    ----------
    q : array (..., 3)
    of : what the room is called
    """
    hull = hull_outline(stay.boat.hull.length_m, stay.boat.hull.beam_m)
    good = np.isfinite(q).all(axis=-1)
    gap_m = np.full(good.shape, np.nan)
    gap_m[good] = shapely.distance(shapely.polygons(placed(hull, q[good])), thing)
    return Room(of, gap_m, LEAST_GAP_M)
