"""Which of the updates beside a chart cell belong to it, and which are left out and why."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from shorefast.readers.chart_records import Issue, check_records, issue_of

_WITHDRAWN = 0


class Updates(NamedTuple):
    """The updates to apply, in their order, and what is said of all others."""

    apply: tuple[Path, ...]
    notes: tuple[str, ...]


def updates_of(path: Path) -> Updates:
    """The updates that lie beside a cell and change this very edition of it, one after another.

    An update of another edition, one the cell was already issued with, and all after a gap
    are left out and told; so is one that withdraws the chart. A file's own record counts,
    not its name.

    Raises
    ------
    Unreadable
        If the cell, or an update that would be applied, is damaged or cut short.

    Source
    ------
    iho-s57, Appendix B.1 (ENC product specification): edition and update number of new
    editions, re-issues, updates and cancellations; from memory
    """
    beside = _beside(path)
    check_records(path)
    if not beside:
        return Updates((), ())
    cell = issue_of(path)
    apply: list[Path] = []
    others: dict[str, list[str]] = {}
    for number, one in beside.items():
        last = cell.update + len(apply)
        why = _left_out(number, issue_of(one), cell, last)
        if why is None:
            check_records(one)
            apply.append(one)
        else:
            others.setdefault(why, []).append(one.name)
    return Updates(tuple(apply), tuple(f"{_named(names)} {why}" for why, names in others.items()))


def _named(names: Sequence[str]) -> str:
    return ", ".join(names) if len(names) < 4 else f"{names[0]} to {names[-1]} ({len(names)})"


def _left_out(number: int, update: Issue, cell: Issue, last: int) -> str | None:
    """Why an update cannot be applied after the update ``last``; None: it can."""
    older = f"the chart is older than it could be (applied up to {last})"
    if update.update != number:
        return f"left out: by its own record it is update {update.update}"
    if update.edition == _WITHDRAWN:
        return "withdraws the chart: its office no longer keeps it up"
    if update.edition != cell.edition:
        said = f"left out: of edition {update.edition}, the cell is of edition {cell.edition}"
        return said if update.edition < cell.edition else f"{said}: {older}"
    if number <= cell.update:
        return f"left out: the cell was issued anew with updates up to {cell.update} in it"
    if number > last + 1:
        return f"left out: update {last + 1} is missing beside it, {older}"
    return None


@contextmanager
def laid_out(path: Path, apply: tuple[Path, ...]) -> Iterator[Path]:
    """Where the cell lies with just these updates beside it, numbered from 1 on.

    The reader below takes whatever is numbered so; where something else lies beside the
    cell, it is given a folder of its own, gone afterwards.
    """
    wanted = dict(enumerate(apply, start=1))
    if _beside(path) == wanted:
        yield path
        return
    with TemporaryDirectory(prefix="shorefast-") as folder:
        stem = Path(folder) / path.stem
        alone = stem.with_suffix(path.suffix)
        _lay(path, alone)
        for number, one in wanted.items():
            _lay(one, stem.with_suffix(f".{number:03d}"))
        yield alone


def _lay(file: Path, there: Path) -> None:
    try:
        os.symlink(file.absolute(), there)
    except OSError:
        shutil.copyfile(file, there)


def _beside(path: Path) -> Mapping[int, Path]:
    """The update files beside a cell, by the number in their names."""
    stem = path.name[: -len(path.suffix)]
    found = {
        int(one.suffix[1:]): one
        for one in path.parent.iterdir()
        if one.name[: -len(one.suffix)] == stem and one.suffix[1:].isdecimal() and one != path
    }
    return {number: found[number] for number in sorted(found) if number > 0}
