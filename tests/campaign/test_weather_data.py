"""Whole real forecasts and tides from a folder outside, value by value.

Collected only where SHOREFAST_DATA names that folder (``make campaign DATA=FOLDER``).
"""

from __future__ import annotations

import csv
import json
import math
import os
from pathlib import Path

import netCDF4
import numpy as np
import pytest
from pyproj import CRS, Proj

from shorefast.errors import Unreadable
from shorefast.readers import read_forecast, read_tide
from shorefast.readers.grib_fields import load_eccodes
from shorefast.weather import high_and_low, level_at

__test__ = bool(os.environ.get("SHOREFAST_DATA"))

ec = load_eccodes()
PLACES = [(60.3, 5.2), (47.4, -4.6), (42.3, 18.8), (58.1, -6.3), (36.2, 14.4)]


@pytest.fixture(scope="module")
def data_folder():
    return Path(os.environ["SHOREFAST_DATA"])


def _nearest(lat, lon, at):
    a, b = np.radians(at)
    cosine = np.sin(np.radians(lat)) * np.sin(a)
    cosine += np.cos(np.radians(lat)) * np.cos(a) * np.cos(np.radians(lon) - b)
    return int(np.argmax(cosine))


def _fields(path):
    """Every field straight from eccodes: name, member, end of step, places, values."""
    ec.codes_grib_multi_support_on()
    with path.open("rb") as file:
        while (handle := ec.codes_grib_new_from_file(file)) is not None:
            number = ec.codes_get(handle, "number") if ec.codes_is_defined(handle, "number") else 0
            day, clock = (ec.codes_get(handle, f"validity{part}") for part in ("Date", "Time"))
            stamp = f"{day // 10000}-{day // 100 % 100:02d}-{day % 100:02d}T{clock // 100:02d}:00"
            lat, lon = (ec.codes_get_array(handle, key) for key in ("latitudes", "longitudes"))
            name = ec.codes_get(handle, "shortName")
            yield name, number, np.datetime64(stamp, "s"), lat, lon, ec.codes_get_values(handle)
            ec.codes_release(handle)
    ec.codes_grib_multi_support_off()


@pytest.mark.parametrize("at", PLACES)
@pytest.mark.parametrize(
    ("file", "members", "hours"),
    [("ens50_gust_6h_3steps.grib1", 50, 3), ("deterministic_gust_6h_5steps.grib1", 1, 5)],
)
def test_every_gust_of_a_grib_file_is_the_one_in_it(data_folder, file, members, hours, at):
    path = data_folder / "forecast" / file
    wind = read_forecast(path, *at).wind
    assert wind.gust_mps.shape == (members, hours)
    assert wind.gust_over_s == 21600.0
    rows = {number: row for row, number in enumerate(wind.member.tolist())}
    seen = 0
    for _, number, stamp, lat, lon, values in _fields(path):
        column = int(np.flatnonzero(wind.time_utc == stamp)[0])
        assert wind.gust_mps[rows[number], column] == values[_nearest(lat, lon, at)]
        seen += 1
    assert seen == members * hours


@pytest.mark.parametrize("at", [*PLACES, (-33.0, 151.4), (12.0, -61.5), (0.2, 179.6)])
def test_global_wind_packed_into_one_message(data_folder, at):
    path = data_folder / "forecast" / "gfs_f120_2p5deg_10m_wind_gust.grib2"
    found = {name: values[_nearest(lat, lon, at)] for name, _, _, lat, lon, values in _fields(path)}
    wind = read_forecast(path, *at).wind
    assert wind.wind_mps[0, 0] == pytest.approx(math.hypot(found["10u"], found["10v"]), rel=1e-12)
    toward = math.atan2(-found["10u"], -found["10v"]) % (2 * math.pi)
    assert wind.wind_from_rad[0, 0] == pytest.approx(toward, abs=1e-12)
    assert wind.gust_mps[0, 0] == found["gust"]


def test_every_point_of_the_lambert_grid_is_turned_as_proj_turns_it(data_folder):
    path = data_folder / "forecast" / "nam_lambert_10m_wind_gust.grib2"
    found = {name: (lat, lon, values) for name, _, _, lat, lon, values in _fields(path)}
    lat, lon, u = found["10u"]
    v = found["10v"][2]
    grid = Proj("+proj=lcc +lon_0=265 +lat_0=25 +lat_1=25 +lat_2=25 +R=6371229")
    turned = grid.get_factors(lon, lat).meridian_convergence
    expected = np.degrees(np.arctan2(-u, -v)) + turned
    for index in range(0, len(u), 97):
        wind = read_forecast(path, float(lat[index]), float(lon[index])).wind
        away = math.degrees(wind.wind_from_rad[0, 0]) - expected[index]
        assert (away + 180) % 360 - 180 == pytest.approx(0, abs=0.01)
        assert wind.wind_mps[0, 0] == pytest.approx(math.hypot(u[index], v[index]), rel=1e-12)


def test_one_component_alone_is_an_unknown_wind(data_folder):
    read = read_forecast(data_folder / "forecast" / "analysis_10u_13dates_coarse.grib1", 50.0, 0.0)
    assert read.wind.wind_mps.shape == (1, 13)
    assert np.isnan(read.wind.wind_mps).all()


def test_a_file_broken_on_purpose_ends_in_a_sentence(data_folder):
    with pytest.raises(Unreadable) as caught:
        read_forecast(data_folder / "forecast" / "corrupted_message_length.grib1", 50.0, 0.0)
    assert "message 1 is broken (no end where its length says)" in caught.value.sentence


@pytest.mark.parametrize("at", [(60.7, 5.0), (60.3, 4.9), (61.1, 5.4), (60.9, 4.6)])
def test_every_hour_of_a_coastal_model_is_turned_as_proj_turns_it(data_folder, at):
    path = data_folder / "forecast" / "arome_norway_west_67h_crop.nc"
    with netCDF4.Dataset(path) as file:
        lat, lon = (np.array(file[name][:]) for name in ("latitude", "longitude"))
        row, column = np.unravel_index(_nearest(lat.ravel(), lon.ravel(), at), lat.shape)
        u, v = (np.array(file[f"{axis}_wind_10m"][:, row, column], float) for axis in "xy")
        seconds = np.array(file["time"][:])
        grid = Proj(CRS.from_proj4(file["projection_lambert"].proj4))
    read = read_forecast(path, *at)
    assert (read.place_lat_deg, read.place_lon_deg) == (lat[row, column], lon[row, column])
    np.testing.assert_allclose(read.wind.wind_mps[0], np.hypot(u, v), rtol=1e-12)
    turned = grid.get_factors(lon[row, column], lat[row, column]).meridian_convergence
    away = np.degrees(read.wind.wind_from_rad[0]) - np.degrees(np.arctan2(-u, -v)) - turned
    assert np.abs((away + 180) % 360 - 180).max() < 1e-3
    assert read.wind.time_utc.astype(int).tolist() == seconds.astype(int).tolist()
    assert np.isnan(read.wind.gust_mps).all()


@pytest.mark.parametrize(
    ("file", "at"),
    [("metno_complete_london.json", (51.5, -0.1)), ("metno_compact_beijing.json", (39.9, 116.4))],
)
def test_every_hour_of_a_point_forecast_is_the_one_in_it(data_folder, file, at):
    path = data_folder / "forecast" / file
    series = json.loads(path.read_text())["data"]["properties"]["timeseries"]
    told = [hour["data"]["instant"]["details"] for hour in series]
    wind = read_forecast(path, *at).wind
    assert [f"{time}Z" for time in wind.time_utc] == [hour["time"] for hour in series]
    assert wind.wind_mps[0].tolist() == [hour["wind_speed"] for hour in told]
    np.testing.assert_allclose(
        np.degrees(wind.wind_from_rad[0]), [hour["wind_from_direction"] for hour in told]
    )
    assert np.isnan(wind.gust_mps).all()


@pytest.mark.parametrize(
    ("file", "speed", "direction"),
    [
        ("island_azores_1min_24h.cdf", "wspd_arith_mean", "wdir_vec_mean"),
        ("ship_antarctic_1min_24h_wind.nc", "wind_speed", "wind_direction"),
    ],
)
def test_every_minute_of_a_record_is_the_one_in_it(data_folder, file, speed, direction):
    path = data_folder / "wind" / file
    with netCDF4.Dataset(path) as dataset:
        means, toward = (
            np.ma.filled(dataset[name][:].astype(float), np.nan) for name in (speed, direction)
        )
    means, toward = (np.where(values < 0, np.nan, values) for values in (means, toward))
    wind = read_forecast(path, 39.09, -28.03).wind
    np.testing.assert_array_equal(wind.wind_mps[0], means)
    np.testing.assert_allclose(np.degrees(wind.wind_from_rad[0]), np.mod(toward, 360), atol=1e-9)


def test_a_month_of_six_minute_water_is_read_back(data_folder, tmp_path):
    recorded = json.loads(
        (data_folder / "tide" / "noaa_9447130_water_level_6min_201501.json").read_text()
    )["data"]
    path = tmp_path / "tide.csv"
    with path.open("w", newline="", encoding="utf-8") as file:
        rows = csv.writer(file)
        rows.writerow(["time_utc", "height_m"])
        rows.writerows([row["t"], row["v"]] for row in recorded)
    water = read_tide(path)
    expected = [float(row["v"]) if row["v"] else math.nan for row in recorded]
    np.testing.assert_array_equal(water.height_m, expected)
    np.testing.assert_array_equal(level_at(water, water.time_utc), expected)
    # Mixed tide: four turning points a day, and the waves' own wiggles.
    assert len(high_and_low(water).time_utc) >= 31 * 3
