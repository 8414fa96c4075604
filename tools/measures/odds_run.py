"""The odds held against drawn truths: a reliability table of ten bins.

A truth is one draw of every stated doubt, put into boat, bay, forecast and lie, and judged
by the whole judge with its own tables; ground and ropes are then drawn for it. Nothing of
the odds' own sums is in it, only the sizes of the doubts.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from measures.commands import NOTCH
from measures.figure import Figure, measured, told
from numpy.typing import NDArray
from scipy.stats import truncnorm

from shorefast.mooring import proof_here_n, uplift_share
from shorefast.readers import read_stay
from shorefast.stay import Judged, Stay, judge, odds
from shorefast.stay.odds import Question
from shorefast.stay.odds_doubts import Doubts, doubts_of

Floats = NDArray[np.float64]
# odds told and shares that came, by hour
Night = tuple[Floats, Floats]
BINS = 10
# a day behind a spur, a night in a notch, two days to four corners
STAYS = ("stone_spur/stay_k_day.toml", "grey_notch/stay.toml", "tres_sombras/stay.toml")
STEEP_RAD, WIDER = math.radians(10.0), 1.5
SPREAD_RAD = math.radians(20.0)
_EVERY = 6


@dataclass(frozen=True)
class Bin:
    """Hours of one tenth of the odds: how many, what was told, what came, its error."""

    hours: int
    told: float
    came: float
    error: float

    @property
    def out(self) -> bool:
        """Whether what came lies beyond two errors of what was told."""
        return self.hours > 0 and abs(self.came - self.told) > 2.0 * self.error


def another_night(stay: Stay, rng: np.random.Generator) -> Stay:
    """The stay with another wind and another proof."""
    # from a calm to half a gale, evenly by its logarithm, so that all odds are met
    blows, pulled = math.exp(rng.uniform(-0.7, 1.1)), rng.uniform(0.3, 1.2)
    wind = replace(
        stay.wind, wind_mps=blows * stay.wind.wind_mps, gust_mps=blows * stay.wind.gust_mps
    )
    proof = stay.proof
    if proof is not None and proof.pull_n is not None:
        proof = replace(proof, pull_n=pulled * proof.pull_n)
    return replace(stay, wind=wind, proof=proof)


def drawn_truth(stay: Stay, doubts: Doubts, rng: np.random.Generator) -> Stay:
    """The stay as it may truly be: one wind, one windage, one bed, one place of the anchor."""
    z, wind = rng.standard_normal(6), stay.wind
    member = int(rng.integers(wind.member.size))
    some = slice(member, member + 1)
    one = replace(
        wind,
        member=wind.member[some],
        wind_mps=wind.wind_mps[some],
        gust_mps=wind.gust_mps[some] * math.exp(doubts.gust_log * z[0]),
        wind_from_rad=np.mod(
            wind.wind_from_rad[some] + doubts.direction * SPREAD_RAD * z[1], 2.0 * np.pi
        ),
    )
    force, seen = math.exp(doubts.windage_log * z[2]), stay.boat.windage
    windage = replace(seen, frontal_m2=force * seen.frontal_m2, lateral_m2=force * seen.lateral_m2)
    grid, lie = stay.bay.surface.grid, stay.lie
    assert lie is not None
    bed = grid._replace(
        level_m=grid.level_m - doubts.depth * z[3] * grid.deviation_m,
        deviation_m=np.zeros_like(grid.deviation_m),
    )
    there = replace(
        lie,
        let_go_east_m=lie.let_go_east_m + doubts.let_go_m * z[4],
        let_go_north_m=lie.let_go_north_m + doubts.let_go_m * z[5],
    )
    bay = replace(stay.bay, surface=replace(stay.bay.surface, grid=bed))
    return replace(stay, boat=replace(stay.boat, windage=windage), wind=one, lie=there, bay=bay)


def holds_n(stay: Stay, judged: Judged, doubts: Doubts, rng: np.random.Generator) -> Floats:
    """What one drawn ground holds against each hour's pull, given that it held the proof. [N]

    By the truncated normal of a general library, on the logarithm.
    """
    ground, rode = judged.ground, judged.judgement.rest.lines[0]
    deviation = doubts.holding * ground.prior.log_deviation
    deviation *= WIDER if abs(ground.slope_rad) > STEEP_RAD else 1.0
    lifted = uplift_share(np.maximum(rode.uplift_rad[0], 0.0))
    least = np.full(lifted.shape, -np.inf)
    if ground.proven is not None:
        pulled_n = ground.proven.pull_n * math.exp(doubts.proof_log * rng.standard_normal())
        pulled_n /= float(uplift_share(ground.proven.uplift_rad))
        here_n = proof_here_n(pulled_n, ground.proven.toward_rad, _toward(stay, judged))
        with np.errstate(divide="ignore"):
            least = np.log(here_n / ground.prior.median_n) / deviation
    z = truncnorm.ppf(rng.random(), least, np.inf)
    return np.asarray(ground.prior.median_n * np.exp(deviation * z) * lifted)


def _toward(stay: Stay, judged: Judged) -> Floats:
    """From the anchor to her bow roller, by hour. [rad]"""
    rest, lie, x_m = judged.judgement.rest, stay.lie, stay.boat.roller.x_m
    assert lie is not None
    heading = rest.heading_rad[0]
    east_m = rest.east_m[0] + x_m * np.sin(heading) - lie.let_go_east_m
    north_m = rest.north_m[0] + x_m * np.cos(heading) - lie.let_go_north_m
    return np.asarray(np.arctan2(east_m, north_m))


def came(stay: Stay, doubts: Doubts, rng: np.random.Generator) -> Floats:
    """Whether a limit is passed in one drawn truth, by hour."""
    true = drawn_truth(stay, doubts, rng)
    judged, ropes = judge(true), math.exp(doubts.strength_log * rng.standard_normal())
    answer = judged.judgement
    over = np.zeros(answer.time_utc.size, bool)
    for part in answer.parts:
        limit_n = part.limit_n[0]
        if part.kind == "anchor":
            limit_n = holds_n(true, judged, doubts, rng)
        elif part.kind in ("line", "snubber", "sling"):
            limit_n = ropes * limit_n
        over |= part.load_n[0] > limit_n
    for room in answer.room:
        over |= room.room_m[0] < room.least_wanted_m
    return over.astype(float)


def nights_of(base: Stay, nights: int, truths: int, seed: int) -> list[Night]:
    """Odds told and shares that came at whole hours, for so many nights of one stay."""
    rng = np.random.default_rng(seed)
    found = []
    for night in range(nights):
        stay = another_night(base, rng)
        doubts = doubts_of(stay)
        said = odds(stay, judge(stay), Question(samples=256, seed=night)).share
        true = np.mean([came(stay, doubts, rng) for _ in range(truths)], axis=0)
        found.append((said[::_EVERY], true[::_EVERY]))
    return found


def bins_of(nights: Sequence[Night], truths: int) -> list[Bin]:
    """The table from odds told and shares that came, each (hour,) of its night.

    Hours of one night hang together: the error is that of sums over nights.
    """
    said, true = (np.concatenate([night[what] for night in nights]) for what in (0, 1))
    of_night = np.repeat(np.arange(len(nights)), [len(night[0]) for night in nights])
    at = np.minimum((said * BINS).astype(int), BINS - 1)
    return [_bin(said, true, of_night, at == number, truths) for number in range(BINS)]


def _bin(
    said: Floats,
    true: Floats,
    of_night: NDArray[np.int64],
    inside: NDArray[np.bool_],
    truths: int,
) -> Bin:
    count = int(inside.sum())
    if not count:
        return Bin(0, math.nan, math.nan, math.nan)
    share = float(said[inside].mean())
    off = np.bincount(of_night[inside], (true - said)[inside]) / count
    # never less than if every night were one draw for all its hours
    once = share * (1.0 - share) / (truths * np.unique(of_night[inside]).size)
    error = math.sqrt(max(float(np.sum(off**2)), once))
    return Bin(count, share, float(true[inside].mean()), error)


def odds_beside_truths(nights: int = 40, truths: int = 40) -> list[Figure]:
    """The reliability table as figures: a row a bin, and how many bins are out."""
    every: list[Night] = []
    for seed, name in enumerate(STAYS, start=5):
        of_stay = nights_of(read_stay(NOTCH.parent / name), nights, truths, seed)
        said, true = (np.concatenate([night[what] for night in of_stay]) for what in (0, 1))
        print(f"{name}: told {said.mean():.4f}, came {true.mean():.4f}", flush=True)
        every += of_stay
    rows = bins_of(every, truths)
    figures = [
        # two of ten bins lie beyond two errors once in eleven tables
        measured("odds-bins-out", sum(one.out for one in rows), "bins", "< 2"),
        told("odds-truths", truths * len(every), "truths"),
    ]
    for number, one in enumerate(rows):
        print(
            f"{one.hours:5} hours told {one.told:.3f}, came {one.came:.3f} +- {one.error:.3f}"
            f"{'  OUT' if one.out else ''}",
            flush=True,
        )
        if one.hours:
            figures.append(told(f"odds-bin-{number}-told", one.told, "share"))
            figures.append(told(f"odds-bin-{number}-came", one.came, "share"))
            figures.append(told(f"odds-bin-{number}-error", one.error, "share"))
    return figures
