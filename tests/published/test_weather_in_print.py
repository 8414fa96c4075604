"""Gusts, profiles, tides and the sun against printed numbers."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from shorefast.errors import OutsideModel
from shorefast.weather import (
    EXPOSURES,
    TideConstituent,
    averaging_ratio,
    barometer_rise_m,
    constituent,
    esdu_gust_factor,
    gust_factor,
    high_and_low,
    open_sea_wind_mps,
    raised,
    sun_events,
    tide_from_constants,
)

FOOT_M = 0.3048


# WMO/TD-No. 1555 (2010), table 1.1: gust factors on the mean of T0, typed from the table.
@pytest.mark.parametrize(
    ("exposure", "gust_s", "mean_s", "printed"),
    [
        ("in-land", 3, 3600, 1.75),
        ("in-land", 3, 600, 1.66),
        ("in-land", 3, 120, 1.55),
        ("in-land", 3, 60, 1.49),
        ("off-land", 3, 3600, 1.60),
        ("off-land", 3, 180, 1.44),
        ("off-land", 3, 60, 1.36),
        ("at-sea", 3, 3600, 1.30),
    ],
)
def test_gust_factors_are_the_tables(exposure, gust_s, mean_s, printed):
    assert gust_factor(exposure, gust_s, mean_s) == pytest.approx(printed, abs=1e-9)


# Same table: the ESDU form with Iu 0.25, 0.20, 0.15, 0.10 gives its columns for one hour.
@pytest.mark.parametrize(
    ("intensity", "gust_s", "printed"),
    [(0.25, 3, 1.75), (0.25, 60, 1.28), (0.20, 3, 1.60), (0.20, 60, 1.22), (0.25, 600, 1.08),
     (0.15, 3, 1.45), (0.10, 3, 1.30)],
)  # fmt: skip
def test_the_esdu_form_gives_the_tables_hour(intensity, gust_s, printed):
    # The table prints two decimals.
    assert esdu_gust_factor(intensity, gust_s) == pytest.approx(printed, abs=0.01)


def test_between_the_tables_rows_a_gust_factor_lies_between():
    assert 1.49 < gust_factor("in-land", 3, 90) < 1.55
    assert 1.28 < gust_factor("in-land", 20) < 1.75


def test_longer_gusts_blow_less():
    factors = [gust_factor(exposure, s) for exposure in EXPOSURES for s in (3, 10, 60, 300, 600)]
    rows = np.reshape(factors, (len(EXPOSURES), 5))
    assert np.all(np.diff(rows, axis=1) < 0)


# Coastal Engineering Manual, EM 1110-2-1100 (Part II), fig. II-2-1: the printed curve's equation.
@pytest.mark.parametrize(("averaging_s", "printed"), [(60, 1.244), (600, 1.050)])
def test_a_short_mean_over_open_land_is_the_manuals(averaging_s, printed):
    # Printed to three decimals.
    assert averaging_ratio(averaging_s) == pytest.approx(printed, abs=1e-3)


# NPD profile as ISO 19901-1 has it (from memory): U0 20 m/s, one minute; U0 15 m/s, three seconds.
@pytest.mark.parametrize(("hourly", "seconds", "expected"), [(20, 60, 23.75), (15, 3, 19.30)])
def test_a_gust_in_a_storm_at_sea(hourly, seconds, expected):
    # Two decimals worked by hand from the form: half a unit of the last.
    assert open_sea_wind_mps(hourly, 10.0, seconds) == pytest.approx(expected, rel=1e-3)


def test_the_power_law_keeps_ten_metres_and_falls_below():
    assert raised(10.0, 10.0, 10.0) == pytest.approx(10.0)
    # exponent 1/11.5 over water: 3 m up, 0.3 to that power
    assert raised(10.0, 10.0, 3.0) == pytest.approx(10 * 0.3 ** (1 / 11.5))
    assert raised(10.0, 10.0, 3.0, "suburban") < raised(10.0, 10.0, 3.0, "open") < 10.0


@pytest.mark.parametrize(
    ("ask", "said"),
    [
        (
            lambda: gust_factor("in a cove", 3),
            "Gust factor: exposure 'in a cove', the table has in-land, off-land, off-sea, at-sea. "
            "Take one of these.",
        ),
        (
            lambda: gust_factor("in-land", 20, 120),
            "Gust factor: a 20 s gust on the mean of 120 s, the table has no row near it. "
            "Take a 3 s gust, or the mean of an hour.",
        ),
        (
            lambda: esdu_gust_factor(0.2, 0.5),
            "Gust factor: averaged over 0.5 s, the form holds for 1 to 600 s. "
            "Ask for a gust between 1 and 600 s.",
        ),
        (
            lambda: averaging_ratio(4000.0),
            "Averaging time: 4000 to 4000 s, the form holds for 1 to 3600 s. "
            "Ask inside that range.",
        ),
        (
            lambda: raised(10.0, 10.0, 3.0, "forest"),
            "Wind profile: terrain 'forest', known are water, open, suburban. Take one of these.",
        ),
        (
            lambda: raised(10.0, 10.0, 0.0),
            "Wind profile: from 10 m to 0 m, heights above the ground wanted. Give both above 0.",
        ),
        (
            lambda: open_sea_wind_mps(10.0, 10.0, 7200.0),
            "Wind profile: averaged over 7200 s, the profile holds for 1 to 3600 s. "
            "Ask inside that range.",
        ),
        (
            lambda: constituent("ETA2", 1.0, 0.0, YEAR, MID_YEAR),
            "Tide: constituent ETA2, worked out here are M2, S2, N2, K2, K1, O1, P1, Q1, 2N2, MU2, "
            "NU2, LDA2, L2, T2, R2, 2Q1, RHO1, M1, J1, OO1, S1, M3, MF, MM, MSF, SA, SSA, M4, M6, "
            "M8, S4, S6, MN4, MS4, MK3, 2MK3, 2SM2. Give its speed, node factor and argument.",
        ),
    ],
)
def test_a_formula_outside_its_range_says_so(ask, said):
    with pytest.raises(OutsideModel) as caught:
        ask()
    assert caught.value.sentence == said


YEAR = np.datetime64("2016-01-01T00:00:00", "s")
MID_YEAR = np.datetime64("2016-07-02T00:00:00", "s")

# NOAA CO-OPS constants of station 9413450 Monterey as the XTide harmonics file of 2015-12-27 has
# them: name, deg an hour, feet, kappa on Greenwich, node factor and V0 + u of 2016.
MONTEREY = """
2N2 27.8953548 0.044 123.9 1.0367 249.92
2Q1 12.8542862 0.016 199.4 0.8135 243.77
J1 15.5854433 0.071 233.4 0.8343 166.42
K1 15.0410686 1.199 219.8 0.8864 7.56
K2 30.0821373 0.121 172.0 0.7533 195.61
L2 29.5284789 0.023 220.2 0.9704 182.09
LDA2 29.4556253 0.011 180.7 1.0367 19.21
M1 14.4966939 0.038 225.9 1.4048 211.44
M2 28.9841042 1.616 181.1 1.0367 210.46
MU2 27.9682084 0.041 114.6 1.0367 61.44
N2 28.4397295 0.368 154.6 1.0367 50.19
NU2 28.5125831 0.072 161.1 1.0367 221.71
O1 13.9430356 0.753 203.4 0.8135 204.31
OO1 16.1391017 0.036 250.2 0.5 348.0
P1 14.9589314 0.374 215.6 1.0 349.9
Q1 13.3986609 0.134 195.1 0.8135 44.04
R2 30.0410667 0.003 180.2 1.0 176.88
RHO1 13.4715145 0.026 196.6 0.8135 215.56
S1 15.0 0.033 319.1 1.0 180.0
S2 30.0 0.428 180.2 1.0 0.0
SA 0.0410686 0.157 206.0 1.0 280.1
SSA 0.0821373 0.09 283.9 1.0 200.19
T2 29.9589333 0.022 167.8 1.0 3.12
"""
MEAN_LEVEL_FT = 2.8281

# NOAA CO-OPS printed predictions for that station, local time UTC-7, feet above MLLW.
PRINTED = [
    ("2016-07-13T01:18", 1.44), ("2016-07-13T07:03", 3.07), ("2016-07-13T11:58", 2.01),
    ("2016-07-13T18:50", 5.01), ("2016-07-14T02:10", 1.01), ("2016-07-14T08:19", 3.14),
    ("2016-07-14T12:48", 2.26), ("2016-07-14T19:29", 5.20),
]  # fmt: skip


def monterey():
    rows = [row.split() for row in MONTEREY.strip().splitlines()]
    return [
        TideConstituent(
            name,
            float(feet) * FOOT_M,
            math.radians(float(kappa)),
            math.radians(float(speed)) / 3600.0,
            float(node),
            math.radians(float(argument)),
        )
        for name, speed, feet, kappa, node, argument in rows
    ]


@pytest.mark.parametrize("number", range(8))
def test_high_and_low_water_at_monterey_are_the_printed_ones(number):
    start = np.datetime64("2016-07-13T07:00:00", "s")
    times = start + np.arange(0, 48 * 3600, 360).astype("timedelta64[s]")
    curve = tide_from_constants(monterey(), MEAN_LEVEL_FT * FOOT_M, YEAR, times)
    turns = high_and_low(curve)
    local, feet = PRINTED[number]
    printed_utc = np.datetime64(local, "s") + np.timedelta64(7, "h")
    # Printed to the minute and to a hundredth of a foot; the constants are rounded too.
    assert abs((turns.time_utc[number] - printed_utc) / np.timedelta64(1, "s")) <= 60
    assert turns.height_m[number] / FOOT_M == pytest.approx(feet, abs=0.01)


# XTide harmonics for 2016 as printed with the constants above: node factor, V0 + u at the start.
def printed_for_2016():
    for row in MONTEREY.strip().splitlines():
        name, speed, _, _, node, argument = row.split()
        yield name, float(speed), float(node), float(argument)


@pytest.mark.parametrize(("name", "printed"), [(n, node) for n, _, node, _ in printed_for_2016()])
def test_the_moons_node_weighs_the_tide_as_printed(name, printed):
    # Printed to four decimals; the node's own longitude carries six figures.
    assert constituent(name, 1, 0, YEAR, MID_YEAR).node_factor == pytest.approx(printed, abs=2e-4)


@pytest.mark.parametrize(("name", "printed"), [(n, deg) for n, _, _, deg in printed_for_2016()])
def test_the_tides_arguments_are_the_printed_ones(name, printed):
    found = math.degrees(constituent(name, 1, 0, YEAR, MID_YEAR).argument_rad)
    # Printed to 0.01; longitudes to four decimals, up to four times the moon's.
    assert (found - printed + 180) % 360 - 180 == pytest.approx(0, abs=0.1)


@pytest.mark.parametrize("number", range(8))
def test_monterey_worked_out_from_amplitudes_and_lags_alone_is_as_printed(number):
    start = np.datetime64("2016-07-13T07:00:00", "s")
    times = start + np.arange(0, 48 * 3600, 360).astype("timedelta64[s]")
    parts = [
        constituent(one.name, one.amplitude_m, one.phase_lag_rad, YEAR, MID_YEAR)
        for one in monterey()
    ]
    turns = high_and_low(tide_from_constants(parts, MEAN_LEVEL_FT * FOOT_M, YEAR, times))
    local, feet = PRINTED[number]
    printed_utc = np.datetime64(local, "s") + np.timedelta64(7, "h")
    # Printed to the minute and to a hundredth of a foot.
    assert abs((turns.time_utc[number] - printed_utc) / np.timedelta64(1, "s")) <= 60
    assert turns.height_m[number] / FOOT_M == pytest.approx(feet, abs=0.01)


# Same: speeds, degrees an hour.
@pytest.mark.parametrize(("name", "printed"), [(n, deg) for n, deg, _, _ in printed_for_2016()])
def test_the_tides_speeds_are_the_printed_ones(name, printed):
    speed = math.degrees(constituent(name, 1, 0, YEAR, MID_YEAR).speed_radps) * 3600.0
    # The rates of the longitudes carry eight figures.
    assert speed == pytest.approx(printed, abs=1e-6)


# Pugh, Tides, Surges and Mean Sea-Level, ch. 6 (from memory): 0.993 cm for each hectopascal.
@pytest.mark.parametrize(
    ("hpa", "printed_m"), [(1013.25, 0.0), (1012.25, 0.00993), (963.25, 0.4965)]
)
def test_the_sea_is_a_barometer_upside_down(hpa, printed_m):
    # Printed to three figures.
    assert barometer_rise_m(100.0 * hpa) == pytest.approx(printed_m, rel=1e-3, abs=1e-9)


def test_an_argument_runs_on_with_its_speed():
    later = YEAR + np.timedelta64(30, "h")
    first, second = (constituent("N2", 1, 0, at, MID_YEAR) for at in (YEAR, later))
    run_on = first.argument_rad + first.speed_radps * 30 * 3600.0
    assert (run_on - second.argument_rad + math.pi) % (2 * math.pi) - math.pi == pytest.approx(
        0, abs=1e-6
    )


# US Naval Observatory and NREL solar position values as quoted in the tests of open libraries.
# Place, UTC offset in hours, event, printed local time, tolerance in seconds as printed there.
@pytest.mark.parametrize(
    ("lat_deg", "lon_deg", "offset_h", "what", "printed", "tolerance_s"),
    [
        (51.5, 0.0, 0, "sunrise", "2017-01-01T08:06:00", 30),
        (51.5, 0.0, 0, "civil dawn", "2017-01-01T07:26:00", 30),
        (51.5, 0.0, 0, "nautical dawn", "2017-01-01T06:43:00", 30),
        (39.742476, -105.1786, -7, "sunrise", "2015-01-02T07:21:55", 5),
        (39.742476, -105.1786, -7, "sunset", "2015-01-02T16:47:43", 5),
        (39.742476, -105.1786, -7, "sunrise", "2015-08-02T05:00:27", 5),
        (51.4733, -0.0008333, 0, "sunrise", "2015-12-25T08:05:00", 60),
        (51.4733, -0.0008333, 0, "sunset", "2015-12-25T15:55:00", 60),
        (51.4733, -0.0008333, 0, "nautical dawn", "2015-12-12T06:33:00", 60),
    ],
)
def test_the_sun_keeps_the_printed_hours(lat_deg, lon_deg, offset_h, what, printed, tolerance_s):
    expected = datetime.fromisoformat(printed).replace(tzinfo=UTC) - timedelta(hours=offset_h)
    around = timedelta(hours=6)
    events = sun_events(
        lat_deg, lon_deg, expected - around, expected + around, ("sun", "civil", "nautical")
    )
    (found,) = [event.at_utc for event in events if event.what == what]
    assert abs((found - expected).total_seconds()) <= tolerance_s
