"""Engine, thruster, rudder and the radio's names in a boat file, and every mistake in them."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from shorefast.boat import PullAtRevs, Rudder, Thruster, Yacht
from shorefast.errors import BadInput
from shorefast.readers.boat_file import boat_from_text

GOOD = (Path(__file__).parents[2] / "files" / "boats" / "salt_thistle.toml").read_text(
    encoding="utf-8"
)
PULLS = """
[[engine.pull]]
revs_rpm = 2500
pull_kgf = 220

[[engine.pull]]
revs_rpm = 1500
pull_n = 900
"""


def read(text: str) -> Yacht:
    return boat_from_text(text, "boat.toml")


def with_engine(keys: str) -> str:
    assert "astern_pull_n = 2600\n" in GOOD
    return GOOD.replace("astern_pull_n = 2600\n", f"astern_pull_n = 2600\n{keys}\n", 1)


def at_top(key: str) -> str:
    return f"{key}\n{GOOD}"


def test_a_boat_that_tells_none_of_it_has_none_of_it():
    yacht = read(GOOD)
    assert yacht.engine is not None
    assert (yacht.engine.full_revs_rpm, yacht.engine.walks_astern) == (None, None)
    assert yacht.engine.pulls == ()
    assert (yacht.thruster, yacht.rudder, yacht.call_sign, yacht.mmsi) == (None, None, None, None)


def test_full_revs_walk_and_her_own_pulls_are_read_by_rising_revs():
    engine = read(with_engine('full_revs_rpm = 3000\nwalks_astern = "Port"') + PULLS).engine
    assert engine is not None
    assert (engine.full_revs_rpm, engine.walks_astern) == (3000.0, "port")
    # 220 kilograms of pull at the standard 9.80665 m/s2
    assert engine.pulls == (PullAtRevs(1500.0, 900.0), PullAtRevs(2500.0, pytest.approx(2157.463)))


@pytest.mark.parametrize("given", ['"no"', '"none"', "false"])
def test_a_stern_that_does_not_walk_may_be_told_in_three_ways(given):
    engine = read(with_engine(f"walks_astern = {given}")).engine
    assert engine is not None
    assert engine.walks_astern == "no"


def test_thruster_and_rudder_are_read():
    yacht = read(
        GOOD + "\n[thruster]\npush_kgf = 60\nx_m = 5.2\n"
        "\n[rudder]\narea_m2 = 0.75\nx_m = -5.4\nmost_deg = 35\n"
    )
    assert yacht.thruster == Thruster(pytest.approx(588.399), 5.2)
    assert yacht.rudder == Rudder(0.75, -5.4, pytest.approx(math.radians(35.0)))


@pytest.mark.parametrize("most", ["most_deg = 10", "most_deg = 45"])
def test_a_rudder_may_go_over_by_ten_to_forty_five_degrees(most):
    assert read(GOOD + f"\n[rudder]\narea_m2 = 0.75\nx_m = -5.4\n{most}\n").rudder is not None


def test_call_sign_and_mmsi_are_read_however_they_are_spaced():
    yacht = read('call_sign = "zz9 tst"\nmmsi = "299 000 000"\n' + GOOD)
    assert (yacht.call_sign, yacht.mmsi) == ("ZZ9TST", "299000000")


def test_a_tender_on_deck_is_not_in_the_water():
    sizes = "\n[tender]\nlength_m = 3.1\nbeam_m = 1.5\ndraught_m = 0.3\n"
    on_deck, astern = (
        read(GOOD + sizes + "on_deck = true\n"),
        read(GOOD + sizes + "x_m = -8\ny_m = 0"),
    )
    assert on_deck.tender is not None
    assert on_deck.tender.on_deck
    assert on_deck.tender_afloat is None
    assert astern.tender_afloat is astern.tender is not None


THRUSTER = "\n[thruster]\npush_n = {push}\nx_m = {x}\n"
RUDDER = "\n[rudder]\narea_m2 = {area}\nx_m = {x}\nmost_deg = {most}\n"
BAD = {
    "full revs of a turbine": (
        with_engine("full_revs_rpm = 60000"),
        "line 67, [engine] full_revs_rpm: 60000, at most 12000 wanted. Correct it.",
    ),
    "full revs of nothing": (
        with_engine("full_revs_rpm = 0"),
        "line 67, [engine] full_revs_rpm: 0, more than 0 wanted. Correct it.",
    ),
    "full revs without a unit": (
        with_engine("full_revs = 3000"),
        "line 67, [engine] full_revs: full_revs = 3000 has no unit, a key ends in its unit"
        " (full_revs_rpm). Write full_revs_rpm = ...",
    ),
    "a stern that walks ahead": (
        with_engine('walks_astern = "ahead"'),
        "line 67, [engine] walks_astern: 'ahead', one of port, starboard, no wanted."
        " Take the nearest of these.",
    ),
    "a misspelt walk": (
        with_engine('walks_astern = "starbord"'),
        "line 67, [engine] walks_astern: 'starbord', one of port, starboard, no wanted."
        " Did you mean 'starboard'?",
    ),
    "a walk that is true": (
        with_engine("walks_astern = true"),
        "line 67, [engine] walks_astern: true, a text in quotes wanted. Correct it.",
    ),
    "two pulls at one revs": (
        GOOD + PULLS.replace("1500", "2500"),
        "line 116, [[engine.pull]] 2 revs_rpm: 2500 a second time. Give one pull for each revs.",
    ),
    "a pull above full revs": (
        with_engine("full_revs_rpm = 2000") + PULLS,
        "line 113, [[engine.pull]] 1 revs_rpm: 2500, full revs are 2000. Correct one of the two.",
    ),
    "a pull without revs": (
        GOOD + PULLS.replace("revs_rpm = 1500\n", ""),
        "line 115, [[engine.pull]] 2: revs_rpm is missing, a number wanted. Add revs_rpm = ...",
    ),
    "revs without a pull": (
        GOOD + PULLS.replace("pull_n = 900\n", ""),
        "line 115, [[engine.pull]] 2: pull_n is missing, a number wanted. Add pull_n = ...",
    ),
    "a pull of a few newtons": (
        GOOD + PULLS.replace("pull_n = 900", "pull_n = 9"),
        "line 117, [[engine.pull]] 2 pull_n: 9, at least 50 wanted. Correct it.",
    ),
    "a thruster ahead of the stem": (
        GOOD + THRUSTER.format(push=600, x=9),
        "line 113, [thruster] x_m: 9 m, at most 6.6 m either way is on board."
        " Count x from midships, forward positive.",
    ),
    "a thruster that does not push": (
        GOOD + THRUSTER.format(push=0, x=5),
        "line 112, [thruster] push_n: 0, more than 0 wanted. Correct it.",
    ),
    "a tug's thruster": (
        GOOD + THRUSTER.format(push=2e5, x=5),
        "line 112, [thruster] push_n: 200000, at most 100000 wanted. Correct it.",
    ),
    "a rudder of no area": (
        GOOD + RUDDER.format(area=0, x=-5.4, most=35),
        "line 112, [rudder] area_m2: 0, more than 0 wanted. Correct it.",
    ),
    "a rudder astern of the stern": (
        GOOD + RUDDER.format(area=0.75, x=-7.4, most=35),
        "line 113, [rudder] x_m: -7.4 m, at most 6.6 m either way is on board."
        " Count x from midships, forward positive.",
    ),
    "a rudder put over too far": (
        GOOD + RUDDER.format(area=0.75, x=-5.4, most=60),
        "line 114, [rudder] most_deg: 60, at most 45 wanted. Correct it.",
    ),
    "a rudder hardly put over": (
        GOOD + RUDDER.format(area=0.75, x=-5.4, most=5),
        "line 114, [rudder] most_deg: 5, at least 10 wanted. Correct it.",
    ),
    "a call sign too short": (
        at_top('call_sign = "Z1"'),
        "line 1, call_sign: 'Z1', 3 to 8 letters and figures wanted."
        " Take it from the radio's licence, or leave it out.",
    ),
    "a call sign with a dash": (
        at_top('call_sign = "ZZ-TST"'),
        "line 1, call_sign: 'ZZ-TST', 3 to 8 letters and figures wanted."
        " Take it from the radio's licence, or leave it out.",
    ),
    "eight figures": (
        at_top('mmsi = "29900000"'),
        "line 1, mmsi: '29900000', nine figures in quotes wanted."
        " Take them from the radio's licence, or leave it out.",
    ),
    "nine signs that are not all figures": (
        at_top('mmsi = "29900000X"'),
        "line 1, mmsi: '29900000X', nine figures in quotes wanted."
        " Take them from the radio's licence, or leave it out.",
    ),
    # a number would lose its leading noughts
    "a number without quotes": (
        at_top("mmsi = 299000000"),
        "line 1, mmsi: 299000000, nine figures in quotes wanted."
        " Take them from the radio's licence, or leave it out.",
    ),
    "a tender on deck and in the water": (
        GOOD
        + "\n[tender]\nlength_m = 3\nbeam_m = 1.5\ndraught_m = 0.3\nx_m = -8\ny_m = 0\n"
        + "on_deck = true\n",
        "line 115, [tender] x_m: a place in the water and on_deck, one of them wanted."
        " Take the place out, or on_deck.",
    ),
    "a tender nowhere": (
        GOOD + "\n[tender]\nlength_m = 3\nbeam_m = 1.5\ndraught_m = 0.3\n",
        "line 111, [tender]: x_m is missing, a number wanted. Add x_m = ...",
    ),
}


@pytest.mark.parametrize(("text", "said"), BAD.values(), ids=BAD)
def test_a_mistake_is_answered_with_file_line_value_and_what_was_wanted(text, said):
    with pytest.raises(BadInput) as trouble:
        read(text)
    assert trouble.value.sentence == f"boat.toml, {said}"
