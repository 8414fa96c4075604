"""The rode as a drawn line: where it lies, hangs and lifts."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring.contact import (
    COLUMNS,
    EXTENT,
    HANGS,
    IDLE,
    KIND,
    LIES,
    S,
    pulls_at,
    state_at,
)
from shorefast.mooring.march import DISTANCE, RESULTS, along_bed, march
from shorefast.mooring.rode import bed_of, idle_when_slack, p_of, pieces_of, rode_asked
from shorefast.mooring.shapes import Bed, BedLine, Floats, LineSegments, Pieces
from shorefast.mooring.span import follow

_SAMPLES = 24


def _span(
    line: Pieces, row: Floats, at: tuple[int, float], end_m: float, water_m: float
) -> list[tuple[float, float]]:
    """Points along a hanging span let go at a place of a stretch."""
    x_m, z_m, s_m, h_n, v_n = pulls_at(row, *at)
    out = []
    for s1_m in np.linspace(s_m, end_m, _SAMPLES)[1:]:
        dx_m, dz_m, _ = follow(line, (s_m, z_m, h_n, v_n), float(s1_m), water_m, True)
        out.append((x_m + dx_m, z_m + dz_m))
    return out


def _slack(line: Pieces, bed: Bed, bow_m: float) -> tuple[list[tuple[float, float]], list[bool]]:
    idle_m = idle_when_slack(line, bed, bow_m)
    if math.isnan(idle_m):
        return [], []
    points = [along_bed(bed, share * idle_m) for share in np.linspace(0.0, 1.0, _SAMPLES)]
    return [*points, (points[-1][0], bow_m)], [True] * (_SAMPLES - 1) + [False]


def _idle(bed: Bed, row: Floats) -> list[tuple[float, float]]:
    """The anchor, the bed's corners under what lies idle beside it, and that part's end."""
    end_m, z_m = state_at(row, 0, 0.0)[:2]
    corners = [
        (float(x), float(z)) for x, z in zip(bed.x_m, bed.z_m, strict=True) if 0.0 < x < end_m
    ]
    first = [] if row[0, KIND] != IDLE else [along_bed(bed, 0.0)]
    return [*first, *(corners if first else []), (end_m, z_m)]


def rode_trace(
    segments: LineSegments, bed: BedLine, friction: float, bow_level_m: float, distance_m: float
) -> tuple[Floats, Floats, NDArray[np.bool_]]:
    """Points along the rode from the anchor to the roller.

    Parameters
    ----------
    As ``rode_at_distance``.

    Returns
    -------
    along_m, level_m : arrays, shape (point,)
        From the anchor toward the bow; level of each point. [m]
    lying : bool array, shape (point - 1,)
        True where the stretch from a point to the next lies on the bed. All empty
        where there is no balance.
    """
    line, under = pieces_of(segments), bed_of(bed, friction)
    out = np.empty(RESULTS)
    q, _, _ = rode_asked(line, under, bow_level_m, DISTANCE, distance_m, out)
    if math.isnan(q):
        return np.empty(0), np.empty(0), np.empty(0, bool)
    if math.isinf(q):
        points, lying = _slack(line, under, bow_level_m)
        return *np.array(points).reshape(-1, 2).T, np.array(lying, bool)
    row = np.empty((4 * (under.slope.shape[0] + line.cum.shape[0]) + 16, COLUMNS))
    e, u = march(line, under, bow_level_m, p_of(q), row)
    points = _idle(under, row)
    lying = [True] * (len(points) - 1)
    for i in range(e + 1):
        length_m = u if i == e else row[i, EXTENT]
        if row[i, KIND] in (LIES, IDLE) and length_m > 0.0:
            points.append(state_at(row, i, length_m)[:2])
            lying.append(True)
        if row[i, KIND] == HANGS:
            begins = (i - 1, row[i - 1, EXTENT])
            hung = _span(line, row, begins, row[i, S] + row[i, EXTENT], math.inf)
            points.extend(hung)
            lying.extend([False] * len(hung))
    last = _span(line, row, (e, u), float(line.cum[-1]), bow_level_m - line.roller_m)
    points.extend(last)
    lying.extend([False] * len(last))
    along_m, level_m = np.array(points).T
    return along_m, level_m, np.array(lying, bool)
