"""``shorefast able`` from outside: its table, its JSON, its picture, what it says when wrong."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import shorefast as sf
from shorefast.app.answer import to_json

DEMO = Path(sf.__file__).parent / "demo"
ANSWERED, OUR_FAULT, THE_INPUT, THE_FILE = range(4)
NAMES = ("grey_notch", "stone_spur", "tres_sombras")


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
def notch(tmp_path_factory):
    folder = tmp_path_factory.mktemp("able") / "notch"
    shutil.copytree(DEMO / "grey_notch", folder)
    text = (folder / "boat.toml").read_text(encoding="utf-8")
    bare = re.sub(r"\[(engine|windlass)\]\n(?:.+\n)+", "", text)
    bare = re.sub(r"\[\[line\]\]\n(?:.+\n)+", "", bare)
    assert "[engine]" not in bare and "[windlass]" not in bare and "[[line]]" not in bare
    (folder / "bare.toml").write_text(bare, encoding="utf-8")
    short = text.replace("length_m = 80", "length_m = 4")
    assert short != text
    (folder / "short.toml").write_text(short, encoding="utf-8")
    (folder / "neither.toml").write_text('name = "Salt Thistle"\n', encoding="utf-8")
    return folder


@pytest.mark.parametrize("name", NAMES)
def test_the_boat_alone_is_answered_within_the_width_of_a_terminal(name):
    told = sf.able(DEMO / name / "boat.toml").text
    table = told.partition("\nNoticed:")[0]
    assert max(map(len, table.splitlines())) <= 96
    for words in (
        "the shank stays down up to", "Steady wind on the bow that pulls as hard:",
        "Steady wind abeam that pulls as hard:", "pulls the anchor down its slope",
        "Chain out that keeps the shank down in a steady wind ahead:", "full astern",
        "How far her stern can lie from the points ashore:", "run free",
        "go astern no faster than", "Adrift beam-on, masts bare:",
    ):  # fmt: skip
        assert words in table


def test_the_first_sentence_is_what_the_table_says_of_twenty_metres():
    told = sf.able(DEMO / "grey_notch" / "boat.toml")
    first = " ".join(told.text.partition("\n\n")[0].split())
    level = told.keys["slope_rad"].tolist().index(0.0)
    twenty = told.keys["depth_m"].tolist().index(20.0)
    pull_kg = float(told.keys["chain"][0]["pull_n"][twenty, level]) / 9.80665
    said = re.search(r"up to (\d+) kg of steady pull", first)
    assert said is not None
    # two digits are said
    assert float(said[1]) == pytest.approx(pull_kg, abs=5.0)


def test_every_cell_of_every_table_carries_its_unit_or_a_word():
    told = sf.able(DEMO / "stone_spur" / "boat.toml").text
    rows = [row for row in told.splitlines() if re.match(r"  \d+ (m|kn) ", row)]
    assert len(rows) > 50
    cell = re.compile(
        r"(\d+(\.\d+)?( to \d+(\.\d+)?)?|\d+-\d+|\d+\+) (kg\*?|kn|m|s|min)"
        r"|too deep|no room|[\d.]+, give or take [\d.]+ kn"
    )
    for row in rows:
        for part in re.split(r"\s{2,}", row.strip()):
            assert cell.fullmatch(part), (part, row)


def test_of_a_stay_the_chain_it_has_out_is_told_too():
    alone = sf.able(DEMO / "grey_notch" / "boat.toml", [64.0])
    of_stay = sf.able(DEMO / "grey_notch" / "stay.toml")
    assert [one["chain_out_m"] for one in of_stay.keys["chain"]] == [None, 64.0]
    assert "lifts, 64 m out:" in of_stay.text
    assert to_json(alone).partition('"chain"')[2] == to_json(of_stay).partition('"chain"')[2]


def test_a_length_asked_twice_is_told_once():
    told = sf.able(DEMO / "grey_notch" / "stay.toml", [64.0, 30.0, 30.0])
    assert [one["chain_out_m"] for one in told.keys["chain"]] == [None, 64.0, 30.0]


def test_the_json_has_its_keys_its_shapes_and_no_nan():
    def refused(word):
        raise AssertionError(f"{word} is no JSON")

    told = sf.able(DEMO / "stone_spur" / "boat.toml", [30.0])
    keys = json.loads(to_json(told), parse_constant=refused)
    assert list(keys) == [
        "schema", "version", "basis", "findings", "boat", "aboard_m", "reserve_m", "depth_m",
        "slope_rad", "chain", "needed", "engine", "lines", "windlass", "fall", "leeway",
    ]  # fmt: skip
    assert keys["schema"] == "shorefast/able/1"
    depths, slopes = len(keys["depth_m"]), len(keys["slope_rad"])
    assert (depths, slopes) == (9, 8)
    for one in keys["chain"]:
        assert list(one) == ["chain_out_m", "pull_n", "out_m", "why", "ahead", "abeam"]
        rows = (one["pull_n"], one["out_m"], one["why"], *one["ahead"].values())
        assert all((len(row), len(row[0])) == (depths, slopes) for row in rows)
        for pulls, words in zip(one["pull_n"], one["why"], strict=True):
            for pull, why in zip(pulls, words, strict=True):
                assert why in {"all out", "less out", "too deep", "no room"}
                assert (pull is None) == (why in {"too deep", "no room"})
    needed = keys["needed"]
    assert list(needed) == ["wind_mps", "pull_n", "out_m", "too_deep_m"]
    assert len(needed["out_m"][0][0]) == len(needed["wind_mps"]) == 6
    assert len(needed["too_deep_m"]) == slopes
    assert list(keys["engine"]) == [
        "ahead_n", "astern_n", "ahead", "abeam", "keeps_down_m", "source",
    ]  # fmt: skip
    assert len(keys["engine"]["keeps_down_m"]) == slopes
    assert [list(one) for one in keys["lines"]] == [
        ["line", "length_m", "led_rad", "single_m", "doubled_m"]
    ] * 3
    assert list(keys["windlass"]) == [
        "hanging_n", "pull_n", "lifts_from_m", "heave_mps", "veer_mps", "all_m", "heave_all_s",
        "veer_all_s", "up_s",
    ]  # fmt: skip
    assert list(keys["fall"]) == ["motor_s", "free_low_s", "free_high_s"]
    assert list(keys["leeway"]) == [
        "wind_mps", "speed_mps", "low_mps", "high_mps", "printed_mps", "scatter_mps",
    ]  # fmt: skip


def test_what_her_file_does_not_tell_is_told_as_unknown(notch):
    told = sf.able(notch / "bare.toml")
    keys = json.loads(to_json(told))
    assert keys["engine"] is None and keys["lines"] == []
    windlass = keys["windlass"]
    assert windlass["pull_n"] is windlass["heave_all_s"] is windlass["veer_mps"] is None
    assert keys["fall"]["motor_s"] == [None] * 9
    text = " ".join(told.text.split())
    for words in (
        "What the engine can prove is unknown: give [engine] in the boat file.",
        "unknown: no [[line]] aboard",
        "It pulls unknown: give [windlass] pull_n.",
        "Time to heave is unknown: give [windlass] heave_mps.",
        "Time to veer, and the speed astern, are unknown: give [windlass] veer_mps.",
    ):
        assert words in text


@pytest.mark.parametrize("palette", ["print", "day", "night"])
def test_the_picture_is_written_as_drawing_and_as_print(notch, tmp_path, palette):
    run = shorefast(notch, "able", "boat.toml", "--out", str(tmp_path), "--palette", palette)
    assert run.returncode == ANSWERED, run.stderr
    drawn, printed = tmp_path / "able.svg", tmp_path / "able.pdf"
    assert f"Written: {drawn}" in run.stdout and f"Written: {printed}" in run.stdout
    assert "Salt Thistle: what she can do" in drawn.read_text(encoding="utf-8")
    assert printed.read_bytes()[:5] == b"%PDF-"
    first = (drawn.read_bytes(), printed.read_bytes())
    sf.able(notch / "boat.toml", out=tmp_path, palette=palette)
    assert (drawn.read_bytes(), printed.read_bytes()) == first


def test_the_picture_of_a_bare_boat_is_drawn_too(notch, tmp_path):
    sf.able(notch / "bare.toml", out=tmp_path)
    drawn = (tmp_path / "able.svg").read_text(encoding="utf-8")
    assert "no lines in her file" in drawn and "full astern" not in drawn


def test_the_help_shows_the_cautions(notch):
    run = shorefast(notch, "able", "--help")
    assert run.returncode == ANSWERED
    for words in ("Not for navigation.", "A proof counts", "sound under the stern"):
        assert words in run.stdout


WRONG = {
    "more chain than is aboard": (
        ["boat.toml", "--chain-out", "90"],
        THE_INPUT,
        "Rode: 90 m asked, 80 m aboard. Give 80 m or less, or add the missing length to the"
        " gear list.",
    ),
    "no chain out": (
        ["boat.toml", "--chain-out", "0"],
        THE_INPUT,
        "--chain-out: 0 m, more than 0 wanted. Give what is out in metres.",
    ),
    "no length": (
        ["boat.toml", "--chain-out", "nan"],
        THE_INPUT,
        "--chain-out: nan m, more than 0 wanted. Give what is out in metres.",
    ),
    "less rode than stays inboard": (
        ["short.toml"],
        THE_INPUT,
        "Salt Thistle, rode: 4 m aboard, 5 m of it stay inboard. Add the missing length to the"
        " boat file.",
    ),
    "a file that is neither": (
        ["neither.toml"],
        THE_INPUT,
        "neither.toml: neither a [hull] nor a boat, a boat file or a stay file wanted. Name one"
        " of these.",
    ),
    "no such file": (
        ["quill.toml"],
        THE_INPUT,
        "quill.toml: no such file, a boat or stay file wanted. Correct the path.",
    ),
    "no such palette": (
        ["boat.toml", "--out", "drawn", "--palette", "noon"],
        THE_INPUT,
        "Palette: 'noon', one of day, night, print wanted. Take one of these.",
    ),
    "a file for a folder": (
        ["boat.toml", "--out", "boat.toml"],
        THE_INPUT,
        "--out boat.toml: boat.toml is a file, a folder wanted. Name another folder.",
    ),
}


@pytest.mark.parametrize("what", sorted(WRONG))
def test_a_mistake_is_answered_by_one_sentence_and_its_exit_code(notch, what):
    words, code, sentence = WRONG[what]
    run = shorefast(notch, "able", *words)
    assert (run.returncode, run.stdout, run.stderr.strip()) == (code, "", sentence)
