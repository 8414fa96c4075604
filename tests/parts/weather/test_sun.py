"""Daylight over a stay."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from shorefast.weather import night_spans, sun_events

NOTCH = (47.5, -40.0)


def utc(text):
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


# Grey Notch, 24 June 2026: the demonstration names sunset about 20:40 and sunrise about 04:45
# on clocks two hours behind UTC.
@pytest.mark.parametrize(("what", "about"), [("sunset", "22:40"), ("sunrise", "06:45")])
def test_the_sun_over_grey_notch(what, about):
    events = sun_events(*NOTCH, utc("2026-06-24T19:30"), utc("2026-06-25T12:00"))
    (found,) = [event.at_utc for event in events if event.what == what]
    day = "2026-06-24" if what == "sunset" else "2026-06-25"
    # "About" in that list is to five minutes and some.
    assert abs(found - utc(f"{day}T{about}")) < timedelta(minutes=10)


def test_events_come_in_order_dusk_after_sunset():
    events = sun_events(*NOTCH, utc("2026-06-24T19:30"), utc("2026-06-25T12:00"))
    assert [event.what for event in events] == ["sunset", "civil dusk", "civil dawn", "sunrise"]
    assert sorted(event.at_utc for event in events) == [event.at_utc for event in events]


def test_three_days_have_three_sunsets():
    events = sun_events(*NOTCH, utc("2026-06-24T00:00"), utc("2026-06-27T00:00"), ("sun",))
    assert [event.what for event in events].count("sunset") == 3


def test_the_night_runs_from_dusk_to_dawn():
    ((dark, light),) = night_spans(*NOTCH, utc("2026-06-24T19:30"), utc("2026-06-25T12:00"))
    assert utc("2026-06-24T22:40") < dark < utc("2026-06-24T23:40")
    assert utc("2026-06-25T05:45") < light < utc("2026-06-25T06:45")


def test_a_stay_that_begins_in_the_dark_begins_with_night():
    begin = utc("2026-06-25T02:00")
    ((dark, _),) = night_spans(*NOTCH, begin, utc("2026-06-25T12:00"))
    assert dark == begin


def test_a_stay_that_ends_in_the_dark_ends_with_night():
    end = utc("2026-06-25T02:00")
    ((_, light),) = night_spans(*NOTCH, utc("2026-06-24T19:30"), end)
    assert light == end


def test_at_midsummer_in_the_far_north_there_is_no_night():
    begin, end = utc("2026-06-20T00:00"), utc("2026-06-22T00:00")
    assert sun_events(78.9, 12.0, begin, end) == ()
    assert night_spans(78.9, 12.0, begin, end) == ()


def test_at_midwinter_in_the_far_north_all_is_night():
    begin, end = utc("2026-12-20T00:00"), utc("2026-12-22T00:00")
    assert night_spans(78.9, 12.0, begin, end) == ((begin, end),)
