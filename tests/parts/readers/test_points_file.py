"""Points ashore from rows and from GeoJSON."""

import json

import pytest

from shorefast.bay import Frame
from shorefast.errors import BadInput, Unreadable
from shorefast.readers import read_points_file

FRAME = Frame(47.5, -40.0)
HEAD = "name,kind,east_m,north_m,height_m,strength_kn,remark\n"


def _rows(folder, text):
    path = folder / "points.csv"
    path.write_text(text)
    return path


def test_rows_are_read_in_their_units(tmp_path):
    path = _rows(tmp_path, HEAD + "birch,tree,-12,7.8,6.5,20,lean on it first\nrock,,5,6,1.2,,\n")
    birch, rock = read_points_file(path, FRAME).points
    assert (birch.name, birch.kind, birch.east_m, birch.north_m) == ("birch", "tree", -12.0, 7.8)
    # kilonewtons, not knots
    assert (birch.height_m, birch.strength_n) == (6.5, 20_000.0)
    assert birch.remark == "lean on it first"
    assert (rock.kind, rock.strength_n, rock.remark, rock.photo) == ("point", None, None, None)


def test_places_on_earth_come_into_the_plane(tmp_path):
    path = _rows(tmp_path, "name,kind,lat_deg,lon_deg,height_ft\nring,ring,47.501,-40,10\n")
    (ring,) = read_points_file(path, FRAME).points
    # 0.001 degree of latitude is 111.2 m there
    assert (ring.east_m, ring.north_m) == pytest.approx((0.0, 111.18), abs=0.1)
    assert ring.height_m == pytest.approx(3.048)


def test_points_of_geojson_say_the_same(tmp_path):
    path = tmp_path / "p.geojson"
    says = {"name": "ring", "kind": "ring", "height_m": 1.6, "photo": "ring.jpg",
            "strength_n": 12000, "strength_source": "harbour master"}  # fmt: skip
    at = {"type": "Point", "coordinates": [3.0, 4.0]}
    line = {"type": "LineString", "coordinates": [[0, 0], [1, 1]]}
    features = [
        {"type": "Feature", "geometry": at, "properties": says},
        {"type": "Feature", "geometry": line, "properties": {"layer": "shore"}},
    ]
    tree = {"type": "FeatureCollection", "frame": "bay metres", "features": features}
    path.write_text(json.dumps(tree))
    read = read_points_file(path, FRAME)
    assert (read.points[0].photo, read.points[0].strength_source) == ("ring.jpg", "harbour master")
    assert read.left_out == (("not a point to make fast to", 1),)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "name,kind,height_m\na,tree,1\n",
            "points.csv, line 1: columns name, kind, height_m, lat_deg,lon_deg or east_m,north_m "
            "wanted. Name the columns in the first row.",
        ),
        (HEAD + ",tree,1,2,3,,\n", "points.csv, line 2: no name, a name wanted. "
         "Give each point its own."),
        (HEAD + "a,tree,,2,3,,\n", "points.csv, line 2, east_m: no number, a place wanted. "
         "Correct it."),
        (HEAD + "a,tree,1,2,,,\n", "points.csv, line 2: no height_m of a, metres above chart "
         "datum wanted. Add it."),
        (HEAD + "a,tree,1,2,300,,\n", "points.csv, line 2, height_m: 300, -20 to 200 wanted. "
         "Correct it."),
        (HEAD + "a,tree,9000,2,3,,\n", "points.csv, line 2: a, 9 km from the bay's origin, "
         "points within 5 km wanted. Correct its place (south and west are negative)."),
        (HEAD + "a,tree,1,2,3,,\na,tree,1,2,3,,\n", "points.csv: a second point 'a', "
         "names must differ. Give it another."),
    ],
)  # fmt: skip
def test_what_cannot_be_a_point_is_refused(tmp_path, text, sentence):
    with pytest.raises(BadInput) as refused:
        read_points_file(_rows(tmp_path, text), FRAME)
    assert refused.value.sentence == sentence


def test_geojson_without_a_point_is_refused(tmp_path):
    path = tmp_path / "p.geojson"
    path.write_text(json.dumps({"type": "LineString", "coordinates": [[-40, 47], [-40, 48]]}))
    with pytest.raises(Unreadable) as refused:
        read_points_file(path, FRAME)
    assert refused.value.sentence == (
        "p.geojson: no point in it, points to make fast to wanted. Name another file."
    )
