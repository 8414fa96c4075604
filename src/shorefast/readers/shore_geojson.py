"""Shapes on the chart: shores, land and zones as GeoJSON (or any file GDAL reads).

Coordinates are longitude and latitude; a collection with ``"frame": "bay metres"``
gives metres east and north of the bay's origin instead.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import shape
from shapely.geometry.base import BaseGeometry

from shorefast.bay import Frame
from shorefast.errors import BadInput, Unreadable
from shorefast.readers.soundings_csv import to_earth

_WANTED = "GeoJSON with lines or polygons wanted"
# GeoPackage and shapefile; other kinds could send GDAL to further files or a network.
_OWN_SHAPES = (b"SQLite format 3", b"\x00\x00\x27\x0a")
_LON_LAT = ("CRS84", "EPSG::4326", "EPSG:4326")


@dataclass(frozen=True)
class Feature:
    """One shape with what its file says of it.

    ``shape`` is in longitude and latitude, or in the bay's plane once placed. [deg or m]
    """

    shape: BaseGeometry
    says: Mapping[str, Any]


@dataclass(frozen=True)
class Shapes:
    """The shapes of one file, and how many were left out and why."""

    name: str
    crs: str
    features: tuple[Feature, ...]
    left_out: tuple[tuple[str, int], ...]

    def of(self, *kinds: str) -> list[BaseGeometry]:
        """All single shapes of a kind ("Polygon", "LineString", "Point")."""
        parts = [part for one in self.features for part in shapely.get_parts(one.shape)]
        return [part for part in parts if part.geom_type in kinds]


def read_shapes(path: Path, frame: Frame | None = None) -> Shapes:
    """Read shapes; in the bay's plane where a frame is given, else in degrees.

    Raises
    ------
    BadInput
        If coordinates are no longitudes and latitudes, or in metres without a bay.
    Unreadable
        If it is empty, broken, or holds no shape.
    """
    filed = read_as_filed(path)
    placed = tuple(
        Feature(_placed(path.name, one.shape, filed.crs, frame), one.says) for one in filed.features
    )
    return Shapes(path.name, filed.crs, placed, filed.left_out)


def read_as_filed(path: Path) -> Shapes:
    """Read shapes in the file's own coordinates, whatever they are.

    Raises
    ------
    Unreadable
        If it is empty, broken, or holds no shape.
    """
    if path.suffix.lower() in (".geojson", ".json"):
        features, crs, left_out = _from_geojson(path)
    else:
        features, crs, left_out = _from_table(path)
    if not features:
        raise Unreadable(path.name, "no shape in it", _WANTED, "Name another file.")
    return Shapes(path.name, crs, tuple(features), left_out)


def on_earth(name: str, at: NDArray[np.float64], crs: str) -> NDArray[np.float64]:
    """Longitude and latitude of a file's own coordinates, shape (place, 2). [deg]

    Raises
    ------
    BadInput
        If they are no places on earth.
    """
    turned = at if crs == "EPSG:4326" else _turned(name, at, crs)
    _check(name, turned)
    return turned


def _from_geojson(path: Path) -> tuple[list[Feature], str, tuple[tuple[str, int], ...]]:
    text = path.read_bytes().decode("utf-8-sig", errors="replace")
    if not text.strip():
        raise Unreadable(path.name, "it is empty", _WANTED, "Name another file.")
    try:
        tree = json.loads(text)
    except json.JSONDecodeError as trouble:
        raise Unreadable(
            f"{path.name}, line {trouble.lineno}",
            f"broken JSON ({trouble.msg})",
            _WANTED,
            "Export it again.",
        ) from None
    except RecursionError:
        raise Unreadable(
            path.name, "broken JSON (nested too deep)", _WANTED, "Export it again."
        ) from None
    if not isinstance(tree, dict) or "type" not in tree:
        raise Unreadable(path.name, "JSON of another kind", _WANTED, "Name another file.")
    return _features(path.name, tree), _crs(path.name, tree), _left_out(tree)


def _members(tree: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    if tree.get("type") == "FeatureCollection":
        found = tree.get("features")
        return [one for one in found if isinstance(one, dict)] if isinstance(found, list) else []
    if tree.get("type") == "Feature":
        return [tree]
    return [{"geometry": tree, "properties": {}}]


def _left_out(tree: Mapping[str, Any]) -> tuple[tuple[str, int], ...]:
    empty = sum(1 for one in _members(tree) if not one.get("geometry"))
    return (("no shape given", empty),) if empty else ()


def _features(name: str, tree: Mapping[str, Any]) -> list[Feature]:
    kept = []
    for number, one in enumerate(_members(tree), start=1):
        if not one.get("geometry"):
            continue
        says = one.get("properties")
        try:
            drawn = shape(one["geometry"])
            broken = drawn.is_empty or not np.isfinite(shapely.get_coordinates(drawn)).all()
        except (ValueError, TypeError, KeyError, IndexError, AttributeError,
                shapely.errors.ShapelyError):  # fmt: skip
            broken = True
        if broken:
            raise Unreadable(
                f"{name}, feature {number}", "broken coordinates", _WANTED, "Mend that feature."
            )
        kept.append(Feature(shapely.force_2d(drawn), says if isinstance(says, dict) else {}))
    return kept


def _crs(name: str, tree: Mapping[str, Any]) -> str:
    if tree.get("frame") is not None:
        if tree["frame"] != "bay metres":
            raise BadInput(
                name, f"frame {tree['frame']!r}", "'bay metres' is the only one known",
                "Correct it, or take it out if coordinates are longitude and latitude.",
            )  # fmt: skip
        return "bay metres"
    told = tree.get("crs")
    properties = told.get("properties") if isinstance(told, dict) else None
    called = properties.get("name") if isinstance(properties, dict) else None
    if called is None or any(str(called).endswith(end) for end in _LON_LAT):
        return "EPSG:4326"
    return str(called)


def _from_table(path: Path) -> tuple[list[Feature], str, tuple[tuple[str, int], ...]]:
    import pyogrio.raw
    from pyogrio.errors import DataLayerError, DataSourceError, FieldError

    with path.open("rb") as opened:
        head = opened.read(16)
    try:
        if not head.startswith(_OWN_SHAPES):
            raise ValueError(path.name)
        about, _, wkb, columns = pyogrio.raw.read(path)
    except (DataLayerError, DataSourceError, FieldError, ValueError):
        raise Unreadable(path.name, "GDAL cannot read it", _WANTED, "Export it again.") from None
    fields = about["fields"]
    shapes = shapely.from_wkb(wkb, on_invalid="ignore")
    kept = [
        Feature(shapely.force_2d(one), {f: c[i] for f, c in zip(fields, columns, strict=True)})
        for i, one in enumerate(shapes)
        if one is not None and not one.is_empty
    ]
    missing = len(shapes) - len(kept)
    crs = str(about["crs"] or "EPSG:4326")
    return kept, crs, ((("no shape given", missing),) if missing else ())


def _placed(name: str, drawn: BaseGeometry, crs: str, frame: Frame | None) -> BaseGeometry:
    if crs == "bay metres":
        if frame is None:
            raise BadInput(
                name,
                "coordinates in bay metres",
                "without a bay nobody knows of what place",
                "Name the bay folder instead.",
            )
        return drawn
    if crs != "EPSG:4326":
        drawn = shapely.transform(drawn, lambda at: _turned(name, at, crs))
    _check(name, shapely.get_coordinates(drawn))
    if frame is None:
        return drawn
    return shapely.transform(drawn, lambda at: np.column_stack(frame.to_plane(at[:, 1], at[:, 0])))


def _turned(name: str, at: NDArray[np.float64], crs: str) -> NDArray[np.float64]:
    lat, lon = to_earth(name, at[:, 0], at[:, 1], crs)
    return np.column_stack((lon, lat))


def _check(name: str, at: NDArray[np.float64]) -> None:
    wrong = (np.abs(at[:, 1]) > 90.0) | (np.abs(at[:, 0]) > 360.0)
    if not wrong.any():
        return
    lon, lat = at[wrong][0]
    swapped = bool(np.all(np.abs(at[:, 0]) <= 90.0) and np.all(np.abs(at[:, 1]) <= 180.0))
    raise BadInput(
        name,
        f"a place at longitude {lon:g}, latitude {lat:g}",
        "no such place on earth",
        "Longitude comes first in GeoJSON: swap them."
        if swapped
        else 'Give longitude and latitude, or say "frame": "bay metres".',
    )
