"""What a metre on each length does to every part's use and to room, hour by hour asked."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.stay.ease_lengths import STEP_M, Length
from shorefast.stay.ease_solved import Change, Resolved, Tried, changed

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
METRE_M = 1.0
BENT = 0.25
"""A metre is called bent where twice its first half is off by more than this share of it."""
_LEAST_SEEN = 0.02


@dataclass(frozen=True)
class AtHour:
    """What the lie carries at one hour: of the members the worst.

    use : array (part,), names as told beside; room_m : array (room,). NaN unknown.
    """

    use: Floats
    room_m: Floats


@dataclass(frozen=True)
class Metre:
    """What one metre on one length does at one hour.

    Attributes
    ----------
    number : int
        Of the length, among ``lengths_of``.
    by_m : float
        One metre out, or minus one: in. [m]
    at : int
        Of the hour among those asked.
    use, room_m : arrays, shape (part,) and (room,)
        How much more use, and how much more room [m], of the members the worst, before
        as after. NaN where unknown, and where the length is not aboard.
    bent : bool
        Whether the metre's two halves do unlike things, so that half of this is no guess.
    """

    number: int
    by_m: float
    at: int
    use: Floats
    room_m: Floats
    bent: bool


def _most(values: Floats) -> Floats:
    """The most of the members; NaN where one is unknown."""
    return np.asarray(values.max(axis=0))


def at_hours(found: Resolved) -> tuple[AtHour, ...]:
    """What was resolved, hour by hour, of the members the worst."""
    count = len(found.use) - len(found.rooms)
    use = np.array([_most(one) for one in found.use[:count]])
    room_m = np.array([-_most(-one.room_m) for one in found.rooms])
    return tuple(AtHour(use[:, t], room_m[:, t]) for t in range(use.shape[1]))


def _bent(half: AtHour, whole: AtHour, base: AtHour) -> bool:
    """Whether twice what half a metre does is far off what the metre does."""
    first, both = 2.0 * (half.use - base.use), whole.use - base.use
    off, seen = np.abs(first - both), np.maximum(np.abs(both), np.abs(first))
    return bool(((off > BENT * seen) & (off > _LEAST_SEEN)).any())


def one_way(
    tried: Tried, lengths: tuple[Length, ...], way: tuple[int, float], hours: Ints,
    base: tuple[AtHour, ...],
) -> list[Metre]:  # fmt: skip
    """What a metre on one length does one way at every hour asked.

    way : the length's number, and 1.0 for out or -1.0 for in.
    """
    number, sign = way
    if not lengths[number].can(sign * METRE_M):
        empty = [
            (np.full_like(one.use, math.nan), np.full_like(one.room_m, math.nan)) for one in base
        ]
        return [Metre(number, sign, k, *none, bent=False) for k, none in enumerate(empty)]
    halves, wholes = (
        at_hours(tried.at(_step(lengths, number, sign * step_m), hours, between=True))
        for step_m in (STEP_M, METRE_M)
    )
    return [
        Metre(
            number, sign, k, whole.use - now.use, whole.room_m - now.room_m, _bent(half, whole, now)
        )
        for k, (half, whole, now) in enumerate(zip(halves, wholes, base, strict=True))
    ]


def _step(lengths: tuple[Length, ...], number: int, by_m: float) -> Change:
    return changed(len(lengths), {number: by_m})
