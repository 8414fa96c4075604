"""How much harder a gust blows than the mean, and the wind at other heights."""

from __future__ import annotations

import csv
import math
from functools import lru_cache
from importlib.resources import files

import numpy as np
from numpy.typing import ArrayLike

from shorefast.errors import OutsideModel
from shorefast.weather.series import Floats

EXPOSURES = ("in-land", "off-land", "off-sea", "at-sea")
TERRAINS = ("water", "open", "suburban")
_INTENSITY = {"in-land": 0.25, "off-land": 0.20, "off-sea": 0.15, "at-sea": 0.10}
_EXPONENTS = {"water": 1 / 11.5, "open": 1 / 9.5, "suburban": 1 / 7.0}
_HEIGHT_M = 10.0
_HOUR_S = 3600.0


@lru_cache(maxsize=1)
def _table() -> dict[tuple[str, float, float], float]:
    text = files("shorefast.weather").joinpath("gust_factors.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(row for row in text.splitlines() if not row.startswith("#"))
    return {
        (row["exposure"], float(row["tau_s"]), float(row["T0_s"])): float(row["G"]) for row in rows
    }


def esdu_gust_factor(intensity: float, averaging_s: float, height_m: float = 10.0) -> float:
    """Most of the means over ``averaging_s`` in an hour, over the hour's mean.

    Parameters
    ----------
    intensity : float
        Standard deviation of the wind over its mean.
    averaging_s : float
        What the gust is averaged over, 1 to 600 s. [s]
    height_m : float
        Above the ground. [m]

    Raises
    ------
    OutsideModel
        If the averaging time is outside 1 to 600 s.

    Source
    ------
    esdu-83045, the form in reference over one hour: G = 1 + g Iu with Tu = 3.13 z^0.2,
    nu the rate of crossings and L = sqrt(2 ln(3600 nu)).
    """
    if not 1.0 <= averaging_s <= 600.0:
        raise OutsideModel(
            "Gust factor",
            f"averaged over {averaging_s:g} s",
            "the form holds for 1 to 600 s",
            "Ask for a gust between 1 and 600 s.",
        )
    Tu = 3.13 * height_m**0.2
    nu = (0.007 + 0.213 * (Tu / averaging_s) ** 0.654) / Tu
    L = math.sqrt(2.0 * math.log(_HOUR_S * nu))
    g = (L + 0.577 / L) * (1.0 - 0.193 * (Tu / averaging_s + 0.1) ** -0.68)
    return float(1.0 + g * intensity)


def gust_factor(exposure: str, averaging_s: float, reference_s: float = 3600.0) -> float:
    """How many times the mean over ``reference_s`` a gust of ``averaging_s`` blows, 10 m up.

    The table where it has the row; over an hour the ESDU form between its rows; for a
    3 s gust on a shorter mean, straight lines in the logarithm of the table's times.

    Parameters
    ----------
    exposure : str
        One of EXPOSURES; a bay with the wind off the land is "off-land".
    averaging_s, reference_s : float
        What the gust and the mean are averaged over. [s]

    Raises
    ------
    OutsideModel
        For an exposure that is not in the table, or times it does not reach.

    Source
    ------
    wmo-td1555, table 1.1; esdu-83045.
    """
    if exposure not in EXPOSURES:
        raise OutsideModel(
            "Gust factor",
            f"exposure '{exposure}'",
            f"the table has {', '.join(EXPOSURES)}",
            "Take one of these.",
        )
    known = _table().get((exposure, float(averaging_s), float(reference_s)))
    if known is not None:
        return known
    if reference_s == _HOUR_S:
        return esdu_gust_factor(_INTENSITY[exposure], averaging_s, _HEIGHT_M)
    return _between_rows(exposure, averaging_s, reference_s)


def _between_rows(exposure: str, averaging_s: float, reference_s: float) -> float:
    rows = sorted(
        (reference, factor)
        for (where, gust, reference), factor in _table().items()
        if where == exposure and gust == averaging_s
    )
    if len(rows) < 2 or not rows[0][0] <= reference_s <= rows[-1][0]:
        raise OutsideModel(
            "Gust factor",
            f"a {averaging_s:g} s gust on the mean of {reference_s:g} s",
            "the table has no row near it",
            "Take a 3 s gust, or the mean of an hour.",
        )
    references, factors = np.array(rows).T
    return float(np.interp(math.log(reference_s), np.log(references), factors))


def averaging_ratio(averaging_s: ArrayLike) -> Floats:
    """Greatest mean over ``averaging_s`` in an hour over the hour's mean, over open land.

    Source
    ------
    cem-2002, part II ch. 2, fig. II-2-1: 1.277 + 0.296 tanh(0.9 log10(45 / t)), 1 <= t <= 3600.
    """
    t = np.asarray(averaging_s, dtype=np.float64)
    if np.any((t < 1.0) | (t > _HOUR_S)):
        raise OutsideModel(
            "Averaging time",
            f"{float(t.min()):g} to {float(t.max()):g} s",
            "the form holds for 1 to 3600 s",
            "Ask inside that range.",
        )
    ratio: Floats = 1.277 + 0.296 * np.tanh(0.9 * np.log10(45.0 / t))
    return ratio


def raised(speed_mps: ArrayLike, from_m: float, to_m: float, terrain: str = "water") -> Floats:
    """The mean wind at another height above the ground, by the power law. [m/s]

    Not for the lee of high land, where gusts come down from above.

    Parameters
    ----------
    speed_mps : array
        At ``from_m``.
    terrain : str
        One of TERRAINS.

    Raises
    ------
    OutsideModel
        For an unknown terrain, or a height that is not above the ground.

    Source
    ------
    cem-2002, power law; scientimate-wind, exponents 1/11.5 over water, 1/9.5 open,
    1/7 suburban.
    """
    if terrain not in _EXPONENTS:
        raise OutsideModel(
            "Wind profile",
            f"terrain '{terrain}'",
            f"known are {', '.join(TERRAINS)}",
            "Take one of these.",
        )
    if not (from_m > 0.0 and to_m > 0.0):
        raise OutsideModel(
            "Wind profile",
            f"from {from_m:g} m to {to_m:g} m",
            "heights above the ground wanted",
            "Give both above 0.",
        )
    result: Floats = np.asarray(speed_mps, np.float64) * (to_m / from_m) ** _EXPONENTS[terrain]
    return result


def open_sea_wind_mps(
    hourly_10m_mps: ArrayLike, height_m: float = 10.0, averaging_s: float = 3600.0
) -> Floats:
    """Most of the means over ``averaging_s`` in an hour at a height, in a storm at sea. [m/s]

    For strong winds with a long fetch; not valid in the lee of high land.

    Parameters
    ----------
    hourly_10m_mps : array
        Mean of the hour, 10 m up.

    Raises
    ------
    OutsideModel
        If the averaging time is over an hour or under a second.

    Source
    ------
    npd-profile, ISO 19901-1 from memory, U0 [1 + C ln(z/10)] [1 - 0.41 Iu ln(t/3600)].
    """
    if not 1.0 <= averaging_s <= _HOUR_S:
        raise OutsideModel(
            "Wind profile",
            f"averaged over {averaging_s:g} s",
            "the profile holds for 1 to 3600 s",
            "Ask inside that range.",
        )
    U0 = np.asarray(hourly_10m_mps, dtype=np.float64)
    C = 0.0573 * np.sqrt(1.0 + 0.15 * U0)
    Iu = 0.06 * (1.0 + 0.043 * U0) * (height_m / 10.0) ** -0.22
    Uz = U0 * (1.0 + C * math.log(height_m / 10.0))
    result: Floats = Uz * (1.0 - 0.41 * Iu * math.log(averaging_s / _HOUR_S))
    return result


def answered_over_s(period_s: float) -> float:
    """How long a gust must blow for something on a spring to answer it as if it stood. [s]

    A sixth of its period: a push of that length moves it, undamped, as far as the same
    push held for ever, 2 sin(pi t / T) = 1. A longer one, come at once, moves it further,
    up to twice; damping and a gust that rises slowly take that off.

    Parameters
    ----------
    period_s : float
        Its natural period. [s]

    Source
    ------
    biggs-1964, response to a rectangular push.
    """
    return period_s / 6.0


def enveloping_s(length_m: float, wind_mps: float) -> float:
    """How long a gust must blow to be as large as what it blows on: 4.5 L / V. [s]

    NaN without wind.

    Parameters
    ----------
    length_m : float
        The greatest length across the wind. [m]
    wind_mps : float
        Mean wind. [m/s]

    Source
    ------
    lawson-1980.
    """
    return 4.5 * length_m / wind_mps if wind_mps > 0.0 else math.nan


def gust_over_mps(
    gust_mps: ArrayLike, wind_mps: ArrayLike, averaging_s: tuple[float, float]
) -> Floats:
    """A gust averaged over one time brought to another: never greater over a longer one. [m/s]

    What it has above the mean is taken times the ESDU form's peak factor over the one
    time by that over the other; how gusty the place is falls out.

    Parameters
    ----------
    gust_mps, wind_mps : arrays, broadcast together
        Gust, and the mean of the hour. [m/s]
    averaging_s : (from, to)
        What the gust given and the gust wanted are averaged over, 1 to 600 s.

    Raises
    ------
    OutsideModel
        If an averaging time is outside 1 to 600 s.

    Source
    ------
    esdu-83045.
    """
    given, wanted = (esdu_gust_factor(1.0, t) - 1.0 for t in averaging_s)
    gust, mean = np.asarray(gust_mps, np.float64), np.asarray(wind_mps, np.float64)
    over: Floats = np.minimum(gust, mean) + np.maximum(gust - mean, 0.0) * (wanted / given)
    return over
