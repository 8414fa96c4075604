"""Room wherever she may be put in the stay's hours, not where she lies."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from shorefast.stay.answer import Room
from shorefast.stay.judge import Judged
from shorefast.stay.plan import Stay
from shorefast.stay.without import question_of
from shorefast.stay.without_weighed import rooms_at

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def rooms_there(stay: Stay, judged: Judged, at: Ints, q: Floats) -> tuple[Room, ...]:
    """Room of every part where she is put, at the waters and in the seas of some hours.

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
    asked = question_of(stay, judged)
    entries, times = asked.shape
    hours = (np.arange(entries)[:, None] * times + np.asarray(at, np.int64)[None, :]).ravel()
    found = rooms_at(stay, asked.states.some(np.tile(hours, q.shape[0])), q.reshape(-1, 3))
    return tuple(replace(room, room_m=room.room_m.reshape(q.shape[:-1])) for room in found)
