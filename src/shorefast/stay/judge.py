"""Can she lie here? Every member, every ten minutes, every part."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis, Finding
from shorefast.mooring import (
    L_DOWN,
    L_FAR,
    L_LYING,
    L_PULL,
    L_TENSION,
    L_UPLIFT,
    LEFT,
    UNKNOWN,
    UNSETTLED,
    Load,
    Moored,
    Rests,
    branch_moves,
    move_findings,
    rests,
)
from shorefast.stay.answer import GustAnswer, Judgement, LineAtRest, RestOverStay
from shorefast.stay.by_fetch import as_ridden
from shorefast.stay.check import check
from shorefast.stay.comfort import comfort_of
from shorefast.stay.gust_answer import gust_answer
from shorefast.stay.held import held, held_words
from shorefast.stay.lines_told import idle_loop, lines_told
from shorefast.stay.over_land import over_land_basis
from shorefast.stay.over_zones import over_zones
from shorefast.stay.parts import Ground, ground_of
from shorefast.stay.plan import Stay
from shorefast.stay.proof import proven_of
from shorefast.stay.rigging import Rigged, rig
from shorefast.stay.room import room_basis
from shorefast.stay.sea import heave
from shorefast.stay.snatch import snatch_of
from shorefast.stay.steady import Steady, sea_push_basis, steady_load
from shorefast.stay.to_side import side_basis, winds_to_side
from shorefast.stay.verdict import leave_by, reason_of, uses, utc_of, verdict_of, worst_at
from shorefast.stay.weighed import Solved, unknown_words, weigh
from shorefast.weather import BayWind, gust_factor, in_the_bay, level_at, to_both_sides, wind_at

__all__ = ["STEP_S", "Judged", "bay_wind", "judge", "leave_by", "times_of", "uses"]

Floats = NDArray[np.float64]
STEP_S = 600


@dataclass(frozen=True)
class Judged:
    """A judgement with what it was worked out from, for sheet and further questions."""

    judgement: Judgement
    rigged: Rigged
    ready: Moored
    ground: Ground
    extra: Load

    def moment(self, index: int) -> datetime:
        """One of the judgement's times, aware."""
        return utc_of(self.judgement.time_utc[index])


def times_of(stay: Stay) -> NDArray[np.datetime64]:
    """Every ten minutes of the stay, its last moment included."""
    first = np.datetime64(stay.from_utc.astimezone(UTC).replace(tzinfo=None), "s")
    last = np.datetime64(stay.until_utc.astimezone(UTC).replace(tzinfo=None), "s")
    times = np.arange(first, last + np.timedelta64(1, "s"), np.timedelta64(STEP_S, "s"))
    return times if times[-1] == last else np.append(times, last)


def bay_wind(stay: Stay, times: NDArray[np.datetime64]) -> BayWind:
    """The forecast's wind in the bay at the stay's times.

    Where a forecast carries no gust at all it is the mean times the published factor
    for wind off the land, and that is said.

    Source
    ------
    wmo-td1555, Table 1.1 (read).
    """
    wind = wind_at(stay.wind, times)
    if np.isnan(stay.wind.gust_mps).all():
        factor = gust_factor("off-land", 3.0, 3600.0)
        said = f"the forecast has no gusts; reckoned as {factor:.2f} times its mean wind"
        basis = Basis(
            assumptions=(
                Assumption(
                    f"Gusts are {factor:.2f} times the mean, as for wind off the land",
                    "Behind high ground they can be twice the mean",
                ),
            ),
            sources=("wmo-td1555",),
            findings=(Finding("Forecast", said),),
        )
        wind = replace(wind, gust_mps=wind.wind_mps * factor, basis=wind.basis | basis)
    return in_the_bay(wind, stay.bay.sectors)


def _rest_over_stay(rigged: Rigged, solved: Rests) -> RestOverStay:
    lines = tuple(
        LineAtRest(
            name=line.name,
            pull_n=solved.line[..., i, L_PULL],
            tension_n=solved.line[..., i, L_TENSION],
            far_tension_n=solved.line[..., i, L_FAR],
            angle_rad=np.arctan2(solved.line[..., i, L_DOWN], solved.line[..., i, L_PULL]),
            uplift_rad=solved.line[..., i, L_UPLIFT],
            lying_m=solved.line[..., i, L_LYING],
        )
        for i, line in enumerate(rigged.scene.lines)
    )
    heading = np.mod(solved.q[..., 2], 2.0 * np.pi)
    return RestOverStay(solved.q[..., 0], solved.q[..., 1], heading, lines)


def _lost(code: NDArray[np.int64]) -> tuple[Finding, ...]:
    said = []
    lost = int(((code == LEFT) | (code == UNKNOWN)).sum())
    if lost:
        said.append(Finding("Rest", f"no rest found in {lost} of {code.size} states"))
    sheers = int((code == UNSETTLED).sum())
    if sheers:
        words = f"she comes to no rest in {sheers} of {code.size} states: she sheers about there"
        said.append(Finding("Rest", words))
    return tuple(said)


def _span_m(level_m: Floats) -> tuple[float, float]:
    known = level_m[np.isfinite(level_m)]
    return (float(known.min()), float(known.max())) if known.size else (0.0, 0.0)


def judge(stay: Stay, before: Judged | None = None) -> Judged:
    """Judge the stay's lie, hour by hour and member by member.

    Parameters
    ----------
    stay : Stay
        With a lie.
    before : Judged, optional
        The same stay judged on another bed: tables which the change did not touch are
        taken from there. The answer is the same to the bit with and without.

    Returns
    -------
    Judged
        ``judgement`` and what it was worked out from. A drag, a parted line, a
        touch are uses over 1 in it; what could not be worked out is NaN and makes
        the verdict "unknown" where it decides.

    Raises
    ------
    BadInput
        Where lie, boat and bay do not fit together.
    """
    findings = check(stay)
    times = times_of(stay)
    wind = to_both_sides(bay_wind(stay, times))
    level_m = np.broadcast_to(level_at(stay.water, times), wind.gust_mps.shape)
    low_m, high_m = _span_m(level_m)
    rigged = rig(stay, 0.5 * (low_m + high_m))
    ready = rigged.ready(low_m, high_m, None if before is None else before.ready)
    ground = ground_of(stay, proven_of(stay, rigged, float(level_m[0, 0])))
    beside = steady_load(stay, rigged, 0.5 * (low_m + high_m))
    extra = beside.load
    here_mps = wind.gust_mps * rigged.height_share
    solved = rests(ready, level_m, here_mps, wind.wind_from_rad, ready.all_set, extra)
    if (solved.code == LEFT).any():
        ready = rigged.ready_wide(low_m, high_m)
        solved = rests(ready, level_m, here_mps, wind.wind_from_rad, ready.all_set, extra)
    basis = stay.basis | wind.basis | rigged.basis | ground.basis | beside.basis
    path = (level_m, here_mps, wind.wind_from_rad)
    moves = branch_moves(ready, solved, path, ready.all_set, extra)
    hour = f"{utc_of(times[moves.first.time]):%d %b %H:%M} UTC" if moves.first else ""
    said = (*over_zones(stay, times, solved), *_lost(solved.code), *move_findings(moves, hour))
    basis = basis | Basis(findings=(*findings, *said))
    at = Solved(wind, level_m, rigged, ground, solved)
    judgement = _told_beside(stay, at, ready, beside, _judgement(stay, at, basis))
    return Judged(judgement, rigged, ready, ground, extra)


def _judgement(stay: Stay, at: Solved, basis: Basis) -> Judgement:
    """Weigh the rests: uses, shares, verdict, worst hour."""
    weighed = weigh(stay, at)
    found = verdict_of(stay, at.wind.time_utc, weighed.share)
    worst = worst_at(weighed.greatest)
    first, reason = reason_of(weighed.names, weighed.use, worst)
    if found.verdict == "unknown":
        reason = unknown_words(at, weighed)
    return Judgement(
        verdict=found.verdict,
        member=at.wind.member,
        time_utc=at.wind.time_utc,
        water_level_m=at.level_m,
        wind_mps=at.wind.wind_mps,
        gust_mps=at.wind.gust_mps,
        wind_from_rad=at.wind.wind_from_rad,
        share_past_limit=weighed.share,
        greatest_use=weighed.greatest,
        parts=weighed.parts,
        room=weighed.rooms,
        rest=_rest_over_stay(at.rigged, at.rests),
        worst=worst,
        first_to_give=first,
        leave_by_utc=found.leave_by,
        past_from_utc=found.past,
        unknown_from_utc=found.unknown,
        reason=reason,
        basis=basis,
        sea=weighed.sea,
    )


def _told_beside(
    stay: Stay, at: Solved, ready: Moored, beside: Steady, found: Judgement
) -> Judgement:
    """The judgement with what is told beside it and decides nothing."""
    ridden = as_ridden(stay, found.sea)
    comfort, comfort_basis = comfort_of(ridden)
    snatch, snatch_basis = snatch_of(ridden, at.rigged, at.rests, found.parts)
    answer, answer_basis = _gust_answer(stay, at, beside.load, found)
    worst_time = None if found.worst is None else found.worst[1]
    sides = winds_to_side(stay, at, ready, beside.load, worst_time)
    found = replace(found, sides=sides)
    sunk = heave(ridden)
    said = idle_loop(at.rigged, found)
    said += lines_told(at.rigged, ready, beside.load, found, at.rests.q)
    said += held_words(held(at, ready, beside.load, found))
    answer_basis = answer_basis | Basis(findings=said)
    told = comfort_basis | snatch_basis | answer_basis | sunk.basis
    told = told | room_basis(ridden, sunk.down_m) | sea_push_basis(ridden, found.sea)
    if found.sea is not None:
        told = told | found.sea.basis
    told = told | over_land_basis(stay, found)
    return replace(
        found,
        waves=beside.waves,
        comfort=comfort,
        snatch=snatch,
        gust_answer=answer,
        basis=found.basis | side_basis(stay, found) | told,
    )


def _gust_answer(
    stay: Stay, at: Solved, extra: Load, found: Judgement
) -> tuple[GustAnswer | None, Basis]:
    """Her own periods at the worst hour; None where no hour is known."""
    if found.worst is None:
        return None, Basis()
    m, t = found.worst
    state = (
        at.level_m[m, t],
        found.gust_mps[m, t],
        found.wind_mps[m, t],
        found.wind_from_rad[m, t],
    )
    known = tuple(float(value) for value in state)
    return gust_answer(stay, at.rigged, extra, known, at.rests.q[m, t])
