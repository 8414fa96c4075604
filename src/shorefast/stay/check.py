"""Whether boat, bay and lie fit together: what is odd is said, what cannot be is refused."""

from __future__ import annotations

import math
from collections import Counter

import numpy as np
from shapely.geometry import Point

from shorefast.basis import Finding
from shorefast.bay import NO_ANCHOR, NO_LINES, ShorePoint, Zone
from shorefast.errors import BadInput
from shorefast.stay.limits import kilograms_of
from shorefast.stay.over_zones import zone_means, zone_named
from shorefast.stay.plan import Lie, Stay
from shorefast.stay.proof import counted_n, proof_pull
from shorefast.stay.rigging import lie_of, shore_legs
from shorefast.stay.rode_parts import rode_breaks_n

_INLAND_M = 150.0
_MOST_CURRENT_MPS = 5.0
_APART_M = 3.0
_SOUND_CLOSER_M = 40.0


def _lengths(stay: Stay, lie: Lie) -> None:
    """Refuse more of one line than is aboard, over all legs it makes."""
    asked: Counter[str] = Counter()
    for plan in lie.lines:
        asked[plan.line] += plan.length_m * (2 if plan.doubled else 1)  # type: ignore[assignment]
    for line in stay.boat.lines:
        if asked[line.name] > line.length_m + 1e-9:
            raise BadInput(
                f"Line {line.name}",
                f"{asked[line.name]:.1f} m asked over all its legs",
                f"{line.length_m:.1f} m aboard",
                "Shorten a leg, or take another line for it.",
            )


def _second_anchor(stay: Stay, lie: Lie) -> None:
    """Refuse two anchors in line where the second is not aboard."""
    if lie.second_anchor_ahead_m is not None and stay.boat.second_anchor is None:
        raise BadInput(
            "Lie, second_anchor_ahead_m",
            f"{lie.second_anchor_ahead_m:.1f} m asked",
            "no second anchor aboard",
            "Add [second_anchor] with class and mass_kg to the boat file, or leave it out.",
        )
    ahead_m = lie.second_anchor_ahead_m or 0.0
    there = Point(
        lie.let_go_east_m + ahead_m * math.sin(lie.heading_rad),
        lie.let_go_north_m + ahead_m * math.cos(lie.heading_rad),
    )
    if ahead_m > 0.0 and stay.bay.land is not None and stay.bay.land.contains(there):
        raise BadInput(
            "Lie, second_anchor_ahead_m",
            f"{ahead_m:.1f} m ahead of the first",
            "that is on land",
            "Give less chain between the two, or let the first go farther off.",
        )


def _slings(stay: Stay, lie: Lie) -> None:
    """Refuse slings nobody knows, and one that would lie round two points."""
    known = [sling.name for sling in stay.boat.slings]
    round_point: dict[str, str] = {}
    for number, plan in enumerate(lie.lines, start=1):
        if plan.sling is None:
            continue
        where, got = f"Lie, line {number}", f"sling '{plan.sling}'"
        if plan.sling not in known:
            raise BadInput(
                where,
                got,
                f"known are {', '.join(known) or 'none'}",
                "Name one of these, or add it to the boat file.",
            )
        taken = round_point.setdefault(plan.sling, plan.point)
        if taken != plan.point:
            raise BadInput(
                where,
                got,
                f"it lies round {taken} already",
                f"Take another sling for {plan.point}.",
            )


def _point_inland(stay: Stay, point: ShorePoint) -> None:
    shore = stay.bay.shore
    if shore is None:
        return
    away_m = float(shore.distance(Point(point.east_m, point.north_m)))
    if away_m > _INLAND_M:
        raise BadInput(
            f"Point {point.name}",
            f"{away_m:.0f} m from the shore line",
            f"a point to make fast lies within {_INLAND_M:.0f} m of it",
            "Correct its place; latitude and longitude may have changed places.",
        )


def _anchor_place(stay: Stay, lie: Lie) -> list[Finding]:
    """The bed under the anchor: on land refused, unknown said."""
    here = Point(lie.let_go_east_m, lie.let_go_north_m)
    if stay.bay.land is not None and stay.bay.land.contains(here):
        raise BadInput(
            "Lie, let_go",
            f"{lie.let_go_east_m:.0f} m east, {lie.let_go_north_m:.0f} m north",
            "that is on land",
            "Correct the place; latitude and longitude may have changed places.",
        )
    level_m = float(stay.bay.surface.level_at(lie.let_go_east_m, lie.let_go_north_m))
    if math.isfinite(level_m):
        return []
    return [
        Finding(
            "Bed at the anchor",
            "unknown: no sounding is near enough"
            f" (a berth wants them closer than {_SOUND_CLOSER_M:.0f} m)",
        )
    ]


def _rules(zone: Zone, lie: Lie, stay: Stay) -> list[Finding]:
    named = zone_named(zone)
    said = []
    anchor = Point(lie.let_go_east_m, lie.let_go_north_m)
    if zone.kind in NO_ANCHOR and zone.shape.intersects(anchor):
        said.append(Finding("Anchor", f"let go in the zone {named}: {zone_means(zone)}"))
    if zone.kind in NO_LINES:
        for leg in shore_legs(stay.boat, stay.bay, lie):
            if zone.shape.intersects(Point(leg.point.east_m, leg.point.north_m)):
                said.append(Finding(leg.point.name, f"stands in the zone {named}"))
    return said


def in_force(zone: Zone, stay: Stay) -> bool:
    """Whether a zone is in force at any time of the stay."""
    begins = zone.from_utc is None or zone.from_utc <= stay.until_utc
    return begins and (zone.until_utc is None or zone.until_utc > stay.from_utc)


def _zones(stay: Stay, lie: Lie) -> list[Finding]:
    """What the zones in force say of anchor and points."""
    said = []
    for zone in stay.bay.zones:
        if in_force(zone, stay):
            said.extend(_rules(zone, lie, stay))
    return said


def _proof(stay: Stay) -> list[Finding]:
    """A proof harder than what parts the rode is refused; what its revs pull is said."""
    if stay.proof is None:
        return []
    if stay.proof.pull_n is None:
        return [Finding("Proof", _revs_words(stay))]
    parts_n = rode_breaks_n(stay.boat, lie_of(stay).chain_out_m)
    if stay.proof.pull_n > parts_n:
        raise BadInput(
            "[proof] pull",
            f"{stay.proof.pull_n:.0f} N",
            f"the rode parts at {parts_n:.0f} N",
            "Correct it; an engine pulls some thousand newtons.",
        )
    return []


def _revs_words(stay: Stay) -> str:
    """What a proof told by revs alone counts for.

    Raises
    ------
    BadInput
        For more than full revs.
    """
    engine, told = stay.boat.engine, stay.proof
    revs_rpm = None if told is None else told.revs_rpm
    full_rpm = None if engine is None else engine.full_revs_rpm
    if revs_rpm is not None and full_rpm is not None and revs_rpm > full_rpm:
        raise BadInput(
            "[proof] revs",
            f"{revs_rpm:.0f} rpm",
            f"full revs are {full_rpm:.0f}",
            "Correct one of the two.",
        )
    pull = proof_pull(stay)
    if pull is None:
        return "given without a pull; what the revs pull is unknown, so it counts for nothing"
    middle, low, high = (kilograms_of(n) for n in (pull.nominal_n, pull.low_n, pull.high_n))
    counts = kilograms_of(counted_n(pull))
    return f"{revs_rpm:.0f} rpm pull {middle} ({low} to {high}); it counts for {counts}"


def _reach(stay: Stay, lie: Lie) -> list[Finding]:
    """Points that the highest water of the stay drowns."""
    highest_m = float(np.nanmax(stay.water.height_m))
    points = {leg.point.name: leg.point for leg in shore_legs(stay.boat, stay.bay, lie)}
    return [
        Finding(
            name, f"{highest_m - point.height_m:.1f} m under water at {highest_m:.1f} m of tide"
        )
        for name, point in points.items()
        if point.height_m < highest_m
    ]


def check(stay: Stay) -> tuple[Finding, ...]:
    """Findings about a stay whose parts can be put together.

    Raises
    ------
    BadInput
        For names nobody knows, lengths not aboard, an anchor on land, a point far
        inland, no chain out, a second anchor not aboard, one sling at two points.
    """
    lie = lie_of(stay)
    if not lie.chain_out_m > 0.0:
        raise BadInput(
            "Lie, chain_out_m", f"{lie.chain_out_m:g} m", "more than 0 wanted", "Correct it."
        )
    if stay.current is not None and stay.current.speed_mps > _MOST_CURRENT_MPS:
        raise BadInput(
            "[current] speed",
            f"{stay.current.speed_mps:g} m/s",
            f"at most {_MOST_CURRENT_MPS:g} m/s can be reckoned with",
            "Correct it.",
        )
    legs = shore_legs(stay.boat, stay.bay, lie)
    _lengths(stay, lie)
    _second_anchor(stay, lie)
    _slings(stay, lie)
    for leg in legs:
        _point_inland(stay, leg.point)
    said = [*_anchor_place(stay, lie), *_zones(stay, lie), *_reach(stay, lie), *_proof(stay)]
    if not legs:
        said.append(Finding("Lie", "no lines ashore: she swings to her anchor alone"))
    return tuple(said)
