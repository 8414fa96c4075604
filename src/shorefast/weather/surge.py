"""What the weather adds to the tide."""

from __future__ import annotations

from dataclasses import replace

from shorefast.basis import Assumption, Basis
from shorefast.weather.series import WaterLevel

# sea water and gravity as the printed 0.993 cm a hectopascal has them
_WEIGHT_NPM3 = 1026.0 * 9.81
STANDARD_PA = 101325.0


def barometer_rise_m(pressure_pa: float) -> float:
    """How far the water stands above its tide under air of this pressure. [m]

    About 1 cm for each hectopascal below 1013.25. What wind piles up, and what a bay
    adds by swinging, are left out; the sea takes some hours to follow.

    Parameters
    ----------
    pressure_pa : float
        At sea level. [Pa]

    Source
    ------
    pugh-1987, ch. 6.
    """
    return (STANDARD_PA - pressure_pa) / _WEIGHT_NPM3


def with_rise(water: WaterLevel, rise_m: float, basis: Basis) -> WaterLevel:
    """The water higher by the weather's part, all through. [m]"""
    return replace(water, height_m=water.height_m + rise_m, basis=water.basis | basis)


def barometer_basis(pressure_pa: float) -> Basis:
    """What a rise by the barometer rests on."""
    rise_m = barometer_rise_m(pressure_pa)
    return Basis(
        assumptions=(
            Assumption(
                f"At {pressure_pa / 100.0:g} hPa the water stands {abs(rise_m):.2f} m"
                f" {'above' if rise_m >= 0.0 else 'below'} its tide, 1 cm a hectopascal,"
                " throughout",
                "Wind onto the coast can add as much again, and the pressure changes",
            ),
        ),
        sources=("pugh-1987",),
    )
