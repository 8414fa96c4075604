"""Every case and every published check, run and held against what is expected."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from importlib.resources import files
from pathlib import Path

from shorefast.app.verification.boat_cases import boat_fields, boat_got
from shorefast.app.verification.calls import Check, check_got
from shorefast.app.verification.case_file import read_cases
from shorefast.app.verification.case_types import BoatCase, Case, RodeCase
from shorefast.app.verification.line_cases import RODE_FIELDS, SHORE_FIELDS, rode_got, shore_got
from shorefast.app.verification.rows import Place, Row, Value, Wanted, rows_of
from shorefast.basis import Finding
from shorefast.errors import BadInput, ShorefastError, Unreadable

SHIPPED = ("rode.json", "boat.json", "published.toml")

Task = tuple[str, Case | Check]
Tick = Callable[[int, int], None]


def tasks_of(paths: Iterable[Path]) -> list[Task]:
    """What there is to run in these files; with none, in those shipped with the package.

    Raises
    ------
    Unreadable
        If a file is not there or is not in the form of case files.
    BadInput
        If a case lacks something or has a value that cannot be.
    """
    texts = [(path.name, _text(path)) for path in paths] or list(shipped_texts())
    return [(name, item) for name, text in texts for item in _items(name, text)]


def run(tasks: list[Task], tick: Tick | None = None) -> tuple[tuple[Row, ...], tuple[Finding, ...]]:
    """All rows, and what kept a case from being computed.

    Parameters
    ----------
    tasks : list
        From ``tasks_of``.
    tick : callable, optional
        Called with how many are done, and of how many.
    """
    rows: list[Row] = []
    findings: list[Finding] = []
    for number, (name, item) in enumerate(tasks, start=1):
        place, wanted = _place(name, item), _wanted(item)
        try:
            got = _got(item)
        except ShorefastError as trouble:
            got = dict.fromkeys(_fields(item))
            findings.append(Finding(f"{name}, case {place.case}", trouble.sentence))
        rows.extend(rows_of(place, got, wanted))
        if tick:
            tick(number, len(tasks))
    return tuple(rows), tuple(findings)


def shipped_texts() -> Iterator[tuple[str, str]]:
    """Name and contents of every file of cases that comes with the package."""
    folder = files("shorefast") / "cases"
    for name in SHIPPED:
        yield name, (folder / name).read_text(encoding="utf-8")


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        raise Unreadable(path.name, "not text", "UTF-8 wanted", "Give a case file.") from None
    except OSError as trouble:
        reason = (trouble.strerror or "cannot be opened").lower()
        raise BadInput(path.name, reason, "", "Check the name and the folder.") from None


def _items(name: str, text: str) -> tuple[Case, ...] | tuple[Check, ...]:
    if name.endswith(".toml"):
        # these ask every package, depth and tide too: half a second only where it is wanted
        from shorefast.app.verification.published import read_checks

        return read_checks(text, name)
    return read_cases(text, name)


def _place(name: str, item: Case | Check) -> Place:
    return Place(name, item.name, item.source)


def _wanted(item: Case | Check) -> Wanted:
    if not isinstance(item, Check):
        return item.wanted
    tolerance = {} if math.isnan(item.tolerance) else {item.field: item.tolerance}
    return Wanted({item.field: item.expected}, tolerance)


def _got(item: Case | Check) -> dict[str, Value]:
    if isinstance(item, Check):
        return {item.field: check_got(item)}
    if isinstance(item, BoatCase):
        return boat_got(item)
    return rode_got(item) if isinstance(item, RodeCase) else shore_got(item)


def _fields(item: Case | Check) -> tuple[str, ...]:
    if isinstance(item, Check):
        return (item.field,)
    if isinstance(item, BoatCase):
        return boat_fields(item)
    return RODE_FIELDS if isinstance(item, RodeCase) else SHORE_FIELDS
