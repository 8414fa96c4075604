"""A classic NetCDF file that is cut short is refused at every length."""

from importlib import resources
from pathlib import Path

import netCDF4
import numpy as np
import pytest

from shorefast.errors import Unreadable
from shorefast.readers.netcdf_whole import check_whole

KINDS = ("NETCDF3_CLASSIC", "NETCDF3_64BIT_OFFSET", "NETCDF3_64BIT_DATA")
FORECAST = Path(str(resources.files("shorefast") / "demo" / "grey_notch" / "forecast.nc"))


def _written(path, kind, records):
    with netCDF4.Dataset(path, "w", format=kind) as made:
        made.title = "hours of wind"
        made.createDimension("time", None if records else 5)
        made.createDimension("place", 3)
        for name, form in (("wind", "f4"), ("odd", "i2"), ("gust", "f8")):
            made.createVariable(name, form, ("time", "place"))[:] = np.ones((5, 3))
        made.createVariable("lat", "f8", ("place",))[:] = np.ones(3)
    return path.read_bytes()


def _refused(path, raw):
    path.write_bytes(raw)
    try:
        check_whole(path, "a forecast wanted")
    except Unreadable as trouble:
        assert trouble.sentence == (
            f"{path.name}: it is cut short, a forecast wanted. Fetch the file again."
        )
        return True
    return False


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("records", [True, False])
def test_a_whole_file_passes_and_one_without_its_last_number_does_not(tmp_path, kind, records):
    path = tmp_path / "wind.nc"
    raw = _written(path, kind, records)
    assert not _refused(path, raw)
    assert all(_refused(path, raw[:kept]) for kept in range(4, len(raw) - 8, 7))


def test_a_forecast_without_its_last_number_is_not_read_as_a_calm(tmp_path):
    raw = FORECAST.read_bytes()
    assert not _refused(tmp_path / "whole.nc", raw)
    assert _refused(tmp_path / "cut.nc", raw[:-1])


def test_a_file_of_another_kind_is_let_pass(tmp_path):
    assert not _refused(tmp_path / "wind.csv", b"time_utc,wind_mps\n")
