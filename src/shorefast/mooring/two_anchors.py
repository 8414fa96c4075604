"""Two anchors in line on one rode: a span, since nobody has printed what the second adds.

The far one lies beyond the near one and pulls through a piece of chain. No published
factor is known to us; so the second adds something between nothing and its own holding.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shorefast.basis import Assumption, Basis, Finding
from shorefast.errors import BadInput
from shorefast.mooring.holding import Holding, chosen_fractile

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class InLine:
    """What two anchors in line hold, along the bed. [N]

    Attributes
    ----------
    low_n : array
        The first anchor alone; NaN where it is not rated.
    high_n : array
        Both together, never more; NaN where either is not rated.
    """

    low_n: Floats
    high_n: Floats
    basis: Basis


def two_in_line(
    first: Holding,
    second: Holding,
    fractile: float,
    uplift_rad: ArrayLike = 0.0,
    slope_rad: ArrayLike = 0.0,
) -> InLine:
    """The span of what two anchors in line hold at a chosen fractile of the odds.

    Same ground, same odds: good or bad ground is so for both, hence fractiles add.
    A proof is not in it: the pair has to be proved as it lies.

    Parameters
    ----------
    first : Holding
        The anchor that would lie there alone.
    second : Holding
        The one added, whichever of the two lies nearer.
    fractile : float
        Between 0 and 1, as for ``chosen_fractile``.
    uplift_rad, slope_rad : array
        Pull above the bed, slope of the bed. [rad]

    Raises
    ------
    BadInput
        For a fractile that is not between 0 and 1.

    Source
    ------
    anchor-tests (from memory) for each alone; two-in-line (common practice): no factor
    is printed.
    """
    if not 0.0 < fractile < 1.0:
        raise BadInput(
            "Two anchors in line",
            f"fractile {fractile:g}",
            "more than 0 and less than 1 wanted",
            "0.1 is what one anchor in ten would not hold.",
        )
    alone_n = chosen_fractile(first, fractile, uplift_rad, slope_rad)
    added_n = chosen_fractile(second, fractile, uplift_rad, slope_rad)
    return InLine(alone_n, alone_n + added_n, first.basis | second.basis | _basis(second))


def _basis(second: Holding) -> Basis:
    findings = [
        Finding(
            "Two anchors in line",
            "nobody has printed a factor for it; the second adds between nothing and its own"
            " holding",
        )
    ]
    if math.isnan(second.median_n):
        findings.append(
            Finding("Two anchors in line", "what the second may add in this bottom is unknown")
        )
    counted = Assumption(
        "The low end, the first anchor alone, is what two in line are trusted with",
        "A near anchor that breaks out may take the far one with it: prove them as they lie",
    )
    return Basis((), (counted,), ("two-in-line",), tuple(findings))
