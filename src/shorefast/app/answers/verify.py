"""``shorefast verify``: the sums held against worked cases and published tables."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from shorefast.app.answer import Answer
from shorefast.app.verification import listing, run, tasks_of
from shorefast.basis import Basis


def answer_verify(
    paths: Sequence[Path] = (), progress: Callable[[int, int], None] | None = None
) -> Answer:
    """Run case files; with none given, those shipped and the published checks.

    Parameters
    ----------
    paths : sequence of Path
        Case files (JSON), or files of published checks (TOML).
    progress : callable, optional
        Called with how many cases are done, and of how many.

    Returns
    -------
    answer : Answer
        Keys ``passed`` and ``rows``; ``passed`` is False if any row is out.

    Raises
    ------
    Unreadable, BadInput
        If a file is not what it should be.
    """
    rows, findings = run(tasks_of(paths), progress)
    passed = all(row.passed is not False for row in rows)
    sources = tuple(dict.fromkeys(row.source for row in rows))
    said = "".join(f"\n{finding.where}: {finding.said}" for finding in findings)
    return Answer(
        command="verify",
        keys={"passed": passed, "rows": [row.keys for row in rows]},
        basis=Basis(sources=sources, findings=findings),
        text=listing(rows) + said,
        passed=passed,
    )
