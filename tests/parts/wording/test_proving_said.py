"""The proof and the chain's answer in words, each sentence once."""

from __future__ import annotations

import math
import tomllib
from importlib import resources

import pytest

from shorefast.app.answers import chain
from shorefast.basis import Basis
from shorefast.boat import RevsFor
from shorefast.manoeuvre import Mark, Outcome, Transit
from shorefast.manoeuvre import outcomes as told_outcomes
from shorefast.stay import ChainReading
from shorefast.wording import mark_words, outcome_words, transit_words
from shorefast.wording.proving import _need_words

CATALOGUE = tomllib.loads(
    resources.files("shorefast.wording").joinpath("proving.toml").read_text("utf-8")
)
NAN = math.nan


def mark(name="", kind="point", distance_m=40.0, bearing_deg=12.0):
    return Mark(name, kind, 0.0, 0.0, NAN, distance_m, math.radians(bearing_deg))


def test_every_outcome_has_its_sentences_and_no_sentence_is_left_over():
    outcomes = [one for one in vars(told_outcomes).values() if isinstance(one, Outcome)]
    assert len(outcomes) == 11
    for part in ("sign", "means", "do", "tempts"):
        used = {getattr(one, part) for one in outcomes} - {None}
        assert used == set(CATALOGUE[part]), part


def test_a_dragging_anchor_is_not_hove_in_on_and_why():
    said = outcome_words(told_outcomes.DRAGS)
    assert "heave in over deep water" in said
    assert said.endswith(
        "Do not do this: Heaving in: it takes away the scope she has left and pulls the anchor to"
        " you, faster than it drags."
    )


@pytest.mark.parametrize(
    ("one", "said"),
    [
        (mark("white boathouse", "landmark"), "white boathouse"),
        (mark(kind="headland"), "the headland 40 m off, 012"),
        (mark(kind="behind"), "something that stands in line behind it"),
    ],
)
def test_a_mark_is_called_by_its_name_or_by_what_and_where_it_is(one, said):
    assert mark_words(one) == said


def test_marks_apart_are_told_with_their_gap_and_how_far_she_goes():
    far = mark("church", "landmark", 200.0, 15.0)
    one = Transit(
        mark("perch"), far, math.radians(12.0), math.radians(3.0), 50.0, 0.44, False, True
    )
    assert transit_words(one) == "perch, 012, and church 3 degrees to the right (0.4 m show)"


@pytest.mark.parametrize(
    ("reach", "said"),
    [
        ("reached", "240 kg at the roller: 2860 rpm (2670-3110) prove it."),
        ("perhaps", "full revs prove it only if she pulls no less than told."),
        ("beyond", "no revs of this engine prove it; it would take 2860 rpm (2670-3110)."),
        ("unknown", "whether she has such revs is unknown."),
    ],
)
def test_whether_the_engine_reaches_the_need_is_a_result(reach, said):
    need = RevsFor(2402.6, 0.95, 0.89, 1.04, 2863.0, 2670.0, 3105.0, reach)
    assert said in _need_words(need)


def test_shares_are_told_where_no_revs_are_known():
    need = RevsFor(2402.6, 0.95, 0.89, 0.99, NAN, NAN, NAN, "reached")
    assert _need_words(need).endswith("95% of full revs (89%-99%) prove it.")


@pytest.mark.parametrize(
    ("told", "said"),
    [
        (
            (671.0, 556.0, NAN, False, 16.5, True),
            "the pull is about 68 kg (57 kg or more); 17 m of it lie on the bed. All of it may be"
            " lifted already, and the angle then tells no more.",
        ),
        (
            (671.0, 556.0, 890.0, False, 16.5, True),
            "the pull is about 68 kg (57 kg to 91 kg); 17 m of it lie on the bed. All of it may be"
            " lifted already.",
        ),
        (
            (NAN, 2450.0, NAN, True, 0.0, True),
            "all of it is lifted, and the angle no longer tells. The pull is 250 kg or more; look"
            " at the lines ashore instead.",
        ),
        (
            (NAN, NAN, NAN, True, 0.0, True),
            "no pull draws the chain so flat. Is more out than told, was it read while she surged,"
            " or is it caught on a rock? Count the marks and read it again.",
        ),
        (
            (2450.0, 2000.0, 3900.0, True, 0.0, True),
            "all of it is lifted; the pull is about 250 kg (200 kg to 400 kg).",
        ),
    ],
)
def test_what_the_chain_tells_is_said(told, said):
    reading = ChainReading(math.radians(50.0), *told, Basis())
    assert chain._text(reading) == f"Chain 40 degrees from the vertical: {said}"
