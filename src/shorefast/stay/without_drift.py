"""If one goes: from letting go to touching, second by second, in the states that count."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import (
    DRIFT_COLUMNS,
    GOES_ON,
    GONE_OUT,
    NOT_KNOWN,
    Afloat,
    Drift,
    Laid,
    Load,
    Moored,
    Seconds,
    afloat_of,
    drift,
    underbody,
)
from shorefast.stay.plan import Stay
from shorefast.stay.room import room_of
from shorefast.stay.sea import heave_m
from shorefast.stay.steady import pushed_by, wave_load
from shorefast.stay.without_next import States, Waters
from shorefast.stay.without_things import Parting, of_breaking

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Some = NDArray[np.bool_]
LASTS_S = 300.0
"""She is followed for so long at most. [s]"""
_AT_ONCE_S = 60.0


class Way(NamedTuple):
    """Her ways in time, state by state.

    seconds : array (state,), to the first touch, NaN where she does not
    of : what she touches, None where nothing; heading_rad : there
    peak_n : array (state, line), the greatest tension on the way [N]
    """

    seconds: Floats
    of: list[str | None]
    heading_rad: Floats
    peak_n: Floats


def afloat_in(stay: Stay) -> Afloat:
    """How the stay's boat moves through its water, the current in it."""
    body = underbody(stay.boat.hull, stay.boat.engine)
    if stay.current is None:
        return afloat_of(body)
    speed, toward = stay.current.speed_mps, stay.current.toward_rad
    return afloat_of(body, speed * math.sin(toward), speed * math.cos(toward))


def steady_in(stay: Stay, extra: Load) -> Load:
    """The steady load without the current's: that is in the water she moves through."""
    if stay.current is None or stay.lie is None:
        return extra
    waves = wave_load(stay)
    if waves is None:
        return extra._replace(east_n=0.0, north_n=0.0, moment_npm=0.0)
    pushed = pushed_by(waves.forward_n, waves.starboard_n, waves.turning_nm, stay.lie.heading_rad)
    return extra._replace(
        east_n=pushed.east_n, north_n=pushed.north_n, moment_npm=pushed.moment_npm
    )


class Pace(NamedTuple):
    """How finely she is followed: the step, how often it is told [s], how long. [s]

    soonest : whether it is enough to know the first of all states to touch.
    """

    step_s: float = 0.05
    told_s: float = 0.5
    lasts_s: float = LASTS_S
    soonest: bool = False


FINELY = Pace()


def ways(stay: Stay, waters: Waters, states: States, active: Floats, pace: Pace = FINELY) -> Way:
    """Follow some states in time until she touches, lies still, or five minutes are over.

    Past the near tables she goes on by the wide ones; without the rode, anywhere.

    Parameters
    ----------
    waters : Waters
    states : States
        Water, wind, and where she lay; she begins still.
    active : array (state, line)
        The lines that are left from the first moment.
    pace : Pace
    """
    count = states.q.shape[0]
    way = Way(np.full(count, math.nan), [None] * count, np.full(count, math.nan),
              np.zeros(active.shape))  # fmt: skip
    follow = _Follow(stay, waters, afloat_in(stay), steady_in(stay, waters.extra), pace)
    left, q, begun_s = np.arange(count), states.q, 0.0
    while left.size and begun_s < pace.lasts_s:
        lasts_s = min(_AT_ONCE_S, pace.lasts_s - begun_s)
        ended, q = follow.on(way, _Left(left, states.some(left), q, active[left]), begun_s, lasts_s)
        if pace.soonest and np.isfinite(way.seconds).any():
            break
        on = (ended == GOES_ON) & np.isnan(way.seconds[left])
        left, q = left[on], q[on]
        begun_s += lasts_s
    return way


class _Left(NamedTuple):
    """States still followed: their numbers, states, where she is, the lines that are left."""

    at: Ints
    states: States
    q: Floats
    active: Floats

    def some(self, which: Some) -> _Left:
        return _Left(self.at[which], self.states.some(which), self.q[which], self.active[which])


class _Follow(NamedTuple):
    """All that stays the same while states are followed."""

    stay: Stay
    waters: Waters
    afloat: Afloat
    steady: Load
    pace: Pace

    def on(self, way: Way, left: _Left, begun_s: float, lasts_s: float) -> tuple[Ints, Floats]:
        """Go on for a while: fills ``way``; how each ended, and her state then."""
        count, rode = left.at.size, left.active[:, 0] > 0.0
        ended, last = np.zeros(count, np.int64), np.full((count, DRIFT_COLUMNS), math.nan)

        def followed(boat: Moored, which: Some, given_up: tuple[int, ...] = ()) -> Some:
            some = left.some(which)
            laid = Laid(some.q, some.active)
            clock = Seconds(lasts_s, self.pace.step_s, self.pace.told_s)
            found = drift(boat, self.afloat, some.states.path, laid, clock, self.steady)
            ended[which], last[which] = found.ended, found.track[:, -1]
            out = np.isin(found.ended, given_up)
            self._tell(way, some, begun_s, found, ~out)
            again = np.zeros(count, np.bool_)
            again[np.flatnonzero(which)[out]] = True
            return again

        # those that leave what the near tables know are followed anew by the wide ones
        near = rode & _is_within(self.waters.ready, left.q)
        far = rode & ~near
        if near.any():
            far |= followed(self.waters.ready, near, (GONE_OUT, NOT_KNOWN))
        if far.any():
            followed(self.waters.wide, far)
        if (~rode).any():
            followed(self.waters.free, ~rode)
        return ended, last

    def _tell(self, way: Way, some: _Left, begun_s: float, found: Drift, to_end: Some) -> None:
        """Put down what touched first; of those that are followed anew only the pulls."""
        way.peak_n[some.at] = np.fmax(way.peak_n[some.at], found.peak_n)
        level_m = some.states.path.level_m - some.states.down_m
        for k, (told, what) in enumerate(_first_touch(self.stay, found, level_m)):
            if what is not None and to_end[k]:
                way.seconds[some.at[k]] = begun_s + found.t_s[told]
                way.heading_rad[some.at[k]] = found.q[k, told, 2] % (2.0 * math.pi)
                way.of[some.at[k]] = what


def _is_within(ready: Moored, q: Floats) -> Some:
    space = ready.boat.space
    east, north = q[:, 0], q[:, 1]
    inside = (space.west_m <= east) & (east <= space.east_m)
    inside &= (space.south_m <= north) & (north <= space.north_m)
    return np.asarray(inside)


def _first_touch(stay: Stay, found: Drift, level_m: Floats) -> list[tuple[int, str | None]]:
    """The first told moment without room and what is touched; of every state."""
    q = found.q
    level = np.broadcast_to(level_m[:, None], q.shape[:2])
    rooms = room_of(stay, q, level, heave_m(stay), between=False)
    hit = np.stack([room.touches for room in rooms], axis=-1)
    first: list[tuple[int, str | None]] = []
    for k in range(q.shape[0]):
        any_at = hit[k].any(axis=-1)
        if not any_at.any():
            first.append((0, None))
            continue
        told = int(any_at.argmax())
        first.append((told, rooms[int(hit[k, told].argmax())].of))
    return first


class Swing(NamedTuple):
    """What is loaded most on the way, against what parts it; NaN where nobody knows."""

    part: str | None
    of_breaking: float


def swing_of(partings: tuple[Parting, ...], peak_n: Floats) -> Swing:
    """The greatest load on the way to the next rest over what parts it; peak_n (line,)."""
    share = of_breaking(partings, peak_n)
    if not np.isfinite(share).any() or not float(np.nanmax(share)) > 0.0:
        return Swing(None, math.nan)
    return Swing(partings[int(np.nanargmax(share))].name, float(np.nanmax(share)))
