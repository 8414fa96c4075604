"""What one line pulls at a distance, along a bearing, at a water level: exactly."""

from __future__ import annotations

import math

import numpy as np

from shorefast.compiled import kernel, lean_kernel
from shorefast.mooring.contact import bed_through
from shorefast.mooring.march import DISTANCE, PULL, RESULTS, TOUCHDOWN
from shorefast.mooring.rode import rode_asked
from shorefast.mooring.scene import Packed
from shorefast.mooring.shapes import Bed, Floats, Pieces
from shorefast.mooring.shore_line import pull_at, reach
from shorefast.mooring.span import LEAST_PULL_N

BED_STEP_M = 1.0
BEHIND_M = 3.0


@lean_kernel
def grid_level(packed: Packed, east_m: float, north_m: float) -> float:
    """Level of the gridded bed, bilinear; NaN where unknown or outside."""
    grid = packed.grid_level_m
    x = (east_m - packed.grid_west_m) / packed.grid_step_m
    y = (north_m - packed.grid_south_m) / packed.grid_step_m
    if not (0.0 <= x <= grid.shape[1] - 1 and 0.0 <= y <= grid.shape[0] - 1):
        return math.nan
    i = min(int(y), grid.shape[0] - 2)
    j = min(int(x), grid.shape[1] - 2)
    fx, fy = x - j, y - i
    south = grid[i, j] * (1.0 - fx) + grid[i, j + 1] * fx
    north = grid[i + 1, j] * (1.0 - fx) + grid[i + 1, j + 1] * fx
    return float(south * (1.0 - fy) + north * fy)


@kernel
def pieces(packed: Packed, i: int) -> Pieces:
    """The pieces of line ``i``; of a shore line the one there is."""
    a, b = packed.first[i], packed.last[i]
    return Pieces(
        packed.piece_cum[a:b],
        packed.piece_weight[a:b],
        packed.piece_stiffness[a:b],
        packed.piece_air[a:b],
        packed.piece_curve[a:b],
        packed.roller_m[i],
    )


@kernel
def bed_along(packed: Packed, i: int, bearing_rad: float, length_m: float) -> tuple[Bed, float]:
    """The bed from the anchor of rode ``i`` along a bearing, and how far it is known."""
    sine, cosine = math.sin(bearing_rad), math.cos(bearing_rad)
    if not math.isnan(packed.plane[i, 0]):
        slope = packed.plane[i, 1] * sine + packed.plane[i, 2] * cosine
        z0_m = packed.plane[i, 0]
        x_m = np.array([-1.0, 1.0])
        return bed_through(x_m, z0_m + slope * x_m, packed.friction[i]), math.inf
    count = int((length_m + BEHIND_M) / BED_STEP_M) + 2
    x_m = np.empty(count)
    z_m = np.empty(count)
    n = 0
    for k in range(count):
        along_m = k * BED_STEP_M - BEHIND_M
        level_m = grid_level(
            packed, packed.east_m[i] + along_m * sine, packed.north_m[i] + along_m * cosine
        )
        if math.isnan(level_m):
            if along_m > 0.0:
                break
            n = 0
            continue
        x_m[n], z_m[n] = along_m, level_m
        n += 1
    if n < 2 or x_m[0] > 0.0:
        return bed_through(x_m[:2], z_m[:2], packed.friction[i]), math.nan
    return bed_through(x_m[:n], z_m[:n], packed.friction[i]), x_m[n - 1]


@kernel
def rode_exactly(
    packed: Packed, i: int, x_m: float, bearing_rad: float, level_m: float, out: Floats
) -> float:
    """Fill ``out`` for rode ``i`` at a distance and bearing; returns its stiffness.

    All NaN where the bed is unknown under the chain that lies or hangs over it.
    """
    line = pieces(packed, i)
    bed, known_m = bed_along(packed, i, bearing_rad, line.cum[-1])
    if math.isnan(known_m):
        out[:] = np.nan
        return math.nan
    _, _, s_npm = rode_asked(line, bed, level_m + packed.z_m[i], DISTANCE, x_m, out)
    if out[TOUCHDOWN] > known_m:
        out[:] = np.nan
        return math.nan
    return s_npm


@kernel
def shore_exactly(packed: Packed, i: int, x_m: float, level_m: float) -> tuple[float, float]:
    """Level pull and stiffness of shore line ``i`` at a distance."""
    line = pieces(packed, i)
    cleat_m = packed.z_m[i]
    point_m = max(0.0, packed.level_m[i] - level_m)
    h_n = pull_at(x_m, line, cleat_m, point_m)
    if h_n <= LEAST_PULL_N:
        return 0.0, 0.0
    step_n = 1e-6 * h_n
    more_m = reach(h_n + step_n, line, cleat_m, point_m)[0]
    less_m = reach(h_n - step_n, line, cleat_m, point_m)[0]
    return h_n, 2.0 * step_n / (more_m - less_m)


@kernel
def exact_pull(
    packed: Packed, i: int, x_m: float, bearing_rad: float, level_m: float
) -> tuple[float, float]:
    """Level pull and stiffness of line ``i``, whichever kind it is."""
    if packed.rode[i] == 1:
        out = np.empty(RESULTS)
        s_npm = rode_exactly(packed, i, x_m, bearing_rad, level_m, out)
        return out[PULL], s_npm
    return shore_exactly(packed, i, x_m, level_m)
