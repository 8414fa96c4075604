"""Which line to double: the losses worked out again with a second one beside it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.boat import LongLine
from shorefast.mooring import Moored, with_copies
from shorefast.stay.judge import Judged
from shorefast.stay.lines_out import ShoreLeg
from shorefast.stay.plan import Stay
from shorefast.stay.without_next import States, Waters, next_rests
from shorefast.stay.without_things import Thing, all_things, partings_of
from shorefast.stay.without_weighed import rooms_at, touched, weighed_of

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
# states tried of every loss, the worst of them; what is nearer than this share is alike
WORST_OF_EACH = 24
_ALIKE = 0.10


@dataclass(frozen=True)
class Doubled:
    """The losses of a lie with one line doubled.

    Attributes
    ----------
    name : str
        The line; "" for the lie as it is.
    worst : tuple of float
        How bad the worst state of each loss is, the worst first: greatest use, 100 more
        for each part that follows, 1000 where it is unknown where she ends up, 2000 and
        more where she may touch.
    gone : tuple of str
        The losses in that order.
    from_line : str or None
        The line aboard with enough left over for a second one; None: there is none.
    alike : bool
        Whether that is as thick and of the same fibre, as is reckoned here.
    unknown : bool
        Whether in some state of some loss something of it is not known.
    """

    name: str
    worst: tuple[float, ...]
    gone: tuple[str, ...]
    from_line: str | None = None
    alike: bool = True
    unknown: bool = False


@dataclass(frozen=True)
class Doubling:
    """Which line to double.

    best : None where none is needed or none helps; ``needed``: whether some loss puts
    something past its limit. ``tried``: every line, in the order of the lie; ``plain``:
    the lie as it is.
    """

    best: Doubled | None
    needed: bool
    plain: Doubled
    tried: tuple[Doubled, ...]


def which_to_double(stay: Stay, judged: Judged, states: States, worst: Ints) -> Doubling:
    """Double each line in turn and work out every loss again.

    The second line goes beside the first, as long, from the same cleat, to a point of
    its own: it may go by itself, and so may the first. The lie whose worst loss is least
    bad is best; where two are alike, the one whose next worst is. All are tried in some
    states, the best in every one.

    Parameters
    ----------
    states : States
        All of the stay.
    worst : int array
        Those to try first: the worst of every loss as she lies now.
    """
    some, two = states.some(np.unique(worst)), _twice(judged)
    asked = _Twice(stay, two, some)
    plain = asked.losses(None)
    tried = [asked.losses(i) for i in range(len(judged.rigged.legs))]
    needed = bool(plain.worst) and plain.worst[0] > 1.0
    best = _best_of(plain, tried)
    if needed:
        # with two the worst may come at another hour than with one: the best has to stay it
        whole, sure = _Twice(stay, two, states), set[int]()
        while best is not None and best not in sure:
            tried[best] = whole.losses(best)
            sure.add(best)
            best = _best_of(plain, tried)
    helps = tried[best] if needed and best is not None else None
    return Doubling(helps, needed, plain, tuple(tried))


def _best_of(plain: Doubled, tried: list[Doubled]) -> int | None:
    """Which of those tried is best; None where none betters the lie as it is."""
    best, at = plain, None
    for i, one in enumerate(tried):
        if _better(one, best):
            best, at = one, i
    return at


def _better(one: Doubled, other: Doubled) -> bool:
    """Whether the first of its losses that is not alike is less bad."""
    for a, b in zip(one.worst, other.worst, strict=True):
        # where she touches or nothing holds her, how hard no longer counts
        here, there = min(a, touched(a)), min(b, touched(b))
        if abs(here - there) > _ALIKE * max(here, there):
            return here < there
    return False


def _twice(judged: Judged) -> Judged:
    """The judged lie with every line there twice, each second one to a point of its own."""
    rigged = judged.rigged
    second = tuple(_second(leg) for leg in rigged.legs)
    return replace(
        judged,
        rigged=replace(rigged, legs=(*rigged.legs, *second)),
        ready=with_copies(judged.ready),
    )


def _second(leg: ShoreLeg) -> ShoreLeg:
    line = replace(leg.line, name=f"second {leg.line.name}")
    point = replace(leg.point, name=f"beside {leg.point.name}")
    return replace(leg, name=f"second {leg.name}", line=line, point=point)


class _Worst(NamedTuple):
    """How bad the worst state of a loss is, and whether something of it is unknown."""

    badness: float
    unknown: bool


class _Twice:
    """A lie whose every line is there twice, the second ones not set."""

    def __init__(self, stay: Stay, judged: Judged, states: States) -> None:
        self.stay, self.judged, self.states = stay, judged, states
        self.legs = judged.rigged.legs[: len(judged.rigged.legs) // 2]
        self.waters = _WatersTwice(judged, states.path.level_m)
        self.partings = partings_of(stay, judged.rigged)

    def losses(self, doubled: int | None) -> Doubled:
        """Every loss with one leg doubled, None for none."""
        count = len(self.legs)
        off = [1 + count + i for i in range(count) if i != doubled]
        states = self.states
        if doubled is not None:
            active = np.ones((states.q.shape[0], 1 + 2 * count))
            active[:, off] = 0.0
            lain = self.waters.rests(states, states.q, active)
            # where no rest with two is found she is let go from where she lay with one
            q = np.where(np.isfinite(lain.q), lain.q, states.q)
            states = States(states.path, q, states.down_m)
        known: dict[tuple[int, ...], _Worst] = {}
        worst = []
        for thing in self._things():
            gone = self._gone(thing, off, doubled)
            if gone not in known:
                known[gone] = self._worst(states, gone)
            worst.append((known[gone], thing.name))
        found = sorted(((one.badness, name) for one, name in worst), reverse=True)
        name = "" if doubled is None else self.legs[doubled].name
        spare = None if doubled is None else spare_for(self.stay, self.legs, self.legs[doubled])
        return Doubled(
            name, tuple(v for v, _ in found), tuple(n for _, n in found),
            None if spare is None else spare.name,
            spare is None or doubled is None or _is_like(spare, self.legs[doubled].line),
            any(one.unknown for one, _ in worst),
        )  # fmt: skip

    def _things(self) -> list[Thing]:
        return [thing for thing in all_things(self.legs) if thing.kind != "chain"]

    def _gone(self, thing: Thing, off: list[int], doubled: int | None) -> tuple[int, ...]:
        """The lines that are not there: those that go and the second ones not set."""
        lines = set(thing.lines) | set(off)
        if thing.kind == "cleat" and doubled is not None and doubled + 1 in thing.lines:
            lines.add(1 + len(self.legs) + doubled)
        return tuple(sorted(lines))

    def _worst(self, states: States, gone: tuple[int, ...]) -> _Worst:
        found = next_rests(self.waters, states, gone, self.partings)
        rooms = rooms_at(self.stay, states, found.last.q)
        weighed = weighed_of(self.stay, self.judged, states, found, rooms)
        return _Worst(float(weighed.badness.max(initial=-1.0)), bool(weighed.unknown.any()))


class _WatersTwice(Waters):
    """As ``Waters``, the wide tables with second lines too."""

    def __init__(self, judged: Judged, level_m: Floats) -> None:
        super().__init__(judged.rigged, judged.ready, judged.extra, level_m)

    @property
    def wide(self) -> Moored:
        """Tables all round, every line there twice."""
        if self._wide is None:
            self._wide = with_copies(self.rigged.ready_wide(*self._span_m))
        return self._wide


def spare_for(stay: Stay, legs: tuple[ShoreLeg, ...], leg: ShoreLeg) -> LongLine | None:
    """The line aboard with enough left over for a second ``leg``; None where none has.

    One like it goes before its own other end, and that before another kind of rope; of
    those the one with most left.
    """
    used_m = {line.name: 0.0 for line in stay.boat.lines}
    for one in legs:
        used_m[one.line.name] = used_m.get(one.line.name, 0.0) + one.plan.length_m * one.parts
    wanted_m = leg.plan.length_m * leg.parts
    left = [
        (_is_like(line, leg.line), line.name != leg.line.name, line.length_m - used_m[line.name], i)
        for i, line in enumerate(stay.boat.lines)
        if line.length_m - used_m[line.name] >= wanted_m
    ]
    return stay.boat.lines[max(left)[3]] if left else None


def _is_like(line: LongLine, other: LongLine) -> bool:
    return line.fibre == other.fibre and line.diameter_m >= other.diameter_m
