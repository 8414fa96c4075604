"""What engine, lines and windlass can do."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from shorefast.boat import (
    SHAFT_SHARE,
    Engine,
    LongLine,
    Yacht,
    ahead_share,
    astern_pull,
    ideal_thrust_n,
    rope,
    static_thrust_n,
    tug_thrust_n,
)
from shorefast.manoeuvre.able_chain import deepest_m, usable_m, winds_of
from shorefast.manoeuvre.able_kinds import ChainPulls, EnginePulls, Floats, Heaving, LineSpan
from shorefast.manoeuvre.falling import anchor_wet_n
from shorefast.stay import MADE_FAST_M, SMALL_PULL_N, rode_segments

LINE_RESERVE_M = 3.0
"""Line kept to ease: our choice, common practice, no source."""
WRAP_M = 2.0
"""Line that goes round the rock, the tree or into the sling: our choice, no source."""
LED_RAD = tuple(math.radians(off) for off in (0.0, 30.0, 45.0))
"""How the stern lines are led, off straight astern: common practice, no source."""
# of the pull ahead by formula, what an engine that does not reach its revs leaves: our estimate
_AHEAD_LOW = 0.7
# what is left of the encyclopaedia's thrust after losses
_TUG_SHARE = 0.9


def ahead_n(engine: Engine) -> Floats:
    """Thrust ahead standing still: by formula, at the least and at the most, (3,). [N]

    Source
    ------
    gerr-propeller; marine-encyclopaedia less a tenth for losses, and actuator-disc, which
    nothing passes (the most); astern-thrust, shares by propeller; the least is our estimate.
    """
    shaft_w, wide_m = SHAFT_SHARE * engine.power_w, engine.propeller_diameter_m
    share = ahead_share(engine.propeller)
    nominal = share * static_thrust_n(shaft_w, wide_m)
    most = min(share * _TUG_SHARE * tug_thrust_n(shaft_w, wide_m), ideal_thrust_n(shaft_w, wide_m))
    return np.array([nominal, _AHEAD_LOW * nominal, max(most, nominal)])


def engine_pulls(boat: Yacht, curve: ChainPulls) -> EnginePulls | None:
    """What she pulls ahead and astern, and how deep the shank then stays down; None: no engine."""
    if boat.engine is None:
        return None
    pull = astern_pull(boat.engine)
    astern = np.array([pull.nominal_n, pull.low_n, pull.high_n])
    return EnginePulls(
        ahead_n(boat.engine), astern, winds_of(boat, astern, 0.0),
        winds_of(boat, astern, 0.5 * math.pi), deepest_m(curve, astern), pull.source,
    )  # fmt: skip


def spanned_m(line: LongLine, doubled: bool = False) -> float:
    """Level distance a line reaches from cleat to point at a small pull, both as high. [m]

    Less knot and turns, what goes round the point, and what is kept to ease; the rest hangs
    in a catenary under one hand's pull. Doubled back, half of that rest each way.

    Source
    ------
    irvine-1981, ch. 1: s = 2 a sinh(d / 2 a), a = H / w, solved for d.
    """
    left_m = max(0.0, line.length_m - MADE_FAST_M - LINE_RESERVE_M - WRAP_M)
    hangs_m = 0.5 * left_m if doubled else left_m
    twice_m = 2.0 * SMALL_PULL_N / rope(line.fibre, line.diameter_m).air_weight_npm
    return twice_m * math.asinh(hangs_m / twice_m)


def line_spans(boat: Yacht) -> tuple[LineSpan, ...]:
    """How far off she can lie, by her longest line astern and by two led to the sides.

    Straight astern the longest decides, to the sides the second longest.
    """
    longest = sorted(boat.lines, key=lambda line: -line.length_m)
    # from the aftmost cleat back to the stern
    aft_m = min((cleat.spot.x_m for cleat in boat.cleats), default=-0.5 * boat.hull.length_m)
    behind_m = aft_m + 0.5 * boat.hull.length_m
    spans = []
    for led_rad in LED_RAD:
        number = 0 if led_rad == 0.0 else 1
        if number < len(longest):
            line = longest[number]
            single, doubled = (
                max(0.0, spanned_m(line, twice) * math.cos(led_rad) - behind_m)
                for twice in (False, True)
            )
            spans.append(LineSpan(line.name, line.length_m, led_rad, single, doubled))
    return tuple(spans)


def hanging_n(boat: Yacht, depth_m: Floats) -> Floats:
    """Anchor and rode straight up and down, the anchor just off the bed, (depth,). [N]

    What is above the water weighs as in air. NaN where the rode does not reach.
    """
    bare, above_m = replace(boat, snubber=None), boat.roller.z_m
    out = np.full(len(depth_m), np.nan)
    for k, depth in enumerate(depth_m.tolist()):
        if depth + above_m <= boat.rode_aboard_m:
            pieces = rode_segments(bare, depth + above_m)
            ends = np.cumsum(pieces.length_m)
            wet_m = np.clip(depth - (ends - pieces.length_m), 0.0, pieces.length_m)
            dry = pieces.weight_npm if pieces.air_npm is None else pieces.air_npm
            hangs = wet_m * pieces.weight_npm + (pieces.length_m - wet_m) * dry
            out[k] = anchor_wet_n(boat.anchor) + float(np.sum(hangs))
    return out


def heaving(boat: Yacht, depth_m: Floats) -> Heaving:
    """What the windlass lifts, how long it heaves and veers; NaN where nobody told."""
    told = boat.windlass
    pull_n, heave_mps, veer_mps = (
        math.nan if one is None else one for one in (told.pull_n, told.heave_mps, told.veer_mps)
    )
    all_m, above_m = usable_m(boat), boat.roller.z_m
    every = np.arange(1.0, max(2.0, math.floor(all_m - above_m) + 0.5))
    lifted = np.flatnonzero(hanging_n(boat, every) <= pull_n)
    lifts_m = math.nan if math.isnan(pull_n) else float(every[lifted[-1]] if lifted.size else 0.0)
    return Heaving(
        depth_m, hanging_n(boat, depth_m), pull_n, heave_mps, veer_mps, lifts_m,
        all_m, all_m / heave_mps, all_m / veer_mps, (depth_m + above_m) / heave_mps,
    )  # fmt: skip
