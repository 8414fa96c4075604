"""Where she could make fast: known points, and stretches of shore where none is known."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from shorefast.bay import NO_LINES, ShorePoint, Zone
from shorefast.stay.outlines import neighbour_outline
from shorefast.stay.plan import Stay

Floats = NDArray[np.float64]
UNPROVEN = "unproven shore"
"""Kind of a point nobody told of: a place on the shore line where something may be."""
_APART_M = 15.0
_KNOWN_NEAR_M = 40.0
_INLAND_M = 2.0
_ABOVE_M = 1.0
_FARTHEST_INLAND_M = 150.0
_HERS_LENGTHS = 2.0
# how far apart the ends of two stern lines are: known points, and unproven shore
_KNOWN_M, _UNPROVEN_M = (5.0, 45.0), (20.0, 35.0)
_SEEN_M = 12.0
_AS_NEAR_M = 0.6
# the ways to water as near are one way where they point this much alike: our choice
_ONE_WAY = 0.2


@dataclass(frozen=True)
class Ashore:
    """Points a line may lead to, those of unproven shore last, and why others may not.

    dropped : how many points were left out, by the reason in words
    """

    points: tuple[ShorePoint, ...]
    dropped: Counter[str]


@dataclass(frozen=True)
class SternEnds:
    """One or two points for the stern lines, port first, and how a boat between them lies.

    mark_east_m, mark_north_m : the edge of the water astern of her [m]
    seaward_rad : away from the shore there
    """

    points: tuple[ShorePoint, ...]
    mark_east_m: float
    mark_north_m: float
    seaward_rad: float

    @property
    def unproven(self) -> bool:
        """Whether a point of it is one nobody knows to be there."""
        return any(point.kind == UNPROVEN for point in self.points)


def in_force(zone: Zone, stay: Stay) -> bool:
    """Whether a zone is in force at any time of the stay."""
    begin, end = (
        None if one is None else one.astimezone(UTC) for one in (zone.from_utc, zone.until_utc)
    )
    return (begin is None or begin <= stay.until_utc) and (end is None or end > stay.from_utc)


def lying_there(stay: Stay) -> tuple[tuple[str, BaseGeometry], ...]:
    """Boats that lie there already: name and hull, from neighbours and the bay's zones."""
    told = [(one.name, shapely.Polygon(neighbour_outline(one))) for one in stay.neighbours]
    zones = [
        (one.name, one.shape)
        for one in stay.bay.zones
        if one.kind == "neighbour" and in_force(one, stay)
    ]
    return (*told, *zones)


def _long_m(shape: BaseGeometry) -> float:
    west, south, east, north = shapely.oriented_envelope(shape).bounds
    corners = np.array(shapely.get_coordinates(shapely.oriented_envelope(shape)))
    sides = np.hypot(*np.diff(corners, axis=0).T)
    return float(sides.max()) if sides.size else max(east - west, north - south)


def _hers(stay: Stay) -> dict[str, str]:
    """Points that are likely taken: of each boat lying there the nearest, if it is near."""
    taken = {}
    for name, hull in lying_there(stay):
        points = [(hull.distance(Point(p.east_m, p.north_m)), p.name) for p in stay.bay.points]
        if points and min(points)[0] < _HERS_LENGTHS * _long_m(hull):
            taken[min(points)[1]] = name
    return taken


def _unfit(stay: Stay, point: ShorePoint, hers: dict[str, str], highest_m: float) -> str | None:
    """Why a point cannot be counted on; None where nothing speaks against it."""
    here = Point(point.east_m, point.north_m)
    if point.name in hers:
        return f"the point nearest {hers[point.name]}, who lies there: likely hers"
    if point.height_m < highest_m:
        return "the point is under water at high water"
    for zone in stay.bay.zones:
        if zone.kind in NO_LINES and in_force(zone, stay) and zone.shape.intersects(here):
            return f"the point stands in the zone '{zone.name}', {zone.kind}"
    if stay.bay.shore is not None and stay.bay.shore.distance(here) > _FARTHEST_INLAND_M:
        return "the point is far from the shore"
    return None


def _along_shore(stay: Stay) -> Iterator[tuple[float, float]]:
    """Places at even steps along the shore line, a little inland."""
    shore, land = stay.bay.shore, stay.bay.land
    if shore is None or land is None:
        return
    for part in shapely.get_parts(shore):
        steps = int(part.length // _APART_M)
        for k in range(steps + 1):
            at, ahead = (shapely.line_interpolate_point(part, k * _APART_M + d) for d in (0.0, 1.0))
            east, north = ahead.x - at.x, ahead.y - at.y
            size = math.hypot(east, north)
            if size == 0.0:
                continue
            for side in (1.0, -1.0):
                inland = (
                    at.x + side * _INLAND_M * north / size,
                    at.y - side * _INLAND_M * east / size,
                )
                if land.contains(Point(inland)):
                    yield inland
                    break


def _stretches(stay: Stay, known: tuple[ShorePoint, ...], highest_m: float) -> list[ShorePoint]:
    """Points of unproven shore where none is known near and the water is sounded."""
    grid = stay.bay.surface.grid
    rows, columns = grid.level_m.shape
    box = (
        grid.west_m, grid.south_m,
        grid.west_m + columns * grid.step_m, grid.south_m + rows * grid.step_m,
    )  # fmt: skip
    found: list[ShorePoint] = []
    for east_m, north_m in _along_shore(stay):
        inside = box[0] < east_m < box[2] and box[1] < north_m < box[3]
        near = [math.hypot(p.east_m - east_m, p.north_m - north_m) for p in known]
        if inside and min(near, default=math.inf) > _KNOWN_NEAR_M:
            name = f"shore {len(found) + 1}"
            found.append(ShorePoint(name, UNPROVEN, east_m, north_m, highest_m + _ABOVE_M))
    return found


def ashore(stay: Stay) -> Ashore:
    """Points that lines may lead to.

    Known ones that are dry, free and outside zones where nothing is made fast; and, where
    none is known within 40 m, places on the shore line 15 m apart (our choices).
    """
    water_m = stay.water.height_m[np.isfinite(stay.water.height_m)]
    highest_m = float(water_m.max()) if water_m.size else 0.0
    hers, dropped = _hers(stay), Counter[str]()
    kept: list[ShorePoint] = []
    for point in (*stay.bay.points, *_stretches(stay, stay.bay.points, highest_m)):
        why = _unfit(stay, point, hers, highest_m)
        if why is None:
            kept.append(point)
        else:
            dropped[why] += 1
    return Ashore(tuple(kept), dropped)


def _is_water(stay: Stay, east_m: float, north_m: float) -> bool:
    land = stay.bay.land
    return land is None or not land.contains(Point(east_m, north_m))


def _edge_m(stay: Stay, from_m: tuple[float, float], toward_rad: float) -> float | None:
    """How far from a place along a bearing the water begins; None where it does not. [m]"""
    for k in range(81):
        far_m = 0.5 * k
        east_m = from_m[0] + far_m * math.sin(toward_rad)
        north_m = from_m[1] + far_m * math.cos(toward_rad)
        if _is_water(stay, east_m, north_m):
            return far_m
    return None


def _seaward(stay: Stay, at: tuple[float, float], toward_rad: float) -> SternEnds | None:
    edge_m = _edge_m(stay, at, toward_rad)
    if edge_m is None:
        return None
    east_m = at[0] + edge_m * math.sin(toward_rad)
    north_m = at[1] + edge_m * math.cos(toward_rad)
    ahead = (
        east_m + _SEEN_M * math.sin(toward_rad),
        north_m + _SEEN_M * math.cos(toward_rad),
    )
    open_water = not (
        stay.bay.land is not None
        and LineString([(east_m, north_m), ahead]).intersection(stay.bay.land).length > 1.0
    )
    if not open_water or not math.isfinite(float(stay.bay.surface.level_at(*ahead))):
        return None
    return SternEnds((), east_m, north_m, toward_rad)


def _pair(stay: Stay, one: ShorePoint, other: ShorePoint) -> Iterator[SternEnds]:
    east_m, north_m = other.east_m - one.east_m, other.north_m - one.north_m
    apart_m = math.hypot(east_m, north_m)
    least_m, most_m = _UNPROVEN_M if one.kind == UNPROVEN else _KNOWN_M
    if not least_m <= apart_m <= most_m:
        return
    middle = (one.east_m + 0.5 * east_m, one.north_m + 0.5 * north_m)
    along = math.atan2(east_m, north_m)
    # looking seaward the port one is to the left
    for port, starboard, turn in ((one, other, -0.5 * math.pi), (other, one, 0.5 * math.pi)):
        toward = along + turn
        found = _seaward(stay, middle, toward)
        if found is not None:
            yield replace(found, points=(port, starboard), seaward_rad=_round(toward))


def _alone(stay: Stay, point: ShorePoint) -> Iterator[SternEnds]:
    """One stern line: seaward is away from the nearest shore."""
    shore = stay.bay.shore
    if shore is None:
        return
    here = (point.east_m, point.north_m)
    found = []
    for toward in np.arange(0.0, 2.0 * math.pi, math.pi / 18.0).tolist():
        ends = _seaward(stay, here, toward)
        if ends is not None:
            far_m = math.hypot(ends.mark_east_m - here[0], ends.mark_north_m - here[1])
            found.append((far_m, ends))
    if not found:
        return
    nearest_m = min(far_m for far_m, _ in found)
    near = [ends for far_m, ends in found if far_m <= nearest_m + _AS_NEAR_M]
    # of several ways that are as near the one between them
    sine = sum(math.sin(ends.seaward_rad) for ends in near)
    cosine = sum(math.cos(ends.seaward_rad) for ends in near)
    if math.hypot(sine, cosine) < _ONE_WAY * len(near):
        # a rock with water all round it: no way is seaward, so one every 30 degrees is tried
        for ends in near[::3]:
            yield replace(ends, points=(point,), seaward_rad=_round(ends.seaward_rad))
        return
    middle = _seaward(stay, here, math.atan2(sine, cosine)) or near[len(near) // 2]
    yield replace(middle, points=(point,), seaward_rad=_round(middle.seaward_rad))


def _round(bearing_rad: float) -> float:
    return math.fmod(bearing_rad + 2.0 * math.pi, 2.0 * math.pi)


def stern_ends(stay: Stay, points: tuple[ShorePoint, ...]) -> tuple[SternEnds, ...]:
    """Every pair of points a boat could lie before, stern to, and every single one.

    Both points of a pair are known, or both of unproven shore; single ones known, but of
    unproven shore too where there is no second line aboard.
    """
    alone = len(stay.boat.lines) < 2
    found: list[SternEnds] = []
    for i, one in enumerate(points):
        for other in points[i + 1 :]:
            if (one.kind == UNPROVEN) == (other.kind == UNPROVEN):
                found.extend(_pair(stay, one, other))
        if one.kind != UNPROVEN or alone:
            found.extend(_alone(stay, one))
    return tuple(found)
