"""Which of the stay's hours are asked of leaving, and how long each needs."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from shorefast.manoeuvre.leaving_light import first_light
from shorefast.stay import Judged, Stay

Ints = NDArray[np.int64]
HOUR = timedelta(hours=1)
_DAY_S, _HALF_S, _WHOLE_S = 86_400.0, 1800, 3600


@dataclass(frozen=True)
class Hours:
    """Numbers of judged times.

    this_hour, in_an_hour, first_light : -1 where the stay does not reach to then
    leave_by : the first at or after the hour the judgement gives to leave by; -1: it gives none
    table : every half hour, of a stay longer than a day every hour
    every : all that are worked out, rising
    """

    this_hour: int
    in_an_hour: int
    first_light: int
    leave_by: int
    table: tuple[int, ...]
    every: Ints

    def until_over(self, judged: Judged, at: int, needs_s: float) -> list[int]:
        """Those after one, up to the first by which what is begun at it is over."""
        over = judged.moment(at) + timedelta(seconds=needs_s)
        later = [int(one) for one in self.every if one > at]
        past = [one for one in later if judged.moment(one) >= over]
        return [one for one in later if not past or one <= past[0]]

    @property
    def moments(self) -> tuple[int, ...]:
        """Those asked by name, each once."""
        named = (self.this_hour, self.in_an_hour, self.first_light)
        return tuple(dict.fromkeys(one for one in named if one >= 0))


def index_at(judged: Judged, moment: datetime) -> int:
    """The first judged time at or after a moment; -1 before the stay or after its end."""
    times = judged.judgement.time_utc.astype("datetime64[s]").astype(np.int64)
    seconds = moment.astimezone(UTC).timestamp()
    if seconds < times[0] or seconds > times[-1]:
        return -1
    return int(np.searchsorted(times, seconds - 0.5))


def hours_of(stay: Stay, judged: Judged, now: int) -> Hours:
    """The hours to work out when it is the judged time ``now``."""
    begun = judged.moment(now)
    dawn = first_light(stay, begun)
    at_dawn = -1 if dawn is None else index_at(judged, dawn)
    table = _table(stay, judged)
    hour_on = index_at(judged, begun + HOUR)
    out = judged.judgement.leave_by_utc
    by = -1 if out is None else index_at(judged, out)
    every = {now, hour_on, at_dawn, by, *table, int(judged.judgement.time_utc.size) - 1} - {-1}
    return Hours(now, hour_on, at_dawn, by, table, np.array(sorted(every), np.int64))


def _table(stay: Stay, judged: Judged) -> tuple[int, ...]:
    """Full and half hours of UTC, full ones alone in a stay of more than a day."""
    seconds = judged.judgement.time_utc.astype("datetime64[s]").astype(np.int64)
    long = (stay.until_utc - stay.from_utc).total_seconds() > _DAY_S
    return tuple(np.flatnonzero(seconds % (_WHOLE_S if long else _HALF_S) == 0).tolist())
