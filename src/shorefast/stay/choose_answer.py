"""What choosing a lie says, before anyone words it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime

from shorefast.basis import Basis
from shorefast.stay.choose_lies import Candidate
from shorefast.stay.choose_search import LOST, Score
from shorefast.stay.judge import Judged
from shorefast.stay.plan import Lie, Stay
from shorefast.stay.rigging import lie_of
from shorefast.stay.without_answer import WithoutOne

TIE, TIE_LEAST = 0.03, 0.01
"""Uses closer than this share of the larger are told as a tie, and those within a hundredth."""


@dataclass(frozen=True)
class Finalist:
    """A lie that was judged in full.

    Attributes
    ----------
    stay : Stay
        Ready to be judged: with the lie and its proof.
    use : float
        Greatest use up to leave by that more than the accepted share of members reach;
        where she can lie at no hour, of all hours that are known.
    until : datetime
        Leave by; the end where she can lie the whole stay, the beginning where at no hour;
        where it is unknown whether she can lie on, as where a limit is passed.
    unknown_from : datetime or None
        From when on that is unknown, where it is what ends it.
    worst_utc : datetime
        When that use is; ``first_to_give`` is used most then, None: nobody knows.
    losses : tuple of WithoutOne
        What one loss does in the hours she can lie there; empty where it was not asked.
    against : str or None
        What the rules say against it once judged: only of the stay file's own lie.
    candidate : Candidate
        The lie with the berth it is for; of one that is given, where she lies.
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
    first_to_give: str | None
    losses: tuple[WithoutOne, ...]
    tie: int
    unproven: bool
    given: bool
    candidate: Candidate
    against: str | None = None
    unknown_from: datetime | None = None

    @property
    def lie(self) -> Lie:
        """The lie itself."""
        return lie_of(self.stay)

    @property
    def whole(self) -> bool:
        """Whether she can lie there the whole stay."""
        return self.judged.judgement.verdict == "holds"

    @property
    def told_use(self) -> float:
        """The use; NaN where nobody knows it, or where she lies nowhere."""
        return self.use if self.use < LOST else math.nan

    @property
    def not_survived(self) -> tuple[str, ...]:
        """Losses after which more follows: a part parts, the anchor drags, she touches or drifts.

        A line past its limit that does not part is a next use over 1, and told as such.
        """
        return tuple(one.name for one in self.losses if self.follows(one))

    @property
    def not_known(self) -> tuple[str, ...]:
        """Losses after which it is unknown in some hour of some member what follows."""
        return tuple(one.name for one in self.losses if self.unsure(one))

    @property
    def after_loss(self) -> float:
        """The greatest use after any other loss; NaN where there is none or it was not asked."""
        bad = {*self.not_survived, *self.not_known}
        return max((one.next_use for one in self.losses if one.name not in bad), default=math.nan)

    def follows(self, one: WithoutOne) -> bool:
        """Whether more follows a loss: in the worst state, on the way there, or in too many."""
        drags = one.drags or one.share_drags > self.stay.accepted_share
        touches = one.touches is not None or one.share_touches > 0.0
        return one.breaks or one.share_followed > 0.0 or drags or one.adrift or touches

    def unsure(self, one: WithoutOne) -> bool:
        """Whether what follows a loss is unknown somewhere, and nowhere is known to follow."""
        return not self.follows(one) and (not one.found or one.share_unknown > 0.0)

    @property
    def stands_a_loss(self) -> bool:
        """Whether nothing follows any loss but the anchor's; as far as it was asked."""
        return not any(
            self.follows(one) or self.unsure(one) for one in self.losses if one.kind != "anchor"
        )


@dataclass(frozen=True)
class Change:
    """One change to a lie and what she could do then: until when, its use, first to give.

    Judged in full, as the lie itself; ``stay`` : the lie with that change.
    """

    said: str
    until: datetime
    whole: bool
    use: float
    first_to_give: str | None
    stay: Stay


@dataclass(frozen=True)
class Elsewhere:
    """The best lie of a pair of stern ends as it was tried; what speaks against all of them."""

    score: Score
    against: str | None


@dataclass(frozen=True)
class Choice:
    """The lies chosen between, best first, and how they were found.

    Attributes
    ----------
    stay : what was asked, points of unproven shore among its bay's
    finalists : judged in full, best first; may be empty
    others : the best of every pair of stern ends, tried only, coarsely
    dropped : reason and count of what was left out
    tried, hours : lies tried, and members x times of each added up
    then_held : whether any lie tried that no rule speaks against holds from the best one's
        leave by to the end
    helps : single changes to the best one, the most helpful first
    """

    stay: Stay
    finalists: tuple[Finalist, ...]
    others: tuple[Elsewhere, ...]
    dropped: tuple[tuple[str, int], ...]
    tried: int
    hours: int
    then_held: bool
    helps: tuple[Change, ...]
    basis: Basis
