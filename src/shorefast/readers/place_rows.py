"""Places in rows: a CSV that names its columns lat_deg, lon_deg (or east_m, north_m)."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from shorefast.bay import Frame
from shorefast.errors import BadInput
from shorefast.readers.csv_rows import CsvRows, read_csv_rows

Floats = NDArray[np.float64]

_WANTED = "lat_deg,lon_deg"
_LAT = ("lat_deg", "latitude", "lat")
_LON = ("lon_deg", "longitude", "lon")


def read_places(path: Path, frame: Frame | None = None) -> tuple[Floats, Floats]:
    """Latitudes and longitudes of all rows. [deg]

    Raises
    ------
    Unreadable
        If the file is empty or has no rows.
    BadInput
        If columns are missing, a cell is no number, or a latitude is none.
    """
    rows = read_csv_rows(path, _WANTED)
    lat, lon = _column(rows, _LAT), _column(rows, _LON)
    if lat and lon:
        return _numbers(rows, lat, 90.0), _numbers(rows, lon, 360.0)
    if frame is not None and {"east_m", "north_m"} <= set(rows.columns):
        return frame.to_earth(_numbers(rows, "east_m", 1e5), _numbers(rows, "north_m", 1e5))
    raise BadInput(
        f"{path.name}, line 1",
        f"columns {', '.join(rows.columns)}",
        f"{_WANTED} wanted",
        "Name the columns in the first row.",
    )


def _column(rows: CsvRows, names: tuple[str, ...]) -> str | None:
    return next((name for name in names if name in rows.columns), None)


def _numbers(rows: CsvRows, column: str, most: float) -> Floats:
    values = np.array([rows.number(row, column, -most, most) for row in rows.rows])
    for row, value in zip(rows.rows, values, strict=True):
        if np.isnan(value):
            raise BadInput(rows.where(row, column), "no number", "a place wanted", "Correct it.")
    return values
