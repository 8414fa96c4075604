"""Which doubt matters most: shares of a value's variance, from the samples themselves."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.polynomial import legendre
from numpy.typing import NDArray

Floats = NDArray[np.float64]
_DEGREE = 6
_TOGETHER = 4
# below this many samples of its own a doubt's share is not told
_FEWEST = 40


def share_of(value: Floats, drawn: Floats) -> float:
    """First-order share of a value's variance that some draws explain.

    The value's mean given the draws is fitted by Legendre polynomials of the draws, and
    by their products where there are two; the share is what the fit explains, less what
    as many useless columns would.

    Parameters
    ----------
    value : array (sample,)
    drawn : array (sample, column), 0 to 1

    Returns
    -------
    share : float; NaN where there are too few samples or the value never changes.

    Source
    ------
    sobol-1993 (first-order index); its estimate by regression, adjusted for columns.
    """
    columns = _columns(2.0 * drawn - 1.0)
    count, free = value.size, value.size - columns.shape[1] - 1
    spread = float(np.var(value))
    if free < 8 or spread <= 0.0:
        return float("nan")
    centred = columns - columns.mean(axis=0)
    fitted = centred @ np.linalg.lstsq(centred, value - value.mean(), rcond=None)[0]
    explained = float(np.var(fitted)) / spread
    return float(max(1.0 - (1.0 - explained) * (count - 1) / free, 0.0))


def _columns(x: Floats) -> Floats:
    """Legendre polynomials of one column, or their products of two. (sample, term)"""
    if x.shape[1] == 1:
        return np.asarray(legendre.legvander(x[:, 0], _DEGREE)[:, 1:])
    both = legendre.legvander2d(x[:, 0], x[:, 1], [_TOGETHER, _TOGETHER])
    degree = np.add.outer(np.arange(_TOGETHER + 1), np.arange(_TOGETHER + 1)).ravel()
    return np.asarray(both[:, (degree > 0) & (degree <= _TOGETHER)])


def share_of_groups(value: Floats, group: NDArray[np.int64]) -> float:
    """Share of a value's variance between groups, less what chance would put there.

    Source
    ------
    The analysis of variance's omega squared, any textbook.
    """
    numbers, at = np.unique(group, return_inverse=True)
    many = np.bincount(at)
    free = value.size - numbers.size
    total = float(np.sum((value - value.mean()) ** 2))
    if free < 8 or numbers.size < 2 or total <= 0.0:
        return float("nan")
    means = np.bincount(at, value) / many
    between = float(np.sum(many * (means - value.mean()) ** 2))
    within = (total - between) / free
    return max((between - (numbers.size - 1) * within) / (total + within), 0.0)


def shared_share_of(value: Floats, drawn: Floats, sharing: int) -> tuple[float, float]:
    """First-order share of what samples that follow one another share, and its error.

    The means of those that share a draw are one observation each: whatever else they
    share scatters between them, and must not pass for many draws that agree.

    Parameters
    ----------
    value : array (replicate, sample)
    drawn : array (replicate, sample, column), 0 to 1
    sharing : int
        How many samples in a row have these columns alike; 1: none.

    Returns
    -------
    share, error : float; the error by leaving out one replicate after another.

    Source
    ------
    sobol-1993 (first-order index); the error is Tukey's jackknife, any textbook.
    """
    means = value.reshape(value.shape[0], -1, sharing).mean(axis=2)
    if means.size < _FEWEST or not np.var(value) > 0.0:
        return float("nan"), float("nan")
    spread = float(np.var(value))

    def share(kept: NDArray[np.bool_]) -> float:
        there = means[kept].ravel()
        at = drawn[kept][:, ::sharing].reshape(there.size, -1)
        return share_of(there, at) * float(np.var(there)) / spread

    count = value.shape[0]
    less = np.array([share(np.arange(count) != one) for one in range(count)])
    error = float(np.sqrt((count - 1) * np.var(less)))
    return min(share(np.ones(count, bool)), 1.0), error


def with_error(shares: Sequence[float]) -> tuple[float, float]:
    """Mean over replicates and its standard error."""
    known = np.asarray(shares, float)
    error = float(np.std(known, ddof=1) / np.sqrt(known.size))
    return float(np.mean(known)), error
