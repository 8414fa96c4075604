"""Logs kept under way: what is believed, what is left out and why."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from shorefast.basis import Basis
from shorefast.bay import Frame
from shorefast.errors import BadInput, Unreadable
from shorefast.readers.depths import Told
from shorefast.readers.nmea_depths import read_log, soundings_as_they_come
from shorefast.readers.nmea_fields import day_of, depth_of, fix_of, seconds_of_day
from shorefast.readers.nmea_sentence import Heard, checksum, lines_of, sentence_in, sentences
from shorefast.readers.track_told import Sailed
from shorefast.weather import WaterLevel

LOGS = Path(__file__).parents[2] / "files" / "logs"
FLAT = Sailed(0.0, transducer_m=0.5, keel_m=2.0, arm_m=(0.0, 0.0))


def _line(body: str) -> bytes:
    return f"${body}*{checksum(body.encode()):02X}".encode()


def _run(path: Path, count: int = 40, start_s: int = 43_200, day: str = "010726", depth=None):
    """A boat going north at 2 m/s, a fix and a depth a second."""
    rows = []
    for now in range(count):
        t = (start_s + now) % 86_400
        clock = f"{t // 3600:02d}{t // 60 % 60:02d}{t % 60:02d}"
        north = 2.0 * now / 1852.0
        rows.append(_line(f"GPRMC,{clock},A,60{north:07.4f},N,005{0:07.4f},E,3.9,0,{day},,,A"))
        rows.append(_line(depth(now) if depth else "SDDPT,5.0,0.5"))
    path.write_bytes(b"\r\n".join(rows))
    return path


# The checksum and the sentence are the recorder's own (gpsd's test data).
def test_a_checksum_is_the_recorders():
    raw = b"$ECGLL,5119.881,N,00125.169,E,164326,A,D*52"
    found = sentence_in(raw, 1, Heard())
    fix, why = fix_of(found)
    assert (found.kind, why) == (b"GLL", "")
    assert fix.lat_deg == pytest.approx(51 + 19.881 / 60) and fix.lon_deg > 1.4


@pytest.mark.parametrize(
    ("raw", "counts"),
    [
        (b"$SDDBT,7.7,f,2.3,M,1.3,F*05", (1, 0, 0, 0)),
        (b"$SDDBT,7.7,f,2.4,M,1.3,F*05", (0, 1, 0, 0)),
        (b"$SDDBT,7.7,f,2.3,M,1.3,F", (0, 0, 1, 0)),
        (b"\xb5b\x01\x07", (0, 0, 0, 1)),
        (b"\xb5b$SDDBT,$SDDBT,7.7,f,2.3,M,1.3,F*05\r", (1, 0, 0, 0)),
        (b"", (0, 0, 0, 0)),
    ],
)
def test_a_line_is_counted_as_what_it_is(raw, counts):
    heard = Heard()
    sentence_in(raw, 1, heard)
    assert (heard.good, heard.wrong, heard.bare, heard.unread) == counts


def test_small_letters_and_numeric_talkers_are_read():
    heard = Heard()
    list(sentences((LOGS / "lower_case_checksum.log").read_bytes().split(b"\n"), heard))
    assert (heard.good, heard.wrong) == (5, 0)
    found = list(sentences((LOGS / "numeric_talkers.log").read_bytes().split(b"\n"), Heard()))
    assert {one.talker for one in found} == {b"04", b"24", b"23", b"05"}


@pytest.mark.parametrize(
    ("body", "depth_m", "counted_from", "offset_m"),
    [
        (b"$SDDBT,7.7,f,,M,1.3,F", 2.34696, "transducer", None),
        (b"$SDDBS,,f,3.25,M,,F", 3.25, "surface", None),
        (b"$IIDPT,049.1,-1.0,", 49.1, "transducer", -1.0),
    ],
)
def test_a_depth_in_any_unit_is_metres(body, depth_m, counted_from, offset_m):
    found = depth_of(sentence_in(body, 1, Heard(), checked=False))
    assert found.depth_m == pytest.approx(depth_m) and found.counted_from == counted_from
    assert offset_m is None or found.offset_m == offset_m


def test_nonsense_in_a_field_is_no_number():
    assert np.isnan(seconds_of_day(b"256000")) and np.isnan(seconds_of_day(b"12a000"))
    assert day_of(b"310226") is None and day_of(b"010799") == date(1999, 7, 1).toordinal()
    for body in (b"$GPGLL,6160.0,N,00500.0,E,120000,A,A", b"$GPGLL,6100.0,X,00500.0,E,120000,A,A"):
        assert fix_of(sentence_in(body, 1, Heard(), checked=False))[1] == (
            "no position in the sentence"
        )


# Least and most: the numbers in the files plus 0.5 m, or plus their own offset above 0.
@pytest.mark.parametrize(
    ("name", "kept", "least_m", "most_m"),
    [
        ("binary_inside.txt", 11, 12.3, 13.5),
        ("depth_and_place_only.log", 29, 2.8, 2.9),
        ("hole_of_57_minutes.txt", 19, 11.1, 11.4),
        ("lost_bottom_leaving_berth.txt", 255, 3.1, 6.0),
        ("sentence_inside_sentence.log", 47, 1.0, 1.1),
    ],
)
def test_a_real_log_gives_its_depths_under_the_surface(name, kept, least_m, most_m):
    read = read_log(LOGS / name, Told(), FLAT)
    assert read.level_m.size == kept
    assert -read.level_m.max() == pytest.approx(least_m)
    assert -read.level_m.min() == pytest.approx(most_m)
    assert np.all(read.deviation_m > 0.2)


def test_leaping_depths_and_a_frozen_receiver_are_left_out_and_counted():
    leaps = dict(read_log(LOGS / "false_echoes_keel_offset.txt", Told(), FLAT).left_out)
    assert leaps["bottom lost: depths leap about"] >= 150
    assert leaps["fix: time stamp repeated"] == 173
    still = dict(read_log(LOGS / "frozen_clock.txt", Told(), FLAT).left_out)
    assert still["fix: the receiver froze (place and clock stood)"] >= 40


def test_a_track_that_begins_far_away_loses_its_beginning():
    told = Sailed(0.0, transducer_m=0.5, arm_m=(0.0, 0.0), checked=False)
    read = read_log(LOGS / "starts_far_away.txt", Told(), told)
    assert np.ptp(read.lat_deg) < 0.01
    assert "fix: too far from the others to have sailed there" in dict(read.left_out)


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        (
            "one_checksum_for_all.txt",
            "one_checksum_for_all.txt: 282 of 300 checksums are wrong or missing, so nothing in "
            "it is believed, the recorder writes them wrong or the wire is bad. Mend the "
            'recorder; or say checksums = "ignored" if you know the values are good.',
        ),
        (
            "cold_start.log",
            "cold_start.log: no position in 60 sentences (30 times the receiver says it has no "
            "fix), positions (RMC, GGA or GLL) and depths (DPT, DBT or DBS) wanted. Record both "
            "in one log.",
        ),
        (
            "mixed_nmea_and_binary.log",
            "mixed_nmea_and_binary.log: no depth in 15 sentences, positions (RMC, GGA or GLL) "
            "and depths (DPT, DBT or DBS) wanted. Record both in one log.",
        ),
    ],
)
def test_a_log_that_gives_nothing_says_why(name, sentence):
    with pytest.raises(Unreadable) as said:
        read_log(LOGS / name, Told(), FLAT)
    assert str(said.value) == sentence


@pytest.mark.parametrize(
    ("sailed", "sentence"),
    [
        (
            Sailed(0.0),
            "run.log, line 2: SDDPT counts from the transducer, how deep that is under the water "
            "nobody told. Give the boat with draught_m in [sounder].",
        ),
        (
            Sailed(None, transducer_m=0.5),
            "run.log: depths under the surface of the moment, how high the water stood nobody "
            "told. Give the tide (tide.csv with time_utc,height_m) or one level_m above chart "
            "datum for this log.",
        ),
    ],
)
def test_what_must_be_told_is_asked_for(tmp_path, sailed, sentence):
    path = _run(tmp_path / "run.log", depth=lambda _: "SDDPT,5.0,")
    with pytest.raises(BadInput) as said:
        read_log(path, Told(), sailed)
    assert str(said.value) == sentence


def _tide() -> WaterLevel:
    times = np.array(["2026-07-01T00:00", "2026-07-03T00:00"], "datetime64[s]")
    return WaterLevel(times, np.array([0.0, 4.8]), False, Basis())


def test_the_tide_of_the_minute_is_taken_off_and_the_day_turns_at_midnight(tmp_path):
    told = Sailed(_tide(), arm_m=(0.0, 0.0))
    read = read_log(_run(tmp_path / "run.log"), Told(), told)
    # noon: a quarter of the way from 0 to 4.8 m; transducer 0.5 m under the surface
    assert read.level_m[0] == pytest.approx(1.2 - 5.5, abs=0.002)
    night = _run(tmp_path / "night.log", start_s=86_390, day="")
    read = read_log(night, Told(), Sailed(_tide(), arm_m=(0.0, 0.0), day=date(2026, 7, 1)))
    assert read.level_m[[0, -1]] == pytest.approx([2.4 - 5.5, 2.4 - 5.5], abs=0.002)
    with pytest.raises(BadInput) as said:
        read_log(night, Told(), Sailed(_tide()))
    assert str(said.value) == (
        "night.log: no date in it, the tide changes from day to day. "
        'Say day = "2026-07-01", the UTC day of its first position.'
    )


def test_an_offset_to_the_keel_needs_her_draught(tmp_path):
    path = _run(tmp_path / "run.log", depth=lambda _: "SDDPT,5.0,-1.2")
    told = Sailed(0.0, keel_m=2.0, arm_m=(0.0, 0.0))
    assert np.all(read_log(path, Told(), told).level_m == pytest.approx(-5.8))


def test_the_transducer_ahead_of_the_antenna_moves_the_sounding_ahead(tmp_path):
    path = _run(tmp_path / "run.log")
    at, ahead = (read_log(path, Told(), Sailed(0.0, arm_m=arm)) for arm in ((0.0, 0.0), (8.0, 0.0)))
    east, north = Frame(60.0, 5.0).to_plane(ahead.lat_deg, ahead.lon_deg)
    _, was = Frame(60.0, 5.0).to_plane(at.lat_deg, at.lon_deg)
    assert north - was == pytest.approx(np.full(was.size, 8.0), abs=0.01)
    assert east == pytest.approx(np.zeros(was.size), abs=0.01)


def test_a_single_false_echo_goes_and_a_steep_bed_stays(tmp_path):
    steep = _run(tmp_path / "steep.log", depth=lambda now: f"SDDPT,{5 + 1.6 * now:.1f},0.5")
    assert read_log(steep, Told(), FLAT).level_m.size == 39
    echo = _run(tmp_path / "echo.log", depth=lambda now: f"SDDPT,{60.0 if now == 20 else 5.0},0.5")
    read = read_log(echo, Told(), FLAT)
    assert dict(read.left_out)["false echo: no slope explains the jump from its neighbours"] == 1
    assert np.all(read.level_m == pytest.approx(-5.5))


def test_a_feed_gives_each_sounding_once_as_the_file_does(tmp_path):
    path = _run(tmp_path / "run.log", count=300)
    raw = path.read_bytes()
    chunks = (raw[at : at + 37] for at in range(0, len(raw), 37))
    batches = list(soundings_as_they_come(lines_of(chunks), Told(), FLAT, Frame(60.0, 5.0)))
    assert len(batches) > 3
    whole = read_log(path, Told(), FLAT, Frame(60.0, 5.0))
    lat = np.concatenate([one.lat_deg for one in batches])
    assert lat == pytest.approx(whole.lat_deg, abs=1e-9)


def test_a_damaged_log_is_read_or_refused_and_never_counts_upwards(tmp_path):
    draw = np.random.default_rng(20)
    good = (LOGS / "depth_and_place_only.log").read_bytes()[:900]
    path = tmp_path / "bad.log"
    for turn in range(1000):
        bad = bytearray(good)
        for _ in range(int(draw.integers(1, 4))):
            a, b = sorted(draw.integers(0, len(bad) + 1, 2).tolist())
            if turn % 3 == 0:
                del bad[b:]
            elif turn % 3 == 1 and a < len(bad):
                bad[a] ^= int(draw.integers(1, 256))
            else:
                rows = bad.split(b"\n")
                i, j = draw.integers(0, len(rows), 2)
                rows[i], rows[j] = rows[j], rows[i]
                bad = bytearray(b"\n".join(rows))
        path.write_bytes(bad)
        try:
            read = read_log(path, Told(), FLAT)
        except (BadInput, Unreadable):
            continue
        assert np.all(read.level_m < 0.0) and np.all(read.lat_deg > 51.0)


def test_a_course_turns_the_arm_but_leaves_its_length_in_doubt(tmp_path):
    """Stern first her course is not her heading."""
    path = _run(tmp_path / "run.log")
    long_arm = replace(FLAT, arm_m=(6.0, 0.0))
    by_course, plain = read_log(path, Told(), long_arm), read_log(path, Told(), FLAT)
    rows = path.read_bytes().split(b"\r\n")
    rows = [part for row in rows for part in (_line("HEHDT,0.0,T"), row)]
    path.write_bytes(b"\r\n".join(rows))
    by_compass = read_log(path, Told(), long_arm)
    assert by_course.lat_deg == pytest.approx(by_compass.lat_deg, abs=1e-9)
    assert by_compass.deviation_m == pytest.approx(plain.deviation_m, abs=1e-9)
    # a level bed counts as 1 in 20; variances add: 2 slope2 (arm / sqrt 2)2
    more = np.square(by_course.deviation_m) - np.square(plain.deviation_m)
    assert more == pytest.approx((0.05 * 6.0) ** 2, rel=1e-6)
