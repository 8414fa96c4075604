"""Bad and extreme inputs to the command line: an exit code and one sentence each, or an answer.

The table is ``tests/files/bad_inputs.toml``: each case is a shipped stay (or a bare file)
with one thing about it changed, the words of the command, and what has to be said.
"""

import contextlib
import errno
import io
import json
import os
import shutil
import subprocess
import sys
import tomllib
from importlib import resources
from pathlib import Path

import pytest

from shorefast.app import cli

COVE = Path(str(resources.files("shorefast") / "demo" / "stone_spur"))
FILES = Path(__file__).parents[1] / "files"
CASES = {
    case["name"]: case
    for case in tomllib.loads((FILES / "bad_inputs.toml").read_text(encoding="utf-8"))["case"]
}
ANSWERED, OUR_FAULT, THE_INPUT, THE_FILE = range(4)
UNKNOWN = "Unknown: nobody can say from this whether she can lie here."


def _round_the_berth(soundings):
    """Every third row and column of the soundings there, so that the bed is drawn fast."""
    head, *rows = soundings.read_text(encoding="utf-8").splitlines()
    places = [tuple(map(float, row.split(",")[:2])) for row in rows]
    columns, lines = (
        {value: n for n, value in enumerate(sorted({place[axis] for place in places}))}
        for axis in (0, 1)
    )
    kept = [
        row
        for row, (lon, lat) in zip(rows, places, strict=True)
        if columns[lon] % 3 == lines[lat] % 3 == 0
        and -40.0012 < lon < -39.9997
        and 47.4997 < lat < 47.5010
    ]
    soundings.write_text("\n".join([head, *kept]) + "\n", encoding="utf-8")


@pytest.fixture(scope="module")
def good_cove(tmp_path_factory):
    """Stone Spur Cove for one member and four hours; other kinds of file lie beside it."""
    folder = tmp_path_factory.mktemp("good") / "cove"
    shutil.copytree(COVE, folder)
    _round_the_berth(folder / "bay" / "soundings.csv")
    head, *rows = (folder / "wind.csv").read_text(encoding="utf-8").splitlines()
    one = [row for row in rows if row.endswith(",0")][:6]
    (folder / "wind.csv").write_text("\n".join([head, *one]) + "\n", encoding="utf-8")
    stay = folder / "stay.toml"
    text = stay.read_text(encoding="utf-8")
    stay.write_text(text.replace("2026-07-23T08:00:00Z", "2026-07-22T16:00:00Z"), encoding="utf-8")
    shutil.copy(COVE.parent / "grey_notch" / "forecast.nc", folder)
    for kept in (
        "forecasts/point_forecast.json",
        "forecasts/gfs_wind_in_one_message.grib2",
        "bay/samos_strait_15s.asc",
    ):
        shutil.copy(FILES / kept, folder)
    shutil.copy(resources.files("shorefast") / "cases" / "boat.json", folder)
    return folder


def _replace(path, change):
    text = path.read_text(encoding="utf-8")
    assert text.count(change["old"]) >= 1, f"{change['old']!r} is not in {path.name}"
    path.write_text(text.replace(change["old"], change["new"]), encoding="utf-8")


def _every_row(path, change):
    """One cell changed in every row under the head."""
    head, *rows = path.read_text(encoding="utf-8").splitlines()
    place = head.split(",").index(change["column"])
    cells = [row.split(",") for row in rows]
    for row in cells:
        row[place] = change["every"].format(row[place])
    path.write_text("\n".join([head, *map(",".join, cells)]) + "\n", encoding="utf-8")


def _folder(path, _):
    path.unlink(missing_ok=True)
    path.mkdir()


CHANGES = {
    "old": _replace,
    "every": _every_row,
    "text": lambda path, change: path.write_text(change["text"], encoding="utf-8"),
    "hex": lambda path, change: path.write_bytes(bytes.fromhex(change["hex"])),
    "first_bytes": lambda path, c: path.write_bytes(path.read_bytes()[: c["first_bytes"]]),
    "first_rows": lambda path, change: path.write_bytes(
        b"".join(path.read_bytes().splitlines(keepends=True)[: change["first_rows"]])
    ),
    "before": lambda path, change: path.write_bytes(
        bytes.fromhex(change["before"]) + path.read_bytes()
    ),
    "line_ends": lambda path, c: path.write_bytes(
        path.read_bytes().replace(b"\n", c["line_ends"].encode())
    ),
    "encoding": lambda path, c: path.write_bytes(
        path.read_text(encoding="utf-8").encode(c["encoding"])
    ),
    "folder": _folder,
    "gone": lambda path, _: path.unlink(),
    "to": lambda path, change: path.rename(path.parent / change["to"]),
}


def _changed(good_cove, tmp_path, case):
    folder = tmp_path / case.get("folder", "cove")
    shutil.copytree(good_cove, folder)
    for change in case.get("change", []):
        kind = next(key for key in CHANGES if key in change)
        CHANGES[kind](folder / change["in"], change)
    return folder


def _inside(folder, words):
    """Run the command line's own main in this process."""
    out, err = io.StringIO(), io.StringIO()
    was, argv = Path.cwd(), sys.argv
    os.chdir(folder)
    sys.argv = ["shorefast", *words]
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            cli.main()
    except SystemExit as left:
        return out.getvalue(), err.getvalue(), left.code or 0
    finally:
        sys.argv = argv
        os.chdir(was)
    raise AssertionError("main always leaves by an exit code")


def _outside(folder, words):
    """Run it as a person does, in a process of its own."""
    told = subprocess.run(
        [sys.executable, "-m", "shorefast.app.cli", *words],
        cwd=folder,
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=120,
        check=False,
    )
    return told.stdout, told.stderr, told.returncode


def _ask(folder, case, *more):
    words = [*case.get("words", ["judge", "stay.toml"]), *more]
    out, err, code = (_outside if case.get("outside") else _inside)(folder, words)
    assert "Traceback" not in out + err
    assert "Warning" not in out + err
    return out, err, code


REFUSED = {name: case for name, case in CASES.items() if "says" in case}
ANSWERS = {name: case for name, case in CASES.items() if "says" not in case}


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_is_refused_in_one_sentence(good_cove, tmp_path, name):
    case = CASES[name]
    out, err, code = _ask(_changed(good_cove, tmp_path, case), case)
    assert (err.strip(), out, code) == (case["says"], "", case["code"])
    assert code in (THE_INPUT, THE_FILE)


@pytest.fixture(scope="module")
def good_answer(good_cove):
    return json.loads(_inside(good_cove, ["judge", "stay.toml", "--json"])[0])


@pytest.mark.parametrize("name", ANSWERS)
def test_what_is_odd_or_unknown_is_answered_and_said(good_cove, good_answer, tmp_path, name):
    case = CASES[name]
    out, err, code = _ask(_changed(good_cove, tmp_path, case), case, "--json")
    answer = json.loads(out)
    assert (err, code) == ("", ANSWERED)
    assert answer.get("verdict") == case.get("verdict")
    if case.get("unchanged"):
        assert answer["sentence"] == good_answer["sentence"]
    if case.get("verdict") == "unknown":
        assert answer["sentence"].startswith(UNKNOWN)
    found = [f"{one['where']}: {one['said']}" for one in answer["findings"]]
    assert [said for said in case.get("findings", []) if said not in found] == []


def test_a_refusal_is_the_same_sentence_in_json(good_cove, tmp_path):
    case = CASES["more chain than aboard"]
    out, err, code = _ask(_changed(good_cove, tmp_path, case), case, "--json")
    error = json.loads(out)
    assert (error["kind"], error["sentence"], err) == ("BadInput", case["says"], "")
    assert (error["got"], error["against"], code) == ("60 m asked", "50 m aboard", THE_INPUT)


def test_a_folder_nobody_may_write_to_is_told_before_the_long_sums(good_cove, monkeypatch):
    may_not_write = {os.F_OK: True, os.R_OK: True, os.X_OK: True, os.W_OK: False}
    monkeypatch.setattr(os, "access", lambda _, way: may_not_write[way])
    out, err, code = _inside(good_cove, ["sheet", "stay.toml", "--out", "."])
    assert (err.strip(), out, code) == (
        "--out .: nobody may write there. Name another folder, or open it.",
        "",
        THE_INPUT,
    )


def test_a_folder_that_cannot_be_made_is_told(good_cove, monkeypatch):
    def refused(*_, **__):
        raise PermissionError(errno.EACCES, "Permission denied", "sheets")

    monkeypatch.setattr(Path, "mkdir", refused)
    out, err, code = _inside(good_cove, ["sheet", "stay.toml", "--out", "sheets"])
    assert (err.strip(), out, code) == (
        "sheets: permission denied. Give another path, or make it readable and writable "
        "with room on the disk.",
        "",
        THE_INPUT,
    )
