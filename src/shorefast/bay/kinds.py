"""Kinds of bottom and of zone, and which hold at a place."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from shapely.geometry import Point

from shorefast.bay.place import Bay, Zone

BOTTOMS = (
    "sand",
    "mud",
    "soft mud",
    "firm clay",
    "mud over clay",
    "gravel",
    "weed",
    "seagrass",
    "rock",
    "boulders",
)
"""What an anchor may lie in (the kinds ``mooring.holding`` knows)."""

DANGERS = ("charted rock", "wreck", "obstruction")
"""What stands on the bed and is charted as a danger, known depth or not."""

ZONE_KINDS = (
    "no anchoring",
    "no lines",
    "cable",
    "bathing",
    "reserve",
    "fairway",
    "foul",
    "private",
    "neighbour",
    "pipeline",
    "marine farm",
    "anchorage",
    "no entry",
    "restricted area",
    *DANGERS,
    *BOTTOMS,
)
"""What a zone may be: a rule, a hazard, or a bottom of its own."""

NO_ANCHOR = (
    "no anchoring",
    "cable",
    "bathing",
    "reserve",
    "fairway",
    "seagrass",
    "foul",
    "pipeline",
    "marine farm",
    "no entry",
    "wreck",
    "obstruction",
)
"""Zones in which no anchor and no chain should lie."""

NO_LINES = ("no lines",)
"""Zones in which nothing should be made fast."""


def in_force(zone: Zone, at_utc: datetime | None) -> bool:
    """Whether a zone holds at a time; with no time given, whether it ever does."""
    if at_utc is None:
        return True
    begun = zone.from_utc is None or zone.from_utc <= at_utc
    return begun and (zone.until_utc is None or at_utc < zone.until_utc)


def zones_at(
    zones: Iterable[Zone], east_m: float, north_m: float, at_utc: datetime | None = None
) -> tuple[Zone, ...]:
    """The zones that a place lies in (or on the edge of). [m]"""
    here = Point(east_m, north_m)
    return tuple(zone for zone in zones if in_force(zone, at_utc) and zone.shape.covers(here))


def bottom_at(bay: Bay, east_m: float, north_m: float) -> str:
    """Kind of bottom at a place: the smallest bottom zone over it, else the bay's own. [m]"""
    over = [zone for zone in zones_at(bay.zones, east_m, north_m) if zone.kind in BOTTOMS]
    if not over:
        return bay.bottom
    return min(over, key=lambda zone: float(zone.shape.area)).kind
