"""What lines, tails, slings, cleats and strong points should carry, and who says so."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

from shorefast.basis import Assumption, Basis, Finding
from shorefast.boat.rope import RopeProperties, rope
from shorefast.boat.shipped import shipped_table
from shorefast.boat.yacht import Cleat, Hull, LongLine, Sling, Snubber
from shorefast.errors import OutsideModel
from shorefast.quantities import STANDARD_GRAVITY_MPS2

OUR_SHARE = 0.5
AGED_FROM_YEARS = 2.0
AGED_SHARE = 0.90
CATEGORY_FACTORS = {"A": 1.0, "B": 1.0, "C": 0.9, "D": 0.75}


class Factor(NamedTuple):
    """One thing that takes strength away: its name, the share left, who says so."""

    name: str
    value: float
    source: str


class PartLimit(NamedTuple):
    """What a part should carry [N], NaN where nobody knows; and who says so."""

    limit_n: float
    source: str


@dataclass(frozen=True)
class Strength:
    """Strength of a line in use.

    Attributes
    ----------
    new_n : float
        Breaking load, new and unknotted. [N]
    usable_n : float
        What parts it as it is used: knot, age, wet. [N]
    limit_n : float
        What it should carry: ``usable_n`` times our share. [N]
    """

    new_n: float
    usable_n: float
    limit_n: float
    factors: tuple[Factor, ...]
    source: str
    basis: Basis


@dataclass(frozen=True)
class SnubberProperties:
    """A tail on the chain: its strength, and its pull for each metre of stretch. [N/m]"""

    strength: Strength
    axial_stiffness_n: float
    spring_npm: float
    spring_soft_npm: float
    spring_stiff_npm: float


def termination_share(name: str) -> Factor:
    """Share of the strength a knot or splice leaves.

    Raises
    ------
    OutsideModel
        For one that is not in the table.

    Source
    ------
    plymouth-1946, knots (read); ocimf-meg2, note 2 (read).
    """
    rows = shipped_table("shorefast.boat", "terminations")
    for row in rows:
        if row["name"] == name:
            return Factor(name, float(row["share"]), row["source"] or row["status"])
    raise OutsideModel(
        where="Knot",
        got=f"'{name}'",
        against=f"known are {', '.join(row['name'] for row in rows)}",
        way_out="Take the nearest of these.",
    )


def line_strength(line: LongLine, share: float = OUR_SHARE, knot: str = "bowline") -> Strength:
    """What parts a shore line as it is used, and what it should carry.

    New strength x knot x age x wet, then a share of that. Chafe over a rock is
    left out, and so is what the sun did to it beyond our factor for age.

    Parameters
    ----------
    line : LongLine
    share : float
        Of the usable strength; a half is our default from common practice.
    knot : str
        What ends it: a name in the table of terminations.

    Source
    ------
    us-3-strand; plymouth-1946; ufc-4-159-03, Table 6-8 note (nylon wet).
    """
    made_of = rope(line.fibre, line.diameter_m)
    factors = [termination_share(knot), _age_factor(line.age_years)]
    if made_of.wet_share < 1.0:
        factors.append(Factor("wet", made_of.wet_share, "ufc-4-159-03"))
    return _strength(made_of, tuple(factors), share, _age_basis(line))


def snubber_properties(snubber: Snubber, share: float = OUR_SHARE) -> SnubberProperties:
    """Strength and spring of the tail on the chain, spliced at its end. [N, N/m]

    Source
    ------
    ufc-4-159-03, Table 6-8 (nylon); rope-elongation for the soft bound (from memory).
    """
    line = LongLine("snubber", snubber.fibre, snubber.diameter_m, snubber.length_m)
    made_of = rope(snubber.fibre, snubber.diameter_m)
    per_m = made_of.breaking_n / snubber.length_m
    return SnubberProperties(
        strength=line_strength(line, share, "eye splice"),
        axial_stiffness_n=made_of.stiffness * made_of.breaking_n,
        spring_npm=made_of.stiffness * per_m,
        spring_soft_npm=made_of.stiffness_soft * per_m,
        spring_stiff_npm=made_of.stiffness_stiff * per_m,
    )


def sling_limit(sling: Sling) -> PartLimit:
    """What a sling should carry: what it is marked with, else unknown."""
    if sling.strength_n is None:
        return PartLimit(math.nan, "nobody knows what this sling carries")
    return PartLimit(sling.strength_n, "boat file, taken as its working load")


def strong_point_n(use: str, reference_length_m: float, category: str = "A") -> float:
    """Load the standard wants a strong point to carry. [N]

    Parameters
    ----------
    use : str
        "forward anchoring", "forward mooring" or "aft mooring".
    reference_length_m : float
        Mean of hull length and waterline. [m]
    category : str
        Design category, A to D.

    Source
    ------
    iso-15084, P = f (a LC - b): structure read, coefficients from memory.
    """
    rows = shipped_table("shorefast.boat", "strong_points")
    row = next(row for row in rows if row["use"] == use)
    wanted_kn = float(row["a_knpm"]) * reference_length_m - float(row["b_kn"])
    return CATEGORY_FACTORS[category] * wanted_kn * 1e3


def cleat_limit(cleat: Cleat, hull: Hull, category: str = "A") -> PartLimit:
    """What a cleat should carry: what is known, else what the standard wants of such a hull.

    Forward of midships the standard's forward mooring load, aft its aft mooring
    load, never more than her weight. An old or home-fitted cleat may carry less.

    Source
    ------
    iso-15084 (coefficients from memory).
    """
    if cleat.strength_n is not None:
        return PartLimit(cleat.strength_n, "boat file")
    use = "forward mooring" if cleat.spot.x_m > 0.0 else "aft mooring"
    wanted_n = strong_point_n(use, (hull.length_m + hull.waterline_m) / 2.0, category)
    weight_n = hull.displacement_kg * STANDARD_GRAVITY_MPS2
    if wanted_n <= 0.0:
        return PartLimit(math.nan, "shorter than the standard reckons with")
    return PartLimit(
        min(wanted_n, weight_n), f"iso-15084, {use} (from memory), not this cleat's own"
    )


def _strength(
    made_of: RopeProperties, factors: tuple[Factor, ...], share: float, basis: Basis
) -> Strength:
    usable_n = made_of.breaking_n * math.prod(factor.value for factor in factors)
    practice = Assumption(
        f"A line should carry {share:.2g} of what parts it as it is used (common practice)",
        "With a third or a fifth the uses grow in proportion",
    )
    sources = tuple(factor.source for factor in factors if " " not in factor.source)
    return Strength(
        new_n=made_of.breaking_n,
        usable_n=usable_n,
        limit_n=share * usable_n,
        factors=factors,
        source=made_of.source,
        basis=made_of.basis | basis | Basis(assumptions=(practice,), sources=sources),
    )


def _age_factor(age_years: float | None) -> Factor:
    young = age_years is not None and age_years < AGED_FROM_YEARS
    return Factor("age", 1.0 if young else AGED_SHARE, "our assumption")


def _age_basis(line: LongLine) -> Basis:
    aged = Assumption(
        f"A line of unknown age, or of {AGED_FROM_YEARS:g} years and more, keeps"
        f" {AGED_SHARE:g} of its strength",
        "Sun and chafe can take half of it: look at the line",
    )
    if line.age_years is None:
        said = f"age unknown; reckoned as {AGED_FROM_YEARS:g} years or more"
        return Basis(assumptions=(aged,), findings=(Finding(line.name, said),))
    return Basis(assumptions=(aged,) if line.age_years >= AGED_FROM_YEARS else ())
