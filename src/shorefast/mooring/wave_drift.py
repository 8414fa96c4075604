"""Waves the wind raises over a bay, and the most they can push her.

Four published growth curves for a steady wind off a straight shore. Sheltering,
swell coming round a corner, wash and seiche are left out; the fetches of a bay lie at
or below the curves' data, so take the spread as the doubt.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shorefast.basis import Basis, Finding
from shorefast.errors import OutsideModel
from shorefast.mooring.wind_load import WATER_KGPM3

Floats = NDArray[np.float64]

CURVES = ("jonswap-1973", "spm-1984", "cem-2003", "kahma-calkoen-1992")
TIMED = ("spm-1984", "cem-2003")
GRAVITY_MPS2 = 9.81
_GREATEST_MPS = 50.0
_GREATEST_FETCH_M = 1e6
# g F / U2 of the fetches measured at sea: from memory
_DATA_FROM, _DATA_TO = 1e2, 1e4
_MOST_ENERGY, _LEAST_FREQUENCY = 3.64e-3, 0.133


class Sea(NamedTuple):
    """Waves by one curve: Hm0 [m] and Tp [s], same shape."""

    height_m: Floats
    period_s: Floats


@dataclass(frozen=True)
class SeaSpread:
    """Waves by all curves.

    Attributes
    ----------
    curves : tuple of str
    height_m, period_s : array, shape (..., curve)
        Hm0 and peak period. [m, s]
    within_data : array of bool, shape (...)
        False where the fetch is shorter, for that wind, than any measured.
    basis : Basis
    """

    curves: tuple[str, ...]
    height_m: Floats
    period_s: Floats
    within_data: NDArray[np.bool_]
    basis: Basis


def _checked(wind_mps: ArrayLike, fetch_m: ArrayLike) -> tuple[Floats, Floats]:
    wind, fetch = np.broadcast_arrays(
        np.asarray(wind_mps, np.float64), np.asarray(fetch_m, np.float64)
    )
    beyond = wind[(wind < 0.0) | (wind > _GREATEST_MPS)]
    if beyond.size:
        raise OutsideModel(
            "Waves of the bay",
            f"wind {beyond[0]:g} m/s",
            "the curves are for 0 to 50 m/s",
            "Give the mean wind 10 m up.",
        )
    beyond = fetch[(fetch < 0.0) | (fetch > _GREATEST_FETCH_M)]
    if beyond.size:
        raise OutsideModel(
            "Waves of the bay",
            f"fetch {beyond[0]:g} m",
            "the curves are for 0 to 1000 km",
            "Give the water to windward in metres.",
        )
    return wind, fetch


def _known(curve: str, curves: tuple[str, ...]) -> None:
    if curve not in curves:
        raise OutsideModel(
            "Waves of the bay",
            f"curve '{curve}'",
            f"known are {', '.join(curves)}",
            "Take one of these.",
        )


def fetch_sea(curve: str, wind_mps: ArrayLike, fetch_m: ArrayLike) -> Sea:
    """Waves where the fetch, not the hours, holds them back.

    Parameters
    ----------
    curve : str
        One of CURVES.
    wind_mps : array
        Mean wind 10 m up, 0 to 50. [m/s]
    fetch_m : array, broadcast with it
        Water to windward in a straight line, 0 to 1000 km. [m]

    Returns
    -------
    sea : Sea
        Nought where there is no wind or no fetch.

    Raises
    ------
    OutsideModel
        For a curve not known, or a wind or fetch outside its range.

    Source
    ------
    jonswap-1973; spm-1984; cem-2003, eq. II-2-36; kahma-calkoen-1992.
    """
    _known(curve, CURVES)
    wind, fetch = _checked(wind_mps, fetch_m)
    calm = (wind == 0.0) | (fetch == 0.0)
    grown = _GROWTH[curve](np.where(calm, 1.0, wind), np.where(calm, 1.0, fetch))
    return Sea(np.where(calm, 0.0, grown.height_m), np.where(calm, 0.0, grown.period_s))


def _by_energy(energy: Floats, frequency: Floats, U: Floats) -> Sea:
    """From e = (Hm0 g / 4 U2)2 and fp U / g, both held to the full sea's."""
    height_m = 4.0 * np.sqrt(np.minimum(energy, _MOST_ENERGY)) * U**2 / GRAVITY_MPS2
    return Sea(height_m, U / (GRAVITY_MPS2 * np.maximum(frequency, _LEAST_FREQUENCY)))


def _jonswap(U: Floats, F: Floats) -> Sea:
    x = GRAVITY_MPS2 * F / U**2
    return _by_energy(1.6e-7 * x, 3.5 * x**-0.33, U)


def _kahma_calkoen(U: Floats, F: Floats) -> Sea:
    x = GRAVITY_MPS2 * F / U**2
    return _by_energy(5.2e-7 * x**0.9, 13.7 / (2.0 * math.pi) * x**-0.27, U)


def _spm(U: Floats, F: Floats) -> Sea:
    UA = adjusted_wind_mps(U)
    x = GRAVITY_MPS2 * F / UA**2
    return Sea(
        np.minimum(0.0016 * np.sqrt(x), 0.2433) * UA**2 / GRAVITY_MPS2,
        np.minimum(0.2857 * np.cbrt(x), 8.134) * UA / GRAVITY_MPS2,
    )


def _cem(U: Floats, F: Floats) -> Sea:
    u = friction_wind_mps(U)
    x = GRAVITY_MPS2 * F / u**2
    return Sea(
        np.minimum(0.0413 * np.sqrt(x), 211.5) * u**2 / GRAVITY_MPS2,
        np.minimum(0.651 * np.cbrt(x), 239.8) * u / GRAVITY_MPS2,
    )


_GROWTH = {
    "jonswap-1973": _jonswap,
    "spm-1984": _spm,
    "cem-2003": _cem,
    "kahma-calkoen-1992": _kahma_calkoen,
}


def adjusted_wind_mps(wind_mps: ArrayLike) -> Floats:
    """The wind as its drag on the water is felt: UA = 0.71 U^1.23. [m/s]

    Source
    ------
    spm-1984.
    """
    return np.asarray(0.71 * np.asarray(wind_mps, np.float64) ** 1.23)


def friction_wind_mps(wind_mps: ArrayLike) -> Floats:
    """Friction speed at the water: u2 = U2 0.001 (1.1 + 0.035 U). [m/s]

    Source
    ------
    cem-2003, eq. II-2-36.
    """
    U = np.asarray(wind_mps, np.float64)
    return np.asarray(U * np.sqrt(0.001 * (1.1 + 0.035 * U)))


def build_up_s(curve: str, wind_mps: ArrayLike, fetch_m: ArrayLike) -> Floats:
    """How long the wind must blow before the fetch alone holds the waves back. [s]

    Parameters
    ----------
    curve : str
        One of TIMED.
    wind_mps, fetch_m : arrays, broadcast together
        As ``fetch_sea``; the wind more than 0. [m/s, m]

    Raises
    ------
    OutsideModel
        For a curve without times, no wind, or outside the ranges of ``fetch_sea``.

    Source
    ------
    spm-1984, gt/UA = 68.8 (gF/UA2)^(2/3); cem-2003, t = 77.23 F^0.67 / (U^0.34 g^0.33).
    """
    _known(curve, TIMED)
    wind, fetch = _checked(wind_mps, fetch_m)
    if np.any(wind == 0.0):
        raise OutsideModel(
            "Waves of the bay",
            "no wind",
            "no time is long enough to raise waves",
            "Ask for a wind above 0.",
        )
    g = GRAVITY_MPS2
    if curve == "cem-2003":
        seconds: Floats = 77.23 * fetch**0.67 / (wind**0.34 * g**0.33)
        return seconds
    UA = adjusted_wind_mps(wind)
    spm_s: Floats = np.minimum(68.8 * np.cbrt(g * fetch / UA**2) ** 2, 71500.0) * UA / g
    return spm_s


def full_sea(wind_mps: float, most: float = 0.2433, growth: float = 0.0016) -> tuple[float, float]:
    """The fetch [m] and time [s] after which a wind raises no higher waves.

    Parameters
    ----------
    wind_mps : float
        ``adjusted_wind_mps``, or the wind itself in the older textbook form.
    most, growth : float
        gH/U2 of the full sea and the factor on the root of gF/U2.

    Raises
    ------
    OutsideModel
        For a wind that is not more than 0 to 150 m/s.

    Source
    ------
    spm-1984, caps 0.2433 and 71500.
    """
    if not 0.0 < wind_mps <= 150.0:
        raise OutsideModel(
            "Full sea",
            f"wind {wind_mps:g} m/s",
            "more than 0 to 150 m/s wanted",
            "Give the wind felt by the water.",
        )
    fetch_m = (most / growth) ** 2 * wind_mps**2 / GRAVITY_MPS2
    return fetch_m, 71500.0 * wind_mps / GRAVITY_MPS2


def sea_spread(wind_mps: ArrayLike, fetch_m: ArrayLike) -> SeaSpread:
    """Waves by all four curves, and whether their data reach to such a fetch.

    Parameters
    ----------
    wind_mps, fetch_m : arrays, broadcast together
        As ``fetch_sea``. [m/s, m]

    Raises
    ------
    OutsideModel
        As ``fetch_sea``.

    Source
    ------
    jonswap-1973; spm-1984; cem-2003; kahma-calkoen-1992. The reach of the data,
    gF/U2 from 100 to 10,000, is from memory.
    """
    seas = [fetch_sea(curve, wind_mps, fetch_m) for curve in CURVES]
    wind, fetch = _checked(wind_mps, fetch_m)
    scaled = GRAVITY_MPS2 * fetch
    within = (scaled >= _DATA_FROM * wind**2) & (scaled <= _DATA_TO * wind**2)
    findings = () if np.all(within) else (_OUTSIDE,)
    return SeaSpread(
        CURVES,
        np.stack([sea.height_m for sea in seas], axis=-1),
        np.stack([sea.period_s for sea in seas], axis=-1),
        within,
        Basis(sources=CURVES, findings=findings),
    )


_OUTSIDE = Finding(
    "Waves of the bay",
    "the fetch is outside the growth curves' data for this wind; the spread between"
    " the curves is the least doubt",
)


def drift_bound_npm(height_m: ArrayLike) -> Floats:
    """The most an irregular sea can push, for each metre of crest turned back. [N/m]

    rho g Hm0^2 / 16: all of it turned back. Waves longer than about 2.5 beams pass
    under her and push less.

    Parameters
    ----------
    height_m : array
        Hm0, 0 or more. [m]

    Raises
    ------
    OutsideModel
        For a height below 0.

    Source
    ------
    maruo-1960; longuet-higgins-1977.
    """
    height = np.asarray(height_m, np.float64)
    if np.any(height < 0.0):
        raise OutsideModel(
            "Push of the waves",
            f"waves of {np.nanmin(height):g} m",
            "a height is 0 or more",
            "Give Hm0 in metres.",
        )
    bound: Floats = WATER_KGPM3 * GRAVITY_MPS2 * height**2 / 16.0
    return bound


def regular_drift_npm(amplitude_m: ArrayLike, turned_back: ArrayLike = 1.0) -> Floats:
    """Push of one regular wave, for each metre of crest: rho g a2 R2 / 2. [N/m]

    Parameters
    ----------
    amplitude_m : array
        Half the height from trough to crest. [m]
    turned_back : array
        Share R of the amplitude turned back, 0 to 1.

    Raises
    ------
    OutsideModel
        For a share outside 0 to 1.

    Source
    ------
    maruo-1960.
    """
    share = np.asarray(turned_back, np.float64)
    beyond = share[(share < 0.0) | (share > 1.0)]
    if beyond.size:
        raise OutsideModel(
            "Push of the waves",
            f"{beyond[0]:g} of the wave turned back",
            "at most the whole wave can be",
            "Give a share from 0 to 1.",
        )
    amplitude = np.asarray(amplitude_m, np.float64)
    push: Floats = 0.5 * WATER_KGPM3 * GRAVITY_MPS2 * amplitude**2 * share**2
    return push


def drift_bound(
    height_m: ArrayLike, from_rad: ArrayLike, waterline_m: float, beam_m: float
) -> tuple[Floats, Floats]:
    """The most waves can push her forward and to starboard. [N, N]

    The crest she stops is her outline seen along the waves: her length abeam, her
    beam end on. The turn they give her is not known and left out.

    Parameters
    ----------
    height_m : array
        Hm0. [m]
    from_rad : array, broadcast with it
        Where the waves come from, clockwise off the bow. [rad]
    waterline_m, beam_m : float

    Raises
    ------
    OutsideModel
        For a height below 0.

    Source
    ------
    maruo-1960; longuet-higgins-1977.
    """
    angle = np.asarray(from_rad, np.float64)
    sine, cosine = np.sin(angle), np.cos(angle)
    crest_m = waterline_m * np.abs(sine) + beam_m * np.abs(cosine)
    push_n = drift_bound_npm(height_m) * crest_m
    return -push_n * cosine, -push_n * sine
