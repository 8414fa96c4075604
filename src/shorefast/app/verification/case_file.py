"""Case files in: rode, shore-line and whole-boat cases, every mistake told."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from itertools import pairwise

from shorefast.app.verification.case_types import (
    BoatCase,
    BoatLine,
    Case,
    FixedLoad,
    Piece,
    RodeCase,
    ShoreCase,
    WindLoad,
)
from shorefast.app.verification.fields import Fields, parse_cases
from shorefast.app.verification.rows import Value, Wanted
from shorefast.errors import BadInput


def read_cases(text: str, name: str) -> tuple[Case, ...]:
    """All cases of one file.

    Parameters
    ----------
    text : str
        The file's contents.
    name : str
        The file's name, for messages.

    Raises
    ------
    Unreadable
        If it is not JSON, or not in the form of case files.
    BadInput
        If a case lacks something or has a value that cannot be.
    """
    return tuple(
        _READERS[fields.choice("kind", tuple(_READERS))](fields)
        for fields in parse_cases(text, name)
    )


def _rode_case(case: Fields) -> RodeCase:
    given = case.inside("given")
    both = given.has("distance_m") and given.has("H_bow_N")
    if both or not (given.has("distance_m") or given.has("H_bow_N")):
        raise BadInput(
            given.where,
            "both distance_m and H_bow_N" if both else "neither distance_m nor H_bow_N",
            "one of them wanted",
            "Give the distance or the pull.",
        )
    far = given.number("distance_m", above=0.0) if given.has("distance_m") else None
    return RodeCase(
        name=case.word("id"),
        source=_source(case),
        wanted=_wanted(case, ("dH_dX_N_per_m", "slack_distance_m")),
        pieces=_pieces(case),
        friction=case.number("friction", least=0.0),
        bed_m=_bed(case),
        bow_level_m=case.number("bow_z_m"),
        distance_m=far,
        pull_n=None if far is not None else given.number("H_bow_N", above=0.0),
    )


def _shore_case(case: Fields) -> ShoreCase:
    return ShoreCase(
        name=case.word("id"),
        source=_source(case),
        wanted=_wanted(case, ("slack_distance_m",)),
        piece=_piece(case),
        cleat_height_m=case.number("cleat_height_m", least=0.0),
        shore_height_m=case.number("shore_height_m"),
        distance_m=case.inside("given").number("distance_m", above=0.0),
    )


def _boat_case(case: Fields) -> BoatCase:
    domain = case.inside("domain")
    lines = case.objects("lines", "line")
    return BoatCase(
        name=case.word("id"),
        source=_source(case),
        wanted=_wanted_rest(case),
        water_level_m=case.number("water_level_m"),
        lines=tuple(_boat_line(line) for line in lines if line.word("state") == "set"),
        load=_load(case.inside("load")),
        start=case.numbers("start_q", 3),
        east_span_m=domain.numbers("E_m", 2),
        north_span_m=domain.numbers("N_m", 2),
    )


_READERS: Mapping[str, Callable[[Fields], Case]] = {
    "rode": _rode_case,
    "shore": _shore_case,
    "boat": _boat_case,
}


def _source(case: Fields) -> str:
    return case.word("method") if case.has("method") else "the case file"


def _piece(fields: Fields) -> Piece:
    return Piece(
        fields.number("length_m", above=0.0),
        fields.number("w_N_per_m", least=0.0),
        fields.number("EA_N", above=0.0),
    )


def _pieces(fields: Fields) -> tuple[Piece, ...]:
    return tuple(_piece(part) for part in fields.objects("segments_from_anchor", "segment"))


def _bed(case: Fields) -> tuple[tuple[float, ...], ...]:
    bed = case.rows("bed_r_z_m", 2)
    if len(bed) < 2:
        raise BadInput(
            f"{case.where}, bed_r_z_m", "1 point", "2 or more wanted", "Add where the bed goes on."
        )
    for (before_m, _), (after_m, _) in pairwise(bed):
        if after_m <= before_m:
            raise BadInput(
                f"{case.where}, bed_r_z_m",
                f"{after_m:g} m after {before_m:g} m",
                "distances that grow from the anchor toward the bow wanted",
                "Sort the points.",
            )
    return bed


def _boat_line(line: Fields) -> BoatLine:
    kind = line.choice("kind", ("rode", "shore"))
    common = (
        line.word("name"),
        line.numbers("body_point_fp_m", 2),
        line.number("height_above_water_m", least=0.0),
        line.numbers("fixed_EN_m", 2),
    )
    if kind == "shore":
        return BoatLine(*common, (_piece(line),), shore_level_m=line.number("shore_z_m"))
    bed = line.inside("bed")
    return BoatLine(
        *common,
        _pieces(line),
        friction=line.number("friction", least=0.0),
        bed_level_m=bed.number("z_at_anchor_m"),
        slope_en=bed.numbers("grad_EN", 2),
    )


def _load(load: Fields) -> FixedLoad | WindLoad:
    if load.choice("type", ("fixed", "wind")) == "fixed":
        return FixedLoad(load.number("FE_N"), load.number("FN_N"), load.number("N_Nm"))
    return WindLoad(
        load.number("speed_m_s", least=0.0),
        load.number("from_deg"),
        load.number("rho", above=0.0),
        load.number("A_front_m2", least=0.0),
        load.number("A_side_m2", above=0.0),
        load.number("C_front", least=0.0),
        load.number("C_side", above=0.0),
        load.number("lever0_m"),
        load.number("lever1_m"),
    )


def _wanted(case: Fields, beside: tuple[str, ...]) -> Wanted:
    """What a line case expects; a few fields stand beside ``expected``."""
    values = _values(case.inside("expected"), "") if case.has("expected") else {}
    values |= {key: case.number(key) for key in beside if case.has(key)}
    return Wanted(values, _tolerances(case, ""))


def _values(fields: Fields, prefix: str) -> dict[str, Value]:
    """Numbers, truths and words by their names; lists and notes are left alone."""
    plain = {key: value for key, value in fields.values.items() if _is_plain(value)}
    return {
        prefix + key: value if isinstance(value, str | bool) else fields.number(key)
        for key, value in plain.items()
    }


def _is_plain(value: object) -> bool:
    return isinstance(value, str | bool | int | float)


def _tolerances(fields: Fields, prefix: str) -> dict[str, float]:
    if not fields.has("tol"):
        return {}
    tol = fields.inside("tol")
    return {prefix + key: tol.number(key, least=0.0) for key in tol.values if tol.has(key)}


def _wanted_rest(case: Fields) -> Wanted:
    """What a boat case expects of the rest she comes to, or that there is none."""
    expected = case.inside("expected") if case.has("expected") else None
    if expected is None or not expected.has("equilibria"):
        return Wanted({}, {})
    if expected.values["equilibria"] == []:
        return Wanted({"rest": "none"}, {})
    rests = expected.objects("equilibria", "rest")
    nominal = [rest for rest in rests if rest.values.get("nominal") is True]
    return _wanted_here((nominal or list(rests))[0])


def _wanted_here(rest: Fields) -> Wanted:
    values: dict[str, Value] = {"rest": "found", **_values(rest, "")}
    tolerances = _tolerances(rest, "")
    if rest.has("load"):
        values |= _values(rest.inside("load"), "load/")
    lines = rest.objects("lines", "line") if rest.has("lines") else ()
    for line in lines:
        name = line.word("name")
        values |= _values(line, f"{name}/")
        tolerances[f"{name}/H_N"] = tolerances.get("H_N", math.nan)
        tolerances |= _tolerances(line, f"{name}/")
    return Wanted(values, {key: tol for key, tol in tolerances.items() if not math.isnan(tol)})
