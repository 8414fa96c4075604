"""The stages of the search: plain lies, more lines, and small changes for the better."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import product

import numpy as np

from shorefast.bay import ShorePoint
from shorefast.boat import Yacht
from shorefast.stay.choose_ashore import UNPROVEN, SternEnds
from shorefast.stay.choose_lies import (
    Berth,
    Candidate,
    berth,
    chains,
    corner_cleats,
    doubled_back,
    left_of,
    let_go,
    plain_lie,
    with_line,
)
from shorefast.stay.choose_search import Hunt, Score
from shorefast.stay.plan import Lie, Stay
from shorefast.stay.reach import MADE_FAST_M
from shorefast.stay.tried import WHOLE, Fineness, Tried

# what is tried first, in shares of her length off the shore, of the chain aboard, and turns
_OFF = (0.7, 1.2, 1.8)
_CHAIN = (1.0, 0.85, 0.65)
_TURNED_RAD = tuple(math.radians(d) for d in (0.0, -25.0, 25.0))
_UNPROVEN_OFF, _UNPROVEN_CHAIN = (1.2,), (0.9,)
_LINE_SHARES = (1.0, 0.93)
_GAIN = 1e-3
_MOST_ROUNDS = 4
MOST_ON_A_CLEAT = 2
"""Legs made fast to one cleat: common practice, no source."""
Step = Callable[[str, int, int], None]


def berths(hunt: Hunt, ends: Sequence[SternEnds]) -> list[Berth]:
    """Every berth tried first in which she fits; the others are counted."""
    boat, found = hunt.stay.boat, []
    for one in ends:
        offs = _UNPROVEN_OFF if one.unproven else _OFF
        turns = _TURNED_RAD[:1] if one.unproven else _TURNED_RAD
        for off, turn in product(offs, turns):
            at = berth(boat, one, off * boat.hull.length_m, turn)
            why = hunt.rules.of_berth(at)
            if why is None:
                found.append(at)
            else:
                hunt.dropped[why] += 1
    return found


def plain(hunt: Hunt, found: Sequence[Berth], level_m: float) -> list[Candidate]:
    """Lies of an anchor ahead and stern lines alone, chain by chain, over all berths."""
    reach: dict[tuple[float, int], float] = {}
    made: list[Candidate | None] = []
    for at in found:
        shares = _UNPROVEN_CHAIN if at.ends.unproven else _CHAIN
        for chain_m in chains(hunt.stay.boat, shares):
            for toward in sorted({at.heading_rad, at.ends.seaward_rad}):
                anchor = let_go(hunt.stay, at, chain_m, toward, reach)
                if anchor is None:
                    hunt.dropped["the chain does not reach the bed there, or it is unknown"] += 1
                    continue
                made.append(plain_lie(hunt.stay, at, anchor, chain_m, level_m))
    return hunt.kept(made, _why_no_stern(hunt.stay.boat))


def _why_no_stern(boat: Yacht) -> str:
    """Why stern lines cannot be led at all."""
    if not boat.lines:
        return "there is no line aboard for the stern"
    corners = corner_cleats(boat)
    if not {"port quarter", "starboard quarter"} <= set(corners):
        return "no cleat at that quarter, too few lines aboard, or too short ones, for the stern"
    return "too few lines aboard, or too short ones, for the stern"


def best_of_each(
    scores: Sequence[Score], each: int, most: int, hunt: Hunt | None = None
) -> list[Score]:
    """The best scores, at most so many of one pair of stern ends, best first.

    hunt : where given, those whose chain, hull or lines lie over a zone are left out.
    """
    taken: dict[tuple[str, ...], int] = {}
    kept: list[Score] = []
    for one in sorted(scores, key=lambda score: score.order):
        ends = tuple(point.name for point in one.candidate.berth.ends.points)
        if len(kept) < most and taken.get(ends, 0) < each and (hunt is None or hunt.is_clear(one)):
            taken[ends] = taken.get(ends, 0) + 1
            kept.append(one)
    return kept


def _leads(hunt: Hunt, one: Candidate, points: Sequence[ShorePoint]) -> Iterator[Candidate]:
    """The candidate with one line more, from any corner to any point not in use from there."""
    level_m = hunt.trier(hunt.coarse).middle_m
    taken = {(line.cleat, line.point) for line in one.lie.lines}
    on_cleat = Counter(line.cleat for line in one.lie.lines)
    known = not one.berth.ends.unproven
    for cleat in corner_cleats(hunt.stay.boat).values():
        if on_cleat[cleat.name] >= MOST_ON_A_CLEAT:
            continue
        for point in points:
            if (cleat.name, point.name) in taken or (known and point.kind == UNPROVEN):
                continue
            for share in _LINE_SHARES:
                more = with_line(hunt.stay, one, cleat, point, level_m, share)
                if more is not None:
                    yield more


def one_line_more(hunt: Hunt, one: Candidate, points: Sequence[ShorePoint]) -> list[Candidate]:
    """All that one line more, or one led out and back, can make of a candidate."""
    back = [doubled_back(hunt.stay, one, k) for k in range(len(one.lie.lines))]
    made = [more for more in back if more is not None]
    for more in _leads(hunt, one, points):
        if hunt.rules.of_lines(more) is None:
            made.append(more)
    return made


def grown(
    hunt: Hunt, start: Score, points: Sequence[ShorePoint], wide: int, most: int
) -> list[Score]:
    """The best lies with more and more lines, those of every number of lines among them."""
    beam, found = [start], [start]
    for _ in range(most):
        made = {
            _same_lines(more): more
            for one in beam
            for more in one_line_more(hunt, one.candidate, points)
        }
        if not made:
            break
        scores = hunt.scored(list(made.values()), hunt.coarse)
        beam = sorted(scores, key=lambda score: score.order)[:wide]
        found += beam
    return sorted(found, key=lambda score: score.order)


def _same_lines(one: Candidate) -> tuple[tuple[str, str, float, bool], ...]:
    """What two candidates with the same lines have alike, whatever order they were added in."""
    legs = ((line.cleat, line.point, line.length_m, line.doubled) for line in one.lie.lines)
    return tuple(sorted(legs))


def toward_anchor_rad(one: Candidate) -> float:
    """Bearing of the anchor from where she is meant to lie. [rad]"""
    lie, at = one.lie, one.berth
    return math.atan2(lie.let_go_east_m - at.east_m, lie.let_go_north_m - at.north_m)


def _moves(one: Candidate, step_m: float) -> Iterator[Candidate]:
    """Small changes of anchor, chain and lines, one by one and those that go together."""
    lie, bow, toward = one.lie, one.berth.heading_rad, toward_anchor_rad(one)
    for sign in (1.0, -1.0):
        by_m = sign * step_m
        yield _with(one, anchor_moved(lie, by_m, toward))
        yield _with(one, anchor_moved(lie, by_m, toward + 0.5 * math.pi))
        yield _with(one, replace(lie, chain_out_m=round(lie.chain_out_m + by_m, 1)))
        # as taut as before: farther off with as much more chain
        both = anchor_moved(lie, by_m, toward)
        yield _with(one, replace(both, chain_out_m=round(lie.chain_out_m + by_m, 1)))
        for k in range(len(lie.lines)):
            yield _with(one, _eased(lie, {k: by_m}))
        stern = {k: by_m for k, line in enumerate(lie.lines) if _is_aft(one, line.point, bow)}
        yield _with(one, _eased(lie, stern))
        yield _with(one, _eased(anchor_moved(lie, by_m, toward), stern))
        yield _with(one, _eased(lie, dict.fromkeys(range(len(lie.lines)), by_m)))
        if len(lie.lines) > 1:
            yield _with(one, _eased(lie, {0: by_m, 1: -by_m}))


def _is_aft(one: Candidate, point: str, bow_rad: float) -> bool:
    return any(point == end.name for end in one.berth.ends.points)


def _with(one: Candidate, lie: Lie) -> Candidate:
    return replace(one, lie=lie)


def anchor_moved(lie: Lie, by_m: float, toward_rad: float) -> Lie:
    """The lie with its anchor let go so far along a bearing from there. [m]"""
    return replace(
        lie,
        let_go_east_m=round(lie.let_go_east_m + by_m * math.sin(toward_rad), 1),
        let_go_north_m=round(lie.let_go_north_m + by_m * math.cos(toward_rad), 1),
    )


def _eased(lie: Lie, by_m: dict[int, float]) -> Lie:
    lines = tuple(
        replace(line, length_m=round(line.length_m + by_m.get(k, 0.0), 1))
        for k, line in enumerate(lie.lines)
    )
    return replace(lie, lines=lines)


def is_aboard(hunt: Hunt, one: Candidate) -> bool:
    """Whether chain and lines are aboard, knots included, and long enough to be lines."""
    boat, lie = hunt.stay.boat, one.lie
    if not 5.0 <= lie.chain_out_m <= boat.rode_aboard_m:
        return False
    left = left_of(boat, lie.lines)
    used = {line.line for line in lie.lines}
    return all(left[name] >= MADE_FAST_M for name in used) and all(
        line.length_m > 1.0 for line in lie.lines
    )


def as_stay(hunt: Hunt, one: Candidate) -> Stay:
    """The stay with a candidate's lie, her heading that in which she lies by most hours."""
    trier = hunt.trier(WHOLE)
    tried = trier.tried(one.lie, one.proof)
    trier.forget()
    lie = replace(one.lie, heading_rad=_lies_at_rad(one.lie, tried))
    return replace(hunt.stay, lie=lie, proof=one.proof)


def _lies_at_rad(lie: Lie, tried: Tried) -> float:
    """Mean heading of all rests, in whole degrees; as meant where there is none. [rad]"""
    heading = tried.rests.q[..., 2]
    known = heading[np.isfinite(heading)]
    if not known.size:
        return lie.heading_rad
    mean = math.atan2(float(np.sin(known).mean()), float(np.cos(known).mean()))
    return math.radians(round(math.degrees(mean)) % 360)


def improved(hunt: Hunt, start: Score, fineness: Fineness, steps_m: Sequence[float]) -> Score:
    """A score improved by small changes until none of them is for the better.

    What helped is done again as long as it helps, before all else is tried anew.
    """
    best = start
    for step_m in steps_m:
        for _ in range(_MOST_ROUNDS):
            better, move = _best_move(hunt, best, fineness, step_m)
            if better is None:
                break
            best = _again(hunt, better, fineness, (step_m, move))
    return best


def _best_move(
    hunt: Hunt, best: Score, fineness: Fineness, step_m: float
) -> tuple[Score | None, int]:
    """The change that helps most and its number; None where none helps."""
    made = [
        (number, one)
        for number, one in enumerate(_moves(best.candidate, step_m))
        if is_aboard(hunt, one) and hunt.rules.of(one) is None
    ]
    scores = hunt.scored([one for _, one in made], fineness)
    told = sorted(zip(scores, made, strict=True), key=lambda pair: pair[0].order)
    for score, (number, _) in told:
        if not _is_better(score, best):
            break
        if hunt.against(score) is None:
            return score, number
    return None, -1


def _again(hunt: Hunt, best: Score, fineness: Fineness, move: tuple[float, int]) -> Score:
    """The same change again and again, as long as it helps."""
    for _ in range(_MOST_ROUNDS):
        one = list(_moves(best.candidate, move[0]))[move[1]]
        if not is_aboard(hunt, one) or hunt.rules.of(one) is not None:
            break
        score = hunt.scored([one], fineness)[0]
        if not _is_better(score, best) or hunt.against(score) is not None:
            break
        best = score
    return best


def _is_better(one: Score, than: Score) -> bool:
    if not one.proof_holds:
        return False
    if (one.until, one.unproven) != (than.until, than.unproven):
        return one.order < than.order
    return one.use < than.use * (1.0 - _GAIN)
