"""Every line ashore a second time, by the tables it has already."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from shorefast.mooring.batch import Moored
from shorefast.mooring.scene import Packed, Scene, ShoreLine
from shorefast.mooring.shapes import Ints

# fields of the packed lines that have one entry a line
_BY_LINE = (
    "rode", "x_m", "y_m", "z_m", "east_m", "north_m", "level_m", "length_m", "weight_npm",
    "stiffness_n", "friction", "first", "last", "roller_m", "plane",
)  # fmt: skip


def with_copies(ready: Moored) -> Moored:
    """The same scene with each shore line there twice, the second ones after all others.

    Second lines come in the order of the first ones, and each is like it to the bit. A
    mask says which of them are set.

    Parameters
    ----------
    ready : Moored

    Returns
    -------
    Moored
        Nothing is filled anew: a second line looks up the first one's table.
    """
    lines = ready.scene.lines
    again = [i for i, line in enumerate(lines) if isinstance(line, ShoreLine)]
    at = np.array([*range(len(lines)), *again], np.int64)
    cells = ready.boat.cells
    boat = ready.boat._replace(
        lines=_packed_again(ready.boat.lines, at),
        cells=cells._replace(spec=np.ascontiguousarray(cells.spec[at])),
    )
    tables = ready.tables._replace(
        row_from=ready.tables.row_from[at],
        bearings=ready.tables.bearings[at],
        idle_share=ready.tables.idle_share[at],
    )
    scene = Scene((*lines, *(lines[i] for i in again)), ready.scene.domain, ready.scene.wind)
    return replace(ready, scene=scene, boat=boat, tables=tables)


def _packed_again(packed: Packed, at: Ints) -> Packed:
    return packed._replace(**{name: getattr(packed, name)[at] for name in _BY_LINE})
