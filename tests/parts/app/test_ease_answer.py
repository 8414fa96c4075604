"""The hour that is asked for, in the words people give it, and the answer as it is read."""

from __future__ import annotations

from datetime import UTC, datetime
from types import SimpleNamespace

import numpy as np
import pytest

from shorefast.app.answers.ease import hour_asked
from shorefast.errors import BadInput

STAY = SimpleNamespace(
    bay=SimpleNamespace(zone_name="Etc/GMT+2"),
    from_utc=datetime(2026, 6, 24, 19, 30, tzinfo=UTC),
    until_utc=datetime(2026, 6, 25, 12, 0, tzinfo=UTC),
)
TIMES = np.arange(
    np.datetime64("2026-06-24T19:30:00"), np.datetime64("2026-06-25T12:00:01"),
    np.timedelta64(600, "s"),
)  # fmt: skip


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (None, "2026-06-24T19:30"),
        ("17:30", "2026-06-24T19:30"),
        ("02:10", "2026-06-25T04:10"),
        ("02:14", "2026-06-25T04:10"),
        ("2026-06-25T02:10", "2026-06-25T04:10"),
        ("2026-06-25T04:10Z", "2026-06-25T04:10"),
        ("2026-06-25T06:10+02:00", "2026-06-25T04:10"),
    ],
)
def test_an_hour_is_told_by_the_places_clock_or_with_its_offset(text, expected):
    assert TIMES[hour_asked(STAY, TIMES, text)] == np.datetime64(expected)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "half past four",
            "--at: 'half past four', a time like 21:40 or 2026-07-01T21:40 wanted."
            " Give it on the place's clock, or with its offset (Z for UTC).",
        ),
        (
            "16:00",
            "--at: 16:00, the stay runs from 2026-06-24T17:30 to 2026-06-25T10:00."
            " Give a time within it.",
        ),
        (
            "2026-07-01T21:40",
            "--at: 2026-07-01T21:40, the stay runs from 2026-06-24T17:30 to 2026-06-25T10:00."
            " Give a time within it.",
        ),
    ],
)
def test_no_time_and_a_time_outside_the_stay_are_refused(text, said):
    with pytest.raises(BadInput) as refused:
        hour_asked(STAY, TIMES, text)
    assert refused.value.sentence == said
