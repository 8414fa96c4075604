"""Depths along GPX tracks and in CSV rows with times."""

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from shorefast.basis import Basis
from shorefast.errors import BadInput, Unreadable
from shorefast.readers.depth_file import read_depths
from shorefast.readers.depths import Told
from shorefast.readers.track_csv import read_track_csv
from shorefast.readers.track_gpx import read_gpx
from shorefast.readers.track_told import Sailed
from shorefast.weather import WaterLevel

LOGS = Path(__file__).parents[2] / "files" / "logs"
OUT = (
    ", a GPX track with depths wanted. Export it again as GPX with depths, or give CSV with "
    "time_utc,lat_deg,lon_deg,depth_m."
)
TIMES = np.array(["2026-07-01T00:00", "2026-07-02T00:00"], "datetime64[s]")
TIDE = WaterLevel(TIMES, np.array([0.0, 2.4]), False, Basis())


def _gpx(path: Path, point: str) -> Path:
    points = "".join(
        f'<trkpt lat="{60 + n * 2e-5:.6f}" lon="5.0">'
        f"<time>2026-07-01T12:00:{n:02d}Z</time>{point}</trkpt>"
        for n in range(30)
    )
    path.write_text(
        '<gpx xmlns="http://www.topografix.com/GPX/1/1" xmlns:any="urn:any"><trk><trkseg/>'
        f"<trkseg>{points}</trkseg></trk></gpx>",
        encoding="utf-8",
    )
    return path


def test_a_depth_in_any_extension_is_reduced_by_the_tide(tmp_path):
    path = _gpx(tmp_path / "t.gpx", "<extensions><any:Depth>6.0</any:Depth></extensions>")
    read = read_gpx(path, Told(), Sailed(TIDE, arm_m=(0.0, 0.0)))
    assert read.level_m.size == 30 and np.all(read.level_m == pytest.approx(1.2 - 6.0, abs=1e-3))
    assert read.notes[0] == "depths taken as under the surface: a GPX file does not say"


def test_heights_below_nought_are_depths_only_if_the_person_says_so(tmp_path):
    path = _gpx(tmp_path / "t.gpx", "<ele>-6.0</ele>")
    with pytest.raises(Unreadable) as said:
        read_gpx(path, Told(), Sailed(0.0))
    assert str(said.value) == (
        "t.gpx: 30 track points without a depth, heights -6 to -6 m, a GPX track with depths "
        "wanted. Say depth up if those heights below 0 are depths."
    )
    assert np.all(read_gpx(path, Told(depth="up"), Sailed(0.0)).level_m == -6.0)


@pytest.mark.parametrize(
    ("name", "got"),
    [
        (
            "track-with-empty-segment.gpx",
            "9 track points without a depth, heights 192 to 192 m: a track on land",
        ),
        ("route.gpx", "no track point in it (points: 55 of a route, 0 single ones)"),
        ("unicode_with_bom.gpx", "no track point in it (points: 0 of a route, 1 single ones)"),
    ],
)
def test_a_track_without_depths_says_what_it_is(name, got):
    with pytest.raises(Unreadable) as said:
        read_gpx(LOGS / name, Told(), Sailed(0.0))
    assert str(said.value) == f"{name}: {got}{OUT}"


def test_entities_are_refused_unread(tmp_path):
    path = tmp_path / "t.gpx"
    path.write_text('<!DOCTYPE gpx [<!ENTITY a SYSTEM "file:///etc/passwd">]><gpx>&a;</gpx>')
    with pytest.raises(Unreadable) as said:
        read_gpx(path, Told(), Sailed(0.0))
    assert str(said.value) == (
        "t.gpx: it cannot be read as GPX (line 1: a document type or entity in it)" + OUT
    )


def test_rows_with_times_are_reduced_and_bad_ones_counted(tmp_path):
    rows = [f"2026-07-01T12:00:{n:02d}Z,{60 + n * 2e-5:.6f},5.0,20" for n in range(30)]
    rows[3] = "later,60.0,5.0,20"
    rows[4] = rows[5]
    path = tmp_path / "t.csv"
    path.write_text("time_utc,lat_deg,lon_deg,below_keel_ft\n" + "\n".join(rows))
    read = read_track_csv(path, Told(), Sailed(TIDE, keel_m=2.0, arm_m=(0.0, 0.0)))
    assert read.level_m[0] == pytest.approx(1.2 - 20 * 0.3048 - 2.0, abs=1e-3)
    assert read.left_out == (("a row that cannot be read", 1), ("time stamp repeated", 1))
    with pytest.raises(BadInput) as said:
        read_track_csv(path, Told(), Sailed(0.0))
    assert str(said.value) == (
        "t.csv: depths count from the keel, how deep that is under the water nobody told. "
        "Give the boat with draught_m in [hull]."
    )


@pytest.mark.parametrize("middle_deg", [90.0, 180.0])
def test_a_run_over_the_date_line_is_as_good_as_any(tmp_path, middle_deg):
    """Half the places on either side of it: their plain median lies half round the earth."""
    path = tmp_path / "t.csv"
    rows = [
        f"2026-07-01T12:{n // 30:02d}:{2 * n % 60:02d}Z,0.1,{_east(middle_deg, n):.6f},8,90"
        for n in range(60)
    ]
    path.write_text("time_utc,lat_deg,lon_deg,depth_m,heading_deg\n" + "\n".join(rows))
    read = read_track_csv(path, Told(), Sailed(0.5, arm_m=(0.0, 5.0)))
    assert read.level_m.size == 60 and read.left_out == ()
    # 5 m to starboard of a boat heading east; a degree there is 110 574 m on WGS 84
    assert (0.1 - read.lat_deg) * 110_574.0 == pytest.approx(5.0, abs=0.01)
    assert read.lon_deg == pytest.approx([_east(middle_deg, n) for n in range(60)], abs=1e-6)


def _east(middle_deg: float, n: int) -> float:
    return (middle_deg - 0.00118 + 0.00004 * n + 180.0) % 360.0 - 180.0


def test_a_track_without_times_asks_for_them_and_not_for_a_day(tmp_path):
    path = _gpx(tmp_path / "t.gpx", "<depth>6.0</depth>")
    path.write_text(path.read_text().replace("time>", "when>"))
    with pytest.raises(BadInput) as said:
        read_gpx(path, Told(), Sailed(TIDE, day=date(2026, 7, 1)))
    assert str(said.value) == (
        "t.gpx: no times in it, the tide changes. Export it again with its times, or give one "
        "level_m for all of it instead of the tide."
    )


def test_rows_with_times_but_no_water_are_taken_as_charted_and_it_is_said(tmp_path):
    path = tmp_path / "t.csv"
    path.write_text("time_utc,lat_deg,lon_deg,depth_m\n2026-07-01T12:00:00Z,60.0,5.0,8.0\n")
    read = read_depths(path, Told())
    assert (read.level_m[0], read.notes) == (
        -8.0,
        (
            "its rows have times, yet no height of the water was told: its depths are taken as "
            "charted ones; if they count from the surface of the moment, give a tide or a level",
        ),
    )
