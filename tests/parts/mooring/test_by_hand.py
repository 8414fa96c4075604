"""What a metre on each line does, against solving the changed lie anew."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.errors import NoRest
from shorefast.mooring import (
    AIR_KGPM3,
    Domain,
    GridBed,
    LineSegments,
    Load,
    PlaneBed,
    RodeLine,
    Scene,
    ShoreLine,
    Spread,
    WindForm,
    by_hand,
    moored,
    solve_rest,
)
from shorefast.mooring.hands import Setting, levers_of

FORM = WindForm(14.0, 31.0, 13.0, 0.4, 0.95, 0.8, 0.82, 0.45)
CHAIN = LineSegments(np.array([40.0, 22.0]), np.array([19.2, 25.0]), np.array([8.5e6, 9e6]))
ARM_M = 6.5


def scene_over(bed, lengths=(25.3, 25.6)):
    rode = RodeLine("rode", 6.3, 0.0, 1.5, 0.0, -56.0, CHAIN, bed, 0.6)
    lines = tuple(
        ShoreLine(f"stern {side:g}", -5.6, side, 1.1, -7.0 * side, 28.0, 4.8, length, 1.1, 9e4)
        for side, length in zip((1.7, -1.7), lengths, strict=True)
    )
    breast = ShoreLine("breast", -5.6, 1.7, 1.1, 24.0, 16.0, 3.0, 31.0, 1.5, 2e5)
    return Scene((rode, *lines, breast), Domain(-40.0, 40.0, -40.0, 30.0), FORM)


def rough_bed():
    east = np.arange(-100.0, 100.1, 2.0)
    across, up = np.meshgrid(east, east)
    error = np.random.default_rng(3).normal(0.0, 0.1, across.shape)
    return GridBed(-100.0, -100.0, 2.0, -17.0 + 0.02 * across + 0.12 * (up + 56.0) + error)


def rest_of(setting, q):
    found = solve_rest(setting.scene, setting.load, setting.level_m, tuple(q), arm_m=ARM_M)
    assert found.why == "found"
    tensions = [getattr(f, "cleat_tension_n", None) for f in found.lines]
    rode = found.lines[0]
    tensions[0] = 0.0 if math.isnan(rode.tension_n) else rode.tension_n
    return np.array([found.east_m, found.north_m, found.heading_rad, *tensions])


def at_rest(scene, load, level_m=1.0):
    q = rest_of(Setting(scene, load, level_m, 0.0), (0.0, 0.0, math.pi))[:3]
    return moored(scene, FORM, ARM_M, q, Spread(0.9, 1.1, 2, 5)), q


def flat(answer):
    return np.array([answer.east_m, answer.north_m, answer.heading_rad, *answer.tension_n])


@pytest.mark.parametrize("bed", [PlaneBed(-17.0, 0.02, 0.12), rough_bed()], ids=["plane", "grid"])
@pytest.mark.parametrize(("speed_mps", "from_rad"), [(9.0, 4.4), (13.0, 1.3)])
def test_every_answer_is_what_solving_anew_on_both_sides_gives(bed, speed_mps, from_rad):
    scene, load = scene_over(bed), Load(200.0, -100.0, 0.0, speed_mps, from_rad, AIR_KGPM3)
    ready, q = at_rest(scene, load)
    told = by_hand(ready, load, 1.0, q)
    levers = {lever.name: lever for lever in levers_of(scene, ARM_M)}
    assert [hand.name for hand in told] == list(levers)
    for hand in told:
        lever = levers[hand.name]
        by = 10.0 * lever.step
        setting = Setting(scene, load, 1.0, float(q[2]))
        more, less = (rest_of(lever.after(setting, s * by), q) for s in (1.0, -1.0))
        anew = (more - less) / (2.0 * by)
        assert hand.kink == ()
        # a hundredth of the largest, place and tensions apart: the bed's own breaks are in it
        for part in (slice(0, 3), slice(3, None)):
            most = np.abs(anew[part]).max()
            assert flat(hand.more)[part] == pytest.approx(anew[part], abs=0.01 * most + 1e-7)


def test_a_shared_cleat_and_every_thing_that_can_be_changed_has_its_name():
    scene = scene_over(PlaneBed(-17.0, 0.0, 0.1))
    assert [(lever.name, lever.unit) for lever in levers_of(scene, ARM_M)] == [
        ("rode: chain out", "m"),
        ("rode: let go farther east", "m"),
        ("rode: let go farther north", "m"),
        ("stern 1.7: length", "m"),
        ("stern -1.7: length", "m"),
        ("breast: length", "m"),
        ("stern 1.7: point higher", "m"),
        ("stern -1.7: point higher", "m"),
        ("breast: point higher", "m"),
        ("stern 1.7 and breast: cleat farther forward", "m"),
        ("stern 1.7 and breast: cleat farther to starboard", "m"),
        ("stern -1.7: cleat farther forward", "m"),
        ("stern -1.7: cleat farther to starboard", "m"),
        ("water level", "m"),
        ("wind speed", "m/s"),
        ("wind veering", "rad"),
        ("push to starboard at the bow", "N"),
        ("push to starboard at the stern", "N"),
        ("push ahead", "N"),
    ]


def test_more_length_on_the_line_that_holds_her_lets_her_go_and_eases_nothing_else_it_cannot():
    scene = scene_over(PlaneBed(-17.0, 0.02, 0.12))
    load = Load(0.0, 0.0, 0.0, 12.0, 4.7, AIR_KGPM3)
    ready, q = at_rest(scene, load)
    told = {hand.name: hand for hand in by_hand(ready, load, 1.0, q)}
    # wind from the west pushes her east, the line to the west holds her
    assert told["stern 1.7: length"].more.east_m > 0.0
    assert told["wind speed"].more.tension_n[1] > 0.0


def test_where_a_line_just_comes_taut_the_two_sides_are_told_apart():
    bed = PlaneBed(-17.0, 0.02, 0.12)
    load = Load(0.0, 0.0, 0.0, 12.0, 1.6, AIR_KGPM3)
    # the length at which the breast line is just straight, looked for by halving
    low, high = 30.0, 45.0
    for _ in range(40):
        mid = 0.5 * (low + high)
        ready, q = at_rest(with_breast(bed, mid), load)
        cleat = (
            q[0] - 5.6 * math.sin(q[2]) + 1.7 * math.cos(q[2]),
            (q[1] - 5.6 * math.cos(q[2]) - 1.7 * math.sin(q[2])),
        )
        straight = math.dist((24.0, 16.0, 2.0), (*cleat, 1.1)) > mid
        low, high = (mid, high) if straight else (low, mid)
    scene = with_breast(bed, 0.5 * (low + high))
    ready, q = at_rest(scene, load)
    told = {hand.name: hand for hand in by_hand(ready, load, 1.0, q)}
    hand = told["breast: length"]
    assert hand.kink == ("breast",)
    here = np.array([*q, *rest_of(Setting(scene, load, 1.0, 0.0), q)[3:]])
    for answer, by in ((hand.more, 0.05), (hand.less, -0.05)):
        there = rest_of(Setting(with_breast(bed, 0.5 * (low + high) + by), load, 1.0, 0.0), q)
        assert flat(answer) == pytest.approx((there - here) / by, rel=1e-4, abs=1e-5)
    # hauled in it gains more than it loses eased
    assert hand.less.tension_n[3] < 1.03 * hand.more.tension_n[3] < 0.0


def with_breast(bed, length_m):
    scene = scene_over(bed)
    lines = (*scene.lines[:3], scene.lines[3].__class__(
        "breast", -5.6, 1.7, 1.1, 24.0, 16.0, 3.0, length_m, 1.5, 2e5))  # fmt: skip
    return Scene(lines, scene.domain, FORM)


def test_lines_that_are_gone_are_left_out():
    scene = scene_over(PlaneBed(-17.0, 0.02, 0.12))
    load = Load(0.0, 0.0, 0.0, 9.0, 4.4, AIR_KGPM3)
    ready = moored(scene, FORM, ARM_M, np.array([0.0, 0.0, math.pi]), Spread(0.9, 1.1, 2, 5))
    on = (True, True, True, False)
    rest = solve_rest(scene, load, 1.0, (0.0, 0.0, math.pi), on, ARM_M)
    q = np.array([rest.east_m, rest.north_m, rest.heading_rad])
    told = by_hand(ready, load, 1.0, q, np.array(on, float))
    assert "breast: length" not in [hand.name for hand in told]
    assert np.isnan(told[0].more.tension_n[3])


def test_what_is_said_where_there_is_no_rest():
    scene = scene_over(PlaneBed(-17.0, 0.02, 0.12))
    load = Load(0.0, 0.0, 0.0, 9.0, 4.4, AIR_KGPM3)
    ready, _ = at_rest(scene, load)
    with pytest.raises(NoRest) as told:
        by_hand(ready, load, 1.0, np.array([30.0, -30.0, 0.0]))
    assert str(told.value) == (
        "By hand: no rest beside 30.0 m east, -30.0 m north, the answer to a small change is"
        " asked of a rest. Give the place of a rest that was found."
    )
