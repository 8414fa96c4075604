"""The sums of a yacht handled under engine: chain and lines in time.

Body axes: x forward, y to starboard, turning clockwise from above. The chain is followed as
it hangs at rest between the roller and where its anchor lies, as much of it as is out.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from shorefast.compiled import kernel, lean_kernel
from shorefast.mooring.handled_forces import (
    S_AHEAD,
    S_ANCHOR,
    S_ASIDE,
    S_CHAIN,
    S_EAST,
    S_HEADING,
    S_MOVED,
    S_NORTH,
    S_PUSH,
    S_REVS,
    S_RUDDER,
    S_TURN,
    Air,
    Driven,
    driven_forces,
)
from shorefast.mooring.march import (
    ANCHOR_T,
    DISTANCE,
    DOWN,
    ON_BOTTOM,
    PULL,
    RESULTS,
    TOUCHDOWN,
    UPLIFT,
    along_bed,
)
from shorefast.mooring.response import bed_along, grid_level
from shorefast.mooring.rode import rode_asked
from shorefast.mooring.scene import Packed
from shorefast.mooring.shapes import Floats, Pieces
from shorefast.mooring.shore_line import pull_at

# what the anchor does
STOWED, HANGS, LIES = 0.0, 1.0, 2.0
# columns of what the rode came to when it was last solved
(
    C_PULL, C_DOWN, C_LYING, C_SHANK, C_UPLIFT, C_STIFF, C_FAR, C_OUT, C_BEARING, C_SOLVED,
) = range(10)  # fmt: skip
RODE_COLUMNS = 10
# columns of the orders
O_HELM, O_REVS, O_PUSH, O_VEER = range(4)
ORDER_COLUMNS = 4
_SOLVE_M, _SOLVE_OUT_M, _SOLVE_COSINE, _SOLVE_SHARE = 0.15, 0.1, math.cos(0.02), 0.02
_FEW_N = 10.0


class Tackle(NamedTuple):
    """Chain and lines as they are now; arrays are changed in place.

    lines : the scene; its first is the rode with all that is aboard, its anchor's place that
        of the anchor, the lengths of the others as they are now
    on : array (line,), 1 for a line that is fast at both ends; the rode's is not read
    rode : array (RODE_COLUMNS,), as it was when last solved
    tension_n : array (line,), at her end
    veer_mps, heave_mps, windlass_n : of the windlass
    holding_n : pull at the shank at which the anchor gives way
    level_m : of the water
    """

    lines: Packed
    on: Floats
    rode: Floats
    tension_n: Floats
    veer_mps: float
    heave_mps: float
    windlass_n: float
    holding_n: float
    level_m: float


@lean_kernel
def roller_at(lines: Packed, state: Floats) -> tuple[float, float]:
    """Where the bow roller is. [m]"""
    sine, cosine = math.sin(state[S_HEADING]), math.cos(state[S_HEADING])
    return (
        state[S_EAST] + lines.x_m[0] * sine + lines.y_m[0] * cosine,
        state[S_NORTH] + lines.x_m[0] * cosine - lines.y_m[0] * sine,
    )


@kernel
def rode_out(lines: Packed, out_m: float) -> Pieces:
    """The pieces of the rode that are out, from the anchor."""
    last = lines.last[0]
    count = 1
    for k in range(last):
        count = k + 1
        if lines.piece_cum[k] >= out_m:
            break
    cum = lines.piece_cum[:count].copy()
    cum[count - 1] = out_m
    return Pieces(
        cum, lines.piece_weight[:count], lines.piece_stiffness[:count], lines.piece_air[:count],
        lines.piece_curve[:count], lines.roller_m[0],
    )  # fmt: skip


@kernel
def solve_rode(tackle: Tackle, state: Floats, far_m: float, bearing_rad: float) -> None:
    """Fill ``tackle.rode`` for the roller at a distance and bearing from the anchor.

    NaN where the bed is unknown under the chain that lies or hangs over it.
    """
    lines, out_m, rode = tackle.lines, state[S_CHAIN], tackle.rode
    out = np.empty(RESULTS)
    line = rode_out(lines, out_m)
    bow_m = tackle.level_m + lines.z_m[0]
    bed, known_m = bed_along(lines, 0, bearing_rad, out_m)
    if math.isnan(known_m):
        # the bed where the anchor lies is unknown, and so is all that hangs on it
        rode[:] = math.nan
        rode[C_SOLVED] = 0.0
        return
    _, _, stiff = rode_asked(line, bed, bow_m, DISTANCE, far_m, out)
    if math.isnan(out[PULL]):
        # hauled straighter than it is long, up and down: as stiff as the chain itself
        deep_m, own = bow_m - along_bed(bed, 0.0)[1], line.stiffness_n[0] / out_m
        below_m = max(math.hypot(far_m, deep_m), 1e-6)
        over = max(0.0, 1.0 - out_m / below_m)
        rode[C_STIFF] = own * (over + out_m * far_m**2 / below_m**3) if over > 0.0 else 0.0
        rode[C_PULL], rode[C_DOWN] = own * over * far_m, own * over * deep_m
        rode[C_LYING], rode[C_SHANK], rode[C_UPLIFT] = 0.0, own * over * below_m, 1.0
    else:
        rode[C_PULL], rode[C_DOWN], rode[C_LYING] = out[PULL], out[DOWN], out[ON_BOTTOM]
        rode[C_SHANK], rode[C_UPLIFT], rode[C_STIFF] = out[ANCHOR_T], out[UPLIFT], stiff
        if out[TOUCHDOWN] > known_m:
            rode[:] = math.nan
    rode[C_FAR], rode[C_OUT], rode[C_BEARING], rode[C_SOLVED] = far_m, out_m, bearing_rad, 1.0


@lean_kernel
def is_old(rode: Floats, far_m: float, bearing_rad: float, out_m: float) -> bool:
    """Whether the rode has to be solved anew."""
    by_m, turned_rad = abs(far_m - rode[C_FAR]), bearing_rad - rode[C_BEARING]
    return bool(
        rode[C_SOLVED] == 0.0
        or by_m > _SOLVE_M
        or math.cos(turned_rad) < _SOLVE_COSINE
        or abs(out_m - rode[C_OUT]) > _SOLVE_OUT_M
        or rode[C_STIFF] * by_m > _SOLVE_SHARE * (rode[C_PULL] + _FEW_N)
    )


@kernel
def rode_force(tackle: Tackle, state: Floats) -> tuple[float, float, float]:
    """East, north and turning force of the chain; the anchor gives way where it must."""
    if state[S_ANCHOR] != LIES:
        tackle.tension_n[0] = 0.0
        return 0.0, 0.0, 0.0
    lines, rode = tackle.lines, tackle.rode
    east_m, north_m = roller_at(lines, state)
    de, dn = east_m - lines.east_m[0], north_m - lines.north_m[0]
    far_m, bearing = math.hypot(de, dn), math.atan2(de, dn)
    if is_old(rode, far_m, bearing, state[S_CHAIN]):
        solve_rode(tackle, state, far_m, bearing)
        if rode[C_SHANK] > tackle.holding_n and far_m > 0.5:
            by_m = (rode[C_SHANK] - tackle.holding_n) / max(rode[C_STIFF], 50.0) + 0.01
            lines.east_m[0] += by_m * de / far_m
            lines.north_m[0] += by_m * dn / far_m
            state[S_MOVED] += by_m
            rode[C_SOLVED] = 0.0
    pull = rode[C_PULL] + rode[C_STIFF] * (far_m - rode[C_FAR])
    if far_m < 1e-6 or pull <= 0.0:
        tackle.tension_n[0] = rode[C_DOWN]
        return 0.0, 0.0, 0.0
    tackle.tension_n[0] = math.hypot(pull, rode[C_DOWN])
    fe, fn = -pull * de / far_m, -pull * dn / far_m
    return fe, fn, fe * (north_m - state[S_NORTH]) - fn * (east_m - state[S_EAST])


@kernel
def shore_force(tackle: Tackle, state: Floats) -> tuple[float, float, float]:
    """East, north and turning force of the lines ashore that are fast."""
    lines = tackle.lines
    sine, cosine = math.sin(state[S_HEADING]), math.cos(state[S_HEADING])
    f0 = f1 = f2 = 0.0
    for i in range(1, lines.rode.shape[0]):
        tackle.tension_n[i] = 0.0
        if tackle.on[i] == 0.0:
            continue
        off_e = lines.x_m[i] * sine + lines.y_m[i] * cosine
        off_n = lines.x_m[i] * cosine - lines.y_m[i] * sine
        de = lines.east_m[i] - state[S_EAST] - off_e
        dn = lines.north_m[i] - state[S_NORTH] - off_n
        far_m, a, b = math.hypot(de, dn), lines.first[i], lines.last[i]
        rope = Pieces(
            lines.piece_cum[a:b], lines.piece_weight[a:b], lines.piece_stiffness[a:b],
            lines.piece_air[a:b], lines.piece_curve[a:b], 0.0,
        )  # fmt: skip
        point_m = max(0.0, lines.level_m[i] - tackle.level_m)
        pull = pull_at(far_m, rope, lines.z_m[i], point_m)
        if not pull > 0.0:
            continue
        tackle.tension_n[i] = pull
        fe, fn = pull * de / far_m, pull * dn / far_m
        f0, f1, f2 = f0 + fe, f1 + fn, f2 + fe * off_n - fn * off_e
    return f0, f1, f2


@lean_kernel
def over_anchor_m(tackle: Tackle) -> float:
    """How high the roller is above the bed where the anchor lies. [m]"""
    lines = tackle.lines
    bed_m = grid_level(lines, lines.east_m[0], lines.north_m[0])
    return float(tackle.level_m + lines.z_m[0] - bed_m)


@kernel
def veer_chain(tackle: Tackle, state: Floats, order_mps: float, step_s: float) -> None:
    """Veer or heave as ordered, as fast as the windlass can; let the anchor find the bottom."""
    lines = tackle.lines
    aboard_m = lines.piece_cum[lines.last[0] - 1]
    speed = min(max(order_mps, -tackle.heave_mps), tackle.veer_mps)
    if speed < 0.0 and state[S_ANCHOR] == LIES and tackle.tension_n[0] > tackle.windlass_n:
        speed = 0.0
    state[S_CHAIN] = min(max(state[S_CHAIN] + speed * step_s, 0.0), aboard_m)
    if state[S_CHAIN] > 0.0 and state[S_ANCHOR] == STOWED:
        state[S_ANCHOR] = HANGS
    east_m, north_m = roller_at(lines, state)
    below_m = tackle.level_m + lines.z_m[0] - grid_level(lines, east_m, north_m)
    if state[S_ANCHOR] == HANGS:
        lines.east_m[0], lines.north_m[0] = east_m, north_m
        # while it is hove up it does not bite again where the bed comes up to it
        if state[S_CHAIN] >= below_m and speed >= 0.0:
            state[S_ANCHOR], tackle.rode[C_SOLVED] = LIES, 0.0
    elif state[S_ANCHOR] == LIES and state[S_CHAIN] < over_anchor_m(tackle):
        # shorter than up and down: broken out, it hangs under the roller
        state[S_ANCHOR], tackle.rode[:] = HANGS, 0.0
    if state[S_CHAIN] == 0.0:
        state[S_ANCHOR] = STOWED


@kernel
def take_in(tackle: Tackle, order: Floats, hand_n: Floats, step_s: float) -> None:
    """Take in (above 0) or pay out lines as ordered; none against more than a hand's pull."""
    lines = tackle.lines
    for i in range(1, lines.rode.shape[0]):
        speed = order[ORDER_COLUMNS + i - 1]
        if tackle.on[i] == 0.0 or speed == 0.0:
            continue
        if speed > 0.0 and tackle.tension_n[i] > hand_n[i]:
            continue
        a = lines.first[i]
        lines.piece_cum[a] = max(1.0, lines.piece_cum[a] - speed * step_s)
        lines.length_m[i] = lines.piece_cum[a]


@lean_kernel
def come_to(state: Floats, column: int, order: float, most: float) -> None:
    """Bring helm, revs or thruster toward its order by at most so much."""
    state[column] += min(max(order - state[column], -most), most)


@kernel
def handle_for(
    driven: Driven, tackle: Tackle, state: Floats, order: Floats, hand_n: Floats, air: Air,
    steps: int, step_s: float,
) -> None:  # fmt: skip
    """Move her through so many steps under the same orders; ``state`` is changed in place.

    order : (ORDER_COLUMNS + line - 1,), helm, revs, thruster, chain, then each line taken in
    """
    for _ in range(steps):
        helm = min(max(order[O_HELM], -driven.most_rad), driven.most_rad)
        come_to(state, S_RUDDER, helm, driven.helm_radps * step_s)
        come_to(state, S_REVS, min(max(order[O_REVS], -1.0), 1.0), step_s / driven.revs_s)
        come_to(state, S_PUSH, min(max(order[O_PUSH], -1.0), 1.0), step_s / 0.5)
        veer_chain(tackle, state, order[O_VEER], step_s)
        x, y, n = driven_forces(driven, state, air)
        ce, cn, cm = rode_force(tackle, state)
        le, ln, lm = shore_force(tackle, state)
        take_in(tackle, order, hand_n, step_s)
        sine, cosine = math.sin(state[S_HEADING]), math.cos(state[S_HEADING])
        fe, fn = ce + le, cn + ln
        x, y, n = x + fe * sine + fn * cosine, y + fe * cosine - fn * sine, n + cm + lm
        u, v, r = state[S_AHEAD], state[S_ASIDE], state[S_TURN]
        # the water that turns her is the same that drives her: so a turn makes no energy
        u += step_s * (x + (driven.surge_kg + driven.munk_kg) * v * r) / driven.surge_kg
        v += step_s * (y - driven.surge_kg * u * r) / driven.sway_kg
        r += step_s * n / driven.yaw_kgm2
        state[S_AHEAD], state[S_ASIDE], state[S_TURN] = u, v, r
        middle = state[S_HEADING] + 0.5 * step_s * r
        state[S_EAST] += step_s * (u * math.sin(middle) + v * math.cos(middle))
        state[S_NORTH] += step_s * (u * math.cos(middle) - v * math.sin(middle))
        state[S_HEADING] += step_s * r
