"""If one goes: from letting go to touching, second by second, in the states that count."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import (
    GOES_ON,
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
from shorefast.stay.without_next import States, roomy
from shorefast.stay.without_things import Parting, of_breaking

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
LASTS_S = 300.0
"""She is followed for so long at most. [s]"""
_AT_ONCE_S, _STEP_S, _TOLD_S = 60.0, 0.05, 0.5


class Way(NamedTuple):
    """Her ways in time, state by state.

    seconds : array (state,), to the first touch, NaN where she does not
    of : what she touches, None where nothing; heading_rad : there
    peak_n : array (state, line), the greatest tension on the way [N]
    """

    seconds: Floats
    of: tuple[str | None, ...]
    heading_rad: Floats
    peak_n: Floats


def afloat_in(stay: Stay) -> Afloat:
    """How the stay's boat moves through its water, the current in it."""
    body = underbody(stay.boat.hull, stay.boat.engine)
    if stay.current is None:
        return afloat_of(body)
    speed, toward = stay.current.speed_mps, stay.current.toward_rad
    return afloat_of(body, speed * math.sin(toward), speed * math.cos(toward))


def _steady(stay: Stay, extra: Load) -> Load:
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


def ways(stay: Stay, ready: Moored, states: States, active: Floats, extra: Load) -> Way:
    """Follow some states in time until she touches, lies still, or five minutes are over.

    Parameters
    ----------
    states : States
        Water, wind, and where she lay; she begins still.
    active : array (state, line)
        The lines that are left from the first moment.
    """
    afloat, steady = afloat_in(stay), _steady(stay, extra)
    count = states.q.shape[0]
    seconds, heading = np.full(count, math.nan), np.full(count, math.nan)
    of: list[str | None] = [None] * count
    peak_n = np.zeros(active.shape)
    left, q, begun_s = np.arange(count), states.q, 0.0
    boat = roomy(ready) if not active[:, 0].any() else ready
    while left.size and begun_s < LASTS_S:
        clock = Seconds(min(_AT_ONCE_S, LASTS_S - begun_s), _STEP_S, _TOLD_S)
        some = states.some(left)
        found = drift(boat, afloat, some.path, Laid(q, active[left]), clock, steady)
        peak_n[left] = np.fmax(peak_n[left], found.peak_n)
        touch = _first_touch(stay, found, some.path.level_m)
        for k, (told, what) in enumerate(touch):
            if what is not None:
                seconds[left[k]] = begun_s + found.t_s[told]
                heading[left[k]] = found.q[k, told, 2] % (2.0 * math.pi)
                of[left[k]] = what
        on = (found.ended == GOES_ON) & np.array([what is None for _, what in touch])
        left, q = left[on], found.track[on, -1]
        begun_s += clock.lasts_s
    return Way(seconds, tuple(of), heading, peak_n)


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
