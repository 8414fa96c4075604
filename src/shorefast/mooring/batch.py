"""Rests and line pulls for whole arrays of states: members, hours, directions."""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from shorefast.compiled import kernel
from shorefast.mooring.line_tables import LineTables, Spread, tables_of
from shorefast.mooring.quick import LINE_COLUMNS, come_near, level_cell, lines_at, plain_lines
from shorefast.mooring.rest import (
    FOUND,
    UNKNOWN,
    Boat,
    Load,
    Space,
    State,
    come_to_rest,
    wind_table,
)
from shorefast.mooring.scene import Scene, packed
from shorefast.mooring.shapes import Floats, Ints
from shorefast.mooring.wind_load import AIR_KGPM3, WindForm

WITHIN_N = 1e-2
_RAMP = 12
_PARTS = 16


@kernel
def settle(boat: Boat, state: State, start: Floats, q: Floats) -> int:
    """Rest from ``q``; failing that from ``start``, at once or as the load grows from nothing."""
    code = come_to_rest(boat, state, WITHIN_N, q)
    if code == FOUND:
        return code
    q[:] = start
    code = come_to_rest(boat, state, WITHIN_N, q)
    if code == FOUND:
        return code
    q[:] = start
    load = state.load
    for k in range(1, _RAMP + 1):
        share = k / _RAMP
        part = Load(
            load.east_n * share,
            load.north_n * share,
            load.moment_npm * share,
            load.wind_mps * math.sqrt(share),
            load.wind_from_rad,
            load.density_kgpm3,
        )
        grown = State(state.level_m, part, state.active, state.water, state.hint)
        code = come_to_rest(boat, grown, WITHIN_N, q)
    return code


class Path(NamedTuple):
    """States in time, arrays (time,) or (member, time): water level, wind, where from."""

    level_m: Floats
    wind_mps: Floats
    from_rad: Floats


@kernel
def rests_in_time(
    boat: Boat,
    path: Path,
    levels: Floats,
    active: Floats,
    extra: Load,
    start: Floats,
    q_out: Floats,
    code_out: Ints,
    line_out: Floats,
) -> None:
    """Rests of one member through time, each begun where the one before ended.

    q_out (time, 3) and line_out (time, line, column) are NaN where there is none.
    """
    q = start.copy()
    hint = np.zeros(active.shape[0], np.int64)
    steady = np.array([extra.east_n, extra.north_n, extra.moment_npm])
    spec, node, wind, arm_m = boat.spec, boat.node, boat.wind, boat.space.arm_m
    k = np.empty((3, 3))
    for t in range(path.wind_mps.shape[0]):
        code_out[t] = UNKNOWN
        q_out[t], line_out[t] = np.nan, np.nan
        wind_mps, from_rad = path.wind_mps[t], path.from_rad[t]
        if math.isnan(wind_mps) or math.isnan(from_rad) or math.isnan(path.level_m[t]):
            continue
        water = level_cell(levels, path.level_m[t])
        wind_pa = extra.density_kgpm3 * wind_mps * wind_mps
        if come_near(
            spec, active, node, water, wind, hint, steady, wind_pa, from_rad, arm_m, WITHIN_N, q, k
        ):
            code_out[t] = FOUND
        else:
            load = Load(
                extra.east_n,
                extra.north_n,
                extra.moment_npm,
                wind_mps,
                from_rad,
                extra.density_kgpm3,
            )
            state = State(path.level_m[t], load, active, water, hint)
            code_out[t] = settle(boat, state, start, q)
        if code_out[t] == FOUND:
            q_out[t] = q
            lines_at(spec, active, node, water, hint, q, line_out[t])
        else:
            q[:] = start


@kernel
def rests_of_members(
    boat: Boat,
    paths: Path,
    levels: Floats,
    active: Floats,
    extra: Load,
    start: Floats,
    members: tuple[int, int],
    q_out: Floats,
    code_out: Ints,
    line_out: Floats,
) -> None:
    """``rests_in_time`` for members from the first up to, not with, the second."""
    for m in range(members[0], members[1]):
        path = Path(paths.level_m[m], paths.wind_mps[m], paths.from_rad[m])
        rests_in_time(boat, path, levels, active, extra, start, q_out[m], code_out[m], line_out[m])


def _parts(count: int) -> list[tuple[int, int]]:
    """Members cut into parts for the threads; the cut does not change any answer."""
    size = max(1, -(-count // _PARTS))
    return [(first, min(count, first + size)) for first in range(0, count, size)]


@dataclass(frozen=True)
class Moored:
    """A scene made ready: its arrays and tables, and where a solve begins."""

    scene: Scene
    boat: Boat
    tables: LineTables
    start: Floats

    @property
    def all_set(self) -> Floats:
        """The mask of lines with every one set."""
        return np.ones(len(self.scene.lines))

    def without(self, *names: str) -> Floats:
        """The mask of lines with those of the given names gone."""
        return np.array([0.0 if line.name in names else 1.0 for line in self.scene.lines])


@dataclass(frozen=True)
class Rests:
    """Rests of an array of states.

    q : (..., 3) east [m], north [m], heading [rad]; NaN where none
    code : (...) rest.FOUND, LEFT, UNKNOWN or UNSETTLED
    line : (..., line, column) pulls [N], angles [rad], lengths [m] (L_* columns)
    """

    q: Floats
    code: Ints
    line: Floats


def moored(scene: Scene, form: WindForm, arm_m: float, start: Floats, spread: Spread) -> Moored:
    """Make a scene ready for batches: pack it and fill its tables.

    Parameters
    ----------
    scene : Scene
    form : WindForm
        Her wind form.
    arm_m : float
        Half her length: what a turn weighs against a shift. [m]
    start : array, shape (3,)
        East, north, heading from which a first solve begins.
    spread : Spread
        Water levels and bearings the tables must cover.
    """
    d = scene.domain
    space = Space(d.west_m, d.east_m, d.south_m, d.north_m, arm_m)
    lines = packed(scene)
    tables = tables_of(scene, lines, spread)
    spec = plain_lines(lines, tables)
    boat = Boat(lines, spec, tables.node, form, wind_table(form), space, False)
    return Moored(scene, boat, tables, np.asarray(start, float))


def rests(
    ready: Moored,
    level_m: Floats,
    wind_mps: Floats,
    from_rad: Floats,
    active: Floats,
    extra: Load | None = None,
) -> Rests:
    """Rests of members through time; each member follows its own path.

    Parameters
    ----------
    ready : Moored
    level_m, wind_mps, from_rad : arrays (member, time)
        Water level; wind at the height of the windage, and where it blows from.
    active : array (line,)
        1 for a line that is set, 0 for one that is gone.
    extra : Load, optional
        A steady load beside the wind (current, engine).

    Returns
    -------
    Rests
        The same to the bit whatever the number of threads: members do not meet.
    """
    shape = np.broadcast_shapes(level_m.shape, wind_mps.shape, from_rad.shape)
    level, wind, blow = (
        np.array(np.broadcast_to(a, shape), float, order="C") for a in (level_m, wind_mps, from_rad)
    )
    boat, count = ready.boat, len(ready.scene.lines)
    steady = extra or Load(0.0, 0.0, 0.0, 0.0, 0.0, AIR_KGPM3)
    q, code = np.empty((*shape, 3)), np.empty(shape, np.int64)
    line = np.empty((*shape, count, LINE_COLUMNS))

    levels = ready.tables.level_m

    def part(members: tuple[int, int]) -> None:
        paths = Path(level, wind, blow)
        rests_of_members(boat, paths, levels, active, steady, ready.start, members, q, code, line)

    with ThreadPoolExecutor() as pool:
        list(pool.map(part, _parts(shape[0])))
    return Rests(q, code, line)
