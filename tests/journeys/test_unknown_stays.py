"""What nobody can know is said as unknown, with why; what cannot be is refused."""

import math
import re
import shutil
from pathlib import Path

import pytest

import shorefast
from shorefast.errors import BadInput

DEMO = Path(shorefast.__file__).parent / "demo" / "stone_spur"


@pytest.fixture
def cove(tmp_path):
    shutil.copytree(DEMO, tmp_path, dirs_exist_ok=True)
    return tmp_path


def changed(file, pattern, instead):
    text = file.read_text(encoding="utf-8")
    new, count = re.subn(pattern, instead, text, flags=re.S)
    assert count
    file.write_text(new, encoding="utf-8")


def test_on_rock_without_a_proof_nobody_can_say(cove):
    changed(cove / "bay" / "bay.toml", r'bottom = ".*?"', 'bottom = "rock"')
    changed(cove / "stay.toml", r"\[proof\].*?\n\n", "")
    answer = shorefast.judge(cove / "stay.toml")
    assert answer.keys["verdict"] == "unknown"
    assert (
        "in rock nobody can say what an anchor holds; it may let go without warning,"
        " and nothing was proved." in answer.keys["sentence"]
    )


def test_an_anchor_far_from_any_sounding_is_an_unknown_answer_everywhere(cove):
    changed(cove / "stay.toml", r"let_go = [^\n]*", "let_go = { east_m = -400, north_m = 400 }")
    stay = cove / "stay.toml"
    assert shorefast.judge(stay).keys["verdict"] == "unknown"
    assert {name for row in shorefast.stand(stay).keys["first_to_give"] for name in row} == {
        "unknown"
    }
    assert shorefast.proof(stay).text.startswith("Unknown: ")
    assert "the pull is unknown, since the bed or the water there is." in (
        shorefast.chain(stay, 40.0).text
    )
    sheet = shorefast.sheet(stay, cove / "out")
    assert [path.name for path in sheet.written] == ["sheet.svg", "sheet.pdf"]


def test_without_lines_she_swings_and_is_judged_where_she_swings(cove):
    changed(cove / "stay.toml", r"\[\[lie\.line\]\].*", "")
    answer = shorefast.judge(cove / "stay.toml")
    assert answer.keys["verdict"] == "leave by"
    assert ("Lie", "no lines ashore: she swings to her anchor alone") in {
        (finding.where, finding.said) for finding in answer.basis.findings
    }


def test_a_proof_that_would_part_the_rode_is_refused(cove):
    changed(cove / "stay.toml", r"pull_n = \d+", "pull_n = 1e12")
    with pytest.raises(BadInput) as trouble:
        shorefast.judge(cove / "stay.toml")
    assert trouble.value.sentence == (
        "[proof] pull: 1000000000000 N, the rode parts at 50000 N."
        " Correct it; an engine pulls some thousand newtons."
    )


def test_a_proof_by_revs_alone_counts_for_nothing_and_that_is_said(cove):
    changed(cove / "boat.toml", r"full_revs_rpm = \d+\n", "")
    changed(cove / "stay.toml", r"pull_n = \d+", "revs_rpm = 2000")
    findings = {(f.where, f.said) for f in shorefast.judge(cove / "stay.toml").basis.findings}
    assert (
        "Proof",
        "given without a pull; what the revs pull is unknown, so it counts for nothing",
    ) in findings


# 2200 N at 3200 rpm: by the square 859 at 2000, told to 15 of 100.
def test_a_proof_by_revs_counts_for_what_they_pull_where_full_revs_are_told(cove):
    changed(cove / "stay.toml", r"pull_n = \d+", "revs_rpm = 2000")
    findings = {(f.where, f.said) for f in shorefast.judge(cove / "stay.toml").basis.findings}
    assert ("Proof", "2000 rpm pull 88 kg (74 kg to 100 kg); it counts for 88 kg") in findings


# By formula 33 kW on 0.44 m pull 0.36 to 0.54 of the static thrust astern: the least counts.
def test_a_proof_by_revs_and_a_formula_counts_for_the_least_of_it(cove):
    changed(cove / "boat.toml", r"astern_pull_n = \d+\n", "")
    changed(cove / "stay.toml", r"pull_n = \d+", "revs_rpm = 3200")
    said = {f.where: f.said for f in shorefast.judge(cove / "stay.toml").basis.findings}
    # 62.72 (0.9 x 44.25 hp x 17.32 in / 12)^0.67 lbf = 4.19 kN; 0.36, 0.45, 0.54 of it
    assert said["Proof"] == "3200 rpm pull 190 kg (150 kg to 230 kg); it counts for 150 kg"


def test_a_proof_by_more_than_full_revs_is_refused(cove):
    changed(cove / "stay.toml", r"pull_n = \d+", "revs_rpm = 3500")
    with pytest.raises(BadInput) as trouble:
        shorefast.judge(cove / "stay.toml")
    assert trouble.value.sentence == (
        "[proof] revs: 3500 rpm, full revs are 3200. Correct one of the two."
    )


def test_where_the_bed_is_unknown_the_proof_still_tells_revs_and_pulls(cove):
    changed(cove / "stay.toml", r"let_go = [^\n]*", "let_go = { east_m = -400, north_m = 400 }")
    keys = shorefast.proof(cove / "stay.toml").keys
    assert [step["revs_rpm"] for step in keys["steps"]][-1] == 3200.0
    assert all(math.isnan(step["angle_rad"]) for step in keys["steps"])
    assert keys["transits"] == []


def test_a_boat_without_an_engine_proves_nothing_and_that_is_said(cove):
    changed(cove / "boat.toml", r"\[engine\].*?\n\n", "")
    text = shorefast.proof(cove / "stay.toml").text
    assert "How to prove her is unknown: the boat file tells no engine." in text
