"""Rests weighed: loads and rooms against their limits, and the share of members past one."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import Rests
from shorefast.stay.answer import PartUse, Room
from shorefast.stay.by_fetch import SeaByFetch, sea_by_fetch
from shorefast.stay.parts import Ground, parts_in_use
from shorefast.stay.plan import Stay
from shorefast.stay.rigging import Rigged
from shorefast.stay.room import room_of
from shorefast.stay.sea import heave_m, sea_down_m
from shorefast.stay.verdict import shares_past, use_and_past, uses
from shorefast.weather import Wind

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Solved:
    """Everything worked out before it is weighed.

    between : whether the rests follow one another closely enough for the way between
    them to be a way she goes.
    """

    wind: Wind
    level_m: Floats
    rigged: Rigged
    ground: Ground
    rests: Rests
    between: bool = True


@dataclass(frozen=True)
class Weighed:
    """Parts and rooms; names and uses (entry, member, time) of what counts, and of it all.

    greatest : array (member, time); share : array (time,), NaN where unknown
    """

    parts: tuple[PartUse, ...]
    rooms: tuple[Room, ...]
    names: list[str]
    use: Floats
    greatest: Floats
    share: Floats
    sea: SeaByFetch | None = None


def weigh(stay: Stay, at: Solved) -> Weighed:
    """Loads and rooms of all rests against their limits."""
    parts = parts_in_use(stay, at.rigged, at.ground, at.rests.line)
    sea = sea_by_fetch(stay, at.wind.wind_mps, at.wind.wind_from_rad, at.level_m)
    level_m = at.level_m - sea_down_m(stay, sea)
    rooms = room_of(
        stay, at.rests.q, level_m, heave_m(stay), expected=at.between, between=at.between
    )
    names, use = uses(parts, rooms)
    greatest, past = use_and_past(use, at.rests.code)
    share = shares_past(at.wind.member, past, stay.accepted_share)
    return Weighed(parts, rooms, names, use, greatest, share, sea)


def unknown_words(at: Solved, found: Weighed) -> str:
    """What is unknown in the first unknown hour, and as far as it is known, why."""
    t = int(np.argmax(np.isnan(found.share)))
    if np.isnan(at.wind.gust_mps[:, t]).any() or np.isnan(at.wind.wind_from_rad[:, t]).any():
        return "the forecast does not tell the wind and its direction then"
    if np.isnan(at.level_m[:, t]).any():
        return "the tide table does not reach to then"
    if not at.ground.prior.rated and at.ground.proven is None:
        return f"{at.ground.prior.basis.findings[0].said}, and nothing was proved"
    rows = zip(found.names, found.use[:, :, t], strict=True)
    lost = [name for name, row in rows if np.isnan(row).any()]
    if at.rests.code[:, t].any() or not lost:
        return (
            "where she lies then is unknown: the bed under her chain is not sounded closely"
            " enough (a berth wants soundings closer than 40 m)"
        )
    for part in found.parts:
        if part.name in lost and np.isnan(part.limit_n).all():
            return f"{part.name}: {part.limit_source.removeprefix('unknown: ')}"
    return f"{' and '.join(lost[:2])} cannot be told: no sounding is near enough there"
