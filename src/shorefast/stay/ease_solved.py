"""A stay solved again with other lengths: the same forecast, the same bed, the real solver."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import Moored, Rests, Spread, moored, relined, rests
from shorefast.stay.answer import PartUse, Room
from shorefast.stay.ease_lengths import adjusted
from shorefast.stay.judge import Judged
from shorefast.stay.parts import Ground, ground_of, parts_in_use
from shorefast.stay.plan import Stay
from shorefast.stay.proof import proven_of
from shorefast.stay.rigging import Rigged, rig
from shorefast.stay.room import room_of
from shorefast.stay.sea import heave_m, sea_down_m
from shorefast.stay.verdict import use_and_past, uses

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
# tables for trying out: fewer levels and bearings than a judgement's
_A_LEVEL_M, _MOST_SPANS, _BEARINGS = 2.4, 4, 11
_PAD_M = 0.05
_WORST = 99.0

Change = tuple[float, ...]
"""What every length is changed by, in their order. [m]"""


@dataclass(frozen=True)
class Resolved:
    """One change of lengths, solved: loads and rooms at some of the stay's times.

    Attributes
    ----------
    names : list of str
        Of all that counts.
    use : array, shape (entry, member, time)
    parts, rooms : tuples
        As in a judgement, arrays (member, time).
    greatest : array, shape (member, time)
        NaN where unknown.
    past : array, shape (member, time)
        1 past a limit, 0 not, NaN unknown.
    """

    names: list[str]
    use: Floats
    parts: tuple[PartUse, ...]
    rooms: tuple[Room, ...]
    greatest: Floats
    past: Floats


@dataclass(frozen=True)
class _Solved:
    """One change rigged, and her rests; arrays (member, time)."""

    stay: Stay
    rigged: Rigged
    ground: Ground
    rests: Rests


class Tried:
    """Solves a stay again with changed lengths; tables are kept by length of chain.

    stay, judged : as judged; what wind, water and waves were is taken from there.
    """

    def __init__(self, stay: Stay, judged: Judged) -> None:
        answer = judged.judgement
        known = answer.water_level_m[np.isfinite(answer.water_level_m)]
        ends = (float(known.min()), float(known.max())) if known.size else (0.0, 0.0)
        self.stay, self.judged, self._ends = stay, judged, ends
        self.member, self.times = answer.member, answer.time_utc.size
        # judged so where somewhere she goes far
        self._all_round = judged.ready.scene.domain != judged.rigged.scene.domain
        self._down_m = answer.water_level_m - sea_down_m(stay, answer.sea)
        self._chains: dict[float, tuple[Moored, Ground]] = {}
        self._last: tuple[Change, _Solved] | None = None

    def at(self, change: Change, times: Ints, *, between: bool) -> Resolved:
        """The stay with its lengths changed, weighed at some of its times.

        between : whether the way she goes from the time before to each counts.
        """
        found = self._solved(change)
        parts = parts_in_use(found.stay, found.rigged, found.ground, found.rests.line[:, times])
        rooms = self._rooms(found, times, between=between)
        names, use = uses(parts, rooms)
        greatest, past = use_and_past(use, found.rests.code[:, times])
        return Resolved(names, use, parts, rooms, greatest, past)

    def _rooms(self, found: _Solved, times: Ints, *, between: bool) -> tuple[Room, ...]:
        solved, heave = found.rests, heave_m(found.stay)
        if not between:
            q, level_m = solved.q[:, times], self._down_m[:, times]
            return room_of(found.stay, q, level_m, heave, between=False)
        pairs = np.stack([np.maximum(times - 1, 0), times], axis=1)
        q, level_m = solved.q[:, pairs], self._down_m[:, pairs]
        rooms = room_of(found.stay, q, level_m, heave)
        return tuple(
            Room(one.of, one.room_m[..., 1], one.least_wanted_m, beside_m=one.beside_m)
            for one in rooms
        )

    def _solved(self, change: Change) -> _Solved:
        """Her rests; those of the change asked last are at hand."""
        if self._last is not None and self._last[0] == change:
            return self._last[1]
        stay = adjusted(self.stay, dict(enumerate(change)))
        rigged = rig(stay, 0.5 * sum(self._ends))
        ready, ground = self._ready(stay, rigged, change)
        answer = self.judged.judgement
        solved = rests(
            ready, answer.water_level_m, answer.gust_mps * rigged.height_share,
            answer.wind_from_rad, ready.all_set, self.judged.extra,
        )  # fmt: skip
        found = _Solved(stay, rigged, ground, solved)
        self._last = change, found
        return found

    def _ready(self, stay: Stay, rigged: Rigged, change: Change) -> tuple[Moored, Ground]:
        """Tables of the rode of this chain, and the shore lines' beside them."""
        if change[0] not in self._chains:
            first_m = float(self.judged.judgement.water_level_m[0, 0])
            ground = ground_of(stay, proven_of(stay, rigged, first_m))
            self._chains[change[0]] = self._coarse(rigged), ground
        ready, ground = self._chains[change[0]]
        scene = rigged.scene
        if self._all_round:
            scene = replace(scene, domain=ready.scene.domain)
        return relined(ready, scene, rigged.start), ground

    def _coarse(self, rigged: Rigged) -> Moored:
        low_m, high_m = self._ends
        if self._all_round:
            return rigged.ready_wide(low_m, high_m)
        spans = min(_MOST_SPANS, max(1, math.ceil((high_m - low_m) / _A_LEVEL_M)))
        spread = Spread(low_m - _PAD_M, high_m + _PAD_M, 1 + 2 * spans, _BEARINGS)
        return moored(rigged.scene, rigged.form, rigged.arm_m, rigged.start, spread)


def deciding_use(member: Ints, greatest: Floats, past: Floats, accepted: float) -> Floats:
    """By time the use that as many members reach as it takes to pass the limit. (time,)

    Not over 1: the hour is inside the limits. What is unknown, and where she leaves her
    berth, counts as past everything. Entries of one member number are winds of one hour,
    of which the worst counts.

    Parameters
    ----------
    member : array, shape (entry,)
    greatest, past : arrays, shape (entry, time)
    accepted : float
        Share of the members that may be past a limit.
    """
    unknown = np.isnan(greatest) | np.isnan(past)
    told = np.where(unknown | ((past == 1.0) & (greatest <= 1.0)), _WORST, greatest)
    order = np.argsort(member, kind="stable")
    first = np.flatnonzero(np.diff(member[order], prepend=member[order[:1]] - 1))
    worst = np.maximum.reduceat(told[order], first, axis=0)
    rank = first.size - 1 - spare_members(first.size, accepted)
    return np.asarray(np.partition(worst, rank, axis=0)[rank])


def spare_members(members: int, accepted: float) -> int:
    """How many members may be past a limit in an hour that still counts as inside."""
    return min(math.floor(accepted * members + 1e-9), members - 1)


def unchanged(count: int) -> Change:
    """No change of so many lengths."""
    return (0.0,) * count


def changed(count: int, by_m: Mapping[int, float]) -> Change:
    """Some of so many lengths changed, by their number. [m]"""
    return tuple(by_m.get(number, 0.0) for number in range(count))
