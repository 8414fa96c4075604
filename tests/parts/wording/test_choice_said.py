"""The least room of a lie in words: what is missing is never told as a negative depth."""

from datetime import UTC, datetime
from types import SimpleNamespace

import numpy as np
import pytest

from shorefast.stay import Change
from shorefast.wording.choice import help_words, room_words

FROM, UNTIL = datetime(2026, 6, 24, 18, tzinfo=UTC), datetime(2026, 6, 24, 20, tzinfo=UTC)
LATER = datetime(2026, 6, 24, 22, tzinfo=UTC)
TIMES = np.array(["2026-06-24T18:00:00", "2026-06-24T20:00:00", "2026-06-24T22:00:00"], "M8[s]")


def finalist(*rooms):
    """Two members, three times, of which she is gone at the last."""
    told = tuple(
        SimpleNamespace(of=of, room_m=room_m, touches=room_m < 0.0)
        for of, least_m in rooms
        for room_m in (np.array([[9.0, least_m, -9.0], [8.0, 7.0, 6.0]]),)
    )
    answer = SimpleNamespace(room=told, time_utc=TIMES, member=np.array([0, 1]))
    return SimpleNamespace(
        judged=SimpleNamespace(judgement=answer), until=UNTIL, stay=SimpleNamespace(from_utc=FROM)
    )


@pytest.mark.parametrize(
    ("until", "whole", "sentence"),
    [
        (UNTIL, False, "veer 2 m: 0.31 instead of 0.40, anchor first"),
        (LATER, True, "veer 2 m: the whole stay instead of till 18:00, then at 0.31, anchor first"),
        (LATER, False, "veer 2 m: till 20:00 instead of till 18:00, then at 0.31, anchor first"),
    ],
)
def test_uses_of_other_hours_are_not_held_against_each_other(until, whole, sentence):
    stay = SimpleNamespace(
        from_utc=FROM, until_utc=LATER, bay=SimpleNamespace(zone_name="Etc/GMT+2")
    )
    now = SimpleNamespace(until=UNTIL, told_use=0.40)
    change = Change("veer 2 m", until, whole, 0.31, "anchor", None)
    choice = SimpleNamespace(stay=stay, finalists=(now,), helps=(change,))
    assert help_words(choice) == [sentence]


@pytest.mark.parametrize(
    ("rooms", "sentence"),
    [
        (
            (("water under the rudder", 3.1), ("hull to the shore", 6.5)),
            "3.1 m water under the rudder",
        ),
        (
            (("water under the rudder", -0.13),),
            "water under the rudder: 0.1 m missing; she may touch in 1 of 2 members",
        ),
        ((), "unknown"),
    ],
)
def test_the_least_room_is_that_up_to_when_she_leaves(rooms, sentence):
    assert room_words(finalist(*rooms)) == sentence
