"""How far she is set while the weather line goes, and whether it has to go before she does."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shorefast.manoeuvre.ashore import Ashore, LineAshore
from shorefast.manoeuvre.coming_in import HAND_UP_S, WindAt, set_while_held
from shorefast.manoeuvre.way_in import LinesS, WayIn
from shorefast.stay import Stay, lie_of

# set farther than this she is no longer held: our choice
HELD_M = 5.0


@dataclass(frozen=True)
class Waiting:
    """While the weather line goes, held by helm and throttle alone.

    Attributes
    ----------
    carry_s : float
        How long it takes from the ladder until it is fast; NaN where nobody carries it. [s]
    set_m : float
        How far her stern is set by then; NaN likewise. [m]
    ahead : bool or None
        Whether it has to be fast ashore, its end waiting in the tender where her quarter
        comes, before she begins her run; None where nobody knows.
    can_go_ahead : bool
        Whether anything can carry it there: a tender, not a swimmer.
    lines_s : tuple of (number of the line, seconds after the one before)
        Of all lines in their order, as the crew then takes them.
    """

    carry_s: float
    set_m: float
    ahead: bool | None
    can_go_ahead: bool
    lines_s: LinesS


def waiting(way: WayIn, lines: Ashore) -> Waiting:
    """What waiting for the weather line does, tried in the time model in the mean wind."""
    carry_s = [_carry_s(one, lines.by) for one in lines.lines]
    numbers = [_number(way.arrival.stay, one) for one in lines.lines]
    if not carry_s or not math.isfinite(carry_s[0]):
        return Waiting(math.nan, math.nan, None, lines.by == "row", ())
    wind = way.arrival.felt_mps(way.arrival.wind.mean_mps), way.arrival.wind.from_rad
    set_m = set_while_held(way, _steady(*wind), carry_s[0])
    ahead = not set_m <= HELD_M
    first_s = HAND_UP_S if ahead and lines.by == "row" else carry_s[0]
    lines_s = tuple(zip(numbers, (first_s, *carry_s[1:]), strict=True))
    return Waiting(carry_s[0], set_m, ahead, lines.by == "row", lines_s)


def _steady(wind_mps: float, from_rad: float) -> WindAt:
    return lambda _t_s: (wind_mps, from_rad)


def _carry_s(line: LineAshore, by: str) -> float:
    return {"row": line.row_s, "swim": line.swim_s}.get(by, math.nan)


def _number(stay: Stay, line: LineAshore) -> int:
    """Which of the lie's lines it is, counted from one."""
    told = [(one.line, one.point) for one in lie_of(stay).lines]
    return told.index((line.line, line.point)) + 1
