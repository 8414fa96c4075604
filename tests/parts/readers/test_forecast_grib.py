"""Wind out of GRIB files, held against eccodes itself; angles against PROJ."""

from __future__ import annotations

import math
import subprocess
import sys
from collections import Counter
from pathlib import Path

import numpy as np
import pytest
from pyproj import Proj

from shorefast.errors import ShorefastError
from shorefast.readers import grib_fields
from shorefast.readers.forecast import read_forecast
from shorefast.readers.grib_fields import load_eccodes

FILES = Path(__file__).parents[2] / "files" / "forecasts"
ec = load_eccodes()


def fields(path):
    """Every field of a file straight from eccodes: its keys, values, latitudes, longitudes."""
    ec.codes_grib_multi_support_on()
    found = []
    with path.open("rb") as file:
        while (handle := ec.codes_grib_new_from_file(file)) is not None:
            keys = {key: ec.codes_get(handle, key) for key in ("shortName", "stepRange")}
            keys["number"] = ec.codes_get(handle, "number") if "ensemble" in path.name else 0
            lat, lon = (ec.codes_get_array(handle, key) for key in ("latitudes", "longitudes"))
            found.append((keys, ec.codes_get_values(handle), lat, lon))
            ec.codes_release(handle)
    ec.codes_grib_multi_support_off()
    return found


def nearest(lat, lon, at):
    a, b = np.radians(at)
    cosine = np.sin(np.radians(lat)) * np.sin(a)
    cosine += np.cos(np.radians(lat)) * np.cos(a) * np.cos(np.radians(lon) - b)
    return int(np.argmax(cosine))


def said(read):
    return [found.said for found in read.wind.basis.findings]


def test_both_components_packed_into_one_message_are_read():
    path, at = FILES / "gfs_wind_in_one_message.grib2", (47.4, -39.6)
    found = {keys["shortName"]: (values, lat, lon) for keys, values, lat, lon in fields(path)}
    assert sorted(found) == ["10u", "10v", "gust"]
    index = nearest(*found["10u"][1:], at)
    u, v, gust = (float(found[name][0][index]) for name in ("10u", "10v", "gust"))
    read = read_forecast(path, *at)
    assert read.wind.wind_mps[0, 0] == pytest.approx(math.hypot(u, v), rel=1e-12)
    toward = math.degrees(math.atan2(-u, -v)) % 360
    assert math.degrees(read.wind.wind_from_rad[0, 0]) == pytest.approx(toward, abs=1e-9)
    assert read.wind.gust_mps[0, 0] == gust
    assert (read.place_lat_deg, read.place_lon_deg) == (47.5, -40.0)
    assert (read.kind, read.wind.height_m, read.wind.gust_over_s) == ("GRIB 2", 10.0, 0.0)
    assert str(read.wind.time_utc[0]) == "2011-01-15T12:00:00"


@pytest.mark.parametrize("lon_deg", [-0.2, 359.8])
def test_longitudes_from_nought_to_three_sixty_meet_at_greenwich(lon_deg):
    read = read_forecast(FILES / "gfs_wind_in_one_message.grib2", 50.1, lon_deg)
    assert (read.place_lat_deg, read.place_lon_deg) == (50.0, 0.0)


@pytest.mark.parametrize("at", [(40.0, -120.0), (30.0, -75.0), (54.6, -152.8), (12.2, -133.4)])
def test_wind_along_a_lambert_grid_is_turned_to_true_north(at):
    path = FILES / "nam_lambert_wind_and_gust.grib2"
    found = {keys["shortName"]: (values, lat, lon) for keys, values, lat, lon in fields(path)}
    index = nearest(*found["10u"][1:], at)
    u, v = (float(found[name][0][index]) for name in ("10u", "10v"))
    lat, lon = (float(found["10u"][place][index]) for place in (1, 2))
    # Another program's word on how far the grid's north lies from true north there.
    grid = Proj("+proj=lcc +lon_0=265 +lat_0=25 +lat_1=25 +lat_2=25 +R=6371229")
    turned = grid.get_factors(lon, lat).meridian_convergence
    expected = (math.degrees(math.atan2(-u, -v)) + turned) % 360
    read = read_forecast(path, *at)
    away = (math.degrees(read.wind.wind_from_rad[0, 0]) - expected + 180) % 360 - 180
    # Taken from the neighbours 80 km off, not from the projection: a hundredth of a degree.
    assert away == pytest.approx(0, abs=0.01)
    assert abs(turned) > 3
    assert read.wind.wind_mps[0, 0] == pytest.approx(math.hypot(u, v), rel=1e-12)
    assert read.wind.gust_mps[0, 0] == found["gust"][0][index]
    assert "its wind lies along the grid; turned to true north" in said(read)
    assert [(left.why, left.count) for left in read.left_out] == [("no wind at 10 m: prmsl", 1)]


def test_members_one_to_three_without_a_control_run_keep_their_numbers():
    path, at = FILES / "ensemble_gust_6h.grib1", (59.6, 5.3)
    read = read_forecast(path, *at)
    assert read.wind.member.tolist() == [1, 2, 3]
    for keys, values, lat, lon in fields(path):
        hour = ["54-60", "60-66"].index(keys["stepRange"])
        gust = read.wind.gust_mps[keys["number"] - 1, hour]
        assert gust == values[nearest(lat, lon, at)]
    assert [str(t) for t in read.wind.time_utc] == ["2018-11-23T00:00:00", "2018-11-23T06:00:00"]


def test_a_gust_that_is_the_most_of_six_hours_says_so():
    read = read_forecast(FILES / "ensemble_gust_6h.grib1", 59.6, 5.3)
    assert read.wind.gust_over_s == 6 * 3600.0


def test_gusts_without_a_wind_leave_speed_and_direction_unknown():
    read = read_forecast(FILES / "ensemble_gust_6h.grib1", 60.0, 5.0)
    assert np.isnan(read.wind.wind_mps).all()
    assert np.isnan(read.wind.wind_from_rad).all()
    assert said(read) == ["no mean wind in it; wind and direction are unknown"]


def test_one_component_without_the_other_is_an_unknown_wind_and_said():
    read = read_forecast(FILES / "only_east_component.grib1", 50.0, 0.0)
    assert read.wind.wind_mps.shape == (1, 13)
    assert np.isnan(read.wind.wind_mps).all()
    assert np.isnan(read.wind.wind_from_rad).all()
    assert said(read) == [
        "only the east component of the wind in it; wind and direction are unknown",
        "no gust in it; gusts are unknown",
    ]
    assert [(left.why, left.count) for left in read.left_out] == [
        ("one component of the wind without the other", 13)
    ]


def test_a_point_too_far_for_a_bay_is_said():
    read = read_forecast(FILES / "only_east_component.grib1", 52.0, -3.0)
    assert said(read)[-1] == (
        "the point taken, 50.00 N 0.00 E, is 306 km away: too far to know the wind of a bay"
    )


def message(**keys):
    """One field of a made ensemble, 21 by 21 points of a twentieth of a degree."""
    handle = ec.codes_new_from_samples("regular_ll_sfc_grib2", ec.CODES_PRODUCT_GRIB)
    whole = {
        "productDefinitionTemplateNumber": 1, "Ni": 21, "Nj": 21,
        "latitudeOfFirstGridPointInDegrees": 61.0, "latitudeOfLastGridPointInDegrees": 60.0,
        "longitudeOfFirstGridPointInDegrees": 4.0, "longitudeOfLastGridPointInDegrees": 5.0,
        "iDirectionIncrementInDegrees": 0.05, "jDirectionIncrementInDegrees": 0.05,
        "discipline": 0, "parameterCategory": 2, "parameterNumber": 2,
        "typeOfFirstFixedSurface": 103, "scaleFactorOfFirstFixedSurface": 0,
        "scaledValueOfFirstFixedSurface": 10, "dataDate": 20260624, "dataTime": 0,
        "bitsPerValue": 24,
    }  # fmt: skip
    values = keys.pop("values")
    for key, value in {**whole, **keys}.items():
        ec.codes_set(handle, key, value)
    ec.codes_set_values(handle, np.asarray(values, float).ravel())
    raw = ec.codes_get_message(handle)
    ec.codes_release(handle)
    return raw


FLAT = np.zeros((21, 21))
U, V = {"parameterNumber": 2}, {"parameterNumber": 3}


def made(folder, *messages):
    path = folder / "made.grib2"
    path.write_bytes(b"".join(messages))
    return path


def test_a_land_mask_leads_to_the_nearest_sea_point(tmp_path):
    land = FLAT.copy()
    land[:, :11] = 1.0
    mask = message(
        values=land, discipline=2, parameterCategory=0, parameterNumber=0,
        typeOfFirstFixedSurface=1, scaledValueOfFirstFixedSurface=0,
    )  # fmt: skip
    rising = np.tile(np.arange(21.0), (21, 1))
    path = made(tmp_path, message(values=rising, **U), message(values=FLAT, **V), mask)
    read = read_forecast(path, 60.5, 4.46)
    assert (read.place_lat_deg, read.place_lon_deg) == pytest.approx((60.5, 4.55))
    assert read.wind.wind_mps[0, 0] == pytest.approx(11.0, abs=1e-5)
    assert (
        "nearer points lie on land or carry no value; the sea point at 60.50 N 4.55 E"
        in (said(read)[1])
    )


def test_the_newer_run_has_the_word_on_an_hour(tmp_path):
    old = {"dataDate": 20260623, "forecastTime": 24}
    path = made(
        tmp_path,
        message(values=FLAT + 5, **U),
        message(values=FLAT, **V),
        message(values=FLAT + 9, **U, **old),
        message(values=FLAT, **V, **old),
    )
    read = read_forecast(path, 60.5, 4.5)
    assert read.wind.wind_mps.tolist() == [[5.0]]
    assert [(left.why, left.count) for left in read.left_out] == [
        ("an older run's word on the same hour", 2)
    ]


def test_an_hour_one_member_lacks_is_unknown(tmp_path):
    path = made(
        tmp_path,
        *(
            message(values=FLAT + 5, perturbationNumber=m, **part)
            for m in (0, 1)
            for part in (U, V)
        ),
        *(
            message(values=FLAT + 5, perturbationNumber=1, forecastTime=1, **part)
            for part in (U, V)
        ),
    )
    read = read_forecast(path, 60.5, 4.5)
    assert np.isnan(read.wind.wind_mps).tolist() == [[False, True], [False, False]]


def test_a_dead_calm_is_no_southerly(tmp_path):
    path = made(tmp_path, message(values=FLAT, **U), message(values=FLAT, **V))
    assert read_forecast(path, 60.5, 4.5).wind.wind_from_rad.tolist() == [[0.0]]


class _Counted:
    """A library that counts how often each of its functions is called."""

    def __init__(self, library):
        self.library = library
        self.calls = Counter()

    def __getattr__(self, name):
        found = getattr(self.library, name)
        if not name.startswith("codes_"):
            return found

        def counted(*given):
            self.calls[name] += 1
            return found(*given)

        return counted


def test_fifty_one_members_of_twenty_five_hours_are_read_with_little_work(tmp_path, monkeypatch):
    path = tmp_path / "made.grib2"
    with path.open("wb") as file:
        for part in (U, V):
            handle = ec.codes_new_from_message(message(values=FLAT + 5, **part))
            for member in range(51):
                for hour in range(25):
                    ec.codes_set(handle, "perturbationNumber", member)
                    ec.codes_set(handle, "forecastTime", hour)
                    ec.codes_write(handle, file)
            ec.codes_release(handle)
    counted, fields = _Counted(ec), 2 * 51 * 25
    monkeypatch.setattr(grib_fields, "load_eccodes", lambda: counted)
    read = read_forecast(path, 60.5, 4.5)
    assert read.wind.wind_mps.shape == (51, 25)
    assert np.allclose(read.wind.wind_mps, 5 * math.sqrt(2), atol=1e-4)
    # Work, not time, so that no machine is too slow for it (the time is in the benchmark):
    # each field is opened once, its one value taken, and its grid and kind are known from
    # the first of them, for names and whole grids are what is dear.
    assert counted.calls["codes_grib_new_from_file"] == fields + 1
    assert counted.calls["codes_get_double_element"] == fields
    assert counted.calls["codes_get_array"] == 2
    assert counted.calls["codes_get_values"] == 0
    assert counted.calls["codes_get_string"] < fields + 10
    assert counted.calls["codes_get_long"] < 15 * fields
    assert counted.calls.total() < 20 * fields


def test_map_projections_still_work_after_a_grib_file():
    script = (
        "from pathlib import Path; from shorefast.readers.forecast import read_forecast; "
        f"read_forecast(Path({str(FILES / 'only_east_component.grib1')!r}), 50.0, 0.0); "
        "from pyproj import Transformer; "
        "print(round(Transformer.from_crs(4326, 25833).transform(60, 5)[1]))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stdout.strip()) == (0, "6693618"), done.stderr


@pytest.mark.parametrize(
    ("cut", "sentence"),
    [
        (0, "made.grib2: it is empty, GRIB, NetCDF, JSON or CSV wanted. Fetch the file again."),
        (
            100,
            "made.grib2: message 1 is broken (cut off). "
            "Fetch the file again; it was cut off or damaged on the way.",
        ),
        (
            4000,
            "made.grib2: message 2 is broken (cut off). "
            "Fetch the file again; it was cut off or damaged on the way.",
        ),
    ],
)
def test_a_file_cut_off_on_the_way_says_so(tmp_path, cut, sentence):
    path = made(tmp_path, (FILES / "ensemble_gust_6h.grib1").read_bytes()[:cut])
    with pytest.raises(ShorefastError) as caught:
        read_forecast(path, 60.0, 5.0)
    assert (caught.value.kind, caught.value.sentence) == ("Unreadable", sentence)


def test_a_damaged_file_says_so():
    with pytest.raises(ShorefastError) as caught:
        read_forecast(FILES / "wrong_message_length.grib1", 60.0, 5.0)
    assert (caught.value.kind, caught.value.sentence) == (
        "Unreadable",
        "wrong_message_length.grib1: message 1 is broken (no end where its length says). "
        "Fetch the file again; it was cut off or damaged on the way.",
    )


def test_a_place_outside_the_grid_is_refused():
    with pytest.raises(ShorefastError) as caught:
        read_forecast(FILES / "ensemble_gust_6h.grib1", 10.0, 5.0)
    assert (caught.value.kind, caught.value.sentence) == (
        "BadInput",
        "ensemble_gust_6h.grib1: no grid point at 10.00 N 5.00 E, "
        "it covers 35.00 N 20.00 W to 75.00 N 30.00 E. Get a forecast that covers the place.",
    )


def test_fields_that_are_no_wind_say_what_they_are(tmp_path):
    raw = (FILES / "nam_lambert_wind_and_gust.grib2").read_bytes()
    length = int.from_bytes(raw[8:16], "big")
    with pytest.raises(ShorefastError) as caught:
        read_forecast(made(tmp_path, raw[:length]), 40.0, -120.0)
    assert caught.value.sentence == (
        "made.grib2: no wind in it, it holds prmsl. "
        "Fetch wind speed and direction, or its two components, at 10 m."
    )


def spoilt(folder, name, *changes):
    """A real file with single bytes exchanged, as a bad line or a worn card leaves it."""
    raw = bytearray((FILES / name).read_bytes())
    for place, byte in changes:
        raw[place] = byte
    path = folder / "made.grib"
    path.write_bytes(bytes(raw))
    return path


GLOBAL, ENSEMBLE = "gfs_wind_in_one_message.grib2", "ensemble_gust_6h.grib1"


# Every one of these, given to the decoder as it is, ends the whole process.
@pytest.mark.parametrize(
    ("name", "changes", "trouble"),
    [
        (GLOBAL, [(7, 9)], "message 1 is broken (edition 9)"),
        (GLOBAL, [(16, 200)], "message 1 is broken (its lengths do not add up)"),
        (GLOBAL, [(20, 7)], "message 1 is broken (its lengths do not add up)"),
        (GLOBAL, [(27389, 0)], "message 1 is broken (no end where its length says)"),
        (GLOBAL, [(8, 1)], "message 1 is broken (cut off)"),
        (GLOBAL, [(126, 99)], "message 1 is broken (its time has no unit)"),
        (GLOBAL, [(174, 88)], "message 1 is broken (its counts do not add up)"),
        (GLOBAL, [(179, 117)], "message 1 is broken (its counts do not add up)"),
        (GLOBAL, [(189, 109)], "message 1 is broken (its counts do not add up)"),
        (ENSEMBLE, [(25, 183)], "message 1 is broken (its time has no unit)"),
        (ENSEMBLE, [(10, 200)], "message 1 is broken (its lengths do not add up)"),
        (ENSEMBLE, [(156, 12), (120, 47)], "message 1 is broken (its dates or its grid cannot be)"),
        (ENSEMBLE, [(21, 45)], "message 1 is broken (its dates or its grid cannot be)"),
    ],
)
def test_a_byte_gone_wrong_ends_in_a_sentence(tmp_path, name, changes, trouble):
    with pytest.raises(ShorefastError) as caught:
        read_forecast(spoilt(tmp_path, name, *changes), 60.0, 5.0)
    assert caught.value.kind == "Unreadable"
    assert caught.value.sentence == (
        f"made.grib: {trouble}. Fetch the file again; it was cut off or damaged on the way."
    )


def test_a_wind_no_weather_brings_is_refused(tmp_path):
    path = made(tmp_path, message(values=FLAT + 500, **U), message(values=FLAT, **V))
    with pytest.raises(ShorefastError) as caught:
        read_forecast(path, 60.5, 4.5)
    assert (caught.value.kind, caught.value.sentence) == (
        "Unreadable",
        "made.grib2: a wind of 500 m/s, 0 to 120 wanted. "
        "Fetch the file again; this value cannot be so.",
    )


def test_bytes_between_messages_are_no_matter(tmp_path):
    raw = (FILES / ENSEMBLE).read_bytes()
    path = made(tmp_path, b"mail header\r\n\r\n", raw[:3298], b"\x00" * 40, raw[3298:])
    assert read_forecast(path, 60.0, 5.0).read["values"] == 6
