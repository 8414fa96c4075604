"""Laws of gear: more is more, and no number is out of proportion."""

from __future__ import annotations

import numpy as np
import pytest

from shorefast.boat import FIBRES, Engine, LongLine, astern_pull, chain, line_strength, rope


@pytest.mark.parametrize("fibre", FIBRES)
def test_thicker_rope_is_heavier_and_stronger(fibre):
    found = [rope(fibre, size_m) for size_m in np.linspace(0.003, 0.060, 229)]
    assert np.all(np.diff([one.breaking_n for one in found]) > 0.0)
    assert np.all(np.diff([one.mass_kgpm for one in found]) > 0.0)


def test_thicker_chain_is_heavier():
    masses = [chain(float(size_m), 30).mass_kgpm for size_m in np.linspace(0.004, 0.040, 145)]
    assert np.all(np.diff(masses) > 0.0)


def test_no_chain_is_far_from_its_grades_stress():
    for size_m in np.linspace(0.004, 0.040, 145):
        for grade in (30, 40, 70):
            strength_n = chain(float(size_m), grade).breaking_n
            ruled_n = 2 * np.pi / 4 * size_m**2 * grade * 1e7
            # the printed rows lie between 12 in 100 below the rule and 9 above
            assert 0.84 < strength_n / ruled_n < 1.10


def test_a_limit_never_passes_what_parts_the_line():
    for fibre in FIBRES:
        for age_years in (None, 0.0, 1.9, 2.0, 30.0):
            strength = line_strength(LongLine("l", fibre, 0.014, 50.0, age_years))
            assert 0.0 < strength.limit_n < strength.usable_n < strength.new_n


def test_more_revs_pull_harder():
    engine = Engine(30e3, 0.45, "folding")
    pulls = [astern_pull(engine, float(share)).nominal_n for share in np.linspace(0.0, 1.0, 11)]
    assert pulls[0] == 0.0
    assert np.all(np.diff(pulls) > 0.0)
