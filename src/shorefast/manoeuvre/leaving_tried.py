"""One way of leaving tried at some hours: the orders, whether she is held, room on her way."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from shorefast.manoeuvre.clear_way import ClearWay
from shorefast.manoeuvre.leaving_away import LATE_S, THROTTLE, Away
from shorefast.manoeuvre.leaving_hold import Held
from shorefast.manoeuvre.leaving_order import Order, best_order, stages_at
from shorefast.manoeuvre.leaving_places import Begun, places_out
from shorefast.manoeuvre.leaving_room import RoomOut, room_out
from shorefast.manoeuvre.leaving_told import NO_ROOM, NOT_HELD, PAST_LIMIT, UNKNOWN, Why
from shorefast.stay import (
    Asked,
    Judged,
    Pushed,
    Stay,
    Untied,
    blown_m,
    deciding_use,
    hove_in,
    in_a_lull,
    let_off,
    lie_of,
    shares_past,
    untied,
)

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
UNDER_WAY_S = 20.0
"""So long the engine takes to bring her off the shore and away from her berth: our choice."""


@dataclass(frozen=True)
class Setting:
    """All that stays the same from one way of leaving to another.

    taken_in : the stay with so much chain hove in, as far as it was asked [m]
    """

    asked: Asked
    held: Held
    away: Away | None
    out: ClearWay
    taken_in: dict[float, Asked] = field(default_factory=dict)

    def hove(self, by_m: float) -> Asked:
        """The stay with so much of its chain hove in. [m]"""
        if by_m <= 0.0:
            return self.asked
        if by_m not in self.taken_in:
            self.taken_in[by_m] = hove_in(self.asked, by_m)
        return self.taken_in[by_m]

    @property
    def stay(self) -> Stay:
        """As it was judged."""
        return self.asked.stay

    @property
    def judged(self) -> Judged:
        """The judgement."""
        return self.asked.judged


@dataclass(frozen=True)
class Way:
    """What is done otherwise than lying as judged: chain hove in first [m]; waiting for a lull."""

    hove_m: float = 0.0
    lull: bool = False


@dataclass(frozen=True)
class Tried:
    """One way of leaving at some hours.

    at : int array (hour,), which of the judged times
    sets : every set of lines
    orders : (hour,)
    held_share, room_share : members not held, members without room; NaN unknown
    """

    setting: Setting
    way: Way
    at: Ints
    sets: Untied
    orders: tuple[Order, ...]
    held_share: Floats
    room_share: Floats
    room: RoomOut

    @property
    def accepted(self) -> float:
        """Share of members that may be past a limit."""
        return self.setting.stay.accepted_share

    def set_share(self, k: int, one: int) -> float:
        """Members past a limit while she lies to a set of lines; NaN unknown."""
        return float(self.sets.share[one, k])

    def within_limits(self, k: int) -> bool:
        """Whether the best order is known to be within the limits at every stage."""
        return self.orders[k].share <= self.accepted

    def shares(self, k: int) -> tuple[float, float, float]:
        """Members past a limit while lines are let go, not held, without room."""
        return self.orders[k].share, float(self.held_share[k]), float(self.room_share[k])

    def against(self, k: int) -> tuple[Why, ...]:
        """What wind and water of an hour have against it."""
        why, order = [], self.orders[k]
        inside = self.within_limits(k)
        if not inside:
            past = order.least_share > self.accepted
            said = Why(PAST_LIMIT, order.share, self._past_of(k))
            why.append(said if past else Why(UNKNOWN, math.nan, "lines"))
        _, held, room = self.shares(k)
        if held > self.accepted:
            why.append(Why(NOT_HELD, held))
        if room > self.accepted:
            why.append(Why(NO_ROOM, room, self.room_told(k)[1]))
        if math.isnan(held):
            why.append(Why(UNKNOWN, math.nan, "engine" if self.setting.away is None else "wind"))
        if math.isnan(room) and inside:
            why.append(Why(UNKNOWN, math.nan, "room"))
        return tuple(why)

    def _past_of(self, k: int) -> str:
        """What is past its limit in most members at the worst stage of the best order."""
        order, found = self.orders[k], self.sets
        left, worst = found.every, (-1.0, found.every)
        for line in order.lines[:-1]:
            left &= ~(1 << line)
            share = float(found.share[left, k])
            if found.done[left, k]:
                worst = max(worst, (share if math.isfinite(share) else 2.0, left))
        over = found.past[worst[1], :, k] == 1.0
        if not over.any():
            return ""
        return found.counted[int(np.bincount(found.first[worst[1], over, k]).argmax())]

    def room_told(self, k: int) -> tuple[float, str, str]:
        """The shortest room that decides at an hour [m], of what, and where on the way."""
        use = self.room.use[:, k]
        if not np.isfinite(use).any():
            return math.nan, "", ""
        none, member = np.zeros((use.size, 1)), self.setting.judged.judgement.member
        decides = float(deciding_use(member, use[:, None], none, self.accepted)[0])
        entry = int(np.argmin(np.abs(np.nan_to_num(use, nan=np.inf) - decides)))
        return (
            float(self.room.least_m[entry, k]),
            self.room.names[int(self.room.of[entry, k])],
            self.room.places[int(self.room.place[entry, k])],
        )


def try_way(setting: Setting, way: Way, at: Ints, within: bool) -> Tried:
    """A way of leaving tried at some hours.

    Parameters
    ----------
    at : int array (hour,)
        Which of the judged times.
    within : bool
        Orders looked for among sets within the limits alone.
    """
    asked = setting.hove(way.hove_m)
    if way.lull:
        asked = in_a_lull(asked)
    sets = untied(asked, at, within=within)
    orders, begun = _orders(setting, asked, sets)
    poses, places = places_out(asked.stay, begun, setting.away, setting.out.bearing_rad)
    room = room_out(asked, at, poses, places)
    member, accepted = asked.judged.judgement.member, asked.stay.accepted_share
    return Tried(
        setting, way, at, sets, tuple(orders), held_share(setting, asked, at),
        shares_past(member, room.past, accepted), room,
    )  # fmt: skip


def _orders(setting: Setting, asked: Asked, sets: Untied) -> tuple[list[Order], Begun]:
    """The best order of each hour, and how she then begins her way out.

    Where she has no room off her last line the next best order with another last line is
    taken, as long as it is within the limits; where none has, the first stands.
    """
    accepted, hours = setting.stay.accepted_share, range(sets.at.size)
    stages = [stages_at(sets, k, accepted) for k in hours]
    orders = [best_order(one) for one in stages]
    begun, short = _begun(setting, asked, sets, orders)
    tried: list[tuple[int, ...]] = [order.lines[-1:] for order in orders]
    for _ in range(len(sets.names) - 1):
        other = [best_order(stages[k], tried[k]) if short[k] else orders[k] for k in hours]
        open_ = [bool(short[k]) and other[k].share <= accepted for k in hours]
        if not any(open_):
            break
        taken = [other[k] if open_[k] else orders[k] for k in hours]
        now, still = _begun(setting, asked, sets, taken)
        tried = [(*tried[k], *taken[k].lines[-1:]) if open_[k] else tried[k] for k in hours]
        better = [open_[k] and not still[k] for k in hours]
        orders = [taken[k] if better[k] else orders[k] for k in hours]
        begun = begun.with_hours(now, np.array(better))
        short = np.array([short[k] and open_[k] and not better[k] for k in hours])
    return orders, begun


def _begun(
    setting: Setting, asked: Asked, sets: Untied, orders: list[Order]
) -> tuple[Begun, NDArray[np.bool_]]:
    """How she begins her way out at each hour: at rest to the line that goes last.

    Also in which hours she then has no room in more members than may be.
    """
    stay, judged, at = asked.stay, asked.judged, sets.at
    answer, shape = judged.judgement, judged.judgement.gust_mps.shape
    rest = answer.rest
    q = np.stack([rest.east_m, rest.north_m, rest.heading_rad], axis=-1)[:, at].copy()
    for k, order in enumerate(orders):
        if order.lines:
            q[:, k] = sets.q[1 << order.lines[-1], :, k]
    gust, level_m = (
        np.broadcast_to(one, shape)[:, at] for one in (answer.gust_mps, answer.water_level_m)
    )
    lasts_s = setting.held.steerage_s
    far_m, off = np.full(gust.shape, math.nan), np.full((1, *q.shape), math.nan)
    if math.isfinite(lasts_s):
        far_m = blown_m(stay, judged, gust, lasts_s)
        engine = Pushed(LATE_S, THROTTLE * setting.held.ahead_n, UNDER_WAY_S)
        off = let_off(asked, at, q, engine)
    out_m, here = np.full(at.size, lie_of(stay).chain_out_m), judged.rigged.height_share
    begun = Begun(at, q, off, far_m, gust * here, answer.wind_from_rad[:, at], level_m, out_m)
    past = room_out(asked, at, off, [""] * off.shape[0]).past
    return begun, ~(shares_past(answer.member, past, stay.accepted_share) <= stay.accepted_share)


def held_share(setting: Setting, asked: Asked, at: Ints) -> Floats:
    """Members in which she is not held on her way out; NaN where the unknown ones decide.

    Parameters
    ----------
    asked : Asked
        The stay in its gusts, or in their lulls.
    at : int array (hour,)
        Which of the judged times.
    """
    if setting.away is None:
        return np.full(len(at), math.nan)
    answer = asked.judged.judgement
    wind_mps = answer.gust_mps[:, at] * asked.judged.rigged.height_share
    most = setting.away.held_mps(answer.wind_from_rad[:, at] - setting.out.bearing_rad)
    known = np.isfinite(wind_mps + most)
    past = np.where(known, (wind_mps > most).astype(float), math.nan)
    return shares_past(answer.member, past, setting.stay.accepted_share)
