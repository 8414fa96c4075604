"""How her lines lead as she lies: across her own deck, over one another, over her chain."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from shorefast.boat import Yacht
from shorefast.stay.plan import Lie, Stay

Floats = NDArray[np.float64]
Some = NDArray[np.bool_]


def on_board(q: Floats, east_m: float, north_m: float) -> Floats:
    """A place seen from her: x forward of midships, y to starboard. [m]

    q (..., 3) east, north, heading; returns (..., 2).
    """
    sine, cosine = np.sin(q[..., 2]), np.cos(q[..., 2])
    east, north = east_m - q[..., 0], north_m - q[..., 1]
    return np.stack([east * sine + north * cosine, east * cosine - north * sine], -1)


def over_deck(boat: Yacht, cleat_m: tuple[float, float], point_m: Floats) -> Some:
    """Whether a line from a cleat comes to her other side before it is off her.

    It would lie across her deck, bow or stern: over rails, stays, chain.

    Parameters
    ----------
    cleat_m : x and y of the cleat. [m]
    point_m : array (..., 2)
        Where the line leads, seen from her. [m]
    """
    x, y = cleat_m
    other_side = y * point_m[..., 1] < 0.0
    share = y / np.where(other_side, y - point_m[..., 1], 1.0)
    there_m = x + share * (point_m[..., 0] - x)
    return other_side & (np.abs(there_m) < 0.5 * boat.hull.length_m)


def _crossing(stay: Stay, lie: Lie, q: Floats) -> Some:
    """Whether two of her lines, or one and her chain, cross in plan; (state,)."""
    points = {point.name: point for point in stay.bay.points}
    cleats = {cleat.name: cleat.spot for cleat in stay.boat.cleats}
    roller = stay.boat.roller
    inboard = [(roller.x_m, roller.y_m)]
    outboard = [on_board(q, lie.let_go_east_m, lie.let_go_north_m)]
    for line in lie.lines:
        spot, point = cleats[line.cleat], points[line.point]
        inboard.append((spot.x_m, spot.y_m))
        outboard.append(on_board(q, point.east_m, point.north_m))
    crossing = np.zeros(len(q), bool)
    for i, a in enumerate(inboard):
        for j in range(i + 1, len(inboard)):
            c, b, d = inboard[j], outboard[i], outboard[j]
            apart = (_side(a, b, c) * _side(a, b, d) < 0.0) & (
                _side(c, d, a) * _side(c, d, b) < 0.0
            )
            crossing |= apart
    return crossing


def _side(a: tuple[float, float], b: Floats, c: tuple[float, float] | Floats) -> Floats:
    """On which side of the way from a to b a place lies; (state,)."""
    c_m = np.asarray(c)
    return np.asarray(
        (b[..., 0] - a[0]) * (c_m[..., 1] - a[1]) - (b[..., 1] - a[1]) * (c_m[..., 0] - a[0])
    )


def amiss(stay: Stay, lie: Lie, q: Floats) -> str | None:
    """What is amiss with how her lines lead as she lies; None: nothing.

    Straight from cleat to point and from roller to anchor. What is so in no more than the
    stay's accepted share of all states is let be (our choice).

    Parameters
    ----------
    q : array (..., 3)
        Rests; NaN where there is none.
    """
    flat = q.reshape(-1, 3)
    known = flat[np.isfinite(flat).all(axis=1)]
    if not len(known) or not lie.lines:
        return None
    if _crossing(stay, lie, known).mean() > stay.accepted_share:
        return "as she lies two of her lines would cross, or one her chain"
    points = {point.name: point for point in stay.bay.points}
    cleats = {cleat.name: cleat.spot for cleat in stay.boat.cleats}
    for line in lie.lines:
        spot, point = cleats[line.cleat], points[line.point]
        seen = on_board(known, point.east_m, point.north_m)
        if over_deck(stay.boat, (spot.x_m, spot.y_m), seen).mean() > stay.accepted_share:
            return "as she lies a line would lead across her own deck"
    return None
