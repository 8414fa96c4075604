"""If one goes: the same lie without one line, one point or the anchor."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import FOUND, Moored, rests
from shorefast.stay.answer import WithoutOne
from shorefast.stay.judge import Judged, uses
from shorefast.stay.parts import parts_in_use
from shorefast.stay.plan import Stay
from shorefast.stay.rigging import RODE
from shorefast.stay.room import room_of
from shorefast.stay.sea import heave_m, sea_down_m

Floats = NDArray[np.float64]


def _one(stay: Stay, judged: Judged, wide: Moored, gone: str, named: str) -> WithoutOne:
    """The worst of all member-hours for this loss, each solved from where she lay."""
    answer = judged.judgement
    share = judged.rigged.height_share
    solved = rests(
        wide, answer.water_level_m, answer.gust_mps * share, answer.wind_from_rad,
        wide.without(gone), judged.extra,
    )  # fmt: skip
    parts = parts_in_use(stay, judged.rigged, judged.ground, solved.line)
    parts = tuple(part for part in parts if part.name not in (named, gone))
    level_m = answer.water_level_m - sea_down_m(stay, answer.sea)
    rooms = room_of(stay, solved.q, level_m, heave_m(stay), between=False)
    names, use = uses(parts, rooms)
    lost = (solved.code != FOUND) & np.isfinite(answer.gust_mps)
    worst = np.where(lost, 99.0, np.nan_to_num(use, nan=-1.0).max(axis=0))
    m, t = divmod(int(np.argmax(worst)), worst.shape[1])
    least = [np.nanmin(r.room_m) for r in rooms if np.isfinite(r.room_m).any()]
    q = solved.q[m, t]
    found = bool(solved.code[m, t] == FOUND)
    moved_m = math.hypot(q[0] - answer.rest.east_m[m, t], q[1] - answer.rest.north_m[m, t])
    column = np.nan_to_num(use[:, m, t], nan=-1.0)
    next_part = names[int(np.argmax(column))] if found else None
    breaks = any(
        bool((p.load_n > p.breaking_n).any()) for p in parts if math.isfinite(p.breaking_n)
    )
    return WithoutOne(
        name=named, found=found, east_m=float(q[0]), north_m=float(q[1]),
        heading_rad=float(np.mod(q[2], 2.0 * math.pi)), moved_m=moved_m, next_part=next_part,
        next_use=float(column.max()) if found else math.nan, breaks=breaks,
        least_room_m=float(min(least)) if least else math.nan,
        holds_to_mps=_holds_to(answer.gust_mps, worst),
    )  # fmt: skip


def _holds_to(gust_mps: Floats, worst: Floats) -> float | None:
    """Strongest gust of the stay below every gust that puts something past its limit."""
    past = gust_mps[worst > 1.0]
    if past.size == 0:
        return float(np.nanmax(gust_mps))
    below = gust_mps[(gust_mps < past.min()) & np.isfinite(gust_mps)]
    return float(below.max()) if below.size else None


def if_one_goes(stay: Stay, judged: Judged) -> tuple[WithoutOne, ...]:
    """Every line and the anchor taken away in turn, over all members and hours.

    Each is gone for the whole stay: rests follow from hour to hour without it. What
    happens in the seconds after it goes is left out.
    """
    level = judged.judgement.water_level_m
    known = level[np.isfinite(level)]
    if known.size == 0 or not np.isfinite(judged.judgement.gust_mps).any():
        return ()
    wide = judged.rigged.ready_wide(float(known.min()), float(known.max()))
    names = [(leg.name, leg.name) for leg in judged.rigged.legs]
    return tuple(
        _one(stay, judged, wide, gone, named) for gone, named in (*names, (RODE, "anchor"))
    )
