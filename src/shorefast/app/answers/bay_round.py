"""The files of what lies round a bay: shores far off, and the height of the ground."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from shorefast.bay import Frame
from shorefast.readers import BayRead, FarFile, GroundFile
from shorefast.wording import metres

Floats = NDArray[np.float64]

_NO_DEPTHS = {
    "least_depth_m": None,
    "greatest_depth_m": None,
    "chart_datum": None,
}


def round_about_files(read: BayRead) -> list[dict[str, Any]]:
    """The ``files`` of far shores, then of the ground; each with a key of what it holds."""
    rows = [_far_file(one, read.bay.frame) for one in read.far]
    return rows if read.high is None else [*rows, _ground_file(read.high, read.bay.frame)]


def _far_file(read: FarFile, frame: Frame) -> dict[str, Any]:
    """A file of shores: its shapes, and the legs of them within reach of a fetch."""
    coast = read.coast
    nearest_m = shapely.distance(shapely.linestrings(coast.legs_m), shapely.Point(0.0, 0.0)).min()
    farthest_m = np.hypot(coast.legs_m[..., 0], coast.legs_m[..., 1]).max()
    left_out = [{"why": why, "count": count} for why, count in read.left_out]
    return {
        "file": read.name,
        "kind": "far shore",
        "taken": _taken(read.areas, read.lines),
        "left_out": left_out,
        **_NO_DEPTHS,
        **_box(coast.legs_m.reshape(-1, 2), frame),
        "crs": read.crs,
        "spacing_m": None,
        "far_shore": {
            "legs": len(coast.legs_m),
            "legs_with_known_side": int(coast.sided.sum()),
            "leg_m": coast.spacing_m,
            "nearest_m": float(nearest_m),
            "farthest_m": float(farthest_m),
            "open_sea": read.open_sea,
        },
    }


def _ground_file(read: GroundFile, frame: Frame) -> dict[str, Any]:
    """A grid of heights: what of it lies round the bay."""
    ground = read.ground
    known = np.isfinite(ground.height_m)
    row, column = np.nonzero(known)
    at: Floats = np.array([ground.west_m, ground.south_m])
    at = at + ground.step_m * np.column_stack((column, row)).astype(np.float64)
    return {
        "file": ground.name,
        "kind": "elevation grid",
        "taken": _taken(0, 0),
        "left_out": [],
        **_NO_DEPTHS,
        **_box(at, frame),
        "crs": read.crs,
        "spacing_m": read.spacing_m,
        "elevation": {
            "lowest_m": float(ground.height_m[known].min()),
            "highest_m": float(ground.height_m[known].max()),
            "known_share": float(known.mean()),
            "reach_m": -ground.west_m,
            "unit": read.unit,
            "datum": read.datum,
        },
    }


def _taken(areas: int, lines: int) -> dict[str, int]:
    return {"soundings": 0, "areas": areas, "lines": lines, "points": 0}


def _box(at: Floats, frame: Frame) -> dict[str, float]:
    """The box round places of the plane; across the date line east is less than west."""
    lat, lon = frame.to_earth(at[:, 0], at[:, 1])
    about = (lon - frame.lon_deg + 180.0) % 360.0 - 180.0
    west, east = ((frame.lon_deg + one + 180.0) % 360.0 - 180.0 for one in _ends(about))
    south, north = _ends(lat)
    return {"west_deg": west, "south_deg": south, "east_deg": east, "north_deg": north}


def _ends(values: Floats) -> tuple[float, float]:
    return float(values.min()), float(values.max())


def round_about_words(one: Mapping[str, Any]) -> str:
    """What such a file holds, for its line in the terminal."""
    if "far_shore" in one:
        return _shore_words(one["far_shore"])
    ground = one["elevation"]
    level = ground["datum"] or "a level nobody told"
    return (
        f"a height every {metres(one['spacing_m'])}, {ground['lowest_m']:.0f} to"
        f" {ground['highest_m']:.0f} m above {level} within {ground['reach_m'] / 1000:.0f} km,"
        f" {ground['known_share']:.0%} of it known"
    )


def _shore_words(shore: Mapping[str, Any]) -> str:
    blind = shore["legs"] - shore["legs_with_known_side"]
    said = (
        f"{shore['legs']} legs, {metres(shore['leg_m'])} long in the middle, from"
        f" {shore['nearest_m'] / 1000:.1f} to {shore['farthest_m'] / 1000:.0f} km off"
    )
    said += f", {blind} of them without a known side" if blind else ""
    return said + (", beyond it open sea" if shore["open_sea"] else "")
