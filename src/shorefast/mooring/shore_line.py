"""A line ashore: with its weight, stretch and sag; the water carries it, or it sinks."""

from __future__ import annotations

import math

import numpy as np

from shorefast.compiled import lean_kernel
from shorefast.errors import BadInput
from shorefast.mooring.shapes import Pieces, ShoreLineForm, ShoreRope, stacked_curves
from shorefast.mooring.span import (
    LEAST_PULL_N,
    bent_to_surface,
    follow,
    span_to,
    stretch_at,
    to_surface,
)

_MOST_N = 1e9
_FLAT_M = 1e-12


@lean_kernel
def in_air(
    line: Pieces, h_n: float, v_n: float, length_m: float, wide: bool
) -> tuple[float, float, float]:
    """Across, up and vertical pull at the end of a length that hangs all in air."""
    return follow(line, (0.0, 0.0, h_n, v_n), length_m, -math.inf, wide)


@lean_kernel
def hanging_length(h_n: float, line: Pieces, rise_m: float) -> float:
    """Unstretched length that hangs from the water, flat there, up to ``rise_m``."""
    if rise_m <= _FLAT_M:
        return 0.0
    w_npm = line.air_npm[0]
    length_m = math.sqrt(rise_m * rise_m + 2.0 * rise_m * h_n / w_npm)
    for _ in range(50):
        _, up_m, v_n = in_air(line, h_n, 0.0, length_m, False)
        t_n = math.sqrt(h_n * h_n + v_n * v_n)
        slope = (1.0 + stretch_at(line, 0, t_n)) * v_n / t_n
        step_m = (up_m - rise_m) / slope
        length_m = max(0.5 * length_m, length_m - step_m)
        if abs(step_m) < 1e-13 * (1.0 + length_m):
            break
    return length_m


@lean_kernel
def start_pull(h_n: float, line: Pieces, rise_m: float) -> float:
    """Vertical pull at the cleat of a line hanging free in air, from cleat up to shore."""
    w_npm, length_m = line.air_npm[0], line.cum[0]
    low, high = -h_n - w_npm * length_m, h_n
    while in_air(line, h_n, low, length_m, False)[1] > rise_m:
        low *= 4.0
    while in_air(line, h_n, high, length_m, False)[1] < rise_m:
        high *= 4.0
    v_n = -0.5 * w_npm * length_m + h_n * rise_m / length_m
    for _ in range(80):
        if not low < v_n < high:
            v_n = 0.5 * (low + high)
        _, up_m, v1_n = in_air(line, h_n, v_n, length_m, False)
        if up_m > rise_m:
            high = v_n
        else:
            low = v_n
        r0_n = math.sqrt(h_n * h_n + v_n * v_n)
        r1_n = math.sqrt(h_n * h_n + v1_n * v1_n)
        both = r0_n + r1_n
        slope = length_m * (2.0 - (v_n + v1_n) * (v_n / r0_n + v1_n / r1_n) / both) / both
        step_n = (up_m - rise_m) / (slope + 2.0 * length_m * stretch_at(line, 0, 0.5 * both) / both)
        v_n -= step_n
        if abs(step_n) < 1e-13 * (abs(v_n) + h_n):
            break
    return float(v_n)


@lean_kernel
def sunk_pull(h_n: float, line: Pieces, cleat_m: float, shore_m: float, dry_n: float) -> float:
    """Vertical pull at the cleat of a line of which a part hangs under water.

    dry_n : what it would be if all hung in air. Water takes weight off, so that the line
    leaves the cleat less steeply, by no more than all the weight it can take.
    """
    end_m, rise_m = line.cum[0], shore_m - cleat_m
    low, high = dry_n, dry_n + (line.air_npm[0] - line.weight_npm[0]) * end_m
    f_low = follow(line, (0.0, cleat_m, h_n, low), end_m, 0.0, False)[1] - rise_m
    f_high = follow(line, (0.0, cleat_m, h_n, high), end_m, 0.0, False)[1] - rise_m
    if f_low >= 0.0:
        return float(low)
    v_n, side = high, 0
    for _ in range(200):
        v_n = (low * f_high - high * f_low) / (f_high - f_low)
        if not low < v_n < high:
            v_n = 0.5 * (low + high)
        f = follow(line, (0.0, cleat_m, h_n, v_n), end_m, 0.0, False)[1] - rise_m
        if abs(f) < 1e-13 or high - low < 1e-15 * (abs(v_n) + h_n):
            break
        if f < 0.0:
            f_high = 0.5 * f_high if side == -1 else f_high
            low, f_low, side = v_n, f, -1
        else:
            f_low = 0.5 * f_low if side == 1 else f_low
            high, f_high, side = v_n, f, 1
    return float(v_n)


@lean_kernel
def lowest_of(h_n: float, v_n: float, line: Pieces, cleat_m: float, shore_m: float) -> float:
    """Lowest height above the water of a line hanging free in air."""
    w_npm, length_m = line.air_npm[0], line.cum[0]
    if not v_n < 0.0 < v_n + w_npm * length_m:
        return min(cleat_m, shore_m)
    _, down_m, _ = in_air(line, h_n, v_n, -v_n / w_npm, False)
    return cleat_m + down_m


@lean_kernel
def cut_of(
    line: Pieces, v_n: float, span: tuple[float, float, float], rise_m: float, wet: bool
) -> float:
    """Length to where the line goes through the surface, at most the span's own.

    span : level pull, weight a metre, length.
    """
    h_n, w_npm, length_m = span
    ea_n = line.stiffness_n[0]
    if line.curve[0, 2, 0] > 0.0:
        whole = (h_n, v_n, w_npm, length_m)
        return min(length_m, bent_to_surface(line.curve, 0, ea_n, whole, rise_m, wet))
    return min(length_m, to_surface(h_n, v_n, length_m, w_npm, ea_n, rise_m, wet))


@lean_kernel
def under_water(h_n: float, v_n: float, line: Pieces, cleat_m: float) -> tuple[float, float]:
    """How much of a sunk line is under water, and its lowest height above it (negative)."""
    w_npm, wet_npm, length_m = line.air_npm[0], line.weight_npm[0], line.cum[0]
    down_m = cut_of(line, v_n, (h_n, w_npm, length_m), -cleat_m, False)
    v_n += w_npm * down_m
    left_m = length_m - down_m
    _, lowest_m, _ = span_to(line, h_n, v_n, 0.0, min(left_m, max(0.0, -v_n / wet_npm)))
    return cut_of(line, v_n, (h_n, wet_npm, left_m), 0.0, True), lowest_m


@lean_kernel
def afloat(
    h_n: float, line: Pieces, at_cleat_m: float, at_shore_m: float
) -> tuple[float, float, float, float]:
    """``reach`` of a line whose middle the water carries, hanging at both ends."""
    x0_m, _, v0_n = in_air(line, h_n, 0.0, at_cleat_m, True)
    x1_m, _, v1_n = in_air(line, h_n, 0.0, at_shore_m, True)
    floats_m = line.cum[0] - at_cleat_m - at_shore_m
    return (
        x0_m + x1_m + floats_m * (1.0 + stretch_at(line, 0, h_n)),
        -v0_n,
        v1_n,
        floats_m,
    )


@lean_kernel
def reach(
    h_n: float, line: Pieces, cleat_m: float, shore_m: float
) -> tuple[float, float, float, float]:
    """Distance spanned under a level pull, by a line in air with water below.

    A line that weighs nothing in water lies on it; any other hangs through it.
    Returns the distance, the vertical pull at the cleat (up along the line, so
    negative where the line hangs down from it) and at the shore, the length on the
    water.
    """
    sinks = line.weight_npm[0] > 0.0
    if not sinks:
        at_cleat_m = hanging_length(h_n, line, cleat_m)
        at_shore_m = hanging_length(h_n, line, shore_m)
        if at_cleat_m + at_shore_m < line.cum[0]:
            return afloat(h_n, line, at_cleat_m, at_shore_m)
    v_n = start_pull(h_n, line, shore_m - cleat_m)
    if sinks and lowest_of(h_n, v_n, line, cleat_m, shore_m) < 0.0:
        v_n = sunk_pull(h_n, line, cleat_m, shore_m, v_n)
        x_m, _, v1_n = follow(line, (0.0, cleat_m, h_n, v_n), line.cum[0], 0.0, True)
        return x_m, v_n, v1_n, 0.0
    x_m, _, v1_n = in_air(line, h_n, v_n, line.cum[0], True)
    return x_m, v_n, v1_n, 0.0


@lean_kernel
def lies_at(h_n: float, line: Pieces, cleat_m: float, shore_m: float) -> tuple[float, float]:
    """Length under water, and the lowest height above it, under a level pull."""
    _, v_n, _, floats_m = reach(h_n, line, cleat_m, shore_m)
    if floats_m > 0.0:
        return 0.0, min(0.0, cleat_m, shore_m)
    dry_n = start_pull(h_n, line, shore_m - cleat_m)
    lowest_m = lowest_of(h_n, dry_n, line, cleat_m, shore_m)
    if line.weight_npm[0] > 0.0 and lowest_m < 0.0:
        return under_water(h_n, v_n, line, cleat_m)
    return 0.0, lowest_m


@lean_kernel
def pull_at(x_m: float, line: Pieces, cleat_m: float, shore_m: float) -> float:
    """Level pull at a distance; 0 where the line is slack."""
    low, high = LEAST_PULL_N, line.air_npm[0] * line.cum[0]
    if reach(low, line, cleat_m, shore_m)[0] >= x_m:
        return 0.0
    while reach(high, line, cleat_m, shore_m)[0] < x_m:
        low = high
        high *= 4.0
        if high > _MOST_N:
            return math.nan
    f_low = reach(low, line, cleat_m, shore_m)[0] - x_m
    f_high = reach(high, line, cleat_m, shore_m)[0] - x_m
    side = 0
    h_n = high
    for _ in range(200):
        h_n = (low * f_high - high * f_low) / (f_high - f_low)
        if not low < h_n < high:
            h_n = 0.5 * (low + high)
        f = reach(h_n, line, cleat_m, shore_m)[0] - x_m
        if abs(f) < 1e-13 or high - low < 1e-14 * high:
            break
        if f < 0.0:
            f_high = 0.5 * f_high if side == -1 else f_high
            low, f_low, side = h_n, f, -1
        else:
            f_low = 0.5 * f_low if side == 1 else f_low
            high, f_high, side = h_n, f, 1
    return float(h_n)


def _line_of(rope: ShoreRope) -> Pieces:
    """The kernels' form of a rope ashore, checked."""
    for name, value in zip(("length", "weight", "stiffness"), rope[:3], strict=True):
        if not (math.isfinite(value) and value > 0.0):
            raise BadInput("Shore line", f"{name} {value:g}", "more than 0 wanted", "Correct it.")
    return Pieces(
        np.array([rope.length_m]),
        np.array([rope.wet_npm]),
        np.array([rope.axial_stiffness_n]),
        np.array([rope.weight_npm]),
        stacked_curves((rope.curve,)),
        0.0,
    )


def shore_line_at_distance(
    rope: ShoreRope, cleat_height_m: float, shore_height_m: float, distance_m: float
) -> ShoreLineForm:
    """A line ashore at a level distance between cleat and point.

    Elastic catenary in air. A line that floats is carried by the water where it sags to
    it, without friction; one that sinks hangs on under water with its weight there.
    Wind on the line, drift of its floating part, and the bed under a slack line that
    sinks are left out.

    Parameters
    ----------
    rope : ShoreRope
        Unstretched length cleat to point, weight in air and in water, stretch.
    cleat_height_m, shore_height_m : float
        Above the water now; a drowned end counts as lying at the water. [m]
    distance_m : float
        Level distance. [m]

    Returns
    -------
    ShoreLineForm
        All pulls 0 at or inside the slack distance.

    Raises
    ------
    BadInput
        For a length, weight or stiffness that is not positive.

    Source
    ------
    irvine-1981, ch. 1.
    """
    at = (_line_of(rope), cleat_height_m, shore_height_m)
    slack_m = reach(LEAST_PULL_N, *at)[0]
    h_n = pull_at(distance_m, *at)
    if h_n == 0.0:
        nan = math.nan
        return ShoreLineForm(distance_m, 0, 0, 0, 0, nan, nan, nan, True, 0.0, slack_m)
    _, v0_n, v1_n, floats_m = reach(h_n, *at)
    in_water_m, lowest_m = lies_at(h_n, *at)
    step_n = 1e-6 * h_n
    gain_m = reach(h_n + step_n, *at)[0] - reach(h_n - step_n, *at)[0]
    return ShoreLineForm(
        distance_m=distance_m,
        pull_n=h_n,
        cleat_tension_n=math.hypot(h_n, v0_n),
        shore_tension_n=math.hypot(h_n, v1_n),
        cleat_down_n=-v0_n,
        angle_rad=math.atan2(-v0_n, h_n),
        on_water_m=floats_m,
        lowest_above_water_m=lowest_m,
        slack=False,
        stiffness_npm=2.0 * step_n / gain_m,
        slack_distance_m=slack_m,
        in_water_m=in_water_m,
    )
