"""Tracks whose every row carries its own place, moment and depth: GPX and CSV."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.bay import reachable, rising
from shorefast.errors import BadInput
from shorefast.readers.depths import Tally, check_places, east_of_greenwich
from shorefast.readers.track_depths import Track
from shorefast.readers.track_told import COUNTED_FROM, Floats, Sailed, Sounded, frame_round


class Rows(NamedTuple):
    """What stands in the rows, shape (row,); NaN where nothing does.

    ``t_s`` counts from the year 1; ``depth_m`` from what ``counted_from`` says.
    """

    line: Floats
    t_s: Floats
    lat_deg: Floats
    lon_deg: Floats
    depth_m: Floats
    heading_rad: Floats

    def only(self, kept: NDArray[np.bool_] | NDArray[np.int64]) -> Rows:
        """Those that are kept, in that order."""
        return Rows(*(part[kept] for part in self))


def to_surface_m(where: str, counted_from: str, sailed: Sailed) -> float:
    """What must be added to a depth to count it from the surface. [m]

    Raises
    ------
    BadInput
        If the depth of what it counts from is not told, or nobody knows such a thing.
    """
    if counted_from not in COUNTED_FROM:
        raise BadInput(
            where, f"depths from the '{counted_from}'", f"{', '.join(COUNTED_FROM)} wanted",
            "Say what the depths count from.",
        )  # fmt: skip
    under = {"surface": 0.0, "transducer": sailed.transducer_m, "keel": sailed.keel_m}
    found = under[counted_from]
    if found is None:
        raise BadInput(
            where,
            f"depths count from the {counted_from}",
            "how deep that is under the water nobody told",
            "Give the boat with draught_m in [sounder]."
            if counted_from == "transducer"
            else "Give the boat with draught_m in [hull].",
        )
    return found


def track_of_rows(
    name: str, kind: str, rows: Rows, sailed: Sailed, tally: Tally, counted_from: str = "surface"
) -> Track:
    """The rows as a track: in order of time, less those with no place, moment or depth."""
    rows = _whole(name, rows, tally)
    has_time = bool(np.isfinite(rows.t_s).any())
    if has_time:
        rows = _in_time(name, rows, tally)
    else:
        rows = rows._replace(t_s=np.arange(rows.line.size, dtype=float))
    rows = rows._replace(lon_deg=east_of_greenwich(rows.lon_deg))
    check_places(name, rows.lat_deg, rows.lon_deg)
    if rows.line.size:
        rows = _sailed_between(name, rows, tally, has_time)
    depth = rows.depth_m + to_surface_m(name, counted_from, sailed)
    place = np.full(rows.line.size, sailed.doubts.position_m)
    sounded = Sounded(
        rows.line, rows.t_s, rows.lat_deg, rows.lon_deg, depth, rows.heading_rad, place
    )
    return Track(name, kind, sounded, has_time)


def _left_out(
    name: str, rows: Rows, reasons: dict[str, NDArray[np.bool_]], tally: Tally
) -> NDArray[np.bool_]:
    """Count each row under its first reason; flags of those that have none."""
    good = np.ones(rows.line.size, dtype=bool)
    for why, found in reasons.items():
        fresh = found & good
        if fresh.any():
            tally.add(why, f"{name}, line {rows.line[fresh][0]:.0f}", int(fresh.sum()))
        good &= ~found
    return good


def _whole(name: str, rows: Rows, tally: Tally) -> Rows:
    nowhere = ~(np.isfinite(rows.lat_deg) & np.isfinite(rows.lon_deg))
    reasons = {
        "no position": nowhere,
        "no depth": ~np.isfinite(rows.depth_m),
        "depth 0: the sounder had no bottom": rows.depth_m == 0.0,
        "depth above the surface": rows.depth_m < 0.0,
    }
    return rows.only(_left_out(name, rows, reasons, tally))


def _in_time(name: str, rows: Rows, tally: Tally) -> Rows:
    """The rows in order of time, each moment once."""
    timed = np.isfinite(rows.t_s)
    rows = rows.only(_left_out(name, rows, {"no time": ~timed}, tally))
    rows = rows.only(np.argsort(rows.t_s, kind="stable"))
    again = ~rising(rows.t_s)
    return rows.only(_left_out(name, rows, {"time stamp repeated": again}, tally))


def _sailed_between(name: str, rows: Rows, tally: Tally, has_time: bool) -> Rows:
    """Less the places too far from the others to have sailed there; without times, all."""
    if not has_time:
        return rows
    east, north = frame_round(rows.lat_deg, rows.lon_deg).to_plane(rows.lat_deg, rows.lon_deg)
    far = ~reachable(rows.t_s, east, north)
    why = "position too far from the others to have sailed there"
    return rows.only(_left_out(name, rows, {why: far}, tally))


def no_headings(count: int) -> Floats:
    """Headings nobody told."""
    return np.full(count, math.nan)
