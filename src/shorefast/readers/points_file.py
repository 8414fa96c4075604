"""Points ashore from a file: rows of a CSV, or GeoJSON points."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from shorefast.bay import Frame, ShorePoint
from shorefast.errors import BadInput, Unreadable
from shorefast.quantities import to_si, units_of
from shorefast.readers.csv_rows import CsvRow, CsvRows, read_csv_rows
from shorefast.readers.shore_geojson import read_shapes

FAR_M = 5_000.0
_LOWEST_M, _HIGHEST_M = -20.0, 200.0
_STRONGEST_N = 1e7
_PLACES = ("lat_deg,lon_deg", "east_m,north_m")
_COLUMNS = "name,kind,lat_deg,lon_deg,height_m"
_TEXTS = ("strength_source", "photo", "remark")


@dataclass(frozen=True)
class PointsRead:
    """The points of one file; ``left_out`` says how many were and why."""

    name: str
    points: tuple[ShorePoint, ...]
    left_out: tuple[tuple[str, int], ...] = ()


def read_points_file(path: Path, frame: Frame) -> PointsRead:
    """Read points ashore.

    A CSV has the columns ``name,kind,lat_deg,lon_deg`` (or ``east_m,north_m``)
    ``,height_m`` and, where known, ``strength_n`` (any unit of force: ``strength_kn`` is
    kilonewtons), ``strength_source``, ``remark`` and ``photo``. GeoJSON points say the
    same in their properties. Heights count from chart datum.

    Raises
    ------
    BadInput
        If a point has no name, place or height, or one that cannot be; or two have the
        same name.
    Unreadable
        If the file is empty, broken, or holds no point.
    """
    if path.suffix.lower() in (".geojson", ".json"):
        return _from_geojson(path, frame)
    rows = read_csv_rows(path, _COLUMNS)
    for column in ("name", "kind"):
        rows.need(column, f"Name the columns in the first row: {_COLUMNS}.")
    on_earth = _on_earth(rows)
    points = [_of_row(rows, row, frame, on_earth=on_earth) for row in rows.rows]
    _once(path.name, points)
    return PointsRead(path.name, tuple(points))


def _on_earth(rows: CsvRows) -> bool:
    for pair in _PLACES:
        if set(pair.split(",")) <= set(rows.columns):
            return pair == _PLACES[0]
    raise BadInput(
        f"{rows.name}, line 1",
        f"columns {', '.join(rows.columns)}",
        f"{_PLACES[0]} or {_PLACES[1]} wanted",
        "Name the columns in the first row.",
    )


def _of_row(rows: CsvRows, row: CsvRow, frame: Frame, *, on_earth: bool) -> ShorePoint:
    def says(key: str) -> Any:
        return rows.text(row, key) or None if key in rows.columns else None

    where = f"{rows.name}, line {row.line}"
    return _point(where, says, _place_of_row(rows, row, frame, on_earth=on_earth))


def _place_of_row(
    rows: CsvRows, row: CsvRow, frame: Frame, *, on_earth: bool
) -> tuple[float, float]:
    columns = _PLACES[0 if on_earth else 1].split(",")
    most = (90.0, 360.0) if on_earth else (1e5, 1e5)
    at = [rows.number(row, one, -far, far) for one, far in zip(columns, most, strict=True)]
    for column, value in zip(columns, at, strict=True):
        if math.isnan(value):
            raise BadInput(rows.where(row, column), "no number", "a place wanted", "Correct it.")
    if not on_earth:
        return at[0], at[1]
    east, north = frame.to_plane(at[0], at[1])
    return float(east), float(north)


def _from_geojson(path: Path, frame: Frame) -> PointsRead:
    shapes = read_shapes(path, frame)
    # a bay written out holds other layers beside its points
    mine = [
        (number, one)
        for number, one in enumerate(shapes.features, start=1)
        if one.shape.geom_type == "Point" and one.says.get("layer") in (None, "points")
    ]
    if not mine:
        raise Unreadable(
            path.name, "no point in it", "points to make fast to wanted", "Name another file."
        )
    points = [
        _point(f"{path.name}, feature {number}", one.says.get, (one.shape.x, one.shape.y))
        for number, one in mine
    ]
    _once(path.name, points)
    other = len(shapes.features) - len(mine)
    left_out = (("not a point to make fast to", other),) if other else ()
    return PointsRead(path.name, tuple(points), (*shapes.left_out, *left_out))


def _point(where: str, says: Callable[[str], Any], at: tuple[float, float]) -> ShorePoint:
    name = _text(says("name"))
    if name is None:
        raise BadInput(where, "no name", "a name wanted", "Give each point its own.")
    off_m = math.hypot(*at)
    if off_m > FAR_M:
        raise BadInput(
            where,
            f"{name}, {off_m / 1000:.0f} km from the bay's origin",
            "points within 5 km wanted",
            "Correct its place (south and west are negative).",
        )
    height_m = _quantity(where, says, "height", "length", (_LOWEST_M, _HIGHEST_M))
    if height_m is None:
        raise BadInput(
            where, f"no height_m of {name}", "metres above chart datum wanted", "Add it."
        )
    source, photo, remark = (_text(says(key)) for key in _TEXTS)
    strength_n = _quantity(where, says, "strength", "force", (1.0, _STRONGEST_N))
    kind = _text(says("kind")) or "point"
    return ShorePoint(name, kind, *at, height_m, strength_n, source, photo, remark)


def _text(value: Any) -> str | None:
    return None if value is None else str(value).strip() or None


def _quantity(
    where: str, says: Callable[[str], Any], key: str, kind: str, span: tuple[float, float]
) -> float | None:
    """A number in whichever unit it is given, in SI; None if blank or absent."""
    for unit in units_of(kind):
        told = _text(says(f"{key}_{unit.name}"))
        if told is None:
            continue
        try:
            value = to_si(float(told), kind, unit.name)
        except ValueError:
            value = math.nan
        if not span[0] <= value <= span[1]:
            low, high = (bound / unit.si for bound in span)
            raise BadInput(
                f"{where}, {key}_{unit.name}", told, f"{low:g} to {high:g} wanted", "Correct it."
            )
        return value
    return None


def _once(name: str, points: list[ShorePoint]) -> None:
    seen: set[str] = set()
    for one in points:
        if one.name in seen:
            raise BadInput(name, f"a second point '{one.name}'", "names must differ",
                           "Give it another.")  # fmt: skip
        seen.add(one.name)
