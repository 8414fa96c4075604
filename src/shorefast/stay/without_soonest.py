"""If one goes: in which states she touches soonest, found by following a few coarsely."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from shorefast.stay.plan import Stay
from shorefast.stay.without_drift import Pace, ways
from shorefast.stay.without_next import States, Waters
from shorefast.stay.without_weighed import Weighed

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
# states are looked for by direction of the wind: so many directions, and in each the
# strongest wind, the lowest water and what is between
_DIRECTIONS, _BETWEEN = 24, (1.0, 0.75, 0.5, 0.25, 0.0)
# then those like the soonest found, as often as that finds a sooner one
_ALIKE, _MOST_ROUNDS = 16, 4
_COARSELY, _LONGER = Pace(0.25, 1.0, 60.0), Pace(0.25, 1.0, soonest=True)
_SOME = 12


def soonest(stay: Stay, waters: Waters, states: States, active: Floats, weighed: Weighed) -> Ints:
    """States in which she touches within a minute, the soonest first.

    Harder wind and lower water mostly bring her there sooner, so that of each direction
    of the wind the outermost are followed, with some of those that touch at their next
    rest or have none; then those most like the soonest of these. Where none touches
    within the minute, of those that touch at their rest the windiest are followed on.

    Parameters
    ----------
    active : array (state, line)
        The lines that are left.
    """
    told = np.isfinite(sum(states.path)) & np.isfinite(states.q).all(axis=-1)
    outer = _Outer(states, np.flatnonzero(told))
    seconds = np.full(told.size, math.nan)
    tried = np.zeros(told.size, np.bool_)
    late = np.flatnonzero(weighed.touch | weighed.adrift | (weighed.unknown & told))
    late = late[np.argsort(-states.path.wind_mps[late], kind="stable")]
    some = np.union1d(outer.most(), late[:: max(1, late.size // _SOME)])
    for _ in range(_MOST_ROUNDS):
        if not some.size:
            break
        before = np.nanmin(seconds) if np.isfinite(seconds).any() else math.inf
        seconds[some] = ways(stay, waters, states.some(some), active[some], _COARSELY).seconds
        tried[some] = True
        if not np.isfinite(seconds[some]).any() or np.nanmin(seconds[some]) >= before:
            break
        some = outer.like(int(np.nanargmin(seconds)), tried)
    if not np.isfinite(seconds).any():
        late = late[:_SOME]
        seconds[late] = ways(stay, waters, states.some(late), active[late], _LONGER).seconds
    order = np.argsort(seconds, kind="stable")
    return np.asarray(order[np.isfinite(seconds[order])], np.int64)


class _Outer:
    """The states of which all is told, by push of the wind, lowness of water and direction."""

    def __init__(self, states: States, at: Ints) -> None:
        self.at = at
        self.from_rad = states.path.from_rad[at]
        self.hard = _spread(states.path.wind_mps[at] ** 2)
        self.low = _spread((states.down_m - states.path.level_m)[at])

    def most(self) -> Ints:
        """Of each direction of the wind the states with most wind and least water."""
        toward = np.floor(self.from_rad * (_DIRECTIONS / (2.0 * math.pi)))
        toward = np.mod(toward, _DIRECTIONS)
        found: list[int] = []
        for direction in range(_DIRECTIONS):
            of = np.flatnonzero(toward == direction)
            if of.size:
                score = (w * self.hard[of] + (1.0 - w) * self.low[of] for w in _BETWEEN)
                found += [int(of[np.argmax(one)]) for one in score]
        return self.at[np.unique(np.array(found, np.int64))]

    def like(self, state: int, tried: NDArray[np.bool_]) -> Ints:
        """Those not tried yet that are most like one of the states."""
        k = int(np.searchsorted(self.at, state))
        turned = np.abs(np.mod(self.from_rad - self.from_rad[k] + math.pi, 2.0 * math.pi) - math.pi)
        apart = (self.hard - self.hard[k]) ** 2 + (self.low - self.low[k]) ** 2 + turned**2
        apart[tried[self.at]] = math.inf
        near = np.argsort(apart, kind="stable")[:_ALIKE]
        return np.asarray(self.at[near[np.isfinite(apart[near])]])


def _spread(value: Floats) -> Floats:
    """A value from nought for its least to one for its greatest."""
    if not value.size:
        return value
    wide = float(value.max() - value.min())
    share: Floats = (value - value.min()) / (wide if wide > 0.0 else 1.0)
    return share
