"""What each file of a bay gave: counts, depths, its box, what was left out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shorefast.app.answers.bay_charts import chart_file
from shorefast.app.answers.bay_round import round_about_files
from shorefast.bay import Frame
from shorefast.readers import BayRead, ChartRead, DepthsRead, Shapes

Floats = NDArray[np.float64]


def bare_files(
    depths: Sequence[DepthsRead], shapes: Sequence[Shapes], charts: Sequence[ChartRead]
) -> list[dict[str, Any]]:
    """The ``files`` of bare files, depths first, charts last."""
    rows = [_depth_file(one) for one in depths] + [_shape_file(one) for one in shapes]
    return rows + [_chart_file(one) for one in charts]


def folder_files(read: BayRead) -> list[dict[str, Any]]:
    """The ``files`` of a bay folder."""
    depths = [{**_depth_file(one), "chart_datum": read.bay.chart_datum} for one in read.depths]
    shapes = [_shape_file(one, read.bay.frame) for one in read.shapes]
    charts = [_chart_file(one) for one in read.charts]
    return [*depths, *shapes, *charts, *round_about_files(read)]


def _chart_file(read: ChartRead) -> dict[str, Any]:
    """The row of a chart; one without any depth spans its land and zones."""
    if read.depths.level_m.size:
        return chart_file(read, _depth_file(read.depths))
    drawn = replace(read.land, features=(*read.land.features, *read.zones.features))
    shapes = {**_shape_file(drawn), "kind": read.depths.kind}
    return chart_file(read, {**shapes, "left_out": _left_out(read.depths.left_out)})


def charted_m(level_m: float) -> float:
    """A level up from chart datum as a charted depth. [m]"""
    return 0.0 - float(level_m)


def _depth_file(read: DepthsRead) -> dict[str, Any]:
    return {
        "file": read.name,
        "kind": read.kind,
        "taken": {"soundings": read.level_m.size, "areas": 0, "lines": 0, "points": 0},
        "left_out": _left_out(read.left_out),
        "least_depth_m": charted_m(read.level_m.max()),
        "greatest_depth_m": charted_m(read.level_m.min()),
        **_box(read.lat_deg, read.lon_deg),
        "crs": read.crs,
        "chart_datum": read.datum,
        "spacing_m": read.spacing_m,
    }


def _left_out(rows: Sequence[tuple[str, int]]) -> list[dict[str, Any]]:
    return [{"why": why, "count": count} for why, count in rows]


def _box(lat_deg: Floats, lon_deg: Floats) -> dict[str, float]:
    """The box round places; across the date line east may be less than west."""
    west, east = float(lon_deg.min()), float(lon_deg.max())
    if east - west > 180.0:
        turned = lon_deg % 360.0
        west = (float(turned.min()) + 180.0) % 360.0 - 180.0
        east = (float(turned.max()) + 180.0) % 360.0 - 180.0
    return {
        "west_deg": west,
        "south_deg": float(lat_deg.min()),
        "east_deg": east,
        "north_deg": float(lat_deg.max()),
    }


def _shape_file(read: Shapes, frame: Frame | None = None) -> dict[str, Any]:
    import shapely

    at = np.concatenate([shapely.get_coordinates(one.shape) for one in read.features])
    lat, lon = frame.to_earth(at[:, 0], at[:, 1]) if frame else (at[:, 1], at[:, 0])
    counts = Counter(
        part.geom_type for one in read.features for part in shapely.get_parts(one.shape)
    )
    return {
        "file": read.name,
        "kind": "shapes",
        "taken": {
            "soundings": 0,
            "areas": counts["Polygon"],
            "lines": counts["LineString"] + counts["LinearRing"],
            "points": counts["Point"],
        },
        "left_out": _left_out(read.left_out),
        "least_depth_m": None,
        "greatest_depth_m": None,
        **_box(lat, lon),
        "crs": read.crs,
        "chart_datum": None,
        "spacing_m": None,
    }
