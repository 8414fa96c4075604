"""Lines that cross in plan, and lines hauled bar-tight."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from shorefast.mooring import (
    AIR_KGPM3,
    Domain,
    LineSegments,
    Load,
    PlaneBed,
    RodeLine,
    Scene,
    ShoreLine,
    Spread,
    WindForm,
    bar_tight,
    crossings,
    moored,
    solve_rest,
)
from shorefast.mooring.crossed import BarTight, Crossing

FORM = WindForm(14.0, 31.0, 13.0, 0.4, 0.95, 0.8, 0.82, 0.45)
CHAIN = LineSegments(np.array([60.0]), np.array([19.2]), np.array([8.5e6]))
RODE = RodeLine("rode", 6.3, 0.0, 1.5, 0.0, -50.0, CHAIN, PlaneBed(-17.0, 0.0, 0.1), 0.6)
HEADED_SOUTH = np.array([0.0, 0.0, math.pi])


def line(name, x_m, y_m, east_m, north_m, length_m):
    return ShoreLine(name, x_m, y_m, 1.1, east_m, north_m, 2.0, length_m, 1.5, 2e5)


def scene_of(*lines):
    return Scene((RODE, *lines), Domain(-40.0, 40.0, -40.0, 40.0), FORM)


def test_stern_lines_led_across_each_other_cross_midway():
    # bow to the south: starboard is west, so a starboard line to the east point crosses
    scene = scene_of(line("a", -5.0, 2.0, 8.0, 25.0, 24.0), line("b", -5.0, -2.0, -8.0, 25.0, 24.0))
    found = crossings(scene, HEADED_SOUTH, np.ones(3))
    assert [(one.first, one.second) for one in found] == [("a", "b")]
    # by hand: two lines from (-2, 5) to (8, 25) and back mirrored meet on the middle line
    assert found[0].east_m == pytest.approx(0.0, abs=1e-9)
    assert found[0].north_m == pytest.approx(5.0 + 20.0 * 2.0 / 10.0)
    assert crossings(scene, HEADED_SOUTH, np.array([1.0, 1.0, 0.0])) == ()


def test_lines_to_their_own_sides_or_from_one_cleat_or_to_one_point_do_not_cross():
    own = scene_of(line("a", -5.0, 2.0, -8.0, 25.0, 24.0), line("b", -5.0, -2.0, 8.0, 25.0, 24.0))
    cleat = scene_of(line("a", -5.0, 2.0, -8.0, 25.0, 24.0), line("b", -5.0, 2.0, 8.0, 25.0, 24.0))
    point = scene_of(line("a", -5.0, 2.0, 0.0, 25.0, 24.0), line("b", -5.0, -2.0, 0.0, 25.0, 24.0))
    same = scene_of(line("a", -5.0, 2.0, 0.0, 25.0, 24.0), line("b", -5.0, 2.0, 0.0, 25.0, 24.0))
    for scene in (own, cleat, point, same):
        assert crossings(scene, HEADED_SOUTH, np.ones(3)) == ()


def test_a_shore_line_led_over_the_rode_is_told():
    scene = scene_of(line("bow line", 5.0, 2.0, 20.0, -20.0, 30.0))
    assert [(one.first, one.second) for one in crossings(scene, HEADED_SOUTH, np.ones(2))] == [
        ("rode", "bow line")
    ]


def tight_by(hauled_m, load=None):
    """Two stern lines against two bow lines, all ``hauled_m`` short of just reaching."""
    ends = [("a", -5.0, 2.0, -8.0, 25.0), ("b", -5.0, -2.0, 8.0, 25.0),
            ("c", 5.0, 2.0, -8.0, -25.0), ("d", 5.0, -2.0, 8.0, -25.0)]  # fmt: skip
    far_m = math.hypot(6.0, 20.0)
    scene = Scene(
        tuple(line(*end, far_m - hauled_m) for end in ends),
        Domain(-40.0, 40.0, -40.0, 40.0),
        FORM,
    )
    load = load or Load(0.0, 0.0, 0.0, 0.0, 0.0, AIR_KGPM3)
    rest = solve_rest(scene, load, 0.5, (0.0, 0.0, math.pi), arm_m=6.0)
    q = np.array([rest.east_m, rest.north_m, rest.heading_rad])
    ready = moored(scene, FORM, 6.0, q, Spread(0.4, 0.6, 2, 3))
    return scene, load, q, bar_tight(ready, load, 0.5, q)


def test_a_line_without_sag_that_doubles_its_load_for_a_hands_breadth_is_told():
    scene, load, q, told = tight_by(0.02)
    assert [one.name for one in told] == ["a", "b", "c", "d"]
    shorter = replace(scene.lines[0], length_m=scene.lines[0].length_m - 0.1)
    anew = solve_rest(replace(scene, lines=(shorter, *scene.lines[1:])), load, 0.5, tuple(q))
    assert told[0].shorter_n == pytest.approx(anew.lines[0].cleat_tension_n, rel=1e-6)
    assert told[0].shorter_n > 2.0 * told[0].tension_n > 0.0


def test_lines_in_a_bight_and_lines_that_carry_much_already_are_not():
    assert tight_by(-1.0)[3] == ()
    assert tight_by(1.0)[3] == ()


def test_what_is_said():
    cross = Crossing("port stern line", "starboard stern line", 0.0, 9.0).finding
    assert (cross.where, cross.said) == (
        "Lines", "port stern line and starboard stern line cross: they chafe where they touch",
    )  # fmt: skip
    tight = BarTight("breast line", 640.0, 1820.0).finding
    assert (tight.where, tight.said) == (
        "Lines", "breast line is bar-tight: 0.1 m shorter it carries 1.8 kN instead of 0.6 kN",
    )  # fmt: skip
