"""A bay folder with a chart in it: bed, shore, dangers and rules together."""

import math
import shutil
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest
from shapely import Point

from shorefast.bay import (
    BOTTOMS,
    DANGERS,
    NO_ANCHOR,
    ZONE_KINDS,
    Soundings,
    add_soundings,
    bottom_at,
    zones_at,
)
from shorefast.errors import BadInput
from shorefast.readers import read_bay_files

FILES = Path(__file__).parents[2] / "files" / "charts"
TOML = """
name = "Cove of the chart"
lat_deg = 59.5045
lon_deg = 5.2095
zone = "Europe/Oslo"
chart_datum = "lowest astronomical tide"
bottom = "gravel"

[[chart]]
file = "ZZ5COVE1.000"
"""


@pytest.fixture
def folder(tmp_path):
    def write(toml=TOML, **more):
        for name in ("ZZ5COVE1.000", "ZZ5COVE1.001"):
            shutil.copy(FILES / name, tmp_path)
        for name, text in {"bay.toml": toml, **more}.items():
            (tmp_path / name).write_text(text, encoding="utf-8")
        return tmp_path

    return write


@pytest.fixture(scope="module")
def bay(tmp_path_factory):
    there = tmp_path_factory.mktemp("bay")
    for name in ("ZZ5COVE1.000", "ZZ5COVE1.001"):
        shutil.copy(FILES / name, there)
    (there / "bay.toml").write_text(TOML, encoding="utf-8")
    return read_bay_files(there).bay


def _at(bay, lat, lon):
    east, north = bay.frame.to_plane(lat, lon)
    return float(east), float(north)


def _bedded(bay, lat, lon):
    return float(bay.surface.level_at(*_at(bay, lat, lon)))


def _kinds(bay, lat, lon, when=None):
    return {zone.kind for zone in zones_at(bay.zones, *_at(bay, lat, lon), when)}


def test_a_chart_alone_makes_a_bay(bay):
    # The invented bed falls 2500 m a degree of latitude; soundings lie 89 m apart or more.
    assert bay.soundings.level_m.size == 73 + 174 + 4
    assert bay.land is not None
    assert bay.shore is not None
    assert bay.land.covers(Point(*_at(bay, 59.5084, 5.2095)))
    assert not bay.land.covers(Point(*_at(bay, 59.5070, 5.2095)))


def test_a_rock_awash_stays_at_its_height(bay):
    # All round it the chart has 5 m; its soundings stand a hundred metres apart.
    assert _bedded(bay, 59.5050, 5.2071) == pytest.approx(0.0, abs=0.1)
    assert "charted rock" in _kinds(bay, 59.5050, 5.2071)


@pytest.mark.parametrize(
    ("lat", "lon"), [(59.5066, 5.2155), (59.5021, 5.2133), (59.5043, 5.2161)],
    ids=["dries by an unknown height", "under water, unknown depth", "an area"],
)  # fmt: skip
def test_round_a_danger_of_unknown_height_or_depth_the_bed_is_unknown(bay, lat, lon):
    east, north = _at(bay, lat, lon)
    assert math.isnan(_bedded(bay, lat, lon))
    around = bay.surface.level_at(east + np.array([-90.0, -60.0, 60.0, 90.0]), north)
    assert np.isfinite(around).any()
    # soundings beside it, however many, do not tell how high it is
    off = np.array([-12.0, -8.0, -4.0, 4.0, 8.0, 12.0])
    five = Soundings(east + off, north + off, np.full(6, -5.0), np.full(6, 0.1))
    assert math.isnan(float(add_soundings(bay.surface, five).level_at(east, north)))


def test_new_soundings_beside_a_rock_leave_it_standing(bay):
    east, north = _at(bay, 59.5050, 5.2071)
    off = np.array([-25.0, -15.0, 15.0, 25.0])
    five = Soundings(east + off, north + off, np.full(4, -5.0), np.full(4, 0.1))
    fresh = add_soundings(bay.surface, five)
    assert float(fresh.level_at(east, north)) == pytest.approx(0.0, abs=0.1)


def test_finer_soundings_round_a_rock_do_not_take_it_away(folder):
    rows = [
        f"{lon:.6f},{lat:.6f},5.00"
        for lat in np.arange(59.5046, 59.5054, 0.00005)
        for lon in np.arange(5.2063, 5.2079, 0.0001)
    ]
    toml = TOML + '[[depths]]\nfile = "s.csv"\ndepth = "down"\n'
    own = folder(toml, **{"s.csv": "lon_deg,lat_deg,depth_m\n" + "\n".join(rows) + "\n"})
    bay = read_bay_files(own).bay
    assert _bedded(bay, 59.5052, 5.2075) == pytest.approx(-5.0, abs=0.2)
    assert _bedded(bay, 59.5050, 5.2071) == pytest.approx(0.0, abs=0.5)


def test_a_rule_holds_from_its_first_day_to_its_last(bay):
    here = 59.5015, 5.2110
    assert "no anchoring" in _kinds(bay, *here, datetime(2026, 5, 1, tzinfo=UTC))
    assert "no anchoring" in _kinds(bay, *here, datetime(2026, 9, 30, 23, tzinfo=UTC))
    assert "no anchoring" not in _kinds(bay, *here, datetime(2026, 10, 1, tzinfo=UTC))
    assert "no anchoring" not in _kinds(bay, *here, datetime(2026, 4, 30, 23, tzinfo=UTC))


def test_zones_say_what_they_are_and_who_says_so(bay):
    told = {(zone.kind, zone.name, zone.source) for zone in bay.zones}
    survey = "ZZ5COVE1.000, ZZ,ZZ,graph,Survey 12, 2025-06-14"
    issued = "ZZ5COVE1.000, chart issued 2026-03-01"
    assert told >= {
        ("charted rock", "rock, awash, 0.0 m at chart datum", survey),
        ("charted rock", "rock, always under water, depth unknown", survey),
        ("charted rock", "rock, covers and uncovers, height unknown", issued),
        ("charted rock", "rock, always under water, 3.2 m at chart datum",
         "ZZ5COVE1.000, 2026-02-28"),
        ("wreck", "Gr\u00e5 Ternen, wreck, always under water, 6.4 m at chart datum", issued),
        ("foul", "obstruction, always under water, depth unknown", issued),
        ("no anchoring", "Seagrass planted, restricted area, anchoring prohibited, dragging "
         "prohibited", survey),
        ("no entry", "bird sanctuary, entry restricted, each year from 1 April to 15 July",
         issued),
        ("cable", "\u00d8revik cable, submarine cable", issued),
        ("pipeline", "pipeline", issued),
        ("marine farm", "marine farm", issued),
        ("anchorage", "Inner road, anchorage", issued),
        ("sand", "sand, shells", issued),
        ("mud over clay", "mud, clay", issued),
    }  # fmt: skip


def test_a_cable_is_wide_and_a_note_of_the_bottom_is_small(bay):
    cable = next(zone.shape for zone in bay.zones if zone.kind == "cable")
    # 869 m from end to end, 50 m on either hand and round the ends.
    assert cable.area == pytest.approx(100.0 * 869.0 + np.pi * 50.0**2, rel=0.02)
    assert bottom_at(bay, *_at(bay, 59.5020, 5.2081)) == "sand"
    assert bottom_at(bay, *_at(bay, 59.5040, 5.2121)) == "mud over clay"
    assert bottom_at(bay, *_at(bay, 59.5030, 5.2081)) == "gravel"


def test_another_datum_is_told_and_can_be_bridged(folder):
    toml = TOML.replace("lowest astronomical tide", "mean low water springs")
    read = read_bay_files(folder(toml + "datum_offset_m = -0.4\n"))
    assert read.charts[0].dangers.level_m[0] == pytest.approx(-0.4)
    assert (
        "its depths count from lowest astronomical tide, the bay's from mean low water springs: "
        "datum_offset_m says how far the one lies above the other"
    ) in [finding.said for finding in read.bay.basis.findings]


def test_a_chart_that_is_not_there_is_asked_for(folder):
    there = folder(TOML.replace("ZZ5COVE1.000", "GONE.000"))
    with pytest.raises(BadInput) as refused:
        read_bay_files(there)
    assert refused.value.sentence == (
        f"{there / 'GONE.000'}: no such file, the chart of bay.toml, line 10, [[chart]] 1 file "
        "wanted. Correct the path."
    )


def test_dangers_and_new_rules_are_kinds_of_zone():
    assert set(DANGERS) <= set(ZONE_KINDS)
    assert set(NO_ANCHOR) <= set(ZONE_KINDS)
    assert not set(DANGERS) & set(BOTTOMS)
