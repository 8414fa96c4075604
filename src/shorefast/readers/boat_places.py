"""Places on board in a boat file: cleats, what can touch, antenna, sounder, tender."""

from __future__ import annotations

from shorefast.basis import Basis, Finding
from shorefast.boat import Cleat, Hull, Sounder, Spot, Tender, Underwater
from shorefast.errors import BadInput
from shorefast.readers.toml_file import TomlTable
from shorefast.readers.toml_words import PartNames, key_of, maybe_size, size

OFF_THE_ENDS_M = 3.0
OFF_THE_SIDES_M = 0.5
TENDER_OFF_M = 20.0


def _coordinate(table: TomlTable, axis: str, half_m: float, way: str) -> float:
    """One coordinate on board, refused where it lies off the boat."""
    value_m = table.need(axis, "length")
    if abs(value_m) > half_m:
        raise BadInput(
            table.where(key_of(table, axis, "length")),
            f"{value_m:g} m",
            f"at most {half_m:g} m either way is on board",
            way,
        )
    return value_m


def _plan(table: TomlTable, hull: Hull) -> tuple[float, float]:
    x_m = _coordinate(
        table,
        "x",
        round(hull.length_m / 2 + OFF_THE_ENDS_M, 2),
        "Count x from midships, forward positive.",
    )
    y_m = _coordinate(
        table,
        "y",
        round(hull.beam_m / 2 + OFF_THE_SIDES_M, 2),
        "Count y from the middle line, starboard positive.",
    )
    return x_m, y_m


def read_spot(table: TomlTable, hull: Hull) -> Spot:
    """A place on board with its height.

    Raises
    ------
    BadInput
        If a coordinate is missing or lies off the boat.
    """
    x_m, y_m = _plan(table, hull)
    return Spot(x_m, y_m, table.need("z", "length", least=-1.0, most=20.0))


def read_cleats(root: TomlTable, hull: Hull) -> tuple[tuple[Cleat, ...], Basis]:
    """All ``[[cleat]]``, and which of them nobody says the strength of.

    Raises
    ------
    BadInput
        If there is none, or one cannot be.
    """
    names = PartNames()
    cleats = tuple(
        Cleat(
            names.take(table),
            read_spot(table, hull),
            maybe_size(table, "strength", "force", 100.0, 1e6),
        )
        for table in root.tables("cleat")
    )
    if not cleats:
        raise BadInput(
            root.name,
            "no [[cleat]]",
            "at least one is needed to lead a line from",
            "Add [[cleat]] with name, x_m, y_m and z_m.",
        )
    unknown = [cleat.name for cleat in cleats if cleat.strength_n is None]
    said = (
        f"nobody says what {', '.join(unknown)} carry; the standard's load for such a hull is taken"
    )
    findings = (Finding(root.name, said),) if unknown else ()
    return cleats, Basis(findings=findings)


def read_underwater(root: TomlTable, hull: Hull) -> tuple[tuple[Underwater, ...], Basis]:
    """All ``[[underwater]]``, and what is odd about them.

    Raises
    ------
    BadInput
        If there is none, or one cannot be.
    """
    names = PartNames()
    parts = tuple(_touching(names, table, hull) for table in root.tables("underwater"))
    if not parts:
        raise BadInput(
            root.name,
            "no [[underwater]]",
            "at least the keel and the rudder are needed to tell the room under her",
            "Add [[underwater]] with name, x_m, y_m and draught_m.",
        )
    findings = []
    if not any("rudder" in part.name.lower() for part in parts):
        said = "no rudder is named; the water under it is not looked at"
        findings.append(Finding(root.name, said))
    deepest = max(parts, key=lambda part: part.draught_m)
    if deepest.draught_m > hull.draught_m:
        said = f"{deepest.name} reaches deeper than the hull's draught_m; the deeper counts"
        findings.append(Finding(root.name, said))
    return parts, Basis(findings=tuple(findings))


def _touching(names: PartNames, table: TomlTable, hull: Hull) -> Underwater:
    return Underwater(
        names.take(table),
        *_plan(table, hull),
        size(table, "draught", "length", 0.05, 8.0),
        length_m=_within(table, "length", hull.length_m, "long"),
        breadth_m=_within(table, "breadth", hull.beam_m, "wide"),
    )


def _within(table: TomlTable, name: str, most_m: float, way: str) -> float:
    """A size of a part below her, 0 where nobody says; refused where it passes hers."""
    value_m = table.quantity(name, "length", least=0.0) or 0.0
    if value_m > most_m:
        raise BadInput(
            table.where(key_of(table, name, "length")),
            f"{value_m:g} m",
            f"she is {most_m:g} m {way}",
            "Correct it, or leave it out if nobody knows.",
        )
    return value_m


def read_antenna(root: TomlTable, hull: Hull) -> Spot | None:
    """Where her position is taken on board; None where nobody says."""
    table = root.table("antenna")
    if table is None:
        return None
    x_m, y_m = _plan(table, hull)
    return Spot(x_m, y_m, table.quantity("z", "length", least=-1.0, most=60.0) or 0.0)


def read_sounder(root: TomlTable, hull: Hull) -> Sounder | None:
    """Where the sounder looks; None where nobody says."""
    table = root.table("sounder")
    if table is None:
        return None
    x_m, y_m = _plan(table, hull)
    return Sounder(x_m, y_m, table.need("draught", "length", least=-1.0, most=8.0))


def read_tender(root: TomlTable, hull: Hull) -> Tender | None:
    """The tender as she lies beside or behind the boat, or on deck; None where none is told.

    Raises
    ------
    BadInput
        If she cannot be, or lies farther than 20 m off the boat.
    """
    table = root.table("tender")
    if table is None:
        return None
    length_m, beam_m = (
        size(table, "length", "length", 1.0, 12.0),
        size(table, "beam", "length", 0.3, 5.0),
    )
    if beam_m >= length_m:
        raise BadInput(
            table.where(key_of(table, "beam", "length")),
            f"{beam_m:g} m beam",
            f"the tender is {length_m:g} m long",
            "Exchange the two if they are swapped.",
        )
    draught_m = size(table, "draught", "length", 0.02, 2.0)
    if table.flag("on_deck", False):
        return Tender(length_m, beam_m, draught_m, *_on_deck(table), on_deck=True)
    x_m, y_m = _beside(table, "x", hull.length_m / 2), _beside(table, "y", hull.beam_m / 2)
    return Tender(length_m, beam_m, draught_m, x_m, y_m)


def _on_deck(table: TomlTable) -> tuple[float, float]:
    """No place in the water; one that is told beside on_deck is refused."""
    for axis in ("x", "y"):
        if table.quantity(axis, "length") is not None:
            raise BadInput(
                table.where(key_of(table, axis, "length")),
                "a place in the water and on_deck",
                "one of them wanted",
                "Take the place out, or on_deck.",
            )
    return 0.0, 0.0


def _beside(table: TomlTable, axis: str, half_m: float) -> float:
    """One coordinate of the tender's middle, refused where she is far from the boat."""
    value_m, most_m = table.need(axis, "length"), round(half_m + TENDER_OFF_M, 2)
    if abs(value_m) > most_m:
        raise BadInput(
            table.where(key_of(table, axis, "length")),
            f"{value_m:g} m",
            f"a tender lies within {most_m:g} m either way of midships",
            "Give where her middle lies on board, x forward and y to starboard.",
        )
    return value_m
