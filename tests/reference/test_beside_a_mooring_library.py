"""Rodes on slopes and whole boats beside a general mooring library, and where it fails.

The library (moorpy, a development dependency) has no contact with a rising bed once its own
search calls the line lifted: it then leads the chain under the slope. A third program, the
chain of bars of least energy (measures.bars), tells which of the two pulls as a chain does.
"""

from __future__ import annotations

import json
import math
from importlib.resources import files

import pytest
from measures.library import library_rode
from measures.library_run import boat_beside, random_rode
from measures.own_lines import Rode

pytest.importorskip("moorpy")

FALLING = [random_rode(seed, (-10.0, 1e-9)) for seed in range(60)]
RISING = [random_rode(seed, (0.0, 30.0)) for seed in range(100)]


@pytest.mark.parametrize("seed", range(60))
def test_on_a_level_or_falling_bed_it_pulls_as_ours(seed):
    beside = FALLING[seed]
    told, ours = beside.library, beside.ours
    assert told is not None
    # it stops at its own tolerance on the distance, and smooths the friction near the shank
    assert ours.pull_n == pytest.approx(told.level_n, rel=2e-4)
    assert ours.down_n == pytest.approx(told.down_n, rel=2e-4)
    assert ours.on_bottom_m == pytest.approx(told.lies_m, abs=0.01)


def test_on_a_rising_bed_it_agrees_or_leads_the_chain_under_the_bed():
    apart = [beside for beside in RISING if not beside.agrees]
    # more than half of them agree; what does not is all of one kind
    assert 20 <= len(apart) <= 50
    assert all(beside.under_the_bed for beside in apart)
    assert all(beside.library.level_n > beside.ours.pull_n for beside in apart)


# rodes with length that feels no tension on a rising bed, as in the shipped case RP06
@pytest.mark.parametrize("seed", [106, 126, 163])
def test_a_length_without_tension_on_a_slope_it_shortens_as_if_pressed(seed):
    beside = random_rode(seed, (0.0, 30.0))
    assert beside.pressed and not beside.agrees and beside.bars_with_us
    assert 0.997 < beside.library.level_n / beside.ours.pull_n < 0.999
    assert beside.bars_n == pytest.approx(beside.ours.pull_n, rel=1e-4)


def test_where_they_part_the_bars_pull_as_ours():
    assert all(beside.bars_with_us for beside in (*FALLING, *RISING))
    apart = [beside for beside in RISING if not beside.agrees]
    # and far from what the library has: on the side of the deeper lie by up to three times
    assert max(beside.library.level_n / beside.bars_n for beside in apart) > 2.0


def test_whole_boats_on_level_beds_lie_where_its_own_system_has_them():
    gaps = [gap for gap in map(boat_beside, range(150)) if gap is not None]
    assert len(gaps) > 50
    # its system has no water for a line to float on and no friction: such lies are left out
    assert max(gap.shift_m for gap in gaps) < 1e-4
    assert max(gap.turn_rad for gap in gaps) < 1e-5


def worked(name):
    text = (files("shorefast") / "cases" / "rode.json").read_text(encoding="utf-8")
    return next(case for case in json.loads(text)["cases"] if case["id"] == name)


# the shipped cases whose own check says that the library differs
@pytest.mark.parametrize("name", ["RP07", "RP08"])
def test_in_the_worked_cases_too_it_goes_under_the_slope(name):
    case = worked(name)
    ((_, low_m), (_, high_m)) = case["bed_r_z_m"]
    slope = math.atan((high_m - low_m) / 300.0)
    (piece,) = case["segments_from_anchor"]
    rode = Rode([tuple(piece.values())], slope, case["friction"])
    anchor_m = low_m + 100.0 * math.tan(slope)
    distance_m = case["given"].get("distance_m") or case["expected"]["distance_m"]
    told = library_rode(rode, distance_m, case["bow_z_m"] - anchor_m)
    was = case["checks"]["moorpy_catenary"]
    assert told.level_n == pytest.approx(was["H_bow_N"], rel=1e-5)
    assert told.lies_m == 0.0 and told.shank_rad < slope
    # what decided there was a chain of 400 bars hauled out from slack
    assert case["expected"]["H_bow_N"] == pytest.approx(
        case["checks"]["lumped"]["H_bow_N"], rel=1e-3
    )
