"""The water's level above chart datum from a CSV file."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import datetime
from itertools import pairwise
from pathlib import Path

import numpy as np

from shorefast.basis import Basis, Finding, Input
from shorefast.errors import BadInput, Unreadable
from shorefast.readers.csv_rows import CsvRow, CsvRows, read_csv_rows
from shorefast.weather import WaterLevel

TIDE_COLUMNS = "time_utc,height_m[,kind]"
_KINDS = ("high", "low")


def _check_rising(table: CsvRows, times: Sequence[datetime]) -> None:
    for row, (before, now) in zip(table.rows[1:], pairwise(times), strict=True):
        if now <= before:
            raise BadInput(
                table.where(row, "time_utc"),
                f"{now:%Y-%m-%dT%H:%M:%SZ} under {before:%Y-%m-%dT%H:%M:%SZ}",
                "times rise",
                "Put the rows in order of time, each time once.",
            )


def _kind(table: CsvRows, row: CsvRow) -> str:
    kind = table.text(row, "kind").lower()
    if kind not in _KINDS:
        raise BadInput(
            table.where(row, "kind"),
            f"'{kind}'",
            "high or low wanted",
            "Correct it, or leave the whole column out for heights in a row.",
        )
    return kind


def _check_turning(table: CsvRows, heights: Sequence[float]) -> None:
    kinds = [_kind(table, row) for row in table.rows]
    rows = zip(table.rows[1:], pairwise(kinds), pairwise(heights), strict=True)
    for row, (kind_before, kind), (before, now) in rows:
        if kind == kind_before:
            raise BadInput(
                table.where(row, "kind"),
                f"{kind} follows {kind}",
                "high and low waters take turns",
                f"Add the {_KINDS[kind == 'high']} water between them.",
            )
        wrong = now <= before if kind == "high" else now >= before
        if wrong:
            raise BadInput(
                table.where(row, "height_m"),
                f"{kind} water {now:g} m after {before:g} m",
                "a high water stands above the low waters beside it",
                "Correct the height or the kind.",
            )


def read_tide(path: Path) -> WaterLevel:
    """Read ``time_utc,height_m[,kind]``; with ``kind`` the rows are high and low waters.

    Raises
    ------
    Unreadable
        If the file is empty, no text, or has fewer than two rows or no height.
    BadInput
        If a column is missing, a value cannot be so, times do not rise, or high and
        low waters do not take turns.
    """
    table = read_csv_rows(path, TIDE_COLUMNS)
    table.need("time_utc")
    name, unit = table.need_quantity("height", "length", "Add it; heights count from chart datum.")
    if len(table.rows) < 2:
        raise Unreadable(
            table.name,
            "one row",
            "at least two wanted",
            "Give the water before and after the stay, or write level_m in [tide].",
        )
    times = [table.moment(row, "time_utc") for row in table.rows]
    _check_rising(table, times)
    heights = [table.number(row, name, -30.0 / unit.si, 30.0 / unit.si) for row in table.rows]
    turning = "kind" in table.columns
    if turning:
        _check_turning(table, heights)
    unknown = sum(math.isnan(height) for height in heights)
    if unknown == len(heights):
        raise Unreadable(
            table.name,
            "no height in any row",
            "metres above chart datum wanted",
            "Fill them in, or write level_m in [tide].",
        )
    found = (Finding(table.name, f"height unknown in {unknown} of {len(heights)} rows"),)
    read = Input("tide", f"{len(heights)} rows", table.name)
    return WaterLevel(
        time_utc=np.array([t.replace(tzinfo=None) for t in times], dtype="datetime64[s]"),
        height_m=np.asarray(heights, dtype=np.float64) * unit.si,
        turning=turning,
        basis=Basis(inputs=(read,), findings=found if unknown else ()),
    )
