"""Published checks of chain, rope, strong points, design loads and thrust."""

from __future__ import annotations

from shorefast.app.verification.calls import Call
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
from shorefast.errors import OutsideModel
from shorefast.quantities import to_si


def _mm(diameter_mm: float) -> float:
    return to_si(diameter_mm, "length", "mm")


def chain_breaking_n(diameter_mm: float, grade: int, standard: str = "iso4565") -> float:
    """Least breaking load of chain."""
    return chain(_mm(diameter_mm), grade, standard).breaking_n


def chain_proof_n(diameter_mm: float, grade: int, standard: str = "iso4565") -> float:
    """Proof load of chain."""
    return chain(_mm(diameter_mm), grade, standard).proof_n


def chain_working_n(diameter_mm: float, grade: int, standard: str = "iso4565") -> float:
    """Working load of chain."""
    return chain(_mm(diameter_mm), grade, standard).working_n


def chain_mass_kgpm(diameter_mm: float, grade: int, standard: str = "iso4565") -> float:
    """Mass of a metre of chain."""
    return chain(_mm(diameter_mm), grade, standard).mass_kgpm


def chain_wet_weight_npm(diameter_mm: float, grade: int) -> float:
    """Weight of a metre of chain in sea water."""
    return chain(_mm(diameter_mm), grade).wet_weight_npm


def chain_stiffness_n(diameter_mm: float, grade: int) -> float:
    """Stiffness EA of chain."""
    return chain(_mm(diameter_mm), grade).axial_stiffness_n


def chain_by_grade_n(diameter_mm: float, grade: int) -> float:
    """Breaking load by the grade rule."""
    return grade_rule_n(_mm(diameter_mm), grade)


def rope_breaking_n(fibre: str, diameter_mm: float) -> float:
    """Breaking load of the rope as it is reckoned with."""
    return rope(fibre, _mm(diameter_mm)).breaking_n


def rope_printed_n(fibre: str, standard: str, diameter_mm: float) -> float:
    """Breaking load under one standard, from the shipped table."""
    for row in rope_break_table(fibre, standard):
        if abs(row.diameter_m - _mm(diameter_mm)) < _mm(0.1):
            return row.breaking_n
    raise OutsideModel(
        where="Rope",
        got=f"{diameter_mm:g} mm {fibre} under {standard}",
        against="not in the shipped table",
        way_out="Take a size and a standard that are.",
    )


def rope_stiffness(fibre: str, diameter_mm: float) -> float:
    """EA over breaking load."""
    return rope(fibre, _mm(diameter_mm)).stiffness


def knotted_n(breaking_kn: float, knot: str) -> float:
    """What is left of a rope's strength by a knot or splice."""
    return to_si(breaking_kn, "force", "kn") * termination_share(knot).value


def strong_point_load_n(use: str, length_m: float, category: str) -> float:
    """Load on a strong point by the standard."""
    return strong_point_n(use, length_m, category)


def design_load_of_n(
    length_ft: float, wind: str, beam_ft: float | None = None, rig: str = "sail"
) -> float:
    """Printed design load of ground tackle."""
    beam_m = None if beam_ft is None else to_si(beam_ft, "length", "ft")
    return design_load_n(to_si(length_ft, "length", "ft"), wind, beam_m, rig)


def equipment_bower_kg(number: float) -> float:
    """Mass of a bower anchor by equipment number."""
    row = equipment_row(number)
    if row is None:
        raise OutsideModel(
            where="Equipment number",
            got=f"{number:g}",
            against="off the shipped rows",
            way_out="Take a number from 50 up.",
        )
    return row.bower_kg


def equipment_number_of(
    displacement_t: float, height_m: float, beam_m: float, lateral_m2: float
) -> float:
    """The class rules' equipment number."""
    return equipment_number(to_si(displacement_t, "mass", "t"), height_m, beam_m, lateral_m2)


def thrust_hp_in_n(power_hp: float, propeller_in: float) -> float:
    """Static thrust by the handbook, horsepower and inches in."""
    return static_thrust_n(to_si(power_hp, "power", "hp"), to_si(propeller_in, "length", "in"))


def thrust_n(formula: str, power_kw: float, propeller_m: float) -> float:
    """Static thrust by the handbook, by the tug's rule, or the disc's bound."""
    formulas = {"handbook": static_thrust_n, "tug": tug_thrust_n, "disc": ideal_thrust_n}
    return formulas[formula](to_si(power_kw, "power", "kw"), propeller_m)


BOAT_CALLS = {
    "chain breaking load": Call(chain_breaking_n, "force"),
    "chain proof load": Call(chain_proof_n, "force"),
    "chain working load": Call(chain_working_n, "force"),
    "chain mass": Call(chain_mass_kgpm),
    "chain weight in sea water": Call(chain_wet_weight_npm),
    "chain stiffness": Call(chain_stiffness_n, "force"),
    "chain by the grade rule": Call(chain_by_grade_n, "force"),
    "rope breaking load": Call(rope_breaking_n, "force"),
    "rope printed breaking load": Call(rope_printed_n, "force"),
    "rope stiffness": Call(rope_stiffness),
    "rope with a knot": Call(knotted_n, "force"),
    "strong point load": Call(strong_point_load_n, "force"),
    "design load": Call(design_load_of_n, "force"),
    "equipment number": Call(equipment_number_of),
    "equipment bower": Call(equipment_bower_kg, "mass"),
    "static thrust": Call(thrust_hp_in_n, "force"),
    "static thrust by formula": Call(thrust_n, "force"),
}
