"""What the worst hour says of her lines and her rest beside what they carry."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Finding
from shorefast.mooring import Load, Moored, bar_tight, crossings, other_findings, others_at
from shorefast.stay.answer import Judgement
from shorefast.stay.rigging import Rigged
from shorefast.stay.verdict import utc_of

Floats = NDArray[np.float64]


def idle_loop(rigged: Rigged, found: Judgement) -> tuple[Finding, ...]:
    """How much chain must hang idle beside the snubber, so that it can stretch."""
    pull_n = found.rest.lines[0].tension_n
    if rigged.tail is None or not np.isfinite(pull_n).any():
        return ()
    most_m = float(rigged.tail.loop_m(float(np.nanmax(pull_n))))
    if not np.isfinite(most_m):
        return (Finding("snubber", "in the worst hour it parts, and the chain takes the load"),)
    said = f"it stretches to {most_m:.1f} m; the chain from its hook inboard must be longer"
    return (Finding("snubber", said),)


def lines_told(
    rigged: Rigged, ready: Moored, extra: Load, found: Judgement, q: Floats
) -> tuple[Finding, ...]:
    """Lines that cross or are bar-tight in the worst hour, and where else she could lie.

    q : array (member, time, 3), her rests; ``extra`` the steady load beside the wind.
    """
    if found.worst is None or not np.isfinite(q[found.worst]).all():
        return ()
    at = found.worst
    here = q[at]
    gust_mps = float(found.gust_mps[at]) * rigged.height_share
    load = extra._replace(wind_mps=gust_mps, wind_from_rad=float(found.wind_from_rad[at]))
    level_m = float(found.water_level_m[at])
    hour = f"{utc_of(found.time_utc[at[1]]):%d %b %H:%M} UTC"
    crossed = (one.finding for one in crossings(ready.scene, here, ready.all_set))
    tight = (one.finding for one in bar_tight(ready, load, level_m, here))
    return (*crossed, *tight, *other_findings(others_at(ready, load, level_m, here), hour))
