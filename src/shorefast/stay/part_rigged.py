"""While the lines go ashore: where she lies with only some of them fast, and the room left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import FOUND, Path
from shorefast.stay.judge import Judged
from shorefast.stay.plan import Stay
from shorefast.stay.room import room_of
from shorefast.stay.sea import heave_m
from shorefast.stay.without import question_of
from shorefast.stay.without_next import States

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class PartRigged:
    """She lies to her rode and some of her lines; arrays (entry,) as the judgement's.

    Attributes
    ----------
    fast : tuple of int
        Which lines of the lie are fast, counted from 0.
    q : array (entry, 3)
        Where she comes to rest: east, north [m], heading [rad]; NaN unknown.
    set_m : array (entry,)
        How far bow or stern, whichever goes farther, is then from where it lies with all
        lines fast; NaN unknown. [m]
    to_spare_m : array (entry,)
        The least of all rooms less what is wanted there; below 0: too little. NaN
        unknown. [m]
    of : tuple of str
        Which room that is, "" where unknown.
    """

    fast: tuple[int, ...]
    q: Floats
    set_m: Floats
    to_spare_m: Floats
    of: tuple[str, ...]


def part_rigged(
    stay: Stay, judged: Judged, sets: Sequence[tuple[int, ...]], at: int = 0
) -> tuple[PartRigged, ...]:
    """Her rests with only some lines fast, in one of the judgement's times.

    The engine is left out: she is let go from where she lies with all of them, and what
    is wanted is where she then goes. The way there is left out.

    Parameters
    ----------
    stay, judged :
        The stay and its judgement.
    sets : sequence of tuples of int
        Which lines of the lie are fast, counted from 0; the rode always is.
    at : int
        Number of the time.

    Returns
    -------
    tuple of PartRigged, one a set
    """
    asked = question_of(stay, judged)
    entries, times = asked.shape
    states = asked.states.some(np.arange(entries) * times + at)
    lines = len(judged.rigged.scene.lines)
    active = np.zeros((len(sets), entries, lines))
    active[..., 0] = 1.0
    for number, fast in enumerate(sets):
        active[number][:, [1 + line for line in fast]] = 1.0
    many = _tiled(states, len(sets))
    found = asked.waters.rests(many, many.q, active.reshape(-1, lines))
    q = np.where((found.code == FOUND)[:, None], found.q, np.nan)
    set_m = _ends_moved_m(q, many.q, 0.5 * stay.boat.hull.length_m)
    spare_m, of = _to_spare(stay, q, many)
    cuts = [slice(n * entries, (n + 1) * entries) for n in range(len(sets))]
    return tuple(
        PartRigged(fast, q[cut], set_m[cut], spare_m[cut], tuple(of[cut]))
        for fast, cut in zip(sets, cuts, strict=True)
    )


def _ends_moved_m(q: Floats, before: Floats, arm_m: float) -> Floats:
    """How far the farther going of her ends goes. [m]"""
    moved = []
    for sign in (1.0, -1.0):
        ends = [
            one[:, :2] + sign * arm_m * np.stack([np.sin(one[:, 2]), np.cos(one[:, 2])], -1)
            for one in (q, before)
        ]
        moved.append(np.hypot(*(ends[0] - ends[1]).T))
    return np.asarray(np.maximum(*moved))


def _tiled(states: States, times: int) -> States:
    path = Path(*(np.tile(column, times) for column in states.path))
    return States(path, np.tile(states.q, (times, 1)), np.tile(states.down_m, times))


def _to_spare(stay: Stay, q: Floats, states: States) -> tuple[Floats, list[str]]:
    """The least room less what is wanted, and of what; unknown where one is and none touches."""
    rooms = room_of(
        stay, q[:, None], (states.path.level_m - states.down_m)[:, None], heave_m(stay),
        between=False,
    )  # fmt: skip
    spare_m = np.stack([room.room_m[:, 0] - room.least_wanted_m for room in rooms])
    touches = np.stack([room.touches[:, 0] for room in rooms])
    known = np.isfinite(spare_m)
    least = np.where(known, spare_m, np.inf)
    which = least.argmin(axis=0)
    told = np.asarray(known.all(axis=0) | touches.any(axis=0))
    names = [rooms[w].of if told[at] else "" for at, w in enumerate(which.tolist())]
    return np.where(told, least.min(axis=0), np.nan), names
