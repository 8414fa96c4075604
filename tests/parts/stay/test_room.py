"""Room under and round her: outlines, the way between rests, what is said about it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely

from shorefast.basis import Basis
from shorefast.bay import DepthSurface, SurfaceGrid
from shorefast.boat import Hull, Tender, Underwater
from shorefast.stay import Neighbour, Stay, Wash, Waves, judge
from shorefast.stay.outlines import body_depth_m, hull_slices, part_outline, tender_outline
from shorefast.stay.room import room_basis, room_of, room_use
from shorefast.stay.swept import swept

KEEL = Underwater("keel", 0.0, 0.0, 2.0)


def over(stay: Stay, level_m: np.ndarray, *parts: Underwater) -> Stay:
    """That stay over a bed of one's own, 1 m from node to node, its middle at 0, 0."""
    half = 0.5 * (level_m.shape[0] - 1)
    grid = SurfaceGrid(-half, -half, 1.0, level_m, np.zeros_like(level_m))
    bay = replace(stay.bay, surface=DepthSurface(grid, Basis()), land=None, shore=None)
    return replace(stay, bay=bay, boat=replace(stay.boat, underwater=parts))


def flat(depth_m: float = 9.0) -> np.ndarray:
    return np.full((61, 61), -depth_m)


def test_the_body_of_a_printed_forty_footer_is_as_deep_as_its_drawing():
    # larsson-eliasson, the 40 ft example (from memory): 8.12 t, 10.02 m on the waterline,
    # 3.71 m beam, draws 2.07 m; its body is 0.57 m deep. One coefficient for all hulls: 10 %.
    depth_m = body_depth_m(Hull(12.05, 3.71, 2.07, 8120.0, 10.02))
    assert depth_m == pytest.approx(0.57, rel=0.10)


def test_a_heavy_hull_is_never_deeper_than_she_draws():
    assert body_depth_m(Hull(10.0, 3.0, 0.8, 20000.0, 9.0)) == 0.8


@pytest.mark.parametrize("displacement_kg", [6000.0, 9000.0, 14000.0])
def test_the_slices_of_the_hull_hold_all_her_displacement(displacement_kg):
    hull = Hull(12.0, 4.0, 2.0, displacement_kg, 11.0)
    slices = hull_slices(hull)
    tops = (0.0, *(one.draught_m for one in slices))
    volume_m3 = sum(
        shapely.Polygon(one.points_m).area * (one.draught_m - top)
        for one, top in zip(slices, tops, strict=False)
    )
    assert volume_m3 > displacement_kg / 1025.0
    assert slices[-1].draught_m == pytest.approx(body_depth_m(hull))


def test_a_part_is_a_rectangle_a_line_or_a_point_as_far_as_it_is_told():
    ladder = Underwater("ladder", -6.0, 0.5, 0.9, 0.0, 0.4)
    assert sorted(part_outline(ladder).points_m.tolist()) == [[-6.0, 0.3], [-6.0, 0.7]]
    assert part_outline(KEEL).points_m.tolist() == [[0.0, 0.0]]
    box = shapely.Polygon(part_outline(replace(KEEL, length_m=2.4, breadth_m=0.3)).points_m)
    assert box.equals(shapely.box(-1.2, -0.15, 1.2, 0.15))


def test_the_tender_lies_where_her_file_places_her():
    shape = shapely.Polygon(tender_outline(Tender(3.0, 1.4, 0.3, -7.5, 1.0)).points_m)
    assert shape.bounds == pytest.approx((-9.0, 0.3, -6.0, 1.7))


def test_on_a_plane_slope_the_highest_corner_counts(k_day):
    north = np.arange(-30.0, 31.0)[:, None]
    one = over(k_day, -8.0 + 0.3 * north + np.zeros((61, 61)), replace(KEEL, length_m=3.0))
    # heading north: the fore end of a keel 3 m long stands 1.5 m farther up the slope
    keel = room_of(one, np.zeros((1, 1, 3)), np.zeros((1, 1)))[0]
    assert keel.room_m[0, 0] == pytest.approx(8.0 - 0.3 * 1.5 - 2.0)
    assert (keel.east_m[0, 0], keel.north_m[0, 0]) == pytest.approx((0.0, 1.5))


def test_a_rock_beside_a_point_is_under_the_keel_that_is_told_in_full(k_day):
    bed = flat()
    bed[31, 30] = -2.5
    still = np.zeros((1, 1, 3)), np.zeros((1, 1))
    point = room_of(over(k_day, bed, KEEL), *still)[0]
    whole = room_of(over(k_day, bed, replace(KEEL, length_m=2.4)), *still)[0]
    assert point.room_m[0, 0] == pytest.approx(7.0)
    assert whole.room_m[0, 0] == pytest.approx(0.5)


def test_a_rock_she_passes_between_two_rests_is_met_on_the_way(k_day):
    bed = flat()
    bed[30, 34] = -2.0
    q = np.array([[(0.0, 0.0, 0.0), (7.9, 0.0, 0.0), (8.1, 0.0, 0.0)]])
    keel = room_of(over(k_day, bed, KEEL), q, np.full((1, 3), 1.0))[0]
    # the lone rock leaves 1 m; at most a sixth of its 7 m stays unseen
    assert 1.0 <= keel.room_m[0, 1] <= 1.0 + 7.0 / 6.0
    assert keel.room_m[0, [0, 2]] == pytest.approx(8.0)
    assert keel.east_m[0, 1] == pytest.approx(4.0, abs=0.3)


def test_on_the_way_the_water_is_that_of_the_time_between():
    way = swept(np.array([[(0.0, 0.0, 0.0), (1.0, 0.0, 0.0)]]), np.array([[2.0, 1.0]]), 5.0, 0.25)
    assert way.q[:, 0].tolist() == [0.0, 0.25, 0.5, 0.75, 1.0]
    assert way.level_m.tolist() == [2.0, 1.75, 1.5, 1.25, 1.0]


def test_she_turns_the_short_way_round():
    way = swept(np.array([[(0.0, 0.0, 6.2), (0.0, 0.0, 0.1)]]), np.zeros((1, 2)), 6.0, 0.5)
    assert len(way.q) == 1 + 3
    assert np.all((way.q[:, 2] > 6.19) | (np.abs(way.q[:, 2]) <= 0.1))


def test_nothing_is_put_between_a_rest_and_none():
    q = np.array([[(0.0, 0.0, 0.0), (np.nan, np.nan, np.nan), (9.0, 0.0, 0.0)]])
    way = swept(q, np.zeros((1, 3)), 6.0, 0.5)
    assert np.array_equal(way.q, q[0], equal_nan=True)


def test_aground_at_a_known_place_is_aground_whatever_else_is_unknown(k_day):
    bed = flat(9.0)
    bed[45, 30] = np.nan
    bed[33, 30] = -1.0
    lost = np.zeros((1, 1, 3)), np.zeros((1, 1))
    still = over(k_day, bed, replace(KEEL, length_m=40.0))
    assert room_of(still, *lost)[0].room_m[0, 0] == pytest.approx(1.0 - 2.0)
    bed[33, 30] = -4.0
    still = over(k_day, bed, replace(KEEL, length_m=40.0))
    assert np.isnan(room_of(still, *lost)[0].room_m[0, 0])


def test_the_tender_has_room_of_its_own(k_judged, k_day):
    towed = replace(k_day, boat=replace(k_day.boat, tender=Tender(3.0, 1.5, 0.3, -8.0, 0.0)))
    rest = k_judged.judgement.rest
    q = np.stack([rest.east_m, rest.north_m, rest.heading_rad], axis=-1)
    rooms = {room.of: room for room in room_of(towed, q, k_judged.judgement.water_level_m)}
    assert np.all(rooms["tender to the shore"].room_m < rooms["hull to the shore"].room_m)
    assert np.isfinite(rooms["water under the tender"].room_m).all()


def test_a_neighbour_she_would_touch_is_a_limit_passed(k_judged, k_day):
    rest = k_judged.judgement.rest
    place = float(rest.east_m[0, 0]) + 3.0, float(rest.north_m[0, 0])
    near = Neighbour("Grey Plover", *place, 10.0, 3.2, 0.4, 0.0)
    answer = judge(replace(k_day, neighbours=(near,))).judgement
    gap = next(room for room in answer.room if room.of == "hull to Grey Plover")
    assert gap.room_m[0, 0] == 0.0 and gap.touches[0, 0]
    assert gap.least_wanted_m == 3.0
    assert room_use(gap)[0, 0] == 9.9
    assert answer.verdict == "no"


def test_in_the_room_a_boat_at_anchor_may_take_she_is_not_said_to_touch(k_judged, k_day):
    rest = k_judged.judgement.rest
    place = (float(rest.east_m.mean()) + 60.0, float(rest.north_m.mean()))
    # scope and chain's side unknown to either hand: she may be anywhere within 65 m
    swings = Neighbour("Ida", *place, 10.0, 3.2, 0.4, 0.0, scope_m=25.0)
    answer = judge(replace(k_day, neighbours=(swings,))).judgement
    (gap,) = (room for room in answer.room if room.of == "hull to Ida")
    assert np.nanmin(gap.room_m) == 0.0 and not gap.touches.any()
    others = [room.touches for room in answer.room if room is not gap]
    assert np.array_equal(answer.touches, np.any(others, axis=0))


def test_the_judgement_tells_room_by_the_expected_bed_and_by_the_doubted_one(k_judged):
    for room in k_judged.judgement.room:
        if room.of.startswith("water"):
            assert np.all(room.room_m < room.expected_m)
    assert [room.of for room in k_judged.judgement.room] == [
        "water under the keel", "water under the rudder", "water under the hull",
        "hull to the shore",
    ]  # fmt: skip


def said(stay: Stay, heave_m: float = 0.0) -> list[str]:
    return [one.said for one in room_basis(stay, heave_m).assumptions]


def test_what_the_room_rests_on_is_said_word_for_word(k_day):
    near = (Neighbour("Grey Plover", 0.0, 0.0, 10.0, 3.2, 0.4, 0.0),)
    full = replace(
        k_day, neighbours=near, boat=replace(k_day.boat, tender=Tender(3.0, 1.5, 0.3, -8.0, 0.0))
    )
    assert said(full) == [
        "The water under her is told less 1.645 standard deviations of the bed: 95 of 100 beds"
        " drawn through these soundings lie lower (our choice)",
        "The hull without its keel is 0.5 m deep, from displacement, waterline and beam at a"
        " block coefficient of 0.4, and full in its sections",
        "From one rest to the next she goes straight and turns evenly",
        "No waves and no wash told: the 0.5 m of water wanted under her have to take them up"
        " (our choice)",
        "No length is told of keel, rudder: reckoned as points",
        "The tender lies fixed beside her where the boat file places it",
        "3 m are wanted to a neighbour, wherever she swings (our choice)",
    ]


def test_waves_or_wash_told_are_said_to_be_taken_off(k_day):
    waves = replace(k_day, waves=Waves(0.4, 3.0, 1.0))
    assert said(waves, 0.3)[3] == (
        "No wash told: 0.3 m are taken off for the rest; the 0.5 m of water wanted under her"
        " have to take them up (our choice)"
    )
    both = replace(waves, wash=Wash(0.5, 4.0))
    assert said(both, 0.4)[3] == (
        "Waves and wash bring her down by 0.4 m; 0.5 m of water are wanted beside that (our choice)"
    )
