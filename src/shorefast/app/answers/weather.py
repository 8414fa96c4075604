"""``shorefast weather``: what these forecasts say here, at their own times."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from shorefast.app.answer import Answer
from shorefast.basis import Basis, Input
from shorefast.errors import BadInput
from shorefast.readers import ForecastAtPlace, read_forecast
from shorefast.weather import Wind, joined
from shorefast.wording import UNKNOWN, bearing, knots, position

_Floats = NDArray[np.float64]


def _checked(lat_deg: float, lon_deg: float) -> None:
    for value, most, name in ((lat_deg, 90.0, "latitude"), (lon_deg, 360.0, "longitude")):
        if not abs(value) <= most:
            raise BadInput(
                "Place",
                f"{name} {value:g}",
                f"a {name} lies between -{most:g} and {most:g}",
                "Give latitude first, then longitude.",
            )


def _place(read: Sequence[ForecastAtPlace], lat_deg: float, lon_deg: float) -> dict[str, float]:
    """The grid point of the first file that has one; the place asked for where none has."""
    for one in read:
        if math.isfinite(one.distance_m):
            there = (one.place_lat_deg, one.place_lon_deg, one.distance_m)
            return dict(zip(("lat_deg", "lon_deg", "distance_m"), there, strict=True))
    return {"lat_deg": lat_deg, "lon_deg": lon_deg, "distance_m": math.nan}


def _file(path: Path, one: ForecastAtPlace) -> dict[str, object]:
    left_out = [{"why": left.why, "count": left.count} for left in one.left_out]
    return {"file": path.name, "kind": one.kind, "read": one.read, "left_out": left_out}


def _among(values: _Floats) -> str:
    """A speed among members: the middle one, and from the least to the most."""
    known = values[np.isfinite(values)]
    if not known.size:
        return UNKNOWN
    middle, least, most = knots(float(np.median(known))), known.min(), known.max()
    if known.size == 1:
        return middle
    return f"{middle} ({knots(float(least)).removesuffix(' kn')} to {knots(float(most))})"


def _direction(values: _Floats) -> str:
    """The mean bearing of all members."""
    known = values[np.isfinite(values)]
    if not known.size:
        return UNKNOWN
    return bearing(float(np.arctan2(np.sin(known).mean(), np.cos(known).mean())))


def _table(wind: Wind) -> list[str]:
    rows = [f"{'UTC':16}  {'from':7}  {'wind':22}  gust"]
    for column, time in enumerate(wind.time_utc.astype("datetime64[m]").astype(str)):
        toward = _direction(wind.wind_from_rad[:, column])
        speed, gust = _among(wind.wind_mps[:, column]), _among(wind.gust_mps[:, column])
        rows.append(f"{time.replace('T', ' ')}  {toward:7}  {speed:22}  {gust}")
    return rows


def _text(wind: Wind, read: Sequence[ForecastAtPlace], files: Sequence[Path]) -> str:
    lines = []
    for path, one in zip(files, read, strict=True):
        far = "" if math.isnan(one.distance_m) else f", {one.distance_m / 1000:.1f} km from here"
        at = position(one.place_lat_deg, one.place_lon_deg)
        lines.append(f"{path.name} ({one.kind}): {at}{far}")
    members = len(np.unique(wind.member))
    among = f" of {members} members: the middle (least to most)" if members > 1 else ""
    lines.append(f"Wind at {wind.height_m:g} m above the ground{among}.")
    if len(wind.member) > members:
        lines.append("Several gusts come within an hour; all of them stand together here.")
    if wind.gust_over_s:
        lines.append(f"Gusts are the most of the {wind.gust_over_s / 3600:g} h that end then.")
    lines.extend(["", *_table(wind), ""])
    lines.extend(f"{found.where}: {found.said}" for found in wind.basis.findings)
    return "\n".join(lines).rstrip()


def answer_weather(paths: Sequence[Path], lat_deg: float, lon_deg: float) -> Answer:
    """The wind at the nearest grid point, member by member, nothing interpolated.

    Parameters
    ----------
    paths : sequence of Path
        Forecast files of any kind; what the first does not know the next may.
    lat_deg, lon_deg : float
        Where.

    Returns
    -------
    answer : Answer
        Keys of ``shorefast/weather/1``.

    Raises
    ------
    Unreadable, BadInput
        If a file is not what it should be, or does not cover the place.
    """
    _checked(lat_deg, lon_deg)
    read = [read_forecast(path, lat_deg, lon_deg) for path in paths]
    wind = joined([one.wind for one in read], own_times_only=True)
    asked = Input("place", position(lat_deg, lon_deg), "skipper")
    return Answer(
        command="weather",
        keys={
            "files": [_file(path, one) for path, one in zip(paths, read, strict=True)],
            "place": _place(read, lat_deg, lon_deg),
            "member": wind.member,
            "time_utc": wind.time_utc,
            "wind_mps": wind.wind_mps,
            "wind_from_rad": wind.wind_from_rad,
            "gust_mps": wind.gust_mps,
            "gust_over_s": wind.gust_over_s,
            "height_m": wind.height_m,
        },
        basis=Basis(inputs=(asked,)) | wind.basis,
        text=_text(wind, read, paths),
    )
