"""From the cleat to the rock: the line, the sling at its end, and what that lies round."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Basis
from shorefast.bay import ShorePoint
from shorefast.boat import (
    Cleat,
    Holdfast,
    Hull,
    Marked,
    Sling,
    Yacht,
    boulder,
    cleat_limit,
    line_in_use,
    rock,
    sling_in_use,
    sling_limit,
    tree,
)
from shorefast.stay.answer import PartUse
from shorefast.stay.limits import Limit, greatest_n, kilograms_of, part_use, source_words
from shorefast.stay.lines_out import ShoreLeg
from shorefast.stay.rode_parts import half_words

Floats = NDArray[np.float64]
# how a sling lies round a point nobody tells: choked leaves the least of it
_HITCH = "choked"
_RULES = {"tree": tree, "boulder": boulder, "rock": rock}


def line_part(leg: ShoreLeg, tension_n: Floats) -> PartUse:
    """One line, by half of what parts it as it is led; a doubled one shares the pull."""
    plan = leg.plan
    strength = line_in_use(leg.line, plan.edge_radius_m)
    source = half_words(strength, plan.edge_radius_m)
    if math.isnan(strength.limit_n):
        source = "unknown: nobody has printed what a rope keeps over an edge thinner than itself"
    carries = Limit(strength.limit_n, source, strength.usable_n)
    return part_use(leg.name, "line", carries, tension_n / leg.parts)


def rule_for(point: ShorePoint, load_n: float) -> Holdfast | None:
    """The rule of thumb for such a point under a load [N]; None where there is none."""
    words = point.kind.lower().split()
    rule = next((_RULES[word] for word in words if word in _RULES), None)
    return None if rule is None or math.isnan(load_n) else rule(load_n)


def shore_parts(legs: tuple[ShoreLeg, ...], pulls_n: list[Floats]) -> list[PartUse]:
    """Every line, and after it its point with all that pulls there, whichever way. [N]"""
    parts: list[PartUse] = []
    for i, leg in enumerate(legs):
        parts.append(line_part(leg, pulls_n[i]))
        at = [j for j, one in enumerate(legs) if one.point.name == leg.point.name]
        if at[0] == i:
            parts.append(point_part(leg.point, np.sum([pulls_n[j] for j in at], axis=0)))
    return parts


def point_part(point: ShorePoint, load_n: Floats) -> PartUse:
    """What a point carries beside what somebody says of it, or a rule of thumb."""
    if point.strength_n is not None:
        carries = Limit(point.strength_n, "bay file")
    else:
        holdfast = rule_for(point, greatest_n(load_n))
        said = (
            ": the bay file does not tell" if holdfast is None else f"; wanted is {holdfast.said}"
        )
        carries = Limit(math.nan, f"unknown{said}")
    return part_use(f"{point.name} ashore", "point", carries, load_n)


def sling_carries(sling: Sling) -> Limit:
    """What a sling should carry round a point; unknown where it is not marked.

    Source
    ------
    en-1492 (from memory) for the hitch.
    """
    told = sling_limit(sling)
    if math.isnan(told.limit_n):
        return Limit(math.nan, "unknown: the boat file does not tell")
    carries = sling_in_use(Marked(told.limit_n, math.nan, "en-1492", Basis()), _HITCH)
    share = carries.limit_n / told.limit_n
    told_kg = kilograms_of(told.limit_n)
    said = f"{share:.2g} of its {told_kg} in the boat file, since {_HITCH} (EN 1492, from memory)"
    return Limit(carries.limit_n, said)


def sling_parts(boat: Yacht, legs: tuple[ShoreLeg, ...], pulls_n: list[Floats]) -> list[PartUse]:
    """Every sling in the lie with all that pulls at it, whichever way. [N]"""
    parts = []
    for sling in boat.slings:
        at = [i for i, leg in enumerate(legs) if leg.plan.sling == sling.name]
        if at:
            load_n = np.sum([pulls_n[i] for i in at], axis=0)
            name = f"{sling.name} round {legs[at[0]].point.name}"
            parts.append(part_use(name, "sling", sling_carries(sling), load_n))
    return parts


def cleat_part(cleat: Cleat, hull: Hull, load_n: Floats) -> PartUse:
    """A cleat by what it carries, with what the standard wants of one there beside it."""
    limit_n, source = cleat_limit(cleat, hull)
    if cleat.strength_n is not None:
        wanted_n, _ = cleat_limit(Cleat(cleat.name, cleat.spot), hull)
        beside = "" if math.isnan(wanted_n) else f"; ISO 15084 wants {kilograms_of(wanted_n)} there"
        source = f"{source}{beside}"
    return part_use(f"{cleat.name} cleat", "cleat", Limit(limit_n, source_words(source)), load_n)
