"""What a gust taken as steady understates: every part's peak in time over its steady use."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis, Finding
from shorefast.mooring import (
    FOUND,
    GustRuns,
    Rests,
    Timing,
    Winds,
    moved_by_gusts,
    moving_of,
    rests,
    underbody,
)
from shorefast.stay.answer import Judgement, PartUse, Verdict
from shorefast.stay.judge import Judged
from shorefast.stay.parts import parts_in_use
from shorefast.stay.plan import Stay
from shorefast.stay.verdict import shares_past, use_and_past, uses, verdict_of
from shorefast.weather import (
    EVERY_S,
    GUST_S,
    MOST_FACTOR,
    Fitted,
    GustShapes,
    drawn_shapes,
    fitted,
    taken_hold,
)

Floats = NDArray[np.float64]
Progress = Callable[[int, int], None]
RECORDS, SEED = 12, 1
# of a part used less than this the ratio says nothing: its peak is told alone
LEAST_USE = 0.2
_LEAD_S, _HOUR_S, _SQUALL_S = 60.0, 3600.0, 180.0
_LEAST_MEAN_MPS = 1.0
# the gustiest printed, wind over land: wmo-td1555, Table 1.1
_PRINTED = 0.25


@dataclass(frozen=True)
class PartResponse:
    """One part's peak use under gusty winds at its worst moment of the stay.

    Attributes
    ----------
    name, kind : str
        As among the judged parts.
    at : (member index, time index)
    steady_use : float
        In the hour's gust taken as steady.
    peak_use : array (record,)
        The greatest in each drawn hour; NaN where she left what is known.
    squall_use : float
        In a squall that rises from mean to gust in 3 s and stays.
    """

    name: str
    kind: str
    at: tuple[int, int]
    steady_use: float
    peak_use: Floats
    squall_use: float

    @property
    def squall_ratio(self) -> float:
        """Use in a squall over steady use; NaN for a part hardly used."""
        return self._over_steady(self.squall_use)

    @property
    def ratio(self) -> float:
        """Mean peak over steady use; NaN for a part hardly used."""
        return self._over_steady(float(np.mean(self.peak_use)))

    @property
    def low(self) -> float:
        """The least over the records."""
        return self._over_steady(float(np.min(self.peak_use)))

    @property
    def high(self) -> float:
        """The most over the records."""
        return self._over_steady(float(np.max(self.peak_use)))

    @property
    def hardly_used(self) -> bool:
        """Whether its steady use is so little that no ratio says anything."""
        return self.steady_use < LEAST_USE

    def _over_steady(self, use: float) -> float:
        return math.nan if self.hardly_used else use / self.steady_use

    def raised(self, use: Floats) -> Floats:
        """Uses of the stay with the response: times the ratio, never below 1.

        Of a part hardly used what its peak adds is added. Unknown, where she left what is
        known, unless past the limit already.
        """
        over = float(np.mean(self.peak_use)) - self.steady_use
        if not math.isfinite(over):
            more: Floats = use * math.nan
        elif self.hardly_used:
            more = use + max(0.0, over)
        else:
            more = use * max(1.0, self.ratio)
        return np.where(use > 1.0, np.fmax(use, more), more)


@dataclass(frozen=True)
class GustResponse:
    """Her response to gusts over the stay, and the stay judged with it.

    Attributes
    ----------
    parts : tuple of PartResponse
    records : int
        Drawn hours of wind at each moment.
    gust_mps, intensity : (least, most)
        Range of validity: gusts at 10 m, and deviation of the wind over its mean, of the
        hours run through.
    greatest_use : array (member, time); share_past_limit : array (time,)
        With every part's uses times its factor.
    verdict, leave_by_utc : as of a judgement, with the factors
    """

    parts: tuple[PartResponse, ...]
    records: int
    gust_mps: tuple[float, float]
    intensity: tuple[float, float]
    greatest_use: Floats
    share_past_limit: Floats
    verdict: Verdict
    leave_by_utc: datetime | None
    basis: Basis


@dataclass(frozen=True)
class _Moment:
    """One moment of a judged stay: water level [m], mean and gust at 10 m, where from.

    rests : (1, 2), in the mean wind and in the gust, both as if steady
    raised : whether the mean is taken higher than the forecast's
    """

    level_m: float
    mean_mps: float
    gust_mps: float
    from_rad: float
    rests: Rests
    raised: bool


@dataclass(frozen=True)
class _Ran:
    """One moment run through: steady use (part,), peak (part, record), in a squall (part,)."""

    steady: Floats
    peak: Floats
    squall: Floats
    intensity: float
    raised: bool


def gust_response(
    stay: Stay,
    judged: Judged,
    records: int = RECORDS,
    seed: int = SEED,
    progress: Progress | None = None,
) -> GustResponse | None:
    """Run her through drawn hours of wind at each part's worst moment.

    Each drawn hour has the mean and the greatest 3-second gust of the moment's hour. A
    part's factor is its mean peak use over its use in that gust taken as steady; it then
    stands for the whole stay.

    Parameters
    ----------
    records : int
        Drawn hours at each moment.
    seed : int
        The same seed, the same answer to the bit.
    progress : callable, optional
        Called with how many moments are done and how many there are.

    Returns
    -------
    GustResponse or None
        None where no moment is known.

    Source
    ------
    kaimal-1972; vickery-1966; fossen-2021.
    """
    found = judged.judgement
    worst = {i: _worst(part) for i, part in enumerate(found.parts)}
    at = {i: moment for i, moment in worst.items() if moment is not None}
    if not at:
        return None
    ran: dict[tuple[int, int], _Ran] = {}
    moments = sorted(set(at.values()))
    for moment in moments:
        ran[moment] = _run_at(stay, judged, moment, records, seed)
        if progress is not None:
            progress(len(ran), len(moments))
    parts = tuple(
        PartResponse(
            found.parts[i].name,
            found.parts[i].kind,
            moment,
            float(ran[moment].steady[i]),
            ran[moment].peak[i],
            float(ran[moment].squall[i]),
        )
        for i, moment in at.items()
    )
    gust = [float(found.gust_mps[moment]) for moment in ran]
    spread = [one.intensity for one in ran.values()]
    valid = ((min(gust), max(gust)), (min(spread), max(spread)))
    answer = _judged_with(stay, judged, parts, records, valid)
    return replace(answer, basis=answer.basis | _gustier(tuple(ran.values())))


def _worst(part: PartUse) -> tuple[int, int] | None:
    """Member and time of a part's greatest use; None where it is nowhere known."""
    if not np.isfinite(part.use).any():
        return None
    member, time = divmod(int(np.nanargmax(part.use)), part.use.shape[1])
    return member, time


def _moment(judged: Judged, at: tuple[int, int]) -> _Moment:
    found, ready, share = judged.judgement, judged.ready, judged.rigged.height_share
    level_m, mean, gust, blow = (
        float(values[at])
        for values in (found.water_level_m, found.wind_mps, found.gust_mps, found.wind_from_rad)
    )
    told = mean
    # gusts beside a calm blow in a part of the hour: the spectrum wants the mean of that
    mean = max(_LEAST_MEAN_MPS, gust / MOST_FACTOR, min(mean, gust)) if mean == mean else mean
    winds, still = np.array([[mean, gust]]) * share, np.zeros((1, 2))
    stood = rests(ready, still + level_m, winds, still + blow, ready.all_set, judged.extra)
    return _Moment(level_m, mean, gust, blow, stood, mean > max(told, _LEAST_MEAN_MPS))


def _run_at(stay: Stay, judged: Judged, at: tuple[int, int], records: int, seed: int) -> _Ran:
    """All parts' steady and peak uses at one moment of the stay."""
    one = _moment(judged, at)
    shapes = drawn_shapes(records, one.mean_mps, seed)
    size = fitted(shapes, one.mean_mps, one.gust_mps)
    off_rad = one.from_rad - float(one.rests.q[0, 0, 2])
    felt = taken_hold(shapes, _across_m2(stay, off_rad), one.mean_mps)
    timing = Timing(_HOUR_S + _LEAD_S, _LEAD_S)
    peak = _through(stay, judged, one, (felt, size), timing)
    rises = Fitted(np.array([one.mean_mps]), np.array([one.gust_mps - one.mean_mps]), np.zeros(1))
    squall = _through(stay, judged, one, (_squall(), rises), Timing(_SQUALL_S))
    stood = parts_in_use(stay, judged.rigged, judged.ground, one.rests.line[:, 1:])
    deviation = size.spread_mps * shapes.shape[..., 0].std(axis=1)
    return _Ran(
        np.array([part.use[0, 0] for part in stood]),
        peak,
        squall[:, 0],
        float(np.mean(deviation)) / one.mean_mps,
        one.raised,
    )


def _through(
    stay: Stay, judged: Judged, one: _Moment, wind: tuple[GustShapes, Fitted], timing: Timing
) -> Floats:
    """Peak uses (part, record) through winds, begun at rest in the mean wind."""
    (shapes, size), share = wind, judged.rigged.height_share
    every = np.ones(size.centre_mps.size)
    runs = GustRuns(
        np.arange(every.size), one.level_m * every, one.from_rad * every,
        size.centre_mps * share, size.spread_mps * share,
        # the end of a record, that goes round, leads in
        -timing.counted_from_s % (shapes.shape.shape[1] * shapes.every_s) * every,
        np.tile(one.rests.q[0, 0], (every.size, 1)),
    )  # fmt: skip
    moved = moved_by_gusts(
        judged.ready, moving_of(underbody(stay.boat.hull, stay.boat.engine)),
        Winds(shapes.shape, shapes.every_s), runs, timing, judged.extra,
    )  # fmt: skip
    line = np.where((moved.code == FOUND)[:, None, None, None], moved.line, np.nan)
    parts = parts_in_use(stay, judged.rigged, judged.ground, line)
    return np.array([part.use.max(axis=1) for part in parts])


def _squall() -> GustShapes:
    """A wind that rises from mean to gust in three seconds and stays so."""
    t_s = EVERY_S * np.arange(round(_SQUALL_S / EVERY_S) + 1)
    along = np.clip((t_s - 10.0) / GUST_S, 0.0, 1.0)
    return GustShapes(np.stack([along, 0.0 * along], axis=-1)[None].copy(), EVERY_S)


def _across_m2(stay: Stay, off_rad: float) -> float:
    """What of her stands across a wind off the bow. [m2]"""
    windage = stay.boat.windage
    return abs(windage.frontal_m2 * math.cos(off_rad)) + abs(windage.lateral_m2 * math.sin(off_rad))


def _judged_with(
    stay: Stay,
    judged: Judged,
    parts: tuple[PartResponse, ...],
    records: int,
    valid: tuple[tuple[float, float], tuple[float, float]],
) -> GustResponse:
    """The stay judged anew with every part's uses times its factor."""
    found = judged.judgement
    told = {one.name: one for one in parts}
    raised = tuple(
        replace(part, use=told[part.name].raised(part.use)) if part.name in told else part
        for part in found.parts
    )
    _, use = uses(raised, found.room)
    greatest, past = use_and_past(use, _codes(judged, found))
    share = shares_past(found.member, past, stay.accepted_share)
    verdict = verdict_of(stay, found.time_utc, share)
    return GustResponse(
        parts, records, *valid, greatest, share, verdict.verdict, verdict.leave_by, _BASIS
    )


def _gustier(ran: tuple[_Ran, ...]) -> Basis:
    """What to say where the wind is gustier than any whose spectrum is printed."""
    most = max(one.intensity for one in ran)
    if not most > _PRINTED:
        return Basis()
    said = (
        f"these gusts deviate by up to {most:.2f} of the mean, printed winds by up to"
        f" {_PRINTED:.2f}: her response to them is reckoned outside the range it is known in"
    )
    calm = sum(one.raised for one in ran)
    if calm:
        said += (
            f"; in {calm} of {len(ran)} worst hours the gust is over {MOST_FACTOR:g} times the"
            f" mean, and the mean while it gusts is taken as the gust over {MOST_FACTOR:g}"
        )
    return Basis(findings=(Finding("Gusts", said),), sources=("wmo-td1555",))


def _codes(judged: Judged, found: Judgement) -> NDArray[np.int64]:
    """How each rest ended, solved anew: the judgement keeps the rests alone."""
    here_mps = found.gust_mps * judged.rigged.height_share
    solved = rests(
        judged.ready, found.water_level_m, here_mps, found.wind_from_rad,
        judged.ready.all_set, judged.extra,
    )  # fmt: skip
    return solved.code


_BASIS = Basis(
    assumptions=(
        Assumption(
            "Gusty winds are drawn from a spectrum of wind over flat land, each hour with the"
            " forecast's mean and its gust of 3 s",
            "In a squall or fall wind that comes at once the peak can be twice the steady use,"
            " and where chain or lines lay slack many times it, whatever the ratio here",
        ),
        Assumption(
            "Lines pull as they would at rest where she is; their own mass, and the water they"
            " are drawn through, are left out",
            "Chain in deep water is slower to straighten: its jerks are longer and harder",
        ),
        Assumption(
            "A part's ratio at its worst hour stands for the whole stay",
            "In hours of two fifths of its limit and more it was up to a half greater, in lesser"
            " ones up to three times as great: an anchor asked 0.37 came to 1.12 in time, and by"
            " the ratio to 0.66 (our three demonstration lies)",
        ),
        Assumption(
            "Room is as she lies in the gust taken as steady",
            "In lies tried she ranged up to two and a half metres farther in time",
        ),
        Assumption(
            "Beside the water's drag each of her own swings loses 5 % of critical damping"
            " (our choice)",
            "At 2 % peaks are a twentieth to a sixth greater, at 10 % as much less",
        ),
    ),
    sources=("kaimal-1972", "vickery-1966", "fossen-2021", "clough-penzien", "hairer-2006"),
)
