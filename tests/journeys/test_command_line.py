"""The command line from outside: what it says when something is wrong, and its exit code."""

import json
import shutil
import subprocess
import sys
from importlib import resources
from pathlib import Path

import pytest

COVE = Path(str(resources.files("shorefast") / "demo" / "stone_spur"))
ANSWERED, OUR_FAULT, THE_INPUT, THE_FILE = range(4)


def shorefast(folder, *words):
    return subprocess.run(
        [sys.executable, "-m", "shorefast.app.cli", *words],
        cwd=folder,
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=120,
        check=False,
    )


@pytest.fixture(scope="module")
def cove(tmp_path_factory):
    folder = tmp_path_factory.mktemp("cove") / "stone_spur"
    shutil.copytree(COVE, folder)
    (folder / "boat_no_toml.toml").write_text("Quill, eleven metres\n", encoding="utf-8")
    stay = (folder / "stay.toml").read_text(encoding="utf-8")
    (folder / "no_toml.toml").write_text("lie at K until seven\n", encoding="utf-8")
    (folder / "empty.toml").write_text("", encoding="utf-8")
    (folder / "picture.toml").write_bytes(b"\x89PNG\r\n\x1a\n")
    for name, old, new in [
        ("wrong_boat.toml", '"boat.toml"', '"quill.toml"'),
        ("bad_boat.toml", '"boat.toml"', '"boat_no_toml.toml"'),
        ("no_unit.toml", "chain_out_m", "chain_out"),
        ("backwards.toml", "until_utc = 2026", "until_utc = 2016"),
    ]:
        assert old in stay
        (folder / name).write_text(stay.replace(old, new), encoding="utf-8")
    return folder


WRONG = {
    "no such file": (
        ["judge", "sty.toml"],
        THE_INPUT,
        "BadInput",
        "sty.toml: no such file, a stay file wanted. Correct the path.",
    ),
    "a folder": (
        ["judge", "bay"],
        THE_INPUT,
        "BadInput",
        "bay: a folder, a stay file wanted. Name the file in it.",
    ),
    "no TOML": (
        ["judge", "no_toml.toml"],
        THE_FILE,
        "Unreadable",
        "no_toml.toml: not TOML (Expected '=' after a key in a key/value pair "
        "(at line 1, column 5)). Correct that line; docs/files.md has an example.",
    ),
    "an empty file": (
        ["stand", "empty.toml"],
        THE_FILE,
        "Unreadable",
        "empty.toml: it is empty, TOML wanted. See docs/files.md for an example.",
    ),
    "a picture": (
        ["proof", "picture.toml"],
        THE_FILE,
        "Unreadable",
        "picture.toml: no UTF-8 text at byte 0, a stay file wanted. "
        "Save it as UTF-8, or name the right file.",
    ),
    "a boat that is not there": (
        ["judge", "wrong_boat.toml"],
        THE_INPUT,
        "BadInput",
        "wrong_boat.toml, line 3, boat: no file 'quill.toml', a boat file wanted. "
        "Correct the path; it counts from the stay file's folder.",
    ),
    "a boat file that is no TOML": (
        ["judge", "bad_boat.toml"],
        THE_FILE,
        "Unreadable",
        "boat_no_toml.toml: not TOML (Expected '=' after a key in a key/value pair "
        "(at line 1, column 6)). Correct that line; docs/files.md has an example.",
    ),
    "an end before the beginning": (
        ["judge", "backwards.toml"],
        THE_INPUT,
        "BadInput",
        "backwards.toml, line 6, until_utc: 2016-07-23 08:00 UTC, the stay begins "
        "2026-07-22 12:00 UTC. Give an end after the beginning.",
    ),
    "no command of that name": (
        ["lurk"],
        THE_INPUT,
        "BadInput",
        "shorefast: no such command 'lurk'. See shorefast --help.",
    ),
    "no file named": (
        ["judge"],
        THE_INPUT,
        "BadInput",
        "shorefast judge: missing argument 'STAY'. See shorefast judge --help.",
    ),
    "no option of that name": (
        ["judge", "stay.toml", "--fast"],
        THE_INPUT,
        "BadInput",
        "shorefast judge: no such option: --fast. See shorefast judge --help.",
    ),
    "a place by halves": (
        ["weather", "wind.csv", "--at", "47.5"],
        THE_INPUT,
        "BadInput",
        "--at: '47.5', LAT,LON wanted, with commas and decimal points. Write it like 59.52,5.21.",
    ),
}


@pytest.mark.parametrize(("words", "code", "kind", "sentence"), WRONG.values(), ids=WRONG)
def test_what_is_wrong_is_said_in_one_sentence(cove, words, code, kind, sentence):
    told = shorefast(cove, *words)
    assert (told.stderr.strip(), told.stdout, told.returncode) == (sentence, "", code)
    as_json = shorefast(cove, *words, "--json")
    error = json.loads(as_json.stdout)
    assert (error["schema"], error["kind"]) == ("shorefast/error/1", kind)
    assert (error["sentence"], as_json.stderr, as_json.returncode) == (sentence, "", code)


def test_without_a_command_it_tells_what_it_can_answer(tmp_path):
    told = shorefast(tmp_path)
    assert told.returncode == ANSWERED
    assert "Can she lie here, anchor down and lines ashore from the stern?" in told.stdout
    assert "Not for navigation." in told.stdout


def test_it_says_its_version(tmp_path):
    assert shorefast(tmp_path, "--version").stdout == "Shorefast 0.1.0\n"


@pytest.mark.parametrize(
    "command",
    [
        "demo",
        "judge",
        "choose",
        "ease",
        "stand",
        "proof",
        "chain",
        "sheet",
        "cards",
        "verify",
        "bay",
        "weather",
    ],
)
def test_the_help_of_every_command_carries_a_caution(tmp_path, command):
    from shorefast.wording import CAUTIONS_SHORT

    told = shorefast(tmp_path, command, "--help")
    assert told.returncode == ANSWERED
    assert any(text in told.stdout for text in CAUTIONS_SHORT)


def test_help_waits_for_no_heavy_library(tmp_path):
    asked = (
        "import sys, shorefast.app.cli; "
        "print([name for name in ('numba', 'scipy', 'rasterio', 'eccodes', 'netCDF4', 'typst', "
        "'pyproj', 'shapely') if name in sys.modules])"
    )
    told = subprocess.run(
        [sys.executable, "-c", asked], capture_output=True, text=True, timeout=60, check=True
    )
    assert told.stdout.strip() == "[]"


def test_the_sums_are_right_and_one_that_is_not_is_our_fault(tmp_path):
    shipped = resources.files("shorefast") / "cases" / "rode.json"
    cases = json.loads(shipped.read_text(encoding="utf-8"))
    right = cases["cases"][0]
    wrong = {
        **right,
        "expected": {**right["expected"], "H_bow_N": 1.1 * right["expected"]["H_bow_N"]},
    }
    whole = {**cases, "cases": [wrong]}
    (tmp_path / "wrong.json").write_text(json.dumps(whole), encoding="utf-8")
    told = shorefast(tmp_path, "verify", "wrong.json", "--json")
    assert (json.loads(told.stdout)["passed"], told.returncode) == (False, OUR_FAULT)


def test_the_weather_of_the_cove_is_told_as_json(cove):
    told = shorefast(cove, "weather", "wind.csv", "--at", "47.5,-40", "--json")
    answer = json.loads(told.stdout)
    assert (answer["schema"], told.returncode) == ("shorefast/weather/1", ANSWERED)
    assert len(answer["gust_mps"]) == len(answer["member"])
    assert len(answer["gust_mps"][0]) == len(answer["time_utc"])


def test_the_same_question_gives_the_same_answer_to_the_letter(cove):
    first, second = (
        shorefast(cove, "weather", "wind.csv", "--at", "47.5,-40", "--json").stdout
        for _ in range(2)
    )
    assert first == second
