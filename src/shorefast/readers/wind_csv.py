"""Wind by hour, and by member where there are several, from a CSV file."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Basis, Finding, Input
from shorefast.errors import BadInput
from shorefast.quantities import Unit, from_si
from shorefast.readers.csv_rows import CsvRow, CsvRows, read_csv_rows
from shorefast.readers.forecast_at_place import MOST_MPS
from shorefast.weather import Wind

WIND_COLUMNS = "time_utc,wind_mps,gust_mps,from_deg[,member]"
_BLANK = "Add it; values nobody knows may be left blank."
_Floats = NDArray[np.float64]


@dataclass(frozen=True)
class _Said:
    """One row's meaning. [m/s, rad]"""

    line: int
    time_utc: datetime
    member: int
    wind_mps: float
    wind_from_rad: float
    gust_mps: float


@dataclass(frozen=True)
class _Columns:
    wind: tuple[str, Unit]
    gust: tuple[str, Unit]
    toward: tuple[str, Unit]
    member: bool


def _columns(table: CsvRows) -> _Columns:
    table.need("time_utc")
    return _Columns(
        table.need_quantity("wind", "speed", _BLANK),
        table.need_quantity("gust", "speed", _BLANK),
        table.need_quantity("from", "angle", _BLANK),
        "member" in table.columns,
    )


def _speed_mps(table: CsvRows, row: CsvRow, column: tuple[str, Unit]) -> float:
    name, unit = column
    most = round(from_si(MOST_MPS, "speed", unit.name))
    return table.number(row, name, 0.0, most) * unit.si


def _said(table: CsvRows, row: CsvRow, columns: _Columns) -> _Said:
    name, unit = columns.toward
    turn = 360.0 if unit.name == "deg" else 2 * math.pi
    from_rad = table.number(row, name, 0.0, turn) * unit.si
    member = table.number(row, "member", 0, 1e6) if columns.member else 0.0
    if math.isnan(member) or member != int(member):
        where = table.where(row, "member")
        raise BadInput(
            where, f"'{table.text(row, 'member')}'", "a whole number wanted", "Correct it."
        )
    return _Said(
        row.line,
        table.moment(row, "time_utc"),
        int(member),
        _speed_mps(table, row, columns.wind),
        math.fmod(from_rad, 2 * math.pi),
        _speed_mps(table, row, columns.gust),
    )


def _check_rising(said: Sequence[_Said], name: str) -> None:
    last: dict[int, datetime] = {}
    for one in said:
        before = last.get(one.member, one.time_utc)
        if one.time_utc < before:
            raise BadInput(
                f"{name}, line {one.line}, time_utc",
                f"{one.time_utc:%Y-%m-%dT%H:%M:%SZ} under {before:%Y-%m-%dT%H:%M:%SZ}",
                "the times of one member rise",
                "Put the rows in order of time.",
            )
        last[one.member] = one.time_utc


def _entries(said: Sequence[_Said]) -> dict[tuple[int, int], dict[datetime, _Said]]:
    """By (member, gust within the hour), then by time."""
    entries: dict[tuple[int, int], dict[datetime, _Said]] = defaultdict(dict)
    seen: Counter[tuple[int, datetime]] = Counter()
    for one in said:
        entries[(one.member, seen[(one.member, one.time_utc)])][one.time_utc] = one
        seen[(one.member, one.time_utc)] += 1
    # an hour with fewer gusts than another repeats its first: the worst of them is the same
    for (member, gust), row in entries.items():
        for time, one in entries[(member, 0)].items() if gust else ():
            row.setdefault(time, one)
    return entries


def _field(
    entries: dict[tuple[int, int], dict[datetime, _Said]], times: list[datetime], of: str
) -> _Floats:
    rows = [entries[key] for key in sorted(entries)]
    return np.array([[getattr(row.get(t), of, math.nan) for t in times] for row in rows], float)


def _findings(wind: Wind, ignored: Sequence[str], name: str) -> tuple[Finding, ...]:
    said = []
    for what, values in (
        ("wind", wind.wind_mps),
        ("direction", wind.wind_from_rad),
        ("gust", wind.gust_mps),
    ):
        gone = int(np.isnan(values).sum())
        if gone:
            said.append(f"{what} unknown in {gone} of {values.size} entries")
    below = int(np.sum(wind.gust_mps < wind.wind_mps))
    if below:
        said.append(f"gust below the mean wind in {below} entries; taken as it is")
    said.extend(f"column {column} is not read" for column in ignored)
    return tuple(Finding(name, text) for text in said)


def read_wind_csv(path: Path) -> Wind:
    """Read ``time_utc,wind_mps,gust_mps,from_deg[,member]``, 10 m above the ground.

    Speeds may come in any unit the name tells (``wind_kn``). A blank cell is unknown.
    Several rows with one time and member are gusts that all come within that hour,
    in the same order at every time; they become entries with one member number.

    Raises
    ------
    Unreadable
        If the file is empty or no text.
    BadInput
        If a column is missing, a value cannot be so, or times do not rise.
    """
    table = read_csv_rows(path, WIND_COLUMNS)
    columns = _columns(table)
    said = [_said(table, row, columns) for row in table.rows]
    _check_rising(said, table.name)
    entries = _entries(said)
    times = sorted({one.time_utc for one in said})
    read = {columns.wind[0], columns.gust[0], columns.toward[0], "time_utc", "member"}
    wind = Wind(
        member=np.array([member for member, _ in sorted(entries)], dtype=np.int64),
        time_utc=np.array([t.replace(tzinfo=None) for t in times], dtype="datetime64[s]"),
        wind_mps=_field(entries, times, "wind_mps"),
        wind_from_rad=_field(entries, times, "wind_from_rad"),
        gust_mps=_field(entries, times, "gust_mps"),
        gust_over_s=0.0,
        height_m=10.0,
        basis=Basis(inputs=(Input("wind", f"{len(table.rows)} rows", table.name),)),
    )
    ignored = [column for column in table.columns if column not in read]
    found = Basis(findings=_findings(wind, ignored, table.name))
    return Wind(**{**vars(wind), "basis": wind.basis | found})
