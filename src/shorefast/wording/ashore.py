"""The lines ashore, in sentences: who carries them, which first, how much to flake, the steps."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from shorefast.wording.numbers import UNKNOWN, celsius, duration, metres, to_flake_m

if TYPE_CHECKING:
    from shorefast.manoeuvre import Ashore, Duty, LineAshore, Stage, Step
    from shorefast.stay import Stay

_WHAT_TO_DO = {
    "cold and no tender": "Get a tender alongside with somebody to row it, or lie where no line"
    " is needed.",
    "unknown and no tender": "Measure the water and tell it in [water], get a tender alongside,"
    " or lie where no line is needed.",
    "nobody to row": "Give somebody who is able the duty rower, or lie where no line is needed.",
    "nobody to swim": "Give somebody who is able the duty swimmer, or get a tender alongside.",
    "nobody to row or swim": "Give somebody who is able the duty rower or swimmer.",
}
_WHO = {"helm": "the helm", "bow": "the bow", "line": "the hand at the line",
        "rower": "the rower", "swimmer": "the swimmer"}  # fmt: skip
_DONE = {
    "flake the lines": "flake every line to its number, ends to hand",
    "put out fenders": "put out fenders",
    "put the tender in the water": "put the tender in the water",
    "make the painter short": "make the tender fast alongside, painter short",
    "put on a lifejacket": "put on a lifejacket",
    "hold the chain": "hold the chain; call it",
    "keep the lines aboard": "no line leaves the boat",
    "tend the line": "go to the line: pay out, keep it off the propeller, watch the water",
    "stop the engine": "stop the engine; neutral will not do",
    "answer engine stopped": 'say "engine stopped"; the hand at the line says it back',
    "go to the ladder": "go to the ladder",
    "take the line off": "take the end and go",
    "call a length off": 'call "a length off"',
    "start the engine": "if need be start the engine to hold her, the line held clear of the"
    " propeller",
    "land": "land",
    "make the line fast": 'make fast; show "fast"',
    "take in the slack": "take in the slack until no bight is in the water",
    "leave the shore": "leave the shore",
    "come within a length": "come within a boat's length",
    "come up the ladder": "come up the ladder",
    "the next line the same way": "the next line the same way",
    "prove the anchor": "prove the anchor in steps, the lines from the stern slack and tended",
    "then the lines from the bow": "the lines from the bow the same way",
    "then the second lines": "when every cleat has a line, the second ones the same way",
    "offer the helm": 'say "you have the helm"',
    "take the helm": 'say "I have the helm"',
}


def ashore_words(ashore: Ashore, stay: Stay) -> str:
    """Everything about the lines for a terminal: sentences first, then tables.

    Parameters
    ----------
    stay : Stay
        Whose lie it is.
    """
    said = [_carried(ashore), _takes(ashore), _first(ashore, stay), *_short(ashore)]
    said += _hands(ashore)
    said += [_fenders(ashore), *_tender(ashore), *_handover(ashore)]
    blocks = [" ".join(one for one in said if one), _lines(ashore), _steps(ashore)]
    return "\n\n".join(block for block in blocks if block)


def _carried(ashore: Ashore) -> str:
    """Who carries the lines, and why so."""
    water = f"the water has {celsius(ashore.water_k)}"
    if ashore.temperature_rule == "unknown":
        water = "how cold the water is nobody tells, so it counts as cold"
    if ashore.why == "no line":
        return "This lie has no line ashore."
    if ashore.by == "nobody":
        return f"Nobody carries a line ashore: {_why(ashore, water)}. {_WHAT_TO_DO[ashore.why]}"
    if ashore.by == "swim":
        return f"{_upper(_name(ashore, 'swimmer'))} swims with the lines; {water}."
    swims = "" if ashore.temperature_rule == "warm" else ": nobody swims"
    who = _upper(_name(ashore, "rower"))
    return f"{who} rows the lines ashore, in a lifejacket; {water}{swims}."


def _takes(ashore: Ashore) -> str:
    """How long all lines take; nothing where that is unknown."""
    if not math.isfinite(ashore.takes_s):
        return ""
    what = "All of them take" if len(ashore.lines) > 1 else "That takes"
    return f"{what} about {duration(ashore.takes_s)}, there and back."


def _why(ashore: Ashore, water: str) -> str:
    if ashore.why.endswith("no tender"):
        return f"{water}, and no tender is told"
    return f"{water}, and nobody aboard is told who can {ashore.why.removeprefix('nobody to ')}"


def _name(ashore: Ashore, duty: str) -> str:
    """The person of a duty; the duty itself where nobody aboard is told."""
    who = ashore.crew.who(duty) if ashore.crew.told else None
    return who or _WHO[duty]


def _first(ashore: Ashore, stay: Stay) -> str:
    """Which line goes first, and what another would have done."""
    if len(ashore.lines) < 2:
        return ""
    first = ashore.lines[0]
    if ashore.free:
        return "Which line goes first is free: in the wind she comes in they hold her alike."
    if not first.weather:
        return "Which line has to go first is unknown: the wind she comes in is not known there."
    said = f"First {_leg(first)}: it is the weather line."
    other = _other(ashore, stay)
    return said if other is None else f"{said} {other}"


def _other(ashore: Ashore, stay: Stay) -> str | None:
    """What the next line would do as the only one fast, the engine idle."""
    assert stay.lie is not None
    plans = stay.lie.lines
    by_line = {(plans[one.line].line, plans[one.line].point): one for one in ashore.alone}
    first, next_up = ashore.lines[:2]
    with_first = by_line.get((first.line, first.point))
    instead = by_line.get((next_up.line, next_up.point))
    if with_first is None or instead is None:
        return None
    return (
        f"With it alone fast and the engine idle {_set(with_first)};"
        f" with {_leg(next_up)} alone {_set(instead)}."
    )


def _set(stage: Stage) -> str:
    """How far she is set at a stage, and what room is left."""
    if not math.isfinite(stage.set_m):
        return "where she goes is unknown"
    said = f"bow and stern are set {metres(stage.set_m)} at most"
    part = round(100.0 * stage.share_short)
    if part == 0:
        return said
    room = f"{stage.of} is {metres(-stage.to_spare_m)} short" if stage.to_spare_m < 0.0 else ""
    lacking = room or "nothing is known of where she goes"
    return f"{said}, and in {part} of 100 winds of that hour {lacking}"


def _leg(line: LineAshore) -> str:
    return f"the {line.line} to {line.point}"


def _short(ashore: Ashore) -> list[str]:
    """Lines that are too short, and those with less in reserve than wanted."""
    said = []
    for line in ashore.lines:
        if line.spare_m < 0.0:
            out = "bend another line to it, hold her nearer, or take a nearer point"
            out = f"take the {line.instead}" if line.instead is not None else out
            said.append(
                f"The {line.line} is {metres(-line.spare_m)} short for {line.point}: {out}."
            )
        elif line.flake_m < line.flaked.whole_m - 0.05:
            said.append(
                f"The {line.line} to {line.point} has {metres(line.reserve_m)} in reserve,"
                f" {metres(line.flaked.reserve_m)} wanted."
            )
    return said


def _hands(ashore: Ashore) -> list[str]:
    """Who tends the line, who does two things, who is missing."""
    if ashore.why == "no line":
        return []
    said = []
    if ashore.by != "nobody":
        tends = "One hand" if not ashore.crew.told else ashore.tends
        with_helm = any(one.also == "helm" for one in ashore.crew.doubled)
        if tends is not None and not with_helm:
            said.append(f"{tends} tends the slack line and does nothing else while it floats.")
    said += [_doubled(one) for one in ashore.crew.doubled]
    missing = " and ".join(_WHO[duty] for duty in ashore.crew.missing)
    if missing:
        said.append(f"Nobody aboard is told for {missing}: do not begin short of hands.")
    return said


def _doubled(duty: Duty) -> str:
    first, then = (duty.also or "", duty.duty) if duty.also == "bow" else (duty.duty, duty.also)
    said = f"{duty.person} has two duties: {_WHO[first]}, then {_WHO[then or '']}"
    if duty.also == "helm":
        said = f"{duty.person} has the helm and the line: the engine stays stopped throughout"
    return f"{said}."


def _fenders(ashore: Ashore) -> str:
    sides = " and ".join(ashore.fenders.sides)
    why = {
        "neighbour": "toward the neighbour",
        "lee": "the lee side, where she is set",
        "either": "the wind tells no side",
    }[ashore.fenders.why]
    return f"Fenders to {sides}: {why}."


def _tender(ashore: Ashore) -> list[str]:
    if ashore.tender is None:
        return []
    lift = "is put in the water before she goes astern, and " if ashore.tender.lift else ""
    return [
        f"The tender {lift}lies alongside to {ashore.tender.side}, from the {ashore.tender.cleat}"
        f" cleat, on {metres(ashore.tender.painter_m)} of painter at most."
    ]


def _handover(ashore: Ashore) -> list[str]:
    if ashore.handover is None or ashore.by == "nobody":
        return []
    to = ashore.handover.to_person if ashore.crew.told else "another hand"
    return [
        f"The helm goes to {to} only when all lines are fast, all hands aboard and the engine is"
        ' stopped: "you have the helm", "I have the helm".'
    ]


def _lines(ashore: Ashore) -> str:
    """One row a line in the order they go."""
    if not ashore.lines:
        return ""
    way = {"row": "rowed", "swim": "swum"}.get(ashore.by)
    head = ("", "line", "from", "to", "distance", "flake", *((way,) if way else ()))
    rows = [head, *(_row(ashore, line) for line in ashore.lines)]
    wide = [max(len(row[column]) for row in rows) for column in range(len(head))]
    return "\n".join(
        "  ".join(cell.ljust(width) for cell, width in zip(row, wide, strict=True)).rstrip()
        for row in rows
    )


def _row(ashore: Ashore, line: LineAshore) -> tuple[str, ...]:
    flake = UNKNOWN if math.isnan(line.flake_m) else f"{to_flake_m(line.flake_m)} m"
    cells = (str(line.order), line.line, line.cleat, line.point, metres(line.distance_m), flake)
    if ashore.by == "nobody":
        return cells
    time_s = line.row_s if ashore.by == "row" else line.swim_s
    return (*cells, "no headway against the wind" if time_s == math.inf else duration(time_s))


def _steps(ashore: Ashore) -> str:
    """The steps, one row each; those that are locked say what they wait for."""
    if not ashore.lines:
        return ""
    rows = [f"{one.number:2d}  {_who(ashore, one)}: {_DONE[one.does]}{_wait(one)}"
            for one in ashore.steps]  # fmt: skip
    return "\n".join(rows)


def _who(ashore: Ashore, step: Step) -> str:
    if step.does == "take the helm" and ashore.handover is not None and ashore.crew.told:
        return ashore.handover.to_person
    return _name(ashore, step.who)


def _wait(step: Step) -> str:
    if not step.locked or step.waits_for is None:
        return ""
    return f"  [not before: {step.waits_for}]"


def _upper(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"
