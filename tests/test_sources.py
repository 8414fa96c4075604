"""Every source cited is one we name, and every source named is cited."""

import ast
import re
import tomllib
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "src" / "shorefast"
FRAGMENTS = sorted(PACKAGE.rglob("sources.toml"))
STATUS = {"read", "from memory", "common practice"}
HEADING = re.compile(r"^\s*Source\n\s*------\n(.*?)(?=^\s*\S+\n\s*---+\n|\Z)", re.M | re.S)
# A citation begins an entry: at the start, after a semicolon, "with" or "and".
CITATION = re.compile(
    r"(?:\A|;|\bwith\b|\band\b)\s*([a-z0-9]+(?:-[a-z0-9]+)+)(?=\s*[,;.(]|\s+with|\s*\Z)"
)


def _named():
    return {
        key: entry
        for path in FRAGMENTS
        for key, entry in tomllib.loads(path.read_text(encoding="utf-8")).items()
    }


def _docstrings(path):
    kinds = (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, kinds) and (text := ast.get_docstring(node)):
            yield text


def _cited(path):
    for text in _docstrings(path):
        for section in HEADING.findall(text):
            yield from CITATION.findall(section.strip())


def test_every_source_cited_is_named():
    named = _named()
    missing = {
        f"{path.relative_to(PACKAGE)}: {key}"
        for path in PACKAGE.rglob("*.py")
        for key in _cited(path)
        if key not in named
    }
    assert sorted(missing) == []


def test_every_source_named_is_cited():
    texts = "\n".join(
        path.read_text(encoding="utf-8")
        for kind in ("*.py", "*.csv", "*.toml", "*.json")
        for path in PACKAGE.rglob(kind)
        if path.name != "sources.toml"
    )
    words = set(re.findall(r"[a-z0-9]+(?:-[a-z0-9]+)+", texts))
    assert sorted(set(_named()) - words) == []


def test_no_source_is_named_twice_differently():
    seen = {}
    for path in FRAGMENTS:
        for key, entry in tomllib.loads(path.read_text(encoding="utf-8")).items():
            assert seen.setdefault(key, entry) == entry, f"{path}: {key}"


@pytest.mark.parametrize("path", FRAGMENTS, ids=lambda path: path.parent.name)
def test_a_source_has_a_title_and_says_whether_it_was_read(path):
    for key, entry in tomllib.loads(path.read_text(encoding="utf-8")).items():
        assert entry["title"], key
        assert entry["status"] in STATUS, key
        assert {"title", "edition", "year", "status"} >= entry.keys(), key
