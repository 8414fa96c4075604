"""The way out: from over the anchor the bearing with most clear water, and its depths."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from shorefast.stay import KEEP_OFF, Stay, lie_of, neighbour_reach

Floats = NDArray[np.float64]
FARTHEST_M, _STEP_M, _BEARINGS = 300.0, 5.0, 72
OPEN_M, _LEAST_LENGTHS = 500.0, 3.0
BESIDE_M = 5.0
"""Clear water wanted beside her on her way out: our choice."""
_WATER_M = 0.5


@dataclass(frozen=True)
class WayOut:
    """The clearest way from over the anchor; nothing where there is none.

    Attributes
    ----------
    bearing_rad : float
        NaN where nothing is known of the water about the anchor.
    clear_m : float
        How far it is known to be clear, 300 m at most. [m]
    along_m, depth_m : arrays
        Least depth at low doubt across the way, at places along it. [m]
    ends : str
        What ends it: "unknown", "shallow", "shore", or the name of what is in the way;
        empty where nothing does within 300 m.
    """

    bearing_rad: float
    clear_m: float
    along_m: Floats
    depth_m: Floats
    ends: str


def way_out(stay: Stay, level_m: float) -> WayOut:
    """The bearing from the anchor that leads out: no land ahead, then most clear water.

    As wide as she is and 5 m to either side, half a metre under her, three lengths known to
    be clear at least if any way is. Of those the one with no land for 500 m ahead, or the
    farthest from it; then the one known to be clear farthest; then the nearest to the
    heading she is meant to lie at. Tide and traffic are left out.

    Parameters
    ----------
    level_m : float
        Water above chart datum. [m]
    """
    heading = lie_of(stay).heading_rad
    turns = np.arange(_BEARINGS) * (2.0 * math.pi / _BEARINGS)
    turned = np.abs(np.mod(turns + math.pi, 2.0 * math.pi) - math.pi)
    ways = [_along(stay, level_m, (heading + float(turn)) % (2.0 * math.pi)) for turn in turns]
    enough_m = _LEAST_LENGTHS * stay.boat.hull.length_m
    keys = [
        (way.clear_m < enough_m, -_open_m(stay, way.bearing_rad), -way.clear_m, float(turn))
        for way, turn in zip(ways, turned, strict=True)
    ]
    return ways[min(range(_BEARINGS), key=keys.__getitem__)]


def _open_m(stay: Stay, bearing_rad: float) -> float:
    """How far ahead of the anchor there is no land, 500 m at most. [m]"""
    hard = stay.bay.land if stay.bay.land is not None else stay.bay.shore
    lie = lie_of(stay)
    start = np.array([lie.let_go_east_m, lie.let_go_north_m])
    ahead = np.array([math.sin(bearing_rad), math.cos(bearing_rad)])
    if hard is None:
        return OPEN_M
    met = LineString([start, start + OPEN_M * ahead]).intersection(hard)
    if met.is_empty:
        return OPEN_M
    return float(((shapely.get_coordinates(met) - start) @ ahead).min())


def _along(stay: Stay, level_m: float, bearing_rad: float) -> WayOut:
    lie, half_m = lie_of(stay), 0.5 * stay.boat.hull.beam_m + BESIDE_M
    along_m = np.arange(0.0, FARTHEST_M + 0.5 * _STEP_M, _STEP_M)
    aside_m = np.linspace(-half_m, half_m, 5)
    sine, cosine = math.sin(bearing_rad), math.cos(bearing_rad)
    east_m = lie.let_go_east_m + along_m[:, None] * sine + aside_m * cosine
    north_m = lie.let_go_north_m + along_m[:, None] * cosine - aside_m * sine
    depth_m = level_m - stay.bay.surface.level_at(east_m, north_m)
    least_m = np.asarray(depth_m.min(axis=1))
    wanted_m = max([stay.boat.hull.draught_m] + [p.draught_m for p in stay.boat.underwater])
    bad = ~(least_m >= wanted_m + _WATER_M)
    number = int(np.argmax(bad)) if bad.any() else along_m.size
    clear_m = float(along_m[max(number - 1, 0)])
    ends = "" if not bad.any() else "unknown" if np.isnan(least_m[number]) else "shallow"
    clear_m, ends = _to_things(stay, bearing_rad, (clear_m, ends), half_m)
    far = along_m <= clear_m
    return WayOut(bearing_rad, clear_m, along_m[far], least_m[far], ends)


def _to_things(
    stay: Stay, bearing_rad: float, so_far: tuple[float, str], half_m: float
) -> tuple[float, str]:
    """The clear way cut short by shore, neighbours and zones to keep out of."""
    lie = lie_of(stay)
    start = np.array([lie.let_go_east_m, lie.let_go_north_m])
    ahead = np.array([math.sin(bearing_rad), math.cos(bearing_rad)])
    clear_m, ends = so_far
    if clear_m <= 0.0:
        return so_far
    swath = LineString([start, start + clear_m * ahead]).buffer(half_m, cap_style="flat")
    for name, thing in _things(stay):
        met = shapely.intersection(swath, thing)
        if not met.is_empty:
            corners = shapely.get_coordinates(met) - start
            to_m = max(0.0, float((corners @ ahead).min()))
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
