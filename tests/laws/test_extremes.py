"""The ends of the range: nothing may blow up, and each must end in the right result or unknown."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from pyproj import Geod

from shorefast.bay import Frame
from shorefast.errors import BadInput
from shorefast.mooring import (
    AIR_KGPM3,
    FOUND,
    LEFT,
    UNKNOWN,
    BedLine,
    Domain,
    LineSegments,
    Load,
    PlaneBed,
    RodeLine,
    Scene,
    ShoreLine,
    ShoreRope,
    Spread,
    WindForm,
    moored,
    rests,
    rode_at_distance,
    rode_at_pull,
    shore_line_at_distance,
    solve_rest,
)

FORM = WindForm(14.0, 31.0, 13.0, 0.4, 0.95, 0.8, 0.82, 0.45)
SOUTHWARD = (0.0, 0.0, math.pi)
LEVEL = BedLine(np.array([-2000.0, 2000.0]), np.array([-17.0, -17.0]))
WEIGHT_NPM = 19.2


def chain(length_m):
    return LineSegments(np.array([length_m]), np.array([WEIGHT_NPM]), np.array([8.5e6]))


def wind(speed_mps, from_rad):
    return Load(0.0, 0.0, 0.0, speed_mps, from_rad, AIR_KGPM3)


def lie(rode=None, ashore=None, bed=None, points=((-11.9, 28.0), (11.9, 28.0))):
    """Anchor in the south in 17 m, two stern lines to trees in the north; parts changed by name."""
    anchor = RodeLine(
        "rode", 6.3, 0.0, 1.5, 0.0, -56.0, chain(60.0), bed or PlaneBed(-17.0, 0.02, 0.12), 0.6
    )
    lines = tuple(
        ShoreLine(f"stern {side:g}", -5.6, side, 1.1, *point, 4.8, 25.3, 1.1, 9e4)
        for side, point in zip((1.7, -1.7), points, strict=True)
    )
    return Scene(
        (replace(anchor, **(rode or {})), *(replace(line, **(ashore or {})) for line in lines)),
        Domain(-40.0, 40.0, -40.0, 30.0),
        FORM,
    )


def at_rest(scene, load, level_m=0.0, start=SOUTHWARD):
    rest = solve_rest(scene, load, level_m, start)
    tabled = batch_code(scene, load, level_m, start)
    assert tabled == {"found": FOUND, "left": LEFT}.get(rest.why, tabled)
    if rest.why == "unknown":
        assert tabled not in (FOUND, LEFT)
        assert math.isnan(rest.east_m) and math.isnan(rest.residual_n)
        assert rest.lines == (None,) * len(scene.lines)
    return rest


def batch_code(scene, load, level_m, start):
    """How the tables end in the same state."""
    middle_m = level_m if math.isfinite(level_m) else 0.0
    ready = moored(scene, FORM, 6.5, np.array(start), Spread(middle_m - 0.3, middle_m + 0.3, 2, 9))
    one = np.ones((1, 1))
    found = rests(
        ready, level_m * one, load.wind_mps * one, load.wind_from_rad * one, ready.all_set
    )
    return int(found.code[0, 0])


def test_without_wind_she_lies_between_her_lines_on_her_axis():
    rest = at_rest(lie(bed=PlaneBed(-17.0, 0.0, 0.12)), wind(0.0, 1.0))
    assert rest.why == "found"
    assert rest.east_m == pytest.approx(0.0, abs=1e-6)
    assert rest.heading_rad == pytest.approx(math.pi, abs=1e-6)
    # what the stern lines pull, each weighed by its lead, the chain pulls
    assert 0.0 < rest.lines[0].pull_n < 100.0
    assert rest.lines[1].pull_n == pytest.approx(rest.lines[2].pull_n, rel=1e-6)


def test_a_hurricane_is_a_result():
    # 100 m/s: ten tonnes on a line, told and not refused
    rest = at_rest(lie(), wind(100.0, 1.0))
    assert rest.why == "found"
    assert rest.residual_n < 1.0
    assert max(form.pull_n for form in rest.lines) > 1e5


@pytest.mark.parametrize("speed_mps", [500.0, 1e4])
def test_a_wind_beyond_all_winds_takes_her_out_of_the_bay(speed_mps):
    assert solve_rest(lie(), wind(speed_mps, 1.0), 0.0, SOUTHWARD).why == "left"


@pytest.mark.parametrize(
    ("speed_mps", "from_rad", "level_m"),
    [(math.nan, 1.0, 0.0), (5.0, math.nan, 0.0), (5.0, 1.0, math.nan)],
)
def test_what_is_not_known_stays_unknown(speed_mps, from_rad, level_m):
    scene = lie()
    assert solve_rest(scene, wind(speed_mps, from_rad), level_m, SOUTHWARD).why == "unknown"
    assert batch_code(scene, wind(speed_mps, from_rad), level_m, SOUTHWARD) == UNKNOWN


def test_an_endless_wind_is_unknown():
    assert solve_rest(lie(), wind(math.inf, 1.0), 0.0, SOUTHWARD).why == "unknown"


@pytest.mark.parametrize("length_m", [1.0, 16.0, 18.49])
@pytest.mark.parametrize("distance_m", [0.0, 5.0, 50.0])
def test_a_chain_shorter_than_the_water_is_deep_reaches_nowhere(length_m, distance_m):
    form = rode_at_distance(chain(length_m), LEVEL, 0.6, 1.5, distance_m)
    assert math.isnan(form.pull_n) and math.isnan(form.slack_distance_m)
    assert math.isnan(rode_at_pull(chain(length_m), LEVEL, 0.6, 1.5, 3000.0).distance_m)


def test_with_one_metre_of_chain_her_rest_is_unknown():
    assert at_rest(lie(rode={"segments": chain(1.0)}), wind(10.0, 1.0)).why == "unknown"


def test_a_kilometre_of_chain_lies_nearly_all_of_it():
    near = rode_at_distance(chain(1000.0), LEVEL, 0.6, 1.5, 50.0)
    # what hangs is the depth: 17 m and the roller, a hair longer for its own weight
    assert (near.pull_n, near.on_bottom_m) == (0.0, pytest.approx(981.5, abs=1e-3))
    held = rode_at_pull(chain(1000.0), LEVEL, 0.6, 1.5, 3000.0)
    lifted_m = math.sqrt(18.5 * (18.5 + 2.0 * 3000.0 / WEIGHT_NPM))
    assert held.on_bottom_m == pytest.approx(1000.0 - lifted_m, abs=0.05)
    # 0.6 of the weight of 922 m would hold three times the pull: the shank feels nothing
    assert (held.anchor_tension_n, held.uplift_rad) == (0.0, 0.0)
    flat = PlaneBed(-17.0, 0.0, 0.0)
    assert at_rest(lie({"segments": chain(1000.0)}, bed=flat), wind(10.0, 1.0)).why == "found"


@pytest.mark.parametrize("wide_m", [1e-3, 1e-6, 1e-9])
def test_a_wall_in_the_bed_is_a_corner_like_any_other(wide_m):
    along = np.array([-50.0, 20.0, 20.0 + wide_m, 200.0])
    up = rode_at_pull(
        chain(60.0), BedLine(along, np.array([-20.0, -20.0, -12.0, -12.0])), 0.6, 1.5, 2000.0
    )
    assert (up.bridged_spans, up.on_bottom_m) == (1, 0.0)
    # over the lip it turns: capstan, so that the shank feels less than the pull
    assert up.distance_m == pytest.approx(55.796, abs=1e-3)
    assert up.anchor_tension_n == pytest.approx(1547.2, abs=0.1)
    down = rode_at_pull(
        chain(60.0), BedLine(along, np.array([-12.0, -12.0, -20.0, -20.0])), 0.6, 1.5, 2000.0
    )
    lifted_m = math.sqrt(13.5 * (13.5 + 2.0 * 2000.0 / WEIGHT_NPM))
    # it lifts before the edge and never knows of it
    assert 60.0 - down.on_bottom_m == pytest.approx(lifted_m, abs=0.02)


def test_with_every_line_slack_and_no_wind_she_floats_where_she_was_laid():
    rest = at_rest(lie(ashore={"length_m": 60.0}), wind(0.0, 0.0))
    assert rest.why == "found"
    assert [form.pull_n for form in rest.lines] == pytest.approx([0.0, 0.0, 0.0], abs=0.1)


def test_with_slack_lines_and_no_anchor_a_breeze_takes_her_out():
    scene = lie(ashore={"length_m": 90.0})
    rest = solve_rest(scene, wind(5.0, 0.0), 0.0, SOUTHWARD, (False, True, True))
    assert rest.why == "left"


@pytest.mark.parametrize("point_m", [-0.5, -3.0, -100.0])
def test_a_drowned_point_is_led_from_the_water_above_it(point_m):
    load = wind(10.0, 1.0)
    drowned, awash = (
        at_rest(lie(ashore={"level_m": point_m}), load),
        at_rest(lie(ashore={"level_m": 0.0}), load),
    )
    assert drowned.why == awash.why == "found"
    assert (drowned.east_m, drowned.north_m) == (awash.east_m, awash.north_m)


def test_an_anchor_ashore_above_the_roller_is_unknown():
    assert at_rest(lie(bed=PlaneBed(4.0, 0.0, 0.0)), wind(10.0, 1.0)).why == "unknown"


def test_the_boat_on_top_of_her_anchor():
    above = {"north_m": -6.3}
    calm = at_rest(lie(above, {"length_m": 80.0}, PlaneBed(-17.0, 0.0, 0.0)), wind(0.0, 0.0))
    assert calm.why == "found"
    assert calm.lines[0].pull_n == 0.0
    # a form at no distance at all: slack, with all that does not hang lying
    form = rode_at_distance(chain(60.0), LEVEL, 0.6, 1.5, 0.0)
    assert (form.pull_n, form.on_bottom_m) == (0.0, pytest.approx(41.5, abs=1e-3))


@pytest.mark.parametrize("far_m", [24.0, 2000.0])
def test_a_line_shorter_than_its_way_is_as_tight_as_a_bar(far_m):
    form = shore_line_at_distance(ShoreRope(20.0, 1.1, 9e4), 1.1, 4.8, far_m)
    chord_m = math.hypot(far_m, 3.7)
    # Hooke along the chord; its weight is nothing to that
    assert form.pull_n == pytest.approx(9e4 * (chord_m / 20.0 - 1.0) * far_m / chord_m, rel=1e-4)
    assert (form.slack, form.on_water_m) == (False, 0.0)


def test_a_rest_with_lines_far_too_short_is_told_with_its_pulls():
    rest = at_rest(lie(ashore={"length_m": 20.0}), wind(10.0, 1.0))
    assert rest.why == "found"
    assert max(form.pull_n for form in rest.lines[1:]) > 2000.0


def test_nought_and_360_degrees_are_one_wind():
    scene = lie()
    north = at_rest(scene, wind(10.0, 0.0))
    for turns in (1, -1, 3):
        again = at_rest(scene, wind(10.0, math.radians(360.0 * turns)))
        assert again.east_m == pytest.approx(north.east_m, abs=1e-5)
        assert again.north_m == pytest.approx(north.north_m, abs=1e-5)
        assert again.heading_rad == pytest.approx(north.heading_rad, abs=1e-6)


def test_a_start_a_whole_turn_round_is_the_same_start():
    scene, load = lie(), wind(10.0, 1.0)
    one = at_rest(scene, load)
    other = at_rest(scene, load, 0.0, (0.0, 0.0, math.pi - 2.0 * math.pi))
    assert (other.east_m, other.heading_rad) == (
        pytest.approx(one.east_m, abs=1e-6),
        pytest.approx(one.heading_rad, abs=1e-6),
    )


# The date line from both sides, the equator, far south, far north.
@pytest.mark.parametrize(
    ("lat_deg", "lon_deg"),
    [(-17.0, 180.0), (-17.0, -180.0), (0.0, 179.9999), (-54.8, -68.3), (78.2, 15.6), (0.0, 0.0)],
)
def test_a_bay_at_the_date_line_or_in_the_south_lies_as_one_at_home(lat_deg, lon_deg):
    frame, geod = Frame(lat_deg, lon_deg), Geod(ellps="WGS84")
    points = []
    for east_m, north_m in ((-11.9, 28.0), (11.9, 28.0)):
        # where such a tree stands on the earth, by a geodesic library
        bearing_deg = math.degrees(math.atan2(east_m, north_m))
        lon, lat, _ = geod.fwd(lon_deg, lat_deg, bearing_deg, math.hypot(east_m, north_m))
        east, north = frame.to_plane(lat, lon)
        points.append((float(east), float(north)))
    home, there = at_rest(lie(), wind(10.0, 1.0)), at_rest(lie(points=points), wind(10.0, 1.0))
    assert (there.east_m, there.north_m, there.heading_rad) == (
        pytest.approx(home.east_m, abs=1e-4),
        pytest.approx(home.north_m, abs=1e-4),
        pytest.approx(home.heading_rad, abs=1e-5),
    )


@pytest.mark.parametrize("wrong", [0.0, -3.0, math.nan, math.inf])
def test_a_length_that_cannot_be_is_refused_with_a_way_out(wrong):
    with pytest.raises(BadInput) as trouble:
        rode_at_distance(chain(wrong), LEVEL, 0.6, 1.5, 40.0)
    assert trouble.value.sentence == (
        f"Rode: a piece with length {wrong:g}, more than 0 wanted. Correct it."
    )
    with pytest.raises(BadInput) as trouble:
        shore_line_at_distance(ShoreRope(wrong, 1.1, 9e4), 1.1, 4.8, 24.0)
    assert trouble.value.sentence == (
        f"Shore line: length {wrong:g}, more than 0 wanted. Correct it."
    )


def test_a_distance_or_height_that_is_not_known_has_an_unknown_pull():
    assert math.isnan(rode_at_distance(chain(60.0), LEVEL, 0.6, 1.5, math.nan).pull_n)
    assert math.isnan(rode_at_distance(chain(60.0), LEVEL, 0.6, math.nan, 40.0).pull_n)
