"""Places as they are typed."""

import pytest

from shorefast.app.places import course, place
from shorefast.errors import BadInput


def test_a_place_is_latitude_then_longitude():
    assert place("-47.5,-120", "--at") == (-47.5, -120.0)
    assert place(" 59.52, 5.21 ", "--at") == (59.52, 5.21)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "59.52",
            "--at: '59.52', LAT,LON wanted, with commas and decimal points. "
            "Write it like 59.52,5.21.",
        ),
        (
            "59.52;5.21",
            "--at: '59.52;5.21', LAT,LON wanted, with commas and decimal points. "
            "Write it like 59.52,5.21.",
        ),
        (
            "nan,5",
            "--at: 'nan,5', LAT,LON wanted, with commas and decimal points. "
            "Write it like 59.52,5.21.",
        ),
        (
            "120,-47",
            "--at: '120,-47' is no place on earth, latitude -90 to 90, longitude -180 to 360. "
            "Give LAT,LON in degrees, south and west negative. "
            "Latitude comes first: have they changed places?",
        ),
        (
            "10,400",
            "--at: '10,400' is no place on earth, latitude -90 to 90, longitude -180 to 360. "
            "Give LAT,LON in degrees, south and west negative.",
        ),
    ],
)
def test_what_is_no_place_is_answered(text, sentence):
    with pytest.raises(BadInput) as told:
        place(text, "--at")
    assert told.value.sentence == sentence


def test_a_course_has_a_start_a_bearing_and_a_length():
    assert course("59.52,5.21,225,80", "--along") == (59.52, 5.21, 225.0, 80.0)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "59.52,5.21,225",
            "--along: '59.52,5.21,225', LAT,LON,BEARING_DEG,LENGTH_M wanted, with commas and "
            "decimal points. Write it like 59.52,5.21,225,80.",
        ),
        (
            "59.52,5.21,225,0",
            "--along: a line 0 m long, more than 0 wanted. Give its length in metres.",
        ),
    ],
)
def test_what_is_no_course_is_answered(text, sentence):
    with pytest.raises(BadInput) as told:
        course(text, "--along")
    assert told.value.sentence == sentence
