"""The rode: given the distance or given the pull, on any bed."""

from __future__ import annotations

import math

import numpy as np

from shorefast.compiled import kernel, lean_kernel
from shorefast.errors import BadInput
from shorefast.mooring.contact import bed_through
from shorefast.mooring.march import (
    ANCHOR_ANGLE,
    ANCHOR_T,
    BRIDGED,
    DISTANCE,
    DOWN,
    ON_BOTTOM,
    PULL,
    RESULTS,
    SPANS,
    TOUCHDOWN,
    UPLIFT,
    ZERO_TENSION,
    along_bed,
    rode_for,
)
from shorefast.mooring.shapes import (
    Bed,
    BedLine,
    Floats,
    LineSegments,
    Pieces,
    RodeForm,
    pieces_joined,
)
from shorefast.mooring.span import LEAST_PULL_N, follow

_SCALE_N = 20.0
_MOST_N = 1e9


@lean_kernel
def idle_when_slack(line: Pieces, bed: Bed, bow_m: float) -> float:
    """Length lying idle when the rest hangs straight down; NaN if it cannot reach."""
    low, high = 0.0, line.cum[-1]
    water_m = bow_m - line.roller_m
    _, z_m = along_bed(bed, low)
    _, up_m, _ = follow(line, (low, z_m, LEAST_PULL_N, 0.0), high, water_m, False)
    if z_m + up_m < bow_m:
        return math.nan
    for _ in range(54):
        mid = 0.5 * (low + high)
        _, z_m = along_bed(bed, mid)
        _, up_m, _ = follow(line, (mid, z_m, LEAST_PULL_N, 0.0), line.cum[-1], water_m, False)
        if z_m + up_m > bow_m:
            low = mid
        else:
            high = mid
    return low


@lean_kernel
def p_of(q: float) -> float:
    """The march's number from one in which both its sides are smooth."""
    return q if q <= 0.0 else _SCALE_N * math.expm1(q)


@kernel
def over_want(
    line: Pieces, bed: Bed, bow_m: float, which: int, want: float, q: float, out: Floats
) -> float:
    """By how much result ``which`` passes ``want`` at ``q``.

    Below some pull a chain cannot lie still on a bed steeper than its friction holds:
    what has no balance there counts as far below.
    """
    rode_for(line, bed, bow_m, p_of(q), out)
    return float(-1.0 - abs(want) if math.isnan(out[which]) else out[which] - want)


@kernel
def q_for(
    line: Pieces, bed: Bed, bow_m: float, which: int, want: float, low: float, out: Floats
) -> float:
    """The q at which result ``which`` (it grows with q) is ``want``; NaN if none.

    Chandrupatla's bracketed search: inverse quadratic steps where they can be
    trusted, halving where not.
    """
    a = low
    fa = over_want(line, bed, bow_m, which, want, a, out)
    b = max(1.0, a + 1.0)
    fb = over_want(line, bed, bow_m, which, want, b, out)
    while not fb > 0.0:
        if p_of(b) > _MOST_N:
            return math.nan
        a, fa = b, fb
        b += 1.0
        fb = over_want(line, bed, bow_m, which, want, b, out)
    c, fc = a, fa
    t = 0.5
    for _ in range(120):
        x = a + t * (b - a)
        fx = over_want(line, bed, bow_m, which, want, x, out)
        if (fx > 0.0) == (fa > 0.0):
            c, fc = a, fa
        else:
            c, fc = b, fb
            b, fb = a, fa
        a, fa = x, fx
        best, f_best = (a, fa) if abs(fa) < abs(fb) else (b, fb)
        tol = 1e-15 + 4e-16 * abs(best)
        if f_best == 0.0 or abs(b - a) < 2.0 * tol or abs(f_best) < 1e-13 * (1.0 + abs(want)):
            return best
        xi = (a - b) / (c - b)
        phi = (fa - fb) / (fc - fb)
        if phi * phi < xi and (1.0 - phi) ** 2 < 1.0 - xi:
            t = fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (
                fc - fb
            )
        else:
            t = 0.5
        t = min(1.0 - tol / abs(b - a), max(tol / abs(b - a), t))
    return best


@kernel
def rode_asked(
    line: Pieces, bed: Bed, bow_m: float, which: int, want: float, out: Floats
) -> tuple[float, float, float]:
    """Fill ``out`` for a wanted pull or distance; q, slack distance and stiffness.

    q is NaN where there is no balance, -inf where the rode is slack.
    """
    idle_m = idle_when_slack(line, bed, bow_m)
    if math.isnan(idle_m):
        out[:] = np.nan
        return math.nan, math.nan, math.nan
    slack_m, _ = along_bed(bed, idle_m)
    if (which == DISTANCE and want <= slack_m) or (which == PULL and want <= 0.0):
        out[:] = 0.0
        out[DISTANCE] = want if which == DISTANCE else slack_m
        out[ON_BOTTOM] = out[ZERO_TENSION] = idle_m
        return -math.inf, slack_m, 0.0
    rode_for(line, bed, bow_m, 0.0, out)
    low = -idle_m if out[which] >= want else 0.0
    q = q_for(line, bed, bow_m, which, want, low, out)
    if math.isnan(q):
        out[:] = np.nan
        return math.nan, slack_m, math.nan
    step = 1e-4 * max(1.0, abs(q))
    if not rode_for(line, bed, bow_m, p_of(q - step), out):
        # all but slack: one side only
        rode_for(line, bed, bow_m, p_of(q), out)
    h0_n, x0_m = out[PULL], out[DISTANCE]
    rode_for(line, bed, bow_m, p_of(q + step), out)
    stiffness_npm = (out[PULL] - h0_n) / (out[DISTANCE] - x0_m)
    rode_for(line, bed, bow_m, p_of(q), out)
    return q, slack_m, stiffness_npm


def pieces_of(segments: LineSegments) -> Pieces:
    """The kernels' form of a rode, checked.

    Raises
    ------
    BadInput
        If a length, weight or stiffness is not a positive number.
    """
    told = {
        "length": segments.length_m,
        "weight": segments.weight_npm,
        "stiffness": segments.axial_stiffness_n,
        "weight in air": segments.weight_npm if segments.air_npm is None else segments.air_npm,
    }
    for name, values in told.items():
        if not (np.all(np.isfinite(values)) and np.all(np.asarray(values) > 0.0)):
            raise BadInput(
                "Rode",
                f"a piece with {name} {np.min(values):g}",
                "more than 0 wanted",
                "Correct it.",
            )
    cum = np.cumsum(np.asarray(segments.length_m, float))
    weight = np.asarray(segments.weight_npm, float)
    roller_m = -math.inf if segments.air_npm is None else float(segments.roller_m)
    return Pieces(cum, weight, *pieces_joined([segments]), roller_m)


def bed_of(bed: BedLine, friction: float) -> Bed:
    """The kernels' form of a bed, checked: at least two corners, rising along."""
    x_m = np.ascontiguousarray(bed.along_m, float)
    z_m = np.ascontiguousarray(bed.level_m, float)
    if x_m.size < 2 or not np.all(np.diff(x_m) > 0.0) or not np.all(np.isfinite(z_m)):
        raise BadInput(
            "Bed under the rode",
            "its corners do not follow one another",
            "two or more wanted, each farther from the anchor than the one before",
            "Correct the profile.",
        )
    return bed_through(x_m, z_m, float(friction))


def _form(line: Pieces, bed: Bed, bow_m: float, which: int, want: float) -> RodeForm:
    out = np.empty(RESULTS)
    q, slack_m, stiffness_npm = rode_asked(line, bed, bow_m, which, want, out)
    spans = int(out[SPANS]) if math.isfinite(out[SPANS]) else 0
    return RodeForm(
        distance_m=float(out[DISTANCE]),
        pull_n=float(out[PULL]),
        down_n=float(out[DOWN]),
        tension_n=math.hypot(out[PULL], out[DOWN]),
        anchor_tension_n=float(out[ANCHOR_T]),
        angle_rad=math.atan2(out[DOWN], out[PULL]) if not math.isinf(q) else math.pi / 2,
        anchor_angle_rad=float(out[ANCHOR_ANGLE]),
        uplift_rad=float(out[UPLIFT]),
        on_bottom_m=float(out[ON_BOTTOM]),
        zero_tension_m=float(out[ZERO_TENSION]),
        bridged_spans=spans,
        bridged_m=float(out[BRIDGED]),
        touchdown_m=float(out[TOUCHDOWN]),
        stiffness_npm=stiffness_npm,
        slack_distance_m=slack_m,
    )


def rode_at_distance(
    segments: LineSegments, bed: BedLine, friction: float, bow_level_m: float, distance_m: float
) -> RodeForm:
    """The rode when the roller is a given level distance from the anchor.

    Elastic catenary over a piecewise straight bed, one-sided contact, friction
    fully mobilised by a pull that has been growing, capstan law over convex
    corners. What hangs above the water weighs as in air where that is told; chain that
    lies on a bed above the water weighs as in it. Bending, current on the chain, and a
    pull that fell are left out.

    Parameters
    ----------
    segments : LineSegments
        From the anchor to the bow.
    bed : BedLine
        Along the bearing from the anchor to the bow.
    friction : float
        Coulomb coefficient of the line on the bed.
    bow_level_m, distance_m : float
        Level of the roller; its level distance from the anchor. [m]

    Returns
    -------
    RodeForm
        Pull 0 at or inside the slack distance; NaN where the line cannot reach.

    Raises
    ------
    BadInput
        For a piece or a bed that cannot be.

    Source
    ------
    irvine-1981, ch. 1; jonkman-2007, app. B.
    """
    line, under = pieces_of(segments), bed_of(bed, friction)
    return _form(line, under, bow_level_m, DISTANCE, distance_m)


def rode_at_pull(
    segments: LineSegments, bed: BedLine, friction: float, bow_level_m: float, pull_n: float
) -> RodeForm:
    """The rode under a given level pull at the roller; else as ``rode_at_distance``."""
    line, under = pieces_of(segments), bed_of(bed, friction)
    return _form(line, under, bow_level_m, PULL, pull_n)
