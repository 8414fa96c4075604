"""Many lies of one stay tried in turn: as ``judge``, coarser, and what they share kept."""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable
from dataclasses import dataclass, replace
from typing import NamedTuple, TypeVar

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import (
    Blown,
    GridBed,
    LineNodes,
    Load,
    Moored,
    Rests,
    RodeLine,
    Scene,
    ShoreLine,
    blown,
    coarse_rode,
    put_together,
    rests_alone,
    shore_table,
)
from shorefast.stay.answer import PartUse, Room
from shorefast.stay.by_fetch import sea_by_fetch
from shorefast.stay.judge import bay_wind, times_of
from shorefast.stay.lines_out import Ropes, rode_segments, shore_line, tail_set
from shorefast.stay.parts import Ground, ground_of, parts_in_use, slope_at_anchor
from shorefast.stay.plan import Lie, LieLine, ProofGiven, Stay
from shorefast.stay.proof import proven_of
from shorefast.stay.rigging import (
    RODE,
    Rigged,
    between_lines,
    domain_about,
    friction_of,
    lie_of,
    rig,
    shore_legs,
    start_of,
)
from shorefast.stay.room import room_of
from shorefast.stay.sea import heave_m, sea_down_m
from shorefast.stay.steady import steady_load
from shorefast.stay.verdict import Found, shares_past, use_and_past, uses, verdict_of, worst_at
from shorefast.weather import BayWind, level_at, to_both_sides

Floats = NDArray[np.float64]
T = TypeVar("T")
_PAD_M = 0.05
_SEA_CELL_M = 25.0


class Fineness(NamedTuple):
    """How finely lies are tried.

    members : at most so many entries of the forecast, the most unlike ones; None: all
    every : of the stay's ten minutes every so manieth, the last always
    bearings : on which a rode is laid out; half_fan_m : how far to either side they reach
    bed_step_m : how far apart the bed is read along each [m]
    laid_out_m : how far apart the waters are at which a rode is laid out [m]
    patch_m : wide is the water over which the sea by fetch is taken as one [m]
    """

    members: int | None = None
    every: int = 1
    bearings: int = 3
    half_fan_m: float = 12.0
    bed_step_m: float = 3.0
    patch_m: float = 25.0
    laid_out_m: float = 5.0


COARSE = Fineness(members=8, every=6, bearings=2, half_fan_m=8.0)
WHOLE = Fineness(every=3)
FULL = Fineness(bearings=9, half_fan_m=20.0, bed_step_m=1.0, patch_m=0.0, laid_out_m=1.3)


@dataclass(frozen=True)
class Tried:
    """One lie over the stay, as far as it was tried.

    Attributes
    ----------
    lie : Lie
    member, time_utc : arrays (member,) and (time,)
        Entries of the forecast and times it was tried with.
    names : list of str
        What counts: parts, then rooms.
    use : array (entry, member, time)
        Load over limit, of rooms what is wanted over what is there; NaN unknown.
    greatest, share : arrays (member, time) and (time,)
        Greatest use; share of members past a limit.
    found : Found
        The verdict by these members and hours, leave by, first past, first unknown.
    parts, rooms, rests, ready, ground : what it was worked out from
    """

    lie: Lie
    member: NDArray[np.int64]
    time_utc: NDArray[np.datetime64]
    names: list[str]
    use: Floats
    greatest: Floats
    share: Floats
    found: Found
    parts: tuple[PartUse, ...]
    rooms: tuple[Room, ...]
    rests: Rests
    ready: Moored
    ground: Ground

    @property
    def least_room_m(self) -> float:
        """The least of all rooms, NaN where none is known. [m]"""
        rooms = [room.room_m for room in self.rooms if np.isfinite(room.room_m).any()]
        return float(min(np.nanmin(one) for one in rooms)) if rooms else math.nan

    @property
    def worst(self) -> tuple[int, int] | None:
        """Member and time of the greatest use; None where all is unknown."""
        return worst_at(self.greatest)

    @property
    def worst_use(self) -> float:
        """Greatest use of all; NaN where all is unknown."""
        return self.greatest_up_to(self.greatest.shape[1])

    def greatest_up_to(self, time: int) -> float:
        """Greatest use of the times before one; NaN where none is known."""
        known = self.greatest[:, :time][np.isfinite(self.greatest[:, :time])]
        return float(known.max()) if known.size else math.nan

    @property
    def first_to_give(self) -> str | None:
        """The part with the greatest use; None where all is unknown."""
        if self.worst is None:
            return None
        column = np.nan_to_num(self.use[:, self.worst[0], self.worst[1]], nan=-1.0)
        return self.names[int(np.argmax(column))]

    @property
    def times_held(self) -> int:
        """How many times pass before the first that is past a limit or unknown."""
        bad = ~(self.share <= self._accepted)
        return int(np.argmax(bad)) if bad.any() else self.share.size

    _accepted: float = 0.05


def fan(lie: Lie, start: Floats, fineness: Fineness) -> Floats:
    """Bearings from the anchor toward the boat and to either side of her, rising. [rad]

    In steps, so that lies a little apart share them.
    """
    east_m, north_m = start[0] - lie.let_go_east_m, start[1] - lie.let_go_north_m
    far_m = max(math.hypot(east_m, north_m), 1.0)
    half = min(math.atan2(fineness.half_fan_m, far_m), 0.5 * math.pi)
    middle, half = round(math.atan2(east_m, north_m), 1), 0.05 * (math.ceil(20.0 * half) + 1)
    return middle + half * np.linspace(-1.0, 1.0, fineness.bearings)


def unlike(rows: Floats, count: int) -> NDArray[np.int64]:
    """Numbers of the most unlike rows (row, column), rising: first that of greatest size.

    Each next one is the farthest from all taken before.
    """
    if count >= rows.shape[0]:
        return np.arange(rows.shape[0])
    taken = [int(np.argmax(np.abs(rows).max(axis=1)))]
    apart = np.linalg.norm(rows - rows[taken[0]], axis=1)
    while len(taken) < count:
        taken.append(int(np.argmax(apart)))
        apart = np.minimum(apart, np.linalg.norm(rows - rows[taken[-1]], axis=1))
    return np.sort(np.array(taken))


def _some(wind: BayWind, fineness: Fineness) -> BayWind:
    """The wind at some members and times."""
    times = np.arange(0, wind.time_utc.size, fineness.every)
    if times[-1] != wind.time_utc.size - 1:
        times = np.append(times, wind.time_utc.size - 1)
    members = np.arange(wind.member.size)
    if fineness.members is not None:
        gust, blow = (np.nan_to_num(a[:, times]) for a in (wind.gust_mps, wind.wind_from_rad))
        members = unlike(
            np.hstack([gust**2 * np.sin(blow), gust**2 * np.cos(blow)]), fineness.members
        )
    at = np.ix_(members, times)
    return replace(
        wind,
        member=wind.member[members],
        time_utc=wind.time_utc[times],
        wind_mps=wind.wind_mps[at],
        wind_from_rad=wind.wind_from_rad[at],
        gust_mps=wind.gust_mps[at],
        spread_rad=wind.spread_rad[at],
        told_rad=wind.told_rad[at],
    )


class Trier:
    """Tries many lies of one stay. What they share is worked out once and kept.

    Wind in the bay, water, her wind form and what her gear carries are the stay's; the
    table of a rode is shared by lies with the same anchor, chain and place to lie, that
    of a line ashore by all with the same line, length and height. Sea by fetch is taken
    for a patch of water at a time. The way between two rests is left out.

    Parameters
    ----------
    stay : Stay
        With or without a lie.
    fineness : Fineness
    """

    def __init__(self, stay: Stay, fineness: Fineness = COARSE) -> None:
        self.stay, self.fineness = stay, fineness
        whole = to_both_sides(bay_wind(stay, times_of(stay)))
        self.wind = _some(whole, fineness)
        self.level_m = np.array(
            np.broadcast_to(level_at(stay.water, self.wind.time_utc), self.wind.gust_mps.shape)
        )
        known = self.level_m[np.isfinite(self.level_m)]
        low, high = (float(known.min()), float(known.max())) if known.size else (0.0, 0.0)
        self.middle_m = 0.5 * (low + high)
        levels = 1 + max(1, math.ceil((high - low) / fineness.laid_out_m))
        self.table_m = np.linspace(low - _PAD_M, high + _PAD_M, levels)
        grid = stay.bay.surface.grid
        self._bed = GridBed(grid.west_m, grid.south_m, grid.step_m, grid.level_m)
        self._kept: dict[Hashable, object] = {}

    def _once(self, key: Hashable, make: Callable[[], T]) -> T:
        if key not in self._kept:
            self._kept[key] = make()
        return self._kept[key]  # type: ignore[return-value]

    def forget(self) -> None:
        """Let go of the tables kept: memory for the next lot of lies."""
        self._kept = {}

    def rigged(self, lie: Lie) -> Rigged:
        """The lie rigged, with what all lies have alike taken from the first."""
        stay = replace(self.stay, lie=lie)
        plain: Rigged = self._once("plain", lambda: rig(stay, self.middle_m))
        boat, ropes = stay.boat, Ropes()
        where = (lie.let_go_east_m, lie.let_go_north_m, lie.chain_out_m)
        tail = tail_set(boat, lie.chain_out_m, ropes)
        rode = self._once(
            ("rode", *where),
            lambda: RodeLine(
                RODE, boat.roller.x_m, boat.roller.y_m, boat.roller.z_m, *where[:2],
                rode_segments(boat, lie.chain_out_m, ropes), self._bed,
                friction_of(stay.bay.bottom), tail.length_m if tail is not None else 0.0,
            ),
        )  # fmt: skip
        legs = shore_legs(boat, stay.bay, lie)
        begun = self._once(
            ("start", *where, lie.heading_rad), lambda: start_of(boat, lie, rode, self.middle_m)
        )
        start = between_lines(begun, legs)
        scene = Scene((rode, *(shore_line(leg, ropes) for leg in legs)), domain_about(start))
        return replace(plain, scene=scene, legs=legs, start=start, tail=tail)

    def _ready(self, lie: Lie, rigged: Rigged) -> Moored:
        alike: Blown = self._once("alike", lambda: blown(rigged.form, rigged.arm_m))
        toward = fan(lie, rigged.start, self.fineness)
        where = (lie.let_go_east_m, lie.let_go_north_m, lie.chain_out_m)
        key = ("table", *where, float(toward[0]), float(toward[-1]))
        tables = [
            self._once(
                key,
                lambda: coarse_rode(rigged.rode, self.table_m, toward, self.fineness.bed_step_m),
            )
        ]
        for leg, line in zip(rigged.legs, rigged.scene.lines[1:], strict=True):
            assert isinstance(line, ShoreLine)
            tables.append(self._shore(leg.plan, line))
        return put_together(rigged.scene, tables, self.table_m, alike, rigged.start)

    def _shore(self, plan: LieLine, line: ShoreLine) -> LineNodes:
        key = ("shore", plan.line, plan.doubled, plan.length_m, line.z_m, line.level_m)
        return self._once(key, lambda: shore_table(line, self.table_m))

    def _ground(self, stay: Stay, rigged: Rigged) -> Ground:
        lie, level_m = lie_of(stay), float(self.level_m[0, 0])
        toward = None if stay.proof is None else stay.proof.toward_rad
        where = (lie.let_go_east_m, lie.let_go_north_m, lie.chain_out_m)
        second = lie.second_anchor_ahead_m is not None
        plain: Ground = self._once(("ground", second), lambda: ground_of(stay, None))
        proven = self._once(
            ("proof", *where, lie.heading_rad, toward), lambda: proven_of(stay, rigged, level_m)
        )
        return replace(
            plain, proven=proven, slope_rad=slope_at_anchor(stay, lie.heading_rad + math.pi)
        )

    def _down_m(self, stay: Stay) -> Floats:
        """How far the sea of each hour takes her down, that of the middle of a patch. [m]"""
        lie, wide_m = lie_of(stay), self.fineness.patch_m
        there = (lie.let_go_east_m, lie.let_go_north_m)
        if wide_m > 0.0:
            there = (wide_m * round(there[0] / wide_m), wide_m * round(there[1] / wide_m))
        here = replace(stay, lie=replace(lie, let_go_east_m=there[0], let_go_north_m=there[1]))
        wind = self.wind
        sea = self._once(
            ("sea", there),
            lambda: sea_by_fetch(here, wind.wind_mps, wind.wind_from_rad, self.level_m),
        )
        return sea_down_m(stay, sea)

    def tried(self, lie: Lie, proof: ProofGiven | None = None, gone: tuple[str, ...] = ()) -> Tried:
        """The lie tried.

        Parameters
        ----------
        lie : Lie
            Another let-go point is another lie: ``dataclasses.replace(lie, ...)``.
        proof : ProofGiven, optional
            The proof of this lie, where it is another than the stay's.
        gone : names of lines (or "rode") taken away
        """
        stay = replace(self.stay, lie=lie, proof=proof or self.stay.proof)
        rigged = self.rigged(lie)
        ready = self._ready(lie, rigged)
        wind = self.wind
        states = (self.level_m, wind.gust_mps * rigged.height_share, wind.wind_from_rad)
        extra: Load = steady_load(stay, rigged, self.middle_m).load
        solved = rests_alone(ready, states, ready.without(*gone), extra)
        ground = self._ground(stay, rigged)
        parts = parts_in_use(stay, rigged, ground, solved.line)
        level_m = self.level_m - self._down_m(stay)
        rooms = room_of(stay, solved.q, level_m, heave_m(stay), between=False)
        names, use = uses(parts, rooms)
        greatest, past = use_and_past(use, solved.code)
        share = shares_past(wind.member, past, stay.accepted_share)
        found = verdict_of(stay, wind.time_utc, share)
        return Tried(
            lie, wind.member, wind.time_utc, names, use, greatest, share, found, parts, rooms,
            solved, ready, ground,            stay.accepted_share,
        )  # fmt: skip
