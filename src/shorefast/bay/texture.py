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

from shorefast.bay.guesses import Guess
from shorefast.bay.kriging import Texture
from shorefast.bay.neighbours import THREADS, Neighbours, beyond, krige_all
from shorefast.bay.place import Soundings

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

LENGTHS_SPACINGS = (1.5, 4.0, 8.0, 16.0, 40.0, 150.0, 600.0)
NOISE_SHARES = (1e-5, 1e-4, 1e-3, 1e-2, 0.05, 0.2)
ROUGH = (0.0, 1.0)
WARP = 2.0
TURNS_RAD = tuple(math.pi * k / 6.0 for k in range(6))
WORTH_A_WARP = 0.04
HARDLY_WORSE = 0.01
FEW_EVERY = 8
BUT_THE_WORST = 0.98
TINY_M2 = 1e-12
GOOD_QUARTER, MUCH_WORSE = 0.25, 4.0
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


def left_out(
    soundings: Soundings, noise: Floats, guess: Guess, texture: Texture
) -> tuple[Floats, Floats]:
    """Error of each sounding guessed from others [m], and its variance in sills."""
    place = (soundings.east_m, soundings.north_m, soundings.level_m, noise, np.zeros(noise.size))
    at = (soundings.east_m[guess.at], soundings.north_m[guess.at], np.zeros(guess.at.size))
    mean, variance = krige_all(place, at, guess.others, guess.ends, texture)
    return soundings.level_m[guess.at] - mean, variance + noise[guess.at]


class _Judged(NamedTuple):
    """A texture tried: how badly it guesses (less is better), and with its sill."""

    badly: float
    texture: Texture


def _judged(soundings: Soundings, tried: Sequence[Guess], texture: Texture) -> _Judged:
    """How far off left-out soundings are guessed, each gap counting alike.

    The logarithm of the errors' root mean square, the worst fiftieth left out, over all
    gaps: a bed's flats, guessed to the centimetre, do not outvote its walls. Soundings
    said to be much worse than the good ones have as much less say, and are not asked.
    """
    worse = worse_than_good(soundings.deviation_m)
    noise = texture.noise_share * worse
    badly, shares = [], []
    for one in tried:
        error, variance = left_out(soundings, noise, one, texture)
        told = np.isfinite(error) & (worse[one.at] <= MUCH_WORSE)
        if told.any():
            squares = np.sort(error[told] ** 2)[: _most_of(int(told.sum()))]
            badly.append(0.5 * math.log(float(squares.mean()) + TINY_M2))
            shares.append(error[told] ** 2 / variance[told])
    if not badly:
        return _Judged(math.inf, texture)
    share = np.sort(np.concatenate(shares))
    sill_m2 = max(float(share[: _most_of(share.size)].mean()), 1e-8)
    return _Judged(float(np.mean(badly)), texture._replace(sill_m2=sill_m2))


def worse_than_good(deviation_m: Floats) -> Floats:
    """How many times the variance of the better quarter soundings are said to have, 1 at least."""
    told = np.nan_to_num(deviation_m)
    if not (told > 0.0).any():
        return np.ones(told.size)
    good = float(np.quantile(told[told > 0.0], GOOD_QUARTER))
    return np.maximum((told / good) ** 2, 1.0)


def _most_of(count: int) -> int:
    return max(int(BUT_THE_WORST * count), 1)


class _Trial:
    """Textures tried on two cores: all on a few guesses, the best of them on all."""

    def __init__(self, soundings: Soundings, tried: Sequence[Guess]) -> None:
        self.soundings, self.tried = soundings, tried
        self.few = [one.some(FEW_EVERY) for one in tried]

    def best(self, textures: Sequence[Texture], kept: int) -> list[_Judged]:
        """The best few of some textures, best first."""
        with ThreadPoolExecutor(THREADS) as pool:
            first = pool.map(lambda one: _judged(self.soundings, self.few, one), textures)
            ranked = sorted(zip(first, textures, strict=True), key=lambda one: one[0].badly)
            heard = [texture for _, texture in ranked[: kept + 1]]
            again = pool.map(lambda one: _judged(self.soundings, self.tried, one), heard)
            return sorted(again, key=lambda one: one.badly)[:kept]


def find_texture(soundings: Soundings, tried: Sequence[Guess], spacing_m: float) -> Fit:
    """Try textures on a sample of soundings and keep the one that guesses them best.

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
    trial = _Trial(soundings, tried)
    lengths = product(LENGTHS_SPACINGS, ROUGH)
    best = trial.best([Texture(size * spacing_m, 1e-3, rough, 1.0) for size, rough in lengths], 2)
    turned = trial.best([_warped(best[0].texture, WARP, turn) for turn in TURNS_RAD], 1)
    if turned[0].badly < best[0].badly - WORTH_A_WARP:
        best = [turned[0], best[0]]
    noisy = [one.texture._replace(noise_share=share) for share, one in product(NOISE_SHARES, best)]
    best += trial.best(noisy, 2)
    return _told(soundings, _nearest_alike(best).texture)


def _nearest_alike(tried: Sequence[_Judged]) -> _Judged:
    """Of those hardly worse than the best, the one alike over the least distance.

    What is alike over long distances goes on sloping where no sounding is.
    """
    least = min(one.badly for one in tried)
    near = [one for one in tried if one.badly <= least + HARDLY_WORSE]
    shortest = min(one.texture.length_m for one in near)
    return min((one for one in near if one.texture.length_m == shortest), key=lambda one: one.badly)


def _warped(texture: Texture, ratio: float, along_rad: float) -> Texture:
    """A texture alike that many times farther along a direction than across it."""
    c, s = math.cos(along_rad), math.sin(along_rad)
    less, more = ratio**-0.5, ratio**0.5
    return texture._replace(
        warp_xx=less * c * c + more * s * s,
        warp_xy=(less - more) * c * s,
        warp_yy=less * s * s + more * c * c,
    )


def noise_of(deviation_m: Floats, texture: Texture) -> Floats:
    """Noise of soundings in sills, from what they are said to be out by. [m]

    The middle one has no more than the most that was tried: the sill covers all that
    left-out soundings were off, so what they are said to be out by beyond it they are
    out by alike, and it is no scatter. A worse one has as much more as it is said to.
    """
    told = np.nan_to_num(deviation_m) ** 2
    middle = float(np.median(told)) / texture.sill_m2
    alike = min(NOISE_SHARES[-1] / middle, 1.0) if middle > 0.0 else 1.0
    return np.maximum(texture.noise_share, alike * told / texture.sill_m2)


def _told(soundings: Soundings, texture: Texture) -> Fit:
    """What the soundings' own deviations add to a texture."""
    told = np.nan_to_num(soundings.deviation_m)
    noise = noise_of(soundings.deviation_m, texture)
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
    others = np.ascontiguousarray(index)
    guess = Guess(at, others, np.array([index.shape[1]]), np.zeros(at.size))
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
    guess = Guess(at, *beyond(sets, asked, gap_m), np.zeros(at.size))
    error, variance = left_out(soundings, fit.noise, guess, fit.texture)
    squares = error**2 / (variance * fit.texture.sill_m2)
    return at, np.minimum(np.nan_to_num(squares, nan=1.0), SURPRISE_MOST**2)


def stretch(squares: Floats) -> Floats:
    """Local roughness as a factor on the doubt, from the surprises round each place."""
    summed = squares.sum(axis=1) + PRIOR_COUNT
    return np.asarray(np.sqrt(summed / (squares.shape[1] + PRIOR_COUNT)))
