"""What lies over the bay's zones at the rests: chain, hull and keel, lines ashore."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, timedelta

import numpy as np
import shapely
from numpy.typing import NDArray

from shorefast.basis import Finding
from shorefast.bay import DANGERS, NO_ANCHOR, Zone
from shorefast.mooring import L_BEARING, L_LYING, Rests
from shorefast.stay.outlines import hull_outline, placed
from shorefast.stay.plan import Stay
from shorefast.stay.rigging import lie_of, shore_legs

Floats = NDArray[np.float64]
_UNDER_HULL = (
    "bathing", "reserve", "fairway", "private", "foul", "no entry", "marine farm", *DANGERS,
)  # fmt: skip
_UNDER_LINES = ("bathing", "reserve", "fairway", "private", "no lines", "neighbour")
_RULE = "the local rule decides"
_FOUL = "foul ground, it may not come home"
_DANGER = "a charted danger"
_NEAR_LENGTHS = 2.0
_ALIKE_M, _ALIKE_RAD = 0.25, 0.02


def _in_force(zone: Zone) -> str:
    """When a zone is in force, in words; empty where always."""
    # what ends at midnight is told with its last day
    last = None if zone.until_utc is None else zone.until_utc - timedelta(seconds=1)
    ends = (("from", zone.from_utc), ("until", last))
    told = (f"{word} {at.astimezone(UTC):%d %b %Y}" for word, at in ends if at is not None)
    return " ".join(told)


def zone_named(zone: Zone) -> str:
    """A zone as it is told: its name, its kind, who says so and when it is in force."""
    said = ", ".join(part for part in (zone.source, _in_force(zone)) if part)
    return f"'{zone.name}', {zone.kind}" + (f" ({said})" if said else "")


def zone_means(zone: Zone, of_hull: bool = False) -> str:
    """What a zone means for what lies over it; a danger is no matter of rules."""
    if zone.kind in DANGERS or zone.kind == "foul":
        return _DANGER if of_hull and zone.kind in DANGERS else _FOUL
    return _RULE


@dataclass(frozen=True)
class _Lying:
    """States while a zone is in force, those that look alike once.

    q : (state, 3) rests; many : (state,) how many are alike;
    chain : (row, 2) bearing from the anchor [rad] and length lying on the bed [m]
    """

    q: Floats
    many: NDArray[np.int64]
    chain: Floats


def _alike(rows: Floats, steps: tuple[float, ...]) -> tuple[Floats, NDArray[np.int64]]:
    """One of each that look alike, and how many there are of it."""
    if not len(rows):
        return rows, np.zeros(0, np.int64)
    cells = np.rint(rows / np.array(steps)).astype(np.int64)
    cells -= cells.min(axis=0)
    key = np.ravel_multi_index(tuple(cells.T), tuple(cells.max(axis=0) + 1))
    _, first, count = np.unique(key, return_index=True, return_counts=True)
    return rows[first], count


def _during(zone: Zone, time_utc: NDArray[np.datetime64]) -> NDArray[np.bool_]:
    """At which of the times the zone is in force."""
    begin, end = (
        None if moment is None else np.datetime64(moment.astimezone(UTC).replace(tzinfo=None), "s")
        for moment in (zone.from_utc, zone.until_utc)
    )
    held = np.ones(time_utc.shape, bool)
    if begin is not None:
        held &= time_utc >= begin
    if end is not None:
        held &= time_utc < end
    return held


def _lying(solved: Rests, held: NDArray[np.bool_]) -> _Lying:
    q = solved.q[:, held].reshape(-1, 3)
    rode = solved.line[:, held, 0].reshape(-1, solved.line.shape[-1])
    good = np.isfinite(q).all(axis=1)
    some, many = _alike(q[good], (_ALIKE_M, _ALIKE_M, _ALIKE_RAD))
    bearing = np.mod(rode[good, L_BEARING] + np.pi, 2.0 * np.pi)
    chain = np.column_stack([bearing, np.nan_to_num(rode[good, L_LYING])])
    return _Lying(some, many, _alike(chain, (_ALIKE_RAD, _ALIKE_M))[0])


def _reach_m(stay: Stay, chain: Floats) -> Floats:
    """How far from the anchor, on the level, chain of some length lies along the bed. [m]

    Where the bed is unknown it is taken as level there: that reaches farthest.
    """
    lie = lie_of(stay)
    along_m = np.arange(np.ceil(chain[:, 1].max()) + 1.0)
    sine, cosine = np.sin(chain[:, :1]), np.cos(chain[:, :1])
    level_m = stay.bay.surface.level_at(
        lie.let_go_east_m + along_m * sine, lie.let_go_north_m + along_m * cosine
    )
    rise_m = np.nan_to_num(np.diff(level_m, axis=1))
    walked_m = np.cumsum(np.hypot(1.0, rise_m), axis=1)
    return np.array(
        [
            np.interp(length_m, [0.0, *row], along_m)
            for length_m, row in zip(chain[:, 1], walked_m, strict=True)
        ]
    )


def _chain(stay: Stay, zone: Zone, lying: _Lying) -> list[Finding]:
    if zone.kind not in NO_ANCHOR or not len(lying.chain):
        return []
    lie = lie_of(stay)
    anchor = np.array([lie.let_go_east_m, lie.let_go_north_m])
    if shapely.Point(anchor).distance(zone.shape) > lying.chain[:, 1].max():
        return []
    ahead = np.column_stack([np.sin(lying.chain[:, 0]), np.cos(lying.chain[:, 0])])
    ends = anchor + _reach_m(stay, lying.chain)[:, None] * ahead
    laid = shapely.linestrings(np.stack([np.broadcast_to(anchor, ends.shape), ends], axis=1))
    over_m = float(shapely.length(shapely.intersection(laid, zone.shape)).max())
    if over_m <= 0.0:
        return []
    named = f"{zone_named(zone)}: {zone_means(zone)}"
    said = f"up to {max(over_m, 1.0):.0f} m of it lie on the bed in the zone {named}"
    return [Finding("Chain", said)]


def _hull(stay: Stay, zone: Zone, lying: _Lying) -> list[Finding]:
    if zone.kind not in (*_UNDER_HULL, "neighbour") or not len(lying.q):
        return []
    plan = hull_outline(stay.boat.hull.length_m, stay.boat.hull.beam_m)
    apart_m = shapely.distance(shapely.polygons(placed(plan, lying.q)), zone.shape)
    over = float(lying.many[apart_m <= 0.0].sum() / lying.many.sum())
    if over > 0.0:
        told = zone_means(zone, of_hull=True)
        said = f"lie over the zone {zone_named(zone)} in {over:.0%} of all states: {told}"
        return [Finding("Hull and keel", said)]
    gap_m = float(apart_m.min())
    if zone.kind != "neighbour" or gap_m > _NEAR_LENGTHS * stay.boat.hull.length_m:
        return []
    said = f"come within {gap_m:.0f} m of the zone {zone_named(zone)}"
    return [Finding("Hull and keel", said)]


def _lines(stay: Stay, zone: Zone, lying: _Lying) -> list[Finding]:
    if zone.kind not in _UNDER_LINES or not len(lying.q):
        return []
    said = []
    shapely.prepare(zone.shape)
    for leg in shore_legs(stay.boat, stay.bay, lie_of(stay)):
        spot = np.array([(leg.cleat.spot.x_m, leg.cleat.spot.y_m)])
        inboard = placed(spot, lying.q)[:, 0]
        ashore = np.broadcast_to([leg.point.east_m, leg.point.north_m], inboard.shape)
        led = shapely.linestrings(np.stack([inboard, ashore], axis=1))
        if shapely.intersects(zone.shape, led).any():
            said.append(Finding(leg.name, f"leads over the zone {zone_named(zone)}: {_RULE}"))
    return said


def over_zones(stay: Stay, time_utc: NDArray[np.datetime64], solved: Rests) -> tuple[Finding, ...]:
    """What chain, hull and lines lie over while a zone is in force, in sentences.

    The chain counts as far as it lies on the bed at each rest, along its bearing from
    the anchor; the hull by its outline in plan; lines straight from cleat to point.

    Parameters
    ----------
    time_utc : datetime64 array, shape (time,)
    solved : Rests
        Arrays (member, time).
    """
    said: list[Finding] = []
    known: dict[bytes, _Lying] = {}
    for zone in stay.bay.zones:
        held = _during(zone, time_utc)
        if held.any():
            hours = held.tobytes()
            lying = known[hours] = known.get(hours) or _lying(solved, held)
            for told in (_chain, _hull, _lines):
                said.extend(told(stay, zone, lying))
    return tuple(said)
