"""What the anchor is trusted with, and that its weaknesses are in the judged answer."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from shorefast.basis import Finding
from shorefast.boat import Anchor
from shorefast.stay import Stay, judge
from shorefast.stay.parts import ground_of


def in_line(stay: Stay) -> Stay:
    boat = replace(stay.boat, second_anchor=Anchor("fluke", 10.0))
    return replace(stay, boat=boat, lie=replace(stay.lie, second_anchor_ahead_m=6.0))


def test_of_two_anchors_in_line_the_first_alone_is_trusted_and_the_span_is_told(k_day):
    alone, pair = (ground_of(stay, None) for stay in (k_day, in_line(k_day)))
    toward, flat = np.zeros(3), np.radians([0.0, 5.0, 20.0])
    assert pair.limit_n(toward, flat) == pytest.approx(alone.limit_n(toward, flat))
    # a fluke of 10 kg in this ground holds something more
    assert pair.second_adds_n() > 0.0 == alone.second_adds_n()
    found = judge(in_line(k_day)).judgement
    assert (
        Finding(
            "Two anchors in line",
            "nobody has printed a factor for it; the second adds between nothing and its own"
            " holding",
        )
        in found.basis.findings
    )
    adds = f"{float(f'{pair.second_adds_n() / 9.80665:.2g}'):.0f} kg"
    assert found.parts[0].limit_source == (
        "the proof, as far as it counts that way, or what 10% would not hold;"
        f" of two in line the first alone: the second adds between nothing and {adds}"
    )


def test_a_second_anchor_aboard_but_not_let_go_is_left_out(k_day):
    stay = replace(k_day, boat=in_line(k_day).boat)
    assert ground_of(stay, None).second is None


@pytest.mark.parametrize("bottom", ["rock", "weed"])
def test_where_nobody_can_rate_an_anchor_the_judged_answer_says_so(k_day, bottom):
    stay = replace(k_day, proof=None, bay=replace(k_day.bay, bottom=bottom))
    found = judge(stay).judgement
    assert found.verdict == "unknown"
    said = f"in {bottom} nobody can say what an anchor holds; it may let go without warning"
    assert Finding("Anchor", said) in found.basis.findings
    assert found.parts[0].limit_source == "unknown: nobody can rate an anchor in this bottom"
    assert np.isnan(found.parts[0].limit_n).all()


def test_where_it_cannot_be_rated_only_the_proof_is_left(k_day):
    found = judge(replace(k_day, bay=replace(k_day.bay, bottom="rock"))).judgement
    assert found.parts[0].limit_source == "the proof, as far as it counts that way"
    assert np.nanmax(found.parts[0].limit_n) <= k_day.proof.pull_n + 1e-6


def test_that_the_odds_are_from_memory_and_wide_is_in_the_judged_answer(k_judged):
    basis = k_judged.judgement.basis
    said = [one.said for one in basis.assumptions]
    assert (
        "What a plough anchor holds in sand is a wide range from memory of published tests"
    ) in said
    assert (
        "A proof counts as long as she lies: neither hours nor the turn of the tide take from it"
    ) in said
    assert "Worn chain carries by the square of the diameter at its thinnest link" not in said
    assert {"anchor-tests", "holdfast-thumb", "iso-15084", "en-13889"} <= set(basis.sources)


def test_a_steep_bed_is_told_in_the_judged_answer_and_asks_less_of_the_anchor(k_day):
    found = judge(k_day)
    gentle, steep = (
        replace(found.ground, proven=None, slope_rad=math.radians(deg)) for deg in (9.0, 12.0)
    )
    flat = np.zeros(1)
    assert float(steep.limit_n(flat, flat)[0]) < float(gentle.limit_n(flat, flat)[0])
    assert steep.basis.findings[0] == Finding(
        "Anchor",
        "the bed slopes 12 degrees; over 10 the tables rate anchors poor,"
        " so the odds of its holding are taken wider",
    )
    note = [one for one in found.judgement.basis.findings if "the bed slopes" in one.said]
    assert bool(note) == (abs(found.ground.slope_rad) > math.radians(10.0))
