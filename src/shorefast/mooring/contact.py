"""A line lying on a broken bed: where it lies, turns, hangs between, and lets go.

The line is followed from the anchor toward the bow as a row of *stretches*: it
lies along a straight piece of bed (tension grows by weight and friction), turns
over a convex corner (tension grows as round a bollard), or hangs between two
touches. Any place on that row can be where the line finally lets go of the bed
and hangs to the bow; the later it lets go, the lower its end comes. So one search
along the row finds the place where the end meets the roller, and one search back
along it finds where a hanging span must begin so as to clear the bed.

The anchor itself is the first corner, without friction: a line lifted at the
shank lets go there, at any angle between the bed and plumb.

Source
------
jonkman-2007, app. B for contact and friction on a level bed; capstan law for the
corners (common textbook form); the rest is derived here.
"""

from __future__ import annotations

import math

import numpy as np

from shorefast.compiled import kernel, lean_kernel
from shorefast.mooring.shapes import Bed, Floats, Pieces
from shorefast.mooring.span import (
    LEAST_PULL_N,
    extension,
    follow,
    length_to_across,
    length_to_slope,
    piece_at,
    rise_of_hang,
    span_to,
)

# columns of the row of stretches
KIND, PIECE, X, Z, S, T, THETA, EXTENT, GROWTH, STIFF, FIRST, COSINE, SINE = range(13)
COLUMNS = 13
# kinds of stretch
LIES, TURNS, HANGS, IDLE = 0.0, 1.0, 2.0, 3.0
CLEAR_M = 1e-9
_LEAST_CHORD_N = 1.0
WELL_BELOW_M = 0.3
_MOST_STRETCH = 0.5


@kernel
def bed_through(x_m: Floats, z_m: Floats, friction: float) -> Bed:
    """The bed through corners (corner,) in order along it."""
    slope = np.diff(z_m) / np.diff(x_m)
    steepest = slope.copy()
    for j in range(slope.shape[0] - 2, -1, -1):
        steepest[j] = max(slope[j], steepest[j + 1])
    return Bed(x_m, z_m, slope, np.arcsinh(slope), steepest, friction)


@lean_kernel
def state_at(row: Floats, e: int, u: float) -> tuple[float, float, float, float, float, float]:
    """Place, unstretched length, tension, and cosine and sine of the angle ``u`` into ``e``."""
    if row[e, KIND] == TURNS:
        theta, t_n = row[e, THETA] - u, row[e, T] * math.exp(row[e, GROWTH] * u)
        return row[e, X], row[e, Z], row[e, S], t_n, math.cos(theta), math.sin(theta)
    t_n = max(0.0, row[e, T] + row[e, GROWTH] * u)
    xi_m = u * (1.0 + row[e, FIRST])
    xi_m += (row[e, T] * u + 0.5 * row[e, GROWTH] * u * u) / row[e, STIFF]
    cosine, sine = row[e, COSINE], row[e, SINE]
    return row[e, X] + xi_m * cosine, row[e, Z] + xi_m * sine, row[e, S] + u, t_n, cosine, sine


@lean_kernel
def pulls_at(row: Floats, e: int, u: float) -> tuple[float, float, float, float, float]:
    """Place, unstretched length, level and vertical pull of a line let go at ``u``."""
    x_m, z_m, s_m, t_n, cosine, sine = state_at(row, e, u)
    return x_m, z_m, s_m, max(LEAST_PULL_N, t_n * cosine), t_n * sine


@lean_kernel
def end_above(line: Pieces, row: Floats, e: int, u: float, bow_m: float) -> float:
    """How far the end of a line that lets go at ``u`` comes above the roller. [m]"""
    _, z_m, s_m, h_n, v_n = pulls_at(row, e, u)
    at = (s_m, z_m, h_n, v_n)
    _, up_m, _ = follow(line, at, line.cum[-1], bow_m - line.roller_m, False)
    return z_m + up_m - bow_m


@lean_kernel
def ends_below(line: Pieces, row: Floats, e: int, bow_m: float) -> bool:
    """Whether a line that lets go at the end of stretch ``e`` ends below the roller."""
    u = row[e, EXTENT]
    _, z_m, s_m, h_n, v_n = pulls_at(row, e, u)
    # stretched, and dry at its end, it would only come higher, but for where it dips first
    i, up_m = piece_at(line.cum, s_m), z_m - bow_m
    if v_n < 0.0:
        up_m -= _MOST_STRETCH * (math.sqrt(h_n * h_n + v_n * v_n) - h_n) / line.weight_npm[i]
    while i < line.cum.shape[0]:
        length_m, w_npm = line.cum[i] - s_m, line.weight_npm[i]
        up_m += rise_of_hang(h_n, v_n, length_m, w_npm, math.inf)
        v_n += w_npm * length_m
        s_m = line.cum[i]
        i += 1
        if up_m >= 0.0 and v_n >= 0.0:
            return False
    return end_above(line, row, e, u, bow_m) < 0.0


@lean_kernel
def may_touch(
    line: Pieces,
    bed: Bed,
    j: int,
    at: tuple[float, float, float, float],
    first_asinh: float,
    most: float,
) -> bool:
    """Whether a span may come down to the slope of piece ``j`` while it is over it.

    at: x, unstretched length, level and vertical pull where the span begins, and the
    asinh of its slope there; most: what it stretches. A quick look that errs only toward yes.
    """
    x_m, s_m, h_n, v_n = at
    if h_n * bed.slope[j] <= v_n:
        return False
    i = piece_at(line.cum, s_m)
    w_npm = line.weight_npm[i]
    if h_n * bed.slope[j] - v_n > w_npm * (line.cum[i] - s_m):
        convex = j < bed.slope.shape[0] - 1 and bed.slope[j + 1] < bed.slope[j]
        return bool(convex or i < line.cum.shape[0] - 1)
    run_m = (h_n / w_npm) * (bed.asinh_slope[j] - first_asinh)
    margin_m = 0.05 + 0.02 * run_m
    if x_m + run_m + 0.05 + most * run_m < bed.x_m[j]:
        return False
    last = j == bed.slope.shape[0] - 1
    if last or x_m + run_m - margin_m <= bed.x_m[j + 1]:
        return True
    if bed.slope[j + 1] >= bed.slope[j]:
        return False
    back_m = (h_n / w_npm) * (bed.asinh_slope[j + 1] - first_asinh)
    return bool(x_m + back_m - 0.05 - most * abs(back_m) <= bed.x_m[j + 1])


@lean_kernel
def last_touch(
    line: Pieces, steepest: float, s_m: float, h_n: float, v_n: float
) -> tuple[float, float]:
    """How far ahead a span may yet touch, and the most it stretches on its way there.

    Farther on it is steeper than any of the bed ahead; inf if it nowhere is.
    """
    steep_n = h_n * steepest
    there_m = length_to_slope(line, v_n, steep_n, s_m)
    most_n, most = max(abs(v_n), abs(steep_n)), 0.02
    for i in range(piece_at(line.cum, s_m), line.cum.shape[0]):
        if i > 0 and line.cum[i - 1] > there_m:
            break
        if line.curve[i, 2, 0] > 0.0:
            t_n = math.sqrt(h_n * h_n + most_n * most_n)
            most = max(most, 0.02 + extension(line.curve, i, t_n))
    return max(0.0, there_m - s_m) * (1.0 + most) + 0.1, most


@lean_kernel
def over_piece(
    line: Pieces, bed: Bed, j: int, at: tuple[float, float, float, float], z_m: float
) -> tuple[float, bool, float]:
    """Least height of a span over piece ``j`` or the corner at its far end.

    Returns the height (inf if it has no least one here), whether it is at the corner,
    and the unstretched length there.
    """
    x_m, s_m, h_n, v_n = at
    last = j == bed.slope.shape[0] - 1
    s_tangent_m = length_to_slope(line, v_n, h_n * bed.slope[j], s_m)
    if s_tangent_m <= line.cum[-1]:
        dx_m, dz_m, _ = span_to(line, h_n, v_n, s_m, s_tangent_m)
        if x_m + dx_m < bed.x_m[j]:
            return math.inf, False, 0.0
        if last or x_m + dx_m <= bed.x_m[j + 1]:
            bed_m = bed.z_m[j] + bed.slope[j] * (x_m + dx_m - bed.x_m[j])
            return z_m + dz_m - bed_m, False, s_tangent_m
    if last or bed.slope[j + 1] >= bed.slope[j]:
        return math.inf, False, 0.0
    # past the end of a piece that falls away behind it: the corner itself
    over_m = z_m + (bed.x_m[j + 1] - x_m) * (v_n / h_n) - bed.z_m[j + 1]
    if over_m > WELL_BELOW_M:
        return math.inf, False, 0.0
    s_corner_m = length_to_across(line, h_n, v_n, s_m, bed.x_m[j + 1] - x_m)
    if s_corner_m > line.cum[-1]:
        return math.inf, False, 0.0
    _, dz_m, v1_n = span_to(line, h_n, v_n, s_m, s_corner_m)
    if v1_n < h_n * bed.slope[j + 1]:
        return math.inf, False, 0.0
    return z_m + dz_m - bed.z_m[j + 1], True, s_corner_m


@lean_kernel
def clearance(
    line: Pieces, bed: Bed, row: Floats, e: int, u: float
) -> tuple[float, int, bool, float]:
    """Least height of a line let go at ``u`` over the bed ahead of it.

    Returns the height (inf if nothing ahead can be touched), the piece of bed or
    corner it is over, whether that is a corner, and the unstretched length there.
    """
    x_m, z_m, s_m, h_n, v_n = pulls_at(row, e, u)
    at = (x_m, s_m, h_n, v_n)
    if row[e, KIND] == TURNS:
        first_asinh = math.asinh(v_n / h_n)
    else:
        first_asinh = bed.asinh_slope[int(row[e, PIECE])]
    least_m, where, corner, s_touch_m = math.inf, -1, False, 0.0
    first = int(row[e, PIECE]) + 1
    if first >= bed.slope.shape[0]:
        return least_m, where, corner, s_touch_m
    ahead_m, most = last_touch(line, bed.steepest[first], s_m, h_n, v_n)
    if math.isinf(ahead_m):
        ahead_m, _, _ = span_to(line, h_n, v_n, s_m, line.cum[-1])
    i = piece_at(line.cum, s_m)
    w_npm = line.weight_npm[i]
    within_n, run_most_m = w_npm * (line.cum[i] - s_m), (1.0 + most) * h_n / w_npm
    for j in range(first, bed.slope.shape[0]):
        if bed.x_m[j] > x_m + ahead_m:
            break
        # most of the bed is passed over here, without a call
        more_n = h_n * bed.slope[j] - v_n
        if more_n <= 0.0:
            continue
        run_m = run_most_m * (bed.asinh_slope[j] - first_asinh)
        if more_n <= within_n and x_m + run_m + 0.05 < bed.x_m[j]:
            continue
        if not may_touch(line, bed, j, at, first_asinh, most):
            continue
        height_m, at_corner, s_here_m = over_piece(line, bed, j, at, z_m)
        if height_m < least_m:
            least_m, where, corner, s_touch_m = height_m, j, at_corner, s_here_m
    return least_m, where, corner, s_touch_m


@lean_kernel
def clear_from(line: Pieces, bed: Bed, row: Floats, e: int) -> int:
    """The last stretch, at or before ``e``, from whose beginning a span clears the bed."""
    while e >= 0:
        if row[e, KIND] == LIES or row[e, KIND] == TURNS:
            clear_m, _, _, _ = clearance(line, bed, row, e, 0.0)
            if clear_m >= 0.0:
                return e
        e -= 1
    return -1


@lean_kernel
def between(low: float, c_low: float, high: float, c_high: float) -> float:
    """Where a straight line through two heights crosses nothing, else their middle."""
    if math.isinf(c_low):
        return 0.5 * (low + high)
    mid = (low * c_high - high * c_low) / (c_high - c_low)
    return mid if low < mid < high else 0.5 * (low + high)


@lean_kernel
def just_clear(line: Pieces, bed: Bed, row: Floats, e: int, high: float) -> float:
    """Place before ``high`` of stretch ``e`` from which a span just touches the bed ahead."""
    c_low, _, _, _ = clearance(line, bed, row, e, 0.0)
    c_high, _, _, _ = clearance(line, bed, row, e, high)
    if c_high >= 0.0:
        return high
    low, side = 0.0, 0
    for _ in range(200):
        mid = between(low, c_low, high, c_high)
        c_mid, _, _, _ = clearance(line, bed, row, e, mid)
        if abs(c_mid) < 1e-12:
            return mid
        if c_mid >= 0.0:
            # the end that stays is weighed less, so that it cannot stay for ever
            c_high = 0.5 * c_high if side == 1 else c_high
            low, c_low, side = mid, c_mid, 1
        else:
            c_low = 0.5 * c_low if side == -1 and not math.isinf(c_low) else c_low
            high, c_high, side = mid, c_mid, -1
        if high - low < 1e-13:
            break
    return low


@lean_kernel
def begin_of_span(line: Pieces, bed: Bed, row: Floats, e: int, u: float) -> tuple[int, float]:
    """Where, at or before ``u`` of stretch ``e``, a span must begin to clear the bed.

    Returns the stretch and the place in it, or -1 if it cannot.
    """
    first = clear_from(line, bed, row, e)
    if first < 0:
        return -1, 0.0
    high = u if first == e else row[first, EXTENT]
    return first, just_clear(line, bed, row, first, high)


@lean_kernel
def let_go_within(
    line: Pieces, row: Floats, e: int, bow_m: float, f_low: float, f_high: float
) -> float:
    """Place within stretch ``e`` where letting go brings the end to the roller."""
    low, high = 0.0, row[e, EXTENT]
    side = 0
    mid = high
    for _ in range(200):
        mid = (low * f_high - high * f_low) / (f_high - f_low)
        if not low < mid < high:
            mid = 0.5 * (low + high)
        f_mid = end_above(line, row, e, mid, bow_m)
        if abs(f_mid) < 1e-12 or high - low < 1e-14:
            break
        if f_mid > 0.0:
            if side == 1:
                f_high *= 0.5
            low, f_low, side = mid, f_mid, 1
        else:
            if side == -1:
                f_low *= 0.5
            high, f_high, side = mid, f_mid, -1
    return float(mid)


@lean_kernel
def chord_law(line: Pieces, i: int, t0_n: float, t1_n: float) -> tuple[float, float]:
    """Stretch of piece ``i`` between two tensions as a straight line: at no pull, and EA.

    On a bed a rope's tension changes by less than its weight: of a curve's bend a
    millionth of the length is lost (tests/laws/test_stretching_lines.py).
    """
    if line.curve[i, 2, 0] <= 0.0:
        return 0.0, float(line.stiffness_n[i])
    t1_n = max(0.0, t1_n)
    if abs(t1_n - t0_n) < _LEAST_CHORD_N:
        t1_n = t0_n + _LEAST_CHORD_N
    first = extension(line.curve, i, t0_n)
    ea_n = (t1_n - t0_n) / (extension(line.curve, i, t1_n) - first)
    return first - t0_n / ea_n, ea_n


@lean_kernel
def lie_along(
    line: Pieces, bed: Bed, j: int, x_m: float, s_m: float, t_n: float, idle_m: float
) -> tuple[float, float, float, float, float]:
    """How much line lies until the bed's piece, the line's piece or the idle part ends.

    Returns kind, unstretched length, growth of tension [N/m], EA of the piece and its
    stretch at no pull.
    """
    i = piece_at(line.cum, s_m)
    left_m = line.cum[i] - s_m
    cosine = 1.0 / math.sqrt(1.0 + bed.slope[j] * bed.slope[j])
    last = j == bed.slope.shape[0] - 1
    ahead_m = math.inf if last else (bed.x_m[j + 1] - x_m) / cosine
    growth = line.weight_npm[i] * cosine * (bed.slope[j] + bed.friction)
    if s_m < idle_m:
        return IDLE, min(ahead_m, left_m, idle_m - s_m), 0.0, math.inf, 0.0
    if growth <= 0.0 and t_n <= 0.0:
        return IDLE, min(ahead_m, left_m), 0.0, math.inf, 0.0
    length_m = left_m
    first, ea_n = chord_law(line, i, t_n, t_n + growth * min(left_m, ahead_m))
    if not last:
        a = 0.5 * growth / ea_n
        b = 1.0 + first + t_n / ea_n
        root = math.sqrt(max(0.0, b * b + 4.0 * a * ahead_m))
        length_m = min(left_m, 2.0 * ahead_m / (b + root))
    if growth < 0.0:
        length_m = min(length_m, -t_n / growth)
    return LIES, length_m, growth, ea_n, first
