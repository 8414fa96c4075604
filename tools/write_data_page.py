"""Writes docs/data.md: what our readers make of every file of a folder of real data.

Only names of files go into the page, no place of this machine.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

SUMMER = datetime(2026, 7, 1, tzinfo=UTC)
TOLD_TIDES: dict[str, dict[str, Any]] = {
    "harmonics_4stations.json": {"station": "Bergen", "unit": "m", "datum": "CD"},
    "noaa_9447130_water_level_6min_201501.json": {
        "unit": "m",
        "utc_offset_h": 0.0,
        "datum": "MLLW",
    },
    "noaa_9447130_station_harcon_datums.json": {"unit": "ft", "datum": "MLLW"},
}
KINDS = ("bathymetry", "coastline", "tide", "gpx", "nmea0183", "s57", "forecast")
_FORECAST_AT = {"arome": "60.7,5.0", "beijing": "39.9,116.4", "london": "51.5,-0.12"}
# What the README of a collection says of a file that does not say it of itself.
_TOLD = {
    "firth_of_lorn": ("--depth", "down", "--no-data", "-1"),
    "gebco_": ("--depth", "up", "--crs", "EPSG:4326"),
    "howe_sound": ("--depth", "down"),
    "baja_ship": ("--depth", "up"),
}
_HEAD = """# What the readers make of real files

Written by `tools/write_data_page.py FOLDER`; not by hand. One row a file: what was taken, or
the sentence that refuses it. What a file does not say of itself (which way its depths count, its
coordinates) was told where its origin says it.

| file | result | noticed |
|---|---|---|
"""


def files_of(folder: Path) -> Iterator[tuple[str, Path]]:
    """Every file the readers may be handed, with the kind of folder it stands in."""
    for kind in KINDS:
        for path in sorted((folder / kind).rglob("*")):
            chart_text = kind == "s57" and path.suffix.upper() in (".TXT", ".031")
            update = kind == "s57" and path.suffix[1:].isdigit() and path.suffix != ".000"
            if path.is_file() and not (chart_text or update):
                yield kind, path


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
    if kind == "forecast":
        place = next((at for key, at in _FORECAST_AT.items() if key in path.name), "50,0")
        told = asked("weather", str(path), "--at", place)
    elif kind == "tide":
        return _tide(path), ""
    else:
        given = next((words for key, words in _TOLD.items() if key in path.name), ())
        told = asked("bay", str(path), *given)
    if "sentence" in told and "files" not in told:
        return told["sentence"], ""
    noticed = "; ".join(f"{one['said']}" for one in told["findings"][:4])
    return "; ".join(map(_said, told["files"])), noticed


def _said(one: dict[str, Any]) -> str:
    """One file of an answer: counts, depths, datum."""
    if "taken" not in one:
        return f"{one['kind']}: " + ", ".join(f"{n} {what}" for what, n in one["read"].items())
    taken = ", ".join(f"{count} {what}" for what, count in one["taken"].items() if count)
    if one["least_depth_m"] is None:
        return f"{one['kind']}: {taken}"
    span = f"{one['least_depth_m']:.1f} to {one['greatest_depth_m']:.1f} m"
    return f"{one['kind']}: {taken}, {span}, datum {one['chart_datum'] or 'unknown'}"


def _tide(path: Path) -> str:
    from shorefast.errors import ShorefastError
    from shorefast.readers import read_tide
    from shorefast.readers.tide_json import TideAsked, read_tide_json

    # a summer's day for constants; the month observed for heights; the clock is Greenwich's
    begins = datetime(2015, 1, 10, tzinfo=UTC) if "2015" in path.name else SUMMER
    asked = TideAsked(
        begins, begins + timedelta(hours=24), "[tide]", **TOLD_TIDES.get(path.name, {})
    )
    try:
        water = read_tide(path) if path.suffix != ".json" else read_tide_json(path, asked)[0]
    except ShorefastError as error:
        return error.sentence
    low, high = water.height_m.min(), water.height_m.max()
    return f"water levels: {water.height_m.size}, {low:.3f} to {high:.3f} m"


def page_of(folder: Path) -> str:
    """The whole page."""
    rows = []
    for kind, path in files_of(folder):
        result, noticed = (cell.replace("|", "/") for cell in row_of(kind, path))
        clean = [cell.replace(f"{path.parent}/", "") for cell in (result, noticed)]
        rows.append(f"| `{path.name}` | {clean[0]} | {clean[1]} |")
        print(rows[-1], flush=True)
    return _HEAD + "\n".join(rows) + "\n"


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
