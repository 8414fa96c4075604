"""What is said of one loss."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True)
class WithoutOne:
    """The same lie with one part gone, in the stay's worst state for it.

    ``found`` is False where no rest was found. ``holds_to_mps`` is the steady
    wind, from the direction of that state, at which the next part passes its
    limit (None: at once or unknown). ``breaks`` says whether the next part parts.

    Attributes
    ----------
    kind : str
        "line", "point", "cleat", "anchor"; ``also`` names what else takes the same lines.
    at_utc : datetime or None
        When the worst state is. ``turned_rad``: how far her heading changes then.
    follows : tuple of str
        What parts after it in the worst state, in that order; ``drags``: whether the
        anchor is then asked for more than it is trusted with.
    share_followed, share_touches, share_unknown, share_drags : float
        Shares of members with an hour in which more parts; in which she may touch; in
        which neither is known; in which the anchor is asked for more than it is trusted with.
    touches : str or None
        What runs out where she may touch ("water under the rudder"), at the next rest or
        on the way. ``seconds_to_contact``: least of the states followed in time, NaN
        where none touched; ``contact_utc`` when that is.
    swing_part, swing_of_breaking : what is loaded most on the way, over what parts it
    """

    name: str
    found: bool
    east_m: float
    north_m: float
    heading_rad: float
    moved_m: float
    next_part: str | None
    next_use: float
    breaks: bool
    least_room_m: float
    holds_to_mps: float | None
    kind: str = "line"
    also: tuple[str, ...] = ()
    at_utc: datetime | None = None
    turned_rad: float = math.nan
    follows: tuple[str, ...] = ()
    drags: bool = False
    share_followed: float = math.nan
    share_touches: float = math.nan
    share_unknown: float = math.nan
    touches: str | None = None
    seconds_to_contact: float = math.nan
    contact_utc: datetime | None = None
    swing_part: str | None = None
    swing_of_breaking: float = math.nan
    of_breaking: float = math.nan
    adrift: bool = False
    share_drags: float = math.nan
