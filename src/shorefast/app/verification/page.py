"""The verification as a page to read: what was held against what, how near, and why so near."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from shorefast.app.verification.calls import Check
from shorefast.app.verification.rows import Row
from shorefast.app.verification.run import Task

_HEAD = """# How we know the sums are right

`shorefast verify` runs worked cases and printed numbers through the same functions that judge a
stay, and ends with 1 if any is out; `shorefast verify --out FILE` writes these tables.

- A file of worked cases: rodes on straight and broken beds, shore lines, whole boats. The expected
  values of the shipped ones were computed by programs written for the purpose, independently of
  this project; `by` says by which. Each field has its own tolerance, made from the case's own
  sensitivity: 2 mm of distance through the stiffness of a rode, 5 N through that of a boat.
- A file of printed numbers and closed forms. Each names where it is printed (read, worked by hand
  from a formula that was read, or from memory) and why its tolerance is what it is.

An error under a thousandth of its tolerance is said as that: its digits differ between processors.
"""
_SMALL = 1e-3


def page(tasks: Sequence[Task], rows: Sequence[Row]) -> str:
    """The tables as Markdown, file by file.

    Parameters
    ----------
    tasks : sequence
        What was run, from ``tasks_of``: printed numbers tell why their tolerance is so much.
    rows : sequence of Row
        What ``run`` made of them.
    """
    reasons = {
        (name, item.name, item.field): item.reason
        for name, item in tasks
        if isinstance(item, Check)
    }
    parts = [_HEAD, _counts(rows)]
    for name, group in groupby(rows, key=lambda row: row.file):
        found = list(group)
        printed = any((row.file, row.case, row.field) in reasons for row in found)
        lines = _printed(found, reasons) if printed else _worked(found)
        parts.append("\n".join([f"## {name}", "", *lines, ""]))
    return "\n".join(parts)


def _counts(rows: Sequence[Row]) -> str:
    lines = ["| file | checked | out of tolerance | no tolerance |", "|---|---|---|---|"]
    for name, found in groupby(rows, key=lambda row: row.file):
        passed = [row.passed for row in found]
        lines.append(
            f"| `{name}` | {len(passed) - passed.count(None)} | {passed.count(False)} "
            f"| {passed.count(None)} |"
        )
    return "\n".join(lines) + "\n"


def _worked(rows: Sequence[Row]) -> Iterator[str]:
    yield "| case | fields checked | largest share of a tolerance | out | by |"
    yield "|---|---|---|---|---|"
    for case, found in groupby(rows, key=lambda row: row.case):
        all_rows = list(found)
        kept = [row for row in all_rows if row.passed is not None]
        share = max((_share(row) for row in kept), default=0.0)
        out = ", ".join(row.field for row in kept if not row.passed) or "none"
        yield f"| {case} | {len(kept)} | {_said(share)} | {out} | {all_rows[0].source} |"


def _printed(rows: Sequence[Row], reasons: dict[tuple[str, str, str], str]) -> Iterator[str]:
    yield "| case | field | printed | error | tolerance | why so much | source | |"
    yield "|---|---|---|---|---|---|---|---|"
    for row in rows:
        mark = {True: "in", False: "OUT", None: "no tolerance"}[row.passed]
        reason = reasons.get((row.file, row.case, row.field), "")
        tolerance = "-" if row.tolerance is None else f"{row.tolerance:.3g}"
        yield (
            f"| {row.case} | {row.field} | {row.expected:.10g} | {_error(row)} | {tolerance} "
            f"| {reason} | {row.source} | {mark} |"
        )


def _gap(row: Row) -> float | None:
    """How far what came out is from what should have; None where no number is known."""
    got, expected = row.got, row.expected
    if not isinstance(got, int | float) or not isinstance(expected, int | float):
        return None
    gap = float(got) - float(expected)
    if row.field.endswith("heading_deg"):
        gap = (gap + 180.0) % 360.0 - 180.0
    return gap


def _share(row: Row) -> float:
    """Error over tolerance; words and unknowns have none."""
    gap = _gap(row)
    return 0.0 if gap is None or not row.tolerance else abs(gap) / row.tolerance


def _error(row: Row) -> str:
    gap = _gap(row)
    if gap is None:
        return "unknown"
    return "under a thousandth" if _share(row) < _SMALL and row.tolerance else f"{gap:+.0e}"


def _said(share: float) -> str:
    for bound in (_SMALL, 0.01, 0.1, 1.0):
        if share < bound:
            return f"under {bound:g}"
    return "over 1"
