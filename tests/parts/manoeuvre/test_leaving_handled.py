"""Leaving moved in time under engine, windlass and chain: she keeps to the room that is told."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
import pytest

from shorefast.manoeuvre.leaving_away import LATE_S
from shorefast.manoeuvre.leaving_worked import Worked, work_out
from shorefast.mooring import Breeze, Handled, Orders, Scene, driven_of
from shorefast.stay import judge, lie_of, question_of, rode_segments, rooms_there

# she is steered by eye from second to second; the told ways are straight or without a helm
NEAR_ENOUGH_M = 1.5


@dataclass
class Crew:
    """One at the helm, one at the windlass: to the anchor on the slack, then out."""

    worked: Worked
    handled: Handled
    broken_s: float | None = None
    from_m: tuple[float, float] = (0.0, 0.0)

    def orders(self, second: float) -> Orders:
        now, heave = self.handled.lying, -self.handled.windlass_mps[1]
        if now.anchor != "lies" and self.broken_s is None:
            self.broken_s, self.from_m = second, (now.east_m, now.north_m)
        if second < LATE_S + (self.broken_s or 0.0):
            return Orders(veer_mps=heave)
        wanted, revs = self._up_to_anchor() if self.broken_s is None else self._out()
        error = math.remainder(wanted - now.heading_rad, 2.0 * math.pi)
        most = self.handled.driven.most_rad
        helm = min(most, max(-most, 1.5 * error - 2.0 * now.turn_radps))
        return Orders(helm_rad=helm, revs=revs, veer_mps=heave)

    def _up_to_anchor(self) -> tuple[float, float]:
        now, lie = self.handled.lying, lie_of(self.worked.setting.stay)
        east, north = lie.let_go_east_m - now.east_m, lie.let_go_north_m - now.north_m
        near = math.hypot(east, north) < self.worked.setting.stay.boat.roller.x_m + 3.0
        slack = now.pull_n < 300.0
        revs = 0.0 if near or (slack and now.ahead_mps > 0.4) else 0.45 if slack else 0.6
        return math.atan2(east, north), revs

    def _out(self) -> tuple[float, float]:
        now, out = self.handled.lying, self.worked.out.bearing_rad
        east, north = now.east_m - self.from_m[0], now.north_m - self.from_m[1]
        aside_m = east * math.cos(out) - north * math.sin(out)
        wanted = out - math.atan2(aside_m, 15.0)
        far_off = abs(math.remainder(wanted - now.heading_rad, 2.0 * math.pi)) > 0.6
        return wanted, 1.0 if far_off else 0.7


def gone_out(worked: Worked, at: int, entry: int) -> tuple[np.ndarray, Crew]:
    """Her way second by second in one member's gust, until a minute after breaking out."""
    stay, judged = worked.setting.stay, worked.setting.judged
    tried, k = worked.best[at]
    answer, windlass = judged.judgement, stay.boat.windlass
    bare = replace(stay.boat, snubber=None)
    rode = replace(judged.rigged.rode, segments=rode_segments(bare, bare.rode_aboard_m), tail_m=0.0)
    handled = Handled(
        Scene((rode,), judged.rigged.scene.domain, judged.rigged.form),
        driven_of(stay.boat, judged.rigged.form),
        (0.3, windlass.heave_mps), windlass.pull_n,
    )  # fmt: skip
    lie = lie_of(stay)
    handled.anchored(lie.let_go_east_m, lie.let_go_north_m, lie.chain_out_m)
    handled.put(*tried.sets.q[1 << tried.orders[k].lines[-1], entry, k])
    breeze = Breeze(
        float(answer.gust_mps[entry, at]) * judged.rigged.height_share,
        float(answer.wind_from_rad[entry, at]),
        float(np.broadcast_to(answer.water_level_m, answer.gust_mps.shape)[entry, at]),
    )
    crew, way = Crew(worked, handled), []
    for second in range(480):
        way.append(handled.lying.q)
        handled.on_for(1.0, crew.orders(float(second)), breeze)
        if crew.broken_s is not None and second > crew.broken_s + 60.0:
            break
    return np.array(way), crew


@pytest.mark.parametrize(
    ("name", "clock"),
    [("grey_notch/stay", "2026-06-24T22:30"), ("stone_spur/stay", "2026-07-22T20:00")],
)
def test_under_engine_and_windlass_she_keeps_to_the_room_told(cut, name, clock):
    members = 6
    stay = cut(name, members)
    judged = judge(stay)
    at = int(np.searchsorted(judged.judgement.time_utc, np.datetime64(clock)))
    worked = work_out(stay, judged, at)
    tried, k = worked.best[at]
    for entry in range(members):
        way, crew = gone_out(worked, at, entry)
        # hove in as fast as the windlass does, and broken out when it is up and down
        up_s = worked.heaving.up_s - 60.0
        assert crew.broken_s == pytest.approx(up_s, rel=0.1, abs=8.0)
        poses = np.broadcast_to(way[:, None, None, :], (way.shape[0], members, 1, 3))
        rooms = rooms_there(question_of(stay, judged), np.array([at]), poses)
        of = tried.room.names[int(tried.room.of[entry, k])]
        least_m = next(np.nanmin(r.room_m[:, entry, 0]) for r in rooms if r.of == of)
        assert least_m >= tried.room.least_m[entry, k] - NEAR_ENOUGH_M
        # and she is on her way out
        out = np.array([math.sin(worked.out.bearing_rad), math.cos(worked.out.bearing_rad)])
        assert (way[-1, :2] - crew.from_m) @ out > 10.0
