"""AIS sentences held against published examples, and neighbours from files."""

import json
import math
from pathlib import Path

import pytest

from shorefast.bay import Frame
from shorefast.errors import BadInput, Unreadable
from shorefast.readers.ais_bits import ShipSaid, ship_said
from shorefast.readers.ais_log import read_ais_log
from shorefast.readers.neighbours_file import read_neighbour_file

LOG = Path(__file__).parents[2] / "files" / "ais" / "harbour_one_minute.log"
HARBOUR = Frame(52.842278, 5.705820)


# Widely printed examples of the open protocol description "AIVDM/AIVDO protocol
# decoding" (values from memory, and the same from a general decoding library).
def test_a_printed_position_report():
    said = ship_said("177KQJ5000G?tO`K>RA1wUbN0TKH")
    assert (said.mmsi, said.status) == (477553000, 5)
    assert said.lat_deg == pytest.approx(47.582833, abs=1e-6)
    assert said.lon_deg == pytest.approx(-122.345833, abs=1e-6)
    assert math.degrees(said.heading_rad) == pytest.approx(181.0)
    assert said.speed_mps == 0.0


def test_a_printed_report_of_a_small_craft():
    said = ship_said("B52K>;h00Fc>jpUlNV@ikwpUoP06")
    assert said.mmsi == 338087471
    assert (said.lat_deg, said.lon_deg) == pytest.approx((40.68454, -74.072132), abs=1e-6)
    assert said.speed_mps == pytest.approx(0.1 * 1852 / 3600)
    assert said.heading_rad is None


def test_a_printed_name_and_size():
    first = "55?MbV02;H;s<HtKR20EHE:0@T4@Dn2222222216L961O5Gf0NSQEp6ClRp8"
    said = ship_said(first + "88888888880")
    assert (said.mmsi, said.name) == (351759000, "EVER DIADEM")
    assert said.sides_m == (225.0, 70.0, 1.0, 31.0)


def test_printed_halves_of_a_small_craft():
    assert ship_said("H42O55i18tMET00000000000000").name == "PROGUY"
    assert ship_said("H42O55lti4hhhilD3nink000?050").sides_m == (0.0, 15.0, 0.0, 5.0)


def test_a_printed_long_report_of_a_small_craft():
    said = ship_said("C5N3SRgPEnJGEBT>NhWAwwo862PaLELTBJ:V00000000S0D:R220")
    assert (said.mmsi, said.name) == (367059850, "CAPT.J.RIMES")
    # Remembered to five decimals.
    assert (said.lat_deg, said.lon_deg) == pytest.approx((29.54370, -88.81039), abs=6e-6)
    assert said.speed_mps == pytest.approx(8.7 * 1852 / 3600)
    assert said.heading_rad is None
    assert said.sides_m == (5.0, 21.0, 4.0, 4.0)


def _long_report(**other: int) -> str:
    """Message 19 put together bit by bit: fields and widths of ITU-R M.1371-5, annex 8."""
    letters = [{"@": 0, " ": 32}.get(sign, ord(sign) & 31) for sign in "GREY SEAL".ljust(20, "@")]
    fields = {
        "kind": (6, 19), "repeat": (2, 0), "mmsi": (30, 257123450), "spare": (8, 255),
        "speed": (10, 3), "exact": (1, 1), "lon": (28, 2**28 - 600_000 * 5 // 2),
        "lat": (27, 60_250_000 * 6 // 10), "course": (12, 3599), "heading": (9, 271),
        "second": (6, 59), "spare2": (4, 15),
        **{f"letter{place}": (6, letter) for place, letter in enumerate(letters)},
        "ship": (8, 36), "ahead": (9, 7), "astern": (9, 6), "port": (6, 2), "starboard": (6, 1),
        "fix": (4, 15), "raim": (1, 1), "dte": (1, 1), "assigned": (1, 1), "spare3": (4, 15),
    }  # fmt: skip
    row = "".join(f"{other.get(key, value):0{width}b}" for key, (width, value) in fields.items())
    assert len(row) == 312
    sixes = [int(row[start : start + 6], 2) for start in range(0, 312, 6)]
    return "".join(chr(six + 48 if six < 40 else six + 56) for six in sixes)


def test_a_long_report_tells_place_name_and_size_at_once():
    said = ship_said(_long_report())
    assert (said.mmsi, said.name, said.status) == (257123450, "GREY SEAL", None)
    assert (said.lat_deg, said.lon_deg) == pytest.approx((60.25, -2.5), abs=1e-9)
    assert math.degrees(said.heading_rad) == pytest.approx(271.0)
    assert said.speed_mps == pytest.approx(0.3 * 1852 / 3600)
    assert said.sides_m == (7.0, 6.0, 2.0, 1.0)


def test_a_long_report_leaves_unknown_what_its_boat_does_not_know():
    none = {"ahead": 0, "astern": 0, "port": 0, "starboard": 0, "heading": 511, "speed": 1023}
    said = ship_said(_long_report(**none, lat=91 * 600_000, letter0=0))
    assert said == ShipSaid(257123450)


def test_a_long_report_cut_in_her_size_says_nothing():
    # 51 characters end after 306 bits, 50 after 300: one short of her starboard side.
    assert ship_said(_long_report()[:51]).name == "GREY SEAL"
    assert ship_said(_long_report()[:50]) is None


@pytest.mark.parametrize("payload", ["", "1", "177KQJ5", "x\x7f", "H42O55i1"])
def test_what_is_cut_short_says_nothing(payload):
    assert ship_said(payload) is None


def test_a_real_log_is_heard():
    log = read_ais_log(LOG)
    assert len(log.ships) == 17
    assert log.ships[371255000].said.name == "SEA ENTERPRISE"
    assert log.ships[371255000].said.sides_m == (13.0, 15.0, 1.0, 6.0)
    assert log.ships[215441000].said.status == 5


def test_a_wrong_checksum_and_a_lost_part_are_counted(tmp_path):
    path = tmp_path / "a.log"
    path.write_text(
        "!AIVDM,1,1,,B,177KQJ5000G?tO`K>RA1wUbN0TKH,0*5D\n"
        "!AIVDM,2,1,1,A,55?MbV02;H;s<HtKR20EHE:0@T4@Dn2222222216L961O5Gf0NSQEp6ClRp8,0*1C\n"
        "!AIVDM,1,1\n$GPRMC,,V\n"
    )
    log = read_ais_log(path)
    assert log.ships == {}
    assert {why: n for why, n in log.left_out.items() if n} == {
        "sentences with a wrong checksum": 1,
        "sentences cut short": 1,
        "parts of a message whose others are missing": 1,
    }


def test_ships_near_become_neighbours_and_what_was_taken_is_said():
    boats, findings = read_neighbour_file(LOG, HARBOUR, 500.0)
    moored = next(one for one in boats if one.name == "MMSI 215441000")
    assert moored.scope_m is None
    assert math.degrees(moored.heading_rad) == pytest.approx(19.0)
    said = [one.said for one in findings]
    assert "MMSI 215441000: size unknown, taken as 15 m by 4.5 m; moored" in said
    assert "4 left out: ships that never said where they are" in said
    rides = next(one for one in boats if one.name == "MMSI 244860575")
    # three lengths of 15 m
    assert (rides.scope_m, rides.chain_toward_rad) == (45.0, None)


def _feature(**says):
    at = {"type": "Point", "coordinates": [90.0, 40.0]}
    return {"type": "Feature", "geometry": at, "properties": says}


def _file(folder, *features):
    path = folder / "near.geojson"
    tree = {"type": "FeatureCollection", "frame": "bay metres", "features": list(features)}
    path.write_text(json.dumps(tree))
    return path


def test_neighbours_from_points(tmp_path):
    told = _feature(name="the ketch", length_ft=40, beam_m=3.8, heading_deg=30, chain_toward_deg=45)
    (boat,), _ = read_neighbour_file(_file(tmp_path, told), HARBOUR)
    assert (boat.east_m, boat.north_m) == (90.0, 40.0)
    assert boat.length_m == pytest.approx(12.192)
    assert boat.scope_m == pytest.approx(36.576)
    assert math.degrees(boat.chain_toward_rad) == pytest.approx(45.0)


@pytest.mark.parametrize(
    ("says", "sentence"),
    [
        (
            {"length_m": 12},
            "near.geojson, feature 1: no name, name, length_m, beam_m, heading_deg wanted. Add it.",
        ),
        (
            {"name": "a", "length_m": 12, "heading_deg": 0},
            "near.geojson, feature 1: no beam_m, name, length_m, beam_m, heading_deg wanted. "
            "Add beam_m to its properties.",
        ),
        (
            {"name": "a", "length_m": 3, "beam_m": 12, "heading_deg": 0},
            "near.geojson, feature 1: 12 m beam, she is 3 m long. "
            "Exchange the two if they are swapped.",
        ),
        (
            {"name": "a", "length_m": "long"},
            "near.geojson, feature 1: length_m = 'long', 1 to 400 wanted. Correct it.",
        ),
    ],
)
def test_what_cannot_be_a_boat_is_refused(tmp_path, says, sentence):
    with pytest.raises(BadInput) as refused:
        read_neighbour_file(_file(tmp_path, _feature(**says)), HARBOUR)
    assert refused.value.sentence == sentence


@pytest.mark.parametrize(
    ("text", "got"), [("", "it is empty"), ("$GPRMC,,V\n", "no AIS sentence in it")]
)
def test_a_file_without_boats_is_refused(tmp_path, text, got):
    path = tmp_path / "a.log"
    path.write_text(text)
    with pytest.raises(Unreadable) as refused:
        read_neighbour_file(path, HARBOUR)
    assert refused.value.sentence == (
        f"a.log: {got}, GeoJSON points, or a log with AIS sentences (!AIVDM), wanted. "
        "Name another file."
    )
