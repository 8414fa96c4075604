"""The depth surface: the bed's level and its doubt on an even grid over the berth."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray
from shapely.geometry.base import BaseGeometry

from shorefast.basis import Assumption, Basis, Finding
from shorefast.bay.place import Soundings
from shorefast.bay.sounded import REACH_M, bed_at, understand, with_charted
from shorefast.bay.sounded_bed import SoundedBed
from shorefast.bay.together import check_soundings
from shorefast.compiled import kernel
from shorefast.errors import BadInput

Floats = NDArray[np.float64]

STEP_LEAST_M = 1.0
STEP_OF_SPACING = 0.4
CELLS_MOST = 120_000
SIDE_MOST = 400


class Bounds(NamedTuple):
    """A box in the bay's plane. [m]"""

    west_m: float
    south_m: float
    east_m: float
    north_m: float


class SurfaceGrid(NamedTuple):
    """Levels of the bed on even steps, as the compiled sums want them.

    Attributes
    ----------
    west_m, south_m : float
        Place of the first node. [m]
    step_m : float
        Between nodes, both ways. [m]
    level_m : array, shape (north, east)
        Up from chart datum; NaN unknown. [m]
    deviation_m : array, shape (north, east)
        Standard deviation of the level. [m]
    """

    west_m: float
    south_m: float
    step_m: float
    level_m: Floats
    deviation_m: Floats


@kernel
def level_here(
    west_m: float,
    south_m: float,
    step_m: float,
    level_m: Floats,
    east_m: float,
    north_m: float,
) -> float:
    """Level between four nodes of a grid, straight both ways; NaN outside or unknown."""
    column = (east_m - west_m) / step_m
    row = (north_m - south_m) / step_m
    rows, columns = level_m.shape
    if not (0.0 <= column <= columns - 1.0 and 0.0 <= row <= rows - 1.0):
        return math.nan
    i = min(int(row), rows - 2)
    j = min(int(column), columns - 2)
    v = row - i
    u = column - j
    south = level_m[i, j] * (1.0 - u) + level_m[i, j + 1] * u
    north = level_m[i + 1, j] * (1.0 - u) + level_m[i + 1, j + 1] * u
    return float(south * (1.0 - v) + north * v)


@kernel
def levels_here(
    west_m: float,
    south_m: float,
    step_m: float,
    level_m: Floats,
    east_m: Floats,
    north_m: Floats,
) -> Floats:
    """``level_here`` for many places, flat arrays in, a flat array out."""
    out = np.empty(east_m.size)
    for k in range(east_m.size):
        out[k] = level_here(west_m, south_m, step_m, level_m, east_m[k], north_m[k])
    return out


class DrawnFrom(NamedTuple):
    """What a surface was drawn from, so that it can take new soundings in.

    soundings: those near the box; bed: what they told; reach_m, land: as given [m];
    dangers: charted ones, always kept; unsounded: where one of unknown depth stands
    """

    soundings: Soundings
    bed: SoundedBed
    reach_m: float
    land: BaseGeometry | None
    dangers: Soundings | None = None
    unsounded: BaseGeometry | None = None


@dataclass(frozen=True)
class DepthSurface:
    """The bed over the berth. Unknown is NaN."""

    grid: SurfaceGrid
    basis: Basis
    drawn_from: DrawnFrom | None = field(default=None, compare=False, repr=False)

    def level_at(self, east_m: ArrayLike, north_m: ArrayLike) -> Floats:
        """Level of the bed, up from chart datum [m], places broadcast together."""
        return self._read(self.grid.level_m, east_m, north_m)

    def deviation_at(self, east_m: ArrayLike, north_m: ArrayLike) -> Floats:
        """Standard deviation of the level [m], places broadcast together."""
        return self._read(self.grid.deviation_m, east_m, north_m)

    def _read(self, field_m: Floats, east_m: ArrayLike, north_m: ArrayLike) -> Floats:
        east, north = np.broadcast_arrays(np.asarray(east_m, float), np.asarray(north_m, float))
        grid = self.grid
        flat = levels_here(
            grid.west_m, grid.south_m, grid.step_m, field_m,
            np.ascontiguousarray(east).ravel(), np.ascontiguousarray(north).ravel(),
        )  # fmt: skip
        return flat.reshape(east.shape)


def _step_m(bounds: Bounds, spacing_m: float, told_m: float | None) -> float:
    width = max(bounds.east_m - bounds.west_m, 1.0)
    height = max(bounds.north_m - bounds.south_m, 1.0)
    least = max(math.sqrt(width * height / CELLS_MOST), max(width, height) / (SIDE_MOST - 2))
    if told_m is None:
        return max(least, STEP_LEAST_M, min(2.0, STEP_OF_SPACING * spacing_m))
    if not (math.isfinite(told_m) and told_m > 0):
        raise BadInput(
            "Depth surface", f"a step of {told_m:g} m asked", "more than 0 wanted", "Correct it."
        )
    return max(told_m, least)


def _around(soundings: Soundings, margin_m: float) -> Bounds:
    east, north = soundings.east_m, soundings.north_m
    return Bounds(
        float(east.min()) - margin_m,
        float(north.min()) - margin_m,
        float(east.max()) + margin_m,
        float(north.max()) + margin_m,
    )


def within(soundings: Soundings, bounds: Bounds, margin_m: float) -> Soundings:
    """The soundings in a box and a margin round it. [m]"""
    east, north = soundings.east_m, soundings.north_m
    kept = (east >= bounds.west_m - margin_m) & (east <= bounds.east_m + margin_m)
    kept &= (north >= bounds.south_m - margin_m) & (north <= bounds.north_m + margin_m)
    return soundings.only(kept)


def _empty(bounds: Bounds, step_m: float) -> SurfaceGrid:
    columns = math.ceil((bounds.east_m - bounds.west_m) / step_m) + 1
    rows = math.ceil((bounds.north_m - bounds.south_m) / step_m) + 1
    unknown = np.full((max(rows, 2), max(columns, 2)), np.nan)
    return SurfaceGrid(bounds.west_m, bounds.south_m, step_m, unknown, unknown)


def places_of(grid: SurfaceGrid) -> tuple[Floats, Floats]:
    """East and north of every node, row after row. [m]"""
    rows, columns = grid.level_m.shape
    east = grid.west_m + grid.step_m * np.arange(columns)
    north = grid.south_m + grid.step_m * np.arange(rows)
    across, up = np.meshgrid(east, north)
    return across.ravel(), up.ravel()


def coarse_finding(where: str, apart_m: float, reach_m: float = REACH_M) -> Finding:
    """Says that the nearest depth is too far off for a berth. [m]"""
    return Finding(
        where,
        f"the nearest depth is {apart_m:.0f} m away; a berth needs soundings closer than "
        f"{reach_m:.0f} m",
    )


def basis_of(bed: SoundedBed, reach_m: float, level_m: Floats) -> Basis:
    """What a surface drawn from a bed rests on."""
    return Basis(
        assumptions=(
            Assumption(
                f"Between soundings the bed undulates as it does at them, over about "
                f"{bed.texture.length_m:.0f} m; beyond {reach_m:.0f} m nothing is known.",
                "A rock between two soundings is not in the figures.",
            ),
        ),
        sources=("rasmussen-williams-2006", "rivoirard-romary-2011"),
        findings=(*_about_soundings(bed, reach_m), *_about_known(level_m)),
    )


def _about_soundings(bed: SoundedBed, reach_m: float) -> Iterator[Finding]:
    spacing_m = float(np.median(bed.spacing_m))
    if reach_m < spacing_m < math.inf:
        yield Finding(
            "Depth surface",
            f"depths lie {spacing_m:.0f} m apart; a berth needs soundings closer than "
            f"{reach_m:.0f} m, so the bed between them is unknown",
        )
    if bed.rocks.lift_m.size:
        yield Finding(
            "Depth surface",
            f"soundings that stand above the bed round them, each kept as a rock: "
            f"{bed.rocks.lift_m.size}, the most by {bed.rocks.lift_m.max():.1f} m",
        )
    if bed.left_out:
        yield Finding(
            "Depth surface",
            f"soundings far below the bed round them, left out as false: {bed.left_out}",
        )


def _about_known(level_m: Floats) -> Iterator[Finding]:
    share = float(np.isfinite(level_m).mean())
    if share < 0.05:
        yield Finding("Depth surface", f"the bed is known in {100 * share:.0f} % of this box")


def fit_surface(
    soundings: Soundings,
    *,
    step_m: float | None = None,
    reach_m: float = REACH_M,
    bounds: Bounds | None = None,
    land: BaseGeometry | None = None,
    dangers: Soundings | None = None,
    unsounded: BaseGeometry | None = None,
) -> DepthSurface:
    """Draw the bed through scattered soundings, with its doubt.

    A local Gaussian process on the nearest soundings whose texture is learnt from the
    soundings themselves; a sounding that stands above its neighbours is kept as a rock.

    Parameters
    ----------
    soundings : Soundings
    step_m : float, optional
        Between nodes; by default 1 to 2 m, more where the box is too large for that. [m]
    reach_m : float
        Farther than this from every sounding the bed is unknown. [m]
    bounds : Bounds, optional
        The box to draw; by default all soundings and half the reach round them.
    land : polygons, optional
        On land the bed is known only right beside a sounding.
    dangers : Soundings, optional
        Charted rocks and the like, among the soundings too: kept at their depth.
    unsounded : polygons, optional
        Round charted dangers of unknown depth: there the bed is unknown.

    Raises
    ------
    BadInput
        Fewer than three soundings, some that are no numbers, or a step not above 0.

    Source
    ------
    rasmussen-williams-2006, ch. 2; rivoirard-romary-2011 (see bay.kriging).
    """
    check_soundings(soundings)
    box = bounds or _around(soundings, 0.5 * reach_m)
    near = within(soundings, box, 2.0 * reach_m)
    width_m, height_m = box.east_m - box.west_m, box.north_m - box.south_m
    spacing_m = math.sqrt(width_m * height_m / max(near.east_m.size, 1))
    grid = _empty(box, _step_m(box, spacing_m, step_m))
    if near.east_m.size < 3:
        return DepthSurface(grid, _nothing_near(soundings, box, reach_m))
    bed = with_charted(understand(near, cell_m=grid.step_m, reach_m=reach_m), dangers)
    across, up = places_of(grid)
    level, deviation = bed_at(bed, across, up, reach_m=reach_m, flat_m=1.5 * grid.step_m, land=land)
    shape = grid.level_m.shape
    drawn = grid._replace(level_m=level.reshape(shape), deviation_m=deviation.reshape(shape))
    drawn = unknown_in(drawn, unsounded)
    drawn_from = DrawnFrom(near, bed, reach_m, land, dangers, unsounded)
    return DepthSurface(drawn, basis_of(bed, reach_m, level), drawn_from)


def unknown_in(grid: SurfaceGrid, shape: BaseGeometry | None) -> SurfaceGrid:
    """The grid with the bed unknown in a shape, at one node of it at the least."""
    if shape is None or shape.is_empty:
        return grid
    east, north = places_of(grid)
    wide = shapely.buffer(shape, math.sqrt(0.5) * grid.step_m)
    inside = shapely.contains_xy(wide, east, north).reshape(grid.level_m.shape)
    level, deviation = (np.where(inside, np.nan, part) for part in grid[3:5])
    return grid._replace(level_m=level, deviation_m=deviation)


def _nothing_near(soundings: Soundings, box: Bounds, reach_m: float) -> Basis:
    east, north = 0.5 * (box.west_m + box.east_m), 0.5 * (box.south_m + box.north_m)
    apart = np.hypot(soundings.east_m - east, soundings.north_m - north)
    return Basis(findings=(coarse_finding("Depth surface", float(apart.min()), reach_m),))
