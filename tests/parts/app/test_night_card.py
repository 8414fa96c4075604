"""The night card's numbers from a judged stay: each of one state, each what the answers say."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import shorefast
from shorefast.app.answers.cards_filled import night_of
from shorefast.readers import read_stay
from shorefast.stay import judge

DEMO = Path(shorefast.__file__).parent / "demo"


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
