"""Chain, rope and tail of the rode: what is out, what wear left of it, what it carries."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Basis
from shorefast.boat import (
    LongLine,
    RodePiece,
    Strength,
    Yacht,
    chain,
    line_in_use,
    snubber_properties,
    worn_chain,
)
from shorefast.stay.answer import PartUse
from shorefast.stay.limits import Limit, part_use, source_words
from shorefast.stay.lines_out import tail_set

Floats = NDArray[np.float64]


class Links(NamedTuple):
    """Chain as it is: working and breaking load [N], who says so, what it rests on."""

    working_n: float
    breaking_n: float
    source: str
    basis: Basis


def pieces_out(boat: Yacht, chain_out_m: float) -> tuple[RodePiece, ...]:
    """The pieces of the rode of which some is out, from the anchor inboard."""
    out, left_m = [], chain_out_m
    for piece in boat.rode:
        if left_m > 0.0:
            out.append(piece)
        left_m -= piece.length_m
    return tuple(out)


def links_of(piece: RodePiece) -> Links:
    """A piece of chain, by its thinnest wire where somebody measured it.

    Source
    ------
    iso-4565; wear-practice (common practice).
    """
    grade = piece.grade or 30
    new = chain(piece.diameter_m, grade)
    source = f"working load by {source_words(new.source)}"
    if piece.worn_m is None:
        return Links(new.working_n, new.breaking_n, source, new.basis)
    worn = worn_chain(piece.diameter_m, grade, piece.worn_m)
    if worn.lost > 0.0:
        source = f"{source}, {worn.share:.0%} of it left at {piece.worn_m * 1e3:g} mm of wire"
    if worn.retire:
        source = f"{source}; past the limit where chain is renewed"
    return Links(worn.working_n, worn.breaking_n, source, worn.basis)


def rope_piece(piece: RodePiece) -> Strength:
    """A piece of rope in the rode, spliced at its ends."""
    return line_in_use(
        LongLine(
            "rode rope",
            piece.fibre or "nylon",
            piece.diameter_m,
            piece.length_m,
            piece.age_years,
            "splice",
        )
    )


def half_words(strength: Strength, edge_m: float | None = None) -> str:
    """What a line's limit is made of, in words; the edge by its radius. [m]"""
    edge = "" if edge_m is None else f"an edge of {edge_m * 1e3:.2g} mm radius"
    lost = [edge if f.name == "edge" else f.name for f in strength.factors if f.value != 1.0]
    less = f" less {' and '.join(filter(None, (', '.join(lost[:-1]), *lost[-1:])))}" if lost else ""
    return f"half of what parts it (common practice): {source_words(strength.source)}{less}"


def weakest_chain(boat: Yacht, chain_out_m: float) -> Links | None:
    """The chain out with the least working load; None where none is out."""
    links = [links_of(one) for one in pieces_out(boat, chain_out_m) if one.kind == "chain"]
    return min(links, key=lambda one: one.working_n, default=None)


def weakest_rope(boat: Yacht, chain_out_m: float) -> Strength | None:
    """The rope out with the least strength; None where none is out."""
    ropes = [rope_piece(one) for one in pieces_out(boat, chain_out_m) if one.kind == "rope"]
    return min(ropes, key=lambda one: one.usable_n, default=None)


def rode_breaks_n(boat: Yacht, chain_out_m: float) -> float:
    """What parts the rode at its weakest piece out. [N]"""
    links, laid = weakest_chain(boat, chain_out_m), weakest_rope(boat, chain_out_m)
    return min(
        np.inf if links is None else links.breaking_n, np.inf if laid is None else laid.usable_n
    )


def rode_parts(boat: Yacht, chain_out_m: float, tension_n: Floats) -> list[PartUse]:
    """Use of chain, rope and tail under the pull at the roller. [N]"""
    parts = []
    links, laid = weakest_chain(boat, chain_out_m), weakest_rope(boat, chain_out_m)
    if links is not None:
        carries = Limit(links.working_n, links.source, links.breaking_n)
        parts.append(part_use("chain", "chain", carries, tension_n))
    if laid is not None:
        carries = Limit(laid.limit_n, half_words(laid), laid.usable_n)
        parts.append(part_use("rode rope", "line", carries, tension_n))
    if boat.snubber is not None and tail_set(boat, chain_out_m) is not None:
        tail = snubber_properties(boat.snubber).strength
        carries = Limit(tail.limit_n, half_words(tail), tail.usable_n)
        parts.append(part_use("snubber", "snubber", carries, tension_n))
    return parts
