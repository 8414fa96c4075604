"""Where a place lies in a NetCDF file's grid, and where that grid has sea."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shorefast.errors import Unreadable
from shorefast.readers.grid_point import GridPoint, column_bearing_rad, distance_m, nearest_point
from shorefast.readers.netcdf_wind import Axes, find, place_variables

_Floats = NDArray[np.float64]


@dataclass(frozen=True)
class PlaceInGrid:
    """The point taken, and how the grid lies there.

    Attributes
    ----------
    at : mapping
        The point's entry along each of the grid's dimensions; empty for one place.
    x_bearing_rad : float
        True bearing in which x counts up.
    skewed : bool
        Whether the grid has its own latitude for every point, so that its rows
        need not run east.
    """

    point: GridPoint
    at: Mapping[str, int]
    x_bearing_rad: float
    skewed: bool


def values_of(variable: Any, taken: Any = slice(None)) -> _Floats:
    """Numbers with NaN for whatever the file masks or marks as missing."""
    # a damaged number may be a NaN of the sort that numpy warns of: it is unknown like any other
    with np.errstate(invalid="ignore"):
        read = np.ma.masked_invalid(np.ma.asarray(variable[taken], dtype=np.float64))
    return np.asarray(np.ma.filled(read, np.nan), dtype=np.float64)


def grid_of(lat: Any, lon: Any) -> tuple[_Floats, _Floats, tuple[str, ...]]:
    """Latitudes and longitudes of one shape, and the dimensions that shape runs along."""
    if lat.ndim == lon.ndim == 1 and lat.dimensions != lon.dimensions:
        lats, lons = np.meshgrid(values_of(lat), values_of(lon), indexing="ij")
        return lats, lons, (lat.dimensions[0], lon.dimensions[0])
    extra = lat.ndim - 2 if lat.ndim > 2 else 0
    return (
        values_of(lat)[(0,) * extra],
        values_of(lon)[(0,) * extra],
        tuple(lat.dimensions[extra:]),
    )


def _layer(dataset: Any, name: str, axes: Axes) -> _Floats:
    """One map of a variable: the first of everything but the grid's own dimensions."""
    variable = dataset.variables[name]
    taken = tuple(slice(None) if d in axes.space else 0 for d in variable.dimensions)
    kept = [d for d in variable.dimensions if d in axes.space]
    return np.transpose(values_of(variable, taken), [kept.index(d) for d in axes.space])


def _usable(dataset: Any, axes: Axes, wind_name: str) -> NDArray[np.bool_]:
    """Where the sea is, if the file tells; else where the wind has a value."""
    has_value = np.isfinite(_layer(dataset, wind_name, axes))
    for what, sea_when_below in (("land", True), ("sea", False)):
        mask = find(dataset, what, None)
        if mask and set(axes.space) <= set(dataset.variables[mask].dimensions):
            share = _layer(dataset, mask, axes)
            return has_value & ((share < 0.5) if sea_when_below else (share >= 0.5))
    return has_value


def _x_counts_down(dataset: Any, axes: Axes) -> bool:
    variable = dataset.variables.get(axes.space[-1])
    if variable is None or variable.ndim != 1 or len(variable) < 2:
        return False
    return bool(variable[1] < variable[0])


def find_place(
    dataset: Any, axes: Axes, names: dict[str, str], at: tuple[float, float]
) -> PlaceInGrid:
    """The grid point nearest to ``at``, on the sea where the file tells it from land.

    Raises
    ------
    Unreadable
        If the file has no latitudes and longitudes.
    BadInput
        If the place lies outside the grid.
    """
    variables = place_variables(dataset)
    path = Path(dataset.filepath()).name
    if variables is None:
        raise Unreadable(
            path, "no latitude and longitude", "", "Fetch it with its coordinates, as CF has them."
        )
    lat, lon, space = grid_of(*variables)
    first = names.get("east") or next(iter(names.values()))
    if not set(space) <= set(dataset.variables[first].dimensions) or lat.ndim == 0:
        return PlaceInGrid(_lone_point(lat, lon, at), {}, math.pi / 2, skewed=False)
    point = nearest_point(lat, lon, at, _usable(dataset, axes, first), path)
    bearing = math.pi / 2
    if lat.ndim == 2:
        row, column = point.index
        bearing = column_bearing_rad(lat, lon, (row, column))
        bearing += math.pi if _x_counts_down(dataset, axes) else 0.0
    return PlaceInGrid(
        point, dict(zip(space, point.index, strict=True)), bearing, skewed=variables[0].ndim > 1
    )


def _lone_point(lat: _Floats, lon: _Floats, at: tuple[float, float]) -> GridPoint:
    """Where a record of one place was taken; a moving or unsaid one has no distance."""
    lat_deg, lon_deg = np.unique(lat), np.unique(lon)
    there = (float(lat_deg[0]), float(lon_deg[0]))
    if len(lat_deg) != 1 or len(lon_deg) != 1 or abs(there[0]) > 90 or abs(there[1]) > 360:
        return GridPoint((), *at, math.nan, 0)
    return GridPoint((), *there, distance_m(*at, *there), 0)
