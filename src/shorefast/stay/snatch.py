"""What waves and wash may add to the shore lines: told beside their loads, not added."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis
from shorefast.boat import rope, stiffness_about, stretch
from shorefast.errors import OutsideModel
from shorefast.mooring import (
    L_TENSION,
    Rests,
    deep_wavelength_m,
    dip_share,
    follows,
    highest_share,
    inertia,
    snap_load_n,
    underbody,
)
from shorefast.stay.answer import PartUse, Snatch
from shorefast.stay.lines_out import ShoreLeg
from shorefast.stay.plan import Stay
from shorefast.stay.rigging import Rigged

Floats = NDArray[np.float64]
_ABOUT_RAD = math.radians(20.0)


class _Train(NamedTuple):
    """The highest wave of what comes: which, amplitude [m], period [s], where from [rad]."""

    of: str
    amplitude_m: float
    period_s: float
    from_rad: Floats


def snatch_of(
    stay: Stay, rigged: Rigged, solved: Rests, parts: tuple[PartUse, ...]
) -> tuple[tuple[Snatch, ...], Basis]:
    """What the highest wave may add to each shore line, and the jerk of one gone slack.

    The cleat goes with the water, as far as her hull follows it; her lines are too soft
    to hold her against waves. A taut line feels its stiffness times the way along it, by
    the printed curve at the least, by the short-term figure at the most. A slack one may
    come taut at the wave's speed: the snap force, no more than both ways at that stiffness.

    Parameters
    ----------
    solved : Rests
        Arrays (member, time).
    parts : tuple of PartUse
        As judged, for the lines' limits.

    Returns
    -------
    snatch : tuple of Snatch
        Empty where there are no waves and no wash, or no rest.
    basis : Basis

    Source
    ------
    mooring-line-properties (short-term stiffness); dnv-rp-h103 (snap force);
    longuet-higgins-1952 (highest wave).
    """
    trains = _trains(stay)
    known = np.isfinite(solved.q).all(axis=-1)
    if not trains or not known.any():
        return (), Basis()
    # fmin: a limit nobody knows at any hour stays unknown
    limits = {
        p.name: float(np.fmin.reduce(p.limit_n, axis=None)) for p in parts if p.kind == "line"
    }
    found = []
    for train in trains:
        for i, leg in enumerate(rigged.legs, start=1):
            pull_n = solved.line[..., i, L_TENSION][known] / leg.parts
            q = solved.q[known][int(np.argmax(pull_n))]
            told = _line(stay, leg, train, q, pull_n)
            found.append(replace(told, limit_n=limits.get(leg.name, math.nan)))
    return tuple(found), _BASIS


def _trains(stay: Stay) -> list[_Train]:
    found = []
    if stay.waves is not None and stay.waves.height_m > 0.0:
        about = stay.waves.from_rad + _ABOUT_RAD * np.linspace(-1.0, 1.0, 9)
        half_m = 0.5 * highest_share() * stay.waves.height_m
        found.append(_Train("waves", half_m, stay.waves.period_s, about))
    if stay.wash is not None and stay.wash.height_m > 0.0:
        around = np.linspace(0.0, 2.0 * math.pi, 73)
        found.append(_Train("wash", 0.5 * stay.wash.height_m, stay.wash.period_s, around))
    return found


def _excursion_m(stay: Stay, leg: ShoreLeg, q: Floats, train: _Train) -> float:
    """How far the cleat goes along the line, to either side, in the worst direction."""
    hull, spot = stay.boat.hull, leg.cleat.spot
    sine, cosine = math.sin(q[2]), math.cos(q[2])
    de = leg.point.east_m - q[0] - spot.x_m * sine - spot.y_m * cosine
    dn = leg.point.north_m - q[1] - spot.x_m * cosine + spot.y_m * sine
    far_m = max(math.hypot(de, dn), 1e-6)
    slope = math.atan2(leg.point.height_m - spot.z_m, far_m)
    off = train.from_rad - q[2]
    extent_m = np.hypot(hull.waterline_m * np.cos(off), hull.beam_m * np.sin(off))
    length_m = deep_wavelength_m(train.period_s)
    out = 2.0 * np.abs(spot.x_m * np.cos(off) + spot.y_m * np.sin(off)) / extent_m
    level = follows(extent_m, length_m).heave * np.abs(np.cos(train.from_rad - math.atan2(de, dn)))
    up = dip_share(extent_m, length_m, out)
    along = np.hypot(level * math.cos(slope), up * math.sin(slope))
    return float(train.amplitude_m * along.max())


def _line(stay: Stay, leg: ShoreLeg, train: _Train, q: Floats, pull_n: Floats) -> Snatch:
    """What one train adds to one line, at the rest where the line pulls most."""
    moved_m = _excursion_m(stay, leg, q, train)
    soft_n, hard_n = (ea_n / leg.plan.length_m for ea_n in _stiffness(leg, float(pull_n.max())))
    low_n, high_n = soft_n * moved_m, hard_n * moved_m
    moving_kg = inertia(underbody(stay.boat.hull)).sway_kg
    speed_mps = 2.0 * math.pi / train.period_s * moved_m
    snap_n = float(snap_load_n(speed_mps, leg.parts * hard_n, moving_kg)) / leg.parts
    return Snatch(
        name=leg.name,
        of=train.of,
        excursion_m=moved_m,
        adds_low_n=low_n,
        adds_high_n=high_n,
        jerk_n=min(snap_n, 2.0 * high_n),
        slack_share=float((pull_n < high_n).mean()),
        limit_n=math.nan,
    )


def _stiffness(leg: ShoreLeg, pull_n: float) -> tuple[float, float]:
    """EA of one part about a pull: by the printed curve, and at the most. [N]"""
    fibre, diameter_m = leg.line.fibre, leg.line.diameter_m
    held_n = min(pull_n, rope(fibre, diameter_m).breaking_n)
    curves = stretch(fibre, diameter_m)
    slow_n = float(curves.nominal.tangent_stiffness_n(held_n))
    try:
        quick_n = float(stiffness_about(fibre, diameter_m, held_n).short_term_n)
    except OutsideModel:
        quick_n = float(curves.stiff.tangent_stiffness_n(held_n))
    return min(slow_n, quick_n), max(slow_n, quick_n)


_BASIS = Basis(
    assumptions=(
        Assumption(
            "What waves and wash add to the lines is told beside their loads and not added: the"
            " cleats go with the water, the lines too soft to hold her",
            "Where a line is short or stiff its load is the sum of both; the chain's own"
            " answer to waves is left out",
        ),
    ),
    sources=("mooring-line-properties", "dnv-rp-h103", "longuet-higgins-1952"),
)
