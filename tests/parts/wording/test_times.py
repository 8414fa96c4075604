"""How a time is said at the place."""

from datetime import UTC, datetime

import numpy as np
import pytest

from shorefast.wording import clock, day_clock, local, offset, span

NIGHT = datetime(2026, 6, 25, 6, 30, tzinfo=UTC)


def test_the_clock_is_the_one_ashore():
    assert clock(NIGHT, "Etc/GMT+2") == "04:30"
    assert clock(NIGHT, "Europe/Oslo") == "08:30"


def test_the_day_is_the_one_ashore():
    assert day_clock(NIGHT, "Etc/GMT+2") == "Thursday 25 June, 04:30"
    assert day_clock(datetime(2026, 6, 25, 1, 0, tzinfo=UTC), "Etc/GMT+2") == (
        "Wednesday 24 June, 23:00"
    )


@pytest.mark.parametrize(
    ("zone_name", "said"),
    [("Etc/GMT+2", "UTC-2"), ("UTC", "UTC+0"), ("Asia/Kolkata", "UTC+5:30"),
     ("Europe/Oslo", "UTC+2")],
)  # fmt: skip
def test_the_offset_is_said(zone_name, said):
    assert offset(NIGHT, zone_name) == said


def test_a_stay_over_a_change_of_clocks_keeps_each_hour_as_the_clock_shows_it():
    # Clocks in Oslo went back at 01:00 UTC on 25 October 2026 (tz database).
    before = datetime(2026, 10, 25, 0, 30, tzinfo=UTC)
    after = datetime(2026, 10, 25, 1, 30, tzinfo=UTC)
    assert clock(before, "Europe/Oslo") == clock(after, "Europe/Oslo") == "02:30"
    assert offset(before, "Europe/Oslo") != offset(after, "Europe/Oslo")


def test_numpy_times_are_taken_as_utc():
    assert local(np.datetime64("2026-06-25T06:30"), "UTC") == NIGHT
    assert clock(np.datetime64("2026-06-25T06:30:00"), "Etc/GMT+2") == "04:30"


def test_the_hours_of_a_stay_name_both_days_and_the_offset():
    begin = datetime(2026, 6, 24, 19, 30, tzinfo=UTC)
    end = datetime(2026, 6, 25, 12, 0, tzinfo=UTC)
    assert span(begin, end, "Etc/GMT+2") == (
        "Wednesday 24 June, 17:30, to Thursday 25 June, 10:00 (UTC-2)"
    )
