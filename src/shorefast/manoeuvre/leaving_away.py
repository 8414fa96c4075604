"""Getting away: from breaking out, beam on to the wind, until she is on her way out."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.boat import ahead_pull, astern_pull
from shorefast.mooring import Breeze, Driven, Handled, Orders, Scene, driven_of
from shorefast.stay import Judged, Stay

Floats = NDArray[np.float64]
LATE_S, THROTTLE, EVERY_S, LASTS_S = 10.0, 0.5, 1.0, 60.0
"""Seconds until call and gear; share of full pull; a look by the helm; how long in all [s]."""
ON_HER_WAY_MPS = 0.5
"""Made good along the way out when she is on it."""
_WINDS_MPS = np.array([0.0, 4.0, 8.0, 11.0, 14.0, 16.0, 18.0, 21.0, 25.0])
_ANGLES = np.radians(np.arange(0.0, 181.0, 15.0))
_TOLD_S = np.arange(0.0, 41.0, 5.0)
_HALVINGS, _LOOK_AHEAD_M, _HARD_OVER_RAD = 4, 15.0, 0.6
_HELM_PER_RAD, _HELM_PER_TURN = 1.5, 2.0
_LAST_S = 10


@dataclass(frozen=True)
class Away:
    """How she gets away, by the wind at the height of her windage and where it is from.

    Attributes
    ----------
    track : array (wind, angle, told, 3)
        Along the way out and to starboard of it [m], heading off it [rad], from where she
        broke out; the wind on the starboard bow or quarter.
    most_mps : array (angle,)
        The wind up to which she comes on her way; infinite where none tried keeps her off.
    """

    track: Floats
    most_mps: Floats

    def held_mps(self, off_rad: Floats) -> Floats:
        """The wind up to which she is held, by where it comes from off the way out. [m/s]"""
        off = np.abs(np.mod(off_rad + math.pi, 2.0 * math.pi) - math.pi)
        most = np.minimum(self.most_mps, 1e3)
        return np.asarray(np.interp(off, _ANGLES, most))

    def places(self, wind_mps: Floats, off_rad: Floats) -> Floats:
        """Where she is on her way, (told, ..., 3), in winds and where they are from. [m, rad]"""
        off = np.mod(off_rad + math.pi, 2.0 * math.pi) - math.pi
        side = np.where(off >= 0.0, 1.0, -1.0)
        i, u = _between(np.minimum(wind_mps, _WINDS_MPS[-1]), _WINDS_MPS)
        j, v = _between(np.abs(off), _ANGLES)
        grid = np.moveaxis(self.track, 2, 0)
        u, v = u[..., None], v[..., None]
        low = (1.0 - v) * grid[:, i, j] + v * grid[:, i, j + 1]
        high = (1.0 - v) * grid[:, i + 1, j] + v * grid[:, i + 1, j + 1]
        found = (1.0 - u) * low + u * high
        mirrored = np.stack([np.ones_like(side), side, side], axis=-1)
        return np.asarray(found * mirrored)


def _between(values: Floats, knots: Floats) -> tuple[NDArray[np.int64], Floats]:
    """The knot before each value, and its share of the way to the next; NaN stays."""
    at = np.clip(np.searchsorted(knots, np.nan_to_num(values), side="right") - 1, 0, knots.size - 2)
    return at, (values - knots[at]) / (knots[at + 1] - knots[at])


def getting_away(stay: Stay, judged: Judged) -> Away | None:
    """How the stay's boat gets away under engine in winds from every side; None without one.

    She lies beam on and still. Ten seconds later the engine is ahead, the helm turns her to
    the way out and keeps her on the line from where she broke out: half of her pull, all of
    it while her heading is far off. Pulls are those at the low end of what is known.

    Source
    ------
    As ``mooring.driven_of``: her motion in time.
    """
    if stay.boat.engine is None:
        return None
    rigged = judged.rigged
    handled = Handled(
        Scene((rigged.rode,), rigged.scene.domain, rigged.form), _driven(stay, judged)
    )
    track = np.array(
        [[_way(handled, float(wind), float(off)) for off in _ANGLES] for wind in _WINDS_MPS]
    )
    most = np.array([_most_mps(handled, track, k) for k in range(_ANGLES.size)])
    told = (_TOLD_S / EVERY_S).astype(np.int64)
    return Away(track[:, :, told], most)


def _driven(stay: Stay, judged: Judged) -> Driven:
    """How she moves under engine, her pulls at their low end."""
    assert stay.boat.engine is not None
    driven = driven_of(stay.boat, judged.rigged.form)
    ahead_n, astern_n = ahead_pull(stay.boat.engine).low_n, astern_pull(stay.boat.engine).low_n
    return driven._replace(ahead_n=min(driven.ahead_n, ahead_n), astern_n=astern_n)


def _way(handled: Handled, wind_mps: float, off_rad: float) -> Floats:
    """Her way second by second, (second, 3): along, to starboard, heading off the way out."""
    handled.state[:] = 0.0
    handled.put(0.0, 0.0, off_rad - 0.5 * math.pi)
    breeze, way = Breeze(wind_mps, off_rad), [(0.0, 0.0, off_rad - 0.5 * math.pi)]
    half = math.sqrt(THROTTLE)
    for second in range(round(LASTS_S / EVERY_S)):
        now, orders = handled.lying, Orders()
        if second * EVERY_S >= LATE_S:
            wanted = -math.atan2(now.east_m, _LOOK_AHEAD_M)
            error = math.remainder(wanted - now.heading_rad, 2.0 * math.pi)
            helm = _HELM_PER_RAD * error - _HELM_PER_TURN * now.turn_radps
            most = handled.driven.most_rad
            revs = 1.0 if abs(error) > _HARD_OVER_RAD else half
            orders = Orders(helm_rad=min(most, max(-most, helm)), revs=revs)
        handled.on_for(EVERY_S, orders, breeze)
        now = handled.lying
        way.append((now.north_m, now.east_m, math.remainder(now.heading_rad, 2.0 * math.pi)))
    return np.array(way)


def is_on_her_way(way: Floats) -> bool:
    """Whether in the last ten seconds she made good half a metre a second, and little aside."""
    along_m, aside_m = (way[-1] - way[-1 - _LAST_S])[:2]
    return bool(along_m >= ON_HER_WAY_MPS * _LAST_S and abs(aside_m) <= 0.5 * along_m)


def _most_mps(handled: Handled, track: Floats, angle: int) -> float:
    """The wind from one side up to which she comes on her way. [m/s]"""
    good = [is_on_her_way(way) for way in track[:, angle]]
    if all(good):
        return math.inf
    first = good.index(False)
    if first == 0:
        return 0.0
    low, high = float(_WINDS_MPS[first - 1]), float(_WINDS_MPS[first])
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if is_on_her_way(_way(handled, middle, float(_ANGLES[angle]))):
            low = middle
        else:
            high = middle
    return low
