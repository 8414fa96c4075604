"""What waves do to her, against printed numbers and closed forms."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.mooring import deep_wavelength_m, highest_share
from shorefast.mooring.wave_push import short_wave_push
from shorefast.weather import enveloping_s, gust_over_mps


# EM 1110-2-1100 (Part II), 30 Apr 2002, ch. 1, Example Problem II-1-1: 10 s in deep water.
def test_a_wave_of_ten_seconds_is_156_m_long_in_deep_water():
    # printed in whole metres
    assert deep_wavelength_m(10.0) == pytest.approx(156.0, abs=0.5)


# Longuet-Higgins 1952 (from memory), as handbooks print it: the likeliest highest of N waves
# over the significant height. The mean of the highest is a few hundredths more.
@pytest.mark.parametrize(("waves", "printed"), [(100, 1.52), (1000, 1.86), (10_000, 2.15)])
def test_the_highest_of_many_waves_is_higher_the_more_there_are(waves, printed):
    assert highest_share(waves) == pytest.approx(printed, abs=0.006)


# Faltinsen 1990, ch. 5 (from memory): an upright cylinder of radius r turns short waves back
# with 2/3 rho g a2 r, so that int sin2 n dl is 4/3 r.
def test_a_post_in_short_waves_is_pushed_by_four_thirds_of_its_radius():
    angle = np.linspace(0.0, 2.0 * math.pi, 721)[:-1]
    post = 0.5 * np.stack([np.cos(angle), np.sin(angle)], -1)
    ahead, side, turn = short_wave_push(post, 0.0)
    # half-degree sides
    assert ahead == pytest.approx(-4.0 / 3.0 * 0.5, rel=1e-4)
    assert side == pytest.approx(0.0, abs=1e-12) and turn == pytest.approx(0.0, abs=1e-12)


# A long wall struck at an angle b: sin2 b of each metre, straight onto it (same chapter).
@pytest.mark.parametrize("angle_deg", [30.0, 60.0, 90.0])
def test_a_wall_is_pushed_square_to_itself(angle_deg):
    wall = np.array([[5.0, 0.01], [-5.0, 0.01], [-5.0, -0.01], [5.0, -0.01]])
    ahead, side, _ = short_wave_push(wall, math.radians(angle_deg))
    # its two ends, 2 cm wide, are in the sum
    assert side == pytest.approx(-10.0 * math.sin(math.radians(angle_deg)) ** 2, abs=0.03)
    assert ahead == pytest.approx(0.0, abs=0.03)


# CP 3: ch. V (from memory): a 3 s gust for what is no larger than 20 m, in its basic wind of
# some 30 m/s; Lawson's 4.5 L / V gives the same.
def test_what_is_twenty_metres_long_is_enveloped_by_a_gust_of_three_seconds():
    assert enveloping_s(20.0, 30.0) == pytest.approx(3.0)


# WMO/TD-No. 1555 (2010), table 1.1: 3 s and 60 s gusts over one hour.
@pytest.mark.parametrize(("gust", "printed"), [(1.75, 1.28), (1.60, 1.22)])
def test_a_three_second_gust_brought_to_a_minute_is_the_tables(gust, printed):
    # two decimals printed
    assert gust_over_mps(gust, 1.0, (3.0, 60.0)) == pytest.approx(printed, abs=0.01)
