"""Perfect hands for what is not practised oneself: one who steers her in, one at the windlass."""

from __future__ import annotations

import math
from dataclasses import replace

from shorefast.manoeuvre.practice_deck import Deck
from shorefast.manoeuvre.practice_orders import TICK_S
from shorefast.manoeuvre.practice_set import Practice
from shorefast.manoeuvre.seen import along_and_across
from shorefast.manoeuvre.steering import Steering
from shorefast.manoeuvre.way_in import LAID_N, SPEED_SHARE
from shorefast.mooring import Lying, Orders
from shorefast.stay import lie_of

# how hard her way is taken off [m/s2]; how near is near; the most revs she is held with
_MORE_M = 2.0
_EASE_MPS2, _OFF_M, _NEAR_M, _TIGHT, _HOLDS = 0.06, 2.0, 0.8, 3.0, 0.4


def steered(one: Practice, deck: Deck, now: Lying) -> tuple[Deck, Orders]:
    """Helm, revs and thruster of one who keeps the marks in line; what is kept in mind."""
    helmsman = Steering(one.way)
    held = 0.0
    if deck.steered is not None:
        helmsman.sum_m, helmsman.revs, held = deck.steered
    along_m, across_m = along_and_across(one.way, now)
    left_m = one.way.hold_m - along_m
    if held or left_m < _NEAR_M:
        want, held = min(max(0.10 * left_m, -0.15), 0.10), 1.0
    else:
        want = _wanted_mps(one, left_m, across_m)
    orders = helmsman.orders(now, across_m, 0.0, want)
    # held by little, so that she does not pull the anchor home
    orders = replace(orders, revs=max(orders.revs, -_HOLDS)) if held else orders
    if any(one.she.is_fast(number) for number in range(1, len(one.gear) + 1)):
        # a line holds her: helm and engine at rest
        orders = Orders()
    return replace(deck, steered=(helmsman.sum_m, helmsman.revs, held)), orders


def _wanted_mps(one: Practice, left_m: float, across_m: float) -> float:
    """As fast as the windlass can follow, and less toward the hold."""
    over = (1.0 / SPEED_SHARE - 1.0) * min(1.0, abs(across_m) / _OFF_M)
    return min(one.way.speed_mps * (1.0 + over), math.sqrt(2.0 * _EASE_MPS2 * left_m))


def chain_mps(one: Practice, deck: Deck, now: Lying) -> float:
    """Chain veered (below 0 heaved) now, to a length or by the calls. [m/s]"""
    veer = one.windlass_mps[0]
    if not deck.chain_by_crew:
        if deck.chain_to_m is None:
            return 0.0
        short_m = deck.chain_to_m - now.chain_m
        return short_m / TICK_S if abs(short_m) > 0.02 else 0.0
    along_m, _ = along_and_across(one.way, now)
    if now.anchor != "lies":
        return veer if now.chain_m > 0.0 or along_m >= one.way.let_go_at_m else 0.0
    most_m = lie_of(one.stay).chain_out_m
    # a chain up and down lifts the anchor: a little more at once
    call_m = max(one.way.chain_at(max(0.0, along_m)), min(one.way.bottom_m + _MORE_M, most_m))
    short_m = call_m - now.chain_m
    # where it comes tight before its call, more
    if now.pull_n > _TIGHT * LAID_N:
        short_m = max(short_m, min(1.0, most_m - now.chain_m))
    return min(veer, max(0.0, short_m / TICK_S))
