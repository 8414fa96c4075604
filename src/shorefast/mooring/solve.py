"""One rest by the exact path: no tables, every line solved anew at each step."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from shorefast.mooring.cells import no_cells
from shorefast.mooring.response import bed_along, pieces
from shorefast.mooring.rest import (
    FOUND,
    LEFT,
    UNSETTLED,
    Boat,
    Load,
    Space,
    State,
    come_to_rest,
    forces,
    state_of,
)
from shorefast.mooring.rode import rode_at_distance
from shorefast.mooring.scene import Packed, RodeLine, Scene, packed
from shorefast.mooring.settling import grow_to_rest
from shorefast.mooring.shapes import BedLine, Floats, RodeForm, ShoreLineForm
from shorefast.mooring.shore_line import shore_line_at_distance
from shorefast.mooring.wind_load import WindForm

_MOST_RUNS = 10
NEAR_N, WITHIN_N = 1e-2, 1e-6
_NO_WIND = WindForm(1.0, 1.0, 1.0, 0.0, 1.0, 1.0, 1.0, 0.0)


@dataclass(frozen=True)
class Rest:
    """A rest: place [m], heading [rad], each line, the residual force [N], stiffness.

    ``lines`` holds a form for every line that is set, None for one that is gone.
    ``why`` is "found", "left" (she leaves the space) or "unknown".
    """

    why: str
    east_m: float
    north_m: float
    heading_rad: float
    lines: tuple[RodeForm | ShoreLineForm | None, ...]
    residual_n: float
    stiffness: Floats


def line_form(
    scene: Scene, lines: Packed, i: int, q: Floats, level_m: float
) -> RodeForm | ShoreLineForm:
    """Line ``i`` as it lies with her at ``q``, solved anew."""
    line = scene.lines[i]
    sine, cosine = math.sin(q[2]), math.cos(q[2])
    de = q[0] + line.x_m * sine + line.y_m * cosine - line.east_m
    dn = q[1] + line.x_m * cosine - line.y_m * sine - line.north_m
    x_m = math.hypot(de, dn)
    if isinstance(line, RodeLine):
        bed, _ = bed_along(lines, i, math.atan2(de, dn), float(pieces(lines, i).cum[-1]))
        under = BedLine(bed.x_m, bed.z_m)
        return rode_at_distance(line.segments, under, line.friction, level_m + line.z_m, x_m)
    return shore_line_at_distance(
        line.rope,
        line.z_m,
        max(0.0, line.level_m - level_m),
        x_m,
    )


def _settle(boat: Boat, state: State, q: Floats) -> int:
    """``come_to_rest``; where she winds about an unstable balance, as ``settling`` has it.

    That is what she comes to as the load grows from nothing; failing that, patience.
    """
    start = q.copy()
    # first as near as tables stop, so that both go the same way about a ridge
    code = come_to_rest(boat, state, NEAR_N, q)
    if code == FOUND:
        code = come_to_rest(boat, state, WITHIN_N, q)
    if code != UNSETTLED:
        return code
    grown = start.copy()
    if grow_to_rest(boat, state, WITHIN_N, grown) == FOUND:
        q[:] = grown
        return FOUND
    for _ in range(_MOST_RUNS):
        code = come_to_rest(boat, state, WITHIN_N, q)
        if code != UNSETTLED:
            break
    return code


def solve_rest(
    scene: Scene,
    load: Load,
    water_level_m: float,
    start: tuple[float, float, float],
    set_lines: tuple[bool, ...] | None = None,
    arm_m: float = 6.0,
) -> Rest:
    """The rest that strongly damped motion from ``start`` leads to.

    Where that motion sheers for long: what she comes to as the load grows from nothing.

    Heave, heel and trim are held; each line pulls along the level line from its
    body point to its far end. Nothing is left out of the lines' own statics.

    Parameters
    ----------
    scene : Scene
    load : Load
        Steady; a wind load needs ``scene.wind``.
    water_level_m : float
        Above datum. [m]
    start : (east_m, north_m, heading_rad)
    set_lines : booleans (line,), optional
        Which lines are set; all of them if not given.
    arm_m : float
        Half her length. [m]

    Returns
    -------
    Rest
        ``why`` is "left" where she leaves the scene's domain, "unknown" where no
        balance could be found or the bed is unknown; then the numbers are NaN.
    """
    lines = packed(scene)
    count = len(scene.lines)
    active = np.array(set_lines if set_lines is not None else (True,) * count, float)
    d = scene.domain
    form = scene.wind or _NO_WIND
    space = Space(d.west_m, d.east_m, d.south_m, d.north_m, arm_m)
    boat = Boat(
        lines,
        no_cells(count),
        form,
        np.zeros((2, 3)),
        space,
        True,
    )
    state = state_of(boat, water_level_m, load, active)
    q = np.array(start, float)
    code = _settle(boat, state, q)
    if code != FOUND:
        nan = math.nan
        why = "left" if code == LEFT else "unknown"
        return Rest(why, nan, nan, nan, (None,) * count, nan, np.full((3, 3), nan))
    force, stiff = np.empty(3), np.empty((3, 3))
    size_n = forces(boat, state, q, force, stiff)
    forms = tuple(
        line_form(scene, lines, i, q, water_level_m) if active[i] else None for i in range(count)
    )
    heading = float(q[2]) % (2 * math.pi)
    return Rest("found", float(q[0]), float(q[1]), heading, forms, size_n, stiff)
