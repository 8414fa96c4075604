"""Bed, soundings, shore and zones of a demonstration bay, from its table."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon, mapping
from shapely.geometry.base import BaseGeometry

from shorefast.bay.frame import Frame

Floats = NDArray[np.float64]
Table = Mapping[str, Any]

LAND_CLIMB = 0.4
COARSE_M, FINE_M, FINE_WITHIN_M, INLAND_M = 6.0, 2.5, 30.0, 10.0
NOISE_M = 0.15


def shoreline(table: Table) -> LineString:
    """The high-water line in the bay's plane."""
    return LineString(table["shore"])


def land(table: Table) -> Polygon:
    """The land behind the high-water line, far enough inland to fill any drawing."""
    return Polygon([*table["shore"], *table["inland"]])


def offing_m(table: Table, east_m: Floats, north_m: Floats) -> Floats:
    """Distance from the high-water line, negative on land.

    Past the ends of the list the coast runs on round the land behind it; without
    that the bed would have a cliff there.
    """
    spots, behind = shapely.points(east_m, north_m), land(table)
    distance = shapely.distance(spots, behind.exterior)
    return np.asarray(np.where(shapely.contains(behind, spots), -distance, distance), float)


def smooth_level_m(table: Table, east_m: Floats, north_m: Floats) -> Floats:
    """The bed rule: level above chart datum, without ripple and noise."""
    far, depth = np.array(table["bed"], float).T
    if "half_width" in table:
        return _cove_level_m(table["half_width"], -np.interp(east_m, far, depth), east_m, north_m)
    off = offing_m(table, east_m, north_m)
    behind = np.maximum(-off, 0.0)
    return np.asarray(LAND_CLIMB * behind - np.interp(off, far, depth), float)


def _cove_level_m(half_width_m: float, middle_m: Floats, east_m: Floats, north_m: Floats) -> Floats:
    """A cove open to the east: sides rising with the fourth power off the middle."""
    share = np.minimum(np.abs(north_m) / half_width_m, 1.0) ** 4
    outside_m = np.hypot(np.maximum(-east_m, 0.0), np.maximum(np.abs(north_m) - half_width_m, 0.0))
    inside = middle_m * (1.0 - share) + 1.6 * share
    return np.where(outside_m > 0.0, 1.6 + LAND_CLIMB * outside_m, inside)


def ripple_m(east_m: Floats, north_m: Floats) -> Floats:
    """Low ridges laid over the bed rule."""
    return 0.25 * np.sin(east_m / 11.0) * np.sin(north_m / 13.0)


def _lattice(area: tuple[float, float, float, float], step_m: float) -> tuple[Floats, Floats]:
    west, south, east, north = area
    grid = np.meshgrid(np.arange(west, east, step_m), np.arange(south, north, step_m))
    return grid[0].ravel(), grid[1].ravel()


def sounded_places(table: Table) -> tuple[Floats, Floats]:
    """Where soundings were taken: closer near the shore, and a strip of it on foot."""
    east, north = _lattice(table["area"], COARSE_M)
    off = offing_m(table, east, north)
    near_east, near_north = _lattice(table["area"], FINE_M)
    near_off = offing_m(table, near_east, near_north)
    outer = off > FINE_WITHIN_M
    inner = (near_off <= FINE_WITHIN_M) & (near_off >= -INLAND_M)
    return (
        np.concatenate([near_east[inner], east[outer]]),
        np.concatenate([near_north[inner], north[outer]]),
    )


def soundings_csv(table: Table, frame: Frame, draw: np.random.Generator) -> str:
    """The soundings: bed rule, ripple and noise, depth down from chart datum."""
    east, north = sounded_places(table)
    level = smooth_level_m(table, east, north) + ripple_m(east, north)
    level = level + draw.normal(0.0, NOISE_M, level.shape)
    lat, lon = frame.to_earth(east, north)
    rows = (
        f"{x:.7f},{y:.7f},{depth:.2f}" for x, y, depth in zip(lon, lat, 0.0 - level, strict=True)
    )
    return "lon_deg,lat_deg,depth_m\n" + "\n".join(rows) + "\n"


def _on_earth(shape: BaseGeometry, frame: Frame) -> dict[str, Any]:
    def turn(plane: Floats) -> Floats:
        lat, lon = frame.to_earth(plane[:, 0], plane[:, 1])
        return np.asarray(np.round(np.column_stack([lon, lat]), 7), float)

    return dict(mapping(shapely.transform(shape, turn)))


def geojson(features: list[tuple[dict[str, str], BaseGeometry]], frame: Frame) -> str:
    """Shapes with their properties, one feature a line, in longitude and latitude."""
    rows = [
        json.dumps({"type": "Feature", "properties": said, "geometry": _on_earth(shape, frame)})
        for said, shape in features
    ]
    inside = ",\n".join(rows)
    return f'{{"type": "FeatureCollection", "features": [\n{inside}\n]}}\n'
