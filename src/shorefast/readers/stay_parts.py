"""The parts of a stay file: the lie, its lines, waves, wash, neighbours, current, proof."""

from __future__ import annotations

import math
from pathlib import Path

from shorefast.basis import Finding
from shorefast.bay import Frame
from shorefast.errors import BadInput
from shorefast.quantities import STANDARD_GRAVITY_MPS2, wrap_rad
from shorefast.readers.bay_parts import place_of
from shorefast.readers.depth_file import check_there
from shorefast.readers.neighbours_file import NEAR_M, read_neighbour_file
from shorefast.readers.toml_file import TomlTable
from shorefast.readers.toml_words import PartNames, key_of, size
from shorefast.stay import (
    Current,
    Lie,
    LieLine,
    Neighbour,
    ProofGiven,
    Wash,
    Waves,
    scope_by_rule_m,
)

# a wave breaks before its height is a seventh of its length
STEEPEST = 0.142
_PERIODS_S = (0.5, 30.0)


def read_lie(table: TomlTable, frame: Frame) -> Lie | None:
    """The ``[lie]`` with its lines; None where it is to be chosen.

    Raises
    ------
    BadInput
        If a key is missing or has a value that cannot be.
    """
    lie = table.table("lie")
    if lie is None:
        return None
    east_m, north_m = place_of(lie.need_table("let_go"), frame)
    return Lie(
        let_go_east_m=east_m,
        let_go_north_m=north_m,
        chain_out_m=lie.need("chain_out", "length", above=0.0),
        heading_rad=wrap_rad(lie.need("heading", "angle")),
        lines=tuple(_line(line) for line in lie.tables("line")),
        second_anchor_ahead_m=_ahead(lie),
        let_go_error_m=lie.quantity("let_go_error", "length", least=0.0, most=50.0),
    )


def _ahead(lie: TomlTable) -> float | None:
    """Chain between the two anchors; None where she lies to one."""
    lie.quantity("second_anchor_ahead", "length", above=0.0)
    return lie.quantity("second_anchor_ahead", "length", least=0.5, most=100.0)


def _line(line: TomlTable) -> LieLine:
    radius_m, turn_rad = _edge(line)
    return LieLine(
        line=line.need_text("line"),
        cleat=line.need_text("cleat"),
        point=line.need_text("point"),
        length_m=line.need("length", "length", above=0.0),
        doubled=line.flag("doubled", False),
        sling=line.text("sling"),
        edge_radius_m=radius_m,
        edge_turn_rad=turn_rad,
    )


def _edge(line: TomlTable) -> tuple[float | None, float | None]:
    """Radius of the edge the line bears on and how far it turns there; both or neither."""
    line.quantity("edge_radius", "length", above=0.0)
    radius_m = line.quantity("edge_radius", "length", least=0.5e-3, most=5.0)
    turn_rad = line.quantity("edge_turn", "angle", above=0.0)
    if (radius_m is None) != (turn_rad is None):
        given, missing = ("edge_radius_mm", "edge_turn_deg")[:: 1 if turn_rad is None else -1]
        raise BadInput(
            line.where(given if line.has(given) else ""),
            f"{given} without {missing}",
            "an edge has both",
            "Give the radius of the edge and by how much the line turns over it.",
        )
    if turn_rad is not None and turn_rad > math.pi:
        raise BadInput(
            line.where(key_of(line, "edge_turn", "angle")),
            f"{math.degrees(turn_rad):g} degrees",
            "at most 180 degrees wanted",
            "Give by how much the line turns over the edge.",
        )
    return radius_m, turn_rad


def read_waves(table: TomlTable) -> Waves | None:
    """The waves at the berth; None where they are left out.

    Raises
    ------
    BadInput
        If a value cannot be, or the waves are steeper than waves stand.
    """
    waves = table.table("waves")
    if waves is None:
        return None
    height_m, period_s = _wave(waves)
    return Waves(height_m, period_s, wrap_rad(waves.need("from", "angle")))


def read_wash(table: TomlTable) -> Wash | None:
    """The wash of a passing vessel; None where the default allowance is to stand.

    Raises
    ------
    BadInput
        If a value cannot be, or the wash is steeper than waves stand.
    """
    wash = table.table("wash")
    return None if wash is None else Wash(*_wave(wash))


def _wave(table: TomlTable) -> tuple[float, float]:
    """Height and period of waves, refused where they would break.

    Source
    ------
    miche-1944 (from memory), in deep water.
    """
    height_m = table.need("height", "length", least=0.0, most=10.0)
    period_s = size(table, "period", "time", *_PERIODS_S)
    most_m = STEEPEST * STANDARD_GRAVITY_MPS2 * period_s**2 / (2.0 * math.pi)
    if height_m > most_m:
        raise BadInput(
            table.where(key_of(table, "height", "length")),
            f"{height_m:g} m high at {period_s:g} s",
            f"such waves break at {most_m:.2g} m",
            "Exchange height and period if they are swapped, or correct one.",
        )
    return height_m, period_s


def read_neighbours(
    table: TomlTable, frame: Frame, folder: Path
) -> tuple[tuple[Neighbour, ...], tuple[Finding, ...]]:
    """All ``[[neighbour]]``: boats lying near, and what was taken of those in files.

    Raises
    ------
    BadInput
        If one cannot be, or two have the same name.
    """
    names = PartNames()
    boats: list[Neighbour] = []
    findings: list[Finding] = []
    for one in table.tables("neighbour"):
        file = one.text("file")
        if file is None:
            boats.append(_neighbour(names, one, frame))
            continue
        check_there(folder / file, f"the neighbours of {one.where('file')}")
        within_m = one.quantity("within", "length", above=0.0)
        more, said = read_neighbour_file(folder / file, frame, within_m or NEAR_M)
        boats += [_once(names, one, boat) for boat in more]
        findings += said
    return tuple(boats), tuple(findings)


def _once(names: PartNames, table: TomlTable, boat: Neighbour) -> Neighbour:
    if boat.name in names.given:
        raise BadInput(
            table.where("file"), f"'{boat.name}' a second time", "", "Give each its own name."
        )
    names.given.add(boat.name)
    return boat


def _neighbour(names: PartNames, table: TomlTable, frame: Frame) -> Neighbour:
    name = names.take(table)
    east_m, north_m = place_of(table.need_table("place"), frame)
    length_m, beam_m = (
        size(table, "length", "length", 1.0, 400.0),
        size(table, "beam", "length", 0.3, 80.0),
    )
    if beam_m >= length_m:
        raise BadInput(
            table.where(key_of(table, "beam", "length")),
            f"{beam_m:g} m beam",
            f"she is {length_m:g} m long",
            "Exchange the two if they are swapped.",
        )
    heading_rad = wrap_rad(table.need("heading", "angle"))
    swing_m = table.quantity("swing", "length", least=0.0, most=500.0) or 0.0
    scope_m = table.quantity("chain_out", "length", least=0.5, most=500.0)
    toward_rad = table.quantity("chain_toward", "angle")
    if toward_rad is not None:
        scope_m, toward_rad = scope_m or scope_by_rule_m(length_m), wrap_rad(toward_rad)
    return Neighbour(
        name, east_m, north_m, length_m, beam_m, heading_rad, swing_m, scope_m, toward_rad
    )


def read_current(table: TomlTable) -> Current | None:
    """The steady current; None where none is told."""
    current = table.table("current")
    if current is None:
        return None
    speed_mps = current.need("speed", "speed", least=0.0, most=10.0)
    return Current(speed_mps, wrap_rad(current.need("toward", "angle")))


def read_proof(table: TomlTable) -> ProofGiven | None:
    """What the engine proved, or will; None where nothing.

    Raises
    ------
    BadInput
        If neither pull nor revs is given, or both.
    """
    proof = table.table("proof")
    if proof is None:
        return None
    pull_n = proof.quantity("pull", "force", above=0.0)
    revs_rpm = proof.quantity("revs", "turning", above=0.0)
    if (pull_n is None) == (revs_rpm is None):
        raise BadInput(
            proof.where(),
            "neither pull_n nor revs_rpm" if pull_n is None else "both pull_n and revs_rpm",
            "one of them wanted",
            "Give the pull if it is known, else the engine's revs astern.",
        )
    toward_rad = proof.quantity("toward", "angle")
    out_m = proof.quantity("chain_out", "length", above=0.0)
    minutes = proof.number("minutes")
    if minutes is not None and minutes <= 0.0:
        raise BadInput(proof.where("minutes"), f"{minutes:g}", "more than 0 wanted", "Correct it.")
    return ProofGiven(
        pull_n, revs_rpm, None if toward_rad is None else wrap_rad(toward_rad), minutes, out_m
    )
