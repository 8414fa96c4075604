"""The files of far shores and high ground among those of a bay folder."""

import json
import math

import numpy as np
import pytest
import shapely

import shorefast
from shorefast.app.answer import to_json
from shorefast.bay import Frame

TOML = """name = "Cove"
lat_deg = 47.5
lon_deg = -40
zone = "Etc/GMT+2"
chart_datum = "LAT"
bottom = "mud"
[[depths]]
file = "s.csv"
depth = "down"
[[far_shore]]
file = "far.geojson"
open_sea = true
[elevation]
file = "hills.asc"
crs = "EPSG:4326"
datum = "mean sea level"
"""
FRAME = Frame(47.5, -40.0)
# an island of 6 km by 6 km, its south shore 5 km north of the bay
ISLAND = shapely.segmentize(shapely.box(-3000.0, 5000.0, 3000.0, 11_000.0), 250.0)


def _on_earth(at):
    return np.column_stack(FRAME.to_earth(at[:, 0], at[:, 1])[::-1])


@pytest.fixture(scope="module")
def bay(tmp_path_factory):
    folder = tmp_path_factory.mktemp("cove")
    rows = [f"{e},{n},{2 + 0.4 * e:.2f}" for e in range(1, 60, 5) for n in range(-30, 31, 5)]
    (folder / "s.csv").write_text("east_m,north_m,depth_m\n" + "\n".join(rows) + "\n")
    geometry = json.loads(shapely.to_geojson(shapely.transform(ISLAND, _on_earth)))
    feature = {"type": "Feature", "properties": {}, "geometry": geometry}
    tree = {"type": "FeatureCollection", "features": [feature]}
    (folder / "far.geojson").write_text(json.dumps(tree))
    # every 0.002 degrees over 0.1 degrees round the bay; a hill of 300 m in the west half
    row = " ".join(["300"] * 25 + ["0"] * 26)
    head = ["ncols 51", "nrows 51", "xllcenter -40.05", "yllcenter 47.45", "cellsize 0.002"]
    (folder / "hills.asc").write_text("\n".join(head + [row] * 51) + "\n")
    (folder / "bay.toml").write_text(TOML)
    return shorefast.bay([folder])


def test_a_far_shore_stands_among_the_files_with_its_legs(bay):
    row = json.loads(to_json(bay))["files"][1]
    assert (row["file"], row["kind"], row["crs"]) == ("far.geojson", "far shore", "EPSG:4326")
    assert row["taken"] == {"soundings": 0, "areas": 1, "lines": 0, "points": 0}
    assert row["least_depth_m"] is None and row["left_out"] == []
    # 24 km of shore in legs of 250 m; its far corners are 11.4 km off
    shore = row["far_shore"]
    assert shore["legs"] == shore["legs_with_known_side"] == 96 and shore["open_sea"]
    assert shore["leg_m"] == pytest.approx(250.0, abs=0.5)
    assert shore["nearest_m"] == pytest.approx(5000.0, abs=1.0)
    assert shore["farthest_m"] == pytest.approx(math.hypot(3000.0, 11_000.0), abs=1.0)
    south, west = (float(one) for one in FRAME.to_earth(-3000.0, 5000.0))
    assert row["south_deg"] == pytest.approx(south, abs=2e-5)
    assert row["west_deg"] == pytest.approx(west, abs=2e-4)
    assert (
        "far.geojson: far shore, 1 area, 96 legs, 250 m long in the middle, from 5.0 to 11 km off,"
        " beyond it open sea. From 47 32.698 N 040 02."
    ) in bay.text


def test_a_far_shore_is_as_near_as_its_nearest_leg_not_its_nearest_corner(tmp_path):
    # a straight shore of 4 km, 200 m north of the bay's origin
    line = shapely.LineString([(2000.0, 200.0), (-2000.0, 200.0)])
    geometry = json.loads(shapely.to_geojson(shapely.transform(line, _on_earth)))
    tree = {"type": "FeatureCollection", "features": [{"type": "Feature", "geometry": geometry}]}
    (tmp_path / "far.geojson").write_text(json.dumps(tree))
    rows = [f"{e},{n},{2 + 0.4 * e:.2f}" for e in range(1, 60, 5) for n in range(-30, 31, 5)]
    (tmp_path / "s.csv").write_text("east_m,north_m,depth_m\n" + "\n".join(rows) + "\n")
    (tmp_path / "bay.toml").write_text(TOML.split("[elevation]")[0])
    row = json.loads(to_json(shorefast.bay([tmp_path])))["files"][1]
    assert row["far_shore"]["nearest_m"] == pytest.approx(200.0, abs=1.0)
    assert row["far_shore"]["farthest_m"] == pytest.approx(math.hypot(2000.0, 200.0), abs=1.0)


def test_the_ground_stands_among_the_files_with_its_heights(bay):
    row = json.loads(to_json(bay))["files"][2]
    assert (row["file"], row["kind"], row["crs"]) == ("hills.asc", "elevation grid", "EPSG:4326")
    assert row["taken"] == {"soundings": 0, "areas": 0, "lines": 0, "points": 0}
    ground = row["elevation"]
    assert (ground["lowest_m"], ground["highest_m"]) == pytest.approx((0.0, 300.0))
    assert (ground["unit"], ground["datum"]) == ("m", "mean sea level")
    # 0.1 degrees are 11.1 km north and 7.5 km east of the 20 km each way that count
    assert ground["known_share"] == pytest.approx(11.12 * 7.53 / 20.0**2, abs=0.01)
    assert row["west_deg"] == pytest.approx(-40.05, abs=0.002)
    assert row["north_deg"] == pytest.approx(47.55, abs=0.002)
    assert "hills.asc: elevation grid, a height every " in bay.text
    assert "0 to 300 m above mean sea level within 10 km, 20% of it known. From" in bay.text
