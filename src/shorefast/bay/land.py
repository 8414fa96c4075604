"""Which side of a shore is land.

Polygons are land. A line is walked with the water on the left hand, so land lies on
its right. A piece along the edge of the file's own box is where somebody cut the data,
not a shore: a straight one of the plane, or a meridian or parallel, which far from the
origin are neither straight in the plane nor the edge of a box there.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import linemerge, polygonize, unary_union

from shorefast.bay.frame import Frame
from shorefast.bay.surface import Bounds

Floats = NDArray[np.float64]

# two centimetres: what lies on a cut was filed with the very same number
_CUT_M = 0.02
_CUT_DEG = 2e-7
_CUT_LEAST_M = 5.0
_NO_LEG = np.empty((0, 2, 2))


def shore_and_land(
    polygons: Sequence[BaseGeometry],
    lines: Sequence[BaseGeometry],
    bounds: Bounds,
    frame: Frame | None = None,
) -> tuple[BaseGeometry | None, BaseGeometry | None]:
    """Shore line and land in a box of the bay's plane; None where nothing was given.

    Parameters
    ----------
    polygons, lines : sequences of shapely geometries
        Land areas, those of one file together in one geometry; and shore lines walked
        with the water on the left. [m]
    bounds : Bounds
        The box that matters.
    frame : Frame or None
        The bay's plane, if files may be cut along meridians and parallels.
    """
    within = box(*bounds)
    walked = _merged([line.intersection(within) for line in lines])
    areas = unary_union([shapely.make_valid(part) for one in polygons for part in _areas(one)])
    edge = _without_cuts(areas, polygons, frame).intersection(within)
    land = unary_union([areas.intersection(within), _right_of(walked, within)])
    shore = unary_union([edge, *walked])
    return (None if shore.is_empty else shore), (None if land.is_empty else land)


def _merged(lines: Sequence[BaseGeometry]) -> list[LineString]:
    parts = [part for line in lines for part in shapely.get_parts(line)]
    parts = [part for part in parts if isinstance(part, LineString) and part.length > 0]
    if not parts:
        return []
    return [one for one in shapely.get_parts(linemerge(parts)) if one.length > 0]


def _areas(shape: BaseGeometry) -> list[Polygon]:
    return [part for part in shapely.get_parts(shape) if isinstance(part, Polygon)]


def _without_cuts(
    land: BaseGeometry, polygons: Sequence[BaseGeometry], frame: Frame | None
) -> BaseGeometry:
    """The outline of the land less what runs along the boxes the files were cut with."""
    if land.is_empty:
        return LineString()
    legs = [_cut_legs(rings, frame) for one in polygons if (rings := _rings(one))]
    along = shapely.line_merge(unary_union(shapely.linestrings(np.concatenate([*legs, _NO_LEG]))))
    cuts = [part for part in shapely.get_parts(along) if part.length > _CUT_LEAST_M]
    return land.boundary.difference(unary_union(cuts).buffer(1e-6)) if cuts else land.boundary


def _rings(land: BaseGeometry) -> list[Floats]:
    """Corners of every ring of one file's land, each ring shape (corner, 2). [m]"""
    return [shapely.get_coordinates(ring) for ring in shapely.get_rings(_areas(land))]


def _cut_legs(rings: Sequence[Floats], frame: Frame | None) -> Floats:
    """Legs that run along a side of the file's own box, shape (leg, 2, 2). [m]

    Its box in the plane, or in degrees about the origin.
    """
    at = np.concatenate(rings)
    starts = np.ones(len(at), bool)
    starts[np.cumsum([len(ring) for ring in rings]) - 1] = False
    leg = np.flatnonzero(starts)
    cut = _along_box(at, leg, _CUT_M)
    if frame is not None:
        lat, lon = frame.to_earth(at[:, 0], at[:, 1])
        about = (lon - frame.lon_deg + 180.0) % 360.0 - 180.0
        cut |= _along_box(np.column_stack((about, lat)), leg, _CUT_DEG)
    return np.stack((at[leg[cut]], at[leg[cut] + 1]), axis=1)


def _along_box(at: Floats, leg: NDArray[np.intp], within: float) -> NDArray[np.bool_]:
    """Which legs have both ends on the same side of the box round all places."""
    sides = (at - at.min(axis=0) <= within, at.max(axis=0) - at <= within)
    on = np.concatenate(sides, axis=1)
    return np.asarray((on[leg] & on[leg + 1]).any(axis=1), bool)


def _ends_run_on(line: LineString, reach_m: float) -> LineString:
    """The line with its first and last leg run straight on."""
    places = list(line.coords)
    if places[0] == places[-1]:
        return line
    return LineString(
        [_beyond(places[1], places[0], reach_m), *places, _beyond(places[-2], places[-1], reach_m)]
    )


def _beyond(before: Sequence[float], end: Sequence[float], reach_m: float) -> tuple[float, float]:
    east, north = end[0] - before[0], end[1] - before[1]
    length = max((east**2 + north**2) ** 0.5, 1e-9)
    return end[0] + east / length * reach_m, end[1] + north / length * reach_m


def _right_of(lines: Sequence[LineString], frame: Polygon) -> BaseGeometry:
    """The part of the box on the right hand of the lines as they are walked."""
    if not lines:
        return Polygon()
    west, south, east, north = frame.bounds
    reach_m = 2.0 * ((east - west) + (north - south))
    walls = unary_union([frame.exterior, *(_ends_run_on(line, reach_m) for line in lines)])
    faces = [face for face in polygonize(walls) if frame.covers(face.representative_point())]
    return unary_union([face for face in faces if _is_right(face, lines)])


def _is_right(face: Polygon, lines: Sequence[LineString]) -> bool:
    """Whether the shore nearest to a face has it on its right.

    A face often touches a line along much of it, so the longest touching leg decides;
    a face that touches none is judged from its middle.
    """
    lines = [line for line in lines if line.distance(face) < 1e-6] or list(lines)
    line = max(lines, key=lambda one: one.intersection(face.buffer(1e-6)).length)
    place = face.representative_point()
    touching = line.intersection(face.buffer(1e-6))
    legs = [part for part in shapely.get_parts(touching) if part.length > 0]
    if legs:
        return _leg_has_it_right(max(legs, key=lambda leg: leg.length), line, face)
    along = line.project(place)
    return _side(line, along, (place.x, place.y)) < 0.0


def _leg_has_it_right(leg: BaseGeometry, line: LineString, face: Polygon) -> bool:
    middle = leg.interpolate(0.5, normalized=True)
    along = line.project(middle)
    step_m = min(0.01, 0.1 * line.length)
    ahead, behind = line.interpolate(along + step_m), line.interpolate(max(along - step_m, 0.0))
    east, north = ahead.x - behind.x, ahead.y - behind.y
    length = max((east**2 + north**2) ** 0.5, 1e-12)
    beside = shapely.Point(middle.x + north / length * step_m, middle.y - east / length * step_m)
    return bool(face.covers(beside))


def _side(line: LineString, along_m: float, place: tuple[float, float]) -> float:
    """Positive where a place lies on the left hand of a line as it is walked there."""
    here, ahead = line.interpolate(along_m), line.interpolate(along_m + 0.01)
    east, north = ahead.x - here.x, ahead.y - here.y
    return float(east * (place[1] - here.y) - north * (place[0] - here.x))
