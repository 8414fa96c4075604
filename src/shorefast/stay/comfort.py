"""How she rides waves and wash at the berth: told, it decides nothing."""

from __future__ import annotations

import math

from shorefast.basis import Assumption, Basis
from shorefast.mooring import ride
from shorefast.stay.answer import Comfort
from shorefast.stay.plan import Stay

_GRAVITY_MPS2 = 9.81
# who bears how much, rms: vertical acceleration as a share of gravity, roll in degrees;
# nordforsk-1987 (from memory)
LIMITS = (
    ("a cruise ship's passengers", 0.02, 2.0),
    ("passengers on a short crossing", 0.05, 2.5),
    ("work of the head", 0.10, 3.0),
    ("heavy work by hand", 0.15, 4.0),
    ("light work by hand", 0.20, 6.0),
)


def comfort_of(stay: Stay) -> tuple[tuple[Comfort, ...], Basis]:
    """How she rides the waves, as she is meant to lie, and a wash on her beam.

    Returns
    -------
    comfort : tuple of Comfort
        Empty where neither is told.
    basis : Basis

    Source
    ------
    nordforsk-1987.
    """
    found = []
    if stay.waves is not None and stay.lie is not None and stay.waves.height_m > 0.0:
        off_rad = stay.waves.from_rad - stay.lie.heading_rad
        found.append(_ridden(stay, "waves", stay.waves.height_m, stay.waves.period_s, off_rad))
    if stay.wash is not None and stay.wash.height_m > 0.0:
        # a train of waves of one height is as rough as a sea of its root of two
        height_m = math.sqrt(2.0) * stay.wash.height_m
        found.append(_ridden(stay, "wash", height_m, stay.wash.period_s, 0.5 * math.pi))
    return tuple(found), Basis((), _SAID, ("nordforsk-1987",)) if found else Basis()


def _ridden(stay: Stay, of: str, height_m: float, period_s: float, off_bow_rad: float) -> Comfort:
    hull = stay.boat.hull
    felt = ride(height_m, period_s, off_bow_rad, (hull.waterline_m, hull.beam_m))
    heave_mps2, lean_rad = float(felt.heave_mps2), float(felt.slope_rad)
    return Comfort(of, heave_mps2, lean_rad, fit_for(heave_mps2, lean_rad))


def fit_for(heave_mps2: float, lean_rad: float) -> str | None:
    """The first of the published limits that both keep within; None: past them all.

    Source
    ------
    nordforsk-1987.
    """
    for who, share, roll_deg in LIMITS:
        if heave_mps2 <= share * _GRAVITY_MPS2 and math.degrees(lean_rad) <= roll_deg:
            return who
    return None


_SAID = (
    Assumption(
        "Comfort is told by limits for ships, from memory, and by how she follows the waves"
        " without rolling in step with them; it decides nothing",
        "Waves from abeam of her own roll period, often 3 to 5 s, roll her several times as far",
    ),
)
