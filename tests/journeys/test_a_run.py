"""A run made ten minutes ago changes the judged lie: file, bed, verdict."""

import io
import json
import shutil
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

import shorefast
from shorefast.app.answer import to_json
from shorefast.app.listening import Feed
from shorefast.bay import Soundings
from shorefast.errors import BadInput, Unreadable
from shorefast.readers import read_run, read_stay
from shorefast.readers.nmea_sentence import checksum
from shorefast.stay import Run, judge, take_in
from shorefast.weather import level_at

DEMO = Path(shorefast.__file__).parent / "demo"
EVENING = datetime(2026, 6, 24, 19, 20, tzinfo=UTC)
WET = "2026-06-24T22:30:00Z"


@pytest.fixture(scope="module")
def notch(tmp_path_factory):
    """An evening in the notch, judged, and a course that crosses her keel."""
    folder = tmp_path_factory.mktemp("notch")
    shutil.copytree(DEMO / "grey_notch", folder, dirs_exist_ok=True)
    path = folder / "stay.toml"
    text = path.read_text(encoding="utf-8").replace("2026-06-25T12:00:00Z", WET)
    path.write_text(text, encoding="utf-8")
    stay = read_stay(path)
    judged = judge(stay)
    worst, rest = judged.judgement.worst, judged.judgement.rest
    heading = rest.heading_rad[worst]
    ahead = np.array([np.sin(heading), np.cos(heading)])
    keel = np.array([rest.east_m[worst], rest.north_m[worst]]) + 0.3 * ahead
    along = np.arange(-4.0, 60.0, 0.8)[:, None]
    return SimpleNamespace(
        path=path, stay=stay, judged=judged, keel=keel, course=keel + along * ahead
    )


def _line(body):
    return f"${body}*{checksum(body.encode()):02X}".encode()


def _degrees(value, wide, letters):
    whole, minutes = divmod(abs(value) * 60.0, 60.0)
    return f"{int(whole):0{wide}d}{minutes:08.5f},{letters[value < 0.0]}"


def write_run(path, stay, places, level_m, begun=EVENING, day=True, clock=True):
    """A fix and a depth a second, the sounder right over the given levels of the bed."""
    rows, boat = [], stay.boat
    course = np.arctan2(*(places[-1] - places[0]))
    # a depth is heard between two fixes, half a step after its own
    arm_m = boat.sounder.x_m - boat.antenna.x_m + 0.5 * np.hypot(*(places[1] - places[0]))
    antenna = places - arm_m * np.array([np.sin(course), np.cos(course)])
    for k, ((east, north), level) in enumerate(zip(antenna, level_m, strict=True)):
        now = begun + timedelta(seconds=k if clock else 0)
        lat, lon = (float(x) for x in stay.bay.frame.to_earth(east, north))
        at = f"{_degrees(lat, 2, 'NS')},{_degrees(lon, 3, 'EW')}"
        date = f"{now:%d%m%y}" if day else ""
        rows.append(
            _line(f"GPRMC,{now:%H%M%S},A,{at},1.6,{np.degrees(course) % 360.0:.1f},{date},,,A")
        )
        moment = np.array([now.replace(tzinfo=None)], "datetime64[s]")
        depth = float(level_at(stay.water, moment)[0]) - level
        rows.append(_line(f"SDDPT,{depth - boat.sounder.draught_m:.2f},{boat.sounder.draught_m}"))
    path.write_bytes(b"\r\n".join(rows) + b"\r\n")
    return path


def bed(notch, places):
    return notch.stay.bay.surface.level_at(places[:, 0], places[:, 1])


@pytest.fixture(scope="module")
def hump(notch):
    """A run over a hump nobody charted, 4 m high, right under her keel."""
    off = np.hypot(*(notch.course - notch.keel).T)
    level = bed(notch, notch.course) + 4.0 * np.exp(-0.5 * (off / 5.0) ** 2)
    return write_run(notch.path.parent / "hump.log", notch.stay, notch.course, level)


def told(answer):
    return json.loads(to_json(answer))


def test_a_hump_nobody_charted_makes_a_lie_that_held_touch(notch, hump):
    answer = shorefast.judge(notch.path, soundings=[hump])
    keys = told(answer)
    found = keys["soundings"]
    assert found["before"]["verdict"] == "holds" and keys["verdict"] != "holds"
    assert found["worst_use"] > 1.0 > found["before"]["worst_use"]
    keel = next(one for one in found["bed"] if one["of"] == "keel")
    assert keel["up_m"] > 1.0
    assert found["taken"] > 70 and found["files"][0]["file"] == "hump.log"
    least = {room["of"]: np.min(room["room_m"]) for room in keys["room"]}
    assert least["water under the keel"] < 0.5
    assert "Soundings of the run:" in answer.text and "without them: holds" in answer.text
    assert found["touches"] and not found["before"]["touches"]
    assert "; with them: no, she may touch" in answer.text and "9.90" not in answer.text


def test_the_answer_is_that_of_a_judge_who_kept_nothing(notch, hump):
    from shorefast.app.answers.run_soundings import with_runs

    live = with_runs(notch.stay, notch.judged, [hump], None)
    cold = judge(live.stay)
    for of in ("greatest_use", "share_past_limit"):
        one, other = getattr(cold.judgement, of), getattr(live.judged.judgement, of)
        assert np.array_equal(one, other, equal_nan=True)
    assert cold.judgement.basis == live.judged.judgement.basis
    assert np.array_equal(cold.ready.tables.node, live.judged.ready.tables.node, equal_nan=True)


def test_a_run_far_from_her_changes_nothing_of_the_answer(notch):
    grid = notch.stay.bay.surface.grid
    north = grid.south_m + (grid.level_m.shape[0] - 1) * grid.step_m - 60.0
    places = np.column_stack([np.linspace(40.0, 90.0, 50), np.full(50, north)])
    level = bed(notch, places)
    assert np.isfinite(level).all()
    run = write_run(notch.path.parent / "far.log", notch.stay, places, level + 0.2)
    with_it, without = (told(shorefast.judge(notch.path, soundings=some)) for some in ([run], []))
    assert with_it["soundings"]["taken"] > 40
    assert all(one["up_m"] == 0.0 for one in with_it["soundings"]["bed"])
    for key in ("verdict", "share_past_limit", "rest", "parts", "room"):
        assert with_it[key] == without[key]


def test_the_same_run_given_twice_counts_once(notch, hump):
    copy = shutil.copy(hump, hump.with_name("again.log"))
    from shorefast.app.answers.run_soundings import with_runs

    once = with_runs(notch.stay, notch.judged, [hump], None)
    twice = with_runs(once.stay, once.judged, [Path(copy)], None)
    assert twice.stay is once.stay and twice.judged is once.judged
    assert twice.total("taken") == 0 and twice.total("known_before") == once.total("taken")
    together = with_runs(notch.stay, notch.judged, [hump, hump], None)
    assert together.total("taken") == once.total("taken")


def test_a_run_that_is_off_all_along_is_told(notch):
    level = bed(notch, notch.course) + 1.2
    run = write_run(notch.path.parent / "off.log", notch.stay, notch.course, level)
    keys = told(shorefast.judge(notch.path, soundings=[run]))
    assert keys["soundings"]["all_alike"]
    assert keys["soundings"]["above_bed_m"] == pytest.approx(1.2, abs=0.05)
    said = [one["said"] for one in keys["findings"] if one["where"] == "off.log"]
    count = keys["soundings"]["taken"]
    assert (
        f"the run's depths lie 1.2 m under the bed's all along ({count} soundings):"
        " check tide, datum and the sounder's offset"
    ) in said


def test_of_two_runs_the_one_that_is_off_is_named(notch, hump):
    aside = notch.course[::-1] + np.array([9.0, -4.0])
    off = write_run(notch.path.parent / "off2.log", notch.stay, aside, bed(notch, aside) + 1.2)
    keys = told(shorefast.judge(notch.path, soundings=[hump, off]))
    said = {one["where"]: one["said"] for one in keys["findings"] if ".log" in one["where"]}
    assert list(said) == ["off2.log"] and "1.2 m under the bed's all along" in said["off2.log"]
    files = {one["file"]: one for one in keys["soundings"]["files"]}
    assert files["off2.log"]["all_alike"] and not files["hump.log"]["all_alike"]
    assert files["off2.log"]["above_bed_m"] == pytest.approx(1.2, abs=0.05)
    assert sum(one["taken"] for one in files.values()) == keys["soundings"]["taken"]


def test_hours_without_tide_are_left_out_of_a_run_and_told(notch):
    ends = datetime(2026, 6, 25, 12, 9, 30, tzinfo=UTC)
    level = np.full(len(notch.course), -9.0)
    # her depths are those of one minute before: the table tells no height after its end
    late = notch.path.parent / "late_hours.log"
    rows = write_run(late, notch.stay, notch.course, level, ends - timedelta(minutes=2))
    text = rows.read_bytes().split(b"\r\n")[:-1]
    moved = []
    for k, row in enumerate(text):
        now = ends + timedelta(seconds=k // 2)
        parts = row[1:-3].decode().split(",")
        parts[1] = f"{now:%H%M%S}" if parts[0] == "GPRMC" else parts[1]
        moved.append(_line(",".join(parts)))
    late.write_bytes(b"\r\n".join(moved) + b"\r\n")
    answer = shorefast.judge(notch.path, soundings=[late])
    found = told(answer)
    dry = next(one["count"] for one in found["soundings"]["files"][0]["left_out"]
               if one["why"] == "no height of water told for that moment")  # fmt: skip
    assert found["soundings"]["taken"] > 20 and dry > 20
    said = [one["said"] for one in found["findings"] if one["where"] == "late_hours.log"]
    assert f"{dry} soundings left out: no height of water told for that moment" in said[0]
    assert f"{dry} soundings left out: no height of water" in answer.text


def test_a_run_over_midnight_is_one_run(notch):
    level = bed(notch, notch.course)
    late = datetime(2026, 6, 24, 23, 59, 30, tzinfo=UTC)
    run = write_run(notch.path.parent / "late.log", notch.stay, notch.course, level, begun=late)
    found = told(shorefast.judge(notch.path, soundings=[run]))["soundings"]
    assert found["taken"] > 70 and not found["all_alike"]
    assert found["above_bed_m"] == pytest.approx(0.0, abs=0.05)


def test_south_and_west_a_run_lies_where_she_ran(tmp_path):
    folder = tmp_path / "sombras"
    shutil.copytree(DEMO / "tres_sombras", folder)
    stay = read_stay(folder / "stay.toml")
    have = stay.bay.soundings
    nearest = np.argsort(np.hypot(have.east_m, have.north_m))[0]
    middle = np.array([have.east_m[nearest], have.north_m[nearest]])
    places = middle + np.column_stack([np.arange(-20.0, 20.0, 0.8), np.zeros(50)])
    level = stay.bay.surface.level_at(places[:, 0], places[:, 1])
    deep = np.isfinite(level) & (level < -2.0)
    run = write_run(folder / "run.log", stay, places[deep], level[deep], begun=stay.from_utc)
    from shorefast.app.answers.run_soundings import with_runs

    live = with_runs(stay, judge(stay), [run], None)
    assert live.total("taken") > 10 and live.total("outside") == 0
    assert live.taken[0].above_bed_m == pytest.approx(0.0, abs=0.1)


@pytest.mark.parametrize(
    ("shift_m", "day", "given", "said"),
    [
        (9_000.0, True, None, "soundings lie outside the bay, the nearest"),
        (0.0, False, None, "Add --day 2026-07-01, the UTC day of its first position."),
        (0.0, True, "24 June", "--day: '24 June', a date like 2026-07-01 wanted. Correct it."),
    ],
)
def test_a_run_that_cannot_be_used_says_why(notch, shift_m, day, given, said):
    places = notch.course + shift_m
    level = np.full(len(places), -9.0)
    run = write_run(notch.path.parent / "odd.log", notch.stay, places, level, day=day)
    with pytest.raises(BadInput) as found:
        shorefast.judge(notch.path, soundings=[run], day=given)
    assert said in found.value.sentence


def test_a_log_of_another_year_has_no_tide(notch):
    level = np.full(len(notch.course), -9.0)
    begun = EVENING.replace(year=2025)
    run = notch.path.parent / "year.log"
    lines = write_run(run, notch.stay, notch.course, level, begun=EVENING).read_bytes()
    fixed = [
        _line(row[1:-3].decode().replace(f"{EVENING:%d%m%y}", f"{begun:%d%m%y}"))
        for row in lines.split(b"\r\n")[:-1]
    ]
    run.write_bytes(b"\r\n".join(fixed))
    with pytest.raises((BadInput, Unreadable)):
        shorefast.judge(notch.path, soundings=[run])


def test_a_frozen_clock_and_a_file_without_positions_say_so(notch):
    level = bed(notch, notch.course)
    folder = notch.path.parent
    stuck = write_run(folder / "stuck.log", notch.stay, notch.course, level, clock=False)
    with pytest.raises(Unreadable):
        shorefast.judge(notch.path, soundings=[stuck])
    blind = folder / "blind.log"
    blind.write_bytes(b"\r\n".join(_line("SDDPT,5.0,0.5") for _ in range(50)))
    with pytest.raises(Unreadable, match="RMC, GGA or GLL"):
        shorefast.judge(notch.path, soundings=[blind])


def test_rows_without_a_time_are_no_run(notch):
    rows = notch.path.parent / "rows.csv"
    rows.write_text("east_m,north_m,depth_m\n1,2,3\n", encoding="utf-8")
    with pytest.raises(BadInput) as found:
        shorefast.judge(notch.path, soundings=[rows])
    assert found.value.sentence == (
        "rows.csv: no log kept under way, an NMEA 0183 log, a GPX track or rows with time_utc"
        " wanted. Put other depths into the bay's folder, as [[depths]] of bay.toml."
    )


def test_a_feed_is_judged_as_it_comes(notch, hump, monkeypatch):
    feed = SimpleNamespace(buffer=io.BytesIO(hump.read_bytes()))
    monkeypatch.setattr("sys.stdin", feed)
    lines = []
    keys = told(shorefast.judge(notch.path, soundings=["-"], say=lines.append))
    assert len(lines) == 1 and "soundings in" in lines[0]
    assert keys["soundings"]["before"]["verdict"] == "holds" and keys["verdict"] != "holds"


@pytest.mark.parametrize("beside", [False, True])
def test_a_feed_without_a_sounding_is_told(notch, hump, monkeypatch, beside):
    monkeypatch.setattr("sys.stdin", SimpleNamespace(buffer=io.BytesIO(b"\r\n")))
    with pytest.raises(BadInput) as found:
        shorefast.judge(notch.path, soundings=[hump, "-"] if beside else ["-"])
    assert found.value.sentence.startswith("Standard input: no sounding came that can be believed")


def test_a_feed_of_hours_without_tide_is_told_with_its_count(notch, monkeypatch):
    level = bed(notch, notch.course)
    run = notch.path.parent / "other_day.log"
    write_run(run, notch.stay, notch.course, level, day=False)
    monkeypatch.setattr("sys.stdin", SimpleNamespace(buffer=io.BytesIO(run.read_bytes())))
    with pytest.raises(BadInput) as found:
        shorefast.judge(notch.path, soundings=["-"], day="2026-06-20")
    assert found.value.sentence == (
        "Standard input: no sounding came that can be believed (1 left out: no fix at that moment;"
        " 79 left out: no height of water told for that moment), an NMEA 0183 feed with positions"
        " and depths wanted. Look at what is sent."
    )


def test_a_feed_that_falls_quiet_is_judged_then_and_again_at_its_end(notch, hump, monkeypatch):
    rows = hump.read_bytes().splitlines(keepends=True)
    said, heard_when_quiet = [], []

    def stream():
        yield from rows[: len(rows) // 2]
        for _ in range(600):
            time.sleep(0.1)
            if said:
                break
        heard_when_quiet.extend(said)
        yield from rows[len(rows) // 2 :]

    monkeypatch.setattr("sys.stdin", SimpleNamespace(buffer=stream()))
    monkeypatch.setattr(Feed.__init__, "__defaults__", (0.3,))
    answer = shorefast.judge(notch.path, soundings=["-"], say=said.append)
    assert len(heard_when_quiet) == 1 and len(said) == 2
    assert said[1].startswith(f"{told(answer)['soundings']['taken']} soundings in (+")


def test_tables_that_the_run_did_not_touch_are_taken_over(notch, monkeypatch):
    """A run right beside the chain: some rows of its tables are filled anew, not all."""
    from shorefast.mooring import line_tables

    taken_over = []
    plain = line_tables._take_over

    def counted(*given):
        taken_over.append(plain(*given))
        return taken_over[-1]

    aside = notch.keel + np.array([18.0, -8.0])
    east, north = (aside[axis] + np.linspace(-3.0, 3.0, 20) for axis in (0, 1))
    level = notch.stay.bay.surface.level_at(east, north) + 0.4
    new = Soundings(east, north, level, np.full(20, 0.2))
    after = take_in(notch.stay, [Run("run", new)]).stay
    monkeypatch.setattr(line_tables, "_take_over", counted)
    warm, cold = judge(after, notch.judged), judge(after)
    assert 2 < taken_over[0].sum() < taken_over[0].size and not taken_over[-1].any()
    assert np.array_equal(warm.ready.tables.node, cold.ready.tables.node, equal_nan=True)
    one, other = (j.judgement.greatest_use for j in (warm, cold))
    assert np.array_equal(one, other, equal_nan=True)


def test_the_sheet_is_drawn_on_the_bed_with_the_run(notch, hump, tmp_path):
    plain, drawn = (
        shorefast.sheet(notch.path, tmp_path / name, "print", some)
        for name, some in (("plain", []), ("run", [hump]))
    )
    assert plain.keys["verdict"] == "holds" != drawn.keys["verdict"]
    svg = [(tmp_path / name / "sheet.svg").read_text(encoding="utf-8") for name in ("plain", "run")]
    assert svg[0] != svg[1]
    with pytest.raises(BadInput) as found:
        shorefast.sheet(notch.path, tmp_path, "print", ["-"])
    assert found.value.sentence == (
        "--soundings: a feed, a sheet is drawn once. Name the file of a run."
    )


def test_a_track_or_timed_rows_are_a_run_too(notch):
    places = notch.course[::-1]
    level = bed(notch, places)
    moments = [EVENING + timedelta(seconds=k) for k in range(len(places))]
    water = level_at(notch.stay.water, np.array([m.replace(tzinfo=None) for m in moments], "M8[s]"))
    lat, lon = notch.stay.bay.frame.to_earth(places[:, 0], places[:, 1])
    told_at = list(zip(moments, lat, lon, water - level, strict=True))
    folder = notch.path.parent
    rows = [f"{m:%Y-%m-%dT%H:%M:%SZ},{x:.8f},{y:.8f},{d:.2f}" for m, y, x, d in told_at]
    (folder / "rows_timed.csv").write_text(
        "\n".join(["time_utc,lon_deg,lat_deg,depth_m", *rows]), encoding="utf-8"
    )
    points = [
        f'<trkpt lat="{y:.8f}" lon="{x:.8f}"><time>{m:%Y-%m-%dT%H:%M:%SZ}</time>'
        f"<extensions><depth>{d:.2f}</depth></extensions></trkpt>"
        for m, y, x, d in told_at
    ]
    (folder / "track.gpx").write_text(
        '<gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1"><trk><trkseg>'
        + "".join(points) + "</trkseg></trk></gpx>",
        encoding="utf-8",
    )  # fmt: skip
    for name in ("track.gpx", "rows_timed.csv"):
        found = take_in(
            notch.stay,
            [Run(name, read_run(folder / name, notch.stay).in_frame(notch.stay.bay.frame))],
        )
        # no heading is told, so the places stay as they were written; depths to 0.01 m
        assert found.taken > 60 and not found.outside
        assert abs(found.above_bed_m) < 0.01
