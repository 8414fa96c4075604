"""How a number is said."""

import math

import pytest

from shorefast.wording import (
    bearing,
    compass,
    degrees,
    duration,
    from_vertical,
    kilograms,
    knots,
    metres,
    position,
    use_words,
)

NAN = math.nan


@pytest.mark.parametrize(
    ("force_n", "said"),
    [(0.0, "0 kg"), (43.0, "4 kg"), (980.665, "100 kg"), (2549.7, "260 kg"), (24525.0, "2500 kg")],
)
def test_a_pull_is_said_in_kilograms_with_two_digits(force_n, said):
    assert kilograms(force_n) == said


@pytest.mark.parametrize(
    ("speed_mps", "said"), [(0.0, "0 kn"), (10.8, "21 kn"), (21.6067, "42 kn")]
)
def test_a_wind_is_said_in_whole_knots(speed_mps, said):
    assert knots(speed_mps) == said


@pytest.mark.parametrize(
    ("length_m", "said"),
    [(0.04, "0.0 m"), (-0.04, "0.0 m"), (3.04, "3.0 m"), (-0.52, "-0.5 m"), (9.97, "10 m"),
     (64.4, "64 m")],
)  # fmt: skip
def test_a_length_has_tenths_only_below_ten_metres(length_m, said):
    assert metres(length_m) == said


@pytest.mark.parametrize(
    ("angle_deg", "said"), [(0.0, "000"), (45.0, "045"), (359.6, "000"), (-90.0, "270")]
)
def test_a_bearing_has_three_figures(angle_deg, said):
    assert bearing(math.radians(angle_deg)) == said


@pytest.mark.parametrize(
    ("angle_deg", "said"),
    [(0.0, "north"), (22.0, "north"), (23.0, "north-east"), (225.0, "south-west"),
     (315.0, "north-west"), (350.0, "north")],
)  # fmt: skip
def test_the_compass_has_eight_points(angle_deg, said):
    assert compass(math.radians(angle_deg)) == said


def test_the_chain_up_and_down_is_nought_from_the_vertical():
    assert from_vertical(math.radians(90.0)) == "0 degrees from the vertical"
    assert from_vertical(math.radians(51.0)) == "39 degrees from the vertical"


def test_one_degree_is_one_degree():
    assert degrees(math.radians(1.0)) == "1 degree"
    assert degrees(math.radians(12.0)) == "12 degrees"


@pytest.mark.parametrize(
    ("time_s", "said"),
    [(15.0, "15 s"), (89.0, "89 s"), (240.0, "4 min"), (7200.0, "2 h"), (9000.0, "2 h 30 min")],
)
def test_a_span_is_said_as_it_is_called_out(time_s, said):
    assert duration(time_s) == said


def test_a_place_is_said_in_degrees_and_minutes():
    assert position(47.5, -40.0) == "47 30.000 N 040 00.000 W"
    assert position(-33.85, 151.2093) == "33 51.000 S 151 12.558 E"
    assert position(10.0, 359.0) == "10 00.000 N 001 00.000 W"


def test_minutes_never_read_sixty():
    assert position(47.99999999, 0.0) == "48 00.000 N 000 00.000 E"


@pytest.mark.parametrize(
    "say",
    [kilograms, knots, metres, bearing, compass, degrees, from_vertical, use_words, duration],
)
def test_what_nobody_knows_is_unknown(say):
    assert say(NAN) == "unknown"


def test_an_unknown_place_is_unknown():
    assert position(NAN, 3.0) == "unknown"


@pytest.mark.parametrize(
    ("use", "said"),
    [(0.7, "0.70"), (9.89, "9.89"), (9.9, "over 9"), (math.inf, "may touch"), (NAN, "unknown")],
)
def test_a_use_is_said_as_a_share_until_no_number_tells_it(use, said):
    assert use_words(use) == said
