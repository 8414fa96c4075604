"""A boat file is read, or answered with the line, the value and what was wanted."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any

import pytest

from shorefast.basis import Finding
from shorefast.boat import Yacht
from shorefast.errors import BadInput, ShorefastError, Unreadable
from shorefast.readers.boat_file import boat_from_text, read_boat

BOATS = Path(__file__).parents[2] / "files" / "boats"
MISTAKES = tomllib.loads((BOATS / "mistakes.toml").read_text(encoding="utf-8"))["mistake"]
GOOD = (BOATS / "salt_thistle.toml").read_text(encoding="utf-8")


def changed(*changes: tuple[str, str]) -> str:
    """The good file with the first of each text exchanged."""
    text = GOOD
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return text


def without(header: str, nth: int = 1) -> str:
    """The good file without one table."""
    parts = GOOD.split("\n\n")
    found = [part for part in parts if part.startswith(header)]
    parts.remove(found[nth - 1])
    return "\n\n".join(parts)


def without_all(header: str) -> str:
    return "\n\n".join(part for part in GOOD.split("\n\n") if not part.startswith(header))


def read(text: str) -> Yacht:
    return boat_from_text(text, "boat.toml")


@pytest.mark.parametrize("name", ["salt_thistle", "quill", "fulmar_gris"])
def test_an_ordinary_boat_file_is_read_whole(name):
    yacht = read_boat(BOATS / f"{name}.toml")
    assert [part.name for part in yacht.underwater] == ["keel", "rudder"]
    assert len(yacht.cleats) == 4
    assert yacht.rode[0].grade == 30
    assert yacht.engine is not None
    assert yacht.engine.astern_pull_n is not None
    assert math.isfinite(yacht.windage.lateral_m2)


def test_every_number_lands_where_it_belongs():
    yacht = read(GOOD)
    assert (yacht.hull.length_m, yacht.hull.beam_m, yacht.hull.waterline_m) == (13.2, 4.1, 12.0)
    assert (yacht.hull.draught_m, yacht.hull.displacement_kg) == (2.1, 11500.0)
    assert (yacht.windage.frontal_m2, yacht.windage.lateral_m2) == (14.3, 31.0)
    assert (yacht.windage.height_m, yacht.windage.lever_m) == (3.0, 0.37)
    assert (yacht.roller.x_m, yacht.roller.y_m, yacht.roller.z_m) == (6.6, 0.0, 1.5)
    assert yacht.cleats[0].name == "port quarter"
    assert yacht.cleats[0].spot.y_m == -1.6
    assert yacht.engine is not None
    assert yacht.engine.power_w == pytest.approx(40e3)
    assert yacht.windlass.heave_mps == 0.25
    assert (yacht.anchor.kind, yacht.anchor.mass_kg) == ("scoop", 25.0)
    assert yacht.rode[0].diameter_m == pytest.approx(0.010)
    assert yacht.rode_aboard_m == 80.0
    assert yacht.lines[3].name == "line 4"
    assert yacht.lines[3].age_years == 2.0


def test_what_wear_leaves_and_how_a_line_ends_is_read():
    yacht = read(
        changed(
            ("diameter_mm = 10", "diameter_mm = 10\nworn_mm = 9.2"),
            ("diameter_mm = 16", 'diameter_mm = 16\nends = "Spliced"'),
        )
    )
    assert yacht.rode[0].worn_m == pytest.approx(0.0092)
    assert [line.ends for line in yacht.lines[:2]] == ["splice", None]


def test_an_age_nobody_tells_stays_unknown_and_one_year_is_a_year():
    yacht = read(changed(("age_years = 2\n", ""), ("age_years = 2\n", "age_years = 1\n")))
    assert [line.age_years for line in yacht.lines[:2]] == [None, 1.0]
    told = [one.value for one in yacht.basis.inputs if one.name in ("line 1", "line 2")]
    assert told == ["60 m of 16 mm polypropylene", "60 m of 16 mm polypropylene, 1 year old"]


def test_a_rope_of_the_rode_has_an_age():
    rope = '\n[[rode]]\nkind = "rope"\nfibre = "pa"\ndiameter_mm = 18\nlength_m = 30\n'
    pieces = read(GOOD + rope + "age_months = 18\n").rode
    assert (pieces[1].fibre, pieces[1].age_years) == ("nylon", 1.5)
    assert read(GOOD + rope).rode[1].age_years is None


def test_tender_and_second_anchor_are_read():
    yacht = read(
        GOOD + "\n[tender]\nlength_m = 2.9\nbeam_m = 1.5\ndraught_cm = 25\nx_m = -9\ny_m = 0.5\n"
        '\n[second_anchor]\nclass = "pivoting fluke"\nmass_lb = 22\n'
    )
    tender = yacht.tender
    assert tender is not None
    assert (tender.length_m, tender.beam_m, tender.draught_m) == (2.9, 1.5, 0.25)
    assert (tender.x_m, tender.y_m) == (-9.0, 0.5)
    # the avoirdupois pound is 0.45359237 kg by definition
    assert yacht.second_anchor is not None
    assert yacht.second_anchor.kind == "fluke"
    assert yacht.second_anchor.mass_kg == pytest.approx(22 * 0.45359237)
    assert (read(GOOD).tender, read(GOOD).second_anchor) == (None, None)


def test_the_size_of_what_can_touch_is_read_where_it_is_told():
    keel, rudder = read(
        changed(
            (
                "draught_m = 2.1\n\n[[under",
                "draught_m = 2.1\nlength_m = 1.8\nbreadth_cm = 30\n\n[[under",
            )
        )
    ).underwater
    assert (keel.length_m, keel.breadth_m) == (1.8, 0.3)
    assert (rudder.length_m, rudder.breadth_m) == (0.0, 0.0)


@pytest.mark.parametrize(
    ("change", "wanted_m"),
    [
        (("length_m = 13.2", "length_ft = 40"), 12.192),
        (("length_m = 13.2", "length_m = 13"), 13.0),
    ],
)
def test_any_unit_of_length_is_taken(change, wanted_m):
    text = changed(change, ("waterline_m = 12.0", "waterline_m = 11.0"))
    assert read(text).hull.length_m == pytest.approx(wanted_m)


def test_pounds_and_horsepower_are_taken():
    yacht = read(changed(("mass_kg = 25", "mass_lb = 55"), ("power_kw = 40", "power_hp = 54")))
    assert yacht.anchor.mass_kg == pytest.approx(24.948, abs=1e-3)
    assert yacht.engine is not None
    assert yacht.engine.power_w == pytest.approx(40268.0, abs=1.0)


@pytest.mark.parametrize(
    ("given", "meant"), [("PP", "polypropylene"), ("Polyamide", "nylon"), ("HMPE", "hmpe")]
)
def test_a_fibre_may_go_by_its_other_names(given, meant):
    text = changed(('fibre = "polypropylene"', f'fibre = "{given}"'))
    assert read(text).lines[0].fibre == meant


@pytest.mark.parametrize("given", ["30", '"G30"', '"grade 30"', "30.0"])
def test_a_grade_may_be_written_as_it_is_stamped(given):
    assert read(changed(("grade = 30", f"grade = {given}"))).rode[0].grade == 30


@pytest.mark.parametrize(
    ("given", "meant"), [("Plow", "plough"), ("hinged plough", "plough"), ("Scoop", "scoop")]
)
def test_an_anchor_may_be_named_at_length(given, meant):
    assert read(changed(('class = "scoop"', f'class = "{given}"'))).anchor.kind == meant


@pytest.mark.parametrize(
    ("given", "meant"),
    [
        ("Folding 2-blade", "folding"),
        ("saildrive fixed 3-blade", "fixed 3-blade"),
        ("fixed", "fixed"),
    ],
)
def test_a_propeller_may_be_named_at_length(given, meant):
    yacht = read(changed(('"fixed 3-blade"', f'"{given}"')))
    assert yacht.engine is not None
    assert yacht.engine.propeller == meant


def test_rope_tail_sling_and_sounder_are_read():
    text = (
        GOOD
        + """
[[rode]]
kind = "rope"
fibre = "nylon"
diameter_mm = 16
length_m = 40

[snubber]
fibre = "nylon"
diameter_mm = 12
length_m = 8

[[sling]]
name = "long strop"
kind = "chain"
length_m = 10
strength_kn = 15

[sounder]
x_m = 1.5
y_m = 0.2
draught_m = 0.5
"""
    )
    yacht = read(text)
    assert yacht.rode_aboard_m == 120.0
    assert (yacht.rode[1].kind, yacht.rode[1].fibre, yacht.rode[1].grade) == ("rope", "nylon", None)
    assert yacht.snubber is not None
    assert yacht.snubber.length_m == 8.0
    assert yacht.slings[0].strength_n == 15e3
    assert yacht.sounder is not None
    assert yacht.sounder.draught_m == 0.5


def test_windage_nobody_measured_is_estimated_and_said():
    yacht = read(without("[windage]"))
    assert yacht.windage.deviation == 0.25
    said = "[windage] is missing; estimated as 14 m2 from ahead and 30 m2 from abeam, each give or"
    assert Finding("boat.toml", f"{said} take a quarter") in yacht.basis.findings
    assert any(a.said.startswith("Windage is estimated") for a in yacht.basis.assumptions)


def test_given_windage_is_trusted_more_than_an_estimate():
    assert read(GOOD).windage.deviation == 0.10


def test_a_lever_nobody_knows_is_estimated_alone():
    yacht = read(changed(("lever_m = 0.37\n", "")))
    assert yacht.windage.frontal_m2 == 14.3
    assert yacht.windage.deviation == 0.10
    said = "lever_m missing; estimated from length and beam"
    assert Finding("boat.toml, line 11, [windage]", said) in yacht.basis.findings


def test_a_waterline_nobody_knows_is_estimated_and_said():
    yacht = read(changed(("waterline_m = 12.0\n", "")))
    assert yacht.hull.waterline_m == pytest.approx(12.012)
    said = "waterline_m is missing; taken as 0.91 of the length, 12.0 m"
    assert Finding("boat.toml, line 4, [hull]", said) in yacht.basis.findings


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (without("[engine]"), "[engine] is missing; what she can prove astern is unknown"),
        (
            changed(("astern_pull_n = 2600\n", "")),
            "astern_pull_n is missing; it is estimated from power and propeller",
        ),
        (
            without("[antenna]"),
            "[antenna] is missing; where her position is taken on board is unknown;"
            " midships is taken",
        ),
        (
            without("[windlass]"),
            "[windlass] is missing; how fast chain runs and comes in is unknown",
        ),
        (without("[[underwater]]", 2), "no rudder is named; the water under it is not looked at"),
        (without_all("[[line]]"), "no [[line]]; she has nothing to lead ashore"),
        (
            changed(("draught_m = 2.1", "draught_m = 2.0")),
            "keel reaches deeper than the hull's draught_m; the deeper counts",
        ),
        (
            changed(("z_m = 1.3", "z_m = 1.3\nstrength_kn = 20")),
            "nobody says what starboard quarter, port bow, starboard bow carry;"
            " the standard's load for such a hull is taken",
        ),
    ],
)
def test_what_is_missing_is_said(text, said):
    assert said in [finding.said for finding in read(text).basis.findings]


def made_wrong(mistake: dict[str, Any]) -> str:
    """The good file with one mistake put into it."""
    text = without_all(mistake["without"]) if "without" in mistake else GOOD
    for old, new in mistake.get("change", []):
        assert old in text
        text = text.replace(old, new, 1)
    return text + mistake.get("added", "")


@pytest.mark.parametrize("mistake", MISTAKES, ids=[one["name"] for one in MISTAKES])
def test_a_mistake_is_answered_with_its_line_and_the_way_out(mistake):
    with pytest.raises(BadInput) as trouble:
        read(made_wrong(mistake))
    assert trouble.value.sentence == mistake["says"]


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "boat.toml: it is empty, TOML wanted. See docs/files.md for an example."),
        (
            "Salt Thistle, 13.2 m\n",
            "boat.toml: not TOML (Expected '=' after a key in a key/value pair"
            " (at line 1, column 6)). Correct that line; docs/files.md has an example.",
        ),
        (
            changed(("length_m = 13.2", "length_m = 13,2")),
            "boat.toml: not TOML (Expected newline or end of document after a statement"
            " (at line 5, column 14)). Correct that line; docs/files.md has an example.",
        ),
        (
            changed(("[roller]", "[hull]")),
            "boat.toml: not TOML (Cannot declare ('hull',) twice (at line 17, column 6))."
            " Correct that line; docs/files.md has an example.",
        ),
    ],
)
def test_a_file_that_is_no_toml_is_unreadable(text, sentence):
    with pytest.raises(Unreadable) as trouble:
        read(text)
    assert trouble.value.sentence == sentence


def test_a_missing_boat_file_is_named(tmp_path):
    path = tmp_path / "boat.toml"
    with pytest.raises(BadInput) as trouble:
        read_boat(path)
    assert trouble.value.sentence == f"{path}: no such file, a boat file wanted. Correct the path."


def test_a_picture_is_no_boat_file(tmp_path):
    path = tmp_path / "boat.toml"
    path.write_bytes(b"\x89PNG\r\n\x1a\n")
    with pytest.raises(Unreadable) as trouble:
        read_boat(path)
    assert trouble.value.sentence == (
        "boat.toml: no UTF-8 text at byte 0, a boat file wanted."
        " Save it as UTF-8, or name the right file."
    )


def test_a_mark_of_byte_order_does_no_harm(tmp_path):
    path = tmp_path / "boat.toml"
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.encode())
    assert read_boat(path).name == "Salt Thistle"


def test_a_file_cut_off_anywhere_is_read_or_refused_but_never_breaks():
    for end in range(0, len(GOOD), 7):
        try:
            read(GOOD[:end])
        except ShorefastError as trouble:
            assert trouble.sentence.startswith("boat.toml")
