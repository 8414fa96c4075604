"""Helm, throttle and thruster that keep her on her way astern, by what is seen."""

from __future__ import annotations

import math

from shorefast.manoeuvre.held_astern import MOST_OFF_RAD, HeldAstern, turning_on
from shorefast.manoeuvre.seen import LOOK_S, speed_across, speed_along
from shorefast.manoeuvre.way_in import WayIn
from shorefast.mooring import Breeze, Lying, Orders

# how quickly a helmsman answers her heading, and how steadily; of her place three times slower
_ANSWER_RADPS, _STEADY, _SLOWER, _CLOSES = 0.10, 0.9, 3.0, 1.2
# a little beyond what she is held at in a steady wind
_MOST_OFF, _LEAN_SUM = 1.1 * MOST_OFF_RAD, 0.01
_REVS_SUM, _REVS, _FULL_PUSH_RAD = 0.12, 1.2, 0.8


class Steering:
    """One helmsman: keeps marks in line by heading, heading by helm, speed by throttle."""

    def __init__(self, way: WayIn) -> None:
        held = way.held
        self.way, self.sum_m = way, 0.0
        self.revs = held.revs if held else -0.2
        self.off = held.off_rad if held else 0.0
        self.base = way.arrival.way_in_rad + math.pi + self.off
        self.helm, self.push = (held.helm_rad, held.push) if held else (0.0, 0.0)
        driven, speed = way.driven, way.speed_mps
        rudder = driven.rudder
        # how fast a radian of helm turns her, and how fast she falls off by herself
        gain = rudder.per * rudder.slope * speed**2 * abs(rudder.x_m) / driven.yaw_kgm2
        blow = way.arrival.wind.from_rad - way.arrival.way_in_rad - math.pi
        breeze = Breeze(way.arrival.felt_mps(way.arrival.wind.mean_mps), blow)
        steady = held or HeldAstern(0.0, 0.0, -0.2, 0.0)
        falls = max(0.0, turning_on(driven, speed, breeze, steady)) / driven.yaw_kgm2
        answer = math.sqrt(_ANSWER_RADPS**2 + falls)
        self.turn_for = (answer**2 + falls) / gain
        self.check_s = 2.0 * _STEADY * answer / gain
        self.thrust_for = 1.0 / _FULL_PUSH_RAD if driven.thruster_n > 0.0 else 0.0
        self.closes_s = _CLOSES / answer
        self.lean_radpm = _ANSWER_RADPS / (_SLOWER * speed)

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
        self.sum_m = min(max(self.sum_m + across_m * LOOK_S, -200.0), 200.0)
        nears_m = self.closes_s * speed_across(self.way, now)
        lean = self.lean_radpm * (across_m + nears_m + _LEAN_SUM * self.sum_m)
        off = self.off - lean
        wanted = self.base - self.off + min(max(off, -_MOST_OFF), _MOST_OFF)
        off = math.remainder(wanted - now.heading_rad - turned_rad, 2.0 * math.pi)
        turn = self.turn_for * off - self.check_s * now.turn_radps
        driven = self.way.driven
        helm = min(max(self.helm - turn, -driven.most_rad), driven.most_rad)
        # what the helm is short of the thruster does; astern, helm turns her the other way
        push = self.push - self.thrust_for * (self.helm - turn - helm)
        over = want_mps - speed_along(self.way, now)
        self.revs = min(max(self.revs - LOOK_S * _REVS_SUM * over, -0.9), 0.4)
        revs = min(max(self.revs - _REVS * over, -1.0), 0.8)
        return Orders(helm, revs, min(max(push, -1.0), 1.0))
