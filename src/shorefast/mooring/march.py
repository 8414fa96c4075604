"""The march along the bed: one rode for one tension at the anchor.

The free number is ``p``: below 0 it is minus the length that lies idle beside the
anchor, above 0 the tension at the shank. Pull and distance both grow with ``p``,
so either can be asked for by one bracketed search.
"""

from __future__ import annotations

import math

import numpy as np

from shorefast.compiled import kernel, lean_kernel
from shorefast.mooring.contact import (
    CLEAR_M,
    COLUMNS,
    COSINE,
    EXTENT,
    FIRST,
    GROWTH,
    HANGS,
    IDLE,
    KIND,
    LIES,
    PIECE,
    SINE,
    STIFF,
    THETA,
    TURNS,
    S,
    T,
    X,
    Z,
    begin_of_span,
    clearance,
    end_above,
    ends_below,
    let_go_within,
    lie_along,
    pulls_at,
    state_at,
)
from shorefast.mooring.shapes import Bed, Floats, Pieces
from shorefast.mooring.span import follow, span_to

LEAST_TENSION_N = 1e-9
# what a march gives back
PULL, DOWN, DISTANCE, ANCHOR_T, ANCHOR_ANGLE, UPLIFT = range(6)
ON_BOTTOM, ZERO_TENSION, SPANS, BRIDGED, TOUCHDOWN = range(6, 11)
RESULTS = 11


@lean_kernel
def piece_under(bed: Bed, x_m: float) -> int:
    """The piece of bed that begins at or runs through ``x_m``."""
    j = 0
    while j < bed.slope.shape[0] - 1 and bed.x_m[j + 1] <= x_m:
        j += 1
    return j


@lean_kernel
def bed_level(bed: Bed, x_m: float) -> float:
    """Level of the bed at ``x_m`` from the anchor. [m]"""
    j = piece_under(bed, x_m)
    return float(bed.z_m[j] + bed.slope[j] * (x_m - bed.x_m[j]))


@lean_kernel
def along_bed(bed: Bed, length_m: float) -> tuple[float, float]:
    """Place and level after following the bed for a length from the anchor."""
    first = piece_under(bed, 0.0)
    start_m = 0.0
    left_m = length_m
    for j in range(first, bed.slope.shape[0]):
        cosine = 1.0 / math.sqrt(1.0 + bed.slope[j] ** 2)
        if j < bed.slope.shape[0] - 1:
            ahead_m = (bed.x_m[j + 1] - start_m) / cosine
            if left_m > ahead_m:
                left_m -= ahead_m
                start_m = bed.x_m[j + 1]
                continue
        end_m = start_m + left_m * cosine
        return end_m, bed.z_m[j] + bed.slope[j] * (end_m - bed.x_m[j])
    return math.nan, math.nan


@lean_kernel
def put(row: Floats, n: int, kind: float, piece: int, at: tuple[float, float, float, float]) -> int:
    """Begin stretch ``n`` at place x, z, unstretched length s and tension t."""
    row[n, KIND] = kind
    row[n, PIECE] = piece
    row[n, X], row[n, Z], row[n, S], row[n, T] = at
    return n + 1


@lean_kernel
def point_along(bed: Bed, row: Floats, e: int) -> None:
    """Let stretch ``e`` lie along its piece of bed."""
    slope = bed.slope[int(row[e, PIECE])]
    cosine = 1.0 / math.sqrt(1.0 + slope * slope)
    row[e, COSINE], row[e, SINE] = cosine, cosine * slope


@lean_kernel
def bridge(line: Pieces, bed: Bed, row: Floats, e: int, u: float) -> int:
    """Let the line hang from ``u`` of stretch ``e`` to its next touch of the bed.

    Cuts stretch ``e`` there, adds the hanging stretch and, on a corner, the turn
    over it. Returns the number of stretches, or -1 if it touches nothing.
    """
    row[e, EXTENT] = u
    x_m, z_m, s_m, h_n, v_n = pulls_at(row, e, u)
    _, j, corner, s1_m = clearance(line, bed, row, e, u)
    if j < 0:
        return -1
    dx_m, dz_m, v1_n = span_to(line, h_n, v_n, s_m, s1_m)
    n = put(row, e + 1, HANGS, j, (x_m, z_m, s_m, h_n))
    row[n - 1, EXTENT] = s1_m - s_m
    t_n = math.sqrt(h_n * h_n + v1_n * v1_n)
    if corner:
        return turn(
            bed, row, n, j, (bed.x_m[j + 1], bed.z_m[j + 1], s1_m, t_n), math.atan2(v1_n, h_n)
        )
    # a stretch of no length keeps the place where it comes down
    n = put(row, n, LIES, j, (x_m + dx_m, z_m + dz_m, s1_m, t_n))
    point_along(bed, row, n - 1)
    row[n - 1, EXTENT], row[n - 1, GROWTH] = 0.0, 0.0
    row[n - 1, STIFF], row[n - 1, FIRST] = 1.0, 0.0
    return n


@lean_kernel
def turn(
    bed: Bed, row: Floats, n: int, j: int, at: tuple[float, float, float, float], theta: float
) -> int:
    """Add the turn from angle ``theta`` over the far corner of piece ``j``."""
    n = put(row, n, TURNS, j + 1, at)
    row[n - 1, THETA] = theta
    row[n - 1, EXTENT] = theta - math.atan(bed.slope[j + 1])
    row[n - 1, GROWTH] = bed.friction
    row[n - 1, STIFF] = 1.0
    return n


@lean_kernel
def step(line: Pieces, bed: Bed, row: Floats, n: int, idle_m: float) -> int:
    """Add the next stretch after the last one; -1 when the line is used up."""
    x_m, z_m, s_m, t_n, _, _ = state_at(row, n - 1, row[n - 1, EXTENT])
    j = int(row[n - 1, PIECE])
    if s_m >= line.cum[-1] - 1e-12:
        return -1
    at_end = j < bed.slope.shape[0] - 1 and x_m >= bed.x_m[j + 1] - 1e-12
    if at_end and bed.slope[j + 1] < bed.slope[j]:
        at = (bed.x_m[j + 1], bed.z_m[j + 1], s_m, t_n)
        return turn(bed, row, n, j, at, math.atan(bed.slope[j]))
    if at_end:
        if t_n > LEAST_TENSION_N:
            clear_m, _, _, _ = clearance(line, bed, row, n - 1, row[n - 1, EXTENT])
            if clear_m < -CLEAR_M:
                e, u = begin_of_span(line, bed, row, n - 1, row[n - 1, EXTENT])
                return bridge(line, bed, row, e, u) if e >= 0 else -1
        j, x_m, z_m = j + 1, bed.x_m[j + 1], bed.z_m[j + 1]
    kind, length_m, growth, stiff, first = lie_along(line, bed, j, x_m, s_m, t_n, idle_m)
    n = put(row, n, kind, j, (x_m, z_m, s_m, t_n))
    point_along(bed, row, n - 1)
    row[n - 1, EXTENT], row[n - 1, GROWTH] = length_m, growth
    row[n - 1, STIFF], row[n - 1, FIRST] = stiff, first
    return n


@lean_kernel
def search_back(
    line: Pieces, bed: Bed, row: Floats, n: int, bow_m: float
) -> tuple[int, float, bool]:
    """The place on the row where the end meets the roller, and whether it clears."""
    e = n - 1
    f_high = end_above(line, row, e, row[e, EXTENT], bow_m)
    while e >= 0:
        if row[e, KIND] != HANGS:
            f_low = end_above(line, row, e, 0.0, bow_m)
            if f_low >= 0.0:
                break
            f_high = f_low
        e -= 1
    if e < 0:
        return -1, 0.0, False
    f_high = end_above(line, row, e, row[e, EXTENT], bow_m)
    if f_high >= 0.0:
        u = row[e, EXTENT]
    elif f_low == 0.0:
        u = 0.0
    else:
        u = let_go_within(line, row, e, bow_m, f_low, f_high)
    clear_m, _, _, _ = clearance(line, bed, row, e, u)
    return e, u, clear_m >= -CLEAR_M


@lean_kernel
def begin(bed: Bed, p: float, row: Floats) -> int:
    """The first stretch: the turn at the anchor, from plumb down to the bed.

    Of a line part of which lies idle beside the anchor it is the place where that part
    ends, a stretch of no length.
    """
    idle_m = max(0.0, -p)
    x_m, z_m = along_bed(bed, idle_m)
    j = piece_under(bed, x_m)
    row[0, EXTENT] = row[0, GROWTH] = row[0, FIRST] = 0.0
    row[0, STIFF] = 1.0
    if idle_m > 0.0:
        n = put(row, 0, IDLE, j, (x_m, z_m, idle_m, 0.0))
        point_along(bed, row, 0)
        return n
    row[0, THETA] = 0.5 * math.pi
    row[0, EXTENT] = 0.5 * math.pi - math.atan(bed.slope[j])
    return put(row, 0, TURNS, j, (x_m, z_m, 0.0, max(LEAST_TENSION_N, p) if p > 0.0 else 0.0))


@lean_kernel
def lay_out(line: Pieces, bed: Bed, bow_m: float, p: float, row: Floats) -> int:
    """Lay the rode out for one ``p`` as far as a roller at ``bow_m`` or higher needs it.

    Returns the number of stretches, -1 where it cannot be.
    """
    idle_m = max(0.0, -p)
    n = begin(bed, p, row)
    for _ in range(20 * row.shape[0]):
        if n > row.shape[0] - 4:
            return -1
        e = n - 1
        if ends_below(line, row, e, bow_m):
            e, u, clears = search_back(line, bed, row, n, bow_m)
            if e < 0:
                return -1
            if clears:
                return n
            e, u = begin_of_span(line, bed, row, e, u)
            n = bridge(line, bed, row, e, u) if e >= 0 else -1
        else:
            n = step(line, bed, row, n, idle_m)
        if n < 0:
            return -1
    return -1


@lean_kernel
def march(line: Pieces, bed: Bed, bow_m: float, p: float, row: Floats) -> tuple[int, float]:
    """Follow the rode for one ``p``; returns where it lets go, or -1 if it cannot."""
    n = lay_out(line, bed, bow_m, p, row)
    if n < 0:
        return -1, 0.0
    e, u, _ = search_back(line, bed, row, n, bow_m)
    return e, u


@lean_kernel
def measure(
    line: Pieces, bed: Bed, bow_m: float, row: Floats, e: int, u: float, out: Floats
) -> None:
    """Write what is asked of a rode that lets go at ``u`` of stretch ``e``."""
    x_m, z_m, s_m, h_n, v_n = pulls_at(row, e, u)
    at = (s_m, z_m, h_n, v_n)
    dx_m, _, v_end_n = follow(line, at, line.cum[-1], bow_m - line.roller_m, True)
    out[PULL], out[DOWN], out[DISTANCE] = h_n, v_end_n, x_m + dx_m
    out[ON_BOTTOM] = out[ZERO_TENSION] = row[0, S]
    out[SPANS] = out[BRIDGED] = 0.0
    for i in range(e + 1):
        length_m = u if i == e else row[i, EXTENT]
        if row[i, KIND] == LIES or row[i, KIND] == IDLE:
            out[ON_BOTTOM] += length_m
        if row[i, KIND] == IDLE:
            out[ZERO_TENSION] += length_m
        if row[i, KIND] == HANGS:
            out[SPANS] += 1.0
            out[BRIDGED] += length_m
    lies_rad = math.atan(bed.slope[piece_under(bed, 0.0)])
    out[ANCHOR_T], out[UPLIFT] = row[0, T], 0.0
    if row[0, KIND] == TURNS:
        out[UPLIFT] = row[0, THETA] - (row[0, EXTENT] if e > 0 else u) - lies_rad
    out[ANCHOR_ANGLE] = lies_rad + out[UPLIFT]
    out[TOUCHDOWN] = x_m


@kernel
def rode_for(line: Pieces, bed: Bed, bow_m: float, p: float, out: Floats) -> bool:
    """Everything about the rode for one ``p``; False where it has no balance."""
    row = np.empty((4 * (bed.slope.shape[0] + line.cum.shape[0]) + 16, COLUMNS))
    e, u = march(line, bed, bow_m, p, row)
    if e < 0:
        out[:] = np.nan
        return False
    measure(line, bed, bow_m, row, e, u, out)
    return True
