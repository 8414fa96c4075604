"""The examples in docs/files.md are files that can be read."""

import re
import shutil
from importlib import resources
from pathlib import Path

import pytest

from shorefast.readers import read_bay, read_boat, read_stay, read_tide

DOCS = Path(__file__).parents[2] / "docs" / "files.md"
AIS = Path(__file__).parents[1] / "files" / "ais" / "harbour_one_minute.log"
NOTCH = Path(str(resources.files("shorefast") / "demo" / "grey_notch"))


def _examples(kind):
    return re.findall(rf"```{kind}\n(.*?)```", DOCS.read_text(encoding="utf-8"), re.DOTALL)


def _without(text, *tables):
    """The text less tables that name files the demo lacks."""
    for table in tables:
        text = re.sub(rf"\[\[{table}\]\].*\n(?:[a-z].*\n)+", "", text)
    return text


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("docs") / "grey_notch"
    shutil.copytree(NOTCH, folder)
    boat, bay, stay = _examples("toml")
    (folder / "boat.toml").write_text(boat, encoding="utf-8")
    # the example names a grid's coordinates; the demo's soundings are in degrees
    (folder / "bay" / "bay.toml").write_text(
        _without(bay.replace('crs = "EPSG:25832"', ""), "chart"), encoding="utf-8"
    )
    (folder / "stay.toml").write_text(stay, encoding="utf-8")
    shutil.copy(AIS, folder / "near.log")
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


# A fact that a reader takes and the page does not show is one nobody will give.
def test_every_fact_of_a_boat_or_a_lie_is_shown(folder):
    stay = read_stay(folder / "stay.toml")
    boat, line = stay.boat, stay.lie.lines[0]
    facts = {
        "boat": boat, "chain": boat.rode[0], "line": boat.lines[0], "sling": boat.slings[0],
        "windlass": boat.windlass, "engine": boat.engine, "cleat": boat.cleats[0],
        "proof": stay.proof, "lie": stay.lie, "line of the lie": line,
    }  # fmt: skip
    blank = {
        f"{name}: {field}"
        for name, fact in facts.items()
        for field, value in vars(fact).items()
        if value is None
    }
    # a chain has no fibre and no age, the proof is given by its pull
    assert blank == {"chain: fibre", "chain: age_years", "proof: revs_rpm"}
    assert [(one.duties, one.able) for one in stay.people] == [
        (("helm", "watch"), True), (("guest",), False),
    ]  # fmt: skip
    assert (stay.water_k, stay.watch_each_s) == (285.15, 7200.0)
    assert len(boat.engine.pulls) == 2
    assert stay.waves is not None
    assert stay.wash is not None
    assert stay.neighbours[0].swing_m == 5.0
    assert (boat.underwater[0].length_m, boat.underwater[0].breadth_m) == (0.5, 0.1)


def test_the_tide_of_the_docs_is_read(tmp_path):
    (tmp_path / "tide.csv").write_text(
        next(one for one in _examples("csv") if one.startswith("time_utc,height_m")),
        encoding="utf-8",
    )
    assert read_tide(tmp_path / "tide.csv").turning
