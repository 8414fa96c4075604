"""Ground swept: areas beside closed forms, kinds of bottom that add up, and a real stay."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Point, Polygon, box

from shorefast.basis import Basis
from shorefast.bay import DepthSurface, Zone, bed_profile
from shorefast.boat import RodePiece
from shorefast.mooring import AIR_KGPM3, BedLine, rode_at_pull, solve_rest, wind_force
from shorefast.readers import read_stay
from shorefast.stay import GroundSwept, Scoured, Stay, ground_swept, judge
from shorefast.stay.ground_swept import LINK_WIDTHS, bottoms_of
from shorefast.stay.ground_swept_free import SCOPE, in_sight, scope_chain_m, swinging
from shorefast.stay.ground_swept_shape import ground_of_path
from shorefast.stay.rigging import rig
from shorefast.wording import ground_words, square_metres

LONG_M, WIDE_M = 30.0, 0.035
DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"


def swept_m2(bearing_deg, reach_m, width_m=WIDE_M) -> float:
    bearing = np.radians(np.asarray(bearing_deg, float))
    reach = np.broadcast_to(np.asarray(reach_m, float), bearing.shape)
    return float(ground_of_path((12.0, -7.0), bearing, reach, width_m).area)


# Plane geometry: a strip of length L and width w (its ends rounded, w squared too little to see),
# a sector of L squared theta over two with half the width beyond its two sides and its rim.
def test_chain_that_does_not_move_covers_a_strip_as_wide_as_it_is():
    assert swept_m2([40.0] * 5, LONG_M) == pytest.approx(LONG_M * WIDE_M, rel=0.002)


@pytest.mark.parametrize("turn_deg", [1.0, 25.0, 90.0, 179.0])
def test_chain_that_swings_sweeps_a_sector(turn_deg):
    theta = math.radians(turn_deg)
    expected = LONG_M**2 * theta / 2.0 + WIDE_M * LONG_M + 0.5 * WIDE_M * LONG_M * theta
    # corners a degree apart cut 5e-5 off the rim
    assert swept_m2([20.0, 20.0 + turn_deg], LONG_M) == pytest.approx(expected, rel=3e-4)


def test_chain_that_goes_all_round_sweeps_a_circle_and_no_more_the_second_time():
    once = swept_m2(np.arange(0.0, 361.0, 30.0), LONG_M)
    assert once == pytest.approx(math.pi * (LONG_M + WIDE_M / 2.0) ** 2, rel=3e-4)
    assert swept_m2(np.arange(0.0, 721.0, 30.0), LONG_M) == pytest.approx(once, rel=1e-6)


def test_chain_that_drops_and_lifts_on_one_bearing_covers_its_longest_strip():
    assert swept_m2([70.0] * 3, [10.0, LONG_M, 5.0]) == pytest.approx(LONG_M * WIDE_M, rel=0.002)


# Within a swing the lying length changes evenly: the integral of r squared over two.
def test_chain_that_lifts_while_it_swings_sweeps_the_integral():
    theta, near_m = math.radians(60.0), 12.0
    expected = theta / 6.0 * (LONG_M**2 + LONG_M * near_m + near_m**2)
    assert swept_m2([0.0, 60.0], [LONG_M, near_m], 1e-4) == pytest.approx(expected, rel=3e-4)


def test_it_turns_the_short_way_over_north():
    theta = math.radians(20.0)
    assert swept_m2([350.0, 10.0], LONG_M, 1e-4) == pytest.approx(LONG_M**2 * theta / 2, rel=3e-4)
    assert swept_m2([10.0, -10.0], LONG_M, 1e-4) == pytest.approx(LONG_M**2 * theta / 2, rel=3e-4)


def test_two_swings_apart_add_up_and_two_over_each_other_do_not():
    north, south = [-10.0, 10.0], [170.0, 190.0]
    both = swept_m2([*north, math.nan, *south], LONG_M, 1e-6)
    assert both == pytest.approx(swept_m2(north, LONG_M, 1e-6) + swept_m2(south, LONG_M, 1e-6))
    twice = swept_m2([-10.0, 10.0, math.nan, 0.0, 5.0], LONG_M, 1e-6)
    assert twice == pytest.approx(swept_m2(north, LONG_M, 1e-6))


def test_nothing_is_put_between_a_state_and_one_that_nobody_knows():
    lone = swept_m2([0.0, math.nan, 90.0], [LONG_M, LONG_M, LONG_M])
    assert lone == pytest.approx(2.0 * LONG_M * WIDE_M, rel=0.002)
    assert swept_m2([math.nan, math.nan], LONG_M) == 0.0


def test_a_path_seen_in_a_mirror_sweeps_the_mirrored_ground_and_a_longer_one_no_less():
    draw = np.random.default_rng(8)
    bearing, reach = np.cumsum(draw.normal(0.0, 0.3, 80)), draw.uniform(5.0, 40.0, 80)
    one = ground_of_path((0.0, 0.0), bearing, reach, WIDE_M)
    other = ground_of_path((0.0, 0.0), -bearing, reach, WIDE_M)
    mirrored = shapely.transform(other, lambda xy: xy * (-1.0, 1.0))
    assert shapely.symmetric_difference(one, mirrored).area < 1e-3 * one.area
    part = ground_of_path((0.0, 0.0), bearing[:50], reach[:50], WIDE_M)
    # where two swings cross within a degree their rim is bridged straight
    assert shapely.difference(part, one).area < 5e-4 * one.area


def test_the_star_of_all_swings_is_their_union():
    draw = np.random.default_rng(3)
    bearing, reach = np.cumsum(draw.normal(0.0, 0.4, 60)), draw.uniform(5.0, 40.0, 60)
    at_once = ground_of_path((0.0, 0.0), bearing, reach, WIDE_M)
    one_by_one = shapely.union_all(
        [
            ground_of_path((0.0, 0.0), bearing[k : k + 2], reach[k : k + 2], WIDE_M)
            for k in range(59)
        ]
    )
    assert shapely.symmetric_difference(at_once, one_by_one).area < 2e-3 * at_once.area


@pytest.fixture(scope="module")
def flat(k_day) -> Stay:
    """Behind the spur no more: level sand at 15 m all round, no land, no zones."""
    grid = k_day.bay.surface.grid
    level = np.full_like(grid.level_m, -15.0)
    wide = grid._replace(west_m=grid.west_m, level_m=level)
    surface = DepthSurface(wide, Basis())
    bay = replace(k_day.bay, surface=surface, land=None, shore=None, zones=())
    return replace(k_day, bay=bay)


# The catenary from a level bed: s squared = h squared + 2 h a, a = H / w (faltinsen-1990, ch. 8,
# from memory); stretch of the chain moves the last touch by centimetres.
def test_on_a_level_bed_the_chain_that_hangs_is_the_catenary(flat):
    rigged = rig(flat, 0.0)
    wind_mps = np.array([[6.0, 10.0, 14.0, 20.0]])
    level_m, blow = np.zeros_like(wind_mps), np.full_like(wind_mps, math.radians(200.0))
    (free,) = swinging(flat, rigged, level_m, (wind_mps,), blow)
    high_m = 15.0 + rigged.rode.z_m
    assert free.chain_m == pytest.approx(SCOPE * high_m)
    pull_n = np.array([abs(wind_force(rigged.form, v, 0.0, AIR_KGPM3)[0]) for v in wind_mps[0]])
    a_m = pull_n / float(rigged.rode.segments.weight_npm[0])
    hangs_m = np.sqrt(high_m**2 + 2.0 * high_m * a_m)
    # read between rows of pull: a decimetre or two
    assert free.lies_m[0] == pytest.approx(free.chain_m - hangs_m, abs=0.35)
    assert np.degrees(free.bearing_rad[0]) == pytest.approx(20.0)
    assert scope_chain_m(flat, rigged, 1.0) == pytest.approx(SCOPE * (high_m + 1.0))


def test_a_wind_that_goes_all_round_sweeps_all_round_the_anchor(flat):
    wind = flat.wind
    # the forecast is more than twice as long as the stay
    turned = np.broadcast_to(
        np.linspace(0.0, 6.0 * math.pi, wind.time_utc.size), wind.gust_mps.shape
    )
    even = np.full_like(wind.gust_mps, 8.0)
    stay = replace(flat, wind=replace(wind, wind_mps=even, gust_mps=even, wind_from_rad=turned))
    judged = judge(stay)
    found = ground_swept(stay, judged)
    blown_mps = 8.0 * judged.rigged.height_share
    pull_n = abs(wind_force(judged.rigged.form, blown_mps, 0.0, AIR_KGPM3)[0])
    a_m = pull_n / float(judged.rigged.rode.segments.weight_npm[0])
    # the water rises by a quarter of a metre and falls: the least of it lays most chain
    high_m = 15.0 + judged.rigged.rode.z_m + float(np.nanmin(judged.judgement.water_level_m))
    lies_m = found.chain_m - math.sqrt(high_m**2 + 2.0 * high_m * a_m)
    assert found.swinging is not None
    assert found.swinging.total_m2 == pytest.approx(math.pi * lies_m**2, rel=0.03)
    assert found.kinds == ("sand",)


@pytest.fixture(scope="module")
def k_ground(k_day, k_judged) -> GroundSwept:
    return ground_swept(k_day, k_judged)


def test_behind_the_spur_lines_spare_the_meadow_that_swinging_would_plough(k_ground):
    meadow = k_ground.kinds.index("seagrass")
    assert k_ground.lying.area_m2[:, meadow].max() == 0.0
    assert k_ground.swinging is not None
    assert k_ground.swinging.area_m2[:, meadow].min() > 1000.0
    assert k_ground.lying.total_m2.max() < 0.1 * k_ground.swinging.total_m2.min()


def test_kinds_of_bottom_add_up_to_the_ground_itself(k_ground):
    for told in (k_ground.lying, k_ground.swinging):
        assert told.total_m2 == pytest.approx([shape.area for shape in told.shapes], rel=1e-9)


def test_no_chain_lies_farther_than_there_is_out(k_day, k_ground):
    anchor = Point(k_day.lie.let_go_east_m, k_day.lie.let_go_north_m)
    for shape in k_ground.lying.shapes:
        assert shape.within(anchor.buffer(k_day.lie.chain_out_m))


def test_the_same_to_the_bit_when_asked_again(k_day, k_judged, k_ground):
    again = ground_swept(k_day, k_judged)
    assert np.array_equal(again.lying.area_m2, k_ground.lying.area_m2)
    assert np.array_equal(again.swinging.area_m2, k_ground.swinging.area_m2)


def test_the_smallest_zone_over_a_place_says_what_bottom_it_is(k_day):
    large = Zone("seagrass", "meadow", box(-50.0, -50.0, 50.0, 50.0), "made up")
    small = Zone("sand", "patch", box(-10.0, -10.0, 10.0, 10.0), "made up")
    bay = replace(k_day.bay, zones=(large, small), bottom="mud")
    found = bottoms_of(bay, box(-60.0, -60.0, 60.0, 60.0))
    assert {kind: shape.area for kind, shape in found.items()} == pytest.approx(
        {"sand": 400.0, "seagrass": 9600.0, "mud": 120.0**2 - 100.0**2}
    )
    assert bottoms_of(replace(bay, bottom="", zones=()), box(0, 0, 1, 1))["unknown"].area == 1.0


def test_chain_does_not_reach_through_a_spit_of_land(flat):
    land = Polygon([(-10.0, 20.0), (10.0, 20.0), (10.0, 22.0), (-10.0, 22.0)])
    lie = replace(flat.lie, let_go_east_m=0.0, let_go_north_m=0.0)
    seen = in_sight(replace(flat, lie=lie, bay=replace(flat.bay, land=land)), 50.0)
    assert not seen.contains(Point(0.0, 30.0)) and seen.contains(Point(30.0, 30.0))
    assert seen.contains(LineString([(0.0, 0.0), (0.0, 19.5)]))


def _told(lying, free, kinds=("seagrass", "sand"), **changed) -> GroundSwept:
    shapes = (Polygon(),) * len(lying)
    plain = GroundSwept(
        np.arange(len(lying)), kinds, Scoured(np.array(lying), shapes),
        None if free is None else Scoured(np.array(free), shapes), 67.3, 70.0, 0.0, 0, Basis(),
    )  # fmt: skip
    return replace(plain, **changed)


def test_the_sentence_says_how_much_with_its_doubt_and_how_much_of_it_is_seagrass():
    found = _told([[0.0, 36.0], [0.0, 44.0]], [[1150.0, 1750.0], [1250.0, 1850.0]])
    assert ground_words(found) == (
        "Lying to lines her chain sweeps about 40 m² (36 to 44), none of it seagrass. Swinging to"
        " the same anchor with 67 m of chain it would be about 3000 m² (2900 to 3100), 1200 m² of"
        " it seagrass."
    )
    short = _told([[0.2, 36.0]], [[900.0, 100.0]], aboard_m=50.0, aground_share=0.4)
    assert ground_words(short).endswith(
        "about 1000 m², 900 m² of it seagrass; she has 50 m aboard and she would have no water in"
        " 40% of all states."
    )
    bare = _told([[30.0]], None, ("unknown",))
    assert ground_words(bare) == (
        "Lying to lines her chain sweeps about 30 m², 30 m² of bottom that nobody told. What"
        " swinging free would sweep is unknown: the bed there, or the wind, is not"
        " known."
    )


def test_an_area_is_said_with_two_digits():
    assert [square_metres(a) for a in (0.2, 8.6, 44.4, 2849.0, math.nan)] == [
        "0 m²", "9 m²", "44 m²", "2800 m²", "unknown",
    ]  # fmt: skip


def test_the_sentence_says_where_little_is_known_and_where_nothing_lies():
    lost = _told([[0.0, 36.0]], [[900.0, 100.0]], lost=3, lost_swinging=2)
    assert ground_words(lost) == (
        "Lying to lines her chain sweeps at least 36 m², none of it seagrass. Swinging to the same"
        " anchor with 67 m of chain it would be at least 1000 m², 900 m² of it seagrass."
    )
    lifted = _told([[0.0, 0.0]], [[900.0, 100.0]])
    assert ground_words(lifted).startswith(
        "Lying to lines her chain sweeps less than 1 m² of bed. Swinging"
    )
    nothing = _told([[math.nan, math.nan]], None, lost=8)
    assert ground_words(nothing).startswith(
        "Lying to lines, what her chain sweeps is unknown: she has no known rest."
    )
    unmapped = _told([[0.0, 30.0]], None, ("seagrass", "unknown"))
    assert "none of it known to be seagrass and 30 m² of bottom that nobody told" in ground_words(
        unmapped
    )


def test_where_no_wind_is_known_the_ground_swept_is_unknown(k_day):
    calm = np.full_like(k_day.wind.gust_mps, np.nan)
    stay = replace(k_day, wind=replace(k_day.wind, gust_mps=calm, wind_mps=calm))
    found = ground_swept(stay, judge(stay))
    assert np.isnan(found.lying.area_m2).all() and found.swinging is None
    assert ground_words(found) == (
        "Lying to lines, what her chain sweeps is unknown: she has no known rest. What swinging"
        " free would sweep is unknown: the bed there, or the wind, is not known."
    )


# The exact shapes of her rode at the places she lies at, pulled until its bow is where hers is;
# the bed they touch painted on squares of 5 cm.
def test_what_her_chain_touches_painted_on_squares_covers_as_much():
    stay = read_stay(DEMO / "grey_notch" / "stay.toml")
    wind, few = stay.wind, slice(1)
    stay = replace(
        stay,
        wind=replace(
            wind, member=wind.member[few], wind_mps=wind.wind_mps[few],
            wind_from_rad=wind.wind_from_rad[few], gust_mps=wind.gust_mps[few],
        ),
        until_utc=stay.from_utc + timedelta(hours=3),
    )  # fmt: skip
    judged = judge(stay)
    found = ground_swept(stay, judged)
    assert judged.judgement.member.size == 1
    winds = judged.judgement.wind_mps[0], judged.judgement.gust_mps[0]
    lull, gust = (
        np.array([_exactly(stay, judged, float(v), k) for k, v in enumerate(one)]) for one in winds
    )
    painted: set[tuple[int, int]] = set()
    between = np.stack([lull, gust], axis=1)
    for way in (lull, gust, between.reshape(-1, 2)):
        for one, next_ in pairwise(way):
            _paint(painted, one, next_)
    shape, side_m = found.lying.shapes[0], 0.05
    west, south, east, north = shape.bounds
    # squares that a convex shape meets are more than it by its two widths times a side; ours
    # has half a chain's width all round
    more_m2 = side_m * (east - west + north - south)
    chain_m2 = 0.5 * LINK_WIDTHS * stay.boat.rode[0].diameter_m * shape.length
    expected_m2 = len(painted) * side_m**2 - more_m2 + chain_m2
    assert found.lying.total_m2[0] == pytest.approx(expected_m2, rel=0.02)


def _exactly(stay, judged, wind_mps, k):
    """Bearing from the anchor and the last touch of the bed, the rode bisected by its pull."""
    answer, rigged = judged.judgement, judged.rigged
    level_m, rode = float(answer.water_level_m[0, k]), rigged.rode
    load = judged.extra._replace(
        wind_mps=wind_mps * rigged.height_share, wind_from_rad=float(answer.wind_from_rad[0, k])
    )
    begin = tuple(float(one) for one in rigged.start)
    at = solve_rest(rigged.scene, load, level_m, begin, arm_m=rigged.arm_m)
    assert at.why == "found"
    sine, cosine = math.sin(at.heading_rad), math.cos(at.heading_rad)
    east = at.east_m + rode.x_m * sine + rode.y_m * cosine - stay.lie.let_go_east_m
    north = at.north_m + rode.x_m * cosine - rode.y_m * sine - stay.lie.let_go_north_m
    toward, off_m = math.atan2(east, north), math.hypot(east, north)
    cut = bed_profile(
        stay.bay.surface, stay.lie.let_go_east_m, stay.lie.let_go_north_m, toward, 80.0, 1.0
    )
    known = np.isfinite(cut.level_m)
    bed = BedLine(cut.distance_m[known], cut.level_m[known])
    low, high = math.log(1.0), math.log(1e5)
    for _ in range(50):
        pull = 0.5 * (low + high)
        form = rode_at_pull(rode.segments, bed, rode.friction, level_m + rode.z_m, math.exp(pull))
        low, high = (pull, high) if form.distance_m < off_m else (low, pull)
    return toward, form.touchdown_m if form.on_bottom_m > 0.0 else 0.0


def _paint(painted, one, next_):
    turn = (next_[0] - one[0] + math.pi) % (2.0 * math.pi) - math.pi
    for share in np.linspace(0.0, 1.0, 2 + int(abs(turn) * max(one[1], next_[1]) / 0.02)):
        toward = one[0] + share * turn
        along = np.arange(0.0, one[1] + share * (next_[1] - one[1]), 0.02)
        east, north = along * math.sin(toward), along * math.cos(toward)
        squares = np.floor(np.stack([east, north], axis=-1) / 0.05).astype(int)
        painted.update(map(tuple, squares.tolist()))


def test_chain_and_rope_that_are_out_past_what_swinging_asks_for_swing_to_the_chain_alone(flat):
    # 70 m of chain aboard and rope behind it; 15 m of water ask for less than that
    chain = replace(flat.boat.rode[0], length_m=70.0)
    rope = RodePiece("rope", 0.014, 60.0, fibre="polyester")
    boat = replace(flat.boat, rode=(chain, rope))
    mixed = replace(flat, boat=boat, lie=replace(flat.lie, chain_out_m=80.0))
    bare = replace(mixed, lie=replace(flat.lie, chain_out_m=60.0))
    wind_mps = np.array([[6.0, 12.0]])
    still, blow = np.zeros_like(wind_mps), np.full_like(wind_mps, 1.0)
    (told,), (plain,) = (
        swinging(one, rig(one, 0.0), still, (wind_mps,), blow) for one in (mixed, bare)
    )
    assert told.chain_m == plain.chain_m < 70.0
    assert told.lies_m == pytest.approx(plain.lies_m, abs=1e-6)
