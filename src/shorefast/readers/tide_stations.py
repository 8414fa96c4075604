"""Tide stations in a JSON file: their constants, datums and units, in either known form."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from shorefast.errors import BadInput, Unreadable
from shorefast.readers.text_file import read_text

_WANTED = "constants of tide stations or a row of observed heights wanted"
UNITS = {"m": "m", "metres": "m", "meters": "m", "metric": "m", "ft": "ft", "feet": "ft"}


@dataclass(frozen=True)
class Station:
    """One station as its file tells it, in the file's own unit.

    unit : "m", "ft" or None where the file does not say
    datums : heights above the station's own zero
    chart_datum : which of them the chart uses, None where the file does not say
    parts : (name, amplitude, lag on Greenwich in degrees)
    """

    names: tuple[str, ...]
    lat_deg: float
    unit: str | None
    datums: Mapping[str, float]
    chart_datum: str | None
    parts: tuple[tuple[str, float, float], ...]


def read_json(path: Path, wanted: str = _WANTED) -> Any:
    """A JSON file's tree.

    Raises
    ------
    Unreadable
        If it is empty or broken.
    """
    text = read_text(path, "a tide file")
    if not text.strip():
        raise Unreadable(path.name, "it is empty", wanted, "Name another file.")
    try:
        return json.loads(text)
    except json.JSONDecodeError as trouble:
        raise Unreadable(
            f"{path.name}, line {trouble.lineno}",
            f"broken JSON ({trouble.msg})",
            wanted,
            "Export it again.",
        ) from None
    except RecursionError:
        raise Unreadable(
            path.name, "broken JSON (nested too deep)", wanted, "Export it again."
        ) from None


def stations_of(name: str, tree: Any) -> tuple[Station, ...]:
    """All stations of a tree that have constants.

    Raises
    ------
    Unreadable
        If there is none, or one of its numbers is no number.
    """
    rows = tree.get("stations") if isinstance(tree, dict) else tree
    rows = [row for row in rows if isinstance(row, dict)] if isinstance(rows, list) else []
    found = [_station(name, row) for row in rows]
    found = [one for one in found if one.parts]
    if not found:
        raise Unreadable(name, "no station with constants in it", _WANTED, "Name another file.")
    return tuple(found)


def _station(name: str, row: Mapping[str, Any]) -> Station:
    nested = row.get("harmonicConstituents")
    listed = row.get("harmonic_constituents")
    lag = "phase"
    if isinstance(nested, dict):
        listed, lag = nested.get("HarmonicConstituents"), "phase_GMT"
    said = str(row.get("name", "")).strip()
    parts = [
        (str(one.get("name", "")), _number(name, said, one, "amplitude"),
         _number(name, said, one, lag))
        for one in (listed if isinstance(listed, list) else [])
        if isinstance(one, dict)
    ]  # fmt: skip
    datums, unit = _datums(name, said, row.get("datums"))
    told = nested.get("units") if isinstance(nested, dict) else row.get("units")
    own = str(row.get("id", "")).strip()
    return Station(
        names=tuple(dict.fromkeys(one for one in (said, own, own.rpartition("/")[2]) if one)),
        lat_deg=_number(name, said, row, "latitude" if "latitude" in row else "lat"),
        unit=_unit(name, said, told, unit),
        datums=datums,
        chart_datum=row.get("chart_datum") if isinstance(row.get("chart_datum"), str) else None,
        parts=tuple(parts),
    )


def _datums(name: str, said: str, told: Any) -> tuple[dict[str, float], str | None]:
    """Datums by name, and the unit their own table tells."""
    if not isinstance(told, dict):
        return {}, None
    rows = told.get("datums")
    if isinstance(rows, list):
        good = [row for row in rows if isinstance(row, dict) and row.get("value") is not None]
        found = {str(row.get("name")): _number(name, said, row, "value") for row in good}
        return found, told.get("units")
    return {key: _number(name, said, told, key) for key in told if told[key] is not None}, None


def _unit(name: str, said: str, parts: Any, datums: Any) -> str | None:
    words = {UNITS.get(str(one).lower(), str(one)) for one in (parts, datums) if one}
    if len(words) > 1:
        raise Unreadable(
            f"{name}, {said}",
            f"constants and datums in different units ({' and '.join(sorted(words))})",
            "one unit wanted",
            "Export it again in one unit.",
        )
    word = words.pop() if words else None
    if word is not None and word not in ("m", "ft"):
        raise Unreadable(
            f"{name}, {said}", f"the unit '{word}'", "metres or feet wanted", "Export it again."
        )
    return word


def _number(name: str, said: str, row: Mapping[str, Any], key: str) -> float:
    try:
        value = float(row.get(key, ""))
    except (TypeError, ValueError):
        value = math.nan
    if not math.isfinite(value):
        raise Unreadable(
            f"{name}, {said or 'a station without a name'}",
            f"{key} is {row.get(key)!r}",
            "a number wanted",
            "Export it again.",
        )
    return value


def chosen(name: str, stations: tuple[Station, ...], asked: str | None, where: str) -> Station:
    """The station asked for by name or number; the only one where there is one.

    Raises
    ------
    BadInput
        If several are there and none is asked for, or the one asked for is not there.
    """
    known = ", ".join(one.names[0] if one.names else "?" for one in stations[:12])
    if asked is None:
        if len(stations) == 1:
            return stations[0]
        raise BadInput(
            where,
            f"{len(stations)} stations in {name}",
            f"one of {known} wanted",
            'Add station = "..." to [tide].',
        )
    for one in stations:
        if asked.casefold() in (word.casefold() for word in one.names):
            return one
    raise BadInput(where, f"no station '{asked}' in {name}", f"it has {known}", "Name one of them.")
