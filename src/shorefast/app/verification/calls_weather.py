"""Published checks of gusts, the wind's profile, the tide and the sun."""

from __future__ import annotations

import csv
from datetime import UTC, datetime, timedelta
from functools import cache, partial
from importlib.resources import files

import numpy as np

from shorefast.app.verification.calls import Call
from shorefast.basis import Basis
from shorefast.errors import OutsideModel
from shorefast.quantities import from_si, to_si
from shorefast.weather import (
    TideConstituent,
    WaterLevel,
    averaging_ratio,
    constituent,
    esdu_gust_factor,
    gust_factor,
    gust_over_mps,
    high_and_low,
    level_at,
    open_sea_wind_mps,
    sun_events,
    tide_from_constants,
)

_MONTEREY_MEAN_FT = 2.8281
_EPOCH = np.datetime64("2016-01-01T00:00:00", "s")
_MIDDLE_OF_YEAR = np.datetime64("2016-07-02T00:00:00", "s")


def greatest_mean_ratio(averaging_s: float) -> float:
    """Greatest mean in an hour over the hour's mean, over open land."""
    return float(averaging_ratio(averaging_s))


def storm_wind_mps(hourly_mps: float, height_m: float, averaging_s: float) -> float:
    """Wind at sea in a storm."""
    return float(open_sea_wind_mps(hourly_mps, height_m, averaging_s))


def gust_brought(factor: float, from_s: float, to_s: float) -> float:
    """A gust factor over an hour brought to another averaging time."""
    return float(gust_over_mps(factor, 1.0, (from_s, to_s)))


def tide_argument_deg(name: str) -> float:
    """V0 + u of a constituent on the first of January 2016, 00 UT."""
    part = constituent(name, 1.0, 0.0, _EPOCH, _MIDDLE_OF_YEAR)
    return from_si(part.argument_rad, "angle", "deg")


def tide_node_factor(name: str) -> float:
    """Node factor f of a constituent in 2016."""
    return constituent(name, 1.0, 0.0, _EPOCH, _MIDDLE_OF_YEAR).node_factor


def _monterey_constituent(row: dict[str, str]) -> TideConstituent:
    hour_s = to_si(1.0, "time", "h")
    return TideConstituent(
        name=row["constituent"],
        amplitude_m=to_si(float(row["amplitude_ft"]), "length", "ft"),
        phase_lag_rad=to_si(float(row["kappa_deg_greenwich"]), "angle", "deg"),
        speed_radps=to_si(float(row["speed_deg_h"]), "angle", "deg") / hour_s,
        node_factor=float(row["node_factor_2016"]),
        argument_rad=to_si(float(row["V0u_deg_2016"]), "angle", "deg"),
    )


def _monterey_anew(row: dict[str, str]) -> TideConstituent:
    """Amplitude and lag as printed; speed, node factor and argument worked out."""
    printed = _monterey_constituent(row)
    constants = (printed.amplitude_m, printed.phase_lag_rad)
    return constituent(printed.name, *constants, _EPOCH, _MIDDLE_OF_YEAR)


@cache
def _monterey_turns(date: str, utc_offset_h: float, anew: bool) -> WaterLevel:
    """High and low waters of one local day."""
    text = (files("shorefast") / "cases" / "tide_monterey.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(row for row in text.splitlines() if not row.startswith("#"))
    minutes = np.arange(-6, 24 * 60 + 12, 6).astype("timedelta64[m]")
    times = _local_midnight(date, utc_offset_h) + minutes.astype("timedelta64[s]")
    mean_m = to_si(_MONTEREY_MEAN_FT, "length", "ft")
    one = _monterey_anew if anew else _monterey_constituent
    return high_and_low(tide_from_constants([one(row) for row in rows], mean_m, _EPOCH, times))


def _local_midnight(date: str, utc_offset_h: float) -> np.datetime64:
    offset_s = np.timedelta64(round(to_si(utc_offset_h, "time", "h")), "s")
    return np.datetime64(f"{date}T00:00:00", "s") - offset_s


def monterey_time_s(date: str, utc_offset_h: float, turn: int, anew: bool = False) -> float:
    """When the day's n-th high or low water is, after local midnight."""
    at = _monterey_turns(date, utc_offset_h, anew).time_utc[turn - 1]
    return float((at - _local_midnight(date, utc_offset_h)) / np.timedelta64(1, "s"))


def monterey_height_m(date: str, utc_offset_h: float, turn: int, anew: bool = False) -> float:
    """How high the day's n-th high or low water stands."""
    return float(_monterey_turns(date, utc_offset_h, anew).height_m[turn - 1])


def between_waters_m(low_m: float, high_m: float, rise_h: float, after_low_h: float) -> float:
    """Height of the tide so long after low water."""
    hours = np.array([0.0, rise_h, after_low_h])
    times = _EPOCH + (to_si(1.0, "time", "h") * hours).round().astype("timedelta64[s]")
    water = WaterLevel(times[:2], np.array([low_m, high_m]), turning=True, basis=Basis())
    return float(level_at(water, times[2:])[0])


def sun_event_s(what: str, lat_deg: float, lon_deg: float, date: str, utc_offset_h: float) -> float:
    """When the sun's event is, after local midnight."""
    kind = "sun" if what.startswith("sun") else what.split()[0]
    midnight = datetime.fromisoformat(date).replace(tzinfo=UTC) - timedelta(hours=utc_offset_h)
    events = sun_events(lat_deg, lon_deg, midnight, midnight + timedelta(days=1), (kind,))
    for event in events:
        if event.what == what:
            return (event.at_utc - midnight).total_seconds()
    raise OutsideModel("Sun", f"no {what} on {date}", "there", "Take another day or place.")


WEATHER_CALLS = {
    "gust factor": Call(gust_factor),
    "gust factor by form": Call(esdu_gust_factor),
    "gust brought over": Call(gust_brought),
    "greatest mean in an hour": Call(greatest_mean_ratio),
    "storm wind": Call(storm_wind_mps, "speed"),
    "tide argument": Call(tide_argument_deg),
    "tide node factor": Call(tide_node_factor),
    "tide at Monterey, time": Call(monterey_time_s, "time"),
    "tide at Monterey, height": Call(monterey_height_m, "length"),
    "tide worked out at Monterey, time": Call(partial(monterey_time_s, anew=True), "time"),
    "tide worked out at Monterey, height": Call(partial(monterey_height_m, anew=True), "length"),
    "tide between low and high": Call(between_waters_m, "length"),
    "sun": Call(sun_event_s, "time"),
}
