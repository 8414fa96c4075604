"""A bed understood from its soundings, and what it says at a place."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from shorefast.bay.honest import Honest
from shorefast.bay.kriging import Texture
from shorefast.bay.neighbours import NEAREST, Neighbours, Place, draw, nearest
from shorefast.bay.rocks import Rocks
from shorefast.bay.texture import SCATTER_LEAST_M

Floats = NDArray[np.float64]

NOISE_LEFT = 0.05
NO_SAY = 1e9


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
    return level, np.hypot(deviation_of(bed, variance, rough, apart[:, 0]), alike)


def deviation_of(bed: SoundedBed, variance: Floats, rough: Floats, apart_m: Floats) -> Floats:
    """Deviation of the level from its variance in sills: roughness, scatter, what none saw. [m]"""
    variance_m2 = variance * bed.texture.sill_m2 * rough**2 + bed.scatter_m**2
    unseen_m = bed.honest.unseen_slope * apart_m
    held_m = np.sqrt(variance_m2 + unseen_m**2) * bed.honest.at(apart_m)
    # however well soundings guess each other, what is too small to be drawn or unseen stays
    return np.maximum(held_m, np.hypot(SCATTER_LEAST_M, unseen_m))


def typical_m(spacing_m: Floats) -> float:
    """How far apart soundings mostly are; 1 m where there is but one. [m]"""
    middle = float(np.median(spacing_m))
    return middle if math.isfinite(middle) else 1.0


def alike_of(deviation_m: Floats) -> Floats:
    """The part of what soundings are said to be out by that others beside them do not mend.

    Half of it (our own choice): what is wrong with one survey is wrong with all of it,
    and soundings held against each other do not show it. [m]
    """
    return np.asarray(0.5 * np.nan_to_num(deviation_m))
