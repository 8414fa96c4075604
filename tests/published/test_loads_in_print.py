"""Wind, current and waves on her against printed numbers."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.mooring.current_force import (
    Underbody,
    along_force,
    broadside_force_n,
    printed_propeller_m2,
)
from shorefast.mooring.wave_drift import build_up_s, drift_bound_npm, fetch_sea, full_sea
from shorefast.mooring.wind_compared import ShipShape, along_shape, merchant_coefficients
from shorefast.mooring.wind_load import WindForm
from shorefast.mooring.wind_parts import form_coefficients, part_drag, parts_force, stays

KNOT_MPS = 1852.0 / 3600.0
# The manual's own sea water.
UFC_KGPM3 = 1026.0


# UFC 4-159-03 (2005), table 4-6: frigate, current 1.5 m/s on the beam. C0 0.85 and
# LWL x T = 124.36 x 4.39 m2 are its worked example's.
@pytest.mark.parametrize(
    ("depth_share", "printed_mn"), [(0.096, 0.55), (0.576, 1.03), (0.96, 1.90)]
)
def test_a_frigate_is_pushed_harder_where_the_water_is_shallow(depth_share, printed_mn):
    force_n = broadside_force_n(1.5, 124.36 * 4.39, depth_share, deep=0.85, density_kgpm3=UFC_KGPM3)
    # printed to two or three figures
    assert force_n / 1e6 == pytest.approx(printed_mn, rel=0.01)


# UFC 4-159-03, eq. 6 and 7: 1 from ahead, nought at the crossing, -1 from astern.
@pytest.mark.parametrize("cross_deg", [80.0, 100.0, 120.0])
@pytest.mark.parametrize("spread_house", [True, False])
def test_the_wind_along_a_ship_is_whole_ahead_and_nought_at_the_crossing(cross_deg, spread_house):
    cross = math.radians(cross_deg)
    shape = along_shape([0.0, cross, math.pi], cross, spread_house=spread_house)
    # exact but for rounding
    assert shape == pytest.approx([1.0, 0.0, -1.0], abs=1e-12)


# Isherwood 1972, worked with the example inputs of an open library: LOA 100, B 30,
# AL 900, AF 300, ASS 100, S 100, C 50, M 2. Wind on the port side has the printed signs.
@pytest.mark.parametrize(
    ("gamma_deg", "printed"),
    [
        (0.0, (-0.8673, 0.0, 0.0)),
        (60.0, (-0.3099, 0.7861, 0.0442)),
        (90.0, (-0.1440, 0.6510, 0.0087)),
        (180.0, (0.7665, 0.0, 0.0)),
    ],
)
def test_a_merchant_ship_feels_the_wind_as_the_regression_has_it(gamma_deg, printed):
    ship = ShipShape(100.0, 30.0, 300.0, 900.0, 100.0, 100.0, 0.0, masts=2)
    found = merchant_coefficients(ship, -math.radians(gamma_deg))
    # printed to four figures
    assert found == pytest.approx(printed, abs=1e-4)


# Blendermann 1994 as tabulated in Fossen 2021, ch. 10: research vessel, CDt 0.85,
# CDl 0.55 / 0.65, delta 0.60, AF 160.7, AL 434.8, LOA 55, sL 1.48.
@pytest.mark.parametrize(
    ("gamma_deg", "printed"),
    [
        (0.0, (-0.55, 0.0, 0.0)),
        (60.0, (-0.3318, 0.8882, 0.1076)),
        (90.0, (0.0, 0.85, 0.0229)),
        (180.0, (0.65, 0.0, 0.0)),
    ],
)
def test_a_research_vessel_feels_the_wind_as_printed(gamma_deg, printed):
    form = WindForm(160.7, 434.8, 55.0, 1.48, 0.85, 0.55, 0.65, 0.60)
    found = form_coefficients(form, -math.radians(gamma_deg))
    # printed to four figures
    assert found == pytest.approx(printed, abs=1e-4)


# Larsson and Eliasson, fig. 9.2 and the 40 ft example: 76.7 m of 8 mm, 23.9 m of 10 mm.
def test_the_rig_of_the_forty_footer_has_a_square_metre_of_drag():
    wires = stays([(0.008, 76.7), (0.010, 23.9)], 10.0, 0.0)
    # printed to four figures
    assert wires.lateral_m2 * part_drag("stays").across == pytest.approx(1.023, rel=1e-3)


# The same rig at the book's air of 1.29: 0.660 V2 newtons.
def test_the_rig_of_the_forty_footer_pulls_as_the_book_has_it():
    wires = stays([(0.008, 76.7), (0.010, 23.9)], 10.0, 0.0)
    ahead = parts_force([wires], 15.0, 0.0, density_kgpm3=1.29)
    # printed to three figures
    assert -ahead.forward_n[0] == pytest.approx(0.660 * 15.0**2, rel=1e-3)


# Larsson and Eliasson, fig. 9.2: 1.0 mast, 1.2 stays; Blendermann 1994: his two small classes.
@pytest.mark.parametrize(
    ("kind", "across", "ahead", "astern", "delta"),
    [
        ("mast", 1.0, 1.0, 1.0, 0.0),
        ("stays", 1.2, 1.2, 1.2, 0.0),
        ("speed boat", 0.90, 0.55, 0.60, 0.60),
        ("fishing vessel", 0.95, 0.70, 0.70, 0.40),
    ],
)
def test_parts_drag_as_printed(kind, across, ahead, astern, delta):
    # typed from the table
    assert part_drag(kind)[:4] == (across, ahead, astern, delta)


# UFC 4-159-03, eq. 15 to 23: yacht of 11 m at the water, 3.9 m, 0.6 m, 10 t, in one knot.
def test_a_knot_of_current_on_the_bow_of_a_yacht():
    body = Underbody(11.0, 3.9, 0.6, 0.6, 10_000.0)
    along = along_force(body, KNOT_MPS, math.pi, density_kgpm3=UFC_KGPM3)
    # printed to three figures
    assert -along.form_n == pytest.approx(31.8, rel=0.01)
    assert -along.friction_n == pytest.approx(12.8, rel=0.01)


# The same equations: (11 x 3.9 / 150) / (1.067 - 0.229), by hand 0.286 / 0.838.
def test_a_ships_propeller_from_her_waterline():
    # the hand carried three figures
    assert printed_propeller_m2(
        Underbody(11.0, 3.9, 0.6, 0.6, 1e4), 150.0
    ) == pytest.approx(0.341, abs=1e-3)  # fmt: skip


# A textbook's worked answer in the older form, on the wind itself: H 0.243, t 71500.
def test_a_full_sea_at_fifteen_metres_a_second_wants_five_hundred_kilometres():
    fetch_m, time_s = full_sea(15.0, most=0.243)
    # the answer is printed to three and four figures
    assert fetch_m / 1e3 == pytest.approx(529.0, rel=2e-3)
    assert time_s / 3600.0 == pytest.approx(30.37, rel=2e-3)


# Curves as in an open coastal library, worked by hand: wind, fetch, Hm0 and Tp.
# The rows print three figures after the point: half of the last one is added.
WAVES = [
    ("jonswap-1973", 5.0, 200.0, 0.036, 0.614),
    ("spm-1984", 5.0, 200.0, 0.037, 0.629),
    ("cem-2003", 5.0, 200.0, 0.033, 0.468),
    ("kahma-calkoen-1992", 5.0, 200.0, 0.052, 0.759),
    ("jonswap-1973", 10.0, 1000.0, 0.162, 1.323),
    ("spm-1984", 10.0, 1000.0, 0.195, 1.430),
    ("cem-2003", 10.0, 1000.0, 0.159, 1.030),
    ("kahma-calkoen-1992", 10.0, 1000.0, 0.232, 1.613),
    ("jonswap-1973", 15.0, 5000.0, 0.542, 2.583),
    ("spm-1984", 15.0, 5000.0, 0.717, 2.887),
    ("cem-2003", 15.0, 5000.0, 0.564, 2.054),
    ("kahma-calkoen-1992", 15.0, 5000.0, 0.746, 3.001),
    ("jonswap-1973", 25.0, 10_000.0, 1.277, 3.862),
    ("spm-1984", 25.0, 10_000.0, 1.901, 4.484),
    ("cem-2003", 25.0, 10_000.0, 1.465, 3.170),
    ("kahma-calkoen-1992", 25.0, 10_000.0, 1.788, 4.577),
]


@pytest.mark.parametrize(("curve", "wind_mps", "fetch_m", "height_m", "period_s"), WAVES)
def test_a_bay_raises_the_waves_of_the_curves(curve, wind_mps, fetch_m, height_m, period_s):
    sea = fetch_sea(curve, wind_mps, fetch_m)
    assert sea.height_m == pytest.approx(height_m, rel=5e-3, abs=5e-4)
    assert sea.period_s == pytest.approx(period_s, rel=5e-3, abs=5e-4)


# The same source: the time a wind must blow.
@pytest.mark.parametrize(
    ("curve", "wind_mps", "fetch_m", "printed_s"),
    [
        ("cem-2003", 10.0, 2000.0, 2705.0),
        ("cem-2003", 20.0, 10_000.0, 6283.26),
        ("spm-1984", 10.0, 2000.0, 2224.843),
        ("spm-1984", 25.0, 200.0, 329.213),
    ],
)
def test_waves_need_their_time(curve, wind_mps, fetch_m, printed_s):
    # worked to four figures and more
    assert build_up_s(curve, wind_mps, fetch_m) == pytest.approx(printed_s, rel=5e-3)


# rho g Hs2 / 16 by hand: 57 N/m at 0.3 m, 157 N/m at 0.5 m; 12 m abeam 1.9 kN.
def test_a_chop_pushes_hard_on_her_side():
    # printed to the newton
    assert drift_bound_npm(np.array([0.3, 0.5])) == pytest.approx([57.0, 157.0], abs=0.5)
    assert 12.0 * drift_bound_npm(0.5) / 1e3 == pytest.approx(1.9, abs=0.05)
