"""What the cards are drawn from: plain facts in SI; what nobody worked out is None or NaN."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from datetime import datetime

from shorefast.basis import Basis

# CAUTIONS 10: below about 15 C
_COLD_K = 288.15


@dataclass(frozen=True)
class CardPerson:
    """Somebody aboard: name and duties ("helm", "bow", "line", "guest", "watch", ...)."""

    name: str
    duties: tuple[str, ...]


@dataclass(frozen=True)
class CardVessel:
    """The vessel as she is told of on the radio. [m]"""

    name: str
    length_m: float
    draught_m: float
    call_sign: str | None = None
    mmsi: str | None = None


@dataclass(frozen=True)
class CardPlace:
    """Where she lies, and on whose clocks; the position is her own, not the bay's origin."""

    bay_name: str
    lat_deg: float
    lon_deg: float
    zone_name: str


@dataclass(frozen=True)
class CardCall:
    """One call of the approach: what is said, by whom, at which metre. [m, rad]

    off_m : stern to the high-water line; chain_m : out by then; angles below horizontal.
    """

    number: int
    kind: str
    who: str
    off_m: float
    chain_m: float
    water_m: float
    slack_rad: float = math.nan
    holding_rad: float = math.nan
    dragging_rad: float = math.nan


@dataclass(frozen=True)
class CardApproach:
    """The way in as the cards tell it. [rad, m, m/s]

    to_windward_m : where the run begins; below 0 to leeward. blown_off : "port",
    "starboard", "" where her bow stays; walks : the same or "no", None unknown.
    can_be_held : in the wind of that hour. pass_off_m, pass_toward_rad, pass_water_m : the
    look-round pass; NaN where there is none. abort_depths : metres on from where she
    stops, and the water there.
    """

    line_in_rad: float
    to_windward_m: float
    windward_side: str
    astern_most_mps: float
    leeway_mps: float
    blown_off: str
    walks: str | None
    crosswind_most_mps: float
    crosswind_most_thruster_mps: float
    turning_room_m: float
    turning_needs_m: float
    abort_rad: float
    abort_least_m: float
    calls: tuple[CardCall, ...]
    landing_limit_m: float = math.nan
    lie_limit_m: float = math.nan
    can_be_held: bool = True
    crosswind_turns_back_mps: float = math.nan
    pass_off_m: float = math.nan
    pass_toward_rad: float = math.nan
    pass_water_m: float = math.nan
    abort_depths: tuple[tuple[float, float], ...] = ()
    heading_rad: float = math.nan


@dataclass(frozen=True)
class CardLine:
    """One line ashore. [m, s] ``order`` counts from 1 in the order they are taken ashore.

    ``name`` is the line aboard, alike for all its legs. flake_m : of this leg, reserve_m of it
    in reserve where reserve_wanted_m were wanted; left_m : of the line aboard once all its legs
    are flaked, below 0 too short.
    """

    name: str
    cleat: str
    point: str
    length_m: float
    order: int | None = None
    weather: bool | None = None
    distance_m: float = math.nan
    flake_m: float = math.nan
    left_m: float = math.nan
    swim_s: float = math.nan
    row_s: float = math.nan
    pretension_n: float = math.nan
    take_in_m: float = math.nan
    sag_m: float = math.nan
    doubled: bool = False
    reserve_m: float = math.nan
    reserve_wanted_m: float = math.nan


@dataclass(frozen=True)
class CardStep:
    """One step of taking the lines ashore; a locked one is not passed before its answer."""

    number: int
    does: str
    who: str
    waits_for: str | None
    locked: bool


@dataclass(frozen=True)
class CardProof:
    """One step of the proof. [rev/min, N, m/s, rad, s] Angles below horizontal."""

    number: int
    revs_rpm: float
    revs_share: float
    pull_n: float
    low_n: float
    high_n: float
    wind_ahead_mps: float
    wind_abeam_mps: float
    angle_rad: float
    angle_low_rad: float
    angle_high_rad: float
    all_lifted: bool
    hold_s: float
    off_m: float


@dataclass(frozen=True)
class CardOff:
    """Her stern off the high-water line at a tide ("high", "low"): engine astern, at rest. [m]"""

    at_utc: datetime
    tide: str
    engine_m: float
    rest_m: float
    least_m: float


@dataclass(frozen=True)
class CardMark:
    """A thing ashore to look at: its name, or what it is and where. [rad, m]

    kind : "point", "headland", "bight", "rock", or "behind": whatever stands there.
    """

    name: str
    kind: str
    bearing_rad: float
    distance_m: float


@dataclass(frozen=True)
class CardTransit:
    """Two marks in line, and how far she has gone when an eye sees them open. [rad, m]

    along : whether it tells of going along the chain, else of swinging; lamps : whether a
    lamp must be set at both for it.
    """

    near: CardMark
    far: CardMark
    bearing_rad: float
    moved_m: float
    by_night: bool
    along: bool = True
    lamps: bool = False


@dataclass(frozen=True)
class CardOutcome:
    """What is seen in the proof, what it means, what to do, what tempts: catalogue keys."""

    sign: str
    means: str
    do: str
    tempts: str | None = None


@dataclass(frozen=True)
class CardLetGo:
    """One line let go when leaving, and how: "from ashore", "slip" or "cast off"."""

    name: str
    how: str


@dataclass(frozen=True)
class CardDoubledBack:
    """The line that goes last, doubled back; ``instead`` where it is too short for that."""

    name: str
    enough: bool = True
    instead: str | None = None


@dataclass(frozen=True)
class CardLeaving:
    """Leaving at one hour: whether it can be done, and in which order. [m, s, m/s, rad]

    hove_m : slack to heave in first. [m]

    when : "first_light", "worst", "planned"; why : reason and what of, as keys and names.
    """

    when: str
    at_utc: datetime
    feasible: bool | None
    why: tuple[tuple[str, str], ...]
    order: tuple[CardLetGo, ...]
    doubled_back: CardDoubledBack | None
    room_m: float
    room_of: str
    heave_s: float
    needs_s: float
    gust_mps: float
    wind_from_rad: float
    hove_m: float = 0.0


@dataclass(frozen=True)
class CardLoss:
    """One part gone: how she lies then, what she touches and how soon. [rad, m, s]"""

    name: str
    heading_rad: float
    moved_m: float
    touches: str | None
    after_s: float
    follows: tuple[str, ...]
    found: bool


@dataclass(frozen=True)
class CardNight:
    """The night's numbers. [rad, m, m/s] NaN and None where nobody knows.

    wake_gust_mps, wake_from_rad : the least gust reckoned in which something is past its
    limit (``breaks``, "" unknown what) and its wind; where nothing is (None), the hardest
    reckoned from anywhere. wake_elsewhere_mps : the same of winds from elsewhere, past a
    limit there (wake_elsewhere_past) or the hardest reckoned there. wake_room_m : the
    least room reckoned; wake_off_m : the least her stern is off the high-water line over all
    hours; first_to_give, first_use : in the state of worst_utc and its wind;
    first_room_m, first_wanted_m : of a room that is short first; bad_from_utc,
    bad_until_utc : the hours in which she is used most; stuck : first and last of the hours
    in which leaving is not known to be possible, leaves_never : in none; points : what
    stands ashore, from where she lies.
    """

    heading_low_rad: float = math.nan
    heading_high_rad: float = math.nan
    room_of: str | None = None
    room_m: float = math.nan
    room_utc: datetime | None = None
    worst_utc: datetime | None = None
    worst_gust_mps: float = math.nan
    worst_from_rad: float = math.nan
    first_to_give: str | None = None
    first_use: float = math.nan
    verdict: str = "unknown"
    leave_by_utc: datetime | None = None
    wake_gust_mps: float = math.nan
    wake_room_m: float = math.nan
    wake_low_rad: float = math.nan
    wake_high_rad: float = math.nan
    losses: tuple[CardLoss, ...] | None = None
    wake_from_rad: float = math.nan
    breaks: str | None = None
    bad_from_utc: datetime | None = None
    bad_until_utc: datetime | None = None
    points: tuple[CardMark, ...] = ()
    first_room_m: float = math.nan
    first_wanted_m: float = math.nan
    wake_off_m: float = math.nan
    wake_elsewhere_mps: float = math.nan
    wake_elsewhere_past: bool = False
    stuck: tuple[tuple[datetime, datetime], ...] = ()
    leaves_never: bool = False


@dataclass(frozen=True)
class CardTurn:
    """One turn of the watch."""

    person: str
    from_utc: datetime
    until_utc: datetime


@dataclass(frozen=True)
class CardContent:
    """One stay for the people who carry it out: everything that stands on their cards.

    Attributes
    ----------
    people : tuple of CardPerson
        Empty where nobody was named; the cards then have a line for the name.
    lines : tuple of CardLine
        In the lie's own order; lettered A, B, ... as on the sheet.
    steps, off, proof, transits, outcomes, leaving, turns :
        Empty where nobody worked them out.
    water_m : float
        Charted depth where the anchor lies; NaN unknown. [m]
    leaves_rad, leaves_clear_m : float
        The way out from over the anchor, and how far it is known to be clear; NaN unknown.
    need_rpm : float
        Revs that prove what the stay asks of the anchor; NaN unknown or out of reach.
        ``need_short_n``: that pull at the roller where it is out of the engine's reach, or
        may be; else NaN. [N]
    fenders : tuple of str
        Sides, "port" and "starboard". ``tender_side``, ``painter_m``: where the tender lies
        alongside; ``handover_to``: who takes the helm when all is fast.
    ahead : bool or None
        Whether the weather line has to be fast before she begins her run.
    by : str or None
        "row", "swim" or "nobody": how the lines get ashore; None: not worked out.
    """

    vessel: CardVessel
    place: CardPlace
    from_utc: datetime
    until_utc: datetime
    heading_rad: float
    chain_m: float
    water_m: float
    lines: tuple[CardLine, ...]
    people: tuple[CardPerson, ...] = ()
    approach: CardApproach | None = None
    by: str | None = None
    water_k: float | None = None
    tends: str | None = None
    ahead: bool | None = None
    steps: tuple[CardStep, ...] = ()
    fenders: tuple[str, ...] = ()
    tender_side: str | None = None
    painter_m: float = math.nan
    handover_to: str | None = None
    off: tuple[CardOff, ...] = ()
    proof: tuple[CardProof, ...] = ()
    need_rpm: float = math.nan
    need_short_n: float = math.nan
    moving_m: float = math.nan
    transits: tuple[CardTransit, ...] = ()
    outcomes: tuple[CardOutcome, ...] = ()
    leaving: tuple[CardLeaving, ...] = ()
    leaves_rad: float = math.nan
    leaves_clear_m: float = math.nan
    night: CardNight = field(default_factory=CardNight)
    turns: tuple[CardTurn, ...] = ()
    basis: Basis = field(default_factory=Basis)

    @property
    def is_cold(self) -> bool:
        """Whether nobody swims: the water is colder than about 15 C, or nobody has told it."""
        return self.water_k is None or self.water_k < _COLD_K
