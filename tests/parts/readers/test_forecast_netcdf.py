"""Wind out of CF NetCDF files, held against netCDF4 itself; angles against PROJ."""

from __future__ import annotations

import math

import netCDF4
import numpy as np
import pytest
from pyproj import Proj

from shorefast.errors import ShorefastError
from shorefast.readers.forecast import read_forecast

NORDIC = "+proj=lcc +lon_0=15 +lat_0=63 +lat_1=63 +lat_2=63 +R=6.371e+06 +units=m"
AT = (60.7, 5.0)


def said(read):
    return [found.said for found in read.wind.basis.findings]


class Made:
    """A small file written variable by variable, closed when it is asked for its path."""

    def __init__(self, path, hours=(0, 1, 2), members=0, unit="hours since 2026-06-24 00:00:00"):
        self.path, self.file = path, netCDF4.Dataset(path, "w")
        self.rng = np.random.default_rng(7)
        self.file.createDimension("time", len(hours))
        self.put("time", ("time",), np.array(hours, float), units=unit, standard_name="time")
        if members:
            self.file.createDimension("member", members)
            self.put("member", ("member",), np.arange(members), standard_name="realization")

    def put(self, name, dimensions, values, **attributes):
        values = np.ma.asarray(values)
        fill = {"fill_value": -9999.0} if values.dtype.kind == "f" else {}
        variable = self.file.createVariable(name, values.dtype, dimensions, **fill)
        variable.setncatts(attributes)
        variable[...] = values
        return self

    def regular(self, lats, lons):
        for name, row in (("lat", lats), ("lon", lons)):
            self.file.createDimension(name, len(row))
            full = "latitude" if name == "lat" else "longitude"
            self.put(name, (name,), np.array(row, float), standard_name=full)
        return self

    def lambert(self, columns_down=False):
        """A grid of 2.5 km on the Nordic weather model's own projection, off its middle line."""
        x = -550_000.0 + 2500.0 * np.arange(12)
        x = x[::-1] if columns_down else x
        y = -250_000.0 + 2500.0 * np.arange(40)
        lon, lat = Proj(NORDIC)(*np.meshgrid(x, y), inverse=True)
        for name, row in (("y", y), ("x", x)):
            self.file.createDimension(name, len(row))
            self.put(name, (name,), row, units="m", standard_name=f"projection_{name}_coordinate")
        self.put("latitude", ("y", "x"), lat, standard_name="latitude")
        return self.put("longitude", ("y", "x"), lon, standard_name="longitude")

    def wind(self, names, dimensions, standard=("", ""), **attributes):
        shape = [len(self.file.dimensions[d]) for d in dimensions]
        for name, means in zip(names, standard, strict=False):
            more = {"standard_name": means} if means else {}
            self.put(
                name, dimensions, self.rng.normal(0, 8, shape), units="m/s", **more, **attributes
            )
        return self

    def read(self, at=AT):
        self.file.close()
        return read_forecast(self.path, *at)


def at_place(path, name, order, at=AT):
    """A variable's numbers at the nearest point, straight from netCDF4; and that point."""
    with netCDF4.Dataset(path) as file:
        lat, lon = (np.array(file[n][:]) for n in ("latitude", "longitude"))
        far = (lat - at[0]) ** 2 + ((lon - at[1]) * math.cos(math.radians(at[0]))) ** 2
        row, column = np.unravel_index(np.argmin(far), far.shape)
        where = {"y": row, "x": column}
        taken = tuple(where.get(d, slice(None)) for d in file[name].dimensions)
        kept = [d for d in file[name].dimensions if d not in where]
        values = np.transpose(np.array(file[name][taken]), [kept.index(d) for d in order])
        return values, float(lat[row, column]), float(lon[row, column])


@pytest.mark.parametrize("columns_down", [False, True])
@pytest.mark.parametrize("at", [AT, (60.405, 4.965)])
def test_an_ensemble_along_a_lambert_grid_is_turned_to_true_north(tmp_path, columns_down, at):
    path = tmp_path / "made.nc"
    made = Made(path, members=4).lambert(columns_down)
    dimensions = ("time", "member", "y", "x")
    made.wind(("x_wind_10m", "y_wind_10m"), dimensions, ("x_wind", "y_wind"))
    made.wind(("wind_speed_of_gust",), dimensions, ("wind_speed_of_gust",))
    made.file["wind_speed_of_gust"][...] = np.abs(made.file["wind_speed_of_gust"][...])
    read = made.read(at)
    order = ("member", "time")
    u, lat, lon = at_place(path, "x_wind_10m", order, at)
    v, _, _ = at_place(path, "y_wind_10m", order, at)
    gust, _, _ = at_place(path, "wind_speed_of_gust", order, at)
    assert (read.place_lat_deg, read.place_lon_deg) == pytest.approx((lat, lon))
    np.testing.assert_allclose(read.wind.wind_mps, np.hypot(u, v), rtol=1e-12)
    np.testing.assert_array_equal(read.wind.gust_mps, gust)
    convergence = Proj(NORDIC).get_factors(lon, lat).meridian_convergence
    expected = np.degrees(np.arctan2(-u, -v)) + convergence
    away = (np.degrees(read.wind.wind_from_rad) - expected + 180) % 360 - 180
    # PROJ takes this grid's sphere as it is; the neighbours tell the angle to a thousandth.
    assert np.abs(away).max() < 1e-3
    assert abs(convergence) > 8
    assert read.wind.member.tolist() == [0, 1, 2, 3]
    assert said(read) == ["its wind lies along the grid; turned to true north"]


def test_eastward_and_northward_wind_are_true_already(tmp_path):
    path = tmp_path / "made.nc"
    made = Made(path).lambert()
    made.wind(("u10", "v10"), ("time", "y", "x"), ("eastward_wind", "northward_wind"))
    read = made.read()
    u, v = (at_place(path, name, ("time",))[0] for name in ("u10", "v10"))
    expected = np.degrees(np.arctan2(-u, -v)) % 360
    np.testing.assert_allclose(np.degrees(read.wind.wind_from_rad[0]), expected)
    assert said(read) == ["no gust in it; gusts are unknown"]


def test_plain_names_on_a_plain_grid_point_east_and_north(tmp_path):
    made = Made(tmp_path / "made.nc").regular([61.0, 60.5, 60.0], [4.0, 4.5, 5.0, 5.5])
    made.wind(("u10", "v10", "gust"), ("time", "lat", "lon"), ("", "", ""))
    values = {name: np.array(made.file[name][:, 1, 2]) for name in ("u10", "v10")}
    read = made.read((60.6, 4.9))
    assert (read.place_lat_deg, read.place_lon_deg) == (60.5, 5.0)
    expected = np.degrees(np.arctan2(-values["u10"], -values["v10"])) % 360
    np.testing.assert_allclose(np.degrees(read.wind.wind_from_rad[0]), expected)


def test_plain_names_on_a_slanted_grid_are_taken_along_it_and_said(tmp_path):
    made = Made(tmp_path / "made.nc").lambert().wind(("u10", "v10"), ("time", "y", "x"))
    assert "its wind lies along the grid; turned to true north" in said(made.read())


def test_speed_and_direction_are_taken_as_they_stand(tmp_path):
    made = Made(tmp_path / "made.nc", members=2).regular([60.5, 60.7], [4.8, 5.0])
    shape, dimensions = (3, 2, 2, 2), ("time", "member", "lat", "lon")
    numbers = np.arange(24.0).reshape(shape)
    made.put("ff", dimensions, numbers, units="kn", standard_name="wind_speed")
    made.put("dd", dimensions, numbers * 10, units="degree", standard_name="wind_from_direction")
    made.put("fx", dimensions, numbers * 2, units="m s-1", standard_name="wind_speed_of_gust")
    read = made.read((60.71, 5.01))
    here = numbers[:, :, 1, 1].T
    np.testing.assert_allclose(read.wind.wind_mps, here * 1852 / 3600)
    np.testing.assert_allclose(np.degrees(read.wind.wind_from_rad), here * 10)
    np.testing.assert_allclose(read.wind.gust_mps, here * 2)


def test_among_several_heights_ten_metres_is_taken(tmp_path):
    made = Made(tmp_path / "made.nc").regular([60.5, 60.7], [4.8, 5.0])
    made.file.createDimension("height", 3)
    made.put("height", ("height",), np.array([2.0, 10.0, 100.0]), standard_name="height", units="m")
    made.wind(("ua", "va"), ("time", "height", "lat", "lon"), ("x_wind", "y_wind"))
    u, v = (np.array(made.file[name][:, 1, 1, 1]) for name in ("ua", "va"))
    read = made.read((60.7, 5.0))
    np.testing.assert_allclose(read.wind.wind_mps[0], np.hypot(u, v))


def test_a_gust_since_the_hour_before_holds_for_that_span(tmp_path):
    made = Made(tmp_path / "made.nc", hours=(3, 6, 9)).regular([60.5, 60.7], [4.8, 5.0])
    most = {"cell_methods": "time: maximum"}
    made.wind(("gust",), ("time", "lat", "lon"), ("wind_speed_of_gust",), **most)
    made.wind(("u10", "v10"), ("time", "lat", "lon"))
    assert made.read((60.7, 5.0)).wind.gust_over_s == 3 * 3600.0


@pytest.mark.parametrize(
    ("unit", "hours"),
    [
        ("hours since 2026-06-24 00:00:00", [0, 1]),
        ("seconds since 1970-01-01 00:00:00 +00:00", [1782259200.0, 1782262800.0]),
        ("days since 2026-06-23", [1.0, 1.0 + 1 / 24]),
    ],
)
def test_times_are_read_in_any_count(tmp_path, unit, hours):
    made = Made(tmp_path / "made.nc", hours=hours, unit=unit).regular([60.5, 60.7], [4.8, 5.0])
    times = made.wind(("u10", "v10"), ("time", "lat", "lon")).read((60.7, 5.0)).wind.time_utc
    assert [str(t) for t in times] == ["2026-06-24T00:00:00", "2026-06-24T01:00:00"]


def test_a_land_mask_leads_to_the_nearest_sea_point(tmp_path):
    made = Made(tmp_path / "made.nc").regular([60.5, 60.6, 60.7], [4.8, 4.9, 5.0])
    land = np.array([[0.0, 1.0, 1.0]] * 3)
    made.put("lsm", ("lat", "lon"), land, standard_name="land_area_fraction", units="1")
    read = made.wind(("u10", "v10"), ("time", "lat", "lon")).read((60.6, 4.99))
    assert (read.place_lat_deg, read.place_lon_deg) == (60.6, 4.8)


def test_values_missing_over_land_lead_to_the_nearest_point_that_has_them(tmp_path):
    made = Made(tmp_path / "made.nc").regular([60.5, 60.6, 60.7], [4.8, 4.9, 5.0])
    values = np.ma.array(np.full((3, 3, 3), 5.0), mask=np.zeros((3, 3, 3), bool))
    values.mask[:, :, 2] = True
    for name in ("u10", "v10"):
        made.put(name, ("time", "lat", "lon"), values, units="m/s")
    read = made.read((60.6, 4.99))
    assert (read.place_lat_deg, read.place_lon_deg) == (60.6, 4.9)
    assert said(read)[1] == (
        "1 nearer points lie on land or carry no value; the sea point at 60.60 N 4.90 E is taken"
    )


def test_one_component_without_the_other_is_an_unknown_wind_and_said(tmp_path):
    made = Made(tmp_path / "made.nc").regular([60.5, 60.7], [4.8, 5.0])
    read = made.wind(("u10",), ("time", "lat", "lon")).read((60.7, 5.0))
    assert np.isnan(read.wind.wind_mps).all()
    assert np.isnan(read.wind.wind_from_rad).all()
    assert "only the east component of the wind in it; wind and direction are unknown" in said(read)


def test_a_record_of_one_place_is_read_as_it_is(tmp_path):
    made = Made(tmp_path / "made.nc")
    made.put("lat", (), np.array(60.71), standard_name="latitude")
    made.put("lon", (), np.array(5.02), standard_name="longitude")
    made.put("w", ("time",), np.array([5.0, -9999.0, 7.0]), units="m/s", standard_name="wind_speed")
    read = made.read()
    np.testing.assert_allclose(read.wind.wind_mps, [[5.0, math.nan, 7.0]])
    assert (read.place_lat_deg, read.place_lon_deg) == pytest.approx((60.71, 5.02))
    assert "no wind direction in it; the direction is unknown" in said(read)


def broken(made, at=AT):
    with pytest.raises(ShorefastError) as caught:
        made.read(at)
    return caught.value.kind, caught.value.sentence


def test_a_file_without_wind_says_what_it_holds(tmp_path):
    made = Made(tmp_path / "made.nc").regular([60.5, 60.7], [4.8, 5.0])
    made.put("t2m", ("time", "lat", "lon"), np.zeros((3, 2, 2)), units="K")
    assert broken(made) == (
        "Unreadable",
        "made.nc: no wind in it, it holds time, lat, lon, t2m. "
        "Fetch wind speed and direction, or its two components, at 10 m.",
    )


def test_a_place_outside_the_grid_is_refused(tmp_path):
    made = Made(tmp_path / "made.nc").regular([60.5, 60.7], [4.8, 5.0])
    made.wind(("u10", "v10"), ("time", "lat", "lon"))
    assert broken(made, (62.0, 5.0)) == (
        "BadInput",
        "made.nc: no grid point at 62.00 N 5.00 E, it covers 60.50 N 4.80 E to 60.70 N 5.00 E. "
        "Get a forecast that covers the place.",
    )


def test_a_speed_in_an_unknown_unit_is_refused(tmp_path):
    made = Made(tmp_path / "made.nc").regular([60.5, 60.7], [4.8, 5.0])
    for name in ("u10", "v10"):
        made.put(name, ("time", "lat", "lon"), np.zeros((3, 2, 2)), units="furlong/h")
    assert broken(made) == (
        "Unreadable",
        "made.nc, u10: units 'furlong/h', a speed in m/s, knots or km/h wanted. "
        "Correct the variable's units.",
    )


def test_a_file_without_places_is_refused(tmp_path):
    made = Made(tmp_path / "made.nc")
    made.put("wind_speed", ("time",), np.zeros(3), units="m/s")
    assert broken(made) == (
        "Unreadable",
        "made.nc: no latitude and longitude. Fetch it with its coordinates, as CF has them.",
    )


def test_a_file_without_times_is_refused(tmp_path):
    path = tmp_path / "made.nc"
    with netCDF4.Dataset(path, "w") as file:
        file.createDimension("x", 2)
        file.createVariable("u10", "f8", ("x",))
    with pytest.raises(ShorefastError) as caught:
        read_forecast(path, *AT)
    assert caught.value.sentence == (
        "made.nc: no time axis, a variable with units '... since ...' wanted. "
        "Fetch it with its times."
    )


def test_several_heights_without_ten_metres_are_refused(tmp_path):
    made = Made(tmp_path / "made.nc").regular([60.5, 60.7], [4.8, 5.0])
    made.file.createDimension("height", 2)
    made.put("height", ("height",), np.array([80.0, 100.0]), units="m")
    made.wind(("u10", "v10"), ("time", "height", "lat", "lon"))
    assert broken(made, (60.7, 5.0)) == (
        "Unreadable",
        "made.nc: several entries along height, none at 10 m. "
        "Fetch the wind at 10 m above the ground.",
    )


def test_times_in_a_calendar_of_their_own_are_refused(tmp_path):
    made = Made(tmp_path / "made.nc").regular([60.5, 60.7], [4.8, 5.0])
    made.file["time"].calendar = "360_day"
    made.wind(("u10", "v10"), ("time", "lat", "lon"))
    assert broken(made, (60.7, 5.0)) == (
        "Unreadable",
        "made.nc: times 'hours since 2026-06-24 00:00:00' cannot be read. "
        "Fetch the file again, or from another source.",
    )


def test_a_file_cut_off_on_the_way_says_so(tmp_path):
    made = Made(tmp_path / "made.nc").regular([60.5, 60.7], [4.8, 5.0])
    made.wind(("u10", "v10"), ("time", "lat", "lon"))
    made.file.close()
    made.path.write_bytes(made.path.read_bytes()[:3000])
    with pytest.raises(ShorefastError) as caught:
        read_forecast(made.path, *AT)
    assert caught.value.sentence == "made.nc: not a whole NetCDF file. Fetch the file again."
