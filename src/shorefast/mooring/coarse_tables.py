"""Coarse tables of lines, kept one by one: for many lies tried in turn that share lines.

A rode is laid out on few bearings at few water levels, over a bed read every few metres;
a line ashore has the table it always has. Tables of single lines are put together to a
scene made ready, so that lies which share an anchor and its chain share its table.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from shorefast.compiled import kernel, lean_kernel
from shorefast.mooring.batch import Moored, Rests, rests_of_members
from shorefast.mooring.batch import Path as States
from shorefast.mooring.cells import cells_of
from shorefast.mooring.contact import bed_through
from shorefast.mooring.line_tables import LineTables, fill_row
from shorefast.mooring.march import TOUCHDOWN, along_bed, bed_level
from shorefast.mooring.quick import LINE_COLUMNS
from shorefast.mooring.response import grid_level, pieces
from shorefast.mooring.rest import Boat, Load, Space, wind_table
from shorefast.mooring.rode import idle_when_slack
from shorefast.mooring.scene import Domain, Packed, RodeLine, Scene, ShoreLine, packed
from shorefast.mooring.shapes import Bed, Floats, Pieces
from shorefast.mooring.table_nodes import (
    IDLE_NODES,
    NODE_COLUMNS,
    NODES,
    T_BOTTOM,
    T_X,
    bridged,
    lift_and_free_n,
    marching_room,
    plain_share,
    put_node,
    rode_nodes,
    shank_pull_n,
    slopes,
)
from shorefast.mooring.wind_load import WindForm

_BEHIND_M = 4.0
# over a bed read as finely as this every node is laid out
_FINE_STEP_M = 1.0
_NOWHERE = Domain(0.0, 0.0, 0.0, 0.0)


class LineNodes(NamedTuple):
    """The table of one line: its bearings (row,) [rad] and nodes (level, row, node, column)."""

    bearing_rad: Floats
    node: Floats


class Blown(NamedTuple):
    """What every lie of one boat has alike: her wind form and its table, half her length [m]."""

    form: WindForm
    wind: Floats
    arm_m: float


def blown(form: WindForm, arm_m: float) -> Blown:
    """What every lie of a boat of this wind form has alike."""
    return Blown(form, wind_table(form), arm_m)


@kernel
def plainer_bed(
    lines: Packed, i: int, bearing_rad: float, reach_m: float, step_m: float
) -> tuple[Bed, float]:
    """The bed from the anchor of rode ``i`` along a bearing, and how far it is known. [m]"""
    sine, cosine = math.sin(bearing_rad), math.cos(bearing_rad)
    count = int((reach_m + _BEHIND_M) / step_m) + 2
    x_m, z_m = np.empty(count), np.empty(count)
    n = 0
    for k in range(count):
        along_m = k * step_m - _BEHIND_M
        level_m = grid_level(
            lines, lines.east_m[i] + along_m * sine, lines.north_m[i] + along_m * cosine
        )
        if math.isnan(level_m):
            if along_m > 0.0:
                break
            n = 0
            continue
        x_m[n], z_m[n] = along_m, level_m
        n += 1
    if n < 2 or x_m[0] > 0.0:
        return bed_through(x_m[:2], z_m[:2], lines.friction[i]), math.nan
    return bed_through(x_m[:n], z_m[:n], lines.friction[i]), x_m[n - 1]


@lean_kernel
def between_two(node: Floats, k: int) -> None:
    """Fill node ``k`` half way between the one before and the one after."""
    for c in range(node.shape[1]):
        node[k, c] = 0.5 * (node[k - 1, c] + node[k + 1, c])


@kernel
def every_second_node(
    line: Pieces, bed: Bed, known_m: float, bow_m: float, share: Floats, node: Floats
) -> None:
    """As ``rode_nodes`` with every second node laid out; the turns of hanging are among them."""
    row, out = marching_room(line, bed)
    idle_m = idle_when_slack(line, bed, bow_m)
    if math.isnan(idle_m):
        node[:] = math.nan
        return
    rise_m = bow_m - bed_level(bed, 0.0)
    slack_m, _ = along_bed(bed, idle_m)
    node[0, :] = 0.0
    node[0, T_X], node[0, T_BOTTOM] = math.sqrt(slack_m**2 + rise_m**2), idle_m
    lift_n, free_n = lift_and_free_n(line, bed, bow_m, row, out)
    for k in range(1, NODES, 2):
        p = -idle_m * (1.0 - share[min(k, IDLE_NODES - 1)])
        if k >= IDLE_NODES:
            p = shank_pull_n(k, lift_n, free_n)
        put_node(line, bed, bow_m, p, row, out, node[k])
        if out[TOUCHDOWN] > known_m:
            node[k] = math.nan
    for k in range(2, NODES, 2):
        between_two(node, k)
    if math.isnan(node[IDLE_NODES - 1, T_X]):
        node[:] = math.nan
    bridged(node)
    slopes(node)


@kernel
def fill_coarse(
    lines: Packed, bearing_rad: Floats, level_m: Floats, step_m: float, node: Floats
) -> None:
    """Fill nodes (level, bearing, node, column) of the first line, a rode, on plainer beds."""
    line, share = pieces(lines, 0), np.zeros(IDLE_NODES)
    for k in range(1, IDLE_NODES):
        share[k] = plain_share(k)
    for j in range(bearing_rad.shape[0]):
        bed, known_m = plainer_bed(lines, 0, bearing_rad[j], line.cum[-1], step_m)
        if math.isnan(known_m):
            node[:, j] = math.nan
            continue
        for k in range(level_m.shape[0]):
            bow_m = level_m[k] + lines.z_m[0]
            if step_m > _FINE_STEP_M:
                every_second_node(line, bed, known_m, bow_m, share, node[k, j])
            else:
                rode_nodes(line, bed, known_m, bow_m, share, node[k, j])


def coarse_rode(line: RodeLine, level_m: Floats, bearing_rad: Floats, step_m: float) -> LineNodes:
    """The coarse table of a rode.

    Parameters
    ----------
    level_m : array (level,)
        Water levels, rising and evenly spaced. [m]
    bearing_rad : array (row,)
        From the anchor toward the boat, rising.
    step_m : float
        How far apart the bed is read. [m]
    """
    node = np.empty((level_m.size, bearing_rad.size, NODES, NODE_COLUMNS))
    fill_coarse(packed(Scene((line,), _NOWHERE)), bearing_rad, level_m, step_m, node)
    return LineNodes(bearing_rad, node)


def shore_table(line: ShoreLine, level_m: Floats) -> LineNodes:
    """The table of a line ashore at water levels (level,), rising and evenly spaced. [m]"""
    node = np.empty((level_m.size, 1, NODES, NODE_COLUMNS))
    one, bearing_rad = np.ones(1, np.int64), np.zeros(1)
    tables = LineTables(level_m, 0 * one, one, bearing_rad, np.zeros((1, IDLE_NODES)), node)
    fill_row(packed(Scene((line,), _NOWHERE)), tables, 0, 0)
    return LineNodes(bearing_rad, node)


def put_together(
    scene: Scene, tables: Sequence[LineNodes], level_m: Floats, all_alike: Blown, start: Floats
) -> Moored:
    """A scene made ready from the tables of its lines, in their order.

    Parameters
    ----------
    level_m : array (level,)
        Of every table. [m]
    start : array, shape (3,)
        East, north, heading from which a first solve begins.
    """
    number = np.array([one.bearing_rad.size for one in tables], np.int64)
    first = np.concatenate([[0], np.cumsum(number)[:-1]]).astype(np.int64)
    whole = LineTables(
        level_m,
        first,
        number,
        np.concatenate([one.bearing_rad for one in tables]),
        np.zeros((number.size, IDLE_NODES)),
        np.ascontiguousarray(np.concatenate([one.node for one in tables], axis=1)),
    )
    d, lines = scene.domain, packed(scene)
    space = Space(d.west_m, d.east_m, d.south_m, d.north_m, all_alike.arm_m)
    boat = Boat(lines, cells_of(lines, whole), all_alike.form, all_alike.wind, space, False)
    return Moored(scene, boat, whole, start)


def rests_alone(
    ready: Moored, states: tuple[Floats, Floats, Floats], active: Floats, extra: Load
) -> Rests:
    """As ``rests``, in the thread that asks: many lies are spread over threads instead.

    states : water level, wind at the windage's height, where it blows from; (member, time)
    """
    paths = States(*(np.ascontiguousarray(one, float) for one in states))
    shape = paths.level_m.shape
    q, code = np.empty((*shape, 3)), np.empty(shape, np.int64)
    line = np.empty((*shape, len(ready.scene.lines), LINE_COLUMNS))
    members = (0, shape[0])
    rests_of_members(ready.boat, paths, active, extra, ready.start, members, q, code, line)
    return Rests(q, code, line)
