"""Can she lie here? Every member, every ten minutes, every part."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from typing import NamedTuple

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
    rests,
)
from shorefast.stay.answer import (
    Judgement,
    LineAtRest,
    PartUse,
    RestOverStay,
    Room,
    Verdict,
)
from shorefast.stay.check import check
from shorefast.stay.current import current_load
from shorefast.stay.over_zones import over_zones
from shorefast.stay.parts import Ground, ground_of, parts_in_use
from shorefast.stay.plan import Stay
from shorefast.stay.proof import proven_of
from shorefast.stay.rigging import Rigged, rig
from shorefast.stay.room import room_basis, room_of, room_use
from shorefast.weather import Wind, gust_factor, in_the_bay, level_at, night_spans, wind_at

Floats = NDArray[np.float64]
STEP_S = 600
LEAVING = timedelta(hours=1)
_ALWAYS = ("anchor", "chain", "line", "snubber")
LEAVING_QUARTER_S = 900


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
        return _utc(self.judgement.time_utc[index])


def times_of(stay: Stay) -> NDArray[np.datetime64]:
    """Every ten minutes of the stay, its last moment included."""
    first = np.datetime64(stay.from_utc.astimezone(UTC).replace(tzinfo=None), "s")
    last = np.datetime64(stay.until_utc.astimezone(UTC).replace(tzinfo=None), "s")
    times = np.arange(first, last + np.timedelta64(1, "s"), np.timedelta64(STEP_S, "s"))
    return times if times[-1] == last else np.append(times, last)


def bay_wind(stay: Stay, times: NDArray[np.datetime64]) -> Wind:
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


def uses(parts: tuple[PartUse, ...], rooms: tuple[Room, ...]) -> tuple[list[str], Floats]:
    """Names and uses (part, ...) of all that counts.

    That is room, anchor, chain and lines, known or not, and of strong points those
    whose strength somebody knows: the others are told with what they have to carry.
    """
    counted = [p for p in parts if p.kind in _ALWAYS or np.isfinite(p.limit_n).any()]
    names = [part.name for part in counted] + [room.of for room in rooms]
    return names, np.array([part.use for part in counted] + [room_use(room) for room in rooms])


def _shares(member: NDArray[np.int64], past: Floats, accepted: float) -> Floats:
    """Share of members past a limit by time; NaN where the unknown ones decide.

    past (entry, time): 1 past, 0 not, NaN unknown. Entries with the same member
    number are gusts within one hour: the worst of them counts.
    """
    numbers = np.unique(member)
    worst = np.array([_worst_of(past[member == number]) for number in numbers])
    surely = np.nanmean(np.where(np.isnan(worst), 0.0, worst), axis=0)
    maybe = surely + np.isnan(worst).mean(axis=0)
    known = (surely > accepted) | (maybe <= accepted)
    return np.where(known, surely, np.nan)


def _worst_of(entries: Floats) -> Floats:
    surely = (entries == 1.0).any(axis=0)
    unknown = np.isnan(entries).any(axis=0)
    return np.where(surely, 1.0, np.where(unknown, np.nan, 0.0))


def _utc(moment: np.datetime64) -> datetime:
    seconds = int(moment.astype("datetime64[s]").astype(np.int64))
    return datetime.fromtimestamp(seconds, UTC)


def leave_by(stay: Stay, past_from: datetime) -> datetime | None:
    """The last quarter of an hour from which leaving is still sound; None if none is.

    An hour before the first limit is passed, since leaving takes time; and where
    that comes in the dark, an hour before that evening's sunset.
    """
    latest = past_from - LEAVING
    frame = stay.bay.frame
    # looked for in the stay's own evening: a stay begun in the dark may leave in it
    for dusk, dawn in night_spans(
        frame.lat_deg, frame.lon_deg, stay.from_utc, stay.until_utc + timedelta(days=1)
    ):
        if dusk <= past_from < dawn and dusk > stay.from_utc:
            latest = min(latest, dusk - LEAVING)
    seconds = latest.timestamp()
    latest = datetime.fromtimestamp(seconds - seconds % LEAVING_QUARTER_S, UTC)
    return latest if latest > stay.from_utc else None


def _first(times: NDArray[np.datetime64], mask: NDArray[np.bool_]) -> datetime | None:
    return _utc(times[int(np.argmax(mask))]) if mask.any() else None


class _Found(NamedTuple):
    """A verdict, the time to leave by, the first times past a limit and unknown."""

    verdict: Verdict
    leave_by: datetime | None
    past: datetime | None
    unknown: datetime | None


def _verdict(stay: Stay, times: NDArray[np.datetime64], share: Floats) -> _Found:
    past = _first(times, share > stay.accepted_share)
    unknown = _first(times, np.isnan(share))
    if unknown is not None and (past is None or unknown < past):
        return _Found("unknown", None, past, unknown)
    if past is None:
        return _Found("holds", None, None, None)
    out = leave_by(stay, past)
    return _Found("no" if out is None else "leave by", out, past, unknown)


def _unknown_words(at: _Solved, names: list[str], use: Floats, shares: Floats) -> str:
    """What is unknown in the first unknown hour, and as far as it is known, why."""
    t = int(np.argmax(np.isnan(shares)))
    if np.isnan(at.wind.gust_mps[:, t]).any() or np.isnan(at.wind.wind_from_rad[:, t]).any():
        return "the forecast does not tell the wind and its direction then"
    if np.isnan(at.level_m[:, t]).any():
        return "the tide table does not reach to then"
    if not at.ground.prior.rated and at.ground.proven is None:
        return f"{at.ground.prior.basis.findings[0].said}, and nothing was proved"
    lost = [name for name, row in zip(names, use[:, :, t], strict=True) if np.isnan(row).any()]
    if at.rests.code[:, t].any() or not lost:
        return (
            "where she lies then is unknown: the bed under her chain is not sounded closely"
            " enough (a berth wants soundings closer than 40 m)"
        )
    return f"{' and '.join(lost[:2])} cannot be told: no sounding is near enough there"


def _reason(names: list[str], use: Floats, at: tuple[int, int] | None) -> tuple[str | None, str]:
    if at is None:
        return None, ""
    column = np.nan_to_num(use[:, at[0], at[1]], nan=-1.0)
    first = names[int(np.argmax(column))]
    return first, f"{first} at {float(column.max()):.2f} of its limit"


def _worst(greatest: Floats) -> tuple[int, int] | None:
    if not np.isfinite(greatest).any():
        return None
    flat = int(np.nanargmax(greatest))
    return flat // greatest.shape[1], flat % greatest.shape[1]


def _past(use: Floats, code: NDArray[np.int64]) -> tuple[Floats, Floats]:
    """Greatest use, and 1 past a limit, 0 not, NaN unknown; arrays (member, time)."""
    unknown = np.isnan(use).any(axis=0)
    greatest = np.where(unknown, np.nan, np.nan_to_num(use, nan=-1.0).max(axis=0))
    over = (np.nan_to_num(use, nan=0.0) > 1.0).any(axis=0) | (code == LEFT)
    return greatest, np.where(over, 1.0, np.where(unknown, np.nan, 0.0))


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


def judge(stay: Stay) -> Judged:
    """Judge the stay's lie, hour by hour and member by member.

    Parameters
    ----------
    stay : Stay
        With a lie.

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
    wind = bay_wind(stay, times)
    level_m = np.broadcast_to(level_at(stay.water, times), wind.gust_mps.shape)
    low_m, high_m = _span_m(level_m)
    rigged = rig(stay, 0.5 * (low_m + high_m))
    ready = rigged.ready(low_m, high_m)
    ground = ground_of(stay, proven_of(stay, rigged, float(level_m[0, 0])))
    extra, current_basis = current_load(stay, rigged, 0.5 * (low_m + high_m))
    here_mps = wind.gust_mps * rigged.height_share
    solved = rests(ready, level_m, here_mps, wind.wind_from_rad, ready.all_set, extra)
    if (solved.code == LEFT).any():
        ready = rigged.ready_wide(low_m, high_m)
        solved = rests(ready, level_m, here_mps, wind.wind_from_rad, ready.all_set, extra)
    basis = stay.basis | wind.basis | rigged.basis | ground.basis | current_basis
    zones = over_zones(stay, times, solved)
    basis = basis | Basis(findings=(*findings, *zones, *_lost(solved.code)))
    judgement = _judgement(stay, _Solved(wind, level_m, rigged, ground, solved), basis)
    return Judged(judgement, rigged, ready, ground, extra)


@dataclass(frozen=True)
class _Solved:
    """Everything worked out before it is weighed."""

    wind: Wind
    level_m: Floats
    rigged: Rigged
    ground: Ground
    rests: Rests


def _judgement(stay: Stay, at: _Solved, basis: Basis) -> Judgement:
    """Weigh the rests: uses, shares, verdict, worst hour."""
    parts = parts_in_use(stay, at.rigged, at.ground, at.rests.line)
    rooms = room_of(stay, at.rests.q, at.level_m, expected=True)
    names, use = uses(parts, rooms)
    greatest, past = _past(use, at.rests.code)
    shares = _shares(at.wind.member, past, stay.accepted_share)
    found = _verdict(stay, at.wind.time_utc, shares)
    worst = _worst(greatest)
    first, reason = _reason(names, use, worst)
    if found.verdict == "unknown":
        reason = _unknown_words(at, names, use, shares)
    return Judgement(
        verdict=found.verdict,
        member=at.wind.member,
        time_utc=at.wind.time_utc,
        water_level_m=at.level_m,
        wind_mps=at.wind.wind_mps,
        gust_mps=at.wind.gust_mps,
        wind_from_rad=at.wind.wind_from_rad,
        share_past_limit=shares,
        greatest_use=greatest,
        parts=parts,
        room=rooms,
        rest=_rest_over_stay(at.rigged, at.rests),
        worst=worst,
        first_to_give=first,
        leave_by_utc=found.leave_by,
        past_from_utc=found.past,
        unknown_from_utc=found.unknown,
        reason=reason,
        basis=basis | room_basis(stay),
    )
