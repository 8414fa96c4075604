"""The hand with the line, and the lines, tick by tick while practising."""

from __future__ import annotations

import math
from dataclasses import replace

from shorefast.manoeuvre.carried import MAKE_FAST_S, ROWER, SWIMMER, Carrier, carry_s
from shorefast.manoeuvre.practice_deck import STANDS, Deck, Hand, Happening, Obeyed, stopped
from shorefast.manoeuvre.practice_orders import TICK_S, Order
from shorefast.manoeuvre.practice_set import Gear, Practice, aboard_at
from shorefast.manoeuvre.sequence import step
from shorefast.mooring import Handled, Lying

# a line made fast lies this much slack; hauled by hand, on a winch, and by whom in trouble
SLACK_M, HAND_MPS, WINCH_MPS, HAND_N, HAULED_MPS = 1.0, 0.4, 0.1, 250.0, 0.4
_AT_M, _NEAR_ENOUGH_M = 1.0, 0.02
# longer than a shaft at full revs takes to stand [s]
_STANDS_S = 3.0


class Telling:
    """Collects happenings of one tick, each with time and place."""

    def __init__(self, t_s: float, now: Lying) -> None:
        self.t_s, self.lying, self.told = t_s, now, list[Happening]()

    def __call__(
        self,
        kind: str,
        of: str = "",
        value: float | None = None,
        at: tuple[float, float] | None = None,
        waits_for: tuple[str, ...] = (),
    ) -> None:
        """Tell one; where nobody says where, it is midships."""
        east, north = at or (self.lying.east_m, self.lying.north_m)
        self.told.append(Happening(self.t_s, kind, of, east, north, value, waits_for))


def ladder_at(one: Practice, now: Lying) -> tuple[float, float]:
    """Her stern's middle, where the ladder is. [m]"""
    return one.arrival.stern((now.east_m, now.north_m, now.heading_rad))


def ordered_line(one: Practice, deck: Deck, order: Order, now: Lying) -> Obeyed:
    """An order about a line, or to the hand who carries it."""
    if order.do != "come back" and not 1 <= order.line <= len(one.gear):
        return Obeyed(deck, ("a line of that number",))
    if order.do == "take line":
        return _taken(one, deck, order.line, now)
    if order.do == "come back":
        return _called_back(one, deck, now)
    to = list(deck.line_to_m)
    if order.do == "hold line":
        to[order.line - 1] = None
        return Obeyed(replace(deck, line_to_m=tuple(to)))
    if not one.she.is_fast(order.line):
        return Obeyed(deck, ("line made fast ashore",))
    if order.do == "cast off":
        one.she.let_go(order.line)
        to[order.line - 1] = None
        return Obeyed(replace(deck, line_to_m=tuple(to)))
    if order.value is not None and order.value > one.gear[order.line - 1].most_m:
        return Obeyed(deck, ("so much of it is aboard",))
    sequence = deck.sequence
    if sequence.line == "slack ashore":
        sequence = step(sequence, "take in the slack").state
    to[order.line - 1] = order.value
    return Obeyed(replace(deck, line_to_m=tuple(to), sequence=sequence))


def _taken(one: Practice, deck: Deck, line: int, now: Lying) -> Obeyed:
    if one.carrier is None:
        return Obeyed(deck, (f"somebody to carry it: {one.why_carrier}",))
    if one.she.is_fast(line):
        return Obeyed(deck, ("a line still aboard",))
    state, waits_for = step(deck.sequence, "take the line off")
    if waits_for:
        return Obeyed(deck, waits_for)
    return Obeyed(replace(deck, sequence=state, hand=Hand(line, *ladder_at(one, now))))


def _called_back(one: Practice, deck: Deck, now: Lying) -> Obeyed:
    if deck.hand is None:
        return Obeyed(deck, ("hand off the boat",))
    state = deck.sequence
    if state.hand == "ashore":
        state, waits_for = step(state, "leave the shore")
        apart_m = math.dist((deck.hand.east_m, deck.hand.north_m), ladder_at(one, now))
        if not waits_for and apart_m <= _length_m(one) + _way_m(one, now):
            # the shore is within a length: at once near the stern
            state, waits_for = step(state, "come within a length")
        if waits_for:
            return Obeyed(deck, waits_for)
    return Obeyed(replace(deck, sequence=state, hand=replace(deck.hand, back=True)))


def hand_on(one: Practice, deck: Deck, now: Lying, tell: Telling) -> Deck:
    """The hand moves on for a tick; the sequence goes with where it is."""
    hand = deck.hand
    if hand is None:
        return deck
    ladder = ladder_at(one, now)
    gear = one.gear[hand.line - 1]
    if deck.sequence.hand == "ashore":
        return _ashore(one, deck, now, tell)
    goal = ladder if hand.back else (gear.leg.point.east_m, gear.leg.point.north_m)
    apart_m = math.dist((hand.east_m, hand.north_m), ladder)
    by_m = _speed_mps(one, deck, hand, apart_m) * TICK_S
    if hand.back and not _may_come_nearer(one, deck, apart_m, by_m):
        by_m = 0.0
        if "waits off" not in deck.told:
            tell("hand waits off", at=(hand.east_m, hand.north_m))
            deck = replace(deck, told=deck.told | {"waits off"})
    moved = _toward(hand, goal, by_m)
    deck = replace(deck, hand=moved)
    return _where(one, deck, now, goal, tell)


def _speed_mps(one: Practice, deck: Deck, hand: Hand, out_m: float) -> float:
    """How fast the hand gets on: slower the more line drags behind; hauled back in trouble."""
    carrier: Carrier = ROWER if one.carrier == "rower" else SWIMMER
    in_trouble = deck.has("swimmer in difficulty") is not None
    if hand.back:
        return HAULED_MPS if in_trouble else carrier.calm_mps
    if in_trouble:
        return 0.0
    gear = one.gear[hand.line - 1].leg
    far_m = gear.parts * out_m
    took_s = carry_s(carrier, far_m + 0.5, gear.line.diameter_m)
    took_s -= carry_s(carrier, far_m, gear.line.diameter_m)
    return 0.5 / took_s / gear.parts


def _may_come_nearer(one: Practice, deck: Deck, apart_m: float, by_m: float) -> bool:
    """Whether it may come within a length, or is there already."""
    if deck.sequence.hand == "near" or apart_m - by_m > _length_m(one):
        return True
    return not step(deck.sequence, "come within a length").waits_for


def _length_m(one: Practice) -> float:
    return one.stay.boat.hull.length_m


def _way_m(one: Practice, now: Lying) -> float:
    """How far her stern may go until a shaft that is stopped stands. [m]"""
    turning_mps = 0.5 * _length_m(one) * abs(now.turn_radps)
    return _STANDS_S * (math.hypot(now.ahead_mps, now.aside_mps) + turning_mps)


def _toward(hand: Hand, goal: tuple[float, float], by_m: float) -> Hand:
    left_m = math.dist((hand.east_m, hand.north_m), goal)
    share = 1.0 if left_m <= by_m else by_m / left_m
    return replace(
        hand,
        east_m=hand.east_m + share * (goal[0] - hand.east_m),
        north_m=hand.north_m + share * (goal[1] - hand.north_m),
    )


def _where(one: Practice, deck: Deck, now: Lying, goal: tuple[float, float], tell: Telling) -> Deck:
    """What comes of where the hand is: called off, near again, landed, back aboard."""
    hand, state = deck.hand, deck.sequence
    assert hand is not None
    here = (hand.east_m, hand.north_m)
    apart_m, left_m = math.dist(here, ladder_at(one, now)), math.dist(here, goal)
    if state.hand == "near" and apart_m > _length_m(one):
        tell("hand clear", at=here)
        state = step(state, "call a length off").state
    elif state.hand == "clear" and apart_m <= _length_m(one):
        deck = _near_again(deck, here, tell)
        state = deck.sequence
    elif _comes_too_near(one, deck, now, apart_m):
        tell("engine stopped for the hand", at=here)
        deck = stopped(deck)
        state = deck.sequence
    if not hand.back and left_m <= _AT_M:
        landed = step(step(state, "call a length off").state, "land").state
        tell("hand ashore", at=here)
        return replace(deck, sequence=landed)
    if hand.back and left_m <= _AT_M:
        return _aboard(one, replace(deck, sequence=state), here, tell)
    return replace(deck, sequence=state)


def _comes_too_near(one: Practice, deck: Deck, now: Lying, apart_m: float) -> bool:
    """Whether her stern may be within a length before a shaft that turns stands."""
    turns = deck.sequence.hand == "clear" and deck.sequence.propeller_may_turn
    return turns and apart_m <= _length_m(one) + _way_m(one, now)


def _near_again(deck: Deck, here: tuple[float, float], tell: Telling) -> Deck:
    """Within a length: as the sequence lets it; set there by the wind, the engine is stopped."""
    state, waits_for = step(deck.sequence, "come within a length")
    if not waits_for:
        return replace(deck, sequence=state)
    if deck.sequence.propeller_may_turn:
        tell("engine stopped for the hand", at=here)
        deck = stopped(deck)
    return replace(deck, sequence=replace(deck.sequence, hand="near", tended=True, helm="held"))


def _aboard(one: Practice, deck: Deck, here: tuple[float, float], tell: Telling) -> Deck:
    state, waits_for = step(deck.sequence, "come up the ladder")
    if waits_for:
        return deck
    state = step(state, "haul the line back").state
    hand = deck.hand
    if hand is not None and hand.brings:
        one.she.make_fast(hand.line, one.she.span_m(hand.line) + SLACK_M)
        tell("line handed up", one.gear[hand.line - 1].leg.name, at=here)
    tell("hand aboard", at=here)
    told = deck.told - {"waits off", "too short"}
    return replace(deck, sequence=state, hand=None, told=told)


def _ashore(one: Practice, deck: Deck, now: Lying, tell: Telling) -> Deck:
    """Landing and making fast, as long as that takes; whether the line reaches."""
    hand = deck.hand
    assert hand is not None
    hand = replace(hand, ashore_s=hand.ashore_s + TICK_S)
    deck = replace(deck, hand=hand)
    if deck.sequence.line != "in the water" or hand.ashore_s < MAKE_FAST_S:
        return deck
    gear, span_m = one.gear[hand.line - 1], one.she.span_m(hand.line)
    here = (hand.east_m, hand.north_m)
    if span_m + SLACK_M > gear.most_m:
        if "too short" not in deck.told:
            tell("line too short", gear.leg.name, span_m + SLACK_M - gear.most_m, here)
        return replace(deck, told=deck.told | {"too short"})
    state, waits_for = step(deck.sequence, "make the line fast")
    if waits_for:
        return deck
    one.she.make_fast(hand.line, span_m + SLACK_M)
    tell("line fast", gear.leg.name, span_m, here)
    return replace(deck, sequence=state)


def hauled(one: Practice, deck: Deck, now: Lying) -> tuple[float, ...]:
    """How fast each line is taken in (below 0 eased) now. [m/s]"""
    rates = []
    for number, to_m in enumerate(deck.line_to_m, start=1):
        over_m = 0.0 if to_m is None else one.she.length_m(number) - to_m
        if not one.she.is_fast(number) or abs(over_m) < _NEAR_ENOUGH_M:
            rates.append(0.0)
            continue
        most = HAND_MPS if now.tension_n[number] < HAND_N else WINCH_MPS
        rates.append(min(max(over_m / TICK_S, -HAND_MPS), most))
    return tuple(rates)


def lines_on(one: Practice, deck: Deck, now: Lying, tell: Telling) -> Deck:
    """Lines that part, and one that goes into the propeller."""
    for number, gear in enumerate(one.gear, start=1):
        if one.she.is_fast(number) and now.tension_n[number] > gear.parts_n:
            one.she.let_go(number)
            tell("line parts", gear.leg.name, now.tension_n[number])
    if deck.fouled or abs(now.revs) <= STANDS or deck.sequence.tended:
        return deck
    for number, gear in enumerate(one.gear, start=1):
        if one.she.is_fast(number) and _reaches_propeller(one.she, gear, number, now):
            tell("line in the propeller", gear.leg.name)
            return replace(stopped(deck), fouled=True)
    return deck


def _reaches_propeller(she: Handled, gear: Gear, number: int, now: Lying) -> bool:
    """Whether a floating line is long enough to lie over the propeller on its way ashore."""
    spot, point = gear.leg.cleat.spot, gear.leg.point
    if not gear.floats or spot.x_m > 0.0:
        return False
    q = (now.east_m, now.north_m, now.heading_rad)
    x_m = she.driven.propeller_x_m
    there = aboard_at(q, x_m, 0.0)
    round_m = math.hypot(spot.x_m - x_m, spot.y_m)
    round_m += math.dist(there, (point.east_m, point.north_m))
    return she.length_m(number) > round_m
