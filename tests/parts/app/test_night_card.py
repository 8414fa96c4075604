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
