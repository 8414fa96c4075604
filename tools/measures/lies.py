"""Lies drawn at random: a boat, her rode, lines ashore, a bed, water and wind, by a seed.

Boats of 10 to 20 m, a rode of chain or of chain and rope, none to four lines ashore; beds
that are level, sloped to 35 degrees, broken or rough on a grid, 5 to 60 m under the anchor;
water 1 m under the datum to 4 m above it; wind to 40 m/s from all round.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import (
    AIR_KGPM3,
    Domain,
    GridBed,
    LineSegments,
    Load,
    Moored,
    PlaneBed,
    RodeLine,
    Scene,
    ShoreLine,
    Spread,
    WindForm,
    moored,
)

Floats = NDArray[np.float64]
BEDS = ("level", "sloped", "sloped", "broken", "rough")
STEEPEST = math.tan(math.radians(35.0))
GRID_M, SHALLOWEST_M, ROOM_M = 2.0, -2.0, 28.0
# chain of 8 to 13 mm: kilograms a metre in air, of which sea water carries an eighth
CHAIN_KGPM, WET, G = (1.4, 1.9, 2.3, 2.7, 3.8), 0.87, 9.81


@dataclass(frozen=True)
class Drawn:
    """One lie and one hour: what ``solve_rest`` takes, and where a solve begins."""

    seed: int
    bed: str
    scene: Scene
    load: Load
    level_m: float
    start: tuple[float, float, float]
    arm_m: float

    @property
    def form(self) -> WindForm:
        """Her wind form."""
        assert self.scene.wind is not None
        return self.scene.wind

    def ready(self) -> Moored:
        """Her tables, as fine as a stay's: between lines, and every two degrees all round."""
        narrow = self.scene.domain.east_m - self.scene.domain.west_m < 2.5 * ROOM_M
        spread = Spread(self.level_m - 0.4, self.level_m + 0.35, 5, 37 if narrow else 181)
        return moored(self.scene, self.form, self.arm_m, np.array(self.start), spread)


def drawn(seed: int) -> Drawn:
    """The lie of a seed."""
    dice = np.random.default_rng([20260701, seed])
    bed = BEDS[seed % len(BEDS)]
    boat_m = float(dice.uniform(10.0, 20.0))
    toward = float(dice.uniform(0.0, 2.0 * math.pi))
    deep_m, level_m = float(dice.uniform(5.0, 60.0)), float(dice.uniform(-1.0, 4.0))
    rise_m = deep_m + level_m + 0.1 * boat_m
    out_m = min(150.0, float(dice.uniform(1.25, 4.5)) * rise_m + 8.0)
    away_m = 0.96 * math.sqrt(out_m**2 - rise_m**2)
    slope = _slope(dice, bed, (deep_m - 4.0) / (away_m + boat_m))
    under = _bed(dice, bed, (deep_m, slope, toward), out_m + boat_m + 30.0)
    rode = RodeLine(
        "rode", 0.46 * boat_m, 0.0, 0.1 * boat_m, 0.0, 0.0, _rode(dice, out_m), under,
        float(dice.uniform(0.0, 1.0)),
    )  # fmt: skip
    centre_m = away_m + 0.46 * boat_m
    start = (centre_m * math.sin(toward), centre_m * math.cos(toward), toward + math.pi)
    lines = tuple(_ashore(dice, i, start, boat_m) for i in range(int(dice.integers(0, 5))))
    scene = Scene((rode, *lines), _domain(start, out_m + boat_m, len(lines)), _form(dice, boat_m))
    load = Load(
        0.0, 0.0, 0.0, float(dice.uniform(0.0, 40.0)), float(dice.uniform(0.0, 2.0 * math.pi)),
        AIR_KGPM3,
    )  # fmt: skip
    return Drawn(seed, bed, scene, load, level_m, start, 0.5 * boat_m)


def _slope(dice: np.random.Generator, bed: str, most: float) -> float:
    """Rise toward the shore: up to 35 degrees where the water is deep enough for it."""
    if bed == "level":
        return 0.0
    return float(dice.uniform(-0.25, max(0.0, min(STEEPEST, most))))


def _bed(
    dice: np.random.Generator, bed: str, deep: tuple[float, float, float], far_m: float
) -> PlaneBed | GridBed:
    deep_m, slope, toward = deep
    sine, cosine = math.sin(toward), math.cos(toward)
    if bed in ("level", "sloped"):
        return PlaneBed(-deep_m, slope * sine, slope * cosine)
    count = 2 * math.ceil(far_m / GRID_M) + 1
    axis = GRID_M * (np.arange(count) - count // 2)
    east, north = np.meshgrid(axis, axis)
    along = east * sine + north * cosine
    level = -deep_m + slope * along
    if bed == "broken":
        for place in dice.uniform(5.0, 0.6 * far_m, int(dice.integers(1, 4))):
            level += float(dice.uniform(-0.3, 0.3)) * np.maximum(0.0, along - place)
    else:
        level += _rough(dice, east, north)
    # under the boat there is always water
    return GridBed(-axis[-1], -axis[-1], GRID_M, np.minimum(level, SHALLOWEST_M))


def _rough(dice: np.random.Generator, east: Floats, north: Floats) -> Floats:
    """Humps of some tens of metres, and an error at every place."""
    humps = np.zeros_like(east)
    for _ in range(6):
        wave_m, way, phase = dice.uniform(20.0, 80.0), *dice.uniform(0.0, 2.0 * math.pi, 2)
        along = east * math.sin(way) + north * math.cos(way)
        humps += (
            float(dice.uniform(0.0, 0.01)) * wave_m * np.sin(2 * math.pi * along / wave_m + phase)
        )
    return np.asarray(humps + dice.normal(0.0, 0.08, east.shape))


def _rode(dice: np.random.Generator, out_m: float) -> LineSegments:
    """Chain, or in one lie of three chain and a rope to the roller."""
    weight_npm = float(dice.choice(CHAIN_KGPM)) * WET * G
    chain_m = out_m if dice.random() > 0.35 else float(dice.uniform(0.3, 0.9)) * out_m
    rope = (float(dice.uniform(0.3, 1.2)), float(dice.uniform(1e5, 4e5)))
    if chain_m == out_m:
        return LineSegments(
            np.array([out_m]), np.array([weight_npm]), np.array([445e3 * weight_npm])
        )
    return LineSegments(
        np.array([chain_m, out_m - chain_m]),
        np.array([weight_npm, rope[0]]),
        np.array([445e3 * weight_npm, rope[1]]),
    )


def _ashore(
    dice: np.random.Generator, i: int, start: tuple[float, float, float], boat_m: float
) -> ShoreLine:
    """Line ``i``: the quarters first, then amidships; slack or set up by some percent."""
    side = 1.0 if i % 2 == 0 else -1.0
    x_m, y_m = (-0.46 * boat_m, 0.13 * boat_m * side) if i < 2 else (0.0, 0.16 * boat_m * side)
    z_m, point_m = float(dice.uniform(0.8, 2.0)), float(dice.uniform(0.0, 9.0))
    sine, cosine = math.sin(start[2]), math.cos(start[2])
    east_m = start[0] + x_m * sine + y_m * cosine
    north_m = start[1] + x_m * cosine - y_m * sine
    way = start[2] + math.pi - side * float(dice.uniform(-0.2, 1.1))
    far_m = float(dice.uniform(8.0, 45.0))
    length_m = math.hypot(far_m, z_m - point_m) * float(dice.uniform(0.97, 1.03))
    weight_npm, stiffness_n = float(dice.uniform(0.5, 3.0)), float(10.0 ** dice.uniform(4.7, 6.3))
    return ShoreLine(
        f"line {i}", x_m, y_m, z_m,
        east_m + far_m * math.sin(way), north_m + far_m * math.cos(way), point_m,
        length_m, weight_npm, stiffness_n,
    )  # fmt: skip


def _domain(start: tuple[float, float, float], far_m: float, lines: int) -> Domain:
    """Room about where she is laid; all round the anchor where she may swing."""
    if lines < 2:
        return Domain(-far_m - 5.0, far_m + 5.0, -far_m - 5.0, far_m + 5.0)
    east_m, north_m, _ = start
    return Domain(east_m - ROOM_M, east_m + ROOM_M, north_m - ROOM_M, north_m + ROOM_M)


def _form(dice: np.random.Generator, boat_m: float) -> WindForm:
    """Areas and coefficients about those of a cruising yacht."""
    front_m2 = boat_m**2 * float(dice.uniform(0.07, 0.11))
    side_m2 = boat_m**2 * float(dice.uniform(0.16, 0.24))
    return WindForm(
        front_m2, side_m2, boat_m, float(dice.uniform(-0.06, 0.04)) * boat_m,
        float(dice.uniform(0.85, 1.0)), float(dice.uniform(0.6, 0.9)),
        float(dice.uniform(0.6, 0.9)), float(dice.uniform(0.3, 0.6)), 0.13,
    )  # fmt: skip
