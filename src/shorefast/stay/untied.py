"""Untied: she lies to her chain and some of her lines, every set of them, hour by hour."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from shorefast.errors import OutsideModel
from shorefast.mooring import FOUND, L_BEARING, L_TENSION, UNKNOWN
from shorefast.stay.answer import Room
from shorefast.stay.judge import uses
from shorefast.stay.parts import parts_in_use
from shorefast.stay.room import room_use
from shorefast.stay.rooms_there import rooms_and_gaps
from shorefast.stay.verdict import shares_past, use_and_past
from shorefast.stay.without import Asked

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Some = NDArray[np.bool_]
T = TypeVar("T", bound=np.generic)
MOST_LINES = 8
"""Two hundred and fifty-six sets of lines; more take too long to be asked at a berth."""
_STATES_AT_ONCE = 100_000
ASHORE = "hull to the shore"
"""What is told to be past its limit where she touches before she comes to any rest."""
# of so few lines every set is soon worked out
_FEW = 4
_COLUMNS = L_BEARING + 1


@dataclass(frozen=True)
class Untied:
    """Every set of lines that may be left, weighed; arrays (set, entry, hour, ...).

    In the number of a set bit k stands for line k, in the order of the lie: 0 is none, and
    not worked out; the last is all. NaN where unknown or not worked out.

    Attributes
    ----------
    names : tuple of str
        The lines.
    at : int array (hour,)
        Which of the judged times.
    member : int array (entry,)
    q : array (set, entry, hour, 3)
        East, north [m], heading [rad].
    pull_n : array (set, entry, hour, line)
        Tension of each line at its cleat, 0 for one that is off. [N]
    rode_n : array (set, entry, hour)
        At the roller. [N]
    past : array (set, entry, hour)
        1 where something is past its limit, 0 where not, NaN unknown.
    room_use, use : arrays (set, entry, hour)
        The greatest of room wanted over room there is, and of load over limit.
    counted : tuple of str
        Names of all that counts; ``first`` (set, entry, hour) is the number of the one most used.
    share : array (set, hour)
        Of members past a limit; NaN where the unknown ones decide, and where not worked out.
    done : array (set, hour)
        Whether it was worked out.
    """

    names: tuple[str, ...]
    at: Ints
    member: Ints
    q: Floats
    pull_n: Floats
    rode_n: Floats
    past: Floats
    room_use: Floats
    use: Floats
    counted: tuple[str, ...]
    first: Ints
    share: Floats
    done: Some

    @property
    def every(self) -> int:
        """The number of the set with every line on."""
        return int((1 << len(self.names)) - 1)


def untied(asked: Asked, at: Ints, *, within: bool = False, anchor: bool = True) -> Untied:
    """Where she lies to her chain and each set of her lines, and what that asks and leaves.

    A set is come to by letting one line go from a set with one more, from where she lay to
    those: the first such set in the order of the lie whose rest is known. Where that line
    was slack she lies as before. Where damped motion leads to no rest, a touch on the way
    counts as past a limit; else it is not known. Sea by fetch and gusts are those of the
    judgement. Room counts to the zones she has to keep off, too.

    Parameters
    ----------
    at : int array (hour,)
        Which of the judged times.
    within : bool
        Leave out sets to which no order leads by sets known to be within the limits; and in
        hours in which she can lie to no single line within them, all others.
    anchor : bool
        Whether her chain holds her, too.

    Raises
    ------
    OutsideModel
        For more than eight lines.
    """
    count = len(asked.judged.rigged.legs)
    if count > MOST_LINES:
        raise OutsideModel(
            "Letting go",
            f"{count} lines ashore",
            f"every set of up to {MOST_LINES} is tried",
            "Take lines to one point as one, doubled.",
        )
    at = np.asarray(at, np.int64)
    each = max(1, _STATES_AT_ONCE // (asked.shape[0] << count))
    parts = [
        _Sets(asked, at[first : first + each], within, anchor).told()
        for first in range(0, max(1, at.size), each)
    ]
    return parts[0] if len(parts) == 1 else _joined(parts)


def walked(asked: Asked, at: int, order: Sequence[int]) -> Floats:
    """Where she lies after each line of an order is let go, from where she lay before it.

    Parameters
    ----------
    at : int
        Which of the judged times.
    order : numbers of lines of the lie, all of them; the last stays on

    Returns
    -------
    array (stage, entry, 3); NaN where she comes to no rest, and from then on
    """
    states = asked.states.some(asked.numbers(np.array([at])))
    active = np.ones((states.q.shape[0], len(order) + 1))
    q, stages = states.q, []
    for line in order[:-1]:
        active[:, 1 + line] = 0.0
        found = asked.waters.rests(states, q, active, patient=False)
        q = np.where((found.code == FOUND)[:, None], found.q, np.nan)
        stages.append(q)
    return np.array(stages).reshape(-1, *states.q.shape)


def _joined(parts: list[Untied]) -> Untied:
    """The same question asked of several lots of hours, as one."""
    along = {"q": 2, "pull_n": 2, "rode_n": 2, "past": 2, "room_use": 2, "use": 2, "first": 2,
             "share": 1, "done": 1, "at": 0}  # fmt: skip
    columns: dict[str, Any] = {
        name: np.concatenate([getattr(part, name) for part in parts], axis=axis)
        for name, axis in along.items()
    }
    return replace(parts[0], **columns)


def levels_down(count: int) -> list[list[int]]:
    """Sets of so many lines by how many are left: all of them first, single lines last."""
    every = range(1, 1 << count)
    return [[one for one in every if one.bit_count() == left] for left in range(count, 0, -1)]


class _Sets:
    """Every set of lines over some hours; arrays (set, state, ...), ``like``: lies as which."""

    def __init__(self, asked: Asked, at: Ints, within: bool, anchor: bool) -> None:
        self.asked, self.at, self.within, self.anchor = asked, at, within, float(anchor)
        self.count, self.entries = len(asked.judged.rigged.legs), asked.shape[0]
        self.number = asked.numbers(at)
        self.states = asked.states.some(self.number)
        sets, some = 1 << self.count, self.number.size
        self.q = np.full((sets, some, 3), np.nan)
        self.code = np.full((sets, some), UNKNOWN, np.int64)
        self.line = np.full((sets, some, self.count + 1, _COLUMNS), np.nan)
        self.like = np.zeros((sets, some), np.int64)
        # where she comes to no rest: whether she has touched by then
        self.aground = np.zeros((sets, some), np.bool_)
        self.room = np.full((sets, some), np.nan)
        self.use = np.full((sets, some), np.nan)
        self.past = np.full((sets, some), np.nan)
        self.first = np.zeros((sets, some), np.int64)
        self.share = np.full((sets, at.size), np.nan)
        self.done = np.zeros((sets, at.size), np.bool_)
        self.rooms: dict[int, Floats] = {}
        self.counted: tuple[str, ...] = ()
        self.closed: Some = np.zeros(at.size, np.bool_)

    def told(self) -> Untied:
        """All sets worked out, larger ones first."""
        if self.within and self.count > _FEW:
            self._look_at_single_lines()
        for level in levels_down(self.count):
            for one in level:
                self.done[one] = self._open(one) | (self.done[one] & self.closed)
            asked = [one for one in level if (self.done[one] & ~self.closed).any()]
            if asked:
                # sets with as many lines do not meet: any number of threads gives the same
                with ThreadPoolExecutor() as pool:
                    list(pool.map(self._lie, asked))
                self._weigh(np.array(asked))
        judged = self.asked.judged

        def shaped(flat: NDArray[T]) -> NDArray[T]:
            return flat.reshape(flat.shape[0], self.entries, self.at.size, *flat.shape[2:])

        pull_n = shaped(self.line[..., L_TENSION])
        return Untied(
            tuple(leg.name for leg in judged.rigged.legs), self.at, judged.judgement.member,
            shaped(self.q), pull_n[..., 1:], pull_n[..., 0], shaped(self.past),
            shaped(self.room), shaped(self.use), self.counted, shaped(self.first), self.share,
            self.done,
        )  # fmt: skip

    def _look_at_single_lines(self) -> None:
        """Close the hours in which each line by itself, all others gone at once, is too little."""
        single = levels_down(self.count)[-1]
        self.done[single] = True
        for one in single:
            self._let_go_to(one, self.states.q, np.ones(self.number.size, np.bool_))
        self._weigh(np.array(single))
        inside = self.share[single] <= self.asked.stay.accepted_share
        self.closed = np.asarray(~inside.any(axis=0))
        self.done[single] = self.closed

    def _off(self, one: int) -> list[int]:
        return [k for k in range(self.count) if not one >> k & 1]

    def _open(self, one: int) -> Some:
        """Hours in which the set is worked out."""
        parents = [one | 1 << k for k in self._off(one)]
        if not self.within or not parents:
            return ~self.closed
        inside = self.share[parents] <= self.asked.stay.accepted_share
        return np.asarray((self.done[parents] & inside).any(axis=0) & ~self.closed)

    def _lie(self, one: int) -> None:
        """Her rests to one set."""
        wanted = np.tile(self.done[one] & ~self.closed, self.entries)
        start, moved = self.states.q, wanted
        if self._off(one):
            start, moved = self._from_parents(one, wanted)
        self._let_go_to(one, start, moved)

    def _let_go_to(self, one: int, start: Floats, moved: Some) -> None:
        """Her rests to one set from where she lay, in some of the states."""
        active = np.array([self.anchor, *(float(one >> k & 1) for k in range(self.count))])
        active = np.broadcast_to(active, (int(moved.sum()), self.count + 1))
        new = self.asked.waters.rests(self.states.some(moved), start[moved], active, patient=False)
        lost = new.code != FOUND
        self.aground[one][moved] = False
        if lost.any():
            at = np.flatnonzero(moved)[lost]
            rooms = rooms_and_gaps(self.asked, self.number[at], new.q[lost], at.shape)
            self.aground[one][at] = np.any([room.touches for room in rooms], axis=0)
        self.q[one][moved] = np.where(lost[:, None], np.nan, new.q)
        self.code[one][moved], self.line[one][moved] = new.code, new.line
        self.like[one][moved] = one

    def _from_parents(self, one: int, wanted: Some) -> tuple[Floats, Some]:
        """Where she lay to one line more, and in which states she has to be let go from there.

        The rest to a set of which no such rest is known is not known either. Where the line
        was slack, what stands of the larger set is put down for this one.
        """
        start = np.full(self.states.q.shape, np.nan)
        open_, moved = wanted.copy(), np.zeros(wanted.shape, np.bool_)
        for line in self._off(one):
            parent = one | 1 << line
            here = open_ & (self.code[parent] == FOUND)
            slack = here & (self.line[parent, :, 1 + line, L_TENSION] == 0.0)
            for mine in (self.q, self.code, self.line, self.like):
                mine[one][slack] = mine[parent][slack]
            start[here] = self.q[parent][here]
            moved |= here & ~slack
            open_ &= ~here
        self.like[one][open_], self.code[one][open_] = one, UNKNOWN
        self.q[one][open_], self.line[one][open_] = np.nan, np.nan
        return start, moved

    def _weigh(self, level: Ints) -> None:
        """Uses, rooms and shares of sets with as many lines left."""
        stay, judged = self.asked.stay, self.asked.judged
        code, shape = self.code[level], (level.size, self.states.q.shape[0])
        flat = self.line[level].reshape(1, -1, self.count + 1, _COLUMNS)
        parts = parts_in_use(stay, judged.rigged, judged.ground, flat)
        rooms = self._rooms(level)
        names, use = uses(parts, rooms)
        use = use[:, 0].reshape(-1, *shape)
        for k, leg in enumerate(judged.rigged.legs):
            # of a line that is off nothing is asked, whatever nobody knows of it
            use[names.index(leg.name), ~(level >> k & 1).astype(bool)] = 0.0
        _, past = use_and_past(use, code)
        told = np.isfinite(sum(self.states.path)) & (self.like[level] > 0)
        aground = (code != FOUND) & self.aground[level]
        self.past[level] = np.where(told, np.where(aground, 1.0, past), np.nan)
        self.use[level] = use[: len(names) - len(rooms)].max(axis=0)
        self.room[level] = np.max([room_use(room) for room in rooms], axis=0).reshape(shape)
        most = np.nan_to_num(use, nan=np.inf).argmax(axis=0)
        self.first[level] = np.where(aground, len(names), most)
        self.counted = (*names, ASHORE)
        for one, by_state in zip(level, self.past[level], strict=True):
            by_hour = by_state.reshape(self.entries, -1)
            self.share[one] = shares_past(judged.judgement.member, by_hour, stay.accepted_share)

    def _rooms(self, level: Ints) -> tuple[Room, ...]:
        """Room at the rests of some sets, (1, set and state); alike ones worked out once."""
        state = np.arange(self.states.q.shape[0])
        one, own = np.nonzero(self.like[level] == level[:, None])
        q = self.q[level[one], own]
        found = rooms_and_gaps(self.asked, self.number[own], q, own.shape)
        like = self.like[level]
        rooms = []
        for number, room in enumerate(found):
            kept = self.rooms.setdefault(number, np.full(self.like.shape, np.nan))
            kept[level[one], own] = room.room_m
            kept[level] = kept[like, state[None, :]]
            flat_m = kept[level].reshape(1, -1)
            rooms.append(Room(room.of, flat_m, room.least_wanted_m, beside_m=room.beside_m))
        return tuple(rooms)
