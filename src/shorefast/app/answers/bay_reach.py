"""How the points of a bay are reached in a stay: told with the bay's points."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis
from shorefast.bay import ShorePoint
from shorefast.stay import MADE_FAST_M, SMALL_PULL_N, PointReach, Stay, judge, reach
from shorefast.wording import clock, metres

Floats = NDArray[np.float64]


def reach_of(stay: Stay, points: Sequence[ShorePoint]) -> tuple[dict[str, dict[str, Any]], Basis]:
    """For every point by name: line, cleat, and hour by hour the least of all members."""
    judgement = judge(stay).judgement
    rest = judgement.rest
    q = np.stack([rest.east_m, rest.north_m, rest.heading_rad], axis=-1)
    lines = () if stay.lie is None else stay.lie.lines
    cleats = {line.point: line.cleat for line in lines}
    found = reach(stay.boat, points, q, judgement.water_level_m, cleats)
    zone = stay.bay.zone_name
    return {one.point: _row(one, judgement.time_utc, zone) for one in found}, _basis()


def _row(one: PointReach, time_utc: NDArray[np.datetime64], zone_name: str) -> dict[str, Any]:
    dry_m, left_m = _least(one.dry_m), _least(one.left_m)
    row = {
        "line": one.line,
        "length_m": one.length_m,
        "cleat": one.cleat,
        "time_utc": time_utc,
        "dry_m": dry_m,
        "drowned": [None if math.isnan(value) else bool(value <= 0.0) for value in dry_m],
        "needed_m": -_least(-one.needed_m),
        "left_m": left_m,
        "left_doubled_m": _least(one.left_doubled_m),
    }
    return {**row, "said": _said(row, zone_name)}


def _least(values_m: Floats) -> Floats:
    """Least over the members hour by hour; NaN where one of them is unknown."""
    return np.asarray(values_m.min(axis=0))


def _said(row: Mapping[str, Any], zone_name: str) -> str:
    """One row of the table in words."""
    dry_m, left_m, doubled_m = row["dry_m"], row["left_m"], row["left_doubled_m"]
    if not np.isfinite(dry_m).any():
        water = "water over it unknown"
    else:
        hour = int(np.nanargmin(dry_m))
        when = clock(row["time_utc"][hour], zone_name)
        least = float(dry_m[hour])
        water = f"least dry {metres(least)} at {when}"
        water = f"DROWNED by {metres(-least)} at {when}" if least <= 0.0 else water
        water += _lost(dry_m)
    if row["line"] is None or not np.isfinite(left_m).any():
        return f"{water}; line unknown"
    least = float(np.nanmin(left_m))
    if least < 0.0:
        short = f"{metres(-least)} too short from the {row['cleat']}{_lost(left_m)}"
        return f"{water}; {row['line']} is {short}"
    twice = float(np.nanmin(doubled_m))
    doubled = f"{metres(twice)} doubled" if twice >= 0.0 else "too short doubled"
    left = f"{metres(least)} left, {doubled}{_lost(left_m)}"
    return f"{water}; {row['line']} from the {row['cleat']}: {left}"


def _lost(values_m: Floats) -> str:
    """How many of the hours are unknown, in words; empty if none."""
    lost = int(np.isnan(values_m).sum())
    return f" ({lost} of {values_m.size} hours unknown)" if lost else ""


def _basis() -> Basis:
    taken = Assumption(
        f"Reach is measured with the longest line aboard at {SMALL_PULL_N:g} N, with "
        f"{MADE_FAST_M:g} m for knot and turns (our choice), from every rest of the stay",
        "Round a headland, or to a point behind trees, more line is needed",
    )
    return Basis(assumptions=(taken,), sources=("irvine-1981",))
