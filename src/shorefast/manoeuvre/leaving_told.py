"""What is said of leaving at one moment, before anyone words it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from shorefast.basis import Basis
from shorefast.manoeuvre.leaving_heave import Heaving
from shorefast.manoeuvre.leaving_hold import Held
from shorefast.manoeuvre.leaving_out import WayOut
from shorefast.manoeuvre.leaving_slip import DoubledBack

Feasible = Literal["yes", "no", "unknown"]
DARK, UNKNOWN, PAST_LIMIT, NOT_HELD, NO_ROOM, BUILDING = (
    "dark", "unknown", "past limit", "not held", "no room", "building",
)  # fmt: skip


@dataclass(frozen=True)
class Why:
    """One reason against leaving at an hour.

    Attributes
    ----------
    reason : str
        "dark", "unknown", "past limit", "not held", "no room" or "building".
    share : float
        Members in which it is so; NaN where that is no matter of members, or not known.
    of : str
        What is short of room or past its limit; what is unknown; for "building" the reason
        that then stands against it.
    """

    reason: str
    share: float
    of: str = ""


@dataclass(frozen=True)
class LetGo:
    """One line let go.

    Attributes
    ----------
    how : "from ashore" or "slip"
    who : a duty, "line", "rower" or "swimmer"
    pull_n : float
        What it pulls as it is let go, as so many members reach as decide. [N]
    share : float
        Members past a limit once it is gone; NaN for the last, and where not known.
    takes_s : float
    """

    number: int
    name: str
    how: str
    who: str
    pull_n: float
    share: float
    takes_s: float


@dataclass(frozen=True)
class LeavingAt:
    """Leaving at one moment.

    Attributes
    ----------
    why : tuple of Why
        What stands against it.
    order : tuple of LetGo
        Empty where none was worked out.
    any_order : bool
        Whether all orders are alike.
    room_m, room_of, room_at : the shortest room on the way out under engine [m], of what, where
    heave_s, needs_s : until the anchor is broken out; all of it, the lines included [s]
    wind_mps, gust_mps, wind_from_rad : the middle of the members, at 10 m
    share : float
        Members against it by the reason that has most; NaN unknown.
    """

    at_utc: datetime
    feasible: Feasible
    why: tuple[Why, ...]
    order: tuple[LetGo, ...]
    any_order: bool
    doubled_back: DoubledBack | None
    room_m: float
    room_of: str
    room_at: str
    heave_s: float
    needs_s: float
    wind_mps: float
    gust_mps: float
    wind_from_rad: float
    share: float


@dataclass(frozen=True)
class Leaving:
    """Leaving now, in an hour, at first light, and over the stay's hours.

    in_an_hour, first_light : None where the stay does not reach to then
    """

    this_hour: LeavingAt
    in_an_hour: LeavingAt | None
    first_light: LeavingAt | None
    hours: tuple[LeavingAt, ...]
    heaving: Heaving
    held: Held
    out: WayOut
    basis: Basis
