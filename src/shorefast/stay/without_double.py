"""Which line to double: the losses worked out again with a second one beside it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import Moored, with_copies
from shorefast.stay.judge import Judged
from shorefast.stay.lines_out import ShoreLeg
from shorefast.stay.plan import Stay
from shorefast.stay.without_next import States, Waters, next_rests
from shorefast.stay.without_things import Thing, all_things, partings_of
from shorefast.stay.without_weighed import rooms_at, touched, weighed_of

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
# states tried of every loss, the worst of them; uses nearer to each other than this are alike
WORST_OF_EACH = 24
_ALIKE = 0.05


@dataclass(frozen=True)
class Doubled:
    """The losses of a lie with one line doubled.

    Attributes
    ----------
    name : str
        The line; "" for the lie as it is.
    worst : tuple of float
        How bad the worst state of each loss is, the worst first: greatest use, 100 more
        for each part that follows, 2000 and more where she may touch.
    gone : tuple of str
        The losses in that order.
    from_line : str or None
        The line aboard with enough left over for a second one; None: there is none.
    """

    name: str
    worst: tuple[float, ...]
    gone: tuple[str, ...]
    from_line: str | None = None


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
    bad is best; where two are alike, the one whose next worst is.

    Parameters
    ----------
    states : States
        All of the stay.
    worst : int array
        Those to try: the worst of every loss as she lies now.
    """
    some = states.some(np.unique(worst))
    asked = _Twice(stay, _twice(judged), some)
    plain = asked.losses(None)
    tried = tuple(asked.losses(i) for i in range(len(judged.rigged.legs)))
    needed = bool(plain.worst) and plain.worst[0] > 1.0
    best = min(tried, key=_order, default=plain)
    helps = needed and _order(best) < _order(plain)
    return Doubling(best if helps else None, needed, plain, tried)


def _order(one: Doubled) -> tuple[int, ...]:
    # where she touches or nothing holds her, how hard no longer counts
    return tuple(round(min(value, touched(value)) / _ALIKE) for value in one.worst)


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
            states = States(states.path, lain.q, states.down_m)
        found = sorted(
            ((self._worst(thing, states, off, doubled), thing.name) for thing in self._things()),
            reverse=True,
        )
        name = "" if doubled is None else self.legs[doubled].name
        spare = None if doubled is None else spare_for(self.stay, self.legs, self.legs[doubled])
        return Doubled(name, tuple(v for v, _ in found), tuple(n for _, n in found), spare)

    def _things(self) -> list[Thing]:
        return [thing for thing in all_things(self.legs) if thing.kind != "chain"]

    def _worst(self, thing: Thing, states: States, off: list[int], doubled: int | None) -> float:
        lines = set(thing.lines) | set(off)
        if thing.kind == "cleat" and doubled is not None and doubled + 1 in thing.lines:
            lines.add(1 + len(self.legs) + doubled)
        found = next_rests(self.waters, states, tuple(sorted(lines)), self.partings)
        rooms = rooms_at(self.stay, states, found.last.q)
        weighed = weighed_of(self.stay, self.judged, states, found, rooms)
        return float(weighed.badness.max(initial=-1.0))


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


def spare_for(stay: Stay, legs: tuple[ShoreLeg, ...], leg: ShoreLeg) -> str | None:
    """The line aboard with the most left over, if that is enough for a second ``leg``."""
    used_m = {line.name: 0.0 for line in stay.boat.lines}
    for one in legs:
        used_m[one.line.name] = used_m.get(one.line.name, 0.0) + one.plan.length_m * one.parts
    left = [(line.length_m - used_m[line.name], line.name) for line in stay.boat.lines]
    most_m, name = max(left, default=(0.0, ""))
    return name if most_m >= leg.plan.length_m * leg.parts else None
