"""A bay whose depths are a log kept under way, and points ashore from a file."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.bay import Frame
from shorefast.errors import BadInput
from shorefast.readers.bay_folder import read_bay
from shorefast.readers.depth_file import read_depths
from shorefast.readers.depths import Told
from shorefast.readers.nmea_sentence import checksum

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

    def write(more=""):
        (tmp_path / "bay.toml").write_text(BAY + more)
        return tmp_path

    return write


@pytest.mark.parametrize("told", ['tide = "tide.csv"\n', "level_m = 1.0\n"])
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
