"""The least room of a lie in words: what is missing is never told as a negative depth."""

from datetime import UTC, datetime
from types import SimpleNamespace

import numpy as np
import pytest

from shorefast.wording.choice import room_words

FROM, UNTIL = datetime(2026, 6, 24, 18, tzinfo=UTC), datetime(2026, 6, 24, 20, tzinfo=UTC)
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
