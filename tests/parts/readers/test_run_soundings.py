"""Runs as a stay takes them: the hours of its tide, and what the person is told to do."""

from datetime import UTC, date, datetime, timedelta
from importlib import resources
from pathlib import Path

import numpy as np
import pytest

from shorefast.errors import BadInput, Unreadable
from shorefast.readers import outside_tide, read_run, read_runs, read_stay
from shorefast.readers.nmea_sentence import checksum

DEMO = Path(str(resources.files("shorefast") / "demo"))
EVENING = datetime(2026, 6, 24, 19, 20, tzinfo=UTC)
# the last hour of the tide table of the notch is 12:10 on the 25th
TIDE_ENDS = datetime(2026, 6, 25, 12, 10, tzinfo=UTC)


@pytest.fixture(scope="module")
def stay():
    return read_stay(DEMO / "grey_notch" / "stay.toml")


def _line(body, bad=False):
    return f"${body}*{checksum(body.encode()) ^ bad:02X}".encode()


def _log(path, stay, begun, count=60, dated=True, bad=False):
    """A fix and a depth a second on a course north at 2 knots through the notch."""
    rows = []
    for k in range(count):
        now = begun + timedelta(seconds=k)
        lat, lon = (float(one) for one in stay.bay.frame.to_earth(40.0, 30.0 + k))
        at = f"{int(lat):02d}{lat % 1 * 60:08.5f},N,{int(-lon):03d}{-lon % 1 * 60:08.5f},W"
        day = f"{now:%d%m%y}" if dated else ""
        rows.append(_line(f"GPRMC,{now:%H%M%S},A,{at},2.0,0.0,{day},,,A", bad))
        rows.append(_line("SDDPT,9.00,0.5", bad))
    path.write_bytes(b"\r\n".join(rows) + b"\r\n")
    return path


def test_soundings_after_the_tide_table_ends_are_left_out_and_counted(stay, tmp_path):
    run = _log(tmp_path / "late.log", stay, TIDE_ENDS - timedelta(seconds=30))
    read = read_runs([run], stay)
    dry = dict(read[0].left_out)["no height of water told for that moment"]
    # depths stand half a second after their fix and round to the full one
    assert dry in (28, 29, 30) and read[0].level_m.size + dry in (59, 60)
    assert [(one.where, one.said) for one in outside_tide(read, stay)] == [
        (
            "late.log",
            f"{dry} soundings left out: no height of water told for that moment"
            " (it is for 2026-06-24 17:24 to 2026-06-25 12:10 UTC)",
        )
    ]


def test_a_run_of_hours_without_tide_is_left_out_beside_a_good_one(stay, tmp_path):
    good = _log(tmp_path / "good.log", stay, EVENING)
    year = _log(tmp_path / "year.log", stay, EVENING.replace(year=2025))
    read = read_runs([year, good], stay)
    assert [one.level_m.size > 50 for one in read] == [False, True]
    assert [one.where for one in outside_tide(read, stay)] == ["year.log"]
    assert outside_tide(read[1:], stay) == ()


def test_only_where_no_run_is_left_it_is_refused_with_the_hours(stay, tmp_path):
    year = _log(tmp_path / "year.log", stay, EVENING.replace(year=2025))
    with pytest.raises(Unreadable) as refused:
        read_runs([year], stay)
    assert refused.value.sentence == (
        "year.log: all its 59 good soundings are of 2025-06-24 19:20 to 19:20 UTC, the height of"
        " the water is told for 2026-06-24 17:24 to 2026-06-25 12:10 UTC. Name a tide of those"
        " hours, or correct the day."
    )
    assert refused.value.kind == "Unreadable"


def test_runs_of_one_name_are_told_by_their_paths(stay, tmp_path):
    paths = []
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        paths.append(_log(tmp_path / name / "run.log", stay, EVENING))
    assert [one.name for one in read_runs(paths, stay)] == [str(path) for path in paths]


def test_a_log_without_a_date_asks_for_the_option_and_takes_it(stay, tmp_path):
    run = _log(tmp_path / "bare.log", stay, EVENING, dated=False)
    with pytest.raises(BadInput) as asked:
        read_run(run, stay)
    assert asked.value.sentence == (
        "bare.log: no date in it, the tide changes from day to day."
        " Add --day 2026-07-01, the UTC day of its first position."
    )
    assert read_run(run, stay, date(2026, 6, 24)).level_m.size > 50


def test_a_track_without_one_good_depth_says_why_not_that_it_has_no_times(stay, tmp_path):
    rows = [f"2026-06-24T19:20:{k:02d}Z,{stay.bay.frame.lat_deg},-40,0.0" for k in range(5)]
    path = tmp_path / "zero.csv"
    path.write_text("time_utc,lat_deg,lon_deg,depth_m\n" + "\n".join(rows) + "\n")
    with pytest.raises(Unreadable) as refused:
        read_run(path, stay)
    assert refused.value.sentence == (
        "zero.csv: no sounding in it can be believed (5 times depth 0: the sounder had no bottom;"
        " first zero.csv, line 2), soundings in a CSV track wanted. Look at the instruments, or"
        " leave this log out."
    )


def test_a_track_without_times_and_rows_of_heights_have_their_own_ways_out(stay, tmp_path):
    lat, lon = (
        np.asarray(one) for one in stay.bay.frame.to_earth(np.full(9, 40.0), np.arange(9.0))
    )
    points = [
        (f'<trkpt lat="{y:.7f}" lon="{x:.7f}">', "</trkpt>") for y, x in zip(lat, lon, strict=True)
    ]
    said = {
        "<depth>9.0</depth>": (
            "t.gpx: no times in it, the tide changes. Export it again with its times."
        ),
        "<ele>-9.0</ele>": (
            "t.gpx: 9 track points without a depth, heights -9 to -9 m, a GPX track with depths"
            ' wanted. Put it into the bay\'s folder, as [[depths]] of bay.toml with depth = "up",'
            " if those heights below 0 are depths."
        ),
    }
    for inside, sentence in said.items():
        track = "".join(begin + inside + end for begin, end in points)
        path = tmp_path / "t.gpx"
        path.write_text(f"<gpx><trk><trkseg>{track}</trkseg></trk></gpx>", encoding="utf-8")
        with pytest.raises((BadInput, Unreadable)) as asked:
            read_run(path, stay)
        assert asked.value.sentence == sentence


def test_wrong_checksums_point_to_where_they_can_be_ignored(stay, tmp_path):
    run = _log(tmp_path / "wire.log", stay, EVENING, bad=True)
    with pytest.raises(Unreadable) as refused:
        read_run(run, stay)
    assert refused.value.way_out == (
        "Mend the recorder; or put the log into the bay's folder, as [[depths]] of bay.toml with"
        ' checksums = "ignored", if you know the values are good.'
    )
