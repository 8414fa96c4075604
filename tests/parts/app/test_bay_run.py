"""A bay shown and written out with a run's soundings in its bed."""

import csv
import json
import shutil
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

import shorefast
from shorefast.app.answer import to_json
from shorefast.errors import BadInput
from shorefast.readers import read_run, read_stay
from shorefast.stay import Run, take_in
from shorefast.weather import level_at

DEMO = Path(shorefast.__file__).parent / "demo"
EVENING = datetime(2026, 6, 24, 19, 40, tzinfo=UTC)


@pytest.fixture(scope="module")
def notch(tmp_path_factory):
    folder = tmp_path_factory.mktemp("notch")
    shutil.copytree(DEMO / "grey_notch", folder, dirs_exist_ok=True)
    return folder


@pytest.fixture(scope="module")
def stay(notch):
    return read_stay(notch / "stay.toml")


def _rows(path, stay, east, north, up_m):
    """Timed rows of a run along some places, so far above the bed as it is drawn."""
    moments = [EVENING + timedelta(seconds=k) for k in range(len(east))]
    at_utc = np.array([one.replace(tzinfo=None) for one in moments], "datetime64[s]")
    depth = level_at(stay.water, at_utc) - (stay.bay.surface.level_at(east, north) + up_m)
    lat, lon = stay.bay.frame.to_earth(east, north)
    rows = [
        f"{one:%Y-%m-%dT%H:%M:%SZ},{y:.8f},{x:.8f},{d:.2f}"
        for one, y, x, d in zip(moments, lat, lon, depth, strict=True)
    ]
    path.write_text("\n".join(["time_utc,lat_deg,lon_deg,depth_m", *rows]), encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def hump(notch, stay):
    along = np.linspace(40.0, 80.0, 60)
    up_m = 3.0 * np.exp(-0.5 * ((along - 60.0) / 4.0) ** 2)
    return _rows(notch / "hump.csv", stay, along, along, up_m)


def _asked(notch, **more):
    return shorefast.bay([notch / "bay"], stay=notch / "stay.toml", **more)


def test_the_bay_is_shown_with_the_run_as_a_judgement_takes_it_in(notch, stay, hump):
    lat, lon = (float(one) for one in stay.bay.frame.to_earth(60.0, 60.0))
    answer = _asked(notch, at=[(lat, lon)], soundings=[hump])
    keys = json.loads(to_json(answer))
    read = read_run(hump, stay)
    judged = take_in(stay, [Run("hump.csv", read.in_frame(stay.bay.frame))]).stay.bay.surface
    here = (np.array([60.0]), np.array([60.0]))
    assert keys["at"][0]["charted_depth_m"] == pytest.approx(-float(judged.level_at(*here)[0]))
    before_m = -float(stay.bay.surface.level_at(*here)[0])
    assert before_m - keys["at"][0]["charted_depth_m"] > 1.5


def test_what_came_in_and_what_it_changed_is_told_in_keys_and_words(notch, hump):
    answer = _asked(notch, soundings=[hump])
    found = json.loads(to_json(answer))["soundings"]
    assert set(found) == {
        "files", "taken", "known_before", "outside", "far_below", "rose_m", "fell_m",
        "above_bed_m", "all_alike", "newly_known_m2", "shoaled_most",
    }  # fmt: skip
    most = found["shoaled_most"]
    # the hump stands in the middle of the run, at 60 m east and north
    assert found["taken"] == 60 and most["up_m"] == found["rose_m"] > 1.5
    assert np.hypot(most["east_m"] - 60.0, most["north_m"] - 60.0) < 6.0
    assert "  60 taken into the bed" in answer.text
    assert f"  the bed came up by {most['up_m']:.2f} m at most, at 47 30.0" in answer.text
    assert "soundings" not in shorefast.bay([notch / "bay"]).keys


def test_bed_that_nobody_knew_is_told_by_its_area(notch, stay):
    grid = stay.bay.surface.grid
    row, column = np.argwhere(np.isnan(grid.level_m))[0]
    east = grid.west_m + column * grid.step_m + np.linspace(0.0, 10.0, 20)
    north = np.full(20, grid.south_m + row * grid.step_m)
    run = _rows(notch / "new.csv", stay, east, north, 0.0)
    text = run.read_text(encoding="utf-8").replace("nan", "9.00")
    run.write_text(text, encoding="utf-8")
    answer = _asked(notch, soundings=[run])
    known_m2 = answer.keys["soundings"]["newly_known_m2"]
    assert known_m2 > 20.0 and f"; {known_m2:.0f} m² of it newly known" in answer.text


def test_what_is_written_out_holds_the_run(notch, stay, hump, tmp_path):
    _asked(notch, soundings=[hump], out=tmp_path)
    with (tmp_path / "soundings.csv").open(encoding="utf-8") as opened:
        rows = list(csv.reader(opened))
    assert len(rows) - 1 == stay.bay.soundings.level_m.size + 60


def test_points_are_reached_from_where_she_lies_on_the_new_bed(notch, hump):
    points = json.loads(to_json(_asked(notch, soundings=[hump])))["points"]
    assert all(one["reach"] is not None for one in points)


@pytest.mark.parametrize(
    ("files", "named", "sentence"),
    [
        (
            ["bay"],
            {},
            "--soundings: a run without a stay, the stay's tide and its boat's sounder bring it to"
            " chart datum. Add --stay STAY, a stay in this bay.",
        ),
        (
            ["hump.csv"],
            {"stay": "stay.toml"},
            "--soundings: a run, and files that are no bay folder, a run is taken into the bed of"
            " a bay folder. Name the folder; or name the log among the files, to see it as it was"
            " sounded.",
        ),
        (
            [DEMO / "tres_sombras" / "bay"],
            {"stay": "stay.toml"},
            "--stay: a stay in Grey Notch, Torvane Inlet, the folder is another bay, Caleta Tres"
            " Sombras, Isla Hondura Gris. Name a stay in this bay.",
        ),
        (
            ["bay"],
            {"stay": "stay.toml", "soundings": ["-"]},
            "--soundings: a feed, a bay is drawn once. Name the file of a run.",
        ),
    ],
)
def test_a_run_that_cannot_be_taken_into_the_bay_says_why(notch, hump, files, named, sentence):
    given = {"soundings": [hump], **named}
    if "stay" in given:
        given["stay"] = notch / given["stay"]
    with pytest.raises(BadInput) as refused:
        shorefast.bay([notch / name for name in files], **given)
    assert refused.value.sentence == sentence
