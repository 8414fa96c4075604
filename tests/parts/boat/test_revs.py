"""Revs to pull astern and back; readings of the skipper's own."""

from __future__ import annotations

import math

import pytest

from shorefast.boat import Engine, PullAtRevs, astern_pull, revs_curve

TOLD = Engine(40e3, 0.48, "fixed 3-blade", 2600.0, full_revs_rpm=3000.0)
BARE = Engine(40e3, 0.48, "fixed 3-blade")


def with_readings(*pulls, **also):
    readings = tuple(PullAtRevs(*one) for one in pulls)
    return Engine(40e3, 0.48, "fixed 3-blade", pulls=readings, **also)


# Thrust at no speed of advance is Kt rho n^2 D^4 (any text on propellers): by hand, 1500 of
# 3000 rpm is a quarter of 2600 N, 2121 rpm a half.
@pytest.mark.parametrize(("rpm", "pull_n"), [(3000.0, 2600.0), (1500.0, 650.0), (2121.0, 1299.6)])
def test_the_pull_goes_with_the_square_of_the_revs(rpm, pull_n):
    assert revs_curve(TOLD).at_revs(rpm).nominal_n == pytest.approx(pull_n, rel=1e-4)


def test_the_curve_at_full_revs_is_what_the_engine_pulls_astern():
    for engine in (TOLD, BARE, with_readings((2000.0, 1150.0), full_revs_rpm=3000.0)):
        full, curve = astern_pull(engine), revs_curve(engine)
        at = curve.at_share(1.0)
        assert (at.nominal_n, at.low_n, at.high_n) == pytest.approx(
            (full.nominal_n, full.low_n, full.high_n), rel=1e-12
        )


@pytest.mark.parametrize("engine", [TOLD, with_readings((1400.0, 560.0), (2600.0, 2000.0),
                                                        full_revs_rpm=3000.0)])  # fmt: skip
@pytest.mark.parametrize("pull_n", [100.0, 900.0, 2000.0])
def test_the_revs_for_a_pull_give_that_pull_again(engine, pull_n):
    curve = revs_curve(engine)
    revs = curve.revs_for(pull_n)
    assert curve.at_revs(revs.revs_rpm).nominal_n == pytest.approx(pull_n, rel=1e-6)
    # at the low revs she may already pull so hard, at the high ones even if she is weak
    assert curve.at_revs(revs.revs_low_rpm).high_n == pytest.approx(pull_n, rel=1e-6)
    assert curve.at_revs(revs.revs_high_rpm).low_n == pytest.approx(pull_n, rel=1e-6)
    assert revs.revs_low_rpm < revs.revs_rpm < revs.revs_high_rpm


@pytest.mark.parametrize(
    ("pull_n", "reach"), [(2000.0, "reached"), (2600.0, "perhaps"), (3100.0, "beyond")]
)
def test_a_pull_beyond_full_revs_is_a_result(pull_n, reach):
    # told to 15 of 100: 2210 to 2990 N at full revs
    revs = revs_curve(TOLD).revs_for(pull_n)
    assert revs.reach == reach
    assert math.isfinite(revs.share)


def test_without_full_revs_no_rpm_is_made_up():
    curve = revs_curve(BARE)
    revs = curve.revs_for(500.0)
    assert math.isnan(revs.revs_rpm)
    assert 0.0 < revs.share < 1.0
    assert math.isnan(curve.at_revs(1500.0).nominal_n)


def test_readings_tell_revs_where_full_revs_are_unknown():
    curve = revs_curve(with_readings((1500.0, 600.0)))
    assert curve.by_readings_only
    # 600 N at 1500 rpm are 266.7 at 1000 by the square
    assert curve.at_revs(1000.0).nominal_n == pytest.approx(266.67, rel=1e-4)
    revs = curve.revs_for(600.0)
    assert revs.revs_rpm == pytest.approx(1500.0, rel=1e-6)
    assert math.isnan(revs.share)
    assert revs.reach == "unknown"


def test_one_reading_is_right_to_a_seventh_and_carried_on_to_less():
    curve = revs_curve(with_readings((1500.0, 600.0), full_revs_rpm=3000.0))
    there, far = curve.at_revs(1500.0), curve.at_revs(3000.0)
    assert (there.low_n, there.high_n) == pytest.approx((600.0 / 1.15, 600.0 * 1.15))
    assert far.high_n / far.nominal_n > there.high_n / there.nominal_n


def test_several_readings_on_a_square_give_that_square():
    # 2.8e-4 N each rpm squared, by hand: 630, 1120, 1750 N
    curve = revs_curve(with_readings((1500.0, 630.0), (2000.0, 1120.0), (2500.0, 1750.0)))
    assert curve.own.per_rpm2 == pytest.approx(2.8e-4, rel=1e-12)
    assert not curve.own.basis.findings


def test_scattered_readings_widen_the_doubt_and_are_named():
    curve = revs_curve(with_readings((1500.0, 630.0), (2000.0, 1120.0), (2500.0, 1100.0)))
    pull = curve.at_revs(2000.0)
    assert pull.high_n / pull.nominal_n > 1.4
    said = [finding.said for finding in curve.own.basis.findings]
    assert said == [
        "1100 N at 2500 rpm is no more than 1120 N at 2000: the propeller draws air, or one of"
        " the two is wrong",
        "they do not go with the square of the revs; the farthest off is 1100 N at 2500 rpm,"
        " where the others together say 1499",
    ]


def test_readings_far_from_the_formula_are_said():
    # by formula 40 kW on 0.48 m pull 2.0 to 3.0 kN astern; these say 900
    pull = astern_pull(with_readings((1500.0, 225.0), full_revs_rpm=3000.0))
    assert pull.nominal_n == pytest.approx(900.0)
    assert [finding.where for finding in pull.basis.findings] == ["Engine pulls"]
    assert "they say 900 N, less than the" in pull.basis.findings[0].said


def test_a_told_pull_at_told_full_revs_is_one_more_reading():
    engine = with_readings((1500.0, 650.0), full_revs_rpm=3000.0)
    both = Engine(40e3, 0.48, "fixed 3-blade", 2600.0, full_revs_rpm=3000.0, pulls=engine.pulls)
    assert astern_pull(both).nominal_n == pytest.approx(2600.0)
    other = Engine(40e3, 0.48, "fixed 3-blade", 4000.0, full_revs_rpm=3000.0, pulls=engine.pulls)
    pull = astern_pull(other)
    assert pull.low_n < 2600.0 < 4000.0 < pull.high_n


@pytest.mark.parametrize("kind", ["folding", "feathering"])
def test_a_propeller_that_opens_is_told_to_have_opened(kind):
    said = [one.said for one in revs_curve(Engine(30e3, 0.45, kind)).basis.assumptions]
    assert f"The {kind} propeller has opened fully astern" in said


def test_no_pull_needs_no_revs():
    assert revs_curve(TOLD).revs_for(0.0).share == 0.0
