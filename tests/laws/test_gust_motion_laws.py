"""Laws of her motion in gusts: one mass on a spring, energy, mirrors, slow and slack."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from shorefast.boat import Hull
from shorefast.mooring import (
    AIR_KGPM3,
    FOUND,
    L_PULL,
    LEFT,
    UNKNOWN,
    Domain,
    GustRuns,
    LineSegments,
    Load,
    Moving,
    PlaneBed,
    RodeLine,
    Scene,
    ShoreLine,
    Spread,
    Timing,
    WindForm,
    Winds,
    inertia,
    moored,
    moved_by_gusts,
    moving_of,
    natural,
    rests,
    solve_rest,
    underbody,
)
from shorefast.weather import along_spectrum, drawn_shapes

# so small a boat in so hard a wind that her own speed changes nothing of it
AHEAD = WindForm(1.0, 1.0, 12.0, 0.0, 1.0, 1.0, 1.0, 0.0)
TINY = WindForm(1e-5, 1e-5, 12.0, 0.0, 1.0, 1.0, 1.0, 0.0)
SPRING_NPM, MASS_KG, STEADY_N = 500.0, 12_000.0, 1_000.0
FAST_MPS = math.sqrt(STEADY_N / (0.5 * AIR_KGPM3 * 1e-5))
OWN_S = 2.0 * math.pi * math.sqrt(MASS_KG / SPRING_NPM)
BARE = Moving(MASS_KG, 2.0 * MASS_KG, 150e3, 0.0, np.zeros((1, 2)))


def on_a_spring(form):
    """Bow to the north on one weightless line of 500 N/m, level with her roller."""
    line = ShoreLine("bow", 5.0, 0.0, 1.0, 0.0, 30.0, 1.0, 20.0, 1e-6, SPRING_NPM * 20.0)
    scene = Scene((line,), Domain(-15.0, 15.0, -15.0, 15.0), form)
    return moored(scene, form, 6.0, np.zeros(3), Spread(0.0, 0.0, 1, 3))


def run(ready, moving, winds, timing, mean=(FAST_MPS, FAST_MPS), start=None, extra=None):
    """One run in wind from the north: its mean, and what a shape of 1 adds."""
    one = np.ones(1)
    if start is None:
        start = rests(
            ready, 0 * one[None], mean[0] * one[None], 0 * one[None], ready.all_set, extra
        ).q[0]
    runs = GustRuns(
        np.zeros(1, int), 0 * one, 0 * one, mean[0] * one, mean[1] * one, 0 * one,
        np.asarray(start, float).reshape(1, 3),
    )  # fmt: skip
    return moved_by_gusts(ready, moving, winds, runs, timing, extra)


def force_of(times):
    """A shape that makes the force so many times the steady one."""
    along = np.sqrt(np.asarray(times, float)) - 1.0
    return np.ascontiguousarray(np.stack([along, 0 * along], axis=-1)[None])


@pytest.mark.parametrize("damped", [0.0, 0.05, 0.2])
def test_a_step_of_the_wind_overshoots_as_one_mass_on_a_spring(damped):
    # textbook: most over last is 1 + exp(-zeta pi / sqrt(1 - zeta^2)); 2 undamped
    times = np.full(4000, 1.8)
    times[:20] = 1.0
    moved = run(
        on_a_spring(TINY), BARE, Winds(force_of(times), 0.01), Timing(38.0, 0.0, damped=damped)
    )
    most = moved.line[0, 0, 0, L_PULL] / STEADY_N - 1.0
    over = 1.0 + math.exp(-damped * math.pi / math.sqrt(1.0 - damped**2))
    # the step takes one hundredth of a second; the scheme's own error is (0.05 / T)^2
    assert most / 0.8 == pytest.approx(over, rel=2e-3)


@pytest.mark.parametrize("slack_m", [0.5, 2.0, 4.0])
def test_a_wind_that_comes_at_once_on_a_slack_line_jerks_as_energy_has_it(slack_m):
    # work of the wind F (s + x) is what the line stores, k x^2 / 2 (energy, by hand):
    # k x / F = 1 + sqrt(1 + 2 k s / F), more than twice as soon as there is any slack
    ready = on_a_spring(TINY)
    moved = run(
        ready, BARE, Winds(force_of(np.ones(400)), 1.0), Timing(60.0, 0.0, 0.01, damped=0.0),
        start=np.array([0.0, 5.0 + slack_m, 0.0]),
    )  # fmt: skip
    wanted = 1.0 + math.sqrt(1.0 + 2.0 * SPRING_NPM * slack_m / STEADY_N)
    assert moved.line[0, 0, 0, L_PULL] / STEADY_N == pytest.approx(wanted, rel=5e-3)


def test_at_her_own_period_a_small_push_grows_to_one_over_twice_the_damping():
    # textbook: amplitude at resonance is the steady shift over 2 zeta
    steps, swings, damped = 6000, 50, 0.05
    phase = 2.0 * math.pi * swings * np.arange(steps) / steps
    winds = Winds(force_of(1.0 + 0.04 * np.sin(phase)), swings * OWN_S / steps)
    moved = run(on_a_spring(TINY), BARE, winds, Timing(46 * OWN_S, 40 * OWN_S, 0.02, damped=damped))
    most = moved.line[0, 0, 0, L_PULL] / STEADY_N - 1.0
    assert most == pytest.approx(0.04 / (2.0 * damped), rel=5e-3)


def test_in_a_drawn_wind_she_moves_as_random_vibration_has_it():
    # textbook: the variance of the motion is the integral of the load's spectrum times the
    # square of what one mass on a spring makes of each frequency (Davenport)
    records, small, damped = 12, 0.02, 0.05
    shapes = drawn_shapes(records, 12.0, 5)
    one = np.ones(records)
    ready = on_a_spring(TINY)
    still = np.zeros((1, 1))
    start = rests(ready, still, still + FAST_MPS, still, ready.all_set).q[0, 0]
    along = np.ascontiguousarray(shapes.shape * [1.0, 0.0])
    runs = GustRuns(
        np.arange(records), 0 * one, 0 * one, FAST_MPS * one, small * FAST_MPS * one, 0 * one,
        np.tile(start, (records, 1)),
    )  # fmt: skip
    moved = moved_by_gusts(
        ready, BARE, Winds(along, shapes.every_s), runs,
        Timing(3600.0, 300.0, 0.1, damped=damped, traced=True),
    )  # fmt: skip
    pull_n = SPRING_NPM * (30.0 - moved.trace[:, :, 1] - 5.0 - 20.0)
    n = np.fft.rfftfreq(7200, 0.5)[1:]
    r = n * OWN_S
    makes = 1.0 / ((1.0 - r**2) ** 2 + (2.0 * damped * r) ** 2)
    wanted = (2.0 * small) ** 2 * float((along_spectrum(n, 12.0) * makes).sum() * n[0])
    # 12 hours hold some 400 free swings that know nothing of each other: 5 %
    assert float(pull_n.var()) / STEADY_N**2 == pytest.approx(wanted, rel=0.15)
    # what her own swing adds is the greater part of it, or nothing of it would be shown
    slow = float(along_spectrum(n, 12.0)[r < 0.5].sum() * n[0])
    assert wanted > 2.0 * (2.0 * small) ** 2 * slow


def test_the_winds_work_is_what_she_stores_and_loses():
    # bow to a gusty wind: force, spring, drag and damping written out by hand
    moving = Moving(MASS_KG, 2.0 * MASS_KG, 150e3, 60.0, np.zeros((1, 2)))
    dice = np.random.default_rng(3)
    along = np.convolve(dice.standard_normal(400), np.ones(5) / 2.0, "same")
    winds = Winds(np.stack([along, 0 * along], axis=-1)[None].copy(), 0.5)
    form = replace_areas(AHEAD, 30.0)
    for step_s, within in ((0.05, 1e-3), (0.025, 3e-4)):
        moved = run(
            on_a_spring(form), moving, winds,
            Timing(150.0, 0.0, step_s, damped=0.03, traced=True), (12.0, 3.0),
        )  # fmt: skip
        trace, critical = moved.trace[0], 2.0 * math.sqrt(SPRING_NPM * MASS_KG)
        u, north_m, blow = trace[:, 3], trace[:, 1], trace[:, 7]
        push_n = -0.5 * AIR_KGPM3 * 30.0 * (blow + u) ** 2
        lost_w = 60.0 * np.abs(u) ** 3 + 0.03 * critical * u**2
        work_j = np.trapezoid(push_n * u, dx=step_s)
        lost_j = np.trapezoid(lost_w, dx=step_s)
        long_m = 30.0 - north_m - 5.0 - 20.0
        stored_j = 0.5 * MASS_KG * u**2 + 0.5 * SPRING_NPM * np.maximum(long_m, 0.0) ** 2
        through_j = np.trapezoid(np.abs(push_n * u), dx=step_s)
        left_j = work_j - lost_j - (stored_j[-1] - stored_j[0])
        assert abs(left_j) < within * through_j


def replace_areas(form, area_m2):
    return form._replace(frontal_m2=area_m2, lateral_m2=area_m2)


FORM = WindForm(14.0, 31.0, 13.0, 0.4, 0.95, 0.8, 0.82, 0.45)
BODY = underbody(Hull(13.2, 4.1, 2.1, 11_500.0, 12.0))
CHAIN = LineSegments(np.array([60.0]), np.array([19.2]), np.array([8.5e6]))


def four_lines(short=25.2):
    """Stern to a shore in the north, anchor to the south, the same to both sides."""
    rode = RodeLine("rode", 6.3, 0.0, 1.5, 0.0, -58.0, CHAIN, PlaneBed(-17.0, 0.0, 0.1), 0.6)
    lines = tuple(
        ShoreLine(f"stern {side:g}", -5.6, side, 1.1, -7.0 * side, 28.0, 4.8, short, 1.1, 9e4)
        for side in (1.7, -1.7)
    )
    return Scene((rode, *lines), Domain(-20.0, 20.0, -20.0, 20.0), FORM)


@pytest.fixture(scope="module")
def moored_boat():
    return moored(four_lines(), FORM, 6.5, np.array([0.0, 0.0, math.pi]), Spread(0.5, 1.5, 3, 31))


def states(ready, winds, moving, timing, blow):
    """Runs of winds (mean, spread, from) through every shape."""
    count = winds.shape.shape[0]
    one = np.ones(count)
    mean, spread, from_rad = blow
    still = np.ones((1, 1))
    rest = rests(ready, still, mean * still, from_rad * still, ready.all_set)
    runs = GustRuns(
        np.arange(count), one, from_rad * one, mean * one, spread * one, 0 * one,
        np.tile(rest.q[0, 0], (count, 1)),
    )  # fmt: skip
    return moved_by_gusts(ready, moving, winds, runs, timing)


def gusty(seed, records=3, steps=240):
    dice = np.random.default_rng(seed)
    shape = dice.standard_normal((records, steps, 2))
    return np.ascontiguousarray(shape + np.roll(shape, 1, axis=1))


def test_half_the_step_moves_no_peak_by_a_thousandth(moored_boat):
    winds, moving = Winds(gusty(1), 0.5), moving_of(BODY)
    whole, half = (
        states(moored_boat, winds, moving, Timing(120.0, 0.0, step_s), (12.0, 1.5, 2.4)).line
        for step_s in (0.05, 0.025)
    )
    greatest = whole[:, 0, 0, L_PULL], half[:, 0, 0, L_PULL]
    assert greatest[0] == pytest.approx(greatest[1], rel=1e-3)
    lines = whole[:, 1, 1, L_PULL], half[:, 1, 1, L_PULL]
    assert lines[0] == pytest.approx(lines[1], rel=1e-3)


def test_each_run_alone_is_the_same_to_the_bit_as_all_in_threads(moored_boat):
    winds, moving, timing = Winds(gusty(2, 40, 60), 0.5), moving_of(BODY), Timing(30.0)
    together = states(moored_boat, winds, moving, timing, (12.0, 3.0, 2.4))
    for k in (0, 17, 39):
        alone = states(
            moored_boat, Winds(winds.shape[k : k + 1], 0.5), moving, timing, (12.0, 3.0, 2.4)
        )
        assert np.array_equal(alone.line[0], together.line[k])
        assert np.array_equal(alone.q[0], together.q[k])


@pytest.mark.parametrize("from_rad", [2.2, 3.0])
def test_a_mirrored_wind_moves_her_mirrored(moored_boat, from_rad):
    shape, moving, timing = gusty(5, 2), moving_of(BODY), Timing(100.0)
    one = states(moored_boat, Winds(shape, 0.5), moving, timing, (12.0, 3.0, from_rad))
    mirrored = shape * [1.0, -1.0]
    turned = (12.0, 3.0, 2.0 * math.pi - from_rad)
    other = states(moored_boat, Winds(mirrored, 0.5), moving, timing, turned)
    assert (one.code == FOUND).all()
    assert other.q[:, 0, 0] == pytest.approx(-one.q[:, 0, 0], abs=1e-3)
    assert other.line[:, 0, 0, L_PULL] == pytest.approx(one.line[:, 0, 0, L_PULL], rel=1e-3)
    assert other.line[:, 2, 2, L_PULL] == pytest.approx(one.line[:, 1, 1, L_PULL], rel=1e-3)


def test_a_gust_that_rises_for_half_an_hour_asks_what_it_asks_standing(moored_boat):
    along = np.concatenate([np.linspace(0.0, 1.0, 1800), np.linspace(1.0, 0.0, 1800)])
    slow = Winds(np.stack([along, 0 * along], axis=-1)[None].copy(), 1.0)
    moved = states(moored_boat, slow, moving_of(BODY), Timing(3600.0), (8.0, 6.0, 2.4))
    still = np.ones((1, 1))
    steady = rests(moored_boat, still, 14.0 * still, 2.4 * still, moored_boat.all_set)
    pulls = moved.line[0, 0, 0, L_PULL], moved.line[0, 1, 1, L_PULL]
    # in a ramp of 30 min her own swings are hardly begun
    assert pulls == pytest.approx(steady.line[0, 0, :2, L_PULL], rel=2e-3)


def test_a_line_that_stays_slack_never_pulls(moored_boat):
    # blown to the north-west: the line to the west point hangs
    winds = Winds(gusty(7), 0.5)
    moved = states(moored_boat, winds, moving_of(BODY), Timing(60.0), (10.0, 0.5, 2.4))
    assert (moved.code == FOUND).all()
    assert (moved.line[..., 1, L_PULL] == 0.0).all()
    assert (moved.line[:, 2, 2, L_PULL] > 500.0).all()


def test_a_boat_that_leaves_the_tables_room_is_told_as_gone(moored_boat):
    one = np.ones(1)
    runs = GustRuns(
        np.zeros(1, int), one, math.pi * one, 20.0 * one, 0 * one, 0 * one,
        np.array([[19.9, 0.0, math.pi]]),
    )  # fmt: skip
    push = Load(4e5, 0.0, 0.0, 0.0, 0.0, AIR_KGPM3)
    moved = moved_by_gusts(
        moored_boat, moving_of(BODY), Winds(np.zeros((1, 4, 2)), 0.5), runs, Timing(20.0), push
    )
    assert moved.code.tolist() == [LEFT]
    assert np.isnan(moved.line).all()


@pytest.mark.parametrize("of", ["start", "mean_mps", "level_m"])
def test_of_what_is_unknown_the_motion_is_unknown(moored_boat, of):
    one = np.ones(2)
    known = GustRuns(
        np.zeros(2, int), one, 2.4 * one, 8.0 * one, 0 * one, 0 * one,
        np.tile([-3.0, 2.0, 3.0], (2, 1)),
    )  # fmt: skip
    values = np.array(getattr(known, of))
    values[0] = math.nan
    moved = moved_by_gusts(
        moored_boat, moving_of(BODY), Winds(np.zeros((1, 4, 2)), 0.5),
        replace(known, **{of: values}), Timing(5.0),
    )  # fmt: skip
    assert moved.code.tolist() == [UNKNOWN, FOUND]
    assert np.isnan(moved.line[0]).all()
    assert np.isfinite(moved.line[1]).all()


def crossings_s(values, step_s):
    """Mean time between upward crossings of the middle."""
    off = values - values.mean()
    at = np.flatnonzero((off[:-1] < 0.0) & (off[1:] >= 0.0))
    exact = at - off[at] / (off[at + 1] - off[at])
    return float(np.diff(exact).mean()) * step_s


@pytest.mark.parametrize("way", [0, 1, 2])
def test_let_go_beside_a_rest_she_swings_at_her_own_periods(moored_boat, way):
    level, wind, blow = 1.0, 12.0, 2.6
    load = Load(0.0, 0.0, 0.0, wind, blow, AIR_KGPM3)
    rest = solve_rest(moored_boat.scene, load, level, (0.0, 0.0, math.pi), arm_m=6.5)
    swings = natural(rest.stiffness, rest.heading_rad, inertia(BODY))
    own = moving_of(BODY)
    moving = own._replace(along_kgpm=0.0, strip=0.0 * own.strip)
    aside = swings.shape[way] * 0.02 / np.abs(swings.shape[way][:2]).max()
    sine, cosine = math.sin(rest.heading_rad), math.cos(rest.heading_rad)
    turned = aside[0] * sine + aside[1] * cosine, aside[0] * cosine - aside[1] * sine, aside[2]
    start = np.array([rest.east_m, rest.north_m, rest.heading_rad]) + np.array(turned)
    one = np.ones(1)
    runs = GustRuns(
        np.zeros(1, int), level * one, blow * one, wind * one, 0 * one, 0 * one, start[None]
    )
    for_s = 6.0 * float(swings.period_s[way])
    moved = moved_by_gusts(
        moored_boat, moving, Winds(np.zeros((1, 4, 2)), 0.5), runs,
        Timing(for_s, damped=0.0, traced=True),
    )  # fmt: skip
    trace = moved.trace[0]
    forward = trace[:, 0] * sine + trace[:, 1] * cosine
    across = trace[:, 0] * cosine - trace[:, 1] * sine
    seen = (forward, across, trace[:, 2])[int(np.argmax(np.abs(aside)))]
    # the wind takes a little: it blows on her moving; and lines are not quite straight springs
    assert crossings_s(seen, 0.05) == pytest.approx(float(swings.period_s[way]), rel=0.02)
