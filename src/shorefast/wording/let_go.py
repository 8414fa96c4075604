"""Where to let go, in words."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from shorefast.wording.numbers import UNKNOWN, metres

if TYPE_CHECKING:
    from shorefast.stay import Lie, WhereToLetGo

_NEAR_M = 1.0


def let_go_words(lie: Lie, where: WhereToLetGo) -> tuple[str, ...]:
    """The patch in sentences: its ellipse, how often it is hit, what ends it."""
    if where.until_utc is None:
        return ("Where to let go: no patch, the lie is not sound as planned.",)
    if where.ellipse is None:
        return (
            "Where to let go: not even at the planned place, it is sound by a hair or not at all.",
        )
    least = " at least" if where.cut else ""
    return (
        f"Where to let go: about the planned place{least} {ellipse_words(where)} the way she"
        f" heads; the whole patch is{least} {where.area_m2:.0f} m2.",
        f"  Let go within {metres(2.0 * where.error_m)} most times, the anchor lands in it"
        f" {in_hundred(where.hit_share)}.{_better_words(lie, where)}",
        *(
            f"  seen from the shore, {side_words(one.way, one.reach_m, one.ends)}"
            for one in where.sides
        ),
    )


def ellipse_words(where: WhereToLetGo) -> str:
    """How exactly the planned place must be hit: "12 m along, 6 m across"."""
    if where.ellipse is None:
        return UNKNOWN
    return f"{metres(where.ellipse.along_m)} along, {metres(where.ellipse.across_m)} across"


def in_hundred(share: float) -> str:
    """A probability as times in a hundred, no finer."""
    times = round(100.0 * share)
    if times >= 100:
        return "nearly always"
    return f"about {times} times in 100" if times >= 1 else "hardly ever"


def side_words(way: str, reach_m: float, ends: str | None) -> str:
    """How far the patch reaches one way, and what is past its limit there."""
    if ends is None:
        return f"{way}: more than {metres(reach_m)}"
    return f"{way}: {metres(reach_m)}, then {ends}"


def _better_words(lie: Lie, where: WhereToLetGo) -> str:
    """Where to aim instead, where that is hit clearly more often; else nothing."""
    east_m, north_m = where.aim_m[0] - lie.let_go_east_m, where.aim_m[1] - lie.let_go_north_m
    if where.aim_share < where.hit_share + 0.05:
        return ""
    sine, cosine = math.sin(lie.heading_rad), math.cos(lie.heading_rad)
    out_m, right_m = east_m * sine + north_m * cosine, east_m * cosine - north_m * sine
    told = []
    if abs(out_m) >= _NEAR_M:
        told.append(f"{metres(abs(out_m))} {'farther out' if out_m > 0.0 else 'nearer in'}")
    if abs(right_m) >= _NEAR_M:
        told.append(f"{metres(abs(right_m))} to the {'right' if right_m > 0.0 else 'left'}")
    if not told:
        return ""
    aimed = " and ".join(told)
    return f" Aimed {aimed}, chain and lines as planned: {in_hundred(where.aim_share)}."
