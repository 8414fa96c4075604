"""Write the files of the three demonstration bays.

Usage: python tools/write_demo.py [FOLDER]

FOLDER is src/shorefast/demo where none is given. Every random draw is seeded by
the bay's own number, so the same files come out each time.
"""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import numpy as np
from demo.bed import geojson, land, soundings_csv
from demo.texts import bay_toml, boat_toml, stay_toml
from demo.weather import make_members, tide_csv, wind_csv, write_wind_nc
from demo.zones import ZONES

from shorefast.bay.frame import Frame

Table = Mapping[str, Any]

_TABLES = Path(__file__).parent / "demo"
_SHIPPED = Path(__file__).parent.parent / "src" / "shorefast" / "demo"


def _table(name: str) -> Table:
    return tomllib.loads((_TABLES / f"{name}.toml").read_text(encoding="utf-8"))


def _put(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8", newline="\n")


def write_bay(key: str, table: Table, folder: Path) -> None:
    """The bay folder: bay.toml, soundings, shore and zones."""
    frame = Frame(table["lat_deg"], table["lon_deg"])
    draw = np.random.default_rng([table["seed"], 1])
    _put(folder / "bay.toml", bay_toml(table))
    _put(folder / "soundings.csv", soundings_csv(table, frame, draw))
    _put(folder / "shore.geojson", geojson([({"kind": "land"}, land(table))], frame))
    _put(folder / "zones.geojson", geojson(ZONES[key](table), frame))


def write_weather(table: Table, forecast: Path) -> None:
    """The forecast with its members, and the tide beside it."""
    members = make_members(table, np.random.default_rng([table["seed"], 2]))
    _put(forecast.parent / "tide.csv", tide_csv(table))
    if forecast.suffix == ".nc":
        write_wind_nc(table, members, forecast)
    else:
        _put(forecast, wind_csv(table, members))


def write_scenario(key: str, folder: Path) -> None:
    """All files of one scenario."""
    table, boat, plan = (_table(name)[key] for name in ("tables", "boats", "lies"))
    _put(folder / "boat.toml", boat_toml(boat))
    write_bay(key, table, folder / "bay")
    write_weather(table, folder / plan["forecast"])
    for name, chosen in plan["stays"].items():
        _put(folder / f"{name}.toml", stay_toml(table, plan, chosen))
    _put(folder / "README.md", (_TABLES / f"{key}.md").read_text(encoding="utf-8"))
    _put(folder / "practice.txt", (_TABLES / f"{key}_practice.txt").read_text(encoding="utf-8"))


def main(out: Path) -> None:
    """Write every scenario below a folder."""
    for key in ZONES:
        write_scenario(key, out / key)


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else _SHIPPED)
