"""The steps in which lines go ashore, each with who and what it waits for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

HELD = "hold the chain"


@dataclass(frozen=True)
class Step:
    """One step.

    Attributes
    ----------
    number : int
        Counted from one.
    does : str
        A short name of what is done; those of ``sequence.EVENTS`` are events of it.
    who : str
        The duty that does it.
    waits_for : str or None
        What has to be done before, by the same names.
    locked : bool
        Whether the engine-stopped rule keeps it back (``sequence.step``): it is never
        taken early, whatever the hurry.
    """

    number: int
    does: str
    who: str
    waits_for: str | None
    locked: bool


class Plan(NamedTuple):
    """What shapes the steps.

    carrier : the duty that carries the line ("rower", "swimmer"); None: nobody may
    lift : the tender is on deck; lifejacket : the carrier wears one
    quiet : the engine stays stopped throughout, since the helm tends the line
    lines, seconds : how many lines go, and how many of them are second ones
    bow : how many of the others go from the bow, after the proof
    handed : whether somebody can take the helm over
    """

    carrier: str | None
    lift: bool
    lifejacket: bool
    quiet: bool
    lines: int
    seconds: int
    bow: int
    handed: bool


_Row = tuple[str, str, str | None, bool]


def steps_of(plan: Plan) -> tuple[Step, ...]:
    """All steps of one trip, what is made ready before, and how it goes on."""
    rows = [*_before(plan), *(_kept_back() if plan.carrier is None else _trip(plan))]
    return tuple(Step(number, *row) for number, row in enumerate(rows, start=1))


def _before(plan: Plan) -> Iterator[_Row]:
    yield "flake the lines", "line", None, False
    yield "put out fenders", "bow", None, False
    if plan.lifejacket:
        yield "put on a lifejacket", plan.carrier or "line", None, False
    if plan.carrier == "rower":
        if plan.lift:
            yield "put the tender in the water", "rower", None, False
        yield "make the painter short", "rower", None, False
    yield HELD, "bow", None, False


def _kept_back() -> Iterator[_Row]:
    yield "keep the lines aboard", "helm", HELD, True


def _trip(plan: Plan) -> Iterator[_Row]:
    carrier = plan.carrier or ""
    yield "tend the line", "line", HELD, False
    yield from _stopped("tend the line")
    yield "go to the ladder", carrier, "answer engine stopped", True
    yield "take the line off", carrier, "go to the ladder", True
    yield "call a length off", "line", "take the line off", False
    if not plan.quiet:
        yield "start the engine", "helm", "call a length off", True
    yield "land", carrier, "call a length off", False
    yield "make the line fast", carrier, "land", False
    yield "take in the slack", "line", "make the line fast", False
    if not plan.quiet:
        yield from _stopped("take in the slack")
    yield "leave the shore", carrier, "take in the slack", False
    yield "come within a length", carrier, "answer engine stopped", True
    yield "come up the ladder", carrier, "come within a length", True
    # each as the one before it: from the engine stopped to the hand up the ladder again
    last = "come up the ladder"
    if plan.lines - plan.seconds - plan.bow > 1:
        yield (last := "the next line the same way"), carrier, "come up the ladder", True
    yield "prove the anchor", "helm", last, True
    last = "prove the anchor"
    if plan.bow:
        yield (last := "then the lines from the bow"), carrier, "prove the anchor", True
    if plan.seconds:
        yield "then the second lines", carrier, last, True
        last = "then the second lines"
    if plan.handed:
        yield "offer the helm", "helm", last, True
        yield "take the helm", "helm", "offer the helm", False


def _stopped(after: str) -> Iterator[_Row]:
    yield "stop the engine", "helm", after, False
    yield "answer engine stopped", "helm", "stop the engine", True
