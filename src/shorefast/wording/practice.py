"""What is said in practice: what happened, why an order waits, what to do, what it came to."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from shorefast.wording.numbers import UNKNOWN, degrees, duration, kilograms, metres

if TYPE_CHECKING:
    from shorefast.manoeuvre import Answered, Broken, Debrief, Failure, Happening, Order, Space

_FAILED = {
    "engine stops": "The engine has stopped.",
    "throttle sticks astern": "The throttle sticks astern.",
    "thruster dead": "The thruster is dead.",
    "windlass jams": "The windlass has jammed.",
    "chain runs": "The chain runs out and nobody holds it.",
    "anchor drags": "The anchor drags.",
    "line parts": "A line has parted.",
    "point gives way": "A point ashore has given way.",
    "gust": "A gust from another side.",
    "swimmer in difficulty": "The hand off the boat is in difficulty.",
    "sounder frozen": "The sounder shows the same depth all the time.",
    "sounder wrong": "The sounder shows a wrong depth.",
}
TO_DO = {
    "engine stops": "Hold the chain: it stops her before the shore does. Then try the engine.",
    "throttle sticks astern": "Stop the engine with its stop, and say so. Hold the chain.",
    "thruster dead": "Go on by helm and engine while she answers; if not, ahead and out.",
    "windlass jams": "Take the way off her at once: no chain comes now. Ahead if need be.",
    "chain runs": "Brake on; nobody touches it by hand. Take the way off her.",
    "anchor drags": "The engine first. Do not heave in: it takes the scope away and pulls the"
    " anchor to you. Let the lines go, drive out, start again in deep water.",
    "line parts": "The engine holds her off; nobody near the loaded lines. Then another line.",
    "point gives way": "The engine holds her off; nobody near the loaded lines. Then another"
    " point.",
    "gust": "Bow toward it with helm and engine; if she is set off her way, ahead and out.",
    "swimmer in difficulty": "Engine stopped, and called stopped. Haul the line in with the hand"
    " at its end; then the tender.",
    "sounder frozen": "Go by the lead and by the marks; take the way off her till you know.",
    "sounder wrong": "Go by the lead and by the marks; take the way off her till you know.",
}
"""What the crew should do, by failure."""

NOT_HELD = "In this wind she cannot be held on her way in: breaking off is right."
_HAPPENED = {
    "anchor let go": "Anchor let go.",
    "anchor down": "Anchor on the bottom, {m} of chain out.",
    "anchor up": "The anchor is off the bottom.",
    "anchor drags": "The anchor gives way: {m} so far.",
    "brought up": "Brought up: {kg} on the chain.",
    "all chain lifted": "All chain is lifted: its angle no longer tells. {kg} on it.",
    "bitter end": "All chain is out.",
    "windlass stalls": "The windlass stalls at {kg}.",
    "hand clear": "The hand is a length off.",
    "hand ashore": "The hand is ashore.",
    "hand aboard": "The hand is aboard again.",
    "hand waits off": "The hand waits a length off: the engine is not stopped.",
    "engine stopped for the hand": "Set down on the hand: the engine is stopped.",
    "line fast": "{of}: fast ashore, {m} away.",
    "line handed up": "{of}: its end handed up and fast.",
    "line too short": "{of}: {m} too short.",
    "line parts": "{of}: parts at {kg}.",
    "line in the propeller": "{of}: slack and untended, in the propeller. The engine stands.",
}
_WAITS = {
    "engine stopped": "the engine is stopped",
    "engine running": "the engine runs",
    "engine out of gear": "the engine is out of gear",
    "engine in gear": "the engine is in gear",
    "helm has answered": "the helm has answered that the engine is stopped",
    "helm held": "somebody has the helm",
    "helm offered": "the helm is handed over",
    "line tended": "somebody tends the line and watches the propeller",
    "line tended or out of the water": "somebody tends the slack line",
    "line out of the water": "the line is out of the water",
    "line in the water": "the line is in the water",
    "line made fast ashore": "the line is fast ashore",
    "nobody near the stern": "nobody is near the stern, and somebody is in the water there",
    "hand aboard": "the hand is aboard",
    "hand at the ladder": "the hand is at the ladder",
    "hand near": "the hand is near",
    "hand clear": "the hand is clear",
    "hand ashore": "the hand is ashore",
    "hand off the boat": "a hand is off the boat",
    "the shaft stands": "the propeller stands still",
    "engine in order": "the engine is in order again",
    "a line still aboard": "that line is still aboard: it is fast already",
    "a line of that number": "the lie has a line of that number",
    "so much of it is aboard": "so much of it is aboard",
    "somebody to carry it": "somebody may carry it: {why}",
}
_WHY = {
    "cold and no tender": "the water is cold and she has no tender",
    "unknown and no tender": "how cold the water is nobody knows, and she has no tender",
    "nobody to row": "nobody aboard rows",
    "nobody to swim": "nobody aboard swims",
    "nobody to row or swim": "nobody aboard rows or swims",
    "no line": "the lie has no line",
}
_RULES = {
    "engine near a hand": "The engine may turn with a hand within a length of the stern",
    "chain ahead of her way": "Chain ahead of her way: it heaps, up to {m} more than wanted",
    "faster than the windlass": "Faster astern than the windlass follows",
    "chain tight too early": "Chain tight before the hold: it drags the anchor",
    "heaved while dragging": "Chain heaved in while the anchor drags: never",
    "line tighter than planned": "A line tighter than planned, by {m}",
}
_ORDERS = {
    "helm by crew": "helm to the crew", "revs": "engine {way}", "chain to": "chain to {m}",
    "line to": "line to {m}",
}  # fmt: skip


def failed_words(failure: Failure) -> str:
    """What failed, as a sentence."""
    return _FAILED[failure.kind]


def happening_words(one: Happening) -> str:
    """Something that came about, as a sentence."""
    if one.kind == "failure":
        return _FAILED[one.of]
    if one.kind in ("refused", "engine refused"):
        what = "The engine is refused" if one.kind == "engine refused" else "Not yet"
        return f"{what} ({one.of}): it waits until {waits_words(one.waits_for)}."
    if one.kind == "touches":
        return f"{touched_words(one.of)}."
    value = math.nan if one.value is None else one.value
    of = one.of[:1].upper() + one.of[1:]
    return _HAPPENED[one.kind].format(of=of, m=metres(value), kg=kilograms(value))


def touched_words(of: str) -> str:
    """What touches what: ``The rudder touches the bottom``."""
    part, _, other = of.removeprefix("water under ").partition(" to ")
    if other:
        return f"The {part} touches {other}"
    return f"{part[:1].upper()}{part[1:]} touches the bottom"


def waits_words(waits_for: tuple[str, ...]) -> str:
    """What an order waits for: ``the engine is stopped and the hand is aboard``."""
    said = []
    for one in waits_for:
        name, _, why = one.partition(": ")
        said.append(_WAITS[name].format(why=_WHY.get(why, why)))
    return " and ".join(said)


def rule_words(one: Broken) -> str:
    """A rule broken, when and how long."""
    said = _RULES[one.rule].format(m=metres(one.worst))
    return f"{said}, from {clock_of(one.t_s)} for {duration(one.for_s)} in all."


def clock_of(t_s: float) -> str:
    """Time since practice began: ``4:05``."""
    if not math.isfinite(t_s):
        return "-"
    minutes, seconds = divmod(round(t_s), 60)
    return f"{minutes}:{seconds:02d}"


def order_words(order: Order) -> str:
    """An order in a few words, for the debrief."""
    value = order.value or 0.0
    way = "astern" if value < 0.0 else "ahead"
    return _ORDERS.get(order.do, order.do).format(m=metres(value), way=way)


def answered_words(one: Answered) -> str:
    """What was done first after a failure, and what should be."""
    at = f"At {clock_of(one.failure.at_s)}: {_FAILED[one.failure.kind]}"
    if one.order is None:
        return f"{at} Nothing was ordered after it. Wanted: {TO_DO[one.failure.kind]}"
    first = f"First ordered: {order_words(one.order)}, {duration(one.after_s)} later"
    return f"{at} {first}{'.' if one.right else f'. Wanted: {TO_DO[one.failure.kind]}'}"


def least_words(least: tuple[float, Space] | None) -> str:
    """The least room, of what and when."""
    if least is None:
        return f"The least room is {UNKNOWN}."
    t_s, space = least
    what = space.of if space.of.startswith("water") else f"from {space.of}"
    return f"Least room: {metres(max(0.0, space.room_m))} {what}, at {clock_of(t_s)}."


def _patch_words(told: Debrief) -> str:
    if told.in_patch is None:
        return ""
    if told.in_patch:
        return " That is in the patch from which the lie still is sound."
    return " That is outside the patch from which the lie still is sound: let go again."


def _gave_way(told: Debrief) -> list[str]:
    """That the anchor gave way, and what is proved then."""
    gave = told.gave_way
    if gave is None:
        return []
    then = (
        "It still does: nothing is proved."
        if gave.still
        else "Proved is only what it holds from the first step again."
    )
    return [
        f"The anchor gave way: {metres(gave.moved_m)} in all, from {clock_of(gave.t_s)} to"
        f" {clock_of(gave.until_s)}, with up to {kilograms(gave.pull_n)} on the chain. {then}"
    ]


def debrief_words(told: Debrief) -> list[str]:
    """What it came to, in a few sentences."""
    lines = [] if told.can_be_held else [NOT_HELD]
    if told.anchor_m is None:
        lines.append("The anchor does not lie on the bottom at the end.")
    else:
        side = "right" if told.anchor_across_m > 0.0 else "left"
        way = "shoreward" if told.anchor_along_m > 0.0 else "seaward"
        lines.append(
            f"The anchor lies {metres(told.anchor_off_m)} from its place:"
            f" {metres(abs(told.anchor_along_m))} {way} and {metres(abs(told.anchor_across_m))}"
            f" to the {side} going in.{_patch_words(told)}"
        )
    lines += _gave_way(told)
    turned = abs(told.off_plan_rad)
    lines.append(
        f"She ends {metres(told.off_plan_m)} from where the plan has her, her bow"
        f" {degrees(turned)} off, with {told.lines_fast} of her lines fast."
    )
    lines.append(least_words(told.least))
    return lines
