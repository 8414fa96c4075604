"""The lines ashore as a terminal says them."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

import shorefast
from shorefast.boat import Tender
from shorefast.manoeuvre import Duty, Step, ashore
from shorefast.manoeuvre.ashore_steps import Plan, steps_of
from shorefast.readers import read_stay
from shorefast.stay import judge
from shorefast.wording.ashore import ashore_words
from shorefast.wording.numbers import celsius

DEMO = Path(shorefast.__file__).parent / "demo"


def _judged(name):
    stay = read_stay(DEMO / f"{name}.toml")
    stay = replace(stay, until_utc=stay.from_utc + timedelta(hours=1))
    return stay, judge(stay)


@pytest.fixture(scope="module")
def spur():
    return _judged("stone_spur/stay_k_day")


@pytest.fixture(scope="module")
def said(spur):
    return ashore_words(ashore(*spur), spur[0])


def test_it_begins_with_who_carries_and_which_goes_first(said):
    first, table, steps = said.split("\n\n")
    assert first.startswith(
        "Nerea swims with the lines; the water has 24 C. All of them take about 8 min, there and"
        " back. First the starboard stern line to spur ring north: it is the weather line. With it"
        " alone fast and the engine idle bow"
        " and stern are set "
    )
    assert "Dorith tends the slack line and does nothing else while it floats." in first
    assert table.splitlines()[0].split() == ["line", "from", "to", "distance", "flake", "swum"]
    assert table.splitlines()[1].startswith("1  starboard stern line  starboard quarter")
    assert steps.splitlines()[5] == (
        ' 6  Ilario: say "engine stopped"; the hand at the line says it back'
        "  [not before: stop the engine]"
    )


def test_every_row_of_a_table_begins_its_cells_below_its_head(said):
    _, table, _ = said.split("\n\n")
    head, *rows = table.splitlines()
    for word in ("line", "from", "distance", "flake"):
        at = head.index(word)
        assert all(row[at - 2 : at] == "  " and row[at] != " " for row in rows)


def test_cold_water_without_a_tender_is_answered_with_what_to_do(spur):
    stay, judged = spur
    stay = replace(stay, water_k=285.15)
    said = ashore_words(ashore(stay, judged), stay)
    assert said.startswith(
        "Nobody carries a line ashore: the water has 12 C, and no tender is told."
        " Get a tender alongside with somebody to row it, or lie where no line is needed."
    )
    assert "no line leaves the boat  [not before: hold the chain]" in said
    assert "swum" not in said


def test_water_nobody_measured_is_told_as_unknown_and_taken_as_cold(spur):
    stay, judged = spur
    stay = replace(stay, water_k=None)
    said = ashore_words(ashore(stay, judged), stay)
    assert said.startswith(
        "Nobody carries a line ashore: how cold the water is nobody tells, so it counts as cold,"
        " and no tender is told. Measure the water and tell it in [water], get a tender"
        " alongside, or lie where no line is needed."
    )


def test_in_cold_water_a_lifejacket_is_told_and_that_nobody_swims():
    stay, judged = _judged("tres_sombras/stay")
    said = ashore_words(ashore(stay, judged), stay)
    assert said.startswith(
        "Runa rows the lines ashore, in a lifejacket; the water has 6 C: nobody swims."
    )
    assert "The tender is put in the water before she goes astern, and lies alongside" in said


def test_with_nobody_told_duties_are_named(spur):
    stay, judged = spur
    stay = replace(stay, people=())
    said = ashore_words(ashore(stay, judged), stay)
    assert said.startswith("The swimmer swims with the lines")
    assert "One hand tends the slack line" in said
    assert " 5  the helm: stop the engine" in said
    assert "The helm goes to another hand only when" in said


def test_nobody_to_row_is_told_by_the_duty_that_is_missing(spur):
    stay, judged = spur
    tender = Tender(2.9, 1.5, 0.3, -8.0, 0.0)
    stay = replace(stay, water_k=285.15, boat=replace(stay.boat, tender=tender))
    said = ashore_words(ashore(stay, judged), stay)
    assert said.startswith(
        "Nobody carries a line ashore: the water has 12 C, and nobody aboard is told who can row."
        " Give somebody who is able the duty rower, or lie where no line is needed."
    )


@pytest.fixture(scope="module")
def found(spur):
    return ashore(*spur)


def _with_line(found, **changes):
    return replace(found, lines=(replace(found.lines[0], **changes), *found.lines[1:]))


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        (
            {"spare_m": -3.2, "instead": None},
            "The starboard stern line is 3.2 m short for spur ring north: bend another line to"
            " it, hold her nearer, or take a nearer point.",
        ),
        (
            {"spare_m": -3.2, "instead": "breast line"},
            "The starboard stern line is 3.2 m short for spur ring north: take the breast line.",
        ),
    ],
)
def test_a_line_too_short_says_how_much_and_what_to_do(spur, found, changes, sentence):
    assert sentence in ashore_words(_with_line(found, **changes), spur[0])


def test_less_in_reserve_than_wanted_is_said(spur, found):
    line = found.lines[0]
    said = ashore_words(_with_line(found, flake_m=line.flaked.need_m + 1.2), spur[0])
    assert "has 1.2 m in reserve, 3.0 m wanted." in said


def test_a_wind_too_strong_to_row_against_is_said(spur, found):
    rowed = replace(_with_line(found, row_s=math.inf), by="row")
    assert "no headway against the wind" in ashore_words(rowed, spur[0])


def test_how_long_all_lines_take_is_told(spur, found):
    said = ashore_words(replace(found, takes_s=440.0), spur[0])
    assert "24 C. All of them take about 7 min, there and back. First the" in said
    assert "All of them" not in ashore_words(replace(found, takes_s=math.inf), spur[0])


def test_a_free_and_an_unknown_order_are_told_apart(spur, found):
    plain = _with_line(found, weather=False)
    free = ashore_words(replace(plain, free=True), spur[0])
    assert "Which line goes first is free: in the wind she comes in they hold her alike." in free
    assert "Which line has to go first is unknown" in ashore_words(plain, spur[0])


def test_who_has_two_duties_is_told_and_how(spur, found):
    bow = Duty("Casimir", "line", "bow")
    helm = Duty("Ilario", "line", "helm")
    both = [
        ashore_words(replace(found, crew=replace(found.crew, duties=(one,))), spur[0])
        for one in (bow, helm)
    ]
    assert "Casimir has two duties: the bow, then the hand at the line." in both[0]
    assert "Ilario has the helm and the line: the engine stays stopped throughout." in both[1]
    assert "does nothing else" not in both[1]


def test_hands_that_are_missing_are_told(spur, found):
    said = ashore_words(replace(found, crew=replace(found.crew, missing=("bow", "line"))), spur[0])
    assert (
        "Nobody aboard is told for the bow and the hand at the line: do not begin short of" in said
    )


def test_a_lie_without_lines_is_one_sentence(spur):
    stay, _ = spur
    stay = replace(stay, lie=replace(stay.lie, lines=()))
    said = ashore_words(ashore(stay, judge(stay)), stay)
    assert said.startswith("This lie has no line ashore.")
    assert "flake" not in said


def test_every_step_there_can_be_has_words(spur, found):
    ways = [
        Plan(carrier, lift, True, quiet, 4, 1, 1, True)
        for carrier in ("rower", "swimmer", None)
        for lift in (True, False)
        for quiet in (True, False)
    ]
    steps = {step.does: step for plan in ways for step in steps_of(plan)}
    one_each = tuple(
        Step(number, *list(vars(step).values())[1:]) for number, step in enumerate(steps.values())
    )
    said = ashore_words(replace(found, steps=one_each), spur[0])
    assert len(said.split("\n\n")[2].splitlines()) == len(steps)


@pytest.mark.parametrize(
    ("temperature_k", "said"), [(285.15, "12 C"), (272.65, "-1 C"), (None, "unknown")]
)
def test_a_temperature_is_told_in_whole_degrees(temperature_k, said):
    assert celsius(temperature_k) == said
