"""The people of a stay file, the water's temperature and the watch; every mistake answered."""

from __future__ import annotations

import pytest

from shorefast.errors import BadInput
from shorefast.readers.stay_people import read_people, read_watch, read_water
from shorefast.readers.toml_file import parse_toml
from shorefast.stay import Person

PEOPLE = """\
[[person]]
name = "Sigrun"
duties = ["helm", "Watch"]

[[person]]
name = "Pelle"
duties = "guest"
able = false
"""


def _table(text):
    return parse_toml(text, "stay.toml")


def _said(reader, text):
    with pytest.raises(BadInput) as told:
        reader(_table(text))
    return told.value.sentence


def test_people_are_read_with_their_duties_and_one_duty_may_stand_alone():
    table = _table(PEOPLE)
    assert read_people(table) == (
        Person("Sigrun", ("helm", "watch"), True),
        Person("Pelle", ("guest",), False),
    )
    table.refuse_unknown()


def test_a_stay_that_tells_none_of_it_has_none_of_it():
    table = _table("bay = 'bay'")
    assert (read_people(table), read_water(table), read_watch(table)) == ((), None, None)


@pytest.mark.parametrize(
    "given", ["temperature_c = 12", "temperature_f = 53.6", "temperature_k = 285.15"]
)
def test_the_water_is_read_in_celsius_fahrenheit_or_kelvin(given):
    # 53.6 degrees Fahrenheit are (53.6 - 32) / 1.8 = 12 degrees Celsius, 285.15 kelvin
    assert read_water(_table(f"[water]\n{given}")) == pytest.approx(285.15, abs=1e-9)


@pytest.mark.parametrize("given", ["each_h = 2", "each_minutes = 120", "each_s = 7200"])
def test_the_length_of_a_watch_is_read(given):
    assert read_watch(_table(f"[watch]\n{given}")) == pytest.approx(7200.0)


def _one(keys):
    return f'[[person]]\nname = "Sigrun"\n{keys}\n'


ALL = "a list of helm, bow, line, swimmer, rower, watch, guest wanted"
BAD_PEOPLE = {
    "nobody's name": (
        '[[person]]\nduties = ["helm"]',
        "stay.toml, line 1, [[person]] 1: name is missing, a text wanted. Add name = ...",
    ),
    "one name twice": (
        PEOPLE.replace("Pelle", "Sigrun"),
        "stay.toml, line 6, [[person]] Sigrun name: 'Sigrun' a second time."
        " Give each its own name.",
    ),
    "no duties": (
        _one("able = true"),
        "stay.toml, line 1, [[person]] Sigrun: duties is missing, a list of texts wanted."
        " Add duties = ...",
    ),
    "an empty list": (
        _one("duties = []"),
        f"stay.toml, line 3, [[person]] Sigrun duties: an empty list, {ALL}. Correct it.",
    ),
    "a duty nobody knows": (
        _one('duties = ["helm", "cook"]'),
        f"stay.toml, line 3, [[person]] Sigrun duties: 'cook', {ALL}. Correct it.",
    ),
    "a duty twice": (
        _one('duties = ["helm", "Helm"]'),
        "stay.toml, line 3, [[person]] Sigrun duties: 'helm' a second time. Take one out.",
    ),
    "a number of duties": (
        _one("duties = 2"),
        f"stay.toml, line 3, [[person]] Sigrun duties: 2, {ALL}. Correct it.",
    ),
    "a number among duties": (
        _one('duties = ["helm", 2]'),
        f"stay.toml, line 3, [[person]] Sigrun duties: ['helm', 2], {ALL}. Correct it.",
    ),
    "able perhaps": (
        _one('duties = ["guest"]\nable = "perhaps"'),
        "stay.toml, line 4, [[person]] Sigrun able: 'perhaps', true or false wanted. Correct it.",
    ),
    "a swimmer who is not able": (
        _one('duties = ["watch", "swimmer"]\nable = false'),
        "stay.toml, line 3, [[person]] Sigrun duties: 'swimmer' for somebody who is not able,"
        " watch or guest wanted. Take the duty out, or leave able out.",
    ),
}


@pytest.mark.parametrize(("text", "said"), BAD_PEOPLE.values(), ids=BAD_PEOPLE)
def test_a_mistake_about_people_is_answered(text, said):
    assert _said(read_people, text) == said


BAD_WATER = {
    "a temperature without a unit": (
        "temperature = 12",
        "stay.toml, line 2, [water] temperature: temperature = 12 has no unit, a key ends in its"
        " unit (temperature_k, temperature_c, temperature_f). Write temperature_c = ...",
    ),
    "kelvin called Celsius": (
        "temperature_c = 285",
        "stay.toml, line 2, [water] temperature_c: 285, at most 40 wanted. Correct it.",
    ),
    "ice": (
        "temperature_c = -8",
        "stay.toml, line 2, [water] temperature_c: -8, at least -3 wanted. Correct it.",
    ),
    "ice in Fahrenheit": (
        "temperature_f = 12",
        "stay.toml, line 2, [water] temperature_f: 12, at least 26.6 wanted. Correct it.",
    ),
    "two temperatures": (
        "temperature_c = 12\ntemperature_f = 54",
        "stay.toml, line 3, [water] temperature_f: temperature_c and temperature_f,"
        " one is enough. Take one out.",
    ),
    "water of no temperature": (
        "",
        "stay.toml, line 1, [water]: temperature_c is missing, a number wanted."
        " Add temperature_c = ...",
    ),
    "warm": (
        'temperature_c = "warm"',
        "stay.toml, line 2, [water] temperature_c: 'warm', a number wanted. Correct it.",
    ),
}


@pytest.mark.parametrize(("keys", "said"), BAD_WATER.values(), ids=BAD_WATER)
def test_a_mistake_about_the_water_is_answered(keys, said):
    assert _said(read_water, f"[water]\n{keys}") == said


BAD_WATCH = {
    "a watch of a minute": (
        "each_minutes = 1",
        "stay.toml, line 2, [watch] each_minutes: 1, at least 15 wanted. Correct it.",
    ),
    "a watch of a day": (
        "each_h = 24",
        "stay.toml, line 2, [watch] each_h: 24, at most 12 wanted. Correct it.",
    ),
    "a watch without a unit": (
        "each = 2",
        "stay.toml, line 2, [watch] each: each = 2 has no unit, a key ends in its unit"
        " (each_s, each_minutes, each_min, each_h, each_hours). Write each_s = ...",
    ),
    "a watch of no length": (
        "",
        "stay.toml, line 1, [watch]: each_s is missing, a number wanted. Add each_s = ...",
    ),
}


@pytest.mark.parametrize(("keys", "said"), BAD_WATCH.values(), ids=BAD_WATCH)
def test_a_mistake_about_the_watch_is_answered(keys, said):
    assert _said(read_watch, f"[watch]\n{keys}") == said
