"""Rules of the manoeuvre that a practice broke, and for how long."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from shorefast.manoeuvre.practice_deck import STANDS
from shorefast.manoeuvre.practice_orders import TICK_S
from shorefast.manoeuvre.practice_run import Practised, Seen
from shorefast.manoeuvre.practice_set import Practice
from shorefast.manoeuvre.way_in import LAID_N
from shorefast.stay import lie_of

# chain beyond what is laid out [m]; strain at which it is no longer laid out, over that
HEAP_M, TIGHT = 4.0, 8.0
# a line this much shorter than planned [m] and pulling this much [N] is tighter than wanted
TIGHT_LINE_M, TIGHT_LINE_N = 0.3, 250.0
_OVER_SPEED, _LASTS_S, _LINE_S = 1.1, 2.0, 15.0
# so near the hold she is there [m]
HELD_M = 2.0


@dataclass(frozen=True)
class Broken:
    """A rule broken: which, when first [s], how long in all [s], the worst of it.

    worst : as the rule has it, metres, newtons or metres a second; NaN: nothing is measured
    """

    rule: str
    t_s: float
    for_s: float
    worst: float


_Measure = Callable[[Practice, Seen, Seen], float]


def _near_propeller(one: Practice, _before: Seen, row: Seen) -> float:
    """By how much a hand is within a boat's length of a propeller that turns or may."""
    within_m = one.stay.boat.hull.length_m - row.hand_m
    turns = row.propeller_may_turn or abs(row.revs) > STANDS
    return within_m if turns else -math.inf


def _held_s(done: Practised) -> float:
    """When she is first where she is held: chain is laid until then. [s]"""
    near_m = done.practice.way.hold_m - HELD_M
    return next((row.t_s for row in done.rows if row.along_m >= near_m), math.inf)


def _ahead(one: Practice, _before: Seen, row: Seen) -> float:
    """Chain out beyond what is laid out so far. [m]"""
    if row.anchor == "stowed":
        return -math.inf
    return row.chain_m - one.way.chain_at(max(0.0, row.along_m)) - HEAP_M


def _fast(one: Practice, _before: Seen, row: Seen) -> float:
    """Speed astern beyond what the windlass can follow. [m/s]"""
    if row.anchor != "lies":
        return -math.inf
    return row.along_mps - _OVER_SPEED * one.windlass_mps[0]


def _tight(one: Practice, _before: Seen, row: Seen) -> float:
    """Strain on the chain beyond that of laying it out. [N]"""
    return row.pull_n - TIGHT * LAID_N if row.anchor == "lies" else -math.inf


def _heaved(_one: Practice, before: Seen, row: Seen) -> float:
    """Chain taken in while the anchor gives way. [m]"""
    drags = row.moved_m > before.moved_m
    return before.chain_m - row.chain_m if drags else -math.inf


def _tight_line(one: Practice, _before: Seen, row: Seen) -> float:
    """How much shorter than planned a line is that pulls. [m]"""
    short = [
        plan.length_m - length_m - TIGHT_LINE_M
        for plan, length_m, pull_n, fast in zip(
            lie_of(one.stay).lines, row.length_m, row.tension_n[1:], row.fast, strict=True
        )
        if fast and pull_n > TIGHT_LINE_N and row.revs == 0.0
    ]
    return max(short, default=-math.inf)


RULES: dict[str, _Measure] = {
    "engine near a hand": _near_propeller,
    "chain ahead of her way": _ahead,
    "faster than the windlass": _fast,
    "chain tight too early": _tight,
    "heaved while dragging": _heaved,
    "line tighter than planned": _tight_line,
}
"""Every rule by name, and by how much it is broken: above 0 it is."""
# of laying the chain; broken at once, however short
_LAYING = ("chain ahead of her way", "faster than the windlass", "chain tight too early")
_AT_ONCE = ("engine near a hand", "heaved while dragging")


def rules_broken(done: Practised) -> tuple[Broken, ...]:
    """The rules a practice broke, in the order they were broken."""
    one, found = done.practice, []
    held_s = _held_s(done)
    for rule, measure in RULES.items():
        until_s = held_s if rule in _LAYING else math.inf
        pairs = [(a, b) for a, b in pairwise(done.rows) if b.t_s < until_s]
        by = [(row.t_s, measure(one, before, row)) for before, row in pairs]
        over = [(t_s, value) for t_s, value in by if value > 0.0]
        for_s = TICK_S * len(over)
        least_s = _LINE_S if rule == "line tighter than planned" else _LASTS_S
        if not over or (for_s < least_s and rule not in _AT_ONCE):
            continue
        found.append(Broken(rule, over[0][0], for_s, max(value for _, value in over)))
    return tuple(sorted(found, key=lambda broken: broken.t_s))
