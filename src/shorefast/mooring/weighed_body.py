"""Her underbody with a hull as deep as her weight asks."""

from __future__ import annotations

from dataclasses import replace

from shorefast.boat import Engine, Hull
from shorefast.mooring.current_force import Underbody, underbody
from shorefast.mooring.wind_load import WATER_KGPM3

BLOCK = 0.40
"""Volume of the hull without its keel over its waterline, beam and depth."""
_MOST_OF_DRAUGHT = 0.9


def weighed_underbody(hull: Hull, engine: Engine | None = None) -> Underbody:
    """``underbody``, its hull at least as deep as it takes to carry her.

    A heavy boat of little draught has more hull and less fin than her draught alone tells.

    Source
    ------
    keuning-sonnenberg-1998 (from memory): blocks of 0.34 to 0.47, by prismatic and midship
    section.
    """
    body = underbody(hull, engine)
    box_m2 = body.waterline_m * body.beam_m
    deep_m = body.displacement_kg / (WATER_KGPM3 * BLOCK * box_m2)
    deepest_m = _MOST_OF_DRAUGHT * body.draught_m
    return replace(body, body_m=min(max(body.body_m, deep_m), deepest_m))
