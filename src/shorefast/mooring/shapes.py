"""The plain shapes the statics work on: line pieces, a bed, what comes out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


class LineSegments(NamedTuple):
    """Pieces of a rode from the anchor to the bow, arrays of shape (piece,).

    length_m unstretched [m]; weight_npm per unstretched metre, in water [N/m];
    axial_stiffness_n, EA [N].
    """

    length_m: Floats
    weight_npm: Floats
    axial_stiffness_n: Floats


class BedLine(NamedTuple):
    """A piecewise straight bed, arrays of shape (corner,); end pieces go on for ever.

    along_m from the anchor toward the bow, rising [m]; level_m up [m].
    """

    along_m: Floats
    level_m: Floats


class ShoreRope(NamedTuple):
    """A rope ashore: unstretched length [m], weight in air [N/m], EA [N]."""

    length_m: float
    weight_npm: float
    axial_stiffness_n: float


class Pieces(NamedTuple):
    """A line as the kernels take it: lengths summed from the anchor, weights, EA."""

    cum: Floats
    weight_npm: Floats
    stiffness_n: Floats


class Bed(NamedTuple):
    """A bed as the kernels take it: corners, slope (tangent) of each piece, its asinh."""

    x_m: Floats
    z_m: Floats
    slope: Floats
    asinh_slope: Floats
    friction: float


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
    stiffness_npm [N/m]; slack_distance_m [m].
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
