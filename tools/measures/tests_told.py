"""What the tests of a folder hold, told from their names and the comments above them."""

from __future__ import annotations

import ast
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Told:
    """One test: its name as a sentence, the source or reason beside it, file, whether drawn."""

    sentence: str
    beside: str
    where: str
    drawn: bool


def told_in(folder: Path) -> list[Told]:
    """Every test of a folder, file by file in the order of their lines."""
    return [test for path in sorted(folder.glob("test_*.py")) for test in _in_file(path)]


def _in_file(path: Path) -> list[Told]:
    text = path.read_text(encoding="utf-8")
    lines = text.splitlines()
    tests = []
    for node in ast.parse(text).body:
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_"):
            first = min([node.lineno, *(mark.lineno for mark in node.decorator_list)])
            marks = [ast.unparse(mark) for mark in node.decorator_list]
            tests.append(
                Told(
                    sentence=node.name.removeprefix("test_").replace("_", " "),
                    beside=_beside(lines, first) or _docstring(node),
                    where=path.name,
                    drawn=any(mark.startswith("given(") for mark in marks),
                )
            )
    return tests


def _beside(lines: list[str], first: int) -> str:
    """The comment right above a test's first line."""
    above: list[str] = []
    for line in reversed(lines[: first - 1]):
        if not line.startswith("#"):
            break
        above.insert(0, line.lstrip("# ").rstrip())
    return " ".join(above).replace("|", "/")


def _docstring(node: ast.FunctionDef) -> str:
    return (ast.get_docstring(node) or "").split("\n")[0].replace("|", "/")
