"""Tables of a scene's lines over the room she has.

A table holds, by water level, bearing (one for a shore line) and node, the straight
distance between the line's ends (the chord), the pull along it, its slope against the
chord, and for a rode the vertical pull, tension and uplift at the shank and the length
on the bed. Along the chord a taut line hardly knows the water level, so that straight
lines between levels do.
"""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from shorefast.compiled import kernel
from shorefast.mooring.response import bed_along, pieces
from shorefast.mooring.scene import Packed, RodeLine, Scene
from shorefast.mooring.shapes import Floats, Ints
from shorefast.mooring.table_nodes import NODE_COLUMNS, NODES, rode_nodes, shore_nodes

_ROWS_A_PART = 4


class LineTables(NamedTuple):
    """Tables of all lines of a scene.

    level_m : array (level,), rising, evenly spaced
    row_from, bearings : arrays (line,), first row of each line and how many it has
    bearing_from_rad, bearing_step_rad : arrays (line,), from the far end to the boat
    node : array (level, row, node, column)
    """

    level_m: Floats
    row_from: Ints
    bearings: Ints
    bearing_from_rad: Floats
    bearing_step_rad: Floats
    node: Floats


@kernel
def fill_row(packed: Packed, tables: LineTables, i: int, j: int) -> None:
    """Fill row ``j`` of line ``i``, every level."""
    line, node = pieces(packed, i), tables.node[:, tables.row_from[i] + j]
    if packed.rode[i] == 0:
        for k in range(tables.level_m.shape[0]):
            point_m = max(0.0, packed.level_m[i] - tables.level_m[k])
            shore_nodes(line, packed.z_m[i], point_m, node[k])
        return
    bearing_rad = tables.bearing_from_rad[i] + j * tables.bearing_step_rad[i]
    bed, known_m = bed_along(packed, i, bearing_rad, line.cum[-1])
    if math.isnan(known_m):
        node[:] = math.nan
        return
    rode_nodes(line, bed, known_m, tables.level_m + packed.z_m[i], node)


@kernel
def fill_rows(packed: Packed, tables: LineTables, i: int, rows: tuple[int, int]) -> None:
    """Fill rows of line ``i`` from the first up to, not with, the second."""
    for j in range(rows[0], rows[1]):
        fill_row(packed, tables, i, j)


@dataclass(frozen=True)
class Spread:
    """What tables must cover: water levels [m], bearings of each rode, how finely."""

    least_level_m: float
    greatest_level_m: float
    levels: int
    bearings: int


def tables_of(scene: Scene, lines: Packed, spread: Spread) -> LineTables:
    """Tables of a scene's lines for the levels, over the domain.

    A rode's bearings are those from its anchor to anywhere in the domain; all round
    where the anchor lies in it.
    """
    count = len(scene.lines)
    start, step = np.zeros(count), np.ones(count)
    number = np.ones(count, np.int64)
    for i, line in enumerate(scene.lines):
        if isinstance(line, RodeLine):
            start[i], width = _bearings(scene, line)
            number[i] = spread.bearings
            step[i] = width / max(1, spread.bearings - 1)
    levels = np.linspace(spread.least_level_m, spread.greatest_level_m, spread.levels)
    first = np.concatenate([[0], np.cumsum(number)[:-1]]).astype(np.int64)
    node = np.empty((levels.size, int(number.sum()), NODES, NODE_COLUMNS))
    tables = LineTables(levels, first, number, start, step, node)
    rows = [
        (i, (j, min(j + _ROWS_A_PART, int(number[i]))))
        for i in range(count)
        for j in range(0, int(number[i]), _ROWS_A_PART)
    ]
    with ThreadPoolExecutor() as pool:
        list(pool.map(lambda at: fill_rows(lines, tables, *at), rows))
    return tables


def _bearings(scene: Scene, line: RodeLine) -> tuple[float, float]:
    """First bearing and width of the fan from an anchor over the domain."""
    d = scene.domain
    if d.west_m <= line.east_m <= d.east_m and d.south_m <= line.north_m <= d.north_m:
        return 0.0, 2.0 * math.pi
    corners = [(e, n) for e in (d.west_m, d.east_m) for n in (d.south_m, d.north_m)]
    east = np.array([c[0] for c in corners]) - line.east_m
    north = np.array([c[1] for c in corners]) - line.north_m
    middle = math.atan2(float(east.mean()), float(north.mean()))
    turn = np.arctan2(east, north) - middle
    turn = (turn + math.pi) % (2.0 * math.pi) - math.pi
    return middle + float(turn.min()) - 0.05, float(np.ptp(turn)) + 0.1
