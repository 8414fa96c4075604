"""The room as the terminal tells it: the least, when, by the expected bed, what is wanted."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from shorefast.app.answers.judge import judgement_text
from shorefast.readers import read_stay
from shorefast.stay import Judgement, Stay, judge

DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"


@pytest.fixture(scope="module")
def told() -> tuple[Stay, Judgement]:
    stay = read_stay(DEMO / "stone_spur" / "stay_k_day.toml")
    return stay, judge(stay).judgement


def rows(stay: Stay, judgement: Judgement) -> list[str]:
    return [row.strip() for row in judgement_text(stay, judgement).splitlines() if "wanted" in row]


def test_in_an_hour_in_which_she_may_touch_the_table_says_so(told):
    stay, judgement = told
    room_m = np.full_like(judgement.greatest_use, 5.0)
    hours = judgement.time_utc.astype("datetime64[m]").astype(int) % 60 == 0
    aground = int(np.flatnonzero(hours)[1])
    room_m[:, aground] = 0.0
    use = np.where(room_m > 0.0, judgement.greatest_use, 9.9)
    room = (replace(judgement.room[0], room_m=room_m),)
    text = judgement_text(stay, replace(judgement, room=room, greatest_use=use))
    assert text.count("  may touch  ") == 1 and "9.90" not in text


def test_every_room_is_told_with_its_hour_and_what_is_wanted(told):
    stay, judgement = told
    # put where they can be read off: 1.9 m at the third time, 2.2 m by the expected bed
    room_m = np.full_like(judgement.greatest_use, 5.0)
    room_m[0, 2] = 1.9
    rooms = (
        replace(judgement.room[0], room_m=room_m, expected_m=room_m + 0.3),
        replace(judgement.room[-1], room_m=room_m + 1.0),
        replace(judgement.room[1], room_m=np.full_like(room_m, np.nan)),
    )
    # the stay begins at 12:00 UTC, 10:00 by the bay's clock
    assert rows(stay, replace(judgement, room=rooms)) == [
        "water under the keel: least 1.9 m at 10:20 (2.2 m by the expected bed, 0.5 m wanted)",
        "hull to the shore: least 2.9 m at 10:20 (2.0 m wanted)",
        "water under the rudder: least unknown (0.5 m wanted)",
    ]
