"""The states that decide, held against lines solved anew rather than looked up."""

from __future__ import annotations

import math

import numpy as np

from shorefast.basis import Finding
from shorefast.mooring import Checked, Load, Moored, Rests, held_exactly
from shorefast.stay.answer import Judgement
from shorefast.stay.weighed import Solved

# what the tables promise: 5 mm, 0.05 degrees, 5 N
_KEPT = (5e-3, math.radians(0.05), 5.0)


def deciding(found: Judgement) -> list[tuple[int, int]]:
    """Member and time of the greatest use of every part, and of the worst hour, each once."""
    at = {found.worst} if found.worst is not None else set()
    for part in found.parts:
        if np.isfinite(part.use).any():
            m, t = np.unravel_index(int(np.nanargmax(part.use)), part.use.shape)
            at.add((int(m), int(t)))
    return sorted(at)


def held(at: Solved, ready: Moored, extra: Load, found: Judgement) -> Checked | None:
    """The deciding states' rests held against the exact path; None where none is known."""
    where = deciding(found)
    if not where:
        return None
    m, t = np.array(where).T
    wind_mps = at.wind.gust_mps[m, t] * at.rigged.height_share
    states = (at.level_m[m, t], wind_mps, at.wind.wind_from_rad[m, t])
    rests = Rests(at.rests.q[m, t], at.rests.code[m, t], at.rests.line[m, t])
    return held_exactly(ready, states, rests, ready.all_set, extra)


def held_words(checked: Checked | None) -> tuple[Finding, ...]:
    """What is said of it: nothing where the tables keep their word."""
    if checked is None or not any(np.array(checked.farthest) > _KEPT):
        return ()
    farthest = checked.farthest
    if not math.isfinite(farthest.shift_m):
        said = (
            "in a state that decides the lines solved anew have no stable rest where the"
            " tables of the lines have one: she may sheer there"
        )
    else:
        said = (
            f"in the {checked.states} states that decide the tables of the lines are up to"
            f" {1e3 * farthest.shift_m:.0f} mm and {farthest.pull_n:.0f} N off the lines"
            " solved anew"
        )
    return (Finding("tables", said),)
