"""How far a foretold doubt may be trusted: held against soundings left out, gap by gap."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

HELD_AGAINST = 40
PRIOR = 20.0
SHARE_MOST = 5.0
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


def honest_over(gaps_m: Floats, left: Sequence[tuple[Floats, Floats]]) -> Honest:
    """Factors that would have made the doubt cover the soundings left out over each gap.

    68.3 of 100 inside one deviation and 95.4 inside two: errors have longer tails than
    the normal law, so both cannot be had: the geometric mean of the two (our own choice).
    The factor over one gap leans to that over all, as if that told as much as 20 guesses;
    farther off the doubt is never less.

    Parameters
    ----------
    gaps_m : array, shape (gap,)
    left : pairs of arrays, shape (guess,)
        Error, and deviation foretold. [m]
    """
    shares = [_share(error, foretold) for error, foretold in left]
    together = np.concatenate(shares)
    if together.size < HELD_AGAINST:
        return NOT_HELD_AGAINST_ANY
    overall = math.log(_factor(together))
    apart: list[float] = []
    factors: list[float] = []
    most = 0.0
    for gap, share, (_, foretold) in zip(gaps_m, shares, left, strict=True):
        if share.size < 8:
            continue
        own = share.size * math.log(_factor(share)) + PRIOR * overall
        typical = float(np.nanmedian(foretold))
        most = max(most, math.exp(own / (share.size + PRIOR)) * typical)
        apart.append(max(float(gap), 1e-3 * (1 + len(apart))))
        factors.append(most / typical)
    return Honest(np.array(apart), np.array(factors), UNSEEN_BUT_LOOKED_FOR)


def _share(error_m: Floats, foretold_m: Floats) -> Floats:
    share = np.abs(error_m) / foretold_m
    return np.asarray(share[np.isfinite(share)])


def _factor(share: Floats) -> float:
    one, two = np.quantile(share, (0.683, 0.954))
    both = one**ONE_COUNTS * (0.5 * two) ** (1.0 - ONE_COUNTS)
    return float(np.clip(both, 1.0 / SHARE_MOST, SHARE_MOST))
