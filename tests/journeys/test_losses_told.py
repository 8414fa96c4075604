"""``judge --if-one-goes`` from outside: every key of every row and what kind it is."""

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import shorefast

DEMO = Path(shorefast.__file__).parent / "demo"
NUMBER, MAYBE = (int, float), (int, float, type(None))
TEXT, MAYBE_TEXT = str, (str, type(None))
ROW = {
    "gone": TEXT, "kind": TEXT, "also": list, "worst_at_utc": TEXT, "found": bool,
    "adrift": bool, "east_m": MAYBE, "north_m": MAYBE, "heading_rad": MAYBE,
    "turned_rad": MAYBE, "moved_m": MAYBE, "next_part": MAYBE_TEXT, "next_use": MAYBE,
    "breaking_part": MAYBE_TEXT, "of_breaking": MAYBE, "follows": list, "unrated": list,
    "anchor_drags": bool, "touches": (dict, type(None)), "seconds_to_contact_s": MAYBE,
    "least_room_m": MAYBE, "holds_to_mps": MAYBE, "share_followed": NUMBER,
    "share_touches": NUMBER, "share_unknown": NUMBER, "swing": dict,
}  # fmt: skip


def refused(word):
    raise AssertionError(f"{word} is no JSON")


def asked(stay, *words):
    said = subprocess.run(
        [sys.executable, "-m", "shorefast.app.cli", "judge", stay.name, "--if-one-goes", *words],
        cwd=stay.parent, capture_output=True, text=True, encoding="utf-8", timeout=120, check=True,
    )  # fmt: skip
    return said.stdout


@pytest.fixture(scope="module", params=["grey_notch/stay", "stone_spur/stay_k_day"])
def stay(request, tmp_path_factory):
    place, name = request.param.split("/")
    folder = tmp_path_factory.mktemp("cove") / place
    shutil.copytree(DEMO / place, folder)
    return folder / f"{name}.toml"


@pytest.fixture(scope="module")
def told(stay):
    return json.loads(asked(stay, "--json"), parse_constant=refused)


def test_every_row_of_every_loss_has_every_key_in_order_and_of_its_kind(told):
    rows = told["if_one_goes"]
    assert {row["kind"] for row in rows} >= {"line", "anchor"}
    for row in rows:
        assert list(row) == list(ROW)
        for key, kind in ROW.items():
            assert isinstance(row[key], kind), key
            # a yes is not a one
            if kind in (NUMBER, MAYBE):
                assert not isinstance(row[key], bool), key
        for key in ("also", "follows", "unrated"):
            assert all(isinstance(one, str) for one in row[key])
        assert row["worst_at_utc"].endswith("Z")
        assert list(row["swing"]) == ["part", "of_breaking"]
        assert isinstance(row["swing"]["part"], MAYBE_TEXT)
        assert isinstance(row["swing"]["of_breaking"], MAYBE)
        for key in ("share_followed", "share_touches", "share_unknown"):
            assert 0.0 <= row[key] <= 1.0


def test_what_a_row_says_of_one_thing_agrees_with_what_it_says_of_another(told):
    for row in told["if_one_goes"]:
        assert row["found"] == (row["east_m"] is not None) == (row["moved_m"] is not None)
        assert not (row["found"] and row["adrift"])
        assert bool(row["follows"]) <= (row["share_followed"] > 0.0)
        assert (row["breaking_part"] is None) or row["of_breaking"] > 0.0
        if row["touches"] is None:
            assert row["seconds_to_contact_s"] is None
        else:
            assert list(row["touches"]) == ["of", "at_utc"]
            assert row["share_touches"] > 0.0
            assert (row["touches"]["at_utc"] is None) == (row["seconds_to_contact_s"] is None)


def test_what_to_double_has_every_loss_of_the_lie_and_of_every_line_doubled(told):
    double = told["double"]
    assert list(double) == [
        "needed", "best", "from_line", "alike", "as_she_lies", "tried", "sentence",
    ]  # fmt: skip
    assert isinstance(double["needed"], bool)
    assert list(double["as_she_lies"]) == ["gone", "worst", "unknown"]
    lines = {row["gone"] for row in told["if_one_goes"] if row["kind"] == "line"}
    assert {one["name"] for one in double["tried"]} == lines
    for one in (double["as_she_lies"], *double["tried"]):
        assert len(one["gone"]) == len(one["worst"]) == len(double["as_she_lies"]["gone"])
        assert one["worst"] == sorted(one["worst"], reverse=True)
        assert isinstance(one["unknown"], bool)
    assert double["best"] is None or double["best"] in lines


def test_the_card_by_the_bunk_has_the_sentence_of_a_row(stay, told):
    text = asked(stay)
    assert told["night_card"] in text
    assert told["double"]["sentence"] in text
    assert text.count("\n  If ") == len(told["if_one_goes"])
