"""Laws of room: more water, less doubt, a smaller outline never leave her less of it."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
import pytest
import shapely
from shapely.affinity import rotate, scale, translate

from shorefast.basis import Basis
from shorefast.bay import Bay, DepthSurface, Frame, Soundings, SurfaceGrid
from shorefast.boat import (
    Anchor,
    Hull,
    Spot,
    Tender,
    Underwater,
    Windage,
    Windlass,
    Yacht,
)
from shorefast.stay import Neighbour, Room, Stay
from shorefast.stay.room import room_of

NOTHING = Basis()
BEGIN = datetime(2026, 6, 24, 8, 0, tzinfo=UTC)
POINTS = (Underwater("keel", 0.2, 0.0, 2.0), Underwater("rudder", -5.0, 0.0, 1.7))
AREAS = (
    Underwater("keel", 0.2, 0.0, 2.0, 2.4, 0.4),
    Underwater("rudder", -5.0, 0.3, 1.7, 0.6, 0.1),
)
TENDER = Tender(3.1, 1.5, 0.3, -7.4, 1.1)
NEIGHBOUR = Neighbour("Grey Plover", 17.0, -2.0, 10.0, 3.2, 0.6, 1.5)
SHORE = shapely.Polygon([(-60, 25), (60, 18), (60, 60), (-60, 60)])


def grid(seed: int = 4) -> SurfaceGrid:
    """A hummocky slope, 1 m from node to node, with a doubt of its own everywhere."""
    draw = np.random.default_rng(seed)
    north, east = np.mgrid[-40.0:41.0, -40.0:41.0]
    level = -6.0 + 0.12 * north + 0.05 * east + draw.normal(0.0, 0.4, north.shape)
    return SurfaceGrid(-40.0, -40.0, 1.0, level, draw.uniform(0.05, 0.4, north.shape))


def yacht(parts: tuple[Underwater, ...] = AREAS) -> Yacht:
    return Yacht(
        "Made up", Hull(12.0, 4.0, 2.0, 9000.0, 11.0), Windage(12.0, 27.0, 2.8, 0.3, 0.1),
        Spot(6.0, 0.0, 1.4), (), parts, None, None, None, Windlass(), Anchor("scoop", 25.0),
        (), None, (), (), NOTHING, TENDER,
    )  # fmt: skip


def bay(bed: SurfaceGrid, land: shapely.Polygon = SHORE) -> Bay:
    few = np.zeros(1)
    return Bay(
        "Hummocks", Frame(47.5, -40.0), "UTC", "lowest tide", "mud", DepthSurface(bed, NOTHING),
        Soundings(few, few, few, few), land.boundary, land, (), (), (), NOTHING,
    )  # fmt: skip


def stay(bed: SurfaceGrid | None = None, parts: tuple[Underwater, ...] = AREAS) -> Stay:
    return Stay(
        "Hummocks", yacht(parts), bay(bed or grid()), None, None, BEGIN, BEGIN, 0.05, None, None,
        None, NOTHING, neighbours=(NEIGHBOUR,),
    )  # fmt: skip


def rests(members: int = 5, times: int = 12) -> tuple[np.ndarray, np.ndarray]:
    """Rests and water levels, (member, time): some far from the one before, one missing."""
    draw = np.random.default_rng(8)
    shape = (members, times)
    q = np.stack(
        [draw.uniform(-6, 6, shape), draw.uniform(-8, 4, shape), draw.uniform(-4, 4, shape)], -1
    )
    if times > 4:
        q[1, 4] = np.nan
    return q, draw.uniform(0.0, 3.0, shape)


def found(one: Stay, level_by_m: float = 0.0, heave_m: float = 0.0) -> tuple[Room, ...]:
    q, level_m = rests()
    return room_of(one, q, level_m + level_by_m, heave_m, expected=True)


def nowhere_more(less: tuple[Room, ...], more: tuple[Room, ...]) -> None:
    for small, large in zip(less, more, strict=True):
        assert small.of == large.of
        assert np.array_equal(np.isnan(small.room_m), np.isnan(large.room_m))
        assert np.all((small.room_m <= large.room_m + 1e-9) | np.isnan(small.room_m))


def water(rooms: tuple[Room, ...]) -> tuple[Room, ...]:
    return tuple(room for room in rooms if room.of.startswith("water"))


def test_raising_the_water_leaves_as_much_more_under_her_and_nothing_else_changes():
    before, after = found(stay()), found(stay(), 0.7)
    for old, new in zip(before, after, strict=True):
        rise_m = 0.7 if old.of.startswith("water") else 0.0
        assert new.room_m == pytest.approx(old.room_m + rise_m, abs=1e-9, nan_ok=True)


def test_more_doubt_never_gives_more_room_and_does_not_move_what_is_expected():
    bed = grid()
    last = found(stay(bed))
    for factor in (1.5, 3.0):
        doubted = found(stay(bed._replace(deviation_m=factor * bed.deviation_m)))
        nowhere_more(water(doubted), water(last))
        for old, new in zip(water(last), water(doubted), strict=True):
            assert np.array_equal(new.expected_m, old.expected_m, equal_nan=True)
        last = doubted


def test_a_bed_without_doubt_leaves_the_room_that_is_expected():
    bed = grid()
    for room in water(found(stay(bed._replace(deviation_m=0.0 * bed.deviation_m)))):
        assert np.array_equal(room.room_m, room.expected_m, equal_nan=True)


def test_waves_take_off_what_they_bring_her_down():
    for calm, sea in zip(water(found(stay())), water(found(stay(), heave_m=0.4)), strict=True):
        assert sea.room_m == pytest.approx(calm.room_m - 0.4, abs=1e-9, nan_ok=True)


def test_a_bigger_outline_never_has_more_room():
    bare = tuple(replace(part, length_m=0.0, breadth_m=0.0) for part in AREAS)
    nowhere_more(found(stay()), found(stay(parts=bare)))
    # other measures of hull and tender change where on the way she is looked at: one moment
    q, level_m = rests(60, 1)
    small = stay()
    hull = replace(small.boat.hull, waterline_m=11.6, beam_m=4.3, displacement_kg=12000.0)
    tender = replace(TENDER, length_m=3.6, beam_m=1.7)
    large = replace(small, boat=replace(small.boat, hull=hull, tender=tender))
    nowhere_more(room_of(large, q, level_m), room_of(small, q, level_m))


def test_points_at_one_moment_have_the_water_straight_under_them():
    one = stay(parts=POINTS)
    q, level_m = rests(40, 1)
    for part, room in zip(POINTS, room_of(one, q, level_m, expected=True), strict=False):
        east = q[..., 0] + part.x_m * np.sin(q[..., 2])
        north = q[..., 1] + part.x_m * np.cos(q[..., 2])
        here_m = level_m - one.bay.surface.level_at(east, north) - part.draught_m
        assert room.expected_m == pytest.approx(here_m, abs=1e-12)
        assert room.east_m == pytest.approx(east, abs=1e-9)
        assert room.north_m == pytest.approx(north, abs=1e-9)


def test_what_lies_on_the_way_counts_too():
    q, level_m = rests()
    for whole, alone in zip(found(stay()), (room_of(stay(), q[..., None, :], level_m[..., None])),
                            strict=True):  # fmt: skip
        assert np.all((whole.room_m <= alone.room_m[..., 0] + 1e-9) | np.isnan(whole.room_m))


def moved(one: Stay, east_m: float, north_m: float) -> Stay:
    bed = one.bay.surface.grid
    bed = bed._replace(west_m=bed.west_m + east_m, south_m=bed.south_m + north_m)
    (near,) = one.neighbours
    near = replace(near, east_m=near.east_m + east_m, north_m=near.north_m + north_m)
    land = translate(one.bay.land, east_m, north_m)
    return replace(one, bay=bay(bed, land), neighbours=(near,))


def mirrored(one: Stay) -> Stay:
    bed = one.bay.surface.grid
    bed = bed._replace(level_m=bed.level_m[:, ::-1], deviation_m=bed.deviation_m[:, ::-1])
    boat = one.boat
    parts = tuple(replace(p, y_m=-p.y_m) for p in boat.underwater)
    boat = replace(boat, underwater=parts, tender=replace(TENDER, y_m=-TENDER.y_m))
    (near,) = one.neighbours
    near = replace(near, east_m=-near.east_m, heading_rad=-near.heading_rad)
    land = scale(one.bay.land, -1.0, 1.0, origin=(0, 0))
    return replace(one, boat=boat, bay=bay(bed, land), neighbours=(near,))


def quarter_turned(one: Stay) -> Stay:
    bed = one.bay.surface.grid
    bed = bed._replace(level_m=bed.level_m.T[::-1, :], deviation_m=bed.deviation_m.T[::-1, :])
    (near,) = one.neighbours
    near = replace(near, east_m=near.north_m, north_m=-near.east_m,
                   heading_rad=near.heading_rad + 0.5 * math.pi)  # fmt: skip
    land = rotate(one.bay.land, -90.0, origin=(0, 0))
    return replace(one, bay=bay(bed, land), neighbours=(near,))


def same(one: tuple[Room, ...], other: tuple[Room, ...]) -> None:
    for here, there in zip(one, other, strict=True):
        assert there.of == here.of
        assert there.room_m == pytest.approx(here.room_m, abs=1e-6, nan_ok=True)


def test_carried_elsewhere_mirrored_or_turned_she_has_the_same_room():
    one = stay()
    q, level_m = rests()
    here = room_of(one, q, level_m)
    same(here, room_of(moved(one, 300.0, -170.0), q + np.array((300.0, -170.0, 0.0)), level_m))
    same(here, room_of(mirrored(one), q * np.array((-1.0, 1.0, -1.0)), level_m))
    turned = np.stack([q[..., 1], -q[..., 0], q[..., 2] + 0.5 * math.pi], axis=-1)
    same(here, room_of(quarter_turned(one), turned, level_m))


def test_a_heading_told_a_whole_turn_on_is_the_same_heading():
    q, level_m = rests()
    on = q.copy()
    on[:, ::2, 2] += 2.0 * math.pi
    same(room_of(stay(), q, level_m), room_of(stay(), on, level_m))


def test_unknown_depth_is_never_room():
    bed = grid()
    level = bed.level_m.copy()
    draw = np.random.default_rng(3)
    level[draw.uniform(size=level.shape) < 0.02] = np.nan
    q, level_m = rests(60, 1)
    known = found_at(stay(bed), q, level_m)
    holed = found_at(stay(bed._replace(level_m=level)), q, level_m)
    for whole, part in zip(known, holed, strict=True):
        lost = np.isnan(part.room_m)
        told = ~lost & (part.room_m > 0.0)
        assert part.room_m[told] == pytest.approx(whole.room_m[told])
        # where she touches at a known place she touches, whatever the rest may be
        assert np.all(whole.room_m[~lost & ~told] <= part.room_m[~lost & ~told] + 1e-9)
    assert 10 < np.isnan(holed[2].room_m).sum() < 60


def found_at(one: Stay, q: np.ndarray, level_m: np.ndarray) -> tuple[Room, ...]:
    return water(room_of(one, q, level_m))


def test_no_rest_or_no_water_told_is_no_room_told():
    q, level_m = rests()
    level_m[0, 3] = np.nan
    for room in room_of(stay(), q, level_m):
        assert np.isnan(room.room_m[1, 4])
        assert np.isnan(room.room_m[0, 3]) == room.of.startswith("water")
        assert np.isfinite(room.room_m).sum() >= room.room_m.size - 2


def test_the_gap_to_a_neighbour_is_that_between_two_shapes_made_another_way():
    one = replace(stay(), boat=replace(yacht(), tender=None))
    q, level_m = rests(30, 1)
    gap = room_of(one, q, level_m)[-1]
    assert gap.of == "hull to Grey Plover"
    # the plan of a hull by its own shares, turned and shifted by another library
    shares = [(0.5, 0), (0.34, 0.62), (0.12, 0.97), (-0.2, 1), (-0.5, 0.72)]
    shares += [(x, -y) for x, y in shares[:0:-1]]

    def hull(long_m, beam_m, east_m, north_m, heading_rad):
        plan = shapely.Polygon([(0.5 * beam_m * y, long_m * x) for x, y in shares])
        turned = rotate(plan, -math.degrees(heading_rad), origin=(0, 0))
        return translate(turned, east_m, north_m)

    other = hull(10.0, 3.2, 17.0, -2.0, 0.6).buffer(1.5, quad_segs=400)
    apart = [hull(12.0, 4.0, *pose).distance(other) for pose in q[:, 0]]
    # a buffer of 1600 corners lies inside the round one by less than a micrometre
    assert gap.room_m[:, 0] == pytest.approx(np.array(apart), abs=1e-5)
    assert min(apart) < 2.0 < max(apart)
