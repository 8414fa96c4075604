"""Chain, rope, knots, strong points, thrust and anchors against numbers in print."""

from __future__ import annotations

import math

import pytest

from shorefast.boat import (
    chain,
    design_load_n,
    equipment_number,
    equipment_row,
    grade_rule_n,
    ideal_thrust_n,
    rope,
    rope_break_table,
    static_thrust_n,
    strong_point_n,
    termination_share,
    tug_thrust_n,
)
from shorefast.mooring.holding import power_law_holding_n, uplift_share

FOOT_M = 0.3048
LBF_N = 4.4482216152605
TF_N = 9806.65


# ISO 4565 / DIN 766 as printed in a chain supplier's table: kg/m, proof kN, break kN.
@pytest.mark.parametrize(
    ("size_mm", "grade", "standard", "kgpm", "proof_kn", "break_kn"),
    [
        (6, 30, "iso4565", 0.80, 10, 18),
        (8, 30, "iso4565", 1.40, 20, 32),
        (8, 40, "iso4565", 1.40, 20, 40),
        (10, 30, "iso4565", 2.25, 32, 50),
        (10, 40, "iso4565", 2.25, 32, 63),
        (10, 40, "din766", 2.20, 32, 63),
        (12, 30, "iso4565", 3.25, 35, 71),
        (13, 30, "din766", 3.90, 50, 80),
        (14, 30, "din766", 4.25, 63, 100),
        (16, 30, "din766", 5.80, 80, 125),
    ],
)
def test_chain_weighs_and_carries_what_the_table_prints(
    size_mm, grade, standard, kgpm, proof_kn, break_kn
):
    found = chain(size_mm * 1e-3, grade, standard)
    # typed from the same page: exact
    assert found.mass_kgpm == kgpm
    assert found.proof_n == proof_kn * 1e3
    assert found.breaking_n == break_kn * 1e3
    assert found.status == "read"


# Same table: the working load is a quarter of the breaking load.
def test_the_working_load_of_chain_is_a_quarter():
    assert chain(0.010, 30).working_n == 12500.0


# Mooring-line regressions: studless chain, EA = 85.4e9 d^2; 0.869 of its weight is left in the sea.
@pytest.mark.parametrize(
    ("size_mm", "wet_npm", "stiff_mn"), [(8, 11.94, 5.47), (10, 19.18, 8.54), (12, 27.71, 12.3)]
)
def test_chain_in_the_sea_as_the_notes_have_it(size_mm, wet_npm, stiff_mn):
    found = chain(size_mm * 1e-3, 30)
    # printed to the last digit shown
    assert found.wet_weight_npm == pytest.approx(wet_npm, abs=0.006)
    assert found.axial_stiffness_n / 1e6 == pytest.approx(stiff_mn, rel=4e-3)


# The grade rule against the read rows it stands beside: 13 mm G30 80 kN, 8 and 10 mm G40 40 and 63.
@pytest.mark.parametrize(
    ("size_mm", "grade", "printed_kn"), [(13, 30, 80), (8, 40, 40), (10, 40, 63)]
)
def test_the_grade_rule_meets_the_printed_rows(size_mm, grade, printed_kn):
    # the table rounds to whole kilonewtons and the rule is good to one in a hundred here
    assert grade_rule_n(size_mm * 1e-3, grade) / 1e3 == pytest.approx(printed_kn, rel=0.01)


# US cordage practice, 3-strand rope: breaking load kN.
@pytest.mark.parametrize(
    ("fibre", "size_mm", "printed_kn"),
    [
        ("polypropylene", 8, 7.61),
        ("polypropylene", 12, 16.8),
        ("polypropylene", 16, 24.8),
        ("polypropylene", 24, 57.0),
        ("nylon", 12, 25.2),
        ("nylon", 16, 39.6),
        ("polyester", 12, 22.6),
        ("polyester", 16, 34.8),
    ],
)
def test_rope_parts_at_what_the_table_prints(fibre, size_mm, printed_kn):
    found = rope(fibre, size_mm * 1e-3)
    assert found.breaking_n == pytest.approx(printed_kn * 1e3, rel=1e-12)
    assert found.status == "read"


# Same pages: safe load is a twelfth, 1.40 kN for 12 mm polypropylene.
def test_a_twelfth_of_twelve_millimetre_polypropylene():
    assert rope("polypropylene", 0.012).breaking_n / 12.0 == pytest.approx(1400.0, rel=0.01)


# OCIMF Mooring Equipment Guidelines, 2nd ed., Table 6.5, polyester 8-strand, 16 mm, tonnes.
@pytest.mark.parametrize(
    ("standard", "tonnes"), [("bs 4928", 4.1), ("din 83331", 4.4), ("jis 2704", 3.8)]
)
def test_three_standards_on_sixteen_millimetre_polyester(standard, tonnes):
    rows = {row.diameter_m: row for row in rope_break_table("polyester", standard)}
    assert rows[0.016].breaking_n == pytest.approx(tonnes * TF_N, rel=1e-12)


# UFC 4-159-03 (2005), Table 6-8: one-inch double-braid nylon, AE 118.9 kip, strength 33.6 kip.
def test_nylon_stretches_as_the_navy_has_it():
    assert rope("nylon", 0.024).stiffness == pytest.approx(118.9 / 33.6, rel=0.01)


# Five break tests of 8 mm polypropylene, mean 10.57 kN: more than the row we reckon with.
def test_a_dealers_break_tests_pass_our_row():
    tested = rope_break_table("polypropylene", "break test")[0].breaking_n
    assert tested == pytest.approx(10570.0, rel=1e-12)
    assert rope("polypropylene", 0.008).breaking_n < tested


# Plymouth Cordage tests: a bowline leaves 0.60, two half hitches 0.75, a reef knot 0.45.
@pytest.mark.parametrize(
    ("knot", "share"),
    [("bowline", 0.60), ("two half hitches", 0.75), ("anchor bend", 0.70), ("reef knot", 0.45)],
)
def test_a_knot_takes_its_printed_share(knot, share):
    assert termination_share(knot).value == share


# Owner's manual with the ISO 15084 triple: 24.9 / 20.4 / 17.4 kN; f 0.9, LC 7.70 m give all three.
@pytest.mark.parametrize(
    ("use", "printed_kn"),
    [("forward anchoring", 24.9), ("forward mooring", 20.4), ("aft mooring", 17.4)],
)
def test_an_owners_manual_prints_the_same_strong_points(use, printed_kn):
    # printed to a tenth
    assert strong_point_n(use, 7.70, "C") / 1e3 == pytest.approx(printed_kn, abs=0.05)


# ABYC H-40, Table 1, lbf.
@pytest.mark.parametrize(
    ("length_ft", "wind", "lbf"),
    [
        (40, "working", 1200),
        (60, "lunch", 500),
        (30, "extrapolated", 2800),
        (40, "lunch", 300),
        (25, "working", 490),
        (35, "storm", 1800),
    ],
)
def test_design_loads_as_printed(length_ft, wind, lbf):
    assert design_load_n(length_ft * FOOT_M, wind) == pytest.approx(lbf * LBF_N, rel=1e-9)


# Same table, a handbook's example: 32 ft, 12 ft beam, power, working: 900 lbf.
def test_the_handbooks_motor_boat():
    load_n = design_load_n(32 * FOOT_M, "working", 12 * FOOT_M, "power")
    assert load_n == pytest.approx(900 * LBF_N, rel=1e-9)


# Same table: sixteen times from 15 to 60 knots, the square of the wind.
def test_design_loads_go_with_the_square_of_the_wind():
    lunch_n, gale_n = (design_load_n(50 * FOOT_M, wind) for wind in ("lunch", "extrapolated"))
    assert gale_n / lunch_n == pytest.approx(16.0, rel=1e-12)


# IACS Rec. 10 Rev. 5: 10 t, h 1.9, B 4, A 18: 21.6; the table starts at 50: two bowers of 180 kg.
def test_a_yacht_lies_below_the_class_table():
    number = equipment_number(10e3, 1.9, 4.0, 18.0)
    assert number == pytest.approx(21.6, abs=0.05)
    assert equipment_row(number) is None
    row = equipment_row(50.0)
    assert row is not None
    assert (row.bower_kg, row.chain_m, row.stream_line_n) == (180.0, 220.0, pytest.approx(64700.0))


# Gerr's static thrust, 40 hp and 16 inches: 62.72 (53.33)^0.67 = 900.5 lbf.
def test_static_thrust_of_forty_horsepower():
    thrust_n = static_thrust_n(40 * 745.6998715822702, 16 * 0.0254)
    # the example is worked to four figures
    assert thrust_n / LBF_N == pytest.approx(900.5, rel=1e-3)


# 30 kW on 0.45 m: the handbook 4.31, the encyclopaedia 5.67, the disc 6.65 kN.
@pytest.mark.parametrize(
    ("formula", "printed_kn"),
    [(static_thrust_n, 4.31), (tug_thrust_n, 5.67), (ideal_thrust_n, 6.65)],
)
def test_three_formulas_for_thirty_kilowatts(formula, printed_kn):
    assert formula(30e3, 0.45) / 1e3 == pytest.approx(printed_kn, rel=5e-3)


# UFC 4-159-03 eq. 26 with the parameters of NCEL TDS 83-08R; offshore manual curves.
@pytest.mark.parametrize(
    ("kind", "soil", "mass_kg", "printed_kn", "rel"),
    [
        ("pivoting twin-fluke lightweight", "sand/stiff clay", 4536, 560, 1e-12),
        ("pivoting twin-fluke lightweight", "sand/stiff clay", 25, 8.73, 5e-3),
        ("stockless", "sand/stiff clay", 25, 4.85, 5e-3),
        ("large high-holding", "hard clay or sand", 1000, 904.21, 1e-12),
        ("large high-holding", "soft clay", 5000, 2278, 1e-3),
    ],
)
def test_large_anchors_by_the_power_law(kind, soil, mass_kg, printed_kn, rel):
    # worked to three or four figures; the first and fourth are the law's own parameters
    assert power_law_holding_n(kind, soil, mass_kg) / 1e3 == pytest.approx(printed_kn, rel=rel)


# Naval seamanship rule: a quarter lost at 5 degrees, half at 15.
@pytest.mark.parametrize(("angle_deg", "left"), [(0, 1.0), (5, 0.75), (15, 0.5)])
def test_uplift_costs_what_the_rule_says(angle_deg, left):
    assert float(uplift_share(math.radians(angle_deg))) == pytest.approx(left, abs=1e-12)
