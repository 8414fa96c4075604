"""The bed under a chain that lies straight from its anchor and turns about it."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

Floats = NDArray[np.float64]
_TURN = 2.0 * math.pi
_ARC_RAD = math.radians(1.0)
_STILL_RAD, _HAIR_M = 1e-9, 1e-6
_QUAD = 4


class Fans(NamedTuple):
    """What a chain passes over from state to state, arrays (fan,).

    low_rad, high_rad : bearings it lies between, the first in 0 to 2 pi
    low_m, high_m : how far it lies at each of them
    """

    low_rad: Floats
    high_rad: Floats
    low_m: Floats
    high_m: Floats


def turn_rad(bearing_rad: Floats) -> Floats:
    """From each bearing to the next, the short way round. Shape (one less,)."""
    step = bearing_rad[1:] - bearing_rad[:-1]
    return np.asarray(np.mod(step + math.pi, _TURN) - math.pi)


def _fans(bearing_rad: Floats, reach_m: Floats) -> tuple[Fans, NDArray[np.bool_]]:
    """The fans between successive known states that turn at all; which states have one."""
    turn = np.where(np.isfinite(reach_m[1:] + reach_m[:-1]), turn_rad(bearing_rad), 0.0)
    turns = np.nan_to_num(np.abs(turn)) > _STILL_RAD
    at = np.flatnonzero(turns)
    back = turn[at] < 0.0
    first = np.where(back, bearing_rad[at] + turn[at], bearing_rad[at])
    low_m, high_m = reach_m[at], reach_m[at + 1]
    low_m, high_m = np.where(back, high_m, low_m), np.where(back, low_m, high_m)
    first = np.mod(first, _TURN)
    fanned = np.append(turns, False) | np.insert(turns, 0, False)
    return Fans(first, first + np.abs(turn[at]), low_m, high_m), fanned


def _round_once(fans: Fans) -> Fans:
    """The same with all that lies past north also told a turn earlier."""
    past = fans.high_rad > _TURN
    low, high = fans.low_rad[past] - _TURN, fans.high_rad[past] - _TURN
    return Fans(
        np.concatenate([fans.low_rad, low]), np.concatenate([fans.high_rad, high]),
        np.concatenate([fans.low_m, fans.low_m[past]]),
        np.concatenate([fans.high_m, fans.high_m[past]]),
    )  # fmt: skip


def _envelope(fans: Fans, ends: Floats) -> Floats:
    """How far any fan reaches at both ends of each interval between bearings; 0: none does.

    Every fan begins and ends at one of the bearings, so that it covers an interval whole
    or not at all. Shape (interval, 2).
    """
    reach = np.zeros((ends.size - 1, 2))
    first, last = np.searchsorted(ends, fans.low_rad), np.searchsorted(ends, fans.high_rad)
    slope = (fans.high_m - fans.low_m) / (fans.high_rad - fans.low_rad)
    for k in range(fans.low_rad.size):
        at = slice(first[k], last[k])
        far = fans.low_m[k] + slope[k] * (ends[first[k] : last[k] + 1] - fans.low_rad[k])
        np.maximum(reach[at, 0], far[:-1], out=reach[at, 0])
        np.maximum(reach[at, 1], far[1:], out=reach[at, 1])
    return reach


def _envelope_of(fans: Fans) -> tuple[Floats, Floats]:
    """Bearings round the compass between which all fans together are told, and that envelope."""
    fans = _round_once(fans)
    low_rad, high_rad = (np.clip(ends, 0.0, _TURN) for ends in (fans.low_rad, fans.high_rad))
    cut = Fans(low_rad, high_rad, _at(fans, low_rad), _at(fans, high_rad))
    cut = Fans(*(column[high_rad > low_rad] for column in cut))
    grid = np.append(np.arange(0.0, _TURN, _ARC_RAD), _TURN)
    ends = np.unique(np.concatenate([cut.low_rad, cut.high_rad, grid]))
    return ends, _envelope(cut, ends)


def _star(ends: Floats, reach: Floats) -> list[BaseGeometry]:
    """All fans together: about the anchor they are a star, told bearing by bearing."""
    corners = np.stack([ends[:-1], reach[:, 0], ends[1:], reach[:, 1]], axis=-1)
    covered = np.flatnonzero(reach.max(axis=1) > 0.0)
    runs = np.split(covered, np.flatnonzero(np.diff(covered) > 1) + 1)
    whole = covered.size == len(reach)
    return [_sector(corners[run], whole=whole) for run in runs if run.size]


def _at(fans: Fans, bearing_rad: Floats) -> Floats:
    """How far each fan reaches at a bearing of its own. [m]"""
    share = (bearing_rad - fans.low_rad) / (fans.high_rad - fans.low_rad)
    return np.asarray(fans.low_m + share * (fans.high_m - fans.low_m))


def _sector(corners: Floats, *, whole: bool) -> BaseGeometry:
    """One polygon of the star, corners (interval, 4): bearing and reach at both its ends."""
    rows = corners.reshape(-1, 2)
    edge = np.stack([rows[:, 1] * np.sin(rows[:, 0]), rows[:, 1] * np.cos(rows[:, 0])], axis=-1)
    edge = edge if whole else np.vstack([[(0.0, 0.0)], edge])
    return shapely.Polygon(edge)


def _straight(
    ends: Floats, reach: Floats, bearing_rad: Floats, reach_m: Floats
) -> list[BaseGeometry]:
    """The chain where no fan covers it: states that lie beyond the star, each bearing once."""
    bearing = np.mod(bearing_rad, _TURN)
    at = np.clip(np.searchsorted(ends, bearing, "right") - 1, 0, len(reach) - 1)
    share = (bearing - ends[at]) / (ends[at + 1] - ends[at])
    inside = reach[at, 0] + share * (reach[at, 1] - reach[at, 0]) >= reach_m - _HAIR_M
    farthest: dict[float, float] = {}
    for turn, far_m in zip(bearing[~inside].tolist(), reach_m[~inside].tolist(), strict=True):
        farthest[turn] = max(far_m, farthest.get(turn, 0.0))
    return [
        shapely.LineString([(0.0, 0.0), (far_m * math.sin(turn), far_m * math.cos(turn))])
        for turn, far_m in farthest.items()
        if far_m > 0.0
    ]


def ground_of_path(
    anchor_m: tuple[float, float], bearing_rad: Floats, reach_m: Floats, width_m: float
) -> BaseGeometry:
    """The bed under a chain over a row of states, each turning straight to the next.

    The chain lies straight from the anchor; from state to state it turns the short way
    round while its lying length changes evenly. Its own width is added all round.

    Parameters
    ----------
    anchor_m : (east, north)
    bearing_rad, reach_m : arrays, shape (state,)
        Which way the chain lies from the anchor, and how far, level. NaN breaks the row:
        nothing is put between a state and one that nobody knows.
    width_m : float

    Returns
    -------
    polygon or multipolygon in the bay's plane; empty where no chain lies.
    """
    fans, fanned = _fans(bearing_rad, reach_m)
    ends, reach = _envelope_of(fans)
    bare = np.isfinite(bearing_rad) & np.isfinite(reach_m) & ~fanned
    pieces = _star(ends, reach) + _straight(ends, reach, bearing_rad[bare], reach_m[bare])
    ground = shapely.union_all([one.buffer(0.5 * width_m, quad_segs=_QUAD) for one in pieces])
    return shapely.transform(ground, lambda xy: xy + np.asarray(anchor_m))
