"""Where the run begins, so that the anchor comes down in its place."""

from __future__ import annotations

import math
from dataclasses import replace

from shorefast.manoeuvre.coming_in import lands_off
from shorefast.manoeuvre.way_in import WayIn

# so near its place it is left [m]
CLOSE_M = 0.1
_ROUNDS, _TRIED_M, _MOST_M, _STEP_M = 6, 1.0, 30.0, 4.0


def started(way: WayIn, close_m: float = CLOSE_M) -> WayIn:
    """The way in begun so that in the mean wind the anchor comes down in its place.

    A perfect crew's run is tried in the time-domain model; where it begins across her way,
    and how early the anchor goes, are moved by what it missed until that is ``close_m``
    (Newton's steps on tried differences). The best of them where it is never so near.
    """
    best, least_m = way, math.inf
    for _ in range(_ROUNDS):
        along_m, across_m = _lands(way)
        missed_m = math.hypot(along_m, across_m)
        if missed_m < least_m:
            best, least_m = way, missed_m
        if missed_m < close_m:
            break
        way = _better(way, along_m, across_m)
    return best


def _lands(way: WayIn) -> tuple[float, float]:
    arrival = way.arrival
    wind = arrival.felt_mps(arrival.wind.mean_mps), arrival.wind.from_rad
    along_m, across_m, _ = lands_off(way, lambda _t_s: wind)
    return along_m, across_m


def _moved(way: WayIn, across_m: float, early_m: float) -> WayIn:
    across = min(max(way.start_across_m + across_m, -_MOST_M), _MOST_M)
    return replace(way, start_across_m=across, early_m=way.early_m + early_m)


def _better(way: WayIn, along_m: float, across_m: float) -> WayIn:
    """One of Newton's steps: what a metre across and a metre earlier do to where it lands."""
    a_along, a_across = _lands(_moved(way, _TRIED_M, 0.0))
    e_along, e_across = _lands(_moved(way, 0.0, _TRIED_M))
    a, b = a_along - along_m, e_along - along_m
    c, d = a_across - across_m, e_across - across_m
    size = a * d - b * c
    if abs(size) < 0.05:
        return _moved(way, 0.0, along_m)
    across = -(d * along_m - b * across_m) / size
    early = -(a * across_m - c * along_m) / size
    return _moved(way, *(min(max(step, -_STEP_M), _STEP_M) for step in (across, early)))
