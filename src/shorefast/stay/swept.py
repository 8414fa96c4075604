"""From rest to rest: every pose she passes, close enough that little is missed between."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
STRIDE = 0.25
"""How far her farthest point goes between two poses, in steps of the bed's grid.

Nothing she passes over is then farther than an eighth of a step from one of the poses:
of a rock of one node, standing alone, a sixth of its height at most goes unseen, of a
plain slope what it rises over an eighth of a step.
"""


@dataclass(frozen=True)
class Swept:
    """Poses on the way to every state and at it, one state after the other.

    Attributes
    ----------
    q : array, shape (pose, 3)
        East, north [m], heading [rad].
    level_m : array, shape (pose,)
        The water then. [m]
    first : int array, shape (state,)
        Where the poses of a state begin; the last of them is the state itself.
    shape : tuple
        Of the states.
    """

    q: Floats
    level_m: Floats
    first: Ints
    shape: tuple[int, ...]

    def least(self, room_m: Floats) -> tuple[Floats, Ints]:
        """The least of every state's poses, and the pose it is at; arrays of the states.

        A state with an unknown pose is unknown, unless she touches at a known one:
        then she touches, whatever the rest is.
        """
        lowest = np.fmin.reduceat(room_m, self.first)
        strict = np.minimum.reduceat(room_m, self.first)
        least_m = np.where(lowest <= 0.0, lowest, strict)
        count = np.diff(self.first, append=room_m.size)
        at = self.first + count - 1
        asked = np.repeat(np.where((count > 1) & np.isfinite(least_m), lowest, np.nan), count)
        hit = np.flatnonzero(room_m == asked)
        state, found = np.unique(np.searchsorted(self.first, hit, "right") - 1, return_index=True)
        at[state] = hit[found]
        return least_m.reshape(self.shape), at.reshape(self.shape)


def _turned(q: Floats) -> Floats:
    """Steps from state to state along time, headings the short way round."""
    step = np.diff(q, axis=1)
    step[..., 2] = np.mod(step[..., 2] + math.pi, 2.0 * math.pi) - math.pi
    return step


def swept(q: Floats, level_m: Floats, arm_m: float, stride_m: float) -> Swept:
    """The poses between successive rests, straight and evenly from one to the next.

    Parameters
    ----------
    q : array, shape (..., time, 3)
        Rests; NaN where there is none: nothing is put between it and its neighbours.
    level_m : array, shape (..., time)
    arm_m : float
        From midships to her farthest point. [m]
    stride_m : float
        No point of her goes farther between two poses. [m]
    """
    shape = q.shape[:-1]
    times = shape[-1] if shape else 1
    rows, level = q.reshape(-1, times, 3), np.broadcast_to(level_m, shape).reshape(-1, times)
    step, rise = _turned(rows), np.diff(level, axis=1)
    way_m = np.hypot(step[..., 0], step[..., 1]) + arm_m * np.abs(step[..., 2])
    known = np.isfinite(way_m) & np.isfinite(rise)
    pieces = np.ones(level.shape, np.int64)
    pieces[:, 1:] = np.maximum(1, np.ceil(np.where(known, way_m, 0.0) / stride_m))
    count = pieces.ravel()
    first = np.cumsum(count) - count
    state = np.repeat(np.arange(count.size), count)
    left = (count[state] - 1 - (np.arange(state.size) - first[state])) / count[state]
    back = np.zeros((*level.shape, 4))
    back[:, 1:, :3], back[:, 1:, 3] = step, rise
    # nothing is taken back at the state itself, known or not what came before
    share = left[:, None]
    shift = np.where(share > 0.0, share * back.reshape(-1, 4)[state], 0.0)
    return Swept(
        rows.reshape(-1, 3)[state] - shift[:, :3], level.ravel()[state] - shift[:, 3], first, shape
    )
