"""Published checks of the wind on a hull and of what the ground holds."""

from __future__ import annotations

from functools import partial

from shorefast.app.verification.calls import Call
from shorefast.mooring import (
    ShipShape,
    WindForm,
    deep_wavelength_m,
    drift_bound,
    highest_share,
    merchant_coefficients,
    power_law_holding_n,
    uplift_share,
    wind_coefficients,
)
from shorefast.quantities import to_si

COEFFICIENTS = ("CX", "CY", "CN")


def wind_coefficient(
    angle_deg: float,
    *,
    frontal_m2: float,
    lateral_m2: float,
    length_m: float,
    lever_m: float,
    across: float,
    ahead: float,
    astern: float,
    delta: float,
    which: str,
) -> float:
    """One coefficient of a wind so far off the port bow, where the printed signs are ours."""
    form = WindForm(frontal_m2, lateral_m2, length_m, lever_m, across, ahead, astern, delta)
    all_three = wind_coefficients(form, -to_si(angle_deg, "angle", "deg"))
    return float(all_three[COEFFICIENTS.index(which)])


def merchant_ship_coefficient(
    angle_deg: float,
    *,
    length_m: float,
    beam_m: float,
    lateral_m2: float,
    frontal_m2: float,
    house_m2: float,
    perimeter_m: float,
    centroid_m: float,
    masts: float,
    which: str,
) -> float:
    """One coefficient of a merchant ship with the wind so far off the port bow."""
    lever_m = 0.5 * length_m - centroid_m
    ship = ShipShape(
        length_m, beam_m, frontal_m2, lateral_m2, house_m2, perimeter_m, lever_m, int(masts)
    )
    all_three = merchant_coefficients(ship, -to_si(angle_deg, "angle", "deg"))
    return float(all_three[COEFFICIENTS.index(which)])


def holding_n(kind: str, soil: str, mass_kg: float) -> float:
    """Holding of a large anchor by the power law."""
    return power_law_holding_n(kind, soil, mass_kg)


def holding_left(uplift_deg: float) -> float:
    """Share of the holding left when the shank is lifted."""
    return float(uplift_share(to_si(uplift_deg, "angle", "deg")))


def drift_npm(height_m: float) -> float:
    """The most a sea can push, for each metre of crest."""
    return float(drift_bound(height_m, 0.0, 1.0, 1.0)[0]) * -1.0


def highest_of(waves: float) -> float:
    """The highest of so many waves over the significant height."""
    return highest_share(waves)


def deep_length_m(period_s: float) -> float:
    """Length of a wave in deep water."""
    return float(deep_wavelength_m(period_s))


LOAD_CALLS = {
    **{f"wind coefficient {c}": Call(partial(wind_coefficient, which=c)) for c in COEFFICIENTS},
    **{
        f"merchant ship {c}": Call(partial(merchant_ship_coefficient, which=c))
        for c in COEFFICIENTS
    },
    "drift of waves": Call(drift_npm, "force"),
    "highest wave": Call(highest_of),
    "deep wave": Call(deep_length_m, "length"),
    "holding by power law": Call(holding_n, "force"),
    "holding left by uplift": Call(holding_left),
}
