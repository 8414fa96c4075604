"""Shortened: she lies to her chain alone, less and less of it, wherever the wind puts her."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import (
    FOUND,
    L_TENSION,
    Domain,
    Laid,
    Moored,
    RodeLine,
    Scene,
    blown,
    coarse_rode,
    put_together,
    released_rests,
)
from shorefast.stay.answer import Room
from shorefast.stay.lines_out import rode_segments
from shorefast.stay.plan import Stay
from shorefast.stay.without import Asked
from shorefast.stay.without_next import States
from shorefast.stay.without_weighed import rooms_at

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
# tables all round: on so many bearings, waters no farther apart, the bed read so far apart [m]
_BEARINGS, _LAID_OUT_M, _BED_STEP_M = 49, 1.5, 2.0
_PAD_M = 0.05


@dataclass(frozen=True)
class Shortened:
    """She lies to her chain alone; arrays (length, entry, hour, ...), NaN where unknown.

    out_m : array (length,), chain out [m]
    q : east, north [m], heading [rad]
    pull_n : at the roller [N]
    rooms : as in a judgement
    reach_m : array (length, entry, hour), anchor to roller with the chain straight: she can
        be no farther from it [m]
    """

    out_m: Floats
    q: Floats
    pull_n: Floats
    rooms: tuple[Room, ...]
    reach_m: Floats


def shortened(asked: Asked, at: Ints, out_m: Sequence[float]) -> Shortened:
    """Where she comes to rest to so much chain, no line on and the engine out of gear.

    She begins to leeward of her anchor, her head to the wind, and comes to rest by damped
    motion; the gust stands. The snubber is off.

    Parameters
    ----------
    at : int array (hour,)
        Which of the judged times.
    out_m : lengths of chain out. [m]

    Raises
    ------
    BadInput
        For more chain than is aboard.
    """
    states, shape = asked.states.some(asked.numbers(at)), (asked.shape[0], len(at))
    found = [_to(asked, states, length_m) for length_m in out_m]
    reach_m = np.array([straight_reach_m(asked.stay, states.path.level_m, one) for one in out_m])
    rooms = tuple(
        Room(
            each[0].of,
            np.array([room.room_m for room in each]).reshape(-1, *shape),
            each[0].least_wanted_m,
            beside_m=each[0].beside_m,
        )
        for each in zip(*(one.rooms for one in found), strict=True)
    )
    return Shortened(
        np.asarray(out_m, float),
        np.array([one.q for one in found]).reshape(-1, *shape, 3),
        np.array([one.pull_n for one in found]).reshape(-1, *shape),
        rooms,
        reach_m.reshape(-1, *shape),
    )


def up_and_down_m(stay: Stay, level_m: Floats) -> Floats:
    """Chain out when it hangs plumb from the roller to the anchor. [m]"""
    assert stay.lie is not None
    bed_m = stay.bay.surface.level_at(
        np.array([stay.lie.let_go_east_m]), np.array([stay.lie.let_go_north_m])
    )
    return np.asarray(level_m + stay.boat.roller.z_m - float(bed_m[0]))


def straight_reach_m(stay: Stay, level_m: Floats, out_m: float | Floats) -> Floats:
    """How far the roller can be from the anchor, level: the chain straight. [m]"""
    down_m = up_and_down_m(stay, level_m)
    return np.sqrt(np.maximum(out_m**2 - down_m**2, 0.0))


@dataclass(frozen=True)
class _Found:
    """One length, arrays (state, ...)."""

    q: Floats
    pull_n: Floats
    rooms: tuple[Room, ...]


def _to(asked: Asked, states: States, out_m: float) -> _Found:
    """Her rests to one length of chain alone, and the room there."""
    ready = _ready(asked, out_m)
    q = _to_leeward(asked, states, out_m)
    active = np.ones((q.shape[0], 1))
    found = released_rests(ready, states.path, Laid(q, active), asked.waters.extra, patient=False)
    lain = np.where((found.code == FOUND)[:, None], found.q, np.nan)
    pull_n = np.where(found.code == FOUND, found.line[:, 0, L_TENSION], np.nan)
    return _Found(lain, pull_n, rooms_at(asked.stay, states, lain))


def _to_leeward(asked: Asked, states: States, out_m: float) -> Floats:
    """Nearly the straight chain's length downwind of the anchor, head to wind. (state, 3)"""
    stay, blow = asked.stay, states.path.from_rad
    assert stay.lie is not None
    back_m = 0.9 * straight_reach_m(stay, states.path.level_m, out_m) + stay.boat.roller.x_m
    east_m = stay.lie.let_go_east_m - back_m * np.sin(blow)
    north_m = stay.lie.let_go_north_m - back_m * np.cos(blow)
    return np.stack([east_m, north_m, blow], axis=-1)


def _ready(asked: Asked, out_m: float) -> Moored:
    """Tables all round of a rode of this length, no other line."""
    rigged, path = asked.judged.rigged, asked.states.path
    was = rigged.rode
    rode = RodeLine(
        was.name, was.x_m, was.y_m, was.z_m, was.east_m, was.north_m,
        rode_segments(replace(asked.stay.boat, snubber=None), out_m), was.bed, was.friction,
    )  # fmt: skip
    known = path.level_m[np.isfinite(path.level_m)]
    low_m, high_m = (float(known.min()), float(known.max())) if known.size else (0.0, 0.0)
    levels = 2 + math.ceil((high_m - low_m) / _LAID_OUT_M)
    level_m = np.linspace(low_m - _PAD_M, high_m + _PAD_M, levels)
    toward = np.linspace(-math.pi, math.pi, _BEARINGS)
    far_m = out_m + 2.0 * rigged.arm_m
    domain = Domain(
        was.east_m - far_m, was.east_m + far_m, was.north_m - far_m, was.north_m + far_m
    )
    tables = [coarse_rode(rode, level_m, toward, _BED_STEP_M)]
    alike = blown(rigged.form, rigged.arm_m)
    return put_together(Scene((rode,), domain, rigged.form), tables, level_m, alike, rigged.start)
