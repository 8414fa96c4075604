"""Which variable of a NetCDF file is which part of the wind, and which axis is which."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shorefast.errors import Unreadable
from shorefast.quantities import to_si

_Floats = NDArray[np.float64]

# by what: the standard names that say it, then plain names common without one
QUANTITIES: dict[str, tuple[frozenset[str], tuple[str, ...]]] = {
    "east": (
        frozenset({"eastward_wind", "grid_eastward_wind", "x_wind"}),
        ("x_wind_10m", "u10", "10u", "u10m", "uas", "u_wind_10m", "x_wind", "uwnd"),
    ),
    "north": (
        frozenset({"northward_wind", "grid_northward_wind", "y_wind"}),
        ("y_wind_10m", "v10", "10v", "v10m", "vas", "v_wind_10m", "y_wind", "vwnd"),
    ),
    "speed": (
        frozenset({"wind_speed"}),
        ("wind_speed_10m", "wind_speed", "ws10", "si10", "10si", "sfcwind", "wspd_arith_mean"),
    ),
    "from": (
        frozenset({"wind_from_direction"}),
        (
            "wind_from_direction_10m",
            "wind_direction_10m",
            "wind_direction",
            "wdir10",
            "wdir_vec_mean",
        ),
    ),
    "gust": (
        frozenset({"wind_speed_of_gust"}),
        ("wind_speed_of_gust", "wind_gust_10m", "gust", "fg10", "10fg", "i10fg", "wsgsmax"),
    ),
    "land": (
        frozenset({"land_binary_mask", "land_area_fraction"}),
        ("land_area_fraction", "lsm", "land_sea_mask", "land_mask"),
    ),
    "sea": (frozenset({"sea_binary_mask", "sea_area_fraction"}), ("sea_area_fraction",)),
}
GRID_RELATIVE = frozenset({"x_wind", "grid_eastward_wind"})
_MEMBERS = ("member", "ensemble_member", "ensemble", "realization", "number", "members")
_LATS = ("lat", "latitude", "nav_lat", "xlat")
_LONS = ("lon", "longitude", "nav_lon", "xlong", "xlon")
_SPEED_UNITS = {
    "m/s": "mps", "m s-1": "mps", "m s**-1": "mps", "m.s-1": "mps", "ms-1": "mps",
    "m s^-1": "mps", "meter second-1": "mps", "metre second-1": "mps", "meters/second": "mps",
    "meters per second": "mps", "kn": "kn", "knot": "kn", "knots": "kn", "kt": "kn", "kts": "kn",
    "km/h": "kmh", "km h-1": "kmh",
}  # fmt: skip


@dataclass(frozen=True)
class Axes:
    """Names of a file's dimensions: time, member (or None), then rows and columns of the grid."""

    time: str
    member: str | None
    space: tuple[str, ...]


def said(variable: Any, attribute: str) -> str:
    """A text attribute, empty where there is none."""
    return str(getattr(variable, attribute, "")).strip()


def find(dataset: Any, what: str, time: str | None) -> str | None:
    """Name of the variable for one of QUANTITIES: by standard name, then by name, 10 m first."""
    standard, names = QUANTITIES[what]

    def rank(name: str) -> tuple[bool, bool, int]:
        lower = name.lower()
        return (lower not in names, "10" not in lower, list(dataset.variables).index(name))

    found = [
        name
        for name, variable in dataset.variables.items()
        if (said(variable, "standard_name") in standard or name.lower() in names)
        and (time is None or time in variable.dimensions)
    ]
    return min(found, key=rank) if found else None


def time_axis(dataset: Any, name: str) -> str:
    """The dimension that counts time.

    Raises
    ------
    Unreadable
        If no variable of the file says "... since ...".
    """
    since = [
        key
        for key, variable in dataset.variables.items()
        if " since " in said(variable, "units") and len(variable.dimensions) == 1
    ]
    named = [key for key in since if key in dataset.dimensions and key.lower().startswith("time")]
    chosen = named or [key for key in since if key in dataset.dimensions] or since
    if not chosen:
        raise Unreadable(
            name,
            "no time axis",
            "a variable with units '... since ...' wanted",
            "Fetch it with its times.",
        )
    return str(dataset.variables[chosen[0]].dimensions[0])


def times(dataset: Any, axis: str, name: str) -> NDArray[np.datetime64]:
    """The times along the axis, to the second, UTC.

    Raises
    ------
    Unreadable
        If a time is missing or counted in a calendar of its own.
    """
    import netCDF4

    variable = dataset.variables.get(axis) or next(
        v for v in dataset.variables.values()
        if v.dimensions == (axis,) and " since " in said(v, "units")
    )  # fmt: skip
    counts = np.ma.filled(np.ma.asarray(variable[:], dtype=np.float64), np.nan)
    try:
        moments = netCDF4.num2date(
            counts, variable.units, said(variable, "calendar") or "standard",
            only_use_cftime_datetimes=False, only_use_python_datetimes=True,
        )  # fmt: skip
    except (ValueError, TypeError, OverflowError):
        raise Unreadable(
            name,
            f"times '{variable.units}' cannot be read",
            "",
            "Fetch the file again, or from another source.",
        ) from None
    stamps = np.array(
        [m.replace(tzinfo=None) for m in np.asarray(moments, object).ravel()], "datetime64[ms]"
    )
    rounded: NDArray[np.datetime64] = (stamps + np.timedelta64(500, "ms")).astype("datetime64[s]")
    return rounded


def place_variables(dataset: Any) -> tuple[Any, Any] | None:
    """Latitude and longitude variables, or None."""

    def one(standard: str, names: tuple[str, ...]) -> Any:
        by_standard = [
            v for v in dataset.variables.values() if said(v, "standard_name") == standard
        ]
        by_name = [v for k, v in dataset.variables.items() if k.lower() in names]
        return next(iter(by_standard + by_name), None)

    lat, lon = one("latitude", _LATS), one("longitude", _LONS)
    return None if lat is None or lon is None else (lat, lon)


def member_axis(dataset: Any, dimensions: tuple[str, ...]) -> str | None:
    """The dimension that counts an ensemble's members, or None."""
    for dimension in dimensions:
        variable = dataset.variables.get(dimension)
        if dimension.lower() in _MEMBERS or said(variable, "standard_name") == "realization":
            return dimension
    return None


def in_mps(values: _Floats, variable: Any, name: str) -> _Floats:
    """Speeds in m/s by the variable's own units.

    Raises
    ------
    Unreadable
        If the units are none of those we know.
    """
    units = said(variable, "units")
    if units.lower() not in _SPEED_UNITS:
        raise Unreadable(
            f"{name}, {variable.name}",
            f"units '{units}'",
            "a speed in m/s, knots or km/h wanted",
            "Correct the variable's units.",
        )
    return values * to_si(1.0, "speed", _SPEED_UNITS[units.lower()])
