"""How far a hull moves with waves: the highest of many, how much of it she follows.

Quasi-static: a hull of small draught laid on the wave, her weight and trim balanced
by the water under her outline. Heave and pitch in step with the waves (resonance),
roll, and her own waves are left out.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shorefast.errors import OutsideModel

Floats = NDArray[np.float64]

GRAVITY_MPS2 = 9.81
MANY_WAVES = 1000.0  # common practice for a design wave
_FULL_PITCH_Q = 2.0816


class Follows(NamedTuple):
    """Shares of a wave's amplitude a hull takes up: her middle's rise, her end's beside it."""

    heave: Floats
    pitch: Floats


def deep_wavelength_m(period_s: ArrayLike) -> Floats:
    """Length of a wave in deep water, g T2 / 2 pi; in shallow water it is shorter. [m]

    Parameters
    ----------
    period_s : array
        More than 0. [s]

    Raises
    ------
    OutsideModel
        For a period of 0 or less.

    Source
    ------
    cem-2002, part II ch. 1.
    """
    T = np.asarray(period_s, np.float64)
    if np.any(T <= 0.0):
        raise OutsideModel(
            "Waves",
            f"period {float(np.min(T)):g} s",
            "more than 0 s wanted",
            "Give the time from crest to crest.",
        )
    length_m: Floats = GRAVITY_MPS2 * T**2 / (2.0 * math.pi)
    return length_m


def highest_share(waves: float = MANY_WAVES) -> float:
    """The likeliest highest of so many waves over the significant height.

    sqrt(ln N / 2): 1.86 in a thousand. For a narrow sea; a broad one stays below it.

    Parameters
    ----------
    waves : float
        How many pass, 10 or more.

    Raises
    ------
    OutsideModel
        For fewer than 10.

    Source
    ------
    longuet-higgins-1952.
    """
    if not waves >= 10.0:
        raise OutsideModel(
            "Highest wave",
            f"{waves:g} waves",
            "10 or more wanted",
            "Ask for the highest of a longer time.",
        )
    return math.sqrt(0.5 * math.log(waves))


def follows(extent_m: ArrayLike, wavelength_m: ArrayLike) -> Follows:
    """How much of a wave a hull follows, by her extent along the way it runs.

    With q = pi extent / wavelength: her middle rises by sin q / q of the amplitude,
    her ends by 3 (sin q - q cos q) / q2 a quarter of a period away from that. Beyond
    the first greatest value both are held to their envelopes, 1/q and 3/q, since no
    sea has one length alone.

    Parameters
    ----------
    extent_m, wavelength_m : arrays, broadcast together
        More than 0. [m]

    Source
    ------
    faltinsen-1990, ch. 3: a box of small draught on a long wave, reckoned here.
    """
    q = np.pi * np.asarray(extent_m, np.float64) / np.asarray(wavelength_m, np.float64)
    heave = np.where(q < 0.5 * np.pi, np.sinc(q / np.pi), 1.0 / q)
    small = np.maximum(q, 1e-3)
    sloped = 3.0 * (np.sin(small) - small * np.cos(small)) / small**2
    most = 3.0 * (math.sin(_FULL_PITCH_Q) / _FULL_PITCH_Q - math.cos(_FULL_PITCH_Q))
    pitch = np.where(q < _FULL_PITCH_Q, sloped, np.minimum(most / _FULL_PITCH_Q, 3.0 / q))
    return Follows(heave, pitch)


def dip_share(extent_m: ArrayLike, wavelength_m: ArrayLike, out_share: ArrayLike = 0.0) -> Floats:
    """Share of a wave's amplitude by which a part goes below still water, at most 1.

    Held to 1: no part goes deeper than the trough. A hull that pitches in step can dip
    her very ends up to a third deeper.

    Parameters
    ----------
    extent_m, wavelength_m : arrays, broadcast together
        As ``follows``. [m]
    out_share : array
        How far from her middle the part is along the wave's way, 1 at her end.

    Source
    ------
    faltinsen-1990, ch. 3, as ``follows``.
    """
    moved = follows(extent_m, wavelength_m)
    out = np.clip(np.abs(np.asarray(out_share, np.float64)), 0.0, 1.0)
    share: Floats = np.minimum(1.0, np.hypot(moved.heave, out * moved.pitch))
    return share


class Ride(NamedTuple):
    """How she rides: vertical acceleration amidships [m/s2] and slope [rad], both rms."""

    heave_mps2: Floats
    slope_rad: Floats


def ride(
    height_m: ArrayLike, period_s: ArrayLike, off_bow_rad: ArrayLike, hull_m: tuple[float, float]
) -> Ride:
    """How hard waves lift her amidships and how far they lean her, rms, no resonance.

    The sea as one period of its significant height: rms elevation Hm0 / 4. The lean is
    the slope across her that a hull of her beam follows; one whose roll answers in step
    with the waves rolls several times as far.

    Parameters
    ----------
    height_m, period_s, off_bow_rad : arrays, broadcast together
        Significant height, peak period, where from. [m, s, rad]
    hull_m : (waterline_m, beam_m)

    Source
    ------
    faltinsen-1990, ch. 3, long waves; longuet-higgins-1952.
    """
    wavelength_m = deep_wavelength_m(period_s)
    cosine, sine = np.cos(off_bow_rad), np.sin(off_bow_rad)
    rms_m = 0.25 * np.asarray(height_m, np.float64)
    moved = follows(np.hypot(hull_m[0] * cosine, hull_m[1] * sine), wavelength_m)
    leaned = follows(np.maximum(hull_m[1] * np.abs(sine), 1e-6), wavelength_m)
    q = np.maximum(np.pi * hull_m[1] * np.abs(sine) / wavelength_m, 1e-6)
    slope = leaned.pitch / q * 2.0 * np.pi / wavelength_m * rms_m * np.abs(sine)
    return Ride(moved.heave * rms_m * (2.0 * np.pi / np.asarray(period_s)) ** 2, slope)


def snap_load_n(speed_mps: ArrayLike, stiffness_npm: ArrayLike, mass_kg: float) -> Floats:
    """Pull of a slack line that comes taut at a speed: v sqrt(K M). [N]

    All her motion ends in the line's stretch; what the water takes is left out.

    Parameters
    ----------
    speed_mps, stiffness_npm : arrays, broadcast together
        Speed at which it comes taut, stiffness of the line. [m/s, N/m]
    mass_kg : float
        Hers, the water that goes with her included.

    Source
    ------
    dnv-rp-h103, snap forces in hoisting lines.
    """
    pull_n: Floats = np.asarray(speed_mps, np.float64) * np.sqrt(
        np.asarray(stiffness_npm, np.float64) * mass_kg
    )
    return pull_n
