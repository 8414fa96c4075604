"""Soundings of runs beside a bay's bed: which are new to it, known to it, outside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Finding
from shorefast.bay import DepthSurface, Soundings, joined
from shorefast.errors import BadInput

Some = NDArray[np.bool_]
Place = tuple[float, float, float]


class Run(NamedTuple):
    """Soundings of one log or feed, in the bay's plane, levels up from chart datum.

    Attributes
    ----------
    said_by : str
        The log or feed they came from.
    """

    said_by: str
    soundings: Soundings


class Sifted(NamedTuple):
    """A run's soundings new to the bed, how many it knew, and those beyond its box."""

    said_by: str
    new: Soundings
    known: int
    outside: Soundings


def _in_box(surface: DepthSurface, soundings: Soundings) -> Some:
    grid = surface.grid
    rows, columns = grid.level_m.shape
    east, north = soundings.east_m - grid.west_m, soundings.north_m - grid.south_m
    across = (east >= 0.0) & (east <= (columns - 1) * grid.step_m)
    return np.asarray(across & (north >= 0.0) & (north <= (rows - 1) * grid.step_m))


def sifted_runs(surface: DepthSurface, runs: Sequence[Run]) -> Iterator[Sifted]:
    """Each run's soundings: those new to the bed and to the runs before it, and the others."""
    have = _have(surface) if runs else set()
    for said_by, soundings in runs:
        inside = _in_box(surface, soundings)
        known = inside & np.array([one in have for one in _each(soundings)], bool)
        new = soundings.only(inside & ~known)
        have.update(_each(new))
        yield Sifted(said_by, new, int(known.sum()), soundings.only(~inside))


def _each(soundings: Soundings) -> Iterator[Place]:
    return zip(soundings.east_m, soundings.north_m, soundings.level_m, strict=True)


def _have(surface: DepthSurface) -> set[Place]:
    """The soundings the bed has already, to the bit."""
    drawn = surface.drawn_from
    return set() if drawn is None else set(_each(drawn.soundings))


def _all_out(one: Sifted) -> bool:
    return bool(one.outside.east_m.size) and not one.known and not one.new.east_m.size


def check_inside(surface: DepthSurface, sifted: Sequence[Sifted]) -> None:
    """Raise where there are soundings and all of them lie outside.

    Raises
    ------
    BadInput
        Then.
    """
    given = [one for one in sifted if one.known or one.new.east_m.size or one.outside.east_m.size]
    if not given or not all(_all_out(one) for one in given):
        return
    raise BadInput(
        " and ".join(one.said_by for one in given),
        _how_far_out(surface, joined([one.outside for one in given])),
        "a run in this bay wanted",
        "Name another log, or check the bay's lat_deg and lon_deg.",
    )


def _how_far_out(surface: DepthSurface, outside: Soundings) -> str:
    grid = surface.grid
    half = 0.5 * grid.step_m * (np.array(grid.level_m.shape) - 1)
    north_m = outside.north_m - grid.south_m - half[0]
    east_m = outside.east_m - grid.west_m - half[1]
    off_m = np.hypot(
        np.maximum(np.abs(north_m) - half[0], 0.0), np.maximum(np.abs(east_m) - half[1], 0.0)
    ).min()
    count = outside.east_m.size
    return f"all {count} soundings lie outside the bay, the nearest {off_m:.0f} m off"


def outside_words(surface: DepthSurface, sifted: Sequence[Sifted]) -> list[Finding]:
    """Says so of each run that lies outside as a whole, beside others that do not."""
    out = [one for one in sifted if _all_out(one)]
    return [Finding(one.said_by, _how_far_out(surface, one.outside)) for one in out]
