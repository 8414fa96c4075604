"""What a case file may hold, and how its mistakes are answered."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from shorefast.app.verification.case_file import read_cases
from shorefast.app.verification.case_types import BoatCase, RodeCase, ShoreCase
from shorefast.app.verification.run import tasks_of
from shorefast.errors import BadInput, Unreadable

RODE: dict[str, Any] = {
    "id": "A1",
    "kind": "rode",
    "segments_from_anchor": [{"length_m": 55, "w_N_per_m": 19.6, "EA_N": 8540000.0}],
    "friction": 0.5,
    "bed_r_z_m": [[-100.0, -15.0], [200.0, -15.0]],
    "bow_z_m": 1.3,
    "given": {"distance_m": 50.4},
}
SHORE: dict[str, Any] = {
    "id": "S1",
    "kind": "shore",
    "length_m": 40.0,
    "w_N_per_m": 3.6,
    "EA_N": 400000.0,
    "cleat_height_m": 1.2,
    "shore_height_m": 3.0,
    "given": {"distance_m": 40.6},
}
BOAT: dict[str, Any] = {
    "id": "B1",
    "kind": "boat",
    "water_level_m": 0.0,
    "lines": [
        {
            "name": "stern port",
            "kind": "shore",
            "body_point_fp_m": [-5.6, 1.7],
            "height_above_water_m": 1.1,
            "fixed_EN_m": [12.0, 28.0],
            "shore_z_m": 2.8,
            "length_m": 24.3,
            "w_N_per_m": 3.6,
            "EA_N": 400000.0,
            "state": "set",
        }
    ],
    "load": {"type": "fixed", "FE_N": 0.0, "FN_N": 0.0, "N_Nm": 0.0},
    "start_q": [0.0, 0.0, -1.57],
    "domain": {"E_m": [-60.0, 60.0], "N_m": [-90.0, 22.0]},
}


def file_of(*cases: dict[str, Any]) -> str:
    return json.dumps({"format": "yacht-statics-vectors-1", "cases": list(cases)})


def changed(case: dict[str, Any], *keys: Any, to: Any) -> dict[str, Any]:
    copied = copy.deepcopy(case)
    inner: Any = copied
    for key in keys[:-1]:
        inner = inner[key]
    inner[keys[-1]] = to
    return copied


def without(case: dict[str, Any], *keys: Any) -> dict[str, Any]:
    copied = copy.deepcopy(case)
    inner: Any = copied
    for key in keys[:-1]:
        inner = inner[key]
    del inner[keys[-1]]
    return copied


def test_the_three_kinds_of_case_are_told_apart() -> None:
    cases = read_cases(file_of(RODE, SHORE, BOAT), "x.json")
    assert [type(case) for case in cases] == [RodeCase, ShoreCase, BoatCase]


def test_a_parted_line_is_not_there() -> None:
    (case,) = read_cases(file_of(changed(BOAT, "lines", 0, "state", to="parted")), "x.json")
    assert isinstance(case, BoatCase)
    assert case.lines == ()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            '{"format": 1,\n "cases": [}',
            "x.json: not JSON (line 2, column 12: Expecting value). Correct that place.",
        ),
        (
            '{"format": "yacht-statics-vectors-1", "cases": [NaN]}',
            "x.json: not JSON (NaN is no JSON number). Correct it.",
        ),
        (
            "[1, 2]",
            "x.json: [1, 2], an object with format and cases wanted. "
            "See docs/validation.md for the form of a case.",
        ),
        (
            '{"format": "other-9", "cases": []}',
            'x.json: format "other-9", "yacht-statics-vectors-1" wanted. '
            "See docs/validation.md for the form of a case.",
        ),
        (
            '{"cases": []}',
            'x.json: no format named, "yacht-statics-vectors-1" wanted. '
            "See docs/validation.md for the form of a case.",
        ),
    ],
)
def test_a_file_that_is_no_case_file_is_unreadable(text: str, said: str) -> None:
    with pytest.raises(Unreadable) as trouble:
        read_cases(text, "x.json")
    assert trouble.value.sentence == said


@pytest.mark.parametrize(
    ("cases", "said"),
    [
        (
            [],
            "x.json, cases: [], a list with something in it wanted. Correct it.",
        ),
        (
            [{**RODE, "kind": "kite"}],
            "x.json, case A1, kind: 'kite', one of rode, shore, boat wanted. Correct it.",
        ),
        (
            [without(RODE, "segments_from_anchor", 0, "EA_N")],
            "x.json, case A1, segment 1: EA_N is missing, a number wanted. Add EA_N.",
        ),
        (
            [changed(RODE, "segments_from_anchor", 0, "length_m", to=0)],
            "x.json, case A1, segment 1, length_m: 0, more than 0 wanted. Correct it.",
        ),
        (
            [changed(SHORE, "length_m", to=-40.0)],
            "x.json, case S1, length_m: -40, more than 0 wanted. Correct it.",
        ),
        (
            [changed(RODE, "friction", to=-0.1)],
            "x.json, case A1, friction: -0.1, at least 0 wanted. Correct it.",
        ),
        (
            [changed(RODE, "friction", to="rough")],
            'x.json, case A1, friction: "rough", a finite number wanted. Correct it.',
        ),
        (
            [changed(RODE, "given", to={})],
            "x.json, case A1, given: neither distance_m nor H_bow_N, one of them wanted. "
            "Give the distance or the pull.",
        ),
        (
            [changed(RODE, "given", "H_bow_N", to=500.0)],
            "x.json, case A1, given: both distance_m and H_bow_N, one of them wanted. "
            "Give the distance or the pull.",
        ),
        (
            [changed(RODE, "bed_r_z_m", to=[[0.0, -15.0]])],
            "x.json, case A1, bed_r_z_m: 1 point, 2 or more wanted. Add where the bed goes on.",
        ),
        (
            [changed(RODE, "bed_r_z_m", to=[[0.0, -15.0], [0.0, -20.0]])],
            "x.json, case A1, bed_r_z_m: 0 m after 0 m, distances that grow from the anchor "
            "toward the bow wanted. Sort the points.",
        ),
        (
            [changed(RODE, "bed_r_z_m", to=[[0.0, -15.0, 1.0]])],
            "x.json, case A1, bed_r_z_m, entry 1: [0.0, -15.0, 1.0], 2 numbers wanted. Correct it.",
        ),
        (
            [changed(BOAT, "load", "type", to="kite")],
            "x.json, case B1, load, type: 'kite', one of fixed, wind wanted. Correct it.",
        ),
        (
            [without(BOAT, "lines", 0, "shore_z_m")],
            "x.json, case B1, line stern port: shore_z_m is missing, a number wanted. "
            "Add shore_z_m.",
        ),
        (
            [changed(BOAT, "domain", to=7)],
            "x.json, case B1, domain: 7, an object wanted. Correct it.",
        ),
        (
            [without(BOAT, "id")],
            "x.json, case 1: id is missing, a text wanted. Add id.",
        ),
        (
            [{**RODE, "expected": {"H_bow_N": 10**400}}],
            f"x.json, case A1, expected, H_bow_N: 1{'0' * 36}..., a finite number wanted. "
            "Correct it.",
        ),
        (
            [{**RODE, "expected": {"H_bow_N": 1.0}, "tol": {"H_bow_N": -1.0}}],
            "x.json, case A1, tol, H_bow_N: -1, at least 0 wanted. Correct it.",
        ),
    ],
)
def test_a_case_that_cannot_be_is_answered_with_its_place(
    cases: list[dict[str, Any]], said: str
) -> None:
    with pytest.raises(BadInput) as trouble:
        read_cases(file_of(*cases), "x.json")
    assert trouble.value.sentence == said


def test_a_file_that_is_not_there_is_said_so(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as trouble:
        tasks_of([tmp_path / "none.json"])
    assert trouble.value.sentence == (
        "none.json: no such file or directory. Check the name and the folder."
    )


def test_a_picture_is_no_case_file(tmp_path: Path) -> None:
    path = tmp_path / "photo.json"
    path.write_bytes(b"\x89PNG\r\n\x1a\n\xff\xfe")
    with pytest.raises(Unreadable) as trouble:
        tasks_of([path])
    assert trouble.value.sentence == "photo.json: not text, UTF-8 wanted. Give a case file."
