"""A chart cell as one of the files a bay's answer rests on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from shorefast.bay import Zone
from shorefast.readers import ChartRead, zones_of


def chart_file(read: ChartRead, row: Mapping[str, Any]) -> dict[str, Any]:
    """The row of a chart: soundings alone counted and spanned as such, the rest as objects.

    Parameters
    ----------
    read : ChartRead
    row : mapping
        The same file's row as any file of depths has it.
    """
    level = read.depths.level_m[: read.soundings]
    spanned = {}
    if level.size:
        spanned = {
            "least_depth_m": 0.0 - float(level.max()),
            "greatest_depth_m": 0.0 - float(level.min()),
        }
    return {
        **row,
        **spanned,
        "taken": {"soundings": read.soundings, **read.shapes},
        "spacing_m": read.part(0, read.soundings).spacing_m,
        "objects": read.taken,
        "along_contours": read.contours,
        "chart": read.about,
    }


def chart_zones(read: ChartRead) -> list[Zone]:
    """Every zone of a chart, in longitude and latitude."""
    return zones_of(read.zones, {})
