"""If one goes: the next rest of every state, and what follows, one after the other."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from threading import Lock
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import FOUND, LEFT, Laid, Load, Moored, Path, Rests, released_rests
from shorefast.stay.rigging import Rigged
from shorefast.stay.without_things import Parting, of_breaking, pulls_of

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Some = NDArray[np.bool_]
# past what tables of the rode are for she may go this far without one [m]
_FAR_M = 400.0


class States(NamedTuple):
    """All states of a stay, one after the other, as she lay before anything went.

    path : water, wind at her windage's height, from; arrays (state,); q (state, 3)
    down_m : how far the hour's sea takes her down, (state,) [m]
    """

    path: Path
    q: Floats
    down_m: Floats

    def some(self, at: Ints | Some) -> States:
        """Some of them."""
        return States(Path(*(column[at] for column in self.path)), self.q[at], self.down_m[at])


@dataclass(frozen=True)
class Next:
    """The next rest of every state, and the last after all that followed.

    Attributes
    ----------
    first, last : Rests, arrays (state, ...)
        Once it went; once nothing more follows. The same where nothing does.
    active : array (state, line)
        The lines that are left in the end.
    order : int array (state, round)
        What parted, as numbers of the partings, in their order; -1: nothing more.
    of_breaking : array (state,)
        The greatest load over what parts it in the first next rest; NaN where unknown.
    breaking : int array (state,)
        Which parting that is.
    gone : tuple of int
        The lines that went first.
    """

    first: Rests
    last: Rests
    active: Floats
    order: Ints
    of_breaking: Floats
    breaking: Ints
    gone: tuple[int, ...]

    @property
    def followed(self) -> Ints:
        """How many more parted, (state,)."""
        return np.asarray((self.order >= 0).sum(axis=-1))


class Waters:
    """A lie's tables: those of the judgement; all round once she leaves those."""

    def __init__(self, rigged: Rigged, ready: Moored, extra: Load, level_m: Floats) -> None:
        self.rigged, self.ready, self.extra = rigged, ready, extra
        known = level_m[np.isfinite(level_m)]
        self._span_m = (float(known.min()), float(known.max())) if known.size else (0.0, 0.0)
        self._wide: Moored | None = None
        self._filling = Lock()

    @property
    def wide(self) -> Moored:
        """Tables all round, filled when they are first asked for."""
        with self._filling:
            if self._wide is None:
                self._wide = self.rigged.ready_wide(*self._span_m)
            return self._wide

    def take_wide(self, ready: Moored) -> None:
        """Tables all round that are there already."""
        self._wide = ready

    @property
    def free(self) -> Moored:
        """For when the rode is gone: a shore line's table holds wherever she is."""
        return roomy(self.ready)

    def rests(self, states: States, q: Floats, active: Floats, *, patient: bool = True) -> Rests:
        """Next rests from ``q``: by the near tables, and beyond them by wide ones."""
        laid = Laid(q, active)
        found = released_rests(self.ready, states.path, laid, self.extra, patient=patient)
        for free in (True, False):
            out = (found.code == LEFT) & ((active[:, 0] == 0.0) == free)
            if out.any():
                beyond = self.free if free else self.wide
                some = states.some(out)
                laid = Laid(q[out], active[out])
                again = released_rests(beyond, some.path, laid, self.extra, patient=patient)
                found.q[out], found.code[out], found.line[out] = again.q, again.code, again.line
        return found


def roomy(ready: Moored) -> Moored:
    """The same tables, and she may go far: for states without the rode."""
    east_m, north_m = float(ready.start[0]), float(ready.start[1])
    space = ready.boat.space._replace(
        west_m=east_m - _FAR_M, east_m=east_m + _FAR_M,
        south_m=north_m - _FAR_M, north_m=north_m + _FAR_M,
    )  # fmt: skip
    return replace(ready, boat=ready.boat._replace(space=space))


def next_rests(
    waters: Waters, states: States, gone: tuple[int, ...], partings: tuple[Parting, ...]
) -> Next:
    """What happens once some lines are gone, to its end, every state by itself.

    She is released from where she lay. Whatever then carries more than parts it goes
    too, the hardest loaded first, and she is released anew from that rest; each round
    takes a line more, so that it ends.
    """
    active = np.ones((states.q.shape[0], len(waters.ready.scene.lines)))
    active[:, list(gone)] = 0.0
    first = waters.rests(states, states.q, active)
    share = _greatest(of_breaking(partings, pulls_of(first.line)))
    last = Rests(first.q.copy(), first.code.copy(), first.line.copy())
    order: list[Ints] = []
    over = np.flatnonzero(share.most > 1.0)
    parted = share.which[over]
    while over.size:
        column = np.full(active.shape[0], -1, np.int64)
        column[over] = parted
        order.append(column)
        for at, which in zip(over.tolist(), parted.tolist(), strict=True):
            active[at, list(partings[which].pull_at)] = 0.0
        again = waters.rests(states.some(over), last.q[over], active[over])
        last.q[over], last.code[over], last.line[over] = again.q, again.code, again.line
        more = _greatest(of_breaking(partings, pulls_of(again.line)))
        on = more.most > 1.0
        over, parted = over[on], more.which[on]
    rounds = np.stack(order, axis=-1) if order else np.empty((active.shape[0], 0), np.int64)
    told = np.where(share.known, share.most, math.nan)
    return Next(first, last, active, rounds, told, share.which, gone)


class _Most(NamedTuple):
    most: Floats
    which: Ints
    known: Some


def _greatest(shares: Floats) -> _Most:
    """The greatest of the known shares and which it is; 0 where none is known."""
    known = np.nan_to_num(shares, nan=0.0)
    told = np.asarray(np.isfinite(shares).any(axis=-1))
    return _Most(known.max(axis=-1), known.argmax(axis=-1), told)


def adrift(found: Rests) -> Some:
    """States in which nothing brings her to rest as far as is looked."""
    return np.asarray(found.code == LEFT)


def unknown(found: Rests, states: States) -> Some:
    """States in which wind, water and where she lay are known and her next rest is not."""
    told = np.isfinite(sum(states.path)) & np.isfinite(states.q).all(axis=-1)
    return np.asarray(told & (found.code != FOUND) & (found.code != LEFT))


def turned_rad(q: Floats, before: Floats) -> Floats:
    """How far she turned, the short way. [rad]"""
    turn: Floats = np.mod(q[..., 2] - before[..., 2] + math.pi, 2.0 * math.pi) - math.pi
    return turn


def moved_m(q: Floats, before: Floats) -> Floats:
    """How far she went. [m]"""
    far: Floats = np.hypot(q[..., 0] - before[..., 0], q[..., 1] - before[..., 1])
    return far
