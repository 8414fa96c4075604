"""A hanging span of line: the elastic catenary, stepped piece by piece.

Everything here is scalar and compiled. A span is launched with horizontal pull
``h_n`` and vertical pull ``v_n`` and followed along its unstretched length ``s``;
weight and stiffness change where one piece of the line ends (``cum``).

Source
------
irvine-1981, ch. 1; jonkman-2007, app. B. Written here without cancellation for
light, taut and nearly straight lines.
"""

from __future__ import annotations

import math

from shorefast.compiled import kernel
from shorefast.mooring.shapes import Floats, Pieces

LEAST_PULL_N = 1e-9


@kernel
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


@kernel
def piece_at(cum: Floats, s_m: float) -> int:
    """Index of the piece of line that begins at or runs through ``s_m``."""
    i = 0
    while i < cum.shape[0] - 1 and cum[i] <= s_m:
        i += 1
    return i


@kernel
def span_to(
    line: Pieces, h_n: float, v_n: float, s0_m: float, s1_m: float
) -> tuple[float, float, float]:
    """Across, up and vertical pull after hanging from ``s0_m`` to ``s1_m``."""
    across_m, up_m = 0.0, 0.0
    s_m = s0_m
    i = piece_at(line.cum, s0_m)
    while s_m < s1_m:
        end_m = s1_m if i == line.cum.shape[0] - 1 else min(s1_m, line.cum[i])
        dx_m, dz_m, v_n = hang(h_n, v_n, end_m - s_m, line.weight_npm[i], line.stiffness_n[i])
        across_m += dx_m
        up_m += dz_m
        s_m = end_m
        i += 1
    return across_m, up_m, v_n


@kernel
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


@kernel
def length_to_across(line: Pieces, h_n: float, v_n: float, s0_m: float, across_m: float) -> float:
    """Unstretched ``s`` at which the span has gone ``across_m``; inf if it ends before."""
    total_m, _, _ = span_to(line, h_n, v_n, s0_m, line.cum[-1])
    if total_m < across_m:
        return math.inf
    low_m, high_m = s0_m, line.cum[-1]
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
        slope = h_n / math.sqrt(h_n * h_n + v1_n * v1_n) + h_n / line.stiffness_n[i]
        s_m -= (x_m - across_m) / slope
        if not low_m < s_m < high_m:
            s_m = 0.5 * (low_m + high_m)
    return float(s_m)
