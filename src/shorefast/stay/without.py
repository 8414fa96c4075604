"""If one goes: the same lie without one line, point, cleat or the anchor, in every hour."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import FOUND, Path
from shorefast.stay.judge import Judged
from shorefast.stay.plan import Stay
from shorefast.stay.sea import sea_down_m
from shorefast.stay.without_answer import WithoutOne
from shorefast.stay.without_double import WORST_OF_EACH, Doubling, which_to_double
from shorefast.stay.without_drift import Way, swing_of, ways
from shorefast.stay.without_next import Next, States, Waters, moved_m, next_rests, turned_rad
from shorefast.stay.without_soonest import soonest
from shorefast.stay.without_things import (
    Parting,
    Thing,
    partings_of,
    pulls_of,
    things_of,
    unrated,
)
from shorefast.stay.without_weighed import Weighed, weigh_next

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Progress = Callable[[int, int], None]
_FOLLOWED_IN_TIME = 3


@dataclass(frozen=True)
class Asked:
    """A judged stay asked what happens with lines gone: all that stays the same then."""

    stay: Stay
    judged: Judged
    states: States
    waters: Waters
    partings: tuple[Parting, ...]

    @property
    def shape(self) -> tuple[int, int]:
        """(member, time)."""
        members, times = self.judged.judgement.gust_mps.shape
        return members, times

    def numbers(self, at: Ints) -> Ints:
        """Numbers of the states of every member at some of the judged times, by member."""
        members, times = self.shape
        return np.asarray((np.arange(members)[:, None] * times + np.asarray(at)[None, :]).ravel())


def question_of(stay: Stay, judged: Judged) -> Asked:
    """The stay's states as she lay in them, its tables and what would part what."""
    answer, rest = judged.judgement, judged.judgement.rest
    shape = answer.gust_mps.shape
    level_m = np.broadcast_to(answer.water_level_m, shape)
    columns = (level_m, answer.gust_mps * judged.rigged.height_share, answer.wind_from_rad)
    q = np.stack([rest.east_m, rest.north_m, rest.heading_rad], axis=-1).reshape(-1, 3)
    down_m = np.broadcast_to(sea_down_m(stay, answer.sea), shape).ravel()
    states = States(Path(*(np.ravel(np.broadcast_to(one, shape)) for one in columns)), q, down_m)
    waters = Waters(judged.rigged, judged.ready, judged.extra, answer.water_level_m)
    return Asked(stay, judged, states, waters, partings_of(stay, judged.rigged))


@dataclass(frozen=True)
class Losses:
    """Every loss, and which line to double; None where no loss could be worked out."""

    without: tuple[WithoutOne, ...]
    double: Doubling | None


def losses(stay: Stay, judged: Judged, progress: Progress | None = None) -> Losses:
    """``if_one_goes``, and which line to double by it (``which_to_double``)."""
    found, asked = _all_losses(stay, judged, progress)
    if asked is None or not judged.rigged.legs:
        return Losses(tuple(one.said for one in found), None)
    worst = np.concatenate([one.worst for one in found])
    double = which_to_double(stay, judged, asked.states, worst)
    return Losses(tuple(one.said for one in found), double)


def if_one_goes(
    stay: Stay, judged: Judged, progress: Progress | None = None
) -> tuple[WithoutOne, ...]:
    """Every line, leg, point, cleat and the anchor taken away in turn, in every state.

    Each state by itself: she lies as judged, one thing goes, and she comes to her next
    rest from there; what then carries more than parts it goes too, to the end. The worst
    state of each loss, and those in which she touches soonest, are followed in time: with
    all that parts gone from the first moment.

    Parameters
    ----------
    stay, judged :
        The stay and its judgement.
    progress : callable, optional
        Called with what is done and how much there is.

    Returns
    -------
    tuple of WithoutOne
        One for each set of lines that go together, the anchor last; none where no
        water level or wind is known. An anchor that drags is told and still pulls.

    Source
    ------
    fossen-2021, ch. 6 and ch. 8 (the drift).
    """
    return tuple(one.said for one in _all_losses(stay, judged, progress)[0])


class _Loss(NamedTuple):
    """What is said of one loss, and its worst states."""

    said: WithoutOne
    worst: Ints


def _all_losses(
    stay: Stay, judged: Judged, progress: Progress | None
) -> tuple[list[_Loss], Asked | None]:
    answer = judged.judgement
    known = np.isfinite(answer.water_level_m).any() and np.isfinite(answer.gust_mps).any()
    if not known:
        return [], None
    asked, things, found = question_of(stay, judged), things_of(judged.rigged), []
    for done, thing in enumerate(things):
        if progress is not None:
            progress(done, len(things))
        found.append(_loss(asked, thing))
    return found, asked


def _loss(asked: Asked, thing: Thing) -> _Loss:
    found = next_rests(asked.waters, asked.states, thing.lines, asked.partings)
    weighed = weigh_next(asked.stay, asked.judged, asked.states, found)
    worst = int(np.argmax(weighed.badness))
    sifted = soonest(asked.stay, asked.waters, asked.states, found.active, weighed)
    picked = np.concatenate([[worst], sifted[sifted != worst][:_FOLLOWED_IN_TIME]])
    way = ways(asked.stay, asked.waters, asked.states.some(picked), found.active[picked])
    said = _told(asked, thing, found, weighed, _InTime(picked, way, sifted))
    return _Loss(said, np.argsort(-weighed.badness, kind="stable")[:WORST_OF_EACH])


@dataclass(frozen=True)
class _InTime:
    """States followed in time, the worst first, and how they went.

    touched : states found to touch when they were sifted
    """

    picked: Ints
    way: Way
    touched: Ints

    @property
    def soonest(self) -> int:
        """Which of those followed touches first; -1 for none."""
        seconds = self.way.seconds
        return int(np.nanargmin(seconds)) if np.isfinite(seconds).any() else -1


def _told(
    asked: Asked, thing: Thing, found: Next, weighed: Weighed, in_time: _InTime
) -> WithoutOne:
    """Everything said of one loss."""
    worst, states, soon = int(in_time.picked[0]), asked.states, in_time.soonest
    q, lain = found.last.q[worst], states.q[worst]
    order = [asked.partings[k].name for k in found.order[worst] if k >= 0]
    swing = swing_of(asked.partings, in_time.way.peak_n[0])
    column = np.nan_to_num(weighed.use[:, worst], nan=-1.0)
    known = bool(column.max() >= 0.0)
    broken = found.of_breaking[worst] > 0.0
    member = asked.judged.judgement.member
    shape = asked.shape
    touch = weighed.touch | weighed.adrift
    touch[in_time.touched] = True
    touch[in_time.picked[np.isfinite(in_time.way.seconds)]] = True
    return WithoutOne(
        name=thing.name, found=bool(found.last.code[worst] == FOUND),
        east_m=float(q[0]), north_m=float(q[1]),
        heading_rad=float(np.mod(q[2], 2.0 * math.pi)), moved_m=float(moved_m(q, lain)),
        next_part=weighed.names[int(np.argmax(column))] if known else None,
        next_use=float(column.max()) if known else math.nan, breaks=bool(order),
        least_room_m=weighed.least_room_m,
        holds_to_mps=_holds_to(asked.judged.judgement.gust_mps, weighed.past.reshape(shape)),
        kind=thing.kind, also=thing.also, at_utc=asked.judged.moment(worst % shape[1]),
        turned_rad=float(turned_rad(q, lain)), follows=tuple(order),
        drags=bool(weighed.drags[worst]),
        share_followed=_share(member, (found.followed > 0).reshape(shape)),
        share_touches=_share(member, touch.reshape(shape)),
        share_unknown=_share(member, weighed.unknown.reshape(shape)),
        touches=weighed.touches_what(worst) if soon < 0 else in_time.way.of[soon],
        seconds_to_contact=math.nan if soon < 0 else float(in_time.way.seconds[soon]),
        contact_utc=None
        if soon < 0
        else asked.judged.moment(int(in_time.picked[soon]) % shape[1]),
        swing_part=swing.part, swing_of_breaking=swing.of_breaking,
        of_breaking=float(found.of_breaking[worst]), adrift=bool(weighed.adrift[worst]),
        breaking_part=asked.partings[found.breaking[worst]].name if broken else None,
        unrated=unrated(asked.partings, pulls_of(found.last.line[worst])),
        share_drags=_share(member, weighed.drags.reshape(shape)),
    )  # fmt: skip


def _share(member: Ints, some: NDArray[np.bool_]) -> float:
    """Share of members with any such hour; entries of one member are gusts of its hours."""
    any_hour = np.asarray(some.any(axis=1))
    return float(np.mean([any_hour[member == number].any() for number in np.unique(member)]))


def _holds_to(gust_mps: Floats, over: NDArray[np.bool_]) -> float | None:
    """Strongest gust of the stay below every gust that puts something past its limit.

    What is not known to hold counts as past; None where no gust is below.
    """
    past = gust_mps[over & np.isfinite(gust_mps)]
    if past.size == 0:
        return float(np.nanmax(gust_mps))
    below = gust_mps[(gust_mps < past.min()) & np.isfinite(gust_mps)]
    return float(below.max()) if below.size else None
