"""Laws of a boat at rest on lies drawn by a seed: scale, symmetry, order, company, monotony."""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from functools import partial

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from measures.lies import drawn
from measures.lies_checked import between, place
from measures.own_rest import wind_on

from shorefast.mooring import (
    AIR_KGPM3,
    Domain,
    LineSegments,
    Load,
    PlaneBed,
    RodeLine,
    Spread,
    batch,
    moored,
    rests,
    solve_rest,
)

QUIET = settings(derandomize=True, max_examples=15, deadline=None, database=None)
# seeds whose bed is a plane: two of five are sloped, one level
SEEDS = st.integers(0, 400).map(lambda k: 5 * (k // 3) + k % 3)
SLACK_M = 2e-4


def solved(lie):
    rest = solve_rest(lie.scene, lie.load, lie.level_m, lie.start, arm_m=lie.arm_m)
    # some sheer for ever and have no rest
    assume(rest.why == "found")
    return rest


def same(one, other, shift_m=SLACK_M):
    gap = between(place(one), place(other))
    assert gap.shift_m < shift_m
    assert gap.turn_rad < 1e-4


def with_lines(lie, change):
    return replace(lie, scene=replace(lie.scene, lines=tuple(map(change, lie.scene.lines))))


def rode_of(line, length=1.0, weight=1.0, stiffness=1.0):
    pieces = line.segments
    return LineSegments(
        pieces.length_m * length, pieces.weight_npm * weight, pieces.axial_stiffness_n * stiffness
    )


def scaled_line(line, k):
    """The same line where every length is k times as long, and every force k times as large."""
    where = {name: k * getattr(line, name) for name in ("x_m", "y_m", "z_m", "east_m", "north_m")}
    if isinstance(line, RodeLine):
        bed = replace(line.bed, level_at_anchor_m=k * line.bed.level_at_anchor_m)
        return replace(line, **where, segments=rode_of(line, k, 1.0, k), bed=bed)
    return replace(
        line, **where, level_m=k * line.level_m, length_m=k * line.length_m,
        axial_stiffness_n=k * line.axial_stiffness_n,
    )  # fmt: skip


@QUIET
@given(SEEDS, st.floats(0.3, 3.0))
def test_a_model_of_the_bay_lies_as_the_bay_does(seed, k):
    """Froude: lengths by k, weights a metre alike, winds by the root of k."""
    lie = drawn(seed)
    d, form, load = lie.scene.domain, lie.form, lie.load
    model = with_lines(lie, lambda line: scaled_line(line, k))
    wide = Domain(k * d.west_m, k * d.east_m, k * d.south_m, k * d.north_m)
    hull = form._replace(
        frontal_m2=k * k * form.frontal_m2, lateral_m2=k * k * form.lateral_m2,
        length_m=k * form.length_m, lever_m=k * form.lever_m,
    )  # fmt: skip
    rest = solved(lie)
    # weights a metre stay, so forces grow by k: areas by k2, the wind's square by 1 / k
    other = solve_rest(
        replace(model.scene, domain=wide, wind=hull),
        load._replace(wind_mps=load.wind_mps / math.sqrt(k)),
        k * lie.level_m,
        (k * lie.start[0], k * lie.start[1], lie.start[2]),
        arm_m=k * lie.arm_m,
    )
    assume(other.why == "found")
    assert other.east_m == pytest.approx(k * rest.east_m, abs=k * SLACK_M)
    assert other.north_m == pytest.approx(k * rest.north_m, abs=k * SLACK_M)
    for before, after in zip(rest.lines, other.lines, strict=True):
        assert after.pull_n == pytest.approx(k * before.pull_n, rel=1e-4, abs=0.05)


@QUIET
@given(SEEDS, st.floats(0.3, 3.0))
def test_all_weights_and_the_air_twice_as_heavy_leave_her_where_she_was(seed, k):
    lie = drawn(seed)

    def heavier(line):
        if isinstance(line, RodeLine):
            return replace(line, segments=rode_of(line, 1.0, k, k))
        return replace(
            line, weight_npm=k * line.weight_npm, axial_stiffness_n=k * line.axial_stiffness_n
        )

    rest = solved(lie)
    air = lie.load._replace(density_kgpm3=k * lie.load.density_kgpm3)
    heavy = with_lines(replace(lie, load=air), heavier)
    other = solve_rest(heavy.scene, air, lie.level_m, lie.start, arm_m=lie.arm_m)
    assume(other.why == "found")
    same(rest, other, 1e-3)
    for before, after in zip(rest.lines, other.lines, strict=True):
        assert after.pull_n == pytest.approx(k * before.pull_n, rel=1e-4, abs=0.05)


@QUIET
@given(SEEDS, st.floats(-30.0, 30.0))
def test_a_tide_that_lifts_bed_and_trees_too_changes_nothing(seed, up_m):
    lie = drawn(seed)

    def lifted(line):
        if isinstance(line, RodeLine):
            bed = line.bed
            up = PlaneBed(bed.level_at_anchor_m + up_m, bed.rise_east, bed.rise_north)
            return replace(line, bed=up)
        return replace(line, level_m=line.level_m + up_m)

    rest = solved(lie)
    high = with_lines(lie, lifted)
    other = solve_rest(high.scene, lie.load, lie.level_m + up_m, lie.start, arm_m=lie.arm_m)
    assert other.why == "found"
    same(rest, other)


@QUIET
@given(SEEDS, st.integers(0, 3))
def test_a_line_made_of_two_thinner_ones_holds_her_alike(seed, which):
    lie = drawn(seed)
    ashore = lie.scene.lines[1:]
    assume(len(ashore) > which)
    rest = solved(lie)
    half = replace(
        ashore[which],
        weight_npm=0.5 * ashore[which].weight_npm,
        axial_stiffness_n=0.5 * ashore[which].axial_stiffness_n,
    )
    others = [line for line in lie.scene.lines if line is not ashore[which]]
    scene = replace(lie.scene, lines=(*others, half, replace(half, name="twin")))
    other = solve_rest(scene, lie.load, lie.level_m, lie.start, arm_m=lie.arm_m)
    assert other.why == "found"
    same(rest, other)
    both_n = other.lines[-1].pull_n + other.lines[-2].pull_n
    assert both_n == pytest.approx(rest.lines[1 + which].pull_n, rel=1e-4, abs=0.01)


@QUIET
@given(SEEDS)
def test_the_wind_may_be_taken_for_the_push_it_is(seed):
    lie = drawn(seed)
    rest = solved(lie)
    push = Load(
        *(float(part) for part in wind_on(lie.form, lie.load, rest.heading_rad)), 0.0, 0.0, 1.0
    )
    start = (rest.east_m, rest.north_m, rest.heading_rad)
    other = solve_rest(lie.scene, push, lie.level_m, start, arm_m=lie.arm_m)
    # a push that does not turn with her may hold her less steadily than the wind did
    assume(other.why == "found" and between(place(rest), place(other)).turn_rad < 0.1)
    same(rest, other)


@QUIET
@given(SEEDS.map(lambda seed: 5 * (seed // 5)), st.floats(0.0, 2.0 * math.pi), st.floats(1.0, 3.6))
def test_on_a_level_bed_a_push_here_moves_there_as_a_push_there_moves_here(seed, way, size):
    """Maxwell's law of reciprocal shifts: the stiffness is symmetric under a dead load."""
    lie = drawn(seed)
    push = Load(10.0**size * math.sin(way), 10.0**size * math.cos(way), 0.0, 0.0, 0.0, 1.0)
    rest = solve_rest(lie.scene, push, lie.level_m, lie.start, arm_m=lie.arm_m)
    assume(rest.why == "found")
    stiff = rest.stiffness
    size_npm = np.sqrt(np.outer(np.diag(np.abs(stiff)), np.diag(np.abs(stiff))))
    assert np.all(np.abs(stiff - stiff.T) < 1e-4 * size_npm + 1e-3)
    # at a rest that lasts every push is met by a pull against it
    assert np.all(np.linalg.eigvalsh(0.5 * (stiff + stiff.T)) > 0.0)


@QUIET
@given(SEEDS, st.floats(0.0, 2.0 * math.pi))
def test_more_wind_never_lowers_the_largest_pull_unless_she_comes_to_lie_elsewhere(seed, from_rad):
    lie = drawn(seed)
    assume(len(lie.scene.lines) >= 3)
    pulls, at, start = [], [], lie.start
    for wind_mps in (8.0, 10.0, 12.0, 15.0, 18.0, 22.0):
        load = Load(0.0, 0.0, 0.0, wind_mps, from_rad, AIR_KGPM3)
        rest = solve_rest(lie.scene, load, lie.level_m, start, arm_m=lie.arm_m)
        assume(rest.why == "found")
        start = (rest.east_m, rest.north_m, rest.heading_rad)
        pulls.append(max(form.pull_n for form in rest.lines))
        at.append(place(rest))
    for k in range(len(at) - 1):
        gap = between(at[k], at[k + 1])
        # a line set up hard is eased first: then it was not the wind that it carried
        set_up = pulls[k] > 1.5 * float(np.hypot(*wind_on(
            lie.form, Load(0.0, 0.0, 0.0, (8.0, 10.0, 12.0, 15.0, 18.0)[k], from_rad, AIR_KGPM3),
            float(at[k][2]),
        )[:2]))  # fmt: skip
        elsewhere = gap.turn_rad > math.radians(10.0) or gap.shift_m > 2.0
        assert pulls[k + 1] > pulls[k] or set_up or elsewhere


def hours(seed, members):
    dice = np.random.default_rng(seed)
    shape = (members, 3)
    return (
        dice.uniform(-0.5, 0.5, shape), dice.uniform(0.0, 25.0, shape),
        dice.uniform(0.0, 2.0 * math.pi, shape),
    )  # fmt: skip


def boat(seed):
    lie = drawn(seed)
    spread = Spread(-0.6, 0.6, 2, 9)
    return moored(lie.scene, lie.form, lie.arm_m, np.array(lie.start), spread)


def alike(one, other):
    return all(
        np.array_equal(getattr(one, name), getattr(other, name), equal_nan=True)
        for name in ("q", "code", "line")
    )


@settings(QUIET, max_examples=6)
@given(SEEDS, st.integers(2, 40), st.integers(1, 9))
def test_any_number_of_hands_finds_the_same_rests_to_the_bit(seed, members, threads):
    ready, told = boat(seed), hours(seed, members)
    with pytest.MonkeyPatch.context() as patch:
        one = rests(ready, *told, ready.all_set)
        patch.setattr(batch, "ThreadPoolExecutor", partial(ThreadPoolExecutor, threads))
        other = rests(ready, *told, ready.all_set)
    assert alike(one, other)


@settings(QUIET, max_examples=6)
@given(SEEDS, st.integers(2, 12), st.randoms(use_true_random=False))
def test_a_forecast_alone_or_among_others_in_any_order_is_the_same_to_the_bit(seed, members, dice):
    ready, told = boat(seed), hours(seed, members)
    whole = rests(ready, *told, ready.all_set)
    order = list(range(members))
    dice.shuffle(order)
    shuffled = rests(ready, *(part[order] for part in told), ready.all_set)
    assert np.array_equal(shuffled.q, whole.q[order], equal_nan=True)
    for m in range(members):
        alone = rests(ready, *(part[m : m + 1] for part in told), ready.all_set)
        assert np.array_equal(alone.line[0], whole.line[m], equal_nan=True)
