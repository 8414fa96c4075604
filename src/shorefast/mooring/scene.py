"""A boat and her lines as the rest solver takes them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from shorefast.mooring.shapes import Floats, Ints, LineSegments, ShoreRope, pieces_joined
from shorefast.mooring.wind_load import WindForm


@dataclass(frozen=True)
class PlaneBed:
    """A sloping bed: level at the anchor [m] and its rise eastward and northward."""

    level_at_anchor_m: float
    rise_east: float
    rise_north: float


@dataclass(frozen=True)
class GridBed:
    """A bed on a grid: place of its first corner, step [m], levels (north, east) [m]."""

    west_m: float
    south_m: float
    step_m: float
    level_m: Floats


@dataclass(frozen=True)
class RodeLine:
    """A rode of the scene.

    x_m forward and y_m to starboard of the roller, z_m above the water; the anchor
    at east_m, north_m; the pieces from the anchor inboard; the bed; its friction;
    tail_m of the last piece where that is a snubber, else 0.
    """

    name: str
    x_m: float
    y_m: float
    z_m: float
    east_m: float
    north_m: float
    segments: LineSegments
    bed: PlaneBed | GridBed
    friction: float
    tail_m: float = 0.0

    def veered(self, by_m: float) -> RodeLine:
        """The rode with more of its inmost piece out, the tail as it is. [m]"""
        length_m = np.array(self.segments.length_m, float)
        length_m[-2 if self.tail_m > 0.0 else -1] += by_m
        return replace(self, segments=self.segments._replace(length_m=length_m))


@dataclass(frozen=True)
class ShoreLine:
    """A line ashore of the scene.

    Cleat x_m, y_m, z_m as above; the point at east_m, north_m, level_m above
    datum; length_m unstretched; weight_npm in air; axial_stiffness_n EA at no pull;
    wet_npm in water, 0 where it floats; curve as in ``LineSegments.curves``.
    """

    name: str
    x_m: float
    y_m: float
    z_m: float
    east_m: float
    north_m: float
    level_m: float
    length_m: float
    weight_npm: float
    axial_stiffness_n: float
    wet_npm: float = 0.0
    curve: Floats | None = None

    @property
    def rope(self) -> ShoreRope:
        """The rope by itself."""
        return ShoreRope(
            self.length_m, self.weight_npm, self.axial_stiffness_n, self.wet_npm, self.curve
        )

    def tangent_n(self, tension_n: float) -> float:
        """EA about a pull: what a little more stretch adds. [N]"""
        if self.curve is None:
            return self.axial_stiffness_n
        # between knots the slope's square goes straight with the pull
        return float(np.sqrt(np.interp(tension_n, self.curve[0], self.curve[2] ** 2)))

    @property
    def segments(self) -> LineSegments:
        """The rope as a line of one piece."""
        return LineSegments(
            np.array([self.length_m]),
            np.array([self.wet_npm]),
            np.array([self.axial_stiffness_n]),
            np.array([self.weight_npm]),
            curves=(self.curve,),
        )


@dataclass(frozen=True)
class Domain:
    """Where the boat's reference point may be. [m]"""

    west_m: float
    east_m: float
    south_m: float
    north_m: float


@dataclass(frozen=True)
class Scene:
    """Lines in any number and order, where she may be, and her wind form."""

    lines: tuple[RodeLine | ShoreLine, ...]
    domain: Domain
    wind: WindForm | None = None


class Packed(NamedTuple):
    """The scene as arrays over lines, for the kernels.

    rode is 1 for a rode, 0 for a shore line; first and last bound its pieces in
    the arrays of pieces; plane holds level at the anchor, rises east and north;
    roller_m is z_m, or minus infinity where a rode has one weight everywhere.
    """

    rode: Ints
    x_m: Floats
    y_m: Floats
    z_m: Floats
    east_m: Floats
    north_m: Floats
    level_m: Floats
    length_m: Floats
    weight_npm: Floats
    stiffness_n: Floats
    friction: Floats
    first: Ints
    last: Ints
    piece_cum: Floats
    piece_weight: Floats
    piece_stiffness: Floats
    piece_air: Floats
    piece_curve: Floats
    roller_m: Floats
    plane: Floats
    grid_west_m: float
    grid_south_m: float
    grid_step_m: float
    grid_level_m: Floats


def _pieces(lines: tuple[RodeLine | ShoreLine, ...]) -> tuple[list[LineSegments], Ints, Ints]:
    """Pieces of all lines, and where each line's begin and end among them."""
    segments: list[LineSegments] = []
    first = np.zeros(len(lines), np.int64)
    last = np.zeros(len(lines), np.int64)
    count = 0
    for i, line in enumerate(lines):
        first[i] = count
        segments.append(line.segments)
        count += np.size(line.segments.length_m)
        last[i] = count
    return segments, first, last


def _beds(lines: tuple[RodeLine | ShoreLine, ...]) -> tuple[Floats, GridBed]:
    """Planes under the rodes (NaN where a grid is), and the scene's grid."""
    plane = np.zeros((len(lines), 3))
    grid = GridBed(0.0, 0.0, 1.0, np.empty((0, 0)))
    for i, line in enumerate(lines):
        bed = getattr(line, "bed", None)
        if isinstance(bed, PlaneBed):
            plane[i] = bed.level_at_anchor_m, bed.rise_east, bed.rise_north
        elif isinstance(bed, GridBed):
            grid, plane[i] = bed, np.nan
    return plane, grid


def _roller_m(line: RodeLine | ShoreLine) -> float:
    return -np.inf if line.segments.air_npm is None else line.z_m


def packed(scene: Scene) -> Packed:
    """The scene's lines as arrays."""
    lines = scene.lines
    segments, first, last = _pieces(lines)
    stiffness, air, curve = pieces_joined(segments)
    plane, grid = _beds(lines)

    def column(name: str) -> Floats:
        return np.array([getattr(line, name, 0.0) for line in lines], float).reshape(len(lines))

    def joined(rows: list[Floats]) -> Floats:
        return np.concatenate([np.asarray(r, float) for r in rows]) if rows else np.empty(0)

    return Packed(
        rode=np.array([isinstance(line, RodeLine) for line in lines], np.int64).reshape(-1),
        x_m=column("x_m"),
        y_m=column("y_m"),
        z_m=column("z_m"),
        east_m=column("east_m"),
        north_m=column("north_m"),
        level_m=column("level_m"),
        length_m=column("length_m"),
        weight_npm=column("weight_npm"),
        stiffness_n=column("axial_stiffness_n"),
        friction=column("friction"),
        first=first,
        last=last,
        piece_cum=joined([np.cumsum(s.length_m) for s in segments]),
        piece_weight=joined([s.weight_npm for s in segments]),
        piece_stiffness=stiffness,
        piece_air=air,
        piece_curve=curve,
        roller_m=np.array([_roller_m(line) for line in lines], float).reshape(len(lines)),
        plane=plane,
        grid_west_m=grid.west_m,
        grid_south_m=grid.south_m,
        grid_step_m=grid.step_m,
        grid_level_m=np.ascontiguousarray(grid.level_m),
    )
