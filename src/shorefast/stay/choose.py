"""Which lie? Candidates from bay, boat and stay, tried, ranked, the best ones judged."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from itertools import islice

import numpy as np

from shorefast.basis import Assumption, Basis
from shorefast.bay import ShorePoint
from shorefast.stay.choose_answer import TIE, Change, Choice, Elsewhere, Finalist
from shorefast.stay.choose_ashore import ashore, stern_ends
from shorefast.stay.choose_final import alike, finalist, ranked
from shorefast.stay.choose_helps import helps
from shorefast.stay.choose_loss import sturdier
from shorefast.stay.choose_rules import Rules
from shorefast.stay.choose_search import Hunt, Score
from shorefast.stay.choose_stages import (
    MOST_ON_A_CLEAT,
    as_stay,
    berths,
    best_of_each,
    grown,
    improved,
    plain,
)
from shorefast.stay.plan import Stay
from shorefast.stay.verdict import utc_of

Progress = Callable[[int, int], None]
_KNOWN_BASES, _OPEN_BASES, _WIDE, _MOST_LINES = 6, 2, 3, 4
_IMPROVED, _OF_ONE_KIND, _FINALISTS = 5, 3, 4
_STURDIER = 2
_COARSE_M, _FINE_M = (3.0, 1.2), (1.2, 0.5)
_STEPS = 100
# of a pair of stern ends so many are looked at for one that nothing speaks against
_LOOKED_AT = 8


def choose(stay: Stay, progress: Progress | None = None) -> Choice:
    """Lies to choose between for the hours of a stay, best first.

    They are ranked by how long she can lie (the whole stay first), then lies on known
    points before those on unproven shore, then by the worst hour's use; uses within three
    in a hundred are a tie, in which what one loss does decides the order. A lie of the stay
    file's own that a rule speaks against comes last.

    Parameters
    ----------
    stay : Stay
        With or without a lie: one that is given is judged beside the others.
    progress : callable, optional
        Called with what is done and how much there is.

    Returns
    -------
    Choice
        Without finalists where nothing fits: ``dropped`` says why.
    """
    tell = progress or (lambda done, of: None)
    found = ashore(stay)
    ready = replace(stay, bay=replace(stay.bay, points=found.points), lie=None)
    hunt = Hunt(ready, Rules(ready))
    hunt.dropped.update(found.dropped)
    tell(2, _STEPS)
    scores = _sieved(hunt)
    tell(30, _STEPS)
    with_lines = _with_lines(hunt, scores, lambda k, of: tell(30 + 20 * k // of, _STEPS))
    better = _improved(hunt, with_lines, lambda k, of: tell(50 + 35 * k // of, _STEPS))
    final = _finalists(hunt, better) or _fallen_back(hunt, [*scores, *with_lines])
    if stay.lie is not None:
        given = finalist(stay)
        final = [given, *(one for one in final if not alike(one, given))]
    tell(95, _STEPS)
    order = ranked(final)
    choice = _choice(hunt, order, [*scores, *with_lines, *better])
    tell(_STEPS, _STEPS)
    return choice


def _sieved(hunt: Hunt) -> list[Score]:
    """Lies with stern lines alone, scored coarsely."""
    stay = hunt.stay
    level_m = hunt.trier(hunt.coarse).middle_m
    made = plain(hunt, berths(hunt, stern_ends(stay, stay.bay.points)), level_m)
    scores = hunt.scored(made, hunt.coarse)
    hunt.trier(hunt.coarse).forget()
    return scores


def _with_lines(hunt: Hunt, scores: Sequence[Score], tell: Progress) -> list[Score]:
    """The best of each pair of stern ends, and what more lines make of them."""
    known = [one for one in scores if not one.unproven]
    unknown = [one for one in scores if one.unproven]
    bases = best_of_each(known, 1, _KNOWN_BASES, hunt)
    bases += best_of_each(unknown, 1, _OPEN_BASES, hunt)
    found = list(bases)
    for k, one in enumerate(bases, start=1):
        found += grown(hunt, one, hunt.stay.bay.points, _WIDE, _MOST_LINES)[:_WIDE]
        hunt.trier(hunt.coarse).forget()
        tell(k, len(bases))
    return found


def _improved(hunt: Hunt, found: Sequence[Score], tell: Progress) -> list[Score]:
    """The best ones improved, coarsely and then with every member; best first."""
    distinct = best_of_each(_apart(found), _OF_ONE_KIND, _IMPROVED, hunt)
    coarse = []
    for k, one in enumerate(distinct, start=1):
        coarse.append(improved(hunt, one, hunt.coarse, _COARSE_M))
        hunt.trier(hunt.coarse).forget()
        tell(k, len(distinct) + 3)
    whole = hunt.scored([one.candidate for one in coarse], hunt.whole)
    whole.sort(key=lambda one: one.order)
    best = []
    for one in whole[:_STURDIER]:
        sturdy = sturdier(hunt, one, hunt.stay.bay.points)
        again = hunt.scored([sturdy.candidate], hunt.whole)[0]
        best.append(improved(hunt, again, hunt.whole, _FINE_M))
    tell(len(distinct) + 3, len(distinct) + 3)
    return sorted([*best, *whole[_STURDIER:]], key=lambda one: one.order)


def _apart(scores: Sequence[Score]) -> list[Score]:
    """Scores, best first, of which no two have the same lines to the same points."""
    seen: set[frozenset[tuple[str, str, bool]]] = set()
    kept = []
    for one in sorted(scores, key=lambda score: score.order):
        legs = frozenset((ln.cleat, ln.point, ln.doubled) for ln in one.candidate.lie.lines)
        if legs not in seen:
            seen.add(legs)
            kept.append(one)
    return kept


def _finalists(hunt: Hunt, better: Sequence[Score]) -> list[Finalist]:
    """The best few judged; what the rules are against once judged is left out and counted."""
    found: list[Finalist] = []
    for one in better:
        if len(found) == _FINALISTS or not one.proof_holds:
            break
        final = finalist(as_stay(hunt, one.candidate), one.candidate)
        if final.against is not None:
            hunt.dropped[final.against] += 1
        elif not any(alike(final, other) for other in found):
            found.append(final)
    return found


def _fallen_back(hunt: Hunt, scores: Sequence[Score]) -> list[Finalist]:
    """The best lie as it was before small changes, where the rules are against all changed.

    Those are led to the very edge of what is allowed, by fewer hours than are judged.
    """
    fit = (one for one in _apart(scores) if hunt.speaks_against(one) is None)
    for one in islice(fit, _LOOKED_AT):
        final = _finalists(hunt, [one])
        if final:
            return final
    return []


def _with_his(stay: Stay, points: Sequence[ShorePoint], one: Finalist) -> Stay:
    """The stay with all points lines may lead to, and those that a given lie leads to."""
    led = {line.point for line in one.lie.lines} - {point.name for point in points}
    his = [point for point in one.stay.bay.points if point.name in led]
    return replace(stay, bay=replace(stay.bay, points=(*points, *his)))


def _choice(hunt: Hunt, order: tuple[Finalist, ...], scores: Sequence[Score]) -> Choice:
    basis = _basis(hunt)
    changes: tuple[Change, ...] = ()
    if order:
        basis = order[0].judged.judgement.basis | basis
        changes = helps(_with_his(hunt.stay, hunt.stay.bay.points, order[0]), order[0])
    return Choice(
        stay=hunt.stay,
        finalists=order,
        others=_elsewhere(hunt, scores),
        dropped=tuple(sorted(hunt.dropped.items(), key=lambda item: (-item[1], item[0]))),
        tried=hunt.tried,
        hours=hunt.hours,
        then_held=bool(order) and not order[0].whole and _then_held(hunt, order[0], scores),
        helps=changes,
        basis=basis,
    )


def _elsewhere(hunt: Hunt, scores: Sequence[Score]) -> tuple[Elsewhere, ...]:
    """Of each pair of stern ends the best that nothing speaks against, or what does."""
    of_each: dict[tuple[str, ...], list[Score]] = {}
    for one in sorted(scores, key=lambda score: score.order):
        ends = tuple(point.name for point in one.candidate.berth.ends.points)
        of_each.setdefault(ends, []).append(one)
    found = [_of_one_pair(hunt, some[:_LOOKED_AT]) for some in of_each.values()]
    return tuple(sorted(found, key=lambda one: (one.against is not None, one.score.order)))


def _of_one_pair(hunt: Hunt, some: Sequence[Score]) -> Elsewhere:
    for one in some:
        if hunt.speaks_against(one) is None:
            return Elsewhere(one, None)
    return Elsewhere(some[0], hunt.speaks_against(some[0]))


def _then_held(hunt: Hunt, best: Finalist, scores: Sequence[Score]) -> bool:
    """Whether a lie tried that nothing speaks against holds from then to the end."""
    return any(
        _holds_after(one, best.until)
        and (best.unproven or not one.unproven)
        and hunt.speaks_against(one) is None
        for one in scores
    )


def _holds_after(one: Score, moment: datetime) -> bool:
    later = np.array([utc_of(t) >= moment for t in one.time_utc])
    return bool((one.by_time[later] <= 1.0).all())


def _basis(hunt: Hunt) -> Basis:
    """What the choosing itself rests on."""
    said = [
        Assumption(
            f"Of {hunt.tried} lies tried the best few were improved by small changes and judged;"
            " between what was tried better ones may lie",
            "Another let-go point or length may be a few in a hundred better",
        ),
        Assumption(
            f"Uses within {TIE:.0%}, or a hundredth, of each other are a tie; a use is"
            " one that more than the accepted share of members reach",
            "A single member can ask for more",
        ),
        Assumption(
            f"At most {MOST_ON_A_CLEAT} lines are made fast to one cleat, a quarter's leads aft or"
            " to the side, a bow's forward or to the side (common practice, no source)",
            "Other fairleads allow other leads",
        ),
    ]
    if hunt.stay.proof is not None:
        said.append(
            Assumption(
                "Every lie is reckoned with the stay's proof, pulled toward its own berth",
                "Without it only what such anchors hold at the low end counts",
            )
        )
    hidden = hunt.rules.chains_unknown
    if hidden:
        said.append(
            Assumption(
                f"Nobody told where the chain of {' and '.join(hidden)} leads: no lie was left"
                " out for leading over it",
                "Two chains that cross foul each other: look before letting go",
            )
        )
    if any(one.kind == "unproven shore" for one in hunt.stay.bay.points):
        said.append(
            Assumption(
                "Where no point is known, lines lead to places on the shore line, 15 m apart:"
                " nobody knows that there is anything to make fast to, nor what it carries",
                "A berth there is none where nothing is found",
            )
        )
    return Basis(assumptions=tuple(said))
