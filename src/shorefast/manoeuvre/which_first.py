"""Which line goes ashore first: tried, line by line, in the wind she comes in."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from shorefast.basis import Assumption, Basis, Finding
from shorefast.stay import Judged, Lie, PartRigged, Stay, lie_of, part_rigged

# lines that do not differ by more than these are as good as each other: our choice
ALIKE_M, ALIKE_SHARE = 1.0, 0.05


@dataclass(frozen=True)
class Stage:
    """She lies to her rode and some lines in the wind of her arrival, the engine idle.

    Attributes
    ----------
    line : int
        The last of them to be made fast, as counted in the lie.
    set_m : float
        The farthest bow or stern is then set from where it is to lie; NaN unknown. [m]
    to_spare_m : float
        The least room less what is wanted; below 0: too little; NaN unknown. [m]
    of : str
        Which room that is; "" unknown.
    share_short : float
        Share of the winds of that hour in which room is wanting or unknown.
    """

    line: int
    set_m: float
    to_spare_m: float
    of: str
    share_short: float


@dataclass(frozen=True)
class WhichFirst:
    """The order in which lines go ashore.

    Attributes
    ----------
    order : tuple of int
        All lines of the lie, as counted in it.
    second : tuple of bool
        Whether each is a second one from a cleat that has another; by the lie's count.
    weather : int or None
        The weather line; None where the first is free to choose, or nothing is known.
    alone : tuple of Stage
        Every line that might go first, as the only one fast.
    stages : tuple of Stage
        After each line, in the order.
    after_proof : tuple of int
        Lines that go after the anchor is proved: second ones, and those from the bow, which
        would hold her in it; the first of all never.
    known : bool
        Whether the wind of her arrival and where she lies in it are known.
    """

    order: tuple[int, ...]
    second: tuple[bool, ...]
    weather: int | None
    alone: tuple[Stage, ...]
    stages: tuple[Stage, ...]
    after_proof: tuple[int, ...]
    known: bool
    basis: Basis


def which_first(stay: Stay, judged: Judged) -> WhichFirst:
    """The order of the lines by trying: each next one is that which holds her best.

    At every stage every line that may come next is tried with those that are fast: she is
    let go from where she is to lie, in all winds of the stay's first moment, and comes to
    rest. Best is what leaves room in most of these winds, then what lets bow and stern be
    set least. Where lines are as good as each other the stern lines go first, then as the
    lie has them; after the first of all, stern lines in any case: on them the anchor is
    proved, and a line from the bow would hold her in it. The second line of a cleat, or
    second leg, waits until every cleat has one.

    Parameters
    ----------
    stay, judged :
        The stay and its judgement.
    """
    lie = lie_of(stay)
    order: tuple[int, ...] = ()
    stages: list[Stage] = []
    alone: tuple[Stage, ...] = ()
    while len(order) < len(lie.lines):
        tried = _tried(stay, judged, order, _next(stay, order))
        alone = alone or tried
        stages.append(_best(stay, tried))
        order = (*order, stages[-1].line)
    known = any(math.isfinite(one.set_m) for one in alone)
    apart = known and len(_alike(alone)) < len(alone)
    weather = order[0] if apart else None
    second = tuple(_is_second(lie, order, line) for line in range(len(lie.lines)))
    late = tuple(line for line in order[1:] if second[line] or not _is_aft(stay, line))
    return WhichFirst(order, second, weather, alone, tuple(stages), late, known, _basis(known, lie))


def _is_aft(stay: Stay, line: int) -> bool:
    at_m = {cleat.name: cleat.spot.x_m for cleat in stay.boat.cleats}
    return at_m[lie_of(stay).lines[line].cleat] <= 0.0


def _next(stay: Stay, order: tuple[int, ...]) -> tuple[int, ...]:
    """Lines that may come next: those of cleats without one, as long as there are any.

    After the first, those from aft before those from the bow: on them the anchor is proved.
    """
    lie = lie_of(stay)
    left = [line for line in range(len(lie.lines)) if line not in order]
    taken = {lie.lines[line].cleat for line in order}
    first = [line for line in left if lie.lines[line].cleat not in taken] or left
    aft = [line for line in first if _is_aft(stay, line)] if order else []
    return tuple(aft or first)


def _is_second(lie: Lie, order: tuple[int, ...], line: int) -> bool:
    before = order[: order.index(line)]
    return any(lie.lines[one].cleat == lie.lines[line].cleat for one in before)


def _tried(
    stay: Stay, judged: Judged, fast: tuple[int, ...], may_be: tuple[int, ...]
) -> tuple[Stage, ...]:
    found = part_rigged(stay, judged, [(*fast, line) for line in may_be])
    return tuple(_stage(one) for one in found)


def _stage(found: PartRigged) -> Stage:
    short = ~(found.to_spare_m >= 0.0)
    line, share = found.fast[-1], float(short.mean())
    if not np.isfinite(found.to_spare_m).any():
        return Stage(line, math.nan, math.nan, "", share)
    least = int(np.nanargmin(found.to_spare_m))
    set_m = float(np.nanmax(found.set_m))
    return Stage(line, set_m, float(found.to_spare_m[least]), found.of[least], share)


def _best(stay: Stay, tried: tuple[Stage, ...]) -> Stage:
    lines = lie_of(stay).lines
    aft_m = {cleat.name: cleat.spot.x_m for cleat in stay.boat.cleats}
    return min(_alike(tried), key=lambda one: (aft_m[lines[one.line].cleat], one.line))


def _alike(tried: tuple[Stage, ...]) -> tuple[Stage, ...]:
    """Those as good as the best."""
    least = min(one.share_short for one in tried)
    few = [one for one in tried if one.share_short <= least + ALIKE_SHARE]
    sets = [one.set_m for one in few if math.isfinite(one.set_m)]
    if not sets:
        return tuple(few)
    return tuple(one for one in few if one.set_m <= min(sets) + ALIKE_M)


def _basis(known: bool, lie: Lie) -> Basis:
    said = [
        Assumption(
            "Which line goes first is tried with the engine idle and the hour's gusts as if"
            " they stood; the way she swings there is left out",
            "With the engine she can be held against more, and for longer",
        ),
        Assumption(
            f"Lines that let bow and stern be set within {ALIKE_M:g} m of each other are as good"
            " (our choice): then the stern lines go first",
            "A shift of wind in that hour makes another one the first",
        ),
    ]
    unknown = Finding("Which line first", "unknown: the wind she comes in, or where she then lies")
    return Basis(assumptions=tuple(said), findings=() if known or not lie.lines else (unknown,))
