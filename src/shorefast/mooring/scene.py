"""A boat and her lines as the rest solver takes them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from shorefast.mooring.shapes import Floats, Ints, LineSegments
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
    at east_m, north_m; the pieces from the anchor inboard; the bed; its friction.
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


@dataclass(frozen=True)
class ShoreLine:
    """A line ashore of the scene.

    Cleat x_m, y_m, z_m as above; the point at east_m, north_m, level_m above
    datum; length_m unstretched; weight_npm in air; axial_stiffness_n EA.
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
    the arrays of pieces; plane holds level at the anchor, rises east and north.
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
    plane: Floats
    grid_west_m: float
    grid_south_m: float
    grid_step_m: float
    grid_level_m: Floats


def packed(scene: Scene) -> Packed:
    """The scene's lines as arrays."""
    lines = scene.lines
    n = len(lines)
    cum: list[Floats] = []
    weight: list[Floats] = []
    stiffness: list[Floats] = []
    first = np.zeros(n, np.int64)
    last = np.zeros(n, np.int64)
    plane = np.zeros((n, 3))
    grid = GridBed(0.0, 0.0, 1.0, np.empty((0, 0)))
    for i, line in enumerate(lines):
        first[i] = last[i] = sum(c.size for c in cum)
        if not isinstance(line, RodeLine):
            continue
        cum.append(np.cumsum(line.segments.length_m))
        weight.append(np.asarray(line.segments.weight_npm, float))
        stiffness.append(np.asarray(line.segments.axial_stiffness_n, float))
        last[i] = first[i] + cum[-1].size
        if isinstance(line.bed, PlaneBed):
            plane[i] = line.bed.level_at_anchor_m, line.bed.rise_east, line.bed.rise_north
        else:
            grid = line.bed
            plane[i] = np.nan
    shore = [line if isinstance(line, ShoreLine) else None for line in lines]

    def column(values: list[float]) -> Floats:
        return np.array(values, float).reshape(n)

    return Packed(
        rode=np.array([isinstance(line, RodeLine) for line in lines], np.int64).reshape(n),
        x_m=column([line.x_m for line in lines]),
        y_m=column([line.y_m for line in lines]),
        z_m=column([line.z_m for line in lines]),
        east_m=column([line.east_m for line in lines]),
        north_m=column([line.north_m for line in lines]),
        level_m=column([s.level_m if s else 0.0 for s in shore]),
        length_m=column([s.length_m if s else 0.0 for s in shore]),
        weight_npm=column([s.weight_npm if s else 0.0 for s in shore]),
        stiffness_n=column([s.axial_stiffness_n if s else 0.0 for s in shore]),
        friction=column([getattr(line, "friction", 0.0) for line in lines]),
        first=first,
        last=last,
        piece_cum=np.concatenate(cum) if cum else np.empty(0),
        piece_weight=np.concatenate(weight) if weight else np.empty(0),
        piece_stiffness=np.concatenate(stiffness) if stiffness else np.empty(0),
        plane=plane,
        grid_west_m=grid.west_m,
        grid_south_m=grid.south_m,
        grid_step_m=grid.step_m,
        grid_level_m=np.ascontiguousarray(grid.level_m),
    )
