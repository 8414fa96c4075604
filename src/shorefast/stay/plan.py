"""A lie, and a stay: the lie over a span of hours under a forecast and a tide."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from shorefast.basis import Basis
from shorefast.bay import Bay
from shorefast.boat import Yacht
from shorefast.weather import WaterLevel, Wind


@dataclass(frozen=True)
class LieLine:
    """One line of a lie: which line aboard, from which cleat, to which point.

    ``length_m`` is unstretched, cleat to point. A doubled line lies out and back
    through the point: two parts of that length share the pull. ``sling`` is the
    strop at the point; the edge it bears on has a radius [m] and turns it [rad].
    """

    line: str
    cleat: str
    point: str
    length_m: float
    doubled: bool = False
    sling: str | None = None
    edge_radius_m: float | None = None
    edge_turn_rad: float | None = None


LET_GO_ERROR_M = 3.0
"""Standard deviation of where the anchor lands, each way, where nobody tells: our choice."""


@dataclass(frozen=True)
class Lie:
    """Where the anchor is [m], chain out [m], how she is meant to head [rad], her lines.

    second_anchor_ahead_m : chain between the anchor and one ahead of it in line. [m]
    let_go_error_m : where the anchor lands, one standard deviation each way; None: not
        told. [m]
    """

    let_go_east_m: float
    let_go_north_m: float
    chain_out_m: float
    heading_rad: float
    lines: tuple[LieLine, ...]
    second_anchor_ahead_m: float | None = None
    let_go_error_m: float | None = None


@dataclass(frozen=True)
class Waves:
    """Waves at the berth: significant height [m], peak period [s], where from. [rad]"""

    height_m: float
    period_s: float
    from_rad: float


@dataclass(frozen=True)
class Wash:
    """The wash of a passing vessel: height [m] and period [s] of its highest wave."""

    height_m: float
    period_s: float


@dataclass(frozen=True)
class Neighbour:
    """A boat lying near: her middle [m], her size [m], heading, how far she may come [m].

    scope_m : from her bow to her anchor, level, where she rides to one; None: she does
        not. [m]
    chain_toward_rad : which way that is, from her bow; None: nobody knows.
    """

    name: str
    east_m: float
    north_m: float
    length_m: float
    beam_m: float
    heading_rad: float
    swing_m: float
    scope_m: float | None = None
    chain_toward_rad: float | None = None


@dataclass(frozen=True)
class Current:
    """A steady current. [m/s, rad]"""

    speed_mps: float
    toward_rad: float


@dataclass(frozen=True)
class ProofGiven:
    """What the engine proved, or will: pull [N] or revs, where she pulled to, how long.

    ``chain_out_m`` is what was out then; None: as much as in the lie. [m]
    """

    pull_n: float | None
    revs_rpm: float | None
    toward_rad: float | None
    minutes: float | None
    chain_out_m: float | None = None


DUTIES = ("helm", "bow", "line", "swimmer", "rower", "watch", "guest")


@dataclass(frozen=True)
class Person:
    """Somebody aboard: the duties she or he can take (see ``DUTIES``), the likeliest first.

    able : whether to lend a hand at all; one who is not keeps a watch or is a guest.
    """

    name: str
    duties: tuple[str, ...]
    able: bool = True


@dataclass(frozen=True)
class Stay:
    """Everything a judgement needs. ``lie`` is None where it is to be chosen.

    people : everybody aboard; empty where nobody told.
    water_k : temperature of the sea; None where nobody knows. [K]
    watch_each_s : how long one anchor watch lasts; None where nobody told. [s]
    """

    name: str
    boat: Yacht
    bay: Bay
    wind: Wind
    water: WaterLevel
    from_utc: datetime
    until_utc: datetime
    accepted_share: float
    proof: ProofGiven | None
    current: Current | None
    lie: Lie | None
    basis: Basis
    waves: Waves | None = None
    wash: Wash | None = None
    neighbours: tuple[Neighbour, ...] = ()
    people: tuple[Person, ...] = ()
    water_k: float | None = None
    watch_each_s: float | None = None
