"""A steady current on hull and keel."""

from __future__ import annotations

import math

from shorefast.basis import Assumption, Basis
from shorefast.mooring import AIR_KGPM3, WATER_KGPM3, Load
from shorefast.stay.plan import Stay

# canoe body to waterline length x its depth, keel and rudder added; drag about 1
_BODY_SHARE, _KEEL_SHARE, _DRAG = 0.6, 0.2, 1.0
_ALONG_DRAG = 0.1


def current_load(stay: Stay) -> tuple[Load, Basis]:
    """The current's push, taken with the heading she is meant to lie at.

    Across: drag 1 on the side of hull and keel. Along: form drag on beam times the
    depth of the body. The turn of the current with her heading is left out.

    Source
    ------
    ufc-4-159-03, eq. 15 for the form along (read); drag across from memory.
    """
    none = Load(0.0, 0.0, 0.0, 0.0, 0.0, AIR_KGPM3)
    if stay.current is None or stay.lie is None or stay.current.speed_mps == 0.0:
        return none, Basis()
    hull = stay.boat.hull
    q_pa = 0.5 * WATER_KGPM3 * stay.current.speed_mps**2
    off_rad = stay.current.toward_rad - stay.lie.heading_rad
    body_m = 0.3 * hull.draught_m
    side_m2 = hull.waterline_m * hull.draught_m * (_BODY_SHARE * 0.5 + _KEEL_SHARE)
    ahead_n = q_pa * _ALONG_DRAG * hull.beam_m * body_m * math.cos(off_rad)
    side_n = q_pa * _DRAG * side_m2 * math.sin(off_rad)
    sine, cosine = math.sin(stay.lie.heading_rad), math.cos(stay.lie.heading_rad)
    east_n = ahead_n * sine + side_n * cosine
    north_n = ahead_n * cosine - side_n * sine
    basis = Basis(
        assumptions=(
            Assumption(
                "The current is steady and pushes as if she lay at her meant heading",
                "A back-eddy can come from the other side",
            ),
        ),
        sources=("ufc-4-159-03",),
    )
    return Load(east_n, north_n, 0.0, 0.0, 0.0, AIR_KGPM3), basis
