"""Read a boat file: the yacht, her gear, and what of it had to be estimated."""

from __future__ import annotations

from pathlib import Path

from shorefast.basis import Basis, Finding, Input
from shorefast.boat import (
    ANCHOR_CLASSES,
    GIVEN_DEVIATION,
    Anchor,
    Hull,
    Windage,
    Yacht,
    estimate_windage,
    windage_basis,
)
from shorefast.errors import BadInput
from shorefast.readers.boat_drive import (
    read_call_sign,
    read_engine,
    read_mmsi,
    read_rudder,
    read_thruster,
    read_windlass,
)
from shorefast.readers.boat_gear import read_lines, read_rode, read_slings, read_snubber
from shorefast.readers.boat_places import (
    read_antenna,
    read_cleats,
    read_sounder,
    read_spot,
    read_tender,
    read_underwater,
)
from shorefast.readers.text_file import read_text
from shorefast.readers.toml_file import TomlTable, parse_toml
from shorefast.readers.toml_words import key_of, maybe_size, size, word

WATERLINE_SHARE = 0.91
_ANCHOR_WORDS = {"plow": "plough", "pivoting fluke": "fluke", "fisherman's": "fisherman"}


def read_boat(path: Path) -> Yacht:
    """Read ``boat.toml``.

    Lenient about form: any unit of the right kind, words in any case, a mark of
    byte order. Never about meaning: an unknown key, a missing unit or a number that
    cannot be is refused. What may be missing is estimated, and the basis says so.

    Parameters
    ----------
    path : Path

    Returns
    -------
    yacht : Yacht
        SI, x forward of midships, y to starboard, z up from the water.

    Raises
    ------
    Unreadable
        If it is no text or no TOML.
    BadInput
        If there is no such file, or for the first value that cannot be, with its line.
    """
    return boat_from_text(read_text(path, "a boat file"), path.name)


def boat_from_text(text: str, name: str) -> Yacht:
    """The same from the contents of a file; ``name`` is said in messages."""
    root = parse_toml(text, name)
    boat_name = root.need_text("name")
    hull, hull_basis = _hull(root)
    windage, windage_said = _windage(root, hull)
    cleats, cleats_basis = read_cleats(root, hull)
    underwater, underwater_basis = read_underwater(root, hull)
    engine, engine_basis = read_engine(root)
    lines, lines_basis = read_lines(root)
    yacht = Yacht(
        name=boat_name,
        hull=hull,
        windage=windage,
        roller=read_spot(root.need_table("roller"), hull),
        cleats=cleats,
        underwater=underwater,
        antenna=read_antenna(root, hull),
        sounder=read_sounder(root, hull),
        engine=engine,
        windlass=read_windlass(root),
        anchor=_anchor(root.need_table("anchor")),
        rode=read_rode(root),
        snubber=read_snubber(root),
        lines=lines,
        slings=read_slings(root),
        basis=hull_basis
        | windage_said
        | cleats_basis
        | underwater_basis
        | engine_basis
        | lines_basis
        | _unsaid(root),
        tender=read_tender(root, hull),
        second_anchor=_second_anchor(root),
        thruster=read_thruster(root, hull),
        rudder=read_rudder(root, hull),
        call_sign=read_call_sign(root),
        mmsi=read_mmsi(root),
    )
    root.refuse_unknown()
    return yacht


def _hull(root: TomlTable) -> tuple[Hull, Basis]:
    table = root.need_table("hull")
    length_m = size(table, "length", "length", 2.0, 60.0)
    beam_m = size(table, "beam", "length", 0.5, 20.0)
    draught_m = size(table, "draught", "length", 0.1, 8.0)
    displacement_kg = size(table, "displacement", "mass", 100.0, 1e6)
    waterline_m = maybe_size(table, "waterline", "length", 1.0, 60.0)
    if beam_m >= length_m:
        raise BadInput(
            table.where(key_of(table, "beam", "length")),
            f"{beam_m:g} m beam",
            f"she is {length_m:g} m long",
            "Exchange the two if they are swapped.",
        )
    findings: tuple[Finding, ...] = ()
    if waterline_m is None:
        waterline_m = WATERLINE_SHARE * length_m
        said = (
            f"waterline_m is missing; taken as {WATERLINE_SHARE} of the length, {waterline_m:.1f} m"
        )
        findings = (Finding(table.where(), said),)
    if waterline_m > length_m:
        raise BadInput(
            table.where(key_of(table, "waterline", "length")),
            f"{waterline_m:g} m waterline",
            f"she is {length_m:g} m long over all",
            "Correct the shorter or the longer.",
        )
    told = f"{length_m:g} x {beam_m:g} m, draught {draught_m:g} m, {displacement_kg:g} kg"
    basis = Basis(inputs=(Input("hull", told, root.name),), findings=findings)
    return Hull(length_m, beam_m, draught_m, displacement_kg, waterline_m), basis


def _windage(root: TomlTable, hull: Hull) -> tuple[Windage, Basis]:
    """As given; what is missing by estimate, with the estimate's doubt where it is an area."""
    guess = estimate_windage(hull)
    table = root.table("windage")
    if table is None:
        said = (
            f"[windage] is missing; estimated as {guess.frontal_m2:.0f} m2 from ahead and"
            f" {guess.lateral_m2:.0f} m2 from abeam, each give or take a quarter"
        )
        return guess, windage_basis() | Basis(findings=(Finding(root.name, said),))
    frontal_m2 = maybe_size(table, "frontal", "area", 0.1, 1e3)
    lateral_m2 = maybe_size(table, "lateral", "area", 0.1, 1e3)
    height_m = maybe_size(table, "height", "length", 0.1, 30.0)
    lever_m = table.quantity("lever", "length", least=-hull.length_m / 2, most=hull.length_m / 2)
    given = (frontal_m2, lateral_m2, height_m, lever_m)
    windage = Windage(
        guess.frontal_m2 if frontal_m2 is None else frontal_m2,
        guess.lateral_m2 if lateral_m2 is None else lateral_m2,
        guess.height_m if height_m is None else height_m,
        guess.lever_m if lever_m is None else lever_m,
        guess.deviation if frontal_m2 is None or lateral_m2 is None else GIVEN_DEVIATION,
    )
    if windage.frontal_m2 > windage.lateral_m2:
        raise BadInput(
            table.where(),
            f"{windage.frontal_m2:g} m2 from ahead",
            f"only {windage.lateral_m2:g} m2 from abeam",
            "Exchange frontal_m2 and lateral_m2 if they are swapped.",
        )
    return windage, _windage_basis(root, table, windage, given)


def _windage_basis(
    root: TomlTable, table: TomlTable, windage: Windage, given: tuple[float | None, ...]
) -> Basis:
    told = (
        f"{windage.frontal_m2:.3g} m2 from ahead, {windage.lateral_m2:.3g} m2 from abeam"
        f" at {windage.height_m:.2g} m, give or take {windage.deviation:.0%}"
    )
    basis = Basis(inputs=(Input("windage", told, root.name),))
    names = ("frontal_m2", "lateral_m2", "height_m", "lever_m")
    missing = [name for name, value in zip(names, given, strict=True) if value is None]
    if missing:
        said = f"{', '.join(missing)} missing; estimated from length and beam"
        basis |= windage_basis() | Basis(findings=(Finding(table.where(), said),))
    return basis


def _anchor(table: TomlTable) -> Anchor:
    kind = word(table, "class", ANCHOR_CLASSES, _ANCHOR_WORDS)
    return Anchor(kind, size(table, "mass", "mass", 1.0, 2e3))


def _second_anchor(root: TomlTable) -> Anchor | None:
    table = root.table("second_anchor")
    return None if table is None else _anchor(table)


def _unsaid(root: TomlTable) -> Basis:
    """A finding for every part that may be missing and is."""
    said = {
        "antenna": "where her position is taken on board is unknown; midships is taken",
        "sounder": "where the sounder looks is unknown",
        "windlass": "how fast chain runs and comes in is unknown",
        "snubber": "the chain is reckoned without one",
    }
    return Basis(
        findings=tuple(
            Finding(root.name, f"[{key}] is missing; {text}")
            for key, text in said.items()
            if not root.has(key)
        )
    )
