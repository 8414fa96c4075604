"""Wind and tide tables as a skipper writes them."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.errors import ShorefastError
from shorefast.readers.forecast import read_forecast
from shorefast.readers.tide_csv import read_tide
from shorefast.readers.wind_csv import read_wind_csv

HEAD = "time_utc,wind_mps,gust_mps,from_deg"
ROWS = ("2026-06-24T19:00:00Z,5,8,157", "2026-06-24T20:00:00Z,6,9,160")


def written(folder, *rows, name="wind.csv"):
    path = folder / name
    path.write_text("\n".join(rows) + "\n", encoding="utf-8")
    return path


def said(wind):
    return [found.said for found in wind.basis.findings]


def test_a_wind_table_is_read_as_it_stands(tmp_path):
    wind = read_wind_csv(written(tmp_path, HEAD, *ROWS))
    assert wind.member.tolist() == [0]
    assert [str(t) for t in wind.time_utc] == ["2026-06-24T19:00:00", "2026-06-24T20:00:00"]
    np.testing.assert_allclose(wind.wind_mps, [[5, 6]])
    np.testing.assert_allclose(wind.gust_mps, [[8, 9]])
    np.testing.assert_allclose(np.degrees(wind.wind_from_rad), [[157, 160]])
    assert (wind.gust_over_s, wind.height_m) == (0.0, 10.0)
    assert said(wind) == []


def test_members_come_in_order_of_their_numbers(tmp_path):
    rows = [
        f"2026-06-24T{h}:00:00Z,{m + h},{2 * m + h},90,{m}" for m in (2, 0, 1) for h in (19, 20)
    ]
    wind = read_wind_csv(written(tmp_path, HEAD + ",member", *rows))
    assert wind.member.tolist() == [0, 1, 2]
    np.testing.assert_allclose(wind.wind_mps, [[19, 20], [20, 21], [21, 22]])


def test_several_rows_of_one_hour_and_member_are_gusts_within_that_hour(tmp_path):
    rows = [
        f"2026-06-24T{hour}:00:00Z,5,{gust},{bearing},{member}"
        for hour in (19, 20)
        for member in (0, 1)
        for gust, bearing in ((20, 315), (17, 270))
    ]
    wind = read_wind_csv(written(tmp_path, HEAD + ",member", *rows))
    assert wind.member.tolist() == [0, 0, 1, 1]
    np.testing.assert_allclose(wind.gust_mps[:2], [[20, 20], [17, 17]])
    np.testing.assert_allclose(np.degrees(wind.wind_from_rad[1]), [270, 270])


def test_an_hour_with_fewer_gusts_repeats_its_first(tmp_path):
    rows = [*ROWS, "2026-06-24T20:00:00Z,6,12,270"]
    wind = read_wind_csv(written(tmp_path, HEAD, *rows))
    np.testing.assert_allclose(wind.gust_mps, [[8, 9], [8, 12]])


def test_speeds_may_stand_in_knots(tmp_path):
    rows = ("time_utc,wind_kn,gust_kn,from_deg", "2026-06-24T19:00:00Z,10,20,360")
    wind = read_wind_csv(written(tmp_path, *rows))
    assert wind.wind_mps[0, 0] == pytest.approx(10 * 1852 / 3600)
    assert wind.gust_mps[0, 0] == pytest.approx(20 * 1852 / 3600)
    assert wind.wind_from_rad[0, 0] == 0.0


def test_a_blank_gust_is_unknown_and_said(tmp_path):
    wind = read_wind_csv(written(tmp_path, HEAD, "2026-06-24T19:00Z,5,,157", ROWS[1]))
    assert math.isnan(wind.gust_mps[0, 0])
    assert said(wind) == ["gust unknown in 1 of 2 entries"]


def test_nan_in_a_table_is_unknown_and_said(tmp_path):
    wind = read_wind_csv(written(tmp_path, HEAD, "2026-06-24T19:00Z,NaN,9,157", ROWS[1]))
    assert math.isnan(wind.wind_mps[0, 0])
    assert said(wind) == ["wind unknown in 1 of 2 entries"]


def test_an_hour_one_member_lacks_is_unknown(tmp_path):
    rows = (ROWS[0] + ",0", ROWS[1] + ",0", ROWS[0] + ",1")
    wind = read_wind_csv(written(tmp_path, HEAD + ",member", *rows))
    assert np.isnan(wind.wind_mps).tolist() == [[False, False], [False, True]]


def test_semicolons_remarks_and_blank_rows_are_no_matter(tmp_path):
    rows = [
        "\ufeff# told by radio",
        HEAD.replace(",", "; "),
        "",
        *(r.replace(",", ";") for r in ROWS),
    ]
    wind = read_wind_csv(written(tmp_path, *rows))
    np.testing.assert_allclose(wind.wind_mps, [[5, 6]])


def test_a_time_with_an_offset_is_brought_to_utc(tmp_path):
    rows = (HEAD, "2026-06-24T19:00:00+02:00,5,8,157")
    assert str(read_wind_csv(written(tmp_path, *rows)).time_utc[0]) == "2026-06-24T17:00:00"


def test_a_gust_below_the_mean_is_taken_and_said(tmp_path):
    wind = read_wind_csv(written(tmp_path, HEAD, "2026-06-24T19:00Z,9,5,157"))
    assert said(wind) == ["gust below the mean wind in 1 entries; taken as it is"]


def test_a_column_nobody_asked_for_is_said(tmp_path):
    wind = read_wind_csv(written(tmp_path, HEAD + ",sky", ROWS[0] + ",grey"))
    assert said(wind) == ["column sky is not read"]


def test_a_wind_table_names_no_place(tmp_path):
    read = read_forecast(written(tmp_path, HEAD, *ROWS), 47.5, -40.0)
    assert (read.kind, read.place_lat_deg, read.place_lon_deg) == ("wind CSV", 47.5, -40.0)
    assert math.isnan(read.distance_m)
    assert read.read == {"members": 1, "times": 2, "values": 6}
    assert said(read.wind) == ["it names no place; it is taken as told for the place asked for"]


TIDE = ("time_utc,height_m,kind", "2026-06-24T17:24Z,0.4,low", "2026-06-24T23:40Z,4.7,high")


def test_high_and_low_waters_are_read_as_turning_points(tmp_path):
    water = read_tide(written(tmp_path, *TIDE))
    assert water.turning
    np.testing.assert_allclose(water.height_m, [0.4, 4.7])
    assert str(water.time_utc[0]) == "2026-06-24T17:24:00"


def test_heights_without_a_kind_are_heights_in_a_row(tmp_path):
    water = read_tide(written(tmp_path, *(row.rpartition(",")[0] for row in TIDE)))
    assert not water.turning


def test_heights_may_stand_in_feet(tmp_path):
    rows = ("time_utc,height_ft", "2026-06-24T17:24Z,1", "2026-06-24T18:24Z,2")
    np.testing.assert_allclose(read_tide(written(tmp_path, *rows)).height_m, [0.3048, 0.6096])


def test_a_height_nobody_knows_is_said(tmp_path):
    rows = ("time_utc,height_m", "2026-06-24T17:24Z,1", "2026-06-24T18:24Z,", "2026-06-24T19:24Z,2")
    water = read_tide(written(tmp_path, *rows))
    assert math.isnan(water.height_m[1])
    assert [found.said for found in water.basis.findings] == ["height unknown in 1 of 3 rows"]


@pytest.mark.parametrize(
    ("rows", "kind", "sentence"),
    [
        (
            ["# nothing"],
            "Unreadable",
            "wind.csv: it is empty, a first row time_utc,wind_mps,gust_mps,from_deg[,member] "
            "wanted. See docs/files.md for an example.",
        ),
        (
            [HEAD],
            "Unreadable",
            "wind.csv: no row under the columns' names. Add the rows, one time each.",
        ),
        (
            ["time_utc,wind_mps,from_deg", "2026-06-24T19:00Z,5,157"],
            "BadInput",
            "wind.csv, line 1: no column gust_mps, it has time_utc, wind_mps, from_deg. "
            "Add it; values nobody knows may be left blank.",
        ),
        (
            ["wind_mps,gust_mps,from_deg", "5,6,157"],
            "BadInput",
            "wind.csv, line 1: no column time_utc, it has wind_mps, gust_mps, from_deg. Add it.",
        ),
        (
            [HEAD, ROWS[1], ROWS[0]],
            "BadInput",
            "wind.csv, line 3, time_utc: 2026-06-24T19:00:00Z under 2026-06-24T20:00:00Z, "
            "the times of one member rise. Put the rows in order of time.",
        ),
        (
            [HEAD, "2026-06-24T19:00Z,5,8,400"],
            "BadInput",
            "wind.csv, line 2, from_deg: 400, 0 to 360 wanted. Correct it.",
        ),
        (
            [HEAD, "2026-06-24T19:00Z,-5,8,157"],
            "BadInput",
            "wind.csv, line 2, wind_mps: -5, 0 to 120 wanted. Correct it.",
        ),
        (
            [HEAD, "2026-06-24T19:00Z,5,800,157"],
            "BadInput",
            "wind.csv, line 2, gust_mps: 800, 0 to 120 wanted. Correct it.",
        ),
        (
            [HEAD, "2026-06-24T19:00Z,5,south,157"],
            "BadInput",
            "wind.csv, line 2, gust_mps: 'south', a number wanted. "
            "Correct it, or leave it blank if nobody knows.",
        ),
        (
            [HEAD, "2026-06-24T19:00Z,5,inf,157"],
            "BadInput",
            "wind.csv, line 2, gust_mps: 'inf', a number wanted. "
            "Correct it, or leave it blank if nobody knows.",
        ),
        (
            [HEAD, "yesterday,5,8,157"],
            "BadInput",
            "wind.csv, line 2, time_utc: 'yesterday', a time wanted, like 2026-07-01T21:40:00Z. "
            "Correct it.",
        ),
        (
            [HEAD + ",member", ROWS[0] + ",1.5"],
            "BadInput",
            "wind.csv, line 2, member: '1.5', a whole number wanted. Correct it.",
        ),
    ],
)
def test_a_mistake_in_a_wind_table_is_answered_with_its_line(tmp_path, rows, kind, sentence):
    with pytest.raises(ShorefastError) as caught:
        read_wind_csv(written(tmp_path, *rows))
    assert (caught.value.kind, caught.value.sentence) == (kind, sentence)


@pytest.mark.parametrize(
    ("rows", "kind", "sentence"),
    [
        (
            [""],
            "Unreadable",
            "tide.csv: it is empty, a first row time_utc,height_m[,kind] wanted. "
            "See docs/files.md for an example.",
        ),
        (
            TIDE[:2],
            "Unreadable",
            "tide.csv: one row, at least two wanted. "
            "Give the water before and after the stay, or write level_m in [tide].",
        ),
        (
            ["time_utc,level", *("2026-06-24T17:24Z,1", "2026-06-24T18:24Z,1")],
            "BadInput",
            "tide.csv, line 1: no column height_m, it has time_utc, level. "
            "Add it; heights count from chart datum.",
        ),
        (
            [TIDE[0], TIDE[2], TIDE[1]],
            "BadInput",
            "tide.csv, line 3, time_utc: 2026-06-24T17:24:00Z under 2026-06-24T23:40:00Z, "
            "times rise. Put the rows in order of time, each time once.",
        ),
        (
            [*TIDE[:2], "2026-06-24T23:40Z,4.7,low"],
            "BadInput",
            "tide.csv, line 3, kind: low follows low, high and low waters take turns. "
            "Add the high water between them.",
        ),
        (
            [*TIDE[:2], "2026-06-24T23:40Z,0.2,high"],
            "BadInput",
            "tide.csv, line 3, height_m: high water 0.2 m after 0.4 m, a high water stands above "
            "the low waters beside it. Correct the height or the kind.",
        ),
        (
            [*TIDE[:2], "2026-06-24T23:40Z,4.7,flood"],
            "BadInput",
            "tide.csv, line 3, kind: 'flood', high or low wanted. "
            "Correct it, or leave the whole column out for heights in a row.",
        ),
        (
            [*TIDE[:2], "2026-06-24T23:40Z,470,high"],
            "BadInput",
            "tide.csv, line 3, height_m: 470, -30 to 30 wanted. Correct it.",
        ),
    ],
)
def test_a_mistake_in_a_tide_table_is_answered_with_its_line(tmp_path, rows, kind, sentence):
    with pytest.raises(ShorefastError) as caught:
        read_tide(written(tmp_path, *rows, name="tide.csv"))
    assert (caught.value.kind, caught.value.sentence) == (kind, sentence)


def test_a_table_that_is_no_text_says_so(tmp_path):
    path = tmp_path / "tide.csv"
    path.write_bytes(b"time_utc,height_m\n\xff\xfe\xfa,1\n")
    with pytest.raises(ShorefastError) as caught:
        read_tide(path)
    assert caught.value.sentence == (
        "tide.csv: it is not text, a CSV file wanted. Save it as CSV in UTF-8."
    )
