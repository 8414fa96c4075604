"""Rests over a dense grid of wind: every bay, every single failure, grown and cold."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np
from measures.commands import NOTCH
from measures.figure import Figure, measured

from shorefast.mooring import (
    AIR_KGPM3,
    FOUND,
    AllRests,
    Load,
    Moored,
    Rests,
    all_rests,
    branch_moves,
    rests,
    same_place_m,
)
from shorefast.readers import read_stay
from shorefast.stay.rigging import rig

LIES = (
    ("grey_notch", "stay_d.toml"),
    ("stone_spur", "stay_k_night.toml"),
    ("tres_sombras", "stay.toml"),
)
SPEED_MPS = np.arange(0.0, 40.5, 1.0)
FROM_RAD = np.radians(np.arange(0.0, 360.0, 5.0))
# nearer than this two places are one way of lying
SAME_M = 0.25


@dataclass
class Tally:
    """What was found: states, those where a way lost her, where the two ways differ."""

    states: int = 0
    without: int = 0
    lost: int = 0
    differ: int = 0
    unsaid: int = 0
    moves: int = 0
    examples: list[str] = field(default_factory=list)


class _Grid(NamedTuple):
    """One lie under one failure: what is solved, its rows of states (row, speed)."""

    name: str
    ready: Moored
    active: np.ndarray
    level_m: np.ndarray
    wind_mps: np.ndarray
    from_rad: np.ndarray

    def load(self, at: tuple[int, ...]) -> Load:
        """The load of one state."""
        wind = float(self.wind_mps[at]), float(self.from_rad[at])
        return Load(0.0, 0.0, 0.0, *wind, AIR_KGPM3)

    def every(self, at: tuple[int, ...]) -> AllRests:
        """Every rest of one state."""
        return all_rests(self.ready, self.load(at), float(self.level_m[at]), self.active)

    def said(self, at: tuple[int, ...]) -> str:
        """One state in words."""
        return (
            f"{self.name}, water {self.level_m[at]:.2f} m, {self.wind_mps[at]:.0f} m/s"
            f" from {np.degrees(self.from_rad[at]):.0f}"
        )


def _grids(place: str, file: str) -> list[_Grid]:
    stay = read_stay(NOTCH.parent / place / file)
    low_m, high_m = float(stay.water.height_m.min()), float(stay.water.height_m.max())
    rigged = rig(stay, 0.5 * (low_m + high_m))
    near, wide = rigged.ready(low_m, high_m), rigged.ready_wide(low_m, high_m)
    levels = np.array([low_m, 0.5 * (low_m + high_m), high_m])
    level, blow = (x.ravel() for x in np.meshgrid(levels, FROM_RAD, indexing="ij"))
    shape = (level.size, SPEED_MPS.size)
    rows = (
        np.broadcast_to(level[:, None], shape),
        np.broadcast_to(SPEED_MPS, shape),
        np.broadcast_to(blow[:, None], shape),
    )
    grids = [_Grid(place, near, near.all_set, *rows)]
    for line in rigged.scene.lines:
        told = f"{place} without {line.name}"
        grids.append(_Grid(told, wide, wide.without(line.name), *rows))
    return grids


def _grown(grid: _Grid) -> tuple[Rests, Rests]:
    """Each direction grown from calm metre by metre, and every state by itself."""
    grown = rests(grid.ready, grid.level_m, grid.wind_mps, grid.from_rad, grid.active)
    level, wind, blow = (a.reshape(-1, 1) for a in (grid.level_m, grid.wind_mps, grid.from_rad))
    cold = rests(grid.ready, level, wind, blow, grid.active)
    shape = grid.wind_mps.shape
    return grown, Rests(
        cold.q.reshape(*shape, 3),
        cold.code.reshape(shape),
        cold.line.reshape(*shape, *cold.line.shape[2:]),
    )


def _look(grid: _Grid, tally: Tally) -> None:
    """One grid both ways: what is lost, what differs and is not said."""
    grown, cold = _grown(grid)
    tally.states += grown.code.size
    arm_m = grid.ready.boat.space.arm_m
    for at in map(tuple, np.argwhere((grown.code != FOUND) | (cold.code != FOUND))):
        tally.without += 1
        every = grid.every(at)
        if every.stable or not every.none:
            tally.lost += 1
            tally.examples.append(f"lost: {grid.said(at)}")
    winds = (grid.level_m, grid.wind_mps, grid.from_rad)
    told = branch_moves(grid.ready, grown, winds, grid.active)
    tally.moves += len(told.moves)
    both = (grown.code == FOUND) & (cold.code == FOUND)
    for at in map(tuple, np.argwhere(both)):
        if same_place_m(grown.q[at], cold.q[at], arm_m) < SAME_M:
            continue
        tally.differ += 1
        every = grid.every(at)
        ends = (grown.q[at], cold.q[at])
        if not all(_listed(every, q, arm_m) for q in ends):
            tally.unsaid += 1
            tally.examples.append(f"unsaid: {grid.said(at)}")


def _listed(every: AllRests, q: np.ndarray, arm_m: float) -> bool:
    """Whether a place is one of the rests told, or she lies free."""
    return any(one.kind == "free" or same_place_m(one.q, q, arm_m) < SAME_M for one in every.stable)


def dense() -> tuple[Figure, Figure]:
    """States of the dense grid without an answer that have one; ends that are not told.

    A state without a rest counts as lost unless a search for every rest finds none. Two
    ways to one state that end apart are told where that search lists both places.
    """
    tally = Tally()
    for place, file in LIES:
        for grid in _grids(place, file):
            before = (tally.without, tally.differ, tally.moves)
            _look(grid, tally)
            now = (tally.without, tally.differ, tally.moves)
            without, differ, moves = (b - a for a, b in zip(before, now, strict=True))
            print(f"{grid.name}: {without} without, {differ} apart, {moves} moves", flush=True)
    for said in tally.examples[:20]:
        print(said)
    print(f"{tally.states} states, {tally.without} without, {tally.differ} ends apart")
    return (
        measured("dense-lost", tally.lost, "states", "< 1"),
        measured("dense-branch-unsaid", tally.unsaid, "states", "< 1"),
    )
