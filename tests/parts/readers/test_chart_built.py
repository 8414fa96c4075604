"""What is built in the water as obstructions, and what a chart's caution areas say."""

import importlib.util
from collections import Counter
from pathlib import Path

import pytest
import shapely
from shapely import Point

from shorefast.bay import DANGERS, Bounds, Frame
from shorefast.readers import read_bay_files, read_chart
from shorefast.readers.chart_depths import in_plane
from shorefast.readers.chart_in_bay import Charts
from shorefast.readers.depths import Told

FILES = Path(__file__).parents[2] / "files" / "charts"
SPEC = importlib.util.spec_from_file_location("write_cell", FILES / "write_cell.py")
WRITE = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(WRITE)
PLANE = Frame(59.5, 5.2)
# one degree in this latitude, to a tenth of a per cent: GRS 80 tables, from memory
LAT_M, LON_M = 111_410.0, 56_660.0
SHORE = 59.508
TOML = """
name = "Harbour of the chart"
lat_deg = 59.5045
lon_deg = 5.2095
zone = "Europe/Oslo"
chart_datum = "lowest astronomical tide"
bottom = "sand"
[[chart]]
file = "ZZ5COVE1.000"
"""


class Harbour:
    """Land north of 59.508, 1133 m along it, and what is built there."""

    def __init__(self):
        self.cell = WRITE.Writing("ZZ5COVE1.000", 0, number=2)
        self.at = 100
        self.edges = {}
        corners = ((SHORE, 5.20), (SHORE, 5.22), (59.51, 5.22), (59.51, 5.20))
        nodes = [self.cell.node(10 + k, *at, WRITE.CONNECTED) for k, at in enumerate(corners)]
        self.sides = [
            self.cell.edge(20 + k, (nodes[k], nodes[(k + 1) % 4])) for k in range(4)
        ]  # fmt: skip
        self.cell.feature(30, "LNDARE", 3, [(side, 1, 1) for side in self.sides])
        rows = [
            (59.503 + 4e-4 * k, 5.204 + 8e-4 * j, 12.0 - k) for k in range(12) for j in range(14)
        ]
        self.cell.feature(31, "SOUNDG", 1, [(self.cell.soundings(31, rows), 255, 255)])

    def line(self, acronym, begin, end, **says):
        self.at += 4
        ends = [
            self.cell.node(self.at + k, *at, WRITE.CONNECTED) for k, at in enumerate((begin, end))
        ]
        edge = self.cell.edge(self.at + 2, ends)
        self.cell.feature(self.at, acronym, 2, [(edge, 1, 255)], **says)

    def point(self, acronym, lat, lon, **says):
        self.at += 4
        self.cell.point(self.at, acronym, lat, lon, **says)

    def area(self, acronym, south, west, side_deg, **says):
        self.at += 4
        self.cell.area(self.at, acronym, south, west, side_deg, **says)

    def quay(self, acronym, **says):
        """On the very edge of the land area."""
        self.at += 4
        self.cell.feature(self.at, acronym, 2, [(self.sides[0], 1, 255)], **says)

    def read(self, folder):
        path = folder / "ZZ5COVE1.000"
        path.write_bytes(self.cell.whole())
        return read_chart(path, Told())


@pytest.fixture
def harbour():
    return Harbour()


def _built(chart):
    """Name, shape in the plane and what is said of every obstruction."""
    return [
        (one.says["name"], in_plane(one.shape, PLANE), one.says)
        for one in chart.zones.features
        if one.says["kind"] == "obstruction"
    ]


def test_a_pier_drawn_as_a_line_is_an_obstruction_clear_of_the_land(harbour, tmp_path):
    harbour.line("SLCONS", (SHORE, 5.210), (59.507, 5.210), CATSLC="4", WATLEV="2",
                 SORIND="ZZ,ZZ,graph,Plan 3", SORDAT="20240102")  # fmt: skip
    chart = harbour.read(tmp_path)
    ((name, shape, says),) = _built(chart)
    assert name == "pier, always dry"
    assert says["source"] == "ZZ5COVE1.000, ZZ,ZZ,graph,Plan 3, 2024-01-02"
    assert chart.taken["SLCONS"] == 1
    # A thousandth of a degree long less the metre at the shore, 3 m on either hand, round ends.
    long_m = 0.001 * LAT_M - 1.0
    assert shape.area == pytest.approx(6.0 * long_m + 3.14159 * 3.0**2, rel=0.01)
    assert shape.distance(Point(0.010 * LON_M, 0.0070 * LAT_M)) == 0.0


def test_a_pier_that_roots_on_land_counts_from_the_shore_on(harbour, tmp_path):
    harbour.line("SLCONS", (59.5085, 5.210), (59.507, 5.210), CATSLC="1")
    ((name, shape, _),) = _built(harbour.read(tmp_path))
    assert name == "breakwater"
    assert shape.bounds[3] - shape.bounds[1] == pytest.approx(0.001 * LAT_M + 5.0, abs=0.5)


def test_a_quay_that_is_the_edge_of_land_is_that_lands_shore(harbour, tmp_path):
    harbour.quay("SLCONS", CATSLC="6")
    harbour.point("MORFAC", 59.5085, 5.211, CATMOR="3")
    chart = harbour.read(tmp_path)
    assert _built(chart) == []
    assert set(chart.depths.left_out) == {
        ("SLCONS: on charted land or its edge, which stands for it", 1),
        ("MORFAC: on charted land or its edge, which stands for it", 1),
    }


def test_a_small_thing_far_from_land_is_no_splinter_of_it(harbour, tmp_path):
    # a dolphin of 0.8 m by 0.4 m, 111 m off the shore
    harbour.area("MORFAC", 59.507, 5.210, 7e-6, CATMOR="1")
    chart = harbour.read(tmp_path)
    ((name, shape, _),) = _built(chart)
    assert (name, chart.depths.left_out) == ("dolphin", ())
    assert 0.1 < shape.area < 1.0


def test_piles_dolphins_and_buoys_count_five_metres_round(harbour, tmp_path):
    harbour.point("PILPNT", 59.5060, 5.206)
    harbour.point("MORFAC", 59.5060, 5.208, CATMOR="1", OBJNAM="Nordre")
    harbour.point("MORFAC", 59.5060, 5.210, CATMOR="7", INFORM="Guests")
    built = _built(harbour.read(tmp_path))
    assert [name for name, *_ in built] == ["pile", "Nordre, dolphin", "Guests, mooring buoy"]
    for _, shape, says in built:
        assert shape.centroid.distance(shape.exterior) == pytest.approx(5.0, abs=0.15)
        assert not says["unsounded"]


def test_a_pontoon_and_a_pier_drawn_as_areas_keep_their_shape(harbour, tmp_path):
    harbour.area("PONTON", 59.5060, 5.206, 0.0001)
    harbour.area("SLCONS", 59.5060, 5.208, 0.0001, CATSLC="4", CONDTN="2", WATLEV="3")
    built = _built(harbour.read(tmp_path))
    assert {name for name, *_ in built} == {"pontoon", "pier, ruined, always under water"}
    for _, shape, _ in built:
        assert shape.area == pytest.approx(1e-4 * LAT_M * 2e-4 * LON_M, rel=0.005)


@pytest.mark.parametrize(("water", "unknown"), [("2", False), ("3", True), ("4", True)])
def test_over_a_ruin_under_water_the_bed_is_unknown(harbour, tmp_path, water, unknown):
    harbour.line("SLCONS", (59.5056, 5.2090), (59.5056, 5.2100), CATSLC="4", WATLEV=water)
    harbour.read(tmp_path)
    (tmp_path / "bay.toml").write_text(TOML, encoding="utf-8")
    bay = read_bay_files(tmp_path).bay
    level_m = float(bay.surface.level_at(*map(float, bay.frame.to_plane(59.5056, 5.2095))))
    assert (level_m != level_m) == unknown
    assert [zone.kind for zone in bay.zones if zone.kind in DANGERS] == ["obstruction"]


def test_without_charted_land_all_that_is_built_counts(tmp_path):
    cell = WRITE.Writing("ZZ5COVE1.000", 0, number=2)
    cell.area(40, "SLCONS", 59.506, 5.206, 0.0001, CATSLC="4")
    path = tmp_path / "ZZ5COVE1.000"
    path.write_bytes(cell.whole())
    assert [name for name, *_ in _built(read_chart(path, Told()))] == ["pier"]


def test_a_caution_says_where_it_holds_and_of_what_it_warns(harbour, tmp_path):
    harbour.area("CTNARE", 59.5040, 5.2060, 0.001, INFORM="Outlet", TXTDSC="ZZ5COVEA.TXT",
                 SORIND="ZZ,ZZ,notice,7", SORDAT="20250301")  # fmt: skip
    harbour.point("CTNARE", 59.5030, 5.2120, INFORM="Shoal reported")
    harbour.point("CTNARE", 59.5030, 5.2130)
    (tmp_path / "ZZ5COVEA.TXT").write_text("Warm water\r\nin winter.\r\n")
    chart = harbour.read(tmp_path)
    assert [note for note in chart.depths.notes if note.startswith("caution")] == [
        "caution area at 59 30.270 N 005 12.420 E: Outlet; Warm water in winter. "
        "(ZZ,ZZ,notice,7, 2025-03-01)",
        "caution area at 59 30.180 N 005 12.720 E: Shoal reported (chart issued 2026-03-01)",
    ]
    assert ("CTNARE: it does not say of what it warns", 1) in chart.depths.left_out
    assert chart.taken["CTNARE"] == 2
    assert not chart.zones.features


def test_a_caution_tells_its_days_and_its_season(harbour, tmp_path):
    harbour.area("CTNARE", 59.5040, 5.2060, 0.001, INFORM="Regatta", PERSTA="--0601",
                 PEREND="--0831", DATEND="20271231")  # fmt: skip
    (caution,) = harbour.read(tmp_path).cautions.features
    assert caution.says["said"].endswith(
        ": Regatta; until 2027-12-31; each year from 1 June to 31 August (chart issued 2026-03-01)"
    )


@pytest.mark.parametrize("file", ["ZZ5COVEA.TXT", "../other.txt"])
def test_a_text_that_is_not_beside_the_cell_is_said_to_be_missing(harbour, tmp_path, file):
    (tmp_path / "other.txt").write_text("of somewhere else")
    harbour.point("CTNARE", 59.5030, 5.2120, TXTDSC=file)
    (tmp_path / "cell").mkdir()
    note = harbour.read(tmp_path / "cell").depths.notes[-1]
    assert f"more in {file}, which is not beside the cell" in note


def test_a_long_text_is_told_in_part(harbour, tmp_path):
    harbour.point("CTNARE", 59.5030, 5.2120, TXTDSC="ZZ5COVEA.TXT")
    (tmp_path / "ZZ5COVEA.TXT").write_text("word " * 300)
    (caution,) = harbour.read(tmp_path).cautions.features
    words = caution.says["said"].split("E: ")[1].split(" (")[0]
    assert len(words) <= 400
    assert words.endswith("word...")


def test_a_bay_hears_of_cautions_near_it_only(harbour, tmp_path):
    harbour.point("CTNARE", 59.5030, 5.2120, INFORM="Near")
    harbour.point("CTNARE", 59.5300, 5.2120, INFORM="Three kilometres off")
    charts = Charts((harbour.read(tmp_path),), Frame(59.503, 5.212))
    said = [one.said for one in charts.findings("", Bounds(-100.0, -100.0, 100.0, 100.0))]
    assert [("Near" in one, "off" in one) for one in said if "caution" in one] == [(True, False)]
    assert sum("caution" in one.said for one in charts.findings("")) == 2


def test_a_class_that_is_zoned_in_part_has_its_others_counted(harbour, tmp_path):
    harbour.area("DRGARE", 59.5040, 5.2060, 0.001, RESTRN="1")
    harbour.area("DRGARE", 59.5020, 5.2060, 0.001)
    chart = harbour.read(tmp_path)
    assert chart.taken["DRGARE"] == 1
    assert chart.depths.left_out == (("DRGARE: the depth an area is dredged to is no sounding", 1),)
    counts = Counter(one.says["kind"] for one in chart.zones.features)
    assert counts == {"no anchoring": 1}
    assert shapely.get_num_geometries(chart.land.features[0].shape) == 1
