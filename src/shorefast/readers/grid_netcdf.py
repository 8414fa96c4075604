"""Depth grids in NetCDF: rows and columns of latitude and longitude, or curved grids."""

from __future__ import annotations

from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.errors import BadInput, Unreadable
from shorefast.readers.depths import DepthsRead, Tally, Told, check_places, east_of_greenwich
from shorefast.readers.grid_places import curved, even
from shorefast.readers.grid_values import check_size, meant_levels
from shorefast.readers.netcdf_whole import check_whole
from shorefast.readers.node_grid import NodeGrid, node_spacing_m
from shorefast.readers.soundings_csv import to_earth

Floats = NDArray[np.float64]


class Sought(NamedTuple):
    """Which variable of a file is meant.

    what : one number of it, in words
    ways : which way it may count
    names : where it does not say what it is, the likeliest first
    such_as : names for the message
    not_as : a lone grid named so is none of it unless it says so otherwise
    """

    what: str
    ways: tuple[str, ...]
    names: tuple[str, ...]
    such_as: str
    not_as: str | None = None

    @property
    def wanted(self) -> str:
        """What the file should be, for messages."""
        return f"a NetCDF grid of {self.what}s wanted"


DEPTHS = Sought(
    "depth", ("down", "up"),
    ("depth", "bathymetry", "bathy", "elevation", "topo", "z", "band1", "h", "deptho", "height",
     "altitude", "topography", "bedrock"),
    "depth, bathymetry or elevation",
)  # fmt: skip
HEIGHTS = Sought(
    "height", ("up",),
    ("elevation", "height", "altitude", "topo", "topography", "bedrock", "dem", "hgt", "orog",
     "orography", "z", "band1", "h"),
    "elevation, height or altitude", "bath",
)  # fmt: skip
_DOWN = ("sea_floor_depth", "depth")
_UP = ("altitude", "height", "elevation")
_LAT = ("latitude", "lat", "nav_lat")
_LON = ("longitude", "lon", "nav_lon", "long")


def read_netcdf_grid(path: Path, told: Told) -> DepthsRead:
    """Read one grid of depths.

    Raises
    ------
    Unreadable
        If it is no NetCDF, or holds no grid of depths.
    BadInput
        If the file does not say which way depths count and nobody told.
    """
    numbers, lat, lon, about = open_netcdf(path, told)
    check_size(path.name, *numbers.shape)
    check_places(path.name, lat[np.isfinite(lat)], lon[np.isfinite(lat)])
    tally = Tally()
    level, notes = meant_levels(path.name, numbers, told, about["way"], tally)
    level[~(np.isfinite(lat) & np.isfinite(lon))] = np.nan
    known = np.isfinite(level)
    middle = (slice(level.shape[0] // 2 - 1, None), slice(level.shape[1] // 2 - 1, None))
    inner_lat, inner_lon = lat[middle], lon[middle]
    spacing = node_spacing_m(
        np.array([inner_lat[0, 0], inner_lat[0, 1], inner_lat[1, 0]]),
        np.array([inner_lon[0, 0], inner_lon[0, 1], inner_lon[1, 0]]),
    )
    grid = NodeGrid(level, about["locate"], spacing)
    deviation = np.full(int(known.sum()), np.nan if told.deviation_m is None else told.deviation_m)
    return DepthsRead(
        path.name, about["kind"], lat[known], east_of_greenwich(lon[known]), level[known],
        deviation, tally.rows(), about["crs"], told.datum, grid, notes,
    )  # fmt: skip


def open_netcdf(
    path: Path, told: Told, sought: Sought = DEPTHS
) -> tuple[Floats, Floats, Floats, dict[str, Any]]:
    """The grid's numbers, latitude and longitude of each node, what the file says."""
    import netCDF4

    check_whole(path, sought.wanted)
    try:
        with netCDF4.Dataset(path) as opened:
            found = _variable(path.name, opened, sought)
            called, numbers = str(found.name), _values(found)
            lat, lon, about = _places(path.name, opened, found, told)
    except (OSError, RuntimeError, UnicodeDecodeError) as trouble:
        raise Unreadable(
            path.name,
            "NetCDF cannot read it (damaged or cut short)",
            sought.wanted,
            "Fetch or export it again.",
        ) from trouble
    if lat.shape != numbers.shape:
        raise Unreadable(
            path.name,
            f"'{called}' has another shape than its places",
            f"one {sought.what} a node wanted",
            "Export it again.",
        )
    return numbers, lat, lon, about


def _variable(name: str, opened: Any, sought: Sought) -> Any:
    grids = [one for one in opened.variables.values() if _is_grid(one)]
    by_meaning = [one for one in grids if _way(one, by_name=False) in sought.ways]
    by_name = [one for known in sought.names for one in grids if one.name.lower() == known]
    lone = grids if len(grids) == 1 else []
    if sought.not_as is not None:
        lone = [one for one in lone if sought.not_as not in one.name.lower()]
    for found in (by_meaning, by_name, lone):
        if found:
            return found[0]
    shown = ", ".join(sorted(opened.variables)[:8]) or "nothing"
    raise Unreadable(
        name,
        f"it holds {shown}",
        f"a grid of {sought.what}s wanted",
        f"Name the file that holds one (variable {sought.such_as}).",
    )


def _is_grid(variable: Any) -> bool:
    long = [size for size in variable.shape if size > 1]
    numeric = getattr(variable.dtype, "kind", "") in "fiu"
    coordinate = variable.name.lower() in _LAT + _LON or _says(variable, "units").startswith(
        "degree"
    )
    return len(long) == 2 and numeric and not coordinate


def _says(variable: Any, attribute: str) -> str:
    return str(getattr(variable, attribute, "")).strip().lower()


def _way(variable: Any, *, by_name: bool = True) -> str | None:
    """Which way a variable counts, where the file itself says so."""
    told = _says(variable, "positive")
    if told in ("down", "up"):
        return told
    meant = _says(variable, "standard_name") or (variable.name.lower() if by_name else "")
    if any(word in meant for word in _DOWN):
        return "down"
    return "up" if any(word in meant for word in _UP) else None


def _values(variable: Any) -> Floats:
    values = np.ma.filled(np.ma.masked_invalid(variable[:].astype(np.float64)), np.nan)
    return np.asarray(np.squeeze(values))


def _coordinate(opened: Any, names: tuple[str, ...], unit: str) -> Any | None:
    for one in opened.variables.values():
        if _says(one, "standard_name") == names[0] or _says(one, "units") == unit:
            return one
    return next((one for one in opened.variables.values() if one.name.lower() in names), None)


def _places(
    name: str, opened: Any, found: Any, told: Told
) -> tuple[Floats, Floats, dict[str, Any]]:
    lat = _coordinate(opened, _LAT, "degrees_north")
    lon = _coordinate(opened, _LON, "degrees_east")
    about: dict[str, Any] = {"way": _way(found), "crs": "EPSG:4326", "kind": "NetCDF grid"}
    about["unit"] = _says(found, "units")
    if lat is None or lon is None:
        return _plane_places(name, opened, found, told, about)
    rows, columns = _values(lat), _values(lon)
    if rows.ndim == 2 and rows.shape == columns.shape:
        about["kind"] = "NetCDF grid, curved"
        about["locate"] = curved(rows, columns)
        return rows, columns, about
    about["locate"] = even(rows, columns)
    across, up = np.meshgrid(columns, rows)
    return up, across, about


def _plane_places(
    name: str, opened: Any, found: Any, told: Told, about: dict[str, Any]
) -> tuple[Floats, Floats, dict[str, Any]]:
    """Places of a grid in metres: rows of y and columns of x in named coordinates."""
    axes = [one for one in found.dimensions if opened.dimensions[one].size > 1]
    crs = told.crs or _mapping(opened, found)
    if crs is None or any(axis not in opened.variables for axis in axes):
        raise BadInput(
            name,
            "no latitude and longitude in it",
            "nor does it say in which coordinates it is",
            'Say so (--crs, or crs = "EPSG:..." in bay.toml).',
        )
    y, x = (_values(opened.variables[axis]) for axis in axes)
    across, up = np.meshgrid(x, y)
    lat, lon = to_earth(name, across, up, crs)
    about["crs"], about["locate"] = crs, curved(lat, lon)
    return lat, lon, about


def _mapping(opened: Any, found: Any) -> str | None:
    from pyproj import CRS
    from pyproj.exceptions import CRSError

    mapping = opened.variables.get(str(getattr(found, "grid_mapping", "")))
    if mapping is None:
        return None
    says = {key: mapping.getncattr(key) for key in mapping.ncattrs()}
    try:
        return str(CRS.from_cf(says).to_wkt())
    except (CRSError, KeyError, ValueError):
        return None
