"""What choosing a lie says, before anyone words it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime

from shorefast.basis import Basis
from shorefast.stay.choose_search import Score
from shorefast.stay.judge import Judged
from shorefast.stay.plan import Lie, Stay
from shorefast.stay.rigging import lie_of
from shorefast.stay.without_answer import WithoutOne

TIE = 0.03
"""Uses closer than this share of the larger are told as a tie."""


@dataclass(frozen=True)
class Finalist:
    """A lie that was judged in full.

    Attributes
    ----------
    stay : Stay
        Ready to be judged: with the lie and its proof.
    use : float
        Greatest use up to leave by that more than the accepted share of members reach.
    until : datetime
        Leave by; the end where she can lie the whole stay, the beginning where at no hour.
    worst_utc : datetime
        When that use is; ``first_to_give`` is used most then.
    losses : tuple of WithoutOne
        What one loss does; empty where it was not asked.
    tie : int
        Those with one number are within a tie of each other; 1 is the best.
    unproven : bool
        Whether a line leads to shore where nobody knows anything to make fast to.
    given : bool
        Whether it is the lie of the stay file, put beside the others.
    """

    stay: Stay
    judged: Judged
    use: float
    until: datetime
    worst_utc: datetime
    first_to_give: str
    losses: tuple[WithoutOne, ...]
    tie: int
    unproven: bool
    given: bool

    @property
    def lie(self) -> Lie:
        """The lie itself."""
        return lie_of(self.stay)

    @property
    def whole(self) -> bool:
        """Whether she can lie there the whole stay."""
        return self.judged.judgement.verdict == "holds"

    @property
    def not_survived(self) -> tuple[str, ...]:
        """Losses after which more follows: a part parts, the anchor drags, she touches or drifts.

        A line past its limit that does not part is a next use over 1, and told as such.
        """
        return tuple(one.name for one in self.losses if _follows(one))

    @property
    def after_loss(self) -> float:
        """The greatest use after any other loss; NaN where there is none or it was not asked."""
        return max(
            (one.next_use for one in self.losses if one.name not in self.not_survived),
            default=math.nan,
        )


def _follows(one: WithoutOne) -> bool:
    if not one.found or one.breaks:
        return True
    touches = math.isfinite(one.least_room_m) and one.least_room_m <= 0.0
    return touches or (one.next_part == "anchor" and one.next_use > 1.0)


@dataclass(frozen=True)
class Change:
    """One change to a lie and what she could do then: until when, its use, first to give."""

    said: str
    until: datetime
    whole: bool
    use: float
    first_to_give: str


@dataclass(frozen=True)
class Choice:
    """The lies chosen between, best first, and how they were found.

    Attributes
    ----------
    stay : what was asked, points of unproven shore among its bay's
    finalists : judged in full, best first; may be empty
    others : the best of every pair of stern ends, tried only
    dropped : reason and count of what was left out
    tried, hours : lies tried, and members x times of each added up
    then_held : whether any lie tried holds from the best one's leave by to the end
    tried_again : the best one as it was tried; helps : single changes to it, the most helpful first
    """

    stay: Stay
    finalists: tuple[Finalist, ...]
    others: tuple[Score, ...]
    dropped: tuple[tuple[str, int], ...]
    tried: int
    hours: int
    then_held: bool
    tried_again: Score | None
    helps: tuple[Change, ...]
    basis: Basis
