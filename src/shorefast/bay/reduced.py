"""Soundings taken under way: which to believe, and how deep the bed lies under chart datum.

Sums on arrays alone. A sounding is left out only if no slope that a bed holds explains
it; what is left out is told apart by reason, since a spike upwards may be a rock.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

# Our own choices, no source: no yacht of 10 to 20 m runs 20 m/s; a receiver at rest may
# step 30 m; a straight line between fixes is good for 10 s.
FASTEST_MPS = 20.0
STEP_M = 30.0
HOLE_S = 10.0
# The bed rarely stands steeper than 45 degrees; an echo wanders by 1 m and a tenth.
STEEPEST = 1.0
WANDER_M, WANDER_SHARE = 1.0, 0.1
BESIDE = 5
UNSTEADY_S, UNSTEADY_JUMPS, UNSTEADY_SHARE = 15.0, 4, 0.25
ISLAND_LEAST, ISLAND_S = 5, 60.0
UNSEEN_SLOPE, SLOPE_OVER_M = 0.05, 10.0


@dataclass(frozen=True)
class Doubts:
    """Standard deviations that make up a sounding's. Common practice, no source, but one.

    Attributes
    ----------
    sounder_m : float
        Of one echo: the last digit, the sea's motion. [m]
    sound_share : float
        Of the depth: the sounder reckons with 1500 m/s, water has 1440 to 1540.
    boat_m : float
        How deep the transducer is just then: load, heel, squat. [m]
    position_m : float
        Of a fix, each way: 8 m at 95 % over 2.448. [m]
    moment_s : float
        Between a fix and the depth written beside it. [s]
    beam_rad : float
        Half the sounder's beam: on a slope the nearer side answers first.
    water_m : float
        Of the water's height above chart datum at that minute. [m]

    Source
    ------
    gps-sps-2020, 8 m at 95 % as a global average (from memory).
    """

    sounder_m: float = 0.1
    sound_share: float = 0.015
    boat_m: float = 0.1
    position_m: float = 8.0 / 2.448
    moment_s: float = 0.5
    beam_rad: float = 0.17
    water_m: float = 0.2


class Steady(NamedTuple):
    """Why soundings are not believed: flags, shape (sounding,), each in one at most."""

    false_echo: Flags
    unsteady: Flags


def rising(t_s: Floats) -> Flags:
    """The most stamps of a clock that rise one after the other, of equal ones the first."""
    tails: list[float] = []
    holders: list[int] = []
    before = np.full(t_s.size, -1, dtype=np.int64)
    for place, now in enumerate(t_s.tolist()):
        at = bisect_left(tails, now)
        if at < len(tails) and tails[at] == now:
            continue
        before[place] = holders[at - 1] if at else -1
        tails[at : at + 1], holders[at : at + 1] = [now], [place]
    kept = np.zeros(t_s.size, dtype=bool)
    place = holders[-1] if holders else -1
    while place >= 0:
        kept[place] = True
        place = int(before[place])
    return kept


def reachable(t_s: Floats, east_m: Floats, north_m: Floats) -> Flags:
    """Fixes that she can have sailed between, the largest such set of them.

    Parameters
    ----------
    t_s : array, shape (fix,)
        Rising. [s]
    east_m, north_m : arrays, shape (fix,)
    """
    if t_s.size < 2:
        return np.ones(t_s.size, dtype=bool)
    apart = np.hypot(np.diff(east_m), np.diff(north_m))
    run = np.cumsum(np.append(0, apart > FASTEST_MPS * np.diff(t_s) + STEP_M))
    first = np.flatnonzero(np.diff(run, prepend=-1))
    last = np.append(first[1:], t_s.size) - 1
    largest = int(np.argmax(last - first))
    kept = {largest}
    for way in (range(largest + 1, first.size), range(largest - 1, -1, -1)):
        nearest = largest
        for one in way:
            a, b = sorted((nearest, one))
            a, b = int(last[a]), int(first[b])
            far = np.hypot(east_m[b] - east_m[a], north_m[b] - north_m[a])
            if far <= FASTEST_MPS * (t_s[b] - t_s[a]) + STEP_M:
                kept.add(one)
                nearest = one
    return np.isin(run, np.fromiter(kept, dtype=np.int64))


def frozen(place: Floats, went_back: Flags, run_m: Floats) -> Flags:
    """Fixes whose place stands still to the last digit though it cannot.

    Parameters
    ----------
    place : array, shape (fix, 2)
        As written by the receiver.
    went_back : flags, shape (fix,)
        Where its clock went back.
    run_m : array, shape (fix,)
        What she ran since the fix before, by the receiver's own speed. [m]

    Returns
    -------
    flags : all of a run of equal places in which the clock went back, or in which she
        ran more than a receiver's step.
    """
    if not len(place):
        return np.zeros(0, dtype=bool)
    same = np.all(place[1:] == place[:-1], axis=1)
    run = np.cumsum(np.append(0, ~same))
    moved = np.where(np.append(False, same), np.nan_to_num(run_m), 0.0)
    stood = (np.bincount(run, moved) > STEP_M) | (np.bincount(run, went_back) > 0)
    return np.asarray(stood[run] & (np.bincount(run)[run] > 1))


def at_moments(at_s: Floats, fix_s: Floats, values: Floats) -> Floats:
    """Values of fixes in straight lines at moments between them, NaN over holes.

    Parameters
    ----------
    at_s : array, shape (moment,)
    fix_s : array, shape (fix,)
        Rising. [s]
    values : array, shape (value, fix)

    Returns
    -------
    array, shape (value, moment)
    """
    if fix_s.size < 2:
        known = np.isin(at_s, fix_s)
        one = values[:, :1] if fix_s.size else np.full((len(values), 1), np.nan)
        return np.asarray(np.where(known, one, np.nan))
    before = np.clip(np.searchsorted(fix_s, at_s, side="right") - 1, 0, fix_s.size - 2)
    gap_s = fix_s[before + 1] - fix_s[before]
    share = (at_s - fix_s[before]) / gap_s
    known = (share >= 0.0) & (share <= 1.0)
    known &= (gap_s <= HOLE_S) | (share == 0.0) | (share == 1.0)
    mixed = values[:, before] + share * (values[:, before + 1] - values[:, before])
    mixed = np.where(share == 0.0, values[:, before], mixed)
    return np.asarray(np.where(known, np.where(share == 1.0, values[:, before + 1], mixed), np.nan))


def carried(
    east_m: Floats, north_m: Floats, heading_rad: Floats, ahead_m: float, starboard_m: float
) -> tuple[Floats, Floats, Floats]:
    """Places moved along the boat, as from her antenna to her transducer, and their doubt. [m]

    Where the heading is unknown the place stays and the arm's length, each way, is doubt.
    """
    known = np.isfinite(heading_rad)
    sine, cosine = (np.where(known, f(np.nan_to_num(heading_rad)), 0.0) for f in (np.sin, np.cos))
    arm = np.hypot(ahead_m, starboard_m) / np.sqrt(2.0)
    return (
        np.asarray(east_m + ahead_m * sine + starboard_m * cosine),
        np.asarray(north_m + ahead_m * cosine - starboard_m * sine),
        np.where(known, 0.0, arm),
    )


def _allowed(one_m: Floats, other_m: Floats, apart_m: Floats) -> Floats:
    return WANDER_M + WANDER_SHARE * np.minimum(one_m, other_m) + STEEPEST * apart_m


def _beside(values: Floats, ahead: bool) -> Floats:
    """The entries before (or after) each, NaN past the ends, shape (entry, BESIDE)."""
    past = np.full(BESIDE, np.nan)
    row = np.concatenate((values[1:], past) if ahead else (past, values[:-1]))
    return np.lib.stride_tricks.sliding_window_view(row, BESIDE)


def _median(windows: Floats) -> Floats:
    """The middle (the lower of two) of each row's numbers; NaN where there are none."""
    some = np.sum(np.isfinite(windows), axis=1)
    middle = np.maximum(some - 1, 0) // 2
    return np.asarray(np.sort(windows, axis=1)[np.arange(len(windows)), middle])


def _odd(depth_m: Floats, east_m: Floats, north_m: Floats) -> Flags:
    """Whether each depth is far from the running medians on both its sides."""
    odd = []
    for ahead in (False, True):
        middle, east, north = (_median(_beside(v, ahead)) for v in (depth_m, east_m, north_m))
        apart = np.hypot(east - east_m, north - north_m)
        off = np.abs(depth_m - middle) > _allowed(depth_m, middle, apart)
        odd.append(np.where(np.isfinite(middle), off, True))
    return np.asarray(odd[0] & odd[1] & (depth_m.size > 1))


def _jumps(depth_m: Floats, east_m: Floats, north_m: Floats) -> Flags:
    """Whether each depth is off the one before by more than a slope explains."""
    apart = np.hypot(np.diff(east_m), np.diff(north_m))
    off = np.abs(np.diff(depth_m)) > _allowed(depth_m[1:], depth_m[:-1], apart)
    return np.append(False, off) if depth_m.size else np.zeros(0, dtype=bool)


def _around(flags: Flags, half: int) -> NDArray[np.int64]:
    """How many are set from ``half`` entries before each to ``half`` after."""
    total = np.append(0, np.cumsum(flags))
    at = np.arange(flags.size)
    return np.asarray(
        total[np.minimum(at + half + 1, flags.size)] - total[np.maximum(at - half, 0)]
    )


def _half(t_s: Floats) -> int:
    """How many entries make the span in which unsteadiness is looked for."""
    step_s = float(np.median(np.diff(t_s))) if t_s.size > 1 else 0.0
    return int(np.clip(UNSTEADY_S / step_s, BESIDE, 200)) if step_s > 0.0 else BESIDE


def _unsteady(half: int, depth_m: Floats, jumps: Flags) -> Flags:
    """Where so many of the changes round about are jumps that none of them is believed."""
    if depth_m.size < 2:
        return np.zeros(depth_m.size, dtype=bool)
    count = _around(jumps, half)
    changes = _around(np.append(True, np.diff(depth_m) != 0.0), half)
    return np.asarray((count >= UNSTEADY_JUMPS) & (count >= UNSTEADY_SHARE * changes))


def _runs(t_s: Floats, jumps: Flags) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """First and last entry of each run between jumps and holes in time."""
    step_s = np.diff(t_s, prepend=t_s[:1])
    hole = step_s > max(ISLAND_S, 5.0 * float(np.median(step_s)))
    first = np.flatnonzero(np.append(True, (jumps | hole)[1:]))
    return first, np.append(first[1:], t_s.size) - 1


def _islands(t_s: Floats, depth_m: Floats, east_m: Floats, north_m: Floats) -> Flags:
    """Short runs that stand off what was before or came after, and join neither."""
    if depth_m.size < 2:
        return np.zeros(depth_m.size, dtype=bool)
    jumps = _jumps(depth_m, east_m, north_m)
    first, last = _runs(t_s, jumps)
    leaps = jumps[first] | np.append(jumps[first[1:]], False)
    few = (last - first + 1 < ISLAND_LEAST) | (t_s[last] - t_s[first] < UNSTEADY_S)
    few &= leaps
    inner = np.arange(1, first.size - 1)
    a, b = last[inner - 1], first[inner + 1]
    apart = np.hypot(east_m[b] - east_m[a], north_m[b] - north_m[a])
    back = np.abs(depth_m[b] - depth_m[a]) <= _allowed(depth_m[a], depth_m[b], apart)
    brief = t_s[last[inner]] - t_s[first[inner]] < ISLAND_S
    few[inner] |= back & brief & leaps[inner]
    return np.repeat(few, last - first + 1)


def steady(t_s: Floats, east_m: Floats, north_m: Floats, depth_m: Floats) -> Steady:
    """Which soundings are false echoes, and where the sounder had lost the bottom.

    Parameters
    ----------
    t_s, east_m, north_m, depth_m : arrays, shape (sounding,)
        In order of time.
    """
    half = _half(t_s)
    unsteady = _unsteady(half, depth_m, _jumps(depth_m, east_m, north_m))
    false = _odd(depth_m, east_m, north_m) & ~unsteady
    left = np.flatnonzero(~(unsteady | false))
    alone = _islands(t_s[left], depth_m[left], east_m[left], north_m[left])
    false[left[alone]] = True
    bad = false | unsteady
    mostly = 2 * _around(bad, half) > _around(np.ones_like(bad), half)
    return Steady(false, unsteady | (mostly & ~bad))


def slope_along(east_m: Floats, north_m: Floats, depth_m: Floats) -> Floats:
    """How steep the bed is round each sounding, as seen along the track.

    Over at least ten metres and never less than 1 in 20: what lies beside the track was
    not seen (our own choices).
    """
    if not depth_m.size:
        return np.zeros(0)
    at = np.arange(depth_m.size)
    a, b = np.maximum(at - BESIDE, 0), np.minimum(at + BESIDE, depth_m.size - 1)
    run = np.hypot(east_m[b] - east_m[a], north_m[b] - north_m[a])
    rise = np.abs(depth_m[b] - depth_m[a])
    return np.asarray(np.clip(rise / np.maximum(run, SLOPE_OVER_M), UNSEEN_SLOPE, STEEPEST))


def reduced(
    depth_m: Floats, water_m: Floats, slope: Floats, place_m: Floats, doubts: Doubts
) -> tuple[Floats, Floats]:
    """Levels of the bed up from chart datum, and their deviations. [m]

    Parameters
    ----------
    depth_m : array, shape (sounding,)
        Below the surface at that moment. [m]
    water_m : array, shape (sounding,)
        Height of the surface above chart datum at that moment. [m]
    slope : array, shape (sounding,)
    place_m : array, shape (sounding,)
        Deviation of the place, each way; the bed may fall across the track as along it. [m]
    """
    sound = np.hypot(doubts.sounder_m, doubts.sound_share * depth_m)
    beam = slope * depth_m * np.tan(doubts.beam_rad) / 2.0
    parts = (sound, doubts.boat_m, doubts.water_m, beam, np.sqrt(2.0) * slope * place_m)
    return water_m - depth_m, np.sqrt(sum(np.square(part) for part in parts))
