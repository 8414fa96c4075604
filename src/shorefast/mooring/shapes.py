"""The plain shapes the statics work on: line pieces, a bed, what comes out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


class LineSegments(NamedTuple):
    """Pieces of a rode from the anchor to the bow, arrays of shape (piece,).

    length_m unstretched [m]; weight_npm per unstretched metre, in water [N/m];
    axial_stiffness_n, EA where there is no pull [N].
    air_npm : weight above the water [N/m]; None: one weight everywhere.
    roller_m : the roller's height above the water; asked only beside air_npm. [m]
    curves : of each piece None (EA at every pull) or an array (3, knot): tension [N],
    extension and slope [N] at the knots, between which the slope goes straight.
    """

    length_m: Floats
    weight_npm: Floats
    axial_stiffness_n: Floats
    air_npm: Floats | None = None
    roller_m: float = 0.0
    curves: tuple[Floats | None, ...] | None = None


class BedLine(NamedTuple):
    """A piecewise straight bed, arrays of shape (corner,); end pieces go on for ever.

    along_m from the anchor toward the bow, rising [m]; level_m up [m].
    """

    along_m: Floats
    level_m: Floats


class ShoreRope(NamedTuple):
    """A rope ashore: unstretched length [m], weight in air [N/m], EA at no pull [N].

    wet_npm : weight in water; 0: the water carries it. [N/m]
    curve : as one of ``LineSegments.curves``.
    """

    length_m: float
    weight_npm: float
    axial_stiffness_n: float
    wet_npm: float = 0.0
    curve: Floats | None = None


class Pieces(NamedTuple):
    """A line as the kernels take it, arrays (piece,).

    cum : lengths summed from the anchor [m]; weight_npm in water, air_npm above it [N/m]
    stiffness_n : EA where there is no pull [N]
    curve : array (piece, 3, knot), tension [N], extension, slope [N]; 0 where EA is all
    roller_m : the end's height above the water [m]; minus infinity: all is water
    """

    cum: Floats
    weight_npm: Floats
    stiffness_n: Floats
    air_npm: Floats
    curve: Floats
    roller_m: float


class Bed(NamedTuple):
    """A bed as the kernels take it: corners, slope (tangent) of each piece, its asinh.

    steepest : array (piece,), the greatest slope from each piece on.
    """

    x_m: Floats
    z_m: Floats
    slope: Floats
    asinh_slope: Floats
    steepest: Floats
    friction: float


def stacked_curves(curves: Sequence[Floats | None]) -> Floats:
    """Curves of pieces as one array (piece, 3, knot); all 0 for a piece without one."""
    known = [np.asarray(curve, float) for curve in curves if curve is not None]
    out = np.zeros((len(curves), 3, max((curve.shape[1] for curve in known), default=1)))
    for i, curve in enumerate(curves):
        if curve is not None:
            count = curve.shape[1]
            out[i, :, :count] = curve
            # a curve of fewer knots goes on straight
            past = np.arange(1.0, out.shape[2] - count + 1.0)
            out[i, 0, count:] = curve[0, -1] * (1.0 + past)
            out[i, 1, count:] = curve[1, -1] + curve[0, -1] * past / curve[2, -1]
            out[i, 2, count:] = curve[2, -1]
    return out


def pieces_joined(all_segments: Sequence[LineSegments]) -> tuple[Floats, Floats, Floats]:
    """EA, weight above the water, and curves of the pieces of lines, end to end."""
    stiffness = [np.asarray(one.axial_stiffness_n, float) for one in all_segments]
    air = [
        np.asarray(one.weight_npm if one.air_npm is None else one.air_npm, float)
        for one in all_segments
    ]
    curves = [curve for one in all_segments for curve in one.curves or (None,) * len(one.length_m)]
    if not all_segments:
        return np.empty(0), np.empty(0), np.zeros((0, 3, 1))
    return np.concatenate(stiffness), np.concatenate(air), stacked_curves(curves)


@dataclass(frozen=True)
class RodeForm:
    """A rode in balance. NaN where the state has none.

    distance_m : anchor to roller, level. [m]
    pull_n, down_n, tension_n : level pull, downward pull and tension at the roller. [N]
    anchor_tension_n : at the shank, after the bed's friction. [N]
    angle_rad : below the horizontal at the roller. [rad]
    anchor_angle_rad, uplift_rad : at the shank, above horizontal and above the bed. [rad]
    on_bottom_m, zero_tension_m, bridged_m : unstretched lengths. [m]
    bridged_spans : how many spans hang between two touches of the bed.
    touchdown_m : how far from the anchor the last touch is. [m]
    stiffness_npm : pull gained a metre of distance. [N/m]
    slack_distance_m : at or below it there is no pull. [m]
    """

    distance_m: float
    pull_n: float
    down_n: float
    tension_n: float
    anchor_tension_n: float
    angle_rad: float
    anchor_angle_rad: float
    uplift_rad: float
    on_bottom_m: float
    zero_tension_m: float
    bridged_spans: int
    bridged_m: float
    touchdown_m: float
    stiffness_npm: float
    slack_distance_m: float


@dataclass(frozen=True)
class ShoreLineForm:
    """A line ashore in balance; all pulls 0 where it is slack.

    pull_n level pull; cleat_tension_n, shore_tension_n at its ends [N];
    cleat_down_n downward pull on the cleat [N]; angle_rad below horizontal at
    the cleat [rad]; on_water_m what floats [m]; lowest_above_water_m [m];
    stiffness_npm [N/m]; slack_distance_m [m]; in_water_m what hangs under water [m].
    """

    distance_m: float
    pull_n: float
    cleat_tension_n: float
    shore_tension_n: float
    cleat_down_n: float
    angle_rad: float
    on_water_m: float
    lowest_above_water_m: float
    slack: bool
    stiffness_npm: float
    slack_distance_m: float
    in_water_m: float = 0.0
