"""What wear leaves of chain and rope. Losses multiply; what nobody has printed is unknown."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shorefast.basis import Assumption, Basis, Finding
from shorefast.boat.chain import WORKING_SHARE, chain
from shorefast.boat.rope import rope
from shorefast.boat.shipped import shipped_table
from shorefast.boat.strength import termination_share
from shorefast.boat.yacht import LongLine
from shorefast.errors import BadInput

Floats = NDArray[np.float64]

RETIRE_LOST = 0.10
THICKER_AT_MOST = 1.10
SQUARE_EDGE_SHARE = 0.5


@dataclass(frozen=True)
class WornChain:
    """Chain by its thinnest link.

    Attributes
    ----------
    lost : float
        Share of the diameter that is gone, 0 to 1.
    share : float
        Share of the new strength left.
    breaking_n, working_n : float
        What parts it now, and a quarter of that. [N]
    retire : bool
        A tenth of the diameter or more is gone.
    """

    lost: float
    share: float
    breaking_n: float
    working_n: float
    retire: bool
    basis: Basis


class WearFactor(NamedTuple):
    """One loss: its name, the least and the most share it may leave, who says so."""

    name: str
    low: float
    high: float
    source: str


@dataclass(frozen=True)
class RopeUse:
    """How a rope is used and what it has seen.

    Attributes
    ----------
    ends : tuple of str
        Every knot and splice in it, names as in ``termination_share``.
    edge_m : float or None
        Diameter the edge or post it bends over has (twice its radius); None: no bend. [m]
    summers : float
        In the sun without protection.
    wet : bool
    """

    ends: tuple[str, ...] = ("bowline",)
    edge_m: float | None = None
    summers: float = 0.0
    wet: bool = True


@dataclass(frozen=True)
class WornRope:
    """What parts a rope as it is: the least and the most it may be [N], NaN where unknown."""

    new_n: float
    low_n: float
    high_n: float
    factors: tuple[WearFactor, ...]
    basis: Basis


def worn_chain(diameter_m: float, grade: int, thinnest_m: float) -> WornChain:
    """Strength of chain by the square of the diameter at its thinnest link.

    Rust inside a weld, a stretched or a bent link, and twist are left out.

    Parameters
    ----------
    diameter_m, grade :
        Of the chain when new, as for ``chain``.
    thinnest_m : float
        Least diameter of the wire found, at the crown where links rub. [m]

    Raises
    ------
    BadInput
        For a link that has no thickness, or is a tenth thicker than the chain.

    Source
    ------
    iso-4565 for new chain; wear-practice for the square and for retiring (common practice).
    """
    share_d = thinnest_m / diameter_m
    if not 0.0 < share_d <= THICKER_AT_MOST:
        raise BadInput(
            "Chain",
            f"thinnest link {thinnest_m * 1e3:g} mm",
            f"the chain is {diameter_m * 1e3:g} mm",
            "Measure the wire of the link, not the link, and check the size of the chain.",
        )
    new = chain(diameter_m, grade)
    lost, share = max(0.0, 1.0 - share_d), min(1.0, share_d) ** 2
    # a tenth read off a caliper must not be missed by a rounding
    retire = lost >= RETIRE_LOST - 1e-9
    return WornChain(
        lost=lost,
        share=share,
        breaking_n=new.breaking_n * share,
        working_n=WORKING_SHARE * new.breaking_n * share,
        retire=retire,
        basis=new.basis | _chain_basis(lost, retire),
    )


def edge_share(bend_ratio: ArrayLike) -> Floats:
    """Share of its strength a rope keeps over an edge, by edge diameter over rope diameter.

    A half at a ratio of one; beyond it 1 - 0.5 / sqrt(ratio), the form used for wire,
    which meets it there. Under one NaN: unknown, and less than a half. Sawing over
    the edge is not in it.

    Parameters
    ----------
    bend_ratio : array

    Source
    ------
    rope-reductions (from memory); wire-bend (from memory).
    """
    ratio = np.asarray(bend_ratio, float)
    with np.errstate(divide="ignore", invalid="ignore"):
        share = 1.0 - (1.0 - SQUARE_EDGE_SHARE) / np.sqrt(ratio)
    return np.where(ratio >= 1.0, share, np.nan)


def sun_factor(fibre: str, summers: float) -> WearFactor:
    """What sun leaves of rope without protection: the printed span for each summer.

    Several summers multiply, a part of one counts in proportion to its logarithm:
    our assumption. Fibres without a printed figure are NaN once they saw the sun.

    Raises
    ------
    BadInput
        For less than no summers.

    Source
    ------
    rope-reductions (from memory), polypropylene.
    """
    if not 0.0 <= summers < math.inf:
        raise BadInput("Rope", f"{summers:g} summers in the sun", "0 or more wanted", "Correct it.")
    if summers == 0.0:
        return WearFactor("sun", 1.0, 1.0, "boat file")
    for row in shipped_table("shorefast.boat", "sun"):
        if row["fibre"] == fibre:
            low, high = float(row["low"]) ** summers, float(row["high"]) ** summers
            return WearFactor("sun", low, high, row["source"])
    return WearFactor("sun", math.nan, math.nan, "nobody has printed it")


def worn_rope(line: LongLine, use: RopeUse) -> WornRope:
    """What parts a rope as it is tied, bent, weathered and wet: all losses multiplied.

    Two knots far apart part at the weaker one alone; multiplied they lie on the low
    side. Chafe that has cut yarns is left out: look at the rope.

    Parameters
    ----------
    line : LongLine
    use : RopeUse

    Raises
    ------
    OutsideModel
        For a fibre, a size, a knot or a splice that is not known.
    BadInput
        For an edge without a diameter, or less than no summers.

    Source
    ------
    us-3-strand; plymouth-1946; ocimf-meg2; rope-reductions; ufc-4-159-03, Table 6-8 note.
    """
    made_of = rope(line.fibre, line.diameter_m)
    ends = tuple(termination_share(name) for name in use.ends)
    factors = [WearFactor(end.name, end.value, end.value, end.source) for end in ends]
    if use.edge_m is not None:
        factors.append(_edge_factor(use.edge_m, line.diameter_m))
    factors.append(sun_factor(line.fibre, use.summers))
    if use.wet and made_of.wet_share < 1.0:
        factors.append(WearFactor("wet", made_of.wet_share, made_of.wet_share, "ufc-4-159-03"))
    return WornRope(
        new_n=made_of.breaking_n,
        low_n=made_of.breaking_n * math.prod(factor.low for factor in factors),
        high_n=made_of.breaking_n * math.prod(factor.high for factor in factors),
        factors=tuple(factors),
        basis=made_of.basis | _rope_basis(line.name, factors),
    )


def _edge_factor(edge_m: float, diameter_m: float) -> WearFactor:
    if not 0.0 < edge_m < math.inf:
        raise BadInput(
            "Rope", f"an edge of {edge_m * 1e3:g} mm", "more than 0 wanted",
            "Give twice the radius of the edge, or leave it out.",
        )  # fmt: skip
    share = float(edge_share(edge_m / diameter_m))
    return WearFactor("edge", share, share, "rope-reductions")


def _chain_basis(lost: float, retire: bool) -> Basis:
    square = Assumption(
        "Worn chain carries by the square of the diameter at its thinnest link",
        "Rust in a weld or a stretched link takes more than the caliper shows",
    )
    if not retire:
        return Basis(assumptions=(square,), sources=("wear-practice",))
    said = (
        f"{100.0 * lost:.0f} % of the diameter is gone; from 10 % on chain is retired"
        " (common practice, no source)"
    )
    return Basis((), (square,), ("wear-practice",), (Finding("Chain", said),))


def _rope_basis(where: str, factors: list[WearFactor]) -> Basis:
    multiplied = Assumption(
        "Knots, edge, sun and wet each take their share of what the others left",
        "Losses far apart on the rope do not add up: it then carries more",
    )
    said = {
        "edge": "nobody has printed what a rope keeps over an edge thinner than itself",
        "sun": "nobody has printed what the sun takes from this fibre",
    }
    findings = [Finding(where, said[factor.name]) for factor in factors if math.isnan(factor.low)]
    if any(factor.name == "edge" and factor.low == factor.low for factor in factors):
        findings.append(
            Finding(where, "over the edge by a rule for wire; a rope that saws there keeps less")
        )
    sources = tuple(dict.fromkeys(f.source for f in factors if " " not in f.source))
    return Basis((), (multiplied,), sources, tuple(findings))
