"""Which gust she answers: her own periods at the worst hour against the gust's seconds."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis
from shorefast.mooring import (
    AIR_KGPM3,
    Load,
    Natural,
    inertia,
    natural,
    solve_rest,
    underbody,
    wind_force,
)
from shorefast.stay.answer import GustAnswer
from shorefast.stay.plan import Stay
from shorefast.stay.rigging import Rigged
from shorefast.weather import answered_over_s, enveloping_s, gust_over_mps

Floats = NDArray[np.float64]
# what forecasts call a gust: wmo-td1555
FORECAST_GUST_S = 3.0
_LONGEST_S = 600.0


def gust_answer(
    stay: Stay, rigged: Rigged, extra: Load, state: tuple[float, ...], q: Floats
) -> tuple[GustAnswer | None, Basis]:
    """Her periods at one rest, and the gust she answers as if it stood. Told only.

    Parameters
    ----------
    extra : Load
        What pushes her beside the wind.
    state : (level_m, gust_mps, mean_mps, from_rad)
        Water level; gust and mean wind at 10 m, and where it blows from.
    q : array, shape (3,)
        Where she lies in it: east, north [m], heading [rad].

    Returns
    -------
    answer : GustAnswer or None
        None where no rest is found by the exact path.
    basis : Basis

    Source
    ------
    biggs-1964; lawson-1980; esdu-83045; newman-1977.
    """
    level_m, gust_mps, mean_mps, from_rad = state
    load = extra._replace(wind_mps=gust_mps * rigged.height_share, wind_from_rad=from_rad)
    lying = solve_rest(
        rigged.scene, load, level_m, (float(q[0]), float(q[1]), float(q[2])), arm_m=rigged.arm_m
    )
    if lying.why != "found":
        return None, Basis()
    body = underbody(stay.boat.hull, stay.boat.engine)
    swings, low, high = (
        natural(lying.stiffness, lying.heading_rad, inertia(body, keel)) for keel in (0.5, 0.0, 1.0)
    )
    leading = _moved_most(rigged, load, lying.heading_rad, swings)
    over_s = _averaged_s(stay, float(swings.period_s[leading]), mean_mps)
    share = math.nan
    if math.isfinite(over_s) and gust_mps > 0.0:
        brought = gust_over_mps(gust_mps, mean_mps, (FORECAST_GUST_S, over_s))
        share = float(brought) / gust_mps
    answer = GustAnswer(swings.way, _told(swings), _told(low), _told(high), over_s, share)
    return answer, _basis()


def _told(swings: Natural) -> tuple[float, ...]:
    return tuple(float(seconds) for seconds in swings.period_s)


def _moved_most(rigged: Rigged, load: Load, heading_rad: float, swings: Natural) -> int:
    """Which swing the wind moves most, by what it would store in it."""
    wind = np.array(
        wind_force(rigged.form, load.wind_mps, load.wind_from_rad - heading_rad, AIR_KGPM3)
    )
    stored = ((swings.shape @ wind) * np.nan_to_num(swings.period_s)) ** 2
    return int(np.argmax(stored))


def _averaged_s(stay: Stay, period_s: float, mean_mps: float) -> float:
    """The longer of what she answers to and what envelops her, held to what the form knows."""
    longer_s = max(answered_over_s(period_s), enveloping_s(stay.boat.hull.length_m, mean_mps))
    return min(max(longer_s, 1.0), _LONGEST_S) if math.isfinite(longer_s) else math.nan


def _basis() -> Basis:
    return Basis(
        assumptions=(
            Assumption(
                "The forecast's gust is of 3 s and counts in full, as if it stood; which gust she"
                " answers is told beside it",
                "A squall that comes at once, in less than a third of her own period, and stays"
                " moves her up to twice as far as one that rises slowly",
            ),
        ),
        sources=("biggs-1964", "lawson-1980", "esdu-83045", "newman-1977", "fossen-2021"),
    )
