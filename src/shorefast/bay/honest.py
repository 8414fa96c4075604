"""How far a foretold doubt may be trusted: held against soundings left out, gap by gap."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

HELD_AGAINST = 40
PRIOR = 20.0
SHARE_MOST = 5.0
BINS = 6
HELD_LEAST = 8
ALIKE = 1.25
ONE_COUNTS = 0.5
UNSEEN_SLOPE = 0.01
UNSEEN_BUT_LOOKED_FOR = 0.002


class Honest(NamedTuple):
    """Factors on the doubt by distance to the nearest sounding, and what nobody saw.

    apart_m, factor: arrays, shape (gap,), nearest first [m]; unseen_slope: however even
    the soundings, what lies between them may stand that much of the way to the nearest
    above or below (our own choice): 1 in 100, and 1 in 500 where soundings left out were
    guessed.
    """

    apart_m: Floats
    factor: Floats
    unseen_slope: float

    def at(self, apart_m: Floats) -> Floats:
        """The factor at distances from the nearest sounding. [m]"""
        return np.interp(np.log(np.maximum(apart_m, 1e-3)), np.log(self.apart_m), self.factor)


NOT_HELD_AGAINST_ANY = Honest(np.ones(1), np.ones(1), UNSEEN_SLOPE)


def disagreement(lots: Sequence[tuple[Floats, Floats]]) -> float:
    """Standard error of the factor's logarithm, from lots of tracks left out one after another.

    Parameters
    ----------
    lots : pairs of arrays, shape (guess,)
        What guesses were off, and their deviations. [m]
    """
    shares = [np.abs(error_m) / foretold_m for error_m, foretold_m in lots]
    told = [share[np.isfinite(share)] for share in shares]
    factors = [math.log(_factor(share)) for share in told if share.size >= HELD_LEAST]
    if len(factors) < 2:
        return 0.0
    return float(np.std(factors, ddof=1) / math.sqrt(len(factors)))


def honest_over(
    apart_m: Floats, error_m: Floats, foretold_m: Floats, raised: float = 0.0
) -> Honest:
    """Factors that would have made the doubt cover soundings left out, by how far others were.

    68.3 of 100 inside one deviation and 95.4 inside two: errors have longer tails than
    the normal law, so both cannot be had: the geometric mean of the two (our own choice).
    The factor at one distance leans to that over all, as if that told as much as 20
    guesses; farther off the doubt is never less.

    Parameters
    ----------
    apart_m, error_m, foretold_m : arrays, shape (guess,)
        To the nearest sounding heard; what the guess was off; its deviation. [m]
    raised : float
        How far the logarithm of every factor is raised, since few tracks tell little.
    """
    share = np.abs(error_m) / foretold_m
    told = np.isfinite(share) & np.isfinite(apart_m)
    apart_m, share, foretold_m = apart_m[told], share[told], foretold_m[told]
    if share.size < HELD_AGAINST:
        return NOT_HELD_AGAINST_ANY
    overall = math.log(_factor(share))
    bins = _bins(apart_m)
    lots = [here for here in (bins == one for one in np.unique(bins)) if here.sum() >= HELD_LEAST]
    lots = lots or [np.ones(bins.size, bool)]
    counts = np.array([here.sum() for here in lots])
    own = np.array([math.log(_factor(share[here])) for here in lots])
    leaning = (counts * own + PRIOR * overall) / (counts + PRIOR)
    typical = np.log([np.median(foretold_m[here]) for here in lots])
    held = np.maximum.accumulate(leaning + typical)
    apart = np.array([np.median(apart_m[here]) for here in lots])
    factors = np.exp(held - typical + raised)
    return Honest(np.maximum(apart, 1e-3), factors, UNSEEN_BUT_LOOKED_FOR)


def _bins(apart_m: Floats) -> Ints:
    """Distances in six lots of like number, those within a quarter of each other as one."""
    edges: list[float] = []
    for edge in np.quantile(apart_m, np.linspace(0.0, 1.0, BINS + 1)[1:-1]):
        if edge > ALIKE * (edges[-1] if edges else float(apart_m.min())):
            edges.append(float(edge))
    return np.searchsorted(edges, apart_m, side="right")


def _factor(share: Floats) -> float:
    one, two = np.quantile(share, (0.683, 0.954))
    both = one**ONE_COUNTS * (0.5 * two) ** (1.0 - ONE_COUNTS)
    return float(np.clip(both, 1.0 / SHARE_MOST, SHARE_MOST))
