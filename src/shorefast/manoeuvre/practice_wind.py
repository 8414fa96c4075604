"""The wind she is practised in: steady, or gusty by a drawn record that comes again alike."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis
from shorefast.manoeuvre.arrival import Arrival
from shorefast.weather import MOST_FACTOR, drawn_shapes, fitted, taken_hold

Floats = NDArray[np.float64]
# a gust over the mean where the forecast tells none or a calm: common practice, no source
GUST_FACTOR = 1.4
# a gust from another side: turned by a quarter, this much over the mean, so long. Our choice
SQUALL_TURN_RAD, SQUALL_FACTOR, SQUALL_S, SQUALL_RISES_S = 0.5 * math.pi, 1.8, 45.0, 5.0
_LEAST_MPS = 0.5


@dataclass(frozen=True)
class Air:
    """The wind at the height of her windage in time; records go round.

    speed_mps, from_rad : arrays (step,), one step each ``every_s``
    squall_s : when a gust comes from another side; turn_rad : by how much
    """

    speed_mps: Floats
    from_rad: Floats
    every_s: float
    turn_rad: float = SQUALL_TURN_RAD

    def at(self, t_s: float, squall_s: float = math.inf) -> tuple[float, float]:
        """Speed [m/s] and where from at a time; a squall that begins then lies over it."""
        index = int(t_s / self.every_s) % self.speed_mps.size
        speed, blow = float(self.speed_mps[index]), float(self.from_rad[index])
        since_s = t_s - squall_s
        if not 0.0 <= since_s <= SQUALL_S:
            return speed, blow
        rise = min(1.0, since_s / SQUALL_RISES_S, (SQUALL_S - since_s) / SQUALL_RISES_S)
        hard = max(SQUALL_FACTOR * float(self.speed_mps.mean()), speed)
        return speed + rise * (hard - speed), blow + rise * self.turn_rad


def air_of(arrival: Arrival, gusts: bool, seed: int) -> Air:
    """The wind of an arrival, steady or gusty about its mean.

    Parameters
    ----------
    arrival : Arrival
    gusts : bool
    seed : int
        The same seed blows to the same bit.

    Source
    ------
    kaimal-1972; vickery-1966: as ``weather.drawn_shapes`` and ``weather.taken_hold``.
    """
    mean = arrival.felt_mps(arrival.wind.mean_mps)
    turn = math.copysign(SQUALL_TURN_RAD, float(np.random.default_rng(seed).random()) - 0.5)
    if not gusts or mean < _LEAST_MPS:
        still = Air(np.array([mean]), np.array([arrival.wind.from_rad]), 1.0)
        return replace(still, turn_rad=turn)
    gust = min(arrival.felt_mps(gust_of(arrival)), MOST_FACTOR * mean)
    shapes = taken_hold(drawn_shapes(1, mean, seed), arrival.stay.boat.windage.lateral_m2, mean)
    fit = fitted(shapes, mean, gust)
    along = fit.centre_mps[0] + fit.spread_mps[0] * shapes.shape[0, :, 0]
    across = fit.spread_mps[0] * shapes.shape[0, :, 1]
    blow = arrival.wind.from_rad + np.arctan2(across, along)
    return Air(np.hypot(along, across), blow, shapes.every_s, turn)


def gust_of(arrival: Arrival) -> float:
    """The gust at 10 m practised in; where none is told, by a factor on the mean. [m/s]"""
    wind = arrival.wind
    told = wind.gust_mps if math.isfinite(wind.gust_mps) else 0.0
    return told if told > wind.mean_mps else GUST_FACTOR * wind.mean_mps


def air_basis(arrival: Arrival, gusts: bool) -> Basis:
    """What the wind rests on."""
    if not gusts:
        return Basis()
    said = Assumption(
        "Gusts are drawn from a published spectrum about the mean of that hour, so that the"
        " hour's hardest is the gust told, or 1.4 times the mean where none is told",
        "Fall winds and squalls come at once and harder",
    )
    return Basis(assumptions=(said,), sources=("kaimal-1972", "vickery-1966"))
