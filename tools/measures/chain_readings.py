"""Chain angles read at the roller of chains nobody modelled, given back to the chain's question.

The truth is a chain of straight bars of least energy (``measures.bars``) over the bed that the
soundings of the demonstration were cut from, not over the surface drawn through them: nothing
of the rode's statics. What is out, the water, the links' weight and the anchor's place are
each a little off what the stay tells, and the angle is read with an error.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np
from demo.bed import ripple_m, smooth_level_m
from measures.bars import Chain, bars_led
from measures.figure import Figure, measured
from numpy.typing import NDArray

import shorefast
from shorefast.boat import chain
from shorefast.mooring import BedLine, LineSegments, rode_at_pull
from shorefast.readers import read_stay
from shorefast.stay import (
    Hanging,
    Judged,
    PullTold,
    Stay,
    hanging,
    judge,
    lie_of,
    proof_toward_rad,
    pull_told,
)

Floats = NDArray[np.float64]
DEMO = Path(shorefast.__file__).parent / "demo"
TABLES = Path(__file__).parents[1] / "demo" / "tables.toml"
BAYS = ("grey_notch", "stone_spur", "tres_sombras")
LEAST_N = 120.0
Asked = Callable[[float], PullTold]


@dataclass(frozen=True)
class Off:
    """How far the truth is off what is told: one standard deviation each.

    reading_rad of the angle; out_m of what is out; water_m of its level; weight of the
    links as a share; landed_m of the anchor's place each way.
    """

    reading_rad: float = math.radians(1.5)
    out_m: float = 0.5
    water_m: float = 0.1
    weight: float = 0.02
    landed_m: float = 0.0


EXACTLY_LET_GO = Off()


@dataclass(frozen=True)
class Read:
    """One reading below horizontal [rad], the true pull [N] and lift, and what was told."""

    bay: str
    true_n: float
    lifted: bool
    angle_rad: float
    told: PullTold

    @property
    def inside(self) -> bool:
        """Whether the true pull lies within what was stated; no upper end: it is not bounded."""
        high_n = self.told.high_n
        return self.told.low_n <= self.true_n and (math.isnan(high_n) or self.true_n <= high_n)

    @property
    def endless(self) -> bool:
        """Whether no upper end is told, or no pull at all."""
        return math.isnan(self.told.high_n)

    @property
    def refused(self) -> bool:
        """Whether it is said that all chain is lifted, or may be: the angle may tell no more."""
        return self.told.all_lifted or self.told.may_be_lifted


@dataclass(frozen=True)
class Berth:
    """A stay bare of its snubber, judged, and the rule its bed was cut from."""

    name: str
    stay: Stay
    judged: Judged
    table: dict[str, Any]

    def chain(self) -> Hanging:
        """The rode as the stay tells it."""
        level_m = float(self.judged.judgement.water_level_m[0, 0])
        found = hanging(self.stay, self.judged.rigged, level_m, proof_toward_rad(self.stay))
        assert found is not None
        return found

    def bed(self, east_m: float, north_m: float, far_m: float) -> BedLine:
        """The true bed from a place the way she pulls, every metre. [m]"""
        along = np.arange(-2.0, far_m + 4.0)
        toward = proof_toward_rad(self.stay)
        e, n = east_m + along * math.sin(toward), north_m + along * math.cos(toward)
        return BedLine(along, smooth_level_m(self.table, e, n) + ripple_m(e, n))


def berth(name: str) -> Berth:
    """One of the demonstration's, a single member of its forecast."""
    stay = read_stay(DEMO / name / "stay.toml")
    wind = stay.wind
    few = replace(
        wind, member=wind.member[:1], wind_mps=wind.wind_mps[:1],
        wind_from_rad=wind.wind_from_rad[:1], gust_mps=wind.gust_mps[:1],
    )  # fmt: skip
    stay = replace(stay, wind=few, boat=replace(stay.boat, snubber=None))
    with TABLES.open("rb") as file:
        table = tomllib.load(file)[name]
    return Berth(name, stay, judge(stay), table)


@dataclass(frozen=True)
class Truth:
    """A true chain, a tension to begin the search for it from [N], and whether all is lifted."""

    chain: Chain
    guess_n: float
    lifted: bool


def pulled(pieces: Floats, bed: BedLine, friction: float, bow_m: float, pull_n: float) -> Truth:
    """A true chain (pieces: length, weight, stiffness) about as hard drawn as a pull has it.

    The rode's own statics only choose how far off she lies; what she pulls there, and how
    the chain leads, bars say.
    """
    rode = LineSegments(pieces[:, 0], pieces[:, 1], pieces[:, 2])
    form = rode_at_pull(rode, bed, friction, bow_m, pull_n)
    told = Chain(pieces, bed.along_m, bed.level_m, friction, bow_m, form.distance_m)
    return Truth(told, form.tension_n, form.on_bottom_m <= 0.0)


def _log_drawn(draw: np.random.Generator, low: float, high: float) -> float:
    return math.exp(draw.uniform(math.log(low), math.log(high)))


def _at_berth(at: Berth, off: Off, draw: np.random.Generator) -> Truth:
    lie, boat = lie_of(at.stay), at.stay.boat
    links = chain(boat.rode[0].diameter_m, boat.rode[0].grade or 30)
    out_m = lie.chain_out_m + draw.normal(0.0, off.out_m)
    heavy = 1.0 + draw.normal(0.0, off.weight)
    level_m = float(at.judged.judgement.water_level_m[0, 0]) + draw.normal(0.0, off.water_m)
    east = lie.let_go_east_m + draw.normal(0.0, off.landed_m)
    north = lie.let_go_north_m + draw.normal(0.0, off.landed_m)
    bed = at.bed(east, north, lie.chain_out_m)
    engine, friction = boat.engine, at.judged.rigged.rode.friction
    assert engine is not None and engine.astern_pull_n is not None
    pull_n = _log_drawn(draw, LEAST_N, engine.astern_pull_n)
    pieces = np.array([[out_m, heavy * links.wet_weight_npm, links.axial_stiffness_n]])
    return pulled(pieces, bed, friction, level_m + boat.roller.z_m, pull_n)


def read_off(name: str, true: Truth, off: Off, draw: np.random.Generator, ask: Asked) -> Read:
    """The lead of a true chain by bars, read with an error, and asked."""
    led = bars_led(true.chain, true.guess_n)
    angle = math.acos(led.level_n / led.bow_n) + draw.normal(0.0, off.reading_rad)
    angle = min(max(angle, math.radians(1.0)), 0.5 * math.pi)
    return Read(name, led.level_n, true.lifted, angle, ask(angle))


def readings(count: int, seed: int, off: Off = EXACTLY_LET_GO) -> list[Read]:
    """So many readings, the three berths in turn."""
    draw = np.random.default_rng(seed)
    berths = [berth(name) for name in BAYS]
    found = []
    for k in range(count):
        at = berths[k % len(berths)]
        chain_of = at.chain()
        true = _at_berth(at, off, draw)
        found.append(read_off(at.name, true, off, draw, partial(pull_told, chain_of)))
    return found


def _rough(draw: np.random.Generator, along: Floats, deviation_m: float) -> Floats:
    """What a told bed misses: five waves of 8 to 40 m."""
    waves = [
        np.sin(along * 2.0 * math.pi / _log_drawn(draw, 8.0, 40.0) + draw.uniform(0.0, 6.3))
        for _ in range(5)
    ]
    return np.asarray(deviation_m * math.sqrt(2.0 / 5.0) * np.sum(waves, axis=0))


def drawn_reading(off: Off, draw: np.random.Generator) -> Read:
    """A reading over a bed drawn at random: sloped to 25 degrees, with a break, rough."""
    links = chain(float(draw.choice([0.008, 0.010, 0.013])), 30)
    water_m, out_share = draw.uniform(6.0, 25.0), draw.uniform(1.6, 5.0)
    out_m, deviation_m = water_m * out_share, draw.uniform(0.05, 0.4)
    along = np.arange(-3.0, out_m + 6.0)
    first, then = np.tan(np.radians(draw.uniform([-8.0, -8.0], [20.0, 25.0])))
    broken_m = draw.uniform(0.2, 0.8) * out_m
    rise = first * np.minimum(along, broken_m) + then * np.maximum(along - broken_m, 0.0)
    # she floats over it all
    told = np.minimum(rise - water_m, -2.0)
    bed = told + _rough(draw, along, deviation_m)
    friction, roller_m = 0.6, 1.4
    weight_npm, stiffness_n = links.wet_weight_npm, links.axial_stiffness_n
    rode = LineSegments(np.array([out_m]), np.array([weight_npm]), np.array([stiffness_n]))
    stated = Hanging(
        rode, -1, BedLine(along, told), np.full(along.size, deviation_m), (), friction, roller_m,
    )  # fmt: skip
    pieces = np.array([[
        out_m + draw.normal(0.0, off.out_m),
        links.wet_weight_npm * (1.0 + draw.normal(0.0, off.weight)),
        links.axial_stiffness_n,
    ]])  # fmt: skip
    bow_m = roller_m + draw.normal(0.0, off.water_m)
    true = pulled(pieces, BedLine(along, bed), friction, bow_m, _log_drawn(draw, 100.0, 6000.0))
    return read_off("drawn", true, off, draw, partial(pull_told, stated))


def drawn_readings(count: int, seed: int) -> list[Read]:
    """So many readings over drawn beds."""
    draw = np.random.default_rng(seed)
    return [drawn_reading(EXACTLY_LET_GO, draw) for _ in range(count)]


def share_inside(found: list[Read]) -> float:
    """Share whose true pull lies inside what was stated, in hundredths."""
    return 100.0 * sum(one.inside for one in found) / len(found)


def chain_told() -> tuple[Figure, ...]:
    """Readings on the demonstration's three beds and over drawn ones, held against bars."""
    bays, drawn = readings(300, seed=6), drawn_readings(300, seed=6)
    lifted = [one for one in drawn if one.lifted]
    refused = 100.0 * sum(one.refused for one in lifted) / len(lifted)
    return (
        measured("chain-angle-inside", share_inside(bays), "% of 300", ">= 95"),
        measured("chain-angle-inside-drawn", share_inside(drawn), "% of 300", ">= 95"),
        measured("chain-angle-lifted", refused, f"% of {len(lifted)}", ">= 95"),
    )
