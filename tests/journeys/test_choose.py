"""Choosing a lie from outside: the command's JSON, and stay files that judge says the same of."""

import json
import shutil
from pathlib import Path

import pytest

import shorefast
from shorefast.app.answer import to_json

DEMO = Path(shorefast.__file__).parent / "demo"
MEMBERS = 5


def cut(folder):
    """Behind the spur, an afternoon of five members, no lie given."""
    shutil.copytree(DEMO / "stone_spur", folder, dirs_exist_ok=True)
    text = (folder / "stay.toml").read_text(encoding="utf-8").split("[lie]")[0]
    text = text.replace("2026-07-22T12:00:00Z", "2026-07-22T15:00:00Z")
    text = text.replace("2026-07-23T08:00:00Z", "2026-07-22T18:00:00Z")
    (folder / "stay.toml").write_text(text, encoding="utf-8")
    rows = (folder / "wind.csv").read_text(encoding="utf-8").splitlines()
    column = rows[0].split(",").index("member")
    few = [row for row in rows[1:] if int(row.split(",")[column]) < MEMBERS]
    (folder / "wind.csv").write_text("\n".join([rows[0], *few, ""]), encoding="utf-8")
    return folder / "stay.toml"


@pytest.fixture(scope="module")
def chosen(tmp_path_factory):
    stay = cut(tmp_path_factory.mktemp("spur"))
    return shorefast.choose(stay, tmp_path_factory.mktemp("out"))


@pytest.fixture(scope="module")
def keys(chosen):
    return json.loads(to_json(chosen))


def test_choose_says_what_the_design_promises(keys):
    assert list(keys)[:4] == ["schema", "version", "basis", "findings"]
    assert keys["schema"] == "shorefast/choose/1"
    assert list(keys)[4:] == [
        "sentence", "verdict", "until_utc", "then_held", "candidates", "others", "dropped",
        "tried", "candidate_hours", "helps_most", "written",
    ]  # fmt: skip
    for one in keys["candidates"]:
        assert list(one) == [
            "lie", "proof_toward_rad", "given", "verdict", "leave_by_utc", "until_utc",
            "worst_hour_utc", "worst_use", "first_to_give", "tie", "unproven", "against",
            "unknown_from_utc", "not_survived", "unknown_after", "use_after_other_losses",
            "reasons",
        ]  # fmt: skip
    assert keys["candidate_hours"] > keys["tried"] > 50


def test_by_day_she_lies_behind_the_spur(keys):
    best = keys["candidates"][0]
    assert best["verdict"] == "holds"
    assert all("spur ring" in line["point"] for line in best["lie"]["lines"])


def test_what_rules_forbid_is_counted_with_its_reason(keys):
    dropped = {one["why"]: one["count"] for one in keys["dropped"]}
    assert dropped["the anchor would be let go in the zone 'grass meadow', seagrass"] > 0
    assert dropped["the point nearest Teal Wake, who lies there: likely hers"] == 1


def test_judge_says_the_same_of_every_file_written(keys):
    assert len(keys["written"]) == len(keys["candidates"])
    for path, one in zip(keys["written"], keys["candidates"], strict=True):
        judged = json.loads(to_json(shorefast.judge(Path(path))))
        assert judged["verdict"] == one["verdict"]
        assert judged["leave_by_utc"] == one["leave_by_utc"]
        over = [told["said"] for told in judged["findings"] if " zone '" in told["said"]]
        assert all(said.startswith("come within") for said in over)
        hour = judged["time_utc"].index(one["worst_hour_utc"])
        uses = [part["use"] for part in judged["parts"] if part["name"] == one["first_to_give"]]
        if uses:
            # every member of five counts: one of them is more than the accepted share
            assert max(row[hour] for row in uses[0]) == pytest.approx(one["worst_use"], rel=1e-9)


def test_people_read_a_sentence_first_and_the_reasons_after(chosen):
    lines = chosen.text.splitlines()
    assert lines[0].startswith("Lie with lines to ")
    assert any(line.startswith("Why not elsewhere:") for line in lines)
    assert any(line.startswith("What one change to lie 1 would do:") for line in lines)
