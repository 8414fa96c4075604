"""The bed under a chain that lies straight from its anchor and turns about it."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
_TURN = 2.0 * math.pi
_ARC_RAD = math.radians(1.0)
_STILL_RAD = 1e-9
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
    step = np.diff(bearing_rad)
    return np.asarray(np.mod(step + math.pi, _TURN) - math.pi)


def _fans(bearing_rad: Floats, reach_m: Floats) -> Fans:
    """The fans between successive known states that turn at all."""
    turn = turn_rad(bearing_rad)
    at = np.flatnonzero(np.abs(turn) > _STILL_RAD)
    back = turn[at] < 0.0
    first = np.where(back, bearing_rad[at] + turn[at], bearing_rad[at])
    low_m, high_m = reach_m[at], reach_m[at + 1]
    low_m, high_m = np.where(back, high_m, low_m), np.where(back, low_m, high_m)
    first = np.mod(first, _TURN)
    return Fans(first, first + np.abs(turn[at]), low_m, high_m)


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


def _star(fans: Fans) -> list[BaseGeometry]:
    """All fans together: about the anchor they are a star, told bearing by bearing."""
    if not fans.low_rad.size:
        return []
    fans = _round_once(fans)
    cut = Fans(
        np.clip(fans.low_rad, 0.0, _TURN), np.clip(fans.high_rad, 0.0, _TURN),
        _at(fans, np.clip(fans.low_rad, 0.0, _TURN)), _at(fans, np.clip(fans.high_rad, 0.0, _TURN)),
    )  # fmt: skip
    cut = Fans(*(column[cut.high_rad > cut.low_rad] for column in cut))
    grid = np.append(np.arange(0.0, _TURN, _ARC_RAD), _TURN)
    ends = np.unique(np.concatenate([cut.low_rad, cut.high_rad, grid]))
    reach = _envelope(cut, ends)
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


def _straight(bearing_rad: Floats, reach_m: Floats) -> list[BaseGeometry]:
    """The chain where no fan covers it: states that do not turn to the next, or stand alone."""
    turns = np.abs(turn_rad(bearing_rad)) > _STILL_RAD
    bare = ~(np.append(turns, False) | np.insert(turns, 0, False))
    farthest: dict[float, float] = {}
    for bearing, reach in zip(bearing_rad[bare].tolist(), reach_m[bare].tolist(), strict=True):
        farthest[bearing] = max(reach, farthest.get(bearing, 0.0))
    return [
        shapely.LineString([(0.0, 0.0), (reach * math.sin(bearing), reach * math.cos(bearing))])
        for bearing, reach in farthest.items()
        if reach > 0.0
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
    known = np.isfinite(bearing_rad) & np.isfinite(reach_m)
    runs = _runs(known)
    fans = [_fans(bearing_rad[run], reach_m[run]) for run in runs]
    joined = Fans(*(np.concatenate(column) for column in zip(*fans, strict=True))) if fans else None
    pieces = [] if joined is None else _star(joined)
    for run in runs:
        pieces += _straight(bearing_rad[run], reach_m[run])
    ground = shapely.union_all([one.buffer(0.5 * width_m, quad_segs=_QUAD) for one in pieces])
    return shapely.transform(ground, lambda xy: xy + np.asarray(anchor_m))


def _runs(known: NDArray[np.bool_]) -> list[Ints]:
    """Indices of states that follow one another without a gap."""
    at = np.flatnonzero(known)
    return [run for run in np.split(at, np.flatnonzero(np.diff(at) > 1) + 1) if run.size]
