"""The calls: what is said at which metre, with the chain's lead to expect at each."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from shorefast.boat import astern_pull
from shorefast.manoeuvre.way_in import LAID_N, WayIn
from shorefast.mooring import BedLine, RodeForm, rode_at_pull
from shorefast.stay import lie_of, rode_segments

# chain is marked every so often, and called at its marks: common practice, no source
MARK_M = 5.0
# at this share of the planned chain it is held for the first time: common practice, no source
SNUB_SHARE = 0.75
# revs of the first snub and the hold: a quarter of the full pull
_HOLDING_SHARE = 0.25
_GRAVITY = 9.80665


@dataclass(frozen=True)
class Call:
    """One call.

    Attributes
    ----------
    number : int
    t_s : float
        From letting go: the fall, then her way from over the anchor at the planned speed. [s]
    made_good_m, off_m : float
        Roller's way from over the anchor; her stern to the high-water line, along her way. [m]
    chain_m : float
        Out. [m]
    water_m : float
        Under the roller. [m]
    kind : str
        "let go", "bottom", "veer", "snub", "hold", "engine stopped", "line", "prove".
    who : str
        Duty that calls: "helm", "bow", "line".
    angle_slack_rad, angle_holding_rad, angle_dragging_rad : float
        The chain's lead below the horizontal: just laid; held against a quarter of the
        astern pull; on an anchor that only drags along by its own weight. NaN: no such.
    """

    number: int
    t_s: float
    made_good_m: float
    off_m: float
    chain_m: float
    water_m: float
    kind: str
    who: str
    angle_slack_rad: float
    angle_holding_rad: float
    angle_dragging_rad: float


def the_calls(way: WayIn) -> tuple[Call, ...]:
    """All calls of the run, from letting go to the proof."""
    lie = lie_of(way.arrival.stay)
    told: list[tuple[str, str, float, float]] = [
        ("let go", "helm", way.let_go_at_m, 0.0),
        ("bottom", "bow", 0.0, way.bottom_m),
    ]
    snub_m = SNUB_SHARE * lie.chain_out_m
    marks = np.arange(MARK_M, lie.chain_out_m, MARK_M)
    for chain_m in marks[marks > way.bottom_m + 0.5 * MARK_M]:
        told.append(("veer", "bow", _where(way, float(chain_m)), float(chain_m)))
    if snub_m > way.bottom_m:
        told.append(("snub", "bow", _where(way, snub_m), snub_m))
    told.sort(key=lambda row: row[2])
    told.append(("hold", "line", way.hold_m, lie.chain_out_m))
    told.append(("engine stopped", "helm", way.hold_m, lie.chain_out_m))
    told.append(("line", "line", way.hold_m, lie.chain_out_m))
    told.append(("prove", "helm", way.hold_m, lie.chain_out_m))
    return tuple(_call(way, number, row) for number, row in enumerate(told, start=1))


def _where(way: WayIn, chain_m: float) -> float:
    """Way made good at which so much chain ought to be out. [m]"""
    return float(np.interp(chain_m, way.chain_m, way.made_good_m))


def _call(way: WayIn, number: int, row: tuple[str, str, float, float]) -> Call:
    kind, who, made_good_m, chain_m = row
    arrival = way.arrival
    east_m, north_m = way.roller_at(made_good_m)
    bed_m = float(arrival.stay.bay.surface.level_at(east_m, north_m))
    off_m = arrival.off_astern_m(way.pose_at(made_good_m))
    angles = (math.nan, math.nan, math.nan)
    if chain_m > way.bottom_m and kind in ("veer", "snub", "hold", "prove"):
        angles = _angles(way, chain_m)
    since = 0.0 if kind == "let go" else way.fall_s + made_good_m / way.speed_mps
    return Call(
        number, since, made_good_m, off_m, chain_m, arrival.level_m - bed_m, kind, who, *angles
    )


def _angles(way: WayIn, chain_m: float) -> tuple[float, float, float]:
    arrival = way.arrival
    engine, anchor = arrival.stay.boat.engine, arrival.stay.boat.anchor
    assert engine is not None
    pulls = (
        LAID_N,
        _HOLDING_SHARE * astern_pull(engine).nominal_n,
        max(LAID_N, _GRAVITY * anchor.mass_kg),
    )
    bed = bed_on_way(way)
    slack, holding, dragging = (_form(way, bed, chain_m, pull).angle_rad for pull in pulls)
    return slack, holding, dragging


def _form(way: WayIn, bed: BedLine, chain_m: float, pull_n: float) -> RodeForm:
    arrival = way.arrival
    bare = replace(arrival.stay.boat, snubber=None)
    bow_m = arrival.level_m + bare.roller.z_m
    return rode_at_pull(
        rode_segments(bare, chain_m), bed, arrival.rigged.rode.friction, bow_m, pull_n
    )


def bed_on_way(way: WayIn) -> BedLine:
    """The bed from a little before the anchor to past the hold, where it is known. [m]"""
    along = np.arange(-3.0, way.hold_m + 12.0, 1.0)
    places = [way.roller_at(float(one)) for one in along]
    east, north = np.array(places).T
    level = way.arrival.stay.bay.surface.level_at(east, north)
    known = np.isfinite(level)
    return BedLine(along[known], level[known])
