"""What a practice came to, against the plan."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from shorefast.basis import Basis
from shorefast.manoeuvre.calls import Call, the_calls
from shorefast.manoeuvre.practice_contact import Space
from shorefast.manoeuvre.practice_deck import Happening
from shorefast.manoeuvre.practice_orders import TICK_S, Failure, Order, Timed
from shorefast.manoeuvre.practice_rules import HELD_M, Broken, rules_broken
from shorefast.manoeuvre.practice_run import Practised, Seen, least_named
from shorefast.manoeuvre.way_in import WayIn

# the mean of so much at the end is where she lies; what moves in it still does [s]
_TAIL_S = 30.0
# the calls that have a place on the way in
ON_THE_WAY = ("let go", "bottom", "veer", "snub", "hold")
# what is done first where something fails: our choice, by common practice
FIRST = {
    "engine stops": ("hold chain", "let go"),
    "throttle sticks astern": ("stop engine",),
    "thruster dead": ("revs", "helm", "helm by crew"),
    "windlass jams": ("revs", "neutral", "stop engine"),
    "chain runs": ("hold chain",),
    "anchor drags": ("revs", "start engine"),
    "line parts": ("revs", "start engine"),
    "point gives way": ("revs", "start engine"),
    "gust": ("revs", "helm", "thruster"),
    "swimmer in difficulty": ("stop engine", "come back"),
    "sounder frozen": ("revs", "neutral", "hold chain", "say"),
    "sounder wrong": ("revs", "neutral", "hold chain", "say"),
}


@dataclass(frozen=True)
class CallDone:
    """One call, as planned and as done; what was never done is NaN.

    kind : one of ON_THE_WAY
    made_good_m : of the roller from over the anchor's place, at which it is due [m]
    chain_m, off_m, t_s : chain out, stern to the high-water line, seconds since letting go,
        as planned; ``done_...`` the same as done
    """

    kind: str
    made_good_m: float
    chain_m: float
    off_m: float
    t_s: float
    done_chain_m: float
    done_off_m: float
    done_t_s: float


@dataclass(frozen=True)
class Answered:
    """A failure, what was ordered first after it, and when.

    order : None where nothing was; right : whether it is what should be done first
    """

    failure: Failure
    order: Order | None
    after_s: float
    right: bool


@dataclass(frozen=True)
class Load:
    """The greatest pull on a part [N], and when. [s]"""

    of: str
    pull_n: float
    t_s: float


@dataclass(frozen=True)
class GaveWay:
    """How the anchor gave way: no rule is broken by that, but it is not proved.

    moved_m : in all [m]; t_s, until_s : when first and last [s]; pull_n : the most on the
    chain as it moved [N]; still : whether it did in the last
    half minute
    """

    moved_m: float
    t_s: float
    until_s: float
    pull_n: float
    still: bool


@dataclass(frozen=True)
class Debrief:
    """What a practice came to.

    Attributes
    ----------
    lasted_s : float
    can_be_held : bool
        Whether she can be held on her way in the mean wind practised in.
    calls : tuple of CallDone
    anchor_m : (east, north) or None
        Where the anchor lies; None where it does not. [m]
    in_patch : bool or None
        Whether it lies in the patch from which the lie still is sound; None: not asked, or
        no anchor.
    anchor_off_m, anchor_along_m, anchor_across_m : float
        From its planned place, and of that seaward to shoreward, and to the right going in. [m]
    lies : (east, north, heading)
        Where she lies at the end, the mean of the last half minute.
    off_plan_m, off_plan_rad : float
        From where the plan has her.
    lines_fast : int
    least : (t_s, Space) or None
        The least room of all, and when.
    rooms : tuple of (t_s, Space)
        The least of every part.
    loads : tuple of Load
    broken : tuple of Broken
        Rules broken.
    answered : tuple of Answered
    gave_way : GaveWay or None
        None where the anchor moved by less than is told as it happens.
    """

    lasted_s: float
    can_be_held: bool
    calls: tuple[CallDone, ...]
    anchor_m: tuple[float, float] | None
    in_patch: bool | None
    anchor_off_m: float
    anchor_along_m: float
    anchor_across_m: float
    lies: tuple[float, float, float]
    off_plan_m: float
    off_plan_rad: float
    lines_fast: int
    least: tuple[float, Space] | None
    rooms: tuple[tuple[float, Space], ...]
    loads: tuple[Load, ...]
    broken: tuple[Broken, ...]
    answered: tuple[Answered, ...]
    gave_way: GaveWay | None
    basis: Basis


def debrief(done: Practised, patch: BaseGeometry | None = None) -> Debrief:
    """What a practice came to, against the plan it was made for.

    Parameters
    ----------
    done : Practised
    patch : shape, optional
        From where in the bay's plane the lie still is sound (``stay.where_to_let_go``).
    """
    one = done.practice
    last, arrival = done.rows[-1], one.arrival
    lies = _lies(done.rows)
    anchor = (last.anchor_east_m, last.anchor_north_m) if last.anchor == "lies" else None
    along_m, across_m = _from_place(one.way, anchor)
    planned = arrival.planned
    return Debrief(
        last.t_s, one.way.held is not None, _calls(done), anchor, _in_patch(anchor, patch),
        math.hypot(along_m, across_m), along_m, across_m, lies,
        math.dist(lies[:2], planned[:2]), math.remainder(lies[2] - planned[2], 2.0 * math.pi),
        sum(last.fast), least_named(done), done.least, _loads(done),
        rules_broken(done), _answered(done), _gave_way(done), one.basis,
    )  # fmt: skip


def _lies(rows: tuple[Seen, ...]) -> tuple[float, float, float]:
    tail = rows[-max(1, round(_TAIL_S / TICK_S)) :]
    turn = np.array([row.heading_rad for row in tail])
    heading = math.atan2(float(np.sin(turn).mean()), float(np.cos(turn).mean()))
    east = float(np.mean([row.east_m for row in tail]))
    north = float(np.mean([row.north_m for row in tail]))
    return east, north, heading % (2.0 * math.pi)


def _in_patch(anchor: tuple[float, float] | None, patch: BaseGeometry | None) -> bool | None:
    if anchor is None or patch is None:
        return None
    return bool(shapely.contains_xy(patch, *anchor))


def _from_place(way: WayIn, anchor: tuple[float, float] | None) -> tuple[float, float]:
    """How far the anchor lies from its place along the way in and to its right. [m]"""
    if anchor is None:
        return math.nan, math.nan
    de, dn = anchor[0] - way.arrival.anchor[0], anchor[1] - way.arrival.anchor[1]
    sine, cosine = math.sin(way.arrival.way_in_rad), math.cos(way.arrival.way_in_rad)
    return de * sine + dn * cosine, de * cosine - dn * sine


def _calls(done: Practised) -> tuple[CallDone, ...]:
    way = done.practice.way
    let_go = next((row for row in done.rows if row.anchor != "stowed"), None)
    begun_s = math.nan if let_go is None else let_go.t_s
    return tuple(_call(done, one, begun_s) for one in the_calls(way) if one.kind in ON_THE_WAY)


def _call(done: Practised, call: Call, begun_s: float) -> CallDone:
    seen = _seen(done.rows, call.kind, call.made_good_m)
    return CallDone(
        call.kind, call.made_good_m, call.chain_m, call.off_m, call.t_s,
        math.nan if seen is None else seen.chain_m,
        math.nan if seen is None else seen.off_m,
        math.nan if seen is None else seen.t_s - begun_s,
    )  # fmt: skip


def _seen(rows: tuple[Seen, ...], kind: str, made_m: float) -> Seen | None:
    if kind == "let go":
        return next((row for row in rows if row.anchor != "stowed"), None)
    if kind == "bottom":
        return next((row for row in rows if row.anchor == "lies"), None)
    # she eases off before the hold: near it is there
    near_m = made_m - (HELD_M if kind == "hold" else 0.0)
    out = (row for row in rows if row.anchor != "stowed" and row.along_m >= near_m)
    return next(out, None)


def _loads(done: Practised) -> tuple[Load, ...]:
    names = ("chain", *(gear.leg.name for gear in done.practice.gear))
    loads = []
    for number, name in enumerate(names):
        most = max(done.rows, key=lambda row: row.tension_n[number])
        if most.tension_n[number] > 0.0:
            loads.append(Load(name, most.tension_n[number], most.t_s))
    return tuple(loads)


def _gave_way(done: Practised) -> GaveWay | None:
    if not any(one.kind == "anchor drags" for one in done.happened):
        return None
    moved = [now for before, now in pairwise(done.rows) if now.moved_m > before.moved_m]
    most_n = max(row.tension_n[0] for row in moved)
    first_s, last_s = moved[0].t_s, moved[-1].t_s
    still = last_s > done.rows[-1].t_s - _TAIL_S
    return GaveWay(done.rows[-1].moved_m, first_s, last_s, most_n, still)


def _answered(done: Practised) -> tuple[Answered, ...]:
    failed = {(one.kind, one.at_s): one for one in done.moments[-1].deck.failed}
    told = [one for one in done.happened if one.kind == "failure"]
    found = []
    for one in told:
        failure = failed.get((one.of, one.t_s)) or _told(done, one.of, one.t_s)
        later = (timed for timed in done.orders if _answers(timed, one))
        after = next(later, None)
        if after is None:
            found.append(Answered(failure, None, math.nan, False))
            continue
        right = after.order.do in FIRST[failure.kind]
        found.append(Answered(failure, after.order, after.at_s - one.t_s, right))
    return tuple(found)


def _told(done: Practised, kind: str, t_s: float) -> Failure:
    near = [one for one in done.practice.failures if one.kind == kind]
    return min(near, key=lambda one: abs(one.at_s - t_s), default=Failure(kind, t_s))


def _answers(timed: Timed, failed: Happening) -> bool:
    """Whether an order comes after a failure; a word counts where one is wanted."""
    do = timed.order.do
    counts = do in FIRST[failed.of] if do == "say" else do not in ("fail", "end")
    return counts and timed.at_s > failed.t_s
