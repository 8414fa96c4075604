"""What the gear of a lie rests on: told once, whatever it carries."""

from __future__ import annotations

from collections.abc import Iterable

from shorefast.basis import Assumption, Basis, Finding
from shorefast.boat import (
    Yacht,
    line_in_use,
    shackle_by_size,
    snubber_properties,
    strong_points_wanted,
)
from shorefast.stay.limits import kilograms_of
from shorefast.stay.plan import Lie, Stay
from shorefast.stay.rigging import lie_of, shore_legs
from shorefast.stay.rode_parts import links_of, pieces_out, rope_piece

# a strong point within a sixth of her length of midships is neither forward nor aft
MIDSHIPS_SHARE = 1.0 / 6.0


def gear_basis(stay: Stay) -> Basis:
    """Wear, ends, age, sun, edges, shackles and strong points of all that is in the lie."""
    boat, lie = stay.boat, lie_of(stay)
    basis = _rode_basis(boat, lie) | _shackles(boat, lie) | _strong_points(boat)
    lines = {
        (leg.line.name, leg.plan.edge_radius_m): line_in_use(leg.line, leg.plan.edge_radius_m).basis
        for leg in shore_legs(boat, stay.bay, lie)
    }
    for one in lines.values():
        basis = basis | one
    basis = basis | _edges(lie) | _slings(boat, lie) | Basis(sources=("holdfast-thumb",))
    return Basis(basis.inputs, basis.assumptions, basis.sources, _once(basis.findings))


def _rode_basis(boat: Yacht, lie: Lie) -> Basis:
    basis = Basis()
    for piece in pieces_out(boat, lie.chain_out_m):
        basis = basis | (links_of(piece) if piece.kind == "chain" else rope_piece(piece)).basis
    if boat.snubber is not None:
        basis = basis | snubber_properties(boat.snubber).strength.basis
    return basis


def _shackles(boat: Yacht, lie: Lie) -> Basis:
    """No file tells a shackle: what one of the chain's size is marked with is told."""
    pieces = pieces_out(boat, lie.chain_out_m)
    chains = [piece.diameter_m for piece in pieces if piece.kind == "chain"]
    marked = shackle_by_size(min(chains)) if chains else None
    if marked is None:
        return Basis()
    joints = "at the anchor" if len(pieces) == 1 else "at the anchor and between the pieces"
    said = (
        f"nobody says what those {joints} carry; they carry what the chain does, and a tested one"
        f" no thicker than it is marked {kilograms_of(marked.working_n)}"
        " (EN 13889, from memory)"
    )
    return Basis(sources=(marked.source,), findings=(Finding("Shackles", said),))


def _strong_points(boat: Yacht) -> Basis:
    """Fewer strong points than the standard wants of such a hull are told.

    Source
    ------
    iso-15084 (numbers read).
    """
    wanted = strong_points_wanted(boat.hull.length_m)
    middle_m = MIDSHIPS_SHARE * boat.hull.length_m
    spots = [cleat.spot for cleat in boat.cleats]
    sides = [spot.y_m for spot in spots if abs(spot.x_m) <= middle_m]
    counted = (
        ("forward", sum(spot.x_m > middle_m for spot in spots), wanted.forward),
        ("aft", sum(spot.x_m < -middle_m for spot in spots), wanted.aft),
        ("to port amidships", sum(y_m < 0.0 for y_m in sides), wanted.each_side),
        ("to starboard amidships", sum(y_m > 0.0 for y_m in sides), wanted.each_side),
    )
    findings = tuple(
        Finding(
            "Cleats", f"{there} {where}; ISO 15084 wants {least} of a hull as long, or one may be"
            " missing from the boat file",
        )
        for where, there, least in counted
        if there < least
    )  # fmt: skip
    return Basis(sources=("iso-15084",), findings=findings)


def _edges(lie: Lie) -> Basis:
    """Where no edge is told none is reckoned with; that is an assumption."""
    if all(plan.edge_radius_m is not None for plan in lie.lines):
        return Basis()
    return Basis(
        assumptions=(
            Assumption(
                "Lines bear on no edge but those the stay file tells",
                "Over an edge as thick as itself a line keeps half of its strength, and it saws",
            ),
        )
    )


def _slings(boat: Yacht, lie: Lie) -> Basis:
    used = {plan.sling for plan in lie.lines}
    if not any(sling.name in used and sling.strength_n is not None for sling in boat.slings):
        return Basis()
    return Basis(
        assumptions=(
            Assumption(
                "Slings lie choked round their points",
                "Straight one carries a quarter more, as a basket more than twice as much",
            ),
        ),
        sources=("en-1492",),
    )


def _once(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The same said of several things, said once of all of them."""
    where: dict[str, list[str]] = {}
    for one in findings:
        names = where.setdefault(one.said, [])
        if one.where not in names:
            names.append(one.where)
    return tuple(Finding(", ".join(names), said) for said, names in where.items())
