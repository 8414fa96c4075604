"""Laws of stretch and wear: stiffer the harder it pulls, the same both ways, bounds in order."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shorefast.boat import (
    ANCHOR_CLASSES,
    FIBRES,
    Anchor,
    LongLine,
    RopeUse,
    constructions,
    edge_share,
    stretch,
    worn_chain,
    worn_rope,
)
from shorefast.mooring import holding
from shorefast.mooring.two_anchors import two_in_line

ROPES = [(fibre, made) for fibre in FIBRES for made in constructions(fibre)]
CURVES = [
    getattr(stretch(fibre, 0.016, made, new=new), bound)
    for fibre, made in ROPES
    for new in (False, True)
    for bound in ("soft", "nominal", "stiff")
]
SHARES = np.linspace(0.0, 1.0, 2001)


@pytest.mark.parametrize("curve", CURVES)
def test_more_pull_more_stretch_and_each_metre_harder_than_the_last(curve):
    at = np.linspace(0.0, curve.extension[-1], 2001)
    pull_n = curve.tension_at(at)
    steps_n = np.diff(pull_n)
    assert np.all(steps_n > 0.0)
    # convex to rounding of the sums
    assert np.all(np.diff(steps_n) > -1e-9 * curve.breaking_n)
    assert pull_n[0] == 0.0
    assert pull_n[-1] == pytest.approx(curve.breaking_n, rel=1e-12)


@pytest.mark.parametrize("curve", CURVES)
def test_from_pull_to_stretch_and_back_is_the_same_pull(curve):
    pull_n = SHARES * curve.breaking_n
    back_n = curve.tension_at(curve.extension_at(pull_n))
    np.testing.assert_allclose(back_n, pull_n, rtol=1e-10, atol=1e-9 * curve.breaking_n)


@pytest.mark.parametrize("curve", CURVES)
def test_the_secant_is_never_stiffer_than_the_tangent(curve):
    pull_n = SHARES * curve.breaking_n
    secant_n, tangent_n = curve.secant_stiffness_n(pull_n), curve.tangent_stiffness_n(pull_n)
    assert np.all(secant_n <= tangent_n * (1.0 + 1e-9))
    assert np.all(np.diff(tangent_n) >= -1e-7 * tangent_n[1:])
    assert secant_n[0] == tangent_n[0] > 0.0


@pytest.mark.parametrize("curve", CURVES)
def test_stiffness_nowhere_jumps(curve):
    # a jump would be two knots in one place
    assert np.all(np.diff(curve.extension) > 1e-6 * curve.extension[-1])
    assert np.all(np.diff(curve.share) > 1e-6)


@pytest.mark.parametrize("curve", CURVES)
def test_the_tangent_is_the_slope_of_the_pull(curve):
    at = np.linspace(0.001, 0.999, 400) * curve.extension[-1]
    step = 1e-7 * curve.extension[-1]
    slope_n = (curve.tension_at(at + step) - curve.tension_at(at - step)) / (2.0 * step)
    # a central difference in double precision is good to about 1e-8 here; a knot within a step
    # costs a little more
    tangent_n = curve.tangent_stiffness_n(curve.tension_at(at))
    np.testing.assert_allclose(tangent_n, slope_n, rtol=1e-5)


@pytest.mark.parametrize(("fibre", "made"), ROPES)
@pytest.mark.parametrize("new", [False, True])
def test_the_soft_rope_stretches_most_and_the_stiff_one_least(fibre, made, new):
    found = stretch(fibre, 0.012, made, new=new)
    pull_n = SHARES[1:] * found.nominal.breaking_n
    soft, nominal, stiff = (
        curve.extension_at(pull_n) for curve in (found.soft, found.nominal, found.stiff)
    )
    assert np.all((soft > nominal) & (nominal > stiff) & (stiff > 0.0))


@pytest.mark.parametrize(("fibre", "made"), ROPES)
def test_a_thicker_rope_stretches_less_under_the_same_pull(fibre, made):
    thin, thick = stretch(fibre, 0.010, made).nominal, stretch(fibre, 0.020, made).nominal
    pull_n = SHARES[1:] * thin.breaking_n
    assert np.all(thick.extension_at(pull_n) < thin.extension_at(pull_n))


@given(st.floats(0.001, 1.0), st.floats(0.5, 3.0))
def test_a_rope_that_stretches_so_many_times_as_much_does_so_at_every_pull(share, times):
    curve = stretch("nylon", 0.014).nominal
    pull_n = share * curve.breaking_n
    far = curve.stretched(times).extension_at(pull_n)
    assert float(far) == pytest.approx(times * float(curve.extension_at(pull_n)), rel=1e-9)


@given(st.floats(0.1, 1.0), st.floats(0.1, 1.0))
def test_a_thinner_link_never_carries_more(one, other):
    thin, thick = sorted((one, other))
    worn = [worn_chain(0.010, 30, 0.010 * part) for part in (thin, thick)]
    assert worn[0].breaking_n <= worn[1].breaking_n
    assert worn[0].retire >= worn[1].retire


def test_a_rounder_edge_keeps_more_and_never_all():
    shares = edge_share(np.linspace(1.0, 200.0, 1000))
    assert np.all(np.diff(shares) > 0.0)
    assert shares[0] == 0.5
    assert shares[-1] < 1.0


@given(st.floats(0.0, 5.0), st.floats(0.012, 1.0))
def test_no_loss_makes_a_rope_stronger(summers, edge_m):
    line = LongLine("stern", "polypropylene", 0.012, 60.0)
    whole = worn_rope(line, RopeUse((), None, 0.0))
    worn = worn_rope(line, RopeUse(("bowline", "eye splice"), edge_m, summers))
    assert 0.0 < worn.low_n <= worn.high_n < whole.low_n == whole.new_n


@pytest.mark.parametrize("kind", ANCHOR_CLASSES)
def test_two_anchors_hold_no_less_than_one_and_no_more_than_both(kind):
    first, second = holding(Anchor(kind, 25.0), "sand"), holding(Anchor("fluke", 12.0), "sand")
    uplift_rad = np.radians(np.linspace(0.0, 30.0, 61))
    pair = two_in_line(first, second, 0.1, uplift_rad)
    turned = two_in_line(second, first, 0.1, uplift_rad)
    assert pair.low_n.shape == uplift_rad.shape
    assert np.all(pair.low_n <= pair.high_n)
    np.testing.assert_allclose(pair.high_n, pair.low_n + turned.low_n, rtol=1e-12)
    # at 30 degrees nothing is left of either
    assert math.isclose(float(pair.high_n[-1]), 0.0, abs_tol=1e-9)
