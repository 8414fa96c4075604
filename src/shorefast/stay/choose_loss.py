"""More lines for the day one goes: what follows each loss, and the line that ends that."""

from __future__ import annotations

import math
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import numpy as np

from shorefast.bay import ShorePoint
from shorefast.mooring import FOUND
from shorefast.stay.choose_answer import TIE
from shorefast.stay.choose_lies import Candidate
from shorefast.stay.choose_search import LOST, THREADS, Hunt, Score
from shorefast.stay.choose_stages import one_line_more
from shorefast.stay.rigging import RODE
from shorefast.stay.tried import Tried

_MOST_TRIED, _MOST_ADDED = 12, 3
_LESS = 0.1


def _follows(tried: Tried) -> bool:
    """Whether a part parts, the anchor drags, she touches or drifts, at any hour."""
    if (tried.rests.code != FOUND).any():
        return True
    parts = any(
        bool((part.load_n > part.breaking_n).any())
        for part in tried.parts
        if math.isfinite(part.breaking_n)
    )
    touches = math.isfinite(tried.least_room_m) and tried.least_room_m <= 0.0
    return parts or touches or bool((np.nan_to_num(tried.parts[0].use) > 1.0).any())


def _one_loss(hunt: Hunt, one: Candidate, gone: str) -> tuple[bool, float]:
    tried = hunt.trier(hunt.coarse).tried(one.lie, one.proof, (gone,))
    keep = [k for k, name in enumerate(tried.names) if name != gone]
    if gone == RODE:
        keep = [k for k in keep if tried.names[k] not in ("anchor", "chain", "snubber")]
    known = tried.use[keep][np.isfinite(tried.use[keep])]
    return _follows(tried), min(LOST, float(known.max(initial=0.0)))


def after_losses(hunt: Hunt, one: Candidate) -> tuple[int, float]:
    """After how many single losses more follows, and the greatest use after the others.

    Coarsely: as far as she stays near where she lay; farther off she is lost.
    """
    names = [*(f"{line.line} to {line.point}" for line in one.lie.lines), RODE]
    found = [_one_loss(hunt, one, gone) for gone in dict.fromkeys(names)]
    uses = [use for follows, use in found if not follows]
    return len(found) - len(uses), max(uses, default=0.0)


def _led_singly(one: Candidate) -> Candidate:
    """The candidate with no line led out and back."""
    lines = tuple(replace(line, doubled=False) for line in one.lie.lines)
    return replace(one, lie=replace(one.lie, lines=lines))


def _as_good(hunt: Hunt, made: Sequence[Candidate], best: Score) -> list[Score]:
    """Those of some candidates that hold as long, with hardly more use, the best first."""
    scores = sorted(hunt.scored(made, hunt.coarse), key=lambda score: score.order)
    return [
        score
        for score in scores
        if score.until >= best.until
        and score.use <= best.use * (1.0 + TIE)
        and score.unproven == best.unproven
        and score.proof_holds
        and hunt.against(score) is None
    ][:_MOST_TRIED]


def _better(one: tuple[int, float], than: tuple[int, float]) -> bool:
    return one[0] < than[0] or (one[0] == than[0] and one[1] < than[1] * (1.0 - _LESS))


def sturdier(hunt: Hunt, start: Score, points: Sequence[ShorePoint]) -> Score:
    """A lie with lines added while they lessen what follows a loss and cost no use.

    A line led out and back goes as a whole when it goes: two legs to two points do not.
    """
    best = hunt.scored([start.candidate], hunt.coarse)[0]
    now = after_losses(hunt, best.candidate)
    for _ in range(_MOST_ADDED):
        single = _led_singly(best.candidate)
        made = one_line_more(hunt, best.candidate, points)
        if single.lie != best.candidate.lie:
            made += [single, *one_line_more(hunt, single, points)]
        found = _as_good(hunt, made, best)
        with ThreadPoolExecutor(THREADS) as pool:
            after = list(pool.map(lambda score: after_losses(hunt, score.candidate), found))
        order = sorted(range(len(found)), key=lambda k: after[k])
        if not order or not _better(after[order[0]], now):
            break
        best, now = found[order[0]], after[order[0]]
    return best
