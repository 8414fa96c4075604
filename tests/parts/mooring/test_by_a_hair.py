"""Rests that hang by a hair: the exact path and the tables must end alike."""

from __future__ import annotations

import math

import numpy as np
import pytest
from measures.lies import drawn
from measures.lies_checked import by_tables, solved

from shorefast.mooring import FOUND, UNSETTLED, LineSegments, PlaneBed, RodeLine, Scene, Spread
from shorefast.mooring.line_tables import tables_of
from shorefast.mooring.scene import packed
from shorefast.mooring.table_nodes import IDLE_NODES, T_X


def test_where_the_tables_have_her_stable_by_less_than_their_error_the_exact_path_decides():
    # by tables the damping of her sheer is 0.3 parts in a hundred too much, exactly too little
    lie = drawn(767)
    exact = solved(lie)
    assert exact.why == "unknown"
    assert by_tables(lie, exact).code == UNSETTLED


def test_about_a_ridge_both_paths_go_the_way_of_a_growing_wind():
    lie = drawn(844)
    exact = solved(lie)
    tabled = by_tables(lie, exact)
    assert exact.why == "found" and tabled.code == FOUND
    assert tabled.gap is not None and tabled.gap.shift_m < 5e-3 and not tabled.gap.other_branch


def test_in_a_breath_of_wind_the_solve_goes_on_until_the_step_no_longer_matters():
    # 9 mN pull at 2.4 N/m for a fathom of sideways room: 10 mN left over was a metre and a half
    lie = drawn(1936)
    exact = solved(lie)
    gap = by_tables(lie, exact).gap
    assert exact.lines[0].pull_n < 0.01
    assert gap is not None and gap.shift_m < 5e-3


@pytest.mark.parametrize("chain_m", [150.0, 46.0], ids=["chain", "chain and rope"])
def test_nodes_of_idle_chain_are_no_more_than_a_small_step_of_chord_apart(chain_m):
    lie = drawn(171)
    rode = lie.scene.lines[0]
    assert isinstance(rode, RodeLine)
    rope_m = 150.0 - chain_m
    segments = LineSegments(
        np.array([chain_m, rope_m][: 1 + (rope_m > 0.0)]),
        np.array([32.4, 0.55][: 1 + (rope_m > 0.0)]),
        np.array([1.44e7, 2.3e5][: 1 + (rope_m > 0.0)]),
    )
    bed = PlaneBed(-30.0, 0.0, 0.1)
    line = RodeLine("rode", 6.0, 0.0, 1.5, 0.0, 0.0, segments, bed, 0.3)
    scene = Scene((line,), lie.scene.domain, lie.form)
    start = np.array([0.0, 0.0, math.pi])
    made = tables_of(scene, packed(scene), Spread(0.0, 1.0, 3, 5), start)
    chord = made.node[1, 0, :IDLE_NODES, T_X]
    step = np.diff(chord[1:])
    assert np.all(step > 0.0)
    # all of it in even steps would be 1 in 56; none is over five of these
    assert step.max() < 5.0 * (chord[-1] - chord[1]) / (IDLE_NODES - 2)
