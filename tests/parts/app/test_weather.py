"""What ``weather`` answers: the file's own hours, in JSON and for people."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest

from shorefast.app.answer import to_json
from shorefast.app.answers.weather import answer_weather
from shorefast.errors import BadInput

FORECASTS = Path(__file__).parents[2] / "files" / "forecasts"
KEYS = [
    "schema", "version", "basis", "findings", "files", "place", "member", "time_utc", "wind_mps",
    "wind_from_rad", "gust_mps", "gust_over_s", "height_m",
]  # fmt: skip
HEAD = "time_utc,wind_mps,gust_mps,from_deg\n"


def asked(*names, at):
    return json.loads(to_json(answer_weather([FORECASTS / name for name in names], *at)))


def test_the_keys_are_the_promised_ones_in_order():
    assert list(asked("point_forecast.json", at=(51.5, -0.1))) == KEYS


def test_every_array_is_member_by_time_and_unknown_is_null():
    answer = asked("ensemble_gust_6h.grib1", at=(60.0, 5.0))
    assert answer["member"] == [1, 2, 3]
    assert answer["time_utc"] == ["2018-11-23T00:00:00Z", "2018-11-23T06:00:00Z"]
    assert answer["wind_mps"] == answer["wind_from_rad"] == [[None, None]] * 3
    assert [len(row) for row in answer["gust_mps"]] == [2, 2, 2]
    assert answer["gust_over_s"] == 21600


def test_the_place_is_the_grid_point_and_its_distance():
    place = asked("gfs_wind_in_one_message.grib2", at=(47.5, -40.0))["place"]
    assert place == {"lat_deg": 47.5, "lon_deg": -40.0, "distance_m": 0.0}


def test_the_files_say_what_was_read_and_left_out():
    (file,) = asked("nam_lambert_wind_and_gust.grib2", at=(40.0, -120.0))["files"]
    assert file == {
        "file": "nam_lambert_wind_and_gust.grib2",
        "kind": "GRIB 2",
        "read": {"members": 1, "times": 1, "values": 3},
        "left_out": [{"why": "no wind at 10 m: prmsl", "count": 1}],
    }


def test_a_table_without_a_place_has_no_distance(tmp_path):
    path = tmp_path / "wind.csv"
    path.write_text(HEAD + "2026-06-24T19:00Z,5,8,157\n", encoding="utf-8")
    answer = json.loads(to_json(answer_weather([path], 47.5, -40.0)))
    assert answer["place"] == {"lat_deg": 47.5, "lon_deg": -40.0, "distance_m": None}


def test_of_two_tables_the_second_brings_the_hours_the_first_lacks(tmp_path):
    paths = [tmp_path / name for name in ("one.csv", "two.csv")]
    for path, hour in zip(paths, (19, 21), strict=True):
        path.write_text(HEAD + f"2026-06-24T{hour}:00Z,{hour},{hour},157\n", encoding="utf-8")
    answer = json.loads(to_json(answer_weather(paths, 47.5, -40.0)))
    assert answer["time_utc"] == ["2026-06-24T19:00:00Z", "2026-06-24T21:00:00Z"]
    assert answer["wind_mps"] == [[19.0, 21.0]]


def test_people_read_knots_and_what_is_unknown():
    text = answer_weather([FORECASTS / "ensemble_gust_6h.grib1"], 60.0, 5.0).text
    assert text.splitlines() == [
        "ensemble_gust_6h.grib1 (GRIB 1): 60 00.000 N 005 00.000 E, 0.0 km from here",
        "Wind at 10 m above the ground of 3 members: the middle (least to most).",
        "Gusts are the most of the 6 h that end then.",
        "",
        "UTC               from     wind                    gust",
        "2018-11-23 00:00  unknown  unknown                 8 kn (6 to 10 kn)",
        "2018-11-23 06:00  unknown  unknown                 10 kn (9 to 11 kn)",
        "",
        "ensemble_gust_6h.grib1: no mean wind in it; wind and direction are unknown",
    ]


@pytest.mark.parametrize(
    ("lat_deg", "lon_deg", "sentence"),
    [
        (
            95.0,
            5.0,
            "Place: latitude 95, a latitude lies between -90 and 90. "
            "Give latitude first, then longitude.",
        ),
        (
            60.0,
            math.nan,
            "Place: longitude nan, a longitude lies between -360 and 360. "
            "Give latitude first, then longitude.",
        ),
    ],
)
def test_a_place_that_cannot_be_is_refused(lat_deg, lon_deg, sentence):
    with pytest.raises(BadInput) as caught:
        answer_weather([FORECASTS / "ensemble_gust_6h.grib1"], lat_deg, lon_deg)
    assert caught.value.sentence == sentence
