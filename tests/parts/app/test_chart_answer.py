"""What the bay command says of a chart, alone and in a bay folder."""

import json
import shutil
from pathlib import Path

import pytest

from shorefast.app.answer import to_json
from shorefast.app.answers.bay import answer_bay
from shorefast.readers.nmea_sentence import checksum

FILES = Path(__file__).parents[2] / "files" / "charts"
CELL = FILES / "ZZ5COVE1.000"


@pytest.fixture(scope="module")
def answer():
    return answer_bay([CELL], at=[(59.5030, 5.2110)])


def test_a_chart_has_the_keys_of_the_contract(answer):
    told = json.loads(to_json(answer))
    file = told["files"][0]
    assert (file["file"], file["kind"]) == ("ZZ5COVE1.000", "S-57 chart")
    assert file["taken"] == {"soundings": 73, "areas": 12, "lines": 5, "points": 9}
    assert (file["least_depth_m"], file["greatest_depth_m"]) == (-0.7, 16.2)
    assert (file["crs"], file["chart_datum"]) == ("EPSG:4326", "lowest astronomical tide")
    assert file["chart"]["updates_applied"] == 1
    assert file["objects"]["UWTROC"] == 5
    assert sum(row["count"] for row in file["left_out"]) == 3


def test_its_zones_have_source_and_dates(answer):
    zones = json.loads(to_json(answer))["zones"]
    rule = next(one for one in zones if one["kind"] == "no anchoring")
    assert rule["source"] == "ZZ5COVE1.000, ZZ,ZZ,graph,Survey 12, 2025-06-14"
    assert rule["from_utc"] == "2026-05-01T00:00:00Z"
    assert rule["until_utc"] == "2026-10-01T00:00:00Z"


def test_it_is_told_with_edition_updates_scale_and_datum(answer):
    assert answer.text.splitlines()[0] == (
        "ZZ5COVE1.000: S-57 chart, edition 1, updates applied: 1, issued 2026-03-01, 1:10 000, "
        "depths from lowest astronomical tide, 73 soundings, 12 areas, 5 lines, 9 points, "
        "89 m apart, drying 0.7 m to 16.2 m. From 59 30.030 N 005 12.000 E to 59 30.444 N "
        "005 13.200 E."
    )


def test_between_its_soundings_it_knows_the_bed(answer):
    # The invented bed falls 2500 m a degree of latitude, from 0 m at 59.507.
    place = answer.keys["at"][0]
    assert place["charted_depth_m"] == pytest.approx(10.0, abs=0.7)


def test_a_folder_lists_its_chart_among_its_files(tmp_path):
    shutil.copy(CELL, tmp_path)
    (tmp_path / "bay.toml").write_text(
        'name = "Cove"\nlat_deg = 59.5045\nlon_deg = 5.2095\nzone = "Europe/Oslo"\n'
        'chart_datum = "lowest astronomical tide"\nbottom = "sand"\n'
        '[[chart]]\nfile = "ZZ5COVE1.000"\n'
    )
    folder = answer_bay([tmp_path])
    assert [one["file"] for one in folder.keys["files"]] == ["ZZ5COVE1.000"]
    assert folder.keys["files"][0]["objects"]["UWTROC"] == 4
    assert "no anchoring" in {one["kind"] for one in folder.keys["zones"]}


def test_very_many_zones_are_counted_in_the_text(tmp_path):
    text = answer_bay([CELL, CELL, CELL]).text
    assert "Zones, each with its name and source under --json: 15 charted rock, 3 cable" in text


def test_a_run_that_is_not_reduced_is_told_apart_from_a_chart(tmp_path):
    """Its depths are those of the hour, the chart's those of its datum: said, not mixed unsaid."""
    south, west = 59.5005, 5.202
    rows = []
    for second in range(40):
        north = 60.0 * (south - 59.0) + 6e-4 * second
        east = 60.0 * (west - 5.0)
        place = f"59{north:07.4f},N,005{east:07.4f},E"
        for body in (f"GPRMC,1200{second:02d},A,{place},2.2,0,010726,,,A", "SDDPT,5.0,0.5"):
            rows.append(f"${body}*{checksum(body.encode()):02X}")
    (tmp_path / "run.log").write_text("\n".join(rows))
    answer = answer_bay([CELL, tmp_path / "run.log"])
    assert "soundings, counted from the surface of the moment, not reduced, " in answer.text
    told = [one.said for one in answer.basis.findings if one.where == "Files"]
    assert told == [
        "depths counted from different levels are shown together as they are: run.log from "
        "surface of the moment, not reduced; ZZ5COVE1.000 from lowest astronomical tide"
    ]
    alone = answer_bay([CELL])
    assert not [one for one in alone.basis.findings if one.where == "Files"]
