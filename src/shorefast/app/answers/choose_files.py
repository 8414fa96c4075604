"""A ready stay file of every lie that was chosen between."""

from __future__ import annotations

import math
import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import tomlkit
from tomlkit import TOMLDocument
from tomlkit.items import Table

from shorefast.stay import UNPROVEN, Choice, Finalist, Lie, ProofGiven


def _files_of(document: TOMLDocument) -> Iterator[tuple[Table | TOMLDocument, str]]:
    """Every table and key of a stay file that names a file."""
    for key in ("boat", "bay"):
        yield document, key
    for name in ("forecast", "neighbour"):
        for one in document.get(name, []):
            if "file" in one:
                yield one, "file"
    tide = document.get("tide", {})
    if "file" in tide:
        yield tide, "file"


def _from_there(folder: Path, out: Path, named: str) -> str:
    """A path that counted from one folder, so that it counts from another."""
    there = (folder / named).resolve()
    try:
        return Path(os.path.relpath(there, out.resolve())).as_posix()
    except ValueError:
        # another drive: there is no way from here to there but the whole path
        return there.as_posix()


def _lie_table(lie: Lie) -> Table:
    table = tomlkit.table()
    place = tomlkit.inline_table()
    place.update({"east_m": lie.let_go_east_m, "north_m": lie.let_go_north_m})
    table.add("let_go", place)
    table.add("chain_out_m", lie.chain_out_m)
    table.add("heading_deg", round(math.degrees(lie.heading_rad), 6))
    rows = tomlkit.aot()
    for line in lie.lines:
        row = tomlkit.table()
        row.add("line", line.line)
        row.add("cleat", line.cleat)
        row.add("point", line.point)
        row.add("length_m", line.length_m)
        if line.doubled:
            row.add("doubled", True)
        rows.append(row)
    if lie.lines:
        table.add("line", rows)
    return table


def _with_proof(document: TOMLDocument, proof: ProofGiven | None) -> None:
    if proof is None or proof.toward_rad is None or "proof" not in document:
        return
    told = document["proof"]
    for key in [key for key in told if key.startswith(("toward", "chain_out"))]:
        del told[key]
    told["toward_deg"] = round(math.degrees(proof.toward_rad), 6)


def _bay_with(points_from: Choice, bay: Path, out: Path) -> Path:
    """A copy of the bay folder with the places of unproven shore among its points."""
    copy = out / "bay"
    shutil.copytree(bay, copy, dirs_exist_ok=True)
    document = tomlkit.parse((copy / "bay.toml").read_text(encoding="utf-8"))
    points = document.get("point") or tomlkit.aot()
    known = {point["name"] for point in points}
    for point in points_from.stay.bay.points:
        if point.kind == UNPROVEN and point.name not in known:
            row = tomlkit.table()
            row.add("name", point.name)
            row.add("kind", point.kind)
            row.add("east_m", point.east_m)
            row.add("north_m", point.north_m)
            row.add("height_m", point.height_m)
            points.append(row)
    document["point"] = points
    (copy / "bay.toml").write_text(tomlkit.dumps(document), encoding="utf-8")
    return copy


def _document(stay_path: Path, out: Path, one: Finalist, choice: Choice) -> TOMLDocument:
    document = tomlkit.parse(stay_path.read_text(encoding="utf-8"))
    bay = stay_path.parent / str(document["bay"])
    for table, key in _files_of(document):
        table[key] = _from_there(stay_path.parent, out, str(table[key]))
    if one.unproven:
        document["bay"] = _from_there(out, out, _bay_with(choice, bay, out).name)
    _with_proof(document, one.stay.proof)
    if "lie" in document:
        del document["lie"]
    document["lie"] = _lie_table(one.lie)
    return document


def write_stays(stay_path: Path, out: Path, choice: Choice) -> tuple[Path, ...]:
    """Write ``lie_1.toml`` and so on, best first; ``judge`` says the same of each.

    A lie to unproven shore brings its own copy of the bay folder, with those places in it.
    """
    written = []
    for number, one in enumerate(choice.finalists, start=1):
        path = out / f"lie_{number}.toml"
        document = _document(stay_path, out, one, choice)
        path.write_text(tomlkit.dumps(document), encoding="utf-8")
        written.append(path)
    return tuple(written)
