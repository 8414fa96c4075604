"""Design loads in print, for setting our own beside them."""

from __future__ import annotations

from dataclasses import dataclass

from shorefast.boat.shipped import shipped_table
from shorefast.errors import OutsideModel
from shorefast.quantities import FOOT_M, to_si

CONDITIONS = ("lunch", "working", "storm", "extrapolated")
# a length printed in metres is rounded to the centimetre
ROUNDING_M = 0.005


@dataclass(frozen=True)
class EquipmentRow:
    """Anchor and chain the class rules want from one equipment number. [kg, m, N]"""

    bower_kg: float
    chain_m: float
    chain_grade1_m: float
    chain_grade2_m: float
    stream_line_m: float
    stream_line_n: float


def design_load_n(
    length_m: float, wind: str, beam_m: float | None = None, rig: str = "sail"
) -> float:
    """Printed horizontal load on ground tackle for a boat of that length or beam. [N]

    It holds the boat's sheering and surging already: set it beside a static
    result, never multiply it by gusts.

    Parameters
    ----------
    length_m : float
        Length over all; the next longer row counts. [m]
    wind : str
        "lunch" (15 kn), "working" (30 kn), "storm" (42 kn), "extrapolated" (60 kn).
    beam_m : float or None
        Where it asks for a longer row, that counts. [m]
    rig : str
        "sail" or "power": which beam column.

    Raises
    ------
    OutsideModel
        For a boat longer or beamier than the last row.

    Source
    ------
    abyc-h-40, Table 1: rows 20 to 60 ft read, 10 and 15 ft and beams from memory.
    """
    table = shipped_table("shorefast.boat", "design_loads")
    rows = [row for row in table if row["condition"] == wind]
    for row in rows:
        beam_ft = row[f"beam_{rig}_ft"]
        long_enough = length_m <= float(row["length_ft"]) * FOOT_M + ROUNDING_M
        beam_fits = beam_m is None or (
            beam_ft != "" and beam_m <= float(beam_ft) * FOOT_M + ROUNDING_M
        )
        if long_enough and beam_fits:
            return to_si(float(row["load_lbf"]), "force", "lbf")
    beam = "" if beam_m is None else f" and {beam_m:g} m beam"
    raise OutsideModel(
        where="Design load",
        got=f"{length_m:g} m{beam} in '{wind}'",
        against=f"the table ends at 18.3 m and knows {', '.join(CONDITIONS)}",
        way_out="There is no printed load for this boat.",
    )


def equipment_number(
    displacement_kg: float,
    height_m: float,
    beam_m: float,
    lateral_m2: float,
    funnel_m2: float = 0.0,
) -> float:
    """The class rules' equipment number, a measure of what wind and current see.

    Parameters
    ----------
    displacement_kg : float
    height_m : float
        From the waterline to the top of the highest house. [m]
    beam_m : float
    lateral_m2 : float
        Side area of hull and houses. [m2]
    funnel_m2 : float
        Frontal area of funnels. [m2]

    Source
    ------
    iacs-rec-10, EN = D^(2/3) + 2 (h B + S) + A / 10 with D in tonnes (read).
    """
    tonnes = displacement_kg / 1e3
    return float(tonnes ** (2.0 / 3.0)) + 2.0 * (height_m * beam_m + funnel_m2) + lateral_m2 / 10.0


def equipment_row(number: float) -> EquipmentRow | None:
    """What the rules want for an equipment number; None off the shipped rows.

    Source
    ------
    iacs-rec-10, Table 1 (read in part).
    """
    for row in shipped_table("shorefast.boat", "equipment"):
        if float(row["from"]) <= number < float(row["until"]):
            return EquipmentRow(
                bower_kg=float(row["bower_kg"]),
                chain_m=float(row["chain_m"]),
                chain_grade1_m=float(row["chain_mm_grade1"]) * 1e-3,
                chain_grade2_m=float(row["chain_mm_grade2"]) * 1e-3,
                stream_line_m=float(row["stream_line_m"]),
                stream_line_n=float(row["stream_line_kn"]) * 1e3,
            )
    return None
