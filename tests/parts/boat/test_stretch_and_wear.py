"""Stretch, wear, shackles, trees and two anchors: what is said, and what is not known."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.basis import Finding
from shorefast.boat import (
    RULE_OF_THUMB,
    Anchor,
    LongLine,
    RopeUse,
    boulder,
    constructions,
    edge_share,
    marked_load,
    rock,
    sling_in_use,
    stiffness_about,
    stretch,
    strong_points_wanted,
    sun_factor,
    tree,
    worn_chain,
    worn_rope,
)
from shorefast.errors import BadInput, OutsideModel
from shorefast.mooring import holding
from shorefast.mooring.two_anchors import two_in_line

STERN = LongLine("stern", "polypropylene", 0.012, 60.0)
SAND = holding(Anchor("scoop", 25.0), "sand")


@pytest.mark.parametrize(
    ("call", "kind", "sentence"),
    [
        (
            lambda: stretch("nylon", 0.016, "plait"),
            OutsideModel,
            "Rope: plait nylon, its stretch is known as 3-strand, braid. Take the nearest of"
            " these.",
        ),
        (
            lambda: stretch("hemp", 0.016),
            OutsideModel,
            "Rope: 16 mm hemp, known from 3 to 60 mm in polypropylene, nylon, polyester, hmpe."
            " Check the fibre and the diameter.",
        ),
        (
            lambda: stretch("nylon", 0.016).nominal.stretched(0.0),
            BadInput,
            "Rope: stretches 0 times as much, more than 0 wanted. Correct it.",
        ),
        (
            lambda: stiffness_about("polypropylene", 0.016, 1e3),
            OutsideModel,
            "Rope: short-term stiffness of polypropylene, read for nylon, polyester, hmpe. Reckon"
            " with the soft and the stiff curve of its stretch instead.",
        ),
        (
            lambda: worn_chain(0.010, 30, 0.035),
            BadInput,
            "Chain: thinnest link 35 mm, the chain is 10 mm. Measure the wire of the link, not the"
            " link, and check the size of the chain.",
        ),
        (
            lambda: worn_chain(0.010, 30, math.nan),
            BadInput,
            "Chain: thinnest link nan mm, the chain is 10 mm. Measure the wire of the link, not the"
            " link, and check the size of the chain.",
        ),
        (
            lambda: sun_factor("nylon", -1.0),
            BadInput,
            "Rope: -1 summers in the sun, 0 or more wanted. Correct it.",
        ),
        (
            lambda: worn_rope(STERN, RopeUse(edge_m=0.0)),
            BadInput,
            "Rope: an edge of 0 mm, more than 0 wanted. Give twice the radius of the edge, or"
            " leave it out.",
        ),
        (
            lambda: marked_load("shackle", "12"),
            BadInput,
            "Shackle: marked '12', a load and its unit wanted. Write it as 'WLL 2 t', 'SWL 500 kg'"
            " or 'MBL 40 kN'.",
        ),
        (
            lambda: marked_load("shackle", "WLL 0 t"),
            BadInput,
            "Shackle: marked 'WLL 0 t', a load and its unit wanted. Write it as 'WLL 2 t',"
            " 'SWL 500 kg' or 'MBL 40 kN'.",
        ),
        (
            lambda: marked_load("carabiner", "25 kN"),
            OutsideModel,
            "Hardware: 'carabiner', known are shackle, webbing sling, round sling, chain sling,"
            " wire sling. Take the nearest of these.",
        ),
        (
            lambda: sling_in_use(marked_load("round sling", "1 t"), "twisted"),
            OutsideModel,
            "Sling: 'twisted', known are straight, choked, basket, basket at 45 degrees. Take the"
            " nearest of these.",
        ),
        (
            lambda: strong_points_wanted(0.0),
            BadInput,
            "Hull: length is 0 m, more than 0 wanted. Correct it.",
        ),
        (
            lambda: tree(-1.0),
            BadInput,
            "Tree: load is -1 N, 0 or more wanted. Give the line's pull.",
        ),
        (
            lambda: boulder(math.nan),
            BadInput,
            "Boulder: load is nan N, 0 or more wanted. Give the line's pull.",
        ),
        (
            lambda: two_in_line(SAND, SAND, 1.0),
            BadInput,
            "Two anchors in line: fractile 1, more than 0 and less than 1 wanted. 0.1 is what one"
            " anchor in ten would not hold.",
        ),
    ],
)
def test_what_cannot_be_so_is_said_with_a_way_out(call, kind, sentence):
    with pytest.raises(kind) as trouble:
        call()
    assert trouble.value.sentence == sentence


def test_a_slack_rope_pulls_nothing_and_a_parted_one_is_unknown():
    curve = stretch("polyester", 0.014).nominal
    assert curve.tension_at([-0.1, 0.0]).tolist() == [0.0, 0.0]
    assert curve.extension_at([-5.0, 0.0]).tolist() == [0.0, 0.0]
    past_n = 1.01 * curve.breaking_n
    assert math.isnan(float(curve.tension_at(1.01 * curve.extension[-1])))
    assert math.isnan(float(curve.extension_at(past_n)))
    assert math.isnan(float(curve.secant_stiffness_n(past_n)))
    assert math.isnan(float(curve.tangent_stiffness_n(past_n)))
    assert math.isnan(float(curve.tension_at(math.nan)))


def test_arrays_keep_their_shape():
    curve = stretch("nylon", 0.014).nominal
    pull_n = np.linspace(0.0, 5e3, 24).reshape(2, 3, 4)
    for found in (curve.extension_at, curve.secant_stiffness_n, curve.tangent_stiffness_n):
        assert found(pull_n).shape == (2, 3, 4)


def test_the_first_construction_is_taken_where_none_is_told():
    assert constructions("nylon") == ("3-strand", "braid")
    assert stretch("nylon", 0.014).construction == "3-strand"
    assert stretch("hmpe", 0.014).construction == "12-strand"


def test_what_the_curve_does_above_the_half_is_said():
    found = stretch("nylon", 0.016, new=True)
    where = "Stretch of 3-strand nylon"
    assert found.basis.findings[-2:] == (
        Finding(
            where,
            "above half its strength only the stretch at break is printed (35 to 45 %); the curve"
            " goes on straight and ends at 39.4 %",
        ),
        Finding(where, "new rope stretches 1.3 to 2 times as much on its first loadings"),
    )
    assert found.status == "from memory"
    assert "rope-elongation" in found.basis.sources


def test_short_term_stiffness_is_of_ships_ropes_and_says_so():
    breaking_n = stretch("nylon", 0.016).nominal.breaking_n
    found = stiffness_about("nylon", 0.016, [0.0, 0.3 * breaking_n, 1.2 * breaking_n])
    assert found.basis.findings[-1] == Finding(
        "Stiffness of nylon",
        "the short-term stiffness was read for large offshore ropes, not for yachts' ropes",
    )
    # a gust on a standing pull meets a stiffer rope than the pull itself did
    assert found.short_term_n[1] > found.quasi_static_n[1]
    assert np.isnan([found.short_term_n[2], found.quasi_static_n[2]]).all()


def test_chain_worn_by_a_tenth_is_retired():
    worn = worn_chain(0.010, 30, 0.009)
    assert worn.retire
    # 50 kN and 12.5 kN new, 0.81 left
    assert worn.breaking_n == pytest.approx(40500.0)
    assert worn.working_n == pytest.approx(10125.0)
    assert worn.basis.findings == (
        Finding(
            "Chain",
            "10 % of the diameter is gone; from 10 % on chain is retired (common practice, no"
            " source)",
        ),
    )


def test_chain_that_measures_a_little_thick_is_as_new():
    worn = worn_chain(0.010, 30, 0.0102)
    assert (worn.lost, worn.share, worn.retire) == (0.0, 1.0, False)
    assert worn.basis.findings == ()


def test_a_sharp_edge_is_unknown_and_so_is_the_rope_over_it():
    assert math.isnan(float(edge_share(0.5)))
    worn = worn_rope(STERN, RopeUse(edge_m=0.004))
    assert math.isnan(worn.low_n)
    assert math.isnan(worn.high_n)
    said = "nobody has printed what a rope keeps over an edge thinner than itself"
    assert worn.basis.findings == (Finding("stern", said),)


def test_a_round_edge_goes_by_a_rule_for_wire_and_says_so():
    said = "over the edge by a rule for wire; a rope that saws there keeps less"
    found = worn_rope(STERN, RopeUse(edge_m=0.1)).basis.findings
    assert found == (Finding("stern", said),)


def test_nobody_knows_what_the_sun_takes_from_polyester():
    line = LongLine("bow", "polyester", 0.014, 30.0)
    worn = worn_rope(line, RopeUse(summers=2.0))
    assert math.isnan(worn.low_n)
    assert worn.basis.findings == (
        Finding("bow", "nobody has printed what the sun takes from this fibre"),
    )
    # out of the sun it is known
    assert worn_rope(line, RopeUse()).low_n == pytest.approx(0.6 * worn.new_n)


def test_knots_and_splices_multiply_and_wet_nylon_is_weaker():
    line = LongLine("bow", "nylon", 0.012, 30.0)
    worn = worn_rope(line, RopeUse(("bowline", "eye splice")))
    assert [factor.name for factor in worn.factors] == ["bowline", "eye splice", "sun", "wet"]
    # 25.2 kN x 0.60 x 0.90 x 0.85
    assert worn.low_n == worn.high_n == pytest.approx(11566.8)
    assert worn_rope(line, RopeUse((), wet=False)).low_n == worn.new_n


@pytest.mark.parametrize(
    ("marking", "working_n"),
    [
        ("WLL 2 t", 19613.3),
        ("3,25T", 31871.6),
        ("swl 500 kg", 4903.3),
        ("20 kN", 20e3),
        ("1000 daN", 10e3),
        ("MBL 120 kN", 20e3),
        ("BL 120kN", 20e3),
    ],
)
def test_a_shackle_is_taken_at_what_it_is_marked_with(marking, working_n):
    assert marked_load("shackle", marking).working_n == pytest.approx(working_n, abs=0.1)


def test_what_was_marked_is_said():
    assert marked_load("shackle", "MBL 12 kN").basis.findings == (
        Finding("Shackle", "marked with its breaking load; reckoned with 1/6 of it"),
    )
    assert marked_load("round sling", "1 t").basis.findings == (
        Finding(
            "Round sling",
            "marked with its working load; the standard wants it to part at 7 times that",
        ),
    )


def test_a_choked_sling_carries_less_and_a_basket_more():
    marked = marked_load("round sling", "10 kN")
    assert sling_in_use(marked, "choked") == (
        pytest.approx(8e3),
        "what it is marked with, choked (en-1492, from memory)",
    )
    assert sling_in_use(marked, "basket").limit_n == pytest.approx(20e3)


@pytest.mark.parametrize(
    ("holdfast", "said", "unknown"),
    [
        (
            tree(6e3),
            "a living tree, rooted in soil and not in scree, 30 cm thick or more where the sling"
            " lies, close to the ground (rule of thumb, no source)",
            "nobody knows what this tree carries; it would have to carry 6.0 kN",
        ),
        (
            # 2 x 6 kN over half its weight: 24 kN, 2.4 t
            boulder(6e3),
            "a boulder of 2.4 t or more, 0.9 cubic metres, with the sling low (rule of thumb, no"
            " source)",
            "nobody knows what this boulder carries; it would have to carry 6.0 kN",
        ),
        (
            rock(6e3),
            "rock that is one with the hill, without a crack, that rings and does not sound hollow;"
            " no size can be named (rule of thumb, no source)",
            "nobody knows what this rock carries; it would have to carry 6.0 kN",
        ),
    ],
)
def test_a_tree_or_rock_has_a_load_and_a_rule_of_thumb_but_no_limit(holdfast, said, unknown):
    assert holdfast.said == said
    assert holdfast.source == RULE_OF_THUMB
    assert math.isnan(holdfast.limit_n)
    assert holdfast.load_n == 6e3
    assert holdfast.basis.findings == (Finding(holdfast.kind.capitalize(), unknown),)


def test_two_anchors_in_line_are_a_span_and_say_why():
    pair = two_in_line(SAND, SAND, 0.05)
    assert float(pair.low_n) == pytest.approx(SAND.low_n)
    assert float(pair.high_n) == pytest.approx(2.0 * SAND.low_n)
    assert pair.basis.findings == (
        Finding(
            "Two anchors in line",
            "nobody has printed a factor for it; the second adds between nothing and its own"
            " holding",
        ),
    )


def test_on_rock_the_pair_is_as_unknown_as_each():
    bare = holding(Anchor("scoop", 25.0), "rock")
    pair = two_in_line(bare, bare, 0.1)
    assert math.isnan(float(pair.low_n))
    assert math.isnan(float(pair.high_n))
    assert Finding(
        "Two anchors in line", "what the second may add in this bottom is unknown"
    ) in pair.basis.findings  # fmt: skip
