"""Wind at one place from a point forecast: a GeoJSON feature with a series of hours."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Basis, Finding, Input
from shorefast.errors import BadInput, Unreadable
from shorefast.quantities import to_si
from shorefast.readers.forecast_at_place import (
    MOST_MPS,
    ForecastAtPlace,
    LeftOut,
    counted,
    missing_parts,
)
from shorefast.readers.grid_point import distance_m, place_text
from shorefast.weather import Wind

KIND = "point forecast JSON"
_FAR_M = 50_000.0
_PARTS = {"speed": "wind_speed", "from": "wind_from_direction", "gust": "wind_speed_of_gust"}
_UNITS = {"m/s": ("speed", "mps"), "kn": ("speed", "kn"), "km/h": ("speed", "kmh")}
_Floats = NDArray[np.float64]


@dataclass(frozen=True)
class _Hours:
    """The series as it stands in the file: time, and the details at that instant."""

    time_utc: tuple[datetime, ...]
    details: tuple[Mapping[str, Any], ...]
    left_out: int


def _load(path: Path) -> Any:
    try:
        return json.loads(path.read_text(encoding="utf-8-sig"))
    except (ValueError, UnicodeDecodeError) as trouble:
        said = getattr(trouble, "msg", "not text")
        line = f", line {trouble.lineno}" if isinstance(trouble, json.JSONDecodeError) else ""
        raise Unreadable(
            f"{path.name}{line}", f"not whole JSON ({said})", "", "Fetch the file again."
        ) from None


def _feature(data: Any, file: str) -> Mapping[str, Any]:
    """The feature with the series, taken out of whatever it was wrapped in."""
    while isinstance(data, Mapping) and "properties" not in data and "data" in data:
        data = data["data"]
    series = data.get("properties") if isinstance(data, Mapping) else None
    if not isinstance(series, Mapping) or not isinstance(series.get("timeseries"), list):
        raise Unreadable(
            file,
            "no series of hours in it",
            "a feature with properties.timeseries wanted",
            "Fetch a point forecast, or give the wind as CSV.",
        )
    return {"geometry": data.get("geometry"), **series}


def _place(feature: Mapping[str, Any], file: str) -> tuple[float, float]:
    geometry = feature["geometry"]
    numbers = geometry.get("coordinates") if isinstance(geometry, Mapping) else None
    if isinstance(numbers, list) and len(numbers) >= 2:
        lon_deg, lat_deg = numbers[:2]
        if isinstance(lon_deg, int | float) and isinstance(lat_deg, int | float):
            return float(lat_deg), float(lon_deg)
    raise Unreadable(
        file, "it names no place", "a point with longitude and latitude wanted", "Fetch it again."
    )


def _hours(series: Sequence[Any]) -> _Hours:
    times, details = [], []
    for hour in series:
        try:
            time = datetime.fromisoformat(hour["time"])
            told = hour["data"]["instant"]["details"]
        except (KeyError, TypeError, ValueError):
            continue
        if isinstance(told, Mapping):
            times.append(time if time.tzinfo else time.replace(tzinfo=UTC))
            details.append(told)
    return _Hours(tuple(times), tuple(details), len(series) - len(times))


def _rising(hours: _Hours, file: str) -> NDArray[np.datetime64]:
    plain = [time.astimezone(UTC).replace(tzinfo=None) for time in hours.time_utc]
    times = np.array(plain, dtype="datetime64[s]")
    if not len(times):
        raise Unreadable(file, "no hour in it that can be read", "", "Fetch the file again.")
    if np.any(np.diff(times) <= np.timedelta64(0, "s")):
        at = int(np.argmax(np.diff(times) <= np.timedelta64(0, "s"))) + 1
        raise BadInput(
            file, f"{times[at]}Z follows {times[at - 1]}Z", "times rise", "Fetch the file again."
        )
    return times


def _part(hours: _Hours, name: str) -> _Floats:
    """One quantity, (member, time), as it stands; what is no number is unknown."""
    told = [details.get(name) for details in hours.details]
    numbers = [
        float(v) if isinstance(v, int | float) and not isinstance(v, bool) else math.nan
        for v in told
    ]
    return np.array([numbers], dtype=np.float64)


def _checked(values: _Floats, name: str, most: float, file: str) -> _Floats:
    wrong = (values < 0) | (values > most)
    if wrong.any():
        raise BadInput(
            f"{file}, {name}",
            f"{values[wrong][0]:g}",
            f"0 to {most:g} wanted",
            "Fetch the file again; this value cannot be so.",
        )
    return values


def _speed_mps(hours: _Hours, name: str, units: Mapping[str, Any], file: str) -> _Floats:
    unit = units.get(name, "m/s")
    if unit not in _UNITS:
        raise Unreadable(
            f"{file}, {name}", f"units '{unit}'", "m/s, kn or km/h wanted", "Fetch it in m/s."
        )
    return _checked(_part(hours, name), name, MOST_MPS, file) * to_si(1.0, *_UNITS[unit])


def _steps(times: NDArray[np.datetime64]) -> list[str]:
    """What is said of a tail where the hours grow long."""
    hours = np.diff(times).astype(np.int64) / 3600.0
    if not len(hours) or hours.max() <= hours[0]:
        return []
    first = int(np.argmax(hours > hours[0]))
    return [f"every {hours[0]:g} h up to {times[first]}Z, then up to {hours.max():g} h apart"]


def _parts(feature: Mapping[str, Any], hours: _Hours, file: str) -> dict[str, _Floats]:
    meta = feature.get("meta")
    units = meta.get("units", {}) if isinstance(meta, Mapping) else {}
    held = {part for part, name in _PARTS.items() if any(name in d for d in hours.details)}
    parts: dict[str, _Floats] = {
        part: _speed_mps(hours, _PARTS[part], units, file)
        for part in ("speed", "gust")
        if part in held
    }
    if "from" in held:
        degrees = _checked(_part(hours, _PARTS["from"]), _PARTS["from"], 360.0, file)
        parts["from"] = np.mod(np.radians(degrees), 2 * np.pi)
    if "speed" not in parts and "gust" not in parts:
        raise Unreadable(
            file,
            "no wind in it",
            "wind_speed and wind_from_direction wanted",
            "Fetch the forecast with its wind.",
        )
    return parts


def _near(place: tuple[float, float], at: tuple[float, float], file: str) -> float:
    far_m = distance_m(*at, *place)
    if far_m > _FAR_M:
        raise BadInput(
            file,
            f"it is for {place_text(*place)}",
            f"{far_m / 1000:.0f} km from {place_text(*at)}",
            "Get a forecast for the place.",
        )
    return far_m


def read_forecast_json(path: Path, lat_deg: float, lon_deg: float) -> ForecastAtPlace:
    """The wind of a point forecast: ``properties.timeseries[].data.instant.details``.

    A wrapping with the answer's status and headers is taken off. Hours are the
    file's own, growing apart towards the end. No gust in it: gusts are unknown.

    Raises
    ------
    Unreadable
        If it is no JSON or not of that form.
    BadInput
        If it is for a place more than 50 km away (our choice), or a value cannot be so.
    """
    feature = _feature(_load(path), path.name)
    place = _place(feature, path.name)
    far_m = _near(place, (lat_deg, lon_deg), path.name)
    hours = _hours(feature["timeseries"])
    times = _rising(hours, path.name)
    parts = _parts(feature, hours, path.name)
    unknown = np.full((1, len(times)), np.nan)
    said = [*missing_parts(parts), *_steps(times)]
    wind = Wind(
        member=np.zeros(1, dtype=np.int64),
        time_utc=times,
        wind_mps=parts.get("speed", unknown),
        wind_from_rad=parts.get("from", unknown),
        gust_mps=parts.get("gust", unknown),
        gust_over_s=0.0,
        height_m=10.0,
        basis=Basis(
            inputs=(Input("forecast", f"{KIND}, {len(times)} hours", path.name),),
            findings=tuple(Finding(path.name, text) for text in said),
        ),
    )
    left = (LeftOut("hour without time or details", hours.left_out),) if hours.left_out else ()
    return ForecastAtPlace(wind, *place, far_m, KIND, counted(wind), left)
