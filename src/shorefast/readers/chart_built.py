"""What is built or moored in the water: piers, walls, piles, dolphins, pontoons, hulks."""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry

from shorefast.bay import Frame
from shorefast.readers.chart_cell import Cell
from shorefast.readers.chart_codes import Says, code_of, meaning
from shorefast.readers.chart_depths import in_plane

BESIDE_BUILT_M = 3.0
ROUND_BUILT_M = 5.0
OFF_LAND_M = 1.0
BUILT = {
    "SLCONS": "built shore",
    "PILPNT": "pile",
    "MORFAC": "mooring",
    "PONTON": "pontoon",
    "HULKES": "hulk",
    "FLODOC": "floating dock",
    "OFSPLF": "platform",
    "PYLONS": "pylon",
}
_TOLD_BY = {"SLCONS": "CATSLC", "PILPNT": "CATPLE", "MORFAC": "CATMOR"}
# always under water, covers and uncovers, awash
_TOP_UNKNOWN = (3, 4, 5)


def near_land(cell: Cell, plane: Frame) -> BaseGeometry:
    """All land areas of a cell and a metre round them, in the plane. [m]"""
    areas = [
        shapely.make_valid(in_plane(one.shape, plane))
        for _, one in cell.of("LNDARE")
        if one.shape is not None and "Polygon" in one.shape.geom_type
    ]
    near: BaseGeometry = shapely.union_all(areas).buffer(OFF_LAND_M)
    shapely.prepare(near)
    return near


def off_land(shape: BaseGeometry, near: BaseGeometry, plane: Frame) -> BaseGeometry | None:
    """What of a built thing stands clear of charted land, in the plane; None: nothing does. [m]

    A quay that is the edge of a land area is that land's shore already.
    """
    drawn = shapely.make_valid(in_plane(shape, plane))
    if not drawn.intersects(near):
        return drawn
    clear, most = drawn.difference(near), _size(drawn)
    parts = [part for part in shapely.get_parts(clear) if _size(part) == most and _counts(part)]
    return shapely.union_all(parts) if parts else None


def _size(part: BaseGeometry) -> int:
    """0 a point, 1 a line, 2 an area."""
    return int(shapely.get_dimensions(part))


def _counts(part: BaseGeometry) -> bool:
    """Whether more than a splinter is left of it: a metre, or a square metre."""
    if _size(part) == 0:
        return not part.is_empty
    return bool((part.area or part.length) > OFF_LAND_M)


def round_built_m(shape: BaseGeometry) -> float:
    """How far round it a built thing is taken to reach: 5 m a point, 3 m a line. [m]"""
    return ROUND_BUILT_M if _size(shape) == 0 else BESIDE_BUILT_M


def built_words(acronym: str, says: Says) -> str:
    """What it is, in what state, and how it stands to the water."""
    key = _TOLD_BY.get(acronym)
    own = None if key is None else meaning(key.lower(), code_of(says, key))
    state = meaning("condition", code_of(says, "CONDTN"))
    water = meaning("water", code_of(says, "WATLEV"))
    return ", ".join(part for part in (own or BUILT[acronym], state, water) if part)


def top_unknown(acronym: str, says: Says) -> bool:
    """Whether a built thing is under water at times, nobody says how deep."""
    return acronym in BUILT and code_of(says, "WATLEV") in _TOP_UNKNOWN
