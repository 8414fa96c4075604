"""Rests and line pulls for whole arrays of states: members, hours, directions."""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from shorefast.compiled import kernel, lean_kernel
from shorefast.mooring.cells import Water, cells_of, level_cell
from shorefast.mooring.line_tables import Filled, LineTables, Spread, tables_of
from shorefast.mooring.quick import (
    LINE_COLUMNS,
    Air,
    Near,
    come_near,
    fresh_near,
    go_with_the_wind,
    put_at,
    tell_lines,
)
from shorefast.mooring.rest import (
    FOUND,
    UNKNOWN,
    Boat,
    Load,
    Space,
    State,
    wind_table,
)
from shorefast.mooring.scene import Scene, packed
from shorefast.mooring.settling import settle_there
from shorefast.mooring.shapes import Floats, Ints
from shorefast.mooring.wind_load import AIR_KGPM3, WindForm

WITHIN_N = 1e-2
_PARTS = 16
_TURN = 2.0 * math.pi
# how finely a change of wind is followed before damped motion takes over
_MOST_PARTS, _LEAST_PART = 24, 0.003


class Path(NamedTuple):
    """States in time, arrays (time,) or (member, time): water level, wind, where from."""

    level_m: Floats
    wind_mps: Floats
    from_rad: Floats


class Told(NamedTuple):
    """Where rests are written: q (time, 3), code (time,), line (time, line, column)."""

    q: Floats
    code: Ints
    line: Floats


@lean_kernel
def is_told(path: Path, t: int) -> bool:
    """Whether water and wind are known at a time."""
    return not math.isnan(path.level_m[t] + path.wind_mps[t] + path.from_rad[t])


@lean_kernel
def air_at(path: Path, t: int, extra: Load) -> Air:
    """The wind of one time beside the steady load."""
    wind_pa = extra.density_kgpm3 * path.wind_mps[t] * path.wind_mps[t]
    return Air(path.from_rad[t], wind_pa, (extra.east_n, extra.north_n, extra.moment_npm))


@lean_kernel
def tell(boat: Boat, water: Water, active: Floats, near: Near, t: int, told: Told) -> None:
    """Write the rest just balanced in ``near``."""
    told.code[t] = FOUND
    for i in range(3):
        told.q[t, i] = near.q[i]
    tell_lines(boat.cells, active, water, near, told.line[t])


@lean_kernel
def air_between(before: Air, air: Air, share: float) -> Air:
    """The wind part of the way from one to another, turning the shorter way round."""
    turn = air.from_rad - before.from_rad
    turn -= _TURN * math.floor(turn / _TURN + 0.5)
    wind_pa = before.wind_pa + share * (air.wind_pa - before.wind_pa)
    return Air(before.from_rad + share * turn, wind_pa, air.steady)


@lean_kernel
def creep(boat: Boat, water: Water, active: Floats, before: Air, air: Air, near: Near) -> bool:
    """Follow the rest while the wind goes over from one to another in small steps.

    False where it cannot be followed; ``near.q`` is then no rest.
    """
    done, wide = 0.0, 0.25
    for _ in range(_MOST_PARTS):
        q = (near.q[0], near.q[1], near.q[2])
        to = min(1.0, done + wide)
        part = air_between(before, air, to)
        if come_near(boat.cells, active, boat.wind, water, part, near, boat.space.arm_m, WITHIN_N):
            if to >= 1.0:
                return True
            done, wide = to, 2.0 * wide
        else:
            put_at(near.q, q[0], q[1], q[2])
            wide *= 0.25
            if wide < _LEAST_PART:
                return False
    return False


@lean_kernel
def follow(
    boat: Boat, path: Path, active: Floats, extra: Load, near: Near, t: int, told: Told
) -> int:
    """Rests from time ``t`` on as long as each is beside the one before in ``near.q``.

    Returns the time of the first that is not, with ``near.q`` where she lay before.
    """
    arm_m = boat.space.arm_m
    before, follows = air_at(path, t, extra), False
    for k in range(t, path.wind_mps.shape[0]):
        if not is_told(path, k):
            return k
        east_m, north_m, heading_rad = near.q[0], near.q[1], near.q[2]
        water, air = level_cell(boat.cells.level_m, path.level_m[k]), air_at(path, k, extra)
        if follows:
            go_with_the_wind(boat.wind, before, air, near, arm_m * arm_m)
        if not come_near(boat.cells, active, boat.wind, water, air, near, arm_m, WITHIN_N):
            put_at(near.q, east_m, north_m, heading_rad)
            if not (follows and creep(boat, water, active, before, air, near)):
                put_at(near.q, east_m, north_m, heading_rad)
                return k
        before, follows = air, True
        tell(boat, water, active, near, k, told)
    return int(path.wind_mps.shape[0])


@kernel
def rests_in_time(
    boat: Boat, path: Path, active: Floats, extra: Load, start: Floats, told: Told
) -> None:
    """Rests of one member through time, each begun where the one before ended.

    ``told`` is NaN where there is none.
    """
    near, q = fresh_near(active.shape[0]), np.empty(3)
    put_at(near.q, start[0], start[1], start[2])
    t, end = 0, path.wind_mps.shape[0]
    while t < end:
        t = follow(boat, path, active, extra, near, t, told)
        if t == end:
            break
        told.code[t] = UNKNOWN
        if is_told(path, t):
            q[:] = near.q[:3]
            load = Load(
                extra.east_n,
                extra.north_n,
                extra.moment_npm,
                path.wind_mps[t],
                path.from_rad[t],
                extra.density_kgpm3,
            )
            water = level_cell(boat.cells.level_m, path.level_m[t])
            state = State(path.level_m[t], load, active, water, near)
            told.code[t] = settle_there(boat, state, start, WITHIN_N, q)
        if told.code[t] == FOUND:
            tell(boat, water, active, near, t, told)
        else:
            told.q[t], told.line[t] = np.nan, np.nan
            put_at(near.q, start[0], start[1], start[2])
        t += 1


@kernel
def rests_of_members(
    boat: Boat,
    paths: Path,
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
        told = Told(q_out[m], code_out[m], line_out[m])
        rests_in_time(boat, path, active, extra, start, told)


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
    def filled(self) -> Filled:
        """Its tables, for the same lines on another bed to take over what is the same."""
        return Filled(self.boat.lines, self.tables)

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
    tables = tables_of(scene, lines, spread, start)
    boat = Boat(lines, cells_of(lines, tables), form, wind_table(form), space, False)
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

    def part(members: tuple[int, int]) -> None:
        paths = Path(level, wind, blow)
        rests_of_members(boat, paths, active, steady, ready.start, members, q, code, line)

    with ThreadPoolExecutor() as pool:
        list(pool.map(part, _parts(shape[0])))
    return Rests(q, code, line)
