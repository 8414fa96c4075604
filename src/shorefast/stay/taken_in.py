"""Soundings of a run taken into the stay's bed, and what they changed of it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Basis, Finding, Input
from shorefast.bay import DepthSurface, Soundings, add_soundings
from shorefast.errors import BadInput
from shorefast.stay.judge import Judged
from shorefast.stay.plan import Stay
from shorefast.stay.rigging import lie_of

Floats = NDArray[np.float64]
Some = NDArray[np.bool_]

# Our own choices, no source: twice what tide and trim leave in doubt together, and a
# score of soundings before a common error is spoken of.
OFF_ALIKE_M, OFF_LEAST = 0.5, 20
OFF_SHARE, OFF_SPREAD = 0.9, 0.5
CHAIN_STEP_M = 2.0


@dataclass(frozen=True)
class TakenIn:
    """A stay with a run's soundings in its bed.

    Attributes
    ----------
    stay : Stay
        The same object as before where nothing changed.
    taken, known_before, outside, far_below : int
        Soundings new to the bed; those it had already; those beyond its box; those of
        the taken ones that lie so far below the bed that they have no say.
    nodes_changed : int
        Nodes of the drawn bed that changed.
    rose_m, fell_m : float
        The most a node came up and went down; 0 where none did. [m]
    above_bed_m : float
        How far the new soundings lie above the bed they cross, the middle one; NaN
        where that bed was unknown. [m]
    alike : bool
        Whether nearly all of them lie so far off it, by the same amount.
    """

    stay: Stay
    taken: int
    known_before: int
    outside: int
    far_below: int
    nodes_changed: int
    rose_m: float
    fell_m: float
    above_bed_m: float
    alike: bool


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


def take_in(stay: Stay, soundings: Soundings, said_by: str) -> TakenIn:
    """The stay with new soundings in its bed, drawn anew only near them.

    Parameters
    ----------
    stay : Stay
    soundings : Soundings
        Of the run, in the bay's plane, levels up from chart datum.
    said_by : str
        The file or feed they came from.

    Raises
    ------
    BadInput
        If every one lies beyond the bay's box, or the bed keeps no soundings.
    """
    surface = stay.bay.surface
    inside = _in_box(surface, soundings)
    if soundings.east_m.size and not inside.any():
        raise _all_outside(surface, soundings, said_by)
    known = inside & _known(surface, soundings)
    new = _only(soundings, inside & ~known)
    after = add_soundings(surface, new) if new.east_m.size else surface
    above_m, alike = _beside_bed(surface, new)
    changed, rose_m, fell_m = _moved(surface, after)
    counts = (new.east_m.size, int(known.sum()), int((~inside).sum()), _false(surface, after))
    if after is not surface:
        stay = _with_bed(stay, after, new, said_by, _alike_words(above_m, alike, said_by, new))
    return TakenIn(stay, *counts, changed, rose_m, fell_m, above_m, alike)


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


def _in_box(surface: DepthSurface, soundings: Soundings) -> Some:
    grid = surface.grid
    rows, columns = grid.level_m.shape
    east, north = soundings.east_m - grid.west_m, soundings.north_m - grid.south_m
    across = (east >= 0.0) & (east <= (columns - 1) * grid.step_m)
    return np.asarray(across & (north >= 0.0) & (north <= (rows - 1) * grid.step_m))


def _all_outside(surface: DepthSurface, soundings: Soundings, said_by: str) -> BadInput:
    grid = surface.grid
    half = 0.5 * grid.step_m * (np.array(grid.level_m.shape) - 1)
    north_m = soundings.north_m - grid.south_m - half[0]
    east_m = soundings.east_m - grid.west_m - half[1]
    off_m = np.hypot(
        np.maximum(np.abs(north_m) - half[0], 0.0), np.maximum(np.abs(east_m) - half[1], 0.0)
    ).min()
    return BadInput(
        said_by,
        f"all {soundings.east_m.size} soundings lie outside the bay, the nearest {off_m:.0f} m off",
        "a run in this bay wanted",
        "Name another log, or check the bay's lat_deg and lon_deg.",
    )


def _only(soundings: Soundings, kept: Some) -> Soundings:
    return Soundings(*(part[kept] for part in vars(soundings).values()))


def _known(surface: DepthSurface, soundings: Soundings) -> Some:
    """Which soundings the bed has already, to the bit."""
    if surface.drawn_from is None:
        return np.zeros(soundings.east_m.size, bool)
    have = surface.drawn_from.soundings
    known = set(zip(have.east_m, have.north_m, have.level_m, strict=True))
    asked = zip(soundings.east_m, soundings.north_m, soundings.level_m, strict=True)
    return np.array([one in known for one in asked], bool)


def _false(before: DepthSurface, after: DepthSurface) -> int:
    if before.drawn_from is None or after.drawn_from is None:
        return 0
    return max(0, after.drawn_from.bed.left_out - before.drawn_from.bed.left_out)


def _moved(before: DepthSurface, after: DepthSurface) -> tuple[int, float, float]:
    """Nodes changed, the most that one rose and fell. [m]"""
    old, new = before.grid, after.grid
    same = (old.level_m == new.level_m) | (np.isnan(old.level_m) & np.isnan(new.level_m))
    doubt = (old.deviation_m == new.deviation_m) | np.isnan(new.deviation_m)
    up_m = np.nan_to_num(new.level_m - old.level_m)
    return int(np.sum(~(same & doubt))), max(0.0, float(up_m.max())), max(0.0, -float(up_m.min()))


def _beside_bed(surface: DepthSurface, new: Soundings) -> tuple[float, bool]:
    """How far new soundings lie above the bed, the middle one [m]; whether nearly all do."""
    above = new.level_m - surface.level_at(new.east_m, new.north_m)
    above = above[np.isfinite(above)]
    if not above.size:
        return math.nan, False
    middle = float(np.median(above))
    alike = np.abs(above - middle) < OFF_SPREAD * abs(middle)
    enough = above.size >= OFF_LEAST and abs(middle) >= OFF_ALIKE_M
    return middle, bool(enough and alike.mean() >= OFF_SHARE)


def _alike_words(above_m: float, alike: bool, said_by: str, new: Soundings) -> tuple[Finding, ...]:
    if not alike:
        return ()
    way = "under" if above_m > 0.0 else "over"
    said = (
        f"the run's depths lie {abs(above_m):.1f} m {way} the bed's all along"
        f" ({new.east_m.size} soundings): check tide, datum and the sounder's offset"
    )
    return (Finding(said_by, said),)


def _with_bed(
    stay: Stay, surface: DepthSurface, new: Soundings, said_by: str, said: tuple[Finding, ...]
) -> Stay:
    """The stay on a new bed; what was said of the old one makes room for what is now so."""
    old = stay.bay.surface.basis
    came = Input("soundings of the run", f"{new.east_m.size} from {said_by}", said_by)

    def anew(basis: Basis) -> Basis:
        left = replace(basis, findings=tuple(f for f in basis.findings if f not in old.findings))
        return left | surface.basis | Basis(inputs=(came,), findings=said)

    pairs = zip(vars(stay.bay.soundings).values(), vars(new).values(), strict=True)
    everything = Soundings(*(np.concatenate(pair) for pair in pairs))
    bay = replace(stay.bay, surface=surface, soundings=everything, basis=anew(stay.bay.basis))
    return replace(stay, bay=bay, basis=anew(stay.basis))
