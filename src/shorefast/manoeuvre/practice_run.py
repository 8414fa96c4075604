"""A whole practice by its orders: what was ordered, what happened, the track she made."""

from __future__ import annotations

import math
from collections.abc import Callable
from collections.abc import Sequence as Many
from dataclasses import dataclass
from typing import NamedTuple

from shorefast.manoeuvre.practice import Ticked, seen_at, tick
from shorefast.manoeuvre.practice_contact import Space, least_of
from shorefast.manoeuvre.practice_deck import Happening
from shorefast.manoeuvre.practice_orders import TICK_S, Order, Timed
from shorefast.manoeuvre.practice_set import Moment, Practice
from shorefast.manoeuvre.seen import along_and_across, speed_along
from shorefast.mooring import Lying

# after the last order she is watched so much longer, and never longer than this in all [s]
TAIL_S, MOST_S = 60.0, 7200.0


class Seen(NamedTuple):
    """How she was at one tick; metres, seconds, newtons, radians.

    along_m, across_m : of the roller from the anchor's planned place, along her way in
    off_m : her stern to the high-water line along her way
    hand_m : to the hand off the boat, NaN none
    tension_n : of each line, the rode first; moved_m : how far the anchor gave way
    fast, length_m : of each line ashore
    """

    t_s: float
    east_m: float
    north_m: float
    heading_rad: float
    ahead_mps: float
    along_m: float
    across_m: float
    along_mps: float
    off_m: float
    chain_m: float
    anchor: str
    anchor_east_m: float
    anchor_north_m: float
    pull_n: float
    angle_rad: float
    helm_rad: float
    revs: float
    propeller_may_turn: bool
    hand_m: float
    tension_n: tuple[float, ...]
    moved_m: float
    fast: tuple[bool, ...]
    length_m: tuple[float, ...]


@dataclass(frozen=True)
class Practised:
    """A practice from its beginning to its end.

    Attributes
    ----------
    orders : tuple of Timed
    rows : tuple of Seen
        One a tick, the first before anything was ordered.
    happened : tuple of Happening
    least : tuple of (t_s, Space)
        The least room of every part, and when.
    moments : tuple of Moment
        As ``rows``; any of them can be gone back to.
    """

    practice: Practice
    orders: tuple[Timed, ...]
    rows: tuple[Seen, ...]
    happened: tuple[Happening, ...]
    least: tuple[tuple[float, Space], ...]
    moments: tuple[Moment, ...]


class Rehearsal:
    """A practice under way: orders go in, time goes on, and back."""

    def __init__(self, one: Practice) -> None:
        self.practice = one
        self.moments = [one.begins]
        self.rows = [_row(one, one.begins, seen_at(one, one.begins))]
        self.rooms: list[tuple[Space, ...]] = [()]
        self.told_by: list[tuple[Happening, ...]] = [()]
        self.orders: list[Timed] = []

    @property
    def t_s(self) -> float:
        """Since practice began. [s]"""
        return self.moments[-1].t_s

    @property
    def is_over(self) -> bool:
        """Whether the end was ordered, or the longest time is over."""
        ended = bool(self.orders) and self.orders[-1].order.do == "end"
        return ended or self.t_s >= MOST_S

    def on(self, orders: Many[Order] = ()) -> Ticked:
        """One tick on under what is ordered now."""
        self.orders += [Timed(self.t_s, order) for order in orders]
        ticked = tick(self.practice, self.moments[-1], orders)
        self.moments.append(ticked.moment)
        self.rows.append(_row(self.practice, ticked.moment, ticked.lying))
        self.rooms.append(ticked.spaces)
        self.told_by.append(ticked.happened)
        return ticked

    def end(self) -> None:
        """The end is ordered: nothing comes after it."""
        self.orders.append(Timed(self.t_s, Order("end")))

    def back(self, by_s: float) -> None:
        """Back by so much, as if nothing since had been ordered. [s]"""
        keep = max(1, len(self.moments) - round(by_s / TICK_S))
        del self.moments[keep:], self.rows[keep:], self.rooms[keep:]
        del self.told_by[keep:]
        self.orders = [one for one in self.orders if one.at_s < self.t_s]

    def told(self) -> Practised:
        """All of it."""
        return Practised(
            self.practice, tuple(self.orders), tuple(self.rows),
            tuple(one for told in self.told_by for one in told), _least(self), tuple(self.moments),
        )  # fmt: skip


def rehearse(
    one: Practice,
    script: Many[Timed],
    until_s: float | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> Practised:
    """Run a practice by its script.

    Parameters
    ----------
    one : Practice
    script : sequence of Timed
        An order begins with the first tick not before its time.
    until_s : float, optional
        When it ends; where left out with the order to end, else a minute after the last
        order. [s]
    progress : callable, optional
        Told seconds done and in all.
    """
    under_way, waiting = Rehearsal(one), sorted(script, key=lambda timed: timed.at_s)
    last_s = waiting[-1].at_s if waiting else 0.0
    end_s = last_s + TAIL_S if until_s is None else until_s
    while under_way.t_s < min(end_s, MOST_S) and not under_way.is_over:
        now = [timed.order for timed in waiting if timed.at_s <= under_way.t_s]
        waiting = waiting[len(now) :]
        if any(order.do == "end" for order in now):
            under_way.end()
            break
        under_way.on(now)
        if progress is not None:
            progress(round(under_way.t_s), round(min(end_s, MOST_S)))
    return under_way.told()


def _row(one: Practice, moment: Moment, now: Lying) -> Seen:
    q = (now.east_m, now.north_m, now.heading_rad)
    stern = one.arrival.stern(q)
    hand = moment.deck.hand
    hand_m = math.nan if hand is None else math.dist(stern, (hand.east_m, hand.north_m))
    along_m, across_m = along_and_across(one.way, now)
    lines = range(1, len(one.gear) + 1)
    return Seen(
        moment.t_s, *q, now.ahead_mps, along_m, across_m, speed_along(one.way, now),
        one.arrival.off_astern_m(q), now.chain_m, now.anchor, *now.anchor_m, now.pull_n,
        now.angle_rad, now.helm_rad, now.revs, moment.deck.sequence.propeller_may_turn, hand_m,
        now.tension_n, now.moved_m, tuple(one.she.is_fast(k) for k in lines),
        tuple(one.she.length_m(k) for k in lines),
    )  # fmt: skip


def _least(under_way: Rehearsal) -> tuple[tuple[float, Space], ...]:
    least: dict[str, tuple[float, Space]] = {}
    for row, room in zip(under_way.rows, under_way.rooms, strict=True):
        for space in room:
            if not math.isfinite(space.room_m):
                continue
            if space.of not in least or space.room_m < least[space.of][1].room_m:
                least[space.of] = (row.t_s, space)
    return tuple(least.values())


def least_named(practised: Practised) -> tuple[float, Space] | None:
    """The least room of all, and when; None where none is known."""
    found = least_of(tuple(space for _, space in practised.least))
    return next((one for one in practised.least if one[1] is found), None)
