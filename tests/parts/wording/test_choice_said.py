"""The least room of a lie in words: what is missing is never told as a negative depth."""

from types import SimpleNamespace

import numpy as np
import pytest

from shorefast.wording.choice import room_words


def finalist(*rooms):
    told = tuple(
        SimpleNamespace(of=of, room_m=np.array([[9.0, least_m]]), least_wanted_m=wanted_m)
        for of, least_m, wanted_m in rooms
    )
    return SimpleNamespace(judged=SimpleNamespace(judgement=SimpleNamespace(room=told)))


@pytest.mark.parametrize(
    ("rooms", "sentence"),
    [
        (
            (("water under the rudder", 3.1, 0.5), ("hull to the shore", 9.8, 2.0)),
            "3.1 m water under the rudder in the worst member, 0.5 m wanted",
        ),
        (
            (("water under the rudder", -0.13, 0.5),),
            "water under the rudder: in the worst member she may touch, 0.1 m are missing",
        ),
        ((("water under the keel", np.nan, 0.5), ("hull to the shore", 4.0, 2.0)),
         "4.0 m hull to the shore in the worst member, 2.0 m wanted"),
        ((), "unknown"),
    ],
)  # fmt: skip
def test_the_least_room_is_said_with_what_is_wanted(rooms, sentence):
    assert room_words(finalist(*rooms)) == sentence
