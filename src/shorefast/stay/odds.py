"""How sure: the odds, hour by hour, that a limit is passed, all doubts drawn at once."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Basis, Finding
from shorefast.stay.judge import Judged
from shorefast.stay.odds_doubts import (
    NAMES,
    OF_PLACE,
    REPLICATES,
    SHARING,
    Doubts,
    doubts_basis,
    doubts_of,
    draws,
)
from shorefast.stay.odds_shares import share_of_groups, shared_share_of, with_error
from shorefast.stay.odds_solved import Drawn, Solver, Variant
from shorefast.stay.parts import Proven
from shorefast.stay.plan import Stay

Floats = NDArray[np.float64]
Progress = Callable[[int, int], None]
SAMPLES, SEED = 1024, 20_260_624
_LEAVING = timedelta(hours=1)
_MOST_USE = 20.0
_UNKNOWN_SHARE = 0.05
_MORE_PROOF = 4.0 / 3.0
_HALF = 0.5
_TRIED = 2


@dataclass(frozen=True)
class Chance:
    """A probability and its sampling error, one standard deviation; NaN unknown."""

    share: float
    error: float


@dataclass(frozen=True)
class DoubtShare:
    """What share of the worst use's variance one doubt explains, and how sure that is."""

    name: str
    share: float
    error: float


@dataclass(frozen=True)
class Advice:
    """What would narrow the odds most: what is done, and the odds after it."""

    what: str
    after: Chance


@dataclass(frozen=True)
class Odds:
    """How sure the answer is.

    Attributes
    ----------
    time_utc : datetime64 array (time,)
    share, error : arrays (time,)
        Probability that any limit is passed then, and its sampling error.
    parts : tuple of str; part_share, part_error : arrays (part, time)
        The same of every part and room.
    unknown_share : array (time,)
        Share of samples of which it is unknown.
    whole : Chance
        That any limit is passed at any time up to ``until_utc``.
    part_whole : tuple of Chance
        The same of every part.
    whole_unknown : float
        Share of samples of which that is unknown.
    until_utc : datetime
        The stay's end, or an hour after its leave by.
    without_proof : Chance or None
        ``whole`` had no proof been made; None where none was.
    doubts : tuple of DoubtShare
        The greatest first; the forecast's members are one of them.
    advice : Advice or None
    samples : int
    """

    time_utc: NDArray[np.datetime64]
    share: Floats
    error: Floats
    parts: tuple[str, ...]
    part_share: Floats
    part_error: Floats
    unknown_share: Floats
    whole: Chance
    whole_unknown: float
    part_whole: tuple[Chance, ...]
    until_utc: datetime
    without_proof: Chance | None
    doubts: tuple[DoubtShare, ...]
    advice: Advice | None
    samples: int
    basis: Basis


@dataclass(frozen=True)
class Question:
    """How the odds are asked: how many samples, from which seed, by how many threads."""

    samples: int = SAMPLES
    seed: int = SEED
    threads: int = 2
    doubts: Doubts | None = None


def odds(
    stay: Stay, judged: Judged, asked: Question | None = None, progress: Progress | None = None
) -> Odds:
    """The odds that something is past its limit, hour by hour.

    A sample is one member of the forecast with one draw of every doubt, solved through
    all hours: its anchor lies where it was drawn to land, over the bed as deep as drawn,
    in its own wind, and holds what the ground was drawn to hold. Neighbours' and forecasts'
    own errors beyond the members are left out.

    Parameters
    ----------
    stay : Stay
        With a lie.
    judged : Judged
        The stay judged.
    asked : Question, optional
    progress : callable, optional
        Called with how many samples are solved and how many there will be.

    Returns
    -------
    Odds
        The same to the bit for the same question, whatever the threads.
    """
    asked = asked or Question()
    doubts = asked.doubts or doubts_of(stay)
    drawn = draws(asked.samples, asked.seed)
    first = _Run(stay, doubts, drawn, asked.threads, progress)
    until, count = _until(stay, judged)
    found = first.solved(_variants(first.solver))
    told = _told(found, count, until, first)
    made = first.solver.ground.proven is not None
    told = replace(
        told,
        without_proof=_chance(_failed(found, 1, count)) if made else None,
        doubts=_doubts(first, found, count),
        basis=doubts_basis(stay, doubts) | _depth_basis(first.solver) | first.solver.ground.basis,
    )
    return replace(told, advice=_advice(stay, first, found, told))


def _depth_basis(solver: Solver) -> Basis:
    if solver.depth_known:
        return Basis()
    said = "how well the depth at the anchor is known is unknown: no doubt of it is in the odds"
    return Basis(findings=(Finding("Odds", said),))


def _variants(solver: Solver) -> tuple[Variant, ...]:
    """The proof as made, none at all, and one by a third harder."""
    return Variant(1.0), Variant(0.0), Variant(_MORE_PROOF, _as_needed(solver))


def _as_needed(solver: Solver) -> Proven | None:
    """A proof by the engine where none was made and its pull is known; else None."""
    engine = solver.stay.boat.engine
    pull_n = None if engine is None else engine.astern_pull_n
    if pull_n is None:
        return None
    return Proven(pull_n, solver.lie.heading_rad + np.pi, 0.0)


class _Run:
    """All draws of a question, solved place by place, in order."""

    def __init__(
        self, stay: Stay, doubts: Doubts, drawn: Floats, threads: int, progress: Progress | None
    ) -> None:
        self.solver, self.drawn = Solver(stay, doubts), drawn
        self.threads, self.progress = threads, progress

    def solved(self, variants: tuple[Variant, ...]) -> Drawn:
        """All samples in the order of their draws: replicate after replicate."""
        lots = self.drawn.reshape(-1, SHARING, self.drawn.shape[-1])
        with ThreadPoolExecutor(self.threads) as pool:
            found = []
            for one in pool.map(lambda lot: self.solver.solved(lot, variants), lots):
                found.append(one)
                if self.progress is not None:
                    self.progress(len(found) * SHARING, lots.shape[0] * SHARING)
        return Drawn(
            np.concatenate([one.use for one in found], axis=1),
            np.concatenate([one.anchor for one in found], axis=1),
            np.concatenate([one.lost for one in found], axis=0),
        )


def _until(stay: Stay, judged: Judged) -> tuple[datetime, int]:
    """Up to when the whole stay counts, and how many times that is."""
    answer = judged.judgement
    until = stay.until_utc
    if answer.verdict == "leave by" and answer.leave_by_utc is not None:
        until = min(until, answer.leave_by_utc + _LEAVING)
    return until, times_until(answer.time_utc, until)


def times_until(time_utc: NDArray[np.datetime64], until: datetime) -> int:
    """How many times come no later than a moment; the first always does."""
    last = np.datetime64(until.astimezone(UTC).replace(tzinfo=None), "s")
    return max(1, int(np.sum(time_utc <= last)))


def _with_anchor(found: Drawn, variant: int) -> Floats:
    """Uses with the anchor's under another proof; its entry is the first."""
    return np.concatenate([found.anchor[variant][None], found.use[1:]])


def _failed(found: Drawn, variant: int, count: int) -> Floats:
    """By sample, 1 past a limit up to a time, 0 not, NaN unknown."""
    use = _with_anchor(found, variant)[:, :, :count]
    return _any_past(_past(use).max(axis=0), found.lost[:, :count], _unknown(use))


def _unknown(use: Floats) -> NDArray[np.bool_]:
    """Where any entry is unknown, (sample, time)."""
    return np.asarray(np.isnan(use).any(axis=0))


def _past(use: Floats) -> Floats:
    return (np.nan_to_num(use, nan=0.0) > 1.0).astype(float)


def _any_past(past: Floats, lost: NDArray[np.bool_], unknown: NDArray[np.bool_]) -> Floats:
    surely = (past > 0.0).any(axis=1) | lost.any(axis=1)
    return np.where(surely, 1.0, np.where(unknown.any(axis=1), np.nan, 0.0))


def _chance(failed: Floats) -> Chance:
    """A share over all samples and its error from the replicates' scatter."""
    share, error = _shares(failed[:, None])
    return Chance(float(share[0]), float(error[0]))


def _shares(failed: Floats) -> tuple[Floats, Floats]:
    """Shares past and their errors, of (sample, time); NaN where too many are unknown.

    The error is the replicates' scatter, and never less than one sample in all would make:
    where nothing failed, less than one in so many is all that is known.
    """
    each = failed.reshape(REPLICATES, -1, failed.shape[1])
    known = ~np.isnan(each)
    with np.errstate(invalid="ignore", divide="ignore"):
        mean = np.nansum(each, axis=1) / known.sum(axis=1)
        share = np.nansum(each, axis=(0, 1)) / known.sum(axis=(0, 1))
    error = np.std(mean, axis=0, ddof=1) / np.sqrt(REPLICATES)
    error = np.maximum(error, 1.0 / failed.shape[0])
    few = 1.0 - known.mean(axis=(0, 1)) > _UNKNOWN_SHARE
    return np.where(few, np.nan, share), np.where(few, np.nan, error)


def _told(found: Drawn, count: int, until: datetime, run: _Run) -> Odds:
    use, lost = found.use, found.lost
    unknown = _unknown(use)
    past = np.where((_past(use).max(axis=0) > 0.0) | lost, 1.0, np.where(unknown, np.nan, 0.0))
    share, error = _shares(past)
    parts = [_shares(np.where(np.isnan(one), np.nan, _past(one))) for one in use]
    nobody = np.zeros((use.shape[1], 1), bool)
    whole = [
        _chance(_any_past(_past(one[:, :count]), nobody, np.isnan(one[:, :count]))) for one in use
    ]
    return Odds(
        time_utc=run.solver.wind.time_utc,
        share=share,
        error=error,
        parts=tuple(run.solver.names),
        part_share=np.array([one[0] for one in parts]),
        part_error=np.array([one[1] for one in parts]),
        unknown_share=np.isnan(past).mean(axis=0),
        whole=_chance(_failed(found, 0, count)),
        whole_unknown=float(np.isnan(_failed(found, 0, count)).mean()),
        part_whole=tuple(whole),
        until_utc=until,
        without_proof=None,
        doubts=(),
        advice=None,
        samples=past.shape[0],
        basis=Basis(),
    )


def _doubts(run: _Run, found: Drawn, count: int) -> tuple[DoubtShare, ...]:
    """Shares of the variance of the logarithm of the worst use, the greatest first."""
    if np.isnan(_failed(found, 0, count)).mean() > _UNKNOWN_SHARE:
        return ()
    known = np.nan_to_num(found.use[:, :, :count], nan=0.0).max(axis=(0, 2))
    # where she finds no place to lie nothing is known of the loads: as bad as can be
    known = np.where(found.lost[:, :count].any(axis=1), _MOST_USE, known)
    worst = np.log(np.clip(known, 1e-3, _MOST_USE))
    value = worst.reshape(REPLICATES, -1)
    doubts = run.solver.doubts
    told = []
    for name, (words, columns) in NAMES.items():
        if getattr(doubts, name) > 0.0:
            alike = SHARING if name in OF_PLACE else 1
            found_share = shared_share_of(value, run.drawn[:, :, columns], alike)
            told.append(DoubtShare(words, *found_share))
    member = run.solver.member(run.drawn.reshape(-1, run.drawn.shape[-1]))
    halves = np.array_split(np.arange(worst.size), 2)
    each = [share_of_groups(worst[half], member[half]) for half in halves]
    if run.solver.wind.member.size > 1:
        told.append(DoubtShare("the forecast's members", *with_error(each)))
    told = [one for one in told if np.isfinite(one.share)]
    return tuple(sorted(told, key=lambda one: -one.share))


_NARROWER = {
    "windage": ("windage_log", "measure what stands in the wind, to half the doubt"),
    "the gusts": ("gust_log", "know the gusts of this bay, by a station or a night here, to half"),
    "the wind's direction in the bay": (
        "direction",
        "know where gusts come from here, to half the doubt, and write it as a sector",
    ),
    "what the ropes have lost": ("strength_log", "renew or double the most loaded line"),
    "where the anchor lands": ("let_go_m", "let go by a transit, without way, to half the error"),
    "the depth": ("depth", "sound along the chain and under her stern, to half the doubt"),
}  # fmt: skip


def _advice(stay: Stay, run: _Run, found: Drawn, told: Odds) -> Advice | None:
    """What to do about the greatest doubt that helps where a crew narrows it, worked out.

    What leaves the odds within their sampling errors of what they were is not told; at most
    ``_TRIED`` doubts are solved anew.
    """
    count = times_until(told.time_utc, told.until_utc)
    solved = 0
    for doubt in told.doubts:
        advice = None
        if doubt.name in ("what the ground holds", "the pull of the proof"):
            advice = _proof_advice(run, found, count)
        elif doubt.name in _NARROWER and solved < _TRIED:
            solved += 1
            name, what = _NARROWER[doubt.name]
            narrow = run.solver.doubts.narrowed(name, _HALF)
            again = _Run(stay, narrow, run.drawn, run.threads, run.progress)
            after = again.solved(_variants(again.solver)[:1])
            advice = Advice(what, _chance(_failed(after, 0, count)))
        if advice is not None and _helps(told.whole, advice.after):
            return advice
    return None


def _helps(before: Chance, after: Chance) -> bool:
    """Whether odds are better by more than their sampling errors; not where unknown."""
    return bool(before.share - after.share > np.hypot(before.error, after.error))


def _proof_advice(run: _Run, found: Drawn, count: int) -> Advice | None:
    """A proof where none was made, or one by a third harder."""
    proven = run.solver.ground.proven
    if proven is None and _as_needed(run.solver) is None:
        return None
    what = "prove the anchor with the engine full astern, and if it holds"
    if proven is not None:
        what = "prove the anchor by a third harder for a minute, and if it holds"
    return Advice(what, _chance(_failed(found, 2, count)))
