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
    if min(past.shape) < 2:
        return shapely.Polygon()
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


def ellipse_about(
    patch: BaseGeometry, aim_m: tuple[float, float], along_rad: float
) -> Ellipse | None:
    """The largest ellipse about an aim inside a patch, one axis along a bearing.

    Squeezed along the bearing by a ratio, an ellipse of that ratio is a circle: its
    radius is the way to the outline. The ratio with the largest area wins.

    Returns
    -------
    ellipse : None where the aim lies outside
    """
    if not shapely.contains_properly(patch, shapely.Point(aim_m)):
        return None
    sine, cosine = math.sin(along_rad), math.cos(along_rad)
    turn = np.array([[sine, cosine], [cosine, -sine]])
    edge = shapely.transform(patch.boundary, lambda en: (en - np.array(aim_m)) @ turn)
    best = max(_RATIOS.tolist(), key=lambda ratio: _area(edge, ratio))
    best = max((best * _FINER).tolist(), key=lambda ratio: _area(edge, ratio))
    radius_m = _radius_m(edge, best)
    return Ellipse(*aim_m, 2.0 * radius_m * best, 2.0 * radius_m, along_rad)


def _radius_m(edge: BaseGeometry, ratio: float) -> float:
    """From the origin to an outline once the first axis is squeezed by a ratio."""
    squeezed = shapely.transform(edge, lambda xy: xy / np.array([ratio, 1.0]))
    return float(shapely.distance(shapely.Point(0.0, 0.0), squeezed))


def _area(edge: BaseGeometry, ratio: float) -> float:
    return ratio * _radius_m(edge, ratio) ** 2


def best_aim(
    patch: BaseGeometry, aim_m: tuple[float, float], error_m: float
) -> tuple[float, float]:
    """Where to aim near a place so that the patch is hit most often. (east, north) [m]

    Climbed to from the place, by steps that end at a twentieth of the error.
    """
    best, share, step_m = aim_m, hit_share(patch, aim_m, error_m), 0.8 * error_m
    while step_m > 0.05 * error_m:
        around = [
            (best[0] + step_m * math.sin(turn), best[1] + step_m * math.cos(turn))
            for turn in np.arange(8) * (0.25 * math.pi)
        ]
        shares = [hit_share(patch, one, error_m) for one in around]
        if max(shares) > share + 1e-6:
            best, share = around[int(np.argmax(shares))], max(shares)
        else:
            step_m *= 0.5
    return best
