"""When the sun goes behind the high ground round a bay, and comes over it again."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import ephem
import numpy as np

from shorefast.weather.skyline import Skyline

_STEP = timedelta(minutes=2)


@dataclass(frozen=True)
class SunBehind:
    """One spell of the sun behind high ground while it is above a level horizon.

    Attributes
    ----------
    from_utc, until_utc : datetime
        Aware; until it comes over the ground again, sets, or the time asked ends.
    azimuth_rad : float
        Where it stood as it went. [rad]
    """

    from_utc: datetime
    until_utc: datetime
    azimuth_rad: float


def sun_behind(
    sky: Skyline, lat_deg: float, lon_deg: float, from_utc: datetime, until_utc: datetime
) -> tuple[SunBehind, ...]:
    """The spells of the sun behind a skyline, every two minutes looked at.

    The sun's middle and no bent light; unknown ground hides nothing. What is dark stays
    told by the sun's height alone: behind a ridge it is light until dusk.

    Parameters
    ----------
    sky : Skyline
        Of the place.
    lat_deg, lon_deg : float
    from_utc, until_utc : aware datetimes

    Source
    ------
    ephem-library.
    """
    observer = ephem.Observer()
    observer.lat, observer.lon = math.radians(lat_deg), math.radians(lon_deg)
    observer.pressure = 0.0
    spells: list[SunBehind] = []
    began: tuple[datetime, float] | None = None
    at = from_utc
    while at <= until_utc:
        observer.date = at.astimezone(UTC).replace(tzinfo=None)
        sun = ephem.Sun(observer)
        hidden = 0.0 < float(sun.alt) < _ridge_rad(sky, float(sun.az))
        if hidden and began is None:
            began = (at, float(sun.az))
        if began is not None and not hidden:
            spells.append(SunBehind(began[0], at, began[1]))
            began = None
        at += _STEP
    if began is not None:
        spells.append(SunBehind(began[0], until_utc, began[1]))
    return tuple(spells)


def _ridge_rad(sky: Skyline, azimuth_rad: float) -> float:
    """How high the ground stands there, straight between bearings; 0 where unknown."""
    angle_rad = np.nan_to_num(sky.angle_rad)
    return float(np.interp(azimuth_rad, sky.bearing_rad, angle_rad, period=2.0 * math.pi))
