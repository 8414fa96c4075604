"""Soundings of a run taken into the stay's bed, and what they changed of it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Basis, Finding, Input
from shorefast.bay import DepthSurface, Soundings, add_soundings, joined
from shorefast.stay.judge import Judged
from shorefast.stay.plan import Stay
from shorefast.stay.rigging import lie_of
from shorefast.stay.runs_sifted import (
    Run,
    Sifted,
    check_inside,
    outside_words,
    sifted_runs,
)

Floats = NDArray[np.float64]

# Our own choices, no source: twice what tide and trim leave in doubt together, and a
# score of soundings before a common error is spoken of.
OFF_ALIKE_M, OFF_LEAST = 0.5, 20
OFF_SHARE, OFF_SPREAD = 0.9, 0.5
CHAIN_STEP_M = 2.0


@dataclass(frozen=True)
class RunIn:
    """What one run gave to a bed.

    Attributes
    ----------
    taken, known_before, outside : int
        Soundings new to the bed; those it, or a run named before, had already; those
        beyond its box.
    above_bed_m : float
        How far the new soundings lie above the bed they cross, the middle one; NaN
        where that bed was unknown. [m]
    alike : bool
        Whether nearly all of them lie so far off it, by the same amount.
    """

    said_by: str
    taken: int
    known_before: int
    outside: int
    above_bed_m: float
    alike: bool


@dataclass(frozen=True)
class TakenIn:
    """A stay with the soundings of runs in its bed.

    Attributes
    ----------
    stay : Stay
        The same object as before where nothing changed.
    runs : tuple of RunIn
        What each run gave, in the order they were named.
    far_below : int
        Soundings taken that lie so far below the bed that they have no say.
    nodes_changed : int
        Nodes of the drawn bed that changed.
    rose_m, fell_m : float
        The most a node came up and went down; 0 where none did. [m]
    rose_at_m : (east, north)
        Where it came up most; NaN where none did. [m]
    newly_known_m2 : float
        Bed drawn now where it was unknown before. [m2]
    above_bed_m : float
        As ``RunIn``, of all runs together. [m]
    """

    stay: Stay
    runs: tuple[RunIn, ...]
    far_below: int
    nodes_changed: int
    rose_m: float
    fell_m: float
    rose_at_m: tuple[float, float]
    newly_known_m2: float
    above_bed_m: float

    @property
    def taken(self) -> int:
        """Soundings new to the bed."""
        return sum(one.taken for one in self.runs)

    @property
    def known_before(self) -> int:
        """Soundings the bed had already."""
        return sum(one.known_before for one in self.runs)

    @property
    def outside(self) -> int:
        """Soundings beyond the bed's box."""
        return sum(one.outside for one in self.runs)

    @property
    def alike(self) -> bool:
        """Whether of some run nearly all soundings lie off the bed, by the same amount."""
        return any(one.alike for one in self.runs)


class _Moved(NamedTuple):
    nodes: int
    rose_m: float
    fell_m: float
    rose_at_m: tuple[float, float]
    newly_known_m2: float


@dataclass(frozen=True)
class BedChange:
    """The bed at one place before and after; level up from chart datum. [m]"""

    of: str
    east_m: float
    north_m: float
    level_before_m: float
    level_m: float
    deviation_before_m: float
    deviation_m: float


def take_in(stay: Stay, runs: Sequence[Run]) -> TakenIn:
    """The stay with new soundings in its bed, drawn anew only near them.

    All runs are taken in together; whether one lies off all along is asked of each run
    alone, beside the bed as it was before any of them.

    Parameters
    ----------
    stay : Stay
    runs : sequence of Run

    Raises
    ------
    BadInput
        If every sounding lies beyond the bay's box, or the bed keeps no soundings.
    """
    surface = stay.bay.surface
    sifted = tuple(sifted_runs(surface, runs))
    check_inside(surface, sifted)
    new = joined([one.new for one in sifted])
    after = add_soundings(surface, new) if new.east_m.size else surface
    above = [_above_bed(surface, one.new) for one in sifted]
    found = tuple(_run_in(one, up_m) for one, up_m in zip(sifted, above, strict=True))
    if after is not surface:
        said = (*outside_words(surface, sifted), *(w for one in found for w in _alike_words(one)))
        stay = _with_bed(stay, after, sifted, said)
    moved = _moved(surface, after)
    middle_m = _middle(np.concatenate(above)) if above else math.nan
    return TakenIn(stay, found, _false(surface, after), *moved, middle_m)


def bed_changes(before: Stay, after: Stay, judged: Judged) -> tuple[BedChange, ...]:
    """The bed at the let-go point, under the keel, and where the chain lies it changed most.

    judged : of the stay after; she lies as at its worst hour, its first where none is known.
    """
    lie = lie_of(after)
    let_go = (lie.let_go_east_m, lie.let_go_north_m)
    at = judged.judgement.worst or (0, 0)
    rest = judged.judgement.rest
    q = (float(rest.east_m[at]), float(rest.north_m[at]), float(rest.heading_rad[at]))
    roller = after.boat.roller
    chain = _between(let_go, _on_board(q, roller.x_m, roller.y_m))
    found = [_change("let-go point", before, after, np.array([let_go]))]
    for part in after.boat.underwater:
        place = _on_board(q, part.x_m, part.y_m)
        found.append(_change(part.name, before, after, np.array([place])))
    found.append(_change("along the chain", before, after, chain))
    return tuple(found)


def _on_board(q: tuple[float, float, float], x_m: float, y_m: float) -> tuple[float, float]:
    sine, cosine = math.sin(q[2]), math.cos(q[2])
    return q[0] + x_m * sine + y_m * cosine, q[1] + x_m * cosine - y_m * sine


def _between(one: tuple[float, float], other: tuple[float, float]) -> Floats:
    """Places on a straight line, no farther apart than the step; one if it has no end."""
    far_m = math.hypot(other[0] - one[0], other[1] - one[1])
    if not math.isfinite(far_m):
        return np.array([one])
    share = np.linspace(0.0, 1.0, max(2, math.ceil(far_m / CHAIN_STEP_M) + 1))[:, None]
    return np.asarray((1.0 - share) * np.array(one) + share * np.array(other))


def _change(of: str, before: Stay, after: Stay, places: Floats) -> BedChange:
    """The place among several where the level changed most."""
    old, new = before.bay.surface, after.bay.surface
    east, north = places[:, 0], places[:, 1]
    was, now = old.level_at(east, north), new.level_at(east, north)
    k = int(np.argmax(np.nan_to_num(np.abs(now - was), nan=-1.0)))
    values = (was, now, old.deviation_at(east, north), new.deviation_at(east, north))
    return BedChange(of, float(east[k]), float(north[k]), *(float(value[k]) for value in values))


def _false(before: DepthSurface, after: DepthSurface) -> int:
    if before.drawn_from is None or after.drawn_from is None:
        return 0
    return max(0, after.drawn_from.bed.left_out - before.drawn_from.bed.left_out)


def _moved(before: DepthSurface, after: DepthSurface) -> _Moved:
    """What the drawn bed's nodes did."""
    old, new = before.grid, after.grid
    was, now = np.isnan(old.level_m), np.isnan(new.level_m)
    same = (old.level_m == new.level_m) | (was & now)
    doubt = (old.deviation_m == new.deviation_m) | np.isnan(new.deviation_m)
    up_m = np.nan_to_num(new.level_m - old.level_m)
    rose_m, fell_m = max(0.0, float(up_m.max())), max(0.0, -float(up_m.min()))
    row, column = divmod(int(up_m.argmax()), up_m.shape[1])
    at_m = (new.west_m + column * new.step_m, new.south_m + row * new.step_m)
    known_m2 = float(np.sum(was & ~now)) * new.step_m**2
    where = at_m if rose_m > 0.0 else (math.nan, math.nan)
    return _Moved(int(np.sum(~(same & doubt))), rose_m, fell_m, where, known_m2)


def _above_bed(surface: DepthSurface, new: Soundings) -> Floats:
    """How far new soundings lie above the bed, where it is known. [m]"""
    above = new.level_m - surface.level_at(new.east_m, new.north_m)
    return np.asarray(above[np.isfinite(above)])


def _middle(values: Floats) -> float:
    return float(np.median(values)) if values.size else math.nan


def _run_in(one: Sifted, above_m: Floats) -> RunIn:
    """What a run gave, and whether nearly all of it lies off the bed by the same amount."""
    middle = _middle(above_m)
    enough = above_m.size >= OFF_LEAST and abs(middle) >= OFF_ALIKE_M
    near = np.abs(above_m - middle) < OFF_SPREAD * abs(middle)
    alike = bool(enough and near.mean() >= OFF_SHARE)
    taken, outside = one.new.east_m.size, one.outside.east_m.size
    return RunIn(one.said_by, taken, one.known, outside, middle, alike)


def _alike_words(one: RunIn) -> tuple[Finding, ...]:
    if not one.alike:
        return ()
    way = "under" if one.above_bed_m > 0.0 else "over"
    said = (
        f"the run's depths lie {abs(one.above_bed_m):.1f} m {way} the bed's all along"
        f" ({one.taken} soundings): check tide, datum and the sounder's offset"
    )
    return (Finding(one.said_by, said),)


def _with_bed(
    stay: Stay, surface: DepthSurface, sifted: Sequence[Sifted], said: tuple[Finding, ...]
) -> Stay:
    """The stay on a new bed; what was said of the old one makes room for what is now so."""
    old = stay.bay.surface.basis
    came = tuple(
        Input("soundings of the run", f"{one.new.east_m.size} from {one.said_by}", one.said_by)
        for one in sifted
        if one.new.east_m.size
    )

    def anew(basis: Basis) -> Basis:
        left = replace(basis, findings=tuple(f for f in basis.findings if f not in old.findings))
        return left | surface.basis | Basis(inputs=came, findings=said)

    everything = joined([stay.bay.soundings, *(one.new for one in sifted)])
    bay = replace(stay.bay, surface=surface, soundings=everything, basis=anew(stay.bay.basis))
    return replace(stay, bay=bay, basis=anew(stay.basis))
