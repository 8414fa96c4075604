"""The bay's answer as a person reads it in a terminal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any

from shorefast.app.answers.bay_round import round_about_words
from shorefast.basis import Finding
from shorefast.wording import UNKNOWN, kilograms, metres, position

SHOWN = 12
ZONES_SHOWN = 40
UNDER_WAY = ("NMEA 0183 log", "GPX track", "CSV track")
HIGHEST_DRYING_M = 20.0  # no tide uncovers more than that; what stands higher is land


def bay_text(keys: Mapping[str, Any], findings: Sequence[Finding], run: Sequence[str] = ()) -> str:
    """Files, rows about a run, depths asked for, zones, points, and what was noticed."""
    lines = [_file(one) for one in keys["files"]]
    lines += run
    lines += [_place(one) for one in _some(keys["at"])]
    lines += [f"  {metres(one['distance_m'])} on: {_depth(one)}" for one in _some(keys["along"])]
    lines += _zones(keys["zones"])
    lines += [_point(one) for one in keys["points"]]
    lines += [f"Note: {one.where}: {one.said}." for one in findings]
    lines += [_exported(one) for one in keys.get("exported", ())]
    return "\n".join(lines)


def _zones(zones: Sequence[Mapping[str, Any]]) -> list[str]:
    """Each zone with its source; of very many only how many there are of each kind."""
    if len(zones) <= ZONES_SHOWN:
        return [_zone(one) for one in zones]
    kinds = Counter(one["kind"] for one in zones)
    counted = ", ".join(f"{count} {kind}" for kind, count in kinds.most_common())
    return [f"Zones, each with its name and source under --json: {counted}"]


def _zone(zone: Mapping[str, Any]) -> str:
    """A zone, who says so, and when it is in force."""
    since, until = zone["from_utc"], zone["until_utc"]
    said = f"Zone: {zone['name']} ({zone['kind']}), says {zone['source']}"
    said += "" if since is None else f", from {since:%Y-%m-%d %H:%M} UTC"
    return said + ("" if until is None else f", until {until:%Y-%m-%d %H:%M} UTC")


def _point(one: Mapping[str, Any]) -> str:
    """A point: what and how high, what it carries and who says so, how it is reached."""
    said = f"Point: {one['name']} ({one['kind']}), {metres(one['height_m'])} above chart datum"
    by = f", says {one['strength_source']}" if one["strength_source"] else ""
    strong = one["strength_n"]
    said += f", strength {UNKNOWN}" if strong != strong else f", {kilograms(strong)}{by}"
    said += f"; {one['remark']}" if one["remark"] else ""
    said += f"; picture {one['photo']}" if one["photo"] else ""
    return said if one["reach"] is None else f"{said}\n  {one['reach']['said']}"


def _exported(one: Mapping[str, Any]) -> str:
    """What a written file holds, and what stays out of it and why."""
    counts = (
        (f"{n} {what.removesuffix('s') if n == 1 else what}") for what, n in one["holds"].items()
    )
    holds = ", ".join(counts)
    out = "".join(f"; {row['count']} left out: {row['why']}" for row in one["left_out"])
    return f"{one['file']}: {holds}{out}"


def _some(rows: Sequence[Mapping[str, Any]]) -> Sequence[Mapping[str, Any]]:
    """All of a few rows; of many, some at even steps with both ends."""
    if len(rows) <= SHOWN:
        return rows
    return [rows[k * (len(rows) - 1) // (SHOWN - 1)] for k in range(SHOWN)]


def _file(one: Mapping[str, Any]) -> str:
    taken = ", ".join(
        f"{count} {what.removesuffix('s') if count == 1 else what}"
        for what, count in one["taken"].items()
        if count
    )
    where = f"From {position(one['south_deg'], one['west_deg'])}"
    box = f"{where} to {position(one['north_deg'], one['east_deg'])}."
    if "far_shore" in one or "elevation" in one:
        counted = f"{taken}, " if taken else ""
        return f"{one['file']}: {one['kind']}, {counted}{round_about_words(one)}. {box}"
    if one["least_depth_m"] is None:
        return f"{one['file']}: {one['kind']}, {taken}. {box}"
    apart = one["spacing_m"]
    spaced = f", {metres(apart)} apart" if apart == apart else ""
    if "chart" in one:
        return f"{one['file']}: {_chart(one)}, {taken}{spaced}, {_span(one)}. {box}"
    return f"{one['file']}: {_kind(one)}{spaced}, {_span(one)}. {box}"


def _span(one: Mapping[str, Any]) -> str:
    return f"{charted_words(one['least_depth_m'])} to {charted_words(one['greatest_depth_m'])}"


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
    if one["kind"] in UNDER_WAY:
        level = f", counted from the {one['chart_datum']}" if one["chart_datum"] else ""
        return f"{one['kind']}, {count} soundings{level}"
    return f"{one['kind']}, {count} nodes"


def charted_words(depth_m: float) -> str:
    """A charted depth, or how high it dries or stands as land."""
    if depth_m < -HIGHEST_DRYING_M:
        return f"land {-depth_m:.0f} m high"
    return f"{depth_m:.1f} m" if depth_m >= 0.0 else f"drying {-depth_m:.1f} m"


def _depth(one: Mapping[str, Any]) -> str:
    depth_m, deviation_m = one["charted_depth_m"], one["deviation_m"]
    if depth_m != depth_m:
        return "unknown"
    return f"{charted_words(depth_m)}, give or take {max(deviation_m, 0.05):.1f} m"


def _place(one: Mapping[str, Any]) -> str:
    return f"{position(one['lat_deg'], one['lon_deg'])}: {_depth(one)}"
