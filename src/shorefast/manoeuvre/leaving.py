"""Leaving: can she go now, in an hour, at first light; in which order; is there room."""

from __future__ import annotations

import math
from datetime import timedelta

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis
from shorefast.manoeuvre.leaving_heave import heave_basis
from shorefast.manoeuvre.leaving_light import LIGHT_BASIS
from shorefast.manoeuvre.leaving_order import Order
from shorefast.manoeuvre.leaving_slip import DoubledBack, doubled_back, untying_basis, untying_s
from shorefast.manoeuvre.leaving_told import (
    BUILDING,
    DARK,
    NO_ROOM,
    NOT_HELD,
    PAST_LIMIT,
    UNKNOWN,
    Feasible,
    Leaving,
    LeavingAt,
    LetGo,
    Why,
)
from shorefast.manoeuvre.leaving_worked import Worked, work_out
from shorefast.stay import Judged, Stay

Floats = NDArray[np.float64]


def leaving(stay: Stay, judged: Judged, at: int) -> Leaving:
    """Whether, how and when she can leave her berth.

    Parameters
    ----------
    at : int
        Which of the judged times is now.

    Raises
    ------
    OutsideModel
        For more than eight lines, or an engine with an unknown kind of propeller.
    """
    worked = work_out(stay, judged, at)
    hours = worked.hours
    told = {one: _at(worked, one) for one in (*hours.table, *hours.moments)}
    return Leaving(
        told[hours.this_hour],
        told.get(hours.in_an_hour),
        told.get(hours.first_light),
        tuple(told[one] for one in hours.table),
        worked.heaving,
        worked.held,
        worked.out,
        judged.judgement.basis | worked.held.basis | heave_basis(worked.heaving)
        | untying_basis() | LIGHT_BASIS | _basis(),
    )  # fmt: skip


def _at(worked: Worked, at: int) -> LeavingAt:
    """Leaving at one of the judged times."""
    k, judged = worked.place(at), worked.judged
    why = _against(worked, at)
    feasible: Feasible = "yes"
    if any(one.reason != UNKNOWN for one in why):
        feasible = "no"
    elif why:
        feasible = "unknown"
    order = worked.orders[k]
    answer = judged.judgement
    shares = worked.shares(k)
    room_m, room_of, room_at = worked.room_told(k)
    return LeavingAt(
        judged.moment(at), feasible, why, _let_go(worked, order, k),
        order is not None and order.any_order, _doubled(worked, order, k),
        room_m, room_of, room_at, worked.heaving.up_s, worked.needs_s,
        _middle(answer.wind_mps[:, at]), _middle(answer.gust_mps[:, at]),
        _mean_angle(answer.wind_from_rad[:, at]),
        math.nan if any(math.isnan(one) for one in shares) else max(shares),
    )  # fmt: skip


def _against(worked: Worked, at: int) -> tuple[Why, ...]:
    """What stands against leaving at one of the judged times, the dark first."""
    begun = worked.judged.moment(at)
    untied = begun + timedelta(seconds=worked.untying_s)
    clear = begun + timedelta(seconds=worked.needs_s)
    why = [Why(DARK, math.nan)] if worked.light.too_dark(begun, untied, clear) else []
    now = _by_wind(worked, worked.place(at))
    why += now
    reasons = {one.reason for one in now}
    for later in worked.hours.until_over(worked.judged, at, worked.needs_s):
        for one in _by_wind(worked, worked.place(later)):
            if one.reason not in reasons:
                reasons.add(one.reason)
                known = one.reason != UNKNOWN
                why.append(Why(BUILDING, one.share, one.reason) if known else one)
    return tuple(why)


def _by_wind(worked: Worked, k: int) -> list[Why]:
    """What the wind and water of one hour have against leaving in it."""
    accepted, why = worked.stay.accepted_share, []
    order = worked.orders[k]
    if order is not None and not order.share <= accepted:
        past = order.least_share > accepted
        share = order.share if math.isfinite(order.share) else math.nan
        why.append(
            Why(PAST_LIMIT, share, worked.past_of(k)) if past else Why(UNKNOWN, math.nan, "lines")
        )
    held, room = float(worked.held_share[k]), float(worked.room_share[k])
    if held > accepted:
        why.append(Why(NOT_HELD, held))
    if room > accepted:
        why.append(Why(NO_ROOM, room, worked.room_told(k)[1]))
    if math.isnan(held):
        why.append(Why(UNKNOWN, math.nan, "engine" if math.isnan(worked.held.ahead_n) else "wind"))
    if math.isnan(room):
        why.append(Why(UNKNOWN, math.nan, "room"))
    return why


def _let_go(worked: Worked, order: Order | None, k: int) -> tuple[LetGo, ...]:
    if order is None:
        return ()
    legs = worked.judged.rigged.legs
    takes, last = untying_s(worked.judged, order.lines), len(order.lines) - 1
    steps, left = [], (1 << len(order.lines)) - 1
    for place, line in enumerate(order.lines):
        left &= ~(1 << line)
        slipped = legs[line].plan.doubled or place == last
        share = math.nan if place == last else worked.set_share(k, left)
        how, who = ("slip", "line") if slipped else ("from ashore", worked.ashore_duty)
        pull_n, takes_s = order.pull_n[place], takes[place]
        steps.append(LetGo(place + 1, legs[line].name, how, who, pull_n, share, takes_s))
    return tuple(steps)


def _doubled(worked: Worked, order: Order | None, k: int) -> DoubledBack | None:
    if order is None or not order.lines:
        return None
    last, every = order.lines[-1], (1 << len(order.lines)) - 1
    without = every & ~(1 << last)
    share = worked.set_share(k, without) if without else math.nan
    return doubled_back(worked.stay, worked.judged, last, share)


def _middle(values: Floats) -> float:
    known = values[np.isfinite(values)]
    return float(np.median(known)) if known.size else math.nan


def _mean_angle(values: Floats) -> float:
    known = values[np.isfinite(values)]
    if not known.size:
        return math.nan
    mean = math.atan2(float(np.sin(known).mean()), float(np.cos(known).mean()))
    return mean % (2.0 * math.pi)


def _basis() -> Basis:
    return Basis(
        assumptions=(
            Assumption(
                "Every gust of the hour is taken to stand while a line is let go and while she"
                " goes out: no lull is relied on, and none is forecast",
                "In a lull longer than all of it she may go in an hour that is told against",
            ),
            Assumption(
                "While a line is on, the engine is not counted; the stages of letting go are each"
                " held against the limits by themselves, as the hours of a judgement are",
                "With the engine ahead the lines carry less, and propeller and line may meet",
            ),
        ),
    )
