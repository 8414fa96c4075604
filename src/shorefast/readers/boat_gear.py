"""The gear in a boat file: rode, snubber, shore lines, slings."""

from __future__ import annotations

from shorefast.basis import Basis, Finding, Input
from shorefast.boat import FIBRES, LongLine, RodePiece, Sling, Snubber
from shorefast.errors import BadInput
from shorefast.readers.toml_file import TomlTable
from shorefast.readers.toml_words import PartNames, key_of, maybe_size, size, word

_FIBRE_WORDS = {
    "pp": "polypropylene",
    "polyprop": "polypropylene",
    "polypropene": "polypropylene",
    "floating polypropylene": "polypropylene",
    "pa": "nylon",
    "polyamide": "nylon",
    "pes": "polyester",
    "pet": "polyester",
    "uhmwpe": "hmpe",
    "uhmpe": "hmpe",
}
CHAIN_SIZE_M = (4e-3, 40e-3)
ROPE_SIZE_M = (3e-3, 60e-3)
GRADES = (20, 120)
ENDS = ("splice", "knot")
_END_WORDS = {"spliced": "splice", "eye splice": "splice", "knotted": "knot", "bowline": "knot"}
# links are retired long before half of the wire is gone; new wire may be a tenth over its size
WORN_SPAN = (0.5, 1.1)


def read_rode(root: TomlTable) -> tuple[RodePiece, ...]:
    """All pieces of ``[[rode]]``, from the anchor inboard.

    Raises
    ------
    BadInput
        If there is none, or a piece cannot be.
    """
    pieces = tuple(_piece(table) for table in root.tables("rode"))
    if not pieces:
        raise BadInput(
            root.name,
            "no [[rode]]",
            "chain or rope to the anchor is needed",
            "Add [[rode]] with kind, grade, diameter_mm and length_m, from the anchor inboard.",
        )
    return pieces


def read_snubber(root: TomlTable) -> Snubber | None:
    """The tail on the chain; None if she has none."""
    table = root.table("snubber")
    if table is None:
        return None
    return Snubber(_fibre(table), size(table, "diameter", "length", *ROPE_SIZE_M), _length(table))


def read_lines(root: TomlTable) -> tuple[tuple[LongLine, ...], Basis]:
    """All ``[[line]]`` for the shore, and whether there is none."""
    names = PartNames()
    lines = tuple(
        LongLine(
            names.take(table),
            _fibre(table),
            size(table, "diameter", "length", *ROPE_SIZE_M),
            _length(table),
            _age(table),
            word(table, "ends", ENDS, _END_WORDS) if table.has("ends") else None,
        )
        for table in root.tables("line")
    )
    inputs = tuple(Input(line.name, _told(line), root.name) for line in lines)
    # an age or ends nobody tells is said with the limit of each line that is led
    none = Finding(root.name, "no [[line]]; she has nothing to lead ashore")
    return lines, Basis(inputs=inputs, findings=() if lines else (none,))


def read_slings(root: TomlTable) -> tuple[Sling, ...]:
    """All ``[[sling]]``."""
    names = PartNames()
    return tuple(
        Sling(
            names.take(table),
            table.text("kind") or "sling",
            maybe_size(table, "length", "length", 0.1, 100.0),
            maybe_size(table, "strength", "force", 100.0, 1e6),
        )
        for table in root.tables("sling")
    )


def _piece(table: TomlTable) -> RodePiece:
    kind = word(table, "kind", ("chain", "rope"), {})
    span = CHAIN_SIZE_M if kind == "chain" else ROPE_SIZE_M
    diameter_m = size(table, "diameter", "length", *span)
    length_m = _length(table)
    if kind == "chain":
        grade, worn_m = _grade(table), _worn(table, diameter_m)
        return RodePiece(kind, diameter_m, length_m, grade=grade, worn_m=worn_m)
    return RodePiece(kind, diameter_m, length_m, fibre=_fibre(table), age_years=_age(table))


def _worn(table: TomlTable, diameter_m: float) -> float | None:
    """The thinnest wire measured; None where nobody measured.

    Raises
    ------
    BadInput
        If it is thicker than the chain, or so thin that it may be what is gone.
    """
    worn_m = table.quantity("worn", "length", above=0.0)
    least_m, most_m = (share * diameter_m for share in WORN_SPAN)
    if worn_m is not None and not least_m <= worn_m <= most_m:
        raise BadInput(
            table.where(key_of(table, "worn", "length")),
            f"{worn_m * 1e3:g} mm",
            f"the chain is {diameter_m * 1e3:g} mm; from {least_m * 1e3:g} to"
            f" {most_m * 1e3:g} mm of wire wanted",
            "Give the wire that is left at the thinnest link, not what is gone.",
        )
    return worn_m


def _age(table: TomlTable) -> float | None:
    return table.quantity("age", "age", least=0.0, most=100.0)


def _grade(table: TomlTable) -> int:
    """30, 40, 70, bare or as 'G40' or 'grade 40'."""
    table.taken.add("grade")
    if not table.has("grade"):
        raise BadInput(
            table.where(),
            "grade is missing",
            "a number wanted",
            "Add grade = ... from the mark on the links; 30 is the weakest if nobody knows.",
        )
    given = table.values["grade"]
    plain = str(given).lower().strip().removeprefix("grade").strip().removeprefix("g").strip()
    plain = plain.removesuffix(".0")
    if not plain.isdigit() or not GRADES[0] <= int(plain) <= GRADES[1]:
        raise BadInput(
            table.where("grade"), f"{given!r}", "30, 40 or 70 is usual", "Correct the grade."
        )
    return int(plain)


def _fibre(table: TomlTable) -> str:
    return word(table, "fibre", FIBRES, _FIBRE_WORDS)


def _length(table: TomlTable) -> float:
    return size(table, "length", "length", 0.1, 2000.0)


def _told(line: LongLine) -> str:
    years = "year" if line.age_years == 1.0 else "years"
    age = "" if line.age_years is None else f", {line.age_years:g} {years} old"
    return f"{line.length_m:g} m of {line.diameter_m * 1e3:g} mm {line.fibre}{age}"
