"""Whole-boat cases brought to rest, in the case file's words."""

from __future__ import annotations

from shorefast.app.verification.case_frame import heading_deg, heading_rad, on_board
from shorefast.app.verification.case_load import load_of, wind_form
from shorefast.app.verification.case_types import BoatCase, BoatLine
from shorefast.app.verification.line_cases import rode_fields, segments_of, shore_fields
from shorefast.app.verification.rows import Value
from shorefast.mooring import (
    Domain,
    PlaneBed,
    RodeForm,
    RodeLine,
    Scene,
    ShoreLine,
    ShoreLineForm,
    solve_rest,
)

_RODE = (
    "H_N",
    "slack",
    "distance_m",
    "V_bow_N",
    "T_bow_N",
    "T_anchor_N",
    "angle_bow_deg",
    "angle_anchor_horizontal_deg",
    "angle_anchor_seabed_deg",
    "length_on_bottom_m",
)
_SHORE = (
    "H_N",
    "slack",
    "distance_m",
    "T_cleat_N",
    "T_shore_N",
    "V_cleat_down_N",
    "angle_cleat_below_horizontal_deg",
    "length_on_water_m",
    "lowest_above_water_m",
)


def boat_fields(case: BoatCase) -> tuple[str, ...]:
    """The fields of a boat case: the rest, then every line that is set."""
    lines = [
        (line.name, _SHORE if line.shore_level_m is not None else _RODE) for line in case.lines
    ]
    return (
        "rest",
        "E_m",
        "N_m",
        "heading_deg",
        *(f"{name}/{field}" for name, fields in lines for field in fields),
    )


def boat_got(case: BoatCase) -> dict[str, Value]:
    """The rest she comes to from where the case starts her.

    ``rest`` is "none" where she leaves the case's domain, and unknown where the
    solver could not tell; everything else is then unknown.

    Raises
    ------
    ShorefastError
        If the solver cannot take such a boat.
    """
    east_m, north_m, psi_rad = case.start
    start = (east_m, north_m, heading_rad(psi_rad))
    rest = solve_rest(_scene(case), load_of(case.load), case.water_level_m, start)
    got: dict[str, Value] = dict.fromkeys(boat_fields(case))
    if rest.why != "found":
        return got | {"rest": "none" if rest.why == "left" else None}
    got |= {
        "rest": "found",
        "E_m": rest.east_m,
        "N_m": rest.north_m,
        "heading_deg": heading_deg(rest.heading_rad),
    }
    for line, form in zip(case.lines, rest.lines, strict=True):
        got |= {f"{line.name}/{field}": value for field, value in _line_fields(form).items()}
    return got


def _scene(case: BoatCase) -> Scene:
    west_m, east_m = case.east_span_m
    south_m, north_m = case.north_span_m
    return Scene(
        lines=tuple(_line(line) for line in case.lines),
        domain=Domain(west_m, east_m, south_m, north_m),
        wind=wind_form(case.load),
    )


def _line(line: BoatLine) -> RodeLine | ShoreLine:
    place = (line.name, *on_board(line.body_fp_m), line.height_m)
    east_m, north_m = line.fixed_en_m
    if line.shore_level_m is None:
        rise_east, rise_north = line.slope_en
        bed = PlaneBed(line.bed_level_m, rise_east, rise_north)
        return RodeLine(*place, east_m, north_m, segments_of(line.pieces), bed, line.friction)
    (piece,) = line.pieces
    return ShoreLine(*place, east_m, north_m, line.shore_level_m, *piece.numbers)


def _line_fields(form: RodeForm | ShoreLineForm | None) -> dict[str, Value]:
    """What one line carries where she lies."""
    if form is None:
        return {}
    if isinstance(form, ShoreLineForm):
        fields = shore_fields(form, form.distance_m)
        return {name: fields[name] for name in _SHORE}
    fields = {**rode_fields(form), "H_N": form.pull_n, "slack": form.pull_n == 0.0}
    return {name: fields[name] for name in _RODE}
