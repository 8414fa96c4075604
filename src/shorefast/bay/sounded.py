"""What the soundings of a bay tell of the bed between them, and how far.

Nothing is smoothed away on the shoal side: a sounding that stands above the bed its
neighbours draw is kept as a rock of its own. Where no sounding is near, nothing is
said.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.spatial import cKDTree
from shapely.geometry.base import BaseGeometry

from shorefast.bay.guesses import beside_lines, from_other_tracks, over_gaps, tracks_told
from shorefast.bay.honest import (
    NOT_HELD_AGAINST_ANY,
    UNSEEN_BUT_LOOKED_FOR,
    Honest,
    honest_over,
)
from shorefast.bay.kriging import Texture
from shorefast.bay.neighbours import (
    NEAREST,
    Neighbours,
    Place,
    Thinned,
    draw,
    nearest,
    settled,
    thin_out,
)
from shorefast.bay.place import Soundings
from shorefast.bay.rocks import NO_ROCKS, ROCK_LEAST_M, Rocks, both, charted, lift, rocks_of
from shorefast.bay.texture import (
    SCATTER_LEAST_M,
    Fit,
    find_texture,
    left_out,
    left_out_one_by_one,
    stretch,
    surprises,
)
from shorefast.bay.together import check_soundings, taken_together

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

REACH_M = 40.0
ODD_DEVIATIONS = 8.0
NOISE_LEFT = 0.05
JUDGED_AGAIN = 10
NO_SAY = 1e9
HOLE_SPACINGS = 5.0
HOLE_LEAST_M = 15.0
LATTICE = 40
PEAK_SHARE, PEAK_REACH_M = 0.25, (1.0, 5.0)
GAPS, WIDEST = 4, 0.9


@dataclass(frozen=True)
class SoundedBed:
    """A bed understood from its soundings; ``bed_at`` asks it.

    Attributes
    ----------
    east_m, north_m, level_m : arrays, shape (sounding,)
        Soundings, those in one cell taken together. [m]
    noise : array, shape (sounding,)
        Their variance in units of the texture's sill.
    spacing_m : array, shape (sounding,)
        How far apart soundings are round each one. [m]
    stretch : array, shape (sounding,)
        How much rougher than the rest the bed is there, as a factor on its doubt.
    rocks : Rocks
    texture : Texture
    scatter_m : float
        Unevenness of the bed too small to be drawn. [m]
    sets : thinned soundings
        All of them first, then ever sparser (bay.neighbours).
    hull : polygon they lie in
    uneven_m : float
        How far one sounding is out. [m]
    gap_m : float
        Typical distance from a place asked to the nearest sounding. [m]
    alike_m : array, shape (sounding,)
        What soundings there may all be out by alike: tide, datum, sounder. [m]
    left_out : int
        Soundings left out as false.
    """

    east_m: Floats
    north_m: Floats
    level_m: Floats
    noise: Floats
    spacing_m: Floats
    stretch: Floats
    rocks: Rocks
    texture: Texture
    scatter_m: float
    sets: Neighbours
    hull: BaseGeometry
    uneven_m: float
    gap_m: float
    honest: Honest
    settled_m: Floats
    settled_variance: Floats
    alike_m: Floats
    left_out: int = 0

    @property
    def heard(self) -> Place:
        """East, north, level, noise of the soundings as they were taken."""
        none = np.zeros(self.noise.size)
        return self.east_m, self.north_m, self.level_m, self.noise, none

    @property
    def place(self) -> Place:
        """East, north, level, noise and doubt of the bed under the soundings."""
        noise = np.where(self.noise < NO_SAY, NOISE_LEFT * self.noise, NO_SAY)
        return self.east_m, self.north_m, self.settled_m, noise, self.settled_variance


def drawn(bed: SoundedBed, east_m: Floats, north_m: Floats) -> tuple[Floats, Floats]:
    """Level and deviation of the bed, rocks and reach left out.

    Soundings come into the sums and leave them with no say, so the bed
    has no steps; see ``SoundedBed.settled_m`` for why it is even.
    """
    asked = np.column_stack((east_m, north_m))
    apart, near = nearest(bed.sets[0], asked, NEAREST)
    level, variance = draw(bed.place, bed.sets, asked, near, bed.texture)
    rough = bed.stretch[near[:, :8]].mean(axis=1)
    alike = bed.alike_m[near[:, :8]].mean(axis=1)
    return level, np.hypot(_deviation(bed, variance, rough, apart[:, 0]), alike)


def _deviation(bed: SoundedBed, variance: Floats, rough: Floats, apart_m: Floats) -> Floats:
    """Deviation of the level from its variance in sills: roughness, scatter, what none saw. [m]"""
    variance_m2 = variance * bed.texture.sill_m2 * rough**2 + bed.scatter_m**2
    unseen_m = bed.honest.unseen_slope * apart_m
    held_m = np.sqrt(variance_m2 + unseen_m**2) * bed.honest.at(apart_m)
    # however well soundings guess each other, what is too small to be drawn or unseen stays
    return np.maximum(held_m, np.hypot(SCATTER_LEAST_M, unseen_m))


def understand(
    soundings: Soundings, *, cell_m: float = 1.0, reach_m: float = REACH_M
) -> SoundedBed:
    """Learn from the soundings how the bed undulates, how uneven it is, where rocks are.

    Parameters
    ----------
    soundings : Soundings
        Deviations may be NaN where nobody told.
    cell_m : float
        Soundings closer together than this count as one. [m]
    reach_m : float
        Gaps wider than this need not be bridged. [m]

    Raises
    ------
    BadInput
        Fewer than three soundings, all in one place, or some that are no numbers.
    """
    check_soundings(soundings)
    ready = taken_together(soundings, cell_m)
    means = ready.means
    places = np.column_stack((means.east_m, means.north_m))
    apart = nearest(Thinned(cKDTree(places), np.arange(len(places)), 0.0), places, 5)[0]
    spacing = apart[:, 1:].mean(axis=1) if len(places) > 1 else np.full(1, np.inf)
    sets = thin_out(places, float(np.median(spacing)))
    hull = _hull(places)
    gaps = _gaps_m(sets, spacing, hull, reach_m)
    tried = over_gaps(places, sets, gaps)
    fit = find_texture(means, tried, float(np.median(spacing)))
    flat = SoundedBed(
        *(means.east_m, means.north_m, means.level_m, fit.noise, spacing),
        np.ones(spacing.size), NO_ROCKS, fit.texture, fit.scatter_m, sets, hull,
        max(fit.sounding_m, ready.within_m), float(np.median(gaps)),
        NOT_HELD_AGAINST_ANY, means.level_m, np.zeros(spacing.size), alike_of(means.deviation_m),
    )  # fmt: skip
    bed = without_false(flat, means)
    bed = replace(bed, honest=_honest(bed, means, gaps))
    return with_rocks(with_settled(bed, sets[0].which), ready.shoalest)


def alike_of(deviation_m: Floats) -> Floats:
    """The part of what soundings are said to be out by that others beside them do not mend.

    Half of it (our own choice): what is wrong with one survey is wrong with all of it,
    and soundings held against each other do not show it. [m]
    """
    return np.asarray(0.5 * np.nan_to_num(deviation_m))


def with_settled(bed: SoundedBed, some: Ints) -> SoundedBed:
    """The bed with its level under some soundings found from all round them."""
    level, variance = bed.settled_m.copy(), bed.settled_variance.copy()
    level[some], variance[some] = settled(bed.heard, bed.sets, some, bed.texture)
    return replace(bed, settled_m=level, settled_variance=variance)


def _honest(bed: SoundedBed, means: Soundings, gaps_m: Sequence[float]) -> Honest:
    """The doubt held against soundings left out: of other tracks, where tracks are told."""
    places = np.column_stack((bed.east_m, bed.north_m))
    if tracks_told(means.track):
        guesses = list(from_other_tracks(places, means.track, float(np.median(bed.spacing_m))))
    else:
        guesses = beside_lines(places, bed.sets, gaps_m)
    looked_for = NOT_HELD_AGAINST_ANY._replace(unseen_slope=UNSEEN_BUT_LOOKED_FOR)
    asked = replace(bed, honest=looked_for)
    parts: list[tuple[Floats, ...]] = [(np.empty(0),) * 3]
    for guess in guesses:
        error, variance = left_out(means, bed.noise, guess, bed.texture)
        foretold = _deviation(asked, variance, bed.stretch[guess.at], guess.apart_m)
        parts.append((guess.apart_m, error, foretold))
    return honest_over(*(np.concatenate(part) for part in zip(*parts, strict=True)))


def _gaps_m(
    sets: Neighbours, spacing_m: Floats, hull: BaseGeometry, reach_m: float
) -> Sequence[float]:
    """Gaps to learn over: from half a spacing to the widest usual one, in even ratios. [m]"""
    spacing = float(np.median(spacing_m))
    widest = _widest_m(sets, spacing_m, hull, reach_m)
    return list(np.geomspace(0.5 * spacing, max(widest, spacing), GAPS))


def _widest_m(sets: Neighbours, spacing_m: Floats, hull: BaseGeometry, reach_m: float) -> float:
    """How far off the nearest sounding is in nine of ten places the bed is asked at. [m]"""
    west, south, east, north = hull.bounds
    across, up = np.meshgrid(np.linspace(west, east, LATTICE), np.linspace(south, north, LATTICE))
    asked = np.column_stack((across.ravel(), up.ravel()))
    apart, near = sets[0].tree.query(asked)
    told = apart <= _holds_m(spacing_m[near], reach_m)
    told &= shapely.contains_xy(hull, asked)
    if told.sum() < LATTICE:
        return float(0.5 * np.quantile(spacing_m, WIDEST))
    return float(np.quantile(apart[told], WIDEST))


def _holds_m(spacing_m: Floats, reach_m: float) -> Floats:
    """How far a sounding still says something, by how far apart those round it are. [m]"""
    if math.isinf(reach_m):
        return np.full(spacing_m.shape, np.inf)
    return np.asarray(np.minimum(reach_m, np.maximum(HOLE_SPACINGS * spacing_m, HOLE_LEAST_M)))


def on_the_edge(bed: SoundedBed, asked: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Of the soundings asked for, those on the edge of all: no others lie on their far side."""
    at = np.flatnonzero(asked)
    edge = shapely.boundary(bed.hull)
    off_m = shapely.distance(shapely.points(bed.east_m[at], bed.north_m[at]), edge)
    out = np.zeros(asked.shape, bool)
    out[at] = off_m < 0.5 * bed.spacing_m[at]
    return out


def without_false(bed: SoundedBed, means: Soundings) -> SoundedBed:
    """The bed with its local roughness known, and soundings far below it left out."""
    fit = Fit(bed.texture, bed.noise, bed.scatter_m, bed.uneven_m)
    at, squares = surprises(means, bed.sets, bed.gap_m, fit)
    places = np.column_stack((bed.east_m, bed.north_m))
    tree = cKDTree(places[at])
    round_it = tree.query(places, k=np.arange(1, min(NEAREST, at.size) + 1), workers=-1)[1]
    rough = stretch(squares[round_it])
    return without_echoes(replace(bed, stretch=rough), means, bed.sets[0].which)


def without_echoes(bed: SoundedBed, means: Soundings, asked: Ints) -> SoundedBed:
    """The bed with those soundings that lie far below it left without a say.

    The worst of a neighbourhood goes first and the rest are judged again without it: a
    false echo draws a wrong bed under the true soundings round it.
    """
    asked = asked[bed.spacing_m[asked] < REACH_M]
    places = np.column_stack((bed.east_m[asked], bed.north_m[asked]))
    index = nearest(bed.sets[0], places, NEAREST + 1)[1][:, 1:]
    noise = bed.noise.copy()
    for _ in range(JUDGED_AGAIN):
        fit = Fit(bed.texture, noise, bed.scatter_m, bed.uneven_m)
        error, foretold = left_out_one_by_one(means, asked, index, fit)
        share = error / (foretold * bed.stretch[asked])
        odd = np.zeros(noise.size, bool)
        odd[asked] = share < -ODD_DEVIATIONS
        odd &= ~on_the_edge(bed, odd)
        if not odd.any():
            break
        all_shares = np.zeros(noise.size)
        all_shares[asked] = np.where(odd[asked], share, 0.0)
        worst = odd[asked] & (share <= all_shares[index].min(axis=1))
        noise[asked[worst]] = NO_SAY
        left = odd[asked] & ~worst
        asked, index = asked[left], index[left]
    return replace(bed, noise=noise, left_out=int(np.sum(noise >= NO_SAY)))


def with_rocks(bed: SoundedBed, shoalest: Soundings) -> SoundedBed:
    """The bed with the soundings that it would still bury kept as rocks.

    A bed drawn up to a lone peak and down again at once buries it between the nodes of a
    grid: what counts is the bed round it too.
    """
    level, _ = drawn(bed, shoalest.east_m, shoalest.north_m)
    places = np.column_stack((shoalest.east_m, shoalest.north_m))
    near = bed.sets[0].tree.query(places, k=1)[1]
    spacing = bed.spacing_m[near]
    peaks = np.flatnonzero(shoalest.level_m - _round_m(bed, places) > ROCK_LEAST_M)
    off_m = np.clip(PEAK_SHARE * spacing[peaks], *PEAK_REACH_M)
    beside = np.zeros(peaks.size)
    for turn in np.linspace(0.0, 2.0 * np.pi, 4, endpoint=False):
        east = shoalest.east_m[peaks] + off_m * np.sin(turn)
        beside += 0.25 * drawn(bed, east, shoalest.north_m[peaks] + off_m * np.cos(turn))[0]
    level[peaks] = np.minimum(level[peaks], beside)
    return replace(bed, rocks=rocks_of(shoalest, level, spacing, bed.uneven_m))


def _round_m(bed: SoundedBed, places: Floats) -> Floats:
    """Middle level of the soundings next to each place."""
    _, near = nearest(bed.sets[0], places, min(5, bed.level_m.size))
    return np.asarray(np.median(bed.level_m[near], axis=1))


def with_charted(bed: SoundedBed, dangers: Soundings | None) -> SoundedBed:
    """The bed with charted dangers kept at their depth, however the bed round them is drawn."""
    if dangers is None or not dangers.level_m.size:
        return bed
    level, _ = drawn(bed, dangers.east_m, dangers.north_m)
    near = bed.sets[0].tree.query(np.column_stack((dangers.east_m, dangers.north_m)), k=1)[1]
    return replace(bed, rocks=both(bed.rocks, charted(dangers, level, bed.spacing_m[near])))


def _hull(places: Floats) -> BaseGeometry:
    """The area all soundings lie in; a line where they lie in one."""
    hull = shapely.convex_hull(shapely.linestrings(places))
    shapely.prepare(hull)
    return hull


def _known(
    bed: SoundedBed,
    east_m: Floats,
    north_m: Floats,
    reach_m: float,
    land: BaseGeometry | None,
) -> NDArray[np.bool_]:
    """Where the soundings still say something: among them, or just past the last one."""
    places = np.column_stack((east_m, north_m))
    apart, near = bed.sets[0].tree.query(places, k=1, workers=-1)
    spacing = bed.spacing_m[near]
    known = apart <= _holds_m(spacing, reach_m)
    beyond = known & (apart > spacing)
    known[beyond] = shapely.contains_xy(bed.hull, places[beyond])
    if land is not None:
        shapely.prepare(land)
        doubtful = np.flatnonzero(known & beyond)
        dry = shapely.contains_xy(land, east_m[doubtful], north_m[doubtful])
        known[doubtful[dry]] = False
    return np.asarray(known)


def bed_at(
    bed: SoundedBed,
    east_m: Floats,
    north_m: Floats,
    *,
    reach_m: float = REACH_M,
    flat_m: float = 1.0,
    land: BaseGeometry | None = None,
) -> tuple[Floats, Floats]:
    """Level of the bed [m, up from chart datum] and its standard deviation. [m]

    Parameters
    ----------
    east_m, north_m : arrays, shape (place,)
    reach_m : float
        Farther than this from any sounding nothing is known (NaN); infinity: all the
        sounded area is, however wide its gaps. [m]
    flat_m : float
        A rock's top is taken to be that wide each way. [m]
    land : polygons, optional
        There the bed is known only right beside a sounding.
    """
    level, deviation = np.full(east_m.shape, np.nan), np.full(east_m.shape, np.nan)
    at = np.flatnonzero(_known(bed, east_m, north_m, reach_m, land))
    if not at.size:
        return level, deviation
    plain, doubt = drawn(bed, east_m[at], north_m[at])
    places = np.column_stack((east_m[at], north_m[at]))
    level[at], skirt = lift(bed.rocks, places, plain, flat_m)
    deviation[at] = np.hypot(doubt, skirt)
    return level, deviation
