"""Lies put together: where she is meant to lie, her lines, chain and anchor for that."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shorefast.bay import ShorePoint
from shorefast.boat import Cleat, LongLine, Yacht
from shorefast.mooring import BedLine, rode_at_pull
from shorefast.stay.choose_ashore import UNPROVEN, SternEnds
from shorefast.stay.lines_out import rode_segments, rounded_down_m
from shorefast.stay.plan import Lie, LieLine, ProofGiven, Stay
from shorefast.stay.reach import MADE_FAST_M
from shorefast.stay.rigging import friction_of

Floats = NDArray[np.float64]
_STEP_M = 0.1
_LIGHT_N = 400.0


@dataclass(frozen=True)
class Berth:
    """Where she is meant to lie: stern ends, how far off her stern, how her bow points.

    east_m, north_m, heading_rad : midships as meant
    """

    ends: SternEnds
    off_m: float
    east_m: float
    north_m: float
    heading_rad: float


@dataclass(frozen=True)
class Candidate:
    """A lie with the berth it is meant for and the proof it would have."""

    lie: Lie
    berth: Berth
    proof: ProofGiven | None

    @property
    def points(self) -> tuple[str, ...]:
        """Names of the points its lines lead to."""
        return tuple(line.point for line in self.lie.lines)


def berth(boat: Yacht, ends: SternEnds, off_m: float, turned_rad: float) -> Berth:
    """A berth with her stern some way off the water's edge, her bow turned from seaward."""
    heading = math.fmod(ends.seaward_rad + turned_rad + 2.0 * math.pi, 2.0 * math.pi)
    # the stern stays before the mark; she turns about it
    sea, bow, half_m = ends.seaward_rad, heading, 0.5 * boat.hull.length_m
    east_m = ends.mark_east_m + off_m * math.sin(sea) + half_m * math.sin(bow)
    north_m = ends.mark_north_m + off_m * math.cos(sea) + half_m * math.cos(bow)
    return Berth(ends, off_m, east_m, north_m, heading)


def aboard(at: Berth, x_m: float, y_m: float) -> tuple[float, float]:
    """East and north of a place on board as she is meant to lie. [m]"""
    sine, cosine = math.sin(at.heading_rad), math.cos(at.heading_rad)
    return at.east_m + x_m * sine + y_m * cosine, at.north_m + x_m * cosine - y_m * sine


def corner_cleats(boat: Yacht) -> dict[str, Cleat]:
    """The cleat at each corner: "port quarter" and so on; corners without one are left out."""
    found: dict[str, Cleat] = {}
    for cleat in sorted(boat.cleats, key=lambda one: abs(one.spot.x_m)):
        side = "port" if cleat.spot.y_m <= 0.0 else "starboard"
        found[f"{side} {'bow' if cleat.spot.x_m > 0.0 else 'quarter'}"] = cleat
    return found


def straight_m(at: Berth, cleat: Cleat, point: ShorePoint, level_m: float) -> float:
    """The straight way from a cleat to a point, she as meant to lie, the water at a level. [m]"""
    east_m, north_m = aboard(at, cleat.spot.x_m, cleat.spot.y_m)
    up_m = point.height_m - level_m - cleat.spot.z_m
    return math.hypot(point.east_m - east_m, point.north_m - north_m, up_m)


def left_of(boat: Yacht, lines: tuple[LieLine, ...]) -> dict[str, float]:
    """What is left of every line aboard. [m]"""
    left = {line.name: line.length_m for line in boat.lines}
    for one in lines:
        left[one.line] -= one.length_m * (2.0 if one.doubled else 1.0)
    return left


def line_for(
    boat: Yacht, lines: tuple[LieLine, ...], cleat: Cleat, needed_m: float
) -> LongLine | None:
    """The line to take for one more leg: an unused one; else a used one with enough left.

    A second leg of one line leads from the same cleat: the bight stays on board.
    """
    used = {one.line for one in lines}
    left = left_of(boat, lines)
    for line in boat.lines:
        if line.name not in used and left[line.name] >= needed_m + MADE_FAST_M:
            return line
    at = {one.line for one in lines if one.cleat == cleat.name and not one.doubled}
    for line in boat.lines:
        if line.name in at and left[line.name] >= needed_m + 2.0 * MADE_FAST_M:
            return line
    return None


def with_line(
    stay: Stay, one: Candidate, cleat: Cleat, point: ShorePoint, level_m: float, share: float = 1.0
) -> Candidate | None:
    """The candidate with one line more, a share of the straight way long; None: none is left."""
    length_m = rounded_down_m(share * straight_m(one.berth, cleat, point, level_m))
    line = line_for(stay.boat, one.lie.lines, cleat, length_m)
    if line is None or length_m < _STEP_M:
        return None
    more = LieLine(line.name, cleat.name, point.name, length_m)
    return replace(one, lie=replace(one.lie, lines=(*one.lie.lines, more)))


def doubled_back(stay: Stay, one: Candidate, number: int) -> Candidate | None:
    """The candidate with one of its lines led out and back; None where it is too short."""
    line = one.lie.lines[number]
    if line.doubled:
        return None
    rest = tuple(other for i, other in enumerate(one.lie.lines) if i != number)
    if left_of(stay.boat, rest)[line.line] < 2.0 * line.length_m + MADE_FAST_M:
        return None
    if any(other.line == line.line for other in rest):
        return None
    lines = tuple(
        replace(other, doubled=True) if i == number else other
        for i, other in enumerate(one.lie.lines)
    )
    return replace(one, lie=replace(one.lie, lines=lines))


def reach_m(stay: Stay, chain_m: float, depth_m: float, pull_n: float) -> float:
    """Level distance from anchor to roller under a light pull over a level bed. [m]

    depth_m : roller above the bed. NaN where the chain does not reach up.
    """
    if not depth_m < chain_m:
        return math.nan
    flat = BedLine(np.array([-1.0, 1.0]), np.zeros(2))
    segments = rode_segments(stay.boat, chain_m)
    form = rode_at_pull(segments, flat, friction_of(stay.bay.bottom), depth_m, pull_n)
    return form.distance_m


def let_go(
    stay: Stay, at: Berth, chain_m: float, toward_rad: float, reach: dict[tuple[float, int], float]
) -> tuple[float, float] | None:
    """Where to let go so that the chain just pulls a little as she lies; None: nowhere.

    toward_rad : from the roller to the anchor; reach : kept, by chain and whole metres of
    depth, from one asking to the next.
    """
    roller = stay.boat.roller
    east_m, north_m = aboard(at, roller.x_m, roller.y_m)
    sine, cosine = math.sin(toward_rad), math.cos(toward_rad)
    far_m = 0.8 * chain_m
    for _ in range(6):
        bed_m = float(stay.bay.surface.level_at(east_m + far_m * sine, north_m + far_m * cosine))
        if not math.isfinite(bed_m):
            return None
        level_m = float(np.nanmedian(stay.water.height_m))
        depth = round(level_m + roller.z_m - bed_m)
        key = (chain_m, depth)
        if key not in reach:
            reach[key] = reach_m(stay, chain_m, float(depth), _LIGHT_N)
        if not math.isfinite(reach[key]):
            return None
        far_m = 0.5 * (far_m + reach[key])
    return east_m + far_m * sine, north_m + far_m * cosine


def proof_for(stay: Stay, heading_from_anchor_rad: float) -> ProofGiven | None:
    """The stay's proof, pulled from the anchor toward the berth; None where none is given.

    In tenths of a degree, so that a stay file tells it whole.
    """
    if stay.proof is None:
        return None
    toward_deg = round(math.degrees(heading_from_anchor_rad), 1) % 360.0
    return replace(stay.proof, toward_rad=math.radians(toward_deg))


def toward_boat_rad(lie: Lie, at: Berth) -> float:
    """Bearing from the anchor to where she is meant to lie. [rad]"""
    bearing = math.atan2(at.east_m - lie.let_go_east_m, at.north_m - lie.let_go_north_m)
    return math.fmod(bearing + 2.0 * math.pi, 2.0 * math.pi)


def plain_lie(
    stay: Stay,
    at: Berth,
    anchor: tuple[float, float],
    chain_m: float,
    level_m: float,
) -> Candidate | None:
    """The berth's stern lines and the anchor as a lie; None where no line is long enough."""
    lie = Lie(round(anchor[0], 1), round(anchor[1], 1), chain_m, at.heading_rad, ())
    made: Candidate | None = Candidate(lie, at, proof_for(stay, toward_boat_rad(lie, at)))
    corners = corner_cleats(stay.boat)
    names: tuple[str, ...] = ("port quarter", "starboard quarter")
    if len(at.ends.points) == 1:
        point = at.ends.points[0]
        names = _nearest(at, {n: corners[n] for n in names if n in corners}, point)
    for name, point in zip(names, at.ends.points, strict=False):
        if made is None or name not in corners:
            return None
        made = with_line(stay, made, corners[name], point, level_m)
    return made


def _nearest(at: Berth, cleats: dict[str, Cleat], point: ShorePoint) -> tuple[str, ...]:
    """The corner nearest a point; none where there is none."""
    names = sorted(cleats, key=lambda name: straight_m(at, cleats[name], point, 0.0))
    return tuple(names[:1])


def chains(boat: Yacht, shares: tuple[float, ...]) -> tuple[float, ...]:
    """Lengths of chain to try, whole metres, the most first. [m]"""
    whole = [math.floor(share * boat.rode_aboard_m) for share in shares]
    return tuple(sorted({float(m) for m in whole if m >= 5}, reverse=True))


def unproven(stay: Stay, lie: Lie) -> bool:
    """Whether a line of the lie leads to unproven shore."""
    kinds = {point.name: point.kind for point in stay.bay.points}
    return any(kinds.get(line.point) == UNPROVEN for line in lie.lines)


def crossed(ends: list[tuple[tuple[float, float], tuple[float, float]]]) -> bool:
    """Whether two of the stretches from cleat (or roller) to far end cross in plan."""
    for i, (a, b) in enumerate(ends):
        for c, d in ends[i + 1 :]:
            if _side(a, b, c) * _side(a, b, d) < 0.0 and _side(c, d, a) * _side(c, d, b) < 0.0:
                return True
    return False


def _side(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
