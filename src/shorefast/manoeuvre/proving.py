"""The proof: steps of revs astern, marks to watch, what counts as moving, what to do."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from shorefast.basis import Assumption, Basis
from shorefast.boat import RevsCurve, RevsFor, revs_curve
from shorefast.manoeuvre.arrival import winds_of_hour
from shorefast.manoeuvre.marks import (
    Eye,
    Transit,
    by_lights,
    marks_basis,
    marks_seen,
    transits,
)
from shorefast.manoeuvre.outcomes import Outcome, outcomes_of
from shorefast.manoeuvre.proof_steps import (
    HOLD_S,
    ProofStep,
    Pulling,
    ladder,
    pulling,
    steps_of,
)
from shorefast.mooring import AIR_KGPM3, wind_force
from shorefast.stay import (
    LEAST_WATER_M,
    Judged,
    Stay,
    lie_of,
    need_and_proof,
    proof_toward_rad,
)

LAST_HOLD_S = 180.0
"""How long the last step is held, where the stay file does not say: our choice."""
HELM_SHARE = 0.35
"""The helm's place aft of midships over her length: where the eye is (our choice)."""
# wander of a fix under open sky, each way: a slow part, a faster one, noise [m], their times [s]
_WANDER = ((1.2, 600.0), (0.6, 60.0))
_NOISE_M = 0.2
# less than this on the shank is nothing
_NOTHING_N = 10.0


@dataclass(frozen=True)
class Proving:
    """The proof, step by step.

    Attributes
    ----------
    toward_rad : float
        Where she pulls to.
    water_level_m : float
        It is proved at this water. [m]
    asked : RevsFor or None
        The revs for the pull that the stay file asks; None where it asks none.
    needed : RevsFor or None
        The revs for what the stay asks of the anchor, felt at the roller of the engine and the
        mean wind along the chain; None: unknown.
    shoal_from, water_wanted_m : int or None, float
        The first step at which less water is left under her than is wanted; None: at none. [m]
    need_turned_rad : float
        How far off the proof's direction the anchor is pulled when most is asked of it.
    transits : tuple of Transit
        Of going along the chain and sideways, by day and by night; what there is.
    moving_m : float
        Going so far in a step, once the chain has drawn straight, is moving; by the
        transit along the chain, where there is none by the antenna. [m]
    moving_fix_m, moving_fix_last_m : float
        By the antenna in the time of a step, and of the last. [m]
    wind_adds_n, wind_across_n : float
        What the mean wind of that hour pulls on top, and across (to starboard). [N]
    outcomes : tuple of Outcome
    """

    steps: tuple[ProofStep, ...]
    transits: tuple[Transit, ...]
    moving_m: float
    outcomes: tuple[Outcome, ...]
    basis: Basis
    toward_rad: float
    water_level_m: float
    asked: RevsFor | None
    needed: RevsFor | None
    shoal_from: int | None
    water_wanted_m: float
    need_turned_rad: float
    moving_fix_m: float
    moving_fix_last_m: float
    wind_adds_n: float
    wind_across_n: float


def proving(stay: Stay, judged: Judged) -> Proving:
    """How to prove the anchor of a stay, at the water of its first hour.

    Steps of revs up to what gives the pull that the stay file asks, else to full; each
    held for half a minute, the last as long as the file says.

    Parameters
    ----------
    stay : Stay
        With a lie.
    judged : Judged
        The same stay.

    Returns
    -------
    Proving
        No steps where she has no engine.
    """
    level_m = float(judged.judgement.water_level_m[0, 0])
    adds_n, across_n = _wind(stay, judged)
    her = pulling(stay, judged.rigged, level_m, adds_n)
    curve = None if stay.boat.engine is None else revs_curve(stay.boat.engine)
    asked = None if curve is None else _asked(stay, curve)
    last_s = _last_hold_s(stay)
    steps = () if curve is None else steps_of(ladder(curve, asked), her, last_s)
    need_n, turned = _need(stay, judged, her)
    needed = None if curve is None or math.isnan(need_n) else her.revs_for(curve, need_n)
    looked = _transits(stay, her, steps)
    fix_m, fix_last_m = fix_moved_m(HOLD_S), fix_moved_m(last_s)
    seen_m = [one.moved_m for one in looked if one.along and not one.by_night]
    short = needed is not None and needed.reach in ("perhaps", "beyond")
    lifts = any(step.all_lifted for step in steps)
    shoal = next((step.number for step in steps if step.water_m < LEAST_WATER_M), None)
    outcomes = outcomes_of(lifts=lifts, short=short, shoal=shoal is not None)
    basis = judged.judgement.basis | marks_basis() | _basis(last_s)
    return Proving(
        steps, looked, min([*seen_m, fix_m]), outcomes,
        basis if curve is None else basis | curve.basis,
        her.toward_rad, her.level_m, asked, needed, shoal, LEAST_WATER_M, turned,
        fix_m, fix_last_m, adds_n, across_n,
    )  # fmt: skip


def _last_hold_s(stay: Stay) -> float:
    if stay.proof is None or stay.proof.minutes is None:
        return LAST_HOLD_S
    return 60.0 * stay.proof.minutes


def _asked(stay: Stay, curve: RevsCurve) -> RevsFor | None:
    """The revs that the stay file asks, or that its pull needs."""
    told = stay.proof
    if told is None:
        return None
    if told.pull_n is not None:
        return curve.revs_for(told.pull_n)
    if told.revs_rpm is None:
        return None
    pull_n = curve.at_revs(told.revs_rpm).nominal_n
    return curve.revs_for(pull_n) if math.isfinite(pull_n) else None


def _need(stay: Stay, judged: Judged, her: Pulling) -> tuple[float, float]:
    """Pull at the roller that the shank then feels as the need; and how far off its way that is."""
    nan = math.nan
    need = need_and_proof(stay, judged)
    rest = judged.judgement.rest
    shank_n = rest.lines[0].far_tension_n
    if not math.isfinite(need.need_n) or her.chain is None:
        return nan, nan
    if need.need_n <= _NOTHING_N:
        return 0.0, nan
    at = np.unravel_index(int(np.nanargmax(shank_n)), shank_n.shape)
    east_m, north_m, heading = (
        float(each[at]) for each in (rest.east_m, rest.north_m, rest.heading_rad)
    )
    lie, ahead_m = lie_of(stay), stay.boat.roller.x_m
    toward = math.atan2(
        east_m + ahead_m * math.sin(heading) - lie.let_go_east_m,
        north_m + ahead_m * math.cos(heading) - lie.let_go_north_m,
    )
    turned = (toward - her.toward_rad + math.pi) % (2.0 * math.pi) - math.pi
    low, high = 1.0, 1e6
    for _ in range(50):
        middle = math.sqrt(low * high)
        if her.chain.form(middle).anchor_tension_n < need.need_n:
            low = middle
        else:
            high = middle
    return math.sqrt(low * high), turned


def _transits(stay: Stay, her: Pulling, steps: tuple[ProofStep, ...]) -> tuple[Transit, ...]:
    """The best of each kind from her helm at the last step; no mark is near in two of a kind."""
    if not steps or not math.isfinite(steps[-1].reach_m):
        return ()
    q, back_m = her.at(steps[-1].pull_n).q, HELM_SHARE * stay.boat.hull.length_m
    eye = Eye(q[0] - back_m * math.sin(q[2]), q[1] - back_m * math.cos(q[2]), her.level_m)
    marks, land = marks_seen(stay.bay, eye), stay.bay.land
    visited = tuple(line.point for line in lie_of(stay).lines)
    found: list[Transit] = []
    for night in (False, True):
        taken: set[tuple[float, float]] = set()
        for along in (True, False):
            told = (
                by_lights(marks, land, her.toward_rad, along=along, visited=visited)
                if night
                else transits(marks, land, her.toward_rad, along=along)
            )
            best = next((t for t in told if (t.near.east_m, t.near.north_m) not in taken), None)
            if best is not None:
                taken.add((best.near.east_m, best.near.north_m))
                found.append(best)
    return tuple(found)


def _wind(stay: Stay, judged: Judged) -> tuple[float, float]:
    """What the mean wind of the first hour pulls along the chain and across her. [N]"""
    toward = proof_toward_rad(stay)
    wind, _ = winds_of_hour(stay, judged.moment(0), toward)
    if not math.isfinite(wind.mean_mps + wind.from_rad):
        return math.nan, math.nan
    heading = toward + math.pi
    off_bow = (wind.from_rad - heading + math.pi) % (2.0 * math.pi) - math.pi
    felt_mps = wind.mean_mps * judged.rigged.height_share
    ahead_n, across_n, _ = wind_force(judged.rigged.form, felt_mps, off_bow, AIR_KGPM3)
    return -ahead_n, across_n


def fix_moved_m(time_s: float) -> float:
    """How far a boat at rest seems to go by her antenna in a while, 19 times of 20. [m]

    Along one direction, open sky; a single fix against a single fix.

    Source
    ------
    static-fixes: such fixes wander as sums of slow and fast parts (read); how much is our
    own choice, no source.
    """
    wander = sum(s**2 * (1.0 - math.exp(-time_s / tau)) for s, tau in _WANDER)
    return 1.96 * math.sqrt(2.0 * (wander + _NOISE_M**2))


def _basis(last_s: float) -> Basis:
    return Basis(
        assumptions=(
            Assumption(
                "The proof is pulled straight toward where it is told, no line fast, in the mean"
                " wind of that hour, of which what blows along the chain counts, to half of itself",
                "Held aside by wind or a line she proves another direction",
            ),
            Assumption(
                f"A step is held for {HOLD_S:.0f} s, the last for {last_s / 60.0:g} min (common"
                " practice, no source)",
                "In soft mud an anchor settles for minutes: hold longer",
            ),
            Assumption(
                "Under open sky a receiver's place wanders by"
                f" {fix_moved_m(HOLD_S):.1f} m in a step, {fix_moved_m(last_s):.1f} m in the"
                " last (19 of 20; our choice)",
                "Under a high shore it jumps by 5 to 15 m: then believe the marks",
            ),
        ),
        sources=("static-fixes",),
    )
