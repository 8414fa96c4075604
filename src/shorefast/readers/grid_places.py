"""Where a place lies among the nodes of a grid: even rows and columns, or a curved grid."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from shorefast.bay import Frame
from shorefast.readers.node_grid import Locate

Floats = NDArray[np.float64]

_TURNS = 12
_OUTSIDE = 0.02


def _index(axis: Floats, values: Floats) -> Floats:
    """Fractional place of values on an axis that rises or falls; NaN outside."""
    count = np.arange(axis.size, dtype=float)
    rising = axis[-1] >= axis[0]
    keys, places = (axis, count) if rising else (axis[::-1], count[::-1])
    return np.asarray(np.interp(values, keys, places, left=np.nan, right=np.nan))


def even(lat_deg: Floats, lon_deg: Floats) -> Locate:
    """For rows of latitude and columns of longitude (whatever way round they count)."""
    west = float(lon_deg.min())

    def locate(lat: Floats, lon: Floats) -> tuple[Floats, Floats]:
        return _index(lat_deg, lat), _index(lon_deg, west + (lon - west) % 360.0)

    return locate


def curved(lat_deg: Floats, lon_deg: Floats) -> Locate:
    """For a grid whose nodes each have their own latitude and longitude.

    From the nearest node Newton's steps walk to the place inside the four nodes round
    it, in a plane touching the grid's middle.
    """
    from scipy.spatial import cKDTree

    known = np.isfinite(lat_deg) & np.isfinite(lon_deg)
    frame = Frame(float(np.median(lat_deg[known])), float(np.median(lon_deg[known])) % 360.0)
    east, north = frame.to_plane(np.where(known, lat_deg, 0.0), np.where(known, lon_deg, 0.0))
    east, north = np.where(known, east, 1e9), np.where(known, north, 1e9)
    tree = cKDTree(np.column_stack((east.ravel(), north.ravel())))

    def locate(lat: Floats, lon: Floats) -> tuple[Floats, Floats]:
        x, y = frame.to_plane(lat, lon)
        nearest = tree.query(np.column_stack((x, y)))[1]
        row, column = (part.astype(float) for part in np.unravel_index(nearest, east.shape))
        for _ in range(_TURNS):
            row, column, miss = _step(east, north, row, column, (x, y))
        rows, columns = east.shape
        inside = (row >= -_OUTSIDE) & (row <= rows - 1 + _OUTSIDE)
        inside &= (column >= -_OUTSIDE) & (column <= columns - 1 + _OUTSIDE) & (miss < 1.0)
        row, column = np.clip(row, 0, rows - 1), np.clip(column, 0, columns - 1)
        return np.where(inside, row, np.nan), np.where(inside, column, np.nan)

    return locate


def _step(
    east: Floats, north: Floats, row: Floats, column: Floats, wanted: tuple[Floats, Floats]
) -> tuple[Floats, Floats, Floats]:
    """One of Newton's steps, and how far off the place was before it. [m]"""
    rows, columns = east.shape
    i = np.clip(np.floor(row).astype(int), 0, rows - 2)
    j = np.clip(np.floor(column).astype(int), 0, columns - 2)
    v, u = row - i, column - j
    x, x_row, x_column = _patch(east, i, j, v, u)
    y, y_row, y_column = _patch(north, i, j, v, u)
    miss_x, miss_y = wanted[0] - x, wanted[1] - y
    turn = x_row * y_column - x_column * y_row
    turn = np.where(np.abs(turn) < 1e-9, np.inf, turn)
    step_row = (miss_x * y_column - miss_y * x_column) / turn
    step_column = (miss_y * x_row - miss_x * y_row) / turn
    far = np.clip(row + np.clip(step_row, -3.0, 3.0), -1.0, rows)
    along = np.clip(column + np.clip(step_column, -3.0, 3.0), -1.0, columns)
    return far, along, np.hypot(miss_x, miss_y)


def _patch(
    field: Floats, i: NDArray[np.int64], j: NDArray[np.int64], v: Floats, u: Floats
) -> tuple[Floats, Floats, Floats]:
    """A field between four nodes, and its slopes along row and column."""
    a, b = field[i, j], field[i, j + 1]
    c, d = field[i + 1, j], field[i + 1, j + 1]
    south, north = a + (b - a) * u, c + (d - c) * u
    return south + (north - south) * v, north - south, (b - a) * (1.0 - v) + (d - c) * v
