"""Writes docs/data.md: what our readers make of every file of a folder of real data.

Only names of files go into the page, no place of this machine.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
from datetime import timedelta
from itertools import groupby
from pathlib import Path
from typing import Any

from measures.real_told import (
    NEIGHBOURS,
    begins_of,
    place_of,
    real_files_of,
    told_tide,
    told_words,
)

_FEW = 4
_LAND_M = 20.0  # what stands higher is land, no drying height
_AIR = ("forecast", "wind")
_TITLES = {
    "bathymetry": "Grids and soundings",
    "s57": "Chart cells, with the updates beside them",
    "coastline": "Shore and land",
    "nmea0183": "Logs kept under way",
    "gnss_static": "Receivers that do not move",
    "gpx": "Tracks",
    "tide": "Tides",
    "forecast": "Forecasts",
    "wind": "Records of the wind",
}
_HEAD = """# What the readers make of real files

Written by `tools/write_data_page.py FOLDER`; not by hand. One row a file: what was taken, or,
after "No:", the sentence that refuses it. What a file does not say of itself (which way its
depths count, its coordinates, a tide's unit and datum) was told where its origin says it, and
nothing where the origin is silent: a sounder whose depth under the water nobody knows is
refused, as it must be. Depths are charted depths in metres, down.
"""


def asked(*words: str) -> dict[str, Any]:
    """One command's answer as JSON; a command that ends otherwise is an error in words."""
    ended = subprocess.run(
        [sys.executable, "-m", "shorefast.app.cli", *words, "--json"],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    try:
        told: dict[str, Any] = json.loads(ended.stdout)
    except ValueError:
        told = {"sentence": f"ended with {ended.returncode} and no answer", "kind": "trouble"}
    return told


def row_of(kind: str, path: Path) -> tuple[str, str]:
    """Result and findings of one file, in words."""
    if kind == "tide":
        return _tide(path), ""
    place = next((at for key, at in NEIGHBOURS.items() if key in path.name), None)
    if place is not None:
        return _neighbours(path, place)
    if kind in _AIR:
        told = asked("weather", str(path), "--at", place_of(path))
    else:
        told = asked("bay", str(path), *told_words(path))
    if "sentence" in told and "files" not in told:
        return f"No: {told['sentence']}", ""
    noticed = "; ".join(f"{one['said']}" for one in told["findings"][:_FEW])
    more = len(told["findings"]) - _FEW
    return "; ".join(map(_said, told["files"])), noticed + (f"; {more} more" if more > 0 else "")


def _said(one: dict[str, Any]) -> str:
    """One file of an answer: counts, depths, datum."""
    if "taken" not in one:
        return f"{one['kind']}: " + ", ".join(_count(n, what) for what, n in one["read"].items())
    taken = ", ".join(_count(n, what) for what, n in one["taken"].items() if n)
    if one["least_depth_m"] is None:
        return f"{one['kind']}: {taken}"
    datum = one["chart_datum"] or "not said in it"
    return f"{one['kind']}: {taken}, {_span(one)}, datum {datum}"


def _count(count: int, what: str) -> str:
    return f"{count} {what.removesuffix('s') if count == 1 else what}"


def _span(one: dict[str, Any]) -> str:
    least, greatest = one["least_depth_m"], one["greatest_depth_m"]
    if least < -_LAND_M:
        return f"deepest {greatest:.1f} m, land to {-least:.0f} m high"
    return f"{least:.1f} to {greatest:.1f} m"


def _neighbours(path: Path, place: tuple[float, float]) -> tuple[str, str]:
    """A log of ships: those that lie near the receiver."""
    from shorefast.bay import Frame
    from shorefast.readers.neighbours_file import read_neighbour_file

    boats, findings = read_neighbour_file(path, Frame(*place))
    counted = [one.said for one in findings if "left out" in one.said]
    return f"AIS log: {_count(len(boats), 'neighbours')} within 1 km", "; ".join(counted)


def _tide(path: Path) -> str:
    from shorefast.errors import ShorefastError
    from shorefast.readers import TideAsked, read_tide, read_tide_json

    begins = begins_of(path)
    asked = TideAsked(begins, begins + timedelta(hours=24), "[tide]", **told_tide(path))
    try:
        observed, water = False, read_tide(path) if path.suffix != ".json" else None
        if water is None:
            water, observed = read_tide_json(path, asked)
    except ShorefastError as error:
        return f"No: {error.sentence}"
    low, high = water.height_m.min(), water.height_m.max()
    what = "observed" if observed else f"predicted for {begins:%d %b %Y}"
    parts = next((one.value for one in water.basis.inputs if "constituents" in one.value), "")
    said = f"{water.height_m.size} heights {what}, {low:.3f} to {high:.3f} m above chart datum"
    return f"{said} ({parts})" if parts else said


def page_of(folder: Path) -> str:
    """The whole page, a table for each kind of file."""
    parts = [_HEAD]
    for kind, found in groupby(real_files_of(folder), key=lambda pair: pair[0]):
        rows = []
        for _, path in found:
            result, noticed = (cell.replace("|", "/") for cell in row_of(kind, path))
            cells = [_clean(cell, path) for cell in (result, noticed)]
            rows.append(f"| `{path.name}` | {cells[0]} | {cells[1]} |")
            print(rows[-1], flush=True)
        parts.append(f"## {_TITLES[kind]}\n\n| file | result | noticed |\n|---|---|---|\n")
        parts[-1] += "\n".join(rows) + "\n"
    return "\n".join(parts)


def _clean(cell: str, path: Path) -> str:
    """A cell without places of this machine, and without the name that begins its row."""
    cell = cell.replace(f"{path.parent}/", "")
    return cell.replace(f"{path.name}: ", "").replace(f"{path.name}, ", "")


def main() -> int:
    """Ask of every file, and write the page."""
    given = argparse.ArgumentParser(description=__doc__)
    given.add_argument("data", type=Path, help="a folder of real files")
    given.add_argument("--out", type=Path, default=Path("docs/data.md"))
    told = given.parse_args()
    told.out.write_text(page_of(told.data), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
