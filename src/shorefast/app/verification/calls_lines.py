"""Published checks of the rode and of a line through the air."""

from __future__ import annotations

import math
from functools import partial

import numpy as np

from shorefast.app.verification.calls import Call
from shorefast.mooring import (
    BedLine,
    LineSegments,
    RodeForm,
    ShoreRope,
    rode_at_distance,
    rode_at_pull,
    shore_line_at_distance,
)
from shorefast.quantities import to_si

_FAR_M = 1000.0
_NO_STRETCH_N = 1e12


def _piece(length_m: float, weight_npm: float, stiffness_n: float) -> LineSegments:
    return LineSegments(np.array([length_m]), np.array([weight_npm]), np.array([stiffness_n]))


def _even_bed(slope_deg: float) -> BedLine:
    rise_m = _FAR_M * math.tan(to_si(slope_deg, "angle", "deg"))
    return BedLine(np.array([-_FAR_M, _FAR_M]), np.array([-rise_m, rise_m]))


def rode_of(
    *,
    length_m: float,
    weight_npm: float,
    height_m: float,
    stiffness_n: float = _NO_STRETCH_N,
    slope_deg: float = 0.0,
    friction: float = 0.0,
    distance_m: float | None = None,
    pull_n: float | None = None,
    take: str,
) -> float:
    """One number of a rode of one piece on an even bed, its anchor at 0 and its bow at height_m."""
    line = _piece(length_m, weight_npm, stiffness_n)
    bed = _even_bed(slope_deg)
    form: RodeForm
    if distance_m is not None:
        form = rode_at_distance(line, bed, friction, height_m, distance_m)
    else:
        form = rode_at_pull(line, bed, friction, height_m, pull_n or 0.0)
    if take == "lifted_m":
        return length_m - form.on_bottom_m
    return float(getattr(form, take))


def _taking(name: str) -> Call:
    kinds = {"n": "force", "m": "length", "rad": "angle"}
    return Call(partial(rode_of, take=name), kinds[name.rsplit("_", 1)[-1]])


def air_line_pull_n(
    length_m: float, weight_npm: float, height_m: float, distance_m: float
) -> float:
    """Pull of a line without stretch between two points of one height above the water."""
    form = shore_line_at_distance(
        ShoreRope(length_m, weight_npm, _NO_STRETCH_N), height_m, height_m, distance_m
    )
    return float(form.pull_n)


LINE_CALLS = {
    "rode pull": _taking("pull_n"),
    "rode pull down": _taking("down_n"),
    "rode tension": _taking("tension_n"),
    "rode pull at anchor": _taking("anchor_tension_n"),
    "rode distance": _taking("distance_m"),
    "rode angle": _taking("angle_rad"),
    "rode uplift": _taking("uplift_rad"),
    "rode on bottom": _taking("on_bottom_m"),
    "rode lifted": _taking("lifted_m"),
    "air line pull": Call(air_line_pull_n, "force"),
}
