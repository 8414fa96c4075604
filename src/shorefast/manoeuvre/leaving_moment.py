"""Leaving at one moment: put together from what was worked out."""

from __future__ import annotations

import math
from datetime import timedelta

import numpy as np
from numpy.typing import NDArray

from shorefast.manoeuvre.leaving_hands import let_go_by
from shorefast.manoeuvre.leaving_slip import DoubledBack, doubled_back
from shorefast.manoeuvre.leaving_told import (
    BUILDING,
    DARK,
    NOT_HELD,
    UNKNOWN,
    Feasible,
    LeavingAt,
    LetGo,
    Why,
)
from shorefast.manoeuvre.leaving_tried import Tried
from shorefast.manoeuvre.leaving_worked import Worked
from shorefast.stay import SMALL_PULL_N

Floats = NDArray[np.float64]


def leaving_at(worked: Worked, at: int) -> LeavingAt:
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
        judged.moment(at), _feasible(why), why, _let_go(worked, tried, k),
        order.any_order, _doubled(worked, tried, k),
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
                builds = one.reason != UNKNOWN and _gust_mps(worked, later) > _gust_mps(worked, at)
                why.append(Why(BUILDING, one.share, one.reason) if builds else one)
    return tuple(why)


def _gust_mps(worked: Worked, at: int) -> float:
    return _middle(worked.setting.judged.judgement.gust_mps[:, at])


def _by_wind(worked: Worked, at: int) -> tuple[Why, ...]:
    """What wind and water have against an hour, as far as it was worked out."""
    if at not in worked.best:
        share = worked.held_share[at]
        past = share > worked.setting.stay.accepted_share
        return (Why(NOT_HELD, share),) if past else ()
    tried, k = worked.best[at]
    return tried.against(k)


def _let_go(worked: Worked, tried: Tried, k: int) -> tuple[LetGo, ...]:
    order, legs = tried.orders[k], worked.setting.judged.rigged.legs
    gone = let_go_by(worked.hands, legs, order.lines)
    steps, left = [], (1 << len(order.lines)) - 1
    for place, (line, one) in enumerate(zip(order.lines, gone, strict=True)):
        left &= ~(1 << line)
        share, pull_n = tried.set_share(k, left) if left else math.nan, order.pull_n[place]
        loaded = pull_n > SMALL_PULL_N
        step = (one.how, one.who, pull_n, share, one.takes_s, loaded)
        steps.append(LetGo(place + 1, legs[line].name, *step))
    return tuple(steps)


def _doubled(worked: Worked, tried: Tried, k: int) -> DoubledBack | None:
    order = tried.orders[k]
    if not order.lines:
        return None
    last, every = order.lines[-1], (1 << len(order.lines)) - 1
    without = every & ~(1 << last)
    share = tried.set_share(k, without) if without else math.nan
    return doubled_back(worked.setting.stay, worked.setting.judged, last, worked.hands, share)


def _middle(values: Floats) -> float:
    known = values[np.isfinite(values)]
    return float(np.median(known)) if known.size else math.nan


def _mean_angle(values: Floats) -> float:
    known = values[np.isfinite(values)]
    if not known.size:
        return math.nan
    mean = math.atan2(float(np.sin(known).mean()), float(np.cos(known).mean()))
    return mean % (2.0 * math.pi)
