"""The mean push of waves on her: the bound, less what passes under her, and the turn.

Steady: the slow swing of the push as high and low groups go by is left out, and so is
what her own pitching and rolling add.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import i1, k1

from shorefast.mooring.wave_drift import drift_bound, drift_bound_npm
from shorefast.mooring.wave_motion import deep_wavelength_m

Floats = NDArray[np.float64]

# waves up to so many beams are turned back whole (reference, from memory)
WHOLE_BEAMS = 2.5


@dataclass(frozen=True)
class WavePush:
    """A sea's mean push on her, inputs broadcast together.

    Attributes
    ----------
    forward_n, starboard_n : array
        At its bound. [N]
    turning_nm : array
        About midships, clockwise from above. [N m]
    least_forward_n, least_starboard_n : array
        By the short-wave form along her waterline. [N]
    turned_back : array
        Share of the wave's amplitude turned back, 0 to 1.
    """

    forward_n: Floats
    starboard_n: Floats
    turning_nm: Floats
    least_forward_n: Floats
    least_starboard_n: Floats
    turned_back: Floats


def barrier_share(depth_ratio: ArrayLike) -> Floats:
    """Share of a wave's amplitude a thin upright wall turns back, by k times its depth.

    R = pi I1 / sqrt(pi2 I1^2 + K1^2), in deep water, the wall held fast.

    Parameters
    ----------
    depth_ratio : array
        2 pi depth of the wall / wavelength, more than 0.

    Source
    ------
    ursell-1947.
    """
    kd = np.minimum(np.asarray(depth_ratio, np.float64), 20.0)
    first, second = i1(kd), k1(kd)
    share: Floats = math.pi * first / np.hypot(math.pi * first, second)
    return share


def turned_back(period_s: ArrayLike, beam_m: float, depth_m: float) -> Floats:
    """Share of the amplitude turned back by a hull afloat: all of a short wave's.

    Whole up to ``WHOLE_BEAMS`` beams of wavelength, from there as a fixed wall of the
    hull's depth does, in proportion. A floating hull lets more pass, except near her own
    period of roll or heave.

    Parameters
    ----------
    period_s : array
    beam_m, depth_m : float
        Her beam, and the depth of the hull without its keel. [m]

    Raises
    ------
    OutsideModel
        For a period that is not more than 0.

    Source
    ------
    ursell-1947; maruo-1960.
    """
    wavelength_m = deep_wavelength_m(period_s)
    whole_m = WHOLE_BEAMS * beam_m
    kd = 2.0 * math.pi * depth_m / np.maximum(wavelength_m, whole_m)
    at_whole = 2.0 * math.pi * depth_m / whole_m
    share: Floats = barrier_share(kd) / barrier_share(at_whole)
    return np.where(wavelength_m <= whole_m, 1.0, share)


def short_wave_push(outline_m: Floats, from_rad: ArrayLike) -> tuple[Floats, Floats, Floats]:
    """Shape of the push of short waves on an upright side: forward, starboard, turning.

    int sin2 n dl over the part of the waterline that the waves strike, sin2 of the angle
    between side and waves. In metres and square metres: to be multiplied by rho g a2 / 2.

    Parameters
    ----------
    outline_m : array, shape (corner, 2)
        Her waterline, x forward, y to starboard, closed by itself. [m]
    from_rad : array
        Where the waves come from, clockwise off the bow.

    Source
    ------
    faltinsen-1990, ch. 5, short waves on a ship without speed.
    """
    ends = np.roll(outline_m, -1, axis=0)
    run, middle = ends - outline_m, 0.5 * (ends + outline_m)
    length = np.hypot(run[:, 0], run[:, 1])
    out = np.stack([run[:, 1], -run[:, 0]], -1) / length[:, None]
    if float(np.sum(outline_m[:, 0] * ends[:, 1] - outline_m[:, 1] * ends[:, 0])) < 0.0:
        out = -out
    angle = np.asarray(from_rad, np.float64)[..., None]
    # the waves run against where they come from; a side is struck if it faces them
    facing = np.cos(angle) * out[:, 0] + np.sin(angle) * out[:, 1]
    weight = np.where(facing > 0.0, facing, 0.0) ** 2 * length
    fx, fy = -weight * out[:, 0], -weight * out[:, 1]
    turn = middle[:, 0] * fy - middle[:, 1] * fx
    return fx.sum(axis=-1), fy.sum(axis=-1), turn.sum(axis=-1)


def wave_push(
    sea: tuple[float, float], from_rad: ArrayLike, outline_m: Floats, beam_m: float, depth_m: float
) -> WavePush:
    """The mean push of waves and its turn about midships.

    Taken at its bound along and across her; the turn, which no bound gives, by the
    short-wave form. Both less for waves longer than about 2.5 beams, which pass under.

    Parameters
    ----------
    sea : (height_m, period_s)
        Significant height and peak period.
    from_rad : array
        Where the waves come from, clockwise off the bow. [rad]
    outline_m : array, shape (corner, 2)
        Her waterline. [m]
    beam_m, depth_m : float
        Her beam, and the depth of the hull without its keel. [m]

    Raises
    ------
    OutsideModel
        For a height below 0 or a period that is not more than 0.

    Source
    ------
    maruo-1960; longuet-higgins-1977; faltinsen-1990, ch. 5; ursell-1947.
    """
    height_m, period_s = sea
    share = turned_back(period_s, beam_m, depth_m)
    long_m = float(np.ptp(outline_m[:, 0]))
    forward_n, starboard_n = drift_bound(height_m, from_rad, long_m, beam_m)
    least = short_wave_push(outline_m, from_rad)
    per_m = drift_bound_npm(height_m) * share**2
    return WavePush(
        share**2 * forward_n,
        share**2 * starboard_n,
        per_m * least[2],
        per_m * least[0],
        per_m * least[1],
        share,
    )
