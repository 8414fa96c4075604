"""Proofs inside whole arrivals; the chain's lead read in each step and asked for its pull.

A usual crew brings her in through the hour's gusts and proves her on the stern lines, moved in
time over the bed the demonstration's soundings were cut from. The anchor lies where it came
down; what is out, the water and the weight of the links are each a little off what the stay
tells. The lead is read by eye over ten seconds in each step, a degree and a half off; the pull
it is held against is the mean at the roller over the same ten seconds. All chain is lifted by
an engine three times as strong. In some proofs the same moments are solved by a chain of bars.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from functools import partial

import numpy as np
from demo.bed import ripple_m, smooth_level_m
from measures.arrivals import Came, came_to, gusty
from measures.chain_readings import Berth, Off, Read, berth, pulled, read_off, share_inside
from measures.figure import Figure, measured, told
from numpy.typing import NDArray

from shorefast.boat import chain
from shorefast.manoeuvre import USUAL_CREW, CameIn, come_in
from shorefast.manoeuvre.arrival import Arrival
from shorefast.mooring import GridBed, Handled, LineSegments, RodeLine
from shorefast.stay import lie_of, pull_told

Floats = NDArray[np.float64]
IN = {"notch": "grey_notch", "spur": "stone_spur", "sombras": "tres_sombras"}
FIRST_SEED = 91_000_000
# so strong an engine lifts all of the chain
STRONG = 3.0
_OFF = Off()
# a step's last ten seconds are read: of thirty
_STEP_S, _READ_S, _STEPS = 30.0, 10.0, 4
_T, _CHAIN, _PULL, _ANGLE, _LYING = 0, 5, 6, 7, 9


@dataclass(frozen=True)
class TrueArrival(Arrival):
    """An arrival of which the links and the engine are not what the boat file has them.

    weight, strength : times so heavy, and so strong astern
    """

    weight: float = 1.0
    strength: float = 1.0

    def handled(self, **more: float) -> Handled:
        """Her as she comes in, on the true chain."""
        her = super().handled(**more)
        rode = her.scene.lines[0]
        assert isinstance(rode, RodeLine)
        true = replace(rode, segments=_heavier(rode.segments, self.weight))
        scene = replace(her.scene, lines=(true, *her.scene.lines[1:]))
        driven = her.driven._replace(astern_n=self.strength * her.driven.astern_n)
        return Handled(scene, driven, her.windlass_mps, her.windlass_n, hand_n=her.hand_n, **more)


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


@dataclass(frozen=True)
class Proofs:
    """Where proofs are made: the arrival, the chain as it is asked, the true bed.

    strength : of the engine, times what the boat file has
    """

    came: Came
    at: Berth
    bed: GridBed
    strength: float = 1.0

    def arrival(self, seed: int) -> TrueArrival:
        """An arrival whose chain and water are a little off what is told."""
        draw = np.random.default_rng((seed, 2))
        told_so = self.came.found.way.arrival
        rode = replace(told_so.rigged.rode, bed=self.bed)
        scene = replace(told_so.rigged.scene, lines=(rode, *told_so.rigged.scene.lines[1:]))
        given = {name: getattr(told_so, name) for name in Arrival.__dataclass_fields__}
        given["rigged"] = replace(told_so.rigged, scene=scene)
        given["level_m"] = told_so.level_m + draw.normal(0.0, _OFF.water_m)
        weight = 1.0 + draw.normal(0.0, _OFF.weight)
        return TrueArrival(**given, weight=weight, strength=self.strength)

    def came_in(self, true: TrueArrival, seed: int) -> CameIn:
        """One arrival to lying still."""
        way = replace(self.came.found.way, arrival=true)
        wind, draw = gusty(self.came, seed), np.random.default_rng(seed)
        return come_in(way, wind, self.came.lines_s, USUAL_CREW, draw)

    def read(self, seed: int) -> list[Read]:
        """A reading in every step of one proof; none where she never came to it."""
        one, draw, found = self.came_in(self.arrival(seed), seed), _drawn(seed), []
        for rows in _looks(one):
            angle = float(rows[:, _ANGLE].mean()) + draw.normal(0.0, _OFF.reading_rad)
            angle = min(max(angle, math.radians(1.0)), 0.5 * math.pi)
            lifted = bool((rows[:, _LYING] <= 0.0).all())
            told_so = pull_told(self.at.chain(), angle)
            found.append(Read(self.at.name, float(rows[:, _PULL].mean()), lifted, angle, told_so))
        return found

    def read_by_bars(self, seed: int) -> list[Read]:
        """The same moments, pull and lead by a chain of bars from where the anchor lies."""
        true, draw, found = self.arrival(seed), _drawn(seed), []
        one = self.came_in(true, seed)
        boat, friction = self.at.stay.boat, true.rigged.rode.friction
        links = chain(boat.rode[0].diameter_m, boat.rode[0].grade or 30)
        bow_m = true.level_m + boat.roller.z_m
        for rows in _looks(one):
            out_m = float(rows[-1, _CHAIN])
            bed = self.at.bed(*one.anchor_m, out_m)
            pieces = np.array(
                [[out_m, true.weight * links.wet_weight_npm, links.axial_stiffness_n]]
            )
            hung = pulled(pieces, bed, friction, bow_m, float(rows[:, _PULL].mean()))
            ask = partial(pull_told, self.at.chain())
            found.append(read_off(self.at.name, hung, _OFF, draw, ask))
        return found


def _drawn(seed: int) -> np.random.Generator:
    return np.random.default_rng((seed, 1))


def _looks(one: CameIn) -> Iterator[Floats]:
    """The last ten seconds of each step."""
    begun_s = dict(one.marks).get("prove", math.nan)
    t_s = one.track[:, _T]
    for step in range(_STEPS):
        until_s = begun_s + (step + 1) * _STEP_S
        rows = one.track[(t_s > until_s - _READ_S) & (t_s <= until_s)]
        if rows.size:
            yield rows


def proofs(bay: str, strength: float = 1.0) -> Proofs:
    """What proofs in a bay are made with."""
    at = berth(IN[bay])
    return Proofs(came_to(bay), at, _true_bed(at), strength)


def in_turn(one: Callable[[int], list[Read]], count: int, seed: int) -> list[list[Read]]:
    """So many, from a first seed on, without those that never came to a proof."""
    with ThreadPoolExecutor(2) as pool:
        return [found for found in pool.map(one, range(seed, seed + count)) if found]


def chain_told_in_proofs(count: int = 100, seed: int = FIRST_SEED) -> list[Figure]:
    """Readings of the proofs of so many arrivals in each bay, and of what was refused."""
    figures: list[Figure] = []
    for bay in IN:
        made = proofs(bay)
        went = in_turn(made.read, count, seed)
        strong = in_turn(replace(made, strength=STRONG).read, count // 2, seed + count)
        bars = in_turn(made.read_by_bars, count // 4, seed + 2 * count)
        figures += _figures(bay, went, [one for proof in strong for one in proof])
        share = share_inside([one for proof in bars for one in proof])
        said = f"% of {sum(map(len, bars))}"
        figures.append(measured(f"chain-angle-in-proofs-by-bars-{bay}", share, said, ">= 95"))
    return figures


def _figures(bay: str, went: list[list[Read]], strong: list[Read]) -> list[Figure]:
    found = [one for proof in went for one in proof]
    lifted = [one for one in strong if one.lifted]
    whole = 100.0 * sum(all(one.inside for one in proof) for proof in went) / len(went)
    maybe = 100.0 * sum(one.refused for one in found if not one.lifted) / len(found)
    endless = 100.0 * sum(one.endless for one in found if not one.lifted) / len(found)
    name, of = f"chain-angle-in-proofs-{bay}", f"% of {len(found)}"
    figures = [
        measured(name, share_inside(found), of, ">= 95"),
        told(f"chain-angle-whole-proofs-{bay}", whole, f"% of {len(went)}, all steps inside"),
        told(f"chain-angle-perhaps-lifted-{bay}", maybe, f"{of}, said so and not lifted"),
        told(f"chain-angle-no-end-{bay}", endless, f"{of}, no upper end told and not lifted"),
    ]
    if lifted:
        refused = 100.0 * sum(one.refused for one in lifted) / len(lifted)
        of = f"% of {len(lifted)}, engine {STRONG:g} times as strong"
        figures.append(measured(f"chain-angle-lifted-in-proofs-{bay}", refused, of, ">= 95"))
    return figures
