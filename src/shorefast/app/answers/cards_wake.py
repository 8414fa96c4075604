"""The wake-me numbers of the night card, from the stay as judged; nothing is worked out anew."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shorefast.briefing import CardMark
from shorefast.stay import Judged, Judgement, Stay
from shorefast.weather import DEFAULT_SPREAD_RAD

Floats = NDArray[np.float64]

_ABOUT_RAD = DEFAULT_SPREAD_RAD
"""So near a direction counts as the same: a wind's is known no better in a bay."""
_NEAR_WORST = 0.9
"""Hours in which she is used this much of the most count as bad: our choice."""
_MOST_POINTS = 4
"""So many marks ashore are written out; more are not looked at in the dark: our choice."""


def wake_of(stay: Stay, judged: Judged, place_m: tuple[float, float]) -> dict[str, Any]:
    """What the night card tells beside the lines for the watch's own numbers.

    Parameters
    ----------
    place_m : tuple
        Where she lies, east and north. [m]
    """
    judgement = judged.judgement
    return {
        **_gust(judgement),
        **_bad_hours(judged),
        "points": _points(stay, place_m),
    }


def _gust(judgement: Judgement) -> dict[str, Any]:
    """The least gust in which something is past its limit, with the wind it is past it in.

    From about there that gust counts; from elsewhere the least in which something is past
    its limit there, or the hardest reckoned there. Where nothing is past its limit from
    anywhere, the hardest reckoned counts from everywhere.
    """
    gust_mps, use = judgement.gust_mps, judgement.greatest_use
    known = np.isfinite(gust_mps) & np.isfinite(use)
    if not known.any():
        return {}
    past = known & (use > 1.0)
    at = _least_past(gust_mps, past, known)
    told: dict[str, Any] = {"wake_gust_mps": float(gust_mps.flat[at])}
    if not past.any():
        return told
    from_rad = float(judgement.wind_from_rad.flat[at])
    told |= {"wake_from_rad": from_rad, "breaks": _short(judgement, at)}
    elsewhere = known & (np.cos(judgement.wind_from_rad - from_rad) < math.cos(_ABOUT_RAD))
    if elsewhere.any():
        there = _least_past(gust_mps, past & elsewhere, elsewhere)
        told["wake_elsewhere_mps"] = float(gust_mps.flat[there])
        told["wake_elsewhere_past"] = bool((past & elsewhere).any())
    return told


def _least_past(gust_mps: Floats, past: NDArray[np.bool_], known: NDArray[np.bool_]) -> int:
    """The state of the least gust past a limit; where none is, of the hardest known."""
    if past.any():
        return int(np.nanargmin(np.where(past, gust_mps, math.nan)))
    return int(np.nanargmax(np.where(known, gust_mps, math.nan)))


def _short(judgement: Judgement, at: int) -> str:
    """What is past its limit in one state: the part used most, else a room; "" unknown."""
    uses = [(float(part.use.flat[at]), part.name) for part in judgement.parts]
    past = [one for one in uses if one[0] > 1.0]
    rooms = [one.of for one in judgement.room if one.room_m.flat[at] < one.least_wanted_m]
    return max(past)[1] if past else next(iter(rooms), "")


def _bad_hours(judged: Judged) -> dict[str, Any]:
    """The hours about the worst one in which the same member uses her nearly as much."""
    judgement = judged.judgement
    if judgement.worst is None:
        return {}
    member, worst = judgement.worst
    used = judgement.greatest_use[member]
    bad = np.nan_to_num(used) >= _NEAR_WORST * used[worst]
    first = last = worst
    while first > 0 and bad[first - 1]:
        first -= 1
    while last + 1 < bad.size and bad[last + 1]:
        last += 1
    return {"bad_from_utc": judged.moment(first), "bad_until_utc": judged.moment(last)}


def _points(stay: Stay, place_m: tuple[float, float]) -> tuple[CardMark, ...]:
    """Where her lines are fast ashore, nearest first, as seen from where she lies."""
    used = {line.point for line in stay.lie.lines} if stay.lie is not None else set()
    marks = []
    for point in stay.bay.points:
        if point.name in used:
            east_m, north_m = point.east_m - place_m[0], point.north_m - place_m[1]
            bearing_rad = math.atan2(east_m, north_m) % (2.0 * math.pi)
            marks.append(CardMark(point.name, "", bearing_rad, math.hypot(east_m, north_m)))
    return tuple(sorted(marks, key=lambda mark: mark.distance_m)[:_MOST_POINTS])
