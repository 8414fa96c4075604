"""Gusty winds drawn from a published spectrum, fitted to an hour's mean and gust.

A shape is a drawn record without size: speed's fluctuation along the mean wind and
across it, both over the standard deviation along. An hour's wind is its mean and a spread
times the shape. For wind that blows steadily over the hour; squalls and fall winds that
come at once are none of it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from shorefast.errors import OutsideModel
from shorefast.weather.series import Floats

EVERY_S, LASTS_S, GUST_S = 0.5, 3600.0, 3.0
# the fluctuation across over that along: kaimal-1972, from the two spectra's own areas
_ACROSS = math.sqrt((17.0 / 9.5) / (105.0 / 33.0))
_ROUNDS, _CLOSE = 60, 1e-3
# beyond this the lulls of a drawn wind would have to blow backwards
MOST_FACTOR = 2.5


def along_spectrum(frequency_hz: ArrayLike, wind_mps: float, height_m: float = 10.0) -> Floats:
    """Spectrum of the wind's fluctuation along it, over its variance. [1/Hz]

    n S / u*2 = 105 f / (1 + 33 f)^(5/3) with f = n z / U, whose area is 105/22 u*2.

    Source
    ------
    kaimal-1972.
    """
    return _spectrum(frequency_hz, height_m / wind_mps, 33.0)


def across_spectrum(frequency_hz: ArrayLike, wind_mps: float, height_m: float = 10.0) -> Floats:
    """The same of the fluctuation across: n S / u*2 = 17 f / (1 + 9.5 f)^(5/3). [1/Hz]

    Source
    ------
    kaimal-1972.
    """
    return _spectrum(frequency_hz, height_m / wind_mps, 9.5)


def _spectrum(frequency_hz: ArrayLike, passing_s: float, bend: float) -> Floats:
    """A spectrum A f / (1 + b f)^(5/3) over its area 3 A / (2 b)."""
    f = np.asarray(frequency_hz, np.float64) * passing_s
    told: Floats = bend / 1.5 * passing_s / (1.0 + bend * f) ** (5.0 / 3.0)
    return told


@dataclass(frozen=True)
class GustShapes:
    """Drawn winds without size.

    shape : array (record, time, 2), along and across, over the deviation along; each goes
    round; every_s : its step [s]
    """

    shape: Floats
    every_s: float


def drawn_shapes(
    records: int,
    wind_mps: float,
    seed: int,
    *,
    height_m: float = 10.0,
    lasts_s: float = LASTS_S,
) -> GustShapes:
    """Records drawn from the spectrum: normal amplitudes at every frequency.

    Gusts shorter than a second are left out: they are too small to take hold of a hull,
    4.5 L / V being two seconds and more.

    Parameters
    ----------
    records : int
    wind_mps : float
        Mean wind of the hour, at ``height_m``. [m/s]
    seed : int
        The same seed draws the same records.
    lasts_s : float
        How long a record is. [s]

    Returns
    -------
    GustShapes

    Source
    ------
    kaimal-1972; lawson-1980 (4.5 L / V).
    """
    steps = round(lasts_s / EVERY_S)
    frequency = np.fft.rfftfreq(steps, EVERY_S)[1:]
    drawn = np.random.default_rng(seed).standard_normal((records, 2, 2, frequency.size))
    power = np.stack(
        [
            along_spectrum(frequency, wind_mps, height_m),
            _ACROSS**2 * across_spectrum(frequency, wind_mps, height_m),
        ]
    )
    size = np.sqrt(0.25 * power * steps / EVERY_S)
    wave = np.zeros((records, 2, frequency.size + 1), np.complex128)
    wave[..., 1:] = size * (drawn[:, :, 0] + 1j * drawn[:, :, 1])
    shape = np.fft.irfft(wave, steps, axis=-1)
    return GustShapes(np.ascontiguousarray(np.moveaxis(shape, 1, -1)), EVERY_S)


def taken_hold(shapes: GustShapes, area_m2: float, wind_mps: float) -> GustShapes:
    """The shapes as a hull feels them: gusts smaller than it hardly take hold.

    Every frequency times 1 / (1 + (2 n sqrt(A) / U)^(4/3)).

    Parameters
    ----------
    area_m2 : float
        What stands across the wind. [m2]
    wind_mps : float
        Mean wind. [m/s]

    Source
    ------
    vickery-1966.
    """
    steps = shapes.shape.shape[1]
    frequency = np.fft.rfftfreq(steps, shapes.every_s)
    felt = 1.0 / (1.0 + (2.0 * frequency * math.sqrt(area_m2) / wind_mps) ** (4.0 / 3.0))
    wave = np.fft.rfft(shapes.shape, axis=1) * felt[:, None]
    return GustShapes(np.ascontiguousarray(np.fft.irfft(wave, steps, axis=1)), shapes.every_s)


@dataclass(frozen=True)
class Fitted:
    """Shapes fitted to an hour's mean and gust: arrays (record,).

    centre_mps, spread_mps : the wind along is centre + spread x shape, across spread x shape
    gust_at_s : when the greatest gust is over [s]
    """

    centre_mps: Floats
    spread_mps: Floats
    gust_at_s: Floats


def speeds_of(shapes: GustShapes, centre_mps: Floats, spread_mps: Floats) -> Floats:
    """The wind's speed in time, (record, time). [m/s]"""
    along = centre_mps[:, None] + spread_mps[:, None] * shapes.shape[..., 0]
    across = spread_mps[:, None] * shapes.shape[..., 1]
    speed: Floats = np.hypot(along, across)
    return speed


def gusts_over(speed_mps: Floats, every_s: float, averaging_s: float = GUST_S) -> Floats:
    """Means over ``averaging_s`` that end at each time, the record going round. [m/s]"""
    wide = max(1, round(averaging_s / every_s))
    led = np.concatenate([speed_mps[..., -wide:], speed_mps], axis=-1)
    total = np.cumsum(led, axis=-1)
    mean: Floats = (total[..., wide:] - total[..., :-wide]) / wide
    return mean


def fitted(shapes: GustShapes, mean_mps: float, gust_mps: float) -> Fitted:
    """Centre and spread that give each record the hour's mean and its greatest 3-second gust.

    Parameters
    ----------
    shapes : GustShapes
    mean_mps, gust_mps : float
        Of the hour; a gust up to ``MOST_FACTOR`` times the mean. [m/s]

    Returns
    -------
    Fitted
        Within 0.1 % of the mean; NaN for a record that has no such size. A gust no harder
        than the mean leaves no spread.

    Raises
    ------
    OutsideModel
        For a gust of over ``MOST_FACTOR`` times the mean: such an hour is calm with squalls
        in it, and no wind that blows steadily.
    """
    if gust_mps > MOST_FACTOR * mean_mps * (1.0 + 1e-9):
        raise OutsideModel(
            "Gusty wind",
            f"a gust of {gust_mps:.1f} m/s in a mean of {mean_mps:.1f} m/s",
            f"the spectrum is for gusts of up to {MOST_FACTOR:g} times the mean",
            "Give the mean of the time in which it gusts.",
        )
    count = shapes.shape.shape[0]
    centre, spread = np.full(count, mean_mps), np.zeros(count)
    at, off = np.zeros(count), np.zeros(count)
    if gust_mps <= mean_mps:
        return Fitted(centre, spread, at)
    peak = gusts_over(shapes.shape[..., 0], shapes.every_s).max(axis=-1)
    spread = (gust_mps - mean_mps) / peak
    for _ in range(_ROUNDS):
        speed = speeds_of(shapes, centre, spread)
        over = gusts_over(speed, shapes.every_s)
        mean, gust = speed.mean(axis=-1), over.max(axis=-1)
        at = over.argmax(axis=-1) * shapes.every_s
        off = np.abs(mean - mean_mps) + np.abs(gust - gust_mps)
        if np.all(off < _CLOSE * mean_mps):
            break
        centre = np.maximum(centre + (mean_mps - mean), 0.0)
        # half of the way: a long one may overshoot where speeds are turned, not slowed
        spread = spread * (1.0 + 0.5 * ((gust_mps - mean_mps) / (gust - mean) - 1.0))
    lost = off >= _CLOSE * mean_mps
    centre[lost], spread[lost] = math.nan, math.nan
    return Fitted(centre, spread, at)
