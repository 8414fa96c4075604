"""When the sun goes behind a ridge."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from shorefast.weather import Skyline, sun_behind, sun_events

TURN = 2.0 * math.pi * np.arange(72) / 72
BEGIN = datetime(2026, 3, 20, 0, 0, tzinfo=UTC)
END = BEGIN + timedelta(days=1)


def sky(angle_deg):
    angle = np.broadcast_to(np.radians(angle_deg), (72,)).astype(float)
    none = np.full(72, np.nan)
    return Skyline(TURN, angle, none, none, np.ones(72))


def test_at_the_equator_at_equinox_a_ridge_of_thirty_degrees_takes_two_hours_at_each_end():
    # there the sun climbs 15 degrees an hour straight up and down
    morning, evening = sun_behind(sky(30.0), 0.0, 0.0, BEGIN, END)
    for spell in (morning, evening):
        hours = (spell.until_utc - spell.from_utc) / timedelta(hours=1)
        assert hours == pytest.approx(2.0, abs=0.07)
    assert math.degrees(morning.azimuth_rad) == pytest.approx(90.0, abs=0.5)
    assert math.degrees(evening.azimuth_rad) == pytest.approx(270.0, abs=0.5)


def test_a_ridge_to_the_west_hides_the_evening_alone_in_the_south_too():
    west = np.where(np.sin(TURN) < -0.5, 20.0, 0.0)
    (spell,) = sun_behind(
        sky(west), -47.5, 120.0, BEGIN - timedelta(hours=8), END - timedelta(hours=8)
    )
    set_utc = next(
        one.at_utc
        for one in sun_events(-47.5, 120.0, BEGIN - timedelta(hours=8), END, ("sun",))
        if one.what == "sunset"
    )
    assert timedelta(hours=1) < set_utc - spell.from_utc < timedelta(hours=3)
    # a level sunset is by the rim and bent light, some five minutes after the sun's middle
    assert timedelta(0) < set_utc - spell.until_utc < timedelta(minutes=8)


def test_level_and_unknown_ground_hide_nothing():
    assert sun_behind(sky(0.0), 47.5, -40.0, BEGIN, END) == ()
    assert sun_behind(sky(np.nan), 47.5, -40.0, BEGIN, END) == ()


def test_a_spell_that_lasts_to_the_end_ends_there():
    spells = sun_behind(sky(30.0), 0.0, 0.0, BEGIN, BEGIN + timedelta(hours=7))
    assert spells[-1].until_utc == BEGIN + timedelta(hours=7)
