"""Soundings in rows: CSV with named columns, or bare 'longitude latitude depth' rows.

Lenient about form: commas, semicolons, tabs or blanks, ``#`` remarks, ``.xz`` packed.
Never lenient about meaning: a column's name says which way it counts and in what unit,
or the person does.
"""

from __future__ import annotations

import lzma
import math
import re
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from shorefast.bay import Frame
from shorefast.errors import BadInput, Unreadable
from shorefast.quantities import units_of
from shorefast.readers.depths import (
    DEEPEST_M,
    DepthsRead,
    Tally,
    Told,
    ask_which_way,
    check_places,
    east_of_greenwich,
    levels_from,
)

Floats = NDArray[np.float64]

_MOST_BYTES = 400_000_000
_FILLS = (-9999.0, 9999.0, -99999.0, 99999.0, -32767.0, -32768.0, 1e6)
SLIPS_MOST = 0.2
_LON = ("lon_deg", "longitude_deg", "longitude", "lon", "long")
_LAT = ("lat_deg", "latitude_deg", "latitude", "lat")
_EAST = ("east_m", "easting_m", "easting", "x_m", "x")
_NORTH = ("north_m", "northing_m", "northing", "y_m", "y")
_NAMED = {
    "depth": "down", "sounding": "down", "level": "up", "elevation": "up", "height": "up",
    "altitude": "up", "bathymetry": None, "z": None,
}  # fmt: skip
_WANTED = "columns lon_deg,lat_deg,depth_m or east_m,north_m,depth_m wanted"
_OUT = "Name the columns in the first row, or give bare rows of longitude latitude depth."


@dataclass(frozen=True)
class _Columns:
    """Where the three numbers stand, and what they are.

    ``deviation`` is the column that tells each its own doubt, and its unit. [m]
    """

    east: int
    north: int
    depth: int
    on_earth: bool
    way: str | None
    scale_m: float
    called: str
    deviation: tuple[int, float] | None = None


def read_soundings_csv(path: Path, told: Told, frame: Frame | None = None) -> DepthsRead:
    """Read scattered soundings; a column ``deviation_m`` tells each its standard deviation.

    Parameters
    ----------
    path : Path
    told : Told
        What the file does not say of itself.
    frame : Frame, optional
        The bay's plane, for east_m and north_m columns.

    Raises
    ------
    Unreadable
        If it is empty, no text, or no row of it is a sounding.
    BadInput
        If the columns are others, do not say which way they count, or latitudes are none.
    """
    lines = _lines(path)
    delimiter = _delimiter(lines[0][1])
    columns, rows = _columns(path.name, lines, delimiter)
    if not rows:
        raise Unreadable(
            path.name, "no row under the columns' names", "soundings wanted", "Add the rows."
        )
    tally = Tally()
    numbers, at = _numbers(path.name, rows, columns, delimiter, tally)
    number_m = _without_fills(path.name, numbers, at, told, tally) * columns.scale_m
    kept = np.isfinite(number_m)
    if columns.on_earth and told.crs is None:
        kept = _on_this_earth(path.name, numbers, at, kept, tally)
    if not kept.any():
        raise _none_left(path.name, tally)
    way = told.depth or columns.way
    if way is None:
        raise ask_which_way(path.name, f"'{columns.called}' rows")
    level = levels_from(path.name, number_m[kept], way, told.datum_offset_m)
    lat, lon, crs = _on_earth(path.name, numbers[kept], columns, told, frame)
    deviation = np.full(level.size, math.nan if told.deviation_m is None else told.deviation_m)
    if columns.deviation is not None and told.deviation_m is None:
        deviation = _deviations(dict(rows), at[kept], columns.deviation, delimiter)
    return DepthsRead(
        path.name, "soundings", lat, lon, level, deviation, tally.rows(), crs, told.datum
    )


def _lines(path: Path) -> list[tuple[int, str]]:
    text = _text(path)
    numbered = enumerate(text.splitlines(), start=1)
    lines = [(n, row.split("#", 1)[0].strip()) for n, row in numbered]
    lines = [(n, row) for n, row in lines if row]
    if not lines:
        raise Unreadable(path.name, "it is empty", "soundings wanted", _OUT)
    return lines


def _text(path: Path) -> str:
    if path.stat().st_size > _MOST_BYTES:
        raise Unreadable(
            path.name, f"{path.stat().st_size / 1e6:.0f} MB", "at most 400 MB", "Cut it smaller."
        )
    try:
        raw = lzma.decompress(path.read_bytes()) if path.suffix == ".xz" else path.read_bytes()
    except lzma.LZMAError:
        raise Unreadable(
            path.name, "the packed file is damaged", "", "Fetch or pack it again."
        ) from None
    if b"\0" in raw[:4096]:
        raise Unreadable(path.name, "it is not text", "rows of soundings wanted", _OUT)
    return raw.decode("utf-8-sig", errors="replace")


def _delimiter(row: str) -> str | None:
    return next((mark for mark in ("\t", ";", ",") if mark in row), None)


def _cells(row: str, delimiter: str | None) -> list[str]:
    cells = [cell.strip().strip('"') for cell in row.split(delimiter)]
    return [cell.replace(",", ".") for cell in cells] if delimiter in (";", "\t") else cells


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True


def _columns(
    name: str, lines: list[tuple[int, str]], delimiter: str | None
) -> tuple[_Columns, list[tuple[int, str]]]:
    number, head = lines[0]
    cells = _cells(head, delimiter)
    if all(_is_number(cell) for cell in cells):
        if len(cells) < 3:
            raise Unreadable(f"{name}, line {number}", f"'{head}'", _WANTED, _OUT)
        return _Columns(0, 1, 2, True, None, 1.0, "longitude latitude depth"), lines
    return _named(name, number, [cell.lower() for cell in cells]), lines[1:]


def _first(names: list[str], wanted: tuple[str, ...]) -> int | None:
    return next((names.index(name) for name in wanted if name in names), None)


def _named(name: str, line: int, names: list[str]) -> _Columns:
    lon, lat = _first(names, _LON), _first(names, _LAT)
    east, north = _first(names, _EAST), _first(names, _NORTH)
    depth = _depth_column(names)
    if depth is None or ((lon is None or lat is None) and (east is None or north is None)):
        shown = ", ".join(one[:24] for one in names[:8])
        raise BadInput(f"{name}, line {line}", f"columns {shown}", _WANTED, _OUT)
    column, way, scale_m = depth
    doubt = _deviation_column(names)
    if lon is not None and lat is not None:
        return _Columns(lon, lat, column, True, way, scale_m, names[column], doubt)
    assert east is not None and north is not None
    return _Columns(east, north, column, False, way, scale_m, names[column], doubt)


def _deviation_column(names: list[str]) -> tuple[int, float] | None:
    told = {f"deviation_{unit.name}": unit.si for unit in units_of("length")}
    return next(((names.index(one), told[one]) for one in names if one in told), None)


def _deviations(
    rows: dict[int, str], lines: NDArray[np.int64], where: tuple[int, float], delimiter: str | None
) -> Floats:
    """What the rows of those lines say of their doubt, NaN where nothing or nonsense. [m]"""
    column, scale_m = where
    found = np.full(lines.size, math.nan)
    for place, line in enumerate(lines.tolist()):
        cells = _cells(rows[line], delimiter)
        if column < len(cells) and _is_number(cells[column]):
            found[place] = float(cells[column]) * scale_m
    return np.where((found >= 0.0) & (found <= DEEPEST_M), found, math.nan)


def _depth_column(names: list[str]) -> tuple[int, str | None, float] | None:
    """Which column holds depths, which way they count, and their unit in metres."""
    units = {unit.name: unit.si for unit in units_of("length")}
    for word, way in _NAMED.items():
        for column, name in enumerate(names):
            stem, _, unit = name.rpartition("_")
            if name == word:
                return column, way, 1.0
            if stem == word and unit in units:
                return column, way, units[unit]
    return None


def _numbers(
    name: str,
    rows: list[tuple[int, str]],
    columns: _Columns,
    delimiter: str | None,
    tally: Tally,
) -> tuple[Floats, NDArray[np.int64]]:
    """Numbers of all rows, shape (row, 3), and each row's line in the file."""
    order = (columns.east, columns.north, columns.depth)
    lines = np.array([line for line, _ in rows], dtype=np.int64)
    try:
        fast = np.loadtxt(
            [row for _, row in rows], delimiter=delimiter, usecols=order, ndmin=2, comments=None
        )
        return fast, lines
    except (ValueError, IndexError):
        return _one_by_one(name, rows, order, delimiter, tally)


def _one_by_one(
    name: str,
    rows: list[tuple[int, str]],
    order: tuple[int, int, int],
    delimiter: str | None,
    tally: Tally,
) -> tuple[Floats, NDArray[np.int64]]:
    kept, lines = [], []
    for line, row in rows:
        cells = _cells(row, delimiter)
        try:
            kept.append([float(cells[column]) for column in order])
            lines.append(line)
        except (ValueError, IndexError):
            shown = re.sub(r"\s+", " ", row)[:40]
            tally.add("no three numbers", f"{name}, line {line}: '{shown}'")
    return np.array(kept, dtype=float).reshape(-1, 3), np.array(lines, dtype=np.int64)


def _without_fills(
    name: str, numbers: Floats, lines: NDArray[np.int64], told: Told, tally: Tally
) -> Floats:
    """The depth column with everything that is no sounding turned to NaN."""
    depth = numbers[:, 2].copy() if numbers.size else np.empty(0)
    fills = _FILLS if told.no_data is None else (told.no_data, *_FILLS)
    odd = {
        "no number": ~np.isfinite(numbers).all(axis=1) if numbers.size else depth != depth,
        "stands for no sounding": np.isin(depth, fills),
        "deeper or higher than any sea": np.abs(depth) > DEEPEST_M,
    }
    for why, found in odd.items():
        found = found & np.isfinite(depth)
        if found.any():
            at = int(np.flatnonzero(found)[0])
            tally.add(why, f"{name}, line {lines[at]}: {depth[at]:g}", int(found.sum()))
        depth[found] = math.nan
    unread = ~np.isfinite(numbers[:, 2]) if numbers.size else np.empty(0, bool)
    if unread.any():
        at = int(np.flatnonzero(unread)[0])
        tally.add("no number", f"{name}, line {lines[at]}: {numbers[at, 2]:g}", int(unread.sum()))
    return depth


def _on_this_earth(
    name: str,
    numbers: Floats,
    lines: NDArray[np.int64],
    kept: NDArray[np.bool_],
    tally: Tally,
) -> NDArray[np.bool_]:
    """Less the few rows that are nowhere on earth; where many are, that is no slip of the pen."""
    wrong = kept & ((np.abs(numbers[:, 1]) > 90.0) | (np.abs(numbers[:, 0]) > 720.0))
    if not wrong.any() or wrong.mean() > SLIPS_MOST:
        return kept
    at = int(np.flatnonzero(wrong)[0])
    first = f"{name}, line {lines[at]}: {numbers[at, 0]:g}, {numbers[at, 1]:g}"
    tally.add("no place on earth", first, int(wrong.sum()))
    return kept & ~wrong


def _none_left(name: str, tally: Tally) -> Unreadable:
    total = sum(tally.counts.values())
    first = next(iter(tally.first.values()), "")
    why = next(iter(tally.counts), "")
    return Unreadable(
        name, f"none of {total} rows is a sounding ({why}; first {first})", _WANTED, _OUT
    )


def _on_earth(
    name: str, numbers: Floats, columns: _Columns, told: Told, frame: Frame | None
) -> tuple[Floats, Floats, str]:
    """Latitudes, longitudes and the name of the coordinates they came in."""
    first, second = np.ascontiguousarray(numbers[:, 0]), np.ascontiguousarray(numbers[:, 1])
    if told.crs is not None:
        lat, lon = to_earth(name, first, second, told.crs)
        return lat, lon, told.crs
    if columns.on_earth:
        check_places(name, second, first)
        return second, east_of_greenwich(first), "EPSG:4326"
    if frame is None:
        raise BadInput(
            name,
            "columns in metres east and north",
            "without a bay nobody knows of what place",
            "Name the bay folder instead, or say which coordinates these are (--crs).",
        )
    lat, lon = frame.to_earth(first, second)
    return lat, lon, "bay metres"


def to_earth(name: str, x: Floats, y: Floats, crs: str) -> tuple[Floats, Floats]:
    """Latitude and longitude on WGS 84 of places in named coordinates (x east, y north).

    Raises
    ------
    BadInput
        If nobody knows coordinates of that name, or the places lie outside them.
    """
    from pyproj import Transformer
    from pyproj.exceptions import CRSError, ProjError

    try:
        turn = Transformer.from_crs(crs, "EPSG:4326", always_xy=True)
    except (CRSError, ProjError):
        raise BadInput(
            name, f"coordinates '{crs}'", "not known", "Give a name like EPSG:32629."
        ) from None
    lon, lat = turn.transform(x, y)
    lat, lon = np.asarray(lat, float), np.asarray(lon, float)
    if not (np.isfinite(lat).all() and np.isfinite(lon).all()):
        raise BadInput(
            name,
            f"places like {x.flat[0]:g}, {y.flat[0]:g}",
            f"outside {crs}",
            "Say other coordinates (--crs, or crs in bay.toml).",
        )
    return lat, lon
