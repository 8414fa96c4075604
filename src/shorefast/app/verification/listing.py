"""The verification as a table for people, file by file."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from shorefast.app.verification.rows import Row, Value

_HEAD = ("", "case", "field", "expected", "got", "error", "tolerance", "source")
_MARK = {True: "in", False: "OUT", None: ""}


def listing(rows: Sequence[Row]) -> str:
    """One table a file with a count under it, and the whole count at the end."""
    parts = [_table(name, list(group)) for name, group in groupby(rows, key=lambda r: r.file)]
    return "\n\n".join([*parts, count_line("All together", rows)])


def count_line(name: str, rows: Iterable[Row]) -> str:
    """How many were checked, how many are out, how many were only computed."""
    verdicts = [row.passed for row in rows]
    out, checked = verdicts.count(False), len(verdicts) - verdicts.count(None)
    told = f"{name}: {checked} checked, {out} out of tolerance"
    only = verdicts.count(None)
    return (
        f"{told}, {only} more computed with no tolerance to hold them against."
        if only
        else f"{told}."
    )


def _table(name: str, rows: list[Row]) -> str:
    lines = [_HEAD, *(_cells(row) for row in rows)]
    widths = [max(len(line[column]) for line in lines) for column in range(len(_HEAD))]
    body = "\n".join(_line(line, widths) for line in lines)
    return f"{name}\n{body}\n{count_line(name, rows)}"


def _cells(row: Row) -> tuple[str, ...]:
    return (
        _MARK[row.passed],
        row.case,
        row.field,
        said(row.expected),
        said(row.got),
        _error(row),
        "" if row.tolerance is None else f"{row.tolerance:g}",
        row.source,
    )


def _line(cells: Sequence[str], widths: Sequence[int]) -> str:
    """Words to the left, numbers to the right."""
    padded = (
        cell.rjust(width) if 3 <= column <= 6 else cell.ljust(width)
        for column, (cell, width) in enumerate(zip(cells, widths, strict=True))
    )
    return "  ".join(padded).rstrip()


def said(value: Value) -> str:
    """A value as it stands in the table; unknown is said so."""
    if value is None:
        return "-"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value if isinstance(value, str) else f"{value:.7g}"


def _error(row: Row) -> str:
    both = (row.got, row.expected)
    if any(value is None or isinstance(value, str | bool) for value in both):
        return ""
    gap = float(row.got or 0.0) - float(row.expected or 0.0)
    if row.field.rsplit("/", 1)[-1] == "heading_deg":
        gap = (gap + 180.0) % 360.0 - 180.0
    return f"{gap:+.1e}"
