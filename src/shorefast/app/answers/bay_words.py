"""The bay's answer as a person reads it in a terminal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any

from shorefast.basis import Finding
from shorefast.wording import metres, position

SHOWN = 12
ZONES_SHOWN = 40
HIGHEST_DRYING_M = 20.0  # no tide uncovers more than that; what stands higher is land


def bay_text(keys: Mapping[str, Any], findings: Sequence[Finding]) -> str:
    """Files, depths asked for, zones, points, and what was noticed."""
    lines = [_file(one) for one in keys["files"]]
    lines += [_place(one) for one in _some(keys["at"])]
    lines += [f"  {metres(one['distance_m'])} on: {_depth(one)}" for one in _some(keys["along"])]
    lines += _zones(keys["zones"])
    lines += [f"Point: {one['name']} ({one['kind']})" for one in keys["points"]]
    lines += [f"Note: {one.where}: {one.said}." for one in findings]
    return "\n".join(lines)


def _zones(zones: Sequence[Mapping[str, Any]]) -> list[str]:
    """Each zone with its source; of very many only how many there are of each kind."""
    if len(zones) <= ZONES_SHOWN:
        return [f"Zone: {one['name']} ({one['kind']}), says {one['source']}" for one in zones]
    kinds = Counter(one["kind"] for one in zones)
    counted = ", ".join(f"{count} {kind}" for kind, count in kinds.most_common())
    return [f"Zones, each with its name and source under --json: {counted}"]


def _some(rows: Sequence[Mapping[str, Any]]) -> Sequence[Mapping[str, Any]]:
    """All of a few rows; of many, some at even steps with both ends."""
    if len(rows) <= SHOWN:
        return rows
    return [rows[k * (len(rows) - 1) // (SHOWN - 1)] for k in range(SHOWN)]


def _file(one: Mapping[str, Any]) -> str:
    taken = ", ".join(f"{count} {what}" for what, count in one["taken"].items() if count)
    where = f"From {position(one['south_deg'], one['west_deg'])}"
    box = f"{where} to {position(one['north_deg'], one['east_deg'])}."
    if one["least_depth_m"] is None:
        return f"{one['file']}: {one['kind']}, {taken}. {box}"
    apart = one["spacing_m"]
    spaced = f", {metres(apart)} apart" if apart == apart else ""
    if "chart" in one:
        return f"{one['file']}: {_chart(one)}, {taken}{spaced}, {_span(one)}. {box}"
    return f"{one['file']}: {_kind(one)}{spaced}, {_span(one)}. {box}"


def _span(one: Mapping[str, Any]) -> str:
    return f"{_metres(one['least_depth_m'])} to {_metres(one['greatest_depth_m'])}"


def _chart(one: Mapping[str, Any]) -> str:
    """A chart by its edition, updates, scale and the level its depths count from."""
    about = one["chart"]
    scale = f"1:{about['scale']:,.0f}".replace(",", " ") if about["scale"] else None
    parts = (
        one["kind"],
        f"edition {about['edition']}" if about["edition"] else None,
        f"updates applied: {about['updates_applied']}",
        f"issued {about['issued']}" if about["issued"] else None,
        scale,
        f"depths from {one['chart_datum'] or 'an unknown level'}",
    )
    return ", ".join(part for part in parts if part)


def _kind(one: Mapping[str, Any]) -> str:
    """A grid has nodes: nobody sounded there."""
    count = one["taken"]["soundings"]
    if one["kind"] == "soundings":
        return f"{count} soundings"
    return f"{one['kind']}, {count} nodes"


def _metres(depth_m: float) -> str:
    if depth_m < -HIGHEST_DRYING_M:
        return f"land {-depth_m:.0f} m high"
    return f"{depth_m:.1f} m" if depth_m >= 0.0 else f"drying {-depth_m:.1f} m"


def _depth(one: Mapping[str, Any]) -> str:
    depth_m, deviation_m = one["charted_depth_m"], one["deviation_m"]
    if depth_m != depth_m:
        return "unknown"
    return f"{_metres(depth_m)}, give or take {max(deviation_m, 0.05):.1f} m"


def _place(one: Mapping[str, Any]) -> str:
    return f"{position(one['lat_deg'], one['lon_deg'])}: {_depth(one)}"
