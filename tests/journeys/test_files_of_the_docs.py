"""The examples in docs/files.md are files that can be read."""

import re
import shutil
from importlib import resources
from pathlib import Path

import pytest

from shorefast.readers import read_bay, read_boat, read_stay, read_tide

DOCS = Path(__file__).parents[2] / "docs" / "files.md"
NOTCH = Path(str(resources.files("shorefast") / "demo" / "grey_notch"))


def _examples(kind):
    return re.findall(rf"```{kind}\n(.*?)```", DOCS.read_text(encoding="utf-8"), re.DOTALL)


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("docs") / "grey_notch"
    shutil.copytree(NOTCH, folder)
    boat, bay, stay = _examples("toml")
    (folder / "boat.toml").write_text(boat, encoding="utf-8")
    # the example names a grid's coordinates; the demo's soundings are in degrees
    (folder / "bay" / "bay.toml").write_text(
        bay.replace('crs = "EPSG:25832"', ""), encoding="utf-8"
    )
    (folder / "stay.toml").write_text(stay, encoding="utf-8")
    return folder


def test_the_boat_of_the_docs_is_read(folder):
    boat = read_boat(folder / "boat.toml")
    assert (boat.name, boat.anchor.kind, boat.rode_aboard_m) == ("Salt Thistle", "scoop", 80.0)


def test_the_bay_of_the_docs_is_read(folder):
    bay = read_bay(folder / "bay")
    assert [point.name for point in bay.points] == ["notch birch"]
    assert bay.sectors[0].factor == 1.3


def test_the_stay_of_the_docs_is_read(folder):
    stay = read_stay(folder / "stay.toml")
    assert stay.lie.lines[0].line in [line.name for line in stay.boat.lines]
    assert stay.lie.lines[0].point in [point.name for point in stay.bay.points]


def test_the_tide_of_the_docs_is_read(tmp_path):
    (tmp_path / "tide.csv").write_text(_examples("csv")[2], encoding="utf-8")
    assert read_tide(tmp_path / "tide.csv").turning
