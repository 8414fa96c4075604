"""A scene made ready again with other lengths of its shore lines: the rode's tables stay."""

from __future__ import annotations

import numpy as np

from shorefast.mooring.batch import Moored
from shorefast.mooring.cells import cells_of
from shorefast.mooring.line_tables import fill_rows
from shorefast.mooring.rest import Boat, Space
from shorefast.mooring.scene import Scene, ShoreLine, packed
from shorefast.mooring.shapes import Floats


def relined(ready: Moored, scene: Scene, start: Floats) -> Moored:
    """The scene made ready, the rodes' tables taken over from one that was.

    Parameters
    ----------
    ready : Moored
        Of a scene that differs from this one in the lengths of shore lines, and so in
        where a solve begins, alone.
    scene : Scene
    start : array, shape (3,)
        East, north, heading from which a first solve begins.

    Returns
    -------
    Moored
        To the bit as ``moored`` would make it with tables at the same bearings.
    """
    lines, tables = packed(scene), ready.tables._replace(node=ready.tables.node.copy())
    for i, (line, was) in enumerate(zip(scene.lines, ready.scene.lines, strict=True)):
        if (
            isinstance(line, ShoreLine)
            and isinstance(was, ShoreLine)
            and line.length_m != was.length_m
        ):
            fill_rows(lines, tables, i, (0, 1))
    d = scene.domain
    space = Space(d.west_m, d.east_m, d.south_m, d.north_m, ready.boat.space.arm_m)
    boat = Boat(lines, cells_of(lines, tables), ready.boat.form, ready.boat.wind, space, False)
    return Moored(scene, boat, tables, np.asarray(start, float))
