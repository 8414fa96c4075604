"""Moonlight: when the moon rises and sets, and how much of it is lit."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import ephem

from shorefast.weather.sun import SunEvent, night_spans

# by less than this a moon lights nothing on shore: our choice
LEAST_LIT = 0.25
_STEP = timedelta(minutes=10)
_RIM = "-0:34"


@dataclass(frozen=True)
class Moonlight:
    """Dark hours with a moon over the horizon: from, until (aware, UTC), its lit share."""

    from_utc: datetime
    until_utc: datetime
    lit_share: float


def _observer(lat_deg: float, lon_deg: float) -> ephem.Observer:
    observer = ephem.Observer()
    observer.lat, observer.lon = math.radians(lat_deg), math.radians(lon_deg)
    observer.pressure, observer.horizon = 0.0, _RIM
    return observer


def lit_share(at_utc: datetime) -> float:
    """How much of the moon's face is lit, 0 to 1.

    Source
    ------
    ephem-library.
    """
    return float(ephem.Moon(at_utc.astimezone(UTC).replace(tzinfo=None)).phase) / 100.0


def moon_events(
    lat_deg: float, lon_deg: float, from_utc: datetime, until_utc: datetime
) -> tuple[SunEvent, ...]:
    """Moonrise and moonset at a place, in order of time.

    The upper rim on a level horizon, through 34' of bent light. Where the moon stays up
    or down for days, as in high latitudes, there are no events.

    Parameters
    ----------
    lat_deg, lon_deg : float
    from_utc, until_utc : aware datetimes

    Source
    ------
    usno-rise-set, the rim 34' below the horizon.
    """
    events: list[SunEvent] = []
    for rising, what in ((True, "moonrise"), (False, "moonset")):
        at = from_utc
        while at <= until_utc:
            passage = _next(lat_deg, lon_deg, at, rising)
            if passage is None:
                at += timedelta(days=1)
                continue
            if passage > until_utc:
                break
            if not events or events[-1].what != what or passage - events[-1].at_utc > _STEP:
                events.append(SunEvent(what, passage))
            at = passage + timedelta(minutes=2)
    return tuple(sorted(events, key=lambda event: event.at_utc))


def _next(lat_deg: float, lon_deg: float, at_utc: datetime, rising: bool) -> datetime | None:
    observer = _observer(lat_deg, lon_deg)
    observer.date = at_utc.astimezone(UTC).replace(tzinfo=None)
    seek = observer.next_rising if rising else observer.next_setting
    try:
        found: datetime = seek(ephem.Moon()).datetime()
    except ephem.CircumpolarError:
        return None
    return found.replace(tzinfo=UTC)


def _is_up(lat_deg: float, lon_deg: float, at_utc: datetime) -> bool:
    observer = _observer(lat_deg, lon_deg)
    observer.date = at_utc.astimezone(UTC).replace(tzinfo=None)
    moon = ephem.Moon(observer)
    return bool(moon.alt + moon.radius > observer.horizon)


def moonlight(
    lat_deg: float, lon_deg: float, from_utc: datetime, until_utc: datetime
) -> tuple[Moonlight, ...]:
    """Dark hours with a moon that lights: between civil dusk and dawn, moon up, a quarter lit.

    Cloud and a steep shore take it away and are not reckoned with.

    Parameters
    ----------
    lat_deg, lon_deg : float
    from_utc, until_utc : aware datetimes

    Returns
    -------
    tuple of Moonlight
        In order of time; the share is that of the middle of each span.

    Source
    ------
    usno-rise-set.
    """
    found = []
    for dusk, dawn in night_spans(lat_deg, lon_deg, from_utc, until_utc):
        for begin, end in _moon_up(lat_deg, lon_deg, dusk, dawn):
            share = lit_share(begin + (end - begin) / 2)
            if share >= LEAST_LIT and end > begin:
                found.append(Moonlight(begin, end, share))
    return tuple(found)


def _moon_up(
    lat_deg: float, lon_deg: float, from_utc: datetime, until_utc: datetime
) -> list[tuple[datetime, datetime]]:
    since = from_utc if _is_up(lat_deg, lon_deg, from_utc) else None
    spans = []
    for event in moon_events(lat_deg, lon_deg, from_utc, until_utc):
        if event.what == "moonrise":
            since = since or event.at_utc
        elif since is not None:
            spans.append((since, event.at_utc))
            since = None
    return spans if since is None else [*spans, (since, until_utc)]
