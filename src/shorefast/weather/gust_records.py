"""Gusty winds out of real records: a second or a minute apart, made into shapes.

A record gives the shape, never the size: its fluctuation along its own mean wind and
across, over the deviation along. A minute's means hide gusts; drawn ones quicker than
that are put on them, in the share the spectrum gives them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.weather.gust_spectrum import (
    EVERY_S,
    GustShapes,
    along_spectrum,
    drawn_shapes,
)
from shorefast.weather.series import Floats

# a piece is left out where more than this share of it is missing, or a hole is longer
_MOST_MISSING, _LONGEST_HOLE = 0.2, 5.0
_LEAST_MEAN_MPS = 2.0


@dataclass(frozen=True)
class WindRecord:
    """Wind as somebody's instrument told it: arrays (time,), NaN where it did not.

    Attributes
    ----------
    t_s : array
        Rising. [s]
    wind_mps, from_rad : arrays
        Where it comes from is told from any fixed bearing: only its change is used.
    averaged_s : float
        What each value is the mean of. [s]
    """

    t_s: Floats
    wind_mps: Floats
    from_rad: Floats
    averaged_s: float


def shapes_of(record: WindRecord, lasts_s: float, seed: int = 1) -> GustShapes:
    """A record cut into pieces and made into shapes, with drawn gusts where it has none.

    Left out are pieces with more than a fifth missing, with a hole of over five values,
    or of under 2 m/s on the mean. Each piece's ends are brought together by taking its
    straight trend off, since a shape goes round.

    Parameters
    ----------
    lasts_s : float
        How long a piece is. [s]
    seed : int
        Of the quick gusts drawn onto means of longer than two steps of a shape.

    Returns
    -------
    GustShapes
        As many records as there are whole pieces; none is an array of no records.

    Source
    ------
    kaimal-1972 (the quick gusts).
    """
    steps, found = round(lasts_s / EVERY_S), []
    for k, (blow, mean) in enumerate(_pieces(record, lasts_s, steps)):
        shape = _shape(blow)
        if record.averaged_s > 2.0 * EVERY_S:
            shape = _with_quick(shape, mean, seed + k, record.averaged_s)
        found.append(shape)
    return GustShapes(np.array(found).reshape(-1, steps, 2), EVERY_S)


def _pieces(
    record: WindRecord, lasts_s: float, steps: int
) -> list[tuple[NDArray[np.complex128], float]]:
    """Whole pieces as complex wind, along plus i across, and their means."""
    known = np.isfinite(record.wind_mps + record.from_rad)
    if known.sum() < 2:
        return []
    every_s = float(np.median(np.diff(record.t_s)))
    t_s, wind = record.t_s[known], record.wind_mps[known] * np.exp(1j * record.from_rad[known])
    found = []
    for k in range(int((record.t_s[-1] - record.t_s[0] + every_s) / lasts_s + 1e-9)):
        at_s = record.t_s[0] + k * lasts_s + EVERY_S * np.arange(steps)
        inside = (t_s >= at_s[0]) & (t_s <= at_s[-1])
        if inside.sum() < max(2.0, (1.0 - _MOST_MISSING) * lasts_s / every_s):
            continue
        told_s = np.concatenate([[at_s[0]], t_s[inside], [at_s[-1]]])
        if np.diff(told_s).max() > _LONGEST_HOLE * every_s:
            continue
        blow = np.interp(at_s, t_s, wind.real) + 1j * np.interp(at_s, t_s, wind.imag)
        mean = blow.mean()
        if abs(mean) >= _LEAST_MEAN_MPS:
            found.append((blow * np.exp(-1j * np.angle(mean)), float(abs(mean))))
    return found


def _shape(blow: NDArray[np.complex128]) -> Floats:
    """A piece as a shape, its trend and mean taken off, over its deviation along."""
    trend = np.linspace(0.0, 1.0, blow.size) * (blow[-1] - blow[0])
    off = blow - trend
    off = off - off.mean()
    spread = max(float(off.real.std()), 1e-6)
    shape: Floats = np.stack([off.real, off.imag], axis=-1) / spread
    return shape


def _with_quick(slow: Floats, mean: float, seed: int, averaged_s: float) -> Floats:
    """Gusts quicker than two of the record's means, drawn, put on its slow ones."""
    steps = slow.shape[0]
    drawn = drawn_shapes(1, mean, seed, lasts_s=steps * EVERY_S).shape[0]
    frequency = np.fft.rfftfreq(steps, EVERY_S)
    quick = frequency > 0.5 / averaged_s
    wave = np.fft.rfft(drawn, axis=0) * quick[:, None]
    more = np.fft.irfft(wave, steps, axis=0)
    below = float(along_spectrum(frequency[1:][~quick[1:]], mean).sum() * frequency[1])
    whole = slow * math.sqrt(below) + more
    shape: Floats = whole / float(whole[:, 0].std())
    return shape
