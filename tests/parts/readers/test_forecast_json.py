"""Wind out of a point forecast, held against the file's own numbers."""

from __future__ import annotations

import json
import math
from pathlib import Path

import numpy as np
import pytest

from shorefast.errors import ShorefastError
from shorefast.readers.forecast import read_forecast

SAMPLE = Path(__file__).parents[2] / "files" / "forecasts" / "point_forecast.json"
AT = (51.5, -0.1)


def whole():
    return json.loads(SAMPLE.read_text(encoding="utf-8"))


def written(folder, data):
    path = folder / "made.json"
    path.write_text(json.dumps(data), encoding="utf-8")
    return path


def details(data):
    return [hour["data"]["instant"]["details"] for hour in data["data"]["properties"]["timeseries"]]


def said(read):
    return [found.said for found in read.wind.basis.findings]


def test_a_forecast_wrapped_with_its_answers_headers_is_read():
    data, read = whole(), read_forecast(SAMPLE, *AT)
    assert sorted(data) == ["data", "headers", "status_code"]
    numbers = details(data)
    assert read.wind.wind_mps[0].tolist() == [hour["wind_speed"] for hour in numbers]
    np.testing.assert_allclose(
        np.degrees(read.wind.wind_from_rad[0]), [hour["wind_from_direction"] for hour in numbers]
    )
    hours = [hour["time"] for hour in data["data"]["properties"]["timeseries"]]
    assert [f"{time}Z" for time in read.wind.time_utc] == hours
    assert (read.kind, read.place_lat_deg, read.place_lon_deg) == (
        "point forecast JSON",
        51.5,
        -0.1,
    )
    assert read.distance_m == pytest.approx(0.0, abs=0.1)


def test_a_forecast_without_its_wrapping_is_the_same(tmp_path):
    bare = read_forecast(written(tmp_path, whole()["data"]), *AT)
    np.testing.assert_array_equal(bare.wind.wind_mps, read_forecast(SAMPLE, *AT).wind.wind_mps)


def test_no_gust_in_it_is_an_unknown_gust_and_the_long_hours_of_its_tail_are_said():
    read = read_forecast(SAMPLE, *AT)
    assert np.isnan(read.wind.gust_mps).all()
    assert said(read) == [
        "no gust in it; gusts are unknown",
        "every 1 h up to 2020-07-22T18:00:00Z, then up to 132 h apart",
    ]


def test_a_gust_in_some_hours_is_unknown_in_the_others(tmp_path):
    data = whole()
    details(data)[0]["wind_speed_of_gust"] = 11.5
    gusts = read_forecast(written(tmp_path, data), *AT).wind.gust_mps[0]
    assert gusts[0] == 11.5
    assert np.isnan(gusts[1:]).all()


def test_an_hour_without_a_direction_is_unknown(tmp_path):
    data = whole()
    del details(data)[2]["wind_from_direction"]
    assert math.isnan(read_forecast(written(tmp_path, data), *AT).wind.wind_from_rad[0, 2])


def test_an_hour_that_cannot_be_read_is_left_out_and_counted(tmp_path):
    data = whole()
    del data["data"]["properties"]["timeseries"][1]["data"]["instant"]
    read = read_forecast(written(tmp_path, data), *AT)
    assert len(read.wind.time_utc) == len(details(whole())) - 1
    assert [(left.why, left.count) for left in read.left_out] == [
        ("hour without time or details", 1)
    ]


def change(**put):
    def to(data):
        details(data)[0].update(put)
        return data

    return to


def units(data):
    data["data"]["properties"]["meta"]["units"]["wind_speed"] = "furlong/h"
    return data


def backwards(data):
    data["data"]["properties"]["timeseries"].reverse()
    return data


def no_wind(data):
    for hour in details(data):
        hour.pop("wind_speed")
    return data


def no_hours(data):
    data["data"]["properties"]["timeseries"] = [{"time": "soon"}]
    return data


def no_place(data):
    data["data"]["geometry"] = None
    return data


@pytest.mark.parametrize(
    ("spoil", "kind", "sentence"),
    [
        (
            lambda data: {"cod": 200, "list": []},
            "Unreadable",
            "made.json: no series of hours in it, a feature with properties.timeseries wanted. "
            "Fetch a point forecast, or give the wind as CSV.",
        ),
        (
            lambda data: [1, 2, 3],
            "Unreadable",
            "made.json: no series of hours in it, a feature with properties.timeseries wanted. "
            "Fetch a point forecast, or give the wind as CSV.",
        ),
        (
            change(wind_from_direction=400.0),
            "BadInput",
            "made.json, wind_from_direction: 400, 0 to 360 wanted. "
            "Fetch the file again; this value cannot be so.",
        ),
        (
            change(wind_speed=-2.0),
            "BadInput",
            "made.json, wind_speed: -2, 0 to 120 wanted. "
            "Fetch the file again; this value cannot be so.",
        ),
        (
            units,
            "Unreadable",
            "made.json, wind_speed: units 'furlong/h', m/s, kn or km/h wanted. Fetch it in m/s.",
        ),
        (
            backwards,
            "BadInput",
            "made.json: 2020-07-23T18:00:00Z follows 2020-07-29T06:00:00Z, times rise. "
            "Fetch the file again.",
        ),
        (
            no_wind,
            "Unreadable",
            "made.json: no wind in it, wind_speed and wind_from_direction wanted. "
            "Fetch the forecast with its wind.",
        ),
        (
            no_hours,
            "Unreadable",
            "made.json: no hour in it that can be read. Fetch the file again.",
        ),
        (
            no_place,
            "Unreadable",
            "made.json: it names no place, a point with longitude and latitude wanted. "
            "Fetch it again.",
        ),
    ],
)
def test_a_spoilt_forecast_says_what_is_wrong(tmp_path, spoil, kind, sentence):
    with pytest.raises(ShorefastError) as caught:
        read_forecast(written(tmp_path, spoil(whole())), *AT)
    assert (caught.value.kind, caught.value.sentence) == (kind, sentence)


def test_a_forecast_for_another_coast_is_refused():
    with pytest.raises(ShorefastError) as caught:
        read_forecast(SAMPLE, 39.9, 116.4)
    assert (caught.value.kind, caught.value.sentence) == (
        "BadInput",
        "point_forecast.json: it is for 51.50 N 0.10 W, 8162 km from 39.90 N 116.40 E. "
        "Get a forecast for the place.",
    )


def test_json_cut_off_on_the_way_says_where(tmp_path):
    path = tmp_path / "made.json"
    path.write_text(SAMPLE.read_text(encoding="utf-8")[:2000], encoding="utf-8")
    with pytest.raises(ShorefastError) as caught:
        read_forecast(path, *AT)
    assert caught.value.sentence == (
        "made.json, line 70: not whole JSON "
        "(Expecting property name enclosed in double quotes). Fetch the file again."
    )


def test_a_file_of_no_known_kind_says_so(tmp_path):
    path = tmp_path / "made.bin"
    path.write_bytes(b"\x00\x01\x02 nothing we know \x00")
    with pytest.raises(ShorefastError) as caught:
        read_forecast(path, *AT)
    assert caught.value.sentence == (
        "made.bin: it is none of the kinds known, GRIB, NetCDF, JSON or CSV wanted. "
        "Fetch it as one."
    )
