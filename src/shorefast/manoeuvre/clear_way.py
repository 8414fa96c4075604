"""A clear way out: known water as wide as she is and more, the bed's doubt taken off."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from shorefast.manoeuvre.way_in import WayIn
from shorefast.stay import KEEP_OFF, Stay, lie_of, neighbour_reach

Floats = NDArray[np.float64]
Place = tuple[float, float]
FARTHEST_M, _STEP_M, _BEARINGS = 300.0, 5.0, 72
OPEN_M, _LEAST_LENGTHS = 500.0, 3.0
BESIDE_M = 5.0
"""Clear water wanted beside her on her way out: our choice."""
CLEAR_M = 1.0
"""Water wanted under the deepest part of her while she moves about: our choice."""
# of the depth surface, taken off it: 95 of 100 on one side
BED_DOUBT = 1.645
_BROKEN_OFF_M, _BROKEN_OFF_LEAST_M = 120.0, 60.0
_TOLD_AT_M = (10.0, 20.0, 40.0, 60.0, 80.0, 100.0)
_SPREAD_RAD, _TRIED = math.radians(75.0), 15


@dataclass(frozen=True)
class ClearWay:
    """How far one bearing is clear.

    Attributes
    ----------
    bearing_rad : float
        NaN where no such way is known.
    clear_m : float
        How far it is known to be clear, as far as was looked at most. [m]
    along_m, depth_m : arrays
        Least depth across the way, the bed's doubt taken off, at places along it. [m]
    ends : str
        What ends it: "unknown", "shallow", "shore", or the name of what is in the way;
        empty where nothing does as far as was looked.
    """

    bearing_rad: float
    clear_m: float
    along_m: Floats
    depth_m: Floats
    ends: str

    @property
    def depths(self) -> tuple[tuple[float, float], ...]:
        """Distances along it and the least depth there, NaN past its end; none of ``NO_WAY``."""
        if not self.along_m.size:
            return ()
        depths_m = np.interp(_TOLD_AT_M, self.along_m, self.depth_m, right=math.nan)
        return tuple(zip(_TOLD_AT_M, map(float, depths_m), strict=True))


NO_WAY = ClearWay(math.nan, 0.0, np.zeros(0), np.zeros(0), "unknown")


def water_m(stay: Stay, level_m: float, east_m: Floats, north_m: Floats) -> Floats:
    """Water over the bed, the bed's doubt taken off; NaN unknown. [m]

    level_m : water above chart datum; east_m, north_m : places, of one shape
    """
    surface = stay.bay.surface
    bed_m = surface.level_at(east_m, north_m) + BED_DOUBT * surface.deviation_at(east_m, north_m)
    depth: Floats = level_m - bed_m
    return depth


def draught_m(stay: Stay) -> float:
    """Her deepest part. [m]"""
    return max([stay.boat.hull.draught_m, *(part.draught_m for part in stay.boat.underwater)])


def leads_out(stay: Stay, level_m: float) -> ClearWay:
    """The bearing from over the anchor that leads out: no land ahead, then most clear water.

    Three lengths known to be clear at least if any way is. Of those the one with no land for
    500 m ahead, or the farthest from it; then the one known to be clear farthest; then the
    nearest to the heading she is meant to lie at. Tide and traffic are left out.

    Parameters
    ----------
    level_m : float
        Water above chart datum. [m]
    """
    lie = lie_of(stay)
    start, heading = (lie.let_go_east_m, lie.let_go_north_m), lie.heading_rad
    turns = np.arange(_BEARINGS) * (2.0 * math.pi / _BEARINGS)
    turned = np.abs(np.mod(turns + math.pi, 2.0 * math.pi) - math.pi)
    ways = [clear_along(stay, level_m, start, heading + float(turn)) for turn in turns]
    enough_m = _LEAST_LENGTHS * stay.boat.hull.length_m
    keys = [
        (way.clear_m < enough_m, -_open_m(stay, start, way.bearing_rad), -way.clear_m, float(turn))
        for way, turn in zip(ways, turned, strict=True)
    ]
    return ways[min(range(_BEARINGS), key=keys.__getitem__)]


def broken_off(way: WayIn) -> ClearWay:
    """Where she goes from the hold when her way in is broken off, looked at for 120 m.

    The bearing nearest to straight out of those 60 m clear at least, with nothing known to be
    in the way beyond; ``NO_WAY`` where there is none within 75 degrees of it.
    """
    arrival = way.arrival
    start, out = way.roller_at(way.hold_m), arrival.way_in_rad + math.pi
    for step in sorted(range(-_TRIED, _TRIED + 1), key=abs):
        bearing = out + step / _TRIED * _SPREAD_RAD
        found = clear_along(arrival.stay, arrival.level_m, start, bearing, _BROKEN_OFF_M)
        if found.clear_m >= _BROKEN_OFF_LEAST_M and found.ends in {"", "unknown"}:
            return found
    return NO_WAY


def clear_along(
    stay: Stay, level_m: float, start_m: Place, bearing_rad: float, far_m: float = FARTHEST_M
) -> ClearWay:
    """How far a bearing is clear, as wide as she is and 5 m to either side, 1 m under her.

    Parameters
    ----------
    level_m : float
        Water above chart datum. [m]
    start_m : (east, north)
    far_m : float
        How far to look. [m]
    """
    bearing_rad %= 2.0 * math.pi
    half_m = 0.5 * stay.boat.hull.beam_m + BESIDE_M
    along_m = np.arange(0.0, far_m + 0.5 * _STEP_M, _STEP_M)
    aside_m = np.linspace(-half_m, half_m, 5)
    sine, cosine = math.sin(bearing_rad), math.cos(bearing_rad)
    east_m = start_m[0] + along_m[:, None] * sine + aside_m * cosine
    north_m = start_m[1] + along_m[:, None] * cosine - aside_m * sine
    least_m = np.asarray(water_m(stay, level_m, east_m, north_m).min(axis=1))
    bad = ~(least_m >= draught_m(stay) + CLEAR_M)
    number = int(np.argmax(bad)) if bad.any() else along_m.size
    clear_m = float(along_m[max(number - 1, 0)])
    ends = "" if not bad.any() else "unknown" if np.isnan(least_m[number]) else "shallow"
    leg = LineString([start_m, (start_m[0] + clear_m * sine, start_m[1] + clear_m * cosine)])
    clear_m, ends = _to_things(stay, leg, (clear_m, ends), half_m)
    far = along_m <= clear_m
    return ClearWay(bearing_rad, clear_m, along_m[far], least_m[far], ends)


def _open_m(stay: Stay, start_m: Place, bearing_rad: float) -> float:
    """How far ahead there is no land, 500 m at most. [m]"""
    hard = stay.bay.land if stay.bay.land is not None else stay.bay.shore
    start = np.array(start_m)
    ahead = np.array([math.sin(bearing_rad), math.cos(bearing_rad)])
    if hard is None:
        return OPEN_M
    met = LineString([start, start + OPEN_M * ahead]).intersection(hard)
    if met.is_empty:
        return OPEN_M
    return float(((shapely.get_coordinates(met) - start) @ ahead).min())


def _to_things(
    stay: Stay, leg: LineString, so_far: tuple[float, str], half_m: float
) -> tuple[float, str]:
    """The clear way cut short by shore, neighbours and zones to keep out of."""
    clear_m, ends = so_far
    if clear_m <= 0.0:
        return so_far
    corners = shapely.get_coordinates(leg)
    ahead = (corners[1] - corners[0]) / clear_m
    swath = leg.buffer(half_m, cap_style="flat")
    for name, thing in _things(stay):
        met = shapely.intersection(swath, thing)
        if not met.is_empty:
            to_m = max(0.0, float(((shapely.get_coordinates(met) - corners[0]) @ ahead).min()))
            if to_m < clear_m:
                clear_m, ends = to_m, name
    return clear_m, ends


def _things(stay: Stay) -> list[tuple[str, BaseGeometry]]:
    hard = stay.bay.land if stay.bay.land is not None else stay.bay.shore
    things: list[tuple[str, BaseGeometry]] = [] if hard is None else [("shore", hard)]
    for neighbour in stay.neighbours:
        shape, reach_m = neighbour_reach(neighbour)
        things.append((neighbour.name, shape.buffer(reach_m)))
    things += [(zone.name, zone.shape) for zone in stay.bay.zones if zone.kind in KEEP_OFF]
    return things
