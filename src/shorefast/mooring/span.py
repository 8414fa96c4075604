"""A hanging span of line: the elastic catenary, stepped piece by piece.

Everything here is scalar and compiled. A span is launched with horizontal pull
``h_n`` and vertical pull ``v_n`` and followed along its unstretched length ``s``;
weight and stretch change where one piece of the line ends (``cum``), weight also where
the line goes through the surface of the water.

A piece with a curve stretches by its EA at no pull, in closed form, and by what the
curve has beyond that, summed at two places (Gauss): along one piece the tension
changes by no more than its weight, so that the sum is good to a part in a million of
its length (tests/laws/test_stretching_lines.py).

Source
------
irvine-1981, ch. 1; jonkman-2007, app. B. Written here without cancellation for
light, taut and nearly straight lines.
"""

from __future__ import annotations

import math

from shorefast.compiled import lean_kernel
from shorefast.mooring.shapes import Floats, Pieces

LEAST_PULL_N = 1e-9
# two places on a piece that stand for all of it, Gauss
_PLACE = (0.5 - 0.5 / math.sqrt(3.0), 0.5 + 0.5 / math.sqrt(3.0))


@lean_kernel
def hang(
    h_n: float, v_n: float, length_m: float, weight_npm: float, stiffness_n: float
) -> tuple[float, float, float]:
    """Across, up and the vertical pull at the end of one uniform hanging piece."""
    v1_n = v_n + weight_npm * length_m
    r0_n = math.sqrt(h_n * h_n + v_n * v_n)
    r1_n = math.sqrt(h_n * h_n + v1_n * v1_n)
    both_n = v_n + v1_n
    up_m = length_m * both_n * (1.0 / (r0_n + r1_n) + 0.5 / stiffness_n)
    if v_n * v1_n > 0.0:
        # asinh(v1/h) - asinh(v/h) = asinh(d), with d written without a difference
        part = both_n / (v1_n * r0_n + v_n * r1_n)
        d = weight_npm * length_m * part
        ratio = 1.0 - d * d / 6.0 if abs(d) < 1e-4 else math.asinh(d) / d
        across_m = length_m * h_n * part * ratio
    elif v_n == v1_n:
        across_m = length_m
    else:
        across_m = (h_n / weight_npm) * (math.asinh(v1_n / h_n) - math.asinh(v_n / h_n))
    return across_m + h_n * length_m / stiffness_n, up_m, v1_n


@lean_kernel
def rise_of_hang(
    h_n: float, v_n: float, length_m: float, weight_npm: float, stiffness_n: float
) -> float:
    """Only how far ``hang`` comes up: no logarithm."""
    v1_n = v_n + weight_npm * length_m
    both_n = math.sqrt(h_n * h_n + v_n * v_n) + math.sqrt(h_n * h_n + v1_n * v1_n)
    return length_m * (v_n + v1_n) * (1.0 / both_n + 0.5 / stiffness_n)


@lean_kernel
def extension(curve: Floats, i: int, t_n: float) -> float:
    """Stretch over length of piece ``i``, by its curve; past the curve's end straight on."""
    last = curve.shape[2] - 1
    if t_n >= curve[i, 0, last]:
        return float(curve[i, 1, last] + (t_n - curve[i, 0, last]) / curve[i, 2, last])
    k = 0
    while k < last - 1 and curve[i, 0, k + 1] <= t_n:
        k += 1
    over_n, slope_n = t_n - curve[i, 0, k], curve[i, 2, k]
    bend_n = (curve[i, 2, k + 1] - slope_n) / (curve[i, 1, k + 1] - curve[i, 1, k])
    root_n = math.sqrt(max(0.0, slope_n * slope_n + 2.0 * bend_n * over_n))
    return float(curve[i, 1, k] + 2.0 * over_n / (slope_n + root_n))


@lean_kernel
def stretch_at(line: Pieces, i: int, t_n: float) -> float:
    """Stretch over length of piece ``i`` under a tension."""
    # a look here spares every straight piece the call
    if line.curve[i, 2, 0] > 0.0:
        return extension(line.curve, i, t_n)
    return float(t_n / line.stiffness_n[i])


@lean_kernel
def beyond_first(
    curve: Floats, i: int, ea_n: float, span: tuple[float, float, float, float]
) -> tuple[float, float]:
    """What a hanging piece's curve adds to its first EA, across and up.

    span : level and vertical pull, weight a metre, length.
    """
    h_n, v_n, weight_npm, length_m = span
    across_m, up_m = 0.0, 0.0
    for k in range(2):
        v1_n = v_n + weight_npm * length_m * _PLACE[k]
        t_n = math.sqrt(h_n * h_n + v1_n * v1_n)
        more_m = 0.5 * length_m * (extension(curve, i, t_n) - t_n / ea_n) / t_n
        across_m += more_m * h_n
        up_m += more_m * v1_n
    return across_m, up_m


@lean_kernel
def hang_or_rise(
    h_n: float, v_n: float, length_m: float, weight_npm: float, ea_n: float, wide: bool
) -> tuple[float, float]:
    """Across and up of a uniform piece; not ``wide``: up alone, without a logarithm."""
    if wide:
        across_m, up_m, _ = hang(h_n, v_n, length_m, weight_npm, ea_n)
        return across_m, up_m
    return 0.0, rise_of_hang(h_n, v_n, length_m, weight_npm, ea_n)


@lean_kernel
def looked_for(v_n: float, length_m: float, weight_npm: float, wet: bool) -> float:
    """Length at which a piece is nearest to the other side of the surface; 0 if it keeps off.

    A line above the water goes into it only falling, one below comes out only rising.
    """
    if wet:
        return length_m if v_n + weight_npm * length_m > 0.0 else 0.0
    return min(length_m, -v_n / weight_npm) if v_n < 0.0 else 0.0


@lean_kernel
def to_level(
    h_n: float,
    v_n: float,
    weight_npm: float,
    ea_n: float,
    rise_m: float,
    most_m: float,
    past: bool,
) -> float:
    """Length of a uniform piece that comes up ``rise_m``, past its lowest place or before it."""
    # weight times rise is the gain of tension and of the work of stretching
    r0_n = math.sqrt(h_n * h_n + v_n * v_n)
    c_n = weight_npm * rise_m + r0_n + 0.5 * r0_n * r0_n / ea_n
    r1_n = 2.0 * c_n / (1.0 + math.sqrt(1.0 + 2.0 * c_n / ea_n))
    v1_n = math.sqrt(max(0.0, (r1_n - h_n) * (r1_n + h_n)))
    return min(most_m, max(0.0, ((v1_n if past else -v1_n) - v_n) / weight_npm))


@lean_kernel
def to_surface(
    h_n: float,
    v_n: float,
    length_m: float,
    weight_npm: float,
    ea_n: float,
    rise_m: float,
    wet: bool,
) -> float:
    """Length of a uniform piece to where it goes through the surface; inf if it does not.

    rise_m : the surface above where the piece begins.
    """
    far_m = looked_for(v_n, length_m, weight_npm, wet)
    if far_m == 0.0 or math.isinf(rise_m):
        return math.inf
    over_m = rise_of_hang(h_n, v_n, far_m, weight_npm, ea_n) - rise_m
    if over_m <= 0.0 if wet else over_m >= 0.0:
        return math.inf
    return to_level(h_n, v_n, weight_npm, ea_n, rise_m, far_m, wet)


@lean_kernel
def bent_to_surface(
    curve: Floats,
    i: int,
    ea_n: float,
    span: tuple[float, float, float, float],
    rise_m: float,
    wet: bool,
) -> float:
    """``to_surface`` of piece ``i`` with a curve. span : pulls, weight a metre, length.

    Newton's steps; the rise bends one way, so that none but the first goes too far.
    """
    h_n, v_n, weight_npm, length_m = span
    far_m = looked_for(v_n, length_m, weight_npm, wet)
    if far_m == 0.0 or math.isinf(rise_m):
        return math.inf
    over_m = rise_of_hang(h_n, v_n, far_m, weight_npm, ea_n) - rise_m
    over_m += beyond_first(curve, i, ea_n, (h_n, v_n, weight_npm, far_m))[1]
    if over_m <= 0.0 if wet else over_m >= 0.0:
        return math.inf
    # begun where one that stretches alike all along comes through
    t_n = math.sqrt(h_n * h_n + (v_n + 0.5 * weight_npm * far_m) ** 2)
    first = 1.0 + extension(curve, i, t_n)
    s_m = to_level(h_n, v_n, weight_npm, 1e12, rise_m / first, far_m, wet)
    for _ in range(60):
        here = (h_n, v_n, weight_npm, s_m)
        over_m = rise_of_hang(h_n, v_n, s_m, weight_npm, ea_n) - rise_m
        over_m += beyond_first(curve, i, ea_n, here)[1]
        v1_n = v_n + weight_npm * s_m
        t_n = math.sqrt(h_n * h_n + v1_n * v1_n)
        slope = (1.0 + extension(curve, i, t_n)) * v1_n / t_n
        # a line that all but lies on the surface is sought more closely
        if abs(over_m) < (1e-12 if abs(slope) > 1e-3 else 1e-16):
            break
        if slope > 0.0 if wet else slope < 0.0:
            s_m = min(far_m, max(0.0, s_m - over_m / slope))
        else:
            # begun where it lies level: from the other end no step goes too far
            s_m = far_m if wet else 0.0
    return s_m


@lean_kernel
def follow(
    line: Pieces, at: tuple[float, float, float, float], s1_m: float, water_m: float, wide: bool
) -> tuple[float, float, float]:
    """Across, up and vertical pull after hanging to ``s1_m``, weighed wet and dry.

    at : unstretched length, level, level and vertical pull where the span begins.
    water_m : level of the surface. Not ``wide``: across is not reckoned.
    """
    s_m, z_m, h_n, v_n = at
    across_m, up_m = 0.0, 0.0
    last = line.cum.shape[0] - 1
    i = piece_at(line.cum, s_m)
    wet = z_m < water_m
    for _ in range(last + 4):
        if s_m >= s1_m:
            break
        end_m = s1_m if i == last else min(s1_m, line.cum[i])
        weight_npm = line.weight_npm[i] if wet else line.air_npm[i]
        ea_n, length_m, rise_m = line.stiffness_n[i], end_m - s_m, water_m - z_m - up_m
        # a look here spares every straight piece the calls
        bent = line.curve[i, 2, 0] > 0.0
        if bent:
            span = (h_n, v_n, weight_npm, length_m)
            cut_m = bent_to_surface(line.curve, i, ea_n, span, rise_m, wet)
        else:
            cut_m = to_surface(h_n, v_n, length_m, weight_npm, ea_n, rise_m, wet)
        through = cut_m < length_m
        length_m = min(cut_m, length_m)
        dx_m, dz_m = hang_or_rise(h_n, v_n, length_m, weight_npm, ea_n, wide)
        across_m += dx_m
        up_m += dz_m
        if bent:
            dx_m, dz_m = beyond_first(line.curve, i, ea_n, (h_n, v_n, weight_npm, length_m))
            across_m += dx_m
            up_m += dz_m
        v_n += weight_npm * length_m
        if through:
            s_m, up_m, wet = s_m + length_m, water_m - z_m, not wet
        else:
            s_m = end_m
            i += 1
    return across_m, up_m, v_n


@lean_kernel
def piece_at(cum: Floats, s_m: float) -> int:
    """Index of the piece of line that begins at or runs through ``s_m``."""
    i = 0
    while i < cum.shape[0] - 1 and cum[i] <= s_m:
        i += 1
    return i


@lean_kernel
def span_to(
    line: Pieces, h_n: float, v_n: float, s0_m: float, s1_m: float
) -> tuple[float, float, float]:
    """Across, up and vertical pull after hanging in water from ``s0_m`` to ``s1_m``."""
    across_m, up_m = 0.0, 0.0
    s_m = s0_m
    i = piece_at(line.cum, s0_m)
    while s_m < s1_m:
        end_m = s1_m if i == line.cum.shape[0] - 1 else min(s1_m, line.cum[i])
        weight_npm, ea_n, length_m = line.weight_npm[i], line.stiffness_n[i], end_m - s_m
        dx_m, dz_m, v1_n = hang(h_n, v_n, length_m, weight_npm, ea_n)
        across_m += dx_m
        up_m += dz_m
        if line.curve[i, 2, 0] > 0.0:
            span = (h_n, v_n, weight_npm, length_m)
            dx_m, dz_m = beyond_first(line.curve, i, ea_n, span)
            across_m += dx_m
            up_m += dz_m
        v_n, s_m = v1_n, end_m
        i += 1
    return across_m, up_m, v_n


@lean_kernel
def length_to_slope(line: Pieces, v_from_n: float, v_to_n: float, s0_m: float) -> float:
    """Unstretched ``s`` where the vertical pull has grown to ``v_to_n``; inf if never."""
    s_m = s0_m
    v_n = v_from_n
    i = piece_at(line.cum, s0_m)
    while i < line.cum.shape[0]:
        gain_n = line.weight_npm[i] * (line.cum[i] - s_m)
        if v_n + gain_n >= v_to_n and line.weight_npm[i] > 0.0:
            return float(s_m + (v_to_n - v_n) / line.weight_npm[i])
        v_n += gain_n
        s_m = line.cum[i]
        i += 1
    return math.inf


@lean_kernel
def length_to_across(line: Pieces, h_n: float, v_n: float, s0_m: float, across_m: float) -> float:
    """Unstretched ``s`` at which the span has gone ``across_m``; inf if it ends before."""
    low_m, high_m = s0_m, line.cum[-1]
    # begun where a line that does not stretch would be
    i = piece_at(line.cum, s0_m)
    steep = min(300.0, line.weight_npm[i] * across_m / h_n + math.asinh(v_n / h_n))
    s_m = s0_m + (h_n * math.sinh(steep) - v_n) / line.weight_npm[i]
    if not s_m < line.cum[i]:
        total_m, _, _ = span_to(line, h_n, v_n, s0_m, high_m)
        if total_m < across_m:
            return math.inf
        s_m = min(high_m, s0_m + across_m)
    for _ in range(60):
        x_m, _, v1_n = span_to(line, h_n, v_n, s0_m, s_m)
        if x_m > across_m:
            high_m = s_m
        else:
            low_m = s_m
        if abs(x_m - across_m) < 1e-12 or high_m - low_m < 1e-13:
            break
        i = piece_at(line.cum, s_m)
        t_n = math.sqrt(h_n * h_n + v1_n * v1_n)
        slope = (1.0 + stretch_at(line, i, t_n)) * h_n / t_n
        s_m -= (x_m - across_m) / slope
        if not low_m < s_m < high_m:
            s_m = 0.5 * (low_m + high_m)
    return float(s_m)
