"""What a judgement says, before anyone words or draws it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Basis
from shorefast.stay.by_fetch import SeaByFetch

Floats = NDArray[np.float64]
Verdict = Literal["holds", "leave by", "no", "unknown"]


@dataclass(frozen=True)
class PartUse:
    """Load and use of one part over the stay. NaN means unknown.

    Attributes
    ----------
    name : str
        "anchor", "chain", or "stern line to birch", "cleat port quarter", ...
    kind : str
        "anchor", "chain", "line", "cleat", "point", "sling" or "snubber".
    limit_n : array, shape (member, time); NaN where nobody knows what it carries
    limit_source : str
    load_n, use : arrays, shape (member, time); use is load over limit
    breaking_n : float
        What parts it, NaN where unknown or where it does not part. [N]
    """

    name: str
    kind: str
    limit_n: Floats
    limit_source: str
    load_n: Floats
    use: Floats
    breaking_n: float


@dataclass(frozen=True)
class Room:
    """Least water or distance of one part over the stay. [m]

    ``of`` is "water under the rudder", "hull to the shore", "hull to" a neighbour;
    ``room_m`` decides: water less the bed's doubt, less heave; ``least_wanted_m`` is what
    counts as past the limit. ``expected_m`` is the room by the expected bed, ``east_m``
    and ``north_m`` where the least water is, in the same shape; None where not told.
    ``beside_m`` is how far from there the other may also be: a boat at anchor may take
    all the room there is and still not be met.
    """

    of: str
    room_m: Floats
    least_wanted_m: float
    expected_m: Floats | None = None
    east_m: Floats | None = None
    north_m: Floats | None = None
    beside_m: float = 0.0

    @property
    def touches(self) -> NDArray[np.bool_]:
        """Where no room is left to what is surely there, in the shape of ``room_m``."""
        return (self.room_m <= 0.0) & (self.beside_m <= 0.0)


@dataclass(frozen=True)
class LineAtRest:
    """One line of the rest over (member, time). [N, m, rad]

    For the rode (index 0) ``lying_m`` is chain on the bed, ``angle_rad`` the
    angle below horizontal at the roller, ``uplift_rad`` above the bed at the
    shank; for shore lines ``lying_m`` is what floats.
    """

    name: str
    pull_n: Floats
    tension_n: Floats
    far_tension_n: Floats
    angle_rad: Floats
    uplift_rad: Floats
    lying_m: Floats


@dataclass(frozen=True)
class RestOverStay:
    """Where she lies, member by member and hour by hour. NaN: no rest found."""

    east_m: Floats
    north_m: Floats
    heading_rad: Floats
    lines: tuple[LineAtRest, ...]


@dataclass(frozen=True)
class WaveLoad:
    """The waves' mean push as judged, at the heading she is meant to lie at.

    Attributes
    ----------
    forward_n, starboard_n, turning_nm : float
        [N, N, N m]; the first two at their bound.
    turned_back : float
        Share of the waves' amplitude that she turns back.
    least_n : float
        The push by the form for short waves on an upright side, told as doubt.
    """

    forward_n: float
    starboard_n: float
    turning_nm: float
    turned_back: float
    least_n: float


@dataclass(frozen=True)
class Comfort:
    """How she rides waves or wash; told, it decides nothing.

    Attributes
    ----------
    of : str
        "waves" or "wash".
    heave_mps2, lean_rad : float
        Vertical acceleration amidships and lean across her, rms, without resonance.
    fit_for : str or None
        Who may be expected to bear it by the published limits; None: nobody.
    """

    of: str
    heave_mps2: float
    lean_rad: float
    fit_for: str | None


@dataclass(frozen=True)
class Snatch:
    """What waves or wash may add to one shore line; told beside its load, not added.

    Attributes
    ----------
    name, of : str
        The line, as among the parts; "waves" or "wash".
    excursion_m : float
        How far the highest wave takes the cleat along the line, to either side.
    adds_low_n, adds_high_n : float
        On each part of a taut line, by its slow and by its short-term stiffness.
    jerk_n : float
        The most on each part of a line that went slack and comes taut.
    slack_share : float
        Share of the states in which such a wave lets it go slack.
    limit_n : float
        What each part should carry.
    """

    name: str
    of: str
    excursion_m: float
    adds_low_n: float
    adds_high_n: float
    jerk_n: float
    slack_share: float
    limit_n: float


@dataclass(frozen=True)
class GustAnswer:
    """Which gust she answers as if it stood, at the worst hour; told, not reckoned with.

    Attributes
    ----------
    way : tuple of str
        "surge", "sway", "yaw": what each of her swings is most of, longest first.
    period_s, low_s, high_s : tuples of float
        Their periods, with the doubt of the water that moves with her. NaN: none.
    averaging_s : float
        What the gust she answers is averaged over.
    share : float
        That gust over the forecast's; NaN where unknown.
    """

    way: tuple[str, ...]
    period_s: tuple[float, ...]
    low_s: tuple[float, ...]
    high_s: tuple[float, ...]
    averaging_s: float
    share: float


@dataclass(frozen=True)
class WindToSide:
    """The same stay with the wind turned by our default spread; told, it decides nothing.

    turned_rad : veered positive, backed negative; share_past_limit, greatest_use : the most of the
    full hours and the worst moment, NaN where unknown. ``touches``: whether she does then.
    """

    turned_rad: float
    share_past_limit: float
    greatest_use: float
    touches: bool = False


@dataclass(frozen=True)
class Judgement:
    """The answer to "can she lie here until morning?".

    Attributes
    ----------
    member : int array (member,); time_utc : datetime64[s] array (time,)
    water_level_m, wind_mps, gust_mps, wind_from_rad : arrays (member, time)
        As used: sectors, terrain and spread included.
    share_past_limit : array (time,)
        Share of members past a limit; NaN where unknown.
    greatest_use : array (member, time)
    first_to_give : str or None; worst : (member index, time index) or None
    """

    verdict: Verdict
    member: NDArray[np.int64]
    time_utc: NDArray[np.datetime64]
    water_level_m: Floats
    wind_mps: Floats
    gust_mps: Floats
    wind_from_rad: Floats
    share_past_limit: Floats
    greatest_use: Floats
    parts: tuple[PartUse, ...]
    room: tuple[Room, ...]
    rest: RestOverStay
    worst: tuple[int, int] | None
    first_to_give: str | None
    leave_by_utc: datetime | None
    past_from_utc: datetime | None
    reason: str
    basis: Basis
    unknown_from_utc: datetime | None = None
    waves: WaveLoad | None = None
    comfort: tuple[Comfort, ...] = ()
    snatch: tuple[Snatch, ...] = ()
    gust_answer: GustAnswer | None = None
    sides: tuple[WindToSide, ...] = ()
    sea: SeaByFetch | None = None

    @property
    def touches(self) -> NDArray[np.bool_]:
        """Where no room is left to something: her use is then no measure. Shape (member, time)."""
        found = np.zeros(self.greatest_use.shape, bool)
        for room in self.room:
            found |= room.touches
        return found


@dataclass(frozen=True)
class Stands:
    """What the lie will stand, by direction of a steady wind at 10 m.

    limit_mps : array (level, direction), NaN where nothing gives up to
        ``sought_to_mps`` or nobody knows; first_to_give : names in the same shape,
        None where nothing gives, "unknown" where nobody knows.
    """

    water_level_m: Floats
    wind_from_rad: Floats
    limit_mps: Floats
    first_to_give: tuple[tuple[str | None, ...], ...]
    sought_to_mps: float
    basis: Basis


@dataclass(frozen=True)
class ChainShape:
    """The chain from anchor to roller in side view. [m]

    along_m : array, horizontal distance from the anchor toward the bow
    level_m : array, height above chart datum
    lying : bool array, True where the stretch to the next entry lies on the bed
    """

    said: str
    along_m: Floats
    level_m: Floats
    lying: NDArray[np.bool_]
    water_level_m: float
    pull_n: float
    angle_rad: float


@dataclass(frozen=True)
class NeedAndProof:
    """What the stay asks of the anchor, and what the engine proves. [N at the shank]

    The proof is by the engine's pull alone, as in a calm. ``pull_n``: that pull, level at
    the roller; ``wind_ahead_mps`` and ``wind_abeam_mps``: steady winds whose force on the
    free boat, bow-on and beam-on, is as much.
    """

    need_n: float
    need_uplift_rad: float
    need_hour_utc: datetime | None
    proof_n: float
    proof_low_n: float
    proof_high_n: float
    proof_uplift_rad: float
    pull_n: float
    wind_ahead_mps: float
    wind_abeam_mps: float
    basis: Basis


@dataclass(frozen=True)
class ChainReading:
    """Pull told by the chain's angle at the roller. NaN where the angle no longer tells.

    ``may_be_lifted``: some pull in the range lifts all chain, so that the angle may tell no more.
    """

    angle_below_horizontal_rad: float
    pull_n: float
    pull_low_n: float
    pull_high_n: float
    all_lifted: bool
    on_bottom_m: float
    may_be_lifted: bool
    basis: Basis
