"""Laws of a boat at rest: balance, and that no place, turn or order is special."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from shorefast.mooring import (
    AIR_KGPM3,
    FOUND,
    L_BEARING,
    L_PULL,
    LEFT,
    UNKNOWN,
    UNSETTLED,
    BedLine,
    Domain,
    GridBed,
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
    shore_line_at_distance,
    solve_rest,
    wind_force,
)

QUIET = settings(derandomize=True, max_examples=12, deadline=None, database=None)
FORM = WindForm(14.0, 31.0, 13.0, 0.4, 0.95, 0.8, 0.82, 0.45)
CHAIN = LineSegments(np.array([60.0]), np.array([19.2]), np.array([8.5e6]))
SOUTHWARD = (0.0, 0.0, math.pi)
WINDS = st.floats(1.0, 22.0)
AROUND = st.floats(0.0, 2.0 * math.pi)
LEVELS = st.floats(0.0, 3.0)


def wind(speed_mps, from_rad):
    return Load(0.0, 0.0, 0.0, speed_mps, from_rad, AIR_KGPM3)


def three_lines():
    """Stern to a shore in the north, anchor on a bed that rises toward it."""
    rode = RodeLine("rode", 6.3, 0.0, 1.5, 0.0, -56.0, CHAIN, PlaneBed(-17.0, 0.02, 0.12), 0.6)
    lines = tuple(
        ShoreLine(f"stern {side:g}", -5.6, side, 1.1, -7.0 * side, 28.0, 4.8, 25.3, 1.1, 9e4)
        for side in (1.7, -1.7)
    )
    return Scene((rode, *lines), Domain(-40.0, 40.0, -40.0, 30.0), FORM)


def over_a_grid(scene=None, rough_m=0.15, sign=1.0):
    """The same lines over a bed given on a grid of 2 m, roughened by a seeded error."""
    east = np.arange(-100.0, 100.1, 2.0)
    across, up = np.meshgrid(east, east)
    error = np.random.default_rng(3).normal(0.0, rough_m, across.shape)
    level = -17.0 + 0.02 * across + 0.12 * (up + 56.0) + error
    level = level if sign > 0.0 else level[:, ::-1]
    scene = scene or three_lines()
    bed = GridBed(-100.0, -100.0, 2.0, np.ascontiguousarray(level))
    return replace(scene, lines=(replace(scene.lines[0], bed=bed), *scene.lines[1:]))


def ready(scene, start=SOUTHWARD):
    return moored(scene, FORM, 6.5, np.array(start), Spread(-0.05, 3.05, 4, 33))


def placed(line, q):
    """East and north from a line's body point to its far end."""
    sine, cosine = math.sin(q[2]), math.cos(q[2])
    east = q[0] + line.x_m * sine + line.y_m * cosine
    north = q[1] + line.x_m * cosine - line.y_m * sine
    return line.east_m - east, line.north_m - north


def exact_pull_n(line, far_m, bearing_rad, level_m):
    """Level pull by the line's own statics, the plane bed cut along its bearing."""
    if isinstance(line, ShoreLine):
        rope = ShoreRope(line.length_m, line.weight_npm, line.axial_stiffness_n)
        return shore_line_at_distance(rope, line.z_m, line.level_m - level_m, far_m).pull_n
    bed = line.bed
    rise = bed.rise_east * math.sin(bearing_rad) + bed.rise_north * math.cos(bearing_rad)
    under = BedLine(np.array([-90.0, 90.0]), bed.level_at_anchor_m + rise * np.array([-90.0, 90.0]))
    form = rode_at_distance(line.segments, under, line.friction, level_m + line.z_m, far_m)
    return form.pull_n


def sums(scene, q, load, level_m):
    """Forces east and north and the moment, all lines solved anew at a place."""
    fx, fy, turn = wind_force(FORM, load.wind_mps, load.wind_from_rad - q[2], AIR_KGPM3)
    sine, cosine = math.sin(q[2]), math.cos(q[2])
    total = np.array([fx * sine + fy * cosine, fx * cosine - fy * sine, turn])
    for line in scene.lines:
        de, dn = placed(line, q)
        far_m = math.hypot(de, dn)
        pull_n = exact_pull_n(line, far_m, math.atan2(-de, -dn), level_m)
        fe, fn = pull_n * de / far_m, pull_n * dn / far_m
        arm_e = line.x_m * sine + line.y_m * cosine
        arm_n = line.x_m * cosine - line.y_m * sine
        total += np.array([fe, fn, fe * arm_n - fn * arm_e])
    return total


def turn_apart(one_rad, other_rad):
    return abs((one_rad - other_rad + math.pi) % (2.0 * math.pi) - math.pi)


def same_place(one, other, east_m, north_m, turn_rad):
    assert one.why == other.why
    # with the wind ahead and all stern lines slack she sheers and has no rest (see below)
    assume(one.why == "found")
    # the solver stops at a millionth of a newton; on slack lines that is a tenth of a millimetre
    assert other.east_m == pytest.approx(east_m, abs=2e-4)
    assert other.north_m == pytest.approx(north_m, abs=2e-4)
    assert turn_apart(other.heading_rad, turn_rad) < 2e-5


def turned(scene, angle_rad, east_m=0.0, north_m=0.0):
    """The scene turned clockwise about its origin, then shifted."""
    sine, cosine = math.sin(angle_rad), math.cos(angle_rad)

    def about(east, north):
        return east * cosine + north * sine, north * cosine - east * sine

    lines = []
    for line in scene.lines:
        east, north = about(line.east_m, line.north_m)
        moved = replace(line, east_m=east + east_m, north_m=north + north_m)
        if isinstance(line, RodeLine):
            rise_e, rise_n = about(line.bed.rise_east, line.bed.rise_north)
            moved = replace(moved, bed=PlaneBed(line.bed.level_at_anchor_m, rise_e, rise_n))
        lines.append(moved)
    wide = Domain(east_m - 60.0, east_m + 60.0, north_m - 60.0, north_m + 60.0)
    return replace(scene, lines=tuple(lines), domain=wide)


@QUIET
@given(WINDS, AROUND, LEVELS)
def test_at_rest_all_forces_sum_to_nothing(speed_mps, from_rad, level_m):
    scene, load = three_lines(), wind(speed_mps, from_rad)
    rest = solve_rest(scene, load, level_m, SOUTHWARD)
    assume(rest.why == "found")
    total = sums(scene, (rest.east_m, rest.north_m, rest.heading_rad), load, level_m)
    assert np.hypot(*total[:2]) < 1.0
    assert abs(total[2]) < 10.0
    assert rest.residual_n < 1e-3


def test_at_every_rest_of_a_batch_the_pulls_it_tells_balance_the_wind():
    boat = ready(over_a_grid())
    draw = np.random.default_rng(11)
    level, speed = draw.uniform(0.0, 3.0, (60, 2)), draw.uniform(0.0, 22.0, (60, 2))
    blow = draw.uniform(0.0, 2.0 * math.pi, (60, 2))
    found = rests(boat, level, speed, blow, boat.all_set)
    assert np.mean(found.code == FOUND) > 0.97
    assert set(np.unique(found.code)) <= {FOUND, UNSETTLED}
    for at in map(tuple, np.argwhere(found.code == FOUND)):
        q = found.q[at]
        fx, fy, _ = wind_force(FORM, speed[at], blow[at] - q[2], AIR_KGPM3)
        sine, cosine = math.sin(q[2]), math.cos(q[2])
        pull_n, toward = found.line[at][:, L_PULL], found.line[at][:, L_BEARING]
        east_n = fx * sine + fy * cosine + np.sum(pull_n * np.sin(toward))
        north_n = fx * cosine - fy * sine + np.sum(pull_n * np.cos(toward))
        assert math.hypot(east_n, north_n) < 1.0


@QUIET
@given(WINDS, AROUND, LEVELS, st.floats(-3.1, 3.1), st.floats(-20.0, 20.0))
def test_a_bay_turned_and_shifted_turns_and_shifts_the_boat(
    speed_mps, from_rad, level_m, angle_rad, shift_m
):
    scene = three_lines()
    one = solve_rest(scene, wind(speed_mps, from_rad), level_m, SOUTHWARD)
    other = solve_rest(
        turned(scene, angle_rad, shift_m, -2.0 * shift_m),
        wind(speed_mps, from_rad + angle_rad),
        level_m,
        (shift_m, -2.0 * shift_m, math.pi + angle_rad),
    )
    sine, cosine = math.sin(angle_rad), math.cos(angle_rad)
    east = one.east_m * cosine + one.north_m * sine + shift_m
    north = one.north_m * cosine - one.east_m * sine - 2.0 * shift_m
    same_place(one, other, east, north, one.heading_rad + angle_rad)
    for before, after in zip(one.lines, other.lines, strict=True):
        assert after.pull_n == pytest.approx(before.pull_n, rel=1e-4, abs=0.01)


def mirrored(scene):
    lines = []
    for line in scene.lines:
        moved = replace(line, east_m=-line.east_m, y_m=-line.y_m)
        if isinstance(line, RodeLine) and isinstance(line.bed, PlaneBed):
            moved = replace(moved, bed=replace(line.bed, rise_east=-line.bed.rise_east))
        lines.append(moved)
    d = scene.domain
    return replace(scene, lines=tuple(lines), domain=replace(d, west_m=-d.east_m, east_m=-d.west_m))


@QUIET
@given(WINDS, AROUND, LEVELS)
def test_a_bay_in_the_mirror_mirrors_the_boat(speed_mps, from_rad, level_m):
    scene = three_lines()
    one = solve_rest(scene, wind(speed_mps, from_rad), level_m, SOUTHWARD)
    other = solve_rest(mirrored(scene), wind(speed_mps, -from_rad), level_m, SOUTHWARD)
    same_place(one, other, -one.east_m, one.north_m, -one.heading_rad)


def test_a_bay_in_the_mirror_mirrors_a_whole_batch_on_a_rough_bed():
    draw = np.random.default_rng(12)
    level, speed = draw.uniform(0.0, 3.0, (40, 3)), draw.uniform(1.0, 20.0, (40, 3))
    blow = draw.uniform(0.0, 2.0 * math.pi, (40, 3))
    here = ready(over_a_grid())
    there = ready(mirrored(over_a_grid(sign=-1.0)))
    one = rests(here, level, speed, blow, here.all_set)
    other = rests(there, level, speed, -blow, there.all_set)
    both = (one.code == FOUND) & (other.code == FOUND)
    assert both.mean() > 0.97
    # a batch stops at a hundredth of a newton, on lines that may hang slack
    assert other.q[both, 0] == pytest.approx(-one.q[both, 0], abs=5e-3)
    assert other.q[both, 1] == pytest.approx(one.q[both, 1], abs=5e-3)
    assert other.line[both][:, :, L_PULL] == pytest.approx(
        one.line[both][:, :, L_PULL], rel=1e-3, abs=1.0
    )


@QUIET
@given(WINDS, AROUND, LEVELS, st.permutations(range(3)))
def test_the_order_in_which_lines_are_told_means_nothing(speed_mps, from_rad, level_m, order):
    scene, load = three_lines(), wind(speed_mps, from_rad)
    shuffled = replace(scene, lines=tuple(scene.lines[i] for i in order))
    one = solve_rest(scene, load, level_m, SOUTHWARD)
    other = solve_rest(shuffled, load, level_m, SOUTHWARD)
    same_place(one, other, one.east_m, one.north_m, one.heading_rad)
    for place, i in enumerate(order):
        assert other.lines[place].pull_n == pytest.approx(one.lines[i].pull_n, rel=1e-5, abs=0.01)


@QUIET
@given(WINDS, AROUND)
def test_a_line_cast_off_is_as_if_it_had_never_been(speed_mps, from_rad):
    scene, load = three_lines(), wind(speed_mps, from_rad)
    bare = replace(scene, lines=scene.lines[:2])
    gone = solve_rest(scene, load, 1.0, SOUTHWARD, (True, True, False))
    never = solve_rest(bare, load, 1.0, SOUTHWARD)
    assert gone.why == never.why
    if gone.why == "found":
        same_place(gone, never, gone.east_m, gone.north_m, gone.heading_rad)
        assert gone.lines[2] is None


@QUIET
@given(WINDS, AROUND, LEVELS)
def test_a_rest_once_found_stays_where_it_is(speed_mps, from_rad, level_m):
    scene, load = three_lines(), wind(speed_mps, from_rad)
    one = solve_rest(scene, load, level_m, SOUTHWARD)
    again = solve_rest(scene, load, level_m, (one.east_m, one.north_m, one.heading_rad))
    same_place(one, again, one.east_m, one.north_m, one.heading_rad)
    nudged = (one.east_m + 0.05, one.north_m - 0.05, one.heading_rad + 0.01)
    back = solve_rest(scene, load, level_m, nudged)
    same_place(one, back, one.east_m, one.north_m, one.heading_rad)


def test_the_same_hours_give_the_same_rests_to_the_bit_alone_or_in_company():
    boat = ready(over_a_grid())
    draw = np.random.default_rng(13)
    level, speed = draw.uniform(0.0, 3.0, (24, 6)), draw.uniform(0.0, 20.0, (24, 6))
    blow = draw.uniform(0.0, 2.0 * math.pi, (24, 6))
    once = rests(boat, level, speed, blow, boat.all_set)
    again = rests(ready(over_a_grid()), level, speed, blow, boat.all_set)
    for name in ("q", "code", "line"):
        assert np.array_equal(getattr(once, name), getattr(again, name), equal_nan=True)
    for m in range(24):
        cut = slice(m, m + 1)
        alone = rests(boat, level[cut], speed[cut], blow[cut], boat.all_set)
        for name in ("q", "code", "line"):
            whole = getattr(once, name)[cut]
            assert np.array_equal(getattr(alone, name), whole, equal_nan=True)


def test_a_boat_that_would_sheer_for_ever_is_given_no_rest():
    # Her windage's centre lies forward, the stern lines hang slack, the wind is dead ahead:
    # damped motion itself, integrated in time, swings from side to side without end.
    scene = three_lines()
    rest = solve_rest(scene, wind(6.0, math.pi), 0.0, SOUTHWARD)
    assert rest.why == "unknown"
    assert math.isnan(rest.heading_rad)
    # five degrees to the side one stern line comes taut and holds her
    assert solve_rest(scene, wind(6.0, math.pi - 0.1), 0.0, SOUTHWARD).why == "found"


def test_no_wind_and_slack_lines_is_a_rest_too():
    scene = three_lines()
    slack = tuple(replace(line, length_m=60.0) for line in scene.lines[1:])
    boat = ready(over_a_grid(replace(scene, lines=(scene.lines[0], *slack))))
    nothing = np.zeros((1, 2))
    found = rests(boat, nothing, nothing, nothing, boat.all_set)
    assert np.all(found.code == FOUND)
    assert np.all(np.abs(found.line[..., L_PULL]) < 0.1)


@pytest.mark.parametrize("which", ["level", "wind", "from"])
def test_an_hour_that_is_not_known_has_no_rest_and_spoils_no_other(which):
    boat = ready(over_a_grid())
    told = {"level": np.ones((1, 3)), "wind": np.full((1, 3), 8.0), "from": np.full((1, 3), 1.0)}
    whole = rests(boat, told["level"], told["wind"], told["from"], boat.all_set)
    told[which][0, 1] = np.nan
    found = rests(boat, told["level"], told["wind"], told["from"], boat.all_set)
    assert found.code.tolist() == [[FOUND, UNKNOWN, FOUND]]
    assert np.all(np.isnan(found.q[0, 1])) and np.all(np.isnan(found.line[0, 1]))
    assert found.q[0, 2] == pytest.approx(whole.q[0, 2], abs=5e-3)


def test_with_nothing_set_she_is_blown_out_of_the_bay():
    boat = ready(over_a_grid())
    found = rests(boat, np.ones((1, 1)), np.full((1, 1), 10.0), np.zeros((1, 1)), np.zeros(3))
    assert found.code.tolist() == [[LEFT]]
    assert np.all(np.isnan(found.q))


def test_where_the_bed_is_unknown_the_rest_is_unknown():
    scene = over_a_grid()
    bed = replace(scene.lines[0].bed, level_m=np.full((101, 101), np.nan))
    scene = replace(scene, lines=(replace(scene.lines[0], bed=bed), *scene.lines[1:]))
    rest = solve_rest(scene, wind(8.0, 0.0), 1.0, SOUTHWARD)
    assert rest.why == "unknown"
    assert math.isnan(rest.east_m) and math.isnan(rest.residual_n)
    boat = ready(scene)
    one = np.ones((1, 1))
    assert rests(boat, one, 8.0 * one, one, boat.all_set).code.tolist() == [[UNKNOWN]]
