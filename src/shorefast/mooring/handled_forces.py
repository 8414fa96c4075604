"""Wind, water, helm, propeller and thruster on a yacht under engine.

Body axes: x forward, y to starboard, turning clockwise from above.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from shorefast.compiled import lean_kernel
from shorefast.mooring.shapes import Floats
from shorefast.mooring.wind_load import WindForm, wind_force

# columns of her state
(
    S_EAST, S_NORTH, S_HEADING, S_AHEAD, S_ASIDE, S_TURN, S_RUDDER, S_REVS, S_PUSH,
    S_CHAIN, S_ANCHOR, S_MOVED,
) = range(12)  # fmt: skip
STATE_COLUMNS = 12


class Blade(NamedTuple):
    """A rudder or keel as a lifting blade.

    x_m : forward of midships; per : half the density times its area [kg/m]
    slope : lift for a radian; across : drag square on; most_ahead, most_astern : greatest
    coefficient of its force, moving ahead and astern
    """

    x_m: float
    per: float
    slope: float
    across: float
    most_ahead: float
    most_astern: float


class Driven(NamedTuple):
    """How she moves under engine.

    surge_kg, sway_kg, yaw_kgm2 : with the water that goes with her
    munk_kg : how much more of it goes with her hull across than along
    along_kgpm : drag along; strip (strip, 2) : place [m] and drag across of the bare hull
    ahead_n, astern_n : thrust at full revs standing still; free_*_mps : speed at which it is gone
    walk : share of the thrust astern that pushes the stern to starboard (below 0: to port)
    propeller_x_m; race : gain of the square of the speed over the rudder for a newton ahead
    thruster_n, thruster_x_m; most_rad : greatest helm; helm_radps, revs_s : how fast they come
    """

    surge_kg: float
    sway_kg: float
    yaw_kgm2: float
    munk_kg: float
    along_kgpm: float
    strip: Floats
    keel: Blade
    rudder: Blade
    ahead_n: float
    astern_n: float
    free_ahead_mps: float
    free_astern_mps: float
    walk: float
    propeller_x_m: float
    race: float
    thruster_n: float
    thruster_x_m: float
    most_rad: float
    helm_radps: float
    revs_s: float
    wind: WindForm


class Air(NamedTuple):
    """The wind at the height of her windage: speed, where it comes from, density."""

    wind_mps: float
    from_rad: float
    density_kgpm3: float


@lean_kernel
def blade_force(blade: Blade, u: float, v: float, angle_rad: float) -> tuple[float, float]:
    """Force ahead and to starboard of a blade, its trailing edge turned to starboard.

    u, v : how it moves through the water. Lift by its slope and drag square on, up to
    where the flow leaves it.
    """
    sine, cosine = math.sin(angle_rad), math.cos(angle_rad)
    across = u * sine + v * cosine
    along = u * cosine - v * sine
    most = blade.most_ahead if along >= 0.0 else blade.most_astern
    size = blade.slope * abs(along) + blade.across * abs(across)
    force = blade.per * min(size * abs(across), most * (along * along + across * across))
    force = -math.copysign(force, across)
    return force * sine, force * cosine


@lean_kernel
def thrust_of(driven: Driven, revs: float, u: float) -> float:
    """Thrust ahead of the propeller; it falls off as she gathers way. [N]"""
    if revs >= 0.0:
        slip = revs - max(-driven.free_ahead_mps, u) / driven.free_ahead_mps
        return driven.ahead_n * revs * max(slip, -0.2 * revs)
    slip = -revs - max(-driven.free_astern_mps, -u) / driven.free_astern_mps
    return driven.astern_n * revs * max(slip, 0.2 * revs)


@lean_kernel
def driven_forces(driven: Driven, state: Floats, air: Air) -> tuple[float, float, float]:
    """Forward, starboard and turning force of wind, water, helm and engine; no lines."""
    u, v, r, psi = state[S_AHEAD], state[S_ASIDE], state[S_TURN], state[S_HEADING]
    # the air as she meets it
    ahead = air.wind_mps * math.cos(air.from_rad - psi) + u
    aside = air.wind_mps * math.sin(air.from_rad - psi) + v
    x, y, n = wind_force(
        driven.wind, math.hypot(ahead, aside), math.atan2(aside, ahead), air.density_kgpm3
    )
    x -= driven.along_kgpm * u * abs(u)
    for i in range(driven.strip.shape[0]):
        there = v + driven.strip[i, 0] * r
        part = driven.strip[i, 1] * there * abs(there)
        y -= part
        n -= driven.strip[i, 0] * part
    keel_x = driven.keel.x_m
    fx, fy = blade_force(driven.keel, u, v + keel_x * r, 0.0)
    x, y, n = x + fx, y + fy, n + keel_x * fy
    thrust = thrust_of(driven, state[S_REVS], u)
    race = u * abs(u) + (driven.race * thrust if state[S_REVS] > 0.0 else 0.0)
    over = math.copysign(math.sqrt(abs(race)), race)
    rudder_x = driven.rudder.x_m
    fx, fy = blade_force(driven.rudder, over, v + rudder_x * r, state[S_RUDDER])
    x, y, n = x + fx + thrust, y + fy, n + rudder_x * fy
    if state[S_REVS] < 0.0:
        side = driven.walk * abs(thrust)
        y, n = y + side, n + driven.propeller_x_m * side
    push = driven.thruster_n * state[S_PUSH]
    return x, y + push, n + driven.thruster_x_m * push - driven.munk_kg * u * v
