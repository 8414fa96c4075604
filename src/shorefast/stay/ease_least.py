"""The least change of lengths that brings a stay inside its limits."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shorefast.stay.ease_lengths import MOST_M, STEP_M, Length, steps_m
from shorefast.stay.ease_solved import Change, Resolved, Tried, deciding_use, unchanged
from shorefast.stay.ease_told import known_at
from shorefast.stay.verdict import use_and_past

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
HAND_M = 1.0
"""What laying hands on one more length counts as, beside its metres: our choice. [m]"""
MARGIN = 0.005
"""How far below the limits a change must bring her while tables are coarse."""
_BEAM, _DEEPEST, _ROUNDS, _SOLVED_A_ROUND = 8, 3, 3, 12
_HARDLY, _TOUCHES = 1.01, 9.9
_SHORT_M, _SHORT_SOLVED = 1.0, 4
_STRIDES_M, _STRIDES, _EVERY = (-3.0, -1.0, 1.0, 3.0), 6, 4


@dataclass(frozen=True)
class Aim:
    """What a search is after: the accepted share of members, and the times looked at.

    touching : in how many states she may touch as she lies; no change may make them more.
    """

    accepted: float
    times: Ints
    touching: int = 0

    def decides(self, member: Ints, greatest: Floats, past: Floats, touching: int) -> float:
        """The greatest deciding use of the times; as where she touches, if she does anew."""
        use = float(deciding_use(member, greatest, past, self.accepted).max())
        return max(use, _TOUCHES) if touching > self.touching else use

    def with_times(self, times: Ints) -> Aim:
        """The same, looked at at more times."""
        return replace(self, times=np.union1d(self.times, times))


@dataclass(frozen=True)
class Reached:
    """A change of lengths and the greatest use that decides any hour of the stay."""

    change: Change
    use: float

    @property
    def effort_m(self) -> float:
        """Metres hauled and eased, and a metre for every length touched. [m]"""
        metres = sum(abs(by_m) for by_m in self.change)
        return metres + HAND_M * sum(1 for by_m in self.change if by_m != 0.0)


class Model:
    """What changes do, as straight lines from one that was solved: a guess, to be solved.

    Loads go straight with lengths here, and so does room; which way each line is pulled
    or slack stays as within the first metre, one slope for out and one for in.
    """

    def __init__(
        self,
        tried: Tried,
        lengths: Sequence[Length],
        aim: Aim,
        middle: Change,
        told: Callable[[], None],
    ) -> None:
        self.lengths, self.member = lengths, tried.member
        self.aim, self.middle = aim, middle
        self.base = tried.at(middle, aim.times, between=False)
        self._wanted = np.array([one.least_wanted_m for one in self.base.rooms])
        self._alone = np.array([one.beside_m <= 0.0 for one in self.base.rooms], bool)
        self._at = self._values(self.base)
        self._slope: dict[tuple[int, float], Floats] = {}
        self._tried, self._told = tried, told

    def _values(self, found: Resolved) -> Floats:
        """Uses of parts and metres of room, (entry, member, time)."""
        count = len(found.use) - len(found.rooms)
        return np.concatenate([found.use[:count], np.array([one.room_m for one in found.rooms])])

    def slope(self, number: int, sign: float) -> Floats:
        """What a metre on one length does one way; twice the half of one where that is the end."""
        if (number, sign) not in self._slope:
            step, whole = list(self.middle), self.lengths[number].can(self.middle[number] + sign)
            step_m = 1.0 if whole else STEP_M
            step[number] += sign * step_m
            found = self._tried.at(tuple(step), self.aim.times, between=False)
            self._slope[number, sign] = (self._values(found) - self._at) / step_m
            self._told()
        return self._slope[number, sign]

    def guess(self, change: Change) -> float:
        """The greatest deciding use after a change, by the straight lines."""
        values = self._at
        for number, (by_m, was_m) in enumerate(zip(change, self.middle, strict=True)):
            more_m = by_m - was_m
            if more_m != 0.0:
                sign = 1.0 if more_m > 0.0 else -1.0
                values = values + abs(more_m) * self.slope(number, sign)
        return self._decides(values)

    def _decides(self, values: Floats) -> float:
        count = len(values) - self._wanted.size
        room_m = values[count:]
        with np.errstate(divide="ignore", invalid="ignore"):
            tight = np.minimum(self._wanted[:, None, None] / room_m, 9.9)
        room_use = np.where(room_m > 0.0, tight, np.where(np.isnan(room_m), np.nan, 9.9))
        use = np.concatenate([np.maximum(values[:count], 0.0), room_use])
        code = np.zeros(use.shape[1:], np.int64)
        greatest, past = use_and_past(use, code)
        hits = (room_m[self._alone] <= 0.0).any(axis=0)
        return self.aim.decides(self.member, greatest, past, int(hits.sum()))


def solved_use(tried: Tried, aim: Aim, change: Change) -> float:
    """The greatest deciding use after a change, solved."""
    found = tried.at(change, aim.times, between=False)
    return aim.decides(tried.member, found.greatest, found.past, _touching(found))


def _touching(found: Resolved) -> int:
    """In how many states no room is left to something."""
    hits = [one.touches for one in found.rooms]
    return int(np.any(hits, axis=0).sum()) if hits else 0


def _widened(lengths: Sequence[Length], beam: Sequence[Change]) -> Iterator[Change]:
    """Every change of the beam with one more length touched, by every half metre."""
    for change in beam:
        for number, length in enumerate(lengths):
            if change[number] == 0.0:
                for by_m in (*steps_m(length, 1.0), *steps_m(length, -1.0)):
                    yield (*change[:number], by_m, *change[number + 1 :])


def _guesses(model: Model, lengths: Sequence[Length]) -> list[Reached]:
    """Changes of one, two and three lengths, by the straight lines; the best are widened."""
    beam, found, seen = [unchanged(len(lengths))], [], set()
    for _ in range(min(_DEEPEST, len(lengths))):
        fresh = []
        for change in _widened(lengths, beam):
            if change not in seen:
                seen.add(change)
                fresh.append(Reached(change, model.guess(change)))
        found.extend(fresh)
        beam = [one.change for one in _unlike(sorted(fresh, key=lambda one: one.use))]
    return found


def _unlike(ordered: Sequence[Reached]) -> list[Reached]:
    """The best of each set of lengths and ways, the best sets."""
    kept: dict[tuple[float, ...], Reached] = {}
    for one in ordered:
        kept.setdefault(tuple(np.sign(one.change)), one)
        if len(kept) == _BEAM:
            break
    return list(kept.values())


def _hopeful(guessed: Sequence[Reached], middle: Change) -> list[Reached]:
    """The best by the straight lines, and the best a short way off: there they are straight."""
    ordered = sorted(guessed, key=lambda one: (one.use, one.effort_m))
    short = [
        one
        for one in ordered
        if sum(abs(a - b) for a, b in zip(one.change, middle, strict=True)) <= _SHORT_M
    ]
    return [*_unlike(ordered), *short[:_SHORT_SOLVED]]


def _trimmed(tried: Tried, aim: Aim, found: Reached, most: float) -> Reached:
    """The same with every half metre taken back that does not take it past a use."""
    while True:
        for number, by_m in enumerate(found.change):
            if by_m == 0.0:
                continue
            less_m = by_m - math.copysign(STEP_M, by_m)
            change = (*found.change[:number], less_m, *found.change[number + 1 :])
            use = solved_use(tried, aim, change)
            if use <= most:
                found = Reached(change, use)
                break
        else:
            return found


def _scanned(
    tried: Tried, lengths: Sequence[Length], aim: Aim, told: Callable[[], None]
) -> list[Reached]:
    """Every single length changed by every second metre, solved: a use may dip far off."""
    found = []
    for number, length in enumerate(lengths):
        for by_m in (*steps_m(length, 1.0), *steps_m(length, -1.0)):
            if by_m % (_EVERY * STEP_M) == 0.0:
                change = list(unchanged(len(lengths)))
                change[number] = by_m
                found.append(Reached(tuple(change), solved_use(tried, aim, tuple(change))))
        told()
    return found


def _walked(
    tried: Tried, lengths: Sequence[Length], aim: Aim, best: Reached, told: Callable[[], None]
) -> Reached:
    """The best gone on from, one length at a time and every step solved, while it gains."""
    for _ in range(_STRIDES):
        near = []
        for number, length in enumerate(lengths):
            for stride_m in _STRIDES_M:
                by_m = best.change[number] + stride_m
                if abs(by_m) <= MOST_M and length.can(by_m):
                    change = (*best.change[:number], by_m, *best.change[number + 1 :])
                    near.append(Reached(change, solved_use(tried, aim, change)))
            told()
        step = min(near, key=lambda one: (one.use, one.effort_m), default=best)
        if step.use * _HARDLY > best.use:
            break
        best = step
        if best.use <= 1.0 - MARGIN:
            break
    return best


def least_change(
    tried: Tried,
    lengths: Sequence[Length],
    aim: Aim,
    told: Callable[[], None],
    margin: float = MARGIN,
) -> Reached:
    """The least change that brings every hour inside the limits; else the best found.

    Straight lines through what a metre does guess at changes of up to three lengths;
    the likely ones are solved, the least effort first; where none is inside, the lines
    are drawn anew about the best. Where they lead nowhere every length is tried alone, and
    the best is gone on from by steps that are all solved. What is found is then taken back
    by half metres as far as it stays inside. Nothing counts as better that lets her touch
    where she does not now. That no smaller change exists is not proved.

    margin : how far below the limits it must bring her as solved here
    """
    best = Reached(unchanged(len(lengths)), solved_use(tried, aim, unchanged(len(lengths))))
    for _ in range(_ROUNDS):
        model = Model(tried, lengths, aim, best.change, told)
        guessed = _guesses(model, lengths)
        likely = sorted(
            (one for one in guessed if one.use <= 1.0 + MARGIN - margin),
            key=lambda one: (one.effort_m, one.use),
        )
        hopeful = _hopeful(guessed, best.change)
        solved = []
        for one in (likely or hopeful)[:_SOLVED_A_ROUND]:
            solved.append(Reached(one.change, solved_use(tried, aim, one.change)))
            told()
            if solved[-1].use <= 1.0 - margin:
                return _trimmed(tried, aim, solved[-1], 1.0 - margin)
        better = min([best, *solved], key=lambda one: (one.use, one.effort_m))
        if better is best:
            break
        best = better
    far = _scanned(tried, lengths, aim, told)
    best = min([best, *far], key=lambda one: (one.use, one.effort_m))
    best = _walked(tried, lengths, aim, best, told)
    if best.use <= 1.0 - MARGIN:
        return _trimmed(tried, aim, best, 1.0 - MARGIN)
    # what hardly helps is not asked of the crew
    return _trimmed(tried, aim, best, max(1.0, best.use * _HARDLY))


def aim_of(stay_share: float, tried: Tried, lengths: Sequence[Length]) -> Aim:
    """Every half hour, and the ten times at which most is asked as she lies.

    Of the times at which it can be told whether she lies inside her limits: no change of
    lengths makes a wind known.
    """
    times = np.flatnonzero(known_at(tried.judged.judgement))
    now = tried.at(unchanged(len(lengths)), times, between=False)
    hardest = np.argsort(-deciding_use(tried.member, now.greatest, now.past, stay_share))[:10]
    times = np.unique(np.concatenate([times[::3], times[-1:], times[hardest]]))
    as_she_lies = tried.at(unchanged(len(lengths)), times, between=False)
    return Aim(stay_share, times, _touching(as_she_lies))


__all__ = ["HAND_M", "MARGIN", "Aim", "Reached", "aim_of", "least_change", "solved_use"]
