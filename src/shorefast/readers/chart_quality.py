"""How far a charted depth may be out: zones of confidence turned into deviations."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from shorefast.readers.chart_cell import Cell
from shorefast.readers.chart_codes import code_of

Floats = NDArray[np.float64]

OF_95 = 1.96
UNASSESSED = 6


class Confidence(NamedTuple):
    """A zone of confidence: its letter, and what holds in it 95 times of 100. [m]"""

    letter: str
    depth_m: float
    of_depth: float
    place_m: float | None


# D and U have no numbers in print: twice the last one that has is our own choice.
ZONES = {
    1: Confidence("A1", 0.5, 0.01, 5.0),
    2: Confidence("A2", 1.0, 0.02, 20.0),
    3: Confidence("B", 1.0, 0.02, 50.0),
    4: Confidence("C", 2.0, 0.05, 500.0),
    5: Confidence("D", 4.0, 0.10, None),
    6: Confidence("U", 4.0, 0.10, None),
}


def deviation_of_m(zone: int, depth_m: Floats) -> Floats:
    """Standard deviation of depths in a zone of confidence. [m]

    Parameters
    ----------
    zone : int
        CATZOC, 1 (A1) to 6 (U); any other counts as U.
    depth_m : array
        What stands dry is as well known as what lies at datum.

    Source
    ------
    iho-zones-of-confidence, the table of depth accuracy (95 %, taken as 1.96 deviations)
    """
    held = ZONES.get(zone, ZONES[UNASSESSED])
    return (held.depth_m + held.of_depth * np.maximum(depth_m, 0.0)) / OF_95


def confidence_at(cell: Cell, lat_deg: Floats, lon_deg: Floats) -> NDArray[np.int64]:
    """CATZOC at places; where areas of quality overlap the worst, where there is none U."""
    worst = np.zeros(lat_deg.size, np.int64)
    for _, one in cell.of("M_QUAL"):
        zone = code_of(one.says, "CATZOC")
        if one.shape is None or zone is None or not lat_deg.size:
            continue
        shapely.prepare(one.shape)
        inside = shapely.intersects_xy(one.shape, lon_deg, lat_deg)
        worst[inside] = np.maximum(worst[inside], zone if zone in ZONES else UNASSESSED)
    return np.where(worst == 0, UNASSESSED, worst)


def deviations_m(zone: NDArray[np.int64], depth_m: Floats) -> Floats:
    """Standard deviation of each depth in its own zone of confidence. [m]"""
    deviation = np.empty(depth_m.size)
    for one in np.unique(zone):
        here = zone == one
        deviation[here] = deviation_of_m(int(one), depth_m[here])
    return deviation


def told_quality(zone: NDArray[np.int64]) -> tuple[str, ...]:
    """What the quality of the survey means, a sentence for each zone met."""
    said = []
    for one in np.unique(zone):
        held, percent = ZONES[int(one)], 100.0 * float(np.mean(zone == one))
        share = f"{percent:.0f} %" if percent >= 1.0 else "less than 1 %"
        if held.place_m is None:
            means = "no numbers are printed for it: twice those of C are taken for depths"
        else:
            means = (
                f"19 of 20 depths to {held.depth_m:g} m and {100 * held.of_depth:g} %, "
                f"places to {held.place_m:g} m"
            )
        said.append(f"zone of confidence {held.letter} under {share} of its soundings: {means}")
    return tuple(said)
