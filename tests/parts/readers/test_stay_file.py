"""A stay file and what it names; every mistake in it answered."""

import math
import shutil
from datetime import UTC, datetime
from importlib import resources
from pathlib import Path

import numpy as np
import pytest

from shorefast.errors import BadInput, Unreadable
from shorefast.readers import stay_file
from shorefast.readers.stay_file import read_stay
from shorefast.stay import Person

COVE = Path(str(resources.files("shorefast") / "demo" / "stone_spur"))
FROM_HERE = "Correct the path; it counts from the stay file's folder."
STAY = """\
boat = "boat.toml"
bay = "bay"
from_utc = 2026-07-22T12:00:00Z
until_utc = 2026-07-22T21:15:00Z

[[forecast]]
file = "wind.csv"

[tide]
file = "tide.csv"

[proof]
pull_n = 2200
toward_deg = 135
minutes = 3

[lie]
let_go = { east_m = -49.5, north_m = 49.5 }
chain_out_m = 48
heading_deg = 315

[[lie.line]]
line = "port line"
cleat = "port quarter"
point = "spur ring south"
length_m = 20.2

[[lie.line]]
line = "starboard line"
cleat = "starboard quarter"
point = "spur ring north"
length_ft = 66
doubled = true
"""


@pytest.fixture(scope="module")
def cove(tmp_path_factory):
    folder = tmp_path_factory.mktemp("stay") / "stone_spur"
    shutil.copytree(COVE, folder)
    bay = stay_file.read_bay(folder / "bay")
    with pytest.MonkeyPatch.context() as patch:
        # the bay is the same in every trial, and its depth surface takes a second
        patch.setattr(stay_file, "read_bay", lambda _: bay)
        yield folder


def _read(cove, text=STAY, **changes):
    for old, new in changes.values():
        assert old in text
        text = text.replace(old, new)
    (cove / "trial.toml").write_text(text, encoding="utf-8")
    return read_stay(cove / "trial.toml")


def _said(cove, old, new, kind=BadInput):
    with pytest.raises(kind) as told:
        _read(cove, change=(old, new))
    return told.value.sentence


def test_the_chain_out_in_the_proof_is_read_where_told(cove):
    stay = _read(cove, change=("minutes = 3", "minutes = 3\nchain_out_m = 44.5"))
    assert stay.proof.chain_out_m == 44.5


def test_a_stay_is_read_whole(cove):
    stay = _read(cove)
    assert stay.name == stay.bay.name == "Stone Spur Cove, Pardell Skerries"
    assert stay.from_utc == datetime(2026, 7, 22, 12, 0, tzinfo=UTC)
    assert (stay.accepted_share, stay.current) == (0.05, None)
    assert stay.proof.pull_n == 2200.0
    assert stay.proof.toward_rad == pytest.approx(math.radians(135.0), abs=1e-12)
    assert stay.proof.chain_out_m is None
    assert stay.lie.heading_rad == pytest.approx(math.radians(315.0), abs=1e-12)
    port, starboard = stay.lie.lines
    assert (port.point, port.doubled) == ("spur ring south", False)
    # 66 feet of 0.3048 m each (international foot, 1959).
    assert starboard.length_m == pytest.approx(20.1168, abs=1e-9)
    assert starboard.doubled


MORE = """\
[waves]
height_ft = 1
period_s = 2.5
from_deg = -90

[wash]
height_m = 0.3
period_s = 3

[[neighbour]]
name = "ketch"
place = { lat_deg = 47.5, lon_deg = -40.0 }
length_ft = 40
beam_m = 3.8
heading_deg = 30

[lie]"""


def test_waves_wash_and_neighbours_are_read(cove):
    stay = _read(cove, change=("[lie]", MORE))
    # 1 and 40 international feet of 0.3048 m; 90 degrees below north is 270
    assert (stay.waves.height_m, stay.waves.period_s) == (pytest.approx(0.3048), 2.5)
    assert stay.waves.from_rad == pytest.approx(1.5 * math.pi)
    assert (stay.wash.height_m, stay.wash.period_s) == (0.3, 3.0)
    (ketch,) = stay.neighbours
    assert (ketch.name, ketch.beam_m, ketch.swing_m) == ("ketch", 3.8, 0.0)
    assert ketch.length_m == pytest.approx(12.192)
    assert (ketch.east_m, ketch.north_m) == pytest.approx((0.0, 0.0), abs=1e-6)


def test_people_water_and_watch_are_read(cove):
    told = """[water]\ntemperature_c = 24\n[watch]\neach_h = 3
[[person]]\nname = "Nerea"\nduties = ["swimmer", "watch"]\n[lie]"""
    stay = _read(cove, change=("[lie]", told))
    assert (stay.water_k, stay.watch_each_s) == (pytest.approx(297.15), 10800.0)
    assert stay.people == (Person("Nerea", ("swimmer", "watch"), True),)


def test_without_them_there_are_none(cove):
    stay = _read(cove)
    assert (stay.waves, stay.wash, stay.neighbours) == (None, None, ())
    assert (stay.people, stay.water_k, stay.watch_each_s) == ((), None, None)
    line = stay.lie.lines[0]
    assert (line.sling, line.edge_radius_m, line.edge_turn_rad) == (None, None, None)
    assert stay.lie.second_anchor_ahead_m is None


def test_sling_edge_and_a_second_anchor_are_read(cove):
    stay = _read(
        cove,
        change=("doubled = true", 'sling = "strop"\nedge_radius_in = 1\nedge_turn_deg = 90'),
        more=("chain_out_m = 48", "chain_out_m = 48\nsecond_anchor_ahead_ft = 10"),
    )
    line = stay.lie.lines[1]
    assert (line.sling, line.edge_radius_m) == ("strop", pytest.approx(0.0254))
    assert line.edge_turn_rad == pytest.approx(math.pi / 2)
    assert stay.lie.second_anchor_ahead_m == pytest.approx(3.048)


def test_let_go_may_be_given_on_the_earth(cove):
    stay = _read(
        cove, change=("{ east_m = -49.5, north_m = 49.5 }", "{ lat_deg = 47.5, lon_deg = -40.0 }")
    )
    assert (stay.lie.let_go_east_m, stay.lie.let_go_north_m) == pytest.approx((0, 0), abs=1e-6)


def test_a_lie_may_be_left_to_be_chosen(cove):
    assert _read(cove, STAY[: STAY.index("[lie]")]).lie is None


def test_one_level_stands_for_a_tide_and_is_said_to_be_assumed(cove):
    stay = _read(cove, change=('[tide]\nfile = "tide.csv"', "[tide]\nlevel_m = 1.5"))
    assert stay.water.height_m.tolist() == [1.5, 1.5]
    assert stay.water.time_utc.astype(str).tolist() == [
        "2026-07-22T12:00:00",
        "2026-07-22T21:15:00",
    ]
    assert "The water stays at one level throughout." in [
        assumption.said for assumption in stay.basis.assumptions
    ]


def test_what_the_first_forecast_does_not_know_is_taken_from_the_next(cove):
    rows = (cove / "wind.csv").read_text(encoding="utf-8").splitlines()
    cells = [row.split(",") for row in rows]
    calm = [
        ",".join((time, wind, "", toward, member)) for time, wind, _, toward, member in cells[1:]
    ]
    (cove / "no_gusts.csv").write_text("\n".join([rows[0], *calm]), encoding="utf-8")
    both = _read(
        cove, change=('file = "wind.csv"', 'file = "no_gusts.csv"\n[[forecast]]\nfile = "wind.csv"')
    )
    assert np.array_equal(both.wind.gust_mps, _read(cove).wind.gust_mps)


def test_who_said_the_accepted_share_is_told(cove):
    def said_by(stay):
        return next(one for one in stay.basis.inputs if one.name == "accepted share").said_by

    assert said_by(_read(cove)) == "default"
    assert (
        said_by(
            _read(
                cove,
                change=("[tide]", "[tide]"),
                more=('bay = "bay"', 'bay = "bay"\naccepted_share = 0.02'),
            )
        )
        == "trial.toml"
    )


BAD = {
    "no such boat": (
        'boat = "boat.toml"', 'boat = "bote.toml"',
        f"trial.toml, line 1, boat: no file 'bote.toml', a boat file wanted. {FROM_HERE}",
    ),
    "no boat": (
        'boat = "boat.toml"\n', "",
        "trial.toml: boat is missing, a text wanted. Add boat = ...",
    ),
    "a file for a bay folder": (
        'bay = "bay"', 'bay = "bay/bay.toml"',
        f"trial.toml, line 2, bay: no folder 'bay/bay.toml', a bay folder wanted. {FROM_HERE}",
    ),
    "a beginning that is no time": (
        "from_utc = 2026-07-22T12:00:00Z", 'from_utc = "noon"',
        "trial.toml, line 3, from_utc: 'noon', a time wanted, "
        'like "2026-07-01T21:40:00Z". Correct it.',
    ),
    "an end before the beginning": (
        "until_utc = 2026-07-22T21:15:00Z", "until_utc = 2026-07-21T21:15:00Z",
        "trial.toml, line 4, until_utc: 2026-07-21 21:15 UTC, the stay begins "
        "2026-07-22 12:00 UTC. Give an end after the beginning.",
    ),
    "a stay of a year": (
        "until_utc = 2026-07-22T21:15:00Z", "until_utc = 2027-07-22T21:15:00Z",
        "trial.toml, line 4, until_utc: a stay of 365 days, at most 31 days wanted. Correct it.",
    ),
    "a share in percent": (
        'bay = "bay"', 'bay = "bay"\naccepted_share = 5',
        "trial.toml, line 3, accepted_share: 5, a share from 0 to less than 1 wanted. "
        "Write five members in a hundred as 0.05.",
    ),
    "no forecast": (
        '[[forecast]]\nfile = "wind.csv"\n', "",
        'trial.toml: no forecast, a wind wanted. Add [[forecast]] with file = "...".',
    ),
    "a forecast that is not there": (
        'file = "wind.csv"', 'file = "wind.grib"',
        "trial.toml, line 7, [[forecast]] 1 file: no file 'wind.grib', a forecast wanted. "
        f"{FROM_HERE}",
    ),
    "no tide": (
        '[tide]\nfile = "tide.csv"\n', "",
        "trial.toml: [tide] is missing, it is needed. Add [tide].",
    ),
    "an empty tide": (
        'file = "tide.csv"\n', "",
        "trial.toml, line 9, [tide]: neither file nor level_m, one of them wanted. "
        "Give the file of a tide table, or one level above chart datum.",
    ),
    "two tides": (
        'file = "tide.csv"\n', 'file = "tide.csv"\nlevel_m = 1\n',
        "trial.toml, line 9, [tide]: both file and level_m, one of them wanted. "
        "Give the file of a tide table, or one level above chart datum.",
    ),
    "a level in the clouds": (
        'file = "tide.csv"\n', "level_m = 300\n",
        "trial.toml, line 10, [tide] level_m: 300, at most 30 wanted. Correct it.",
    ),
    "a proof without a pull": (
        "pull_n = 2200\n", "",
        "trial.toml, line 12, [proof]: neither pull_n nor revs_rpm, one of them wanted. "
        "Give the pull if it is known, else the engine's revs astern.",
    ),
    "a proof of both": (
        "pull_n = 2200\n", "pull_n = 2200\nrevs_rpm = 1800\n",
        "trial.toml, line 12, [proof]: both pull_n and revs_rpm, one of them wanted. "
        "Give the pull if it is known, else the engine's revs astern.",
    ),
    "a proof on no chain": (
        "minutes = 3", "minutes = 3\nchain_out_m = 0",
        "trial.toml, line 16, [proof] chain_out_m: 0, more than 0 wanted. Correct it.",
    ),
    "a proof of no time": (
        "minutes = 3", "minutes = 0",
        "trial.toml, line 15, [proof] minutes: 0, more than 0 wanted. Correct it.",
    ),
    "a place by halves": (
        "{ east_m = -49.5, north_m = 49.5 }", "{ east_m = -49.5 }",
        "trial.toml, line 18, [lie.let_go]: no whole place, lat_deg and lon_deg, "
        "or east_m and north_m wanted. Give one pair.",
    ),
    "a chain of no length": (
        "chain_out_m = 48", "chain_out_m = 0",
        "trial.toml, line 19, [lie] chain_out_m: 0, more than 0 wanted. Correct it.",
    ),
    "a chain without a unit": (
        "chain_out_m = 48", "chain_out = 48",
        "trial.toml, line 19, [lie] chain_out: chain_out = 48 has no unit, a key ends in its unit "
        "(chain_out_m, chain_out_ft, chain_out_fathoms, chain_out_km, chain_out_nm, "
        "chain_out_cm, chain_out_mm, chain_out_in). Write chain_out_m = ...",
    ),
    "no heading": (
        "heading_deg = 315\n", "",
        "trial.toml, line 17, [lie]: heading_deg is missing, a number wanted. "
        "Add heading_deg = ...",
    ),
    "a line from nowhere": (
        'cleat = "port quarter"\n', "",
        "trial.toml, line 22, [[lie.line]] 1: cleat is missing, a text wanted. Add cleat = ...",
    ),
    "a line doubled perhaps": (
        "doubled = true", 'doubled = "maybe"',
        "trial.toml, line 33, [[lie.line]] 2 doubled: 'maybe', true or false wanted. Correct it.",
    ),
    "a key nobody knows": (
        "heading_deg = 315", "heading_deg = 315\nscope = 4",
        "trial.toml, line 21, [lie] scope: scope is not known here. Take it out.",
    ),
    "a current without a direction": (
        "[proof]", "[current]\nspeed_kn = 1\n\n[proof]",
        "trial.toml, line 12, [current]: toward_deg is missing, a number wanted. "
        "Add toward_deg = ...",
    ),
    "a river in spate": (
        "[proof]", "[current]\nspeed_kn = 100\ntoward_deg = 90\n\n[proof]",
        "trial.toml, line 13, [current] speed_kn: 100, at most 19.4384 wanted. Correct it.",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("old", "new", "sentence"), BAD.values(), ids=BAD)
def test_a_mistake_in_a_stay_file_is_answered(cove, old, new, sentence):
    assert _said(cove, old, new) == sentence


def test_a_stay_file_that_is_no_toml_is_unreadable(cove):
    assert _said(cove, 'boat = "boat.toml"', "boat: boat.toml", Unreadable) == (
        "trial.toml: not TOML (Expected '=' after a key in a key/value pair "
        "(at line 1, column 5)). Correct that line; docs/files.md has an example."
    )


def test_an_empty_stay_file_is_unreadable(cove):
    assert _said(cove, STAY, "", Unreadable) == (
        "trial.toml: it is empty, TOML wanted. See docs/files.md for an example."
    )
