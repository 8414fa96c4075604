"""What is said of leaving at one moment, before anyone words it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from shorefast.basis import Basis
from shorefast.manoeuvre.clear_way import ClearWay
from shorefast.manoeuvre.crossed_chain import CrossedChain, DrillStep
from shorefast.manoeuvre.leaving_cut import Cut
from shorefast.manoeuvre.leaving_heave import Heaving
from shorefast.manoeuvre.leaving_hold import Held
from shorefast.manoeuvre.leaving_slip import DoubledBack
from shorefast.manoeuvre.leaving_swing import Swing

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
    how : "from ashore", "slip", or "cast off": from aboard, and it stays behind, buoyed
    who : a duty, "line", "rower" or "swimmer"
    pull_n : float
        What it pulls as it is let go, as so many members reach as decide. [N]
    share : float
        Members past a limit once it is gone; NaN for the last, and where not known.
    takes_s : float
    loaded : bool
        Whether it pulls more than a hand holds: eased round its cleat first, until it is slack.
    """

    number: int
    name: str
    how: str
    who: str
    pull_n: float
    share: float
    takes_s: float
    loaded: bool


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
    hove_m : float
        Chain to heave in first, the slack of it; 0: none. [m]
    in_a_lull : "yes", "no", "unknown" or None
        The same in the mean wind without its gusts, in one that lasts for all of it; None
        where it was not asked: nothing but the dark stands against it.
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
    hove_m: float = 0.0
    in_a_lull: Feasible | None = None


@dataclass(frozen=True)
class Leaving:
    """Leaving now, in an hour, at first light, and over the stay's hours.

    Attributes
    ----------
    in_an_hour, first_light : None where the stay does not reach to then
    swing : left to her chain without the engine, in this hour
    cut : the lines cast off at once; crossed : another's chain across ours
    possible_until_utc : from now on without a break, by the table's hours; None: not now
    next_possible_utc : where it is not now, when it is next; None: in no hour of the stay
    at_leave_by : whether it is possible at the hour the judgement gives to leave by; None
        where it gives none
    """

    this_hour: LeavingAt
    in_an_hour: LeavingAt | None
    first_light: LeavingAt | None
    hours: tuple[LeavingAt, ...]
    heaving: Heaving
    held: Held
    out: ClearWay
    swing: Swing
    cut: Cut
    crossed: CrossedChain
    possible_until_utc: datetime | None
    next_possible_utc: datetime | None
    at_leave_by: Feasible | None
    basis: Basis

    @property
    def crossed_drill(self) -> tuple[DrillStep, ...]:
        """The steps where another's chain lies across ours."""
        return self.crossed.steps
