"""Samples solved: each with its own anchor, bed, wind and ropes, through all hours."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.special import log_ndtr, ndtri_exp

from shorefast.mooring import (
    L_BEARING,
    L_FAR,
    L_UPLIFT,
    LEFT,
    Moored,
    ShoreLine,
    blown,
    coarse_rode,
    proof_here_n,
    put_together,
    rests_alone,
    shore_table,
    slope_widening,
    uplift_share,
)
from shorefast.stay.answer import PartUse, Room
from shorefast.stay.by_fetch import sea_by_fetch
from shorefast.stay.judge import bay_wind, times_of
from shorefast.stay.odds_doubts import (
    DEPTH,
    DIRECTION,
    EAST,
    GUST,
    HOLDING,
    MEMBER,
    NORTH,
    PROOF,
    STRENGTH,
    WINDAGE,
    Doubts,
    normal,
)
from shorefast.stay.parts import Ground, Proven, ground_of, parts_in_use, slope_at_anchor
from shorefast.stay.plan import Lie, Stay
from shorefast.stay.proof import proven_of
from shorefast.stay.rigging import Rigged, lie_of
from shorefast.stay.room import DOUBT, room_of
from shorefast.stay.sea import heave_m, sea_down_m
from shorefast.stay.steady import steady_load
from shorefast.stay.tried import Fineness, Trier, fan
from shorefast.stay.verdict import uses
from shorefast.weather import level_at

Floats = NDArray[np.float64]
_ROPES = ("line", "snubber", "sling")
_PAD_M = 0.05
_FINENESS = Fineness(bearings=3, half_fan_m=15.0, bed_step_m=2.5)


class Drawn(NamedTuple):
    """Samples weighed.

    Attributes
    ----------
    use : array (entry, sample, time)
    anchor : array (variant, sample, time)
        The anchor's use under other proofs.
    lost : array (sample, time)
        Where she found no place to lie.
    """

    use: Floats
    anchor: Floats
    lost: NDArray[np.bool_]


@dataclass(frozen=True)
class Variant:
    """A proof as it might be: the one made times ``harder``; where none was made, ``instead``."""

    harder: float
    instead: Proven | None = None

    def of(self, made: Proven | None) -> Proven | None:
        """The proof that is made of the one made."""
        if made is None:
            return self.instead
        if self.harder <= 0.0:
            return None
        return replace(made, pull_n=self.harder * made.pull_n)


class Solver:
    """Solves samples of one stay; what does not change from one to the next is kept."""

    def __init__(self, stay: Stay, doubts: Doubts) -> None:
        self.stay, self.doubts = stay, doubts
        self.lie = lie_of(stay)
        times = times_of(stay)
        self.wind = bay_wind(stay, times)
        self.level_m = np.array(
            np.broadcast_to(level_at(stay.water, times), self.wind.gust_mps.shape)
        )
        self.trier = Trier(stay, _FINENESS)
        self.plain = self.trier.rigged(self.lie)
        self.alike = blown(self.plain.form, self.plain.arm_m)
        self.extra = steady_load(stay, self.plain, self.trier.middle_m).load
        first_m = float(self.level_m[0, 0])
        self.ground: Ground = ground_of(stay, proven_of(stay, self.plain, first_m))
        sea = sea_by_fetch(stay, self.wind.wind_mps, self.wind.wind_from_rad, self.level_m)
        self.down_m = np.broadcast_to(sea_down_m(stay, sea), self.level_m.shape)
        deviation = stay.bay.surface.deviation_at(self.lie.let_go_east_m, self.lie.let_go_north_m)
        told_m = float(np.asarray(deviation).ravel()[0])
        self.depth_known = math.isfinite(told_m)
        self.deviation_m = told_m if self.depth_known else 0.0
        if not self.depth_known:
            self.doubts = doubts.narrowed("depth", 0.0)
        self.shore = [
            shore_table(line, self.trier.table_m)
            for line in self.plain.scene.lines
            if isinstance(line, ShoreLine)
        ]
        self.names: list[str] = []

    def member(self, drawn: Floats) -> NDArray[np.int64]:
        """Which entry of the forecast each sample has, (sample,)."""
        count = self.wind.member.size
        return np.minimum((drawn[:, MEMBER] * count).astype(np.int64), count - 1)

    def solved(self, drawn: Floats, variants: tuple[Variant, ...]) -> Drawn:
        """Samples that share a place of the anchor and a depth, solved and weighed.

        drawn : array (sample, column), in 0 to 1; its last three columns all alike.
        """
        deep = self.doubts.depth * float(normal(drawn[0, DEPTH]))
        deeper_m = deep * self.deviation_m
        rigged, ready = self._ready(self._lie(drawn[0]), deeper_m)
        at = self.member(drawn)
        states = self._states(drawn, at, rigged.height_share, deeper_m)
        rests = rests_alone(ready, states, ready.all_set, self.extra)
        stay = replace(self.stay, lie=self._lie(drawn[0]))
        slope_rad = slope_at_anchor(stay, self.lie.heading_rad + math.pi)
        made = proven_of(stay, rigged, float(self.level_m[0, 0]) + deeper_m)
        grounds = [
            replace(self.ground, proven=one.of(made), slope_rad=slope_rad) for one in variants
        ]
        parts = parts_in_use(stay, rigged, grounds[0], rests.line)
        anchor = np.array([self._anchor(rests.line[..., 0, :], drawn, one) for one in grounds])
        level_m = self.level_m[at] - self.down_m[at]
        rooms = room_of(stay, rests.q, level_m, heave_m(stay), expected=True, between=False)
        names, use = uses(self._drawn_parts(parts, drawn), _drawn_rooms(rooms, deep))
        self.names = names
        # the anchor is always the first of the parts
        use[0] = anchor[0]
        return Drawn(use, anchor, rests.code == LEFT)

    def _lie(self, drawn: Floats) -> Lie:
        east_m, north_m = self.doubts.let_go_m * normal(drawn[[EAST, NORTH]])
        return replace(
            self.lie,
            let_go_east_m=self.lie.let_go_east_m + float(east_m),
            let_go_north_m=self.lie.let_go_north_m + float(north_m),
        )

    def _ready(self, lie: Lie, deeper_m: float) -> tuple[Rigged, Moored]:
        """The lie made ready over a bed that lies deeper than drawn.

        Water, boat and points ashore are raised by as much instead: the same.
        """
        rigged, table_m = self.trier.rigged(lie), self.trier.table_m + deeper_m
        toward = fan(lie, rigged.start, _FINENESS)
        rode, *shore = rigged.scene.lines
        raised = [
            replace(line, level_m=line.level_m + deeper_m)
            for line in shore
            if isinstance(line, ShoreLine)
        ]
        tables = [coarse_rode(rigged.rode, table_m, toward, _FINENESS.bed_step_m)]
        # water and point are raised alike, so these never change
        tables += self.shore
        scene = replace(rigged.scene, lines=(rode, *raised))
        return rigged, put_together(scene, tables, table_m, self.alike, rigged.start)

    def _states(
        self, drawn: Floats, at: NDArray[np.int64], height_share: float, deeper_m: float
    ) -> tuple[Floats, Floats, Floats]:
        """Water, wind at her windage and where it blows from, (sample, time)."""
        d = self.doubts
        force = np.exp(d.windage_log * normal(drawn[:, WINDAGE]))
        gust = np.exp(d.gust_log * normal(drawn[:, GUST])) * np.sqrt(force) * height_share
        turned = d.direction * normal(drawn[:, DIRECTION])[:, None] * self.wind.spread_rad[at]
        return (
            self.level_m[at] + deeper_m,
            self.wind.gust_mps[at] * gust[:, None],
            self.wind.wind_from_rad[at] + turned,
        )

    def _anchor(self, rode: Floats, drawn: Floats, ground: Ground) -> Floats:
        """Need over what the ground was drawn to hold, cut off by the proof. (sample, time)"""
        need_n, uplift = rode[..., L_FAR], np.maximum(rode[..., L_UPLIFT], 0.0)
        toward = rode[..., L_BEARING] + math.pi
        share = uplift_share(uplift)
        with np.errstate(divide="ignore", invalid="ignore"):
            flat_n = np.where(need_n > 0.0, need_n / share, need_n)
        proof_n, proven = np.zeros_like(flat_n), ground.proven
        if proven is not None:
            factor = np.exp(self.doubts.proof_log * normal(drawn[:, PROOF]))[:, None]
            here_n = proof_here_n(proven.pull_n, proven.toward_rad, toward) * factor
            kept = float(uplift_share(proven.uplift_rad))
            proof_n = here_n / kept if kept > 0.0 else proof_n
        holds_n = drawn_holding_n(ground, drawn[:, HOLDING], proof_n, self.doubts.holding)
        with np.errstate(divide="ignore", invalid="ignore"):
            use = np.where(flat_n == 0.0, 0.0 * holds_n, flat_n / holds_n)
            proved = np.where(proof_n > 0.0, flat_n / proof_n, np.nan)
        # where nobody rates the bottom, what was proved is all that is known
        return np.where(np.isnan(use) & (proved <= 1.0), proved, use)

    def _drawn_parts(self, parts: tuple[PartUse, ...], drawn: Floats) -> tuple[PartUse, ...]:
        """Ropes with the strength they were drawn to have kept."""
        kept = np.exp(self.doubts.strength_log * normal(drawn[:, STRENGTH]))[:, None]
        return tuple(
            replace(part, use=part.use / kept) if part.kind in _ROPES else part for part in parts
        )


def drawn_holding_n(ground: Ground, share: Floats, proof_n: Floats, doubt: float) -> Floats:
    """What the ground was drawn to hold along the bed, given that it held a proof. [N]

    The same share of what is left above the proof, whatever the proof is worth in the
    direction of the pull.

    Parameters
    ----------
    share : array (sample,), 0 to 1
    proof_n : array (sample, time)
        The flat pull proved, 0 for none. [N]
    doubt : float
        1: the odds as they stand; 0: their middle, or the proof if that is more.

    Source
    ------
    proof-load-updating (truncated prior).
    """
    deviation = ground.prior.log_deviation * float(slope_widening(ground.slope_rad))
    if doubt <= 0.0:
        return np.asarray(np.maximum(ground.prior.median_n, proof_n))
    deviation *= doubt
    with np.errstate(divide="ignore"):
        proved = np.log(proof_n / ground.prior.median_n) / deviation
    # of the tail above the proof; in logarithms, since far out little of it is left
    above = log_ndtr(-proved) + np.log1p(-share)[:, None]
    return np.asarray(ground.prior.median_n * np.exp(-deviation * ndtri_exp(above)))


def _drawn_rooms(rooms: tuple[Room, ...], deeper: float) -> tuple[Room, ...]:
    """Rooms over the bed as it was drawn, by so many of its own deviations deeper."""
    return tuple(
        room
        if room.expected_m is None
        else replace(
            room, room_m=room.expected_m + deeper * (room.expected_m - room.room_m) / DOUBT
        )
        for room in rooms
    )
