"""A skipper's own readings of the pull astern, standing still, as one square law."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from shorefast.basis import Assumption, Basis, Finding
from shorefast.boat.yacht import Engine, PullAtRevs

GIVEN_DOUBT = 0.15
"""How far a pull that the skipper tells may be out: a spring balance in a breeze, our choice."""
_POWER_DOUBT = 0.15
_WHERE = "Engine pulls"


@dataclass(frozen=True)
class OwnPulls:
    """Readings laid on pull = a n^2, n in revolutions a minute.

    Attributes
    ----------
    per_rpm2 : float
        The a of the law. [N/rpm2]
    doubt : float
        Of the logarithm of a pull within the readings.
    least_rpm, most_rpm : float
        Lowest and highest reading. [rpm]
    """

    per_rpm2: float
    doubt: float
    least_rpm: float
    most_rpm: float
    basis: Basis

    def pull_n(self, revs_rpm: float) -> tuple[float, float, float]:
        """Pull at some revs, its least and its most. [N]

        Outside the readings the power of the law is doubted by 0.15 (our choice).
        """
        middle_n = self.per_rpm2 * revs_rpm**2
        if revs_rpm <= 0.0:
            return 0.0, 0.0, 0.0
        nearest = min(max(revs_rpm, self.least_rpm), self.most_rpm)
        spread = math.hypot(self.doubt, _POWER_DOUBT * math.log(revs_rpm / nearest))
        return middle_n, middle_n * math.exp(-spread), middle_n * math.exp(spread)


def own_pulls(engine: Engine) -> OwnPulls | None:
    """The law through a skipper's readings; None where there are none.

    One reading is scaled by the square of the revs. Through several goes the square law
    of least squares of the relative errors; a told pull at told full revs is one more.
    The doubt is twice the readings' scatter about it, and never less than what one
    reading may be out.

    Source
    ------
    propeller-laws (from memory): standing still the pull goes with the square of the revs.
    """
    if not engine.pulls:
        return None
    pulls = engine.pulls
    if engine.astern_pull_n is not None and engine.full_revs_rpm is not None:
        pulls = (*pulls, PullAtRevs(engine.full_revs_rpm, engine.astern_pull_n))
    revs = np.array([one.revs_rpm for one in pulls])
    told = np.array([one.pull_n for one in pulls])
    each = np.log(told / revs**2)
    scatter = float(each.std(ddof=1)) if each.size > 1 else 0.0
    doubt = max(math.log(1.0 + GIVEN_DOUBT), 2.0 * scatter)
    per_rpm2 = math.exp(float(each.mean()))
    said = _findings(pulls, per_rpm2, 2.0 * scatter)
    return OwnPulls(per_rpm2, doubt, float(revs.min()), float(revs.max()), _basis(pulls, said))


def _findings(pulls: tuple[PullAtRevs, ...], per_rpm2: float, wide: float) -> tuple[Finding, ...]:
    said = []
    rising = sorted(pulls, key=lambda one: one.revs_rpm)
    for low, high in pairwise(rising):
        if high.pull_n <= low.pull_n:
            said.append(
                f"{high.pull_n:.0f} N at {high.revs_rpm:.0f} rpm is no more than"
                f" {low.pull_n:.0f} N at {low.revs_rpm:.0f}: the propeller draws air, or one of"
                " the two is wrong"
            )
    if wide > math.log(1.0 + GIVEN_DOUBT):
        far = max(pulls, key=lambda one: abs(math.log(one.pull_n / one.revs_rpm**2 / per_rpm2)))
        said.append(
            f"they do not go with the square of the revs; the farthest off is {far.pull_n:.0f} N"
            f" at {far.revs_rpm:.0f} rpm, where the others together say"
            f" {per_rpm2 * far.revs_rpm**2:.0f}"
        )
    return tuple(Finding(_WHERE, one) for one in said)


def _basis(pulls: tuple[PullAtRevs, ...], said: tuple[Finding, ...]) -> Basis:
    count = "one reading" if len(pulls) == 1 else f"{len(pulls)} readings"
    return Basis(
        assumptions=(
            Assumption(
                f"The astern pull follows her skipper's own {count} by the square of the revs,"
                f" each right to {GIVEN_DOUBT:.0%}",
                "A fouled propeller or hull pulls less than it did then",
            ),
        ),
        sources=("propeller-laws",),
        findings=said,
    )
