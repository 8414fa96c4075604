"""A line ashore: elastic, with its weight and sag, carried by the water where it meets it."""

from __future__ import annotations

import math

from shorefast.compiled import kernel
from shorefast.errors import BadInput
from shorefast.mooring.shapes import ShoreLineForm, ShoreRope
from shorefast.mooring.span import LEAST_PULL_N, hang

_MOST_N = 1e9


@kernel
def hanging_length(h_n: float, w_npm: float, ea_n: float, rise_m: float) -> float:
    """Unstretched length that hangs from the water, flat there, up to ``rise_m``."""
    if rise_m <= 0.0:
        return 0.0
    length_m = math.sqrt(rise_m * rise_m + 2.0 * rise_m * h_n / w_npm)
    for _ in range(50):
        _, up_m, v_n = hang(h_n, 0.0, length_m, w_npm, ea_n)
        slope = v_n / math.sqrt(h_n * h_n + v_n * v_n) + v_n / ea_n
        step_m = (up_m - rise_m) / slope
        length_m = max(0.5 * length_m, length_m - step_m)
        if abs(step_m) < 1e-13 * (1.0 + length_m):
            break
    return length_m


@kernel
def start_pull(h_n: float, length_m: float, w_npm: float, ea_n: float, rise_m: float) -> float:
    """Vertical pull at the cleat of a line hanging free, from cleat up to shore."""
    low, high = -h_n - w_npm * length_m, h_n
    while hang(h_n, low, length_m, w_npm, ea_n)[1] > rise_m:
        low *= 4.0
    while hang(h_n, high, length_m, w_npm, ea_n)[1] < rise_m:
        high *= 4.0
    v_n = -0.5 * w_npm * length_m + h_n * rise_m / length_m
    for _ in range(80):
        if not low < v_n < high:
            v_n = 0.5 * (low + high)
        _, up_m, v1_n = hang(h_n, v_n, length_m, w_npm, ea_n)
        if up_m > rise_m:
            high = v_n
        else:
            low = v_n
        r0_n = math.sqrt(h_n * h_n + v_n * v_n)
        r1_n = math.sqrt(h_n * h_n + v1_n * v1_n)
        both = r0_n + r1_n
        slope = length_m * (2.0 - (v_n + v1_n) * (v_n / r0_n + v1_n / r1_n) / both) / both
        step_n = (up_m - rise_m) / (slope + length_m / ea_n)
        v_n -= step_n
        if abs(step_n) < 1e-13 * (abs(v_n) + h_n):
            break
    return v_n


@kernel
def reach(
    h_n: float, length_m: float, w_npm: float, ea_n: float, cleat_m: float, shore_m: float
) -> tuple[float, float, float, float, float]:
    """Distance spanned under a level pull, by a line in air with water below.

    Returns the distance, the vertical pull at the cleat (up along the line, so
    negative where the line hangs down from it) and at the shore, the length on the
    water, the lowest height above it.
    """
    at_cleat_m = hanging_length(h_n, w_npm, ea_n, cleat_m)
    at_shore_m = hanging_length(h_n, w_npm, ea_n, shore_m)
    floats_m = length_m - at_cleat_m - at_shore_m
    if floats_m > 0.0:
        x0_m, _, v0_n = hang(h_n, 0.0, at_cleat_m, w_npm, ea_n)
        x1_m, _, v1_n = hang(h_n, 0.0, at_shore_m, w_npm, ea_n)
        x0_m = x0_m if at_cleat_m > 0.0 else 0.0
        x1_m = x1_m if at_shore_m > 0.0 else 0.0
        lowest_m = min(0.0, cleat_m, shore_m)
        return x0_m + x1_m + floats_m * (1.0 + h_n / ea_n), -v0_n, v1_n, floats_m, lowest_m
    v_n = start_pull(h_n, length_m, w_npm, ea_n, shore_m - cleat_m)
    x_m, _, v1_n = hang(h_n, v_n, length_m, w_npm, ea_n)
    lowest_m = min(cleat_m, shore_m)
    if v_n < 0.0 < v1_n:
        _, down_m, _ = hang(h_n, v_n, -v_n / w_npm, w_npm, ea_n)
        lowest_m = cleat_m + down_m
    return x_m, v_n, v1_n, 0.0, lowest_m


@kernel
def pull_at(
    x_m: float, length_m: float, w_npm: float, ea_n: float, cleat_m: float, shore_m: float
) -> float:
    """Level pull at a distance; 0 where the line is slack."""
    low, high = LEAST_PULL_N, w_npm * length_m
    if reach(low, length_m, w_npm, ea_n, cleat_m, shore_m)[0] >= x_m:
        return 0.0
    while reach(high, length_m, w_npm, ea_n, cleat_m, shore_m)[0] < x_m:
        low = high
        high *= 4.0
        if high > _MOST_N:
            return math.nan
    f_low = reach(low, length_m, w_npm, ea_n, cleat_m, shore_m)[0] - x_m
    f_high = reach(high, length_m, w_npm, ea_n, cleat_m, shore_m)[0] - x_m
    side = 0
    h_n = high
    for _ in range(200):
        h_n = (low * f_high - high * f_low) / (f_high - f_low)
        if not low < h_n < high:
            h_n = 0.5 * (low + high)
        f = reach(h_n, length_m, w_npm, ea_n, cleat_m, shore_m)[0] - x_m
        if abs(f) < 1e-13 or high - low < 1e-14 * high:
            break
        if f < 0.0:
            f_high = 0.5 * f_high if side == -1 else f_high
            low, f_low, side = h_n, f, -1
        else:
            f_low = 0.5 * f_low if side == 1 else f_low
            high, f_high, side = h_n, f, 1
    return h_n


def shore_line_at_distance(
    rope: ShoreRope, cleat_height_m: float, shore_height_m: float, distance_m: float
) -> ShoreLineForm:
    """A line ashore at a level distance between cleat and point.

    Elastic catenary in air; where it sags to the water, the water carries it
    without friction. Wind on the line and drift of its floating part are left out.

    Parameters
    ----------
    rope : ShoreRope
        Unstretched length cleat to point, weight in air, EA.
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
    for name, value in zip(("length", "weight", "stiffness"), rope, strict=True):
        if not (math.isfinite(value) and value > 0.0):
            raise BadInput("Shore line", f"{name} {value:g}", "more than 0 wanted", "Correct it.")
    line = (*rope, cleat_height_m, shore_height_m)
    slack_m = reach(LEAST_PULL_N, *line)[0]
    h_n = pull_at(distance_m, *line)
    if h_n == 0.0:
        nan = math.nan
        return ShoreLineForm(distance_m, 0, 0, 0, 0, nan, nan, nan, True, 0.0, slack_m)
    _, v0_n, v1_n, floats_m, lowest_m = reach(h_n, *line)
    step_n = 1e-6 * h_n
    gain_m = reach(h_n + step_n, *line)[0] - reach(h_n - step_n, *line)[0]
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
    )
