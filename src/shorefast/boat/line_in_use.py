"""A line as it is led: what its ends, its age, the wet and an edge leave of it."""

from __future__ import annotations

import math
from dataclasses import replace

from shorefast.basis import Basis, Finding
from shorefast.boat.strength import OUR_SHARE, Factor, Strength, line_strength, termination_share
from shorefast.boat.wear import RopeUse, WearFactor, sun_factor, worn_rope
from shorefast.boat.yacht import LongLine

ENDS = {"splice": "eye splice", "knot": "bowline"}


def line_in_use(
    line: LongLine, edge_radius_m: float | None = None, share: float = OUR_SHARE
) -> Strength:
    """What parts a line as it is used, and what it should carry.

    New strength x ends x age x wet x edge, then a share of that. Where nobody says how
    it ends a knot is reckoned with, and what a splice would leave is told. The sun is
    told beside it and takes nothing: nobody knows how long the line lay in it. Sawing
    over the edge is left out.

    Parameters
    ----------
    line : LongLine
    edge_radius_m : float or None
        Of the edge it bears on. [m]
    share : float
        Of the usable strength; a half is our default from common practice.

    Returns
    -------
    Strength
        ``usable_n`` and ``limit_n`` NaN over an edge thinner than the line.

    Raises
    ------
    BadInput
        For an edge without a radius.

    Source
    ------
    plymouth-1946 and ocimf-meg2, ends; rope-reductions, edge and sun (from memory);
    ufc-4-159-03, Table 6-8 note (nylon wet).
    """
    knot = ENDS[line.ends or "knot"]
    edge_m = None if edge_radius_m is None else 2.0 * edge_radius_m
    tied = line_strength(line, share, knot)
    bent = worn_rope(line, RopeUse((knot,), edge_m))
    age = math.prod(factor.value for factor in tied.factors if factor.name == "age")
    usable_n = bent.low_n * age
    edges = tuple(Factor(one.name, one.low, one.source) for one in bent.factors if _bends(one))
    told = (*_untold_ends(line), *_in_the_sun(line))
    return replace(
        tied,
        usable_n=usable_n,
        limit_n=share * usable_n,
        factors=tied.factors + edges,
        basis=tied.basis | bent.basis | Basis(findings=told),
    )


def _bends(factor: WearFactor) -> bool:
    return factor.name == "edge"


def _untold_ends(line: LongLine) -> tuple[Finding, ...]:
    if line.ends is not None:
        return ()
    knot, splice = (termination_share(ENDS[end]) for end in ("knot", "splice"))
    said = (
        f"nobody says how it ends; reckoned with a {knot.name}, which leaves"
        f" {knot.value:.0%}; an {splice.name} leaves {splice.value:.0%}"
    )
    return (Finding(line.name, said),)


def _in_the_sun(line: LongLine) -> tuple[Finding, ...]:
    """What the sun would leave if the line had lain in it all its years."""
    if line.age_years == 0.0:
        return ()
    years = line.age_years
    sun = sun_factor(line.fibre, 1.0 if years is None else years)
    if math.isnan(sun.low):
        said = f"what the sun took is not in it: nobody has printed it for {line.fibre}"
        return (Finding(line.name, said),)
    summers = "a summer" if years in (None, 1.0) else f"{years:g} summers"
    said = (
        f"what the sun took is not in it: {summers} in it would leave {sun.low:.0%} to"
        f" {sun.high:.0%} (handbook figures from memory, rope without protection)"
    )
    return (Finding(line.name, said),)
