"""The night card's numbers from a judged stay: each of one state, each what the answers say."""

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

import shorefast
from shorefast.app.answers.cards_filled import night_of
from shorefast.app.answers.cards_manoeuvre import settled_in
from shorefast.basis import Basis
from shorefast.briefing import CardContent, CardPlace, CardVessel
from shorefast.manoeuvre import OffAt, Settling
from shorefast.readers import read_stay
from shorefast.stay import judge

DEMO = Path(shorefast.__file__).parent / "demo"
FROM = datetime(2026, 6, 24, 19, 30, tzinfo=UTC)


@pytest.fixture(scope="module")
def spur():
    stay = read_stay(DEMO / "stone_spur" / "stay_k_day.toml")
    return stay, judge(stay)


def changed(judged, **changes):
    """The stay as judged, with some of the judgement put where it can be read off."""
    return replace(judged, judgement=replace(judged.judgement, **changes))


def test_a_room_that_is_short_first_is_told_in_metres(spur):
    stay, judged = spur
    judgement = judged.judgement
    room_m = np.full_like(judgement.greatest_use, 5.0)
    room_m[0, 2] = 0.3
    use = np.full_like(room_m, 0.2)
    use[0, 2] = 1.7
    room = replace(judgement.room[0], room_m=room_m, least_wanted_m=0.5)
    short = changed(judged, room=(room,), greatest_use=use, worst=(0, 2), first_to_give=room.of)
    told = night_of(stay, short)
    assert (told.first_to_give, told.first_room_m, told.first_wanted_m) == (room.of, 0.3, 0.5)
    assert told.first_use == 1.7
    assert math.isnan(night_of(stay, judged).first_wanted_m)


def test_nearer_than_is_the_least_of_all_hours_not_of_the_tides_alone():
    content = CardContent(
        CardVessel("Quill", 11.8, 1.9), CardPlace("Stone Spur", 47.5, -40.0, "Etc/GMT+2"),
        FROM, FROM + timedelta(hours=12), 0.4, 48.0, 20.0, (),
    )  # fmt: skip
    told = (("", 10.4), ("high", 11.2), ("", math.nan), ("low", 15.0))
    at = tuple(
        OffAt(FROM + timedelta(hours=3 * n), 2.0, 8.0, 12.0, least_m, 15.0, tide)
        for n, (tide, least_m) in enumerate(told)
    )
    filled = settled_in(content, Settling((), at, Basis()))
    assert filled.night.wake_off_m == 10.4
    # the tables of the tides still tell the turns alone
    assert [one.tide for one in filled.off] == ["high", "low"]
    assert math.isnan(settled_in(content, Settling((), at[2:3], Basis())).night.wake_off_m)


def hours_of_leaving(*feasible, at_leave_by):
    """Leaving every half hour from the first on."""
    hours = tuple(
        SimpleNamespace(at_utc=FROM + timedelta(minutes=30 * n), feasible=one)
        for n, one in enumerate(feasible)
    )
    return SimpleNamespace(hours=hours, at_leave_by=at_leave_by)


@pytest.mark.parametrize(
    ("feasible", "at_leave_by", "minutes", "stuck", "never"),
    [
        # judged: leave by 45 minutes after the first
        (("yes", "yes", "no", "unknown"), "no", 30, ((60, 90),), False),
        (("yes", "yes", "no", "yes"), "yes", 45, ((60, 60),), False),
        (("yes", "unknown", "no", "yes"), "unknown", 0, ((30, 60),), False),
        (("no", "no", "no", "yes"), "no", 45, ((0, 60),), False),
        (("no", "unknown", "no", "no"), "no", 45, ((0, 90),), True),
    ],
)
def test_leave_by_is_no_later_than_leaving_is_known_to_be_possible(
    spur, feasible, at_leave_by, minutes, stuck, never
):
    stay, judged = spur
    judged = changed(judged, verdict="leave by", leave_by_utc=FROM + timedelta(minutes=45))
    told = night_of(stay, judged, None, hours_of_leaving(*feasible, at_leave_by=at_leave_by))
    spells = [tuple((at - FROM).total_seconds() / 60 for at in spell) for spell in told.stuck]
    assert told.leave_by_utc == FROM + timedelta(minutes=minutes)
    assert (tuple(spells), told.leaves_never) == (stuck, never)
    assert night_of(stay, judged).leave_by_utc == FROM + timedelta(minutes=45)


def in_gusts(judged, *states):
    """The judgement with states of gust [m/s], direction [degrees] and use; all others mild."""
    judgement = judged.judgement
    gust_mps, use, from_deg = (np.full_like(judgement.gust_mps, one) for one in (2.0, 0.1, 90.0))
    for at, state in enumerate(states):
        gust_mps[0, at], from_deg[0, at], use[0, at] = state
    parts = tuple(replace(one, use=use - 0.01 * n) for n, one in enumerate(judgement.parts))
    return changed(
        judged, gust_mps=gust_mps, wind_from_rad=np.radians(from_deg), greatest_use=use,
        parts=parts, room=(), worst=(0, 0),
    )  # fmt: skip


def test_a_gust_wakes_with_its_direction_and_from_elsewhere_by_what_is_past_a_limit_there(spur):
    stay, judged = spur
    # past from 350 at 15 and from 10 at 16 m/s, borne from 200 in 25, past from 260 at 28
    states = ((15.0, 350.0, 1.1), (16.0, 10.0, 1.3), (25.0, 200.0, 0.9), (28.0, 260.0, 1.01))
    told = night_of(stay, in_gusts(judged, *states))
    assert (told.wake_gust_mps, math.degrees(told.wake_from_rad)) == (15.0, pytest.approx(350.0))
    assert told.breaks == judged.judgement.parts[0].name
    assert (told.wake_elsewhere_mps, told.wake_elsewhere_past) == (28.0, True)
    told = night_of(stay, in_gusts(judged, *states[:3]))
    assert (told.wake_elsewhere_mps, told.wake_elsewhere_past) == (25.0, False)


def test_where_nothing_is_past_its_limit_the_hardest_gust_wakes_from_wherever(spur):
    stay, judged = spur
    told = night_of(stay, in_gusts(judged, (15.0, 350.0, 0.9), (25.0, 200.0, 0.4)))
    assert (told.wake_gust_mps, told.breaks) == (25.0, None)
    assert math.isnan(told.wake_elsewhere_mps)


def test_a_room_that_is_short_in_that_gust_is_what_is_past_its_limit(spur):
    stay, judged = spur
    short = in_gusts(judged, (15.0, 350.0, 1.4))
    judgement = short.judgement
    room_m = np.full_like(judgement.gust_mps, 5.0)
    room_m[0, 0] = 0.3
    room = replace(judged.judgement.room[0], room_m=room_m, least_wanted_m=0.5)
    parts = tuple(replace(one, use=np.full_like(room_m, 0.2)) for one in judgement.parts)
    assert night_of(stay, changed(short, room=(room,), parts=parts)).breaks == room.of
