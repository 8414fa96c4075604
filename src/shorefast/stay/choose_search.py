"""The search for lies: many coarsely, lines added one by one, the best ones improved."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Finding
from shorefast.mooring import LEFT, Rests, chosen_fractile
from shorefast.stay.choose_lies import Candidate, unproven
from shorefast.stay.choose_lying import amiss
from shorefast.stay.choose_rules import Rules
from shorefast.stay.judge import STEP_S
from shorefast.stay.over_zones import over_zones
from shorefast.stay.parts import Ground
from shorefast.stay.plan import Stay
from shorefast.stay.tried import COARSE, Fineness, Tried, Trier
from shorefast.stay.verdict import until_of, utc_of

Floats = NDArray[np.float64]
Progress = Callable[[int, int], None]
THREADS = 2
_TIMES = 24
_LEAST_MEMBERS, _MOST_MEMBERS, _STATES = 6, 12, 240
_TAKES = 0.75
LOST = 99.0
"""A use as good as infinite: she lies nowhere, or nobody knows where."""


@dataclass(frozen=True)
class Score:
    """How a candidate did: until when she can lie, and the use up to then.

    Attributes
    ----------
    whole : whether she can lie the whole stay
    until : leave by, the stay's end where ``whole``, its beginning where at no hour; where
        it is unknown whether she can lie on, as where a limit is passed
    unknown : whether that is what ends it
    use : greatest use up to then that more than the accepted share of members reach;
        where she cannot lie at all, of all hours that are known
    overall : the same of the whole stay; at : when ``use`` is
    first : what is used most then; None: nobody knows
    proof_holds : whether the anchor can be expected to take its proof at all
    by_time, time_utc : arrays (time,), the use that more than the accepted share reach
    """

    candidate: Candidate
    whole: bool
    until: datetime
    unknown: bool
    use: float
    overall: float
    at: datetime
    first: str | None
    unproven: bool
    proof_holds: bool
    by_time: Floats
    time_utc: NDArray[np.datetime64]
    rests: Rests = field(compare=False, repr=False)

    @property
    def told_use(self) -> float:
        """The use; NaN where nobody knows it, or where she lies nowhere."""
        return self.use if self.use < LOST else math.nan

    @property
    def order(self) -> tuple[float, ...]:
        """Sorts the best first: the longest, then on known points, then the least use."""
        held = (float(not self.proof_holds), -self.until.timestamp(), float(self.unproven))
        return (*held, self.use, self.overall)


def hour_use(member: NDArray[np.int64], greatest: Floats, accepted: float) -> Floats:
    """Use by time that more than the accepted share of members reach, (time,).

    Over 1 exactly where the share of members past a limit is more than accepted; where
    a use is unknown it counts as lost.

    Parameters
    ----------
    greatest : array (member, time)
        Greatest use.
    """
    use = np.where(np.isfinite(greatest), np.minimum(greatest, LOST), LOST)
    worst = np.array([use[member == number].max(axis=0) for number in np.unique(member)])
    spared = math.floor(accepted * worst.shape[0] + 1e-9)
    return np.asarray(np.sort(worst, axis=0)[worst.shape[0] - 1 - spared])


def deciding(member: NDArray[np.int64], greatest: Floats, accepted: float, time: int) -> int:
    """The entry whose use ``hour_use`` tells at a time: a member past it may ask for more."""
    use = float(hour_use(member, greatest[:, time : time + 1], accepted)[0])
    known = np.where(np.isfinite(greatest[:, time]), np.minimum(greatest[:, time], LOST), LOST)
    return int(np.argmax(known == use))


def counted(
    stay: Stay, times: NDArray[np.datetime64], share: Floats, until: datetime
) -> NDArray[np.bool_]:
    """Times whose use counts, (time,): those she can lie there; where none, all that are known.

    Else lies that fail before a forecast ends would all be as bad as each other.

    Parameters
    ----------
    share : array (time,)
        Share of members past a limit; NaN unknown.
    """
    if until > stay.from_utc:
        return np.array([utc_of(t) <= until for t in times])
    known = np.isfinite(share)
    return known if known.any() else np.ones(times.size, bool)


def used_most(names: Sequence[str], column: Floats) -> str | None:
    """What is used most in one state; None where that is unknown."""
    most = float(np.nan_to_num(column, nan=-1.0).max(initial=-1.0))
    if most < 0.0 or (np.isnan(column).any() and most <= 1.0):
        return None
    return names[int(np.nanargmax(column))]


@dataclass
class Hunt:
    """Trying candidates by the batch, with a count of all that was tried and dropped.

    Attributes
    ----------
    stay : Stay
        Unproven shore among its bay's points.
    tried : candidates tried; hours : times members of each, added up
    dropped : candidates by the reason they were dropped with
    """

    stay: Stay
    rules: Rules
    tried: int = 0
    hours: int = 0
    dropped: Counter[str] = field(default_factory=Counter)
    triers: dict[Fineness, Trier] = field(default_factory=dict)

    @property
    def coarse(self) -> Fineness:
        """How finely most are tried: every hour, of a long stay some twenty times."""
        seconds = (self.stay.until_utc - self.stay.from_utc).total_seconds()
        every = max(COARSE.every, math.ceil(seconds / STEP_S / _TIMES))
        times = 2 + int(seconds / STEP_S / every)
        members = max(_LEAST_MEMBERS, min(_MOST_MEMBERS, _STATES // times))
        return COARSE._replace(every=every, members=members)

    @property
    def whole(self) -> Fineness:
        """Every member, at the times of the coarse pass."""
        return self.coarse._replace(members=None)

    def trier(self, fineness: Fineness) -> Trier:
        """The trier of a fineness, made once."""
        if fineness not in self.triers:
            self.triers[fineness] = Trier(self.stay, fineness)
        return self.triers[fineness]

    def kept(self, candidates: Iterable[Candidate | None], why_none: str) -> list[Candidate]:
        """Candidates that no rule speaks against; the others are counted."""
        kept = []
        for one in candidates:
            why = why_none if one is None else self.rules.of(one)
            if one is not None and why is None:
                kept.append(one)
            else:
                self.dropped[str(why)] += 1
        return kept

    def scored(
        self, candidates: Sequence[Candidate], fineness: Fineness, gone: tuple[str, ...] = ()
    ) -> list[Score]:
        """Scores in the order of the candidates; the same with one thread or two."""
        trier = self.trier(fineness)
        self.tried += len(candidates)
        self.hours += len(candidates) * trier.wind.gust_mps.size
        if len(candidates) < 2:
            return [self._one(trier, one, gone) for one in candidates]
        with ThreadPoolExecutor(THREADS) as pool:
            return list(pool.map(lambda one: self._one(trier, one, gone), candidates))

    def _one(self, trier: Trier, one: Candidate, gone: tuple[str, ...]) -> Score:
        return score_of(self.stay, one, trier.tried(one.lie, one.proof, gone))

    def is_clear(self, one: Score) -> bool:
        """Whether nothing lies over a zone at the rests themselves; counted where it does."""
        why = self.speaks_against(one)
        if why is not None:
            self.dropped[why] += 1
        return why is None

    def speaks_against(self, one: Score) -> str | None:
        """As ``against``, and that its proof would more likely drag the anchor."""
        if not one.proof_holds:
            return "the chain would stand so steep that the proof would more likely drag the anchor"
        return self.against(one)

    def against(self, one: Score) -> str | None:
        """What speaks against a lie at the rests themselves; None: nothing does."""
        lie, q = one.candidate.lie, one.rests.q
        return self.over_zone(one) or amiss(self.stay, lie, q) or self.rules.of_lying(lie, q)

    def over_zone(self, one: Score) -> str | None:
        """What lies over a zone, or nearer than a metre to it, at the rests; None: nothing.

        So near, since coarse rests and chains lie some decimetres off (our choice).
        """
        if not self.rules.zones:
            return None
        bay = replace(self.stay.bay, zones=self.rules.beside)
        stay = replace(self.stay, bay=bay, lie=one.candidate.lie)
        said = (over_words(found) for found in over_zones(stay, one.time_utc, one.rests))
        return next((words for words in said if words is not None), None)


def over_words(finding: Finding) -> str | None:
    """What a finding about a zone says against a lie, without its metres; None: nothing."""
    if " zone '" not in finding.said or finding.said.startswith("come within"):
        return None
    zone = finding.said.partition("zone '")[2].partition("'")[0]
    if finding.where == "Anchor":
        return f"the anchor would be let go in the zone '{zone}'"
    if finding.said.startswith("stands in"):
        return f"a point stands in the zone '{zone}'"
    if finding.where == "Chain":
        return f"some of the chain would lie on the bed in the zone '{zone}'"
    if finding.where == "Hull and keel":
        return f"she would swing over the zone '{zone}'"
    return f"a line would lead over the zone '{zone}' as she swings"


def score_of(stay: Stay, one: Candidate, tried: Tried) -> Score:
    """The score of a candidate tried."""
    drifts = tried.rests.code == LEFT
    greatest = np.where(drifts, np.nan, tried.greatest)
    use = hour_use(tried.member, greatest, stay.accepted_share)
    times = tried.time_utc
    found = tried.found
    whole = found.verdict == "holds"
    until = until_of(stay, found)
    some = counted(stay, times, tried.share, until)
    t = int(np.argmax(np.where(some, use, -1.0)))
    entry = deciding(tried.member, greatest, stay.accepted_share, t)
    return Score(
        candidate=one,
        whole=whole,
        until=until,
        unknown=found.verdict == "unknown",
        use=float(use[t]),
        overall=float(use.max()),
        at=utc_of(times[t]),
        first=used_most(tried.names, tried.use[:, entry, t]),
        unproven=unproven(stay, one.lie),
        proof_holds=proof_holds(tried.ground),
        by_time=use,
        time_utc=times,
        rests=tried.rests,
    )


def proof_holds(ground: Ground) -> bool:
    """Whether at least one in four such anchors takes the proof at its own uplift.

    A proof that drags the anchor proves nothing: no lie is built on it (our choice).
    """
    proven = ground.proven
    if proven is None or not ground.prior.rated:
        return True
    taken_n = chosen_fractile(ground.prior, _TAKES, proven.uplift_rad, ground.slope_rad)
    return bool(taken_n >= proven.pull_n)
