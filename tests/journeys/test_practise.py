"""``shorefast practise`` from outside: by script in the three bays, by keys on a terminal."""

from __future__ import annotations

import json
import os
import re
import select
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

import shorefast
from shorefast.app.answers.practise import aboard_of
from shorefast.app.practice_script import read_script
from shorefast.manoeuvre import proving
from shorefast.readers import read_stay
from shorefast.stay import judge

DEMO = Path(shorefast.__file__).parent / "demo"
KEYS = [
    "schema", "version", "basis", "findings", "lasted_s", "can_be_held", "happened", "calls",
    "anchor", "lies", "off_plan_m", "off_plan_rad", "lines_fast", "least_room", "room", "loads",
    "broken", "failures", "track", "sentence", "script",
]  # fmt: skip
LINES = {"grey_notch": 4, "stone_spur": 2, "tres_sombras": 7}


def practise(folder, *words, timeout=200, check=False):
    return subprocess.run(
        [sys.executable, "-m", "shorefast.app.cli", "practise", *words], cwd=folder,
        capture_output=True, text=True, encoding="utf-8", timeout=timeout, check=check,
        stdin=subprocess.DEVNULL,
    )  # fmt: skip


def refused(word):
    raise AssertionError(f"{word} is no JSON")


@pytest.fixture(scope="module")
def cove(tmp_path_factory):
    folder = tmp_path_factory.mktemp("cove") / "stone_spur"
    shutil.copytree(DEMO / "stone_spur", folder)
    (folder / "short.txt").write_text(
        "0 helm by crew\n0 chain by crew\n95 fail windlass jams\n99 say way off her\n"
        "100 neutral\n140 end\n",
        encoding="utf-8",
    )
    return folder


@pytest.mark.parametrize("bay", LINES)
def test_the_script_beside_a_bay_brings_her_into_her_place(bay):
    said = practise(DEMO / bay, "stay.toml", "--script", "practice.txt", "--json", check=True)
    keys = json.loads(said.stdout, parse_constant=refused)
    assert list(keys) == KEYS
    assert keys["schema"] == "shorefast/practise/1"
    # what the plan promises of a perfect crew: within the patch, and 3 m of the lie
    assert keys["anchor"]["off_place_m"] < 3.0 and keys["anchor"]["in_patch"] is None
    assert keys["off_plan_m"] < 3.0
    assert abs(keys["off_plan_rad"]) < 0.09
    assert keys["lines_fast"] == LINES[bay]
    assert keys["broken"] == [] and keys["can_be_held"]
    assert keys["least_room"]["room_m"] > 0.5
    kinds = [one["kind"] for one in keys["happened"]]
    assert "touches" not in kinds and "engine refused" not in kinds and "refused" not in kinds
    calls = {call["kind"]: call for call in keys["calls"]}
    for call in keys["calls"]:
        assert abs(call["done_chain_m"] - call["chain_m"]) < 2.0, call
    assert calls["let go"]["done_off_m"] == pytest.approx(calls["let go"]["off_m"], abs=3.0)


@pytest.mark.parametrize("bay", LINES)
def test_the_script_beside_a_bay_holds_the_steps_of_its_proof(bay):
    found = proving((stay := read_stay(DEMO / bay / "stay.toml")), judge(stay))
    read = read_script(DEMO / bay / "practice.txt", aboard_of(stay)).orders
    begins = next(at for at, one in enumerate(read) if one.order.do == "revs")
    steps = read[begins : begins + len(found.steps) + 1]
    assert [one.order.do for one in steps] == ["revs"] * len(found.steps) + ["neutral"]
    full_rpm = stay.boat.engine.full_revs_rpm
    for step, one, after in zip(found.steps, steps, steps[1:], strict=False):
        assert -one.order.value * full_rpm == pytest.approx(step.revs_rpm)
        assert after.at_s - one.at_s >= step.hold_s


def test_an_anchor_that_gave_way_is_said_at_the_end_though_no_rule_is_broken():
    said = practise(DEMO / "stone_spur", "stay.toml", "--script", "practice.txt", check=True).stdout
    assert re.search(
        r"\nThe anchor gave way: 0\.\d m in all, from 16:0\d to 16:5\d, with up to \d+ kg on the"
        r" chain\. Proved is only what it holds from the first step again\.\n",
        said,
    )
    assert "No rule broken" in said


def test_what_was_done_is_written_and_comes_again_to_the_bit(cove):
    told = ("--gusts", "--seed", "4", "--wind", "9", "--from", "250")
    fails = ("--fail", "gust @ 60", "--fail", "drawn")
    first = practise(cove, "stay.toml", "--script", "short.txt", *told, *fails, "--out", "first")
    assert first.returncode == 0, first.stderr
    assert "Written: " in first.stdout
    again = practise(cove, "stay.toml", "--script", "first/practice.txt", "--out", "again")
    assert again.returncode == 0, again.stderr
    for name in ("practice.txt", "track.svg", "track.pdf"):
        assert (cove / "first" / name).read_bytes() == (cove / "again" / name).read_bytes(), name
    assert first.stdout.replace("first/", "") == again.stdout.replace("again/", "")


def test_a_wind_she_cannot_be_held_in_is_said_first(cove):
    words = ("--wind", "10", "--from", "315")
    said = practise(cove, "stay.toml", "--script", "short.txt", *words, check=True).stdout
    assert said.startswith("In this wind she cannot be held on her way in: breaking off is right.")


def test_the_text_tells_calls_failures_and_what_was_wanted(cove):
    said = practise(cove, "stay.toml", "--script", "short.txt", check=True).stdout
    assert "1:35  The windlass has jammed." in said
    assert '1:39  "way off her"' in said
    assert "The calls, planned and done" in said
    assert "At 1:35: The windlass has jammed. First ordered: neutral, 5 s later." in said
    assert re.search(r"Greatest pulls: chain \d+ kg at", said)


def test_the_anchor_is_held_against_the_patch_when_asked(cove):
    (cove / "plain.txt").write_text("0 helm by crew\n0 chain by crew\n150 end\n", "utf-8")
    said = practise(cove, "stay.toml", "--script", "plain.txt", "--let-go", "--json", check=True)
    keys = json.loads(said.stdout)
    assert keys["anchor"]["in_patch"] is True
    assert "in the patch from which the lie still is sound." in keys["sentence"]


WRONG = {
    "no terminal and no script": (
        ["stay.toml"],
        "practise: no terminal to take keys from. Name a script with --script, or run it on a"
        " terminal.",
    ),
    "no such script": (
        ["stay.toml", "--script", "practise.txt"],
        "practise.txt: no such file, a script of practice wanted. Correct the path.",
    ),
    "a wind there is not": (
        ["stay.toml", "--script", "short.txt", "--wind", "90"],
        "--wind: 90, 0 to 60 kn wanted. Correct it.",
    ),
    "a bearing there is not": (
        ["stay.toml", "--script", "short.txt", "--from", "-20"],
        "--from: from -20, 0 to 360 wanted. Correct it.",
    ),
    "a seed there is not": (
        ["stay.toml", "--script", "short.txt", "--seed", "-1"],
        "--seed: -1, 0 or more wanted. Correct it.",
    ),
    "a failure without its time": (
        ["stay.toml", "--script", "short.txt", "--fail", "gust"],
        "--fail: 'gust', a time after @ wanted. Write gust @ 90.",
    ),
    "a palette there is not": (
        ["stay.toml", "--script", "short.txt", "--palette", "dusk"],
        "Palette: 'dusk', one of day, night, print wanted. Take one of these.",
    ),
}


@pytest.mark.parametrize("name", WRONG)
def test_a_mistake_is_one_sentence_and_the_persons(cove, name):
    words, sentence = WRONG[name]
    said = practise(cove, *words)
    assert (said.returncode, said.stdout) == (2, "")
    assert said.stderr.strip() == sentence


def test_a_line_that_waits_with_nobody_to_row_is_answered(cove):
    (cove / "ahead.txt").write_text("line 1 waits ashore\n0 end\n", encoding="utf-8")
    said = practise(cove, "stay.toml", "--script", "ahead.txt")
    assert said.returncode == 2
    assert said.stderr.strip() == (
        "Line ahead: line 1 waits in the tender, nobody aboard carries a line by tender."
        " Let it go ashore once she is held."
    )


class Terminal:
    """A command on a terminal of its own, 80 by 24."""

    def __init__(self, folder, *words):
        import fcntl
        import pty
        import struct
        import termios

        ours, theirs = pty.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        env = {key: value for key, value in os.environ.items() if key not in ("COLUMNS", "LINES")}
        self.run = subprocess.Popen(
            [sys.executable, "-m", "shorefast.app.cli", "practise", *words], cwd=folder,
            stdin=theirs, stdout=theirs, stderr=theirs, env={**env, "TERM": "xterm"},
        )  # fmt: skip
        os.close(theirs)
        self.ours, self.said = ours, ""

    def until(self, text, within_s=60.0):
        end = time.monotonic() + within_s
        while text not in self.said:
            assert time.monotonic() < end, self.said[-2500:]
            if select.select([self.ours], [], [], 0.1)[0]:
                try:
                    self.said += os.read(self.ours, 65536).decode("utf-8", "replace")
                except OSError:
                    break
        assert text in self.said, self.said[-2500:]
        self.said = self.said[self.said.index(text) + len(text) :]

    def press(self, keys):
        os.write(self.ours, keys.encode())


@pytest.mark.skipif(sys.platform == "win32", reason="no such terminal there")
def test_she_is_practised_by_keys_and_what_was_pressed_can_be_run_again(cove):
    terminal = Terminal(cove, "stay.toml", "--out", "keys")
    try:
        terminal.until("Any key begins.")
        terminal.press(" ")
        terminal.press("wcff")
        terminal.until("time x5")
        terminal.until("0:12")
        terminal.press("\x1b[D")
        terminal.until("0:25")
        terminal.press("p")
        terminal.until("paused")
        terminal.press("q")
        terminal.until("q again ends it.")
        terminal.press("q")
        terminal.until("What happened:")
        terminal.until("track.pdf")
        assert terminal.run.wait(30) == 0
    finally:
        terminal.run.kill()
        os.close(terminal.ours)
    rows = (cove / "keys" / "practice.txt").read_text(encoding="utf-8")
    assert "helm by crew" in rows and "chain by crew" in rows and "helm port" in rows
    again = practise(cove, "stay.toml", "--script", "keys/practice.txt", "--json", check=True)
    assert json.loads(again.stdout)["script"] == [
        row for row in rows.splitlines() if not row.startswith("#")
    ]
