"""The best lies judged in full, ranked, and what one loss does where it matters."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from shorefast.stay.answer import Judgement
from shorefast.stay.choose_answer import TIE, TIE_LEAST, Finalist
from shorefast.stay.choose_ashore import SternEnds
from shorefast.stay.choose_lies import Berth, Candidate, unproven
from shorefast.stay.choose_lying import amiss
from shorefast.stay.choose_rules import Rules
from shorefast.stay.choose_search import counted, deciding, hour_use, over_words, used_most
from shorefast.stay.judge import Judged, judge
from shorefast.stay.plan import Stay
from shorefast.stay.rigging import lie_of
from shorefast.stay.verdict import until_of, uses, utc_of, verdict_of
from shorefast.stay.without import if_one_goes

Floats = NDArray[np.float64]


def finalist(stay: Stay, candidate: Candidate | None = None) -> Finalist:
    """A stay with its lie judged in full.

    candidate : what was chosen; None: the lie is the stay file's own.
    """
    judged = judge(stay)
    answer = judged.judgement
    use = hour_use(answer.member, answer.greatest_use, stay.accepted_share)
    found = verdict_of(stay, answer.time_utc, answer.share_past_limit)
    until = until_of(stay, found)
    some = counted(stay, answer.time_utc, answer.share_past_limit, until)
    t = int(np.argmax(np.where(some, use, -1.0)))
    mine = candidate or _as_given(stay, judged)
    return Finalist(
        stay=stay,
        judged=judged,
        use=float(use[t]),
        until=until,
        worst_utc=utc_of(answer.time_utc[t]),
        first_to_give=_first(stay, answer, t),
        losses=(),
        tie=1,
        unproven=unproven(stay, lie_of(stay)),
        given=candidate is None,
        candidate=mine,
        against=_against(stay, judged, mine, given=candidate is None),
        unknown_from=found.unknown if found.verdict == "unknown" else None,
    )


def _first(stay: Stay, answer: Judgement, t: int) -> str | None:
    """What is used most at a time by the member whose use is told."""
    names, use = uses(answer.parts, answer.room)
    entry = deciding(answer.member, answer.greatest_use, stay.accepted_share, t)
    return used_most(names, use[:, entry, t])


def _as_given(stay: Stay, judged: Judged) -> Candidate:
    """The stay file's own lie, meant for the middle of where she lies in all hours."""
    lie, q = lie_of(stay), _rests(judged).reshape(-1, 3)
    known = q[np.isfinite(q).all(axis=1)]
    if len(known):
        sine, cosine = np.sin(known[:, 2]).mean(), np.cos(known[:, 2]).mean()
        bow = math.fmod(math.atan2(sine, cosine) + 2.0 * math.pi, 2.0 * math.pi)
        east_m, north_m = (float(middle) for middle in known[:, :2].mean(axis=0))
    else:
        east_m, north_m, bow = (float(one) for one in judged.rigged.start)
    points = {point.name: point for point in stay.bay.points}
    aft = {cleat.name for cleat in stay.boat.cleats if cleat.spot.x_m < 0.0}
    names = dict.fromkeys(line.point for line in lie.lines if line.cleat in aft)
    ends = SternEnds(tuple(points[name] for name in names), math.nan, math.nan, bow)
    return Candidate(lie, Berth(ends, math.nan, east_m, north_m, bow), stay.proof)


def _rests(judged: Judged) -> Floats:
    rest = judged.judgement.rest
    return np.stack([rest.east_m, rest.north_m, rest.heading_rad], axis=-1)


def _against(stay: Stay, judged: Judged, one: Candidate, *, given: bool) -> str | None:
    """What the rules say once all is judged; how a skipper leads his own lines is his."""
    said = (over_words(found) for found in judged.judgement.basis.findings)
    why = next((words for words in said if words is not None), None)
    if why is None and given:
        rules = Rules(stay)
        lie = one.lie
        why = rules.of_anchor(lie.let_go_east_m, lie.let_go_north_m) or rules.of_chain(one)
    if why is None and not given:
        q = _rests(judged)
        why = amiss(stay, one.lie, q) or Rules(stay).of_lying(one.lie, q)
    return why


def alike(one: Finalist, other: Finalist) -> bool:
    """Whether two lies are one: the same lines to the same points, anchors within a metre."""
    lie, than = one.lie, other.lie
    legs = [sorted((ln.cleat, ln.point, ln.doubled) for ln in x.lines) for x in (lie, than)]
    apart_m = math.hypot(
        lie.let_go_east_m - than.let_go_east_m, lie.let_go_north_m - than.let_go_north_m
    )
    return legs[0] == legs[1] and apart_m < 1.0 and abs(lie.chain_out_m - than.chain_out_m) < 1.0


def ties(one: Finalist, other: Finalist) -> bool:
    """Whether two lies are as good as each other, as far as anyone can tell."""
    if _rank(one)[:-1] != _rank(other)[:-1]:
        return False
    return abs(one.use - other.use) <= max(TIE_LEAST, TIE * max(one.use, other.use))


def _rank(one: Finalist) -> tuple[float, ...]:
    forbidden = float(one.against is not None)
    return (forbidden, -one.until.timestamp(), float(one.unproven), one.use)


def _by_loss(one: Finalist) -> tuple[float, ...]:
    greatest = round(float(np.nan_to_num(one.after_loss)), 2)
    bad = len(one.not_survived) + len(one.not_known)
    return (bad, greatest, len(one.lie.lines), one.use)


def _asked(one: Finalist) -> Finalist:
    """With what one loss does in the hours she can lie there; where in none, in all."""
    stay, judged = one.stay, one.judged
    if not one.whole and one.until > stay.from_utc:
        stay = replace(stay, until_utc=one.until)
        judged = judge(stay)
    return replace(one, losses=if_one_goes(stay, judged))


def ranked(found: Sequence[Finalist]) -> tuple[Finalist, ...]:
    """Best first; those that tie with the best by what one loss does; ties numbered.

    A tie is with the best of those that tie, so that no chain of them leads far off. Where
    the best does not stand a loss, those that hold as long are asked too, till one does.
    """
    groups: list[list[Finalist]] = []
    for one in sorted(found, key=_rank):
        if groups and ties(groups[-1][0], one):
            groups[-1].append(one)
        else:
            groups.append([one])
    if groups:
        groups[0] = sorted((_asked(one) for one in groups[0]), key=_by_loss)
    told: list[Finalist] = []
    for group in groups:
        number = len(told) + 1
        told += [replace(one, tie=number) for one in group]
    return _one_that_stands(told)


def _one_that_stands(order: list[Finalist]) -> tuple[Finalist, ...]:
    """Asked of those behind the best, in order, where it does not stand a loss itself."""
    for k, one in enumerate(order):
        if _rank(one)[:3] != _rank(order[0])[:3]:
            break
        if not one.losses:
            order[k] = one = _asked(one)
        if one.stands_a_loss:
            break
    return tuple(order)
