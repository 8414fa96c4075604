"""Zones and points of a bay as they stand in the answer."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from shorefast.bay import Bay, Zone


def zone_rows(zones: Sequence[Zone]) -> list[dict[str, Any]]:
    """Each zone, who says so, and when it is in force."""
    return [
        {
            "kind": zone.kind,
            "name": zone.name,
            "source": zone.source,
            "from_utc": zone.from_utc,
            "until_utc": zone.until_utc,
        }
        for zone in zones
    ]


def point_rows(bay: Bay, reached: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Each point ashore; ``reached``, by name, how it is reached where that is known."""
    rows = []
    for point in bay.points:
        lat, lon = bay.frame.to_earth(point.east_m, point.north_m)
        rows.append(
            {
                "name": point.name,
                "kind": point.kind,
                "lat_deg": float(lat),
                "lon_deg": float(lon),
                "east_m": point.east_m,
                "north_m": point.north_m,
                "height_m": point.height_m,
                "strength_n": math.nan if point.strength_n is None else point.strength_n,
                "strength_source": point.strength_source,
                "photo": point.photo,
                "remark": point.remark,
                "reach": reached.get(point.name),
            }
        )
    return rows
