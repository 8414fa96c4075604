"""Whole real records of wind from a folder outside, value by value.

Collected only where SHOREFAST_DATA names that folder (``make campaign DATA=FOLDER``).
"""

from __future__ import annotations

import os
from pathlib import Path

import netCDF4
import numpy as np
import pytest

from shorefast.readers import read_wind_record
from shorefast.weather import shapes_of

__test__ = bool(os.environ.get("SHOREFAST_DATA"))


@pytest.fixture(scope="module")
def data_folder():
    return Path(os.environ["SHOREFAST_DATA"])


@pytest.mark.parametrize(
    ("file", "speed", "way"),
    [
        ("island_azores_1min_24h.cdf", "wspd_arith_mean", "wdir_vec_mean"),
        ("ship_antarctic_1min_24h_wind.nc", "wind_speed", "wind_direction"),
    ],
)
def test_a_days_minutes_are_read_as_the_file_has_them(data_folder, file, speed, way):
    record, _ = read_wind_record(data_folder / "wind" / file)
    with netCDF4.Dataset(data_folder / "wind" / file) as whole:
        wind, blow = (np.ma.filled(whole.variables[name][:], -9999.0) for name in (speed, way))
    known = wind >= 0.0
    assert record.wind_mps.size == 1440
    assert np.array_equal(np.isfinite(record.wind_mps), known)
    assert record.wind_mps[known] == pytest.approx(wind[known])
    assert np.degrees(record.from_rad[known]) == pytest.approx(blow[known])
    assert record.averaged_s == pytest.approx(60.0)
    # a few calm hours may be left out
    assert 20 <= shapes_of(record, 3600.0).shape.shape[0] <= 24


def test_a_log_of_half_an_hour_in_the_berth_has_a_wind_a_second(data_folder):
    record, _ = read_wind_record(data_folder / "nmea0183" / "moored_28min_then_out.txt")
    # what is told of the file: 1.6 to 20 knots, about a value a second
    assert np.nanmax(record.wind_mps) == pytest.approx(20.0 * 1852.0 / 3600.0, abs=0.1)
    assert float(np.median(np.diff(record.t_s))) == pytest.approx(1.0)
    assert shapes_of(record, 600.0).shape.shape[0] >= 2
