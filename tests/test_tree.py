"""The tree as anybody clones it: no place of ours in it, no promise in its words."""

import ast
import re
import subprocess
from pathlib import Path

from typer.main import get_command

from shorefast.app.ask import COMMANDS
from shorefast.app.cli import app

ROOT = Path(__file__).parents[1]
# Written in two pieces, so that this file does not hold them.
FOLDERS = re.compile("(?<![\\w.])/(?:" + "|".join(("wor" + "k", "roo" + "t", "hom" + "e")) + ")/")
HOSTS = re.compile("|".join(("py" + "pi\\.", "python" + "hosted", "npm" + "js")))
PROMISES = re.compile(r"\b(safe|safely|allowed)\b", re.IGNORECASE)
TEXT = {".cfg", ".css", ".csv", ".json", ".md", ".py", ".sh", ".svg", ".toml", ".txt", ".yml", ""}


def _kept():
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    ).stdout.splitlines()
    return [path for name in listed if (path := ROOT / name).is_file()]


def _lines(paths):
    for path in paths:
        text = path.read_bytes().decode("utf-8", errors="replace")
        for number, line in enumerate(text.splitlines(), start=1):
            yield f"{path.relative_to(ROOT)}, line {number}", line


def _spoken(path):
    """Texts of a file that may reach a person: its strings without its docstrings."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    silent = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and id(node) not in silent:
            yield node.lineno, str(node.value)


def test_no_folder_of_one_machine_is_named():
    paths = [path for path in _kept() if path.suffix in TEXT]
    assert [where for where, line in _lines(paths) if FOLDERS.search(line)] == []


def test_no_package_registry_is_named():
    paths = [path for path in _kept() if path.suffix in TEXT]
    assert [where for where, line in _lines(paths) if HOSTS.search(line)] == []


def test_the_pinned_requirements_hold_no_address():
    pinned = sorted((ROOT / "requirements").iterdir())
    assert pinned
    assert [where for where, line in _lines(pinned) if "://" in line] == []


def test_no_lock_file_with_addresses_is_kept():
    assert [path.name for path in _kept() if path.name in ("uv.lock", "pylock.toml")] == []


def test_no_text_promises_what_only_the_skipper_can_decide():
    promises = [
        f"{path.relative_to(ROOT)}, line {number}: {text[:60]}"
        for path in (ROOT / "src").rglob("*.py")
        for number, text in _spoken(path)
        if PROMISES.search(text)
    ]
    catalogues = [path for path in (ROOT / "src").rglob("*.toml") if path.name != "sources.toml"]
    promises += [where for where, line in _lines(catalogues) if PROMISES.search(line)]
    assert promises == []


def test_the_command_line_has_every_command_of_the_library():
    assert sorted(get_command(app).commands) == sorted(COMMANDS)


def test_every_command_has_help_and_a_place_in_the_docs():
    docs = (ROOT / "docs" / "commands.md").read_text(encoding="utf-8")
    for name, command in get_command(app).commands.items():
        assert command.help, name
        assert f"## {name}" in docs, name


def test_the_version_is_the_same_everywhere():
    project = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    basis = (ROOT / "src" / "shorefast" / "basis.py").read_text(encoding="utf-8")
    version = re.search(r'^version = "([^"]+)"', project, re.MULTILINE)
    assert version is not None
    assert f'VERSION = "{version.group(1)}"' in basis
    assert f"## {version.group(1)}" in (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")


def test_the_read_me_stays_short():
    assert len((ROOT / "README.md").read_text(encoding="utf-8").splitlines()) < 120
