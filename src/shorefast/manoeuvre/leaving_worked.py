"""Leaving worked out: orders, what is held, and room, for all hours asked for at once."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.manoeuvre.leaving_heave import Heaving, heaving
from shorefast.manoeuvre.leaving_hold import Held, held_mps, held_of
from shorefast.manoeuvre.leaving_hours import Hours, hours_of
from shorefast.manoeuvre.leaving_light import Light, light_of
from shorefast.manoeuvre.leaving_order import Order, best_order, stages_at
from shorefast.manoeuvre.leaving_out import WayOut, way_out
from shorefast.manoeuvre.leaving_room import Begun, RoomOut, room_out
from shorefast.manoeuvre.leaving_slip import untying_s
from shorefast.stay import (
    Judged,
    Stay,
    Untied,
    blown_m,
    deciding_use,
    shares_past,
    untied,
    up_and_down_m,
)

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class Worked:
    """All that leaving is told from; arrays over the hours of ``hours.every``.

    orders : None where it is dark and nobody asked for that hour by name
    held_share, room_share : members not held, members without room; NaN unknown
    """

    stay: Stay
    judged: Judged
    hours: Hours
    light: Light
    held: Held
    out: WayOut
    heaving: Heaving
    untying_s: float
    orders: tuple[Order | None, ...]
    untied: dict[int, tuple[Untied, int]]
    held_share: Floats
    room_share: Floats
    room: RoomOut

    @property
    def needs_s(self) -> float:
        """From the first hand to the lines until the anchor is broken out. [s]"""
        return self.untying_s + self.heaving.up_s

    @property
    def ashore_duty(self) -> str:
        """Who goes to the points: a rower where there is a tender, else a swimmer."""
        return "swimmer" if self.stay.boat.tender is None else "rower"

    def place(self, at: int) -> int:
        """Where a judged time stands among the hours worked out."""
        return int(np.searchsorted(self.hours.every, at))

    def set_share(self, k: int, one: int) -> float:
        """Members past a limit while she lies to a set of lines."""
        if k not in self.untied:
            return math.nan
        found, hour = self.untied[k]
        return float(found.share[one, hour])

    def past_of(self, k: int) -> str:
        """What is past its limit in most members at the worst stage of the best order."""
        order = self.orders[k]
        if order is None or k not in self.untied:
            return ""
        found, hour = self.untied[k]
        left, worst = found.every, (-1.0, found.every)
        for line in order.lines[:-1]:
            left &= ~(1 << line)
            share = float(found.share[left, hour])
            worst = max(worst, (share if math.isfinite(share) else 2.0, left))
        over = found.past[worst[1], :, hour] == 1.0
        if not over.any():
            return ""
        return found.counted[int(np.bincount(found.first[worst[1], over, hour]).argmax())]

    def shares(self, k: int) -> tuple[float, float, float]:
        """Members past a limit while she is untied, not held, without room."""
        order = self.orders[k]
        stage = math.nan if order is None else order.share
        return stage, float(self.held_share[k]), float(self.room_share[k])

    def room_told(self, k: int) -> tuple[float, str, str]:
        """The shortest room that decides at an hour [m], of what, and where on the way."""
        use = self.room.use[:, k]
        if not np.isfinite(use).any():
            return math.nan, "", ""
        none = np.zeros((use.size, 1))
        member, accepted = self.judged.judgement.member, self.stay.accepted_share
        decides = float(deciding_use(member, use[:, None], none, accepted)[0])
        entry = int(np.argmin(np.abs(np.nan_to_num(use, nan=np.inf) - decides)))
        return (
            float(self.room.least_m[entry, k]),
            self.room.names[int(self.room.of[entry, k])],
            self.room.places[int(self.room.place[entry, k])],
        )


def work_out(stay: Stay, judged: Judged, at: int) -> Worked:
    """Everything for the judged time ``at`` as now, and for the hours beside it."""
    assert stay.lie is not None
    answer, lines = judged.judgement, len(judged.rigged.legs)
    light, held = light_of(stay), held_of(stay, judged)
    level_m = answer.water_level_m[0, at]
    out = way_out(stay, float(level_m))
    heave = heaving(stay, stay.lie.chain_out_m, float(up_and_down_m(stay, level_m)))
    untying = sum(untying_s(judged, tuple(range(lines))))
    hours = hours_of(stay, judged, at)
    sets = _sets(stay, judged, hours, light)
    orders = tuple(
        best_order(stages_at(*sets[k], stay.accepted_share)) if k in sets else None
        for k in range(hours.every.size)
    )
    begun = _begun(stay, judged, hours, (sets, orders), held)
    room = room_out(stay, judged, begun, out.bearing_rad)
    return Worked(
        stay, judged, hours, light, held, out, heave, untying, orders, sets,
        _held_share(stay, judged, hours, held, out),
        shares_past(answer.member, room.past, stay.accepted_share), room,
    )  # fmt: skip


def _sets(stay: Stay, judged: Judged, hours: Hours, light: Light) -> dict[int, tuple[Untied, int]]:
    """Every set of lines at the hours asked by name; by day, those within limits at all."""
    named = np.array(hours.moments, np.int64)
    place = {int(one): k for k, one in enumerate(hours.every)}
    by_day = [
        int(one) for one in hours.every
        if one not in hours.moments and not light.is_dark(judged.moment(int(one)))
    ]  # fmt: skip
    found: dict[int, tuple[Untied, int]] = {}
    for some, within in ((named, False), (np.array(by_day, np.int64), True)):
        if some.size:
            sets = untied(stay, judged, some, within=within)
            found |= {place[int(one)]: (sets, hour) for hour, one in enumerate(some)}
    return found


def _begun(
    stay: Stay,
    judged: Judged,
    hours: Hours,
    order_of: tuple[dict[int, tuple[Untied, int]], tuple[Order | None, ...]],
    held: Held,
) -> Begun:
    """How she begins her way out at each hour: at rest to the line that goes last."""
    answer, at = judged.judgement, hours.every
    rest = answer.rest
    q = np.stack([rest.east_m, rest.north_m, rest.heading_rad], axis=-1)[:, at].copy()
    sets, orders = order_of
    for k, order in enumerate(orders):
        if order is not None and order.lines:
            found, hour = sets[k]
            q[:, k] = found.q[1 << order.lines[-1], :, hour]
    shape = answer.gust_mps.shape
    level_m = np.broadcast_to(answer.water_level_m, shape)[:, at]
    gust = answer.gust_mps[:, at]
    far_m = np.full(gust.shape, math.nan)
    if math.isfinite(held.steerage_s):
        far_m = blown_m(stay, judged, gust, held.steerage_s)
    assert stay.lie is not None
    return Begun(at, q, far_m, answer.wind_from_rad[:, at], level_m, stay.lie.chain_out_m)


def _held_share(stay: Stay, judged: Judged, hours: Hours, held: Held, out: WayOut) -> Floats:
    """Members in which she cannot be held on her way out; NaN where the unknown ones decide."""
    answer = judged.judgement
    gust, blow = answer.gust_mps[:, hours.every], answer.wind_from_rad[:, hours.every]
    if math.isnan(held.ahead_n):
        return np.full(hours.every.size, math.nan)
    most = held_mps(held, judged, blow - out.bearing_rad)
    past = np.where(np.isfinite(gust + most), (gust > most).astype(float), math.nan)
    return shares_past(answer.member, past, stay.accepted_share)
