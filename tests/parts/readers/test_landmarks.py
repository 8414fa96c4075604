"""What there is to look at: marks of bay.toml and of a chart."""

from __future__ import annotations

import importlib.util
import shutil
from pathlib import Path

import pytest

import shorefast
from shorefast.errors import BadInput
from shorefast.readers import read_bay
from shorefast.readers.chart_file import read_chart
from shorefast.readers.depths import Told

FILES = Path(__file__).parents[2] / "files" / "charts"
SPEC = importlib.util.spec_from_file_location("write_cell_marks", FILES / "write_cell.py")
WRITE = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(WRITE)
COVE = Path(shorefast.__file__).parent / "demo" / "stone_spur" / "bay"


@pytest.fixture
def bay(tmp_path):
    shutil.copytree(COVE, tmp_path, dirs_exist_ok=True)
    return tmp_path


def with_marks(bay, text):
    file = bay / "bay.toml"
    file.write_text(file.read_text(encoding="utf-8") + text, encoding="utf-8")
    return read_bay(bay)


def test_a_mark_is_read_with_its_place_height_and_light(bay):
    read = with_marks(
        bay,
        '\n[[mark]]\nname = "boathouse"\neast_m = 40\nnorth_m = 120\nheight_m = 3\nlit = true\n'
        '\n[[mark]]\nname = "lone pine"\neast_m = 40\nnorth_m = 160\n',
    )
    house, pine = read.landmarks
    assert (house.name, house.east_m, house.north_m, house.height_m, house.lit) == (
        "boathouse", 40.0, 120.0, 3.0, True,
    )  # fmt: skip
    assert (pine.height_m, pine.lit) == (None, False)


def test_no_marks_are_no_marks(bay):
    assert read_bay(bay).landmarks == ()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            '\n[[mark]]\nname = "x"\neast_m = 1\nnorth_m = 2\n[[mark]]\nname = "x"\neast_m = 3\n'
            "north_m = 4\n",
            "a second mark 'x', names must differ. Give it another.",
        ),
        (
            '\n[[mark]]\nname = "x"\neast_m = 1\n',
            "no whole place, lat_deg and lon_deg, or east_m and north_m wanted. Give one pair.",
        ),
    ],
)
def test_a_mark_that_cannot_be_is_refused(bay, text, said):
    with pytest.raises(BadInput) as trouble:
        with_marks(bay, text)
    assert trouble.value.sentence.endswith(said)


def test_of_a_chart_a_light_on_a_beacon_is_told_as_the_beacons(tmp_path):
    cell = WRITE.Writing("ZZ5COVE8.000", 0, number=2, edition=1, changes=False)
    cell.point(30, "UWTROC", 59.5050, 5.2071, VALSOU="0", WATLEV="5")
    cell.point(60, "BCNLAT", 59.5085, 5.2101, OBJNAM="Inner perch")
    cell.point(61, "LIGHTS", 59.5085, 5.2101)
    cell.point(62, "LNDMRK", 59.5095, 5.2101)
    cell.point(63, "LIGHTS", 59.5095, 5.2201)
    path = tmp_path / "ZZ5COVE8.000"
    path.write_bytes(cell.whole())
    chart = read_chart(path, Told())
    told = sorted((one.says["name"], one.says["lit"]) for one in chart.marks.features)
    assert told == [("Inner perch", True), ("landmark", False), ("light", True)]
    assert {key: chart.taken[key] for key in ("BCNLAT", "LIGHTS", "LNDMRK")} == {
        "BCNLAT": 1, "LIGHTS": 2, "LNDMRK": 1,
    }  # fmt: skip


def test_marks_of_a_chart_come_into_its_bay(tmp_path):
    shutil.copy(FILES / "ZZ5COVE1.000", tmp_path)
    (tmp_path / "bay.toml").write_text(
        'name = "Cove"\nlat_deg = 59.505\nlon_deg = 5.21\nzone = "Etc/UTC"\n'
        'chart_datum = "lowest astronomical tide"\nbottom = "sand"\n'
        '[[chart]]\nfile = "ZZ5COVE1.000"\n',
        encoding="utf-8",
    )
    marks = read_bay(tmp_path).landmarks
    assert [(one.name, one.lit) for one in marks] == [("light", True)]
    # 59.5085 N against an origin at 59.505: 0.0035 degrees of 111.4 km are 390 m
    assert marks[0].north_m == pytest.approx(390.0, abs=1.0)
