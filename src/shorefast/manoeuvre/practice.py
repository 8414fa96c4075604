"""Practice: she is brought in order by order, tick by tick, and what comes of it is told.

``tick`` takes a moment and what is ordered in it, and gives the next moment and what
happened. The same moment and orders give the same bits; any moment can be gone back to.
"""

from __future__ import annotations

import math
from collections.abc import Sequence as Many
from dataclasses import dataclass, replace

from shorefast.manoeuvre.practice_contact import Space, goes_on, spaces, touching_of, uplift_rad
from shorefast.manoeuvre.practice_crew import chain_mps, steered
from shorefast.manoeuvre.practice_deck import (
    Deck,
    Happening,
    Obeyed,
    ordered_engine,
    ordered_helm,
    stopped,
)
from shorefast.manoeuvre.practice_lines import Telling, hand_on, hauled, lines_on, ordered_line
from shorefast.manoeuvre.practice_orders import TICK_S, Failure, Order
from shorefast.manoeuvre.practice_set import Moment, Practice, aboard_at
from shorefast.mooring import Breeze, Lying, Orders, kept, put_back, stopped_at, uplift_share

# an engine that has stopped can be started again after so long: our choice [s]
ENGINE_BACK_S = 60.0
_RUNS_MPS = 3.0
_STUCK = -0.8
# an anchor that gave way is told from this on, and again after so much more [m]
_DRAGS_M, _AGAIN_M = 0.5, 3.0
_BROUGHT_UP_N, _STILL_MPS = 300.0, 0.1
_AGAIN = ("windlass stalls",)
_ENGINE = ("revs", "neutral", "stop engine", "start engine", "engine stopped")
_LINES = ("take line", "come back", "line to", "hold line", "cast off")


@dataclass(frozen=True)
class Ticked:
    """One tick on: the moment then, how she is, what happened, how much room there is."""

    moment: Moment
    lying: Lying
    happened: tuple[Happening, ...]
    spaces: tuple[Space, ...]


def seen_at(one: Practice, moment: Moment) -> Lying:
    """How she is at a moment."""
    put_back(one.she, moment.she)
    return one.she.lying


def tick(one: Practice, moment: Moment, orders: Many[Order]) -> Ticked:
    """One tick on, from a moment, under what is ordered now and before.

    Parameters
    ----------
    one : Practice
    moment : Moment
        ``one.begins``, or one that a tick gave.
    orders : sequence of Order
        Given now, in this order.
    """
    she = one.she
    put_back(she, moment.she)
    before, t_s = she.lying, moment.t_s
    tell = Telling(t_s, before)
    deck = _failing(one, moment.deck, t_s, before, tell)
    for order in orders:
        deck = _obey(one, deck, order, before, tell)
    deck, given = _given(one, deck, before)
    room = spaces(one.stay, _q(before), one.arrival.level_m)
    wind, blow = wind_at(one, replace(moment, deck=deck))
    _limits(one, deck, before)
    she.on_for(TICK_S, given, Breeze(wind, blow, one.arrival.level_m))
    deck, room = _touched(one, deck, room, tell)
    now = she.lying
    tell.t_s, tell.lying = she.t_s, now
    deck = lines_on(one, deck, now, tell)
    deck = hand_on(one, deck, now, tell)
    deck = _noticed(one, deck, before, given, tell)
    return Ticked(Moment(kept(she), deck), she.lying, tuple(tell.told), room)


def sounded_m(one: Practice, deck: Deck, now: Lying) -> float:
    """What the sounder shows: water under it and its draught, as it fails; NaN unknown. [m]"""
    frozen, wrong = deck.has("sounder frozen"), deck.has("sounder wrong")
    if frozen is not None and frozen.value is not None:
        return frozen.value
    place = one.stay.boat.sounder
    x_m, y_m = (0.0, 0.0) if place is None else (place.x_m, place.y_m)
    east_m, north_m = aboard_at(_q(now), x_m, y_m)
    level_m = float(one.stay.bay.surface.level_at(east_m, north_m))
    off_m = 0.0 if wrong is None or wrong.value is None else wrong.value
    return one.arrival.level_m - level_m + off_m


def wind_at(one: Practice, moment: Moment) -> tuple[float, float]:
    """The wind she feels then: speed at the height of her windage [m/s], where from."""
    squall = moment.deck.has("gust")
    return one.air.at(moment.t_s, math.inf if squall is None else squall.at_s)


def _q(now: Lying) -> tuple[float, float, float]:
    return now.east_m, now.north_m, now.heading_rad


def _failing(one: Practice, deck: Deck, t_s: float, now: Lying, tell: Telling) -> Deck:
    """What is to fail in this tick fails."""
    for failure in one.failures:
        if t_s <= failure.at_s < t_s + TICK_S:
            deck = _fails(one, deck, failure, now, tell)
    return deck


def _fails(one: Practice, deck: Deck, failure: Failure, now: Lying, tell: Telling) -> Deck:
    tell("failure", failure.kind, failure.value)
    if failure.kind == "sounder frozen":
        failure = replace(failure, value=sounded_m(one, deck, now))
    deck = replace(deck, failed=(*deck.failed, failure))
    if failure.kind == "engine stops":
        return stopped(deck)
    if failure.kind in ("line parts", "point gives way"):
        fast = [k for k in range(1, len(one.gear) + 1) if one.she.is_fast(k)]
        line = failure.line or max(fast, key=lambda k: now.tension_n[k], default=0)
        if line in fast:
            one.she.let_go(line)
    return deck


def _obey(one: Practice, deck: Deck, order: Order, now: Lying, tell: Telling) -> Deck:
    if order.do == "fail" and order.failure is not None:
        return _fails(one, deck, replace(order.failure, at_s=tell.t_s), now, tell)
    if order.do in ("say", "end", "fail"):
        return deck
    if order.do in ("start engine", "revs", "helm by crew"):
        deck = _tried_again(deck, tell.t_s)
    obeyed = _obeyed(one, deck, order, now)
    if obeyed.waits_for:
        kind = "engine refused" if order.do in _ENGINE else "refused"
        tell(kind, order.do, order.value, waits_for=obeyed.waits_for)
    return obeyed.deck


def _tried_again(deck: Deck, t_s: float) -> Deck:
    """An engine that stopped runs again once it has stood a while."""
    stopped_engine = deck.has("engine stops")
    if stopped_engine is None or t_s < stopped_engine.at_s + ENGINE_BACK_S:
        return deck
    return replace(deck, failed=tuple(one for one in deck.failed if one is not stopped_engine))


def _obeyed(one: Practice, deck: Deck, order: Order, now: Lying) -> Obeyed:
    if order.do in _ENGINE or order.do == "helm by crew":
        return ordered_engine(deck, order, now.revs)
    if order.do in _LINES:
        return ordered_line(one, deck, order, now)
    if order.do in ("helm", "thruster") and deck.helm_by_crew:
        # taken over as it stands
        deck = replace(deck, helm_rad=now.helm_rad, revs=now.revs, helm_by_crew=False)
    if order.do == "let go":
        return ordered_helm(deck, replace(order, value=one.way.bottom_m))
    return ordered_helm(deck, order)


def _given(one: Practice, deck: Deck, now: Lying) -> tuple[Deck, Orders]:
    """What reaches helm, shaft and windlass of what was ordered."""
    helm, revs, push = deck.helm_rad, deck.revs, deck.push
    if deck.helm_by_crew and deck.sequence.engine == "in gear":
        deck, orders = steered(one, deck, now)
        helm, revs, push = orders.helm_rad, orders.revs, orders.push
    if deck.has("throttle sticks astern") and deck.sequence.engine != "stopped":
        revs = _STUCK
    if deck.sequence.engine != "in gear" and not deck.has("throttle sticks astern"):
        revs = 0.0
    if deck.has("thruster dead"):
        push = 0.0
    return deck, Orders(helm, revs, push, _veered(one, deck, now), hauled(one, deck, now))


def _veered(one: Practice, deck: Deck, now: Lying) -> float:
    if deck.has("chain runs"):
        return _RUNS_MPS
    return 0.0 if deck.has("windlass jams") else chain_mps(one, deck, now)


def _limits(one: Practice, deck: Deck, now: Lying) -> None:
    """What windlass and anchor can do now."""
    she = one.she
    veer, heave = one.windlass_mps
    she.windlass_mps = (_RUNS_MPS if deck.has("chain runs") else veer, heave)
    drags = deck.has("anchor drags")
    holding_n = one.holding_n if drags is None or drags.value is None else drags.value
    lifted_rad = uplift_rad(one.stay, now, one.arrival.roller(_q(now)))
    she.holding_n = holding_n * float(uplift_share(lifted_rad))


def _touched(
    one: Practice, deck: Deck, room: tuple[Space, ...], tell: Telling
) -> tuple[Deck, tuple[Space, ...]]:
    """Where she touches she stays where she was, without way."""
    she, before = one.she, _q(tell.lying)
    there = spaces(one.stay, _q(she.lying), one.arrival.level_m)
    if goes_on(room, there):
        return replace(deck, aground=()), there
    touched = touching_of(there)
    for space in touched:
        if space.of not in deck.aground:
            place = (space.east_m, space.north_m)
            at = place if math.isfinite(sum(place)) else (she.lying.east_m, she.lying.north_m)
            tell("touches", space.of, space.room_m, at)
    stopped_at(she, before)
    return replace(deck, aground=tuple(space.of for space in touched)), room


def _noticed(one: Practice, deck: Deck, before: Lying, given: Orders, tell: Telling) -> Deck:
    """What a hand at the bow and one aft would call out."""
    now = tell.lying
    if before.anchor == "stowed" and now.anchor == "hangs":
        tell("anchor let go", at=now.anchor_m)
    if before.anchor != "lies" and now.anchor == "lies":
        tell("anchor down", value=now.chain_m, at=now.anchor_m)
    if before.anchor == "lies" and now.anchor != "lies":
        tell("anchor up", at=now.anchor_m)
    if now.moved_m - deck.moved_told_m > (_DRAGS_M if deck.moved_told_m == 0.0 else _AGAIN_M):
        tell("anchor drags", value=now.moved_m, at=now.anchor_m)
        deck = replace(deck, moved_told_m=now.moved_m)
    lies = now.anchor == "lies"
    hard_n = min(before.pull_n, now.pull_n)
    stalls = given.veer_mps < 0.0 and lies and now.tension_n[0] > one.she.windlass_n
    so = {
        "brought up": lies and hard_n > _BROUGHT_UP_N and abs(now.ahead_mps) < _STILL_MPS,
        "all chain lifted": lies and hard_n > _BROUGHT_UP_N and now.lying_m <= 0.0,
        "bitter end": now.chain_m >= one.she.aboard_m - 0.01,
        "windlass stalls": stalls,
    }
    for kind, is_so in so.items():
        if is_so and kind not in deck.told:
            tell(kind, value=now.tension_n[0])
    told = deck.told | {kind for kind, is_so in so.items() if is_so}
    # what may come again is told again
    return replace(deck, told=told - {kind for kind in _AGAIN if not so[kind]})
