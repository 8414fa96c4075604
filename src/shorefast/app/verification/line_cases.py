"""Rode and shore-line cases run through the line solver, in the case file's words."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from shorefast.app.verification.case_types import Piece, RodeCase, ShoreCase
from shorefast.app.verification.rows import Value
from shorefast.errors import OutsideModel
from shorefast.mooring import (
    BedLine,
    LineSegments,
    RodeForm,
    ShoreLineForm,
    ShoreRope,
    rode_at_distance,
    rode_at_pull,
    shore_line_at_distance,
)
from shorefast.quantities import from_si

RODE_FIELDS = (
    "distance_m",
    "H_bow_N",
    "V_bow_N",
    "T_bow_N",
    "T_anchor_N",
    "angle_bow_deg",
    "angle_anchor_horizontal_deg",
    "angle_anchor_seabed_deg",
    "length_on_bottom_m",
    "length_zero_tension_m",
    "n_bridged_spans",
    "length_bridged_m",
    "touchdown_r_m",
    "dH_dX_N_per_m",
    "slack_distance_m",
)
SHORE_FIELDS = (
    "distance_m",
    "H_N",
    "T_cleat_N",
    "T_shore_N",
    "V_cleat_down_N",
    "angle_cleat_below_horizontal_deg",
    "length_on_water_m",
    "lowest_above_water_m",
    "slack",
    "slack_distance_m",
)


def segments_of(pieces: Sequence[Piece]) -> LineSegments:
    """The pieces of a line as the solver takes them, anchor first."""
    return LineSegments(
        np.array([piece.length_m for piece in pieces]),
        np.array([piece.weight_npm for piece in pieces]),
        np.array([piece.axial_stiffness_n for piece in pieces]),
    )


def rode_got(case: RodeCase) -> dict[str, Value]:
    """Every field of a rode case, computed.

    Raises
    ------
    OutsideModel
        If the solver has no answer for such a rode.
    """
    bed = BedLine(*(np.array(column) for column in zip(*case.bed_m, strict=True)))
    segments = segments_of(case.pieces)
    if case.distance_m is not None:
        form = rode_at_distance(segments, bed, case.friction, case.bow_level_m, case.distance_m)
    else:
        pull_n = case.pull_n or 0.0
        form = rode_at_pull(segments, bed, case.friction, case.bow_level_m, pull_n)
    if math.isnan(form.pull_n):
        raise OutsideModel(
            where="Rode",
            got=f"{sum(piece.length_m for piece in case.pieces):g} m of line",
            against="there is no balance in which it reaches the roller",
            way_out="Give more line, or less depth or distance.",
        )
    return rode_fields(form)


def rode_fields(form: RodeForm) -> dict[str, Value]:
    """A rode's shape and forces under the names of a rode case."""
    values: tuple[Value, ...] = (
        form.distance_m,
        form.pull_n,
        form.down_n,
        form.tension_n,
        form.anchor_tension_n,
        _deg(form.angle_rad),
        _deg(form.anchor_angle_rad),
        _deg(form.uplift_rad),
        form.on_bottom_m,
        form.zero_tension_m,
        form.bridged_spans,
        form.bridged_m,
        form.touchdown_m,
        form.stiffness_npm,
        form.slack_distance_m,
    )
    return dict(zip(RODE_FIELDS, values, strict=True))


def shore_got(case: ShoreCase) -> dict[str, Value]:
    """Every field of a shore-line case, computed."""
    piece = case.piece
    form = shore_line_at_distance(
        ShoreRope(piece.length_m, piece.weight_npm, piece.axial_stiffness_n),
        case.cleat_height_m,
        case.shore_height_m,
        case.distance_m,
    )
    return shore_fields(form, case.distance_m)


def shore_fields(form: ShoreLineForm, distance_m: float) -> dict[str, Value]:
    """A shore line's forces under the names of a shore case; slack has no angle or sag."""
    hanging = math.nan if form.slack else 1.0
    values: tuple[Value, ...] = (
        distance_m,
        form.pull_n,
        form.cleat_tension_n,
        form.shore_tension_n,
        form.cleat_down_n,
        hanging * _deg(form.angle_rad),
        hanging * form.on_water_m,
        hanging * form.lowest_above_water_m,
        bool(form.slack),
        form.slack_distance_m,
    )
    return dict(zip(SHORE_FIELDS, values, strict=True))


def _deg(angle_rad: float) -> float:
    return from_si(angle_rad, "angle", "deg")
