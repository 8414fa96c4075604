"""The engine astern and what the wind sees of a boat nobody measured."""

from __future__ import annotations

import pytest

from shorefast.boat import PROPELLERS, Engine, Hull, astern_pull, estimate_windage
from shorefast.errors import OutsideModel


def test_a_given_pull_is_taken_give_or_take_a_seventh():
    pull = astern_pull(Engine(40e3, 0.48, "fixed 3-blade", 2600.0))
    assert (pull.nominal_n, pull.low_n, pull.high_n) == (
        2600.0,
        pytest.approx(2210.0),
        pytest.approx(2990.0),
    )
    assert pull.source == "boat file"


@pytest.mark.parametrize("propeller", PROPELLERS)
def test_every_propeller_pulls_less_astern_than_ahead(propeller):
    pull = astern_pull(Engine(30e3, 0.45, propeller))
    # 4.31 kN ahead by the formula at the shaft's full 30 kW
    assert 0.0 < pull.low_n < pull.nominal_n < pull.high_n < 4310.0


def test_a_folding_propeller_is_weak_astern():
    fixed, folding = (astern_pull(Engine(30e3, 0.45, kind)) for kind in ("fixed", "folding"))
    assert folding.nominal_n < fixed.nominal_n
    assert folding.low_n < fixed.low_n


def test_half_revs_pull_a_quarter():
    engine = Engine(40e3, 0.48, "fixed 3-blade", 2600.0)
    assert astern_pull(engine, 0.5).nominal_n == pytest.approx(650.0)


@pytest.mark.parametrize(
    ("engine", "share", "sentence"),
    [
        (
            Engine(40e3, 0.48, "fixed", 2600.0),
            1.2,
            "Engine: 1.2 of full revs asked, from 0 to 1 is known."
            " Give revs from 0 up to those of full throttle.",
        ),
        (
            Engine(40e3, 0.48, "paddle wheel"),
            1.0,
            "Propeller: 'paddle wheel', known are fixed, fixed 2-blade, fixed 3-blade, folding,"
            " feathering. Take the nearest of these.",
        ),
    ],
)
def test_an_engine_outside_the_formula(engine, share, sentence):
    with pytest.raises(OutsideModel) as trouble:
        astern_pull(engine, share)
    assert trouble.value.sentence == sentence


def test_an_estimated_boat_shows_more_side_than_bow_and_doubts_it_by_a_quarter():
    windage = estimate_windage(Hull(12.0, 3.9, 1.9, 9000.0, 10.9))
    assert windage.frontal_m2 < windage.lateral_m2
    assert windage.deviation == 0.25
    # between the freeboard and the middle of the mast
    assert 1.2 < windage.height_m < 8.4


def test_a_longer_boat_shows_more_of_everything():
    short, long = (
        estimate_windage(Hull(size_m, 0.32 * size_m, 2.0, 9000.0, 0.9 * size_m))
        for size_m in (10.0, 15.0)
    )
    assert short.frontal_m2 < long.frontal_m2
    assert short.lateral_m2 < long.lateral_m2
    assert short.height_m < long.height_m
