"""The best lies judged in full, ranked, and what one loss does where they tie."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from shorefast.stay.answer import Judgement
from shorefast.stay.choose_answer import TIE, Finalist
from shorefast.stay.choose_lies import unproven
from shorefast.stay.choose_search import hour_use
from shorefast.stay.judge import judge
from shorefast.stay.plan import Stay
from shorefast.stay.verdict import uses, utc_of
from shorefast.stay.without import if_one_goes

Floats = NDArray[np.float64]


def finalist(stay: Stay, *, given: bool = False) -> Finalist:
    """A stay with its lie judged in full."""
    judged = judge(stay)
    answer = judged.judgement
    use = hour_use(answer.member, answer.greatest_use, stay.accepted_share)
    whole = answer.verdict == "holds"
    until = stay.until_utc if whole else (answer.leave_by_utc or stay.from_utc)
    some = np.array([utc_of(t) <= until for t in answer.time_utc])
    if answer.leave_by_utc is None:
        some[:] = True
    t = int(np.argmax(np.where(some, use, -1.0)))
    return Finalist(
        stay=stay,
        judged=judged,
        use=float(use[t]),
        until=until,
        worst_utc=utc_of(answer.time_utc[t]),
        first_to_give=used_most(answer, t),
        losses=(),
        tie=1,
        unproven=stay.lie is not None and unproven(stay, stay.lie),
        given=given,
    )


def used_most(answer: Judgement, t: int) -> str:
    """The part or room used most at a time, over all members."""
    names, use = uses(answer.parts, answer.room)
    column = np.nan_to_num(use[:, :, t], nan=-1.0).max(axis=1)
    return names[int(np.argmax(column))]


def ties(one: Finalist, other: Finalist) -> bool:
    """Whether two lies are as good as each other, as far as anyone can tell."""
    if (one.until, one.unproven) != (other.until, other.unproven):
        return False
    return abs(one.use - other.use) <= TIE * max(one.use, other.use)


def _rank(one: Finalist) -> tuple[float, ...]:
    return (-one.until.timestamp(), float(one.unproven), one.use)


def _by_loss(one: Finalist) -> tuple[float, ...]:
    greatest = round(float(np.nan_to_num(one.after_loss)), 2)
    return (len(one.not_survived), greatest, len(one.lie.lines), one.use)


def ranked(found: Sequence[Finalist]) -> tuple[Finalist, ...]:
    """Best first; those that tie with the best by what one loss does; ties numbered."""
    order = sorted(found, key=_rank)
    if not order:
        return ()
    tied = [one for one in order if ties(order[0], one)]
    asked = [replace(one, losses=if_one_goes(one.stay, one.judged)) for one in tied]
    order = [*sorted(asked, key=_by_loss), *order[len(tied) :]]
    told: list[Finalist] = []
    for one in order:
        same = told and (len(told) < len(tied) or ties(told[-1], one))
        told.append(replace(one, tie=told[-1].tie if same else len(told) + 1))
    return tuple(told)
