"""The wake-me numbers of the night card, from the stay as judged; nothing is worked out anew."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from shorefast.briefing import CardMark
from shorefast.stay import Judged, Judgement, Stay

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
    """The least gust in which something is past its limit; where nothing is, the hardest."""
    gust_mps, use = judgement.gust_mps, judgement.greatest_use
    known = np.isfinite(gust_mps) & np.isfinite(use)
    if not known.any():
        return {}
    past = known & (use > 1.0)
    wanted = np.where(past if past.any() else known, gust_mps, math.nan)
    at = int(np.nanargmin(wanted) if past.any() else np.nanargmax(wanted))
    told = {
        "wake_gust_mps": float(gust_mps.flat[at]),
        "wake_from_rad": float(judgement.wind_from_rad.flat[at]),
    }
    return told | ({"breaks": _most_used(judgement, at)} if past.any() else {})


def _most_used(judgement: Judgement, at: int) -> str | None:
    """The part with the greatest use in one state."""
    uses = [(float(part.use.flat[at]), part.name) for part in judgement.parts]
    known = [one for one in uses if math.isfinite(one[0])]
    return max(known)[1] if known else None


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
