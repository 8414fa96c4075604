"""Lies held against other paths: tables, a root of forces, least energy, virtual work."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from measures.bars import Chain, bars_led
from measures.lies import Drawn, Floats, drawn
from measures.own_rest import (
    downhill,
    drift,
    forces,
    lead,
    rest_by_energy,
    rest_by_root,
    sum_of,
    wind_on,
)
from scipy.interpolate import RegularGridInterpolator

from shorefast.mooring import (
    FOUND,
    L_BEARING,
    L_FAR,
    L_PULL,
    LEFT,
    GridBed,
    Load,
    PlaneBed,
    Rest,
    Rests,
    RodeForm,
    RodeLine,
    held_exactly,
    rests,
    solve_rest,
)
from shorefast.mooring.cells import no_cells
from shorefast.mooring.rest import Boat, Space, state_of
from shorefast.mooring.rest import forces as forces_of
from shorefast.mooring.scene import packed

# two rests farther apart than this are two branches, not one found twice
APART_M, APART_RAD = 0.5, math.radians(5.0)
# what bars of 15 cm can follow: not a chain that hangs plumb
LEAST_PULL_N, STEEPEST_RAD = 20.0, 1.3


@dataclass(frozen=True)
class Bars:
    """A rode beside bars: gap of the pull, as a share and as a shift [m]; spans it bridges."""

    share: float
    shift_m: float
    spans: int


@dataclass(frozen=True)
class Gap:
    """How far one answer is from another: [m], [rad], largest difference of a pull [N].

    other_branch : whether these are two rests, not one found twice.
    """

    shift_m: float
    turn_rad: float
    pull_n: float
    other_branch: bool = False


def place(rest: Rest) -> Floats:
    """East, north and heading of a rest."""
    return np.array([rest.east_m, rest.north_m, rest.heading_rad])


def between(one: Floats, other: Floats, pull_n: float = 0.0) -> Gap:
    """The gap between two places."""
    turn = abs(math.remainder(float(one[2] - other[2]), 2.0 * math.pi))
    return Gap(float(np.hypot(*(one - other)[:2])), turn, pull_n)


def solved(lie: Drawn) -> Rest:
    """The exact path, from where she is laid."""
    return solve_rest(lie.scene, lie.load, lie.level_m, lie.start, arm_m=lie.arm_m)


def residual(lie: Drawn, rest: Rest) -> tuple[float, float]:
    """Force [N] and moment [N m] left over at a rest, summed anew from the pulls it tells."""
    pulls = [form.pull_n for form in rest.lines if form is not None]
    total = sum_of(lie, lie.load, place(rest), pulls)
    return float(np.hypot(*total[:2])), abs(float(total[2]))


@dataclass(frozen=True)
class Tabled:
    """What the tables made of a lie: how they ended, the gap to the exact path, balance.

    gap : of what is told, an exact polish after the tables where they are too far off
    bare : of the tables alone; polished : whether the two differ
    """

    code: int
    gap: Gap | None
    residual_n: float
    bare: Gap | None = None
    polished: bool = False


def by_tables(lie: Drawn, exact: Rest) -> Tabled:
    """The batch path's rest of a lie beside the exact one."""
    ready = lie.ready()
    one = np.ones((1, 1))
    found = rests(
        ready, lie.level_m * one, lie.load.wind_mps * one, lie.load.wind_from_rad * one,
        ready.all_set,
    )  # fmt: skip
    code, q, line = int(found.code[0, 0]), found.q[0, 0], found.line[0, 0]
    if code != FOUND:
        return Tabled(code, None, math.nan)
    east_n = float(np.sum(line[:, L_PULL] * np.sin(line[:, L_BEARING])))
    north_n = float(np.sum(line[:, L_PULL] * np.cos(line[:, L_BEARING])))
    wind = sum_of(replace(lie, scene=replace(lie.scene, lines=())), lie.load, q, [])
    left_n = math.hypot(east_n + wind[0], north_n + wind[1])
    if exact.why != "found":
        return Tabled(code, None, left_n)

    def again(start: tuple[float, float, float]) -> Rest:
        return solve_rest(lie.scene, lie.load, lie.level_m, start, arm_m=lie.arm_m)

    state = (np.array([lie.level_m]), one[0] * lie.load.wind_mps, one[0] * lie.load.wind_from_rad)
    first = Rests(found.q[0], found.code[0], found.line[0])
    held = held_exactly(ready, state, first, ready.all_set)
    gap = table_gap(exact, held.rests.q[0], held.rests.line[0], again)
    bare = table_gap(exact, q, line, again)
    return Tabled(code, gap, left_n, bare, held.polished > 0)


def table_gap(
    exact: Rest, q: Floats, line: Floats, again: Callable[[tuple[float, float, float]], Rest]
) -> Gap:
    """The gap between an exact rest and one from tables; ``again`` solves exactly from a start.

    Two places are two rests if the exact path, begun at the tables' place, stays by it.
    """
    pulls = [form.pull_n for form in exact.lines if form is not None]
    far_n = abs(getattr(exact.lines[0], "anchor_tension_n", math.nan) - line[0, L_FAR])
    most_n = float(max([far_n, *np.abs(np.array(pulls) - line[:, L_PULL])]))
    gap = between(place(exact), q, most_n)
    if gap.shift_m < APART_M and gap.turn_rad < APART_RAD:
        return gap
    back = between(place(exact), place(again((float(q[0]), float(q[1]), float(q[2])))))
    return replace(gap, other_branch=not (back.shift_m < APART_M and back.turn_rad < APART_RAD))


def same_end(why: str, code: int) -> bool:
    """Whether exact path and tables ended alike: found, left or not known."""
    return {"found": code == FOUND, "left": code == LEFT}.get(why, code not in (FOUND, LEFT))


def by_root(lie: Drawn, rest: Rest) -> Gap | None:
    """A root of own forces, sought from beside the rest; None if none was found there."""
    dice = np.random.default_rng([7, lie.seed])
    near = place(rest) + dice.normal(0.0, 1.0, 3) * (0.05, 0.05, 0.01)
    found = rest_by_root(lie, lie.load, near)
    if found is None:
        # from the place itself: a line that is just slack gives a root finder no slope
        found = rest_by_root(lie, lie.load, place(rest))
    if found is None:
        return None
    left = forces(lie, lie.load, place(rest))
    return between(place(rest), found, float(np.hypot(*left[:2])))


def frictionless(seed: int) -> Drawn:
    """A lie on a level bed without friction under a dead load: it has an energy."""
    lie = drawn(5 * seed)
    assert lie.bed == "level"
    dice = np.random.default_rng([8, seed])
    rode = lie.scene.lines[0]
    assert isinstance(rode, RodeLine)
    smooth = replace(rode, friction=0.0)
    size_n, way = 10.0 ** dice.uniform(1.5, 4.0), dice.uniform(0.0, 2.0 * math.pi)
    load = Load(
        float(size_n * math.sin(way)), float(size_n * math.cos(way)),
        float(dice.uniform(-0.5, 0.5) * size_n), 0.0, 0.0, 1.0,
    )  # fmt: skip
    return replace(lie, load=load, scene=replace(lie.scene, lines=(smooth, *lie.scene.lines[1:])))


def by_energy(lie: Drawn, rest: Rest) -> Gap:
    """The place of least energy beside a rest; ``pull_n`` is the energy's slope there. [N]"""
    dice = np.random.default_rng([9, lie.seed])
    near = place(rest) + dice.normal(0.0, 1.0, 3) * (0.3, 0.3, 0.03)
    found = rest_by_energy(lie, lie.load, near)
    slope = downhill(lie, lie.load, place(rest))
    return between(place(rest), found, float(np.hypot(*slope[:2])))


def own_bars(lie: Drawn, rest: Rest) -> Bars | None:
    """The rode at a rest beside a chain of bars; None where it hangs too steep for bars."""
    rode, form = lie.scene.lines[0], rest.lines[0]
    assert isinstance(rode, RodeLine) and isinstance(form, RodeForm)
    if form.pull_n < LEAST_PULL_N or form.angle_rad > STEEPEST_RAD:
        return None
    way = lead(rode, place(rest))
    along = np.arange(-3.0, float(np.sum(rode.segments.length_m)) + 3.0)
    level = bed_levels(rode.bed, rode.east_m - along * way.east, rode.north_m - along * way.north)
    chain = Chain(
        np.array(rode.segments[:3]).T, along, level, rode.friction, lie.level_m + rode.z_m,
        form.distance_m,
    )  # fmt: skip
    led = bars_led(chain, form.tension_n)
    return Bars(
        abs(led.level_n - form.pull_n) / form.pull_n,
        abs(led.level_n - form.pull_n) / form.stiffness_npm,
        form.bridged_spans,
    )


def bed_levels(bed: PlaneBed | GridBed, east_m: Floats, north_m: Floats) -> Floats:
    """Level of the bed about an anchor at the middle of its grid, or of its plane."""
    if isinstance(bed, PlaneBed):
        return bed.level_at_anchor_m + bed.rise_east * east_m + bed.rise_north * north_m
    rows = bed.south_m + bed.step_m * np.arange(bed.level_m.shape[0])
    columns = bed.west_m + bed.step_m * np.arange(bed.level_m.shape[1])
    between_nodes = RegularGridInterpolator((rows, columns), bed.level_m)
    return np.asarray(between_nodes(np.stack([north_m, east_m], -1)))


def settles(lie: Drawn) -> bool | None:
    """Whether damped motion, integrated in time, ends at a rest; None if it is not known.

    Told from where she is after it has had time to go some hundreds of boat lengths.
    """
    size_n = float(np.hypot(*wind_on(lie.form, lie.load, lie.start[2])[:2]))
    try:
        last, left = drift(lie, lie.load, 400.0 * 2.0 * lie.arm_m / max(1.0, size_n))
    except ValueError:
        return None
    still = float(np.hypot(*np.ptp(last, axis=0)[:2])) < 0.01
    return still and float(np.hypot(*left[:2])) < 0.01 * max(1.0, size_n)


def force_and_downhill(lie: Drawn, q: Floats) -> tuple[Floats, Floats]:
    """The package's force at a place (no wind), and the slope of the energy there."""
    lines = packed(lie.scene)
    count = len(lie.scene.lines)
    space = Space(-1e4, 1e4, -1e4, 1e4, lie.arm_m)
    boat = Boat(lines, no_cells(count), lie.form, np.zeros((2, 3)), space, True)
    state = state_of(boat, lie.level_m, lie.load, np.ones(count))
    force, stiff = np.empty(3), np.empty((3, 3))
    forces_of(boat, state, q, force, stiff)
    return force, downhill(lie, lie.load, q)
