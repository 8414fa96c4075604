"""The marks of a chart: beacons, day marks, landmarks, lights that stand where they are."""

from __future__ import annotations

import math

from shapely.geometry.base import BaseGeometry

from shorefast.bay import Frame
from shorefast.readers.chart_cell import Cell
from shorefast.readers.chart_codes import words_of
from shorefast.readers.chart_depths import in_plane
from shorefast.readers.depths import Tally
from shorefast.readers.shore_geojson import Feature

# a light this near to a beacon is the light on it: our choice
SAME_M = 10.0
_CALLED = {
    "BCNCAR": "beacon", "BCNISD": "beacon", "BCNLAT": "beacon", "BCNSAW": "beacon",
    "BCNSPP": "beacon", "DAYMAR": "day mark", "LNDMRK": "landmark", "LIGHTS": "light",
}  # fmt: skip


def marks_of_chart(cell: Cell, plane: Frame, tally: Tally) -> list[tuple[str, Feature]]:
    """Class and place of every mark, in longitude and latitude, with its name and light.

    A light beside another mark is that mark's, and is told with it. What has no name is
    called by what it is. Buoys are left out: they swing.

    Source
    ------
    iho-s57, Appendix A (object and attribute catalogue)
    """
    found: list[tuple[str, Feature]] = []
    at: list[tuple[float, float]] = []
    for acronym, one in cell.of(*_CALLED):
        if one.shape is None or one.shape.is_empty:
            tally.add(f"{acronym}: no place given", cell.name)
            continue
        middle = one.shape.centroid
        place = _place(middle, plane)
        lit = acronym == "LIGHTS"
        beside = next((k for k, there in enumerate(at) if math.dist(there, place) <= SAME_M), None)
        if lit and beside is not None:
            other, mark = found[beside]
            found[beside] = other, Feature(mark.shape, {**mark.says, "lit": True})
            mark = Feature(middle, {"beside": True})
        else:
            name = words_of(one.says, "OBJNAM") or _CALLED[acronym]
            mark = Feature(middle, {"name": name, "lit": lit})
        found.append((acronym, mark))
        at.append(place)
    return found


def _place(middle: BaseGeometry, plane: Frame) -> tuple[float, float]:
    point = in_plane(middle, plane)
    return float(point.x), float(point.y)
