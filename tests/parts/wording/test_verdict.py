"""The verdict as a sentence."""

import math
from datetime import UTC, datetime
from types import SimpleNamespace

import numpy as np
import pytest

from shorefast.basis import Basis
from shorefast.stay import Judgement, PartUse, RestOverStay, Room
from shorefast.wording import half_strength_words, verdict_words, worst_words

FROM = datetime(2026, 6, 24, 19, 30, tzinfo=UTC)
UNTIL = datetime(2026, 6, 25, 12, 0, tzinfo=UTC)
NIGHT = SimpleNamespace(
    from_utc=FROM, until_utc=UNTIL, accepted_share=0.05, bay=SimpleNamespace(zone_name="Etc/GMT+2")
)
HOURS = np.array(["2026-06-25T06:00", "2026-06-25T07:00"], "datetime64[s]")
NOTHING = np.full((2, 2), np.nan)


def _judged(**changed):
    use = np.array([[0.4, 0.70], [0.3, 0.55]])
    line = PartUse("stern line to birch", "line", use, "half", use * 6700.0, use, 13400.0)
    room = Room("water under the rudder", np.array([[3.0, 2.0], [3.0, 0.4]]), 0.5)
    said = {
        "verdict": "holds",
        "member": np.array([0, 1]),
        "time_utc": HOURS,
        "water_level_m": NOTHING,
        "wind_mps": np.full((2, 2), 10.0),
        "gust_mps": np.full((2, 2), 21.6),
        "wind_from_rad": np.full((2, 2), math.radians(315.0)),
        "share_past_limit": np.array([0.0, 0.0]),
        "greatest_use": use,
        "parts": (line,),
        "room": (room,),
        "rest": RestOverStay(NOTHING, NOTHING, NOTHING, ()),
        "worst": (0, 1),
        "first_to_give": "stern line to birch",
        "leave_by_utc": None,
        "past_from_utc": None,
        "reason": "no rest was found at 05:00",
        "basis": Basis(),
    }
    return Judgement(**{**said, **changed})


def test_a_stay_that_holds_says_until_when_and_which_hour_is_the_worst():
    # 0.70 x 6700 N is 478 kg of pull, two digits known; 21.6 m/s is 42 kn.
    assert verdict_words(NIGHT, _judged()) == (
        "She can lie here until 10:00.",
        "Worst hour 05:00, worst of 2 members: the stern line to birch carries 480 kg, "
        "0.70 of its limit, in gusts of 42 kn from the north-west.",
    )


PAST = np.array([[0.4, 1.20], [0.3, 1.05]])
BEYOND = PartUse("anchor", "anchor", PAST, "proof", PAST * 2600.0, PAST, math.nan)


def test_a_stay_to_leave_says_by_when_and_what_gives_in_how_many_members():
    judged = _judged(
        verdict="leave by",
        leave_by_utc=datetime(2026, 6, 25, 6, 30, tzinfo=UTC),
        past_from_utc=datetime(2026, 6, 25, 7, 0, tzinfo=UTC),
        parts=(*_judged().parts, BEYOND),
        share_past_limit=np.array([0.0, 1.0]),
    )
    headline, reason = verdict_words(NIGHT, judged)
    assert headline == "Lie here until 04:30, then leave."
    assert reason.startswith("From 05:00 the anchor is past its limit in 2 of 2 members. Worst ")


def test_a_stay_to_leave_for_want_of_water_says_so():
    judged = _judged(
        verdict="leave by",
        leave_by_utc=datetime(2026, 6, 25, 6, 30, tzinfo=UTC),
        past_from_utc=datetime(2026, 6, 25, 7, 0, tzinfo=UTC),
    )
    assert verdict_words(NIGHT, judged)[1].startswith(
        "From 05:00 water under the rudder is less than 0.5 m in 1 of 2 members."
    )


def test_a_holding_stay_says_how_many_members_pass_a_limit():
    assert verdict_words(NIGHT, _judged(share_past_limit=np.array([0.0, 0.5])))[1].endswith(
        "Past a limit at 05:00: 1 of 2 members; from 1 on the hour counts as past it."
    )


def test_a_no_names_the_part_and_the_hour():
    judged = _judged(
        verdict="no",
        past_from_utc=datetime(2026, 6, 25, 7, 0, tzinfo=UTC),
        parts=(BEYOND,),
    )
    assert verdict_words(NIGHT, judged)[0] == (
        "No: do not lie here; from 05:00 the anchor is past its limit."
    )


def test_a_no_without_a_part_is_still_a_no():
    assert verdict_words(NIGHT, _judged(verdict="no", first_to_give=None, worst=None)) == (
        "No: do not lie here.",
        "No rest was found at 05:00.",
    )


def test_unknown_stays_unknown_and_says_why():
    judged = _judged(verdict="unknown", worst=None, share_past_limit=np.full(2, np.nan))
    assert verdict_words(NIGHT, judged) == (
        "Unknown: nobody can say from this whether she can lie here.",
        "No rest was found at 05:00.",
    )


def test_room_may_be_what_gives_first():
    judged = _judged(first_to_give="water under the rudder", worst=(1, 1))
    assert worst_words(NIGHT, judged) == (
        "Worst hour 05:00, worst of 2 members: water under the rudder 0.4 m, 0.5 m wanted, "
        "in gusts of 42 kn from the north-west."
    )


def test_where_no_room_is_left_she_touches():
    room = Room("water under the rudder", np.array([[3.0, 2.0], [3.0, -0.4]]), 0.5)
    judged = _judged(first_to_give="water under the rudder", worst=(1, 1), room=(room,))
    assert judged.touches.tolist() == [[False, False], [False, True]]
    assert worst_words(NIGHT, judged) == (
        "Worst hour 05:00, worst of 2 members: water under the rudder -0.4 m, 0.5 m wanted: she"
        " may touch, in gusts of 42 kn from the north-west."
    )


def test_a_forecast_without_gusts_speaks_of_its_wind():
    judged = _judged(gust_mps=NOTHING)
    # 10 m/s is 19.4 kn.
    assert worst_words(NIGHT, judged).endswith("in a wind of 19 kn from the north-west.")


def test_a_single_run_is_not_counted_in_members():
    one = _judged(member=np.array([0]), share_past_limit=np.array([0.0, 1.0]), worst=(0, 1))
    reason = verdict_words(NIGHT, one)[1]
    assert reason.startswith("Worst hour 05:00: the stern line to birch")
    assert reason.endswith("Past a limit at 05:00.")


def test_a_stay_of_two_nights_names_the_day():
    long = SimpleNamespace(
        from_utc=datetime(2026, 4, 24, 22, 0, tzinfo=UTC),
        until_utc=datetime(2026, 4, 26, 20, 0, tzinfo=UTC),
        bay=SimpleNamespace(zone_name="Etc/GMT+8"),
    )
    assert verdict_words(long, _judged())[0] == "She can lie here until Sunday 26 April, 12:00."


@pytest.mark.parametrize(
    ("use", "said"),
    [
        (
            0.70,
            "Lines: limit half of their strength (common practice), largest use 0.70. "
            "By a third it would be 1.05, by a fifth 1.75.",
        ),
        (
            math.nan,
            "Lines: limit half of their strength (common practice); largest use unknown.",
        ),
    ],
)
def test_the_limit_on_lines_says_what_a_stricter_one_would(use, said):
    assert half_strength_words(use) == said
