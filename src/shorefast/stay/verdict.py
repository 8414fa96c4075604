"""From uses and rooms to a verdict: shares of members, leave by, the worst moment."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import LEFT
from shorefast.stay.answer import PartUse, Room, Verdict
from shorefast.stay.plan import Stay
from shorefast.stay.room import room_use
from shorefast.weather import night_spans

Floats = NDArray[np.float64]
LEAVING = timedelta(hours=1)
LEAVING_QUARTER_S = 900
_ALWAYS = ("anchor", "chain", "line", "snubber")


def uses(parts: tuple[PartUse, ...], rooms: tuple[Room, ...]) -> tuple[list[str], Floats]:
    """Names and uses (part, ...) of all that counts.

    That is room, anchor, chain and lines, known or not, and of strong points those
    whose strength somebody knows: the others are told with what they have to carry.
    """
    counted = [p for p in parts if p.kind in _ALWAYS or np.isfinite(p.limit_n).any()]
    names = [part.name for part in counted] + [room.of for room in rooms]
    return names, np.array([part.use for part in counted] + [room_use(room) for room in rooms])


def shares_past(member: NDArray[np.int64], past: Floats, accepted: float) -> Floats:
    """Share of members past a limit by time; NaN where the unknown ones decide.

    past (entry, time): 1 past, 0 not, NaN unknown. Entries with the same member
    number are gusts within one hour: the worst of them counts.
    """
    order = np.argsort(member, kind="stable")
    first = np.flatnonzero(np.diff(member[order], prepend=member[order[:1]] - 1))
    sure = np.logical_or.reduceat(past[order] == 1.0, first, axis=0)
    unknown = np.logical_or.reduceat(np.isnan(past[order]), first, axis=0)
    worst = np.where(sure, 1.0, np.where(unknown, np.nan, 0.0))
    surely = np.nanmean(np.where(np.isnan(worst), 0.0, worst), axis=0)
    maybe = surely + np.isnan(worst).mean(axis=0)
    known = (surely > accepted) | (maybe <= accepted)
    return np.where(known, surely, np.nan)


def utc_of(moment: np.datetime64) -> datetime:
    """One of numpy's moments as an aware time, whole seconds."""
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
    return utc_of(times[int(np.argmax(mask))]) if mask.any() else None


class Found(NamedTuple):
    """A verdict, the time to leave by, the first times past a limit and unknown."""

    verdict: Verdict
    leave_by: datetime | None
    past: datetime | None
    unknown: datetime | None


def verdict_of(stay: Stay, times: NDArray[np.datetime64], share: Floats) -> Found:
    """The verdict by the shares over time: the first hour past or unknown decides."""
    past = _first(times, share > stay.accepted_share)
    unknown = _first(times, np.isnan(share))
    if unknown is not None and (past is None or unknown < past):
        return Found("unknown", None, past, unknown)
    if past is None:
        return Found("holds", None, None, None)
    out = leave_by(stay, past)
    return Found("no" if out is None else "leave by", out, past, unknown)


def until_of(stay: Stay, found: Found) -> datetime:
    """How long she can lie as far as anybody knows: the end, or when to leave by.

    Where it is unknown whether she can lie on, that counts as a limit passed; the
    beginning where there is no hour.
    """
    if found.verdict == "holds":
        return stay.until_utc
    out = found.leave_by
    if found.verdict == "unknown" and found.unknown is not None:
        out = leave_by(stay, found.unknown)
    return out or stay.from_utc


def reason_of(names: list[str], use: Floats, at: tuple[int, int] | None) -> tuple[str | None, str]:
    """What is used most at a moment, and that in words; nothing where there is no moment."""
    if at is None:
        return None, ""
    column = np.nan_to_num(use[:, at[0], at[1]], nan=-1.0)
    first = names[int(np.argmax(column))]
    return first, f"{first} at {float(column.max()):.2f} of its limit"


def worst_at(greatest: Floats) -> tuple[int, int] | None:
    """Member and time of the greatest use; None where all is unknown."""
    if not np.isfinite(greatest).any():
        return None
    flat = int(np.nanargmax(greatest))
    return flat // greatest.shape[1], flat % greatest.shape[1]


def use_and_past(use: Floats, code: NDArray[np.int64]) -> tuple[Floats, Floats]:
    """Greatest use, and 1 past a limit, 0 not, NaN unknown; arrays (member, time)."""
    unknown = np.isnan(use).any(axis=0)
    greatest = np.where(unknown, np.nan, np.nan_to_num(use, nan=-1.0).max(axis=0))
    over = (np.nan_to_num(use, nan=0.0) > 1.0).any(axis=0) | (code == LEFT)
    return greatest, np.where(over, 1.0, np.where(unknown, np.nan, 0.0))
