"""Drawn gusty winds: the printed spectrum, the hour's mean and gust, the published factors."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.signal import welch

from shorefast.errors import OutsideModel
from shorefast.weather import (
    GustShapes,
    across_spectrum,
    along_spectrum,
    drawn_shapes,
    esdu_gust_factor,
    fitted,
    gusts_over,
    speeds_of,
    taken_hold,
)

MEAN_MPS = 12.0


@pytest.fixture(scope="module")
def shapes():
    return drawn_shapes(60, MEAN_MPS, 7)


# Kaimal, Wyngaard, Izumi, Coté 1972 (from memory): 105 f/(1 + 33 f)^(5/3), 17 f/(1 + 9.5 f)^(5/3)
@pytest.mark.parametrize(("f", "along", "across"), [(0.01, 0.6528, 0.1461), (0.1, 0.9234, 0.5586)])
def test_the_spectra_are_the_printed_ones(f, along, across):
    n = f * MEAN_MPS / 10.0
    # areas of the two printed forms, 105/22 and 17/(2/3 * 9.5), in friction velocities squared
    assert n * along_spectrum(n, MEAN_MPS) * 105.0 / 22.0 == pytest.approx(along, rel=1e-3)
    assert n * across_spectrum(n, MEAN_MPS) * 17.0 / 9.5 * 1.5 == pytest.approx(across, rel=1e-3)


@pytest.mark.parametrize("of", [along_spectrum, across_spectrum])
def test_a_spectrum_over_its_variance_has_area_one(of):
    n = np.geomspace(1e-7, 1e5, 40_000)
    assert np.trapezoid(of(n, MEAN_MPS) * n, np.log(n)) == pytest.approx(1.0, abs=2e-3)


@pytest.mark.parametrize(
    ("way", "of", "share"), [(0, along_spectrum, 1.0), (1, across_spectrum, 0.562)]
)
def test_what_is_drawn_has_the_spectrum_it_is_drawn_from(shapes, way, of, share):
    n, found = welch(shapes.shape[..., way], 1.0 / shapes.every_s, nperseg=1800, axis=1)
    # 17/9.5 over 105/33: the variance across is 0.562 of that along
    wanted = share * of(n, MEAN_MPS)
    for low, high in ((0.005, 0.02), (0.02, 0.08), (0.08, 0.3), (0.3, 0.8)):
        band = (n >= low) & (n < high)
        # 60 records and a few dozen frequencies: 3 %; the window leaks a little into the high
        assert found.mean(axis=0)[band].sum() == pytest.approx(wanted[band].sum(), rel=0.06)


def test_the_variance_drawn_is_that_of_the_hour_below_a_hertz(shapes):
    n = np.fft.rfftfreq(7200, 0.5)[1:]
    kept = float(along_spectrum(n, MEAN_MPS).sum() / 3600.0)
    assert 0.85 < kept < 0.97
    assert float((shapes.shape[..., 0] ** 2).mean()) == pytest.approx(kept, rel=0.03)


# The printed forms written out again, and integrated by quadrature; the integral length is
# U S(0) / (4 variance) = 5.5 heights of Kaimal's form (textbook: autocorrelation and spectrum
# are each other's transform).
@pytest.mark.parametrize("mean_mps", [5.0, 8.0, 20.0])
def test_variance_and_integral_length_drawn_are_those_of_the_printed_spectrum(mean_mps):
    drawn, slow = drawn_shapes(120, mean_mps, 21), 10.0 / mean_mps
    for way, (a, b) in enumerate(((105.0, 33.0), (17.0, 9.5))):
        kept = quad(
            lambda log_n, a=a, b=b: (
                a * slow * math.exp(log_n) / (1.0 + b * slow * math.exp(log_n)) ** (5.0 / 3.0)
            ),
            math.log(0.5 / 3600.0), math.log(1.0),
        )[0]  # fmt: skip
        # over the whole variance along, 105/22 friction velocities squared
        wanted = kept / (105.0 / 22.0)
        assert float(drawn.shape[..., way].var(axis=1).mean()) == pytest.approx(wanted, rel=0.02)
    along = drawn.shape[..., 0]
    wave = np.abs(np.fft.rfft(along, axis=1)) ** 2
    alike = np.fft.irfft(wave.mean(axis=0), along.shape[1])
    first = int(np.argmax(alike < 0.0))
    lasts_s = drawn.every_s * (alike[:first].sum() - 0.5 * alike[0]) / alike[0]
    # without gusts below a second and slower than an hour: within a sixth
    assert mean_mps * lasts_s == pytest.approx(5.5 * 10.0, rel=0.17)


def test_along_and_across_know_nothing_of_each_other(shapes):
    along, across = shapes.shape[..., 0], shapes.shape[..., 1]
    assert abs(float((along * across).mean())) < 0.03


@pytest.mark.parametrize(("mean", "gust"), [(12.0, 17.0), (8.0, 18.0), (25.0, 37.6), (6.0, 15.0)])
def test_a_fitted_hour_has_the_mean_and_the_greatest_gust_asked(mean, gust):
    drawn = drawn_shapes(6, mean, 3)
    size = fitted(drawn, mean, gust)
    speed = speeds_of(drawn, size.centre_mps, size.spread_mps)
    assert speed.mean(axis=1) == pytest.approx(mean, rel=2e-3)
    over = gusts_over(speed, drawn.every_s)
    assert over.max(axis=1) == pytest.approx(gust, rel=2e-3)
    assert over.argmax(axis=1) * drawn.every_s == pytest.approx(size.gust_at_s)


def test_a_gust_no_harder_than_the_mean_leaves_a_steady_wind():
    size = fitted(drawn_shapes(2, 9.0, 1), 9.0, 8.5)
    assert (size.spread_mps == 0.0).all()
    assert (size.centre_mps == 9.0).all()


def test_a_calm_with_squalls_in_it_is_no_gusty_wind():
    with pytest.raises(OutsideModel) as no:
        fitted(drawn_shapes(1, 3.0, 1), 3.0, 9.0)
    assert no.value.sentence == (
        "Gusty wind: a gust of 9.0 m/s in a mean of 3.0 m/s, the spectrum is for gusts of up to"
        " 2.5 times the mean. Give the mean of the time in which it gusts."
    )


def test_a_record_that_cannot_be_made_so_gusty_is_unknown():
    # it blows one way half of the time and back the other half: its mean is no mean
    square = np.sign(np.sin(np.arange(400) * 2.0 * np.pi / 400.0 + 0.01))
    shapes = GustShapes(np.stack([square, 0.0 * square], axis=-1)[None].copy(), 0.5)
    assert np.isnan(fitted(shapes, 10.0, 24.0).spread_mps).all()


def test_so_gusty_a_wind_has_the_factor_that_esdu_gives_it():
    # off the land: intensity 0.20, printed 3 s gust factor 1.60 (WMO/TD-1555, Table 1.1)
    drawn = drawn_shapes(80, 15.0, 11)
    spread = np.full(80, 0.20 * 15.0)
    speed = speeds_of(drawn, np.full(80, 15.0), spread)
    factor = gusts_over(speed, drawn.every_s).max(axis=1) / speed.mean(axis=1)
    # two spectra: ESDU's has a little more of slow gusts; hours scatter by 0.06
    assert float(factor.mean()) == pytest.approx(1.60, abs=0.08)
    assert float(factor.mean()) == pytest.approx(esdu_gust_factor(0.20, 3.0), abs=0.08)


def test_a_large_hull_feels_less_of_the_quick_gusts_and_all_of_the_slow():
    drawn = drawn_shapes(4, 12.0, 5)
    felt = taken_hold(drawn, 30.0, 12.0)
    wave, left = (np.abs(np.fft.rfft(one.shape[..., 0], axis=1)) for one in (drawn, felt))
    share = left[:, 1:] / wave[:, 1:]
    n = np.fft.rfftfreq(7200, 0.5)[1:]
    # Vickery: at n = U / (2 sqrt A), 1.095 Hz here, half; at a tenth of it 1/(1 + 10^(-4/3))
    at = int(np.argmin(np.abs(n - 0.1 * 12.0 / (2.0 * math.sqrt(30.0)))))
    assert share[:, at] == pytest.approx(0.9556, abs=1e-3)
    assert (share[:, 0] > 0.995).all()


def test_the_same_seed_draws_the_same_wind():
    assert np.array_equal(drawn_shapes(2, 9.0, 4).shape, drawn_shapes(2, 9.0, 4).shape)
    assert not np.array_equal(drawn_shapes(2, 9.0, 4).shape, drawn_shapes(2, 9.0, 5).shape)
