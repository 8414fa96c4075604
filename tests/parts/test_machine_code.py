"""Machine code is kept by the sources it can come from."""

from __future__ import annotations

from pathlib import Path

import shorefast
from shorefast import compiled

PACKAGE = Path(shorefast.__file__).parent


def reached(name):
    return {path.name for path in compiled.reached_from(PACKAGE / "mooring" / name)}


def test_a_file_reaches_what_its_imports_import():
    # batch imports settling, settling imports quick, quick imports cells
    assert {"batch.py", "settling.py", "quick.py", "cells.py"} <= reached("batch.py")


def test_a_file_reaches_none_of_those_that_use_it():
    assert "batch.py" not in reached("cells.py")


def copied(folder, name, text):
    path = folder / f"{name}.py"
    path.write_text(text)
    return path


def hash_of(path, monkeypatch):
    monkeypatch.setattr(compiled, "_PACKAGE", path.parent)
    for kept in (compiled._imported_by, compiled._digest, compiled.kernel_hash):
        kept.cache_clear()
    return compiled.kernel_hash(path)


def test_an_edit_two_imports_away_changes_the_folder(tmp_path, monkeypatch):
    last = copied(tmp_path, "last", "PULL = 1.0\n")
    copied(tmp_path, "middle", "from shorefast.last import PULL\n")
    first = copied(tmp_path, "first", "from shorefast.middle import PULL\n")
    before = hash_of(first, monkeypatch)
    assert hash_of(first, monkeypatch) == before
    last.write_text("PULL = 2.0\n")
    assert hash_of(first, monkeypatch) != before


def test_an_edit_elsewhere_changes_nothing(tmp_path, monkeypatch):
    other = copied(tmp_path, "other", "PULL = 1.0\n")
    first = copied(tmp_path, "first", "PULL = 2.0\n")
    before = hash_of(first, monkeypatch)
    other.write_text("PULL = 3.0\n")
    assert hash_of(first, monkeypatch) == before
