"""Soundings under way in rows of CSV: each with its moment, place and depth."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np

from shorefast.bay import Frame
from shorefast.errors import BadInput
from shorefast.quantities import units_of
from shorefast.readers.csv_rows import CsvRow, CsvRows, read_csv_rows
from shorefast.readers.depths import DEEPEST_M, DepthsRead, Tally, Told
from shorefast.readers.track_depths import Noticed, reduce_track
from shorefast.readers.track_rows import Rows, track_of_rows
from shorefast.readers.track_told import Sailed, seconds_since_year_1

TRACK_COLUMNS = "time_utc,lat_deg,lon_deg,depth_m[,heading_deg]"
_DEPTHS = {"depth": "surface", "below_transducer": "transducer", "below_keel": "keel"}
_LAT, _LON = ("lat_deg", "latitude_deg", "latitude", "lat"), (
    "lon_deg", "longitude_deg", "longitude", "lon",
)  # fmt: skip
_OUT = f"Name the columns {TRACK_COLUMNS}; or below_transducer_m, below_keel_m for depth_m."


def read_track_csv(
    path: Path, told: Told, sailed: Sailed, frame: Frame | None = None
) -> DepthsRead:
    """Read rows of ``time_utc,lat_deg,lon_deg,depth_m`` and reduce them to chart datum.

    ``depth`` counts from the surface of the moment, ``below_transducer`` and
    ``below_keel`` from there; any unit of length. ``heading_deg``, if there, is true.
    ``east_m,north_m`` stand for a place in the bay's plane.

    Raises
    ------
    Unreadable
        If it is empty, no text, or no row is a sounding.
    BadInput
        If a column is missing, or something must be told and is not.
    """
    table = read_csv_rows(path, TRACK_COLUMNS)
    table.need("time_utc", _OUT)
    column, size_m, counted_from = _depth_column(table)
    places = _place_columns(table, frame)
    tally = Tally()
    read = [one for row in table.rows if (one := _row(table, row, column, places, tally))]
    numbers = np.array(read, dtype=float).reshape(-1, 6)
    lat, lon = numbers[:, 2], numbers[:, 3]
    if places[0] == "north_m" and frame is not None:
        lat, lon = frame.to_earth(lon, lat)
    rows = Rows(
        numbers[:, 0], numbers[:, 1], lat, lon, numbers[:, 4] * size_m,
        np.radians(numbers[:, 5]),
    )  # fmt: skip
    track = track_of_rows(table.name, "CSV track", rows, sailed, tally, counted_from)
    return reduce_track(track, told, sailed, frame, Noticed(tally, []))


def _depth_column(table: CsvRows) -> tuple[str, float, str]:
    """The depth's column, its unit in metres, and what it counts from."""
    for name, counted_from in _DEPTHS.items():
        for unit in units_of("length"):
            if f"{name}_{unit.name}" in table.columns:
                return f"{name}_{unit.name}", unit.si, counted_from
    table.need("depth_m", _OUT)
    raise AssertionError


def _place_columns(table: CsvRows, frame: Frame | None) -> tuple[str, str]:
    for lat, lon in zip(_LAT, _LON, strict=True):
        if lat in table.columns and lon in table.columns:
            return lat, lon
    if frame is not None and "east_m" in table.columns and "north_m" in table.columns:
        return "north_m", "east_m"
    return table.need("lat_deg", _OUT), table.need("lon_deg", _OUT)


def _row(
    table: CsvRows, row: CsvRow, column: str, places: tuple[str, str], tally: Tally
) -> tuple[float, ...] | None:
    """Line, seconds, latitude, longitude, depth, heading; None and counted if it is none."""
    wide = 1e7 if places[0] == "north_m" else 720.0
    try:
        moment = seconds_since_year_1(table.moment(row, "time_utc"))
        first, second = (table.number(row, one, -wide, wide) for one in places)
        depth = table.number(row, column, -1e6, 10.0 * DEEPEST_M)
        known = "heading_deg" in table.columns
        heading = table.number(row, "heading_deg", 0.0, 360.0) if known else math.nan
    except (BadInput, OverflowError) as trouble:
        tally.add("a row that cannot be read", str(trouble) or table.name)
        return None
    return float(row.line), moment, first, second, depth, heading
