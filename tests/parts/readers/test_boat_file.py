"""A boat file is read, or answered with the line, the value and what was wanted."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from shorefast.basis import Finding
from shorefast.boat import Yacht
from shorefast.errors import BadInput, ShorefastError, Unreadable
from shorefast.readers.boat_file import boat_from_text, read_boat

BOATS = Path(__file__).parents[2] / "files" / "boats"
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
        (changed(("age_years = 2\n", "")), "the age of 'line 1' is unknown; it is taken as old"),
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


BAD = {
    "no unit": (
        changed(("length_m = 13.2", "length = 13.2")),
        "boat.toml, line 5, [hull] length: length = 13.2 has no unit, a key ends in its unit"
        " (length_m, length_ft, length_fathoms, length_km, length_nm, length_cm, length_mm,"
        " length_in). Write length_m = ...",
    ),
    "negative chain": (
        changed(("length_m = 80", "length_m = -80")),
        "boat.toml, line 81, [[rode]] 1 length_m: -80, more than 0 wanted. Correct it.",
    ),
    "chain of no thickness": (
        changed(("diameter_mm = 10", "diameter_mm = 0")),
        "boat.toml, line 80, [[rode]] 1 diameter_mm: 0, more than 0 wanted. Correct it.",
    ),
    "chain in metres": (
        changed(("diameter_mm = 10", "diameter_m = 10")),
        "boat.toml, line 80, [[rode]] 1 diameter_m: 10, at most 0.04 wanted. Correct it.",
    ),
    "thread for a shore line": (
        changed(("diameter_mm = 16", "diameter_mm = 1")),
        "boat.toml, line 86, [[line]] line 1 diameter_mm: 1, at least 3 wanted. Correct it.",
    ),
    "unknown key": (
        changed(("beam_m = 4.1", "beam_m = 4.1\nlenght_m = 4")),
        "boat.toml, line 8, [hull] lenght_m: lenght_m is not known here. Did you mean length_m?",
    ),
    "unknown table": (
        GOOD + "\n[davits]\nx_m = -7.0\n",
        "boat.toml, davits: davits is not known here. Take it out.",
    ),
    "unknown fibre": (
        changed(('fibre = "polypropylene"', 'fibre = "sisal"')),
        "boat.toml, line 85, [[line]] line 1 fibre: 'sisal', one of polypropylene, nylon,"
        " polyester, hmpe wanted. Take the nearest of these.",
    ),
    "misspelt fibre": (
        changed(('fibre = "polypropylene"', 'fibre = "polyesther"')),
        "boat.toml, line 85, [[line]] line 1 fibre: 'polyesther', one of polypropylene, nylon,"
        " polyester, hmpe wanted. Did you mean 'polyester'?",
    ),
    "roller missing": (
        without("[roller]"),
        "boat.toml: [roller] is missing, it is needed. Add [roller].",
    ),
    "a number that is none": (
        changed(("draught_m = 2.1", "draught_m = nan")),
        "boat.toml, line 9, [hull] draught_m: nan, a finite number wanted. Correct it, or leave"
        " the key out if nobody knows.",
    ),
    "a length without end": (
        changed(("length_m = 60", "length_m = inf")),
        "boat.toml, line 87, [[line]] line 1 length_m: inf, a finite number wanted. Correct it,"
        " or leave the key out if nobody knows.",
    ),
    "text for a number": (
        changed(("mass_kg = 25", 'mass_kg = "25 kg"')),
        "boat.toml, line 75, [anchor] mass_kg: '25 kg', a number wanted. Correct it.",
    ),
    "true for a number": (
        changed(("mass_kg = 25", "mass_kg = true")),
        "boat.toml, line 75, [anchor] mass_kg: True, a number wanted. Correct it.",
    ),
    "two units": (
        changed(("beam_m = 4.1", "beam_m = 4.1\nbeam_ft = 13.5")),
        "boat.toml, line 8, [hull] beam_ft: beam_m and beam_ft, one is enough. Take one out.",
    ),
    "negative age": (
        changed(("age_years = 2", "age_years = -2")),
        "boat.toml, line 88, [[line]] line 1 age_years: -2, at least 0 wanted. Correct it.",
    ),
    "cleat without a name": (
        changed(('name = "port quarter"\n', "")),
        "boat.toml, line 22, [[cleat]] 1: name is missing, a text wanted. Add name = ...",
    ),
    "two cleats of one name": (
        changed(('name = "starboard bow"', 'name = "port bow"')),
        "boat.toml, line 41, [[cleat]] port bow name: 'port bow' a second time."
        " Give each its own name.",
    ),
    "no cleat": (
        without_all("[[cleat]]"),
        "boat.toml: no [[cleat]], at least one is needed to lead a line from."
        " Add [[cleat]] with name, x_m, y_m and z_m.",
    ),
    "one cleat that is no list": (
        without_all("[[cleat]]") + '\n[cleat]\nname = "port quarter"\n',
        "boat.toml, cleat: cleat, tables [[cleat]] wanted. Correct it.",
    ),
    "nothing under water": (
        without_all("[[underwater]]"),
        "boat.toml: no [[underwater]], at least the keel and the rudder are needed to tell the"
        " room under her. Add [[underwater]] with name, x_m, y_m and draught_m.",
    ),
    "no rode": (
        without_all("[[rode]]"),
        "boat.toml: no [[rode]], chain or rope to the anchor is needed. Add [[rode]] with kind,"
        " grade, diameter_mm and length_m, from the anchor inboard.",
    ),
    "chain without a grade": (
        changed(("grade = 30\n", "")),
        "boat.toml, line 77, [[rode]] 1: grade is missing, a number wanted. Add grade = ... from"
        " the mark on the links; 30 is the weakest if nobody knows.",
    ),
    "a grade that is none": (
        changed(("grade = 30", 'grade = "high"')),
        "boat.toml, line 79, [[rode]] 1 grade: 'high', 30, 40 or 70 is usual. Correct the grade.",
    ),
    "wire for a rode": (
        changed(('kind = "chain"', 'kind = "wire"')),
        "boat.toml, line 78, [[rode]] 1 kind: 'wire', one of chain, rope wanted."
        " Take the nearest of these.",
    ),
    "unknown anchor": (
        changed(('class = "scoop"', 'class = "mushroom"')),
        "boat.toml, line 74, [anchor] class: 'mushroom', one of scoop, plough, claw, fluke,"
        " fisherman, grapnel, stockless wanted. Take the nearest of these.",
    ),
    "x counted from the stern": (
        changed(("x_m = 6.6", "x_m = 13.2")),
        "boat.toml, line 18, [roller] x_m: 13.2 m, at most 9.6 m either way is on board."
        " Count x from midships, forward positive.",
    ),
    "y off the side": (
        changed(("y_m = -1.6", "y_m = -16")),
        "boat.toml, line 25, [[cleat]] port quarter y_m: -16 m, at most 2.55 m either way is on"
        " board. Count y from the middle line, starboard positive.",
    ),
    "length and beam swapped": (
        changed(("length_m = 13.2", "length_m = 4.1"), ("beam_m = 4.1", "beam_m = 13.2")),
        "boat.toml, line 7, [hull] beam_m: 13.2 m beam, she is 4.1 m long."
        " Exchange the two if they are swapped.",
    ),
    "waterline longer than the boat": (
        changed(("waterline_m = 12.0", "waterline_m = 14")),
        "boat.toml, line 6, [hull] waterline_m: 14 m waterline, she is 13.2 m long over all."
        " Correct the shorter or the longer.",
    ),
    "windage swapped": (
        changed(
            ("frontal_m2 = 14.3", "frontal_m2 = 31"), ("lateral_m2 = 31.0", "lateral_m2 = 14.3")
        ),
        "boat.toml, line 11, [windage]: 31 m2 from ahead, only 14.3 m2 from abeam."
        " Exchange frontal_m2 and lateral_m2 if they are swapped.",
    ),
    "displacement in tonnes under kilograms": (
        changed(("displacement_kg = 11500", "displacement_kg = 11.5")),
        "boat.toml, line 8, [hull] displacement_kg: 11.5, at least 100 wanted. Correct it.",
    ),
    "misspelt displacement": (
        changed(("displacement_kg = 11500", "displacment_kg = 11500")),
        "boat.toml, line 4, [hull]: displacement_kg is missing, a number wanted."
        " Add displacement_kg = ... Did you mean that by 'displacment_kg'?",
    ),
}


@pytest.mark.parametrize("mistake", BAD)
def test_a_mistake_is_answered_with_its_line_and_the_way_out(mistake):
    text, sentence = BAD[mistake]
    with pytest.raises(BadInput) as trouble:
        read(text)
    assert trouble.value.sentence == sentence


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
