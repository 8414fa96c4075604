"""A bay whose depths are a log kept under way, and points ashore from a file."""

from __future__ import annotations

import json
import math
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from shorefast.bay import Frame
from shorefast.errors import BadInput, Unreadable
from shorefast.readers.bay_folder import read_bay
from shorefast.readers.depth_file import read_depths
from shorefast.readers.depths import Told
from shorefast.readers.nmea_sentence import checksum
from shorefast.readers.tide_json import TideAsked, read_tide_json
from shorefast.readers.tide_of_run import read_tide_of_run
from shorefast.readers.toml_file import parse_toml
from shorefast.weather import level_at

STATIONS = Path(__file__).parents[2] / "files" / "tide" / "two_stations.json"
FRAME = Frame(60.0, 5.0)
BAY = """name = "Cove"
lat_deg = 60.0
lon_deg = 5.0
zone = "Europe/Oslo"
chart_datum = "LAT"
bottom = "mud"
[[depths]]
file = "run.log"
"""
# Twice a day by the mean sun, high at midnight and noon UTC: S2 with no lag on Greenwich
# (Schureman, Special Publication 98, table 2: its argument is 2T, its node factor 1).
STATION = {
    "name": "Head", "latitude": 60.0, "units": "m", "chart_datum": "LAT",
    "datums": {"MSL": 3.0, "LAT": 2.4},
    "harmonic_constituents": [{"name": "S2", "amplitude": 0.4, "phase": 0.0}],
}  # fmt: skip
SEEN = [{"t": f"2026-07-01 {hour}:00", "v": "1.0"} for hour in (13, 14, 15)]
TIDE = "time_utc,height_m\n2026-07-01T11:00:00Z,1.0\n2026-07-01T14:00:00Z,1.0\n"


def _line(body: str) -> bytes:
    return f"${body}*{checksum(body.encode()):02X}".encode()


def _angle(deg: float, wide: int) -> str:
    whole = int(deg)
    return f"{whole:0{wide}d}{60.0 * (deg - whole):08.5f}"


def _run(path, tracks=9, spacing_m=6.0, length_m=80.0):
    """To and fro at 2 m/s over a bed that falls one in ten to the east, 5 m at the west edge."""
    rows, t = [], 43_200
    for track in range(tracks):
        along = np.arange(-0.5 * length_m, 0.5 * length_m, 2.0)
        for north in along if track % 2 == 0 else along[::-1]:
            east = spacing_m * track
            lat, lon = FRAME.to_earth(np.array([east]), np.array([north]))
            clock = f"{t // 3600:02d}{t // 60 % 60:02d}{t % 60:02d}"
            place = f"{_angle(float(lat[0]), 2)},N,{_angle(float(lon[0]), 3)},E"
            rows.append(_line(f"GPRMC,{clock},A,{place},3.9,0,010726,,,A"))
            rows.append(_line(f"SDDPT,{5.5 + 0.1 * east:.2f},0.5"))
            t += 1
        t += 6
    path.write_bytes(b"\r\n".join(rows))


@pytest.fixture
def folder(tmp_path):
    _run(tmp_path / "run.log")
    (tmp_path / "tide.csv").write_text(TIDE)
    (tmp_path / "head.json").write_text(json.dumps([STATION]))
    (tmp_path / "seen.json").write_text(json.dumps({"data": SEEN}))

    def write(more=""):
        (tmp_path / "bay.toml").write_text(BAY + more)
        return tmp_path

    return write


WATERS = [
    'tide = "tide.csv"\n',
    'tide = {file = "tide.csv"}\n',
    'tide = "head.json"\n',
    # the clock of the row is two hours ahead: 14:00 there is noon
    'tide = {file = "seen.json", unit = "m", datum = "LAT", utc_offset_h = 2}\n',
    '[depths.tide]\nfile = "head.json"\nstation = "Head"\nmean_level_m = 0.4\nsurge_m = 0.2\n',
    # 20 hPa below 1013.25 lift the water 0.2 m
    'tide = {file = "head.json", mean_level_m = 0.4, pressure_hpa = 993.25}\n',
    "tide = {level_m = 1.0}\n",
    "level_m = 1.0\n",
]


@pytest.mark.parametrize("told", WATERS)
def test_a_log_is_brought_to_datum_by_the_water_of_its_minute(folder, told):
    bay = read_bay(folder(told))
    # sounded 6 m below the surface at the west edge with 1 m of water above datum: 5 m charted
    for east in (0.0, 24.0, 48.0):
        level = float(bay.surface.level_at(east, 0.0))
        assert level == pytest.approx(-(5.0 + 0.1 * east), abs=0.15)


def test_a_log_in_a_bay_asks_for_the_height_of_the_water(folder):
    with pytest.raises(BadInput) as said:
        read_bay(folder())
    assert "level_m" in str(said.value)


def test_what_the_water_of_a_run_rests_on_is_told(folder):
    place = folder('tide = "head.json"\n')
    parts = [*STATION["harmonic_constituents"], {"name": "XX9", "amplitude": 0.02, "phase": 0.0}]
    (place / "head.json").write_text(json.dumps([{**STATION, "harmonic_constituents": parts}]))
    said = [one.said for one in read_bay(place).basis.findings if one.where == "run.log"]
    assert (
        "The water is the tide alone, predicted from the constants of Head (arguments by utide)"
        in said
    )
    assert "head.json: parts of the tide not known here and left out: XX9 (2.0 cm)" in said


def test_a_run_before_the_observed_heights_begin_is_counted_as_without_water(folder):
    place = folder('tide = {file = "seen.json", unit = "m", datum = "LAT", utc_offset_h = -1}\n')
    with pytest.raises(Unreadable) as said:
        read_bay(place)
    assert "359 times no height of water told for that moment" in str(said.value)


def test_every_year_of_a_run_has_its_own_parts_of_the_tide():
    text = f'[[depths]]\ntide = {{file = "{STATIONS.name}", station = "Seattle", unit = "m"}}\n'
    (table,) = parse_toml(text, "bay.toml").tables("depths")
    times = np.array(["2014-12-31T23:30", "0001-01-01", "2015-01-01T00:30"], "datetime64[s]")
    found = read_tide_of_run(table, STATIONS.parent)(times)
    for at in (0, 2):
        hour = datetime.fromisoformat(str(times[at])).replace(tzinfo=UTC)
        asked = TideAsked(hour, hour, "a stay", station="Seattle", unit="m")
        water, _ = read_tide_json(STATIONS, asked)
        # what a stay of that very hour is told
        assert found[at] == level_at(water, times[at : at + 1])[0]
    # a year of a broken clock has no water
    assert np.isnan(found[1])


TIDES_REFUSED = [
    ('tide = "none.csv"\n', BadInput,
     "{folder}/none.csv: no such file, the tide of bay.toml, line 9, [depths.tide] file wanted."
     " Correct the path."),
    ('tide = "two.json"\n', BadInput,
     "bay.toml, line 9, [depths.tide]: 2 stations in two.json, one of Head, Foot wanted."
     ' Add station = "..." to [tide].'),
    ('[depths.tide]\nfile = "tide.csv"\nstation = "Head"\n', BadInput,
     "bay.toml, line 11, [depths.tide] station: station, only a JSON file of a tide station has a"
     " use for it. Take it out."),
    ("tide = 3\n", BadInput,
     "bay.toml, line 9, [[depths]] 1 tide: tide, a table [tide] wanted. Correct it."),
    ('tide = {file = "head.json", stations = 2}\n', BadInput,
     "bay.toml, line 9, [depths.tide] stations: stations is not known here. Did you mean station?"),
]  # fmt: skip


@pytest.mark.parametrize(("told", "kind", "sentence"), TIDES_REFUSED)
def test_a_tide_of_a_run_that_cannot_be_is_refused(folder, told, kind, sentence):
    place = folder(told)
    (place / "two.json").write_text(json.dumps([STATION, {**STATION, "name": "Foot"}]))
    with pytest.raises(kind) as said:
        read_bay(place)
    assert str(said.value) == sentence.format(folder=place)


def test_tide_and_level_together_are_refused(folder):
    with pytest.raises(BadInput) as said:
        read_bay(folder('tide = "tide.csv"\nlevel_m = 1.0\n'))
    assert str(said.value) == (
        "bay.toml, line 9, [[depths]] 1 tide: a tide and a level, one of them wanted. Take one out."
    )


def test_a_day_that_is_none_is_refused(folder):
    with pytest.raises(BadInput) as said:
        read_bay(folder('level_m = 1.0\nday = "yesterday"\n'))
    assert str(said.value).endswith("'yesterday', a date like 2026-07-01 wanted. Correct it.")


def test_a_tide_told_of_a_grid_is_refused(folder):
    place = folder('level_m = 1.0\ndepth = "down"\n')
    rows = [f"{e},{n},{5 + 0.1 * e:.2f}" for e in range(0, 60, 5) for n in range(-30, 31, 5)]
    (place / "s.csv").write_text("east_m,north_m,depth_m\n" + "\n".join(rows) + "\n")
    text = (place / "bay.toml").read_text().replace("run.log", "s.csv")
    (place / "bay.toml").write_text(text)
    with pytest.raises(BadInput) as said:
        read_bay(place)
    assert "s.csv is no log kept under way" in str(said.value)


def test_a_bare_log_is_shown_as_it_was_sounded(folder):
    read = read_depths(folder() / "run.log", Told())
    assert read.kind == "NMEA 0183 log"
    assert read.datum == "surface of the moment, not reduced"
    assert float(read.level_m.max()) == pytest.approx(-6.0, abs=0.01)


def test_points_ashore_come_from_a_file_beside_those_by_hand(folder):
    place = folder(
        'level_m = 1.0\n[[point]]\nfile = "points.csv"\n'
        '[[point]]\nname = "ring"\nkind = "ring"\neast_m = -5\nnorth_m = 0\nheight_m = 2\n'
        'strength_kn = 20\nstrength_source = "harbour office"\nremark = "rusty"\n'
    )
    rows = "name,kind,east_m,north_m,height_m,remark\npine,tree,-8,10,3,roots deep\n"
    (place / "points.csv").write_text(rows)
    points = {one.name: one for one in read_bay(place).points}
    assert points["pine"].kind == "tree" and points["pine"].remark == "roots deep"
    assert points["ring"].strength_source == "harbour office"
    assert points["ring"].remark == "rusty"
    assert math.isclose(points["pine"].height_m, 3.0)


def test_a_point_twice_is_refused_whichever_file_it_is_in(folder):
    place = folder(
        'level_m = 1.0\n[[point]]\nname = "pine"\nkind = "tree"\neast_m = -8\nnorth_m = 0\n'
        'height_m = 2\n[[point]]\nfile = "points.csv"\n'
    )
    rows = "name,kind,east_m,north_m,height_m\npine,tree,-8,10,3\n"
    (place / "points.csv").write_text(rows)
    with pytest.raises(BadInput) as said:
        read_bay(place)
    assert "a second point 'pine', names must differ. Give it another." in str(said.value)
