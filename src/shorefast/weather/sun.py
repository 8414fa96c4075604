"""Daylight: when the sun rises and sets, and when it is too dark to see the rocks."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import ephem

# how high the sun's centre stands, as degrees; at rise and set its rim is seen through 34'
# of bent light: 34' + 16'
_HEIGHTS = {"sun": "-0:50", "civil": "-6", "nautical": "-12"}
_NAMES = {
    "sun": ("sunrise", "sunset"),
    "civil": ("civil dawn", "civil dusk"),
    "nautical": ("nautical dawn", "nautical dusk"),
}
_DAY = timedelta(days=1)


@dataclass(frozen=True)
class SunEvent:
    """One moment of the day's light: what it is, and when (aware, UTC)."""

    what: str
    at_utc: datetime


def _observer(lat_deg: float, lon_deg: float, height: str) -> ephem.Observer:
    observer = ephem.Observer()
    observer.lat, observer.lon = math.radians(lat_deg), math.radians(lon_deg)
    observer.pressure = 0.0
    observer.horizon = height
    return observer


def _plain(at_utc: datetime) -> datetime:
    return at_utc.astimezone(UTC).replace(tzinfo=None)


def _passages(
    observer: ephem.Observer, rising: bool, from_utc: datetime, until_utc: datetime
) -> list[datetime]:
    """Every moment the sun passes the observer's horizon one way, from and until included."""
    found: list[datetime] = []
    at = from_utc
    while at <= until_utc:
        observer.date = _plain(at)
        seek = observer.next_rising if rising else observer.next_setting
        try:
            passage = seek(ephem.Sun(), use_center=True).datetime().replace(tzinfo=UTC)
        except ephem.CircumpolarError:
            # no such moment that day: look again on the next
            at += _DAY
            continue
        if passage > until_utc:
            break
        if not found or passage - found[-1] > timedelta(minutes=1):
            found.append(passage)
        at = passage + timedelta(minutes=2)
    return found


def sun_events(
    lat_deg: float,
    lon_deg: float,
    from_utc: datetime,
    until_utc: datetime,
    kinds: tuple[str, ...] = ("sun", "civil"),
) -> tuple[SunEvent, ...]:
    """Sunrise, sunset, dawn and dusk at a place, in order of time.

    Over a level horizon: under a steep shore the sun goes earlier. Where the sun
    stays up or down there are no events.

    Parameters
    ----------
    lat_deg, lon_deg : float
    from_utc, until_utc : aware datetimes
    kinds : tuple of "sun", "civil", "nautical"

    Returns
    -------
    tuple of SunEvent
        "sunrise", "sunset", "civil dawn", "civil dusk", "nautical dawn", "nautical dusk".

    Source
    ------
    usno-rise-set, the sun's centre 50' below the horizon, 6 and 12 degrees for twilight.
    """
    events: list[SunEvent] = []
    for kind in kinds:
        observer = _observer(lat_deg, lon_deg, _HEIGHTS[kind])
        for rising, what in zip((True, False), _NAMES[kind], strict=True):
            passages = _passages(observer, rising, from_utc, until_utc)
            events.extend(SunEvent(what, at) for at in passages)
    return tuple(sorted(events, key=lambda event: event.at_utc))


def _is_down(lat_deg: float, lon_deg: float, at_utc: datetime, kind: str) -> bool:
    observer = _observer(lat_deg, lon_deg, _HEIGHTS[kind])
    observer.date = _plain(at_utc)
    return bool(ephem.Sun(observer).alt < observer.horizon)


@functools.lru_cache(maxsize=64)
def night_spans(
    lat_deg: float,
    lon_deg: float,
    from_utc: datetime,
    until_utc: datetime,
    kind: str = "civil",
) -> tuple[tuple[datetime, datetime], ...]:
    """When it is dark between two moments: from civil dusk to civil dawn.

    Twilight and not sunset is the limit of work on deck and ashore. Where the sun stays
    down all of the time there is one span, where it stays up there is none.

    Parameters
    ----------
    kind : "sun", "civil" or "nautical"
        Dark from sunset to sunrise, or from the one dusk or the other.

    Returns
    -------
    tuple of (dark from, dark until), aware, UTC; clipped to the span asked for.

    Source
    ------
    usno-rise-set, twilight of 6 and 12 degrees.
    """
    events = sun_events(lat_deg, lon_deg, from_utc, until_utc, kinds=(kind,))
    down = _NAMES[kind][1]
    spans, since = [], from_utc if _is_down(lat_deg, lon_deg, from_utc, kind) else None
    for event in events:
        if event.what == down:
            since = since or event.at_utc
        elif since is not None:
            spans.append((since, event.at_utc))
            since = None
    if since is not None and since < until_utc:
        spans.append((since, until_utc))
    return tuple(spans)
