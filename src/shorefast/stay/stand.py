"""What it will stand: the limit wind for every direction, and what gives first."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import LEFT, rests
from shorefast.stay.answer import Stands
from shorefast.stay.judge import Judged, uses
from shorefast.stay.parts import parts_in_use
from shorefast.stay.plan import Stay
from shorefast.stay.room import room_of
from shorefast.stay.sea import heave_m

Floats = NDArray[np.float64]
DIRECTIONS = 72
SOUGHT_TO_MPS = 40.0
_COARSE_MPS = 1.0
_HALVINGS = 7
UNKNOWN_PART = "unknown"
ADRIFT = "she goes adrift"


@dataclass(frozen=True)
class _Tried:
    """One batch of winds: which part is used most, how much, and whether it is known."""

    names: list[str]
    use: Floats
    left: NDArray[np.bool_]

    @property
    def past(self) -> NDArray[np.bool_]:
        return (np.nan_to_num(self.use, nan=0.0) > 1.0).any(axis=0) | self.left

    def first(self, row: int, step: int) -> str:
        """Name of what is used most in one state, or that nothing holds her."""
        if self.left[row, step]:
            return ADRIFT
        return self.names[int(np.argmax(np.nan_to_num(self.use[:, row, step], nan=-1.0)))]

    @property
    def unknown(self) -> NDArray[np.bool_]:
        return np.isnan(self.use).any(axis=0) & ~self.past


class _Winds(NamedTuple):
    """Rows of states (row, step): water level [m], steady wind at 10 m [m/s], from [rad]."""

    level_m: Floats
    wind_mps: Floats
    from_rad: Floats


def _winds(level_m: Floats, wind_mps: Floats, from_rad: Floats) -> _Winds:
    shape = wind_mps.shape
    return _Winds(
        np.broadcast_to(level_m[:, None], shape),
        wind_mps,
        np.broadcast_to(from_rad[:, None], shape),
    )


def _try(stay: Stay, judged: Judged, winds: _Winds) -> _Tried:
    """Solve rows of states; each row is followed from its first step."""
    ready = judged.ready
    here_mps = winds.wind_mps * judged.rigged.height_share
    solved = rests(ready, winds.level_m, here_mps, winds.from_rad, ready.all_set, judged.extra)
    parts = parts_in_use(stay, judged.rigged, judged.ground, solved.line)
    rooms = room_of(stay, solved.q, winds.level_m, heave_m(stay), between=False)
    names, use = uses(parts, rooms)
    return _Tried(names, use, solved.code == LEFT)


def limits(
    stay: Stay, judged: Judged, level_m: Floats, from_rad: Floats
) -> tuple[Floats, list[str | None]]:
    """Limit winds of rows of (level, direction): grown from calm, then halved.

    Returns limit winds (row,) in m/s, NaN where nothing gives up to the end or where
    it is unknown, and what gives first: None for nothing, "unknown" for that.
    """
    speeds = np.arange(0.0, SOUGHT_TO_MPS + 1e-9, _COARSE_MPS)
    rows = np.broadcast_to(speeds, (level_m.size, speeds.size))
    tried = _try(stay, judged, _winds(level_m, rows, from_rad))
    past = tried.past
    first = np.where(past.any(axis=1), past.argmax(axis=1), -1)
    at = np.maximum(first, 0)
    unknown_at = np.where(tried.unknown.any(axis=1), tried.unknown.argmax(axis=1), speeds.size)
    low, high = speeds[np.maximum(first - 1, 0)], speeds[at]
    names = [tried.first(r, int(at[r])) for r in range(first.size)]
    for _ in range(_HALVINGS):
        mid = 0.5 * (low + high)
        # three steps up to the wind tried, so that it is reached as it would grow
        step = _try(stay, judged, _winds(level_m, np.stack([0.5 * mid, low, mid], 1), from_rad))
        over = step.past[:, -1]
        for r in np.flatnonzero(over):
            names[r] = step.first(int(r), -1)
        high, low = np.where(over, mid, high), np.where(over, low, mid)
    found = (first >= 0) & (unknown_at >= first)
    limit = np.where(found, np.where(first == 0, 0.0, 0.5 * (low + high)), np.nan)
    lost = ~found & (unknown_at < speeds.size)
    told = [name if ok else None for name, ok in zip(names, found, strict=True)]
    return limit, [UNKNOWN_PART if no else name for name, no in zip(told, lost, strict=True)]


def levels_of(judged: Judged) -> Floats:
    """Low, middle and high water of the stay, each once. [m]"""
    level = judged.judgement.water_level_m
    level = level[np.isfinite(level)]
    if level.size == 0:
        return np.array([0.0])
    low, high = float(level.min()), float(level.max())
    return np.unique(np.round([low, 0.5 * (low + high), high], 3))


def what_it_will_stand(stay: Stay, judged: Judged) -> Stands:
    """Limit wind by direction at low, middle and high water of the stay.

    A steady wind at 10 m, grown from calm in each direction; forces as in the
    judgement. NaN: nothing gives up to ``sought_to_mps``, or unknown.
    """
    levels = levels_of(judged)
    around = np.arange(DIRECTIONS, dtype=np.float64) * (2.0 * math.pi / DIRECTIONS)
    level_row = np.repeat(levels, DIRECTIONS)
    limit, names = limits(stay, judged, level_row, np.tile(around, levels.size))
    if ADRIFT in names:
        wide = judged.rigged.ready_wide(float(levels.min()), float(levels.max()))
        judged = replace(judged, ready=wide)
        limit, names = limits(stay, judged, level_row, np.tile(around, levels.size))
    shape = (levels.size, DIRECTIONS)
    table = tuple(
        tuple(names[i * DIRECTIONS + j] for j in range(DIRECTIONS)) for i in range(levels.size)
    )
    return Stands(
        np.asarray(levels, np.float64),
        around,
        limit.reshape(shape),
        table,
        SOUGHT_TO_MPS,
        judged.judgement.basis,
    )
