"""Several forecasts for one place made into one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import reduce
from typing import cast

import numpy as np

from shorefast.basis import Basis, Finding
from shorefast.weather.at_times import wind_at
from shorefast.weather.series import Floats, Times, Wind

_Key = tuple[int, int]


def _keys(wind: Wind) -> list[_Key]:
    """Every entry as (member, how many with that number came before)."""
    seen: dict[int, int] = {}
    keys = []
    for member in wind.member.tolist():
        keys.append((member, seen.get(member, 0)))
        seen[member] = seen.get(member, 0) + 1
    return keys


def _spread(values: Floats, wind: Wind, keys: list[_Key], times: Times) -> Floats:
    """Values laid out on the joined members and times, NaN where this wind says nothing."""
    wide = np.full((len(keys), len(times)), np.nan)
    rows = np.array([keys.index(key) for key in _keys(wind)])
    columns = np.searchsorted(times, wind.time_utc)
    wide[np.ix_(rows, columns)] = values
    return wide


def _span(first: Wind, second: Wind) -> tuple[float, tuple[Finding, ...]]:
    spans = {w.gust_over_s for w in (first, second) if np.isfinite(w.gust_mps).any()}
    if len(spans) < 2:
        return (spans.pop() if spans else first.gust_over_s), ()
    said = "gusts of the files hold for spans of different length; all are taken for the longest"
    return max(spans), (Finding("Forecasts", said),)


def _pair(first: Wind, second: Wind) -> Wind:
    keys = sorted(set(_keys(first)) | set(_keys(second)))
    times = np.union1d(first.time_utc, second.time_utc)

    def laid(of: str) -> tuple[Floats, Floats]:
        both = (_spread(getattr(w, of), w, keys, times) for w in (first, second))
        return cast(tuple[Floats, Floats], tuple(both))

    speed, speed_too = laid("wind_mps")
    toward, toward_too = laid("wind_from_rad")
    gust, gust_too = laid("gust_mps")
    # a wind and its direction stay together: never one file's speed with another's direction
    whole = np.isfinite(speed) & np.isfinite(toward)
    better = ~whole & np.isfinite(speed_too) & np.isfinite(toward_too)
    better |= np.isnan(speed) & np.isnan(toward)
    span_s, findings = _span(first, second)
    return Wind(
        member=np.array([member for member, _ in keys], dtype=np.int64),
        time_utc=times,
        wind_mps=np.where(better, speed_too, speed),
        wind_from_rad=np.where(better, toward_too, toward),
        gust_mps=np.where(np.isnan(gust), gust_too, gust),
        gust_over_s=span_s,
        height_m=first.height_m,
        basis=first.basis | second.basis | Basis(findings=findings),
    )


def _disagree(first: Wind, second: Wind) -> bool:
    """Whether both speak of one member's hour and do not say the same."""
    keys = sorted(set(_keys(first)) & set(_keys(second)))
    times = np.intersect1d(first.time_utc, second.time_utc)
    for of in ("wind_mps", "wind_from_rad", "gust_mps"):
        one, other = (_at(getattr(w, of), w, keys, times) for w in (first, second))
        if np.any(np.abs(one - other) > 1e-6):
            return True
    return False


def _at(values: Floats, wind: Wind, keys: list[_Key], times: Times) -> Floats:
    own = _keys(wind)
    rows = np.array([own.index(key) for key in keys], dtype=np.int64)
    taken: Floats = values[np.ix_(rows, np.searchsorted(wind.time_utc, times))]
    return taken


def gathered(winds: Sequence[Wind]) -> tuple[Wind, ...]:
    """Files that complete each other made into one forecast, others left beside it.

    Members are put together by number, times by time: a file of winds and a file of
    gusts of one run become one forecast, and so do files of one hour each. Files
    that say different things of the same member's hour are different forecasts.
    """
    groups: list[Wind] = []
    for wind in winds:
        place = next((i for i, group in enumerate(groups) if not _disagree(group, wind)), None)
        if place is None:
            groups.append(wind)
        else:
            groups[place] = _pair(groups[place], wind)
    return tuple(groups)


def _beside(first: Wind, second: Wind) -> Wind:
    """Both winds' members, the second's numbered on; nothing interpolated."""
    onward = second.member - second.member.min() + first.member.max() + 1
    return _pair(first, replace(second, member=onward))


def _at_all_times(winds: Sequence[Wind]) -> list[Wind]:
    """Every wind at the times of all, by straight lines between its own."""
    times = np.unique(np.concatenate([wind.time_utc for wind in winds]))
    if all(len(wind.time_utc) == len(times) for wind in winds):
        return list(winds)
    said = "the files have different times; between its own each is read by straight lines"
    found = Basis(findings=(Finding("Forecasts", said),))
    moved = [wind_at(wind, times) for wind in winds]
    return [replace(wind, basis=wind.basis | found) for wind in moved]


def joined(winds: Sequence[Wind], *, own_times_only: bool = False) -> Wind:
    """One wind out of several files.

    What completes each other is gathered; a different forecast brings its members,
    numbered on from the last.

    Parameters
    ----------
    winds : sequence of Wind
    own_times_only : bool
        True: nothing is interpolated; where a file has no word at another's hour it
        is unknown. False: between its own times a file is read by straight lines.
    """
    taken = winds if own_times_only else _at_all_times(winds)
    return reduce(_beside, gathered(taken))
