"""The grid point nearest to a place, and how the grid lies to true north there."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.errors import BadInput

_Floats = NDArray[np.float64]
_EARTH_M = 6_371_000.0
# our choice: a coast changes its wind within this way
_FAR_M = 25_000.0


@dataclass(frozen=True)
class GridPoint:
    """One point of a grid.

    Attributes
    ----------
    index : tuple of int
        Its place in the arrays of latitude and longitude.
    distance_m : float
        From the place asked for, on WGS 84.
    passed_over : int
        Points nearer than this one that lie on land or carry no value.
    """

    index: tuple[int, ...]
    lat_deg: float
    lon_deg: float
    distance_m: float
    passed_over: int


def _from_greenwich(lon_deg: float) -> float:
    """A longitude between -180 and 180, untouched where it lies there already."""
    return lon_deg if -180.0 <= lon_deg <= 180.0 else (lon_deg + 180.0) % 360.0 - 180.0


def place_text(lat_deg: float, lon_deg: float) -> str:
    """``60.50 N 5.00 E``."""
    lon_deg = _from_greenwich(lon_deg)
    north, east = "N" if lat_deg >= 0 else "S", "E" if lon_deg >= 0 else "W"
    return f"{abs(lat_deg):.2f} {north} {abs(lon_deg):.2f} {east}"


def point_findings(point: GridPoint) -> list[str]:
    """What must be said of the point taken: nearer ones passed over, or far from the place."""
    said = []
    at = place_text(point.lat_deg, point.lon_deg)
    if point.passed_over:
        said.append(
            f"{point.passed_over} nearer points lie on land or carry no value; "
            f"the sea point at {at} is taken"
        )
    if math.isnan(point.distance_m):
        said.append("the record names no one place; it is taken as told for here")
    if point.distance_m > _FAR_M:
        said.append(
            f"the point taken, {at}, is {point.distance_m / 1000:.0f} km away: "
            f"too far to know the wind of a bay"
        )
    return said


def distance_m(lat_deg: float, lon_deg: float, to_lat_deg: float, to_lon_deg: float) -> float:
    """Shortest way between two places on the WGS 84 ellipsoid. [m]"""
    from pyproj import Geod

    return float(Geod(ellps="WGS84").inv(lon_deg, lat_deg, to_lon_deg, to_lat_deg)[2])


def _far_m(lat: _Floats, lon: _Floats, at_lat_deg: float, at_lon_deg: float) -> _Floats:
    """Great circle distances on a sphere: good enough to tell which is nearest."""
    lat_rad, at_rad = np.radians(lat), np.radians(at_lat_deg)
    half = np.sin((lat_rad - at_rad) / 2.0) ** 2
    half = half + np.cos(lat_rad) * np.cos(at_rad) * np.sin(np.radians(lon - at_lon_deg) / 2) ** 2
    far: _Floats = 2.0 * _EARTH_M * np.arcsin(np.sqrt(np.minimum(half, 1.0)))
    return far


def _cell_m(lat: _Floats, lon: _Floats, index: tuple[int, ...], far_m: _Floats) -> float:
    """Longest way to a diagonal neighbour; for points without rows, to the ninth nearest."""
    if lat.ndim == 1:
        at = float(lat[index]), float(lon[index])
        near = np.sort(_far_m(lat, lon, *at))[: min(9, lat.size)]
        return 2.0 * float(near[-1])
    row, column = index
    rows = [r for r in (row - 1, row + 1) if 0 <= r < lat.shape[0]] or [row]
    columns = [c for c in (column - 1, column + 1) if 0 <= c < lat.shape[1]] or [column]
    if lat.size == 1:
        # a file cut down to its one point says nothing of its cells
        return 4.0 * _FAR_M
    corner = np.ix_(rows, columns)
    return float(_far_m(lat[corner], lon[corner], float(lat[index]), float(lon[index])).max())


def _covers(lat: _Floats, lon: _Floats) -> str:
    east = (lon + 180.0) % 360.0 - 180.0
    low, high = place_text(lat.min(), east.min()), place_text(lat.max(), east.max())
    return f"it covers {low} to {high}"


def nearest_point(
    lat: _Floats, lon: _Floats, at: tuple[float, float], usable: NDArray[np.bool_] | None, name: str
) -> GridPoint:
    """The nearest usable point of a grid.

    Parameters
    ----------
    lat, lon : arrays of one shape, (row, column) or (point,)
        Degrees; longitudes from -180 or from 0, both are taken.
    at : (lat_deg, lon_deg)
    usable : bool array of that shape, or None
        False on land where the file tells land from sea. None: all are.
    name : str
        The file, for the message.

    Raises
    ------
    BadInput
        If the place lies more than half a cell outside the grid.
    """
    far = _far_m(lat, lon, *at)
    nearest = tuple(int(i) for i in np.unravel_index(np.argmin(far), far.shape))
    # half a diagonal reaches every place inside a cell, and so half a cell beyond the rim
    if far[nearest] > 0.55 * _cell_m(lat, lon, nearest, far) + 1.0:
        raise BadInput(
            name,
            f"no grid point at {place_text(*at)}",
            _covers(lat, lon),
            "Get a forecast that covers the place.",
        )
    chosen, passed = nearest, 0
    if usable is not None and usable.any():
        left = np.where(usable, far, np.inf)
        chosen = tuple(int(i) for i in np.unravel_index(np.argmin(left), far.shape))
        passed = int(np.sum(far < far[chosen]))
    lat_deg, lon_deg = float(lat[chosen]), _from_greenwich(float(lon[chosen]))
    return GridPoint(chosen, lat_deg, lon_deg, distance_m(*at, lat_deg, lon_deg), passed)


def _azimuth_rad(lat: _Floats, lon: _Floats, start: tuple[int, int], end: tuple[int, int]) -> float:
    """Bearing at ``start`` of the great circle to ``end``."""
    a, b = np.radians(lat[start]), np.radians(lat[end])
    east = np.radians(lon[end] - lon[start])
    across = np.sin(east) * np.cos(b)
    along = np.cos(a) * np.sin(b) - np.sin(a) * np.cos(b) * np.cos(east)
    return float(np.arctan2(across, along))


def column_bearing_rad(lat: _Floats, lon: _Floats, index: tuple[int, int]) -> float:
    """True bearing in which the columns of a grid count up, at one of its points.

    Taken from the neighbours in the row, so that it holds for any projection that
    keeps angles; at the rim from the two next points. On a sphere, as weather
    models are: on an ellipsoid it may be a fifth of a degree out.

    Returns
    -------
    float
        pi / 2 where the row runs due east. [rad]
    """
    row, column = index
    last = lat.shape[1] - 1
    if 0 < column < last:
        ahead = _azimuth_rad(lat, lon, index, (row, column + 1))
        behind = _azimuth_rad(lat, lon, index, (row, column - 1)) + np.pi
        return float(ahead + _short_rad(behind - ahead) / 2.0)
    way = 1 if column == 0 else -1
    first = _azimuth_rad(lat, lon, index, (row, column + way))
    far = min(max(column + 2 * way, 0), last)
    second = _azimuth_rad(lat, lon, index, (row, far))
    # the chord's bearing strays in step with its length: carry it back to none
    tangent = first + _short_rad(first - second)
    return float(tangent if way == 1 else tangent + np.pi)


def _short_rad(angle_rad: float) -> float:
    return float((angle_rad + np.pi) % (2 * np.pi) - np.pi)


def true_components(
    along_mps: _Floats, across_mps: _Floats, x_bearing_rad: float
) -> tuple[_Floats, _Floats]:
    """True east and north components of a wind given along a grid's x and y.

    Parameters
    ----------
    along_mps, across_mps : arrays
        Along x, and along y, which is a quarter turn to the left of x.
    x_bearing_rad : float
        True bearing of x.
    """
    sine, cosine = np.sin(x_bearing_rad), np.cos(x_bearing_rad)
    return along_mps * sine - across_mps * cosine, along_mps * cosine + across_mps * sine
