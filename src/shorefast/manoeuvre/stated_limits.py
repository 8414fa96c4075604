"""Within what a usual crew's anchor comes down, and she comes to lie, at least 95 times in 100."""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.special import chdtri
from shapely.geometry.base import BaseGeometry

from shorefast.manoeuvre.coming_in import lands_off
from shorefast.manoeuvre.practice_wind import Air, air_of
from shorefast.manoeuvre.seen import CrewErrors
from shorefast.manoeuvre.way_in import WayIn
from shorefast.mooring import AIR_KGPM3, Load, RodeLine, ShoreLine, solve_rest

Floats = NDArray[np.float64]
# a crew as crews are: common practice, no source
USUAL_CREW = CrewErrors(
    delay_s=1.5, off=0.06, let_go_m=1.5, across_m=0.8, heading_rad=math.radians(3.0),
    depth_m=0.7, chain_m=0.5, line_m=0.5,
)  # fmt: skip
# runs tried, and the first of their seeds: ours alone, an arrival tried elsewhere takes others
TRIED, _FIRST_SEED = 80, 7_000_000
# of any hundred arrivals 95 come within nineteen times in twenty where each does with 0.974
# (binomial law); what is left is halved between the anchor and her lie
HELD_SHARE = 0.987
# how sure a spread drawn from so few runs is not told too small
_SURE = 0.95
# she is looked at for so long [s], after so long from the start of a record
_MINUTE_S, _LATER_S = 60.0, 900.0
_RINGS, _WAYS = 400, 60


@dataclass(frozen=True)
class Limits:
    """The anchor from its place, and she from the planned lie, as ``stated_limits``.

    landing_m, lie_m : radii [m]; NaN where too few of the runs tried come to an end
    landings_m : array (run, 2)
        Where the anchors of the runs tried came down, east and north.
    lost_share : of them in which it never came down, or she then found no place to lie
    """

    landing_m: float
    lie_m: float
    landings_m: Floats
    lost_share: float

    def inside(self, patch: BaseGeometry) -> float:
        """Share of the anchors of the runs tried that lie in a patch; NaN where none came down.

        patch : polygon, east and north [m]
        """
        if not len(self.landings_m):
            return math.nan
        return float(np.mean(shapely.intersects_xy(patch, *self.landings_m.T)))


def stated_limits(way: WayIn) -> Limits:
    """What a usual crew not broken off comes within at least 95 times in 100, in gusts.

    Runs of the time model, each with its own gusts and errors, go on until the anchor is
    down; from there she is let come to rest in the mean wind of a minute of her record, her
    chain and lines measured wrong. Both spreads are taken as normal about their
    means; the radii hold ``HELD_SHARE`` of each, widened for the number of runs.

    Source
    ------
    hahn-meeker-1991: a bound that is to hold a share of what comes is wider than that share
    of a few tried ones.
    """
    with ThreadPoolExecutor(2) as pool:
        runs = list(pool.map(lambda k: _run(way, _FIRST_SEED + k), range(TRIED)))
    ended = [run for run in runs if run is not None]
    if len(ended) < TRIED // 2:
        return Limits(math.nan, math.nan, np.zeros((0, 2)), 1.0 - len(ended) / TRIED)
    anchors = np.array([anchor for anchor, _ in ended])
    rests = np.array([rest for _, rest in ended])
    return Limits(
        _radius_m(anchors - np.array(way.arrival.anchor)),
        _radius_m(rests - np.array(way.arrival.planned[:2])),
        anchors,
        1.0 - len(ended) / TRIED,
    )


Place = tuple[float, float]


def _run(way: WayIn, seed: int) -> tuple[Place, Place] | None:
    """Where one usual crew's anchor comes down, and where she then lies; None: nowhere."""
    arrival, draw = way.arrival, np.random.default_rng(seed)
    air = air_of(arrival, gusts=True, seed=seed)
    landed = lands_off(way, air.at, USUAL_CREW, draw)
    if not landed.is_down:
        return None
    sine, cosine = math.sin(arrival.way_in_rad), math.cos(arrival.way_in_rad)
    anchor = (
        arrival.anchor[0] + landed.along_m * sine + landed.across_m * cosine,
        arrival.anchor[1] + landed.along_m * cosine - landed.across_m * sine,
    )
    rest = _rest(way, anchor, air, draw)
    return None if rest is None else (anchor, rest)


def _rest(way: WayIn, anchor: Place, air: Air, draw: np.random.Generator) -> Place | None:
    """Where she lies to an anchor there, chain and lines measured wrong, in a drawn minute."""
    arrival, scene = way.arrival, way.arrival.rigged.scene
    mean_mps, from_rad = _minute(air)
    load = Load(0.0, 0.0, 0.0, mean_mps, from_rad, AIR_KGPM3)
    lines: list[RodeLine | ShoreLine] = [_rode(way, anchor, float(draw.standard_normal()))]
    for line in scene.lines[1:]:
        assert isinstance(line, ShoreLine)
        off_m = USUAL_CREW.line_m * float(draw.standard_normal())
        lines.append(replace(line, length_m=line.length_m + off_m))
    found = solve_rest(
        replace(scene, lines=tuple(lines)), load, arrival.level_m, arrival.planned,
        arm_m=arrival.rigged.arm_m,
    )  # fmt: skip
    return (found.east_m, found.north_m) if found.why == "found" else None


def _rode(way: WayIn, anchor: Place, off: float) -> RodeLine:
    return replace(way.arrival.rigged.rode, east_m=anchor[0], north_m=anchor[1]).veered(
        USUAL_CREW.chain_m * off
    )


def _minute(air: Air) -> tuple[float, float]:
    """The steady wind that pushes as hard as a minute of the record, and its direction."""
    count = max(1, round(_MINUTE_S / air.every_s))
    at = (round(_LATER_S / air.every_s) + np.arange(count)) % air.speed_mps.size
    speed, blow = air.speed_mps[at], air.from_rad[at]
    east, north = (float(np.mean(speed**2 * f(blow))) for f in (np.sin, np.cos))
    return math.sqrt(math.hypot(east, north)), math.atan2(east, north)


def _radius_m(off_m: Floats) -> float:
    """The radius about where it ought to be that holds ``HELD_SHARE``. [m]

    Parameters
    ----------
    off_m : array (run, 2)
        How far off the runs tried were.
    """
    count = off_m.shape[0]
    mean, spread = off_m.mean(axis=0), np.atleast_2d(np.cov(off_m.T))
    least, most = np.linalg.eigvalsh(spread)
    # so many squares of one size would scatter as these two do
    alike = (count - 1) * (least + most) ** 2 / (least**2 + most**2)
    wider = (1.0 + 1.0 / count) * alike / float(chdtri(alike, _SURE))
    values, turned = np.linalg.eigh(wider * spread)
    # a normal spread by as many points as rings and ways, each as likely as another
    ring = np.sqrt(-2.0 * np.log((np.arange(_RINGS) + 0.5) / _RINGS))[:, None]
    way = 2.0 * math.pi * (np.arange(_WAYS) + 0.5) / _WAYS
    drawn = np.stack([ring * np.cos(way), ring * np.sin(way)], axis=-1)
    places = mean + (drawn * np.sqrt(np.maximum(values, 0.0))) @ turned.T
    return float(np.quantile(np.hypot(places[..., 0], places[..., 1]), HELD_SHARE))
