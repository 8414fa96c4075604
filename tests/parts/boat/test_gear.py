"""Chain, rope, lines, slings and cleats: what they carry and what is said of it."""

from __future__ import annotations

import math

import pytest

from shorefast.basis import Finding
from shorefast.boat import (
    FIBRES,
    Cleat,
    Hull,
    LongLine,
    Sling,
    Snubber,
    Spot,
    chain,
    cleat_limit,
    design_load_n,
    line_strength,
    rope,
    sling_limit,
    snubber_properties,
    termination_share,
)
from shorefast.errors import OutsideModel

HULL = Hull(13.2, 4.1, 2.1, 11500.0, 12.0)


def test_chain_beside_the_table_goes_by_rule_and_says_so():
    odd = chain(0.011, 40)
    assert odd.status == "by rule"
    assert odd.basis.findings == (
        Finding(
            "Chain 11 mm, grade 40", "not in the printed table; its weight and strength are by rule"
        ),
    )
    assert chain(0.010, 40).breaking_n < odd.breaking_n < chain(0.012, 40).breaking_n
    assert chain(0.010, 40).mass_kgpm < odd.mass_kgpm < chain(0.012, 40).mass_kgpm


def test_a_row_without_a_weight_takes_that_of_the_same_size():
    assert chain(0.012, 40).mass_kgpm == pytest.approx(3.25)


def test_the_lower_of_two_suppliers_counts():
    assert chain(0.006, 40).breaking_n == 20e3


def test_grade_seventy_is_from_memory():
    assert chain(0.010, 70).status == "from memory"
    # 13 mm is not listed: never more than the listed neighbour's stress allows
    assert chain(0.013, 70).breaking_n <= 140e3 * (13 / 12) ** 2 + 1.0


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (
            lambda: chain(0.002, 30),
            "Chain: 2 mm, grade 30, known from 4 to 40 mm, grade 20 to 120."
            " Check the diameter of the wire (not of the link) and the grade.",
        ),
        (
            lambda: rope("hemp", 0.012),
            "Rope: 12 mm hemp, known from 3 to 60 mm in polypropylene, nylon, polyester, hmpe."
            " Check the fibre and the diameter.",
        ),
        (
            lambda: termination_share("granny knot"),
            "Knot: 'granny knot', known are anchor bend, bowline, two half hitches, clove hitch,"
            " eye splice, short splice, reef knot, overhand knot, none."
            " Take the nearest of these.",
        ),
        (
            lambda: design_load_n(25.0, "storm", 6.0),
            "Design load: 25 m and 6 m beam in 'storm', the table ends at 18.3 m and knows lunch,"
            " working, storm, extrapolated. There is no printed load for this boat.",
        ),
    ],
)
def test_a_part_nobody_printed_is_outside_the_model(call, sentence):
    with pytest.raises(OutsideModel) as trouble:
        call()
    assert trouble.value.sentence == sentence


def test_polypropylene_and_hmpe_float_and_the_others_sink():
    weights = {fibre: rope(fibre, 0.016) for fibre in FIBRES}
    assert {fibre for fibre, found in weights.items() if found.floats} == {"polypropylene", "hmpe"}
    for found in weights.values():
        assert found.wet_weight_npm >= 0.0
        assert (found.wet_weight_npm == 0.0) == found.floats


def test_the_bounds_of_stretch_enclose_the_nominal():
    for fibre in FIBRES:
        found = rope(fibre, 0.016)
        assert 0 < found.stiffness_soft <= found.stiffness <= found.stiffness_stiff


def test_polypropylene_stretches_five_and_a_half_in_a_hundred_at_a_fifth():
    assert 0.2 / rope("polypropylene", 0.016).stiffness == pytest.approx(0.055, abs=1e-4)


def test_a_size_between_rows_is_between_them_and_said():
    between = rope("polypropylene", 0.020)
    assert rope("polypropylene", 0.018).breaking_n < between.breaking_n
    assert between.breaking_n < rope("polypropylene", 0.022).breaking_n
    assert between.basis.findings[0].said == (
        "not in the printed table; its weight and strength are by rule"
    )


def test_an_inch_rope_under_a_millimetre_label_is_said():
    said = "the printed row is the 3/4 inch rope; a true 18 mm carries a tenth less"
    assert Finding("Rope 18 mm polypropylene", said) in rope("polypropylene", 0.018).basis.findings


def test_what_other_standards_print_stands_beside():
    beside = {row.standard: row for row in rope("polypropylene", 0.016).beside}
    assert beside["iso"].breaking_n == pytest.approx(36285.0, abs=1.0)
    assert beside["iso"].status == "from memory"


# Three boats' shore lines, worked by hand: new x 0.60 x 0.90, and half of it.
@pytest.mark.parametrize(
    ("size_mm", "limit_kn", "parts_kn"), [(12, 4.5, 9.1), (16, 6.7, 13.4), (24, 15.4, 30.8)]
)
def test_two_year_old_polypropylene_on_a_bowline(size_mm, limit_kn, parts_kn):
    strength = line_strength(LongLine("stern", "polypropylene", size_mm * 1e-3, 60.0, 2.0))
    assert strength.usable_n / 1e3 == pytest.approx(parts_kn, abs=0.05)
    assert strength.limit_n / 1e3 == pytest.approx(limit_kn, abs=0.05)


def test_a_new_line_keeps_what_age_would_take():
    young = line_strength(LongLine("stern", "polyester", 0.016, 60.0, 1.0))
    old = line_strength(LongLine("stern", "polyester", 0.016, 60.0, 2.0))
    unknown = line_strength(LongLine("stern", "polyester", 0.016, 60.0))
    assert old.usable_n == pytest.approx(0.9 * young.usable_n)
    assert unknown.usable_n == old.usable_n
    assert unknown.basis.findings == (Finding("stern", "age unknown; reckoned as 2 years or more"),)


def test_wet_nylon_is_weaker():
    factors = line_strength(LongLine("stern", "nylon", 0.016, 60.0, 1.0)).factors
    assert [(f.name, f.value) for f in factors] == [("bowline", 0.6), ("age", 1.0), ("wet", 0.85)]


def test_the_share_is_a_setting_and_is_said():
    strength = line_strength(LongLine("stern", "polyester", 0.016, 60.0, 1.0), share=0.2)
    assert strength.limit_n == pytest.approx(0.2 * strength.usable_n)
    said = "A line should carry 0.2 of what parts it as it is used (common practice)"
    assert said in [assumption.said for assumption in strength.basis.assumptions]


def test_a_tail_twice_as_long_is_half_as_stiff():
    short = snubber_properties(Snubber("nylon", 0.012, 5.0))
    long = snubber_properties(Snubber("nylon", 0.012, 10.0))
    assert long.spring_npm == pytest.approx(short.spring_npm / 2.0)
    assert short.spring_soft_npm < short.spring_npm < short.spring_stiff_npm
    assert short.axial_stiffness_n == pytest.approx(short.spring_npm * 5.0)


def test_a_sling_nobody_marked_is_unknown():
    limit_n, source = sling_limit(Sling("strop", "rope", 3.0, None))
    assert math.isnan(limit_n)
    assert source == "nobody knows what this sling carries"
    assert sling_limit(Sling("strop", "chain", 3.0, 2e4)).limit_n == 2e4


def test_a_cleat_takes_the_standards_load_forward_and_aft():
    aft_n, source = cleat_limit(Cleat("port quarter", Spot(-6.4, -1.6, 1.3)), HULL)
    bow_n = cleat_limit(Cleat("port bow", Spot(5.5, -1.1, 1.5)), HULL).limit_n
    # LC 12.6 m: 3.0 x 12.6 - 3.8 and 3.5 x 12.6 - 4.3
    assert aft_n == pytest.approx(34000.0)
    assert bow_n == pytest.approx(39800.0)
    assert source == "iso-15084, aft mooring (from memory), not this cleat's own"


def test_a_cleat_never_has_to_carry_more_than_the_boat_weighs():
    light = Hull(13.2, 4.1, 2.1, 2000.0, 12.0)
    assert cleat_limit(Cleat("q", Spot(-6.0, 1.0, 1.0)), light).limit_n == pytest.approx(19613.3)


def test_a_known_cleat_is_taken_at_its_word():
    assert cleat_limit(Cleat("q", Spot(-6.0, 1.0, 1.0), 1.2e4), HULL) == (1.2e4, "boat file")


def test_a_dinghys_cleat_is_unknown():
    limit_n, source = cleat_limit(Cleat("q", Spot(-0.5, 0, 0.3)), Hull(1.2, 0.8, 0.2, 40.0, 1.2))
    assert math.isnan(limit_n)
    assert source == "shorter than the standard reckons with"
