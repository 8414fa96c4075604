"""Coasts far round a bay: which side of them is water, where they lie, what is refused."""

from __future__ import annotations

import json
import re
from pathlib import Path

import numpy as np
import pytest
import shapely

from shorefast.bay import FarShore, Frame
from shorefast.errors import BadInput, Unreadable
from shorefast.readers.bay_folder import read_bay
from shorefast.readers.far_shore import read_coast
from shorefast.readers.shore_geojson import read_shapes
from shorefast.weather import far_fetch, fetches

FILES = Path(__file__).parents[2] / "files" / "bay"
FRAME = Frame(60.0, 5.0)
TOML = """name = "Cove"
lat_deg = 47.5
lon_deg = -40
zone = "Etc/GMT+2"
chart_datum = "LAT"
bottom = "mud"
[[depths]]
file = "s.csv"
depth = "down"
[[shore]]
file = "shore.geojson"
"""
ROWS = [f"{e},{n},{2 + 0.4 * e:.2f}" for e in range(1, 60, 5) for n in range(-30, 31, 5)]
CSV = "east_m,north_m,depth_m\n" + "\n".join(ROWS) + "\n"
# walked with the water, to the east, on the left
LINE = {"type": "LineString", "coordinates": [[0, 40], [0, -40]]}
SHORE = json.dumps(
    {
        "type": "FeatureCollection",
        "frame": "bay metres",
        "features": [{"type": "Feature", "properties": {}, "geometry": LINE}],
    }
)


def written(folder, *shapes, frame=FRAME, lon_of=None, crs=None):
    """Shapes of a bay's plane as a file in longitude and latitude."""

    def on_earth(at):
        lat, lon = frame.to_earth(at[:, 0], at[:, 1])
        return np.column_stack((lon if lon_of is None else lon_of(lon), lat))

    features = [
        {
            "type": "Feature",
            "properties": {},
            "geometry": json.loads(shapely.to_geojson(shapely.transform(one, on_earth))),
        }
        for one in shapes
    ]
    tree = {"type": "FeatureCollection", "features": features}
    if crs:
        tree["crs"] = {"type": "name", "properties": {"name": crs}}
    path = folder / "far.geojson"
    path.write_text(json.dumps(tree), encoding="utf-8")
    return path


def north_m(coast, east_m=0.0, at_north_m=0.0):
    """How far the ray to the north runs."""
    return far_fetch.far_m(FarShore(None, (coast,)), east_m, at_north_m, 360)[0]


ISLAND = shapely.segmentize(shapely.box(-3000.0, 5000.0, 3000.0, 11_000.0), 250.0)
LAKE = shapely.segmentize(shapely.box(-1000.0, 7000.0, 1000.0, 9000.0), 250.0)


@pytest.mark.parametrize("walked", [1.0, -1.0])
def test_an_area_is_land_whichever_way_its_rings_are_walked(tmp_path, walked):
    holed = shapely.geometry.polygon.orient(ISLAND.difference(LAKE), walked)
    coast = read_coast(written(tmp_path, holed), FRAME)
    assert coast.sided.all()
    assert north_m(coast) == pytest.approx(5000.0, abs=1.0)
    # from the lake its own shore, and from the land between there is no way out
    assert north_m(coast, at_north_m=8000.0) == pytest.approx(1000.0, abs=1.0)
    assert np.isnan(north_m(coast, at_north_m=6000.0))


@pytest.mark.parametrize("walked", [1.0, -1.0])
def test_closed_lines_have_their_sides_from_what_lies_inside_what(tmp_path, walked):
    lines = [shapely.geometry.polygon.orient(one, walked).exterior for one in (ISLAND, LAKE)]
    coast = read_coast(written(tmp_path, *lines), FRAME)
    assert coast.sided.all()
    assert north_m(coast) == pytest.approx(5000.0, abs=1.0)
    assert north_m(coast, at_north_m=8000.0) == pytest.approx(1000.0, abs=1.0)
    assert np.isnan(north_m(coast, at_north_m=6000.0))


def test_a_closed_line_round_the_bay_holds_water_and_islands_in_it_are_land(tmp_path):
    sea = shapely.segmentize(shapely.box(-20e3, -20e3, 20e3, 20e3), 500.0)
    coast = read_coast(written(tmp_path, sea.exterior, ISLAND.exterior), FRAME)
    assert coast.sided.all()
    assert north_m(coast) == pytest.approx(5000.0, abs=1.0)
    assert north_m(coast, east_m=4000.0) == pytest.approx(20_000.0, abs=1.0)
    assert np.isnan(north_m(coast, at_north_m=6000.0))


def test_a_closed_line_that_may_have_swallowed_the_bay_tells_no_sides(tmp_path):
    coarse = shapely.box(-4000.0, -500.0, 4000.0, 7000.0)
    coast = read_coast(written(tmp_path, coarse.exterior), FRAME)
    assert not coast.sided.any()


def test_lines_cut_in_bins_are_joined_again(tmp_path):
    ring = ISLAND.exterior
    places = shapely.get_coordinates(ring)
    bins = [shapely.LineString(places[i : i + 8]) for i in range(0, len(places) - 1, 7)]
    coast = read_coast(written(tmp_path, *bins[::-1]), FRAME)
    assert coast.sided.all()
    assert coast.spacing_m == pytest.approx(250.0, abs=1.0)
    assert north_m(coast) == pytest.approx(5000.0, abs=1.0)


@pytest.mark.parametrize(
    ("water", "stands_m"), [("right", 6000.0), ("left", np.nan), (None, 6000.0)]
)
def test_of_an_open_line_the_water_is_where_it_is_told(tmp_path, water, stands_m):
    # walked eastward to the north of the bay: the bay's water is on its right hand
    line = shapely.LineString([(-9000.0, 6000.0), (9000.0, 6000.0)])
    coast = read_coast(written(tmp_path, shapely.segmentize(line, 500.0)), FRAME, water)
    assert coast.sided.all() == (water is not None)
    assert north_m(coast) == pytest.approx(stands_m, abs=1.0, nan_ok=True)


def test_told_sides_are_kept_where_lines_meet_head_on(tmp_path):
    # two pieces with the water on the right of each, walked apart from where they meet
    north = shapely.segmentize(shapely.LineString([(0.0, 6000.0), (9000.0, 6000.0)]), 500.0)
    wrong = shapely.segmentize(shapely.LineString([(0.0, 6000.0), (-9000.0, 6000.0)]), 500.0)
    coast = read_coast(written(tmp_path, north, wrong), FRAME, "right")
    assert north_m(coast, east_m=3000.0) == pytest.approx(6000.0, abs=2.0)
    # the other is believed as it is told: its water lies beyond
    assert np.isnan(north_m(coast, east_m=-3000.0))


@pytest.mark.parametrize("lon", [180.0, -180.0, 179.9, -179.9, 0.0, -40.0, 359.99])
@pytest.mark.parametrize("count", ["to 360", "to 180", "cut"])
def test_shores_across_the_date_line_lie_where_they_are(tmp_path, lon, count):
    frame = Frame(-46.0, lon)

    def counted(degrees):
        return degrees % 360.0 if count == "to 360" else (degrees + 180.0) % 360.0 - 180.0

    land = shapely.box(-30_000.0, -30_000.0, 30_000.0, 30_000.0).difference(
        shapely.box(-12_000.0, -8000.0, 12_000.0, 8000.0)
    )
    parts = [shapely.segmentize(land, 900.0)]
    if count == "cut":
        # the standard cuts shapes in two there: this many metres east of the origin
        edge_m = float(frame.to_plane(-46.0, 180.0)[0])
        if abs(edge_m) < 30_000.0:
            west = shapely.box(-9e4, -9e4, edge_m, 9e4)
            halves = [parts[0].intersection(west), parts[0].difference(west)]
            parts = [one for half in halves for one in shapely.get_parts(half)]
    coast = read_coast(written(tmp_path, *parts, frame=frame, lon_of=counted), frame)
    found = fetches(None, None, 0.0, 0.0, FarShore(None, (coast,))).straight_m
    np.testing.assert_allclose(found[[0, 18, 36, 54]], [8e3, 12e3, 8e3, 12e3], atol=1.0)


def test_coordinates_named_in_the_file_are_turned(tmp_path):
    from pyproj import Transformer

    frame = Frame(-45.0, 167.0)
    land = shapely.segmentize(
        shapely.box(-20e3, -20e3, 20e3, 20e3).difference(shapely.box(-5e3, -7e3, 5e3, 7e3)), 300.0
    )
    turn = Transformer.from_crs("EPSG:4326", "EPSG:32759", always_xy=True)

    def in_zone(at):
        lat, lon = frame.to_earth(at[:, 0], at[:, 1])
        return np.column_stack(turn.transform(lon, lat))

    path = written(tmp_path, land, frame=frame)
    tree = json.loads(path.read_text(encoding="utf-8"))
    placed = shapely.transform(land, in_zone)
    tree["features"][0]["geometry"] = json.loads(shapely.to_geojson(placed))
    tree["crs"] = {"type": "name", "properties": {"name": "EPSG:32759"}}
    path.write_text(json.dumps(tree), encoding="utf-8")
    found = fetches(None, None, 0.0, 0.0, FarShore(None, (read_coast(path, frame),))).straight_m
    np.testing.assert_allclose(found[[0, 18, 36, 54]], [7e3, 5e3, 7e3, 5e3], atol=1.0)


def refused(path, frame=FRAME):
    with pytest.raises(BadInput) as caught:
        read_coast(path, frame)
    return str(caught.value)


def test_what_is_no_far_shore_is_refused_and_why(tmp_path):
    point = written(tmp_path, shapely.Point(0.0, 3000.0))
    assert refused(point) == (
        "far.geojson: neither a line nor a polygon in it, a shore is a line or an area of land."
        " Draw it so, or take [[far_shore]] out."
    )
    away = shapely.box(-2000.0, 150_000.0, 2000.0, 152_000.0)
    assert re.fullmatch(
        r"far\.geojson: its nearest shore 1(49|50) km off lies round the bay, a shore within 100 km"
        r" of the bay's origin wanted\. Correct lat_deg and lon_deg, or name the file of these"
        r" waters\.",
        refused(written(tmp_path, away)),
    )
    assert refused(written(tmp_path, ISLAND), Frame(20.0, 5.0)) == (
        "far.geojson: none of it lies round the bay, a shore within 100 km of the bay's origin"
        " wanted. Correct lat_deg and lon_deg, or name the file of these waters."
    )
    path = tmp_path / "far.geojson"
    around = [[-170.0, 59.0], [0.0, 59.5], [170.0, 59.0], [179.0, 61.0], [-170.0, 59.0]]
    path.write_text(json.dumps({"type": "Polygon", "coordinates": [around]}), encoding="utf-8")
    assert refused(path) == (
        "far.geojson: a shape that goes round to the far side of the earth, shores within some"
        " hundred kilometres wanted. Cut the file to the waters round the bay."
    )
    path.write_text('{"type": "FeatureCollection", "features": [', encoding="utf-8")
    with pytest.raises(Unreadable) as caught:
        read_coast(path, FRAME)
    assert str(caught.value) == (
        "far.geojson, line 1: broken JSON (Expecting value), GeoJSON with lines or polygons"
        " wanted. Export it again."
    )


BAY = Frame(47.5, -40.0)


def folder(tmp_path, more="", *shapes):
    for name, text in (("bay.toml", TOML + more), ("s.csv", CSV), ("shore.geojson", SHORE)):
        (tmp_path / name).write_text(text, encoding="utf-8")
    if shapes:
        written(tmp_path, *shapes, frame=BAY)
    return tmp_path


def test_a_bay_folder_carries_its_far_shore(tmp_path):
    land = shapely.segmentize(
        shapely.box(-40e3, -40e3, 40e3, 40e3).difference(shapely.box(-10.0, -9e3, 15e3, 9e3)), 500.0
    )
    bay = read_bay(folder(tmp_path, '[[far_shore]]\nfile = "far.geojson"\n', land))
    assert not bay.far.open_sea
    found = fetches(bay.shore, bay.land, 20.0, 0.0, bay.far).straight_m
    # to the own shore, then over the box's edges to the far one
    np.testing.assert_allclose(found[[0, 18, 36, 54]], [9e3, 15e3 - 20.0, 9e3, 20.0], atol=1.0)
    assert np.isnan(fetches(bay.shore, bay.land, 20.0, 0.0).straight_m[18])
    said = [one for one in bay.basis.inputs if one.name == "far shore"]
    assert [(one.value, one.said_by) for one in said] == [
        ("774 legs, 500 m long in the middle, out to 57 km", "far.geojson")
    ]


def test_a_coarse_far_shore_says_so_and_an_open_sea_is_told(tmp_path):
    coast = shapely.box(3000.0, -5000.0, 9000.0, 5000.0).difference(
        shapely.box(3000.0, -2000.0, 6000.0, 2000.0)
    )
    more = '[[far_shore]]\nfile = "far.geojson"\nopen_sea = true\n'
    bay = read_bay(folder(tmp_path, more, coast))
    assert bay.far.open_sea
    said = [one.said for one in bay.basis.findings if one.where == "far.geojson"]
    assert said == [
        "its longest straight leg is 4.0 km: what lies behind it, or cuts into it, is not known"
    ]


def test_areas_that_are_the_water_or_have_swallowed_the_bay_are_told(tmp_path):
    sea = shapely.segmentize(shapely.box(-9000.0, -9000.0, 9000.0, 9000.0), 300.0)
    bay = read_bay(folder(tmp_path, '[[far_shore]]\nfile = "far.geojson"\n', sea))
    assert [one.said for one in bay.basis.findings if one.where == "far.geojson"] == [
        "the bay's origin lies 9000 m inside its land: too coarse for this bay, or its areas are"
        " the water; where the bay's own shore ends inside them the fetch is unknown"
    ]
    assert np.isnan(fetches(bay.shore, bay.land, 20.0, 0.0, bay.far).straight_m[18])


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        (
            '[[far_shore]]\nfile = "none.geojson"\n',
            "{folder}/none.geojson: no such file, the shore of bay.toml, line 13, [[far_shore]] 1"
            " file wanted. Correct the path.",
        ),
        (
            '[[far_shore]]\nfile = "far.geojson"\nwater = "seaward"\n',
            "bay.toml, line 14, [[far_shore]] 1 water: 'seaward', one of left, right wanted."
            " Correct it.",
        ),
        (
            '[[far_shore]]\nfile = "far.geojson"\nopen_sea = "yes"\n',
            "bay.toml, line 14, [[far_shore]] 1 open_sea: 'yes', true or false wanted. Correct it.",
        ),
        (
            "[[far_shore]]\n",
            "bay.toml, line 12, [[far_shore]] 1: file is missing, a text wanted. Add file = ...",
        ),
    ],
)
def test_what_bay_toml_says_wrongly_of_a_far_shore_is_answered(tmp_path, more, sentence):
    with pytest.raises(BadInput) as caught:
        read_bay(folder(tmp_path, more, ISLAND))
    assert str(caught.value) == sentence.format(folder=tmp_path)


def test_a_real_coast_cut_by_a_box_is_met_where_it_is_and_ends_where_it_is_cut():
    # LINZ Topo50 coastlines, Doubtful Sound, clipped to 3 km (tests/files/README.md)
    path = FILES / "doubtful_sound.geojson"
    land = shapely.union_all(read_shapes(path).of("Polygon"))
    west, south, east, north = land.bounds
    frames = []
    for lat in np.linspace(south, north, 9)[1:-1]:
        for lon in np.linspace(west, east, 9)[1:-1]:
            if land.distance(shapely.Point(lon, lat)) > 1e-3:
                frames.append(Frame(float(lat), float(lon)))
    assert len(frames) > 3
    for frame in frames:
        found = fetches(None, None, 0.0, 0.0, FarShore(None, (read_coast(path, frame),)))
        # the library's rays over the same land in the same plane
        edge = shapely.union_all(read_shapes(path, frame).of("Polygon")).boundary
        expected = fetches(edge, None, 0.0, 0.0).straight_m
        np.testing.assert_allclose(found.straight_m, expected, atol=0.01)


@pytest.mark.parametrize("seed", range(60))
def test_a_damaged_far_shore_is_read_or_refused_with_a_reason(tmp_path, seed):
    rng = np.random.default_rng(seed)
    path = written(tmp_path, ISLAND.difference(LAKE), LAKE.exterior)
    raw = bytearray(path.read_bytes())
    for at in rng.integers(0, len(raw), rng.integers(1, 6)):
        raw[at] = rng.choice(np.frombuffer(b'0123456789.,-[]{}": eE\xff', dtype=np.uint8))
    cut = rng.integers(len(raw) // 2, len(raw)) if seed % 3 == 0 else len(raw)
    path.write_bytes(bytes(raw[:cut]))
    try:
        coast = read_coast(path, FRAME)
    except (BadInput, Unreadable) as refused_so:
        assert str(refused_so).startswith("far.geojson")
    else:
        found = fetches(None, None, 0.0, 0.0, FarShore(None, (coast,))).straight_m
        assert np.all(np.isnan(found) | (found >= 0.0))
