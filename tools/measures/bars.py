"""A rode as a chain of straight bars of least energy over any bed, with friction.

Of all ways to lead the bars from anchor to roller, none of them under the bed, the chain
takes the one with the least sum of tension times length, the tension falling along it from
the roller by weight times height, by friction where it lies and by the capstan law over
what it turns on. Tension and way are found in turn until neither changes. The corners of
the bed are joints. No catenary, no march from the anchor: nothing of the statics it is
held against.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import solve_banded
from scipy.optimize import brentq

Floats = NDArray[np.float64]
BAR_M = 0.15
_ON_BED_M = 1e-9
# a bar without tension has no way of its own
_STIFF_NPM = 1e-6


@dataclass(frozen=True)
class Chain:
    """What hangs where: pieces from the anchor, the bed, friction, roller.

    pieces : rows of unstretched length [m], weight [N/m], EA [N]
    along_m, level_m : corners of the bed, from the anchor
    bow_m : level of the roller; distance_m : how far off it is
    """

    pieces: Floats
    along_m: Floats
    level_m: Floats
    friction: float
    bow_m: float
    distance_m: float

    def bed_at(self, x: Floats) -> Floats:
        """Level of the bed; its end pieces go on."""
        rise = np.diff(self.level_m) / np.diff(self.along_m)
        k = np.clip(np.searchsorted(self.along_m, x) - 1, 0, rise.size - 1)
        return np.asarray(self.level_m[k] + rise[k] * (x - self.along_m[k]))

    def joints(self) -> Floats:
        """Places of the joints: every corner of the bed, and between them every 15 cm."""
        inside = (self.along_m > 0.0) & (self.along_m < self.distance_m)
        corners = np.concatenate([[0.0], self.along_m[inside], [self.distance_m]])
        parts = [
            np.linspace(a, b, max(2, math.ceil((b - a) / BAR_M) + 1))[:-1]
            for a, b in pairwise(corners)
        ]
        return np.concatenate([*parts, [self.distance_m]])


@dataclass(frozen=True)
class Led:
    """A chain as it lies: tension at the roller, its level part, at the shank [N]; length [m]."""

    bow_n: float
    level_n: float
    shank_n: float
    length_m: float


def _downhill(z: Floats, across: Floats, w: Floats, c: Floats) -> tuple[Floats, Floats, Floats]:
    """Slope of the sum of tension times length by each inner joint's height; its bands."""
    rise = np.diff(z)
    run = np.hypot(across, rise)
    tension = w * 0.5 * (z[1:] + z[:-1]) + c
    pull = tension * rise / run
    half = 0.5 * w * run
    first = half[:-1] + half[1:] + pull[:-1] - pull[1:]
    bend = tension * across**2 / run**3
    leans = w * rise / run
    return first, bend[:-1] + bend[1:] + leans[:-1] - leans[1:], -bend[1:-1]


def _cost(z: Floats, across: Floats, w: Floats, c: Floats) -> float:
    return float(np.sum((w * 0.5 * (z[1:] + z[:-1]) + c) * np.hypot(across, np.diff(z))))


def _hung(z: Floats, floor: Floats, across: Floats, w: Floats, c: Floats) -> Floats:
    """The joints' heights of least cost, none under the floor, by damped Newton steps."""
    drag, now = 0.0, _cost(z, across, w, c)
    for _ in range(200):
        first, own, beside = _downhill(z, across, w, c)
        held = (z[1:-1] <= floor[1:-1]) & (first > 0.0)
        if np.abs(np.where(held, 0.0, first)).max() < 1e-7:
            break
        bands = np.zeros((3, first.size))
        bands[1] = np.where(held, 1.0, np.abs(own) + drag + _STIFF_NPM)
        bands[0, 1:] = np.where(held[:-1] | held[1:], 0.0, beside)
        bands[2, :-1] = bands[0, 1:]
        moved = z.copy()
        step = -solve_banded((1, 1), bands, np.where(held, 0.0, first))
        moved[1:-1] = np.maximum(floor[1:-1], z[1:-1] + step)
        then = _cost(moved, across, w, c)
        if then <= now + 1e-12 * abs(now):
            z, now, drag = moved, then, 0.3 * drag
        else:
            drag = max(4.0 * drag, 1.0)
    return z


@dataclass
class _Bars:
    chain: Chain
    across: Floats
    floor: Floats
    z: Floats

    def kinds(self, run: Floats, strain: Floats) -> tuple[Floats, Floats]:
        """Weight a stretched metre and EA of every bar, by how far along the line it is.

        Places are told as shares of the whole line, so that bars too long in all still end
        at the roller's end of it.
        """
        pieces, slack = self.chain.pieces, run / (1.0 + strain)
        ends = np.concatenate([[0.0], np.cumsum(pieces[:, 0])])
        at = np.concatenate([[0.0], np.cumsum(slack)])
        at *= ends[-1] / at[-1]
        weigh = np.concatenate([[0.0], np.cumsum(pieces[:, 0] * pieces[:, 1])])
        give = np.concatenate([[0.0], np.cumsum(pieces[:, 0] / pieces[:, 2])])
        long = np.diff(at)
        w = np.diff(np.interp(at, ends, weigh)) / long
        return w / (1.0 + strain), long / np.diff(np.interp(at, ends, give))

    def tensions(self, bow_n: float, w: Floats) -> tuple[Floats, float]:
        """Tension in the middle of every bar, and at the shank, from the roller down."""
        rise, mu = np.diff(self.z), self.chain.friction
        angle = np.arctan2(rise, self.across)
        on = self.z <= self.floor + _ON_BED_M
        on[0] = True
        grows = w * (rise + np.where(on[:-1] & on[1:], mu * self.across, 0.0))
        turns = np.zeros(angle.size)
        turns[1:] = np.where(on[1:-1], np.maximum(0.0, angle[:-1] - angle[1:]), 0.0)
        middle = np.empty(angle.size)
        t_n = bow_n
        for k in range(angle.size - 1, -1, -1):
            middle[k] = max(0.0, t_n - 0.5 * grows[k])
            t_n = max(0.0, t_n - grows[k]) * math.exp(-mu * turns[k])
        return middle, t_n

    def led(self, bow_n: float) -> Led:
        """The chain under a tension at the roller; its way is kept for the next."""
        strain, tension = np.zeros(self.across.size), np.zeros(self.across.size)
        shank_n = 0.0
        for _ in range(40):
            w, stiff = self.kinds(np.hypot(self.across, np.diff(self.z)), strain)
            before, (tension, shank_n) = tension, self.tensions(bow_n, w)
            strain = tension / stiff
            if np.abs(tension - before).max() < 1e-7 * bow_n:
                break
            c = tension - w * 0.5 * (self.z[1:] + self.z[:-1])
            self.z = _hung(self.z, self.floor, self.across, w, c)
        run = np.hypot(self.across, np.diff(self.z))
        level_n = float(tension[-1] * self.across[-1] / run[-1])
        return Led(bow_n, level_n, shank_n, float(np.sum(run / (1.0 + strain))))


def bars_led(chain: Chain, guess_n: float) -> Led:
    """The chain of bars as long as the line; ``guess_n``: a tension at the roller to begin from."""
    x = chain.joints()
    floor = chain.bed_at(x)
    straight = floor[0] + (chain.bow_m - floor[0]) * x / chain.distance_m
    z = np.maximum(floor, straight)
    z[-1] = chain.bow_m
    bars = _Bars(chain, np.diff(x), floor, z)
    whole_m = float(np.sum(chain.pieces[:, 0]))

    def too_long(log_n: float) -> float:
        return bars.led(math.exp(log_n)).length_m - whole_m

    low, high = math.log(0.98 * guess_n), math.log(1.02 * guess_n)
    while too_long(high) > 0.0:
        high += 0.1
    while too_long(low) < 0.0:
        low -= 0.05
    return bars.led(math.exp(float(brentq(too_long, low, high, xtol=1e-9))))
