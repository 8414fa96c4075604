"""Proofs inside whole arrivals; the chain's lead read in each step and asked for its pull.

A usual crew brings her in through the hour's gusts and proves her on the stern lines, moved in
time over the bed the demonstration's soundings were cut from. The anchor lies where it came
down; what is out, the water and the weight of the links are each a little off what the stay
tells. The lead is read by eye over ten seconds in each step, a degree and a half off; the pull
it is held against is the mean at the roller over the same ten seconds.
"""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

import numpy as np
from demo.bed import ripple_m, smooth_level_m
from measures.arrivals import Came, came_to, gusty
from measures.chain_readings import Berth, Off, Read, berth, share_inside
from measures.figure import Figure, measured, told
from numpy.typing import NDArray

from shorefast.manoeuvre import USUAL_CREW, CameIn, come_in
from shorefast.manoeuvre.arrival import Arrival
from shorefast.mooring import GridBed, Handled, LineSegments, RodeLine
from shorefast.stay import lie_of, pull_told

Floats = NDArray[np.float64]
IN = {"notch": "grey_notch", "spur": "stone_spur", "sombras": "tres_sombras"}
FIRST_SEED = 90_000_000
_OFF = Off()
# a step's last ten seconds are read: of thirty
_STEP_S, _READ_S, _STEPS = 30.0, 10.0, 4
_T, _PULL, _ANGLE, _LYING = 0, 6, 7, 9


@dataclass(frozen=True)
class TrueArrival(Arrival):
    """An arrival whose links weigh so many times what the boat file has them weigh."""

    weight: float = 1.0

    def handled(self, **more: float) -> Handled:
        """Her as she comes in, on the true chain."""
        her = super().handled(**more)
        rode = her.scene.lines[0]
        assert isinstance(rode, RodeLine)
        true = replace(rode, segments=_heavier(rode.segments, self.weight))
        scene = replace(her.scene, lines=(true, *her.scene.lines[1:]))
        return Handled(
            scene, her.driven, her.windlass_mps, her.windlass_n, hand_n=her.hand_n, **more
        )


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


def proved(came: Came, bed: GridBed, seed: int) -> CameIn:
    """One arrival to lying still, on a bed and a chain that are not quite as told."""
    draw = np.random.default_rng(seed)
    way = came.found.way
    arrival = way.arrival
    rode = replace(arrival.rigged.rode, bed=bed)
    scene = replace(arrival.rigged.scene, lines=(rode, *arrival.rigged.scene.lines[1:]))
    given = {name: getattr(arrival, name) for name in Arrival.__dataclass_fields__}
    given["rigged"] = replace(arrival.rigged, scene=scene)
    given["level_m"] = arrival.level_m + draw.normal(0.0, _OFF.water_m)
    true = TrueArrival(**given, weight=1.0 + draw.normal(0.0, _OFF.weight))
    return come_in(replace(way, arrival=true), gusty(came, seed), came.lines_s, USUAL_CREW, draw)


def read_in(came: Came, at: Berth, bed: GridBed, seed: int) -> list[Read]:
    """One proof: a reading in every step, with the pull and what the chain's question tells."""
    one = proved(came, bed, seed)
    marks = dict(one.marks)
    if "prove" not in marks:
        return []
    draw, chain, found = np.random.default_rng((seed, 1)), at.chain(), []
    for step in range(_STEPS):
        until_s = marks["prove"] + (step + 1) * _STEP_S
        since_s = one.track[:, _T]
        rows = one.track[(since_s > until_s - _READ_S) & (since_s <= until_s)]
        angle = float(rows[:, _ANGLE].mean()) + draw.normal(0.0, _OFF.reading_rad)
        angle = min(max(angle, math.radians(1.0)), 0.5 * math.pi)
        lifted = bool((rows[:, _LYING] <= 0.0).all())
        pull_n = float(rows[:, _PULL].mean())
        found.append(Read(at.name, pull_n, lifted, angle, pull_told(chain, angle)))
    return found


def proofs(bay: str, count: int, seed: int) -> list[list[Read]]:
    """So many proofs in a bay, from a first seed on."""
    came, at = came_to(bay), berth(IN[bay])
    bed = _true_bed(at)
    with ThreadPoolExecutor(2) as pool:
        return list(pool.map(lambda k: read_in(came, at, bed, seed + k), range(count)))


def chain_told_in_proofs(count: int = 100, seed: int = FIRST_SEED) -> list[Figure]:
    """Readings of the proofs of so many arrivals in each bay, and of what was refused."""
    figures: list[Figure] = []
    for bay in IN:
        went = proofs(bay, count, seed)
        found = [one for proof in went for one in proof]
        lifted = [one for one in found if one.lifted]
        idle = [one for one in found if one.refused and not one.lifted]
        whole = 100.0 * sum(all(one.inside for one in proof) for proof in went) / count
        figures += [
            measured(
                f"chain-angle-in-proofs-{bay}", share_inside(found), f"% of {len(found)}", ">= 95"
            ),
            told(f"chain-angle-whole-proofs-{bay}", whole, f"% of {count}, all steps inside"),
            told(f"chain-angle-refused-idly-{bay}", 100.0 * len(idle) / len(found), "% of all"),
        ]
        if lifted:
            refused = 100.0 * sum(one.refused for one in lifted) / len(lifted)
            name = f"chain-angle-lifted-in-proofs-{bay}"
            figures.append(measured(name, refused, f"% of {len(lifted)}", ">= 95"))
    return figures
