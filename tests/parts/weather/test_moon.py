"""Moonlight, and the dark of high latitudes."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest

from shorefast.weather import lit_share, moon_events, moonlight, night_spans


def utc(*moment):
    return datetime(*moment, tzinfo=UTC)


# US Naval Observatory, phases of the moon (from memory): full 2017-01-12 11:34, new 2017-01-28
# 00:07, first quarter 2017-01-05 19:47; and the total eclipse of the sun of 2024-04-08 18:17.
@pytest.mark.parametrize(
    ("at", "printed"),
    [((2017, 1, 12, 11, 34), 1.0), ((2017, 1, 28, 0, 7), 0.0), ((2017, 1, 5, 19, 47), 0.5),
     ((2024, 4, 8, 18, 17), 0.0)],
)  # fmt: skip
def test_the_moon_is_lit_as_its_phases_say(at, printed):
    # The moon's path is up to 5 degrees off the sun's: 0.2 % at full and new.
    assert lit_share(utc(*at)) == pytest.approx(printed, abs=0.005)


def test_the_moon_rises_and_sets_by_turns_and_some_fifty_minutes_later_each_day():
    events = moon_events(47.5, -40.0, utc(2026, 6, 1), utc(2026, 6, 29))
    names = [event.what for event in events]
    assert all(one != two for one, two in pairwise(names))
    rises = [event.at_utc for event in events if event.what == "moonrise"]
    gaps = [(two - one) / timedelta(minutes=1) for one, two in pairwise(rises)]
    # a lunar day is 24 h 50 min in the mean
    assert sum(gaps) / len(gaps) == pytest.approx(1490.0, abs=4.0)


def test_moonlight_lies_within_the_dark_and_within_the_stay():
    begin, end = utc(2026, 6, 24, 19), utc(2026, 6, 25, 12)
    nights = night_spans(47.5, -40.0, begin, end)
    (found,) = moonlight(47.5, -40.0, begin, end)
    assert nights[0][0] <= found.from_utc < found.until_utc <= nights[0][1]
    assert 0.75 < found.lit_share < 0.85


def test_a_new_moon_lights_nothing():
    assert moonlight(47.5, -40.0, utc(2026, 6, 14, 12), utc(2026, 6, 16, 12)) == ()


def test_a_moon_that_stays_up_for_days_lights_the_polar_night_throughout():
    # full on 3 January 2026, high in the north while the sun is low in the south
    begin, end = utc(2026, 1, 2), utc(2026, 1, 4)
    assert moon_events(78.0, 15.0, begin, end) == ()
    (found,) = moonlight(78.0, 15.0, begin, end)
    assert (found.from_utc, found.until_utc) == (begin, end)
    assert found.lit_share > 0.98


def test_a_moon_that_stays_down_for_days_lights_nothing():
    begin, end = utc(2026, 1, 15), utc(2026, 1, 17)
    assert moon_events(78.0, 15.0, begin, end) == ()
    assert moonlight(78.0, 15.0, begin, end) == ()


@pytest.mark.parametrize("kind", ["sun", "civil", "nautical"])
def test_where_the_sun_stays_up_there_is_no_night_and_where_it_stays_down_no_day(kind):
    june, december = (utc(2026, month, 21) for month in (6, 12))
    span = timedelta(days=2)
    assert night_spans(80.0, 15.0, june, june + span, kind) == ()
    # 88 north: at noon the sun stands 21 degrees below the horizon
    assert night_spans(88.0, 15.0, december, december + span, kind) == (
        (december, december + span),
    )


def test_each_kind_of_night_lies_inside_the_lighter_one():
    begin, end = utc(2026, 9, 1, 12), utc(2026, 9, 2, 12)
    (sun,), (civil,), (nautical,) = (
        night_spans(47.5, -40.0, begin, end, kind) for kind in ("sun", "civil", "nautical")
    )
    assert sun[0] < civil[0] < nautical[0] < nautical[1] < civil[1] < sun[1]
