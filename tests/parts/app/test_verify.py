"""The whole verification, from its files to its answer."""

from __future__ import annotations

import copy
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from shorefast.app import cli
from shorefast.app.answer import Answer, to_json
from shorefast.app.answers.verify import answer_verify
from shorefast.app.verification.published import CALLS, read_checks
from shorefast.app.verification.run import shipped_texts
from shorefast.errors import BadInput, Unreadable

CHAIN = sys.modules["shorefast.boat.chain"]
SLACK = {
    "id": "S1",
    "kind": "shore",
    "length_m": 50.0,
    "w_N_per_m": 1.1,
    "EA_N": 1600000.0,
    "cleat_height_m": 1.0,
    "shore_height_m": 2.0,
    "given": {"distance_m": 45.0},
}
CHECK = """
[[check]]
case = "Chain 10 mm grade 30"
field = "breaking_kN"
call = "chain breaking load"
arguments = { diameter_mm = 10, grade = 30 }
unit = "kn"
expected = 50
tolerance = 1e-9
source = "ISO 4565 (read)"
reason = "printed"
"""


def case_file(folder: Path, *cases: dict[str, Any]) -> Path:
    path = folder / "x.json"
    path.write_text(json.dumps({"format": "yacht-statics-vectors-1", "cases": list(cases)}))
    return path


def shipped_case(name: str, case: str) -> dict[str, Any]:
    text = dict(shipped_texts())[name]
    return next(found for found in json.loads(text)["cases"] if found["id"] == case)


def rows(answer: Answer) -> list[dict[str, Any]]:
    return list(answer.keys["rows"])


@pytest.fixture(scope="module")
def shipped() -> Answer:
    return answer_verify()


@pytest.fixture
def other_chain_table(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The chain table with one cell wrong: 10 mm grade 30 breaks at 52 kN."""
    right = CHAIN.shipped_table("shorefast.boat", "chain")
    wrong = tuple(
        {**row, "breaking_kn": "52"} if (row["diameter_mm"], row["grade"]) == ("10", "30") else row
        for row in right
    )
    CHAIN.chain.cache_clear()
    monkeypatch.setattr(CHAIN, "shipped_table", lambda package, name: wrong)
    yield
    CHAIN.chain.cache_clear()


def test_every_shipped_case_and_printed_number_comes_out(shipped: Answer) -> None:
    assert [row for row in rows(shipped) if row["pass"] is False] == []
    assert shipped.passed
    assert shipped.keys["passed"] is True


def test_all_three_shipped_files_are_run(shipped: Answer) -> None:
    counted: dict[str, int] = {}
    for row in rows(shipped):
        counted[row["file"]] = counted.get(row["file"], 0) + (row["pass"] is True)
    assert set(counted) == {"rode.json", "boat.json", "published.toml"}
    # the project asks for at least 120 printed numbers, each with its source
    assert counted["published.toml"] >= 120
    assert all(row["source"] for row in rows(shipped))


def test_the_edge_without_friction_is_never_compared(shipped: Answer) -> None:
    assert [row for row in rows(shipped) if "no_capstan" in row["field"]] == []


def test_a_straight_bed_comes_out_to_a_millionth(shipped: Answer) -> None:
    straight = {f"RP{number:02d}" for number in range(1, 11)}
    pulls = [r for r in rows(shipped) if r["case"] in straight and r["field"] == "H_bow_N"]
    assert len(pulls) == 10
    for pull in pulls:
        # printed to ten figures; the project asks 1e-6 of the pull on straight beds
        assert pull["got"] == pytest.approx(pull["expected"], rel=1e-6)


@pytest.mark.parametrize(
    ("ending", "within"),
    # the project asks 1 mm, 0.01 deg and 1 N of whole boats
    [("E_m", 1e-3), ("N_m", 1e-3), ("heading_deg", 0.01), ("/H_N", 1.0)],
)
def test_a_whole_boat_lies_where_the_vectors_have_her(
    shipped: Answer, ending: str, within: float
) -> None:
    found = [r for r in rows(shipped) if r["file"] == "boat.json" and r["field"].endswith(ending)]
    wanted = [row for row in found if row["expected"] is not None]
    # nine boats that come to rest, 25 lines set between them
    assert len(wanted) == (25 if ending == "/H_N" else 9)
    for row in wanted:
        assert row["got"] == pytest.approx(row["expected"], abs=within)


def test_no_rest_is_told_where_she_would_leave_the_water(shipped: Answer) -> None:
    gone = {row["field"]: row["got"] for row in rows(shipped) if row["case"] == "BP10"}
    assert gone.pop("rest") == "none"
    assert set(gone.values()) == {None}


def test_the_page_on_validation_names_every_case(shipped: Answer) -> None:
    page = (Path(__file__).parents[3] / "docs" / "validation.md").read_text(encoding="utf-8")
    missing = {row["case"] for row in rows(shipped) if f"| {row['case']} |" not in page}
    # written anew by tools/write_validation.py
    assert missing == set()


def test_a_case_with_nothing_expected_is_simply_computed(tmp_path: Path) -> None:
    case = shipped_case("rode.json", "RP01")
    for key in ("expected", "tol", "dH_dX_N_per_m"):
        del case[key]
    answer = answer_verify([case_file(tmp_path, case)])
    assert answer.passed
    assert [row["field"] for row in rows(answer)] == [
        "distance_m",
        "H_bow_N",
        "V_bow_N",
        "T_bow_N",
        "T_anchor_N",
        "angle_bow_deg",
        "angle_anchor_horizontal_deg",
        "angle_anchor_seabed_deg",
        "length_on_bottom_m",
        "length_zero_tension_m",
        "n_bridged_spans",
        "length_bridged_m",
        "touchdown_r_m",
        "dH_dX_N_per_m",
        "slack_distance_m",
    ]
    for row in rows(answer):
        assert (row["expected"], row["tolerance"], row["pass"]) == (None, None, None)
        assert row["got"] is not None


def test_a_slack_line_has_no_pull_and_no_angle(tmp_path: Path) -> None:
    said = json.loads(to_json(answer_verify([case_file(tmp_path, SLACK)])))
    assert list(said)[:4] == ["schema", "version", "basis", "findings"]
    assert said["schema"] == "shorefast/verify/1"
    got = {row["field"]: row["got"] for row in said["rows"]}
    assert got == {
        "distance_m": 45.0,
        "H_N": 0.0,
        "T_cleat_N": 0.0,
        "T_shore_N": 0.0,
        "V_cleat_down_N": 0.0,
        "angle_cleat_below_horizontal_deg": None,
        "length_on_water_m": None,
        "lowest_above_water_m": None,
        "slack": True,
        # 47 m plus what its own hanging weight stretches it
        "slack_distance_m": pytest.approx(47.00000176, abs=1e-8),
    }
    assert said["rows"][1] == {
        "file": "x.json",
        "case": "S1",
        "field": "H_N",
        "got": 0.0,
        "expected": None,
        "tolerance": None,
        "pass": None,
        "source": "the case file",
    }


def test_a_wrong_expectation_is_out(tmp_path: Path) -> None:
    case = shipped_case("rode.json", "RP01")
    case["expected"]["H_bow_N"] += 10.0
    answer = answer_verify([case_file(tmp_path, case)])
    assert not answer.passed
    assert [row["field"] for row in rows(answer) if row["pass"] is False] == ["H_bow_N"]


@pytest.mark.usefixtures("other_chain_table")
def test_one_wrong_cell_in_the_chain_table_is_found() -> None:
    answer = answer_verify()
    out = {(row["case"], row["field"]) for row in rows(answer) if row["pass"] is False}
    assert out == {
        ("Chain 10 mm grade 30", "breaking_kN"),
        ("Chain 10 mm grade 30", "working_kN"),
    }
    assert not answer.passed


@pytest.mark.usefixtures("other_chain_table")
def test_one_wrong_cell_ends_the_command_with_1(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "printed.toml"
    path.write_text(CHECK)
    monkeypatch.setattr(sys, "argv", ["shorefast", "verify", str(path), "--json"])
    with pytest.raises(SystemExit) as left:
        cli.main()
    assert left.value.code == 1
    said = json.loads(capsys.readouterr().out)
    assert said["passed"] is False
    assert [(row["got"], row["expected"]) for row in said["rows"]] == [(52.0, 50)]


def test_the_right_table_ends_the_command_with_0(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "printed.toml"
    path.write_text(CHECK)
    monkeypatch.setattr(sys, "argv", ["shorefast", "verify", str(path)])
    with pytest.raises(SystemExit) as left:
        cli.main()
    assert left.value.code == 0
    assert capsys.readouterr().out.splitlines()[-1] == (
        "All together: 1 checked, 0 out of tolerance."
    )


def test_a_rode_too_short_to_reach_is_told_and_fails_what_was_expected(tmp_path: Path) -> None:
    case = copy.deepcopy(shipped_case("rode.json", "RP01"))
    case["segments_from_anchor"][0]["length_m"] = 5.0
    answer = answer_verify([case_file(tmp_path, case)])
    assert not answer.passed
    assert all(row["got"] is None for row in rows(answer))
    assert [(finding.where, finding.said) for finding in answer.basis.findings] == [
        (
            "x.json, case RP01",
            "Rode: 5 m of line, there is no balance in which it reaches the roller. "
            "Give more line, or less depth or distance.",
        )
    ]
    assert answer.text.splitlines()[-1].startswith("x.json, case RP01: Rode: 5 m of line")


def test_progress_counts_every_case(tmp_path: Path) -> None:
    told: list[tuple[int, int]] = []
    answer_verify([case_file(tmp_path, SLACK, SLACK)], lambda done, of: told.append((done, of)))
    assert told == [(1, 2), (2, 2)]


@pytest.mark.parametrize(
    ("was", "now", "said"),
    [
        (
            "chain breaking load",
            "chain colour",
            "p.toml, check Chain 10 mm grade 30, call: 'chain colour', it is not among what can be "
            "asked. "
            f"Take one of: {', '.join(sorted(CALLS))}.",
        ),
        (
            "diameter_mm = 10",
            "diameter_in = 0.4",
            "p.toml, check Chain 10 mm grade 30, arguments: diameter_in, grade, "
            "diameter_mm, grade, standard wanted. Correct them.",
        ),
        (
            'unit = "kn"',
            'unit = "m"',
            "p.toml, check Chain 10 mm grade 30, unit: 'm', one of n, kn, kgf, lbf, tf "
            "wanted. Correct it.",
        ),
        (
            "expected = 50\n",
            "",
            "p.toml, check Chain 10 mm grade 30: expected is missing, a number wanted. "
            "Add expected.",
        ),
        (
            "[[check]]",
            "[[chek]]",
            "p.toml: check is missing, a list wanted. Add check.",
        ),
        (
            "reason",
            "raeson",
            "p.toml, check Chain 10 mm grade 30: raeson is not known here. Known are case, field, "
            "call, arguments, unit, expected, tolerance, source, reason.",
        ),
        (
            "expected = 50",
            "expected = 2026-07-01",
            'p.toml, check Chain 10 mm grade 30, expected: "2026-07-01", a finite number wanted. '
            "Correct it.",
        ),
    ],
)
def test_a_printed_number_that_cannot_be_asked_is_answered_with_its_place(
    was: str, now: str, said: str
) -> None:
    with pytest.raises(BadInput) as trouble:
        read_checks(CHECK.replace(was, now), "p.toml")
    assert trouble.value.sentence == said


def test_a_broken_file_of_printed_numbers_is_unreadable() -> None:
    with pytest.raises(Unreadable) as trouble:
        read_checks("[[check]\n", "p.toml")
    assert trouble.value.sentence == (
        "p.toml: not TOML (Expected ']]' at the end of an array declaration "
        "(at line 1, column 8)). Correct that place."
    )
