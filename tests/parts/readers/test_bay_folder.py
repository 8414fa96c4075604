"""A bay folder as the skipper writes it, and every way it can be wrong."""

import json

import numpy as np
import pytest

from shorefast.errors import BadInput, Unreadable
from shorefast.readers.bay_folder import read_bay

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
[[point]]
name = "rock"
kind = "rock"
east_m = -3
north_m = 0
height_m = 2
"""
ROWS = [f"{e},{n},{2 + 0.4 * e:.2f}" for e in range(1, 60, 5) for n in range(-30, 31, 5)]
CSV = "east_m,north_m,depth_m\n" + "\n".join(ROWS) + "\n"
ZONED = TOML + '[[zone]]\nfile = "zones.geojson"\n'
SQUARE = {"type": "Polygon", "coordinates": [[[0, 0], [10, 0], [10, 10], [0, 0]]]}
KINDS = (
    "no anchoring, no lines, cable, bathing, reserve, fairway, foul, private, neighbour, "
    "pipeline, marine farm, anchorage, no entry, restricted area, charted rock, wreck, "
    "obstruction, sand, mud, soft mud, firm clay, mud over clay, gravel, weed, seagrass, "
    "rock, boulders"
)
WANTED = "columns lon_deg,lat_deg,depth_m or east_m,north_m,depth_m wanted"
NAME_THEM = "Name the columns in the first row, or give bare rows of longitude latitude depth."


def _shapes(geometry, said=None, frame="bay metres"):
    feature = {"type": "Feature", "properties": said or {}, "geometry": geometry}
    return json.dumps({"type": "FeatureCollection", "frame": frame, "features": [feature]})


def _line(*places):
    return {"type": "LineString", "coordinates": [list(place) for place in places]}


# Walked south to north the water, to the east, would be on the right hand.
SHORE = _shapes(_line((0, 40), (0, -40)))


@pytest.fixture
def folder(tmp_path):
    def write(toml=TOML, soundings=CSV, shore=SHORE, zones=None):
        for name, text in (
            ("bay.toml", toml),
            ("s.csv", soundings),
            ("shore.geojson", shore),
            ("zones.geojson", zones),
        ):
            if text is not None:
                (tmp_path / name).write_text(text, encoding="utf-8")
        return tmp_path

    return write


def test_a_bay_folder_becomes_a_bay(folder):
    bay = read_bay(folder())
    assert (bay.name, bay.zone_name, bay.chart_datum, bay.bottom) == (
        "Cove", "Etc/GMT+2", "LAT", "mud",
    )  # fmt: skip
    assert bay.surface.level_at(20.0, 0.0) == pytest.approx(-10.0, abs=0.05)
    assert bay.points[0].name == "rock"
    assert bay.points[0].strength_n is None
    assert bay.land.contains(bay.land.centroid)
    assert bay.land.bounds[2] == pytest.approx(0.0, abs=1e-6)
    assert bay.basis.findings == ()


def test_zones_are_read_beside_the_time_zone(folder):
    bay = read_bay(folder(ZONED, zones=_shapes(SQUARE, {"kind": "No_Anchoring", "name": "wreck"})))
    assert [(zone.kind, zone.name, zone.source) for zone in bay.zones] == [
        ("no anchoring", "wreck", "zones.geojson")
    ]


def test_a_kind_alone_holds_in_the_whole_bay(folder):
    zone = read_bay(folder(TOML + '[[zone]]\nkind = "reserve"\n')).zones[0]
    assert zone.shape.contains(zone.shape.centroid)
    assert zone.shape.bounds[0] < 0.0 < 59.0 < zone.shape.bounds[2]


def test_a_zone_of_an_unknown_kind_is_shown_and_said_not_to_be_judged(folder):
    bay = read_bay(folder(ZONED, zones=_shapes(SQUARE, {"kind": "mussel farm"})))
    assert [(one.where, one.said) for one in bay.basis.findings] == [
        ("Zone mussel farm", "kind 'mussel farm' is not known: it is shown, not judged")
    ]


def test_wind_sectors_are_read_in_radians_and_metres_a_second(folder):
    told = (
        "[[sector]]\nfrom_deg = 350\nuntil_deg = 80\nfactor = 0.7\ngust_kn = 40\nturn_deg = -10\n"
    )
    sector = read_bay(folder(TOML + told)).sectors[0]
    assert np.degrees([sector.from_rad, sector.until_rad]) == pytest.approx([350.0, 80.0])
    assert sector.gust_mps == pytest.approx(40 * 1852 / 3600)
    assert np.degrees(sector.turn_rad) == pytest.approx(-10.0)
    assert sector.spread_rad is None


def test_a_datum_that_lies_higher_makes_every_depth_less(folder):
    toml = TOML.replace('"down"', '"down"\ndatum_offset_m = 0.5')
    assert read_bay(folder(toml)).surface.level_at(20.0, 0.0) == pytest.approx(-9.5, abs=0.05)


def test_rows_that_are_no_soundings_are_left_out_and_counted(folder):
    bay = read_bay(folder(soundings=CSV + "7,8,nan\n7,9,-9999\na,b,c\n"))
    assert [finding.said for finding in bay.basis.findings] == [
        "1 left out: no three numbers",
        "1 left out: stands for no sounding",
        "1 left out: no number",
    ]


def test_a_point_out_in_the_water_is_noticed(folder):
    bay = read_bay(folder(TOML.replace("east_m = -3", "east_m = 40")))
    assert [finding.said for finding in bay.basis.findings] == ["rock stands 40 m out in the water"]


def test_a_bay_without_a_shore_says_so(folder):
    toml = TOML.replace('[[shore]]\nfile = "shore.geojson"\n', "")
    assert [finding.said for finding in read_bay(folder(toml)).basis.findings] == [
        "no shore within the bay: land is only where depths say so"
    ]


def test_a_coarse_file_has_no_say_near_a_finer_one(folder):
    toml = TOML + '[[depths]]\nfile = "coarse.csv"\ndepth = "down"\n'
    place = folder(toml)
    coarse = "\n".join(f"{e},{n},80" for e in (20, 480, 940) for n in (0, 460, 920))
    (place / "coarse.csv").write_text(f"east_m,north_m,depth_m\n{coarse}\n")
    bay = read_bay(place)
    assert bay.surface.level_at(20.0, 0.0) == pytest.approx(-10.0, abs=0.1)
    assert "3 depths of a coarser file left out near those of a finer one" in [
        finding.said for finding in bay.basis.findings
    ]


FLIPPED = "east_m,north_m,depth_m\n" + "\n".join(
    f"{e},{n},{-2 - 0.4 * e:.2f}" for e in range(1, 60, 5) for n in range(-30, 31, 5)
)
ON_EARTH = "lon_deg,lat_deg,depth_m\n" + "\n".join(
    f"{-40 + e * 1e-5},{47.5 + n * 1e-5},{2 + e * 0.1}"
    for e in range(0, 60, 5)
    for n in range(0, 60, 5)
)
BAD = {
    "no three numbers": (
        {"soundings": "east_m,north_m,depth_m\n1,2,x\n3,4,\n"},
        Unreadable,
        "s.csv: none of 2 rows is a sounding (no three numbers; first s.csv, line 2: '1,2,x'), "
        f"{WANTED}. {NAME_THEM}",
    ),
    "only NaN": (
        {"soundings": "east_m,north_m,depth_m\n1,2,nan\n3,4,nan\n"},
        Unreadable,
        "s.csv: none of 2 rows is a sounding (no number; first s.csv, line 2: nan), "
        f"{WANTED}. {NAME_THEM}",
    ),
    "no rows": (
        {"soundings": "east_m,north_m,depth_m\n"},
        Unreadable,
        "s.csv: no row under the columns' names, soundings wanted. Add the rows.",
    ),
    "empty soundings": (
        {"soundings": ""},
        Unreadable,
        "s.csv: it is empty, the depths of bay.toml, line 8, [[depths]] 1 file wanted. "
        "Name another file.",
    ),
    "wrong columns": (
        {"soundings": "a,b,c\n1,2,3\n"},
        BadInput,
        f"s.csv, line 1: columns a, b, c, {WANTED}. {NAME_THEM}",
    ),
    "sign flipped": (
        {"soundings": FLIPPED},
        BadInput,
        "s.csv: all 156 depths stand above chart datum when counted down, so there would be no "
        "water at all. Say depth up, if that is how the file counts.",
    ),
    "soundings swapped": (
        {"soundings": "lon_deg,lat_deg,depth_m\n47,-140,5\n47.1,-140.1,6\n47.2,-140.2,7\n"},
        BadInput,
        "s.csv: latitude -140, a latitude lies between -90 and 90. "
        "Swap latitude and longitude: they have changed places.",
    ),
    "empty bay.toml": (
        {"toml": ""},
        Unreadable,
        "bay.toml: it is empty, TOML wanted. See docs/files.md for an example.",
    ),
    "no origin": (
        {"toml": TOML.replace("lon_deg = -40\n", "")},
        BadInput,
        "bay.toml: no origin, lat_deg and lon_deg wanted. "
        "Add them: a place in the bay, south and west negative.",
    ),
    "latitude no latitude": (
        {"toml": TOML.replace("lat_deg = 47.5", "lat_deg = 147.5")},
        BadInput,
        "bay.toml, line 2, lat_deg: latitude 147.5, a latitude lies between -90 and 90. "
        "Swap latitude and longitude if they changed places, or correct it.",
    ),
    "origin swapped": (
        {
            "toml": TOML.replace("lat_deg = 47.5\nlon_deg = -40", "lat_deg = -40\nlon_deg = 47.5"),
            "soundings": ON_EARTH,
        },
        BadInput,
        "bay.toml, line 2, lat_deg: the nearest sounding lies 12972 km from the bay's origin, "
        "within 20 km wanted. "
        "Latitude and longitude have changed places, here or in the depths: swap them.",
    ),
    "origin elsewhere": (
        {"toml": TOML.replace("lat_deg = 47.5", "lat_deg = 48.5"), "soundings": ON_EARTH},
        BadInput,
        "bay.toml, line 2, lat_deg: the nearest sounding lies 111 km from the bay's origin, "
        "within 20 km wanted. Correct lat_deg and lon_deg (south and west negative).",
    ),
    "unknown key of a datum": (
        {"toml": TOML.replace('"down"', '"down"\ndatum_ofset_m = 1')},
        BadInput,
        "bay.toml, line 10, [[depths]] 1 datum_ofset_m: datum_ofset_m is not known here. "
        "Take it out.",
    ),
    "depth sideways": (
        {"toml": TOML.replace('"down"', '"sideways"')},
        BadInput,
        "bay.toml, line 9, [[depths]] 1 depth: 'sideways', one of down, up wanted. Correct it.",
    ),
    "no depths": (
        {"toml": TOML[: TOML.index("[[depths]]")]},
        BadInput,
        "bay.toml: no [[depths]], a bay needs soundings, a grid or a chart. Add [[depths]] or "
        "[[chart]].",
    ),
    "point inland": (
        {"toml": TOML.replace("east_m = -3", "east_m = -600")},
        BadInput,
        "bay.toml, line 12, [[point]] rock: 600 m inland, within 250 m of the shore wanted. "
        "Correct its place.",
    ),
    "point in the water": (
        {"toml": TOML.replace("east_m = -3", "east_m = 500")},
        BadInput,
        "bay.toml, line 12, [[point]] rock: 500 m out in the water, within 250 m of the shore "
        "wanted. Correct its place.",
    ),
    "point far away": (
        {"toml": TOML.replace("east_m = -3", "east_m = 40000")},
        BadInput,
        "bay.toml, line 12, [[point]] rock: 40 km from the bay's origin, points within 5 km "
        "wanted. Correct its place (south and west are negative).",
    ),
    "half a place": (
        {"toml": TOML.replace("north_m = 0\n", "")},
        BadInput,
        "bay.toml, line 12, [[point]] rock: no whole place, lat_deg and lon_deg, or east_m and "
        "north_m wanted. Give one pair.",
    ),
    "point twice": (
        {"toml": TOML + TOML[TOML.index("[[point]]") :]},
        BadInput,
        "bay.toml, line 19, [[point]] rock name: a second point 'rock', names must differ. "
        "Give it another.",
    ),
    "no such zone": (
        {"toml": TOML.replace("Etc/GMT+2", "Mars/Olympus")},
        BadInput,
        "bay.toml, line 4, zone: 'Mars/Olympus', a zone name like \"Europe/Oslo\" wanted. "
        "Correct it.",
    ),
    "no such bottom": (
        {"toml": TOML.replace('"mud"', '"lava"')},
        BadInput,
        "bay.toml, line 6, bottom: 'lava', one of sand, mud, soft mud, firm clay, mud over clay, "
        "gravel, weed, seagrass, rock, boulders wanted. Correct it.",
    ),
    "shore walked the wrong way": (
        {"shore": _shapes(_line((0, -40), (0, 40)))},
        BadInput,
        "shore.geojson: 100 % of the depths would lie on land, a shore line is walked with the "
        "water on the left hand, and an area is land. "
        "Turn the line round, or draw the land instead of the water.",
    ),
    "broken JSON": (
        {"shore": '{"type": "FeatureCollection", "features": [,]}'},
        Unreadable,
        "shore.geojson, line 1: broken JSON (Expecting value), GeoJSON with lines or polygons "
        "wanted. Export it again.",
    ),
    "JSON of another kind": (
        {"shore": "[1, 2]"},
        Unreadable,
        "shore.geojson: JSON of another kind, GeoJSON with lines or polygons wanted. "
        "Name another file.",
    ),
    "no shape": (
        {"shore": '{"type": "FeatureCollection", "features": []}'},
        Unreadable,
        "shore.geojson: no shape in it, GeoJSON with lines or polygons wanted. Name another file.",
    ),
    "broken coordinates": (
        {"shore": json.dumps(_line(("a", 1), (2, 3)))},
        Unreadable,
        "shore.geojson, feature 1: broken coordinates, GeoJSON with lines or polygons wanted. "
        "Mend that feature.",
    ),
    "shore swapped": (
        {"shore": json.dumps(_line((47.5, -140.0), (47.6, -140.1)))},
        BadInput,
        "shore.geojson: a place at longitude 47.5, latitude -140, no such place on earth. "
        "Longitude comes first in GeoJSON: swap them.",
    ),
    "shore in other metres": (
        {"shore": json.dumps(_line((612345, 7246504), (612346, 7246505)))},
        BadInput,
        "shore.geojson: a place at longitude 612345, latitude 7.2465e+06, no such place on earth. "
        'Give longitude and latitude, or say "frame": "bay metres".',
    ),
    "an unknown frame": (
        {"shore": SHORE.replace("bay metres", "feet")},
        BadInput,
        "shore.geojson: frame 'feet', 'bay metres' is the only one known. "
        "Correct it, or take it out if coordinates are longitude and latitude.",
    ),
    "zone no polygon": (
        {"toml": ZONED, "zones": _shapes(_line((0, 0), (1, 1)), {"kind": "cable"})},
        BadInput,
        "zones.geojson, feature 1: a zone drawn as LineString, a polygon wanted. "
        "Draw it as a closed area.",
    ),
    "zone of no kind": (
        {"toml": ZONED, "zones": _shapes(SQUARE)},
        BadInput,
        f"zones.geojson, feature 1: no kind, one of {KINDS} wanted. Add a property kind.",
    ),
    "zone in force some time": (
        {"toml": ZONED, "zones": _shapes(SQUARE, {"kind": "cable", "from_utc": "soon"})},
        BadInput,
        "zones.geojson, feature 1: 'soon', a time like \"2026-07-01T21:40:00Z\" wanted. "
        "Correct it.",
    ),
    "zone of nothing": (
        {"toml": TOML + '[[zone]]\nname = "x"\n'},
        BadInput,
        "bay.toml, line 18, [[zones]] x: neither file nor kind, one of them wanted. "
        "Name a GeoJSON file of zones, or the kind that holds in the whole bay.",
    ),
    "sector factor": (
        {"toml": TOML + "[[sector]]\nfrom_deg = 10\nuntil_deg = 80\nfactor = 9\n"},
        BadInput,
        "bay.toml, line 21, [[sector]] 1 factor: 9, 0 to 4 wanted. Correct it.",
    ),
}


@pytest.mark.parametrize(("given", "kind", "sentence"), BAD.values(), ids=BAD.keys())
def test_what_cannot_be_so_is_answered_with_a_way_out(folder, given, kind, sentence):
    with pytest.raises(kind) as refused:
        read_bay(folder(**given))
    assert refused.value.sentence == sentence


def test_a_file_that_is_not_there_is_named(folder, tmp_path):
    with pytest.raises(BadInput) as refused:
        read_bay(folder(soundings=None))
    assert refused.value.sentence == (
        f"{tmp_path / 's.csv'}: no such file, the depths of bay.toml, line 8, [[depths]] 1 file "
        "wanted. Correct the path."
    )


def test_a_folder_without_a_bay_in_it_is_named(folder, tmp_path):
    with pytest.raises(BadInput) as refused:
        read_bay(folder(toml=None))
    assert refused.value.sentence == (
        f"{tmp_path / 'bay.toml'}: no such file, a bay folder with a bay.toml wanted. "
        "Correct the path."
    )
