"""In which order to let go: of all orders the one that keeps her inside and off the shore."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.stay import SMALL_PULL_N, Untied, deciding_use

Floats = NDArray[np.float64]
ENOUGH_ROOM = 0.5
"""Room twice as wide as wanted is as good as more: our choice."""
_ALIKE = 1e-9
_NO_WAY = math.inf


@dataclass(frozen=True)
class Stages:
    """What an order of letting go is chosen by, at one hour.

    share : array (set,)
        Of members past a limit while she lies to a set; infinite where not known.
    least_share : array (set,)
        The same where nothing unknown goes wrong; infinite where not worked out.
    room_use : array (set,)
        Room wanted over room there is, as so many members reach as decide.
    pull_n : array (set, line)
        Pull of each line on, as so many members reach as decide. [N]
    """

    share: Floats
    least_share: Floats
    room_use: Floats
    pull_n: Floats

    @property
    def lines(self) -> int:
        """How many lines there are."""
        return int(self.pull_n.shape[1])


@dataclass(frozen=True)
class Order:
    """An order of letting go.

    Attributes
    ----------
    lines : tuple of int
        In the order they are let go; numbers of the lie's lines.
    share : float
        The most of any stage: members past a limit; NaN where no order keeps to what is known.
    least_share : float
        The same for the best order if nothing unknown went wrong; infinite: none was found.
    room_use : float
        The most of any stage.
    pull_n : tuple of float
        What each pulls as it is let go. [N]
    any_order : bool
        Whether all orders are alike: nothing pulls, nothing is short of room.
    """

    lines: tuple[int, ...]
    share: float
    least_share: float
    room_use: float
    pull_n: tuple[float, ...]
    any_order: bool


def stages_at(found: Untied, hour: int, accepted: float) -> Stages:
    """What decides at one of the hours ``found`` was worked out for."""
    sets, lines = found.past.shape[0], len(found.names)
    known = found.share[:, hour]
    share = np.where(np.isfinite(known), known, _NO_WAY)
    done = found.done[:, hour]
    # what was left out because something before it is unknown may do
    left_out = 0.0 if (done & np.isnan(known)).any() else _NO_WAY
    least = np.where(done, np.nan_to_num(known, nan=0.0), left_out)
    on = np.array([[one >> k & 1 for k in range(lines)] for one in range(sets)])
    pulls_n = np.nan_to_num(found.pull_n[:, :, hour]) * on.reshape(sets, 1, lines)
    pull_n = _deciding(found, np.moveaxis(pulls_n, 1, 0), accepted)
    room = _deciding(found, found.room_use[:, :, hour].T, accepted)
    room[0] = _NO_WAY
    return Stages(share, least, room, pull_n)


def _deciding(found: Untied, by_entry: Floats, accepted: float) -> Floats:
    """Of each column the value that as many members reach as it takes to pass the limit."""
    flat = by_entry.reshape(by_entry.shape[0], -1)
    decides = deciding_use(found.member, flat, np.zeros_like(flat), accepted)
    return decides.reshape(by_entry.shape[1:])


def best_order(stages: Stages, not_last: tuple[int, ...] = ()) -> Order:
    """Of all orders the best, exactly, by a search over the sets of lines left.

    First the least share of members past a limit, by the worst stage; among those orders
    the most room, by the worst stage (twice what is wanted is enough, and so is what she has
    as she lies); among those the least pull in the lines as they are let go, all together.
    Where two orders are alike the line that comes first in the lie goes first.

    Parameters
    ----------
    not_last : numbers of lines, not all of them, that must not be the last.
    """
    lines = stages.lines
    if lines == 0:
        return Order((), 0.0, 0.0, 0.0, (), True)
    every = (1 << lines) - 1
    open_ = np.ones(every + 1, np.bool_)
    if lines > 1:
        open_[[1 << k for k in not_last]] = False
    least = _least_of_worst(stages.least_share, open_, lines)
    now = float(stages.room_use[every])
    room = np.maximum(stages.room_use, max(ENOUGH_ROOM, now if math.isfinite(now) else 0.0))
    for cost in (np.minimum(stages.share, 1.0 + _ALIKE), room):
        most = _least_of_worst(cost, open_, lines)
        open_ &= cost <= most + _ALIKE
        open_[every] = True
    way = _least_pull(stages.pull_n, open_, lines)
    pulls = tuple(float(stages.pull_n[left, line]) for left, line in _walk(way))
    share, room_use = worst_of(stages, way)
    return Order(way, share, max(least, 0.0), room_use, pulls, _any(stages))


def worst_of(stages: Stages, way: tuple[int, ...]) -> tuple[float, float]:
    """Share past a limit and use of room at the worst stage of an order; NaN where not known."""
    sets = [left & ~(1 << line) for left, line in _walk(way)][:-1]
    share = max((float(stages.share[one]) for one in sets), default=0.0)
    room = max((float(stages.room_use[one]) for one in sets), default=0.0)
    return (share if math.isfinite(share) else math.nan), room


def _walk(way: tuple[int, ...]) -> list[tuple[int, int]]:
    """The lines on before each is let go, and which it is."""
    left, steps = (1 << len(way)) - 1, []
    for line in way:
        steps.append((left, line))
        left &= ~(1 << line)
    return steps


def _sets_down(lines: int) -> list[int]:
    """Sets with at least one line, larger ones first, all but the whole."""
    return sorted(range(1, (1 << lines) - 1), key=lambda one: -one.bit_count())


def _least_of_worst(cost: Floats, open_: NDArray[np.bool_], lines: int) -> float:
    """The least, over all orders by open sets, of the greatest cost of a stage."""
    every = (1 << lines) - 1
    best = [_NO_WAY] * (every + 1)
    best[every] = -math.inf
    for one in _sets_down(lines):
        if open_[one]:
            came = min(best[one | 1 << k] for k in range(lines) if not one >> k & 1)
            best[one] = max(came, float(cost[one]))
    return min(best[1 << k] for k in range(lines)) if lines > 1 else -math.inf


def _least_pull(pull_n: Floats, open_: NDArray[np.bool_], lines: int) -> tuple[int, ...]:
    """The order by open sets in which the lines pull least as they are let go."""
    every = (1 << lines) - 1
    best: dict[int, tuple[float, tuple[int, ...]]] = {every: (0.0, ())}
    for one in [*_sets_down(lines), 0]:
        if one and not open_[one]:
            continue
        ways = [
            (best[left][0] + float(pull_n[left, k]), (*best[left][1], k))
            for k in range(lines)
            if not one >> k & 1 and (left := one | 1 << k) in best
        ]
        if ways:
            least = min(total for total, _ in ways)
            best[one] = min((w for w in ways if w[0] <= least + _ALIKE), key=lambda w: w[1])
    return best[0][1]


def _any(stages: Stages) -> bool:
    """Whether it does not matter which order is taken: nothing pulls, nothing is short."""
    share, roomy = stages.share[1:], stages.room_use[1:] <= ENOUGH_ROOM
    alike = bool(np.isfinite(share).all()) and float(np.ptp(share)) <= _ALIKE
    return bool(alike and roomy.all() and float(stages.pull_n.max()) <= SMALL_PULL_N)
