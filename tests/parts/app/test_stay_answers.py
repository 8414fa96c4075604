"""Answers on a stay as they are read: every unit once, no name cut, what was noticed said."""

from __future__ import annotations

import math
from datetime import UTC, datetime
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from shorefast.app.answers import chain, choose, judge, leave, proof, stand
from shorefast.app.answers.bay_words import bay_text
from shorefast.app.answers.noticed import with_noticed
from shorefast.basis import Basis, Finding
from shorefast.stay import ChainReading, NeedAndProof, Stands

COARSE = Basis(findings=(Finding("Depth surface", "depths lie 375 m apart"),))


def test_the_chains_angle_is_said_from_the_vertical_once():
    told = ChainReading(math.radians(50.0), 671.0, 556.0, 812.0, False, 16.5, False, Basis())
    assert chain._text(told) == (
        "Chain 40 degrees from the vertical: the pull is about 68 kg (57 kg to 83 kg);"
        " 17 m of it lie on the bed."
    )


def test_the_line_that_gives_first_is_named_whole():
    name = "starboard stern line to north rock"
    stands = Stands(
        np.array([0.4, 1.0]),
        np.array([0.0]),
        np.array([[26.2, math.nan]]).T,
        ((name,), (None,)),
        40.0,
        Basis(),
    )
    assert stand._text(stands).splitlines() == [
        "Steady wind at 10 m that puts something past its limit:",
        "from   water 0.4 m                                water 1.0 m",
        "000    51 kn starboard stern line to north rock   nothing up to 78 kn",
    ]


def _proved(need_n: float) -> str:
    told = NeedAndProof(
        need_n, 0.0, None, 3825.0, 3040.0, 4609.0, 0.0, 4511.0, 22.6, 13.4, Basis()
    )  # fmt: skip
    last = SimpleNamespace(shank_n=3334.0, all_lifted=False)
    stay: Any = SimpleNamespace(bay=SimpleNamespace(zone_name="UTC"))
    how: Any = SimpleNamespace(steps=(last,))
    return proof._text(stay, told, how)


def test_the_proof_says_which_pull_is_at_the_shank_which_at_the_roller_and_which_in_wind():
    said = _proved(1000.0)
    assert "her engine alone proves 390 kg at the shank (310 kg to 470 kg)" in said
    assert "In the mean wind of the first hour the last step is 340 kg." in said
    assert "the engine's 460 kg at the roller are 44 kn of steady wind on the bow" in said


# 3040 N at least, 3825 N as told, of which the wind takes 491 N: 2549 N and 3334 N are left
@pytest.mark.parametrize(
    ("need_n", "enough"), [(2500.0, "more than"), (2600.0, "about"), (3400.0, "less than")]
)
def test_what_the_wind_takes_from_the_proof_does_not_count_toward_the_need(need_n, enough):
    assert f"That is {enough} the need" in _proved(need_n)


def test_what_nobody_can_say_is_not_said_to_stand():
    stands = Stands(
        np.array([0.4]), np.array([0.0]), np.array([[math.nan]]), (("unknown",),), 40.0, Basis()
    )
    assert stand._text(stands).splitlines()[-1] == "000    unknown"


def test_what_was_noticed_stands_under_the_answer():
    assert with_noticed("Nothing.", Basis()) == "Nothing."
    assert with_noticed("12 kn.", COARSE) == (
        "12 kn.\n\nNoticed:\n  Depth surface: depths lie 375 m apart"
    )


def _hours_of(members: int) -> list[str]:
    hour = np.array([np.datetime64("2015-11-16T18:00:00")])
    one = np.full((members, 1), 8.0)
    found: Any = SimpleNamespace(
        time_utc=hour,
        member=np.arange(members),
        share_past_limit=np.array([0.0]),
        gust_mps=one,
        greatest_use=np.full((members, 1), 0.59),
        touches=np.zeros((members, 1), bool),
        wind_from_rad=np.full((members, 1), math.pi),
        water_level_m=np.full((members, 1), 0.4),
    )
    stay: Any = SimpleNamespace(
        from_utc=datetime(2015, 11, 16, 18, tzinfo=UTC),
        until_utc=datetime(2015, 11, 16, 19, tzinfo=UTC),
        bay=SimpleNamespace(zone_name="Europe/Oslo"),
    )
    return [" ".join(row.split()) for row in judge._hours(stay, found)]


def test_the_hours_say_by_which_clock():
    assert _hours_of(2) == [
        "",
        "UTC+1 gust (most) from water use (most) past limit",
        "19:00 16 kn (16 kn) south 0.4 m 0.59 (0.59) 0%",
    ]


def test_one_run_has_no_most_of_many():
    assert _hours_of(1)[1:] == [
        "UTC+1 gust from water use past limit",
        "19:00 16 kn south 0.4 m 0.59 0%",
    ]


def test_a_zone_is_named_by_its_offset_which_cannot_be_read_the_wrong_way_round():
    stay: Any = SimpleNamespace(
        from_utc=datetime(2026, 6, 24, 19, 30, tzinfo=UTC),
        until_utc=datetime(2026, 6, 25, 12, 0, tzinfo=UTC),
        bay=SimpleNamespace(zone_name="Etc/GMT+2", points=()),
    )
    one: Any = SimpleNamespace(
        at_utc=stay.from_utc, why=(), gust_mps=8.0, wind_from_rad=0.0, hove_m=0.0, feasible="yes"
    )
    left: Any = SimpleNamespace(hours=(one,))
    rows = [" ".join(row.split()) for row in leave._hours(stay, left)]
    assert rows[1:] == ["UTC-2 possible gusts against it, of the members", "17:30 yes 16 kn north"]
    choice: Any = SimpleNamespace(stay=stay, finalists=())
    assert choose._table(choice)[0] == "Times are UTC-2; = marks a tie."


def _bay_file(kind: str, least_depth_m: float) -> dict[str, Any]:
    one = {
        "file": "a.asc",
        "kind": kind,
        "taken": {"soundings": 400, "areas": 0, "lines": 0, "points": 0},
        "least_depth_m": least_depth_m,
        "greatest_depth_m": 456.0,
        "west_deg": 25.98,
        "south_deg": 37.55,
        "east_deg": 26.06,
        "north_deg": 37.63,
        "spacing_m": 415.2,
    }
    return {"files": [one], "at": [], "along": [], "zones": [], "points": []}


def test_a_mountain_does_not_dry_and_a_grid_has_nodes():
    assert bay_text(_bay_file("ESRI ASCII grid", -908.0), ()) == (
        "a.asc: ESRI ASCII grid, 400 nodes, 415 m apart, land 908 m high to 456.0 m."
        " From 37 33.000 N 025 58.800 E to 37 37.800 N 026 03.600 E."
    )


def test_a_rock_that_dries_is_said_to_dry():
    assert "400 soundings, 415 m apart, drying 1.2 m to 456.0 m." in bay_text(
        _bay_file("soundings", -1.2), ()
    )
