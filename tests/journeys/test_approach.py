"""``shorefast approach`` from outside: its answer for people, its JSON, what it says when wrong."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import shorefast as sf

DEMO = Path(sf.__file__).parent / "demo"
CALLS = "The calls, metres from the stern to the high-water line; how the chain leads:"
ANSWERED, OUR_FAULT, THE_INPUT, THE_FILE = range(4)


def shorefast(folder, *words):
    return subprocess.run(
        [sys.executable, "-m", "shorefast.app.cli", *words],
        cwd=folder,
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=240,
        check=False,
    )


@pytest.fixture(scope="module")
def cove(tmp_path_factory):
    """The spur with three members."""
    folder = tmp_path_factory.mktemp("approach") / "cove"
    shutil.copytree(DEMO / "stone_spur", folder)
    head, *rows = (folder / "wind.csv").read_text(encoding="utf-8").splitlines()
    some = [row for row in rows if row.rsplit(",", 1)[1] in ("0", "1", "2")]
    (folder / "wind.csv").write_text("\n".join([head, *some]) + "\n", encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def told(cove):
    done = shorefast(cove, "approach", "stay.toml")
    assert done.returncode == ANSWERED, done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def keys(cove):
    done = shorefast(cove, "approach", "stay.toml", "--json")
    assert done.returncode == ANSWERED, done.stderr
    return json.loads(done.stdout)


def test_the_first_line_is_what_to_do_and_the_judgement_stands_beside_it(told, keys):
    rows = told.splitlines()
    assert rows[0] == f"10:00: {keys['sentence']}"
    assert rows[0].startswith("10:00: Astern along ")
    assert rows[1].startswith("As judged: ")


def test_look_round_start_crosswind_way_out_and_calls_are_told(told):
    for words in (
        "Look round first: pass along ", "Room to turn where the run begins: ", "Begin ",
        "Astern her stern walks to ", "Across her way: ", "no thruster is fitted",
        'Anybody may call "abort", and nobody argues.', "Way out if broken off: ",
        CALLS, "at least 95 times in 100",
        "let go", "on the bottom: two metres more now",
        "stop here; hold the chain", "stern lines on: prove",
    ):  # fmt: skip
        assert words in told
    assert "nan" not in told and "inf" not in told.replace("inform", "")


def test_the_cautions_stand_where_hands_and_swimmers_are_told_of_and_in_the_help(cove, told):
    stopped = "The engine is STOPPED, and called stopped, while anyone is in the water"
    bight = "No line round a body. Nobody in a bight or in the line of pull."
    assert stopped in told and bight in told
    assert told.index("The calls, metres") < told.index(stopped) < told.index("Noticed:")
    shown = " ".join(shorefast(cove, "approach", "--help").stdout.split())
    assert "How is she brought in?" in shown
    for word in ("STOPPED", "bight"):
        assert word in shown.replace("\u2502", " ")


def test_the_table_of_calls_fits_a_terminal_and_counts_down(told):
    rows = told.splitlines()
    first = rows.index(CALLS) + 3
    table = [row for row in rows[first:] if " m " in row[:10]]
    off_m = [float(row.split()[0]) for row in table[:6]]
    assert off_m == sorted(off_m, reverse=True)
    assert max(map(len, table)) <= 96


def test_the_json_says_the_same_as_the_text(told, keys):
    assert keys["schema"] == "shorefast/approach/1"
    calls = keys["calls"]
    assert [call["number"] for call in calls] == list(range(1, len(calls) + 1))
    assert calls[0]["kind"] == "let go" and calls[0]["t_s"] == 0.0
    assert calls[1]["t_s"] == pytest.approx(keys["fall_s"])
    assert f"let go {round(keys['let_go_off_m'])} m off" in told
    assert keys["crosswind"]["most_thruster_mps"] is None
    assert keys["crosswind"]["from_right"] is (keys["windward_side"] == "port")


def test_without_an_engine_it_says_what_to_add(cove):
    text = (cove / "boat.toml").read_text(encoding="utf-8")
    head, _, rest = text.partition("[engine]")
    after = rest[rest.index("\n[") + 1 :]
    while after.startswith("[[engine"):
        after = after[after.index("\n[", 1) + 1 :]
    (cove / "no_engine.toml").write_text(head + after, encoding="utf-8")
    stay = (cove / "stay.toml").read_text(encoding="utf-8")
    assert "boat.toml" in stay
    (cove / "rowed.toml").write_text(stay.replace("boat.toml", "no_engine.toml"), encoding="utf-8")
    done = shorefast(cove, "approach", "rowed.toml")
    assert done.returncode == THE_INPUT
    said = " ".join(done.stderr.split())
    assert "no [engine], this question is about her under engine." in said
    assert "Add [engine] with power and propeller to the boat file." in said


def test_a_windlass_nobody_timed_is_said(cove):
    text = (cove / "boat.toml").read_text(encoding="utf-8")
    rows = [row for row in text.splitlines() if not row.startswith("veer_mps")]
    (cove / "untimed.toml").write_text("\n".join(rows) + "\n", encoding="utf-8")
    stay = (cove / "stay.toml").read_text(encoding="utf-8")
    (cove / "slow.toml").write_text(stay.replace("boat.toml", "untimed.toml"), encoding="utf-8")
    done = shorefast(cove, "approach", "slow.toml", "--json")
    assert done.returncode == ANSWERED, done.stderr
    said = [one["said"] for one in json.loads(done.stdout)["basis"]["assumptions"]]
    assert "Nobody says how fast the windlass veers; 15 m a minute is taken" in said


def test_a_bed_nobody_sounded_is_told_as_that(cove):
    stay = (cove / "stay.toml").read_text(encoding="utf-8")
    far = stay.replace("east_m = -49.5, north_m = 49.5", "east_m = -3000, north_m = 3000")
    assert far != stay
    (cove / "far.toml").write_text(far, encoding="utf-8")
    done = shorefast(cove, "approach", "far.toml")
    assert done.returncode == THE_INPUT
    assert "the depth where the anchor goes is unknown" in done.stderr
