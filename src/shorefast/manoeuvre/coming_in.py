"""A crew that brings her in by the calls alone, and what comes of it in the time-domain model."""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from shorefast.manoeuvre.seen import LOOK_S, CrewErrors, Eyes, along_and_across, speed_along
from shorefast.manoeuvre.steering import Steering
from shorefast.manoeuvre.way_in import LAID_N, SPEED_SHARE, LinesS, WayIn, in_turn
from shorefast.mooring import Breeze, Handled, Lying, Orders
from shorefast.stay import lie_of

Floats = NDArray[np.float64]
WindAt = Callable[[float], tuple[float, float]]
# from the quarter: a line's end handed up from the tender, by common practice, no source
HAND_UP_S = 15.0
# by hand, and on a winch
TAKE_IN_MPS, WINCH_MPS, HAND_N = 0.4, 0.10, 250.0
# too far off her way to go on
OFF_WAY_M = 12.0
# so near she is held on it
ON_WAY_M = 5.0
_OFF_M = 2.0
_SLACK_M, _SETTLES_S, _TAIL_S, _MOST_S = 1.0, 240.0, 60.0, 3600.0
# the proof: shares of full revs, each so long [s]
_PROVES, _PROVES_S = (0.25, 0.5, 0.75, 1.0), 30.0
# how hard her way is taken off [m/s2], and how near the hold is the hold
_EASE, _NEAR_M = 0.06, 0.8
# where her way is taken off she is no longer steered
_STOPS_M = 4.0
_TIGHT, _HOLDS, _GENTLY = 3.0, 0.4, 3.0
TRACK_COLUMNS = 10


@dataclass(frozen=True)
class CameIn:
    """What came of it.

    Attributes
    ----------
    ended : str
        "lies"; "off her way" where she was set too far off to go on; "touched"; "no hold"
        where the time ran out; "unknown" where her chain came over a bed nobody knows.
    anchor_m : (east, north)
        Where the anchor lies at last; ``off_place_m`` from its place.
    lies : (east, north, heading)
        Where she lies at last, the mean of the last minute.
    off_plan_m, off_plan_rad : float
        From the planned lie.
    most_across_m : float
        Her greatest offset from her way from when the anchor is down until she is stopped.
    least_off_m : float
        Least distance of her stern to the high-water line.
    track : array (look, TRACK_COLUMNS)
        t, east, north, heading, speed ahead, chain out, pull at the roller, its angle, helm,
        chain lying.
    marks : tuple of (name, t_s)
        What was done when.
    """

    ended: str
    anchor_m: tuple[float, float]
    off_place_m: float
    lies: tuple[float, float, float]
    off_plan_m: float
    off_plan_rad: float
    most_across_m: float
    least_off_m: float
    track: Floats
    marks: tuple[tuple[str, float], ...]


class Landed(NamedTuple):
    """The anchor along and across the way in from its place [m]; whether it came down."""

    along_m: float
    across_m: float
    is_down: bool


class _Run:
    """One arrival, look by look."""

    def __init__(
        self,
        way: WayIn,
        crew: CrewErrors,
        lines_s: LinesS,
        draw: np.random.Generator | None,
    ) -> None:
        self.way, self.crew = way, crew
        self.first, self.rest = in_turn(way, lines_s)
        self.eyes = Eyes(crew, draw)
        self.handled: Handled = way.arrival.handled()
        self.steering = Steering(way)
        self.phase, self.since_s, self.line = "gather", 0.0, 0
        self.marks: list[tuple[str, float]] = []
        self.wait: deque[Orders] = deque()
        # a hand that is late goes gently, or it goes to and fro
        self.over_s = LOOK_S + _GENTLY * crew.delay_s
        self.bottom_m = way.bottom_m + self.eyes.depth_m
        self.most_across_m, self.off_way_m = 0.0, OFF_WAY_M
        lie = lie_of(way.arrival.stay)
        self.wanted_m = self.eyes.measured([line.length_m for line in lie.lines], crew.line_m)
        self.chain_m = self.eyes.measured([lie.chain_out_m], crew.chain_m)[0]

    def begin(self) -> None:
        """Put her where the run begins, her stern toward the shore."""
        way = self.way
        self.handled.put(*way.pose_at(way.begins_at_m, way.start_across_m))

    def turn_to(self, phase: str) -> None:
        """Go on to the next phase, and note when."""
        self.phase, self.since_s = phase, self.handled.t_s
        self.marks.append((phase, self.handled.t_s))

    @property
    def for_s(self) -> float:
        """How long this phase has lasted. [s]"""
        return self.handled.t_s - self.since_s

    def look(self, now: Lying) -> Orders:
        """See how she is, and order."""
        error = self.eyes.look()
        along_m, across_m = along_and_across(self.way, now)
        if self.phase == "lay" and self.way.hold_m - along_m > _STOPS_M:
            self.most_across_m = max(self.most_across_m, abs(across_m))
        # where to let go is told by marks abeam, how far off by eye
        by_eye = 0.0 if self.phase == "gather" else error[0]
        seen = along_m + by_eye * self.eyes.near(self.way.hold_m - along_m)
        return {
            "gather": self._under_way, "fall": self._under_way, "lay": self._under_way,
            "hold": self._hold, "prove": self._prove, "rest": self._rest, "settle": self._settle,
        }[self.phase](now, seen, across_m + error[1], error[2])  # fmt: skip

    def _under_way(self, now: Lying, along_m: float, across_m: float, turned: float) -> Orders:
        way = self.way
        left_m = way.hold_m - along_m
        # set off her way she goes as fast as the windlass can follow
        most = way.speed_mps * (1.0 + (1.0 / SPEED_SHARE - 1.0) * min(1.0, abs(across_m) / _OFF_M))
        want = min(most, math.sqrt(2.0 * _EASE * max(0.0, left_m)))
        orders = self.steering.orders(now, across_m, turned, want)
        if self.phase == "gather" and along_m >= way.let_go_at_m + self.eyes.let_go_m:
            self.turn_to("fall")
        elif self.phase == "fall" and now.chain_m >= self.bottom_m:
            self.turn_to("lay")
        elif self.phase == "lay" and (left_m < _NEAR_M or self._is_brought_up(now)):
            self.turn_to("hold")
        return Orders(orders.helm_rad, orders.revs, orders.push, self._veer(now, along_m))

    def _veer(self, now: Lying, along_m: float) -> float:
        if self.phase == "gather":
            return 0.0
        if self.phase == "fall":
            return self.way.arrival.veer_mps if now.chain_m < self.bottom_m else 0.0
        # the hand at the bow sees it: where it comes tight before its call, more
        short_m = self.way.chain_at(max(0.0, along_m)) - now.chain_m
        if now.pull_n > _TIGHT * LAID_N:
            short_m = max(short_m, min(1.0, self.chain_m - now.chain_m))
        return min(self.way.arrival.veer_mps, max(0.0, short_m / LOOK_S))

    def _is_brought_up(self, now: Lying) -> bool:
        return now.chain_m > self.chain_m - 0.1 and speed_along(self.way, now) < 0.05

    def _hold(self, now: Lying, along_m: float, across_m: float, turned: float) -> Orders:
        """Held there while the first lines come, one after the other."""
        left_m = self.way.hold_m - along_m
        want = min(max(0.10 * left_m, -0.15), 0.10)
        orders = self.steering.orders(now, across_m, turned, want)
        if any(self.handled.is_fast(number) for number, _ in self.first):
            orders = Orders()
        orders = replace(orders, revs=max(orders.revs, -_HOLDS))
        self._lines_come(self.first, "prove")
        return replace(orders, veer_mps=self._to_length(now), take_in_mps=self._hauled())

    def _lines_come(self, lines_s: LinesS, then: str) -> None:
        """The next line is fast when its time has come; all in, on to the next phase."""
        if self.line == len(lines_s):
            if self._is_in():
                self.turn_to(then)
                self.line = 0
            return
        number, takes_s = lines_s[self.line]
        if self.for_s >= takes_s:
            self.handled.make_fast(number, self.handled.span_m(number) + _SLACK_M)
            self.marks.append((f"line {number}", self.handled.t_s))
            self.line, self.since_s = self.line + 1, self.handled.t_s

    def _to_length(self, now: Lying) -> float:
        short_m = self.chain_m - now.chain_m
        return short_m / self.over_s if abs(short_m) > 0.05 else 0.0

    def _hauled(self) -> tuple[float, ...]:
        """Each line that is fast hauled to its planned length: by hand, then on a winch."""
        tension, rates = self.handled.lying.tension_n, []
        for k, wanted_m in enumerate(self.wanted_m):
            over_m = self.handled.length_m(k + 1) - wanted_m
            if not self.handled.is_fast(k + 1) or abs(over_m) < 0.02:
                rates.append(0.0)
                continue
            most = TAKE_IN_MPS if tension[k + 1] < HAND_N else WINCH_MPS
            rates.append(min(max(over_m / self.over_s, -TAKE_IN_MPS), most))
        return tuple(rates)

    def _is_in(self) -> bool:
        near = all(
            abs(self.handled.length_m(k + 1) - wanted_m) < 0.3
            for k, wanted_m in enumerate(self.wanted_m)
            if self.handled.is_fast(k + 1)
        )
        return near or self.for_s > _SETTLES_S

    def _prove(self, now: Lying, along_m: float, across_m: float, turned: float) -> Orders:
        """Astern in steps against the anchor, the stern lines fast."""
        step = int(self.for_s / _PROVES_S)
        if step >= len(_PROVES):
            self.turn_to("rest")
        share = _PROVES[min(step, len(_PROVES) - 1)]
        return Orders(revs=-share)

    def _rest(self, now: Lying, along_m: float, across_m: float, turned: float) -> Orders:
        """The lines from the bow, the engine idle."""
        self._lines_come(self.rest, "settle")
        return Orders(veer_mps=self._to_length(now), take_in_mps=self._hauled())

    def _settle(self, now: Lying, along_m: float, across_m: float, turned: float) -> Orders:
        if self.for_s > _SETTLES_S:
            self.phase = "lies"
        return Orders(veer_mps=self._to_length(now), take_in_mps=self._hauled())


def come_in(
    way: WayIn,
    wind_at: WindAt,
    lines_s: LinesS,
    crew: CrewErrors | None = None,
    draw: np.random.Generator | None = None,
) -> CameIn:
    """Bring her in by the calls: run astern, hold, stern lines, proof, the rest, how she lies.

    Parameters
    ----------
    way : WayIn
    wind_at : callable
        From seconds since the run began to the wind at the height of her windage [m/s] and
        where it comes from [rad].
    lines_s : tuple of (number of the line, seconds it takes after the one before)
        In their order.
    crew : CrewErrors
        Its errors; a perfect one where left out.
    draw : numpy Generator, optional
        Draws them.
    """
    run = _Run(way, crew or CrewErrors(), lines_s, draw)
    ended, track = _drive(run, wind_at, frozenset({"lies"}))
    return _told(run, ended, np.array(track))


def lands_off(
    way: WayIn,
    wind_at: WindAt,
    crew: CrewErrors | None = None,
    draw: np.random.Generator | None = None,
) -> Landed:
    """Where a crew's anchor comes down, a perfect one's where left out; as ``come_in``."""
    run = _Run(way, crew or CrewErrors(), (), draw)
    ended, _ = _drive(run, wind_at, frozenset({"lay"}))
    east_m, north_m = run.handled.lying.anchor_m
    de, dn = east_m - way.arrival.anchor[0], north_m - way.arrival.anchor[1]
    sine, cosine = math.sin(way.arrival.way_in_rad), math.cos(way.arrival.way_in_rad)
    return Landed(de * sine + dn * cosine, de * cosine - dn * sine, ended == "lay")


def keeps_her_way(
    way: WayIn,
    wind_at: WindAt,
    crew: CrewErrors | None = None,
    draw: np.random.Generator | None = None,
) -> bool:
    """Whether a crew brings her to the hold, never farther than ``ON_WAY_M`` off her way.

    A perfect one where left out; as ``come_in``.
    """
    run = _Run(way, crew or CrewErrors(), (), draw)
    run.off_way_m = ON_WAY_M
    ended, _ = _drive(run, wind_at, frozenset({"hold"}))
    return ended == "hold" and run.most_across_m <= ON_WAY_M


def most_lean(way: WayIn, wind_at: WindAt) -> float:
    """How far a perfect crew's bow is off her way at most while chain is laid, as a sine.

    Until she is at the hold, or off her way; from the start where her anchor never comes down.
    """
    run = _Run(way, CrewErrors(), (), None)
    _, track = _drive(run, wind_at, frozenset({"hold"}))
    marks = dict(run.marks)
    lay_s, hold_s = marks.get("lay", 0.0), marks.get("hold", math.inf)
    off = np.array([row[3] for row in track if lay_s <= row[0] < hold_s]) - way.arrival.way_in_rad
    return float(np.abs(np.sin(off)).max(initial=0.0))


def set_while_held(way: WayIn, wind_at: WindAt, waits_s: float) -> float:
    """How far a perfect crew's stern is set while she waits at the hold, no line fast. [m]

    Infinite where she does not come to the hold, or touches.
    """
    run = _Run(way, CrewErrors(), ((1, math.inf),), None)
    ended, _ = _drive(run, wind_at, frozenset({"hold"}))
    if ended != "hold":
        return math.inf
    arrival, handled = way.arrival, run.handled
    began_s, place, set_m = handled.t_s, None, 0.0
    while handled.t_s < began_s + waits_s:
        now = handled.lying
        stern = arrival.stern((now.east_m, now.north_m, now.heading_rad))
        place = place or stern
        set_m = max(set_m, math.dist(stern, place))
        if arrival.off_m(*stern) <= 0.0:
            return math.inf
        orders = run.look(now)
        handled.on_for(LOOK_S, orders, Breeze(*wind_at(handled.t_s), arrival.level_m))
    return set_m


def _drive(
    run: _Run, wind_at: WindAt, until: frozenset[str]
) -> tuple[str, list[tuple[float, ...]]]:
    """Look, order, move on, until a phase is reached; how it ended, and the track."""
    arrival, handled = run.way.arrival, run.handled
    run.begin()
    delay = round(run.crew.delay_s / LOOK_S)
    track: list[tuple[float, ...]] = []
    off_m, there = -math.inf, (0.0, 0.0)
    while handled.t_s < _MOST_S:
        now = handled.lying
        track.append(_row(handled.t_s, now))
        if not math.isfinite(now.east_m + now.heading_rad):
            return "unknown", track
        stern = arrival.stern((now.east_m, now.north_m, now.heading_rad))
        # she touches nothing before she has gone as far as it was off
        if off_m - math.dist(stern, there) <= 0.0:
            off_m, there = arrival.off_m(*stern), stern
        run.wait.append(run.look(now))
        orders = run.wait.popleft() if len(run.wait) > delay else Orders()
        if run.phase in until:
            return run.phase, track
        if run.most_across_m > run.off_way_m:
            return "off her way", track
        if off_m <= 0.0:
            return "touched", track
        wind, blow = wind_at(handled.t_s)
        handled.on_for(LOOK_S, orders, Breeze(wind, blow, arrival.level_m))
    return "no hold", track


def _row(t_s: float, now: Lying) -> tuple[float, ...]:
    return (
        t_s, now.east_m, now.north_m, now.heading_rad, now.ahead_mps, now.chain_m, now.pull_n,
        now.angle_rad, now.helm_rad, now.lying_m,
    )  # fmt: skip


def _least_off_m(run: _Run, track: Floats) -> float:
    """Least distance of her stern to the high-water line on the track; infinite without one."""
    arrival, shore = run.way.arrival, run.way.arrival.stay.bay.shore
    if shore is None:
        return math.inf
    stern = np.array([arrival.stern((row[1], row[2], row[3])) for row in track])
    return float(shapely.distance(shore, shapely.points(stern)).min())


def _told(run: _Run, ended: str, track: Floats) -> CameIn:
    arrival = run.way.arrival
    least = math.nan if ended == "unknown" else _least_off_m(run, track)
    tail = track[track[:, 0] > track[-1, 0] - _TAIL_S]
    lies = (float(tail[:, 1].mean()), float(tail[:, 2].mean()), float(tail[:, 3].mean()))
    anchor = run.handled.lying.anchor_m
    return CameIn(
        ended, anchor,
        math.hypot(anchor[0] - arrival.anchor[0], anchor[1] - arrival.anchor[1]),
        lies,
        math.hypot(lies[0] - arrival.planned[0], lies[1] - arrival.planned[1]),
        math.remainder(lies[2] - arrival.planned[2], 2.0 * math.pi),
        run.most_across_m, least, track, tuple(run.marks),
    )  # fmt: skip
