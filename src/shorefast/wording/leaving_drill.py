"""Leaving under trouble, said: heaving in, the engine out, lines cast off, a crossed chain."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from shorefast.wording.numbers import UNKNOWN, duration, kilograms, knots, metres
from shorefast.wording.without import short

if TYPE_CHECKING:
    from shorefast.manoeuvre import CrossedChain, Cut, Heaving, Held, Swing

_STEPS = {
    "stop heaving": "Bow: stop heaving as soon as another chain shows across ours.",
    "call the other boat": "Helm: call the other boat; ask her to veer.",
    "heave till it hangs at the bow": "Bow: heave until it hangs just under the roller",
    "slip line under it": "Line: a slip line under it with the boathook, never by hand.",
    "both ends fast": "Line: both ends fast on the bow cleats",
    "veer ours clear": "Bow: veer ours {veer}, until our anchor drops clear from under it.",
    "heave ours home": "Bow: heave ours home.",
    "back away": "Helm: astern, away from it; hands clear.",
    "slip the line": "Line: let one end go, haul the other home.",
}
_NEVER = {
    "hands on a chain under load": "no hand on a chain under load",
    "a foot to clear it": "no foot to clear it",
    "anybody in line with the slip line": "nobody in line with the slip line",
    "lift it with the windlass alone": "not held by the windlass alone",
    "let our anchor down on it again": "our anchor not let down on it again",
    "ahead over it": "not ahead over it",
}


def heaving_words(found: Heaving, held: Held) -> str:
    """How long heaving in takes, and who pulls."""
    up, home = duration(found.up_s), duration(found.home_s)
    from_m = metres(found.from_m)
    said = f"From {from_m} to up and down and broken out: {up}; then {home} till it is home."
    said = f"From {metres(found.from_m)} out until it is broken out: {up}; then {home} till home."
    if not found.known:
        told = ", ".join(
            f"{60.0 * speed:.0f} m a minute: {duration(time_s)}"
            for speed, time_s in found.by_speed_s
        )
        said = f"How fast the windlass heaves is {UNKNOWN}; to up and down at {told}."
    steerage = duration(held.steerage_s)
    return (
        f"{said} The engine brings her up to it, the windlass takes in what is slack. Until the"
        " anchor is home keep in water deeper than it hangs. Steerage way after"
        f" {steerage}; standing still she pulls as hard as {knots(held.ahead_mps)} of wind on"
        f" the bow or {knots(held.abeam_mps)} abeam."
    )


def swing_words(found: Swing) -> list[str]:
    """Left to her chain, no engine: a row a length, and how soon she touches."""
    rows = ["If the engine does nothing, she lies to her chain:"]
    for one in found.lengths:
        share = UNKNOWN if math.isnan(one.share) else f"{one.share:.0%}"
        of = "" if math.isnan(one.of_windlass) else f", {one.of_windlass:.2f} of the windlass"
        room = f"{one.room_of} {_left(one.room_m)}" if one.room_of else f"room {UNKNOWN}"
        rows.append(
            f"  {metres(one.out_m)} out: pulls {kilograms(one.pull_n)}{of}; {room};"
            f" too little room in {share} of the members"
        )
    if found.touches is not None:
        what = found.touches.removeprefix("water under the ").replace("hull to the shore", "shore")
        rows.append(
            f"  {found.share_touches:.0%} of the members touch ({what}), the soonest after"
            f" {duration(found.touches_s)}."
        )
    need = "needed all the way" if found.needs_engine else "not needed for that"
    return [*rows, f"  The engine is {need}."]


def _left(room_m: float) -> str:
    return metres(room_m) if room_m > 0.0 else "none, she may touch"


def cut_words(found: Cut) -> list[str]:
    """The lines cast off at once, in order."""
    if not found.lines:
        return []
    names = [short(line.name) for line in found.lines]
    # two legs of one rope are told apart by their points
    told = names if len(set(names)) == len(names) else [line.name for line in found.lines]
    order = ", ".join(told)
    left = [name for name, line in zip(told, found.lines, strict=True) if line.stays]
    stay = "all of them" if len(left) == len(told) else ", ".join(left)
    rows = [
        "Dragging, or no time: the engine first. Do not heave in: it takes the scope away.",
        f"  Cast off in this order, about {duration(found.takes_s)} in all: {order}.",
    ]
    if left:
        rows.append(f"  What stays behind, a buoy on each end: {stay}.")
    if not found.holds:
        rows.append("  Without the anchor no order holds her off to the last line: be quick.")
    rows.append(
        f"  If the chain is slipped: {metres(found.slip_chain_m)} more to run out, and a buoy on"
        f" {metres(found.buoy_line_m)} of line."
    )
    return rows


def crossed_words(found: CrossedChain) -> list[str]:
    """The drill for another's chain across ours."""
    rows = ["Another's chain across ours:"]
    for step in found.steps:
        said = _STEPS[step.does].format(veer=metres(found.veer_m))
        load = f" ({kilograms(step.load_n)})." if math.isfinite(step.load_n) else ""
        rows.append(f"  {step.number}. {said.rstrip('.') + load if load else said}")
    for one in found.chains:
        windlass = (
            f", {one.of_windlass:.2f} of the windlass" if math.isfinite(one.of_windlass) else ""
        )
        line = f" ({one.line}: use {one.use:.2f})" if one.line and math.isfinite(one.use) else ""
        rows.append(
            f"  A chain of {1e3 * one.diameter_m:.0f} mm lifted {metres(found.lift_m)} hangs"
            f" {kilograms(one.slack_n)} slack, {kilograms(one.riding_n)} with her boat lying to it;"
            f" with our anchor {kilograms(one.heave_n)}{windlass}; {kilograms(one.each_n)} on each"
            f" part of the slip line{line}."
        )
    never = "; ".join(_NEVER[one] for one in found.never)
    return [*rows, f"  Never: {never}."]
