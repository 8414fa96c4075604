"""Rows of a CSV file with their line numbers, so that a mistake can be found again."""

from __future__ import annotations

import csv
import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from shorefast.errors import BadInput, Unreadable
from shorefast.quantities import Unit, units_of

_UNKNOWN = ("", "nan", "null", "none", "-", "--")


@dataclass(frozen=True)
class CsvRow:
    """One row: its line in the file and its cells, stripped."""

    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True)
class CsvRows:
    """A CSV file whose first row names the columns (kept in lower case)."""

    name: str
    columns: Mapping[str, int]
    rows: tuple[CsvRow, ...]

    def where(self, row: CsvRow, column: str) -> str:
        """``wind.csv, line 5, gust_mps``."""
        return f"{self.name}, line {row.line}, {column}"

    def need(self, column: str, way_out: str = "Add it.") -> str:
        """The column's name again.

        Raises
        ------
        BadInput
            If there is no such column.
        """
        if column not in self.columns:
            raise BadInput(
                f"{self.name}, line 1",
                f"no column {column}",
                f"it has {', '.join(self.columns)}",
                way_out,
            )
        return column

    def need_quantity(self, name: str, kind: str, way_out: str) -> tuple[str, Unit]:
        """The column of that name in whichever unit it is given (wind_mps, wind_kn)."""
        for unit in units_of(kind):
            if f"{name}_{unit.name}" in self.columns:
                return f"{name}_{unit.name}", unit
        first = "deg" if kind == "angle" else units_of(kind)[0].name
        raise BadInput(
            f"{self.name}, line 1",
            f"no column {name}_{first}",
            f"it has {', '.join(self.columns)}",
            way_out,
        )

    def text(self, row: CsvRow, column: str) -> str:
        """The cell, empty where the row is too short."""
        place = self.columns[column]
        return row.cells[place] if place < len(row.cells) else ""

    def number(self, row: CsvRow, column: str, least: float, most: float) -> float:
        """The cell as a number; NaN where it says that nobody knows.

        Raises
        ------
        BadInput
            If it is no number, or outside ``least`` to ``most``.
        """
        text = self.text(row, column)
        if text.lower() in _UNKNOWN:
            return math.nan
        try:
            value = float(text)
        except ValueError:
            value = math.inf
        if not math.isfinite(value):
            out = "Correct it, or leave it blank if nobody knows."
            raise BadInput(self.where(row, column), f"'{text}'", "a number wanted", out)
        if not least <= value <= most:
            wanted = f"{least:g} to {most:g} wanted"
            raise BadInput(self.where(row, column), f"{value:g}", wanted, "Correct it.")
        return value

    def moment(self, row: CsvRow, column: str) -> datetime:
        """The cell as a time; one that names no zone is UTC.

        Raises
        ------
        BadInput
            If it is no time.
        """
        text = self.text(row, column)
        try:
            value = datetime.fromisoformat(text)
        except ValueError:
            raise BadInput(
                self.where(row, column),
                f"'{text}'",
                "a time wanted, like 2026-07-01T21:40:00Z",
                "Correct it.",
            ) from None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


def _lines(path: Path) -> list[tuple[int, str]]:
    raw = path.read_bytes()
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Unreadable(
            path.name, "it is not text", "a CSV file wanted", "Save it as CSV in UTF-8."
        ) from None
    numbered = enumerate(text.splitlines(), start=1)
    return [(n, row) for n, row in numbered if row.strip() and not row.lstrip().startswith("#")]


def _cells(text: str, delimiter: str) -> tuple[str, ...]:
    return tuple(cell.strip() for cell in next(csv.reader([text], delimiter=delimiter)))


def read_csv_rows(path: Path, wanted: str) -> CsvRows:
    """The file's rows, blank ones and ``#`` remarks left out.

    Commas, semicolons or tabs part the cells, whichever the first row holds.

    Parameters
    ----------
    path : Path
    wanted : str
        The columns wanted, for the message when it is empty.

    Raises
    ------
    Unreadable
        If it is empty, no text, or has no row under the names.
    """
    lines = _lines(path)
    columns_wanted = f"a first row {wanted} wanted"
    if not lines:
        raise Unreadable(
            path.name, "it is empty", columns_wanted, "See docs/files.md for an example."
        )
    head = lines[0][1]
    delimiter = next((mark for mark in ("\t", ";") if mark in head), ",")
    names = [name.lower() for name in _cells(head, delimiter)]
    rows = tuple(CsvRow(number, _cells(text, delimiter)) for number, text in lines[1:])
    if not rows:
        raise Unreadable(
            path.name, "no row under the columns' names", "", "Add the rows, one time each."
        )
    return CsvRows(path.name, {name: place for place, name in enumerate(names)}, rows)
