"""Tables of a scene's lines over the room she has.

A table holds, by water level, bearing (one for a shore line) and node, the straight
distance between the line's ends (the chord), the pull along it, its slope against the
chord, and for a rode the vertical pull, tension and uplift at the shank and the length
on the bed. Along the chord a taut line hardly knows the water level, so that straight
lines between levels do; a rode is laid out at every second level, and the ones between
follow by cubics, node by node.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shorefast.compiled import kernel, lean_kernel
from shorefast.mooring.response import bed_along, pieces
from shorefast.mooring.scene import Packed, RodeLine, Scene
from shorefast.mooring.shapes import Floats, Ints
from shorefast.mooring.table_nodes import (
    IDLE_NODES,
    NODE_COLUMNS,
    NODES,
    idle_shares,
    rode_nodes,
    shore_nodes,
)

_LEVELS_A_LAYOUT = 2
# fields of the packed lines up to here say nothing of the grid of the bed
_BED_FROM = Packed._fields.index("grid_west_m")
_BEYOND_RAD = 0.05
# about where she lies bearings stand about as much closer as the fan is wider than this
_CLOSE_SHARE = 0.11
Steps = tuple[float, float, float]
Some = NDArray[np.bool_]


class LineTables(NamedTuple):
    """Tables of all lines of a scene.

    level_m : array (level,), rising, evenly spaced
    row_from, bearings : arrays (line,), first row of each line and how many it has
    bearing_rad : array (row,), from the far end to the boat, rising within a line
    idle_share : array (line, IDLE_NODES), of a rode's idle chain taken up at its first nodes
    node : array (level, row, node, column)
    """

    level_m: Floats
    row_from: Ints
    bearings: Ints
    bearing_rad: Floats
    idle_share: Floats
    node: Floats


@lean_kernel
def cubic(y0: float, y1: float, y2: float, y3: float, wide: Steps, t: float) -> float:
    """Between ``y1`` and ``y2`` by slopes through three values each; one or both ends NaN.

    wide : the steps from each value to the next; t : the share of the middle one.
    """
    chord = (y2 - y1) / wide[1]
    s1 = (chord * wide[0] + (y1 - y0) / wide[0] * wide[1]) / (wide[0] + wide[1])
    s2 = (chord * wide[2] + (y3 - y2) / wide[2] * wide[1]) / (wide[2] + wide[1])
    if math.isnan(y0):
        s1 = chord if math.isnan(y3) else 2.0 * chord - s2
    if math.isnan(y3):
        s2 = 2.0 * chord - s1
    bend = (1.0 - t) * (s1 - chord) - t * (s2 - chord)
    return y1 + t * (y2 - y1) + t * (1.0 - t) * wide[1] * bend


@lean_kernel
def between_levels(node: Floats) -> None:
    """Fill the levels between every second one and the last, where a rode is laid out.

    node : array (level, node, column).
    """
    step, last = _LEVELS_A_LAYOUT, node.shape[0] - 1
    for k in range(1, last):
        low = k - k % step
        if k == low:
            continue
        high = min(low + step, last)
        far = min(high + step, last)
        wide = (float(step), float(high - low), float(max(1, far - high)))
        t = (k - low) / wide[1]
        for n in range(node.shape[1]):
            for c in range(node.shape[2]):
                y0 = node[low - step, n, c] if low > 0 else math.nan
                y3 = node[far, n, c] if far > high else math.nan
                node[k, n, c] = cubic(y0, node[low, n, c], node[high, n, c], y3, wide, t)


@kernel
def fill_row(packed: Packed, tables: LineTables, i: int, j: int) -> None:
    """Fill row ``j`` of line ``i``, every level."""
    row, levels = tables.row_from[i] + j, tables.level_m.shape[0]
    line, node = pieces(packed, i), tables.node[:, row]
    if packed.rode[i] == 0:
        for k in range(levels):
            point_m = max(0.0, packed.level_m[i] - tables.level_m[k])
            shore_nodes(line, packed.z_m[i], point_m, node[k])
        return
    bed, known_m = bed_along(packed, i, tables.bearing_rad[row], line.cum[-1])
    if math.isnan(known_m):
        node[:] = math.nan
        return
    for k in range(levels):
        if k % _LEVELS_A_LAYOUT == 0 or k == levels - 1:
            bow_m = tables.level_m[k] + packed.z_m[i]
            rode_nodes(line, bed, known_m, bow_m, tables.idle_share[i], node[k])
    between_levels(node)


@kernel
def set_nodes(packed: Packed, tables: LineTables, i: int, toward_rad: float) -> None:
    """Set where the first nodes of rode ``i`` stand, by how it hangs along one bearing."""
    line = pieces(packed, i)
    bed, known_m = bed_along(packed, i, toward_rad, line.cum[-1])
    bow_m = tables.level_m[tables.level_m.shape[0] // 2] + packed.z_m[i]
    idle_shares(line, bed, known_m, bow_m, tables.idle_share[i])


@kernel
def fill_rows(packed: Packed, tables: LineTables, i: int, rows: tuple[int, int]) -> None:
    """Fill rows of line ``i`` from the first up to, not with, the second."""
    for j in range(rows[0], rows[1]):
        fill_row(packed, tables, i, j)


class Filled(NamedTuple):
    """Tables filled before, and the lines they are of."""

    lines: Packed
    tables: LineTables


@dataclass(frozen=True)
class Spread:
    """What tables must cover: water levels [m], bearings of each rode, how finely.

    filled : tables of the same lines on another bed; rows under which that is the same
        are taken from there. The tables are the same to the bit with and without.
    """

    least_level_m: float
    greatest_level_m: float
    levels: int
    bearings: int
    filled: Filled | None = None


def _take_over(lines: Packed, tables: LineTables, filled: Filled | None) -> Some:
    """Fill the rows that are to the bit what they were before; which those are, (row,)."""
    old = filled.tables if filled is not None else None
    if filled is None or old is None or not _same(tables[:-1], old[:-1]):
        return np.zeros(tables.bearing_rad.size, bool)
    if not _same(lines[:_BED_FROM], filled.lines[:_BED_FROM]):
        return np.zeros(tables.bearing_rad.size, bool)
    same = np.ones(tables.bearing_rad.size, bool)
    for i in np.flatnonzero(lines.rode).tolist():
        length_m = float(pieces(lines, i).cum[-1])
        first = int(tables.row_from[i])
        for row in range(first, first + int(tables.bearings[i])):
            turn = float(tables.bearing_rad[row])
            bed, known_m = bed_along(lines, i, turn, length_m)
            was, known_then_m = bed_along(filled.lines, i, turn, length_m)
            same[row] = _same((*bed, known_m), (*was, known_then_m))
    tables.node[:, same] = old.node[:, same]
    return same


def _same(one: Sequence[ArrayLike], other: Sequence[ArrayLike]) -> bool:
    return all(np.array_equal(a, b, equal_nan=True) for a, b in zip(one, other, strict=True))


def tables_of(scene: Scene, lines: Packed, spread: Spread, start: Floats) -> LineTables:
    """Tables of a scene's lines for the levels, over the domain.

    A rode's bearings are those from its anchor to anywhere in the domain, closest about
    the one to where she lies (start, array (3,): east, north, heading); all round and
    even where the anchor lies in the domain: four degrees apart they miss a slope of 35
    degrees by a centimetre.
    """
    bearing = [
        _bearings(scene, line, spread.bearings, start)
        if isinstance(line, RodeLine)
        else np.zeros(1)
        for line in scene.lines
    ]
    number = np.array([some.size for some in bearing], np.int64)
    levels = np.linspace(spread.least_level_m, spread.greatest_level_m, spread.levels)
    first = np.concatenate([[0], np.cumsum(number)[:-1]]).astype(np.int64)
    node = np.empty((levels.size, int(number.sum()), NODES, NODE_COLUMNS))
    share = np.zeros((number.size, IDLE_NODES))
    tables = LineTables(levels, first, number, np.concatenate(bearing), share, node)
    for i, line in enumerate(scene.lines):
        if isinstance(line, RodeLine):
            set_nodes(lines, tables, i, _toward(line, start))
    done = _take_over(lines, tables, spread.filled)
    rows = [
        (i, (j, j + 1))
        for i in range(number.size)
        for j in range(int(number[i]))
        if not done[first[i] + j]
    ]
    with ThreadPoolExecutor() as pool:
        list(pool.map(lambda at: fill_rows(lines, tables, *at), rows))
    return tables


def _bearings(scene: Scene, line: RodeLine, count: int, start: Floats) -> Floats:
    """Bearings from an anchor over the domain, (row,)."""
    d = scene.domain
    if d.west_m <= line.east_m <= d.east_m and d.south_m <= line.north_m <= d.north_m:
        return np.linspace(0.0, 2.0 * math.pi, count)
    middle = _toward(line, start)
    corners = [(e, n) for e in (d.west_m, d.east_m) for n in (d.south_m, d.north_m)]
    turn = np.array([math.atan2(e - line.east_m, n - line.north_m) for e, n in corners]) - middle
    turn = (turn + math.pi) % (2.0 * math.pi) - math.pi
    low, high = float(turn.min()) - _BEYOND_RAD, float(turn.max()) + _BEYOND_RAD
    close = _CLOSE_SHARE * max(-low, high)
    even = np.linspace(math.asinh(low / close), math.asinh(high / close), count)
    return np.asarray(middle + close * np.sinh(even))


def _toward(line: RodeLine, start: Floats) -> float:
    """Bearing from an anchor to the roller of a boat at ``start``. [rad]"""
    sine, cosine = math.sin(start[2]), math.cos(start[2])
    east_m = start[0] + line.x_m * sine + line.y_m * cosine - line.east_m
    north_m = start[1] + line.x_m * cosine - line.y_m * sine - line.north_m
    return math.atan2(east_m, north_m)
