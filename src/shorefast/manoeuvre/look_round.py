"""Before the run: the pass to look round, and room to turn."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from shorefast.manoeuvre.arrival import Arrival
from shorefast.manoeuvre.clear_way import BED_DOUBT, CLEAR_M, draught_m, water_m
from shorefast.manoeuvre.way_in import WayIn
from shorefast.mooring import Breeze, Orders
from shorefast.stay import neighbour_reach

Floats = NDArray[np.float64]
_STEP_M, _OFF_TRIED = 2.0, 24
_TURN_S, _AHEAD_MPS, _REVS = 120.0, 1.0, 0.35
_HALF_PASS_M = (40.0, 25.0, 15.0)


@dataclass(frozen=True)
class LookRound:
    """A pass along the shore before the run, as near in as there is water for it.

    from_m, to_m : (east, north) of its ends; off_m : of its middle from the high-water line
    toward_rad : which way she goes; least_water_m : under her keel or rudder, doubt taken off
    """

    from_m: tuple[float, float]
    to_m: tuple[float, float]
    off_m: float
    toward_rad: float
    least_water_m: float


def look_round(way: WayIn) -> LookRound | None:
    """The pass square to her way in, as near the hold as there is water; None where none is."""
    arrival = way.arrival
    heading = _pass_toward(arrival)
    sine, cosine = math.sin(heading), math.cos(heading)
    for half_m, back in ((half, back) for half in _HALF_PASS_M for back in range(_OFF_TRIED)):
        along = np.arange(-half_m, half_m + 1.0, _STEP_M)
        at_m = way.hold_m - _STEP_M * back
        east_m, north_m = way.roller_at(at_m)
        east, north = east_m + along * sine, north_m + along * cosine
        spare = _spare_m(arrival, east, north)
        if np.isfinite(spare).all() and spare.min() >= CLEAR_M and _clear(arrival, east, north):
            off_m = arrival.off_m(east_m, north_m)
            ends = (float(east[0]), float(north[0])), (float(east[-1]), float(north[-1]))
            return LookRound(*ends, off_m, heading % (2.0 * math.pi), float(spare.min()))
    return None


def _spare_m(arrival: Arrival, east_m: Floats, north_m: Floats) -> Floats:
    """Water under the deepest part of her, the bed's doubt taken off; NaN unknown. [m]"""
    return water_m(arrival.stay, arrival.level_m, east_m, north_m) - draught_m(arrival.stay)


def _pass_toward(arrival: Arrival) -> float:
    """Square to the way in, against the wind: so she goes slowly."""
    right = arrival.way_in_rad + 0.5 * math.pi
    return right if math.cos(arrival.wind.from_rad - right) >= 0.0 else right + math.pi


def _clear(arrival: Arrival, east_m: Floats, north_m: Floats) -> bool:
    """Whether a line keeps clear of neighbours as they swing."""
    line = shapely.LineString(np.stack([east_m, north_m], axis=-1))
    beam_m = arrival.stay.boat.hull.beam_m
    return all(line.distance(neighbour_reach(one)[0]) > beam_m for one in arrival.stay.neighbours)


def turning_needs_m(way: WayIn) -> float:
    """Breadth of water she turns in, helm hard over, in the wind of the hour: tried. [m]

    From a knot or two, throttle a third ahead, a whole turn; the wider of both sides, and
    her own length on top.
    """
    arrival, widths = way.arrival, []
    felt = arrival.felt_mps(arrival.wind.mean_mps)
    for side in (-1.0, 1.0):
        handled = arrival.handled()
        handled.put(0.0, 0.0, arrival.wind.from_rad, _AHEAD_MPS)
        orders, places = Orders(helm_rad=side * way.driven.most_rad, revs=_REVS), []
        while handled.t_s < _TURN_S:
            handled.on_for(1.0, orders, Breeze(felt, arrival.wind.from_rad, arrival.level_m))
            places.append(handled.lying.q)
            if abs(places[-1][2] - arrival.wind.from_rad) > 2.0 * math.pi:
                break
        track = np.array(places)[:, :2]
        widths.append(float(max(np.ptp(track[:, 0]), np.ptp(track[:, 1]))))
    return max(widths) + arrival.stay.boat.hull.length_m


def turning_room_m(way: WayIn) -> float:
    """Breadth of clear and known water about where the run begins; NaN where none is known. [m]"""
    arrival, grid = way.arrival, way.arrival.stay.bay.surface.grid
    rows, columns = np.indices(grid.level_m.shape)
    east, north = grid.west_m + columns * grid.step_m, grid.south_m + rows * grid.step_m
    at_m = way.pose_at(way.begins_at_m, way.start_across_m)
    if not np.isfinite(_spare_m(arrival, np.array([at_m[0]]), np.array([at_m[1]]))).all():
        return math.nan
    far = np.hypot(east - at_m[0], north - at_m[1])
    depth = arrival.level_m - (grid.level_m + BED_DOUBT * grid.deviation_m)
    fits = depth - draught_m(arrival.stay) >= CLEAR_M
    bad = far[~fits]
    edge = min(
        at_m[0] - grid.west_m, float(east.max()) - at_m[0],
        at_m[1] - grid.south_m, float(north.max()) - at_m[1],
    )  # fmt: skip
    near = [float(bad.min()) if bad.size else math.inf, edge]
    point = shapely.Point(at_m[0], at_m[1])
    near += [float(point.distance(neighbour_reach(one)[0])) for one in arrival.stay.neighbours]
    return 2.0 * max(0.0, min(near))
