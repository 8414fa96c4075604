"""Left to her chain: where she lies as it is shortened, and how soon she touches, no engine."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis
from shorefast.manoeuvre.leaving_heave import Heaving, windlass_share
from shorefast.stay import (
    Asked,
    Shortened,
    deciding_use,
    room_use,
    shares_past,
    shortened,
    touching_alone,
)

Floats = NDArray[np.float64]
_LENGTHS = 6
# up and down all but this: plumb, a chain has no level reach to swing by [m]
_SHORT_OF_PLUMB_M = 1.0


@dataclass(frozen=True)
class AtLength:
    """She lies free to so much chain, the engine out of gear.

    Attributes
    ----------
    out_m : float
        Chain out. [m]
    pull_n, of_windlass : float
        At the roller, as so many members reach as decide; over what the windlass pulls,
        NaN where nobody knows. [N]
    room_m, room_of : the shortest room that decides, and of what; NaN, "" unknown. [m]
    share : float
        Members without room; NaN where the unknown ones decide.
    """

    out_m: float
    pull_n: float
    of_windlass: float
    room_m: float
    room_of: str
    share: float


@dataclass(frozen=True)
class Swing:
    """Left to her chain from the moment the last line is gone.

    Attributes
    ----------
    lengths : tuple of AtLength
        From all that is out to up and down.
    needs_engine : bool
        Whether at any of them, or on the way there, there is not known to be room enough.
    touches_s, touches : float, str or None
        The soonest of any member, from lying to her last line, all chain out, and what;
        NaN, None where none does within two minutes. [s]
    share_touches : float
        Members that do.
    """

    lengths: tuple[AtLength, ...]
    needs_engine: bool
    touches_s: float
    touches: str | None
    share_touches: float
    basis: Basis


def swing(asked: Asked, at: int, q: Floats, heave: Heaving) -> Swing:
    """Where wind and chain put her while it is hove in, if the engine does nothing.

    Parameters
    ----------
    at : int
        Which of the judged times.
    q : array (entry, 3)
        Where she lay to her last line.
    heave : Heaving
    """
    plumb_m = heave.up_and_down_m if math.isfinite(heave.up_and_down_m) else 0.5 * heave.from_m
    short_m = min(plumb_m + _SHORT_OF_PLUMB_M, heave.from_m)
    out_m = [float(one) for one in np.linspace(heave.from_m, short_m, _LENGTHS)]
    found = shortened(asked, np.array([at]), out_m)
    lengths = tuple(_at_length(asked, found, k) for k in range(len(out_m)))
    accepted = asked.stay.accepted_share
    short = any(not one.share <= accepted for one in lengths)
    seconds, of = touching_alone(asked, at, q)
    touches = np.isfinite(seconds)
    soonest = int(np.nanargmin(seconds)) if touches.any() else -1
    member = asked.judged.judgement.member
    any_of = [bool(touches[member == one].any()) for one in np.unique(member)]
    share = float(np.mean(any_of))
    return Swing(
        lengths, short or share > accepted, float(seconds[soonest]) if soonest >= 0 else math.nan,
        of[soonest] if soonest >= 0 else None, share, _basis(),
    )  # fmt: skip


def _at_length(asked: Asked, found: Shortened, k: int) -> AtLength:
    member, accepted = asked.judged.judgement.member, asked.stay.accepted_share
    use = np.array([room_use(room)[k, :, 0] for room in found.rooms])
    room_m = np.array([room.room_m[k, :, 0] for room in found.rooms])
    most = np.nan_to_num(use, nan=-1.0).max(axis=0)
    past = np.where(most > 1.0, 1.0, np.where(np.isnan(use).any(axis=0), np.nan, 0.0))
    share = float(shares_past(member, past[:, None], accepted)[0])
    pulls_n = found.pull_n[k, :, 0]
    pull_n = _decides(member, np.nan_to_num(pulls_n), accepted)
    if not np.isfinite(pulls_n).any():
        pull_n = math.nan
    entry = int(np.argmin(np.abs(most - _decides(member, most, accepted))))
    known = bool(most[entry] >= 0.0)
    of = int(np.nan_to_num(use[:, entry], nan=-1.0).argmax())
    return AtLength(
        float(found.out_m[k]), pull_n, windlass_share(asked.stay, pull_n),
        float(room_m[of, entry]) if known else math.nan,
        found.rooms[of].of if known else "", share,
    )  # fmt: skip


def _decides(member: NDArray[np.int64], values: Floats, accepted: float) -> float:
    """The value that as many members reach as it takes to pass a limit."""
    column = values[:, None]
    return float(deciding_use(member, column, np.zeros_like(column), accepted)[0])


def _basis() -> Basis:
    return Basis(
        assumptions=(
            Assumption(
                "Left to her chain she comes to rest in the gust as it stands, the engine out of"
                " gear; the windlass takes in what is slack and never pulls her: the engine does",
                "She sheers about on a short chain, and may lie for a while where no rest is",
            ),
        ),
    )
