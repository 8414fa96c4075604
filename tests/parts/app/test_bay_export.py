"""A bay written out, read back by GDAL and by ourselves, and held against the surface."""

import json
from pathlib import Path

import numpy as np
import pyogrio
import pytest
import rasterio

from shorefast.app.answer import to_json
from shorefast.app.answers.bay import answer_bay
from shorefast.errors import BadInput
from shorefast.readers import Told, read_bay, read_depths, read_points_file

DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"
SPUR = DEMO / "stone_spur" / "bay"


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    out = tmp_path_factory.mktemp("bay")
    return out, answer_bay([SPUR], out=out), read_bay(SPUR)


def test_the_raster_read_by_gdal_is_the_surface(written):
    out, _, bay = written
    grid = bay.surface.grid
    with rasterio.open(out / "depth.tif") as raster:
        assert (raster.count, raster.nodata) == (2, -9999.0)
        depth, deviation = raster.read()[:, ::-1]
        # the first node is the middle of the south-west cell
        west, south = raster.bounds.left, raster.bounds.bottom
        assert raster.crs.to_dict()["proj"] == "aeqd"
        assert raster.tags()["chart_datum"] == "lowest astronomical tide"
    assert (west, south) == pytest.approx(
        (grid.west_m - 0.5 * grid.step_m, grid.south_m - 0.5 * grid.step_m)
    )
    known = np.isfinite(grid.level_m)
    assert (depth[~known] == -9999.0).all()
    # single precision of depths under 64 m is 4e-6
    assert depth[known] == pytest.approx(-grid.level_m[known], abs=1e-5)
    assert deviation[known] == pytest.approx(grid.deviation_m[known], abs=1e-5)


def test_the_layers_read_by_gdal_hold_what_the_bay_holds(written):
    out, _, bay = written
    names = [str(name) for name in pyogrio.list_layers(out / "bay.gpkg")[:, 0]]
    assert names == ["soundings", "contours", "shore", "land", "zones", "points"]
    about, _, _, columns = pyogrio.raw.read(out / "bay.gpkg", layer="points")
    points = dict(zip(about["fields"], columns, strict=True))
    assert points["name"].tolist() == [one.name for one in bay.points]
    assert points["height_m"].tolist() == [one.height_m for one in bay.points]
    assert np.isnan(points["strength_n"]).all()
    assert pyogrio.read_info(out / "bay.gpkg", layer="soundings")["features"] == 4318


def test_contours_lie_where_the_surface_has_their_depth(written):
    out, _, bay = written
    tree = json.loads((out / "bay.geojson").read_text())
    lines = [one for one in tree["features"] if one["properties"]["layer"] == "contours"]
    assert {one["properties"]["depth_m"] for one in lines} >= {5.0, 10.0, 20.0}
    for one in lines:
        lon, lat = np.array(one["geometry"]["coordinates"]).T
        level = bay.surface.level_at(*bay.frame.to_plane(lat, lon))
        # a contour is straight across a cell, the surface is not; edges are NaN
        assert np.nanmax(np.abs(level + one["properties"]["depth_m"])) < 0.05


def test_our_own_readers_take_what_was_written(written):
    out, _, bay = written
    read = read_depths(out / "soundings.csv", Told())
    assert read.level_m == pytest.approx(bay.soundings.level_m, abs=6e-4)
    points = read_points_file(out / "bay.geojson", bay.frame).points
    assert [one.name for one in points] == [one.name for one in bay.points]
    assert points[0].east_m == pytest.approx(bay.points[0].east_m, abs=2e-3)


def test_the_same_bay_gives_the_same_bytes(written, tmp_path):
    out, answer, _ = written
    answer_bay([SPUR], out=tmp_path)
    names = [path.name for path in answer.written]
    assert names == ["bay.gpkg", "bay.geojson", "depth.tif", "soundings.csv", "plan.svg",
                     "plan.pdf", "plan.png"]  # fmt: skip
    assert [n for n in names if (out / n).read_bytes() != (tmp_path / n).read_bytes()] == []


def test_what_stays_out_and_why_is_in_the_answer(written):
    _, answer, _ = written
    told = json.loads(to_json(answer))["exported"]
    assert told[1]["left_out"] == [
        {"why": "soundings stand in soundings.csv and bay.gpkg", "count": 4318}
    ]
    assert told[2]["left_out"][0]["why"] == "nodes where the bed is unknown hold -9999"
    assert "soundings.csv: 4318 soundings" in answer.text


def test_bare_files_are_written_out_too(tmp_path):
    samos = Path(__file__).parents[2] / "files" / "bay" / "samos_strait_15s.asc"
    answer = answer_bay([samos], told={"depth": "up", "crs": "EPSG:4326"}, out=tmp_path)
    with rasterio.open(tmp_path / "depth.tif") as raster:
        deviation = raster.read(2)
    # a grid of 400 m tells a berth nothing close
    assert deviation[deviation != -9999.0].max() > 5.0
    assert len(answer.written) == 7


def test_points_are_told_with_their_reach_in_a_stay():
    answer = answer_bay([SPUR], stay=DEMO / "stone_spur" / "stay_k_day.toml")
    points = {one["name"]: one for one in json.loads(to_json(answer))["points"]}
    ring, beach = points["spur ring south"]["reach"], points["beach ring north"]["reach"]
    assert min(ring["left_m"]) > 0.0 > max(beach["left_m"])
    assert not any(ring["drowned"])
    assert "too short from the" in beach["said"]


def test_a_palette_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(BadInput) as refused:
        answer_bay([SPUR], out=tmp_path, palette="dusk")
    assert refused.value.sentence == (
        "Palette: 'dusk', one of day, night, print wanted. Take one of these."
    )


def test_a_bay_across_the_date_line_is_written_in_one_piece(tmp_path):
    rows = [
        f"{(lon + 180.0) % 360.0 - 180.0:.5f},{-17.0 + 1e-4 * k:.5f},{5 + k}"
        for k in range(6)
        for lon in 180.0 + 1e-4 * np.arange(-3, 4)
    ]
    (tmp_path / "bed.csv").write_text("lon_deg,lat_deg,depth_m\n" + "\n".join(rows))
    answer_bay([tmp_path / "bed.csv"], out=tmp_path / "out")
    tree = json.loads((tmp_path / "out" / "bay.geojson").read_text("utf-8"))
    lines = [np.array(one["geometry"]["coordinates"])[:, 0] for one in tree["features"]]
    assert lines and max(float(np.ptp(lon)) for lon in lines) < 0.001
    bounds = pyogrio.read_info(tmp_path / "out" / "bay.gpkg", layer="soundings")["total_bounds"]
    assert bounds[2] - bounds[0] == pytest.approx(6e-4, abs=1e-7)


def test_what_is_written_is_read_again_with_its_doubt(written):
    out, _, bay = written
    rows, raster = (read_depths(out / name, Told()) for name in ("soundings.csv", "depth.tif"))
    assert rows.deviation_m == pytest.approx(bay.soundings.deviation_m, abs=5e-4)
    grid = bay.surface.grid
    known = np.isfinite(grid.level_m)
    assert sorted(raster.level_m) == pytest.approx(sorted(grid.level_m[known]), abs=1e-5)
    assert sorted(raster.deviation_m) == pytest.approx(sorted(grid.deviation_m[known]), abs=1e-5)
