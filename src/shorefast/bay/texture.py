"""How a bed undulates, learnt by leaving soundings out and guessing them again.

Each sounding is guessed with all others near it left out too, over gaps as wide as the
surface is asked to bridge: the bed along a track says little of the bed beside it.
The same test then says where the bed is rougher than the rest, so that the doubt
given is the one that would have covered the soundings themselves.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from itertools import product
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.bay.kriging import Texture
from shorefast.bay.neighbours import THREADS, Neighbours, beyond, krige_all
from shorefast.bay.place import Soundings

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

LENGTHS_SPACINGS = (1.5, 4.0, 8.0, 16.0, 40.0, 150.0, 600.0)
NOISE_SHARES = (1e-5, 1e-4, 1e-3, 1e-2, 0.05, 0.2)
ROUGH = (0.0, 1.0)
WARPS = (2.0, 5.0)
TURNS_RAD = tuple(math.pi * k / 6.0 for k in range(6))
WORTH_A_WARP = 0.02
TRIED = 160
SCATTER_LEAST_M = 0.05
PRIOR_COUNT = 4.0
SURPRISE_MOST = 3.0
STRETCH_AT_MOST = 2500


class Fit(NamedTuple):
    """The texture that guesses left-out soundings best, and what it leaves over.

    scatter_m: unevenness too small to be drawn, less what the sounding itself is said
    to be out by; sounding_m: how far one sounding is out, both together. [m]
    """

    texture: Texture
    noise: Floats
    scatter_m: float
    sounding_m: float


class Guess(NamedTuple):
    """Soundings guessed over one gap: which, and from which others."""

    at: Ints
    others: Ints
    ends: Ints


def _sample(count: int, most: int) -> Ints:
    return np.unique(np.linspace(0, count - 1, min(count, most)).astype(np.int64))


def left_out(
    soundings: Soundings, noise: Floats, guess: Guess, texture: Texture
) -> tuple[Floats, Floats]:
    """Error of each sounding guessed from others [m], and its variance in sills."""
    place = (soundings.east_m, soundings.north_m, soundings.level_m, noise, np.zeros(noise.size))
    at = (soundings.east_m[guess.at], soundings.north_m[guess.at], np.zeros(guess.at.size))
    mean, variance = krige_all(place, at, guess.others, guess.ends, texture)
    return soundings.level_m[guess.at] - mean, variance + noise[guess.at]


def _score(error_m: Floats, variance: Floats) -> tuple[float, float]:
    """How badly errors are foretold (less is better), and the sill that fits them. [m2]"""
    told = np.isfinite(error_m)
    error_m, variance = error_m[told], variance[told]
    squares = error_m**2 / variance
    kept = squares <= np.quantile(squares, 0.98)
    sill_m2 = max(float(squares[kept].mean()), 1e-8)
    return 0.5 * float(np.log(variance[kept]).mean()) + 0.5 * math.log(sill_m2), sill_m2


def guesses(soundings: Soundings, sets: Neighbours, gaps_m: Sequence[float]) -> list[Guess]:
    """A sample of soundings, to be guessed over each of some gaps. [m]"""
    at = _sample(soundings.level_m.size, TRIED)
    asked = np.column_stack((soundings.east_m[at], soundings.north_m[at]))
    return [Guess(at, *beyond(sets, asked, gap)) for gap in gaps_m]


def find_texture(soundings: Soundings, tried: Sequence[Guess], spacing_m: float) -> Fit:
    """Try textures on a sample of soundings and keep the one that foretells them best.

    First how far undulations are alike, with little noise; then whether farther one way
    than the other; then how much noise.

    Parameters
    ----------
    soundings : Soundings
    tried : guesses
        Which soundings to guess from which.
    spacing_m : float
        Typical distance between neighbours. [m]
    """

    def judged(texture: Texture) -> tuple[float, Texture]:
        noise = np.full(soundings.level_m.size, texture.noise_share)
        parts = [left_out(soundings, noise, one, texture) for one in tried]
        score, sill = _score(*(np.concatenate(part) for part in zip(*parts, strict=True)))
        return score, texture._replace(sill_m2=sill)

    with ThreadPoolExecutor(THREADS) as pool:
        lengths = product(LENGTHS_SPACINGS, ROUGH)
        plain = [Texture(size * spacing_m, 1e-3, rough, 1.0) for size, rough in lengths]
        best = sorted(pool.map(judged, plain), key=lambda one: one[0])[:2]
        warped = [_warped(best[0][1], *how) for how in product(WARPS, TURNS_RAD)]
        other_ways = min(pool.map(judged, warped), key=lambda one: one[0])
        if other_ways[0] < best[0][0] - WORTH_A_WARP:
            best[1] = other_ways
        noisy = [
            texture._replace(noise_share=share)
            for share, (_, texture) in product(NOISE_SHARES, tuple(best))
        ]
        best += pool.map(judged, noisy)
    return _told(soundings, min(best, key=lambda one: one[0])[1])


def _warped(texture: Texture, ratio: float, along_rad: float) -> Texture:
    """A texture alike that many times farther along a direction than across it."""
    c, s = math.cos(along_rad), math.sin(along_rad)
    less, more = ratio**-0.5, ratio**0.5
    return texture._replace(
        warp_xx=less * c * c + more * s * s,
        warp_xy=(less - more) * c * s,
        warp_yy=less * s * s + more * c * c,
    )


def _told(soundings: Soundings, texture: Texture) -> Fit:
    """What the soundings' own deviations add to a texture."""
    told = np.nan_to_num(soundings.deviation_m)
    noise = np.maximum(texture.noise_share, told**2 / texture.sill_m2)
    left_over_m2 = texture.noise_share * texture.sill_m2
    told_m2 = float(np.median(told)) ** 2
    scatter_m = math.sqrt(max(left_over_m2 - told_m2, SCATTER_LEAST_M**2))
    return Fit(texture, noise, scatter_m, math.sqrt(max(left_over_m2, told_m2)))


class LeftOut(NamedTuple):
    """Each sounding guessed from its neighbours alone.

    error_m: how far it stands above the guess; deviation_m: what was foretold. [m]
    """

    error_m: Floats
    deviation_m: Floats


def left_out_one_by_one(soundings: Soundings, at: Ints, index: Ints, fit: Fit) -> LeftOut:
    """Guess soundings from their nearest neighbours (``index``, themselves not among them)."""
    guess = Guess(at, np.ascontiguousarray(index), np.array([index.shape[1]]))
    error, variance = left_out(soundings, fit.noise, guess, fit.texture)
    return LeftOut(error, np.sqrt(variance * fit.texture.sill_m2))


def surprises(
    soundings: Soundings, sets: Neighbours, gap_m: float, fit: Fit
) -> tuple[Ints, Floats]:
    """Squares of error over foretold deviation across a gap, at soundings spread evenly.

    One surprise counts for at most three deviations, so that a single rock does not
    condemn the sand round it.
    """
    where = next((one for one in sets if one.which.size <= STRETCH_AT_MOST), sets[-1])
    at = where.which
    asked = np.column_stack((soundings.east_m[at], soundings.north_m[at]))
    guess = Guess(at, *beyond(sets, asked, gap_m))
    error, variance = left_out(soundings, fit.noise, guess, fit.texture)
    squares = error**2 / (variance * fit.texture.sill_m2)
    return at, np.minimum(np.nan_to_num(squares, nan=1.0), SURPRISE_MOST**2)


def stretch(squares: Floats) -> Floats:
    """Local roughness as a factor on the doubt, from the surprises round each place."""
    summed = squares.sum(axis=1) + PRIOR_COUNT
    return np.asarray(np.sqrt(summed / (squares.shape[1] + PRIOR_COUNT)))
