"""What a change of lengths costs in room, and what stays past its limit all the same."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.stay.answer import Judgement, Room
from shorefast.stay.ease_solved import deciding_use
from shorefast.stay.room import room_use
from shorefast.stay.verdict import shares_past


@dataclass(frozen=True)
class RoomCost:
    """What a change costs of one room at its least of the stay.

    of : str, the room; less_m : by how much its least falls; left_m : what is left then;
    wanted_m : what is wanted [m]; at_utc : when that least is.
    """

    of: str
    less_m: float
    left_m: float
    wanted_m: float
    at_utc: np.datetime64


def _least(room: Room) -> tuple[float, int]:
    """The least of one room over members and hours, and its time; NaN where unknown. [m]"""
    if not np.isfinite(room.room_m).any():
        return float("nan"), 0
    flat = int(np.nanargmin(room.room_m))
    return float(room.room_m.flat[flat]), flat % room.room_m.shape[1]


def room_cost(before: Judgement, after: Judgement) -> RoomCost | None:
    """The room that a change makes tightest of all it makes tighter; None where it makes none."""
    costs = []
    for was, now in zip(before.room, after.room, strict=True):
        (was_m, _), (left_m, at) = _least(was), _least(now)
        if was_m > left_m:
            told = RoomCost(now.of, was_m - left_m, left_m, now.least_wanted_m, after.time_utc[at])
            costs.append((float(np.nanmax(room_use(now))), told))
    return max(costs, key=lambda one: one[0])[1] if costs else None


def decides(judgement: Judgement, accepted: float) -> float:
    """The use that as many members reach as it takes to pass the limit, at its greatest.

    Of the times at which that can be told; NaN where it can at none.
    """
    known = known_at(judgement)
    if not known.any():
        return float("nan")
    use = judgement.greatest_use[:, known]
    past = np.where(np.isnan(use), np.nan, use > 1.0)
    return float(deciding_use(judgement.member, use, past, accepted).max())


def known_at(judgement: Judgement) -> NDArray[np.bool_]:
    """At which times it can be told whether she lies inside her limits."""
    return np.isfinite(judgement.share_past_limit)


def past_at(before: Judgement, after: Judgement, accepted: float) -> NDArray[np.int64]:
    """The times known before at which she is not inside her limits after, or nobody can tell."""
    return np.flatnonzero(known_at(before) & ~(after.share_past_limit <= accepted))


def past_still(judgement: Judgement, accepted: float) -> tuple[str, ...]:
    """What more members than accepted are past at some hour; else what any member is."""
    rows = [(part.name, part.use) for part in judgement.parts]
    rows += [(room.of, room_use(room)) for room in judgement.room]
    often = [name for name, use in rows if _past(judgement, use, accepted)]
    if often or judgement.verdict == "holds":
        return tuple(often)
    return tuple(name for name, use in rows if (np.nan_to_num(use) > 1.0).any())


def _past(judgement: Judgement, use: np.ndarray, accepted: float) -> bool:
    over = np.where(np.isnan(use), 0.0, use > 1.0)
    return bool((shares_past(judgement.member, over, accepted) > accepted).any())
