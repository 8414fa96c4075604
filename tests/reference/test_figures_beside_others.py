"""The figures that stand beside other programs, and what they say where one is missing."""

from __future__ import annotations

import math

import pytest
from measures import library_run, references, statics
from measures.figure import measured, row
from measures.lies_checked import between, place
from measures.own_rest import rest_by_root

from shorefast.mooring import solve_rest


def test_a_missing_library_is_said_and_nothing_judged(monkeypatch):
    monkeypatch.setattr(statics, "library_per_s", lambda: None)
    figure = statics.beside_library(measured("equilibria-per-second", 2e6, "/s", ">= 1500000"))
    assert (figure.value, figure.ratio, figure.met) == (2e6, None, None)
    assert "not installed" in row(figure)
    monkeypatch.setattr(library_run, "THERE", False)
    assert [figure.met for figure in library_run.library_beside(10)] == [None] * 4


def test_the_ratio_is_ours_over_the_librarys(monkeypatch):
    monkeypatch.setattr(statics, "library_per_s", lambda: 100.0)
    figure = statics.beside_library(measured("equilibria-per-second", 2e6, "/s", ">= 1500000"))
    assert (figure.ratio, figure.met) == (pytest.approx(2e4), True)
    assert "(100/s)" in figure.reference


def test_the_root_finder_timed_solves_the_lie_it_is_given():
    lie = references.three_lines()
    rest = solve_rest(lie.scene, lie.load, 0.0, lie.start, arm_m=lie.arm_m)
    found = rest_by_root(lie, lie.load, place(rest) + 0.05)
    assert between(place(rest), found).shift_m < 1e-4
    assert math.isfinite(references.root_finder_per_s())
