"""The same stay with the wind turned to either side, as far as it is badly known."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis, Finding
from shorefast.mooring import Load, Moored, rests
from shorefast.stay.answer import Judgement, WindToSide
from shorefast.stay.plan import Stay
from shorefast.stay.weighed import Solved, weigh
from shorefast.weather import DEFAULT_SPREAD_RAD, BayWind

Floats = NDArray[np.float64]
_ONLY_TOLD = Assumption(
    "The direction is judged as each member has it; backed and veered by our spread it is told",
    "Where a bay turns the wind, give its sector a spread_deg: then the worst side decides",
)


def winds_to_side(
    stay: Stay, at: Solved, ready: Moored, extra: Load, worst: int | None
) -> tuple[WindToSide, ...]:
    """Shares past a limit and uses with the wind backed and veered by our default spread.

    At the full hours and the moment ``worst``. Told, and no part of the verdict: a
    forecast's members differ in direction already, and this spread is ours. Where the
    skipper gave the spread it is among the judged winds, and the wind is not turned.

    Returns
    -------
    sides : tuple of WindToSide
        Backed, veered; empty where the skipper gave every spread.
    """
    wind = at.wind
    if not isinstance(wind, BayWind) or (wind.told_rad > 0.0).all():
        return ()
    seconds = wind.time_utc.astype("datetime64[s]").astype(np.int64)
    here = seconds % 3600 == 0
    here[0] = True
    if worst is not None:
        here[worst] = True
    return tuple(_turned(stay, at, ready, extra, (here, side)) for side in (-1.0, 1.0))


def _turned(
    stay: Stay, at: Solved, ready: Moored, extra: Load, turn: tuple[NDArray[np.bool_], float]
) -> WindToSide:
    here, side = turn
    wind = at.wind
    assert isinstance(wind, BayWind)
    turned = np.where(wind.told_rad > 0.0, 0.0, side * wind.spread_rad)[:, here]
    some = replace(
        wind, time_utc=wind.time_utc[here], wind_mps=wind.wind_mps[:, here],
        gust_mps=wind.gust_mps[:, here], wind_from_rad=wind.wind_from_rad[:, here] + turned,
        spread_rad=wind.spread_rad[:, here], told_rad=wind.told_rad[:, here],
    )  # fmt: skip
    level_m, gust_mps = at.level_m[:, here], some.gust_mps * at.rigged.height_share
    solved = rests(ready, level_m, gust_mps, some.wind_from_rad, ready.all_set, extra)
    found = weigh(stay, Solved(some, level_m, at.rigged, at.ground, solved, between=False))
    touches = any(bool(room.touches.any()) for room in found.rooms)
    share, greatest = _most(found.share), _most(found.greatest)
    return WindToSide(side * DEFAULT_SPREAD_RAD, share, greatest, touches)


def side_basis(stay: Stay, found: Judgement) -> Basis:
    """That the sides are only told; a finding where she holds as forecast but not to one side."""
    if not found.sides:
        return Basis()
    return Basis(assumptions=(_ONLY_TOLD,), findings=_side_finding(stay, found))


def _side_finding(stay: Stay, found: Judgement) -> tuple[Finding, ...]:
    past = [one for one in found.sides if one.share_past_limit > stay.accepted_share]
    if found.verdict != "holds" or not past:
        return ()
    worse = max(past, key=lambda one: one.share_past_limit)
    turned = "backed" if worse.turned_rad < 0.0 else "veered"
    said = (
        f"{turned} {math.degrees(abs(worse.turned_rad)):.0f} degrees it puts"
        f" {worse.share_past_limit:.0%} of the members past a limit; the direction in a bay is"
        " known no better (our default)"
    )
    return (Finding("Wind", said),)


def _most(values: Floats) -> float:
    """The most of what is known; NaN where nothing is."""
    return float(np.nanmax(values)) if np.isfinite(values).any() else math.nan
