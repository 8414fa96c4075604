"""What the bay command says of files and of a bay folder."""

import json
from pathlib import Path

import numpy as np
import pytest

from shorefast.app.answer import to_json
from shorefast.app.answers.bay import answer_bay
from shorefast.errors import BadInput, Unreadable

FILES = Path(__file__).parents[2] / "files" / "bay"
DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"
SAMOS = FILES / "samos_strait_15s.asc"
TOLD = {"depth": "up", "crs": "EPSG:4326", "datum": None, "no_data": None}


def _plane_soundings(folder: Path) -> Path:
    """A bed one in ten, falling to the north, sounded every 11 m or so."""
    rows = [
        f"{5 + e * 2e-4:.6f},{60 + n * 1e-4:.6f},{4 + n * 1.1132:.3f}"
        for e in range(12)
        for n in range(12)
    ]
    path = folder / "s.csv"
    path.write_text("lon_deg,lat_deg,depth_m\n" + "\n".join(rows) + "\n")
    return path


def _said(answer) -> list[str]:
    return [finding.said for finding in answer.basis.findings]


def test_the_keys_are_those_of_the_contract(tmp_path):
    told = json.loads(to_json(answer_bay([_plane_soundings(tmp_path)])))
    assert list(told)[:4] == ["schema", "version", "basis", "findings"]
    assert told["schema"] == "shorefast/bay/1"
    assert set(told) >= {"files", "at", "along", "zones", "points"}
    assert set(told["files"][0]) == {
        "file", "kind", "taken", "left_out", "least_depth_m", "greatest_depth_m", "west_deg",
        "south_deg", "east_deg", "north_deg", "crs", "chart_datum", "spacing_m",
    }  # fmt: skip
    assert set(told["files"][0]["taken"]) == {"soundings", "areas", "lines", "points"}


def test_a_bare_file_says_what_it_holds(tmp_path):
    file = answer_bay([_plane_soundings(tmp_path)], told={"datum": "LAT"}).keys["files"][0]
    assert file["taken"]["soundings"] == 144
    assert file["least_depth_m"] == 4.0
    assert file["greatest_depth_m"] == pytest.approx(4 + 11 * 1.1132, abs=1e-3)
    assert (file["west_deg"], file["south_deg"]) == (5.0, 60.0)
    assert (file["crs"], file["chart_datum"]) == ("EPSG:4326", "LAT")
    # 2e-4 of a degree of longitude at 60 north is 11.2 m; 1e-4 of latitude 11.1 m.
    assert file["spacing_m"] == pytest.approx(11.1, abs=0.2)


def test_between_soundings_the_charted_depth_is_positive_down(tmp_path):
    at = answer_bay([_plane_soundings(tmp_path)], at=[(60.00055, 5.0011)]).keys["at"][0]
    assert at["charted_depth_m"] == pytest.approx(4 + 5.5 * 1.1132, abs=0.05)
    assert 0.0 < at["deviation_m"] < 0.3


def test_far_from_every_sounding_the_depth_is_null_and_the_reason_said(tmp_path):
    answer = answer_bay([_plane_soundings(tmp_path)], at=[(60.01, 5.001)])
    assert json.loads(to_json(answer))["at"] == [
        {"lat_deg": 60.01, "lon_deg": 5.001, "charted_depth_m": None, "deviation_m": None}
    ]
    # From 60.0011 to 60.0100 north is 0.0089 degrees of 111.4 km.
    assert _said(answer) == [
        "the nearest depth is 992 m away; a berth needs soundings closer than 40 m"
    ]


def test_a_coarse_grid_says_that_a_berth_needs_closer_soundings():
    answer = answer_bay([SAMOS], at=[(37.69, 27.02)], told=TOLD)
    assert _said(answer)[0].startswith("the nearest depth is ")
    assert _said(answer)[0].endswith(" m away; a berth needs soundings closer than 40 m")
    assert answer.keys["at"][0]["deviation_m"] > 1.0


def test_depths_along_a_line_begin_and_end_where_asked(tmp_path):
    path = _plane_soundings(tmp_path)
    along = answer_bay([path], along=(60.0001, 5.001, 0.0, 50.0)).keys["along"]
    assert (along[0]["distance_m"], along[-1]["distance_m"]) == (0.0, 50.0)
    fall = along[-1]["charted_depth_m"] - along[0]["charted_depth_m"]
    assert fall == pytest.approx(50.0 * 1.1132 / 11.142, abs=0.1)


def test_places_come_from_rows_too(tmp_path):
    rows = tmp_path / "p.csv"
    rows.write_text("name,lat_deg,lon_deg\na,60.0005,5.001\nb,60.0007,5.001\n")
    answer = answer_bay([_plane_soundings(tmp_path)], [(60.0003, 5.001)], rows)
    depths = [one["charted_depth_m"] for one in answer.keys["at"]]
    assert np.all(np.diff(depths) > 0.0)
    assert len(depths) == 3


def test_the_surer_of_two_files_is_believed(tmp_path):
    close = _plane_soundings(tmp_path)
    wide = tmp_path / "wide.csv"
    wide.write_text(
        "lon_deg,lat_deg,depth_m\n"
        + "\n".join(f"{5 + e * 0.01},{60 + n * 0.005},50" for e in range(-2, 3) for n in (-1, 0, 1))
    )
    at = answer_bay([wide, close], at=[(60.00055, 5.0011)]).keys["at"][0]
    assert at["charted_depth_m"] == pytest.approx(4 + 5.5 * 1.1132, abs=0.1)


def test_shores_are_counted():
    file = answer_bay([FILES / "doubtful_sound.geojson"]).keys["files"][0]
    assert file["taken"]["areas"] >= 2
    assert file["least_depth_m"] is None
    assert -45.37 < file["south_deg"] < file["north_deg"] < -45.32


def test_a_bay_folder_gives_its_zones_and_points():
    answer = answer_bay([DEMO / "grey_notch" / "bay"])
    zone, point = answer.keys["zones"][0], answer.keys["points"][0]
    assert zone["kind"] == "cable"
    assert set(zone) == {"kind", "name", "source", "from_utc", "until_utc"}
    assert point["height_m"] == 6.5
    assert json.loads(to_json(answer))["points"][0]["strength_n"] is None


def test_the_bed_where_the_skipper_lets_go_is_as_the_bay_was_made():
    # Grey Notch is 27 m deep at (55.2, 55.2); soundings there carry ripple 0.25 and error 0.15.
    lat, lon = 47.5 + 55.2 / 111_179.0, -40.0 + 55.2 / 75_335.0
    at = answer_bay([DEMO / "grey_notch" / "bay"], [(lat, lon)]).keys["at"][0]
    assert at["charted_depth_m"] == pytest.approx(27.0, abs=1.0)
    assert at["deviation_m"] < 0.5


def test_what_was_told_of_a_bay_folder_is_said_not_to_be_used():
    answer = answer_bay([DEMO / "grey_notch" / "bay"], told={"no_data": -1.0})
    assert "not used: bay.toml says it for a bay folder" in _said(answer)


def test_the_answer_reads_as_sentences(tmp_path):
    text = answer_bay([_plane_soundings(tmp_path)], at=[(60.00055, 5.0011), (60.01, 5.0)]).text
    first, *rest = text.splitlines()
    assert first.startswith("s.csv: 144 soundings, 11 m apart, 4.0 m to 16.2 m. From 60 0")
    assert rest[:2] == [
        "60 00.033 N 005 00.066 E: 10.1 m, give or take 0.1 m",
        "60 00.600 N 005 00.000 E: unknown",
    ]


def test_a_bay_folder_and_files_are_asked_apart(tmp_path):
    with pytest.raises(BadInput) as refused:
        answer_bay([DEMO / "grey_notch" / "bay", _plane_soundings(tmp_path)])
    assert refused.value.sentence == (
        "Files: a bay folder and 1 more, one bay folder, or files, wanted. "
        "Ask for them one after the other."
    )


@pytest.mark.parametrize(
    ("text", "kind", "sentence"),
    [
        ("", Unreadable, "p.csv: it is empty, rows of places wanted. Name another file."),
        (
            "north,east\n1,2\n",
            BadInput,
            "p.csv, line 1: columns north, east, lat_deg,lon_deg wanted. "
            "Name the columns in the first row.",
        ),
        (
            "lat_deg,lon_deg\n60,\n",
            BadInput,
            "p.csv, line 2, lon_deg: no number, a place wanted. Correct it.",
        ),
        (
            "lat_deg,lon_deg\n160,5\n",
            BadInput,
            "p.csv, line 2, lat_deg: 160, -90 to 90 wanted. Correct it.",
        ),
    ],
)
def test_rows_that_are_no_places_are_refused(tmp_path, text, kind, sentence):
    rows = tmp_path / "p.csv"
    rows.write_text(text)
    with pytest.raises(kind) as refused:
        answer_bay([_plane_soundings(tmp_path)], (), rows)
    assert refused.value.sentence == sentence
