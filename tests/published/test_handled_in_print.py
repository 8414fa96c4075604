"""How she moves under engine, against formulas and tables in print, hand arithmetic shown."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import shorefast
from shorefast.boat import Engine
from shorefast.mooring import (
    Breeze,
    Domain,
    Handled,
    LineSegments,
    Orders,
    PlaneBed,
    RodeLine,
    Scene,
    driven_of,
    forces_driven,
)
from shorefast.mooring.driven import blade_slope
from shorefast.readers import read_boat
from shorefast.stay import height_share, wind_form

DEMO = Path(shorefast.__file__).parent / "demo"
NAMES = ("grey_notch", "stone_spur", "tres_sombras")
BOATS = {name: replace(read_boat(DEMO / name / "boat.toml"), snubber=None) for name in NAMES}
ROOM, CALM, STILL = Domain(-9e3, 9e3, -9e3, 9e3), Breeze(0.0, 0.0), (0.0, 0.0, 0.0)


def driven(boat):
    return driven_of(boat, wind_form(boat.windage, boat.hull.length_m))


def afloat(boat):
    """Heading north, all chain aboard, no line fast."""
    pieces = LineSegments(np.array([60.0]), np.array([19.2]), np.array([8e6]))
    rode = RodeLine("rode", 6.0, 0.0, 1.5, 0.0, 0.0, pieces, PlaneBed(-50.0, 0.0, 0.0), 0.6)
    she = Handled(Scene((rode,), ROOM), driven(boat))
    she.put(0.0, 0.0, 0.0)
    return she


# Whicker and Fehlner's fit of short control surfaces without sweep (from memory): lift for a
# radian 1.8 pi a / (1.8 + root of (a2 + 4)). By hand: a = 1: 5.655 / (1.8 + 2.236) = 1.401;
# a = 2: 11.310 / (1.8 + 2.828) = 2.444; a = 3: 16.965 / (1.8 + 3.606) = 3.138 (0.0548 for a
# degree); a = 6: 33.929 / (1.8 + 6.325) = 4.176.
@pytest.mark.parametrize(
    ("aspect", "slope"), [(1.0, 1.401), (2.0, 2.444), (3.0, 3.138), (6.0, 4.176)]
)
def test_a_short_blade_lifts_as_the_printed_fit_has_it(aspect, slope):
    assert blade_slope(aspect) == pytest.approx(slope, abs=0.0006)


# Thin wings (textbook): no more than an ellipse's 2 pi a / (a + 2); a slender one goes with
# pi a / 2, a very long one with 2 pi, of which the fit takes nine tenths for the thick section.
def test_a_blade_lies_between_the_limits_of_thin_wings():
    for aspect in np.geomspace(0.01, 1e4, 40):
        assert blade_slope(aspect) <= 2.0 * math.pi * aspect / (aspect + 2.0)
    assert blade_slope(0.01) / 0.01 == pytest.approx(0.5 * math.pi, rel=0.06)
    assert blade_slope(1e6) == pytest.approx(0.9 * 2.0 * math.pi, rel=1e-4)


# Actuator disc (textbook): 1000 N of a screw of 0.45 m, 0.1590 m2, leave a race of
# root(2 x 1000 / (1025 x 0.1590)) = 3.503 m/s far behind, square 12.27; half of it on the rudder.
def test_the_race_on_the_rudder_is_half_of_that_of_an_actuator_disc():
    boat = BOATS["grey_notch"]
    screw = replace(boat, engine=replace(boat.engine, propeller_diameter_m=0.45))
    assert driven(screw).race * 1000.0 == pytest.approx(0.5 * 3.503**2, rel=1e-3)


# Propeller handbook, rows worked out: 30 kW and 0.45 m at the shaft 4.31 kN; 40 hp and 16 in 4.01.
@pytest.mark.parametrize(
    ("shaft_w", "wide_m", "thrust_kn"), [(30e3, 0.45, 4.31), (40 * 745.7, 16 * 0.0254, 4.01)]
)
def test_full_ahead_and_standing_still_she_is_pushed_by_the_printed_thrust(
    shaft_w, wide_m, thrust_kn
):
    engine = Engine(shaft_w / 0.9, wide_m, "fixed 3-blade")
    hers = driven(replace(BOATS["grey_notch"], engine=engine))
    ahead_n, aside_n, turning_nm = forces_driven(hers, CALM, STILL, Orders(revs=1.0))
    assert ahead_n / 1e3 == pytest.approx(thrust_kn, rel=0.005)
    assert aside_n == turning_nm == 0.0


# Common practice, no source: the speed of a displacement hull is 1.34 times the root of her
# waterline in feet, in knots; full ahead she makes between 80 and 115 of 100 of it.
@pytest.mark.parametrize("name", NAMES)
def test_full_ahead_she_comes_near_the_speed_of_her_waterline(name):
    boat, she = BOATS[name], afloat(BOATS[name])
    she.on_for(240.0, Orders(revs=1.0), CALM)
    knots = she.lying.ahead_mps * 3600.0 / 1852.0
    hull_knots = 1.34 * math.sqrt(boat.hull.waterline_m / 0.3048)
    assert 0.80 <= knots / hull_knots <= 1.15


# Leeway taxonomy as in an open drift model's table of objects (read): "sailboat mono-hull
# bare-masted average": downwind 5.23 % of the wind at 10 m, standard deviation 18.52 cm/s; up to
# 6 % of it to one side or the other.
@pytest.mark.parametrize("helm_rad", [9.0, -9.0])
@pytest.mark.parametrize("name", NAMES)
def test_left_to_drift_with_the_helm_hard_over_she_goes_within_the_scatter_of_the_leeway_table(
    name, helm_rad
):
    boat = BOATS[name]
    for wind_mps in (5.0, 7.5, 10.0, 12.5, 15.0, 17.5, 20.0):
        she = afloat(boat)
        felt_mps = wind_mps * height_share(boat.windage.height_m)
        breeze, orders = Breeze(felt_mps, 0.5 * math.pi), Orders(helm_rad=helm_rad)
        she.on_for(300.0, orders, breeze)
        before = she.lying
        she.on_for(300.0, orders, breeze)
        downwind_mps = (before.east_m - she.lying.east_m) / 300.0
        across_mps = abs(she.lying.north_m - before.north_m) / 300.0
        assert downwind_mps == pytest.approx(0.0523 * wind_mps, abs=0.1852)
        assert across_mps <= 0.06 * wind_mps + 0.1852
