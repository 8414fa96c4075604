"""Leaving: can she go now, in an hour, at first light; in which order; is there room."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import datetime

import numpy as np

from shorefast.basis import Assumption, Basis, Finding
from shorefast.manoeuvre.crossed_chain import crossed_chain
from shorefast.manoeuvre.leaving_cut import Cut, cut_of
from shorefast.manoeuvre.leaving_hands import hands_basis
from shorefast.manoeuvre.leaving_heave import heave_basis
from shorefast.manoeuvre.leaving_light import LIGHT_BASIS
from shorefast.manoeuvre.leaving_moment import leaving_at
from shorefast.manoeuvre.leaving_order import best_order, stages_at
from shorefast.manoeuvre.leaving_swing import Swing, swing
from shorefast.manoeuvre.leaving_told import Leaving, LeavingAt
from shorefast.manoeuvre.leaving_worked import Worked, work_out
from shorefast.stay import Judged, Stay, untied, walked

ELSEWHERE_M = 1.0
"""Farther apart than this two rests are told as two: our choice."""


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
    told = {one: leaving_at(worked, one) for one in (*hours.table, *hours.moments)}
    this_hour, table = told[hours.this_hour], tuple(told[one] for one in hours.table)
    by = leaving_at(worked, hours.leave_by).feasible if hours.leave_by >= 0 else None
    swings, cut = _swing(worked, at), _cut(worked, at)
    crossed = crossed_chain(stay, judged, at)
    return Leaving(
        this_hour, told.get(hours.in_an_hour), told.get(hours.first_light), table,
        worked.heaving, worked.held, worked.out, swings, cut, crossed,
        *_spell(this_hour, table), by,
        judged.judgement.basis | worked.held.basis | heave_basis(worked.heaving)
        | hands_basis(worked.hands) | LIGHT_BASIS | swings.basis | cut.basis | crossed.basis
        | _basis() | _walked(worked, at),
    )  # fmt: skip


def _walked(worked: Worked, at: int) -> Basis:
    """A finding where, let go one after the other, she comes to lie elsewhere than was weighed."""
    tried, k = worked.best[at]
    asked = worked.setting.hove(tried.way.hove_m)
    order, left = tried.orders[k].lines, tried.sets.every
    apart = np.zeros(tried.sets.member.size, np.bool_)
    for line, q in zip(order, walked(asked, at, order), strict=False):
        left &= ~(1 << line)
        off_m = np.hypot(*(q - tried.sets.q[left, :, k])[:, :2].T)
        apart |= np.nan_to_num(off_m, nan=0.0) > ELSEWHERE_M
    if not apart.any():
        return Basis()
    said = (
        f"in {apart.mean():.0%} of the members she comes to lie more than {ELSEWHERE_M:g} m from"
        " where she was weighed when the lines go in this order: more than one rest is there"
    )
    return Basis(findings=(Finding("Letting go", said),))


def _swing(worked: Worked, at: int) -> Swing:
    """Left to her chain after the last line of this hour's order, as she lies now."""
    tried, k = worked.best[at]
    last = tried.orders[k].lines[-1:]
    asked = worked.setting.asked
    states = asked.states.some(asked.numbers(np.array([at])))
    q = tried.sets.q[1 << last[0], :, k] if last else states.q
    return swing(asked, at, q, worked.heaving)


def _cut(worked: Worked, at: int) -> Cut:
    """The lines cast off at once, the anchor not counted on."""
    asked = worked.setting.asked
    sets = untied(asked, np.array([at]), anchor=False)
    order = best_order(stages_at(sets, 0, asked.stay.accepted_share))
    left, shares = sets.every, []
    for line in order.lines[:-1]:
        left &= ~(1 << line)
        shares.append(float(sets.share[left, 0]))
    return cut_of(asked.stay, asked.judged, order, (*shares, math.nan))


def _spell(
    this_hour: LeavingAt, table: Sequence[LeavingAt]
) -> tuple[datetime | None, datetime | None]:
    """Until when it stays possible from now on, and if it is not, when it is next."""
    later = [one for one in table if one.at_utc > this_hour.at_utc]
    if this_hour.feasible == "yes":
        until = this_hour.at_utc
        for one in later:
            if one.feasible != "yes":
                break
            until = one.at_utc
        return until, None
    return None, next((one.at_utc for one in later if one.feasible == "yes"), None)


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
