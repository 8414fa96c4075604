"""What a metre of rope weighs, carries and stretches."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

import numpy as np

from shorefast.basis import Basis, Finding
from shorefast.boat.chain import SEA_WATER_KGPM3
from shorefast.boat.shipped import shipped_table
from shorefast.errors import OutsideModel
from shorefast.quantities import STANDARD_GRAVITY_MPS2, to_si

FIBRES = ("polypropylene", "nylon", "polyester", "hmpe")
SAME_DIAMETER_M = 0.1e-3
_STANDARD = dict.fromkeys(FIBRES, "us 3-strand") | {"hmpe": "regression"}


@dataclass(frozen=True)
class BreakRow:
    """One printed row: diameter [m], breaking load of new rope [N], mass [kg/m] or NaN."""

    fibre: str
    standard: str
    diameter_m: float
    breaking_n: float
    mass_kgpm: float
    source: str
    status: str


@dataclass(frozen=True)
class RopeProperties:
    """A metre of new rope.

    Attributes
    ----------
    mass_kgpm, wet_weight_npm, air_weight_npm : float
        Mass [kg/m], weight in sea water (0 where it floats) and in air [N/m].
    breaking_n : float
        Least breaking load, new, dry and without a knot. [N]
    stiffness_soft, stiffness, stiffness_stiff : float
        EA as a multiple of ``breaking_n``: soft bound, nominal, stiff bound.
    wet_share : float
        Share of the strength left when wet.
    beside : tuple of BreakRow
        What other standards print for that size, for the spread.
    """

    fibre: str
    diameter_m: float
    mass_kgpm: float
    wet_weight_npm: float
    air_weight_npm: float
    breaking_n: float
    floats: bool
    stiffness_soft: float
    stiffness: float
    stiffness_stiff: float
    wet_share: float
    beside: tuple[BreakRow, ...]
    source: str
    status: str
    basis: Basis


@cache
def rope_break_table(fibre: str, standard: str = "") -> tuple[BreakRow, ...]:
    """Printed rows of one fibre under one standard, thinnest first.

    Parameters
    ----------
    fibre : str
        One of FIBRES.
    standard : str
        "us 3-strand", "iso", "bs 4928", "din 83331", "jis 2704", "break test",
        "regression"; empty: the one ``rope`` uses.

    Source
    ------
    us-3-strand, iso-1346, iso-1140, iso-1141, ocimf-meg2, pp-break-test,
    mooring-line-properties; each row names its own.
    """
    standard = standard or _STANDARD[fibre]
    rows = [
        BreakRow(
            fibre,
            standard,
            float(row["diameter_mm"]) * 1e-3,
            to_si(float(row["breaking"]), "force", row["unit"].lower()),
            float(row["mass_kgpm"] or "nan"),
            row["source"],
            row["status"],
        )
        for row in shipped_table("shorefast.boat", "rope")
        if row["fibre"] == fibre and row["standard"] == standard
    ]
    return tuple(sorted(rows, key=lambda row: row.diameter_m))


@cache
def rope(fibre: str, diameter_m: float) -> RopeProperties:
    """Weight, strength and stretch of rope, from the printed table where it has the row.

    Between rows both go by a power of the diameter, beyond them by its square; a
    finding says so. New rope stretches up to twice as much at first: left out.

    Parameters
    ----------
    fibre : str
        One of FIBRES.
    diameter_m : float
        As the rope is sold. [m]

    Raises
    ------
    OutsideModel
        For a fibre not in FIBRES, or a diameter outside 3 to 60 mm.

    Source
    ------
    us-3-strand (read); mooring-line-properties for hmpe (read, extrapolated) and
    stiffness; ufc-4-159-03, Table 6-8 (read); rope-elongation (from memory).
    """
    _guard(fibre, diameter_m)
    nature = _nature(fibre)
    breaking_n, mass_kgpm, row = _sized(fibre, diameter_m)
    air_weight_npm = mass_kgpm * STANDARD_GRAVITY_MPS2
    buoyant = 1.0 - SEA_WATER_KGPM3 / float(nature["density_kgpm3"])
    source = rope_break_table(fibre)[0].source
    return RopeProperties(
        fibre=fibre,
        diameter_m=diameter_m,
        mass_kgpm=mass_kgpm,
        wet_weight_npm=max(0.0, air_weight_npm * buoyant),
        air_weight_npm=air_weight_npm,
        breaking_n=breaking_n,
        floats=buoyant < 0.0,
        stiffness_soft=float(nature["soft"]),
        stiffness=float(nature["nominal"]),
        stiffness_stiff=float(nature["stiff"]),
        wet_share=float(nature["wet_share"]),
        beside=_beside(fibre, diameter_m),
        source=source,
        status=row.status if row else "by rule",
        basis=_basis(fibre, diameter_m, row, (source, nature["soft_source"], nature["source"])),
    )


def _guard(fibre: str, diameter_m: float) -> None:
    if fibre not in FIBRES or not 3e-3 <= diameter_m <= 60e-3:
        raise OutsideModel(
            where="Rope",
            got=f"{diameter_m * 1e3:g} mm {fibre}",
            against=f"known from 3 to 60 mm in {', '.join(FIBRES)}",
            way_out="Check the fibre and the diameter.",
        )


def _nature(fibre: str) -> dict[str, str]:
    rows = shipped_table("shorefast.boat", "fibres")
    return dict(next(row for row in rows if row["fibre"] == fibre))


def _sized(fibre: str, diameter_m: float) -> tuple[float, float, BreakRow | None]:
    """Breaking load, mass, and the printed row if there is one for this size."""
    rows = rope_break_table(fibre)
    for row in rows:
        if abs(row.diameter_m - diameter_m) <= SAME_DIAMETER_M:
            return row.breaking_n, row.mass_kgpm, row
    log_d = np.log([row.diameter_m for row in rows])
    at = math.log(diameter_m)
    # strength and mass over d squared, straight in logarithms; beyond the rows the end one's
    strength = np.interp(at, log_d, np.log([row.breaking_n for row in rows]) - 2.0 * log_d)
    mass = np.interp(at, log_d, np.log([row.mass_kgpm for row in rows]) - 2.0 * log_d)
    return math.exp(strength) * diameter_m**2, math.exp(mass) * diameter_m**2, None


def _beside(fibre: str, diameter_m: float) -> tuple[BreakRow, ...]:
    """What the other standards print for that size."""
    rows = shipped_table("shorefast.boat", "rope")
    others = sorted({row["standard"] for row in rows} - {_STANDARD[fibre]})
    return tuple(
        row
        for standard in others
        for row in rope_break_table(fibre, standard)
        if abs(row.diameter_m - diameter_m) <= SAME_DIAMETER_M
    )


def _basis(fibre: str, diameter_m: float, row: BreakRow | None, sources: tuple[str, ...]) -> Basis:
    where = f"Rope {diameter_m * 1e3:g} mm {fibre}"
    findings = []
    if row is None:
        findings.append(
            Finding(where, "not in the printed table; its weight and strength are by rule")
        )
    if fibre == "hmpe":
        findings.append(
            Finding(
                where, "strength is drawn out from ships' sizes; the maker's figure may be less"
            )
        )
    if _STANDARD[fibre] == "us 3-strand" and abs(diameter_m - 18e-3) <= SAME_DIAMETER_M:
        findings.append(
            Finding(
                where, "the printed row is the 3/4 inch rope; a true 18 mm carries a tenth less"
            )
        )
    return Basis(sources=tuple(dict.fromkeys(sources)), findings=tuple(findings))
