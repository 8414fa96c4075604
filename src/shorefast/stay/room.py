"""Room: least water under what can touch, least distance to the shore and to neighbours."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from shorefast.basis import Assumption, Basis
from shorefast.bay import SurfaceGrid, highest_under
from shorefast.stay.answer import Room
from shorefast.stay.outlines import (
    BLOCK,
    SCOPE_LEAST_M,
    SCOPE_LENGTHS,
    Outline,
    body_depth_m,
    hull_outline,
    neighbour_reach,
    placed,
    tender_outline,
    touching,
)
from shorefast.stay.plan import Neighbour, Stay
from shorefast.stay.swept import STRIDE, Swept, swept

Floats = NDArray[np.float64]
# our choices, shown beside the verdict
LEAST_WATER_M = 0.5
LEAST_SHORE_M = 2.0
LEAST_GAP_M = 3.0
DOUBT = 1.645
"""Standard deviations of the bed taken off the water: 95 of 100 on one side."""


class _Under:
    """The least water under one part over all poses, the bed as told by one field."""

    def __init__(self, grid: SurfaceGrid, field_m: Floats, way: Swept, heave_m: float) -> None:
        self.grid, self.field_m, self.way, self.heave_m = grid, field_m, way, heave_m

    def of(self, outlines: tuple[Outline, ...]) -> tuple[Floats, Floats, Floats]:
        """Room, and east and north of where it is least; arrays of the states. [m]"""
        rooms, places = zip(*(self._one(outline) for outline in outlines), strict=True)
        room_m, at = np.stack(rooms), np.stack(places)
        # fmin: a slice that touches counts whatever is unknown under another
        lowest = np.fmin.reduce(room_m)
        least_m = np.where(lowest <= 0.0, lowest, room_m.min(axis=0))
        slice_of = np.nan_to_num(room_m, nan=np.inf).argmin(axis=0)
        place = np.take_along_axis(at, slice_of[None, :, None], axis=0)[0]
        state_m, pose = self.way.least(least_m)
        return state_m, place[pose, 0], place[pose, 1]

    def _one(self, outline: Outline) -> tuple[Floats, Floats]:
        found = highest_under(self.grid, self.field_m, outline.points_m, self.way.q)
        with np.errstate(invalid="ignore"):
            room_m = self.way.level_m - found[:, 0] - outline.draught_m - self.heave_m
            room_m = np.where((found[:, 3] > 0.0) & ~(room_m <= 0.0), np.nan, room_m)
        return np.where(np.isfinite(self.way.level_m), room_m, np.nan), found[:, 1:3]


def _water_under(stay: Stay, way: Swept, heave_m: float, *, expected: bool) -> list[Room]:
    grid = stay.bay.surface.grid
    careful = _Under(grid, grid.level_m + DOUBT * grid.deviation_m, way, heave_m)
    plain = _Under(grid, grid.level_m, way, heave_m)
    rooms = []
    for name, outlines in touching(stay.boat):
        room_m, east_m, north_m = careful.of(outlines)
        middle_m = plain.of(outlines)[0] if expected else None
        said = f"water under the {name}"
        rooms.append(Room(said, room_m, LEAST_WATER_M, middle_m, east_m, north_m))
    return rooms


def _distance_m(points_m: Floats, way: Swept, thing: BaseGeometry) -> Floats:
    """Least distance of an outline on board to a thing, arrays of the states. [m]"""
    good = np.isfinite(way.q).all(axis=-1)
    apart_m = np.full(good.shape, np.nan)
    apart_m[good] = shapely.distance(shapely.polygons(placed(points_m, way.q[good])), thing)
    return way.least(apart_m)[0]


def _to_shore(stay: Stay, way: Swept) -> list[Room]:
    hard = stay.bay.land if stay.bay.land is not None else stay.bay.shore
    if hard is None:
        return []
    hull = hull_outline(stay.boat.hull.length_m, stay.boat.hull.beam_m)
    rooms = [Room("hull to the shore", _distance_m(hull, way, hard), LEAST_SHORE_M)]
    if stay.boat.tender_afloat is not None:
        tender = tender_outline(stay.boat.tender_afloat).points_m
        rooms.append(Room("tender to the shore", _distance_m(tender, way, hard), LEAST_SHORE_M))
    return rooms


def _to_neighbour(stay: Stay, way: Swept, neighbour: Neighbour) -> Room:
    """The gap to all the room a neighbour may take (see ``neighbour_reach``)."""
    thing, reach_m = neighbour_reach(neighbour)
    hull = hull_outline(stay.boat.hull.length_m, stay.boat.hull.beam_m)
    apart_m = _distance_m(hull, way, thing)
    if stay.boat.tender_afloat is not None:
        tender = tender_outline(stay.boat.tender_afloat).points_m
        beside_m = _distance_m(tender, way, thing)
        apart_m = np.minimum(apart_m, beside_m)
    gap_m = np.maximum(apart_m - reach_m, 0.0)
    return Room(f"hull to {neighbour.name}", gap_m, LEAST_GAP_M, beside_m=reach_m)


def _way(stay: Stay, q: Floats, level_m: Floats, *, between: bool) -> Swept:
    if not between:
        return swept(q, level_m, 0.0, math.inf)
    hull = hull_outline(stay.boat.hull.length_m, stay.boat.hull.beam_m)
    points = [hull, *(outline.points_m for _, parts in touching(stay.boat) for outline in parts)]
    arm_m = max(float(np.hypot(*one.T).max()) for one in points)
    return swept(q, level_m, arm_m, STRIDE * stay.bay.surface.grid.step_m)


def room_of(
    stay: Stay,
    q: Floats,
    level_m: Floats,
    heave_m: float = 0.0,
    *,
    expected: bool = False,
    between: bool = True,
) -> tuple[Room, ...]:
    """Room of every part over all rests and on the way from each to the next.

    Every outline (keel, rudder, ladder, hull, tender) is put to every pose, and the
    highest bed under all of it counts, exactly on the surface's own cells. What decides
    is the room less ``DOUBT`` deviations of the bed.

    Parameters
    ----------
    q : array (..., time, 3)
        Rests, NaN where none.
    level_m : array (..., time)
        Water level. [m]
    heave_m : float
        How far waves and wash bring her down. [m]
    expected : bool
        Whether the room by the expected bed is told as well.
    between : bool
        Whether the way from the rest before counts: not where rests do not follow in time.

    Returns
    -------
    rooms : tuple of Room, arrays (..., time); NaN where the bed or the rest is unknown.
    """
    if np.size(q) == 0:
        # no state: the rooms there are, with nothing in them
        nowhere = room_of(stay, np.full((1, 3), math.nan), np.full(1, math.nan), between=False)
        return tuple(replace(room, room_m=room.room_m[:0]) for room in nowhere)
    way = _way(stay, np.asarray(q, float), level_m, between=between)
    return (
        *_water_under(stay, way, heave_m, expected=expected),
        *_to_shore(stay, way),
        *(_to_neighbour(stay, way, neighbour) for neighbour in stay.neighbours),
    )


def room_use(room: Room) -> Floats:
    """Room as a use: 1 where just what is wanted is left, 9.9 where nothing is."""
    with np.errstate(divide="ignore", invalid="ignore"):
        use = np.where(room.room_m > 0.0, room.least_wanted_m / room.room_m, 9.9)
    return np.where(np.isnan(room.room_m), np.nan, np.minimum(use, 9.9))


def room_basis(stay: Stay, heave_m: float = 0.0) -> Basis:
    """What the room rests on."""
    body_m = body_depth_m(stay.boat.hull)
    taken = [
        Assumption(
            f"The water under her is told less {DOUBT:g} standard deviations of the bed:"
            " 95 of 100 beds drawn through these soundings lie lower (our choice)",
            "A rock that no sounding met is in no deviation",
        ),
        Assumption(
            f"The hull without its keel is {body_m:.1f} m deep, from displacement, waterline"
            f" and beam at a block coefficient of {BLOCK:g}, and full in its sections",
            "A deeper or finer hull touches elsewhere; keel and rudder count by their own depth",
        ),
        Assumption(
            "From one rest to the next she goes straight and turns evenly",
            "In a shift that swings her far she may pass over what lies beside that way",
        ),
        _heave_taken(stay, heave_m),
        *_parts_taken(stay),
    ]
    return Basis(assumptions=tuple(taken), sources=("keuning-sonnenberg-1998",))


def _heave_taken(stay: Stay, heave_m: float) -> Assumption:
    untold = [name for name, told in (("waves", stay.waves), ("wash", stay.wash)) if told is None]
    if not untold:
        return Assumption(
            f"Waves and wash bring her down by {heave_m:.1f} m; {LEAST_WATER_M:g} m of water are"
            " wanted beside that (our choice)",
            "A higher wave sets her down harder",
        )
    told = f"{heave_m:.1f} m are taken off for the rest; " if heave_m > 0.0 else ""
    return Assumption(
        f"No {' and no '.join(untold)} told: {told}the {LEAST_WATER_M:g} m of water wanted under"
        " her have to take them up (our choice)",
        "Higher ones set her down on what lies under her",
    )


def _parts_taken(stay: Stay) -> list[Assumption]:
    bare = [p.name for p in stay.boat.underwater if p.length_m <= 0.0 and p.breadth_m <= 0.0]
    taken = []
    if bare:
        told = f"No length is told of {', '.join(bare)}: reckoned as points"
        taken.append(Assumption(told, "What stands higher under their ends is not seen"))
    if stay.boat.tender_afloat is not None:
        told = "The tender lies fixed beside her where the boat file places it"
        taken.append(Assumption(told, "On a painter it comes nearer to shore and neighbours"))
    if stay.neighbours:
        told = f"{LEAST_GAP_M:g} m are wanted to a neighbour, wherever she swings (our choice)"
        taken.append(Assumption(told, "If she shifts or veers, the gap is another"))
    if any(one.scope_m is not None for one in stay.neighbours):
        told = (
            f"A neighbour who rides to one anchor has the whole ring of her chain and length about"
            f" it; where it is not told her anchor is {SCOPE_LENGTHS:g} lengths ahead of her bow,"
            f" {SCOPE_LEAST_M:g} m at least, on any side where her chain's is not known"
        )
        taken.append(Assumption(f"{told} (our choice)", "With more chain out she comes nearer"))
    return taken
