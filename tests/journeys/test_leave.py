"""``shorefast leave`` from outside: its answer for people, its JSON, what it says when wrong."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import shorefast as sf

DEMO = Path(sf.__file__).parent / "demo"
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
    """The day behind the spur, three members, and a stay without a lie."""
    folder = tmp_path_factory.mktemp("leave") / "cove"
    shutil.copytree(DEMO / "stone_spur", folder)
    head, *rows = (folder / "wind.csv").read_text(encoding="utf-8").splitlines()
    some = [row for row in rows if row.rsplit(",", 1)[1] in ("0", "1", "2")]
    (folder / "wind.csv").write_text("\n".join([head, *some]) + "\n", encoding="utf-8")
    text = (folder / "stay_k_day.toml").read_text(encoding="utf-8")
    (folder / "open.toml").write_text(text[: text.index("[lie]")], encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def told(cove):
    done = shorefast(cove, "leave", "stay_k_day.toml", "--at", "16:00")
    assert done.returncode == ANSWERED, done.stderr
    return done.stdout


def test_the_first_line_is_the_answer_and_the_judgement_stands_beside_it(told):
    rows = told.splitlines()
    assert rows[0].startswith("Leaving at 16:00 is possible, in gusts of ")
    assert rows[1].startswith("In an hour: Leaving at 17:00 is possible")
    assert rows[2] == "At first light: the stay does not reach to then."
    assert any(row.startswith("Lying on: ") for row in rows)


def test_order_room_way_out_hours_and_both_drills_are_told(told):
    for words in (
        "Let go in this order, in the wind of this hour:", "goes last: double it back before",
        "Shortest on her way out under engine: ",
        "Way out from over the anchor, and off if it goes wrong: ",
        "If the engine does nothing, she lies to her chain:", "possible  gusts",
        "Dragging, or no time: the engine first. Do not heave in",
        "Another's chain across ours:", "no hand on a chain under load",
    ):  # fmt: skip
        assert words in told


def test_the_table_of_hours_stays_within_the_width_of_a_terminal(told):
    rows = told.splitlines()
    first = next(k for k, row in enumerate(rows) if "possible  gusts" in row)
    table = rows[first : first + 20]
    assert table[1].split()[0] == "10:00"
    assert table[-1].split()[0] == "19:00"
    assert max(map(len, table)) <= 100


def test_its_json_begins_with_what_was_promised(cove):
    done = shorefast(cove, "leave", "stay_k_day.toml", "--at", "16:00", "--json")
    keys = json.loads(done.stdout)
    assert keys["schema"] == "shorefast/leave/1"
    assert list(keys)[4:] == [
        "now", "in_an_hour", "first_light", "hours", "order", "doubled_back", "room", "drill",
        "cut", "possible_until_utc", "next_possible_utc", "judge",
    ]  # fmt: skip
    now = keys["now"]
    assert now["at_utc"] == "2026-07-22T18:00:00Z"
    assert now["feasible"] == "yes"
    assert list(now["order"][0]) == [
        "number", "name", "how", "who", "pull_n", "share", "takes_s", "loaded",
    ]  # fmt: skip
    assert now["order"][-1]["share"] is None
    assert len(keys["hours"]) == 19
    assert keys["first_light"] is None
    assert keys["judge"]["verdict"] == "holds"
    assert list(keys["room"]) == ["heaving", "held", "out", "swing"]
    assert [step["number"] for step in keys["drill"]["steps"]] == list(range(1, 10))


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (
            ("stay_k_day.toml", "--at", "2026-07-25T12:00"),
            "--at: 2026-07-25T12:00, the stay runs from 2026-07-22T10:00 to 2026-07-22T19:00."
            " Give a time within it.",
        ),
        (
            ("stay_k_day.toml", "--at", "noonish"),
            "--at: 'noonish', a time like 21:40 or 2026-07-01T21:40 wanted. Give it on the"
            " place's clock, or with its offset (Z for UTC).",
        ),
        (
            ("open.toml",),
            "Stone Spur Cove, Pardell Skerries: no [lie] given, this question is about one lie."
            " Add [lie] with let_go, chain_out_m, heading_deg and its lines.",
        ),
    ],
)
def test_a_wrong_question_is_answered_with_what_to_do(cove, words, sentence):
    done = shorefast(cove, "leave", *words)
    assert done.returncode == THE_INPUT
    assert done.stderr.strip() == sentence


def test_its_help_carries_the_cautions(cove):
    told = shorefast(cove, "leave", "--help").stdout
    assert "Can she leave, and how?" in told
    for words in ("Engine STOPPED", "in the line of pull", "decide before dark"):
        assert words in told
