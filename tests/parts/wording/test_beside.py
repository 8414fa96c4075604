"""What is told beside a verdict, as sentences."""

from __future__ import annotations

import math
from types import SimpleNamespace

import pytest

from shorefast.stay import Comfort, GustAnswer, Snatch, WaveLoad, WindToSide
from shorefast.wording import beside_words

SNATCH = Snatch("stern to birch", "waves", 0.12, 490.0, 1300.0, 2600.0, 0.65, 6700.0)
EASY = Snatch("stern to rock", "waves", 0.04, 160.0, 450.0, 900.0, 0.3, 6700.0)
ANSWER = GustAnswer(
    ("sway", "surge", "yaw"), (16.0, 9.0, math.nan), (13.0, 8.6, math.nan),
    (19.0, 9.2, math.nan), 4.5, 0.97,
)  # fmt: skip


def said(**told):
    nothing = {"waves": None, "comfort": (), "snatch": (), "sides": (), "gust_answer": None}
    return beside_words(SimpleNamespace(**{**nothing, **told}))


def test_nothing_told_is_nothing_said():
    assert said() == ()


@pytest.mark.parametrize(
    ("forward_n", "starboard_n", "words"),
    [
        (-420.0, -530.0, "43 kg astern and 54 kg to port"),
        (420.0, 0.1, "43 kg ahead"),
        (0.0, 200.0, "20 kg to starboard"),
        (1.0, 1.0, "hardly at all"),
    ],
)
def test_where_waves_push_her(forward_n, starboard_n, words):
    push = WaveLoad(forward_n, starboard_n, -350.0, 1.0, 300.0)
    assert said(waves=push) == (f"Waves push her {words}, in the loads above.",)


def test_how_she_rides_and_for_whom_it_is_fit():
    waves = Comfort("waves", 0.1962, 0.0454, "work of the head")
    wash = Comfort("wash", 2.4, 0.09, None)
    assert said(comfort=(waves, wash)) == (
        "In the waves: 0.02 g up and down, 2.6 degrees of lean (rms, if she does not roll in"
        " step); fit for work of the head.",
        "In a wash on her beam: 0.24 g up and down, 5.2 degrees of lean (rms, if she does not"
        " roll in step); past every limit for work aboard.",
    )


def test_the_line_that_waves_snatch_at_most():
    assert said(snatch=(EASY, SNATCH)) == (
        "The highest wave adds 50 kg to 130 kg to the stern to birch, not in the loads above;"
        " slack, as it may be in 65% of hours and members, it comes taut with a jerk of up to"
        " 270 kg.",
    )


def test_a_line_that_never_goes_slack_never_jerks():
    taut = Snatch("stern to birch", "wash", 0.12, 490.0, 1300.0, 2600.0, 0.0, 6700.0)
    assert said(snatch=(taut,)) == (
        "A wash adds 50 kg to 130 kg to the stern to birch, not in the loads above.",
    )


def test_wind_from_further_round_either_way():
    turned = math.radians(20.0)
    sides = (WindToSide(-turned, 0.157, 1.731), WindToSide(turned, math.nan, math.nan))
    assert said(sides=sides) == (
        "With the wind backed 20 degrees: 16% of members past a limit, use up to 1.73; veered 20"
        " degrees: unknown how many members past a limit, use up to unknown.",
    )


def test_wind_that_sets_her_on_the_bottom_is_no_use():
    sides = (WindToSide(-math.radians(20.0), 0.157, 9.9, touches=True),)
    assert said(sides=sides) == (
        "With the wind backed 20 degrees: 16% of members past a limit, she may touch.",
    )


def test_the_gust_she_answers():
    assert said(gust_answer=ANSWER) == (
        "She answers the gust over about 4.5 s: 97% of the forecast's, which counts in full (her"
        " own periods: sway 13 to 19, surge 8.6 to 9.2 s).",
    )


def test_a_period_known_to_the_second_is_said_once():
    sure = GustAnswer(("surge",), (14.1,), (14.0,), (14.3,), 4.5, 0.97)
    assert said(gust_answer=sure)[0].endswith("(her own periods: surge 14 s).")


def test_one_who_does_not_swing_back_answers_nobody_knows_what():
    lost = GustAnswer(ANSWER.way, (math.nan,) * 3, (math.nan,) * 3, (math.nan,) * 3,
                      math.nan, math.nan)  # fmt: skip
    assert said(gust_answer=lost) == (
        "Which gust she answers is unknown: on these lines she does not swing back.",
    )
