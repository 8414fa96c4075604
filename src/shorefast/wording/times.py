"""How a time is said: local to the place, with its offset where it matters."""

from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import numpy as np

Moment = datetime | np.datetime64

_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July",
    "August", "September", "October", "November", "December",
)  # fmt: skip


def local(at_utc: Moment, zone_name: str) -> datetime:
    """A moment in UTC (aware, or datetime64) on the clocks of a place."""
    if isinstance(at_utc, np.datetime64):
        seconds = int(at_utc.astype("datetime64[s]").astype(np.int64))
        at_utc = datetime.fromtimestamp(seconds, UTC)
    return at_utc.astimezone(ZoneInfo(zone_name))


def clock(at_utc: Moment, zone_name: str) -> str:
    """The time of day at the place: ``04:30``."""
    return local(at_utc, zone_name).strftime("%H:%M")


def day_clock(at_utc: Moment, zone_name: str) -> str:
    """Day and time at the place: ``Thursday 25 June, 04:30``."""
    there = local(at_utc, zone_name)
    return f"{_DAYS[there.weekday()]} {there.day} {_MONTHS[there.month - 1]}, {there:%H:%M}"


def offset(at_utc: Moment, zone_name: str) -> str:
    """How far the place's clocks are from UTC then: ``UTC-2``, ``UTC+5:30``."""
    shift = local(at_utc, zone_name).utcoffset()
    minutes = 0 if shift is None else round(shift.total_seconds() / 60)
    hours, rest = divmod(abs(minutes), 60)
    sign = "-" if minutes < 0 else "+"
    return f"UTC{sign}{hours}" + (f":{rest:02d}" if rest else "")


def span(from_utc: Moment, until_utc: Moment, zone_name: str) -> str:
    """A stay's hours: ``Wednesday 24 June, 17:30, to Thursday 25 June, 10:00 (UTC-2)``."""
    first, last = day_clock(from_utc, zone_name), day_clock(until_utc, zone_name)
    return f"{first}, to {last} ({offset(from_utc, zone_name)})"
