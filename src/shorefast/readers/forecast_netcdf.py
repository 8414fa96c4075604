"""Wind at one place from a CF NetCDF file: one run or an ensemble, any grid."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Basis, Finding, Input
from shorefast.errors import Unreadable
from shorefast.readers.forecast_at_place import (
    ForecastAtPlace,
    counted,
    missing_parts,
    speed_and_from,
)
from shorefast.readers.grid_point import point_findings, true_components
from shorefast.readers.netcdf_grid import PlaceInGrid, find_place, grid_of, values_of
from shorefast.readers.netcdf_whole import check_whole
from shorefast.readers.netcdf_wind import (
    GRID_RELATIVE,
    Axes,
    find,
    in_mps,
    member_axis,
    place_variables,
    said,
    time_axis,
    times,
)
from shorefast.weather import Wind

_Floats = NDArray[np.float64]
_PARTS = ("east", "north", "speed", "from", "gust")


@dataclass(frozen=True)
class _Source:
    """An open file, which of its variables are the wind's parts, and where we are in it."""

    dataset: Any
    file: str
    axes: Axes
    names: dict[str, str]
    place: PlaceInGrid

    @property
    def along_grid(self) -> bool:
        """Whether the components lie along the grid, not along east and north."""
        if "east" not in self.names or "north" not in self.names:
            return False
        standard = said(self.dataset.variables[self.names["east"]], "standard_name")
        named = self.names["east"].lower().startswith("x_wind")
        return standard in GRID_RELATIVE or (not standard and (named or self.place.skewed))


def _level(source: _Source, dimension: str) -> int:
    """Which entry of an extra dimension is meant: the only one, or 10 m.

    Raises
    ------
    Unreadable
        If there are several and none is at 10 m.
    """
    if len(source.dataset.dimensions[dimension]) == 1:
        return 0
    heights = source.dataset.variables.get(dimension)
    if heights is not None and heights.ndim == 1:
        at_ten = np.flatnonzero(np.isclose(values_of(heights), 10.0))
        if len(at_ten):
            return int(at_ten[0])
    raise Unreadable(
        source.file,
        f"several entries along {dimension}, none at 10 m",
        "",
        "Fetch the wind at 10 m above the ground.",
    )


def _series(source: _Source, name: str) -> _Floats:
    """A variable at the place, shape (member, time)."""
    variable, axes, at = source.dataset.variables[name], source.axes, source.place.at
    kept = [d for d in (axes.member, axes.time) if d in variable.dimensions]
    taken = tuple(
        slice(None) if d in kept else at[d] if d in at else _level(source, d)
        for d in variable.dimensions
    )
    order = [d for d in variable.dimensions if d in kept]
    read = np.transpose(values_of(variable, taken), [order.index(d) for d in kept])
    return read if read.ndim == 2 else read[np.newaxis, :]


def _members(dataset: Any, axes: Axes) -> NDArray[np.int64]:
    if axes.member is None:
        return np.zeros(1, dtype=np.int64)
    variable = dataset.variables.get(axes.member)
    count = len(dataset.dimensions[axes.member])
    if variable is None or variable.ndim != 1 or variable.dtype.kind not in "iuf":
        return np.arange(count, dtype=np.int64)
    return np.asarray(values_of(variable), dtype=np.int64)


def _height_m(dataset: Any, name: str) -> float | None:
    """Height the variable is said to hold for, None where it does not say."""
    variable = dataset.variables[name]
    near = [*said(variable, "coordinates").split(), *variable.dimensions]
    for key in near:
        level = dataset.variables.get(key)
        if level is not None and said(level, "standard_name") == "height" and level.size == 1:
            return float(np.ravel(values_of(level))[0])
    return 10.0 if "10" in name else None


def _gust_span_s(dataset: Any, name: str, axes: Axes) -> float:
    """0 for an instant; else the span between the file's times, over which it is the most."""
    variable = dataset.variables[name]
    methods = said(variable, "cell_methods")
    most = f"{axes.time}: max" in methods or name.lower() in ("fg10", "10fg")
    stamps = times(dataset, axes.time, name)
    if not most or len(stamps) < 2:
        return 0.0
    return float(np.diff(stamps).max().astype(np.int64))


def _findings(source: _Source, height_m: float | None) -> tuple[Finding, ...]:
    texts = [*missing_parts(source.names), *point_findings(source.place.point)]
    if source.along_grid:
        texts.append("its wind lies along the grid; turned to true north")
    if height_m is None:
        texts.append("it does not say at what height the wind holds; 10 m taken")
    return tuple(Finding(source.file, text) for text in texts)


def _in_si(source: _Source, what: str) -> _Floats:
    """One part of the wind, (member, time), in m/s or rad; what cannot be is unknown."""
    name = source.names[what]
    values = _series(source, name)
    if what == "from":
        bearing = np.where((values < 0) | (values > 360), np.nan, values)
        return np.mod(np.radians(bearing), 2 * np.pi)
    speeds = in_mps(values, source.dataset.variables[name], source.file)
    return speeds if what in ("east", "north") else np.where(speeds < 0, np.nan, speeds)


def _vector(source: _Source, parts: dict[str, _Floats]) -> tuple[_Floats, _Floats]:
    """Speed and direction from whichever pair the file holds. [m/s, rad]"""
    if "east" in parts and "north" in parts:
        east, north = parts["east"], parts["north"]
        if source.along_grid:
            east, north = true_components(east, north, source.place.x_bearing_rad)
        return speed_and_from(east, north)
    unknown = np.full(next(iter(parts.values())).shape, np.nan)
    return parts.get("speed", unknown), parts.get("from", unknown)


def _forecast(source: _Source) -> ForecastAtPlace:
    parts = {what: _in_si(source, what) for what in source.names}
    speed, toward = _vector(source, parts)
    told = _height_m(source.dataset, next(iter(source.names.values())))
    read = Input("forecast", "CF NetCDF", source.file)
    gust_over_s = 0.0
    if "gust" in source.names:
        gust_over_s = _gust_span_s(source.dataset, source.names["gust"], source.axes)
    wind = Wind(
        member=_members(source.dataset, source.axes),
        time_utc=times(source.dataset, source.axes.time, source.file),
        wind_mps=speed,
        wind_from_rad=toward,
        gust_mps=parts.get("gust", np.full(speed.shape, np.nan)),
        gust_over_s=gust_over_s,
        height_m=10.0 if told is None else told,
        basis=Basis(inputs=(read,), findings=_findings(source, told)),
    )
    point = source.place.point
    return ForecastAtPlace(
        wind, point.lat_deg, point.lon_deg, point.distance_m, "CF NetCDF", counted(wind)
    )


def _source(dataset: Any, at: tuple[float, float], file: str) -> _Source:
    time = time_axis(dataset, file)
    names = {what: name for what in _PARTS if (name := find(dataset, what, time))}
    if not names:
        raise Unreadable(
            file,
            "no wind in it",
            f"it holds {', '.join(dataset.variables)}",
            "Fetch wind speed and direction, or its two components, at 10 m.",
        )
    some = dataset.variables[next(iter(names.values()))]
    places = place_variables(dataset)
    space = () if places is None else grid_of(*places)[2]
    axes = Axes(time, member_axis(dataset, some.dimensions), space)
    return _Source(dataset, file, axes, names, find_place(dataset, axes, names, at))


def read_forecast_netcdf(path: Path, lat_deg: float, lon_deg: float) -> ForecastAtPlace:
    """The wind a CF NetCDF file gives at its grid point nearest to a place.

    Components along a projected grid are turned to true north; a land mask, or
    missing values over land, lead to the nearest sea point. A record of one place
    is taken as it is.

    Raises
    ------
    Unreadable
        If it is no NetCDF, is cut short, or has no wind, place or time in it.
    BadInput
        If the place lies outside the grid.
    """
    import netCDF4

    check_whole(path, "a NetCDF forecast wanted")
    try:
        with netCDF4.Dataset(path) as dataset:
            return _forecast(_source(dataset, (lat_deg, lon_deg), path.name))
    except (OSError, RuntimeError, UnicodeDecodeError):
        raise Unreadable(
            path.name, "not a whole NetCDF file", "", "Fetch the file again."
        ) from None
