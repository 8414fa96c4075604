"""Wind at one place from a GRIB file, edition 1 or 2: one run or an ensemble, any grid."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Basis, Finding, Input
from shorefast.errors import Unreadable
from shorefast.readers import grib_fields
from shorefast.readers.forecast_at_place import (
    ForecastAtPlace,
    LeftOut,
    counted,
    missing_parts,
    speed_and_from,
)
from shorefast.readers.grib_fields import Label, Names
from shorefast.readers.grid_point import (
    GridPoint,
    column_bearing_rad,
    nearest_point,
    point_findings,
    true_components,
)
from shorefast.weather import Wind

_Floats = NDArray[np.float64]
_Key = tuple[str, int, np.datetime64]


@dataclass(frozen=True)
class _Grid:
    """The point taken on one grid of the file.

    ``x_bearing_rad`` is the true bearing of u, None where u already points east.
    """

    point: GridPoint
    flat: int
    x_bearing_rad: float | None


@dataclass
class _Taken:
    """What was read so far: the newest run's value for every part, member and time.

    ``land`` holds shares of land by grid, known beforehand; ``masks`` those met here.
    """

    file: str
    at: tuple[float, float]
    land: Mapping[str, _Floats]
    names: Names = field(default_factory=Names)
    values: dict[_Key, tuple[Label, float]] = field(default_factory=dict)
    left_out: Counter[str] = field(default_factory=Counter)
    grids: dict[str, _Grid] = field(default_factory=dict)
    masks: dict[str, _Floats] = field(default_factory=dict)
    first: _Grid | None = None
    edition: int = 0

    def put(self, label: Label, number: float) -> None:
        """Keep a value, unless a newer run has said one for the same hour."""
        place = (label.what, label.member, label.time_utc)
        older = self.values.get(place)
        if older is not None:
            self.left_out["an older run's word on the same hour"] += 1
            if older[0].run_utc > label.run_utc:
                return
        self.values[place] = (label, number)


def _x_bearing_rad(handle: Any, lat: _Floats, lon: _Floats, point: GridPoint) -> float | None:
    """True bearing of u at the point; None where u is said to point east."""
    along_grid = grib_fields.number(handle, "uvRelativeToGrid")
    if not along_grid or grib_fields.word(handle, "gridType") in ("regular_ll", "regular_gg"):
        return None
    row, column = point.index
    if grib_fields.number(handle, "jPointsAreConsecutive"):
        lat, lon, row, column = lat.T, lon.T, column, row
    bearing = column_bearing_rad(lat, lon, (row, column))
    return bearing + math.pi if grib_fields.number(handle, "iScansNegatively") else bearing


def _grid(handle: Any, land: _Floats | None, at: tuple[float, float], file: str) -> _Grid:
    lat, lon = grib_fields.grid_places(handle)
    usable = None
    if land is not None:
        usable = (land < 0.5).reshape(lat.shape)
    elif grib_fields.number(handle, "bitmapPresent"):
        usable = np.isfinite(grib_fields.values(handle)).reshape(lat.shape)
    point = nearest_point(lat, lon, at, usable, file)
    flat = int(np.ravel_multi_index(point.index, lat.shape))
    return _Grid(point, flat, _x_bearing_rad(handle, lat, lon, point))


def _take(path: Path, at: tuple[float, float], land: Mapping[str, _Floats]) -> _Taken:
    """Every wind value the file has for the place."""
    taken = _Taken(path.name, at, land)
    for place, handle in enumerate(grib_fields.messages(path), start=1):
        with grib_fields.whole(path.name, place):
            _take_one(handle, taken)
    return taken


def _take_one(handle: Any, taken: _Taken) -> None:
    label, grid_name = grib_fields.label(handle, taken.names), grib_fields.grid_name(handle)
    if label.what == "land":
        taken.masks[grid_name] = grib_fields.values(handle)
        return
    if not label.what:
        taken.left_out[f"no wind at 10 m: {label.name}"] += 1
        return
    if grid_name not in taken.grids:
        taken.grids[grid_name] = _grid(handle, taken.land.get(grid_name), taken.at, taken.file)
    if taken.first is None or label.what == "east":
        taken.first = taken.grids[grid_name]
    taken.edition = grib_fields.number(handle, "edition")
    taken.put(label, grib_fields.value(handle, taken.grids[grid_name].flat))


def _laid(
    taken: _Taken, members: NDArray[np.int64], times: NDArray[np.datetime64]
) -> dict[str, _Floats]:
    """Every part of the wind as an array (member, time), NaN where no message says it."""
    row = {member: place for place, member in enumerate(members.tolist())}
    column = {time: place for place, time in enumerate(times)}
    parts: dict[str, _Floats] = {}
    for (what, member, time), (_, number) in taken.values.items():
        part = parts.setdefault(what, np.full((len(members), len(times)), np.nan))
        part[row[member], column[time]] = number
    return parts


def _vector(parts: Mapping[str, _Floats], x_bearing_rad: float | None) -> tuple[_Floats, _Floats]:
    unknown = np.full(next(iter(parts.values())).shape, np.nan)
    if "east" in parts and "north" in parts:
        east, north = parts["east"], parts["north"]
        if x_bearing_rad is not None:
            east, north = true_components(east, north, x_bearing_rad)
        return speed_and_from(east, north)
    toward = np.mod(np.radians(parts.get("from", unknown)), 2 * np.pi)
    return parts.get("speed", unknown), toward


def _span_s(taken: _Taken) -> tuple[float, list[str]]:
    spans = {label.span_s for label, _ in taken.values.values() if label.what == "gust"}
    if len(spans) < 2:
        return (spans.pop() if spans else 0.0), []
    hours = ", ".join(f"{span / 3600:g}" for span in sorted(spans))
    return max(spans), [f"gusts over {hours} h in one file; all are taken for the longest"]


def _findings(parts: Mapping[str, _Floats], grid: _Grid, more: Iterable[str], file: str) -> Basis:
    said = [*missing_parts(parts), *point_findings(grid.point), *more]
    if grid.x_bearing_rad is not None and "east" in parts:
        said.append("its wind lies along the grid; turned to true north")
    return Basis(findings=tuple(Finding(file, text) for text in said))


def _wind(taken: _Taken, grid: _Grid, file: str) -> Wind:
    members = np.unique([member for _, member, _ in taken.values]).astype(np.int64)
    times = np.unique(np.array([time for _, _, time in taken.values], dtype="datetime64[s]"))
    parts = _laid(taken, members, times)
    speed, toward = _vector(parts, grid.x_bearing_rad)
    span_s, more = _span_s(taken)
    read = Input("forecast", f"GRIB {taken.edition}, {len(taken.values)} fields", file)
    return Wind(
        member=members,
        time_utc=times,
        wind_mps=speed,
        wind_from_rad=toward,
        gust_mps=parts.get("gust", np.full(speed.shape, np.nan)),
        gust_over_s=span_s,
        height_m=10.0,
        basis=Basis(inputs=(read,)) | _findings(parts, grid, more, file),
    )


def read_forecast_grib(path: Path, lat_deg: float, lon_deg: float) -> ForecastAtPlace:
    """The wind a GRIB file gives at its grid point nearest to a place.

    Fields packed several into a message are all read. Components along a projected
    grid are turned to true north; a land mask, or missing values over land, lead to
    the nearest sea point. Where two runs speak of one hour the newer counts.

    Raises
    ------
    Unreadable
        If a message is broken, or there is no wind at 10 m in it.
    BadInput
        If the place lies outside the grid.
    """
    taken = _take(path, (lat_deg, lon_deg), {})
    if taken.masks:
        # a mask may stand behind the winds: go through again, now knowing where the sea is
        taken = _take(path, (lat_deg, lon_deg), taken.masks)
    if taken.first is None:
        raise Unreadable(
            path.name,
            "no wind in it",
            f"it holds {', '.join(why.rpartition(' ')[2] for why in taken.left_out)}",
            "Fetch wind speed and direction, or its two components, at 10 m.",
        )
    lone = {what for what, _, _ in taken.values} & {"east", "north"}
    if len(lone) == 1:
        alone = sum(what in lone for what, _, _ in taken.values)
        taken.left_out["one component of the wind without the other"] += alone
    wind, point = _wind(taken, taken.first, path.name), taken.first.point
    return ForecastAtPlace(
        wind,
        point.lat_deg,
        point.lon_deg,
        point.distance_m,
        f"GRIB {taken.edition}",
        counted(wind),
        tuple(LeftOut(why, count) for why, count in taken.left_out.items()),
    )
