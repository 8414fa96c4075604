"""The same stay with the slack of the chain hove in, or in the lulls between its gusts."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from shorefast.stay.rigging import lie_of, rig
from shorefast.stay.shortened import up_and_down_m
from shorefast.stay.without import Asked, question_of

Floats = NDArray[np.float64]


def slack_m(asked: Asked, at: int) -> float:
    """Chain out beyond the straight way from anchor to roller, in the members' middle. [m]

    NaN where she lies or the water is not known.

    Parameters
    ----------
    at : int
        Which of the judged times.
    """
    lie, roller_m = lie_of(asked.stay), asked.stay.boat.roller.x_m
    states = asked.states.some(asked.numbers(np.array([at])))
    q = states.q
    east_m = q[:, 0] + roller_m * np.sin(q[:, 2]) - lie.let_go_east_m
    north_m = q[:, 1] + roller_m * np.cos(q[:, 2]) - lie.let_go_north_m
    down_m = up_and_down_m(asked.stay, states.path.level_m)
    straight_m = np.hypot(np.hypot(east_m, north_m), down_m)
    known = straight_m[np.isfinite(straight_m)]
    return lie.chain_out_m - float(np.median(known)) if known.size else math.nan


def hove_in(asked: Asked, by_m: float) -> Asked:
    """The stay with so much of its chain hove in, and tables all round for that. [m]

    The judgement is that of the stay as it was: its winds and waters, and where she lay.
    """
    lie = lie_of(asked.stay)
    less = replace(asked.stay, lie=replace(lie, chain_out_m=lie.chain_out_m - by_m))
    level_m = asked.judged.judgement.water_level_m
    known = level_m[np.isfinite(level_m)]
    low_m, high_m = (float(known.min()), float(known.max())) if known.size else (0.0, 0.0)
    rigged = rig(less, 0.5 * (low_m + high_m))
    judged = replace(asked.judged, rigged=rigged, ready=rigged.ready_wide(low_m, high_m))
    found = question_of(less, judged)
    found.waters.take_wide(judged.ready)
    return found


def in_a_lull(asked: Asked) -> Asked:
    """The stay in its mean winds, without the gusts, from where she lay in those."""
    answer = asked.judged.judgement
    judged = replace(asked.judged, judgement=replace(answer, gust_mps=answer.wind_mps))
    return replace(question_of(asked.stay, judged), waters=asked.waters)
