"""Marks of the bay, and two of them in line: whether she moves can be seen against them."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from shorefast.basis import Assumption, Basis
from shorefast.bay import DANGERS, Bay

Floats = NDArray[np.float64]

EYE_RAD = math.radians(10.0 / 60.0)
"""Change of the gap between two marks that is seen: ten of the eye's own minutes of arc.

A normal eye parts two points one minute apart (Snellen's letters, from memory); a tree is no
point and a deck no tripod: ten times that is our choice.
"""
GAP_SHARE = 0.1
"""Marks that stand apart: the gap must change by a tenth of itself (our choice)."""
STAND_M = 0.3
"""The eye is not back at the same place to better than this (our choice). [m]"""
EYE_HEIGHT_M = 2.5
GAP_MOST_RAD = math.radians(6.0)
SQUARE_LEAST = math.sin(math.radians(40.0))
"""A transit is looked along no farther than 50 degrees off square to the way asked."""
NEAREST_M, FARTHEST_M, APART_LEAST_M, APART_SHARE = 8.0, 2000.0, 8.0, 0.25
_BEHIND_FROM, _BEHIND_TO = 1.5, 4.0
_SMOOTH_M, _TURN_LEAST_RAD, _INSIDE_M = 3.0, math.radians(30.0), 0.5
_OF_ITSELF_M, _SAMPLE_M = 12.0, 2.0


@dataclass(frozen=True)
class Mark:
    """A thing ashore to look at, as seen from a place.

    Attributes
    ----------
    name : str
        As the bay has it; empty for what has none.
    kind : str
        "point" ashore, "landmark", "headland" of the drawn shore, "rock" out of the water;
        "behind": whatever the crew finds in line behind the nearer mark, on land there.
    height_m : float
        Of its foot above chart datum; NaN unknown. [m]
    distance_m, bearing_rad : float
        From the eye.
    lit : bool
        Whether it is known to carry a light.
    """

    name: str
    kind: str
    east_m: float
    north_m: float
    height_m: float
    distance_m: float
    bearing_rad: float
    lit: bool = False


@dataclass(frozen=True)
class Transit:
    """Two marks nearly in line.

    Attributes
    ----------
    near, far : Mark
    bearing_rad : float
        Of the nearer.
    gap_rad : float
        How far the farther stands to the right of it (left: below 0).
    moved_per_rad_m : float
        How far she goes for one radian of opening. [m]
    moved_m : float
        How far she has gone when an eye sees it. [m]
    by_night : bool
        Whether it is told for the night; ``lamps``: a lamp must be set at both first.
    along : bool
        Whether it tells of going along the chain; else of going sideways.
    """

    near: Mark
    far: Mark
    bearing_rad: float
    gap_rad: float
    moved_per_rad_m: float
    moved_m: float
    by_night: bool
    along: bool
    lamps: bool = False


@dataclass(frozen=True)
class Eye:
    """Where somebody stands: place in the bay, height above datum, and water there. [m]"""

    east_m: float
    north_m: float
    level_m: float

    @property
    def height_m(self) -> float:
        """Of the eye above chart datum. [m]"""
        return self.level_m + EYE_HEIGHT_M


def marks_seen(bay: Bay, eye: Eye) -> tuple[Mark, ...]:
    """All that the bay's files tell and an eye can see: points, landmarks, headlands, rocks.

    What stands behind land whose height nobody told counts as not seen. Neighbours are
    left out: they move.

    Parameters
    ----------
    bay : Bay
    eye : Eye
    """
    found = [*_points(bay), *_landmarks(bay), *_headlands(bay), *_rocks(bay, eye.level_m)]
    placed = [_from(eye, one) for one in found]
    near = [one for one in placed if NEAREST_M <= one.distance_m <= FARTHEST_M]
    return tuple(one for one in near if not one.height_m < eye.level_m and _seen(bay, eye, one))


def _from(eye: Eye, mark: Mark) -> Mark:
    east, north = mark.east_m - eye.east_m, mark.north_m - eye.north_m
    bearing = math.atan2(east, north) % (2.0 * math.pi)
    return replace(mark, distance_m=math.hypot(east, north), bearing_rad=bearing)


def _mark(
    name: str, kind: str, at: tuple[float, float], height_m: float, lit: bool = False
) -> Mark:
    return Mark(name, kind, at[0], at[1], height_m, math.nan, math.nan, lit)


def _points(bay: Bay) -> list[Mark]:
    return [_mark(one.name, "point", (one.east_m, one.north_m), one.height_m) for one in bay.points]


def _landmarks(bay: Bay) -> list[Mark]:
    return [
        _mark(
            one.name, "landmark", (one.east_m, one.north_m),
            math.nan if one.height_m is None else one.height_m, one.lit,
        )
        for one in bay.landmarks
    ]  # fmt: skip


def _headlands(bay: Bay) -> list[Mark]:
    """Where the drawn shore turns sharply about land."""
    if bay.shore is None or bay.land is None:
        return []
    found = []
    for line in shapely.get_parts(shapely.line_merge(bay.shore)):
        if isinstance(line, LineString):
            at = shapely.get_coordinates(line.simplify(_SMOOTH_M))
            found += _headlands_of(bay.land, at)
    return found


def _headlands_of(land: BaseGeometry, at: Floats) -> list[Mark]:
    """The sharp corners of one line with land on their inside; a ring's own joint too."""
    if len(at) > 3 and np.allclose(at[0], at[-1]):
        at = np.concatenate([at, at[1:2]])
    leg = np.diff(at, axis=0)
    course = np.arctan2(leg[:, 0], leg[:, 1])
    turn = (np.diff(course) + math.pi) % (2.0 * math.pi) - math.pi
    found = []
    for k in np.flatnonzero(np.abs(turn) >= _TURN_LEAST_RAD):
        inward = leg[k + 1] / np.hypot(*leg[k + 1]) - leg[k] / np.hypot(*leg[k])
        inside = at[k + 1] + _INSIDE_M * inward / np.hypot(*inward)
        if land.contains(Point(inside)):
            found.append(
                _mark("", "headland", (float(at[k + 1, 0]), float(at[k + 1, 1])), math.nan)
            )
    return found


def _rocks(bay: Bay, level_m: float) -> list[Mark]:
    """Charted dangers whose top is known to stand out of the water now."""
    found = []
    for zone in bay.zones:
        if zone.kind not in DANGERS:
            continue
        middle = zone.shape.centroid
        top_m = float(bay.surface.level_at(middle.x, middle.y))
        if top_m > level_m:
            found.append(_mark(zone.name, "rock", (middle.x, middle.y), top_m))
    return found


def _seen(bay: Bay, eye: Eye, mark: Mark) -> bool:
    """Whether nothing known stands between, and nothing unknown may."""
    if bay.land is None:
        return True
    way = LineString([(eye.east_m, eye.north_m), (mark.east_m, mark.north_m)])
    between = way.intersection(bay.land).difference(
        Point(mark.east_m, mark.north_m).buffer(_OF_ITSELF_M)
    )
    if between.is_empty or between.length < 1e-6:
        return True
    foot_m = mark.height_m if math.isfinite(mark.height_m) else eye.level_m
    at = shapely.get_coordinates(between.segmentize(_SAMPLE_M))
    share = np.hypot(at[:, 0] - eye.east_m, at[:, 1] - eye.north_m) / mark.distance_m
    ground_m = bay.surface.level_at(at[:, 0], at[:, 1])
    sight_m = eye.height_m + share * (foot_m - eye.height_m)
    return bool(np.all(ground_m < sight_m))


def transits(
    marks: tuple[Mark, ...], land: BaseGeometry | None, along_rad: float, *, along: bool
) -> tuple[Transit, ...]:
    """Pairs of marks by how little she must move until an eye sees them open, best first.

    Both known; or a known one and whatever the crew finds in line behind it, where land
    lies at one and a half to four times its distance. All looked at nearly square to the
    way she would go.

    Parameters
    ----------
    marks : tuple of Mark
        All seen from one place.
    along_rad : float
        The way along the chain.
    along : bool
        Whether going along it is asked, or going sideways.
    """
    way = along_rad if along else along_rad + 0.5 * math.pi
    square = [one for one in marks if abs(math.sin(one.bearing_rad - way)) >= SQUARE_LEAST]
    pairs = [(near, far) for near in square for far in square if _apart(near, far)]
    pairs += [(near, far) for near in square for far in _behind(near, land)]
    found = [_transit(near, far, way, along) for near, far in pairs]
    kept = [one for one in found if abs(one.gap_rad) <= GAP_MOST_RAD]
    return tuple(sorted(kept, key=lambda one: _rank(one, way)))


def _rank(one: Transit, way_rad: float) -> tuple[float, str, str]:
    """Little way first; the farther from square, the more it tells of the other way too."""
    square = math.sin(one.bearing_rad - way_rad)
    return one.moved_m / square**2, one.near.name, one.far.name


def by_lights(
    marks: tuple[Mark, ...],
    land: BaseGeometry | None,
    along_rad: float,
    *,
    along: bool,
    visited: tuple[str, ...] = (),
) -> tuple[Transit, ...]:
    """As ``transits`` for the night: lit marks alone; else points ashore to set lamps at.

    ``lamps`` of those that are told says that a lamp must be set at both. Points that
    are ``visited`` for a line come before all others.
    """
    lit = tuple(one for one in marks if one.lit)
    known = transits(lit, None, along_rad, along=along)
    if known:
        return tuple(replace(one, by_night=True) for one in known)
    landed = tuple(one for one in marks if one.kind == "point")
    found = transits(landed, land, along_rad, along=along)
    found = tuple(sorted(found, key=lambda one: one.near.name not in visited))
    return tuple(replace(one, by_night=True, lamps=True) for one in found)


def _transit(near: Mark, far: Mark, way_rad: float, along: bool) -> Transit:
    gap, per_m, moved = _opening(near, far, way_rad)
    return Transit(near, far, near.bearing_rad, gap, per_m, moved, False, along)


def _behind(near: Mark, land: BaseGeometry | None) -> list[Mark]:
    """What may be found behind a mark: at the nearest land far enough behind it."""
    if land is None or not math.isfinite(near.distance_m):
        return []
    sine, cosine = math.sin(near.bearing_rad), math.cos(near.bearing_rad)
    from_m, to_m = (max(near.distance_m * share, near.distance_m + APART_LEAST_M)
                    for share in (_BEHIND_FROM, _BEHIND_TO))  # fmt: skip
    eye = (near.east_m - near.distance_m * sine, near.north_m - near.distance_m * cosine)
    ends = [(eye[0] + far_m * sine, eye[1] + far_m * cosine) for far_m in (from_m, to_m)]
    there = LineString(ends).intersection(land)
    if there.is_empty:
        return []
    far_m = from_m + float(there.distance(Point(ends[0])))
    at = (eye[0] + far_m * sine, eye[1] + far_m * cosine)
    return [
        replace(_mark("", "behind", at, math.nan), distance_m=far_m, bearing_rad=near.bearing_rad)
    ]


def _apart(near: Mark, far: Mark) -> bool:
    least_m = max(APART_LEAST_M, APART_SHARE * near.distance_m)
    return far.distance_m - near.distance_m >= least_m


def _opening(near: Mark, far: Mark, way_rad: float) -> tuple[float, float, float]:
    """Gap, way gone a radian of opening, way gone until it is seen."""
    gap = (far.bearing_rad - near.bearing_rad + math.pi) % (2.0 * math.pi) - math.pi
    # a mark's bearing turns by the way gone square to it over its distance
    near_turns = math.sin(near.bearing_rad - way_rad) / near.distance_m
    far_turns = math.sin(far.bearing_rad - way_rad) / far.distance_m
    turns = abs(near_turns - far_turns)
    if turns < 1e-9:
        return gap, math.inf, math.inf
    seen_rad = max(EYE_RAD, GAP_SHARE * abs(gap))
    return gap, 1.0 / turns, math.hypot(seen_rad / turns, STAND_M)


def marks_basis() -> Basis:
    """What the marks rest on."""
    return Basis(
        assumptions=(
            Assumption(
                f"An eye sees two marks open by {math.degrees(EYE_RAD) * 60.0:.0f} minutes of"
                f" arc, or by a tenth of the gap between them, from the same place on deck to"
                f" {STAND_M:g} m (our choice)",
                "In haze, rain or with a tree in the way she goes farther unseen",
            ),
            Assumption(
                "A mark behind land of unknown height is not counted on; trees and houses in the"
                " line of sight are in no file",
                "Look along both transits before the revs go up, and take others if you cannot",
            ),
        )
    )
