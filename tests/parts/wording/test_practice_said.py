"""Words of practice: whatever can happen, wait, fail or be broken has a sentence."""

from __future__ import annotations

import ast
import math
from pathlib import Path

import pytest

import shorefast
from shorefast.manoeuvre import CONDITIONS, FAILURES, Failure, Happening, Order
from shorefast.manoeuvre.practice_debrief import Answered
from shorefast.manoeuvre.practice_rules import RULES, Broken
from shorefast.wording import (
    KEYS,
    TO_DO,
    answered_words,
    clock_of,
    happening_words,
    key_rows,
    order_words,
    rule_words,
)
from shorefast.wording.practice import waits_words
from shorefast.wording.practice_keys import helm_words, side_words, way_words, wind_words

MANOEUVRE = Path(shorefast.__file__).parent / "manoeuvre"


def _told_kinds():
    """Every kind that a line of practice's code tells by its name."""
    kinds = set()
    for path in MANOEUVRE.glob("practice*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "tell":
                first = node.args[0]
                kinds |= {first.value} if isinstance(first, ast.Constant) else set()
    return kinds - {"failure", "refused", "engine refused", "touches"}


def test_every_kind_of_happening_has_a_sentence_without_a_gap():
    kinds = {*_told_kinds(), "brought up", "all chain lifted", "bitter end", "windlass stalls"}
    assert len(kinds) > 14
    for kind in kinds:
        said = happening_words(Happening(1.0, kind, "port stern line", 0.0, 0.0, 260.0))
        assert said.endswith(".") and "{" not in said and "nan" not in said, said


def test_a_refused_order_says_what_it_waits_for():
    one = Happening(
        4.0, "engine refused", "revs", 0.0, 0.0, -0.3, ("nobody near the stern", "helm held")
    )
    assert happening_words(one) == (
        "The engine is refused (revs): it waits until nobody is near the stern, and somebody is in"
        " the water there and somebody has the helm."
    )
    cold = Happening(
        4.0, "refused", "take line", 0.0, 0.0, None, ("somebody to carry it: cold and no tender",)
    )
    assert happening_words(cold) == (
        "Not yet (take line): it waits until somebody may carry it: the water is cold and she has"
        " no tender."
    )


@pytest.mark.parametrize("name", CONDITIONS)
def test_whatever_the_rule_waits_for_is_said(name):
    assert waits_words((name,))


@pytest.mark.parametrize("of", ["water under the rudder", "hull to the shore", "hull to Teal Wake"])
def test_what_touches_what(of):
    said = happening_words(Happening(1.0, "touches", of, 0.0, 0.0, 0.0))
    assert (
        said
        == {
            "water under the rudder": "The rudder touches the bottom.",
            "hull to the shore": "The hull touches the shore.",
            "hull to Teal Wake": "The hull touches Teal Wake.",
        }[of]
    )


@pytest.mark.parametrize("rule", RULES)
def test_every_rule_is_said_with_its_time(rule):
    said = rule_words(Broken(rule, 125.0, 6.0, 1.5))
    assert "from 2:05 for 6 s in all." in said and "{" not in said


def test_a_failure_is_answered_or_what_is_wanted_is_said():
    failure = Failure("chain runs", 90.0)
    assert answered_words(Answered(failure, Order("hold chain"), 4.0, True)) == (
        "At 1:30: The chain runs out and nobody holds it. First ordered: hold chain, 4 s later."
    )
    assert answered_words(Answered(failure, None, math.nan, False)) == (
        "At 1:30: The chain runs out and nobody holds it. Nothing was ordered after it."
        f" Wanted: {TO_DO['chain runs']}"
    )
    assert set(TO_DO) == set(FAILURES)


def test_the_dragging_anchor_is_not_heaved_in():
    # caution 5
    assert "Do not heave in" in TO_DO["anchor drags"]
    assert "Engine stopped, and called stopped" in TO_DO["swimmer in difficulty"]


def test_orders_and_times_as_they_are_told():
    assert order_words(Order("revs", -0.4)) == "engine astern"
    assert order_words(Order("chain to", 40.0)) == "chain to 40 m"
    assert clock_of(245.0) == "4:05"
    assert clock_of(math.nan) == "-"


def test_no_key_is_listed_twice_and_every_one_says_what_it_does():
    keys = [key for key, _ in KEYS]
    assert len(set(keys)) == len(keys)
    assert len(key_rows()) == len(KEYS)
    assert all(said for _, said in KEYS)


def test_what_is_read_off_beside_the_plan():
    assert helm_words(math.radians(-10.0)) == "port 10"
    assert helm_words(0.0) == "midships"
    # 0.36 m/s: 0.7 kn
    assert way_words(-0.36) == "astern 0.7 kn"
    assert side_words(-1.23) == "1.2 m left"
    for off, said in ((0, "ahead"), (40, "starboard bow"), (-90, "port beam"),
                      (140, "starboard quarter"), (180, "astern")):  # fmt: skip
        assert wind_words((5.0, math.radians(30 + off)), math.radians(30)) == f"10 kn {said}"
