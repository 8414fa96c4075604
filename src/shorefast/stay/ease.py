"""How much do I ease? What a metre does, and the least change that keeps her inside."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis
from shorefast.stay.ease_least import (
    HAND_M,
    MARGIN,
    Aim,
    aim_of,
    least_change,
    solved_use,
)
from shorefast.stay.ease_lengths import MOST_M, STEP_M, Length, adjusted, lengths_of
from shorefast.stay.ease_metre import AtHour, Metre, at_hours, one_way
from shorefast.stay.ease_solved import Change, Tried, changed, spare_members, unchanged
from shorefast.stay.ease_told import RoomCost, decides, past_at, past_still, room_cost
from shorefast.stay.judge import Judged, judge
from shorefast.stay.plan import Stay

Ints = NDArray[np.int64]
Kind = Literal["inside", "found", "none", "unknown"]
Progress = Callable[[int, int], None]
_CONFIRMED, _MORE, _MOST_MARGIN = 4, 0.002, 0.3
_GAINS = 0.02


@dataclass(frozen=True)
class Least:
    """The least change that brings her inside her limits, or what stands for it.

    Attributes
    ----------
    kind : str
        "inside": she is already; the change is the metre that gains most, if one does;
        "found": the change does it; "none": it is the best found and does not; "unknown":
        nobody can say; a change then does it at all times at which it can be told.
    change : tuple of float
        What every length is changed by, in their order. [m]
    after : Judged or None
        The stay with these lengths, judged; None where nothing is changed.
    """

    kind: Kind
    change: Change
    after: Judged | None


@dataclass(frozen=True)
class Ease:
    """What easing, taking in, veering and heaving in do to a stay.

    Attributes
    ----------
    lengths : tuple of Length
    hours : int array, shape (2,)
        The asked hour and the worst, as indices of the judgement's times.
    parts, rooms : tuples of str
        Names along the arrays of ``now`` and ``metres``.
    now : tuple of AtHour
        As she lies, at each of the hours.
    metres : tuple of Metre
        Length by length, out before in, hour by hour.
    cost : RoomCost or None
        What the least change costs in room.
    still_past : tuple of str
        What stays past its limit after it, where it does not bring her inside.
    deciding : (before, after)
        The greatest use that as many members reach as it takes to pass a limit.
    spare : (spare, members)
        How many members may be past a limit in an hour, and how many there are.
    """

    lengths: tuple[Length, ...]
    hours: Ints
    parts: tuple[str, ...]
    rooms: tuple[str, ...]
    now: tuple[AtHour, ...]
    metres: tuple[Metre, ...]
    least: Least
    basis: Basis
    cost: RoomCost | None = None
    still_past: tuple[str, ...] = ()
    deciding: tuple[float, float] = (math.nan, math.nan)
    spare: tuple[int, int] = (0, 1)


class _Counted:
    """Steps done and expected, told as they come."""

    def __init__(self, expected: int, progress: Progress | None) -> None:
        self.done, self.expected, self.progress = 0, expected, progress

    def __call__(self) -> None:
        self.done += 1
        if self.progress is not None:
            self.progress(min(self.done, self.expected), self.expected)


def ease(stay: Stay, judged: Judged, at: int = 0, progress: Progress | None = None) -> Ease:
    """What a metre on each length does, and the least change that keeps her inside.

    Every figure is the difference between two lies solved with the forecast's every
    member: the one as she lies and the one with the length changed. A doubled line's two
    parts go together. The least change is judged in full before it is told.

    Parameters
    ----------
    judged : Judged
        The stay as it lies.
    at : int
        The hour asked, an index of the judgement's times.
    progress : callable, optional
        Called with what is done and how much there is.

    Raises
    ------
    BadInput
        As ``judge``.
    """
    lengths = lengths_of(stay)
    worst = judged.judgement.worst
    hours = np.array([at, at if worst is None else worst[1]])
    told = _Counted(6 * len(lengths) + 8, progress)
    tried = Tried(stay, judged)
    base = tried.at(unchanged(len(lengths)), hours, between=True)
    now = at_hours(base)
    metres: list[Metre] = []
    for number in range(len(lengths)):
        for sign in (1.0, -1.0):
            metres += one_way(tried, lengths, (number, sign), hours, now)
            told()
    least = _least(stay, judged, tried, lengths, told)
    count = len(base.use) - len(base.rooms)
    names = tuple(base.names[:count]), tuple(base.names[count:])
    found = Ease(
        lengths, hours, *names, now, tuple(metres), least, judged.judgement.basis | _basis()
    )
    return _with_cost(stay, judged, found)


def _with_cost(stay: Stay, judged: Judged, found: Ease) -> Ease:
    """What the least change costs and leaves, beside what was found."""
    before, share = judged.judgement, stay.accepted_share
    after = before if found.least.after is None else found.least.after.judgement
    members = np.unique(before.member).size
    return replace(
        found,
        cost=room_cost(before, after),
        still_past=past_still(after, share),
        deciding=(decides(before, share), decides(after, share)),
        spare=(spare_members(members, share), members),
    )


def _least(
    stay: Stay, judged: Judged, tried: Tried, lengths: tuple[Length, ...], told: Callable[[], None]
) -> Least:
    verdict = judged.judgement.verdict
    if verdict == "unknown":
        return Least("unknown", unchanged(len(lengths)), None)
    aim = aim_of(stay.accepted_share, tried, lengths)
    if verdict == "holds":
        return _gain(stay, judged, tried, lengths, aim)
    margin = MARGIN
    for _ in range(_CONFIRMED):
        found = least_change(tried, lengths, aim, told, margin)
        after = judge(adjusted(stay, dict(enumerate(found.change))))
        told()
        if after.judgement.verdict == "holds":
            return _taken_back(stay, Least("found", found.change, after), told)
        left = past_at(judged.judgement, after.judgement, stay.accepted_share)
        if not left.size:
            return Least("unknown", found.change, after)
        # the judgement is finer: as much as it asks more, the next must bring her further,
        # and at the times at which it is past too
        more = decides(after.judgement, stay.accepted_share) - found.use
        margin = max(margin, more) + _MORE
        aim = aim.with_times(left)
        if found.use > 1.0 or margin > _MOST_MARGIN:
            break
    return Least("none", found.change, after)


def _taken_back(stay: Stay, found: Least, told: Callable[[], None]) -> Least:
    """The same with every half metre taken back without which she is judged inside still."""
    for number, by_m in enumerate(found.change):
        if by_m == 0.0:
            continue
        less_m = by_m - math.copysign(STEP_M, by_m)
        change = (*found.change[:number], less_m, *found.change[number + 1 :])
        after = judge(adjusted(stay, dict(enumerate(change))))
        told()
        if after.judgement.verdict == "holds":
            return _taken_back(stay, Least("found", change, after), told)
    return found


def _gain(stay: Stay, judged: Judged, tried: Tried, lengths: tuple[Length, ...], aim: Aim) -> Least:
    """The metre that lowers the use that decides the stay most, where one does and holds."""
    count = len(lengths)
    metres = [
        changed(count, {number: sign})
        for number, length in enumerate(lengths)
        for sign in (1.0, -1.0)
        if length.can(sign)
    ]
    most = {change: solved_use(tried, aim, change) for change in (unchanged(count), *metres)}
    best = min(metres, key=lambda change: most[change], default=unchanged(count))
    if most[best] > most[unchanged(count)] - _GAINS:
        return Least("inside", unchanged(count), None)
    after = judge(adjusted(stay, dict(enumerate(best))))
    if after.judgement.verdict != "holds":
        return Least("inside", unchanged(count), None)
    return Least("inside", best, after)


def _basis() -> Basis:
    return Basis(
        assumptions=(
            Assumption(
                "A metre is told by the lie solved again with that metre out or in: the most of"
                " all members before, and after",
                "Two metres do not do twice as much where a line comes taut or goes slack",
            ),
            Assumption(
                f"The least change counts metres, and {HAND_M:g} m for every length touched;"
                f" half metres, {MOST_M:g} m at most of each length (our choice). Sought through"
                " straight lines, then solved and judged; that no smaller one does is not proved",
                "Another change may do with less",
            ),
            Assumption(
                "The anchor stays where it was let go, and its proof counts on as it was pulled, on"
                " the chain out before the change",
                "Heaving in can break it out or turn it: prove it again",
            ),
        )
    )
