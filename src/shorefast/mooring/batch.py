"""Rests and line pulls for whole arrays of states: members, hours, directions."""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from shorefast.compiled import kernel
from shorefast.mooring.line_tables import (
    T_ANCHOR,
    T_BOTTOM,
    T_DOWN,
    T_UPLIFT,
    LineTables,
    Spread,
    table_column,
    table_pull,
    tables_of,
)
from shorefast.mooring.rest import FOUND, Load, Space, come_to_rest
from shorefast.mooring.scene import Packed, Scene, packed
from shorefast.mooring.shapes import Floats, Ints
from shorefast.mooring.wind_load import AIR_KGPM3, WindForm

WITHIN_N = 1e-2
_RAMP = 12
# columns of a line's state at a rest
L_PULL, L_DOWN, L_TENSION, L_FAR, L_UPLIFT, L_LYING, L_DISTANCE, L_BEARING = range(8)
LINE_COLUMNS = 8


@kernel
def settle(
    lines: Packed,
    tables: LineTables,
    active: Floats,
    level_m: float,
    load: Load,
    form: WindForm,
    space: Space,
    start: Floats,
    q: Floats,
) -> int:
    """Rest from ``q``; failing that from ``start``, at once or as the load grows from nothing."""
    code = come_to_rest(lines, tables, active, False, level_m, load, form, space, WITHIN_N, q)
    if code == FOUND:
        return code
    q[:] = start
    code = come_to_rest(lines, tables, active, False, level_m, load, form, space, WITHIN_N, q)
    if code == FOUND:
        return code
    q[:] = start
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
        code = come_to_rest(lines, tables, active, False, level_m, part, form, space, WITHIN_N, q)
    return code


@kernel
def rests_in_time(
    lines: Packed,
    tables: LineTables,
    active: Floats,
    level_m: Floats,
    wind_mps: Floats,
    from_rad: Floats,
    extra: Load,
    form: WindForm,
    space: Space,
    start: Floats,
    q_out: Floats,
    code_out: Ints,
) -> None:
    """Rests of one member through time, each begun where the one before ended.

    wind arrays (time,); q_out (time, 3), NaN where none; code_out (time,).
    """
    q = start.copy()
    for t in range(wind_mps.shape[0]):
        if math.isnan(wind_mps[t]) or math.isnan(from_rad[t]) or math.isnan(level_m[t]):
            code_out[t] = 2
            q_out[t, :] = np.nan
            continue
        load = Load(
            extra.east_n,
            extra.north_n,
            extra.moment_npm,
            wind_mps[t],
            from_rad[t],
            extra.density_kgpm3,
        )
        code_out[t] = settle(lines, tables, active, level_m[t], load, form, space, start, q)
        if code_out[t] == FOUND:
            q_out[t, :] = q
        else:
            q_out[t, :] = np.nan
            q[:] = start


@kernel
def lines_at(
    lines: Packed, tables: LineTables, active: Floats, q: Floats, level_m: float, out: Floats
) -> None:
    """Fill out (line, column) with every line's pulls at a rest."""
    sine, cosine = math.sin(q[2]), math.cos(q[2])
    for i in range(lines.rode.shape[0]):
        out[i, :] = 0.0
        de = lines.east_m[i] - q[0] - lines.x_m[i] * sine - lines.y_m[i] * cosine
        dn = lines.north_m[i] - q[1] - lines.x_m[i] * cosine + lines.y_m[i] * sine
        x_m = math.sqrt(de * de + dn * dn)
        bearing_rad = math.atan2(-de, -dn)
        out[i, L_DISTANCE], out[i, L_BEARING] = x_m, math.atan2(de, dn)
        if active[i] == 0.0:
            continue
        out[i, L_PULL], _ = table_pull(tables, i, x_m, bearing_rad, level_m)
        down_n = table_column(tables, i, x_m, bearing_rad, level_m, T_DOWN)
        out[i, L_DOWN] = down_n
        out[i, L_TENSION] = math.sqrt(out[i, L_PULL] ** 2 + down_n * down_n)
        out[i, L_FAR] = table_column(tables, i, x_m, bearing_rad, level_m, T_ANCHOR)
        out[i, L_UPLIFT] = table_column(tables, i, x_m, bearing_rad, level_m, T_UPLIFT)
        out[i, L_LYING] = table_column(tables, i, x_m, bearing_rad, level_m, T_BOTTOM)


@kernel
def lines_in_time(
    lines: Packed, tables: LineTables, active: Floats, q: Floats, level_m: Floats, out: Floats
) -> None:
    """Fill out (time, line, column) along one member's rests (time, 3)."""
    for t in range(q.shape[0]):
        if math.isnan(q[t, 0]):
            out[t] = np.nan
        else:
            lines_at(lines, tables, active, q[t], level_m[t], out[t])


@dataclass(frozen=True)
class Moored:
    """A scene made ready: its arrays, its tables, where a solve begins."""

    scene: Scene
    lines: Packed
    tables: LineTables
    form: WindForm
    space: Space
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
    return Moored(
        scene, packed(scene), tables_of(scene, spread), form, space, np.asarray(start, float)
    )


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
    level = np.ascontiguousarray(np.broadcast_to(level_m, shape), float)
    wind = np.ascontiguousarray(np.broadcast_to(wind_mps, shape), float)
    blow = np.ascontiguousarray(np.broadcast_to(from_rad, shape), float)
    steady = extra or Load(0.0, 0.0, 0.0, 0.0, 0.0, AIR_KGPM3)
    q = np.empty((*shape, 3))
    code = np.empty(shape, np.int64)
    line = np.empty((*shape, len(ready.scene.lines), LINE_COLUMNS))

    def one(m: int) -> None:
        rests_in_time(
            ready.lines,
            ready.tables,
            active,
            level[m],
            wind[m],
            blow[m],
            steady,
            ready.form,
            ready.space,
            ready.start,
            q[m],
            code[m],
        )
        lines_in_time(ready.lines, ready.tables, active, q[m], level[m], line[m])

    with ThreadPoolExecutor() as pool:
        list(pool.map(one, range(shape[0])))
    return Rests(q, code, line)
