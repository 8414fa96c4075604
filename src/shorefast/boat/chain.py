"""What a metre of anchor chain weighs and carries."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np

from shorefast.basis import Basis, Finding
from shorefast.boat.shipped import shipped_table
from shorefast.errors import OutsideModel
from shorefast.quantities import STANDARD_GRAVITY_MPS2

SEA_WATER_KGPM3 = 1025.0
STEEL_KGPM3 = 7850.0
WORKING_SHARE = 0.25
PROOF_SHARE = 0.40
AXIAL_NPM2 = 85.4e9
SAME_DIAMETER_M = 0.1e-3


@dataclass(frozen=True)
class ChainProperties:
    """A metre of short-link chain.

    Attributes
    ----------
    mass_kgpm, wet_weight_npm, air_weight_npm : float
        Mass [kg/m], weight in sea water and in air [N/m].
    axial_stiffness_n : float
        EA. [N]
    breaking_n, proof_n, working_n : float
        Least breaking load, the maker's proof, and a quarter of the first. [N]
    source, status : str
        Key in sources.toml; "read", "from memory" or "by rule".
    """

    mass_kgpm: float
    wet_weight_npm: float
    air_weight_npm: float
    axial_stiffness_n: float
    breaking_n: float
    proof_n: float
    working_n: float
    source: str
    status: str
    basis: Basis


@cache
def chain(diameter_m: float, grade: int, standard: str = "iso4565") -> ChainProperties:
    """Weight and strength of short-link chain, from the printed table where it has the row.

    Sizes between or beyond the rows: mass by the square of the diameter from its
    neighbours, strength by the grade rule or by the nearest row of that grade,
    whichever is less; a finding says so. Wear, rust and twist are left out.

    Parameters
    ----------
    diameter_m : float
        Of the wire the links are made of. [m]
    grade : int
        30, 40, 70: a tenth of it is the mean stress at break in 100 N/mm2.
    standard : str
        "iso4565" or "din766", where the two differ.

    Raises
    ------
    OutsideModel
        Under 4 mm, over 40 mm, or a grade outside 20 to 120.

    Source
    ------
    iso-4565, table (read); chain-trade for grade 70 (from memory);
    mooring-line-properties, stiffness of studless chain (read).
    """
    _guard(diameter_m, grade)
    row = _printed(diameter_m, grade, standard)
    mass_kgpm = float(row["mass_kgpm"]) if row and row["mass_kgpm"] else _mass_kgpm(diameter_m)
    breaking_n = float(row["breaking_kn"]) * 1e3 if row else _ruled_breaking_n(diameter_m, grade)
    printed_proof = bool(row and row["proof_kn"])
    proof_n = float(row["proof_kn"]) * 1e3 if row and printed_proof else PROOF_SHARE * breaking_n
    air_weight_npm = mass_kgpm * STANDARD_GRAVITY_MPS2
    source = row["source"] if row else "iso-4565"
    return ChainProperties(
        mass_kgpm=mass_kgpm,
        wet_weight_npm=air_weight_npm * (1.0 - SEA_WATER_KGPM3 / STEEL_KGPM3),
        air_weight_npm=air_weight_npm,
        axial_stiffness_n=AXIAL_NPM2 * diameter_m**2,
        breaking_n=breaking_n,
        proof_n=proof_n,
        working_n=WORKING_SHARE * breaking_n,
        source=source,
        status=row["status"] if row else "by rule",
        basis=Basis(
            sources=tuple(dict.fromkeys((source, "mooring-line-properties"))),
            findings=() if row else (_by_rule(diameter_m, grade),),
        ),
    )


def grade_rule_n(diameter_m: float, grade: int) -> float:
    """Breaking load of both legs of a link at the grade's mean stress. [N]

    Source
    ------
    iso-4565, grade rule (from memory); lies within 9 % below the printed grade 30.
    """
    return 2.0 * (math.pi / 4.0) * diameter_m**2 * grade * 1e7


def _guard(diameter_m: float, grade: int) -> None:
    if not (4e-3 <= diameter_m <= 40e-3 and 20 <= grade <= 120):
        raise OutsideModel(
            where="Chain",
            got=f"{diameter_m * 1e3:g} mm, grade {grade}",
            against="known from 4 to 40 mm, grade 20 to 120",
            way_out="Check the diameter of the wire (not of the link) and the grade.",
        )


def _rows() -> tuple[Mapping[str, str], ...]:
    return shipped_table("shorefast.boat", "chain")


def _printed(diameter_m: float, grade: int, standard: str) -> Mapping[str, str] | None:
    same = [
        row
        for row in _rows()
        if int(row["grade"]) == grade
        and abs(float(row["diameter_mm"]) * 1e-3 - diameter_m) <= SAME_DIAMETER_M
    ]
    wanted = [row for row in same if row["standard"] == standard]
    return next(iter(wanted + same), None)


def _mass_kgpm(diameter_m: float) -> float:
    """Mass by d squared, its factor straight between the listed diameters."""
    listed = {float(row["diameter_mm"]): float(row["mass_kgpm"] or 0) for row in reversed(_rows())}
    known = sorted((d * 1e-3, m) for d, m in listed.items() if m)
    factors = [m / d**2 for d, m in known]
    return float(np.interp(diameter_m, [d for d, _ in known], factors)) * diameter_m**2


def _ruled_breaking_n(diameter_m: float, grade: int) -> float:
    rows = [row for row in _rows() if int(row["grade"]) == grade and row["standard"] != "second"]
    ruled_n = grade_rule_n(diameter_m, grade)
    if not rows:
        return ruled_n
    near = min(rows, key=lambda row: abs(float(row["diameter_mm"]) * 1e-3 - diameter_m))
    scaled_n = float(near["breaking_kn"]) * 1e3
    scaled_n *= (diameter_m * 1e3 / float(near["diameter_mm"])) ** 2
    return min(ruled_n, scaled_n)


def _by_rule(diameter_m: float, grade: int) -> Finding:
    return Finding(
        f"Chain {diameter_m * 1e3:g} mm, grade {grade}",
        "not in the printed table; its weight and strength are by rule",
    )
