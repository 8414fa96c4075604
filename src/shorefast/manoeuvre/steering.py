"""Helm, throttle and thruster that keep her on her way astern, by what is seen."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import solve_continuous_are

from shorefast.manoeuvre.held_astern import MOST_OFF_RAD, HeldAstern, held_astern
from shorefast.manoeuvre.seen import LOOK_S, speed_across, speed_along
from shorefast.manoeuvre.way_in import WayIn
from shorefast.mooring import Breeze, Driven, Lying, Orders, forces_driven

Floats = NDArray[np.float64]
Gains = tuple[float, ...]
# what a helmsman minds alike: so many metres off, metres times seconds off, bow off, turning;
# and what of helm and of thruster he gives for it. Our choice
_ALIKE_M, _ALIKE_MS, _ALIKE_RAD, _ALIKE_RADPS = 3.0, 60.0, 0.12, 0.03
_GIVES = (0.4, 0.1)
# her bow a little farther than she is held at in a steady wind
_MOST_OFF, _MOST_SUM_MS = 1.1 * MOST_OFF_RAD, 200.0
_REVS_SUM, _REVS = 0.12, 1.2
_ACROSS, _OFF, _TURN, _PLACE, _SUM = range(5)
_NUDGES = (0.05, 0.03, 0.005)
# of the angle at which the flow parts from a rudder, what is given to it
_PARTS = 1.1
# where she is not held in the wind of the hour: steered as in so much of it, where she is
_LESS = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3)


class Steering:
    """One helmsman: keeps marks in line by heading, heading by helm, speed by throttle."""

    def __init__(self, way: WayIn) -> None:
        self.way, self.sum_m = way, 0.0
        held, breeze = steered_for(way)
        self.revs, self.off = held.revs, held.off_rad
        self.base = way.arrival.way_in_rad + math.pi + self.off
        self.helm, self.push = held.helm_rad, held.push
        self.roller_m = way.arrival.rigged.rode.x_m
        moves, turns = moving(way.driven, way.speed_mps, breeze, held)
        # how a radian of helm and the whole thruster turn her [rad/s2]
        self.helm_turns, self.push_turns = (float(one) for one in turns[_TURN])
        self.by = gains(moves.tobytes(), turns.tobytes(), self.roller_m)

    def orders(self, now: Lying, across_m: float, turned_rad: float, want_mps: float) -> Orders:
        """What to order now.

        Parameters
        ----------
        across_m : float
            Off her way, as seen; above 0 to the right going in. [m]
        turned_rad : float
            By what the compass is off.
        want_mps : float
            Speed astern along the way. [m/s]
        """
        low, high = self._helm_acts(now)
        off = math.remainder(now.heading_rad + turned_rad - self.base, 2.0 * math.pi)
        # her middle's place, from the roller's
        place_m = across_m + self.roller_m * (math.sin(self.off + off) - math.sin(self.off))
        nears_mps = speed_across(self.way, now)
        seen = self._within((nears_mps, off, now.turn_radps, place_m, self.sum_m))
        turn = -sum(a * b for a, b in zip(self.by, seen, strict=True))
        asked = self.helm + turn / self.helm_turns
        helm = min(max(asked, low), high)
        ends, push = helm != asked, self.push
        if self.push_turns:
            # what the helm is short of the thruster does
            push += self.helm_turns * (asked - helm) / self.push_turns
            ends = abs(push) > 1.0
        ends = ends or abs(self.off + off) > _MOST_OFF
        # with no more to give, what is off is not added up
        if not ends or across_m * self.sum_m < 0.0:
            self.sum_m += across_m * LOOK_S
            self.sum_m = min(max(self.sum_m, -_MOST_SUM_MS), _MOST_SUM_MS)
        over = want_mps - speed_along(self.way, now)
        self.revs = min(max(self.revs - LOOK_S * _REVS_SUM * over, -0.9), 0.4)
        revs = min(max(self.revs - _REVS * over, -1.0), 0.8)
        return Orders(helm, revs, min(max(push, -1.0), 1.0))

    def _helm_acts(self, now: Lying) -> tuple[float, float]:
        """Between what helm the flow still follows her rudder: beyond it is given for nothing."""
        driven, rudder = self.way.driven, self.way.driven.rudder
        aside = now.aside_mps + rudder.x_m * now.turn_radps
        flow = math.atan2(aside, max(0.1, -now.ahead_mps))
        most, parts = driven.most_rad, _PARTS * rudder.most_astern / rudder.slope
        middle = min(max(flow, parts - most), most - parts)
        return max(-most, middle - parts), min(most, middle + parts)

    def _within(self, seen: Gains) -> Gains:
        """What is seen, her place made less where it asks for her bow too far off."""
        by = self.by
        lean = -(by[_ACROSS] * seen[_ACROSS] + by[_PLACE] * seen[_PLACE]) / by[_OFF]
        stands = self.off - by[_SUM] * seen[_SUM] / by[_OFF]
        leans = min(max(stands + lean, -_MOST_OFF), _MOST_OFF) - stands
        if abs(leans - lean) < 1e-9:
            return seen
        less = max(0.0, leans / lean)
        return less * seen[_ACROSS], seen[_OFF], seen[_TURN], less * seen[_PLACE], seen[_SUM]


def steered_for(way: WayIn) -> tuple[HeldAstern, Breeze]:
    """How she is held, and the wind it is in: less than the hour's where she is not in that."""
    arrival = way.arrival
    blow = arrival.wind.from_rad - arrival.way_in_rad - math.pi
    felt = arrival.felt_mps(arrival.wind.mean_mps)
    if way.held is not None:
        return way.held, Breeze(felt, blow)
    for part in _LESS:
        held = held_astern(way.driven, way.speed_mps, part * felt, blow, thruster=True)
        if held is not None:
            return held, Breeze(part * felt, blow)
    return HeldAstern(0.0, 0.0, -0.2, 0.0), Breeze(0.0, blow)


def moving(
    driven: Driven, speed_mps: float, breeze: Breeze, held: HeldAstern
) -> tuple[Floats, Floats]:
    """How she moves about her balance astern, made straight, and what helm and thruster do.

    Of speed across her way, bow off it, turning, place across and its sum.
    """

    def goes(across_mps: float, off_rad: float, turn_radps: float) -> Floats:
        bow = held.off_rad + off_rad
        sine, cosine = math.sin(bow), math.cos(bow)
        u = -speed_mps * cosine - across_mps * sine
        v = speed_mps * sine - across_mps * cosine
        x, y, n = forces_driven(
            driven,
            Breeze(breeze.wind_mps, breeze.from_rad - bow),
            (u, v, turn_radps),
            Orders(held.helm_rad, held.revs, held.push),
        )
        du = (x + (driven.surge_kg + driven.munk_kg) * v * turn_radps) / driven.surge_kg
        dv = (y - driven.surge_kg * u * turn_radps) / driven.sway_kg
        return np.array([turn_radps * speed_mps - du * sine - dv * cosine, n / driven.yaw_kgm2])

    moves = np.zeros((5, 5))
    for k, nudge in enumerate(_NUDGES):
        at = [nudge if k == one else 0.0 for one in range(3)]
        ahead, back = goes(*at), goes(*(-one for one in at))
        moves[[_ACROSS, _TURN], k] = (ahead - back) / (2.0 * nudge)
    moves[_OFF, _TURN] = moves[_PLACE, _ACROSS] = moves[_SUM, _PLACE] = 1.0
    rudder, leans = driven.rudder, math.cos(held.off_rad)
    # a radian of helm, its flow not parted, and the whole thruster; to starboard
    side_n = rudder.per * rudder.slope * speed_mps**2
    turns = np.zeros((5, 2))
    for k, (push_n, x_m) in enumerate(
        ((side_n, rudder.x_m), (driven.thruster_n, driven.thruster_x_m))
    ):
        turns[_ACROSS, k] = -push_n * leans / driven.sway_kg
        turns[_TURN, k] = push_n * x_m / driven.yaw_kgm2
    return moves, turns


@lru_cache(maxsize=256)
def gains(moves: bytes, turns: bytes, roller_m: float) -> Gains:
    """Turning to order for each of what ``moving`` tells. [rad/s2]

    That which makes the sum over time of what is minded and what is given the least (the
    linear regulator of quadratic cost, by its algebraic Riccati equation). A helm also sets
    her stern aside as it turns her; together with a thruster, neither way.
    """
    a, both = np.frombuffer(moves).reshape(5, 5).copy(), np.frombuffer(turns).reshape(5, 2)
    b = both[:, :1] / both[_TURN, 0]
    if both[_TURN, 1]:
        b[_ACROSS] = 0.0
    a[_SUM, _OFF] = -roller_m
    place = np.zeros(5)
    place[_PLACE], place[_OFF] = 1.0 / _ALIKE_M, -roller_m / _ALIKE_M
    minded = np.diag([0.0, _ALIKE_RAD**-2, _ALIKE_RADPS**-2, 0.0, _ALIKE_MS**-2])
    given = np.array([[float(np.abs(both[_TURN]) @ _GIVES) ** -2.0]])
    found = solve_continuous_are(a, b, minded + np.outer(place, place), given)
    return tuple((b.T @ found / given)[0].tolist())
