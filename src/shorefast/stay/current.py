"""A steady current on hull, keel and propeller."""

from __future__ import annotations

import math

from shorefast.basis import Assumption, Basis
from shorefast.mooring import AIR_KGPM3, Load, current_force, underbody
from shorefast.stay.plan import Stay
from shorefast.stay.rigging import Rigged

_DEEP_M = 1e4
_AFLOAT = 1.05


def current_load(stay: Stay, rigged: Rigged, level_m: float) -> tuple[Load, Basis]:
    """The current's push, taken at the heading and place she is meant to lie at.

    How it changes as she turns is left out. Where the depth is unknown the water is
    taken as deep, which is the least force across; where she would not float there, as
    deep as she just floats in.
    """
    none = Load(0.0, 0.0, 0.0, 0.0, 0.0, AIR_KGPM3)
    if stay.current is None or stay.lie is None or stay.current.speed_mps == 0.0:
        return none, Basis()
    body = underbody(stay.boat.hull, stay.boat.engine)
    bed_m = float(stay.bay.surface.level_at(rigged.start[0], rigged.start[1]))
    depth_m = level_m - bed_m if math.isfinite(bed_m) else _DEEP_M
    heading = stay.lie.heading_rad
    off_rad = stay.current.toward_rad - heading
    push = current_force(
        body, stay.current.speed_mps, off_rad, max(depth_m, _AFLOAT * body.draught_m)
    )
    ahead_n, side_n = float(push.forward_n), float(push.starboard_n)
    sine, cosine = math.sin(heading), math.cos(heading)
    basis = Basis(
        assumptions=(
            Assumption(
                "The current is steady and pushes as if she lay at her meant heading",
                "A back-eddy can come from the other side",
            ),
        ),
        sources=("ufc-4-159-03",),
    )
    load = none._replace(
        east_n=ahead_n * sine + side_n * cosine,
        north_n=ahead_n * cosine - side_n * sine,
        moment_npm=float(push.turning_nm),
    )
    return load, push.basis | basis
