"""Leaving: can she go now, in an hour, at first light; in which order; is there room."""

from __future__ import annotations

import math
from datetime import timedelta

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis
from shorefast.manoeuvre.leaving_heave import heave_basis
from shorefast.manoeuvre.leaving_light import LIGHT_BASIS
from shorefast.manoeuvre.leaving_slip import (
    COLD_K,
    DoubledBack,
    doubled_back,
    untying_basis,
    untying_s,
)
from shorefast.manoeuvre.leaving_told import (
    BUILDING,
    DARK,
    NOT_HELD,
    UNKNOWN,
    Feasible,
    Leaving,
    LeavingAt,
    LetGo,
    Why,
)
from shorefast.manoeuvre.leaving_tried import Tried
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
    judged, why = worked.setting.judged, _against(worked, at)
    answer = judged.judgement
    wind = (
        _middle(answer.wind_mps[:, at]), _middle(answer.gust_mps[:, at]),
        _mean_angle(answer.wind_from_rad[:, at]),
    )  # fmt: skip
    if at not in worked.best:
        nan, takes = math.nan, (worked.heaving.up_s, worked.needs_s)
        return LeavingAt(
            judged.moment(at), _feasible(why), why, (), False, None, nan, "", "", *takes, *wind, nan
        )
    tried, k = worked.best[at]
    order = tried.orders[k]
    shares = tried.shares(k)
    room_m, room_of, room_at = tried.room_told(k)
    lull = worked.lull.get(at)
    return LeavingAt(
        judged.moment(at), _feasible(why), why, _let_go(tried, k),
        order.any_order, _doubled(tried, k),
        room_m, room_of, room_at, worked.heaving.up_s, worked.needs_s, *wind,
        math.nan if any(math.isnan(one) for one in shares) else max(shares),
        tried.way.hove_m, None if lull is None else _feasible(lull[0].against(lull[1])),
    )  # fmt: skip


def _feasible(why: tuple[Why, ...]) -> Feasible:
    if any(one.reason != UNKNOWN for one in why):
        return "no"
    return "unknown" if why else "yes"


def _against(worked: Worked, at: int) -> tuple[Why, ...]:
    """What stands against leaving at one of the judged times, the dark first."""
    judged = worked.setting.judged
    begun = judged.moment(at)
    untied = begun + timedelta(seconds=worked.untying_s)
    clear = begun + timedelta(seconds=worked.needs_s)
    why = [Why(DARK, math.nan)] if worked.light.too_dark(begun, untied, clear) else []
    now = _by_wind(worked, at)
    why += now
    reasons = {one.reason for one in now}
    for later in worked.hours.until_over(judged, at, worked.needs_s):
        for one in _by_wind(worked, later):
            if one.reason not in reasons:
                reasons.add(one.reason)
                known = one.reason != UNKNOWN
                why.append(Why(BUILDING, one.share, one.reason) if known else one)
    return tuple(why)


def _by_wind(worked: Worked, at: int) -> tuple[Why, ...]:
    """What wind and water have against an hour, as far as it was worked out."""
    if at not in worked.best:
        share = worked.held_share[at]
        past = share > worked.setting.stay.accepted_share
        return (Why(NOT_HELD, share),) if past else ()
    tried, k = worked.best[at]
    return tried.against(k)


def _let_go(tried: Tried, k: int) -> tuple[LetGo, ...]:
    order, judged = tried.orders[k], tried.setting.judged
    legs, ashore = judged.rigged.legs, _ashore_duty(tried.setting.stay)
    takes, last = untying_s(judged, order.lines), len(order.lines) - 1
    steps, left = [], (1 << len(order.lines)) - 1
    for place, line in enumerate(order.lines):
        left &= ~(1 << line)
        slipped = legs[line].plan.doubled or place == last
        share = math.nan if place == last else tried.set_share(k, left)
        how, who = ("slip", "line") if slipped else ("from ashore", ashore)
        pull_n, takes_s = order.pull_n[place], takes[place]
        steps.append(LetGo(place + 1, legs[line].name, how, who, pull_n, share, takes_s))
    return tuple(steps)


def _ashore_duty(stay: Stay) -> str:
    """Who goes to the points: a rower where there is a tender, a swimmer in water not cold."""
    if stay.boat.tender is not None:
        return "rower"
    return "nobody" if stay.water_k is not None and stay.water_k < COLD_K else "swimmer"


def _doubled(tried: Tried, k: int) -> DoubledBack | None:
    order = tried.orders[k]
    if not order.lines:
        return None
    last, every = order.lines[-1], (1 << len(order.lines)) - 1
    without = every & ~(1 << last)
    share = tried.set_share(k, without) if without else math.nan
    return doubled_back(tried.setting.judged, last, share)


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
