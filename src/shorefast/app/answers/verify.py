"""``shorefast verify``: the sums held against worked cases and published tables."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from pathlib import Path

from shorefast.app.answer import Answer
from shorefast.app.verification import listing, page, run, tasks_of
from shorefast.basis import Basis
from shorefast.errors import BadInput


def answer_verify(
    paths: Sequence[Path] = (),
    progress: Callable[[int, int], None] | None = None,
    out: Path | None = None,
) -> Answer:
    """Run case files; with none given, those shipped and the published checks.

    Parameters
    ----------
    paths : sequence of Path
        Case files (JSON), or files of published checks (TOML).
    progress : callable, optional
        Called with how many cases are done, and of how many.
    out : Path, optional
        A file to write the tables to, as Markdown; what is there is overwritten.

    Returns
    -------
    answer : Answer
        Keys ``passed`` and ``rows``; ``passed`` is False if any row is out.

    Raises
    ------
    Unreadable, BadInput
        If a file is not what it should be, or ``out`` is a folder or has none.
    """
    tasks = tasks_of(paths)
    if out is not None:
        _look_at(out)
    rows, findings = run(tasks, progress)
    if out is not None:
        out.write_text(page(tasks, rows), encoding="utf-8")
    passed = all(row.passed is not False for row in rows)
    sources = tuple(dict.fromkeys(row.source for row in rows))
    said = "".join(f"\n{finding.where}: {finding.said}" for finding in findings)
    said += f"\nWritten: {out}" if out is not None else ""
    return Answer(
        command="verify",
        keys={"passed": passed, "rows": [row.keys for row in rows]},
        basis=Basis(sources=sources, findings=findings),
        text=listing(rows) + said,
        passed=passed,
    )


def _look_at(out: Path) -> None:
    """Whether a page can be written there: told before the long sums and not after."""
    if out.is_dir():
        raise BadInput(f"--out {out}", "it is a folder", "a file wanted", "Name a file in it.")
    if not out.parent.is_dir():
        raise BadInput(
            f"--out {out}", f"there is no folder {out.parent}", "", "Make it, or name another."
        )
    if not os.access(out if out.exists() else out.parent, os.W_OK):
        raise BadInput(f"--out {out}", "nobody may write there", "", "Name another file.")
