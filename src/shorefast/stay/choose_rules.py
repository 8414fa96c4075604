"""What no lie may be: the hard constraints, each with the words it is dropped with."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from shorefast.bay import DANGERS, NO_ANCHOR, ShorePoint
from shorefast.boat import Cleat
from shorefast.stay.choose_ashore import in_force, lying_there
from shorefast.stay.choose_lies import Berth, Candidate, aboard, crossed
from shorefast.stay.choose_lying import on_board, over_deck
from shorefast.stay.outlines import hull_outline, neighbour_reach, placed
from shorefast.stay.plan import Lie, Stay
from shorefast.stay.room import LEAST_GAP_M, LEAST_SHORE_M, LEAST_WATER_M

Floats = NDArray[np.float64]
Lines = NDArray[np.object_]
UNDER_HULL = (
    "bathing", "reserve", "fairway", "private", "foul", "no entry", "marine farm", *DANGERS,
)  # fmt: skip
UNDER_LINES = ("bathing", "reserve", "fairway", "private", "no lines", "neighbour")
# over land a line may lead from its point to the water, and over a corner; not over a headland
_OVER_LAND_M = 12.0
_OVER_HER_M = 1.0
_BESIDE_M = 1.0
_PAST_SQUARE = math.sin(math.radians(25.0))


class Rules:
    """The bay's rules as shapes, made once; every question is answered by a reason or None."""

    def __init__(self, stay: Stay) -> None:
        self.stay = stay
        zones = [zone for zone in stay.bay.zones if in_force(zone, stay)]
        self.zones = zones
        self.beside = tuple(replace(zone, shape=zone.shape.buffer(_BESIDE_M)) for zone in zones)
        for zone in zones:
            shapely.prepare(zone.shape)
        if stay.bay.land is not None:
            shapely.prepare(stay.bay.land)
        self.there = lying_there(stay)
        self.chains = _their_chains(stay)
        told = dict(self.chains)
        self.chains_unknown = tuple(name for name, _ in self.there if name not in told)
        known = stay.water.height_m[np.isfinite(stay.water.height_m)]
        self.low_m = float(known.min()) if known.size else 0.0
        hull = stay.boat.hull
        self.plan = hull_outline(hull.length_m, hull.beam_m)

    def of_berth(self, at: Berth) -> str | None:
        """Whether she fits there at all as meant: water, shore, zones, who lies there."""
        q = np.array([at.east_m, at.north_m, at.heading_rad])
        hull = shapely.Polygon(placed(self.plan, q))
        land = self.stay.bay.land
        if land is not None and hull.distance(land) < LEAST_SHORE_M:
            return "the hull would lie too near the shore"
        for name, other in self.there:
            if hull.distance(other) < LEAST_GAP_M:
                return f"the hull would lie too near {name}"
        for zone in self.zones:
            if zone.kind in UNDER_HULL and zone.shape.intersects(hull):
                return f"the hull would lie in the zone '{zone.name}', {zone.kind}"
        return self._too_shallow(at)

    def _too_shallow(self, at: Berth) -> str | None:
        for part in self.stay.boat.underwater:
            bed_m = float(self.stay.bay.surface.level_at(*aboard(at, part.x_m, part.y_m)))
            if math.isnan(bed_m):
                return f"the bed under the {part.name} is unknown"
            if self.low_m - bed_m - part.draught_m < LEAST_WATER_M:
                return f"too little water under the {part.name} at low water"
        return None

    def of_anchor(self, east_m: float, north_m: float) -> str | None:
        """Whether an anchor may be let go there."""
        here = Point(east_m, north_m)
        if self.stay.bay.land is not None and self.stay.bay.land.contains(here):
            return "the anchor would be let go on land"
        if math.isnan(float(self.stay.bay.surface.level_at(east_m, north_m))):
            return "the bed where the anchor would be let go is unknown"
        for zone in self.zones:
            if zone.kind in NO_ANCHOR and zone.shape.intersects(here):
                return f"the anchor would be let go in the zone '{zone.name}', {zone.kind}"
        return None

    def of_chain(self, one: Candidate) -> str | None:
        """Whether the chain leads over another's chain or line, over land, or under one."""
        lie, roller = one.lie, self.stay.boat.roller
        led = LineString(
            [(lie.let_go_east_m, lie.let_go_north_m), aboard(one.berth, roller.x_m, roller.y_m)]
        )
        if self.stay.bay.land is not None and led.intersects(self.stay.bay.land):
            return "the chain would lead over land"
        for name, chain in self.chains:
            if led.intersects(chain):
                return f"the chain would cross {name}'s"
        for name, other in self.there:
            if led.distance(other) < 0.5 * self.stay.boat.hull.beam_m:
                return f"the chain would lead under {name}"
        return None

    def of_line(self, at: Berth, cleat: Cleat, point: ShorePoint) -> str | None:
        """Whether a line may lead from a cleat to a point as she is meant to lie."""
        inboard = aboard(at, cleat.spot.x_m, cleat.spot.y_m)
        led = LineString([inboard, (point.east_m, point.north_m)])
        q = np.array([at.east_m, at.north_m, at.heading_rad])
        hull = shapely.Polygon(placed(self.plan, q))
        if not _leads_away(at, cleat, point):
            return "a line would lead along the boat, past her other end"
        spot, seen = cleat.spot, on_board(q, point.east_m, point.north_m)
        across = bool(over_deck(self.stay.boat, (spot.x_m, spot.y_m), seen))
        if across or led.intersection(hull).length > _OVER_HER_M:
            return "a line would lead across the boat herself"
        land = self.stay.bay.land
        if land is not None and led.intersection(land).length > _OVER_LAND_M:
            return "a line would lead far over land"
        for name, chain in self.chains:
            if led.intersects(chain):
                return f"a line would cross {name}'s chain"
        for name, other in self.there:
            if led.intersects(other):
                return f"a line would lead over {name}"
        for zone in self.zones:
            if zone.kind in UNDER_LINES and zone.shape.intersects(led):
                return f"a line would lead over the zone '{zone.name}', {zone.kind}"
        return None

    def of_lines(self, one: Candidate) -> str | None:
        """Whether any of its lines may not lead as it does, or two cross."""
        points = {point.name: point for point in self.stay.bay.points}
        cleats = {cleat.name: cleat for cleat in self.stay.boat.cleats}
        roller = self.stay.boat.roller
        ends = [
            (
                aboard(one.berth, roller.x_m, roller.y_m),
                (one.lie.let_go_east_m, one.lie.let_go_north_m),
            )
        ]
        for line in one.lie.lines:
            cleat, point = cleats[line.cleat], points[line.point]
            why = self.of_line(one.berth, cleat, point)
            if why is not None:
                return why
            inboard = aboard(one.berth, cleat.spot.x_m, cleat.spot.y_m)
            ends.append((inboard, (point.east_m, point.north_m)))
        return "two of her lines would cross" if crossed(ends) else None

    def of_lying(self, lie: Lie, q: Floats) -> str | None:
        """What chain or lines foul as she lies: another's chain or hull, land.

        Small changes lead her away from the berth she was first meant for. What is so in
        no more than the stay's accepted share of all states is let be (our choice).

        Parameters
        ----------
        q : array (..., 3)
            Rests, east, north, heading; NaN where there is none.
        """
        flat = q.reshape(-1, 3)
        known = flat[np.isfinite(flat).all(axis=1)]
        if not len(known):
            return None
        return self._chain_lying(lie, known) or self._lines_lying(lie, known)

    def _chain_lying(self, lie: Lie, known: Floats) -> str | None:
        roller, land = self.stay.boat.roller, self.stay.bay.land
        anchor = (lie.let_go_east_m, lie.let_go_north_m)
        chain = _led(known, (roller.x_m, roller.y_m), anchor)
        if land is not None and self._often(shapely.intersects(land, chain)):
            return "as she lies the chain would lead over land"
        for name, other in self.chains:
            if self._often(shapely.intersects(other, chain)):
                return f"as she lies the chain would cross {name}'s"
        for name, other in self.there:
            if self._often(shapely.distance(other, chain) < 0.5 * self.stay.boat.hull.beam_m):
                return f"as she lies the chain would lead under {name}"
        return None

    def _lines_lying(self, lie: Lie, known: Floats) -> str | None:
        points = {point.name: point for point in self.stay.bay.points}
        cleats = {cleat.name: cleat.spot for cleat in self.stay.boat.cleats}
        for line in lie.lines:
            spot, point = cleats[line.cleat], points[line.point]
            led = _led(known, (spot.x_m, spot.y_m), (point.east_m, point.north_m))
            for name, other in self.chains:
                if self._often(shapely.intersects(other, led)):
                    return f"as she lies a line would cross {name}'s chain"
            for name, other in self.there:
                if self._often(shapely.intersects(other, led)):
                    return f"as she lies a line would lead over {name}"
        return None

    def _often(self, so: NDArray[np.bool_]) -> bool:
        return bool(np.mean(so) > self.stay.accepted_share)

    def of(self, one: Candidate) -> str | None:
        """The first reason against a candidate; None where nothing speaks against it."""
        return (
            self.of_anchor(one.lie.let_go_east_m, one.lie.let_go_north_m)
            or self.of_chain(one)
            or self.of_lines(one)
        )


def _led(q: Floats, spot_m: tuple[float, float], end_m: tuple[float, float]) -> Lines:
    """Straight from a place on board to a place outside her, in plan, (state,)."""
    inboard = placed(np.array([spot_m]), q)[:, 0]
    ends = np.stack([inboard, np.broadcast_to(end_m, inboard.shape)], axis=1)
    return np.asarray(shapely.linestrings(ends))


def _leads_away(at: Berth, cleat: Cleat, point: ShorePoint) -> bool:
    """Whether a line leads away from midships, or square to her within 25 degrees.

    A quarter's line that leads forward, or a bow's that leads aft, rubs along her side:
    common practice, no source.
    """
    inboard = aboard(at, cleat.spot.x_m, cleat.spot.y_m)
    bearing = math.atan2(point.east_m - inboard[0], point.north_m - inboard[1])
    forward = math.cos(bearing - at.heading_rad)
    return forward * math.copysign(1.0, cleat.spot.x_m) > -_PAST_SQUARE


def _their_chains(stay: Stay) -> tuple[tuple[str, BaseGeometry], ...]:
    """Chains of neighbours whose anchors somebody told, from bow to anchor."""
    found = []
    for one in stay.neighbours:
        if one.scope_m is None or one.chain_toward_rad is None:
            continue
        anchor, _ = neighbour_reach(one)
        half_m = 0.5 * one.length_m
        bow = (
            one.east_m + half_m * math.sin(one.heading_rad),
            one.north_m + half_m * math.cos(one.heading_rad),
        )
        found.append((one.name, LineString([bow, (anchor.x, anchor.y)])))
    return tuple(found)
