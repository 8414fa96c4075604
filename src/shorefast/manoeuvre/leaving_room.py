"""Room on her way out under engine: what is shortest, where, in how many members."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.stay import Asked, room_use, rooms_there

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class RoomOut:
    """Room on her way out; arrays (entry, hour).

    past : 1 where something has less room than wanted, 0 where not, NaN unknown
    use : the greatest room wanted over room there is
    least_m, of, place : the room that is shortest by that measure [m], of what, and in which
        part of the way, as numbers of ``names`` and ``places``
    """

    past: Floats
    use: Floats
    least_m: Floats
    of: Ints
    place: Ints
    names: tuple[str, ...]
    places: tuple[str, ...]


def room_out(asked: Asked, at: Ints, poses: Floats, places: Sequence[str]) -> RoomOut:
    """The shortest room over all places she may be at on her way out.

    Water under all that can touch, distance to shore and neighbours as in a judgement, and
    to zones she has to keep off.

    Parameters
    ----------
    at : int array (hour,)
        Which of the judged times.
    poses : array (place, entry, hour, 3)
    places : names of the parts of the way, (place,)
    """
    rooms = rooms_there(asked, at, poses)
    use = np.array([room_use(room) for room in rooms])
    room_m = np.array([room.room_m for room in rooms])
    kinds, spots = use.shape[:2]
    flat, flat_m = (one.reshape(kinds * spots, *one.shape[2:]) for one in (use, room_m))
    worst = np.nan_to_num(flat, nan=-1.0).argmax(axis=0)
    unknown = np.isnan(flat).any(axis=0)
    most = np.take_along_axis(flat, worst[None], axis=0)[0]
    past = np.where(most > 1.0, 1.0, np.where(unknown, np.nan, 0.0))
    names = tuple(dict.fromkeys(places))
    which = np.array([names.index(one) for one in places])[worst % spots]
    return RoomOut(
        past, np.where(unknown & ~(most > 1.0), np.nan, most),
        np.take_along_axis(flat_m, worst[None], axis=0)[0],
        worst // spots, which, tuple(room.of for room in rooms), names,
    )  # fmt: skip
