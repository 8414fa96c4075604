"""All rests of a lie: against the whole-boat cases and against a search of another kind."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import root

import shorefast
from shorefast.app.verification.boat_cases import _scene, load_of
from shorefast.app.verification.case_file import read_cases
from shorefast.mooring import (
    AIR_KGPM3,
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
    all_rests,
    moored,
    others_at,
    rode_at_distance,
    same_place_m,
    shore_line_at_distance,
    wind_force,
)

CASES = Path(shorefast.__file__).parent / "cases" / "boat.json"
READ = read_cases(CASES.read_text(encoding="utf-8"), "boat.json")
RAW = {case["id"]: case for case in json.loads(CASES.read_text(encoding="utf-8"))["cases"]}
FORM = WindForm(14.0, 31.0, 13.0, 0.4, 0.95, 0.8, 0.82, 0.45)
NO_WIND = WindForm(1.0, 1.0, 1.0, 0.0, 1.0, 1.0, 1.0, 0.0)
ARM_M = 6.5
CHAIN = LineSegments(np.array([60.0]), np.array([19.2]), np.array([8.5e6]))


def ready_for(scene, form=FORM, level_m=1.0):
    spread = Spread(level_m - 0.05, level_m + 0.05, 2, 61)
    return moored(scene, form, ARM_M, np.array([0.0, 0.0, math.pi]), spread)


def two_ways():
    """An anchor and two lines so long that she can lie with her bow either way."""
    rode = RodeLine("rode", 6.3, 0.0, 1.5, 0.0, -50.0, CHAIN, PlaneBed(-14.0, 0.0, 0.05), 0.6)
    lines = tuple(
        ShoreLine(f"breast {y:g}", -5.6, y, 1.1, 30.0 * y, 6.0, 2.0, 52.0, 3.0, 2e5)
        for y in (1.0, -1.0)
    )
    return Scene((rode, *lines), Domain(-60.0, 60.0, -90.0, 60.0), FORM)


# boat.json of the shipped cases: every stable equilibrium within the case's own tolerance.
@pytest.mark.parametrize("case", READ, ids=lambda case: case.name.split(":")[0])
def test_every_rest_of_a_case_is_found_and_no_other(case):
    scene, raw = _scene(case), RAW[case.name.split(":")[0]]
    ready = ready_for(scene, scene.wind or NO_WIND, case.water_level_m)
    every = all_rests(ready, load_of(case.load), case.water_level_m)
    wanted = raw["expected"]["equilibria"]
    assert len(every.stable) == len(wanted)
    assert every.none is (len(wanted) == 0)
    for told in wanted:
        near = min(every.stable, key=lambda one: abs(one.east_m - told["E_m"]))
        assert near.east_m == pytest.approx(told["E_m"], abs=1e-3)
        assert near.north_m == pytest.approx(told["N_m"], abs=1e-3)
        assert math.degrees(near.heading_rad) == pytest.approx(told["heading_deg"], abs=0.01)
        set_lines = [line["H_N"] for line in told["lines"]]
        assert near.pull_n == pytest.approx(set_lines, abs=1.0)


def summed(scene, q, load, level_m):
    """Forces and moment by the lines' own statics and the wind formula; nothing shared."""
    if not np.all(np.abs(q) < 200.0):
        return np.full(3, 1e6)
    fx, fy, turn = wind_force(FORM, load.wind_mps, load.wind_from_rad - q[2], AIR_KGPM3)
    sine, cosine = math.sin(q[2]), math.cos(q[2])
    total = np.array([fx * sine + fy * cosine, fx * cosine - fy * sine, turn])
    for line in scene.lines:
        off_e, off_n = line.x_m * sine + line.y_m * cosine, line.x_m * cosine - line.y_m * sine
        de, dn = line.east_m - q[0] - off_e, line.north_m - q[1] - off_n
        far_m = math.hypot(de, dn)
        if isinstance(line, ShoreLine):
            rope = ShoreRope(line.length_m, line.weight_npm, line.axial_stiffness_n)
            form = shore_line_at_distance(rope, line.z_m, line.level_m - level_m, far_m)
        else:
            rise = (-de * line.bed.rise_east - dn * line.bed.rise_north) / far_m
            at = np.array([-90.0, 90.0])
            bed = BedLine(at, line.bed.level_at_anchor_m + rise * at)
            form = rode_at_distance(line.segments, bed, line.friction, level_m + line.z_m, far_m)
        fe, fn = form.pull_n * de / far_m, form.pull_n * dn / far_m
        total += np.array([fe, fn, fe * off_n - fn * off_e])
    return np.nan_to_num(total / np.array([1.0, 1.0, ARM_M]), nan=1e6)


def stable_by_differences(scene, q, load):
    wide = 1e-4
    columns = [
        (summed(scene, q + d, load, 1.0) - summed(scene, q - d, load, 1.0)) / (2.0 * wide)
        for d in wide * np.eye(3)
    ]
    stiff = -np.stack(columns, axis=1)
    stiff[2] /= ARM_M
    return bool(np.all(np.linalg.eigvals(stiff).real > 0.0))


@pytest.mark.parametrize(("speed_mps", "from_deg"), [(5.0, 180.0), (9.0, 250.0), (14.0, 100.0)])
def test_a_dense_search_by_another_method_finds_no_stable_rest_more(speed_mps, from_deg):
    scene, load = two_ways(), Load(0.0, 0.0, 0.0, speed_mps, math.radians(from_deg), AIR_KGPM3)
    every = all_rests(ready_for(scene), load, 1.0)
    seen = []
    for east in (-16.0, 0.0, 16.0):
        for north in (-24.0, -8.0, 8.0):
            for heading in np.arange(0.0, 2.0 * math.pi, math.pi / 4.0):
                start = np.array([east, north, heading])
                end = root(lambda q: summed(scene, q, load, 1.0), start, method="hybr")
                close = np.abs(summed(scene, end.x, load, 1.0)).max() < 1e-3
                if end.success and close and stable_by_differences(scene, end.x, load):
                    seen.append(end.x)
    assert seen or not every.stable
    for q in seen:
        assert min(same_place_m(q, one.q, ARM_M) for one in every.stable) < 0.02
    for one in every.stable:
        assert np.abs(summed(scene, one.q, load, 1.0)).max() < 1.0
        assert stable_by_differences(scene, one.q, load)


def test_a_bow_either_way_is_two_rests_with_ridges_between_and_each_names_the_other():
    rode = two_ways().lines[0]
    # two stern lines to points either side, short enough to hold her turned round too
    lines = tuple(
        ShoreLine(f"spring {x:g}", x, 0.0, 1.1, 9.0 * x, 0.0, 1.5, 62.0, 3.0, 2e5)
        for x in (5.0, -5.0)
    )
    scene = Scene((rode, *lines), Domain(-60.0, 60.0, -90.0, 60.0), FORM)
    calm = Load(0.0, 0.0, 0.0, 0.0, 0.0, AIR_KGPM3)
    pushed = calm._replace(north_n=6000.0)
    ready = ready_for(scene)
    every = all_rests(ready, pushed, 1.0)
    assert every.complete
    stable, ridges = len(every.stable), [one for one in every.unstable if one.kind == "ridge"]
    assert stable == len(ridges) >= 1
    assert sum(one.share for one in every.stable) == pytest.approx(1.0 - every.unsettled, abs=1e-9)
    here = every.stable[0]
    others = others_at(ready, pushed, 1.0, here.q)
    assert len(others) == stable - 1


def test_softness_is_the_shift_a_small_push_makes():
    scene, load = two_ways(), Load(0.0, 0.0, 0.0, 9.0, 4.4, AIR_KGPM3)
    ready = ready_for(scene)
    rest = all_rests(ready, load, 1.0).stable[0]
    push = np.array([math.sin(rest.softest_rad), math.cos(rest.softest_rad)])
    moved = all_rests(ready, load._replace(east_n=push[0], north_n=push[1]), 1.0)
    near = min(moved.stable, key=lambda one: same_place_m(one.q, rest.q, ARM_M))
    shift_m = math.hypot(near.east_m - rest.east_m, near.north_m - rest.north_m)
    assert 1.0 / shift_m == pytest.approx(rest.softest_npm, rel=0.02)
    turned = all_rests(ready, load._replace(moment_npm=10.0), 1.0)
    near = min(turned.stable, key=lambda one: same_place_m(one.q, rest.q, ARM_M))
    assert 10.0 / (near.heading_rad - rest.heading_rad) == pytest.approx(rest.turn_npm, rel=0.02)
    assert rest.softest_npm < rest.stiffest_npm


def test_with_all_lines_slack_in_a_calm_she_lies_free_in_one_told_place():
    lines = tuple(replace(line, length_m=90.0) for line in two_ways().lines[1:])
    scene = replace(two_ways(), lines=lines)
    every = all_rests(ready_for(scene), Load(0.0, 0.0, 0.0, 0.0, 0.0, AIR_KGPM3), 1.0)
    assert [one.kind for one in every.stable] == ["free"]
    assert every.stable[0].share > 0.9
    assert every.complete is None


def test_with_nothing_set_she_has_no_rest():
    load = Load(0.0, 0.0, 0.0, 8.0, 1.0, AIR_KGPM3)
    every = all_rests(ready_for(two_ways()), load, 1.0, np.zeros(3))
    assert every.none and every.left == 1.0 and every.stable == ()


def test_a_line_that_is_gone_has_no_pull():
    load = Load(0.0, 0.0, 0.0, 8.0, 1.5, AIR_KGPM3)
    every = all_rests(ready_for(two_ways()), load, 1.0, np.array([1.0, 0.0, 1.0]))
    assert np.isnan(every.stable[0].pull_n[1])
    assert np.isfinite(every.stable[0].pull_n[[0, 2]]).all()
