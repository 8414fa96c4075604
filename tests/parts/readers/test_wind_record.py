"""Recorded wind: minutes' means from NetCDF, seconds from a log; pieces made into shapes."""

from __future__ import annotations

import math
from pathlib import Path

import netCDF4
import numpy as np
import pytest

from shorefast.errors import Unreadable
from shorefast.readers import read_wind_record
from shorefast.weather import WindRecord, fitted, gusts_over, shapes_of, speeds_of

LOGS = Path(__file__).parents[2] / "files" / "logs"


def test_a_log_in_the_berth_tells_the_wind_second_by_second():
    record, said = read_wind_record(LOGS / "wind_in_the_berth.txt")
    assert said == ()
    assert record.averaged_s == 1.0
    assert record.t_s.size > 200
    assert float(np.median(np.diff(record.t_s))) == pytest.approx(1.0, abs=0.1)
    # of knots to a tenth the file's greatest is 18.7, sorted out by hand
    assert np.nanmax(record.wind_mps) == pytest.approx(18.7 * 1852.0 / 3600.0)
    # relative to a bow at 27 degrees, wind from 209 off it: from about 236
    middle = np.angle(np.nanmean(np.exp(1j * record.from_rad)))
    assert math.degrees(middle) % 360.0 == pytest.approx(236.0, abs=15.0)


def a_file(path, names, minutes=True):
    with netCDF4.Dataset(path, "w") as made:
        made.createDimension("time", 120)
        when = made.createVariable("time", "f8", ("time",))
        when.units = "minutes since 2018-02-01" if minutes else "seconds since 2018-02-01"
        when[:] = np.arange(120) * (1.0 if minutes else 60.0)
        for name, value in names.items():
            made.createVariable(name, "f4", ("time",))[:] = value
    return path


@pytest.mark.parametrize("minutes", [True, False])
def test_a_file_of_minutes_is_read_in_seconds_and_its_gaps_are_told(tmp_path, minutes):
    wind = np.full(120, 8.0)
    wind[7] = -9999.0
    path = a_file(tmp_path / "a.nc", {"wind_speed": wind, "wind_direction": 90.0}, minutes)
    record, said = read_wind_record(path)
    assert record.averaged_s == 60.0
    assert record.t_s[-1] == 119 * 60.0
    assert np.isnan(record.wind_mps[7])
    assert record.from_rad[0] == pytest.approx(math.pi / 2.0)
    assert [one.said for one in said] == ["1 of 120 values are missing"]


def test_a_file_without_wind_is_refused_in_words(tmp_path):
    path = a_file(tmp_path / "b.nc", {"temperature": 280.0})
    with pytest.raises(Unreadable) as no:
        read_wind_record(path)
    assert no.value.sentence == (
        "b.nc: no recorded wind in it. Wanted speed and direction of the wind against time."
    )


def test_a_log_without_wind_is_refused_in_words():
    with pytest.raises(Unreadable) as no:
        read_wind_record(LOGS / "depth_and_place_only.log")
    assert no.value.sentence == (
        "depth_and_place_only.log: no wind against time in it."
        " Wanted speed and direction of the wind against time."
    )


def test_pieces_of_a_record_are_shapes_of_spread_one_that_go_round():
    record, _ = read_wind_record(LOGS / "wind_in_the_berth.txt")
    shapes = shapes_of(record, 100.0)
    assert shapes.shape.shape[1:] == (200, 2)
    assert shapes.shape.shape[0] >= 2
    assert shapes.shape[..., 0].std(axis=1) == pytest.approx(1.0)
    assert np.abs(shapes.shape.mean(axis=1)).max() < 1e-9
    assert shapes.shape[:, 0] == pytest.approx(shapes.shape[:, -1])


def test_a_real_piece_is_fitted_to_an_hours_mean_and_gust_like_a_drawn_one():
    record, _ = read_wind_record(LOGS / "wind_in_the_berth.txt")
    shapes = shapes_of(record, 100.0)
    size = fitted(shapes, 12.0, 18.0)
    speed = speeds_of(shapes, size.centre_mps, size.spread_mps)
    assert speed.mean(axis=1) == pytest.approx(12.0, rel=3e-3)
    assert gusts_over(speed, shapes.every_s).max(axis=1) == pytest.approx(18.0, rel=3e-3)


def test_minutes_are_given_quicker_gusts_and_seconds_are_not():
    t_s = np.arange(0.0, 7200.0, 60.0)
    slow = WindRecord(t_s, 10.0 + np.sin(t_s / 300.0), 0.1 * np.cos(t_s / 200.0), 60.0)
    with_quick = shapes_of(slow, 3600.0)
    assert with_quick.shape.shape == (2, 7200, 2)
    wave = np.abs(np.fft.rfft(with_quick.shape[0, :, 0])) ** 2
    n = np.fft.rfftfreq(7200, 0.5)
    quick = float(wave[n > 1.0 / 120.0].sum() / wave[1:].sum())
    # of the spectrum's variance at 10 m/s about six tenths is quicker than two minutes
    assert 0.4 < quick < 0.9
    seconds = WindRecord(t_s / 60.0, slow.wind_mps, slow.from_rad, 1.0)
    plain = np.abs(np.fft.rfft(shapes_of(seconds, 60.0).shape[0, :, 0])) ** 2
    assert float(plain[10:].sum() / plain.sum()) < 0.01


def test_of_a_record_with_a_long_hole_that_piece_is_left_out():
    t_s = np.arange(0.0, 300.0)
    wind = 8.0 + np.sin(t_s / 7.0)
    wind[130:140] = math.nan
    record = WindRecord(t_s, wind, 0.0 * t_s, 1.0)
    assert shapes_of(record, 100.0).shape.shape == (2, 200, 2)


def test_a_calm_or_unknown_record_makes_no_shapes():
    t_s = np.arange(0.0, 300.0)
    calm = WindRecord(t_s, 0.0 * t_s + 0.5, 0.0 * t_s, 1.0)
    unknown = WindRecord(t_s, t_s * math.nan, t_s, 1.0)
    assert shapes_of(calm, 100.0).shape.shape == (0, 200, 2)
    assert shapes_of(unknown, 100.0).shape.shape == (0, 200, 2)
