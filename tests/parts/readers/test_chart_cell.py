"""Chart cells, held against what GDAL reads of them directly, and cells that are damaged."""

import importlib.util
import shutil
from pathlib import Path

import numpy as np
import pyogrio
import pyogrio.raw
import pytest
import shapely

from shorefast.errors import Unreadable
from shorefast.readers import read_chart, read_depths
from shorefast.readers.chart_cell import OPTIONS
from shorefast.readers.depths import Told

FILES = Path(__file__).parents[2] / "files" / "charts"
CELL = FILES / "ZZ5COVE1.000"


def _script():
    spec = importlib.util.spec_from_file_location("write_cell", FILES / "write_cell.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def chart():
    return read_chart(CELL, Told())


@pytest.fixture(scope="module")
def direct():
    """Depth and place of every sounding, and the count of every class, as GDAL has them."""
    before = pyogrio.get_gdal_config_option("OGR_S57_OPTIONS")
    pyogrio.set_gdal_config_options({"OGR_S57_OPTIONS": OPTIONS})
    try:
        about, _, wkb, columns = pyogrio.raw.read(CELL, layer="SOUNDG")
        depth = columns[list(about["fields"]).index("DEPTH")]
        counts = {
            str(name): len(pyogrio.raw.read(CELL, layer=name)[2])
            for name, kind in pyogrio.list_layers(CELL)
            if kind is not None
        }
    finally:
        pyogrio.set_gdal_config_options({"OGR_S57_OPTIONS": before})
    return shapely.get_coordinates(shapely.from_wkb(wkb)), depth, counts


def test_the_cell_in_the_repository_is_what_its_script_writes():
    script = _script()
    assert CELL.read_bytes() == script.cove().whole()
    assert CELL.with_suffix(".001").read_bytes() == script.update().whole()


def test_soundings_are_those_that_gdal_reads(chart, direct):
    at, depth, _ = direct
    kept = depth != 40.0  # the one at which no bottom was found
    assert chart.soundings == kept.sum() == 73
    part = chart.part(0, chart.soundings)
    assert part.level_m == pytest.approx(-depth[kept])
    assert np.column_stack((part.lon_deg, part.lat_deg)) == pytest.approx(at[kept])
    assert (-part.level_m.max(), -part.level_m.min()) == (-0.7, 16.2)


def test_soundings_are_those_that_were_written(chart):
    lat, lon, depth = np.array(_script().soundings()).T
    part = chart.part(0, chart.soundings)
    assert part.level_m == pytest.approx(-depth)
    # A place is kept to 1e-7 of a degree, one centimetre.
    assert part.lat_deg == pytest.approx(lat, abs=1e-7)
    assert part.lon_deg == pytest.approx(lon, abs=1e-7)


def test_every_object_is_taken_or_counted_with_its_reason(chart, direct):
    counts = direct[2]
    for acronym, count in chart.taken.items():
        left = 1 if acronym in ("SOUNDG", "SBDARE") else 0
        assert count == counts[acronym] - left, acronym
    left_out = sum(count for _, count in chart.depths.left_out)
    assert sum(chart.taken.values()) + left_out == sum(counts.values())
    assert chart.depths.left_out == (
        ("SOUNDG: no bottom found at that depth", 1),
        ("SBDARE: a bottom no kind here stands for", 1),
        ("nothing said of depth, shore, danger, rule, bottom or mark (M_COVR 1)", 1),
    )


def test_the_update_beside_it_is_applied(chart, tmp_path):
    shutil.copy(CELL, tmp_path)
    before = read_chart(tmp_path / CELL.name, Told())
    assert (before.about["updates_applied"], chart.about["updates_applied"]) == (0, 1)
    assert (before.taken["UWTROC"], chart.taken["UWTROC"]) == (4, 5)
    assert before.taken["LIGHTS"] == 1
    assert "LIGHTS" not in chart.taken
    assert [one.says for one in before.marks.features] == [{"name": "light", "lit": True}]
    assert chart.marks.features == ()


def test_an_update_under_another_number_is_told(tmp_path):
    shutil.copy(CELL, tmp_path)
    shutil.copy(CELL.with_suffix(".001"), tmp_path / "ZZ5COVE1.002")
    chart = read_chart(tmp_path / CELL.name, Told())
    assert chart.about["updates_applied"] == 0
    assert chart.depths.notes[0] == "ZZ5COVE1.002 left out: by its own record it is update 1"


def test_contours_drawn_and_between_areas_give_depths(chart):
    part = chart.part(chart.soundings, chart.soundings + chart.contours)
    assert sorted({float(-level) for level in part.level_m}) == [0.0, 5.0, 10.0]
    five = part.level_m == -5.0
    # Nobody drew the 5 m line: depth areas meet there, on a line that waves 0.0002 degrees.
    assert np.abs(part.lat_deg[five] - 59.505).max() == pytest.approx(0.0002, abs=1e-5)
    # Every 2 mm of a chart of 1:10 000 is 20 m; the cove is 1131 m wide.
    assert five.sum() == pytest.approx(1131 / 20, abs=3)


def test_dangers_give_their_top_and_unknown_ones_none(chart):
    # Awash; 1.8 m; 3.2 m; 6.4 m. What dries by an unknown height has no level.
    assert (-chart.dangers.level_m).tolist() == pytest.approx([0.0, 1.8, 3.2, 6.4])
    assert chart.dangers.deviation_m.max() == 0.1
    assert "3 charted dangers of unknown depth or height" in chart.depths.notes


def test_the_datums_are_said_in_words(chart):
    assert chart.depths.datum == "lowest astronomical tide"
    assert chart.about["height_datum"] == "mean high water"
    assert chart.about["issued"] == "2026-03-01"


def test_a_datum_offset_raises_all_of_it(chart):
    raised = read_chart(CELL, Told(datum_offset_m=0.25))
    assert raised.depths.level_m == pytest.approx(chart.depths.level_m + 0.25)


def test_the_options_of_the_reader_are_put_back():
    pyogrio.set_gdal_config_options({"OGR_S57_OPTIONS": "LNAM_REFS=OFF"})
    try:
        read_chart(CELL, Told())
        assert pyogrio.get_gdal_config_option("OGR_S57_OPTIONS") == "LNAM_REFS=OFF"
    finally:
        pyogrio.set_gdal_config_options({"OGR_S57_OPTIONS": None})


def test_a_chart_named_as_depths_gives_its_depths(chart):
    assert read_depths(CELL, Told()).level_m == pytest.approx(chart.depths.level_m)


WHOLE = CELL.read_bytes()
BEGIN = "it does not begin as an S-57 file does, damaged, of another kind, or encrypted (S-63), "
BEGIN += "and encrypted ones are not read. Name the cell as it is after decryption, or one that "
BEGIN += "its office gives out open."
BROKEN = {
    "encrypted": (bytes((k * 197 + 31) % 256 for k in range(4096)), f"X.000: {BEGIN}"),
    "text": (b"lon,lat,depth\n", f"X.000: {BEGIN}"),
    "cut": (WHOLE[:-100], "X.000: it is cut short: the record at byte 12200 runs past its end, "
            "an S-57 chart cell wanted. Fetch it again."),
    "no end of its last record": (WHOLE[:-1] + b"\0", "X.000: it is damaged at byte 12200, an "
                                  "S-57 chart cell wanted. Fetch it again."),
    "fathoms": (WHOLE.replace(b"\1\1\1\1\x80\x96\x98\0", b"\2\1\1\1\x80\x96\x98\0"),
                "X.000: its depths are in fathoms and feet, an electronic chart counts metres. "
                "Name a cell in metres."),
}  # fmt: skip


@pytest.mark.parametrize("case", BROKEN)
def test_a_cell_that_cannot_be_read_says_why(case, tmp_path):
    data, sentence = BROKEN[case]
    path = tmp_path / "X.000"
    path.write_bytes(data)
    with pytest.raises(Unreadable) as refused:
        read_chart(path, Told())
    assert refused.value.sentence == sentence


def test_an_update_alone_is_no_chart(tmp_path):
    shutil.copy(CELL.with_suffix(".001"), tmp_path)
    with pytest.raises(Unreadable) as refused:
        read_chart(tmp_path / "ZZ5COVE1.001", Told())
    assert refused.value.sentence == (
        "ZZ5COVE1.001: an update of a chart, it changes a cell and is none. Name the cell, "
        "ZZ5COVE1.000, with its updates beside it."
    )


def test_a_damaged_update_stops_the_chart(tmp_path):
    shutil.copy(CELL, tmp_path)
    (tmp_path / "ZZ5COVE1.001").write_bytes(CELL.with_suffix(".001").read_bytes()[:-7])
    with pytest.raises(Unreadable, match=r"^ZZ5COVE1\.001: it is cut short: the record at byte"):
        read_chart(tmp_path / CELL.name, Told())


@pytest.mark.parametrize("seed", range(8))
def test_whatever_happens_to_a_cell_it_is_read_or_refused(seed, tmp_path):
    draw, path = np.random.default_rng(seed), tmp_path / "X.000"
    for _ in range(10):
        data = np.frombuffer(WHOLE, np.uint8).copy()
        data[draw.integers(len(data), size=3)] = draw.integers(256, size=3)
        path.write_bytes(data.tobytes()[: int(draw.integers(1, 2 * len(data)))])
        try:
            assert np.isfinite(read_chart(path, Told()).depths.level_m).all()
        except Unreadable as refused:
            assert refused.sentence.startswith("X.000: ")
