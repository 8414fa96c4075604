"""A patch of water as a shape: its outline, how likely it is hit, the ellipse it holds."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import cast

import numpy as np
import shapely
from contourpy import FillType, contour_generator
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
# legs of an outline are cut to this share of the error before the hit is summed
_LEG_SHARE = 0.05
# ratios of the ellipse's two axes that are tried, and the finer ones about the best
_RATIOS = np.geomspace(1.0 / 6.0, 6.0, 37)
_FINER = np.geomspace(1.0 / 1.1, 1.1, 21)


@dataclass(frozen=True)
class Ellipse:
    """An ellipse with one axis along a bearing: middle [m], its two whole axes. [m]"""

    east_m: float
    north_m: float
    along_m: float
    across_m: float
    along_rad: float

    @property
    def area_m2(self) -> float:
        """Its area. [m2]"""
        return 0.25 * math.pi * self.along_m * self.across_m


def outline_of(east_m: Floats, north_m: Floats, past: Floats) -> BaseGeometry:
    """Where a value known on a lattice is at most nothing, straight between its places.

    Parameters
    ----------
    east_m, north_m : array (column,), (row,)
        The lattice's lines. [m]
    past : array (row, column)
        By how much a limit is passed; NaN where nobody knows, which is outside.

    Returns
    -------
    patch : polygon or polygons, empty where no place is inside
    """
    masked = np.ma.masked_invalid(past)
    drawn = contour_generator(east_m, north_m, masked, fill_type=FillType.OuterOffset)
    found = cast("tuple[list[Floats], list[Ints]]", drawn.filled(-np.inf, 0.0))
    parts = []
    for points, ends in zip(*found, strict=True):
        rings = [points[a:b] for a, b in itertools.pairwise(ends)]
        parts.append(shapely.Polygon(rings[0], rings[1:]))
    return shapely.union_all([part for part in parts if part.area > 0.0])


def hit_share(patch: BaseGeometry, aim_m: tuple[float, float], error_m: float) -> float:
    """Probability that a place aimed at with a normal error lies in a patch.

    The error is alike all round. Summed along the outline: of the density, the share
    within a distance r of the aim is 1 - exp(-r2 / 2 error2), the same whichever way,
    so the patch holds its mean over the turn of the outline seen from the aim.

    Parameters
    ----------
    patch : polygon or polygons
    aim_m : (east, north) [m]
    error_m : float
        Standard deviation in each direction. [m] Nothing: 1 where the aim lies inside.

    Returns
    -------
    share : float

    Source
    ------
    Green's theorem on the circular normal density; no table needed.
    """
    if patch.is_empty:
        return 0.0
    if error_m <= 0.0:
        return float(shapely.covers(patch, shapely.Point(aim_m)))
    total = 0.0
    cut = shapely.segmentize(shapely.orient_polygons(patch), _LEG_SHARE * error_m)
    for part in shapely.get_parts(cut):
        for ring in (part.exterior, *part.interiors):
            total += _turned(shapely.get_coordinates(ring) - np.array(aim_m), error_m)
    return min(max(total / (2.0 * math.pi), 0.0), 1.0)


def _turned(ring: Floats, error_m: float) -> float:
    """The turn along a closed ring, each leg weighed by the share of hits within it."""
    here, there = ring[:-1], ring[1:]
    turn = np.arctan2(
        here[:, 0] * there[:, 1] - here[:, 1] * there[:, 0], np.sum(here * there, axis=1)
    )
    middle = 0.5 * (here + there)
    within = -np.expm1(-np.sum(middle**2, axis=1) / (2.0 * error_m**2))
    return float(np.sum(turn * within))


def largest_ellipse(patch: BaseGeometry, along_rad: float) -> Ellipse | None:
    """The largest ellipse inside a patch with one axis along a bearing; None if empty.

    Squeezed along the bearing by a ratio, an ellipse of that ratio is a circle: the
    largest circle inside is found for each of many ratios, the largest area wins.
    """
    if patch.is_empty:
        return None
    sine, cosine = math.sin(along_rad), math.cos(along_rad)
    turned = shapely.transform(patch, lambda en: en @ np.array([[sine, cosine], [cosine, -sine]]))
    best = _best_of(turned, _RATIOS)
    if best is None:
        return None
    along, across, along_m, across_m = _best_of(turned, best[2] / best[3] * _FINER) or best
    east, north = along * sine + across * cosine, along * cosine - across * sine
    return Ellipse(east, north, along_m, across_m, along_rad)


def _best_of(turned: BaseGeometry, ratios: Floats) -> tuple[float, float, float, float] | None:
    """Middle and whole axes of the largest ellipse of some ratios, along the first axis."""
    best: tuple[float, float, float, float] | None = None
    for ratio in ratios.tolist():
        circle = _largest_circle(turned, ratio)
        if circle is None:
            continue
        (along, across), radius_m = circle
        if best is None or radius_m**2 * ratio > 0.25 * best[2] * best[3]:
            best = (along, across, 2.0 * radius_m * ratio, 2.0 * radius_m)
    return best


def _largest_circle(turned: BaseGeometry, ratio: float) -> tuple[tuple[float, float], float] | None:
    """Middle and radius of the largest circle once the first axis is squeezed by a ratio."""
    squeezed = shapely.transform(turned, lambda xy: xy / np.array([ratio, 1.0]))
    best: tuple[tuple[float, float], float] | None = None
    for part in shapely.get_parts(squeezed):
        line = shapely.maximum_inscribed_circle(part, tolerance=0.01)
        (x, y), _ = shapely.get_coordinates(line)
        if best is None or line.length > best[1]:
            best = ((float(x) * ratio, float(y)), float(line.length))
    return best if best is not None and best[1] > 0.0 else None
