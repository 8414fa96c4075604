"""What the soundings of a bay tell of the bed between them, and how far.

Nothing is smoothed away on the shoal side: a sounding that stands above the bed its
neighbours draw is kept as a rock of its own. Where no sounding is near, nothing is
said.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.spatial import cKDTree
from shapely.geometry.base import BaseGeometry

from shorefast.bay.kriging import Texture, krige
from shorefast.bay.place import Soundings
from shorefast.bay.texture import find_texture, left_out_one_by_one
from shorefast.errors import BadInput

Floats = NDArray[np.float64]

NEIGHBOURS = 16
REACH_M = 40.0
ROCK_LEAST_M = 0.3
ROCK_WIDEST_M = 10.0
ODD_DEVIATIONS = 8.0
NO_SAY = 1e9
UNSEEN_SLOPE = 0.01
HOLE_SPACINGS = 5.0
HOLE_LEAST_M = 15.0


class Rocks(NamedTuple):
    """Soundings that stand above the bed round them: place, top, lift, how wide. [m]"""

    east_m: Floats
    north_m: Floats
    level_m: Floats
    lift_m: Floats
    width_m: Floats


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
    tree: cKDTree
    hull: BaseGeometry
    left_out: int = 0

    @property
    def place(self) -> tuple[Floats, Floats, Floats, Floats]:
        """East, north, level, noise as the sums want them."""
        return self.east_m, self.north_m, self.level_m, self.noise


def check_soundings(soundings: Soundings) -> None:
    """Raise BadInput for fewer than three soundings, or some that are no numbers."""
    count = soundings.east_m.size
    if count < 3:
        raise BadInput(
            "Soundings",
            f"{count} given",
            "a bed needs at least 3",
            "Add soundings round the berth.",
        )
    parts = (soundings.east_m, soundings.north_m, soundings.level_m)
    bad = sum(int(np.sum(~np.isfinite(part))) for part in parts)
    if bad:
        raise BadInput(
            "Soundings", f"{bad} are not numbers", "finite ones wanted", "Leave those out."
        )


def _taken_together(soundings: Soundings, cell_m: float) -> tuple[Soundings, Soundings, float]:
    """One sounding a cell (the mean), the shoalest of every cell, scatter in a cell. [m]"""
    east, north, level = soundings.east_m, soundings.north_m, soundings.level_m
    row = np.floor((north - north.min()) / cell_m).astype(np.int64)
    column = np.floor((east - east.min()) / cell_m).astype(np.int64)
    key = row * (int(column.max()) + 1) + column
    order = np.lexsort((-level, key))
    first = np.flatnonzero(np.diff(key[order], prepend=-1))
    count = np.diff(first, append=order.size)
    deviation = np.nan_to_num(soundings.deviation_m)

    def mean(part: Floats) -> Floats:
        return np.asarray(np.add.reduceat(part[order], first) / count)

    means = Soundings(mean(east), mean(north), mean(level), mean(deviation))
    spread = mean(level**2) - means.level_m**2
    several = count >= 4
    within = math.sqrt(max(float(np.median(spread[several])), 0.0)) if several.any() else 0.0
    top = order[first]
    return means, Soundings(east[top], north[top], level[top], deviation[top]), within


def _rocks(bed: SoundedBed, shoalest: Soundings, scatter_m: float) -> Rocks:
    """The soundings that the bed drawn through all of them still buries."""
    level, _ = _drawn(bed, shoalest.east_m, shoalest.north_m)
    lift = shoalest.level_m - level
    chance = math.sqrt(2.0 * math.log(max(shoalest.level_m.size, 8)))
    kept = lift > max(ROCK_LEAST_M, chance * scatter_m)
    if not kept.any():
        return bed.rocks
    east, north = shoalest.east_m[kept], shoalest.north_m[kept]
    near = bed.tree.query(np.column_stack((east, north)), k=1)[1]
    width = np.minimum(bed.spacing_m[near], ROCK_WIDEST_M)
    return Rocks(east, north, shoalest.level_m[kept], lift[kept], width)


def _drawn(bed: SoundedBed, east_m: Floats, north_m: Floats) -> tuple[Floats, Floats]:
    """Level and deviation of the bed, rocks and reach left out.

    However even the soundings, what lies between them may stand 1 in 100 of the way to
    the nearest above or below (our own choice): a wide flat is not known to the inch.
    """
    count = min(NEIGHBOURS, bed.east_m.size)
    apart, index = bed.tree.query(np.column_stack((east_m, north_m)), k=count, workers=-1)
    level, variance = krige(bed.place, east_m, north_m, index, bed.texture)
    stretch = bed.stretch[index[:, : min(8, count)]].mean(axis=1)
    variance_m2 = variance * bed.texture.sill_m2 * stretch**2 + bed.scatter_m**2
    return level, np.sqrt(variance_m2 + (UNSEEN_SLOPE * apart[:, 0]) ** 2)


def understand(soundings: Soundings, *, cell_m: float = 1.0) -> SoundedBed:
    """Learn from the soundings how the bed undulates, how uneven it is, where rocks are.

    Parameters
    ----------
    soundings : Soundings
        Deviations may be NaN where nobody told.
    cell_m : float
        Soundings closer together than this count as one. [m]

    Raises
    ------
    BadInput
        Fewer than three soundings, or some that are no numbers.
    """
    check_soundings(soundings)
    one_a_cell, shoalest, within_m = _taken_together(soundings, cell_m)
    places = np.column_stack((one_a_cell.east_m, one_a_cell.north_m))
    tree = cKDTree(places)
    count = min(NEIGHBOURS + 1, len(places))
    apart, index = tree.query(places, k=count, workers=-1)
    spacing = apart[:, 1 : min(5, count)].mean(axis=1) if count > 1 else np.full(1, np.inf)
    fit = find_texture(one_a_cell, index[:, 1:], float(np.median(spacing)))
    guessed = left_out_one_by_one(one_a_cell, index, fit)
    false = (guessed.error_m < -ODD_DEVIATIONS * guessed.deviation_m) & (spacing < REACH_M)
    bed = SoundedBed(
        one_a_cell.east_m,
        one_a_cell.north_m,
        one_a_cell.level_m,
        np.where(false, NO_SAY, fit.noise),
        spacing,
        guessed.stretch,
        Rocks(*(np.empty(0),) * 5),
        fit.texture,
        fit.scatter_m,
        tree,
        _hull(places),
        int(np.sum(false)),
    )
    rocks = _rocks(bed, shoalest, max(fit.sounding_m, within_m))
    return replace(bed, rocks=rocks)


def with_charted(bed: SoundedBed, dangers: Soundings | None) -> SoundedBed:
    """The bed with charted dangers kept at their depth, however the bed round them is drawn."""
    if dangers is None or not dangers.level_m.size:
        return bed
    level, _ = _drawn(bed, dangers.east_m, dangers.north_m)
    lift = dangers.level_m - level
    kept = lift > 0.0
    places = np.column_stack((dangers.east_m, dangers.north_m))[kept]
    width = np.minimum(bed.spacing_m[bed.tree.query(places, k=1)[1]], ROCK_WIDEST_M)
    more = Rocks(places[:, 0], places[:, 1], dangers.level_m[kept], lift[kept], width)
    both = (np.concatenate(pair) for pair in zip(bed.rocks, more, strict=True))
    return replace(bed, rocks=Rocks(*both))


def _hull(places: Floats) -> BaseGeometry:
    """The area all soundings lie in; a line where they lie in one."""
    hull = shapely.convex_hull(shapely.multipoints(places))
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
    apart, near = bed.tree.query(places, k=1, workers=-1)
    spacing = bed.spacing_m[near]
    known = apart <= np.minimum(reach_m, np.maximum(HOLE_SPACINGS * spacing, HOLE_LEAST_M))
    beyond = known & (apart > spacing)
    known[beyond] = shapely.contains_xy(bed.hull, places[beyond])
    if land is not None:
        shapely.prepare(land)
        doubtful = np.flatnonzero(known & beyond)
        dry = shapely.contains_xy(land, east_m[doubtful], north_m[doubtful])
        known[doubtful[dry]] = False
    return np.asarray(known)


def _lift(bed: SoundedBed, places: Floats, drawn_m: Floats, flat_m: float) -> tuple[Floats, Floats]:
    """The bed with its rocks on it, and the doubt about how wide they are. [m]"""
    level, doubt = drawn_m.copy(), np.zeros(drawn_m.size)
    rocks = bed.rocks
    if not rocks.lift_m.size:
        return level, doubt
    tree = cKDTree(np.column_stack((rocks.east_m, rocks.north_m)))
    reach = float(rocks.width_m.max()) + flat_m
    apart, index = tree.query(places, k=min(4, rocks.lift_m.size), distance_upper_bound=reach)
    apart, index = apart.reshape(len(places), -1), index.reshape(len(places), -1)
    for column in range(apart.shape[1]):
        hit = np.flatnonzero(np.isfinite(apart[:, column]))
        one = index[hit, column]
        down = np.maximum(apart[hit, column] - flat_m, 0.0) / rocks.width_m[one]
        inside = down < 1.0
        hit, one, down = hit[inside], one[inside], down[inside]
        level[hit] = np.maximum(level[hit], rocks.level_m[one] - down * rocks.lift_m[one])
        doubt[hit] = np.maximum(doubt[hit], 2.0 * rocks.lift_m[one] * down * (1.0 - down))
    return level, doubt


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
        Farther than this from any sounding nothing is known (NaN). [m]
    flat_m : float
        A rock's top is taken to be that wide each way. [m]
    land : polygons, optional
        There the bed is known only right beside a sounding.
    """
    level, deviation = np.full(east_m.shape, np.nan), np.full(east_m.shape, np.nan)
    at = np.flatnonzero(_known(bed, east_m, north_m, reach_m, land))
    if not at.size:
        return level, deviation
    drawn, doubt = _drawn(bed, east_m[at], north_m[at])
    places = np.column_stack((east_m[at], north_m[at]))
    level[at], skirt = _lift(bed, places, drawn, flat_m)
    deviation[at] = np.hypot(doubt, skirt)
    return level, deviation
