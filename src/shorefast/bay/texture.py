"""How a bed undulates, learnt by leaving each sounding out and guessing it again.

The same test then says where the bed is rougher than the rest, so that the doubt
given is the one that would have covered the soundings themselves.
"""

from __future__ import annotations

import math
from itertools import product
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.bay.kriging import Texture, krige
from shorefast.bay.place import Soundings

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

LENGTHS_SPACINGS = (1.5, 3.0, 6.0, 12.0, 25.0)
NOISE_SHARES = (1e-5, 1e-4, 1e-3, 1e-2, 0.05, 0.2)
ROUGH = (0.0, 1.0)
TRIED = 500
SCATTER_LEAST_M = 0.05
PRIOR_COUNT = 8.0
SURPRISE_MOST = 3.0


class Fit(NamedTuple):
    """The texture that guesses left-out soundings best, and what it leaves over.

    scatter_m: unevenness too small to be drawn, less what the sounding itself is said
    to be out by; sounding_m: how far one sounding is out, both together. [m]
    """

    texture: Texture
    noise: Floats
    scatter_m: float
    sounding_m: float


def _sample(count: int) -> Ints:
    return np.unique(np.linspace(0, count - 1, min(count, TRIED)).astype(np.int64))


def _left_out(
    soundings: Soundings, noise: Floats, index: Ints, at: Ints, texture: Texture
) -> tuple[Floats, Floats]:
    """Error of each sounding guessed from its neighbours [m], and its variance in sills."""
    place = (soundings.east_m, soundings.north_m, soundings.level_m, noise)
    mean, variance = krige(place, soundings.east_m[at], soundings.north_m[at], index[at], texture)
    return soundings.level_m[at] - mean, variance + noise[at]


def _score(error_m: Floats, variance: Floats) -> tuple[float, float]:
    """How badly errors are foretold (less is better), and the sill that fits them. [m2]"""
    squares = error_m**2 / variance
    kept = squares <= np.quantile(squares, 0.98)
    sill_m2 = max(float(squares[kept].mean()), 1e-8)
    return 0.5 * float(np.log(variance[kept]).mean()) + 0.5 * math.log(sill_m2), sill_m2


def find_texture(soundings: Soundings, index: Ints, spacing_m: float) -> Fit:
    """Try textures on a sample of soundings and keep the one that foretells them best.

    Parameters
    ----------
    soundings : Soundings
    index : array, shape (sounding, k)
        Neighbours of each sounding, itself left out.
    spacing_m : float
        Typical distance between neighbours. [m]
    """
    at = _sample(soundings.level_m.size)
    best: tuple[float, Texture] | None = None
    for length, share, rough in product(LENGTHS_SPACINGS, NOISE_SHARES, ROUGH):
        texture = Texture(length * spacing_m, share, rough, 1.0)
        noise = np.full(soundings.level_m.size, share)
        score, sill = _score(*_left_out(soundings, noise, index, at, texture))
        if best is None or score < best[0]:
            best = (score, texture._replace(sill_m2=sill))
    assert best is not None
    texture = best[1]
    told = np.nan_to_num(soundings.deviation_m)
    noise = np.maximum(texture.noise_share, told**2 / texture.sill_m2)
    left_over_m2 = texture.noise_share * texture.sill_m2
    told_m2 = float(np.median(told)) ** 2
    scatter_m = math.sqrt(max(left_over_m2 - told_m2, SCATTER_LEAST_M**2))
    return Fit(texture, noise, scatter_m, math.sqrt(max(left_over_m2, told_m2)))


class LeftOut(NamedTuple):
    """Each sounding guessed from its neighbours alone.

    error_m: how far it stands above the guess; deviation_m: what was foretold, local
    roughness included; stretch: that roughness, as a factor.
    """

    error_m: Floats
    deviation_m: Floats
    stretch: Floats


def left_out_one_by_one(soundings: Soundings, index: Ints, fit: Fit) -> LeftOut:
    """Guess every sounding from its neighbours, and learn where the bed is rough.

    ``index`` holds each sounding first, then its neighbours. One surprise counts for
    at most three deviations, so that a single rock does not condemn the sand round it.
    """
    everywhere = np.arange(soundings.level_m.size)
    error, variance = _left_out(soundings, fit.noise, index[:, 1:], everywhere, fit.texture)
    foretold = np.sqrt(variance * fit.texture.sill_m2)
    squares = np.minimum((error / foretold) ** 2, SURPRISE_MOST**2)
    round_it = squares[index]
    summed = round_it.sum(axis=1) + PRIOR_COUNT
    stretch = np.sqrt(summed / (round_it.shape[1] + PRIOR_COUNT))
    return LeftOut(error, foretold * stretch, stretch)
