"""Lines by another path: textbook catenaries on a plane bed, and the energy in them.

Nothing is shared with the statics of the package. A rode lies on its plane from the
anchor to where it lifts and hangs from there; the level pull is guessed, the place of
lifting (or the angle at the shank) is sought for the height of the roller, and the pull
for the distance. A line ashore hangs free or comes down to the water. Formulas: Irvine,
Cable Structures (1981), ch. 1, in the form with differences of asinh and of tensions.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

# unstretched length [m], weight [N/m], stiffness EA [N]
Piece = tuple[float, float, float]
LEAST_N, MOST_N = 1e-6, 1e8
_NODES, _SHARES = np.polynomial.legendre.leggauss(24)


def hanging(h_n: float, v_n: float, pieces: list[Piece]) -> tuple[float, float, float]:
    """Across, up and the vertical pull at the end of pieces hanging one after another."""
    across_m = up_m = 0.0
    for length_m, weight_npm, stiffness_n in pieces:
        end_n = v_n + weight_npm * length_m
        t0_n, t1_n = math.hypot(h_n, v_n), math.hypot(h_n, end_n)
        across_m += h_n / weight_npm * (math.asinh(end_n / h_n) - math.asinh(v_n / h_n))
        across_m += h_n * length_m / stiffness_n
        up_m += (t1_n - t0_n) / weight_npm
        up_m += (end_n * end_n - v_n * v_n) / (2.0 * weight_npm * stiffness_n)
        v_n = end_n
    return across_m, up_m, v_n


def cut(pieces: list[Piece], at_m: float) -> tuple[list[Piece], list[Piece]]:
    """The pieces before and after a place along them."""
    before: list[Piece] = []
    after: list[Piece] = []
    for length_m, *rest in pieces:
        first_m = min(max(at_m, 0.0), length_m)
        if first_m > 0.0:
            before.append((first_m, rest[0], rest[1]))
        if length_m - first_m > 0.0:
            after.append((length_m - first_m, rest[0], rest[1]))
        at_m -= length_m
    return before, after


@dataclass(frozen=True)
class Lying:
    """What lies on a plane: its stretched length [m], the pull left at the shank [N]."""

    long_m: float
    shank_n: float


def lying(t_n: float, pieces: list[Piece], slope_rad: float, friction: float) -> Lying:
    """Pieces on the bed, followed from where they lift (pull ``t_n``) to the shank."""
    long_m = 0.0
    for length_m, weight_npm, stiffness_n in reversed(pieces):
        falls = weight_npm * (math.sin(slope_rad) + friction * math.cos(slope_rad))
        pulled_m = length_m if falls <= 0.0 else min(length_m, t_n / falls)
        end_n = t_n - falls * pulled_m
        long_m += length_m + 0.5 * (t_n + end_n) * pulled_m / stiffness_n
        t_n = end_n
    return Lying(long_m, t_n)


@dataclass(frozen=True)
class Rode:
    """A rode on a plane bed: pieces from the anchor, slope toward the bow, friction."""

    pieces: list[Piece]
    slope_rad: float
    friction: float

    @property
    def length_m(self) -> float:
        """All of it."""
        return sum(piece[0] for piece in self.pieces)


@dataclass(frozen=True)
class Laid:
    """A rode at a pull: distance and what lies [m], pull at the shank, down at the bow [N]."""

    distance_m: float
    lies_m: float
    shank_n: float
    down_n: float
    foot_n: float


def rode_pulled(rode: Rode, h_n: float, rise_m: float) -> Laid:
    """The rode at a level pull; the bow ``rise_m`` above the anchor.

    NaN where all of it, laid out up the slope, would end above the roller.
    """
    foot_n = h_n * math.tan(rode.slope_rad)
    sine, cosine = math.sin(rode.slope_rad), math.cos(rode.slope_rad)

    def on_bed(lies_m: float) -> tuple[Lying, float, float, float]:
        below, above = cut(rode.pieces, lies_m)
        lain = lying(h_n / cosine, below, rode.slope_rad, rode.friction)
        return lain, *hanging(h_n, foot_n, above)

    def too_high(lies_m: float) -> float:
        lain, _, up_m, _ = on_bed(lies_m)
        return lain.long_m * sine + up_m - rise_m

    if too_high(rode.length_m) >= 0.0:
        return Laid(math.nan, math.nan, math.nan, math.nan, math.nan)
    if too_high(0.0) >= 0.0:
        lies_m = float(brentq(too_high, 0.0, rode.length_m, xtol=1e-12, rtol=1e-14))
        lain, across_m, _, down_n = on_bed(lies_m)
        return Laid(lain.long_m * cosine + across_m, lies_m, lain.shank_n, down_n, foot_n)

    def too_steep(v_n: float) -> float:
        return hanging(h_n, v_n, rode.pieces)[1] - rise_m

    high_n = foot_n + h_n
    while too_steep(high_n) < 0.0:
        high_n = foot_n + 4.0 * (high_n - foot_n)
    v_n = float(brentq(too_steep, foot_n, high_n, xtol=1e-10, rtol=1e-14))
    across_m, _, down_n = hanging(h_n, v_n, rode.pieces)
    return Laid(across_m, 0.0, math.hypot(h_n, v_n), down_n, v_n)


def rode_pull_n(rode: Rode, distance_m: float, rise_m: float) -> float:
    """Level pull of a rode at a distance; 0 where slack."""
    return _pull_n(lambda h_n: rode_pulled(rode, h_n, rise_m).distance_m, distance_m)


def _pull_n(distance: Callable[[float], float], wanted_m: float) -> float:
    def over(log_n: float) -> float:
        gap_m = distance(math.exp(log_n)) - wanted_m
        # a rope that stretches until it would end above the roller is long enough
        return 1e6 if math.isnan(gap_m) else gap_m

    low = math.log(LEAST_N)
    if math.isnan(distance(LEAST_N)):
        return math.nan
    if over(low) >= 0.0:
        return 0.0
    high = math.log(100.0)
    while over(high) < 0.0:
        low, high = high, high + 1.5
        if high > math.log(MOST_N):
            return math.nan
    return math.exp(float(brentq(over, low, high, xtol=1e-13, rtol=1e-14)))


@dataclass(frozen=True)
class Ashore:
    """A line ashore: its piece, cleat and point above the water [m]."""

    piece: Piece
    cleat_m: float
    point_m: float


def _from_water(h_n: float, rise_m: float, piece: Piece) -> float:
    """Pull, all told, at the top of what hangs from the water up to ``rise_m``.

    (T - H) / w + (T2 - H2) / (2 w EA) = rise is quadratic in T.
    """
    _, weight_npm, stiffness_n = piece
    c = weight_npm * rise_m + h_n + 0.5 * h_n * h_n / stiffness_n
    return stiffness_n * (math.sqrt(1.0 + 2.0 * c / stiffness_n) - 1.0)


def ashore_reaches_m(line: Ashore, h_n: float) -> float:
    """Distance a line ashore spans at a level pull."""
    length_m, weight_npm, stiffness_n = line.piece
    hung = []
    for rise_m in (line.cleat_m, line.point_m):
        t_n = _from_water(h_n, rise_m, line.piece)
        hung.append(math.sqrt(max(0.0, t_n * t_n - h_n * h_n)) / weight_npm)
    floats_m = length_m - hung[0] - hung[1]
    if floats_m > 0.0:
        ends = [hanging(h_n, 0.0, [(s, weight_npm, stiffness_n)])[0] for s in hung if s > 0.0]
        return sum(ends) + floats_m * (1.0 + h_n / stiffness_n)

    def too_high(v_n: float) -> float:
        return hanging(h_n, v_n, [line.piece])[1] - (line.point_m - line.cleat_m)

    half_n = weight_npm * length_m + h_n
    while too_high(-half_n) > 0.0 or too_high(half_n) < 0.0:
        half_n *= 4.0
    v_n = float(brentq(too_high, -half_n, half_n, xtol=1e-11, rtol=1e-14))
    return hanging(h_n, v_n, [line.piece])[0]


def ashore_pull_n(line: Ashore, distance_m: float) -> float:
    """Level pull of a line ashore at a distance; 0 where slack."""
    return _pull_n(lambda h_n: ashore_reaches_m(line, h_n), distance_m)


def hung_energy_j(h_n: float, v_n: float, foot_m: float, pieces: list[Piece]) -> float:
    """Weight times height and half of pull times stretch, added up along what hangs.

    By quadrature over the angle's sinh, in which both are smooth.
    """
    energy_j, level_m = 0.0, foot_m
    for piece in pieces:
        length_m, weight_npm, stiffness_n = piece
        end_n = v_n + weight_npm * length_m
        u0, u1 = math.asinh(v_n / h_n), math.asinh(end_n / h_n)
        u = 0.5 * (u0 + u1) + 0.5 * (u1 - u0) * _NODES
        t_n, lift_n = h_n * np.cosh(u), h_n * np.sinh(u)
        height_m = level_m + (t_n - math.hypot(h_n, v_n)) / weight_npm
        height_m = height_m + (lift_n**2 - v_n**2) / (2.0 * weight_npm * stiffness_n)
        each_j = weight_npm * height_m + 0.5 * t_n**2 / stiffness_n
        energy_j += float(0.5 * (u1 - u0) * np.sum(_SHARES * each_j * t_n / weight_npm))
        _, up_m, v_n = hanging(h_n, v_n, [piece])
        level_m += up_m
    return energy_j


def rode_energy_j(rode: Rode, distance_m: float, rise_m: float) -> float:
    """Energy of a rode without friction on a plane through the anchor; levels from there."""
    sine = math.sin(rode.slope_rad)
    h_n = rode_pull_n(rode, distance_m, rise_m)
    laid = rode_pulled(rode, h_n or LEAST_N, rise_m)
    below, above = cut(rode.pieces, laid.lies_m)
    energy_j, foot_m, t_n = 0.0, 0.0, laid.shank_n
    for length_m, weight_npm, stiffness_n in below:
        falls = weight_npm * sine
        s = 0.5 * length_m * (1.0 + _NODES)
        up_m = foot_m + sine * (s + (t_n * s + 0.5 * falls * s * s) / stiffness_n)
        each_j = weight_npm * up_m + 0.5 * (t_n + falls * s) ** 2 / stiffness_n
        energy_j += float(0.5 * length_m * np.sum(_SHARES * each_j))
        foot_m += sine * (length_m + (t_n + 0.5 * falls * length_m) * length_m / stiffness_n)
        t_n += falls * length_m
    return energy_j + hung_energy_j(h_n or LEAST_N, laid.foot_n, foot_m, above)


def ashore_energy_j(line: Ashore, distance_m: float) -> float:
    """Energy of a line ashore; levels from the water."""
    h_n = ashore_pull_n(line, distance_m) or LEAST_N
    length_m, weight_npm, stiffness_n = line.piece
    hung = []
    for rise_m in (line.cleat_m, line.point_m):
        t_n = _from_water(h_n, rise_m, line.piece)
        hung.append(math.sqrt(max(0.0, t_n * t_n - h_n * h_n)) / weight_npm)
    floats_m = length_m - hung[0] - hung[1]
    if floats_m > 0.0:
        ends = [hung_energy_j(h_n, 0.0, 0.0, [(s, weight_npm, stiffness_n)]) for s in hung if s > 0]
        return sum(ends) + 0.5 * h_n * h_n / stiffness_n * floats_m

    def too_high(v_n: float) -> float:
        return hanging(h_n, v_n, [line.piece])[1] - (line.point_m - line.cleat_m)

    half_n = weight_npm * length_m + h_n
    while too_high(-half_n) > 0.0 or too_high(half_n) < 0.0:
        half_n *= 4.0
    v_n = float(brentq(too_high, -half_n, half_n, xtol=1e-11, rtol=1e-14))
    return hung_energy_j(h_n, v_n, line.cleat_m, [line.piece])
