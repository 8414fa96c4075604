"""What is doubtful in a stay, how much, and draws of all of it at once."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import scipy
from numpy.typing import NDArray
from scipy.special import ndtri

from shorefast.basis import Assumption, Basis
from shorefast.stay.plan import LET_GO_ERROR_M, Stay
from shorefast.stay.proof import proof_pull
from shorefast.stay.rigging import lie_of

Floats = NDArray[np.float64]
# standard deviations of logarithms, where nobody tells: our own choices
WINDAGE_LOG, GUST_LOG, STRENGTH_LOG = 0.15, 0.10, 0.15
_WITHIN_90 = 1.645
# independent scrambles, from which the sampling error is told
REPLICATES = 8
# how many samples share one drawn place of the anchor and depth of the bed
SHARING = 4
# columns of a draw
MEMBER, WINDAGE, HOLDING, GUST, DIRECTION, STRENGTH, PROOF, EAST, NORTH, DEPTH = range(10)
_OF_SAMPLE, _OF_PLACE = (MEMBER, WINDAGE, HOLDING, GUST, DIRECTION, STRENGTH, PROOF), 3


@dataclass(frozen=True)
class Doubts:
    """How much each thing is in doubt: standard deviations.

    Attributes
    ----------
    windage_log, gust_log, strength_log, proof_log : float
        Of the logarithm of the force of the wind, of gusts over the forecast's, of what
        ropes keep of their strength, of the pull of the proof.
    holding : float
        1: the odds of the ground as they stand; 0: the middle of them.
    direction : float
        1: the bay's spread of the wind's direction; 0: none.
    let_go_m : float
        Where the anchor lands, each way. [m]
    depth : float
        1: the bed's own deviation, all alike over the berth; 0: none.
    """

    windage_log: float = WINDAGE_LOG
    gust_log: float = GUST_LOG
    strength_log: float = STRENGTH_LOG
    proof_log: float = 0.0
    holding: float = 1.0
    direction: float = 1.0
    let_go_m: float = LET_GO_ERROR_M
    depth: float = 1.0

    def narrowed(self, name: str, share: float) -> Doubts:
        """The same with one doubt at a share of itself."""
        return replace(self, **{name: share * getattr(self, name)})


NO_DOUBT = Doubts(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
# what each doubt is called, and its columns
NAMES: dict[str, tuple[str, tuple[int, ...]]] = {
    "windage_log": ("windage", (WINDAGE,)),
    "holding": ("what the ground holds", (HOLDING,)),
    "gust_log": ("the gusts", (GUST,)),
    "direction": ("the wind's direction in the bay", (DIRECTION,)),
    "strength_log": ("what the ropes have lost", (STRENGTH,)),
    "proof_log": ("the pull of the proof", (PROOF,)),
    "let_go_m": ("where the anchor lands", (EAST, NORTH)),
    "depth": ("the depth", (DEPTH,)),
}
# those of which ``SHARING`` samples that follow one another have one draw
OF_PLACE = ("let_go_m", "depth")


def doubts_of(stay: Stay) -> Doubts:
    """The doubts of a stay: the skipper's where told, else ours."""
    pull, told_m = proof_pull(stay), lie_of(stay).let_go_error_m
    spread = 0.0
    if pull is not None and 0.0 < pull.low_n < pull.high_n:
        spread = math.log(pull.high_n / pull.low_n) / (2.0 * _WITHIN_90)
    return Doubts(proof_log=spread, let_go_m=LET_GO_ERROR_M if told_m is None else told_m)


def draws(samples: int, seed: int) -> Floats:
    """Scrambled Sobol points, (replicate, sample, column), each in 0 to 1.

    A sample's own doubts are one sequence; where the anchor lands and how deep the bed
    lies another, of which ``SHARING`` samples that follow one another share a point. Every
    replicate is scrambled by itself.

    Source
    ------
    owen-1998 (scrambled nets: the mean over replicates is unbiased, their scatter its error).
    """
    # scipy loads its statistics when they are asked for: a third of a second, only odds draw
    qmc = scipy.stats.qmc
    each = samples_each(samples)
    whole = np.empty((REPLICATES, each, len(_OF_SAMPLE) + _OF_PLACE))
    for replicate in range(REPLICATES):
        root = np.random.SeedSequence([seed, replicate]).spawn(2)
        own, place = (np.random.default_rng(one) for one in root)
        whole[replicate, :, : len(_OF_SAMPLE)] = qmc.Sobol(len(_OF_SAMPLE), rng=own).random(each)
        there = qmc.Sobol(_OF_PLACE, rng=place).random(each // SHARING)
        whole[replicate, :, len(_OF_SAMPLE) :] = np.repeat(there, SHARING, axis=0)
    return np.clip(whole, 1e-9, 1.0 - 1e-9)


def samples_each(samples: int) -> int:
    """Samples of one replicate: the power of two that gives at least what is asked."""
    wanted = max(samples / REPLICATES, 2.0 * SHARING)
    return 1 << math.ceil(math.log2(wanted) - 1e-9)


def normal(share: Floats) -> Floats:
    """The standard normal's quantiles."""
    return np.asarray(ndtri(share), float)


def doubts_basis(stay: Stay, doubts: Doubts, sources: Sequence[str] = ()) -> Basis:
    """Where each doubt comes from, and how weak that is."""
    told = lie_of(stay).let_go_error_m is not None
    who = "the stay file" if told else "our choice"
    said = (
        Assumption(
            f"The wind's force on her is known to {doubts.windage_log:.0%} (one standard"
            " deviation, our choice: about what lies between published sets for small craft)",
            "A bimini, a dinghy on deck or a high cabin puts it past that",
        ),
        Assumption(
            f"Gusts come within {doubts.gust_log:.0%} of the forecast's (one standard deviation,"
            " our choice)",
            "Behind high ground they can be twice the mean, and no forecast knows that",
        ),
        Assumption(
            f"What ropes keep of their strength is known to {doubts.strength_log:.0%} (one"
            " standard deviation, all alike, our choice; common practice, no source)",
            "A chafed or sun-rotten line is no part of any such spread: look at it",
        ),
        Assumption(
            f"The anchor lands within {2.0 * doubts.let_go_m:g} m of the place, most times (a"
            f" standard deviation of {doubts.let_go_m:g} m each way, {who})",
            "Let go by eye, with way on or in a current it can be twice as far out",
        ),
        Assumption(
            "Wherever the anchor landed she veers the chain and lies to the lines as planned",
            "Chain and lines made to fit where it did land better these odds",
        ),
        Assumption(
            "The bed lies deeper or less deep all alike, by its own deviation at the anchor and"
            " at her stern",
            "One stone under the rudder is no part of that",
        ),
        Assumption(
            "The proof cuts the odds of the ground off from below, as far as it counts that way",
            "Pulled from another side, or turned since, the anchor holds what it happens to",
        ),
    )
    return Basis(assumptions=said, sources=("owen-1998", *sources))
