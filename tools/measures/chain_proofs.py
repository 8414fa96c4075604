"""Proofs moved in time on the true beds; the chain's lead read in each step and asked for its pull.

She begins on a slack chain and goes astern by the steps of ``proving``, kept in line, in a light
wind that comes and goes, over the bed the demonstration's soundings were cut from. What is out,
the water, the weight of the links, the anchor's place and what her engine really pulls are each
a little off what the stay tells; the lead is read once in the last ten seconds of a step.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from demo.bed import ripple_m, smooth_level_m
from measures.chain_readings import BAYS, Berth, Off, Read, berth, share_inside
from measures.figure import Figure, measured
from numpy.typing import NDArray

from shorefast.manoeuvre import ProofStep, Proving, proving
from shorefast.mooring import Breeze, GridBed, Handled, LineSegments, Orders, Scene, driven_of
from shorefast.stay import lie_of, pull_told, rode_segments

Floats = NDArray[np.float64]
_OFF = Off(landed_m=1.5)
_READ_IN_S, _DRAWN_S = 10.0, 25.0
# helm by eye: of what she heads off, and of how fast she turns
_HELM, _HELM_S = 2.0, 6.0
_ENGINE = 0.08


@dataclass
class _Proof:
    """One proof under way."""

    at: Berth
    told: Proving
    her: Handled
    strength: float
    wind: tuple[float, float]
    level_m: float
    draw: np.random.Generator

    def breeze(self) -> Breeze:
        """Wind that comes and goes by a third, in half a minute or so."""
        mean_mps, from_rad = self.wind
        gust = 1.0 + 0.35 * math.sin(self.her.t_s / 5.3) * math.sin(self.her.t_s / 11.0)
        return Breeze(mean_mps * gust, from_rad, self.level_m)

    def hold(self, step: ProofStep, for_s: float) -> None:
        """Go astern by a step's revs for a while, steered by eye. [s]"""
        share = step.revs_share * math.sqrt(self.strength)
        for _ in range(round(for_s)):
            now = self.her.lying
            off = (now.heading_rad - self.told.toward_rad) % (2.0 * math.pi) - math.pi
            helm = max(-0.6, min(0.6, _HELM * off + _HELM_S * now.turn_radps))
            self.her.on_for(1.0, Orders(helm_rad=helm, revs=-share), self.breeze())


def _true_bed(at: Berth) -> GridBed:
    lie = lie_of(at.stay)
    west, south, side = lie.let_go_east_m - 130.0, lie.let_go_north_m - 130.0, 261
    east, north = np.meshgrid(west + np.arange(side), south + np.arange(side))
    level = smooth_level_m(at.table, east.ravel(), north.ravel())
    level = level + ripple_m(east.ravel(), north.ravel())
    return GridBed(west, south, 1.0, level.reshape(side, side))


def _heavier(segments: LineSegments, times: float) -> LineSegments:
    air = segments.air_npm
    return segments._replace(
        weight_npm=times * np.asarray(segments.weight_npm),
        air_npm=None if air is None else times * np.asarray(air),
    )


def _begun(at: Berth, told: Proving, bed: GridBed, draw: np.random.Generator) -> _Proof:
    """She lies on a slack chain, head to where she will, half a minute before the first step."""
    stay, rigged, lie = at.stay, at.judged.rigged, lie_of(at.stay)
    whole = _heavier(
        rode_segments(stay.boat, stay.boat.rode_aboard_m), 1.0 + draw.normal(0.0, _OFF.weight)
    )
    rode = replace(rigged.rode, segments=whole, tail_m=0.0, bed=bed)
    scene = Scene((rode,), rigged.scene.domain, rigged.scene.wind)
    # what the propeller walks is met by a line or short bursts ahead: kept in line, not left out
    her = Handled(scene, driven_of(stay.boat, rigged.form)._replace(walk=0.0))
    east_m = lie.let_go_east_m + draw.normal(0.0, _OFF.landed_m)
    north_m = lie.let_go_north_m + draw.normal(0.0, _OFF.landed_m)
    her.anchored(east_m, north_m, lie.chain_out_m + draw.normal(0.0, _OFF.out_m))
    way_m = told.steps[0].reach_m - 2.0 + stay.boat.roller.x_m
    toward = told.toward_rad
    her.put(
        east_m + way_m * math.sin(toward), north_m + way_m * math.cos(toward),
        toward + math.pi + draw.normal(0.0, 0.05),
    )  # fmt: skip
    wind = (draw.uniform(0.0, 3.0), toward + math.pi + draw.uniform(-0.6, 0.6))
    level_m = told.water_level_m + draw.normal(0.0, _OFF.water_m)
    strength = math.exp(draw.normal(0.0, _ENGINE))
    return _Proof(at, told, her, strength, wind, level_m, draw)


def proof_readings(at: Berth, told: Proving, draw: np.random.Generator) -> list[Read]:
    """One proof: a reading in every step."""
    under_way = _begun(at, told, _true_bed(at), draw)
    chain, found = at.chain(), []
    for step in told.steps:
        under_way.hold(step, _DRAWN_S + draw.uniform(0.0, _READ_IN_S))
        now = under_way.her.lying
        angle = now.angle_rad + draw.normal(0.0, _OFF.reading_rad)
        angle = min(max(angle, math.radians(1.0)), 0.5 * math.pi)
        lifted = now.lying_m <= 0.0
        found.append(Read(at.name, now.pull_n, lifted, angle, pull_told(chain, angle)))
    return found


def proofs(count: int, seed: int) -> list[list[Read]]:
    """So many proofs, the three berths in turn."""
    draw = np.random.default_rng(seed)
    berths = [berth(name) for name in BAYS]
    ways = [proving(at.stay, at.judged) for at in berths]
    return [proof_readings(berths[k % 3], ways[k % 3], draw) for k in range(count)]


def chain_told_in_proofs() -> tuple[Figure, ...]:
    """Readings of 100 proofs moved in time: share whose true pull lies inside what was stated."""
    found = [one for proof in proofs(100, seed=7) for one in proof]
    return (measured("chain-angle-in-proofs", share_inside(found), f"% of {len(found)}", ">= 95"),)
